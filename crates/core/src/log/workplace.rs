//! Where this saw, in these hands, can be held about a log: every plan asks here.

use super::bar::CuttingBar;
use super::danger::looks;
use super::job::LogJob;
use super::pose::moment;
use super::setting::{Moment, Place, Setting, place_at};
use super::stand::BarkArc;
use crate::geometry::Point;
use crate::person::hold::{self, HoldCost};
use crate::person::{Person, SawBody, Stance, Standing, WhyNot};
use crate::saw::Hands;
use crate::section::{LogSection, Region, Side, unit};
use crate::units::{Angle, Force, STANDARD_GRAVITY_M_S2};
use std::sync::OnceLock;

/// How deep the nose may go into the ground, m: what the chain takes of it when it comes through the last wood of a log
/// that lies on it (our guess).
pub(super) const INTO_GROUND_M: f64 = 0.02;
/// A hand lifts with no more than so many times the weight: see [`Workplace::hold_cost`] (our guess).
pub(super) const MOST_LIFT: f64 = 2.0;
/// A pivot is looked at every so far, rad; a slide every so far, m.
const LOOK_RAD: f64 = std::f64::consts::PI / 180.0;
const LOOK_M: f64 = 0.01;

/// Places on the bark whose bar angles are kept, once found: every so many degrees.
const SLOT_DEG: f64 = 5.0;
const SLOTS: u32 = 72;
/// Bar angles are looked at every so many degrees.
const LOOKED_DEG: usize = 2;
/// Within this share of a slot a place is that one.
const SAME_SLOT: f64 = 1e-6;

/// Where one saw can be held about one log by the person who cuts it; shared by all bars on that powerhead.
#[derive(Debug)]
pub struct Workplace {
    hold: Hold,
    known: [Known; 2],
}

/// What has been found of one side, every 5° along the bark: bar angles that can be held.
#[derive(Debug)]
struct Known {
    side: Side,
    places: Vec<OnceLock<Vec<(f64, f64)>>>,
}

impl Known {
    fn nothing(side: Side) -> Self {
        Self { side, places: (0..SLOTS).map(|_| OnceLock::new()).collect() }
    }
}

/// What decides whether a place can be held.
#[derive(Debug)]
enum Hold {
    /// Nobody in particular: any place will do.
    Free,
    /// A person with a powerhead before a log, on either side once it is asked for.
    By(Box<Holder>),
}

/// Who holds what before which log.
#[derive(Debug)]
struct Holder {
    section: LogSection,
    saw: SawBody,
    person: Person,
    near: OnceLock<Standing>,
    far: OnceLock<Standing>,
}

impl Holder {
    fn on(&self, side: Side) -> &Standing {
        let standing = || Standing::new(&self.section, side, &self.saw, &self.person);
        match side {
            Side::Near => self.near.get_or_init(standing),
            Side::Far => self.far.get_or_init(standing),
        }
    }
}

impl Workplace {
    /// The job's person with a powerhead before the job's log.
    pub fn new(job: &LogJob, saw: &SawBody) -> Self {
        let holder = Holder {
            section: job.section().clone(),
            saw: saw.clone(),
            person: *job.person(),
            near: OnceLock::new(),
            far: OnceLock::new(),
        };
        Self { hold: Hold::By(Box::new(holder)), known: nothing_known() }
    }

    /// No person and no powerhead: only bark and swing limits count, and the nose.
    pub fn free() -> Self {
        Self { hold: Hold::Free, known: nothing_known() }
    }

    /// The person on a side of the log; `None` where nobody in particular holds the saw.
    pub fn standing(&self, side: Side) -> Option<&Standing> {
        match &self.hold {
            Hold::Free => None,
            Hold::By(holder) => Some(holder.on(side)),
        }
    }

    /// True where the person can hold the saw so.
    pub(super) fn holds(&self, side: Side, at: Place) -> bool {
        self.standing(side).is_none_or(|standing| standing.can(at.spikes, at.direction_rad))
    }

    /// True where the saw can be held so and the nose of this bar does nothing it must not.
    pub(super) fn can(&self, job: &LogJob, bar: &CuttingBar, side: Side, at: Place) -> bool {
        nose_may(job, bar, side, at) && self.holds(side, at)
    }

    /// Bar angles, from straight in at a place on the bark, that can be held; found once for each place.
    pub(super) fn intervals(&self, job: &LogJob, side: Side, bark_rad: f64) -> Vec<(f64, f64)> {
        let Some(standing) = self.standing(side) else {
            return vec![job.swing().from_side(side)];
        };
        let find = || {
            standing
                .intervals_looking_every(LOOKED_DEG, bark_rad)
                .iter()
                .map(|held| (held.from_rad, held.to_rad))
                .collect()
        };
        let slots = bark_rad.to_degrees().rem_euclid(360.0) / SLOT_DEG;
        let known = self.known.iter().find(|known| known.side == side);
        let whole = (slots - slots.round()).abs() < SAME_SLOT;
        let known = known.filter(|_| whole).and_then(|known| {
            known.places.iter().zip(0_u32..).find(|(_, slot)| (f64::from(*slot) - slots).abs() < SAME_SLOT)
        });
        known.map_or_else(find, |(known, _)| known.get_or_init(find).clone())
    }

