//! A saw borne in a pose: what each hand lifts with, and what that costs. The pose comes from a stance beside a log, or is
//! the one without a log in which saws are compared: held level at working height.

use super::body::Body;
use super::hold::{HandHold, Hold, HoldCost, HoldError, Place, Strength, ends_first_words, hold_cost};
use super::saw_body::SawBody;
use super::stance::Stance;
use super::standing::Standing;
use super::who::Person;
use super::{FRONT_ASIDE_M, REAR_ASIDE_M};
use crate::fault::Fault;
use crate::geometry::Vector;
use crate::mark::Mark;
use crate::saw::{Hands, HandsError, MassPart, Solved, hands};
use crate::units::{Angle, Length};
use std::fmt;

/// Held level, the front hand is so far ahead of the shoulder, m; it is at the height of the hanging arm's elbow.
pub const LEVEL_AHEAD_M: f64 = 0.3;
/// Where the hands are while a saw is held level, as one holds it before a cut.
pub const LEVEL_PLACE_MARK: Mark = Mark::OurGuess;
/// That a saw held still is two upright forces: hands can pull against each other, and none of that is counted.
pub const UPRIGHT_FORCES_MARK: Mark = Mark::OurGuess;

/// A saw held still by a person.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bearing {
    /// The pose, with what each hand lifts.
    pub hold: Hold,
    /// What it costs.
    pub cost: HoldCost,
    /// The strength that the shares are taken of.
    pub strength: Strength,
}

/// Why a pose has no cost.
#[derive(Clone, Debug, PartialEq)]
pub enum BearingError {
    /// The hands cannot hold the saw still by upright forces.
    Hands(HandsError),
    /// The person is beyond what the model of holds was made for.
    Person(Vec<Fault>),
    /// The hold has no cost.
    Hold(HoldError),
}

impl fmt::Display for BearingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Hands(error) => write!(f, "{error}"),
            Self::Person(faults) => {
                let said: Vec<&str> = faults.iter().map(|fault| fault.message.as_str()).collect();
                write!(f, "person: {}", said.join("; "))
            }
            Self::Hold(error) => write!(f, "{error}"),
        }
    }
}

impl std::error::Error for BearingError {}

impl From<HandsError> for BearingError {
    fn from(error: HandsError) -> Self {
        Self::Hands(error)
    }
}

impl From<HoldError> for BearingError {
    fn from(error: HoldError) -> Self {
        Self::Hold(error)
    }
}

impl Bearing {
    fn new(person: &Person, hold: Hold) -> Result<Self, BearingError> {
        let holder = person.holder().map_err(BearingError::Person)?;
        Ok(Self { hold, cost: hold_cost(&holder, &hold)?, strength: holder.strength })
    }

    /// What ends the hold first, such as *shoulder 38 % of an average man's strength, about 1½ minutes, half of people 1
    /// to 2*.
    pub fn words(&self) -> String {
        ends_first_words(&self.cost, &self.strength)
    }

    /// True where a joint of an arm would have to hold more than the person's strength.
    pub fn is_beyond_strength(&self) -> bool {
        let joints = Place::ARMS.iter().filter_map(|place| self.cost.joint(*place));
        joints.into_iter().any(|joint| joint.moment.abs() > joint.strength)
    }
}

impl SawBody {
    /// What each hand lifts with while the saw is held still at a pitch, nose up positive: two upright forces that carry
    /// the weight and have no moment about the front grip.
    ///
    /// # Errors
    /// Where the grips lie in one plumb line.
    pub fn hands(&self, pitch: Angle) -> Result<Hands, HandsError> {
        let saw = MassPart { mass_kg: self.mass_kg(), centroid: self.centre(), inertia_kg_m2: 0.0 };
        hands(&saw, self.front_grip(), self.rear_grip(), pitch)
    }
}

impl Standing {
    /// What it costs a person to hold this saw still in a stance, the bar in a direction, counter-clockwise from +x, rad:
    /// with nothing of its weight on the log.
    ///
    /// # Errors
    /// [`BearingError`], as where the grips lie in one plumb line.
    pub fn bearing(
        &self,
        person: &Person,
        stance: &Stance,
        direction_rad: f64,
    ) -> Result<Bearing, BearingError> {
        let hands = self.saw().hands(self.pitch(direction_rad))?;
        Bearing::new(person, self.hold(stance, &hands))
    }
}

/// What it costs a person to hold a saw level at working height, standing upright: the front hand [`LEVEL_AHEAD_M`] ahead
/// of the shoulder and as high as the elbow of the hanging arm, the rear hand where the saw has it.
///
/// ```
/// use barpoise_core::person::{Person, held_level};
/// use barpoise_core::{file, solve};
///
/// let yard = file::demo()?;
/// let setup = yard.setup("Bittern B24").ok_or("the demo has this setup")?;
/// let held = held_level(&Person::default(), &solve(setup))?;
/// assert!(held.words().starts_with("shoulder "), "{}", held.words());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// [`BearingError`], as where a hand does not get to its grip.
pub fn held_level(person: &Person, saw: &Solved) -> Result<Bearing, BearingError> {
    level(person, &saw.hands?, saw.rear_grip() - saw.front_grip())
}

fn level(person: &Person, hands: &Hands, front_to_rear: Vector) -> Result<Bearing, BearingError> {
    let front = Vector::new(LEVEL_AHEAD_M, -Body::of(person).upper_arm_m);
    let hand = |to_grip, aside_m, lift| HandHold { to_grip, sideways: Length::from_m(aside_m), lift };
    let hold = Hold {
        bend: Angle::ZERO,
        front: hand(front, FRONT_ASIDE_M, hands.front),
        rear: hand(front + front_to_rear, REAR_ASIDE_M, hands.rear),
    };
    Bearing::new(person, hold)
}

#[cfg(test)]
#[path = "bearing_tests.rs"]
mod tests;
