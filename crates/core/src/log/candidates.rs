//! Settings that a plan may use, each as long as it can be held, and what each can take, as marks on sample places of the
//! section.

use super::bar::CuttingBar;
use super::job::LogJob;
use super::setting::{Moment, Place, Setting, pivot, place_at};
use super::slide::Slide;
use super::workplace::{Workplace, intervals};
use crate::geometry::{Point, Vector};
use crate::section::{Side, unit};
use crate::units::Angle;
use std::f64::consts::{FRAC_PI_2, TAU};

/// Sample places on the bark, and rings of them inside: share of the way out, number.
const RINGS: [(f64, u32); 5] = [(1.0, 120), (0.8, 36), (0.55, 24), (0.3, 12), (0.0, 1)];
/// A sample within this of a cut counts as cut, m: rounding must not decide.
pub(super) const ON_THE_EDGE_M: f64 = 1e-9;

/// Slides are looked at every so far, m.
const WAY_STEP_M: f64 = 0.03;
/// A slide starts where the sliver beyond is no thicker than this share of the nose's radius: the bar's width takes it.
const SLIVER: f64 = 0.5;

const WORDS: usize = 8;

/// A set of sample places, by index; there is room for as many again as [`RINGS`] has.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Marks([u64; WORDS]);

impl Marks {
    /// Indices stay below this.
    pub(super) const ROOM: usize = 64 * WORDS;

    pub(super) fn set(&mut self, index: usize) {
        if let Some(word) = self.0.get_mut(index / 64) {
            *word |= 1 << (index % 64);
        }
    }

    pub(super) fn has(&self, index: usize) -> bool {
        self.0.get(index / 64).is_some_and(|word| word >> (index % 64) & 1 == 1)
    }

    fn zipped(&self, other: &Self, f: impl Fn(u64, u64) -> u64) -> Self {
        let mut out = *self;
        out.0.iter_mut().zip(other.0).for_each(|(a, b)| *a = f(*a, b));
        out
    }

    pub(super) fn or(&self, other: &Self) -> Self {
        self.zipped(other, |a, b| a | b)
    }

    pub(super) fn without(&self, other: &Self) -> Self {
        self.zipped(other, |a, b| a & !b)
    }

    pub(super) fn is_empty(&self) -> bool {
        self.0.iter().all(|word| *word == 0)
    }

    /// The marked samples, rising.
    pub(super) fn indices(self) -> impl Iterator<Item = usize> {
        self.0.into_iter().enumerate().flat_map(|(word, bits)| {
            (0..64).filter(move |bit| bits >> bit & 1 == 1).map(move |bit| word * 64 + bit)
        })
    }

    pub(super) fn count(&self) -> u32 {
        self.0.iter().map(|word| word.count_ones()).sum()
    }
}

/// Places all over a section, its bark most of all; in the order in which an operator who only stands on the far side
/// sees them in a mirror.
pub(super) fn samples(job: &LogJob) -> Vec<Point> {
    let is_mirrored = job.bark().iter().all(|arc| arc.side() == Side::Far);
    RINGS
        .iter()
        .flat_map(|(share, count)| (0..*count).map(move |i| (*share, TAU * f64::from(i) / f64::from(*count))))
        .map(|(share, angle)| {
            let place = share * job.section().bark_at(angle).coords;
            Point::new(if is_mirrored { -place.x } else { place.x }, place.y)
        })
        .collect()
}

/// A setting as long as it can be held, and all it takes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Candidate {
    pub(super) setting: Setting,
    pub(super) marks: Marks,
    /// What must have been cut before it can begin at its upper end, and at its lower one: samples within reach behind the
    /// bar's first place. Else the nose would have to go in first.
    pub(super) behind: (Marks, Marks),
}

/// What a setting takes, as a quick test for places of the section, never more than is true: at the ends of slides and
/// swings a bar as narrow as its nose.
pub(super) struct Quick {
    pivot: Point,
    reach_m: f64,
    nose_centre_m: f64,
    aside_m: f64,
    low: Vector,
    high: Vector,
    lay_on: Sideways,
    run_off: Sideways,
}

/// A slide, for the quick test.
struct Sideways {
    along: Vector,
    away: Vector,
    way_m: f64,
    /// How far behind the pivot's place the spikes are where the bark bulges most, and from which way on they are there.
    bulge: (f64, f64),
}

