//! What one hold costs: both arms, the back, and which of them ends it first.

use super::arm::{Arm, BentArm, OutOfReach};
use super::back::{BackLoad, Trunk};
use super::ranges;
use super::strength::Strength;
use super::time::{HoldingTime, Muscles, holding_time};
use crate::fault::{Fault, Range};
use crate::geometry::Vector;
use crate::units::{Angle, Force, Length, Torque};
use std::fmt;

/// See [`JointCost::is_slight`].
pub(super) const NEXT_TO_NOTHING: f64 = 0.05;

/// Who holds: arms, trunk and strength of one person.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Holder {
    /// Either arm.
    pub arm: Arm,
    /// Trunk and body mass.
    pub trunk: Trunk,
    /// Strength.
    pub strength: Strength,
}

/// One hand on its grip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HandHold {
    /// From the shoulder to the grip in the side view: ahead of the person, up, m.
    pub to_grip: Vector,
    /// How far the grip is out of the shoulder's plane; the side does not matter.
    pub sideways: Length,
    /// What the hand lifts with; pushing down is negative. As in [`Hands`](crate::Hands).
    pub lift: Force,
}

/// A saw held in a pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hold {
    /// Bend of the trunk from upright, forward positive.
    pub bend: Angle,
    /// The hand on the front handle.
    pub front: HandHold,
    /// The hand on the rear handle.
    pub rear: HandHold,
}

/// Why a hold has no cost.
#[derive(Clone, Debug, PartialEq)]
pub enum HoldError {
    /// The front hand's arm.
    Front(OutOfReach),
    /// The rear hand's arm.
    Rear(OutOfReach),
    /// A number out of its range.
    Fault(Fault),
}

impl fmt::Display for HoldError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Front(error) => write!(f, "front hand: {error}"),
            Self::Rear(error) => write!(f, "rear hand: {error}"),
            Self::Fault(fault) => write!(f, "{fault}"),
        }
    }
}

impl std::error::Error for HoldError {}

/// A share of strength and how long it is held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Holding {
    /// Moment over strength.
    pub share: f64,
    /// How long.
    pub time: HoldingTime,
}

/// What one joint of an arm holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointCost {
    /// The moment; raising the arm or bending the elbow is positive.
    pub moment: Torque,
    /// The person's strength for that in this pose.
    pub strength: Torque,
    /// `None` where no strength is known to hold the moment against: where the joint has to push down, and at the
    /// shoulder of a hand that is behind it.
    pub holding: Option<Holding>,
}

/// What one arm holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ArmCost {
    /// At the shoulder.
    pub shoulder: JointCost,
    /// At the elbow.
    pub elbow: JointCost,
    /// How the arm is bent.
    pub bent: BentArm,
}

/// What the back holds. It has no holding time: in deep bends ligaments carry much of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BackCost {
    /// Moments and the force on the disc.
    pub load: BackLoad,
    /// The person's strength at this bend.
    pub strength: Torque,
    /// True where that strength was measured at this bend.
    pub measured: bool,
    /// Moment over strength; `None` where the moment would bend the trunk backward.
    pub share: Option<f64>,
}

/// What a hold costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoldCost {
    /// The arm on the front handle.
    pub front: ArmCost,
    /// The arm on the rear handle.
    pub rear: ArmCost,
    /// The back.
    pub back: BackCost,
}

/// A place of the body that holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Place {
    /// Shoulder of the arm on the front handle.
    FrontShoulder,
    /// Elbow of that arm.
    FrontElbow,
    /// Shoulder of the arm on the rear handle.
    RearShoulder,
    /// Elbow of that arm.
    RearElbow,
    /// The back.
    Back,
}

impl Place {
    /// The joints of the arms.
    pub const ARMS: [Self; 4] = [Self::FrontShoulder, Self::FrontElbow, Self::RearShoulder, Self::RearElbow];

    /// The muscles whose holding time is taken there.
    pub const fn muscles(self) -> Muscles {
        match self {
            Self::FrontShoulder | Self::RearShoulder => Muscles::Shoulder,
            Self::FrontElbow | Self::RearElbow => Muscles::Elbow,
            Self::Back => Muscles::General,
        }
    }
}

impl JointCost {
    /// True where the moment is below a twentieth of the strength, to either side: next to nothing (our guess; the
    /// muscles for the other way are more than half as strong).
    pub fn is_slight(&self) -> bool {
        self.moment.abs() < self.strength * NEXT_TO_NOTHING
    }
}

