//! A log before the saw: how it is cut, from where, and where the nose goes.

use super::stand::Stood;
use crate::desk::document::LogFigures;
use crate::desk::format::Units;
use crate::draw::pieces::{
    self,
    log::{self, beside_bark, section_mm},
};
use crate::draw::strokes::{Canvas, Label, Pen, Scene, Side, text_width};
use crate::draw::theme::{Ink, size};
use barpoise_core::Setup;
use barpoise_core::log::{
    BarkArc, Cut, LogJob, Outline, Pose, Setting, Side as LogSide, Tangle, cut_so_far, pose,
};
use barpoise_core::units::{Angle, Length};
use egui::Rect;
use kurbo::{Circle, Point, Shape};

/// The settings' numbers and the bark within reach lie this far outside the bark, in points.
pub const NUMBER_OUT_PT: f64 = 24.0;
/// See [`NUMBER_OUT_PT`].
pub const REACH_OUT_PT: f64 = 52.0;
/// Radius of a number's disc, in points.
const NUMBER_PT: f64 = 12.0;
/// Room round the log for the saw's head and the words, and under the ground, mm.
const ROOM_MM: f64 = 330.0;
const UNDER_MM: f64 = 60.0;
/// The words beside and under the log take at least this, in points.
const WORDS_BESIDE_PT: f64 = 150.0;
const WORDS_UNDER_PT: f64 = 36.0;
/// Words keep this far from the edge of the picture, in points.
const WORDS_GAP_PT: f64 = 10.0;
/// The words over the person's head take so much, in points.
const WORDS_OVER_HEAD_PT: f64 = 30.0;
/// A setting is looked at so many times for what saw and person cover.
const LOOKS: u32 = 6;
/// Places on the nose's way that are drawn.
const WAY_STEPS: u32 = 60;

/// How far a cut has run when a setting begins.
pub fn run_at(setting: usize) -> f64 {
    u32::try_from(setting).map_or(0.0, f64::from)
}

/// The setting at work and the share of it that has run, where a cut of so many settings has run so far.
pub fn at_work(settings: usize, run: f64) -> Option<(usize, f64)> {
    let index = (0..settings).rev().find(|index| run >= run_at(*index))?;
    Some((index, (run - run_at(index)).min(1.0)))
}

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
    /// The cut runs: the picture has room for all of it, so that it keeps its place and scale.
    pub runs: bool,
    /// The numbers of the log are shown.
    pub measured: bool,
}

impl<'a> LogPicture<'a> {
    /// The picture that stands still: all but the last setting cut, that one half way.
    pub fn at_end(figures: &'a LogFigures, setup: &'a Setup, units: Units) -> Self {
        const HALF_WAY: f64 = 0.5;
        let last = figures.settings().len().checked_sub(1);
        let work = last.map(|last| (last, HALF_WAY));
        Self { figures, setup, units, work, numbered: true, runs: false, measured: true }
    }

    /// The picture once the cut has run so far: whole settings, and the share of the one at work.
    pub fn at_run(figures: &'a LogFigures, setup: &'a Setup, units: Units, run: f64) -> Self {
        let work = at_work(figures.settings().len(), run);
        Self { work, runs: true, ..Self::at_end(figures, setup, units) }
    }

    fn job(&self) -> &LogJob {
        self.figures.job()
    }

    /// Fits the picture into a rectangle, with texts and lines so many times their size.
    pub fn fit(&self, rect: Rect, enlarged: f32) -> Canvas {
        Canvas::fit_with_texts(rect, enlarged, |mm_per_pt| self.extent(mm_per_pt))
    }

    /// The height that the picture needs where its width is all it has.
    pub fn height(&self, width: f32, enlarged: f32) -> f32 {
        let high = Rect::from_min_size(egui::Pos2::ZERO, egui::vec2(width, f32::MAX.sqrt()));
        let canvas = self.fit(high, enlarged);
        canvas.points(self.extent(canvas.scene().pt(1.0)).height())
    }

    /// The pose of the person at this moment of the cut, for a reader that does not see it.
    pub fn spoken(&self) -> Option<String> {
        self.stood().map(|stood| stood.spoken(self.units))
    }

    /// The side of the log from which the setting at work is made.
    fn at_work_from(&self) -> LogSide {
        let setting = self.work.and_then(|(index, _)| self.figures.settings().get(index));
        setting.map_or(LogSide::Near, Setting::side)
    }

