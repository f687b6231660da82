//! A hold of a person in a stance, against the numbers of the survey and from both sides of a log.

use super::super::super::{Body, Person, SawBody, Standing, Survey};
use super::super::arm::tests::mean_arm;
use super::super::strength::People;
use super::*;
use crate::file;
use crate::geometry::Point;
use crate::saw::Hands;
use crate::section::{LogSection, Side};
use crate::units::Mass;
use approx::{assert_abs_diff_eq, assert_relative_eq};
use proptest::prelude::*;
use std::f64::consts::PI;

/// 1.756 m and 85.5 kg, the men's means of ANSUR II to the digits of the closed forms.
fn mean_person() -> Person {
    let survey = Survey::Own { people: People::Men, mass: Mass::from_kg(85.5), arm: None, leg: None };
    Person::new(Length::from_m(1.756), survey).unwrap()
}

#[test]
fn a_person_holds_with_the_arm_trunk_and_strength_of_their_survey() {
    let holder = mean_person().holder().unwrap();
    let grip = Vector::new(0.45, -0.25);
    let moments = |arm: &Arm| arm.moments(&arm.bent(grip, 0.0).unwrap(), Force::from_n(40.0));
    let (ours, written_out) = (moments(&holder.arm), moments(&mean_arm()));
    assert_relative_eq!(ours.shoulder.as_n_m(), written_out.shoulder.as_n_m(), max_relative = 1e-12);
    assert_relative_eq!(ours.elbow.as_n_m(), written_out.elbow.as_n_m(), max_relative = 1e-12);
    let load = |trunk: &Trunk| trunk.load(Angle::from_deg(40.0), Torque::ZERO, [(Force::ZERO, 0.0); 2]);
    let (ours, written_out) = (load(&holder.trunk), load(&super::super::back::tests::mean_man()));
    assert_relative_eq!(ours.moment().as_n_m(), written_out.moment().as_n_m(), max_relative = 1e-12);
    assert_relative_eq!(ours.compression.as_n(), written_out.compression.as_n(), max_relative = 1e-12);
    assert_eq!(holder.strength, Strength::average(People::Men));
    let strong = mean_person().with_strength_percentile(95.0).unwrap();
    assert_eq!(strong.holder().unwrap().strength, Strength::new(People::Men, 95.0).unwrap());
}

#[test]
fn a_body_with_hanging_arms_balances_where_bodies_do() {
    // Computed outside from de Leva 1996: .554 of a man's stature, .560 of a woman's, to the digits shown; literature
    // has .55 to .57, as quoted by others. Head and neck are taken at the height of the eye.
    for (survey, expected) in [(Survey::Men, 0.554), (Survey::Women, 0.560)] {
        let body = Body::of(&Person::new(Length::from_m(1.7), survey).unwrap());
        let arm = body.arm();
        let arm_m = body.upper_arm_m + body.forearm_m;
        let leg = [
            (body.thigh.mass_kg, body.hip_height_m - body.thigh.centre * body.thigh_m),
            (body.shank.mass_kg, body.knee_height_m - body.shank.centre * body.shank_m),
            (body.foot.mass_kg, 0.5 * body.ankle_height_m),
        ];
        let once = [
            (body.head_kg, body.eye_height_m),
            (body.trunk.mass_kg, body.shoulder_height_m - body.trunk.centre * body.trunk_m),
        ];
        let twice = leg.into_iter().chain([(arm.mass_kg, body.shoulder_height_m - arm.centre * arm_m)]);
        let all: Vec<(f64, f64)> = once.into_iter().chain(twice.clone()).chain(twice).collect();
        let mass: f64 = all.iter().map(|(kg, _)| kg).sum();
        let height = all.iter().map(|(kg, up_m)| kg * up_m).sum::<f64>() / mass / body.stature_m;
        assert_abs_diff_eq!(height, expected, epsilon = 0.001);
    }
}

/// A hold beside a log of 560 mm with the demo's first head, spikes near the top, bar level.
fn hold_from(side: Side, hands: &Hands) -> Hold {
    let yard = file::demo().unwrap();
    let saw = SawBody::of(&yard.powerheads()[0]);
    let section = LogSection::round(Length::from_mm(560.0), Length::from_mm(400.0)).unwrap();
    let standing = Standing::new(&section, side, &saw, &mean_person());
    let (out, direction_rad) = if side == Side::Near { (-1.0, 0.0) } else { (1.0, PI) };
    let stance = standing.look(Point::new(out * 0.32, 0.1), direction_rad).unwrap();
    standing.hold(&stance, hands)
}

#[test]
fn law_a_hold_costs_the_same_on_either_side_of_the_log() {
    let hands = Hands { front: Force::from_n(95.0), rear: Force::from_n(-12.0) };
    let holder = mean_person().holder().unwrap();
    let [near, far] =
        [Side::Near, Side::Far].map(|side| hold_cost(&holder, &hold_from(side, &hands)).unwrap());
    for place in Place::ARMS {
        let (near, far) = (near.joint(place).unwrap(), far.joint(place).unwrap());
        assert_abs_diff_eq!(near.moment.as_n_m(), far.moment.as_n_m(), epsilon = 1e-6);
        assert_abs_diff_eq!(near.strength.as_n_m(), far.strength.as_n_m(), epsilon = 1e-6);
    }
    assert_abs_diff_eq!(near.back.share.unwrap(), far.back.share.unwrap(), epsilon = 1e-8);
    assert!(near.front.shoulder.moment > Torque::ZERO, "the grip is ahead: {near:?}");
}

proptest! {
    #[test]
    fn the_elbow_is_where_the_pose_has_it(distance_m in 0.2..0.59_f64, turn in -0.5..1.8_f64) {
        let body = Body::of(&mean_person());
        let grip = Vector::new(distance_m * turn.sin(), -distance_m * turn.cos());
        let posed = body.arm_to(grip.x, grip.y, 0.0).unwrap();
        let bent = mean_person().holder().unwrap().arm.bent(grip, 0.0).unwrap();
        assert_abs_diff_eq!(bent.elbow().x, posed.elbow.x, epsilon = 1e-10);
        assert_abs_diff_eq!(bent.elbow().y, posed.elbow.y, epsilon = 1e-10);
        assert_abs_diff_eq!(bent.flexion().as_rad(), posed.elbow_bend_rad, epsilon = 1e-10);
        assert_abs_diff_eq!(bent.upper_arm().as_rad(), posed.upper_arm_rad, epsilon = 1e-10);
    }
}
