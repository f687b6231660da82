//! Settings no longer than the cut needs: what each of a plan must still take when the others take theirs. No end sweeps
//! air: it stops as soon as the wood is through.

use super::bar::CuttingBar;
use super::candidates::{Needs, ON_THE_EDGE_M, Quick};
use super::job::LogJob;
use super::nose::hidden_travel_m;
use super::plan::micrometres;
use super::setting::Setting;
use crate::geometry::Point;
use crate::section::Side;
use std::f64::consts::PI;

/// Swings of a plan end on whole degrees, slides on whole five millimetres.
const STEP_RAD: f64 = PI / 180.0;
const STEP_M: f64 = 0.005;

/// An end of a setting that can be drawn in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum End {
    LayOn,
    RunOff,
    High,
    Low,
}

/// What is drawn in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Trim {
    /// Slides and swings.
    All,
    /// Swings only, where nothing is laid on or runs off.
    Swings,
}

/// One setting being trimmed.
struct Trimmed {
    whole: Setting,
    low_rad: f64,
    high_rad: f64,
    lay_on_m: f64,
    run_off_m: f64,
    /// How far its ends must go for each sample; `None` for one it cannot take.
    needs: Vec<Option<Needs>>,
}

impl Trimmed {
    fn new(job: &LogJob, bar: &CuttingBar, samples: &[Point], whole: &Setting) -> Self {
        let quick = Quick::new(job, bar, whole);
        let needs = samples
            .iter()
            .map(|place| quick.takes(job, *place).then(|| quick.needs(job, bar, whole, *place)))
            .collect();
        Self {
            whole: *whole,
            low_rad: whole.from_rad.min(whole.to_rad),
            high_rad: whole.from_rad.max(whole.to_rad),
            lay_on_m: whole.lay_on_m,
            run_off_m: whole.run_off_m,
            needs,
        }
    }

    fn limits(&self) -> (f64, f64) {
        (self.whole.from_rad.min(self.whole.to_rad), self.whole.from_rad.max(self.whole.to_rad))
    }

    /// True where it takes a sample without counting on one of its ends.
    fn takes_without(&self, needs: &Needs, end: Option<End>) -> bool {
        let within = |need: Option<f64>, has_m: f64| {
            need.is_some_and(|need_m| has_m > 0.0 && need_m <= has_m + ON_THE_EDGE_M)
        };
        (end != Some(End::LayOn) && within(needs.lay_on_m, self.lay_on_m))
            || (end != Some(End::RunOff) && within(needs.run_off_m, self.run_off_m))
            || (!matches!(end, Some(End::High | End::Low))
                && needs.swing_rad.is_some_and(|(low, high)| {
                    low >= self.low_rad - ON_THE_EDGE_M && high <= self.high_rad + ON_THE_EDGE_M
                }))
    }

    fn takes(&self, index: usize) -> bool {
        self.needs.get(index).is_some_and(|needs| needs.as_ref().is_some_and(|n| self.takes_without(n, None)))
    }

    /// Draws an end in to what is needed; where nothing is, a slide goes and a swing closes on its other end.
    fn draw_in(&mut self, end: End, needed: Option<f64>) {
        let whole_m = |need: Option<f64>, most_m: f64| {
            need.map_or(0.0, |need_m| (whole_steps(need_m, STEP_M) * STEP_M).min(most_m))
        };
        let (lowest, highest) = self.limits();
        match end {
            End::LayOn => self.lay_on_m = whole_m(needed, self.lay_on_m),
            End::RunOff => self.run_off_m = whole_m(needed, self.run_off_m),
            End::High => {
                let need = needed.unwrap_or(self.low_rad);
                let whole = whole_steps(need, STEP_RAD) * STEP_RAD;
                self.high_rad = if whole > highest - STEP_RAD { highest } else { whole.max(self.low_rad) };
            }
            End::Low => {
                let need = needed.unwrap_or(self.high_rad);
                let whole = -whole_steps(-need, STEP_RAD) * STEP_RAD;
                self.low_rad = if whole < lowest + STEP_RAD { lowest } else { whole.min(self.high_rad) };
            }
        }
    }

    /// A swing's end is only drawn in where nothing is laid on or runs off there.
    fn can_draw_in(&self, end: End) -> bool {
        let falls = self.whole.from_rad >= self.whole.to_rad;
        let (at_high_m, at_low_m) =
            if falls { (self.lay_on_m, self.run_off_m) } else { (self.run_off_m, self.lay_on_m) };
        match end {
            End::LayOn => self.lay_on_m > 0.0,
            End::RunOff => self.run_off_m > 0.0,
            End::High => at_high_m <= 0.0 && self.high_rad > self.low_rad,
            End::Low => at_low_m <= 0.0 && self.high_rad > self.low_rad,
        }
    }

