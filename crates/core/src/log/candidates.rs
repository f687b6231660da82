//! Places on the bark that a plan may use, and what each can take, as marks on sample places of the section.

use super::bar::CuttingBar;
use super::edge::unit;
use super::gaps;
use super::job::LogJob;
use super::setting::{Setting, pivot};
use super::stand::Side;
use crate::geometry::{Point, Vector};
use crate::units::Angle;
use std::f64::consts::TAU;

/// Sample places on the bark, and rings of them inside: share of the way out, number.
const RINGS: [(f64, u32); 5] = [(1.0, 180), (0.8, 36), (0.55, 24), (0.3, 12), (0.0, 1)];
/// A sample within this of a cut counts as cut, m.
const ON_THE_EDGE_M: f64 = 1e-9;

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

/// Places all over a section, its bark most of all.
pub(super) fn samples(job: &LogJob) -> Vec<Point> {
    RINGS
        .iter()
        .flat_map(|(share, count)| (0..*count).map(move |i| (*share, TAU * f64::from(i) / f64::from(*count))))
        .map(|(share, angle)| Point::from(share * job.section().bark_at(angle).coords))
        .collect()
}

/// A place on the bark and all a full swing takes there.
#[derive(Clone, Copy, Debug)]
pub(super) struct Candidate {
    pub(super) bark_rad: f64,
    pub(super) side: Side,
    pub(super) marks: Marks,
}

/// What a full swing takes, as a quick test.
pub(super) struct FullSwing {
    pivot: Point,
    low: Vector,
    high: Vector,
    reach_m: f64,
    slide_m: f64,
}

impl FullSwing {
    pub(super) fn new(job: &LogJob, bar: &CuttingBar, bark_rad: f64, side: Side) -> Self {
        let setting = Setting::unchecked_full(job, bark_rad, side);
        let (pivot, straight_in) = pivot(job, &setting);
        let (low, high) = job.swing().from_side(side);
        Self {
            pivot,
            low: unit(straight_in + low),
            high: unit(straight_in + high),
            reach_m: bar.reach().as_m() + ON_THE_EDGE_M,
            slide_m: bar.slide_depth_m() + ON_THE_EDGE_M,
        }
    }

    /// For places of the section only: bark is convex, so nothing of it lies behind the spikes.
    pub(super) fn takes(&self, place: Point) -> bool {
        let v = place - self.pivot;
        v.norm_squared() <= self.reach_m * self.reach_m
            && self.high.perp(&v) <= self.slide_m
            && v.perp(&self.low) <= self.slide_m
    }
}

/// Places every `step` along the reachable bark, the ends of its arcs among them.
fn places(job: &LogJob, step: Angle) -> Vec<(f64, Side)> {
    let mut places = Vec::with_capacity(96);
    for arc in job.bark() {
        let pieces = (arc.span_rad() / step.as_rad()).ceil().max(1.0);
        let mut piece = 0.0;
        while piece <= pieces {
            places.push((arc.from_rad() + arc.span_rad() * piece / pieces, arc.side()));
            piece += 1.0;
        }
    }
    places
}

/// True where each sample is taken by some whole swing about a place every `step` along the reachable bark.
pub(super) fn all_taken(job: &LogJob, bar: &CuttingBar, step: Angle) -> bool {
    let swings: Vec<_> =
        places(job, step).into_iter().map(|(bark, side)| FullSwing::new(job, bar, bark, side)).collect();
    samples(job).into_iter().all(|sample| swings.iter().any(|swing| swing.takes(sample)))
}

/// Candidates every `step` along the reachable bark, the ends of its arcs, and for round logs the places a widest gap
/// away from an end (again and again), where a tight plan must have its settings.
pub(super) fn candidates(job: &LogJob, bar: &CuttingBar, samples: &[Point], step: Angle) -> Vec<Candidate> {
    let mut places = places(job, step);
    let tight = gaps::closed_form_diameter_m(job, bar)
        .and_then(|diameter| gaps::widest_gap_rad(bar.reach().as_m(), diameter));
    if let Some(gap) = tight.filter(|gap| *gap < TAU) {
        let ends: Vec<f64> = job.bark().iter().flat_map(|arc| [arc.from_rad(), arc.to_rad()]).collect();
        for end in ends {
            for turns in [-2.0, -1.0, 1.0, 2.0] {
                let place = end + turns * gap;
                let reachable = job.bark().iter().filter(|arc| arc.holds(place));
                places.extend(reachable.map(|arc| (arc.nearest_rad(place), arc.side())));
            }
        }
    }
    places.into_iter().map(|(bark_rad, side)| candidate(job, bar, samples, bark_rad, side)).collect()
}

fn candidate(job: &LogJob, bar: &CuttingBar, samples: &[Point], bark_rad: f64, side: Side) -> Candidate {
    let swing = FullSwing::new(job, bar, bark_rad, side);
    let mut marks = Marks::default();
    for (index, place) in samples.iter().enumerate() {
        if swing.takes(*place) {
            marks.set(index);
        }
    }
    Candidate { bark_rad, side, marks }
}

/// Everything the candidates can take together.
pub(super) fn union(candidates: &[Candidate]) -> Marks {
    candidates.iter().fold(Marks::default(), |all, candidate| all.or(&candidate.marks))
}

/// Every sample.
pub(super) fn all(samples: &[Point]) -> Marks {
    let mut marks = Marks::default();
    (0..samples.len()).for_each(|index| marks.set(index));
    marks
}

#[cfg(test)]
mod tests {
    use super::super::region::Region;
    use super::super::setting::CutShape;
    use super::super::{LogSection, Stand, SwingLimits};
    use super::*;
    use crate::units::Length;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn law_the_quick_test_is_the_shape(
            width in 300.0_f64..1400.0, ratio in 0.7_f64..1.4, limit in 45.0_f64..90.0, bark in 0.0_f64..TAU
        ) {
            let mm = Length::from_mm;
            let bar = CuttingBar::new(mm(452.0), mm(45.0), mm(36.0)).unwrap();
            let section = LogSection::oval(mm(width), mm(width * ratio), mm(400.0)).unwrap();
            let limits = SwingLimits::new(Angle::from_deg(limit), Angle::from_deg(limit)).unwrap();
            let job = LogJob::new(section, Stand::WalkRound).with_swing(limits);
            let quick = FullSwing::new(&job, &bar, bark, Side::Near);
            let shape = CutShape::new(&job, &bar, &Setting::unchecked_full(&job, bark, Side::Near));
            for place in samples(&job) {
                let outside = shape.outside_m(place);
                if outside.abs() > 1e-8 {
                    prop_assert_eq!(quick.takes(place), outside < 0.0, "{} {}", place, outside);
                }
            }
        }
    }
}
