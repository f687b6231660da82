//! Where this saw, in these hands, can be held about a log: every plan asks here.

use super::bar::CuttingBar;
use super::edge::unit;
use super::job::LogJob;
use super::region::Region;
use super::setting::{Moment, Place, Setting, place_at};
use super::stand::Side;
use crate::units::Angle;

/// How deep the nose may go into the ground, m: what the chain takes of it when it comes through the last wood of a log
/// that lies on it (our guess).
const INTO_GROUND_M: f64 = 0.02;
/// A pivot is looked at every so far, rad; a slide every so far, m.
const LOOK_RAD: f64 = std::f64::consts::PI / 180.0;
const LOOK_M: f64 = 0.01;

/// Who holds the saw.
pub struct Workplace {
    hold: Hold,
}

/// What decides whether a place can be held.
enum Hold {
    /// Nobody in particular: any place will do. What the bar could reach if only reach counted.
    Free,
}

impl Workplace {
    /// No person and no powerhead: only bark and swing limits count, and the nose.
    pub const fn free() -> Self {
        Self { hold: Hold::Free }
    }

    /// True where the person can hold the saw so.
    pub(super) fn holds(&self, _side: Side, _at: Place) -> bool {
        match self.hold {
            Hold::Free => true,
        }
    }

    /// True where the saw can be held so and the nose of this bar does nothing it must not.
    pub(super) fn can(&self, job: &LogJob, bar: &CuttingBar, side: Side, at: Place) -> bool {
        nose_may(job, bar, side, at) && self.holds(side, at)
    }

    /// True where every place of a setting can be held: looked at every degree and every 10 mm.
    pub fn can_do(&self, job: &LogJob, bar: &CuttingBar, setting: &Setting) -> bool {
        moments(setting).all(|moment| self.can(job, bar, setting.side, place_at(job, setting, moment)))
    }
}

/// Every degree of a swing and every 10 mm of what is laid on or runs off, all ends among them.
pub(super) fn moments(setting: &Setting) -> impl Iterator<Item = Moment> + use<> {
    let steps = |length: f64, step: f64| {
        let count = (length / step).ceil().max(0.0);
        std::iter::successors(Some(0.0), |at| Some(at + 1.0))
            .take_while(move |at| *at <= count)
            .map(move |at| if count > 0.0 { at / count } else { 0.0 })
    };
    let Setting { from_rad, to_rad, lay_on_m, run_off_m, .. } = *setting;
    let on = steps(lay_on_m, LOOK_M).map(move |share| Moment::LayOn((1.0 - share) * lay_on_m));
    let swing =
        steps((to_rad - from_rad).abs(), LOOK_RAD).map(move |share| Moment::Swing(from_rad + share * (to_rad - from_rad)));
    let off = steps(run_off_m, LOOK_M).map(move |share| Moment::RunOff(share * run_off_m));
    on.chain(swing).chain(off)
}

/// True where the nose neither comes out of the log on the operator's own side above the ground nor digs into the ground.
pub(super) fn nose_may(job: &LogJob, bar: &CuttingBar, side: Side, at: Place) -> bool {
    let along = unit(at.direction_rad);
    let tip = at.spikes + bar.reach().as_m() * along;
    let ground_m = job.section().ground_y_m();
    let nose = at.spikes + bar.nose_centre_m() * along;
    if nose.y - bar.nose_radius().as_m() < ground_m - INTO_GROUND_M {
        return false;
    }
    let outward = if side == Side::Near { -1.0 } else { 1.0 };
    !(outward * tip.x > 0.0 && tip.y > ground_m && job.section().outside_m(tip) > 0.0)
}

/// Whole degrees from straight in for which a place on the bark passes a test, as intervals; ends are sharpened to
/// [`EDGE_RAD`].
pub(super) fn intervals(limits: (f64, f64), can: &dyn Fn(f64) -> bool) -> Vec<(f64, f64)> {
    const EDGE_RAD: f64 = 1e-3;
    let edge = |mut good: f64, mut bad: f64| {
        while (good - bad).abs() > EDGE_RAD {
            let middle = 0.5 * (good + bad);
            if can(middle) { good = middle } else { bad = middle }
        }
        good
    };
    let mut found: Vec<(f64, f64)> = Vec::new();
    let mut before: Option<f64> = None;
    let mut open: Option<f64> = None;
    let (low, high) = limits;
    let steps = ((high - low) / LOOK_RAD).ceil().max(1.0);
    let mut step = 0.0;
    while step <= steps {
        let at = low + (high - low) * step / steps;
        match (can(at), open) {
            (true, None) => open = Some(before.map_or(at, |bad| edge(at, bad))),
            (false, Some(from)) => {
                found.push((from, before.map_or(from, |good| edge(good, at))));
                open = None;
            }
            _ => {}
        }
        before = Some(at);
        step += 1.0;
    }
    if let Some(from) = open {
        found.push((from, high));
    }
    found
}

/// A whole angle in words of a clock face is taken from here: 12 is the top, 9 the near side.
pub fn clock_hour(bark: Angle) -> u32 {
    let hours = (90.0 - bark.as_deg()).rem_euclid(360.0) / 30.0;
    let whole = (1..=12).min_by(|a, b| {
        let off = |hour: i32| {
            let turn = (f64::from(hour) - hours).rem_euclid(12.0);
            turn.min(12.0 - turn)
        };
        off(*a).total_cmp(&off(*b))
    });
    whole.and_then(|hour| u32::try_from(hour).ok()).unwrap_or(12)
}
