//! A log before the saw: how it is cut, from where, and where the nose goes.

use crate::document::{Cut, LogFigures};
use crate::drawing::{
    self,
    log::{self, beside_bark, section_mm},
};
use crate::format::Units;
use crate::scene::{Canvas, Label, Pen, Scene, Side};
use crate::theme::{Ink, size};
use barpoise_core::Setup;
use barpoise_core::log_section::{LogJob, Outline, Tangle, cut_so_far, pose};
use barpoise_core::units::{Angle, Length};
use egui::Rect;
use kurbo::{Circle, Point, Shape};

/// The settings' numbers and the bark within reach lie this far outside the bark, in points.
pub const NUMBER_OUT_PT: f64 = 24.0;
/// See [`NUMBER_OUT_PT`].
pub const REACH_OUT_PT: f64 = 52.0;
/// Radius of a number's disc, in points.
const NUMBER_PT: f64 = 12.0;
/// Room round the log for the saw's head and the words, mm.
const ROOM_MM: f64 = 330.0;
/// Words larger than this are laid out for a projector.
const LARGE: f32 = 1.2;
/// Places on the nose's way that are drawn.
const WAY_STEPS: u32 = 60;

/// A log before the saw.
#[derive(Clone, Copy, Debug)]
pub struct LogPicture<'a> {
    /// What is known of the log and its cut.
    pub figures: &'a LogFigures,
    /// The saw.
    pub setup: &'a Setup,
    /// Units of the numbers.
    pub units: Units,
    /// The setting at work and the share of it that has run.
    pub work: Option<(usize, f64)>,
    /// The settings' numbers are in the drawing; a window that paints handles over it leaves them out.
    pub numbered: bool,
    /// The numbers of the log are shown.
    pub measured: bool,
}

impl<'a> LogPicture<'a> {
    /// The picture that stands still: all but the last setting cut, that one half way.
    pub fn at_end(figures: &'a LogFigures, setup: &'a Setup, units: Units) -> Self {
        const HALF_WAY: f64 = 0.5;
        let last = figures.settings().len().checked_sub(1);
        let work = last.map(|last| (last, HALF_WAY));
        Self { figures, setup, units, work, numbered: true, measured: true }
    }

    fn job(&self) -> &LogJob {
        self.figures.job()
    }

    /// Fits the picture into a rectangle, with texts and lines so many times their size.
    pub fn fit(&self, rect: Rect, enlarged: f32) -> Canvas {
        let section = self.job().section();
        let (half, top) = (0.5 * section.width().as_mm(), Length::from_m(section.top_y_m()).as_mm());
        let ground = Length::from_m(section.ground_y_m()).as_mm();
        let world = kurbo::Rect::new(-half - ROOM_MM, ground - 60.0, half + ROOM_MM, top + ROOM_MM);
        Canvas::fit(rect, world).enlarged(enlarged)
    }

    /// The drawing.
    pub fn scene(&self, canvas: &Canvas) -> Scene {
        let job = self.job();
        let mut scene = canvas.scene();
        let (left, right) = (canvas.to_world(canvas.rect().min).x, canvas.to_world(canvas.rect().max).x);
        log::ground(&mut scene, job, left, right);
        log::tangle(&mut scene, job);
        log::wood(&mut scene, job);
        if let (Ok(cut), Some(work)) = (self.figures.cut(), self.work) {
            self.cuts(&mut scene, cut, work);
        }
        log::bark(&mut scene, job);
        for arc in job.bark() {
            let outside = scene.pt(REACH_OUT_PT);
            log::reachable(&mut scene, job, arc.from_rad(), arc.to_rad(), outside);
        }
        self.words(&mut scene, (left, right), canvas.enlargement() > LARGE);
        if let (Ok(cut), Some((index, share))) = (self.figures.cut(), self.work) {
            self.saw(&mut scene, cut, index, share);
        }
        if let (Ok(cut), true) = (self.figures.cut(), self.numbered) {
            self.numbers(&mut scene, cut);
        }
        scene
    }

