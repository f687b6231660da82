//! Swings no longer than the cut needs: what each setting of a plan must still take when the others take theirs.

use super::bar::CuttingBar;
use super::candidates::{Candidate, FullSwing};
use super::cover::{Cover, cover_of};
use super::job::LogJob;
use super::nose::hidden_travel_m;
use super::region::Outline;
use super::setting::{CutShape, Setting, pivot};
use super::stand::Side;
use crate::geometry::{Point, Vector};
use std::f64::consts::{PI, TAU};

/// Swings of a plan end on whole degrees.
const STEP_RAD: f64 = PI / 180.0;
/// How often what a trim left is added to what it must take before the trim is given up.
const MOST_ROUNDS: u32 = 6;

/// One setting being trimmed.
struct Trimmed {
    setting: Setting,
    limits: (f64, f64),
    low_rad: f64,
    high_rad: f64,
    /// For each sample it can take: the highest low end and the lowest high end that still take it.
    needs: Vec<Option<(f64, f64)>>,
}

impl Trimmed {
    fn new(job: &LogJob, bar: &CuttingBar, samples: &[Point], candidate: &Candidate) -> Self {
        let setting = Setting::unchecked_full(job, candidate.bark_rad, candidate.side);
        let limits = job.swing().from_side(candidate.side);
        let (pivot, straight_in) = pivot(job, &setting);
        let swing = FullSwing::new(job, bar, candidate.bark_rad, candidate.side);
        let needs = samples
            .iter()
            .map(|place| {
                swing.takes(*place).then(|| {
                    let v = place - pivot;
                    let half = bar.half_angle_rad(v.norm()).unwrap_or(0.0);
                    let angle = (v.y.atan2(v.x) - straight_in + PI).rem_euclid(TAU) - PI;
                    (angle + half, angle - half)
                })
            })
            .collect();
        Self { setting, limits, low_rad: limits.0, high_rad: limits.1, needs }
    }

    fn takes(&self, index: usize) -> bool {
        let Some(Some((low, high))) = self.needs.get(index) else {
            return false;
        };
        (self.low_rad <= self.limits.0 || *low >= self.low_rad)
            && (self.high_rad >= self.limits.1 || *high <= self.high_rad)
    }

    /// Between a whole degree and the limit on either side.
    fn set_high(&mut self, need_rad: f64) {
        let whole = (need_rad / STEP_RAD).ceil() * STEP_RAD;
        self.high_rad =
            if whole > self.limits.1 - STEP_RAD { self.limits.1 } else { whole.max(self.low_rad) };
    }

    fn set_low(&mut self, need_rad: f64) {
        let whole = (need_rad / STEP_RAD).floor() * STEP_RAD;
        self.low_rad =
            if whole < self.limits.0 + STEP_RAD { self.limits.0 } else { whole.min(self.high_rad) };
    }

    /// Downward, the saw's underside leading.
    fn setting(&self) -> Setting {
        let (from_rad, to_rad) = match self.setting.side {
            Side::Near => (self.high_rad, self.low_rad),
            Side::Far => (self.low_rad, self.high_rad),
        };
        Setting { from_rad, to_rad, ..self.setting }
    }
}

/// The settings of a set of candidates with their swings trimmed, ends that keep the nose out of sight first; `None`
/// where even whole swings leave more than `allowed_m2`.
pub(super) fn trimmed(
    job: &LogJob,
    bar: &CuttingBar,
    samples: &[Point],
    set: &[Candidate],
    allowed_m2: f64,
) -> Option<Vec<Setting>> {
    let mut samples = samples.to_vec();
    for _ in 0..MOST_ROUNDS {
        let settings = trimmed_to(job, bar, &samples, set);
        let cover = cut(job, bar, &settings);
        if cover.left_area_m2 <= allowed_m2 {
            return Some(settings);
        }
        samples.extend(cover.left.iter().flat_map(places_in));
    }
    let whole: Vec<_> =
        set.iter().map(|place| Setting::unchecked_full(job, place.bark_rad, place.side)).collect();
    (cut(job, bar, &whole).left_area_m2 <= allowed_m2).then_some(whole)
}

fn cut(job: &LogJob, bar: &CuttingBar, settings: &[Setting]) -> Cover {
    let shapes: Vec<_> = settings.iter().map(|setting| CutShape::new(job, bar, setting)).collect();
    cover_of(job, &shapes)
}

/// Places a little inside an outline, beside each of its corners and the middles of its edges.
fn places_in(outline: &Outline) -> Vec<Point> {
    const INWARD: f64 = 0.02;
    let places: Vec<Point> =
        outline.edges().iter().flat_map(|edge| [edge.start(), edge.point_at(0.5)]).collect();
    let mut middle = Vector::zeros();
    let mut count = 0.0;
    for place in &places {
        middle += place.coords;
        count += 1.0;
    }
    places.into_iter().map(|place| place + INWARD * (middle / count - place.coords)).collect()
}

/// A place just inside an outline, beside the middle of its longest edge.
pub(super) fn place_inside(outline: &Outline) -> Option<Point> {
    const INWARD: f64 = 1e-3;
    let longest = outline.edges().iter().max_by(|a, b| a.length_m().total_cmp(&b.length_m()))?;
    Some(longest.point_at(0.5) + INWARD * longest.length_m() * longest.left_at_middle())
}

/// Swings trimmed to what the samples ask for.
fn trimmed_to(job: &LogJob, bar: &CuttingBar, samples: &[Point], set: &[Candidate]) -> Vec<Setting> {
    let mut all: Vec<_> = set.iter().map(|candidate| Trimmed::new(job, bar, samples, candidate)).collect();
    for (own, high) in ends_by_hidden_travel(job, bar, &all) {
        let needed = needed(&all, samples.len(), own, high);
        if let Some(one) = all.get_mut(own) {
            // Where nothing needs this end, it may close on the other.
            match (high, needed) {
                (true, need) => one.set_high(need.unwrap_or(one.low_rad)),
                (false, need) => one.set_low(need.unwrap_or(one.high_rad)),
            }
        }
    }
    all.iter().map(Trimmed::setting).collect()
}

/// Every end of every setting (`true` for the high one), those first that have the nose out of sight the longest.
fn ends_by_hidden_travel(job: &LogJob, bar: &CuttingBar, all: &[Trimmed]) -> Vec<(usize, bool)> {
    let mut ends: Vec<(f64, usize, bool)> = all
        .iter()
        .enumerate()
        .flat_map(|(own, one)| {
            let half =
                |to_rad: f64| hidden_travel_m(job, bar, &Setting { from_rad: 0.0, to_rad, ..one.setting });
            [(half(one.limits.1), own, true), (half(one.limits.0), own, false)]
        })
        .collect();
    ends.sort_by(|a, b| b.0.total_cmp(&a.0));
    ends.into_iter().map(|(_, own, high)| (own, high)).collect()
}

/// The end a setting needs for what no other takes; `None` where it needs none.
fn needed(all: &[Trimmed], samples: usize, own: usize, high: bool) -> Option<f64> {
    let one = all.get(own)?;
    (0..samples)
        .filter(|index| {
            let by_another = all.iter().enumerate().any(|(other, o)| other != own && o.takes(*index));
            one.takes(*index) && !by_another
        })
        .filter_map(|index| one.needs.get(index).copied().flatten())
        .map(|(low_end, high_end)| if high { high_end } else { low_end })
        .reduce(|a, b| if high { a.max(b) } else { a.min(b) })
}
