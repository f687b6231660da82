//! A saw borne: against statics written out, its laws, and what it refuses.

use super::super::{Survey, hold};
use super::*;
use crate::file;
use crate::geometry::Point;
use crate::saw::solve;
use crate::section::{LogSection, Side};
use crate::units::{Force, Mass, STANDARD_GRAVITY_M_S2, Torque};
use approx::{assert_abs_diff_eq, assert_relative_eq};
use hold::People;
use nalgebra::Vector3;
use proptest::prelude::*;
use std::f64::consts::PI;

/// 1.756 m and 85.5 kg, the men's means of ANSUR II (Gordon et al. 2014, NATICK/TR-15/007).
fn mean_man() -> Person {
    let survey = Survey::Own { people: People::Men, mass: Mass::from_kg(85.5), arm: None, leg: None };
    Person::new(Length::from_m(1.756), survey).unwrap()
}

/// A saw with its grips 300 mm apart and 100 mm one above the other, its centre `ahead_m` of the front grip.
fn saw(kg: f64, ahead_m: f64) -> SawBody {
    let (front, rear) = (Point::new(-0.18, 0.16), Point::new(-0.48, 0.06));
    let centre = Point::new(front.x + ahead_m, 0.0);
    SawBody::from_polygons(&[], 0.0, front, rear).with_saw(Mass::from_kg(kg), centre)
}

/// A saw held level by the hands that hold it still.
fn held(person: &Person, saw: &SawBody) -> Result<Bearing, BearingError> {
    level(person, &saw.hands(Angle::ZERO)?, saw.rear_grip() - saw.front_grip())
}

fn level_with(kg: f64) -> Bearing {
    held(&mean_man(), &saw(kg, 0.1)).unwrap()
}

/// The moments of both arms' joints and of the back.
fn moments(bearing: &Bearing) -> [f64; 5] {
    let joint = |place| bearing.cost.joint(place).unwrap().moment;
    let [a, b, c, d] = Place::ARMS.map(joint);
    [a, b, c, d, bearing.cost.back.load.moment()].map(Torque::as_n_m)
}

#[test]
fn a_saw_held_level_has_the_statics_written_out() {
    // 9 kg, 100 mm ahead of the front grip, grips 300 mm apart: 4/3 of the weight in front, 1/3 pushed down behind.
    let bearing = level_with(9.0);
    let weight = 9.0 * STANDARD_GRAVITY_M_S2;
    assert_relative_eq!(bearing.hold.front.lift.as_n(), weight * 4.0 / 3.0, max_relative = 1e-12);
    assert_relative_eq!(bearing.hold.rear.lift.as_n(), -weight / 3.0, max_relative = 1e-12);
    // The front arm by cross products: links .1618 and .1793 of 1.756 m (survey; de Leva 1996), the elbow below the line
    // to the grip in the side view.
    let (a, b): (f64, f64) = (0.1618 * 1.756, 0.1793 * 1.756);
    let grip: Vector3<f64> = Vector3::new(0.3, -a, 0.2);
    let span = grip.norm();
    let along = (a * a + span * span - b * b) / (2.0 * span);
    let below = Vector3::new(grip.y, -grip.x, 0.0) / grip.x.hypot(grip.y);
    let elbow = grip / span * along + below * (a * a - along * along).sqrt();
    assert_relative_eq!(elbow.norm(), a, max_relative = 1e-12);
    assert_relative_eq!((grip - elbow).norm(), b, max_relative = 1e-12);
    let down = |n: f64| Vector3::new(0.0, -n, 0.0);
    let g = STANDARD_GRAVITY_M_S2;
    let (upper, fore, hand) = (0.0271 * 85.5 * g, 0.0162 * 85.5 * g, 0.0061 * 85.5 * g);
    let fore_at = elbow + 0.4574 * 0.1545 / 0.1793 * (grip - elbow);
    let carried = weight * 4.0 / 3.0;
    let about_shoulder =
        (0.5772 * elbow).cross(&down(upper)) + fore_at.cross(&down(fore)) + grip.cross(&down(hand + carried));
    // About the level line square to the upright plane through shoulder and grip.
    let axis = Vector3::new(grip.x, 0.0, grip.z).cross(&Vector3::y()).normalize();
    let shoulder = -about_shoulder.dot(&axis);
    assert_abs_diff_eq!(bearing.cost.front.shoulder.moment.as_n_m(), shoulder, epsilon = 1e-9);
    // Upright the back holds what is ahead of it, and nothing of the trunk: saw and arms.
    let rear_x = 0.3 - 0.3;
    let saw_moment = carried * 0.3 - weight / 3.0 * rear_x;
    assert_relative_eq!(bearing.cost.back.load.saw.as_n_m(), saw_moment, max_relative = 1e-9);
    assert_abs_diff_eq!(bearing.cost.back.load.bend.as_n_m(), 0.0, epsilon = 1e-12);
}