    /// The bark on which the spikes can be set somehow, as arcs; looked at every 5°.
    pub fn held_bark(&self, job: &LogJob) -> Vec<BarkArc> {
        let step = Angle::from_deg(SLOT_DEG).as_rad();
        let mut arcs = Vec::new();
        for arc in job.bark() {
            let mut open: Option<(f64, f64)> = None;
            let steps = (arc.span_rad() / step).round().max(1.0);
            let mut at = 0.0;
            while at <= steps {
                let bark_rad = arc.from_rad() + arc.span_rad() * at / steps;
                if self.intervals(job, arc.side(), bark_rad).is_empty() {
                    arcs.extend(open.take().and_then(|ends| BarkArc::between(ends, arc.side())));
                } else {
                    open = Some((open.map_or(bark_rad, |ends| ends.0), bark_rad));
                }
                at += 1.0;
            }
            arcs.extend(open.and_then(|ends| BarkArc::between(ends, arc.side())));
        }
        arcs
    }

    /// What holding the saw so costs the body: 0 upright, see [`Stance::cost`]; nothing where nobody in particular does.
    pub(super) fn effort(&self, side: Side, at: Place) -> f64 {
        let stance = self.standing(side).and_then(|standing| standing.look(at.spikes, at.direction_rad).ok());
        stance.map_or(0.0, |stance: Stance| stance.cost)
    }

    /// True where every place of a setting can be held: looked at every degree and every 10 mm.
    pub fn can_do(&self, job: &LogJob, bar: &CuttingBar, setting: &Setting) -> bool {
        moments(setting).all(|moment| self.can(job, bar, setting.side, place_at(job, setting, moment)))
    }

    /// How the person holds the saw at a share of a setting's run, 0…1.
    ///
    /// # Errors
    /// Why they cannot.
    pub fn hold(
        &self,
        job: &LogJob,
        bar: &CuttingBar,
        setting: &Setting,
        share: f64,
    ) -> Result<Option<Stance>, Trouble> {
        let (_, moment) = moment(setting, share);
        let at = place_at(job, setting, moment);
        if let Some(trouble) = nose_trouble(job, bar, setting.side, at) {
            return Err(trouble);
        }
        match self.standing(setting.side) {
            None => Ok(None),
            Some(standing) => standing.look(at.spikes, at.direction_rad).map(Some).map_err(Trouble::Hold),
        }
    }

    /// As [`Self::hold`], with the feet where they stand through the whole setting, as long as the person can stay: the row
    /// of feet with the fewest steps. Where the setting cannot be held from end to end, or a moment between two that were
    /// looked at goes from elsewhere only, the feet are where that moment by itself has them.
    ///
    /// # Errors
    /// Why the saw cannot be held at that share.
    pub fn hold_standing(
        &self,
        job: &LogJob,
        bar: &CuttingBar,
        setting: &Setting,
        share: f64,
    ) -> Result<Option<Stance>, Trouble> {
        let free = self.hold(job, bar, setting, share)?;
        let Some(standing) = self.standing(setting.side) else { return Ok(free) };
        let at = |share: f64| {
            let at = place_at(job, setting, moment(setting, share).1);
            (at.spikes, at.direction_rad)
        };
        let shares = looks(setting);
        let Ok(feet) = standing.footing(&shares.iter().copied().map(at).collect::<Vec<_>>()) else {
            return Ok(free);
        };
        let here = shares.partition_point(|looked| *looked <= share).saturating_sub(1);
        let (spikes, direction_rad) = at(share);
        let stayed = feet.get(here).and_then(|x_m| standing.look_from(*x_m, spikes, direction_rad));
        Ok(stayed.or(free))
    }

    /// What it costs a person to hold all of the saw's weight at a share of a setting's run; `None` where they cannot, where
    /// nobody in particular does, and where the hold has no cost that is known.
    ///
    /// Two upright forces hold the saw, as in [`Standing::bearing`]. Where its handles come near to one plumb line they
    /// would have to pull against each other without end: there no hand lifts with more than twice the weight, for hands
    /// then push across as well (*our guess*).
    pub fn hold_cost(
        &self,
        job: &LogJob,
        bar: &CuttingBar,
        setting: &Setting,
        share: f64,
        holder: &hold::Holder,
    ) -> Option<HoldCost> {
        let stance = self.hold(job, bar, setting, share).ok().flatten()?;
        let (_, moment) = moment(setting, share);
        let at = place_at(job, setting, moment);
        let standing = self.standing(setting.side)?;
        let weight_n = standing.saw().mass_kg() * STANDARD_GRAVITY_M_S2;
        let front_n = standing
            .saw()
            .hands(standing.pitch(at.direction_rad))
            .map_or(0.5 * weight_n, |hands| hands.front.as_n().clamp(-weight_n, MOST_LIFT * weight_n));
        let hands = Hands { front: Force::from_n(front_n), rear: Force::from_n(weight_n - front_n) };
        hold::hold_cost(holder, &standing.hold(&stance, &hands)).ok()
    }

