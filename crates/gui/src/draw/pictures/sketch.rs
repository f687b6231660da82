//! A picture with its heading over it and the cautions under it, on a ground of its own: what goes into a file.

use super::{BenchPicture, BenchShows, LogPicture, StackPicture, Stacked};
use crate::desk::document::{Figures, Log, LogFigures};
use crate::desk::format::{self, Units};
use crate::draw::output::Form;
use crate::draw::strokes::{self, Canvas, Extent, Label, Scene, SheetError, Side, Typeface, wrapped};
use crate::draw::theme::{Ink, Paper, size};
use barpoise_core::units::Angle;
use barpoise_core::{CAUTIONS, Fault, KICKBACK_CAUTION, Setup, Yard};
use egui::{Pos2, Rect, Vec2};

/// Room at the edge, in points.
const MARGIN: f32 = 24.0;
/// Texts stand out over a saw by so much, in points.
const OVERHANG: Vec2 = Vec2::new(44.0, 4.0);
/// A line of text is so many times as high as its letters.
const LEADING: f32 = 1.3;

/// A picture for a file.
#[derive(Debug)]
pub struct Sketch<'a> {
    title: String,
    units: Units,
    shown: Shown<'a>,
}

#[derive(Debug)]
enum Shown<'a> {
    Bench(Box<Figures>),
    Log(Box<LogFigures>, &'a Setup),
    Rack(StackPicture<'a>),
}

/// A picture, drawn.
#[derive(Debug)]
pub struct Drawn {
    scene: Scene,
    canvas: Canvas,
    paper: Paper,
    title: String,
}

impl<'a> Sketch<'a> {
    /// A saw on the bench.
    pub fn bench(yard: &Yard, setup: &'a Setup, units: Units) -> Self {
        let figures = Figures::of_setup(yard, setup);
        let weight = units.mass(figures.solved().ready_mass());
        let hang = figures.solved().hang;
        let hang =
            hang.map_or_else(|error| error.to_string(), |hang| format!("hangs {}", format::hang(hang)));
        let title = format!("{}, {weight} ready to work, {hang}", setup.name());
        Self { title, units, shown: Shown::Bench(Box::new(figures)) }
    }

    /// A log before a saw.
    ///
    /// # Errors
    /// Where a number of the log is out of its range.
    pub fn log(yard: &Yard, setup: &'a Setup, log: &Log, units: Units) -> Result<Self, Fault> {
        let figures = LogFigures::new(log, yard.person(), &Figures::of_setup(yard, setup))?;
        let title = format!("{} before a log of {}", setup.name(), units.length(log.width()));
        Ok(Self { title, units, shown: Shown::Log(Box::new(figures), setup) })
    }

    /// Setups under each other.
    pub fn rack(setups: &[&'a Setup], units: Units) -> Self {
        let stacked = setups.iter().map(|setup| Stacked::of(setup, units)).collect();
        let title = match setups {
            [one] => one.name().to_owned(),
            _ => format!("{} setups to one scale", setups.len()),
        };
        Self { title, units, shown: Shown::Rack(StackPicture { setups: stacked }) }
    }

    /// Draws it on a ground of this size, points.
    pub fn drawn(&self, size: Vec2, paper: Paper) -> Drawn {
        let ground = Rect::from_min_size(Pos2::ZERO, size);
        let page = Canvas::at(ground, Pos2::ZERO, 1.0);
        let mut scene = page.scene();
        let inner = ground.shrink(MARGIN);
        let mut y = inner.top();
        text(&mut scene, Pos2::new(inner.left(), y), &self.title, Ink::Line, size::TITLE, true);
        y += size::TITLE * LEADING + 8.0;
        let (cautions, high) = cautions(inner.width());
        let mut down = inner.bottom() - high;
        for (line, ink, strong) in cautions {
            text(&mut scene, Pos2::new(inner.left(), down), &line, ink, size::BODY, strong);
            down += size::BODY * LEADING;
        }
        let room = Rect::from_min_max(
            Pos2::new(inner.left(), y),
            Pos2::new(inner.right(), inner.bottom() - high - 10.0),
        );
        let (picture, canvas) = self.picture(room);
        scene.add(picture, page.affine().inverse() * canvas.affine());
        Drawn { scene, canvas: page, paper, title: self.title.clone() }
    }

    fn picture(&self, room: Rect) -> (Scene, Canvas) {
        match &self.shown {
            Shown::Bench(figures) => {
                let shows = BenchShows { rack: false, compared: false, ..BenchShows::ALL };
                let picture =
                    BenchPicture { figures, units: self.units, held_pitch: Angle::ZERO, limit: None, shows };
                // The names at the edges of the saw stand out over it.
                let stand = picture.stand(picture.fit(room.shrink2(OVERHANG), 1.0).within(room));
                (picture.scene(&stand), stand.canvas)
            }
            Shown::Log(figures, setup) => {
                let picture = LogPicture::at_end(figures, setup, self.units);
                let canvas = picture.fit(room, 1.0).within(room);
                (picture.scene(&canvas), canvas)
            }
            Shown::Rack(picture) => {
                let canvas = picture.fit(room, 1.0).within(room);
                (picture.scene(&canvas), canvas)
            }
        }
    }
}

impl Drawn {
    /// What it shows, in one line.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// The drawing and where it lies.
    pub const fn scene(&self) -> (&Scene, &Canvas) {
        (&self.scene, &self.canvas)
    }

    /// As an SVG document.
    pub fn svg(&self, typeface: Typeface) -> String {
        strokes::svg(&self.scene, &self.canvas, self.paper, &self.title, Extent::Pixels, typeface)
    }

    /// The bytes of its file; an image has so many pixels for each point.
    ///
    /// # Errors
    /// Where the renderer fails.
    pub fn written(&self, form: Form, pixels: f32) -> Result<Vec<u8>, SheetError> {
        match form {
            Form::Svg => Ok(self.svg(Typeface::Inside).into_bytes()),
            Form::Png => strokes::png(&self.svg(Typeface::Named), pixels),
            Form::Pdf => strokes::pdf(&self.svg(Typeface::Named), &self.title),
        }
    }
}

/// The cautions in lines, with their ink and weight, and their height in points.
fn cautions(width: f32) -> (Vec<(String, Ink, bool)>, f32) {
    let mut lines = vec![(KICKBACK_CAUTION.to_owned(), Ink::Danger, true)];
    let others = wrapped(&CAUTIONS.join(" "), size::BODY, false, width);
    lines.extend(others.into_iter().map(|line| (line, Ink::Line, false)));
    let count = u16::try_from(lines.len()).unwrap_or(u16::MAX);
    (lines, f32::from(count) * size::BODY * LEADING)
}

/// A text with its left top corner at a place of the ground, points.
fn text(scene: &mut Scene, at: Pos2, text: &str, ink: Ink, size: f32, strong: bool) {
    let middle = at + egui::vec2(-strokes::LABEL_GAP_PT, 0.5 * size * LEADING);
    let at = kurbo::Point::new(f64::from(middle.x), -f64::from(middle.y));
    let label = Label::new(at, Side::Right, text, ink).sized(size);
    scene.label(if strong { label.strong() } else { label });
}