    fn cuts(&self, scene: &mut Scene, cut: &Cut, (now, share): (usize, f64)) {
        for (index, step) in cut.steps.iter().enumerate().take(now) {
            log::cut(scene, &step.cuts, index);
        }
        let earlier = cut.settings.get(..now).unwrap_or_default();
        if let Some(setting) = cut.settings.get(now) {
            let so_far: Vec<Outline> =
                cut_so_far(self.job(), &cut.bar, earlier, setting, share).unwrap_or_default();
            log::cut(scene, &so_far, now);
        }
        if !cut.cover.left.is_empty() {
            log::left(scene, &cut.cover.left);
        }
    }

    fn saw(&self, scene: &mut Scene, cut: &Cut, index: usize, share: f64) {
        let Some(setting) = cut.settings.get(index) else { return };
        let at = |share: f64| pose(self.job(), &cut.bar, setting, share).ok();
        let tips: Vec<_> = (0..=WAY_STEPS)
            .filter_map(|step| at(f64::from(step) / f64::from(WAY_STEPS)))
            .map(|pose| pose.tip)
            .collect();
        if let Some(pose) = at(share) {
            log::saw_at(scene, self.setup, &pose);
        }
        log::nose_path(scene, self.job(), &tips);
    }

    fn words(&self, scene: &mut Scene, (left, right): (f64, f64), large: bool) {
        let job = self.job();
        let section = job.section();
        let half = 0.5 * section.width().as_mm();
        let ground = Length::from_m(section.ground_y_m()).as_mm();
        let above = scene.pt(14.0);
        let mut say = |at: Point, side, text: &str, ink| {
            let label = Label::new(at, side, text, ink).on_patch();
            scene.label(if ink == Ink::Soft { label } else { label.strong() });
        };
        say(Point::new(left, ground + above), Side::Right, "you stand here", Ink::Hand);
        // Large words run from the edge into the settings' numbers: they go down to the ground.
        let beside = Length::from_m(section.top_y_m()).as_mm() + above;
        let top = if large { ground + above } else { beside };
        match job.tangle() {
            Tangle::Far => {
                let hides = if large { "hides the nose" } else { "tangle hides the nose" };
                say(Point::new(right, top), Side::Left, hides, Ink::Soft);
            }
            Tangle::Near => say(Point::new(left, top), Side::Right, "tangle where you stand", Ink::Soft),
            Tangle::None => {}
        }
        let reach_label = job.bark().first().map(|arc| 0.5 * (arc.from_rad() + arc.to_rad()) + 0.12);
        if let Some(angle) = reach_label {
            let at = beside_bark(job, Angle::from_rad(angle), scene.pt(REACH_OUT_PT + 4.0));
            let side = if at.x < 0.0 { Side::Left } else { Side::Right };
            scene.label(Label::new(at, side, "bark you can reach", Ink::Ours).on_patch());
        }
        let text = if self.measured {
            format!("log {}", self.units.length(section.width()))
        } else {
            "log".to_owned()
        };
        let bottom = section_mm(section.bark_at(-std::f64::consts::FRAC_PI_2)).y;
        let drop = bottom - ground + scene.pt(20.0);
        drawing::dimension(
            scene,
            Point::new(-half, bottom),
            Point::new(half, bottom),
            drop,
            &text,
            Ink::Line,
        );
    }

    /// Where the spikes are set, in order: as the window's handles, but fixed.
    fn numbers(&self, scene: &mut Scene, cut: &Cut) {
        for (index, setting) in cut.settings.iter().enumerate() {
            let at = beside_bark(self.job(), setting.bark(), scene.pt(NUMBER_OUT_PT));
            let now = self.work.is_some_and(|(work, _)| work == index);
            let (ground, ink) = if now { (Ink::Ours, Ink::Sheet) } else { (Ink::Sheet, Ink::Ours) };
            let disc = Circle::new(at, scene.pt(NUMBER_PT)).to_path(0.01);
            scene.fill(disc.clone(), ground);
            scene.stroke(disc, Pen::solid(Ink::Ours, 2.0));
            let number = Label::new(at, Side::Middle, (index + 1).to_string(), ink);
            scene.label(number.strong().sized(size::BODY));
        }
    }
}
