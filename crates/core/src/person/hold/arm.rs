//! An arm as two links: where the elbow is, and the moments about shoulder and elbow.

use super::ranges;
use crate::fault::{Checker, Fault};
use crate::geometry::Vector;
use crate::units::{Angle, Force, STANDARD_GRAVITY_M_S2, Torque};
use nalgebra::Vector3;
use std::fmt;

/// An arm this little longer than straight, as a share of its length, is straight: what sums lose in double precision.
const STRAIGHT: f64 = 1e-12;
/// A grip nearer than this to the shoulder gives the arm no direction, m.
const NO_DIRECTION_M: f64 = 1e-9;

/// One link of an arm and what hangs on it.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Link {
    length_m: f64,
    mass_kg: f64,
    /// Share of the link from its upper joint to its centre of mass.
    centre: f64,
}

/// An arm of two links, shoulder to elbow and elbow to grip, with the hand's mass at the grip.
///
/// Lengths, masses and centres come from the body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arm {
    upper: Link,
    fore: Link,
    hand_kg: f64,
}

/// Why an arm cannot hold a grip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OutOfReach {
    /// The grip is this much farther than the straight arm, m.
    TooFar(f64),
    /// The grip is this much nearer than the arm folds, m, elbow's stop left out.
    TooNear(f64),
    /// The place of the grip is not a number.
    NotANumber,
}

impl fmt::Display for OutOfReach {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooFar(by_m) => write!(f, "arm too short by {:.0} mm", by_m * 1e3),
            Self::TooNear(by_m) => write!(f, "grip too near the shoulder by {:.0} mm", by_m * 1e3),
            Self::NotANumber => write!(f, "the place of the grip is not a number"),
        }
    }
}

impl std::error::Error for OutOfReach {}

/// An arm bent to a grip. Vectors run from the shoulder: ahead, up, sideways toward the grip, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BentArm {
    elbow: Vector3<f64>,
    grip: Vector3<f64>,
    /// Unit vector about which the flexors turn the forearm.
    axis: Vector3<f64>,
    flexion_rad: f64,
}

impl BentArm {
    /// The elbow from the shoulder in the side view, m.
    pub fn elbow(&self) -> Vector {
        Vector::new(self.elbow.x, self.elbow.y)
    }

    /// Bend of the elbow; straight is zero.
    pub fn flexion(&self) -> Angle {
        Angle::from_rad(self.flexion_rad)
    }

    /// The upper arm in the side view; hanging is zero, forward positive.
    pub fn upper_arm(&self) -> Angle {
        Angle::from_rad(self.elbow.x.atan2(-self.elbow.y))
    }
}

/// What the joints of one arm have to hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ArmMoments {
    /// About the shoulder, in the upright plane through shoulder and grip: positive where the arm has to be raised
    /// towards the grip.
    pub shoulder: Torque,
    /// About the elbow's own axis, positive where it has to be bent.
    pub elbow: Torque,
    /// About the line through both shoulders: what the arm adds to the back's moment. For a grip right ahead it is the
    /// same as [`Self::shoulder`].
    pub forward: Torque,
}

impl Arm {
    /// An arm from (length m, mass kg, centre of mass from the upper joint m) of the upper arm and of the link from the
    /// elbow to the grip, which carries the forearm's mass, and the hand's mass in kg.
    ///
    /// # Errors
    /// A fault for each number outside [`ranges`].
    pub fn new(
        upper_arm: (f64, f64, f64),
        elbow_to_grip: (f64, f64, f64),
        hand_kg: f64,
    ) -> Result<Self, Vec<Fault>> {
        let mut check = Checker::new("", "arm");
        let mut link = |field: &str, (length_m, mass_kg, centre_m): (f64, f64, f64)| {
            let centre = centre_m / length_m;
            check.number(&format!("{field}_length_mm"), &ranges::ARM_LINK, length_m * 1e3);
            check.number(&format!("{field}_mass_kg"), &ranges::ARM_MASS, mass_kg);
            check.number(&format!("{field}_centre"), &ranges::CENTRE, centre);
            Link { length_m, mass_kg, centre }
        };
        let arm = Self { upper: link("upper_arm", upper_arm), fore: link("forearm", elbow_to_grip), hand_kg };
        check.number("hand_mass_kg", &ranges::ARM_MASS, hand_kg);
        check.finish(arm)
    }

    /// Length of the straight arm to the grip, m.
    pub fn straight_m(&self) -> f64 {
        self.upper.length_m + self.fore.length_m
    }