impl Sideways {
    fn new(
        job: &LogJob,
        setting: &Setting,
        direction_rad: f64,
        away_sense: f64,
        way_m: f64,
        pivot: Point,
    ) -> Self {
        let along = unit(direction_rad);
        let away = unit(direction_rad + away_sense * FRAC_PI_2);
        let slide = if away_sense * setting.sense() > 0.0 {
            setting.run_off_slide(job)
        } else {
            setting.lay_on_slide(job)
        };
        let back_m = (pivot - slide.spikes_at(job.section(), f64::MAX.min(10.0))).dot(&along);
        Self { along, away, way_m, bulge: (back_m.max(0.0), slide.bulge_m()) }
    }

    /// How far the bar must be from the pivot's place, this way, to take a place; `None` where its nose does not come so
    /// far. `bar` is its reach, the middle of its nose and the nose's radius, m.
    fn way_to(&self, job: &LogJob, pivot: Point, place: Point, bar: (f64, f64, f64)) -> Option<f64> {
        let v = place - pivot;
        let way_m = v.dot(&self.away);
        if way_m < -ON_THE_EDGE_M {
            return None;
        }
        let along_m = v.dot(&self.along);
        let (back_m, bulge_way_m) = self.bulge;
        let spikes_m = |way_m: f64| {
            if back_m <= 0.0 || way_m <= 0.0 {
                0.0
            } else if way_m >= bulge_way_m {
                -back_m
            } else {
                job.section().entry_m(pivot + way_m * self.away, self.along).unwrap_or(0.0).min(0.0)
            }
        };
        let ahead_m = along_m - spikes_m(way_m);
        // The bar's width takes what lies beside it where it starts or stops, round at the nose.
        let (reach_m, nose_centre_m, nose_m) = bar;
        let past_m = (ahead_m - nose_centre_m).max(0.0);
        let aside_m = (nose_m * nose_m - past_m * past_m).max(0.0).sqrt();
        // Stopping short of the place, the spikes may still be ahead of it: then its own way is needed.
        let beside_m = (way_m - aside_m).max(0.0);
        let is_beside = along_m >= -ON_THE_EDGE_M || along_m >= spikes_m(beside_m);
        (ahead_m <= reach_m).then_some(if is_beside { beside_m } else { way_m.max(0.0) })
    }
}

/// How far each end of a setting must go to take a place: the ways of its slides, m, and the ends of its swing, rad.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Needs {
    pub(super) lay_on_m: Option<f64>,
    pub(super) run_off_m: Option<f64>,
    /// The highest low end and the lowest high end that still take it.
    pub(super) swing_rad: Option<(f64, f64)>,
}

impl Quick {
    pub(super) fn new(job: &LogJob, bar: &CuttingBar, setting: &Setting) -> Self {
        let (pivot, straight_in) = pivot(job, setting);
        let (low, high) = (setting.from_rad.min(setting.to_rad), setting.from_rad.max(setting.to_rad));
        let sense = setting.sense();
        let sideways = |rad: f64, sense: f64, way_m: f64| {
            Sideways::new(job, setting, straight_in + rad, sense, way_m, pivot)
        };
        Self {
            pivot,
            reach_m: bar.reach().as_m() + ON_THE_EDGE_M,
            nose_centre_m: bar.nose_centre_m(),
            aside_m: bar.nose_radius().as_m(),
            low: unit(straight_in + low),
            high: unit(straight_in + high),
            lay_on: sideways(setting.from_rad, -sense, setting.lay_on_m),
            run_off: sideways(setting.to_rad, sense, setting.run_off_m),
        }
    }

    const fn bar(&self) -> (f64, f64, f64) {
        (self.reach_m, self.nose_centre_m, self.aside_m)
    }

    /// For places of the section only: bark is convex, so nothing of it lies behind the spikes.
    pub(super) fn takes(&self, job: &LogJob, place: Point) -> bool {
        let v = place - self.pivot;
        if v.norm_squared() <= self.reach_m * self.reach_m {
            let (past_high, past_low) = (self.high.perp(&v), v.perp(&self.low));
            if past_high <= 0.0 && past_low <= 0.0 {
                return true;
            }
            let beside = |past_m: f64, along_m: f64| {
                past_m.abs() <= self.aside_m && (-ON_THE_EDGE_M..=self.nose_centre_m).contains(&along_m)
            };
            if beside(past_high, self.high.dot(&v)) || beside(past_low, self.low.dot(&v)) {
                return true;
            }
        }
        [&self.lay_on, &self.run_off].into_iter().any(|slide| {
            slide.way_m > 0.0
                && v.dot(&slide.away) <= slide.way_m + self.aside_m
                && slide.way_to(job, self.pivot, place, self.bar()).is_some_and(|way_m| way_m <= slide.way_m)
        })
    }