#[test]
fn a_saw_of_no_weight_leaves_the_arms_own() {
    let empty = level_with(0.0);
    assert_eq!(empty.hold.front.lift, Force::ZERO);
    assert_abs_diff_eq!(empty.hold.rear.lift.as_n(), 0.0, epsilon = 1e-12);
    let arm = mean_man().holder().unwrap().arm;
    for (cost, hand) in [(&empty.cost.front, &empty.hold.front), (&empty.cost.rear, &empty.hold.rear)] {
        let own = arm.moments(&arm.bent(hand.to_grip, hand.sideways.as_m()).unwrap(), Force::ZERO);
        assert_abs_diff_eq!(cost.shoulder.moment.as_n_m(), own.shoulder.as_n_m(), epsilon = 1e-12);
        assert_abs_diff_eq!(cost.elbow.moment.as_n_m(), own.elbow.as_n_m(), epsilon = 1e-12);
    }
    assert_eq!(empty.words(), "neither shoulder nor elbow ends this hold");
}

#[test]
fn a_bent_man_with_no_saw_holds_his_own_trunk() {
    // Computed outside from de Leva 1996: 1.756 m, 85.5 kg, bent 40°, arms hanging: 90.4 N·m.
    let (standing, stance) = beside_a_log(Side::Near, &saw(0.0, 0.1));
    let bent = Stance { bend_rad: 40.0_f64.to_radians(), ..stance };
    let bearing = standing.bearing(&mean_man(), &bent, 0.0).unwrap();
    assert_abs_diff_eq!(bearing.cost.back.load.bend.as_n_m(), 90.4, epsilon = 0.05);
    assert_eq!(bearing.cost.back.load.saw, Torque::ZERO);
}

/// Beside a log of 560 mm, 400 mm over the ground, the saw level with its spikes near the top.
fn beside_a_log(side: Side, saw: &SawBody) -> (Standing, Stance) {
    let section = LogSection::round(Length::from_mm(560.0), Length::from_mm(400.0)).unwrap();
    let standing = Standing::new(&section, side, saw, &mean_man());
    let (out, direction_rad) = if side == Side::Near { (-1.0, 0.0) } else { (1.0, PI) };
    let stance = standing.look(Point::new(out * 0.32, 0.1), direction_rad).unwrap();
    (standing, stance)
}

#[test]
fn a_saw_borne_beside_a_log_weighs_as_it_does_at_that_pitch_from_either_side() {
    let yard = file::demo().unwrap();
    let setup = yard.setup("Bittern B24").unwrap();
    let solved = solve(setup);
    let body = SawBody::of_setup(setup, &solved);
    assert_relative_eq!(body.mass_kg(), solved.ready_mass().as_kg(), max_relative = 1e-12);
    for pitch_deg in [-40.0, 0.0, 25.0] {
        let pitch = Angle::from_deg(pitch_deg);
        let (ours, solved) = (body.hands(pitch).unwrap(), solved.hands_at(pitch).unwrap());
        assert_relative_eq!(ours.front.as_n(), solved.front.as_n(), max_relative = 1e-9);
        assert_abs_diff_eq!(ours.rear.as_n(), solved.rear.as_n(), epsilon = 1e-9);
    }
    let [near, far] = [(Side::Near, 0.2), (Side::Far, PI - 0.2)].map(|(side, direction_rad)| {
        let (standing, stance) = beside_a_log(side, &body);
        standing.bearing(&mean_man(), &stance, direction_rad).unwrap()
    });
    let weight = near.hold.front.lift + near.hold.rear.lift;
    assert_relative_eq!(weight.as_n(), solved.weight().as_n(), max_relative = 1e-12);
    for (near, far) in moments(&near).into_iter().zip(moments(&far)) {
        assert_abs_diff_eq!(near, far, epsilon = 1e-6);
    }
}

