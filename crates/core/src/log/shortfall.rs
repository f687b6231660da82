//! What would cut a log that cannot be cut whole.

use super::bar::CuttingBar;
use super::biggest::{can_cut, shortest_reach};
use super::job::LogJob;
use super::plan::has_whole_plan;
use super::stand::{BarkArc, Stand};
use crate::units::{Angle, Length};
use std::f64::consts::PI;

/// At the edge of what a bar can do: how much longer bars to try, as a share of the reach.
const LONGER_REACHES: [f64; 7] = [1.002, 1.005, 1.01, 1.02, 1.05, 1.1, 1.2];
/// And how much more bark at each end of an arc, degrees.
const LONGER_ARCS_DEG: [f64; 6] = [0.5, 1.0, 2.0, 5.0, 10.0, 20.0];

/// Why a log cannot be cut whole from the bark within reach, as what would change it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shortfall {
    /// Shortest reach that cuts it from the same bark; `None` where no bar in range does.
    pub shortest_reach: Option<Length>,
    /// True where walking round the log does it with this bar.
    pub walk_round: bool,
    /// How much more bark does it with this bar, in all, shared between both ends of each reachable arc; `None` where
    /// no amount does.
    pub more_bark: Option<Angle>,
    /// True where spikes all along the bark would about do it, but not six settings or fewer: an oval or a tight swing
    /// limit at the edge of what the bar can do. Reach and bark are then tried in a few steps, and what is said is the
    /// first step that does.
    pub at_the_edge: bool,
}

pub(super) fn shortfall(job: &LogJob, bar: &CuttingBar) -> Shortfall {
    let walking = LogJob::new(job.section().clone(), Stand::WalkRound).with_swing(job.swing());
    let at_the_edge = can_cut(job, bar);
    Shortfall {
        shortest_reach: if at_the_edge { first_longer_reach(job, bar) } else { shortest_reach(job, bar) },
        walk_round: job.stand() != Stand::WalkRound && does_with_ease_or_plan(&walking, bar),
        more_bark: if at_the_edge { first_longer_bark(job, bar) } else { more_bark(job, bar) },
        at_the_edge,
    }
}

/// True where a plan cuts the whole section; not asked for where the bar has reach to spare and wide swings.
fn does_with_ease_or_plan(job: &LogJob, bar: &CuttingBar) -> bool {
    const TO_SPARE: f64 = 0.98;
    const WIDE: Angle = Angle::from_deg(60.0);
    let wide = job.swing().upward().min(job.swing().downward()) >= WIDE;
    let spare = || bar.with_reach(bar.reach() * TO_SPARE).is_ok_and(|shorter| can_cut(job, &shorter));
    wide && spare() || has_whole_plan(job, bar)
}

fn first_longer_reach(job: &LogJob, bar: &CuttingBar) -> Option<Length> {
    LONGER_REACHES
        .iter()
        .map(|share| bar.reach() * *share)
        .find(|reach| bar.with_reach(*reach).is_ok_and(|bar| has_whole_plan(job, &bar)))
}

fn first_longer_bark(job: &LogJob, bar: &CuttingBar) -> Option<Angle> {
    LONGER_ARCS_DEG
        .iter()
        .map(|degrees| Angle::from_deg(*degrees).as_rad())
        .find(|by_rad| has_whole_plan(&with_longer_bark(job, *by_rad), bar))
        .map(|by_rad| in_all(job, by_rad))
}

/// How much longer the reachable arcs must be; to a tenth of a degree, rounded up.
fn more_bark(job: &LogJob, bar: &CuttingBar) -> Option<Angle> {
    let (mut short, mut enough) = (0.0, PI);
    if !can_cut(&with_longer_bark(job, enough), bar) {
        return None;
    }
    // Halving 180° twelve times leaves less than a tenth of a degree.
    for _ in 0..12 {
        let middle = 0.5 * (short + enough);
        if can_cut(&with_longer_bark(job, middle), bar) {
            enough = middle;
        } else {
            short = middle;
        }
    }
    Some(in_all(job, enough))
}

/// The same job with every arc longer by so much at both ends.
fn with_longer_bark(job: &LogJob, by_rad: f64) -> LogJob {
    let arcs: Vec<BarkArc> = job.bark().iter().map(|arc| arc.longer(by_rad)).collect();
    job.clone().with_bark(arcs)
}

fn in_all(job: &LogJob, at_each_end_rad: f64) -> Angle {
    let ends = 2.0 * f64::from(u32::try_from(job.bark().len()).unwrap_or(u32::MAX));
    Angle::from_rad(ends * at_each_end_rad)
}