    /// The posture nearest to a hold that cannot be taken, for drawing it.
    pub fn nearest_hold(&self, job: &LogJob, setting: &Setting, share: f64) -> Option<Stance> {
        let (_, moment) = moment(setting, share);
        let at = place_at(job, setting, moment);
        self.standing(setting.side)?.nearest_stance(at.spikes, at.direction_rad)
    }

    /// What first stands against a setting on its way, and at which share of its run; `None` where all of it can be done.
    pub fn trouble(&self, job: &LogJob, bar: &CuttingBar, setting: &Setting) -> Option<(f64, Trouble)> {
        looks(setting)
            .into_iter()
            .find_map(|share| self.hold(job, bar, setting, share).err().map(|trouble| (share, trouble)))
    }
}

fn nothing_known() -> [Known; 2] {
    [Known::nothing(Side::Near), Known::nothing(Side::Far)]
}

/// Why a place of the saw cannot be taken.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Trouble {
    /// It cannot be held.
    Hold(WhyNot),
    /// The nose comes out of the log on the operator's own side.
    NoseOnOwnSide {
        /// Where, m.
        at: Point,
    },
    /// The nose digs into the ground.
    NoseInGround {
        /// How deep, m.
        by_m: f64,
        /// Where, m.
        at: Point,
    },
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
    let swing = steps((to_rad - from_rad).abs(), LOOK_RAD)
        .map(move |share| Moment::Swing(from_rad + share * (to_rad - from_rad)));
    let off = steps(run_off_m, LOOK_M).map(move |share| Moment::RunOff(share * run_off_m));
    on.chain(swing).chain(off)
}

/// True where the nose neither comes out of the log on the operator's own side, where their feet are, nor digs into the
/// ground.
pub(super) fn nose_may(job: &LogJob, bar: &CuttingBar, side: Side, at: Place) -> bool {
    nose_trouble(job, bar, side, at).is_none()
}

/// What the nose of a bar does that it must not.
fn nose_trouble(job: &LogJob, bar: &CuttingBar, side: Side, at: Place) -> Option<Trouble> {
    let along = unit(at.direction_rad);
    let tip = at.spikes + bar.reach().as_m() * along;
    let nose = at.spikes + bar.nose_centre_m() * along;
    let nose_m = bar.nose_radius().as_m();
    let by_m = job.ground_m(nose.x) - (nose.y - nose_m);
    if by_m > INTO_GROUND_M {
        return Some(Trouble::NoseInGround { by_m, at: nose });
    }
    let outward = if side == Side::Near { -1.0 } else { 1.0 };
    let own_side = outward * tip.x > 0.0 && job.section().outside_m(tip) > nose_m;
    own_side.then_some(Trouble::NoseOnOwnSide { at: tip })
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::Stand;
    use crate::units::Length;

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    #[test]
    fn the_nose_comes_out_on_the_own_side_where_the_closed_form_says() {
        // acos(280/452) = 51.7°: log 560 mm, reach 452 mm, spikes level with the middle.
        let limit = (280.0_f64 / 452.0).acos().to_degrees();
        assert!((limit - 51.7).abs() < 0.05, "{limit}");
        let bar = CuttingBar::new(mm(452.0), mm(40.0), mm(36.0)).unwrap();
        let high = LogJob::new(LogSection::round(mm(560.0), mm(400.0)).unwrap(), Stand::BothSides);
        for (side, x, straight) in [(Side::Near, -0.28, 0.0), (Side::Far, 0.28, 180.0)] {
            let at = |swing: f64| Place {
                spikes: Point::new(x, 0.0),
                direction_rad: f64::to_radians(straight + swing),
            };
            for sign in [-1.0, 1.0] {
                let inside = nose_trouble(&high, &bar, side, at(sign * (limit - 0.01)));
                assert!(inside.is_none(), "{side:?} {sign} {inside:?}");
                let out = nose_trouble(&high, &bar, side, at(sign * (limit + 0.01)));
                assert!(matches!(out, Some(Trouble::NoseOnOwnSide { .. })), "{side:?} {sign} {out:?}");
            }
        }
        // On a log that lies on it the ground is in the way first.
        let low = LogJob::new(LogSection::round(mm(560.0), mm(0.0)).unwrap(), Stand::BothSides);
        let down = Place { spikes: Point::new(-0.28, 0.0), direction_rad: (-80.0_f64).to_radians() };
        let trouble = nose_trouble(&low, &bar, Side::Near, down);
        assert!(matches!(trouble, Some(Trouble::NoseInGround { .. })), "{trouble:?}");
    }
}