impl HoldCost {
    /// What a joint of an arm holds; `None` for the back.
    pub const fn joint(&self, place: Place) -> Option<&JointCost> {
        match place {
            Place::FrontShoulder => Some(&self.front.shoulder),
            Place::FrontElbow => Some(&self.front.elbow),
            Place::RearShoulder => Some(&self.rear.shoulder),
            Place::RearElbow => Some(&self.rear.elbow),
            Place::Back => None,
        }
    }

    /// What ends the hold first: what is beyond its strength, by the largest share, else the joint with the shortest
    /// time. `None` where nothing that is known here ends it.
    ///
    /// The back ends a hold only where it is beyond its strength, since it has no time.
    pub fn ends_first(&self) -> Option<(Place, Holding)> {
        let arms = Place::ARMS.into_iter().filter_map(|place| Some((place, self.joint(place)?.holding?)));
        let back = self.back.share.filter(|share| *share >= 1.0);
        let back = back.map(|share| (Place::Back, Holding { share, time: HoldingTime::BeyondStrength }));
        let sooner = |a: &(Place, Holding), b: &(Place, Holding)| {
            let times = a.1.time.seconds().total_cmp(&b.1.time.seconds());
            times.then(b.1.share.total_cmp(&a.1.share))
        };
        arms.chain(back).min_by(sooner).filter(|(_, holding)| holding.time != HoldingTime::NotTheEnd)
    }
}

/// What it costs this person to hold a saw so.
///
/// A shoulder's strength is taken at the upper arm's angle from the trunk: arms that hang from a bent back are half
/// raised. It was measured straight forward; that an arm turned aside to its grip is as strong is our guess.
///
/// # Errors
/// [`HoldError`] where an arm does not reach its grip or a number is out of [`ranges`].
pub fn hold_cost(holder: &Holder, hold: &Hold) -> Result<HoldCost, HoldError> {
    within("bend_deg", &ranges::BEND, hold.bend.as_deg())?;
    let front = arm_cost(holder, hold.bend, "front", &hold.front, HoldError::Front)?;
    let rear = arm_cost(holder, hold.bend, "rear", &hold.rear, HoldError::Rear)?;
    let own = |arm: &ArmCost| holder.arm.moments(&arm.bent, Force::ZERO).forward;
    let hands = [hold.front, hold.rear].map(|hand| (hand.lift, hand.to_grip.x));
    let load = holder.trunk.load(hold.bend, own(&front) + own(&rear), hands);
    let strength = holder.strength.back_extension(hold.bend);
    let share = (load.moment() >= Torque::ZERO).then(|| load.moment() / strength);
    let back = BackCost { load, strength, measured: Strength::back_measured(hold.bend), share };
    Ok(HoldCost { front, rear, back })
}

fn arm_cost(
    holder: &Holder,
    bend: Angle,
    side: &str,
    hand: &HandHold,
    out_of_reach: impl Fn(OutOfReach) -> HoldError,
) -> Result<ArmCost, HoldError> {
    within(&format!("{side}.lift_n"), &ranges::HAND_FORCE, hand.lift.as_n())?;
    within(&format!("{side}.sideways_mm"), &ranges::SIDEWAYS, hand.sideways.as_mm())?;
    for (name, value_m) in [("ahead_mm", hand.to_grip.x), ("up_mm", hand.to_grip.y)] {
        within(&format!("{side}.{name}"), &ranges::GRIP, value_m * 1e3)?;
    }
    let bent = holder.arm.bent(hand.to_grip, hand.sideways.as_m()).map_err(out_of_reach)?;
    let moments = holder.arm.moments(&bent, hand.lift);
    let from_trunk = bent.upper_arm() + bend;
    let shoulder = holder.strength.shoulder_flexion(from_trunk);
    let elbow = holder.strength.elbow_flexion(bent.flexion(), from_trunk);
    let mut at_shoulder = joint_cost(Muscles::Shoulder, moments.shoulder, shoulder);
    // Strength was measured for raising the arm forward.
    at_shoulder.holding = at_shoulder.holding.filter(|_| hand.to_grip.x >= 0.0);
    Ok(ArmCost { shoulder: at_shoulder, elbow: joint_cost(Muscles::Elbow, moments.elbow, elbow), bent })
}

fn joint_cost(muscles: Muscles, moment: Torque, strength: Torque) -> JointCost {
    let share = moment / strength;
    let holding = holding_time(muscles, share).map(|time| Holding { share, time });
    JointCost { moment, strength, holding }
}

fn within(path: &str, range: &Range, value: f64) -> Result<(), HoldError> {
    match range.refusal(value) {
        Some(message) => Err(HoldError::Fault(Fault { path: path.to_owned(), message })),
        None => Ok(()),
    }
}

#[cfg(test)]
#[path = "person_tests.rs"]
mod person_tests;

#[cfg(test)]
#[path = "cost_tests.rs"]
pub(super) mod tests;
