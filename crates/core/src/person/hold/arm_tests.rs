//! The arm against closed forms, plain sums and virtual work.

use super::*;
use approx::{assert_abs_diff_eq, assert_relative_eq};
use nalgebra::{Rotation3, Unit};
use proptest::prelude::*;

/// Mean man of ANSUR II (Gordon et al. 2014, NATICK/TR-15/007): stature m, mass kg.
const STATURE_M: f64 = 1.756;
const MASS_KG: f64 = 85.5;

/// His arm by de Leva 1996, J. Biomech. 29(9):1223–1230, Table 4 (as quoted by others): elbow to grip .1793 of the
/// stature, the forearm's centre at .4574 of a forearm of .1545.
pub fn mean_arm() -> Arm {
    let upper_m = 0.1618 * STATURE_M;
    let upper = (upper_m, 0.0271 * MASS_KG, 0.5772 * upper_m);
    let fore = (0.1793 * STATURE_M, 0.0162 * MASS_KG, 0.4574 * 0.1545 * STATURE_M);
    Arm::new(upper, fore, 0.0061 * MASS_KG).unwrap()
}

fn bent(ahead_m: f64, up_m: f64, sideways_m: f64) -> BentArm {
    mean_arm().bent(Vector::new(ahead_m, up_m), sideways_m).unwrap()
}

#[test]
fn a_grip_ahead_and_below_bends_the_elbow_as_the_closed_form_says() {
    // Closed form, worked to the digits shown: H 1.756 m, grip .45 m ahead and .25 m below the shoulder.
    let arm = bent(0.45, -0.25, 0.0);
    assert_abs_diff_eq!(arm.flexion().as_deg(), 61.58, epsilon = 0.005);
    assert_abs_diff_eq!(arm.upper_arm().as_deg(), 28.40, epsilon = 0.005);
    assert_abs_diff_eq!(arm.elbow().x, 0.1351, epsilon = 0.000_05);
    assert_abs_diff_eq!(arm.elbow().y, -0.2499, epsilon = 0.000_05);
}

#[test]
fn a_straight_level_arm_carries_itself() {
    // Closed form, worked to the digits shown: 85.5 kg, 1.756 m → 12.33 and 3.30 N·m.
    let arm = mean_arm();
    let straight = arm.bent(Vector::new(arm.straight_m(), 0.0), 0.0).unwrap();
    let moments = arm.moments(&straight, Force::ZERO);
    assert_abs_diff_eq!(straight.flexion().as_rad(), 0.0, epsilon = 1e-7);
    assert_abs_diff_eq!(moments.shoulder.as_n_m(), 12.33, epsilon = 0.005);
    assert_abs_diff_eq!(moments.elbow.as_n_m(), 3.30, epsilon = 0.005);
}

#[test]
fn forty_newtons_ahead_and_below_ask_what_the_closed_form_says() {
    // Closed form, worked to the digits shown: as the grip above with 40 N → 25.60 and 15.89 N·m.
    let moments = mean_arm().moments(&bent(0.45, -0.25, 0.0), Force::from_n(40.0));
    assert_abs_diff_eq!(moments.shoulder.as_n_m(), 25.60, epsilon = 0.005);
    assert_abs_diff_eq!(moments.elbow.as_n_m(), 15.89, epsilon = 0.005);
}

#[test]
fn an_elbow_bends_one_way() {
    let below = bent(0.4, 0.0, 0.0).elbow();
    assert!(below.y < 0.0, "below a grip ahead: {below}");
    let behind = bent(0.0, -0.4, 0.0).elbow();
    assert!(behind.x < 0.0, "behind a grip that hangs: {behind}");
    let ahead = bent(0.0, 0.4, 0.0).elbow();
    assert!(ahead.x > 0.0, "ahead of a grip overhead: {ahead}");
}

#[test]
fn a_load_aside_counts_with_its_whole_level_distance() {
    // A weightless arm: 100 N at .3 m ahead and .2 m aside hang .3606 m from the shoulder, .3 m ahead of it.
    let arm = Arm::new((0.3, 0.0, 0.1), (0.3, 0.0, 0.1), 0.0).unwrap();
    let bent = arm.bent(Vector::new(0.3, -0.25), 0.2).unwrap();
    let moments = arm.moments(&bent, Force::from_n(100.0));
    assert_abs_diff_eq!(moments.shoulder.as_n_m(), 36.06, epsilon = 0.005);
    assert_abs_diff_eq!(moments.forward.as_n_m(), 30.0, epsilon = 1e-12);
}

