//! A sheet of paper, filled from the top.

use crate::desk::page_size::PageSize;
use crate::draw::strokes::{Canvas, Label, Pen, Scene, Side, text_width, wrapped};
use crate::draw::theme::Ink;
use egui::{Pos2, Rect};
use kurbo::{Affine, BezPath, Point, Shape, Vec2};

const POINTS_PER_MM: f64 = 72.0 / 25.4;
const MARGIN_MM: f64 = 13.0;
/// Texts and lines of the sheet are so many times their size in the window: 9 points for body text.
const PRINTED: f32 = 0.6;
/// A line of text is so many times as high as its letters.
const LEADING: f64 = 1.3;
/// Room inside a frame, mm.
const FRAME_MM: f64 = 2.5;

/// A sheet. Places on it are in millimetres from its left top corner, y up and so negative.
#[derive(Debug)]
pub(super) struct Page {
    size: PageSize,
    canvas: Canvas,
    scene: Scene,
    /// How much is filled from the top, mm.
    filled: f64,
    /// What is left of the width on either side, mm.
    inset: f64,
}

impl Page {
    pub(super) fn new(size: PageSize) -> Self {
        let (width, height) = size.mm();
        let corner = to_pos(width, height);
        let canvas = Canvas::at(Rect::from_min_max(Pos2::ZERO, corner), Pos2::ZERO, POINTS_PER_MM);
        let canvas = canvas.enlarged(PRINTED);
        Self { size, canvas, scene: canvas.scene(), filled: MARGIN_MM, inset: MARGIN_MM }
    }

    /// The drawing and where it lies.
    pub(super) const fn drawing(&self) -> (&Scene, &Canvas) {
        (&self.scene, &self.canvas)
    }

    /// True where nothing has run over the lower margin.
    pub(super) fn holds_all(&self) -> bool {
        self.filled <= self.size.mm().1 - MARGIN_MM
    }

    /// Width that can be filled, mm.
    pub(super) fn width_mm(&self) -> f64 {
        self.size.mm().0 - 2.0 * self.inset
    }

    /// Where the next thing begins, mm from the top.
    pub(super) const fn filled_mm(&self) -> f64 {
        self.filled
    }

    /// The left edge of what is put, mm.
    pub(super) const fn left_mm(&self) -> f64 {
        self.inset
    }

    /// Goes back up, to fill another column.
    pub(super) fn back_to(&mut self, mm: f64) {
        self.filled = mm;
    }

    /// Leaves room.
    pub(super) fn space(&mut self, mm: f64) {
        self.filled += mm;
    }

    /// Height of a line of text of this size, mm.
    pub(super) fn line_mm(&self, size: f32) -> f64 {
        self.scene.pt(f64::from(size)) * LEADING
    }

    /// Width of a text, mm.
    pub(super) fn text_mm(&self, text: &str, size: f32, strong: bool) -> f64 {
        self.scene.pt(f64::from(text_width(text, size, strong)))
    }

    /// A text in the line that begins here, from `x` mm on.
    pub(super) fn text(&mut self, x: f64, text: &str, ink: Ink, size: f32, strong: bool) {
        let middle = self.filled + 0.5 * self.line_mm(size);
        // A label stands a gap beside its point.
        let gap = self.scene.pt(f64::from(crate::draw::strokes::LABEL_GAP_PT));
        let label = Label::new(Point::new(x - gap, -middle), Side::Right, text, ink).sized(size);
        self.scene.label(if strong { label.strong() } else { label });
    }

    /// One line.
    pub(super) fn line(&mut self, text: &str, ink: Ink, size: f32, strong: bool) {
        self.text(self.inset, text, ink, size, strong);
        self.filled += self.line_mm(size);
    }

    /// As many lines as a text takes over the whole width; none for an empty one.
    pub(super) fn paragraph(&mut self, text: &str, ink: Ink, size: f32, strong: bool) {
        let (x, width) = (self.inset, self.width_mm());
        self.paragraph_in(x, width, text, ink, size, strong);
    }

    /// The same between two edges.
    pub(super) fn paragraph_in(&mut self, x: f64, width: f64, text: &str, ink: Ink, size: f32, strong: bool) {
        #[expect(clippy::cast_possible_truncation, reason = "a sheet's width in points")]
        let points = (width / self.scene.pt(1.0)) as f32;
        for line in wrapped(text, size, strong, points) {
            self.text(x, &line, ink, size, strong);
            self.filled += self.line_mm(size);
        }
    }

    /// A line across, under what was put.
    pub(super) fn hairline(&mut self, ink: Ink) {
        let (left, right) = (self.inset, self.size.mm().0 - self.inset);
        let y = -self.filled;
        self.scene.line(Point::new(left, y), Point::new(right, y), Pen::solid(ink, 1.0));
    }

    /// Puts things into a frame.
    pub(super) fn framed(&mut self, ink: Ink, put: impl FnOnce(&mut Self)) {
        let (left, top) = (self.inset, self.filled);
        self.inset += FRAME_MM;
        self.filled += 0.6 * FRAME_MM;
        put(self);
        self.inset -= FRAME_MM;
        self.filled += 0.6 * FRAME_MM;
        let right = self.size.mm().0 - self.inset;
        let frame = kurbo::Rect::new(left, -self.filled, right, -top);
        self.scene.stroke(frame.to_path(0.01), Pen::solid(ink, 2.0));
    }