    /// Weight of the whole arm, N.
    pub fn weight_n(&self) -> f64 {
        STANDARD_GRAVITY_M_S2 * (self.upper.mass_kg + self.fore.mass_kg + self.hand_kg)
    }

    /// The arm bent to a grip `to_grip` from the shoulder and `sideways_m` out of the shoulder's plane.
    ///
    /// The elbow lies below a grip ahead, behind a grip that hangs, the way an elbow bends. Only the lengths of the
    /// links limit it: the stops of the joints belong to the pose.
    ///
    /// # Errors
    /// [`OutOfReach`] where two links of these lengths do not meet.
    pub fn bent(&self, to_grip: Vector, sideways_m: f64) -> Result<BentArm, OutOfReach> {
        let grip = Vector3::new(to_grip.x, to_grip.y, sideways_m);
        let distance_m = grip.norm();
        if !distance_m.is_finite() {
            return Err(OutOfReach::NotANumber);
        }
        let (a, b) = (self.upper.length_m, self.fore.length_m);
        if distance_m > (a + b) * (1.0 + STRAIGHT) {
            return Err(OutOfReach::TooFar(distance_m - (a + b)));
        }
        let folded_m = (a - b).abs();
        if distance_m < folded_m * (1.0 - STRAIGHT) || distance_m < NO_DIRECTION_M {
            return Err(OutOfReach::TooNear((folded_m - distance_m).max(0.0)));
        }
        let along = grip / distance_m;
        let across = elbow_side(to_grip);
        let foot_m = (a * a + distance_m * distance_m - b * b) / (2.0 * distance_m);
        let off_m = (a * a - foot_m * foot_m).max(0.0).sqrt();
        let inside = (a * a + b * b - distance_m * distance_m) / (2.0 * a * b);
        Ok(BentArm {
            elbow: foot_m * along + off_m * across,
            grip,
            axis: across.cross(&along),
            flexion_rad: std::f64::consts::PI - inside.clamp(-1.0, 1.0).acos(),
        })
    }

    /// The moments that this arm, so bent, has to hold while its hand lifts with `lift` (straight up; pushing down is
    /// negative) and the arm's own weight pulls. Linear in the hand's force.
    pub fn moments(&self, bent: &BentArm, lift: Force) -> ArmMoments {
        let fore_centre = bent.elbow + self.fore.centre * (bent.grip - bent.elbow);
        let hand_n = STANDARD_GRAVITY_M_S2 * self.hand_kg + lift.as_n();
        let below_elbow = [(STANDARD_GRAVITY_M_S2 * self.fore.mass_kg, fore_centre), (hand_n, bent.grip)];
        let upper = (STANDARD_GRAVITY_M_S2 * self.upper.mass_kg, self.upper.centre * bent.elbow);
        // Of a weight w hung at r, r × (0, −w, 0) = w·(z, 0, −x).
        let elbow: f64 = below_elbow
            .iter()
            .map(|(weight_n, at)| {
                let from_elbow = at - bent.elbow;
                weight_n * (from_elbow.x * bent.axis.z - from_elbow.z * bent.axis.x)
            })
            .sum();
        let towards = towards(&bent.grip);
        let (mut shoulder, mut forward) = (0.0, 0.0);
        for (weight_n, at) in below_elbow.into_iter().chain([upper]) {
            shoulder += weight_n * at.dot(&towards);
            forward += weight_n * at.x;
        }
        ArmMoments {
            shoulder: Torque::from_n_m(shoulder),
            elbow: Torque::from_n_m(elbow),
            forward: Torque::from_n_m(forward),
        }
    }
}

/// The level unit vector from the shoulder to the grip; straight ahead for a grip in one plumb line with it.
fn towards(grip: &Vector3<f64>) -> Vector3<f64> {
    let level_m = grip.x.hypot(grip.z);
    if level_m < NO_DIRECTION_M { Vector3::x() } else { Vector3::new(grip.x, 0.0, grip.z) / level_m }
}

/// The unit vector, in the side view and across the line from shoulder to grip, to the side where the elbow lies.
fn elbow_side(to_grip: Vector) -> Vector3<f64> {
    let length_m = to_grip.norm();
    if length_m < NO_DIRECTION_M {
        // A grip straight beside the shoulder: as for one ahead.
        return Vector3::new(0.0, -1.0, 0.0);
    }
    Vector3::new(to_grip.y / length_m, -to_grip.x / length_m, 0.0)
}

#[cfg(test)]
#[path = "arm_tests.rs"]
pub(super) mod tests;