#[test]
fn a_hand_that_pushes_down_takes_load_off_the_arm_and_turns_the_moment() {
    let arm = mean_arm();
    let pushing = arm.moments(&bent(0.45, -0.25, 0.0), Force::from_n(-60.0));
    assert!(pushing.shoulder < Torque::ZERO && pushing.elbow < Torque::ZERO, "{pushing:?}");
}

#[test]
fn a_grip_out_of_reach_says_by_how_much() {
    let arm = mean_arm();
    let far = arm.bent(Vector::new(arm.straight_m() + 0.05, 0.0), 0.0);
    assert!(matches!(far, Err(OutOfReach::TooFar(by)) if (by - 0.05).abs() < 1e-12), "{far:?}");
    assert_eq!(far.unwrap_err().to_string(), "arm too short by 50 mm");
    let sideways = arm.bent(Vector::new(arm.straight_m(), 0.0), 0.2);
    assert!(matches!(sideways, Err(OutOfReach::TooFar(_))), "{sideways:?}");
    assert!(matches!(arm.bent(Vector::zeros(), 0.0), Err(OutOfReach::TooNear(_))));
    let beside = arm.bent(Vector::zeros(), 0.3).unwrap();
    assert!(beside.elbow().y < 0.0, "{beside:?}");
    for odd in [f64::NAN, f64::INFINITY] {
        assert_eq!(arm.bent(Vector::new(odd, 0.0), 0.0), Err(OutOfReach::NotANumber));
        assert_eq!(arm.bent(Vector::new(0.3, 0.0), odd), Err(OutOfReach::NotANumber));
    }
}

#[test]
fn an_arm_that_is_none_is_refused_with_every_fault() {
    let faults = Arm::new((0.0, 2.0, 0.1), (0.3, f64::NAN, 0.4), -1.0).unwrap_err();
    let paths: Vec<_> = faults.iter().map(|fault| fault.path.as_str()).collect();
    assert_eq!(
        paths,
        ["upper_arm_length_mm", "upper_arm_centre", "forearm_mass_kg", "forearm_centre", "hand_mass_kg"]
    );
}

/// A grip that the mean arm reaches, by its distance, its direction in the side view and its sideways offset, and a
/// force.
fn reached() -> impl Strategy<Value = (Vector, f64, f64)> {
    (0.21..0.59_f64, -3.1..3.1_f64, -0.2..0.2_f64, -80.0..120.0_f64).prop_map(
        |(distance_m, turn, sideways_m, lift_n)| {
            let flat_m = (distance_m * distance_m - sideways_m * sideways_m).sqrt();
            (Vector::new(flat_m * turn.sin(), -flat_m * turn.cos()), sideways_m, lift_n)
        },
    )
}

/// Weights in N and the places they hang at, written out: upper arm, forearm, hand, and the saw's load at the grip.
fn weights(elbow: Vector3<f64>, grip: Vector3<f64>, lift_n: f64) -> [(f64, Vector3<f64>); 4] {
    const G: f64 = 9.806_65;
    let fore_share = 0.4574 * 0.1545 / 0.1793;
    [
        (0.0271 * 85.5 * G, 0.5772 * elbow),
        (0.0162 * 85.5 * G, elbow + fore_share * (grip - elbow)),
        (0.0061 * 85.5 * G, grip),
        (lift_n, grip),
    ]
}

fn torque(about: Vector3<f64>, weights: &[(f64, Vector3<f64>)]) -> Vector3<f64> {
    weights.iter().map(|(weight_n, at)| (at - about).cross(&Vector3::new(0.0, -weight_n, 0.0))).sum()
}

