//! A drawing as a list of fills, strokes and texts, in millimetres with y up.
//!
//! Lengths of the saw are true; line widths, text sizes and arrowheads are in points, and the scene knows how
//! many points a millimetre is, so that it can place them.

mod canvas;
mod file;
mod gif;
mod measure;
mod paint;
mod pdf;
mod svg;

pub use canvas::Canvas;
pub use file::{SheetError, png};
pub use gif::gif;
pub use measure::{text_width, wrapped};
pub use paint::paint;
pub use pdf::{About, pdf};
pub use svg::{Extent, Typeface, svg};

use crate::draw::theme::{Ink, size};
use kurbo::{Affine, BezPath, Point};

/// Room between a label and its point, in points.
pub(crate) const LABEL_GAP_PT: f32 = 6.0;
/// A label's patch of paper reaches so far round it, and its corners are so round, in points.
const PATCH_PT: egui::Vec2 = egui::vec2(4.0, 1.0);
const PATCH_CORNER_PT: f32 = 2.0;
/// Line and gap of a dashed line, in points.
const DASHED_PT: [f32; 2] = [6.0, 4.0];
/// Line, gap, dot and gap of a dash-dot line, in points.
const DASH_DOT_PT: [f32; 4] = [14.0, 4.0, 2.5, 4.0];

/// A drawing.
#[derive(Clone, Debug)]
pub struct Scene {
    points_per_mm: f64,
    items: Vec<Item>,
}

/// One thing in a drawing.
#[derive(Clone, Debug)]
pub enum Item {
    /// A filled path, even-odd.
    Fill {
        /// What to fill.
        path: BezPath,
        /// Its colour.
        ink: Ink,
        /// Opacity from 0 to 1.
        opacity: f32,
    },
    /// A stroked path.
    Stroke {
        /// What to stroke.
        path: BezPath,
        /// The pen.
        pen: Pen,
    },
    /// Small discs, all alike.
    Dots {
        /// Their centres.
        centres: Vec<Point>,
        /// Radius, mm.
        radius: f64,
        /// Their colour.
        ink: Ink,
    },
    /// Text beside a point.
    Text(Label),
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug)]
pub struct Pen {
    /// Its colour.
    pub ink: Ink,
    /// Width in points.
    pub width: f32,
    /// Pattern.
    pub dash: Dash,
}

impl Pen {
    /// An unbroken line.
    pub const fn solid(ink: Ink, width: f32) -> Self {
        Self { ink, width, dash: Dash::None }
    }

    /// The same pen with a pattern.
    #[must_use]
    pub const fn with_dash(self, dash: Dash) -> Self {
        Self { dash, ..self }
    }
}

/// Line patterns of a workshop drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dash {
    /// Unbroken.
    None,
    /// Hidden edge.
    Dashed,
    /// Centre line and plumb line.
    DashDot,
}

/// Text on a drawing.
#[derive(Clone, Debug)]
pub struct Label {
    /// The point it belongs to, mm.
    pub at: Point,
    /// Where the text lies about that point.
    pub side: Side,
    /// What it says.
    pub text: String,
    /// Its colour.
    pub ink: Ink,
    /// Height in points.
    pub size: f32,
    /// In the heavier weight.
    pub strong: bool,
    /// On a patch of paper, so that lines behind it do not cross it.
    pub on_patch: bool,
}

impl Label {
    /// A plain text of the body's size.
    pub fn new(at: Point, side: Side, text: impl Into<String>, ink: Ink) -> Self {
        Self { at, side, text: text.into(), ink, size: size::BODY, strong: false, on_patch: false }
    }

    /// The same text in the heavier weight.
    #[must_use]
    pub fn strong(self) -> Self {
        Self { strong: true, ..self }
    }

    /// The same text on a patch of paper.
    #[must_use]
    pub fn on_patch(self) -> Self {
        Self { on_patch: true, ..self }
    }

    /// The same text at another height, points.
    #[must_use]
    pub fn sized(self, size: f32) -> Self {
        Self { size, ..self }
    }
}

/// Where a label lies about its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Centred on it.
    Middle,
    /// Centred above it.
    Above,
    /// Centred below it.
    Below,
    /// To the left, centred in height.
    Left,
    /// To the right, centred in height.
    Right,
}

impl Scene {
    /// An empty drawing at a scale.
    pub const fn new(points_per_mm: f64) -> Self {
        Self { points_per_mm, items: Vec::new() }
    }

    /// So many points, in millimetres of this drawing.
    pub fn pt(&self, points: f64) -> f64 {
        points / self.points_per_mm
    }

    /// All items, bottom first.
    pub fn items(&self) -> &[Item] {
        &self.items
    }

    /// A filled path.
    pub fn fill(&mut self, path: impl Into<BezPath>, ink: Ink) {
        self.items.push(Item::Fill { path: path.into(), ink, opacity: 1.0 });
    }

    /// A filled path that lets what is under it show.
    pub fn wash(&mut self, path: impl Into<BezPath>, ink: Ink, opacity: f32) {
        self.items.push(Item::Fill { path: path.into(), ink, opacity });
    }

    /// Small discs, all alike.
    pub fn dots(&mut self, centres: Vec<Point>, radius: f64, ink: Ink) {
        self.items.push(Item::Dots { centres, radius, ink });
    }

    /// A stroked path.
    pub fn stroke(&mut self, path: impl Into<BezPath>, pen: Pen) {
        self.items.push(Item::Stroke { path: path.into(), pen });
    }

    /// A straight line.
    pub fn line(&mut self, from: Point, to: Point, pen: Pen) {
        let mut path = BezPath::new();
        path.move_to(from);
        path.line_to(to);
        self.stroke(path, pen);
    }

    /// A text.
    pub fn label(&mut self, label: Label) {
        self.items.push(Item::Text(label));
    }

    /// Adds another drawing's items, moved, turned or scaled; texts stay upright and keep their size, as lines do.
    pub fn add(&mut self, other: Self, by: Affine) {
        let larger = by.determinant().abs().sqrt();
        self.items.extend(other.items.into_iter().map(|item| match item {
            Item::Fill { path, ink, opacity } => Item::Fill { path: by * path, ink, opacity },
            Item::Stroke { path, pen } => Item::Stroke { path: by * path, pen },
            Item::Dots { mut centres, radius, ink } => {
                centres.iter_mut().for_each(|centre| *centre = by * *centre);
                Item::Dots { centres, radius: radius * larger, ink }
            }
            Item::Text(label) => Item::Text(Label { at: by * label.at, ..label }),
        }));
    }
}
