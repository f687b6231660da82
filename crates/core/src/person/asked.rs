//! From a stance to what it costs: the person as one who holds, and the pose as a hold.

use super::body::Body;
use super::hold::{Arm, HandHold, Hold, Holder, Strength, Trunk};
use super::stance::{ArmPose, Stance};
use super::standing::Standing;
use super::who::Person;
use crate::fault::Fault;
use crate::geometry::Vector;
use crate::saw::Hands;
use crate::section::Side;
use crate::units::{Angle, Length, Mass};
use std::f64::consts::{PI, TAU};

impl Person {
    /// Arms, trunk and strength of this person.
    ///
    /// # Errors
    /// A link, mass or stature beyond what the model of holds was made for.
    pub fn holder(&self) -> Result<Holder, Vec<Fault>> {
        let body = Body::of(self);
        let (upper, fore) = (body.upper_arm, body.forearm);
        let arm = Arm::new(
            (body.upper_arm_m, upper.mass_kg, upper.centre * body.upper_arm_m),
            (body.forearm_m, fore.mass_kg, fore.centre * body.forearm_m),
            body.hand_kg,
        )?;
        let (stature, mass) = (self.stature(), Mass::from_kg(body.mass_kg));
        let trunk = Trunk::new(self.people(), stature, mass, Length::from_m(body.trunk_m))?;
        let strength =
            Strength::new(self.people(), self.strength_percentile()).map_err(|fault| vec![fault])?;
        Ok(Holder { arm, trunk, strength })
    }
}

impl Standing {
    /// The saw's pitch for the person who holds it, nose up positive, where the bar points so, counter-clockwise from
    /// +x, rad: within a half turn either way.
    pub fn pitch(&self, direction_rad: f64) -> Angle {
        let pitch_rad = match self.side() {
            Side::Near => direction_rad,
            Side::Far => PI - direction_rad,
        };
        Angle::from_rad((pitch_rad + PI).rem_euclid(TAU) - PI)
    }

    /// A stance of this person as a hold, the hands lifting as given.
    pub fn hold(&self, stance: &Stance, hands: &Hands) -> Hold {
        let ahead = match self.side() {
            Side::Near => 1.0,
            Side::Far => -1.0,
        };
        let hand = |arm: &ArmPose, lift| {
            let to = arm.hand - arm.shoulder;
            HandHold { to_grip: Vector::new(ahead * to.x, to.y), sideways: Length::from_m(arm.aside_m), lift }
        };
        Hold {
            bend: Angle::from_rad(stance.bend_rad),
            front: hand(&stance.front_arm, hands.front),
            rear: hand(&stance.rear_arm, hands.rear),
        }
    }
}
