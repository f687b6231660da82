//! Bar angles and bark places that a person can hold, as lists of intervals.

use super::standing::Standing;
use std::f64::consts::PI;

/// Places looked at a turn: one a degree.
const STEP_RAD: f64 = PI / 180.0;
/// Steps from straight in to square to it.
const QUARTER: i32 = 90;
/// An end of an interval is known so well, rad.
pub const END_WITHIN_RAD: f64 = 1e-4;

/// A stretch of angles, rad; the first is never above the second.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Where it begins.
    pub from_rad: f64,
    /// Where it ends.
    pub to_rad: f64,
}

impl Interval {
    /// How long it is, rad.
    pub fn span_rad(&self) -> f64 {
        self.to_rad - self.from_rad
    }

    /// True where it holds an angle.
    pub fn holds(&self, rad: f64) -> bool {
        (self.from_rad..=self.to_rad).contains(&rad)
    }
}

impl Standing {
    /// Bar angles that can be held with the spikes at a place on the bark: from straight into the wood (square to the
    /// bark), counter-clockwise positive, as the swing angles of a setting, within −90…90°. From the near side a rising
    /// nose is positive, from the far side negative.
    ///
    /// Every degree is looked at, and each end is then found to 1e-4 rad, always from inside: what is narrower than a
    /// degree may be missed.
    pub fn intervals(&self, bark_rad: f64) -> Vec<Interval> {
        self.intervals_looking_every(1, bark_rad)
    }

    /// The same, looking every so many degrees only: what is narrower may be missed.
    pub(crate) fn intervals_looking_every(&self, degrees: usize, bark_rad: f64) -> Vec<Interval> {
        let spikes = self.section().bark_at(bark_rad);
        let straight_in = self.section().straight_in_rad(bark_rad);
        let mut last = 0;
        scanned(-QUARTER, QUARTER, degrees, |angle| self.can_from(spikes, straight_in + angle, &mut last))
    }
}

/// Where a test holds between two whole numbers of degrees, looked at every so many, its ends found by halving.
fn scanned(from_deg: i32, to_deg: i32, every: usize, mut holds: impl FnMut(f64) -> bool) -> Vec<Interval> {
    let mut intervals: Vec<Interval> = Vec::new();
    let mut before: Option<(f64, bool)> = None;
    for degree in (from_deg..=to_deg).step_by(every.max(1)) {
        let at = f64::from(degree) * STEP_RAD;
        let now = holds(at);
        match (before, now) {
            (None, true) => intervals.push(Interval { from_rad: at, to_rad: at }),
            (Some((earlier, false)), true) => {
                let from_rad = edge(at, earlier, &mut holds);
                intervals.push(Interval { from_rad, to_rad: at });
            }
            (Some((earlier, true)), false) => {
                let to_rad = edge(earlier, at, &mut holds);
                if let Some(interval) = intervals.last_mut() {
                    interval.to_rad = to_rad;
                }
            }
            (Some((_, true)), true) => {
                if let Some(interval) = intervals.last_mut() {
                    interval.to_rad = at;
                }
            }
            (None | Some((_, false)), false) => {}
        }
        before = Some((at, now));
    }
    intervals
}

/// The last angle from `inside` towards `outside` at which a test still holds.
fn edge(inside: f64, outside: f64, holds: &mut impl FnMut(f64) -> bool) -> f64 {
    let (mut inside, mut outside) = (inside, outside);
    while (outside - inside).abs() > END_WITHIN_RAD {
        let middle = 0.5 * (inside + outside);
        if holds(middle) { inside = middle } else { outside = middle }
    }
    inside
}