    /// How far the ends must go for a place.
    pub(super) fn needs(&self, job: &LogJob, bar: &CuttingBar, setting: &Setting, place: Point) -> Needs {
        let v = place - self.pivot;
        let swing_rad = (v.norm_squared() <= self.reach_m * self.reach_m).then(|| {
            let half = bar.half_angle_rad(v.norm()).unwrap_or(0.0);
            let straight_in = job.section().straight_in_rad(setting.bark_rad);
            let angle = turn_from(v.y.atan2(v.x) - straight_in);
            (angle + half, angle - half)
        });
        let way = |slide: &Sideways| {
            let way_m = slide.way_to(job, self.pivot, place, self.bar())?;
            (way_m <= slide.way_m).then_some(way_m)
        };
        Needs { lay_on_m: way(&self.lay_on), run_off_m: way(&self.run_off), swing_rad }
    }
}

/// An angle as −π…π.
fn turn_from(angle_rad: f64) -> f64 {
    (angle_rad + std::f64::consts::PI).rem_euclid(TAU) - std::f64::consts::PI
}

/// Places every `step` along the reachable bark, the ends of its arcs among them; from either side over the top and down.
fn places(job: &LogJob, step: Angle) -> Vec<(f64, Side)> {
    let mut places = Vec::with_capacity(96);
    for arc in job.bark() {
        // A whole number of steps stays one, whatever the rounding.
        let pieces = (arc.span_rad() / step.as_rad() - 1e-6).ceil().max(1.0);
        let mut piece = 0.0;
        while piece <= pieces {
            let along_rad = arc.span_rad() * piece / pieces;
            let bark_rad = match arc.side() {
                Side::Near => arc.from_rad() + along_rad,
                Side::Far => arc.to_rad() - along_rad,
            };
            places.push((bark_rad, arc.side()));
            piece += 1.0;
        }
    }
    places
}

/// Whether the bar may be so, whoever holds it.
pub(super) type May<'a> = &'a dyn Fn(Side, Place) -> bool;

/// Candidates every `step` along the reachable bark, each as long as it can be held: pivots from end to end of what can
/// be held there, pivots that start or end straight in, and sinks straight in; before and after them as much laid on and
/// run off as there is wood and as can be held.
pub(super) fn candidates(
    job: &LogJob,
    bar: &CuttingBar,
    workplace: &Workplace,
    samples: &[Point],
    step: Angle,
    may: May<'_>,
) -> Vec<Candidate> {
    let mut found = Vec::with_capacity(128);
    for (bark_rad, side) in places(job, step) {
        let spikes = job.section().bark_at(bark_rad);
        let straight_in = job.section().straight_in_rad(bark_rad);
        let here = |swing_rad: f64| may(side, Place { spikes, direction_rad: straight_in + swing_rad });
        let limits = job.swing().from_side(side);
        let held = workplace.intervals(job, side, bark_rad);
        let within = held.iter().map(|(low, high)| (low.max(limits.0), high.min(limits.1)));
        for (low, high) in within.filter(|(low, high)| low <= high).flat_map(|held| intervals(held, &here)) {
            let (first, last) = if side == Side::Near { (high, low) } else { (low, high) };
            let mut swings = vec![(first, last)];
            if low < 0.0 && high > 0.0 {
                swings.extend([(first, 0.0), (0.0, last), (0.0, 0.0)]);
            }
            let bare = |from_rad, to_rad| Setting {
                bark_rad,
                side,
                from_rad,
                to_rad,
                lay_on_m: 0.0,
                run_off_m: 0.0,
                rises: false,
            };
            // Each slide once, though several settings begin or end with it.
            let slides = |swing_rad: f64| slides(job, bar, workplace, bare(swing_rad, swing_rad), may);
            let straight = if swings.len() > 1 { slides(0.0) } else { (0.0, 0.0) };
            let ends = (slides(first).0, slides(last).1);
            for (from_rad, to_rad) in swings {
                let lay_on_m = if from_rad == 0.0 { straight.0 } else { ends.0 };
                let run_off_m = if to_rad == 0.0 { straight.1 } else { ends.1 };
                let setting = Setting { lay_on_m, run_off_m, ..bare(from_rad, to_rad) };
                let quick = Quick::new(job, bar, &setting);
                let mut marks = Marks::default();
                for (index, place) in samples.iter().enumerate() {
                    if quick.takes(job, *place) {
                        marks.set(index);
                    }
                }
                if !marks.is_empty() {
                    let behind =
                        (behind(job, bar, samples, &setting), behind(job, bar, samples, &setting.reversed()));
                    found.push(Candidate { setting, marks, behind });
                }
            }
        }
    }
    found
}

