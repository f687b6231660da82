//! How the saw hangs and what each hand carries.

use super::mass::MassPart;
use crate::geometry::{Point, Vector};
use crate::mark::Mark;
use crate::units::{Angle, Force, Inertia, STANDARD_GRAVITY_M_S2, Torque};
use nalgebra::Rotation2;
use std::fmt;

/// Hands nearer than this in plan share no load that means anything.
const LEAST_HAND_SPAN_M: f64 = 1e-3;

/// Why the saw has no stable hang from a grip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HangError {
    /// The centre of gravity is not below the grip: the saw turns over.
    CentroidNotBelowGrip,
}

impl fmt::Display for HangError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "no stable hang: the centre of gravity is not below the front grip")
    }
}

impl std::error::Error for HangError {}

/// Why two hands cannot hold the saw still with vertical forces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HandsError {
    /// One grip stands straight above the other.
    GripsInOnePlumbLine,
}

impl fmt::Display for HandsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "at this angle one grip is straight above the other, the shares are undefined")
    }
}

impl std::error::Error for HandsError {}

/// What each hand carries, the saw held still. Up is positive: a negative rear hand pushes down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hands {
    /// At the front grip.
    pub front: Force,
    /// At the rear grip.
    pub rear: Force,
}

/// The hang angle of the saw lifted by the front grip alone and free to turn; zero is level, nose down is
/// positive.
///
/// # Errors
/// [`HangError`] where the centroid is not below the grip.
pub fn hang_angle(saw: &MassPart, front_grip: Point) -> Result<Angle, HangError> {
    let below = front_grip.y - saw.centroid.y;
    if below > 0.0 {
        Ok(Angle::from_rad((saw.centroid.x - front_grip.x).atan2(below)))
    } else {
        Err(HangError::CentroidNotBelowGrip)
    }
}

/// The two vertical forces that hold the saw still at a pitch angle (zero level, nose up positive):
/// front + rear = m·g, and moments about the front grip vanish.
///
/// # Errors
/// [`HandsError`] where the grips lie in one plumb line.
pub fn hands(saw: &MassPart, front_grip: Point, rear_grip: Point, pitch: Angle) -> Result<Hands, HandsError> {
    let turned = |v: Vector| Rotation2::new(pitch.as_rad()) * v;
    let weight_n = saw.mass_kg * STANDARD_GRAVITY_M_S2;
    let lever_m = turned(saw.centroid - front_grip).x;
    let span_m = turned(rear_grip - front_grip).x;
    if span_m.abs() < LEAST_HAND_SPAN_M {
        return Err(HandsError::GripsInOnePlumbLine);
    }
    let rear = weight_n * lever_m / span_m;
    Ok(Hands { front: Force::from_n(weight_n - rear), rear: Force::from_n(rear) })
}

/// Moment of the weight about the front grip with the saw level; nose down is positive.
pub fn nose_moment(saw: &MassPart, front_grip: Point) -> Torque {
    Torque::from_n_m(saw.mass_kg * STANDARD_GRAVITY_M_S2 * (saw.centroid.x - front_grip.x))
}

/// Inertia about the front grip: what swinging the nose has to overcome, `I + m·|C − F|²`.
pub fn swing_inertia(saw: &MassPart, front_grip: Point) -> Inertia {
    saw.inertia_about(front_grip)
}

/// How a hang feels in the hand, in the trade's words. The edges are [`Feel::MARK`], no standard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Feel {
    /// The rear handle drops.
    TailHeavy,
    /// Hangs level.
    Level,
    /// Slightly nose-heavy.
    SlightlyNoseHeavy,
    /// Nose-heavy.
    NoseHeavy,
    /// Nose-heavy enough to carry more than to lift.
    VeryNoseHeavy,
}

impl Feel {
    /// Where the edges come from.
    pub const MARK: Mark = Mark::OurGuess;