    /// Places to write in, beside each other, each after its name.
    pub(super) fn blanks(&mut self, names: &[&str], size: f32) {
        const UNDER_MM: f64 = 0.6;
        let count = names.len().max(1);
        let each = self.width_mm() / f64::from(u32::try_from(count).unwrap_or(1));
        let mut x = self.inset;
        self.filled += 0.3 * self.line_mm(size);
        for name in names {
            self.text(x, name, Ink::Soft, size, false);
            let from = x + self.text_mm(name, size, false) + 1.5;
            let y = -(self.filled + self.line_mm(size) + UNDER_MM);
            self.scene.line(Point::new(from, y), Point::new(x + each - 3.0, y), Pen::solid(Ink::Line, 1.0));
            x += each;
        }
        self.filled += 1.2 * self.line_mm(size);
    }

    /// A place to write in, right of what is so many millimetres wide and in the same line.
    pub(super) fn blank_beside(&mut self, taken_mm: f64, name: &str) {
        const GAP_MM: f64 = 6.0;
        let size = crate::draw::theme::size::BODY;
        const RAISED_MM: f64 = 1.4;
        let x = self.inset + taken_mm + GAP_MM;
        let filled = self.filled;
        // Clear of what follows that line.
        self.filled -= RAISED_MM;
        self.text(x, name, Ink::Soft, size, false);
        let from = x + self.text_mm(name, size, false) + 1.5;
        let (y, right) = (-(self.filled + 0.85 * self.line_mm(size)), self.size.mm().0 - self.inset);
        self.scene.line(Point::new(from, y), Point::new(right, y), Pen::solid(Ink::Line, 1.0));
        self.filled = filled;
    }

    /// A box to tick, in the line that begins here.
    pub(super) fn tick_box(&mut self, x: f64) {
        const SIDE_MM: f64 = 3.0;
        let middle = -(self.filled + 0.5 * self.line_mm(crate::draw::theme::size::BODY));
        let half = 0.5 * SIDE_MM;
        let outline = kurbo::Rect::new(x, middle - half, x + SIDE_MM, middle + half);
        self.scene.stroke(outline.to_path(0.01), Pen::solid(Ink::Line, 1.2));
    }

    /// A measured line of so many millimetres with a mark at each tenth of it.
    pub(super) fn rule(&mut self, mm: f64) {
        const MARKS: u32 = 10;
        let y = -(self.filled + 1.5);
        let at = |mark: u32| Point::new(self.inset + mm * f64::from(mark) / f64::from(MARKS), y);
        let pen = Pen::solid(Ink::Line, 1.0);
        let mut path = BezPath::new();
        path.move_to(at(0));
        path.line_to(at(MARKS));
        for mark in 0..=MARKS {
            let tick = Vec2::new(0.0, if mark % MARKS == 0 { 1.5 } else { 0.8 });
            path.move_to(at(mark) - tick);
            path.line_to(at(mark) + tick);
        }
        self.scene.stroke(path, pen);
        self.filled += 3.5;
    }

    /// Where a drawing at a scale of 1 to `times` lies whose origin is `right` mm from the left edge, at the top.
    pub(super) fn canvas_at(&self, right: f64, times: f64) -> Canvas {
        let origin = to_pos(self.inset + right, self.filled);
        Canvas::at(self.canvas.rect(), origin, POINTS_PER_MM / times).enlarged(PRINTED)
    }

    /// A rectangle of the sheet below what is filled, and the enlargement of what is fitted into it.
    pub(super) fn room(&self, x: f64, width: f64, height: f64) -> (Rect, f32) {
        let (from, to) = (to_pos(x, self.filled), to_pos(x + width, self.filled + height));
        (Rect::from_min_max(from, to), PRINTED)
    }

    /// Points of the sheet in millimetres.
    pub(super) fn points_mm(&self, points: f32) -> f64 {
        f64::from(points) / POINTS_PER_MM
    }

    /// Adds a drawing that lies on its own canvas over this sheet, and takes up its height.
    pub(super) fn add(&mut self, drawing: Scene, canvas: &Canvas, height_mm: f64) {
        self.scene.add(drawing, self.canvas.affine().inverse() * canvas.affine());
        self.filled += height_mm;
    }
}

/// Pages under each other as one drawing: where it lies, and what is on it.
pub(super) fn under_each_other(pages: &[Page]) -> (Scene, Canvas) {
    let size = pages.first().map_or(PageSize::A4, |page| page.size);
    let (width, height) = size.mm();
    let all = f64::from(u32::try_from(pages.len()).unwrap_or(1));
    let corner = to_pos(width, all * height);
    let canvas = Canvas::at(Rect::from_min_max(Pos2::ZERO, corner), Pos2::ZERO, POINTS_PER_MM);
    let canvas = canvas.enlarged(PRINTED);
    let mut scene = canvas.scene();
    for (place, page) in (0_u32..).zip(pages) {
        scene.add(page.scene.clone(), Affine::translate((0.0, -f64::from(place) * height)));
    }
    (scene, canvas)
}

#[expect(clippy::cast_possible_truncation, reason = "a sheet's points are small")]
fn to_pos(x_mm: f64, down_mm: f64) -> Pos2 {
    Pos2::new((x_mm * POINTS_PER_MM) as f32, (down_mm * POINTS_PER_MM) as f32)
}