/// Samples within reach behind the first place of a setting's bar.
fn behind(job: &LogJob, bar: &CuttingBar, samples: &[Point], setting: &Setting) -> Marks {
    let at = place_at(job, setting, Moment::LayOn(setting.lay_on_m));
    let along = unit(at.direction_rad);
    let back = unit(at.direction_rad - setting.sense() * FRAC_PI_2);
    let within_m = bar.nose_centre_m();
    let mut marks = Marks::default();
    for (index, place) in samples.iter().enumerate() {
        let v = place - at.spikes;
        let aside_m = v.dot(&back);
        let is_behind = aside_m > 0.0 && v.norm_squared() <= within_m * within_m;
        if is_behind && bar.outside_m(v.dot(&along), aside_m) > 0.0 {
            marks.set(index);
        }
    }
    marks
}

/// How far before and after a place the bar can be held at one direction on its way down, as far as there is wood: laid
/// on and running off, m.
fn slides(job: &LogJob, bar: &CuttingBar, workplace: &Workplace, held: Setting, may: May<'_>) -> (f64, f64) {
    let (spikes, straight_in) = pivot(job, &held);
    let direction_rad = straight_in + held.from_rad;
    let way = |away_sense: f64, slide: Slide| {
        let away_rad = direction_rad + away_sense * FRAC_PI_2;
        let outermost = job.section().bark_at(job.section().bark_facing(away_rad));
        let wood_m = (outermost - spikes).dot(&unit(away_rad)) - SLIVER * bar.nose_radius().as_m();
        let mut way_m = 0.0;
        while way_m < wood_m {
            let next_m = (way_m + WAY_STEP_M).min(wood_m);
            let at = Place { spikes: slide.spikes_at(job.section(), next_m), direction_rad };
            if !(may(held.side, at) && workplace.holds(held.side, at)) {
                break;
            }
            way_m = next_m;
        }
        way_m
    };
    let sense = held.sense();
    (way(-sense, held.lay_on_slide(job)), way(sense, held.run_off_slide(job)))
}

/// Everything the candidates can take together.
pub(super) fn union(candidates: &[Candidate]) -> Marks {
    candidates.iter().fold(Marks::default(), |all, candidate| all.or(&candidate.marks))
}

#[cfg(test)]
mod tests {
    use super::super::setting::Taken;
    use super::super::{LogSection, Stand};
    use super::*;
    use crate::units::Length;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn law_the_quick_test_never_takes_more_than_the_shape(
            width in 300.0_f64..1400.0, ratio in 0.7_f64..1.4, bark in 0.0_f64..TAU, from in -1.3_f64..1.3,
            to in -1.3_f64..1.3, lay_on in 0.0_f64..0.7, run_off in 0.0_f64..0.7
        ) {
            let mm = Length::from_mm;
            let bar = CuttingBar::new(mm(452.0), mm(45.0), mm(36.0)).unwrap();
            let section = LogSection::oval(mm(width), mm(width * ratio), mm(400.0)).unwrap();
            let job = LogJob::new(section, Stand::BothSides);
            let setting = Setting {
                bark_rad: bark, side: Side::Near, from_rad: from, to_rad: to, lay_on_m: lay_on, run_off_m: run_off,
                rises: to > from,
            };
            let quick = Quick::new(&job, &bar, &setting);
            let taken = Taken::new(&job, &bar, &setting);
            for place in samples(&job) {
                let outside = taken.outside_m(place);
                prop_assert!(!quick.takes(&job, place) || outside < 1e-8, "{} {}", place, outside);
                prop_assert!(quick.takes(&job, place) || outside > -0.046, "{} {}", place, outside);
            }
        }
    }
}
