//! A picture with its heading over it and the cautions under it, on a ground of its own: what goes into a file.

use super::{BenchPicture, BenchShows, LogPicture, StackPicture, Stacked};
use crate::desk::document::{Figures, Log, LogFigures};
use crate::desk::format::{self, Units};
use crate::draw::output::Form;
use crate::draw::strokes::{self, About, Canvas, Extent, Label, Scene, SheetError, Side, Typeface, wrapped};
use crate::draw::theme::{Ink, Paper, size};
use barpoise_core::units::Angle;
use barpoise_core::{CAUTIONS, Fault, KICKBACK_CAUTION, Setup, Yard};
use egui::{Pos2, Rect, Vec2};
use std::rc::Rc;

/// Room at the edge, in points.
const MARGIN: f32 = 24.0;
/// Texts stand out over a saw by so much, in points.
const OVERHANG: Vec2 = Vec2::new(44.0, 4.0);
/// A line of text is so many times as high as its letters.
const LEADING: f32 = 1.3;

/// A picture for a file.
#[derive(Clone, Debug)]
pub struct Sketch<'a> {
    title: String,
    units: Units,
    shown: Shown<'a>,
    /// How it is held: nose up positive.
    held_pitch: Angle,
    /// How far a cut has run: the setting at work and the share of it; as it stands still where none is given.
    work: Option<(usize, f64)>,
}

#[derive(Clone, Debug)]
enum Shown<'a> {
    Bench(Rc<Figures>),
    Log(Rc<LogFigures>, &'a Setup),
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
    pub fn bench(yard: &Yard, setup: &Setup, units: Units) -> Self {
        let figures = Figures::of_setup(yard, setup);
        let weight = units.mass(figures.solved().ready_mass());
        let hang = figures.solved().hang;
        let hang =
            hang.map_or_else(|error| error.to_string(), |hang| format!("hangs {}", format::hang(hang)));
        let title = format!("{}, {weight} ready to work, {hang}", setup.name());
        Self::of(title, units, Shown::Bench(Rc::new(figures)))
    }

    /// A log before a saw.
    ///
    /// # Errors
    /// Where a number of the log is out of its range.
    pub fn log(yard: &Yard, setup: &'a Setup, log: &Log, units: Units) -> Result<Self, Fault> {
        let figures = LogFigures::new(log, yard.person(), &Figures::of_setup(yard, setup))?;
        let title = format!("{} before a log of {}", setup.name(), units.length(log.width()));
        Ok(Self::of(title, units, Shown::Log(Rc::new(figures), setup)))
    }

    /// Setups under each other.
    pub fn rack(setups: &[&'a Setup], units: Units) -> Self {
        let stacked = setups.iter().map(|setup| Stacked::of(setup, units)).collect();
        let title = match setups {
            [one] => one.name().to_owned(),
            _ => format!("{} setups to one scale", setups.len()),
        };
        Self::of(title, units, Shown::Rack(StackPicture { setups: stacked, units }))
    }

    const fn of(title: String, units: Units, shown: Shown<'a>) -> Self {
        Self { title, units, shown, held_pitch: Angle::ZERO, work: None }
    }

    /// The same saw held at a pitch, alone: what it would hang like is left out.
    #[must_use]
    pub(super) fn held_at(self, pitch: Angle) -> Self {
        Self { held_pitch: pitch, ..self }
    }

    /// The same cut at a moment of it.
    #[must_use]
    pub(super) fn at_work(self, work: (usize, f64)) -> Self {
        Self { work: Some(work), ..self }
    }

    /// What it shows, in one line.
    pub(super) fn title(&self) -> &str {
        &self.title
    }

    /// How many settings a cut has; none where it is no cut.
    pub(super) fn settings(&self) -> usize {
        match &self.shown {
            Shown::Log(figures, _) => figures.settings().len(),
            Shown::Bench(_) | Shown::Rack(_) => 0,
        }
    }

    /// Place and scale of its picture on a ground of this size.
    pub(super) fn canvas(&self, size: Vec2) -> Canvas {
        self.picture(self.laid_out(size).room, None).1
    }

    /// Draws it on a ground of this size, points.
    pub fn drawn(&self, size: Vec2, paper: Paper) -> Drawn {
        self.drawn_at(size, paper, None)
    }

    /// Draws it on a ground of this size, points, its picture at a place and scale of another's.
    pub(super) fn drawn_at(&self, size: Vec2, paper: Paper, at: Option<Canvas>) -> Drawn {
        let laid = self.laid_out(size);
        let page = Canvas::at(laid.ground, Pos2::ZERO, 1.0);
        let mut scene = page.scene();
        text(&mut scene, laid.inner.left_top(), &self.title, Ink::Line, size::TITLE, true);
        let mut down = laid.inner.bottom() - laid.cautions_high;
        for (line, ink, strong) in laid.cautions {
            text(&mut scene, Pos2::new(laid.inner.left(), down), &line, ink, size::BODY, strong);
            down += size::BODY * LEADING;
        }
        let (picture, canvas) = self.picture(laid.room, at);
        scene.add(picture, page.affine().inverse() * canvas.affine());
        Drawn { scene, canvas: page, paper, title: self.title.clone() }
    }

    fn laid_out(&self, size: Vec2) -> LaidOut {
        let ground = Rect::from_min_size(Pos2::ZERO, size);
        let inner = ground.shrink(MARGIN);
        let (cautions, cautions_high) = cautions(inner.width());
        let room = Rect::from_min_max(
            Pos2::new(inner.left(), inner.top() + size::TITLE * LEADING + 8.0),
            Pos2::new(inner.right(), inner.bottom() - cautions_high - 10.0),
        );
        LaidOut { ground, inner, cautions, cautions_high, room }
    }

    fn picture(&self, room: Rect, at: Option<Canvas>) -> (Scene, Canvas) {
        match &self.shown {
            Shown::Bench(figures) => {
                let alone = self.held_pitch != Angle::ZERO;
                let hanging = !alone;
                let shows =
                    BenchShows { rack: false, compared: false, hanging, hands: !alone, ..BenchShows::ALL };
                let (units, held_pitch) = (self.units, self.held_pitch);
                let picture = BenchPicture { figures, units, held_pitch, limit: None, shows };
                // The names at the edges of the saw stand out over it.
                let fit = || picture.fit(room.shrink2(OVERHANG), 1.0).within(room);
                let stand = picture.stand(at.unwrap_or_else(fit));
                (picture.scene(&stand), stand.canvas)
            }
            Shown::Log(figures, setup) => {
                let still = LogPicture::at_end(figures, setup, self.units);
                let picture = LogPicture { work: self.work.or(still.work), ..still };
                let canvas = at.unwrap_or_else(|| picture.fit(room, 1.0).within(room));
                (picture.scene(&canvas), canvas)
            }
            Shown::Rack(picture) => {
                let canvas = at.unwrap_or_else(|| picture.fit(room, 1.0).within(room));
                (picture.scene(&canvas), canvas)
            }
        }
    }
}

/// Where heading, picture and cautions lie on a ground.
struct LaidOut {
    ground: Rect,
    inner: Rect,
    cautions: Vec<(String, Ink, bool)>,
    cautions_high: f32,
    room: Rect,
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
            Form::Pdf => {
                let about = About { title: &self.title, author: "" };
                strokes::pdf(&[self.svg(Typeface::Named)], &about)
            }
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