    fn setting(&self) -> Setting {
        let (from_rad, to_rad) = match self.whole.side {
            Side::Near => (self.high_rad, self.low_rad),
            Side::Far => (self.low_rad, self.high_rad),
        };
        let (lay_on_m, run_off_m) = (self.lay_on_m, self.run_off_m);
        Setting { from_rad, to_rad, lay_on_m, run_off_m, ..self.whole }
    }
}

/// The settings of a set, downward, trimmed to what the samples ask for: ends that have the nose out of sight the longest
/// first. `None` marks a setting that nothing needs.
pub(super) fn trimmed(
    job: &LogJob,
    bar: &CuttingBar,
    samples: &[Point],
    set: &[Setting],
    target: &dyn Fn(usize) -> bool,
    trim: Trim,
) -> Vec<Option<Setting>> {
    let mut all: Vec<_> = set.iter().map(|whole| Trimmed::new(job, bar, samples, whole)).collect();
    // Slides before swings: a swing's end can only be drawn in where nothing is laid on or runs off.
    let slides = (trim == Trim::All).then_some([End::LayOn, End::RunOff]);
    for ends in slides.into_iter().chain([[End::High, End::Low]]) {
        for (own, end) in by_hidden_travel(job, bar, &all, ends) {
            if !all.get(own).is_some_and(|one| one.can_draw_in(end)) {
                continue;
            }
            let needed = needed(&all, samples.len(), own, end, target);
            if let Some(one) = all.get_mut(own) {
                one.draw_in(end, needed);
            }
        }
    }
    (0..all.len())
        .map(|own| {
            let one = all.get(own)?;
            let is_needed = (0..samples.len()).filter(|index| target(*index)).any(|index| {
                one.takes(index) && !all.iter().enumerate().any(|(other, o)| other != own && o.takes(index))
            });
            is_needed.then(|| one.setting())
        })
        .collect()
}

/// How many steps are no less than a length or an angle, but for what rounding adds.
fn whole_steps(need: f64, step: f64) -> f64 {
    ((need - ON_THE_EDGE_M) / step).ceil()
}

/// These ends of every setting, those first that have the nose out of sight the longest.
fn by_hidden_travel(job: &LogJob, bar: &CuttingBar, all: &[Trimmed], ends: [End; 2]) -> Vec<(usize, End)> {
    let mut order: Vec<(f64, usize, End)> = all
        .iter()
        .enumerate()
        .flat_map(|(own, one)| {
            let hidden_m = |end: End| {
                let bare = Setting { lay_on_m: 0.0, run_off_m: 0.0, ..one.whole };
                let middle = if one.low_rad < 0.0 && one.high_rad > 0.0 {
                    0.0
                } else {
                    0.5 * (one.low_rad + one.high_rad)
                };
                let (from_rad, to_rad) = (one.whole.from_rad, one.whole.to_rad);
                let part = match end {
                    End::LayOn => Setting { lay_on_m: one.whole.lay_on_m, to_rad: from_rad, ..bare },
                    End::RunOff => Setting { run_off_m: one.whole.run_off_m, from_rad: to_rad, ..bare },
                    End::High => Setting { from_rad: middle, to_rad: one.high_rad, ..bare },
                    End::Low => Setting { from_rad: middle, to_rad: one.low_rad, ..bare },
                };
                hidden_travel_m(job, bar, &part)
            };
            // Where neither hides anything, the end at which the swing begins comes first, from either side.
            let ends = match (ends, one.whole.side) {
                ([End::High, End::Low], Side::Far) => [End::Low, End::High],
                (ends, _) => ends,
            };
            ends.map(|end| (hidden_m(end), own, end))
        })
        .collect();
    order.sort_by(|a, b| micrometres(b.0).total_cmp(&micrometres(a.0)));
    order.into_iter().map(|(_, own, end)| (own, end)).collect()
}

/// How far an end must go for what nothing else takes; `None` where nothing needs it.
fn needed(
    all: &[Trimmed],
    samples: usize,
    own: usize,
    end: End,
    target: &dyn Fn(usize) -> bool,
) -> Option<f64> {
    let one = all.get(own)?;
    (0..samples)
        .filter(|index| target(*index))
        .filter_map(|index| {
            let needs = one.needs.get(index).copied().flatten()?;
            let by_another = all.iter().enumerate().any(|(other, o)| other != own && o.takes(index));
            let asks =
                one.takes_without(&needs, None) && !one.takes_without(&needs, Some(end)) && !by_another;
            if !asks {
                return None;
            }
            match end {
                End::LayOn => needs.lay_on_m,
                End::RunOff => needs.run_off_m,
                End::High => needs.swing_rad.map(|(_, high)| high),
                End::Low => needs.swing_rad.map(|(low, _)| low),
            }
        })
        .reduce(|a, b| if end == End::Low { a.min(b) } else { a.max(b) })
}
