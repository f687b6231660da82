//! What a cut takes out of the person: shares of strength while the hands carry, the time they use, and rest.

use crate::log::{CuttingBar, LogJob, Setting, Workplace};
use crate::person::hold::{HoldCost, HoldingTime, Place, holding_time, rest_after_s};

/// A share of strength just below all of it: beyond it there is no holding time.
const ALL_BUT: f64 = 1.0 - 1e-9;

/// What holding the saw takes of a person, over one cut or the mean of many.
///
/// Only the weight is held, by upright forces; that the chain pushes back where it cuts from below is not in it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Effort {
    /// Share of the holding time that each joint of the arms uses, in the order of [`Place::ARMS`]: at 1 an average person
    /// has to let go.
    pub used: [f64; Place::ARMS.len()],
    /// Rest, s, that the holds ask for by Rohmert 1973 (from memory), where its range of shares holds: none below a fifth
    /// of the strength.
    pub rest_s: f64,
    /// The largest share of strength of any hold in a joint of the arms.
    pub worst_share: f64,
    /// The largest share of the back's strength in any hold.
    pub worst_back: f64,
}

impl Effort {
    /// The joint that uses most of its time, and how much.
    pub fn most_used(&self) -> (Place, f64) {
        let most = Place::ARMS.into_iter().zip(self.used).max_by(|a, b| a.1.total_cmp(&b.1));
        most.unwrap_or((Place::FrontShoulder, 0.0))
    }

    /// How much that is.
    pub(super) fn most(&self) -> f64 {
        self.used.iter().fold(0.0, |most, used| most.max(*used))
    }

    /// Both, one after the other; the second so many times.
    pub(super) fn add(&mut self, other: &Self, times: f64) {
        for (used, more) in self.used.iter_mut().zip(other.used) {
            *used += times * more;
        }
        self.rest_s += times * other.rest_s;
        if times > 0.0 {
            self.worst_share = self.worst_share.max(other.worst_share);
            self.worst_back = self.worst_back.max(other.worst_back);
        }
    }

    /// Sums brought to the mean.
    pub(super) fn over(mut self, count: f64) -> Self {
        self.used.iter_mut().for_each(|used| *used /= count);
        self.rest_s /= count;
        self
    }

    /// One hold for so long.
    fn hold(&mut self, cost: &HoldCost, seconds: f64) {
        let mut largest = 0.0_f64;
        for (used, place) in self.used.iter_mut().zip(Place::ARMS) {
            let Some(holding) = cost.joint(place).and_then(|joint| joint.holding) else { continue };
            let share = holding.share;
            largest = largest.max(share);
            *used += match holding.time {
                HoldingTime::Lasts(endures) => seconds / endures.seconds,
                HoldingTime::NotTheEnd => 0.0,
                // More than the strength is held no longer than all of it, by so much less (our guess).
                HoldingTime::BeyondStrength => {
                    holding_time(place.muscles(), ALL_BUT).map_or(0.0, |all| seconds * share / all.seconds())
                }
            };
        }
        self.rest_s += rest_after_s(largest, seconds).unwrap_or(0.0);
        self.worst_share = self.worst_share.max(largest);
        self.worst_back = self.worst_back.max(cost.back.share.unwrap_or(0.0));
    }
}

/// Where and for how long the hands carry in a setting.
#[derive(Clone, Copy, Debug)]
pub(super) struct Carried {
    /// Share of the setting's run.
    pub(super) share: f64,
    /// How long, s.
    pub(super) seconds: f64,
}

/// What holding the saw so costs a person who stands to these settings; `None` where a hold has no cost that is known.
pub(super) fn effort(
    job: &LogJob,
    bar: &CuttingBar,
    workplace: &Workplace,
    holds: &[(Setting, Carried)],
) -> Option<Effort> {
    let holder = job.person().holder().ok()?;
    let mut effort = Effort::default();
    for (setting, carried) in holds.iter().filter(|(_, carried)| carried.seconds > 0.0) {
        let cost = workplace.hold_cost(job, bar, setting, carried.share, &holder)?;
        effort.hold(&cost, carried.seconds);
    }
    Some(effort)
}