    fn stood(&self) -> Option<Stood<'a>> {
        let (Ok(cut), Some((index, share))) = (self.figures.cut(), self.work) else { return None };
        Stood::at(self.figures.job(), cut, index, share)
    }

    fn extent(&self, mm_per_pt: f64) -> kurbo::Rect {
        let section = self.job().section();
        let (half, top) = (0.5 * section.width().as_mm(), Length::from_m(section.top_y_m()).as_mm());
        let beside = ROOM_MM.max(WORDS_BESIDE_PT * mm_per_pt);
        let ends = [-half - beside, half + beside].map(|x| log::ground_mm(self.job(), x));
        let ground = ends[0].min(ends[1]);
        // A window has handles at the ends of the bark.
        let under_pt = if self.numbered { WORDS_UNDER_PT } else { REACH_OUT_PT + NUMBER_PT };
        let under = UNDER_MM.max(under_pt * mm_per_pt);
        let world = kurbo::Rect::new(-half - beside, ground - under, half + beside, top + ROOM_MM);
        let over_head = kurbo::Insets::new(0.0, 0.0, 0.0, WORDS_OVER_HEAD_PT * mm_per_pt);
        self.moved().into_iter().fold(world, |world, part| world.union(part + over_head))
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
        for arc in self.held_bark() {
            let outside = scene.pt(REACH_OUT_PT);
            log::reachable(&mut scene, job, arc.from_rad(), arc.to_rad(), outside);
        }
        if let (Ok(cut), Some((index, share))) = (self.figures.cut(), self.work) {
            self.saw(&mut scene, cut, index, share);
        }
        self.words(&mut scene, (left, right));
        if let (Ok(cut), true) = (self.figures.cut(), self.numbered) {
            self.numbers(&mut scene, cut);
        }
        scene
    }

    /// The bark on which the spikes can be held somehow.
    fn held_bark(&self) -> Vec<BarkArc> {
        self.figures.cut().map_or_else(|_| Vec::new(), |cut| cut.workplace.held_bark(self.job()))
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

    /// The saw, and the nose's way through the setting at work.
    fn saw(&self, scene: &mut Scene, cut: &Cut, index: usize, share: f64) {
        let tips: Vec<_> = (0..=WAY_STEPS)
            .filter_map(|step| self.pose(cut, index, f64::from(step) / f64::from(WAY_STEPS)))
            .map(|pose| pose.tip)
            .collect();
        // A picture that stands still leaves out how the person stands at other times.
        let ends: &[f64] = if self.numbered { &[] } else { &[0.0, 1.0] };
        for stood in ends.iter().filter_map(|end| Stood::at(self.job(), cut, index, *end)) {
            stood.figure().ghost(scene);
        }
        let stood = self.stood();
        if let Some(stood) = &stood {
            stood.figure().behind_saw(scene);
        }
        if let Some(pose) = self.pose(cut, index, share) {
            log::saw_at(scene, self.setup, &pose);
        }
        if let Some(stood) = &stood {
            stood.figure().before_saw(scene);
        }
        log::nose_path(scene, self.job(), &tips);
        if let Some(stood) = &stood {
            stood.words(scene);
            stood.trouble(scene, self.units);
        }
    }

    fn pose(&self, cut: &Cut, index: usize, share: f64) -> Option<Pose> {
        pose(self.job(), &cut.bar, cut.settings.get(index)?, share).ok()
    }

    /// What saw and person cover, mm: at this moment where the picture stands still, else through the whole cut.
    fn moved(&self) -> Vec<kurbo::Rect> {
        let Ok(cut) = self.figures.cut() else { return Vec::new() };
        let moments: Vec<(usize, f64)> = if self.runs {
            let looks = || (0..=LOOKS).map(|look| f64::from(look) / f64::from(LOOKS));
            (0..cut.settings.len()).flat_map(|index| looks().map(move |share| (index, share))).collect()
        } else {
            self.work.into_iter().collect()
        };
        let mut covered = Vec::new();
        for (index, share) in moments {
            covered.extend(self.pose(cut, index, share).map(|pose| log::saw_extent(self.setup, &pose)));
            covered.extend(Stood::at(self.job(), cut, index, share).map(|stood| stood.extent()));
        }
        covered
    }

    fn words(&self, scene: &mut Scene, (left, right): (f64, f64)) {
        let job = self.job();
        let section = job.section();
        let half = 0.5 * section.width().as_mm();
        let ground = |x: f64| log::ground_mm(job, x);
        let text = if self.measured {
            format!("log {}", self.units.length(section.width()))
        } else {
            "log".to_owned()
        };
        let bottom = section_mm(section.bark_at(-std::f64::consts::FRAC_PI_2)).y;
        let drop = bottom - ground(0.0) + scene.pt(20.0);
        pieces::dimension(scene, Point::new(-half, bottom), Point::new(half, bottom), drop, &text, Ink::Line);
        let (above, next_line) = (scene.pt(14.0), scene.pt(22.0));
        let mut say = |at: Point, side, text: &str, ink| {
            let label = Label::new(at, side, text, ink).on_patch();
            scene.label(if ink == Ink::Soft { label } else { label.strong() });
        };
        if self.stood().is_none() {
            say(Point::new(left, ground(left) + above), Side::Right, "you stand here", Ink::Hand);
        }
        match job.tangle() {
            Tangle::Far => {
                say(Point::new(right, ground(right) + above), Side::Left, "brush hides the nose", Ink::Soft)
            }
            Tangle::Near => {
                let over = Point::new(left, ground(left) + above + next_line);
                say(over, Side::Right, "brush where you stand", Ink::Soft);
            }
            Tangle::None => {}
        }
        // At the end of the bark that is farthest from the person.
        let far = if self.at_work_from() == LogSide::Near { 1.0 } else { -1.0 };
        let out = scene.pt(REACH_OUT_PT + 4.0);
        let ends = self.held_bark().into_iter().flat_map(|arc| [arc.from_rad(), arc.to_rad()]);
        let ends = ends.map(|rad| beside_bark(job, Angle::from_rad(rad), out));
        if let Some(mut at) = ends.max_by(|a, b| (far * a.x).total_cmp(&(far * b.x))) {
            let text = "bark you can reach";
            let room = scene.pt(f64::from(text_width(text, size::BODY, false)) + WORDS_GAP_PT);
            let side = if at.x < 0.0 { Side::Left } else { Side::Right };
            at.x = at.x.clamp((left + room).min(0.0), (right - room).max(0.0));
            scene.label(Label::new(at, side, text, Ink::Ours).on_patch());
        }
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

#[cfg(test)]
#[path = "log_tests.rs"]
mod tests;
