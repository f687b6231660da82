//! Setups under each other as silhouettes: one scale, spikes under spikes, each with its name and what it does.

use crate::desk::format::{self, LengthUnit, Units, short_name};
use crate::draw::pieces::{self, mm};
use crate::draw::strokes::{Canvas, Dash, Label, Pen, Scene, Side, text_width};
use crate::draw::theme::{Ink, size};
use barpoise_core::{Setup, solve};
use egui::Rect;
use kurbo::{Affine, Point, Vec2};

/// What a saw takes under its bar, and over its front grip, mm.
const UNDER_MM: f64 = 92.0;
const OVER_GRIP_MM: f64 = 24.0;
/// Between two rows, in points.
const BETWEEN_PT: f64 = 5.0;
/// The rule under all rows, in points.
const RULE_PT: f64 = 34.0;
/// Where the words begin past the spikes, mm, and how far their middle is over the chain, in points.
const WORDS_FROM_MM: f64 = 70.0;
const WORDS_OVER_PT: f64 = 15.0;

/// One setup of the stack.
#[derive(Clone, Debug)]
pub struct Stacked<'a> {
    /// The saw.
    pub setup: &'a Setup,
    /// What is said of it under its name.
    pub words: String,
}

impl<'a> Stacked<'a> {
    /// A setup with its weight, hang and reach in short: `8.62 kg, hangs 21.5° nose down, reach 566 mm`.
    pub fn of(setup: &'a Setup, units: Units) -> Self {
        let solved = solve(setup);
        let hang = solved
            .hang
            .map_or_else(|reason| reason.to_string(), |hang| format!("hangs {}", format::hang(hang)));
        let (weight, reach) = (units.mass(solved.ready_mass()), units.length(solved.reach));
        Self { setup, words: format!("{weight}, {hang}, reach {reach}") }
    }
}

impl Stacked<'_> {
    /// Width of the name and the gap after it, in points.
    fn name_pt(&self) -> f64 {
        f64::from(text_width(&short_name(self.setup.name()), size::STRONG, true)) + 14.0
    }

    /// Width of name and words, in points.
    fn words_pt(&self) -> f64 {
        self.name_pt() + f64::from(text_width(&self.words, size::BODY, false))
    }
}

/// Setups under each other.
#[derive(Clone, Debug)]
pub struct StackPicture<'a> {
    /// From the top.
    pub setups: Vec<Stacked<'a>>,
    /// Units of the rule.
    pub units: Units,
}

impl StackPicture<'_> {
    /// What the tallest saw and its words take over the middle of its bar, mm of the drawing.
    fn over_mm(&self, mm_per_pt: f64) -> f64 {
        let over = |stacked: &Stacked<'_>| {
            let grip = mm(stacked.setup.powerhead().front_grip()).y + OVER_GRIP_MM;
            grip.max(chain_mm(stacked.setup) + 2.0 * WORDS_OVER_PT * mm_per_pt)
        };
        self.setups.iter().map(over).fold(0.0, f64::max)
    }

    /// Height of a row, mm of the drawing.
    fn row_mm(&self, mm_per_pt: f64) -> f64 {
        UNDER_MM + self.over_mm(mm_per_pt) + BETWEEN_PT * mm_per_pt
    }

    /// From the farthest rear to the farthest nose or the end of the longest words, about the spikes, mm of the
    /// drawing.
    pub fn width_mm(&self, mm_per_pt: f64) -> (f64, f64) {
        let mut width = (-1.0_f64, 1.0_f64);
        for stacked in &self.setups {
            let (behind, ahead) = pieces::about_spikes(stacked.setup);
            width.0 = width.0.min(-behind);
            width.1 = width.1.max(ahead);
            width.1 = width.1.max(WORDS_FROM_MM + stacked.words_pt() * mm_per_pt);
        }
        width
    }

    /// Height of the whole at a scale, mm of the drawing.
    pub fn height_mm(&self, mm_per_pt: f64) -> f64 {
        let rows = u32::try_from(self.setups.len()).map_or(0.0, f64::from);
        rows * self.row_mm(mm_per_pt) + RULE_PT * mm_per_pt
    }

    /// Fits the stack into a rectangle, with texts and lines so many times their size.
    pub fn fit(&self, rect: Rect, enlarged: f32) -> Canvas {
        Canvas::fit_with_texts(rect, enlarged, |mm_per_pt| {
            let (rear, nose) = self.width_mm(mm_per_pt);
            kurbo::Rect::new(rear, -self.height_mm(mm_per_pt), nose, 0.0)
        })
    }

    /// The drawing; its origin is on the spikes at the top.
    pub fn scene(&self, canvas: &Canvas) -> Scene {
        let mut scene = canvas.scene();
        let pt = scene.pt(1.0);
        let row = self.row_mm(pt);
        let bottom = -self.height_mm(pt);
        let spikes = Pen::solid(Ink::Soft, 1.0).with_dash(Dash::DashDot);
        scene.line(Point::new(0.0, -8.0 * pt), Point::new(0.0, bottom + RULE_PT * pt), spikes);
        for (index, stacked) in self.setups.iter().enumerate() {
            let top = -row * u32::try_from(index).map_or(0.0, f64::from);
            let bar = top - self.over_mm(pt);
            let spikes = stacked.setup.powerhead().spike_line().as_mm();
            let mut saw = canvas.scene();
            pieces::silhouette(&mut saw, stacked.setup);
            pieces::kickback_zone(&mut saw, &stacked.setup.nose_zone());
            scene.add(saw, Affine::translate((-spikes, bar)));
            // Over the bar there is room before the front handle: the name, and what it does.
            let words = Point::new(WORDS_FROM_MM, bar + chain_mm(stacked.setup) + WORDS_OVER_PT * pt);
            let name = short_name(stacked.setup.name());
            scene.label(Label::new(words, Side::Right, name, Ink::Line).strong().sized(size::STRONG));
            if stacked.words.is_empty() {
                continue;
            }
            let at = words + Vec2::new(stacked.name_pt() * pt, 0.0);
            scene.label(Label::new(at, Side::Right, stacked.words.clone(), Ink::Soft));
        }
        rule(&mut scene, Point::new(0.0, bottom + 0.6 * RULE_PT * pt), self.units);
        scene
    }
}

/// How far the chain stands over the middle of the bar, mm.
fn chain_mm(setup: &Setup) -> f64 {
    let zone = setup.nose_zone();
    zone.radius.as_mm().max(0.5 * setup.bar().body_width().as_mm())
}

/// A rule from the spikes on: half a metre with a mark each 100 mm, or twenty inches with one each four.
fn rule(scene: &mut Scene, from: Point, units: Units) {
    const MARKS: u32 = 5;
    let (mark_mm, said) = match units.length {
        LengthUnit::Mm => (100.0, "500 mm"),
        LengthUnit::In => (4.0 * 25.4, "20 in"),
    };
    let pen = Pen::solid(Ink::Line, 1.0);
    let tick = Vec2::new(0.0, scene.pt(4.0));
    scene.line(from, from + Vec2::new(f64::from(MARKS) * mark_mm, 0.0), pen);
    for mark in 0..=MARKS {
        let at = from + Vec2::new(f64::from(mark) * mark_mm, 0.0);
        scene.line(at - tick, at + tick, pen);
    }
    let end = from + Vec2::new(f64::from(MARKS) * mark_mm, 0.0);
    scene.label(Label::new(end, Side::Right, said, Ink::Soft));
}