    /// The upper edge of each band in degrees of hang, nose down positive.
    pub const EDGES_DEG: [(Self, f64); 4] = [
        (Self::TailHeavy, -5.0),
        (Self::Level, 5.0),
        (Self::SlightlyNoseHeavy, 15.0),
        (Self::NoseHeavy, 30.0),
    ];

    /// The band that a hang angle falls in.
    pub fn of(hang: Angle) -> Self {
        Self::EDGES_DEG
            .into_iter()
            .find(|(_, edge)| hang.as_deg() < *edge)
            .map_or(Self::VeryNoseHeavy, |(feel, _)| feel)
    }

    /// The words for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::TailHeavy => "tail-heavy",
            Self::Level => "hangs level",
            Self::SlightlyNoseHeavy => "slightly nose-heavy",
            Self::NoseHeavy => "nose-heavy",
            Self::VeryNoseHeavy => "very nose-heavy",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Mass;
    use approx::assert_relative_eq;

    fn saw(x: f64, y: f64) -> MassPart {
        MassPart::point(Mass::from_kg(9.0), Point::new(x, y))
    }

    #[test]
    fn a_centroid_ahead_and_below_hangs_nose_down() {
        let hang = hang_angle(&saw(0.1, 0.0), Point::new(0.0, 0.1)).unwrap();
        assert_relative_eq!(hang.as_deg(), 45.0, max_relative = 1e-14);
        assert!(hang_angle(&saw(-0.1, 0.0), Point::new(0.0, 0.1)).unwrap().as_deg() < 0.0);
    }

    #[test]
    fn a_centroid_above_the_grip_has_no_hang() {
        assert_eq!(hang_angle(&saw(0.1, 0.2), Point::new(0.0, 0.1)), Err(HangError::CentroidNotBelowGrip));
        assert_eq!(hang_angle(&saw(0.0, 0.1), Point::new(0.0, 0.1)), Err(HangError::CentroidNotBelowGrip));
    }

    #[test]
    fn a_nose_heavy_saw_makes_the_rear_hand_push_down() {
        let held = hands(&saw(0.1, 0.0), Point::new(0.0, 0.1), Point::new(-0.3, 0.0), Angle::ZERO).unwrap();
        let weight = 9.0 * STANDARD_GRAVITY_M_S2;
        assert_relative_eq!(held.rear.as_n(), -weight / 3.0, max_relative = 1e-14);
        assert_relative_eq!(held.front.as_n(), weight * 4.0 / 3.0, max_relative = 1e-14);
    }

    #[test]
    fn law_held_at_its_hang_angle_the_front_hand_carries_all() {
        let (front, rear) = (Point::new(-0.02, 0.16), Point::new(-0.3, 0.01));
        let hang = hang_angle(&saw(0.07, 0.02), front).unwrap();
        let held = hands(&saw(0.07, 0.02), front, rear, -hang).unwrap();
        assert_relative_eq!(held.rear.as_n(), 0.0, epsilon = 1e-12);
    }

    #[test]
    fn grips_above_each_other_share_nothing() {
        let upright = Angle::from_deg(90.0);
        let held = hands(&saw(0.1, 0.0), Point::new(0.0, 0.0), Point::new(-0.3, 0.0), upright);
        assert_eq!(held, Err(HandsError::GripsInOnePlumbLine));
    }

    #[test]
    fn each_band_ends_where_the_next_begins() {
        let feel = |deg| Feel::of(Angle::from_deg(deg));
        assert_eq!(feel(-5.001), Feel::TailHeavy);
        assert_eq!(feel(-4.999), Feel::Level);
        assert_eq!(feel(4.999), Feel::Level);
        assert_eq!(feel(5.001), Feel::SlightlyNoseHeavy);
        assert_eq!(feel(15.001), Feel::NoseHeavy);
        assert_eq!(feel(30.001), Feel::VeryNoseHeavy);
    }
}
