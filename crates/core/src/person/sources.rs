//! Where each number comes from that a pose is tested with.

use super::bearing::{LEVEL_AHEAD_M, LEVEL_PLACE_MARK, UPRIGHT_FORCES_MARK};
use super::body::{self, FRONT_ASIDE_M, REAR_ASIDE_M};
use super::held::GRIP_ABOVE_GROUND_M;
use super::posture;
use super::saw_body::{BAR_AND_CHAIN, DEFAULT_HAND_ROOM_M, TEETH_HALF_HEIGHT_M};
use crate::assumption::{Assumption, Size, guess, known};
use crate::mark::Mark;

const SURVEY: &str = "ANSUR II, Gordon et al. 2014, NATICK/TR-15/007";
const DE_LEVA: &str = "de Leva 1996, J. Biomech. 29(9):1223–1230, Table 4";
const CLINICAL: &str = "usual clinical figures";

/// What a saw held level is held with, beside the strengths of [`HOLD_MARKS`](super::hold::HOLD_MARKS).
pub const LEVEL_ASSUMPTIONS: [Assumption; 2] = [
    known("held level, the front hand ahead of the shoulder", Size::Length(LEVEL_AHEAD_M), LEVEL_PLACE_MARK),
    known("a saw held still is two forces straight up and down", Size::Many, UPRIGHT_FORCES_MARK),
];

/// Everything whose effect a user sees where a pose is tested.
pub const POSE_ASSUMPTIONS: [Assumption; 27] = [
    known("stature, foot, chest and body mass of the survey", Size::Many, Mark::Published(SURVEY)),
    known("shares of the body's parts and links of the arm", Size::Many, Mark::SecondHand(DE_LEVA)),
    known("place of the trunk's centre", Size::Many, Mark::FromMemory(DE_LEVA)),
    known(
        "how far an elbow bends",
        Size::Angle(body::ELBOW_BEND_DEG.to_radians()),
        Mark::FromMemory(CLINICAL),
    ),
    known(
        "how far a shoulder moves back",
        Size::Angle(posture::SHOULDER_BACK_DEG.to_radians()),
        Mark::FromMemory(CLINICAL),
    ),
    guess("how far a hand goes back from hanging", Size::Angle(posture::HAND_BACK_DEG.to_radians())),
    guess("body mass with the square of the stature", Size::Many),
    guess("share of the straight arm that is reach", Size::Share(body::USABLE_ARM)),
    guess("front hand aside of its shoulder", Size::Length(FRONT_ASIDE_M)),
    guess("rear hand aside of its shoulder", Size::Length(REAR_ASIDE_M)),
    guess("room for a hand before the bark", Size::Length(DEFAULT_HAND_ROOM_M)),
    guess("grip above the ground", Size::Length(GRIP_ABOVE_GROUND_M)),
    guess("nothing above the shoulder of the person upright", Size::Many),
    guess("postures of the legs and what they cost", Size::Many),
    guess("hip when kneeling, share of the stature", Size::Share(body::KNEELING_HIP)),
    guess("lean of the thigh when kneeling, at the hip", Size::Length(posture::KNEELING_LEAN_M)),
    guess("half the distance of the feet along the cut", Size::Length(posture::HALF_STAGGER_M)),
    guess("room for legs and knees before the bark", Size::Length(posture::KNEE_ROOM_M)),
    guess("height of a boot over its toes", Size::Length(posture::BOOT_HEIGHT_M)),
    guess("ankle ahead of the heel, share of the foot", Size::Share(body::ANKLE_ON_FOOT)),
    guess("weight within the feet, standing", Size::Length(posture::STANDING_MARGIN_M)),
    guess("weight within the feet, kneeling", Size::Length(posture::KNEELING_MARGIN_M)),
    guess("share of the bend that the neck keeps", Size::Share(posture::NECK_SHARE)),
    guess("width of the head, share of the stature", Size::Share(body::HEAD_WIDTH)),
    guess("teeth of the spikes above and below the bar", Size::Length(TEETH_HALF_HEIGHT_M)),
    guess("bar and chain where no setup is given", Size::Mass(BAR_AND_CHAIN.mass_kg)),
    guess("the head's outline where none of its own is given", Size::Many),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_assumption_is_said_once_and_has_a_size_that_a_body_can_have() {
        for (i, one) in POSE_ASSUMPTIONS.iter().enumerate() {
            assert!(POSE_ASSUMPTIONS.iter().skip(i + 1).all(|other| other.what != one.what), "{}", one.what);
            match one.size {
                Size::Length(m) => assert!((0.01..=0.5).contains(&m), "{}: {m} m", one.what),
                Size::Angle(rad) => assert!((0.1..=3.0).contains(&rad), "{}: {rad} rad", one.what),
                Size::Mass(kg) => assert!((0.5..=5.0).contains(&kg), "{}: {kg} kg", one.what),
                Size::Share(share) => assert!(share > 0.0 && share < 1.0, "{}: {share}", one.what),
                Size::Many => {}
                Size::Time(_) | Size::Count(_) | Size::In(..) => {
                    panic!("{}: no such size in a body", one.what)
                }
            }
        }
    }
}