#[test]
fn the_shoulder_of_the_front_hand_ends_holding_a_big_saw_level() {
    let yard = file::demo().unwrap();
    let held = |name: &str, person: &Person| {
        let bearing = held_level(person, &solve(yard.setup(name).unwrap())).unwrap();
        let (place, holding) = bearing.cost.ends_first().unwrap();
        assert_eq!(place, Place::FrontShoulder, "{name}");
        assert!(bearing.words().starts_with("shoulder "), "{}", bearing.words());
        (holding.share, bearing.cost.front.shoulder.moment)
    };
    let (man, woman) = (Person::default(), Person::new(Length::from_mm(1628.5), Survey::Women).unwrap());
    let ((long, man_long), (short, man_short)) = (held("Bittern B24", &man), held("Bittern B18", &man));
    assert!(long > short, "{long} {short}");
    // The hand is as far ahead of either shoulder: between two saws the moment differs alike, whoever holds them.
    let ((hers, woman_long), (_, woman_short)) = (held("Bittern B24", &woman), held("Bittern B18", &woman));
    assert!(hers > long, "{hers} {long}");
    let (his_more, her_more) = (man_long - man_short, woman_long - woman_short);
    assert_relative_eq!(his_more.as_n_m(), her_more.as_n_m(), max_relative = 1e-9);
}

#[test]
fn a_saw_too_heavy_to_hold_is_said_to_be_and_a_common_one_is_not() {
    assert!(!level_with(6.0).is_beyond_strength());
    // Ten times as heavy.
    let heavy = level_with(60.0);
    assert!(
        heavy.is_beyond_strength() && heavy.words().contains("more than this strength"),
        "{}",
        heavy.words()
    );
}

#[test]
fn grips_in_one_plumb_line_and_arms_too_short_are_refused() {
    let upright = Point::new(-0.18, 0.06);
    let one_line = SawBody::from_polygons(&[], 0.0, Point::new(-0.18, 0.16), upright);
    let error = held(&mean_man(), &one_line.with_saw(Mass::from_kg(8.0), Point::origin())).unwrap_err();
    assert_eq!(error, BearingError::Hands(HandsError::GripsInOnePlumbLine));
    let long = SawBody::from_polygons(&[], 0.0, Point::new(-0.18, 0.16), Point::new(-1.2, 0.06));
    let error = held(&mean_man(), &long.with_saw(Mass::from_kg(8.0), Point::origin())).unwrap_err();
    assert!(error.to_string().starts_with("rear hand: arm too short by"), "{error}");
}

proptest! {
    #[test]
    fn law_every_moment_is_linear_in_the_saw_s_mass(kg in 0.0..30.0_f64, ahead_m in -0.1..0.3_f64) {
        let at = |kg| moments(&held(&mean_man(), &saw(kg, ahead_m)).unwrap());
        for ((none, one), some) in at(0.0).into_iter().zip(at(1.0)).zip(at(kg)) {
            assert_abs_diff_eq!(none + kg * (one - none), some, epsilon = 1e-9);
        }
    }

    #[test]
    fn law_a_stronger_person_holds_a_smaller_share(weak in 1.0..90.0_f64, more in 0.5..9.0_f64) {
        let share = |percentile| {
            let person = mean_man().with_strength_percentile(percentile).unwrap();
            held(&person, &saw(9.0, 0.1)).unwrap().cost.front.shoulder.holding.unwrap().share
        };
        prop_assert!(share(weak + more) < share(weak));
    }
}