proptest! {
    #[test]
    fn law_the_links_keep_their_lengths((to_grip, sideways_m, _) in reached()) {
        let bent = mean_arm().bent(to_grip, sideways_m).unwrap();
        assert_relative_eq!(bent.elbow.norm(), 0.1618 * STATURE_M, max_relative = 1e-12);
        assert_relative_eq!((bent.grip - bent.elbow).norm(), 0.1793 * STATURE_M, max_relative = 1e-12);
        let cos = bent.elbow.normalize().dot(&(bent.grip - bent.elbow).normalize());
        assert_abs_diff_eq!(cos, bent.flexion_rad.cos(), epsilon = 1e-12);
    }

    #[test]
    fn the_moments_are_the_cross_products_of_all_weights((to_grip, sideways_m, lift_n) in reached()) {
        let arm = mean_arm();
        let bent = arm.bent(to_grip, sideways_m).unwrap();
        let moments = arm.moments(&bent, Force::from_n(lift_n));
        let hung = weights(bent.elbow, bent.grip, lift_n);
        let shoulder = torque(Vector3::zeros(), &hung);
        // Muscles hold against the weights. All of them pull straight down, so their torque lies level; raising the arm
        // towards the grip turns about the level line square to the upright plane of the grip.
        let raising = bent.grip.cross(&Vector3::y()).normalize();
        assert_abs_diff_eq!(moments.shoulder.as_n_m(), -shoulder.dot(&raising), epsilon = 1e-9);
        assert_abs_diff_eq!(moments.forward.as_n_m(), -shoulder.z, epsilon = 1e-10);
        let elbow = torque(bent.elbow, &hung[1..]);
        // The axis from the links themselves: it turns the forearm on, the way from upper arm to forearm.
        let axis = bent.elbow.cross(&(bent.grip - bent.elbow)).normalize();
        assert_abs_diff_eq!(moments.elbow.as_n_m(), -elbow.dot(&axis), epsilon = 1e-8);
    }

    #[test]
    fn the_moments_are_the_work_of_a_small_turn((to_grip, sideways_m, lift_n) in reached()) {
        // Virtual work: the work against all weights over the angle turned, by central differences. With 1e-5 rad the
        // cut-off is some 1e-10 of the energy and the rounding some 1e-11 / 1e-5.
        const TURN: f64 = 1e-5;
        let arm = mean_arm();
        let bent = arm.bent(to_grip, sideways_m).unwrap();
        let moments = arm.moments(&bent, Force::from_n(lift_n));
        let height_energy = |elbow, grip| -> f64 {
            weights(elbow, grip, lift_n).iter().map(|(weight_n, at)| weight_n * at.y).sum()
        };
        let raising = Unit::new_normalize(bent.grip.cross(&Vector3::y()));
        let raised = |turn: f64| {
            let rotation = Rotation3::from_axis_angle(&raising, turn);
            height_energy(rotation * bent.elbow, rotation * bent.grip)
        };
        let axis = Unit::new_normalize(bent.elbow.cross(&(bent.grip - bent.elbow)));
        let flexed = |turn: f64| {
            let rotation = Rotation3::from_axis_angle(&axis, turn);
            height_energy(bent.elbow, bent.elbow + rotation * (bent.grip - bent.elbow))
        };
        let slope = |energy: &dyn Fn(f64) -> f64| (energy(TURN) - energy(-TURN)) / (2.0 * TURN);
        assert_abs_diff_eq!(moments.shoulder.as_n_m(), slope(&raised), epsilon = 1e-6);
        assert_abs_diff_eq!(moments.elbow.as_n_m(), slope(&flexed), epsilon = 1e-6);
    }

    #[test]
    fn law_moments_are_linear_in_the_hands_force((to_grip, sideways_m, lift_n) in reached(), factor in -3.0..3.0_f64) {
        let arm = mean_arm();
        let bent = arm.bent(to_grip, sideways_m).unwrap();
        let at = |lift_n: f64| arm.moments(&bent, Force::from_n(lift_n));
        let (empty, one, more) = (at(0.0), at(lift_n), at(factor * lift_n));
        for (empty, one, more) in [
            (empty.shoulder, one.shoulder, more.shoulder),
            (empty.elbow, one.elbow, more.elbow),
            (empty.forward, one.forward, more.forward),
        ] {
            let linear = empty + (one - empty) * factor;
            assert_abs_diff_eq!(linear.as_n_m(), more.as_n_m(), epsilon = 1e-10);
        }
    }

    #[test]
    fn law_the_side_of_the_body_changes_nothing((to_grip, sideways_m, lift_n) in reached()) {
        let arm = mean_arm();
        let of = |sideways_m| arm.moments(&arm.bent(to_grip, sideways_m).unwrap(), Force::from_n(lift_n));
        let (left, right) = (of(sideways_m), of(-sideways_m));
        assert_abs_diff_eq!(left.shoulder.as_n_m(), right.shoulder.as_n_m(), epsilon = 1e-12);
        assert_abs_diff_eq!(left.elbow.as_n_m(), right.elbow.as_n_m(), epsilon = 1e-12);
        assert_abs_diff_eq!(left.forward.as_n_m(), right.forward.as_n_m(), epsilon = 1e-12);
    }
}
