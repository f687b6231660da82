//! A hold as a whole: its parts against the pieces, its laws, and what it refuses.

use super::super::arm::tests::mean_arm;
use super::super::back::tests::mean_man;
use super::super::strength::People;
use super::super::time::Endures;
use super::*;
use approx::{assert_abs_diff_eq, assert_relative_eq};
use proptest::prelude::*;

pub fn mean_holder() -> Holder {
    Holder { arm: mean_arm(), trunk: mean_man(), strength: Strength::average(People::Men) }
}

fn hand(ahead_m: f64, up_m: f64, sideways_mm: f64, lift_n: f64) -> HandHold {
    HandHold {
        to_grip: Vector::new(ahead_m, up_m),
        sideways: Length::from_mm(sideways_mm),
        lift: Force::from_n(lift_n),
    }
}

/// A saw of 85 N held off its spikes, nose-heavy: the rear hand pushes down.
pub fn off_the_spikes(bend_deg: f64, factor: f64) -> Hold {
    Hold {
        bend: Angle::from_deg(bend_deg),
        front: hand(0.42, -0.25, 50.0, 93.0 * factor),
        rear: hand(0.15, -0.40, 200.0, -8.0 * factor),
    }
}

fn cost(hold: &Hold) -> HoldCost {
    hold_cost(&mean_holder(), hold).unwrap()
}

#[test]
fn a_hold_has_the_moments_of_its_pieces() {
    // The front arm as in the closed form: 40 N, .45 m ahead, .25 m below → 25.60 and 15.89 N·m; upright, the upper arm
    // is 28.40° from the trunk and the elbow's inside angle 118.42°.
    let hold =
        Hold { bend: Angle::ZERO, front: hand(0.45, -0.25, 0.0, 40.0), rear: hand(0.1, -0.45, 0.0, 0.0) };
    let cost = cost(&hold);
    assert_abs_diff_eq!(cost.front.shoulder.moment.as_n_m(), 25.60, epsilon = 0.005);
    assert_abs_diff_eq!(cost.front.elbow.moment.as_n_m(), 15.89, epsilon = 0.005);
    let shoulder = 89.9 + (68.6 - 89.9) * 28.40 / 45.0;
    assert_abs_diff_eq!(cost.front.shoulder.strength.as_n_m(), shoulder, epsilon = 0.005);
    let elbow = 0.1913 * (336.29 + 1.544 * 118.42 - 0.0085 * 118.42 * 118.42 - 0.5 * 28.40);
    assert_abs_diff_eq!(cost.front.elbow.strength.as_n_m(), elbow, epsilon = 0.005);
    let holding = cost.front.shoulder.holding.unwrap();
    assert_relative_eq!(holding.share, 25.60 / shoulder, max_relative = 5e-4);
    // Upright the back holds what is ahead of it: 40 N at .45 m, the front arm's own 7.60, less what the rear elbow
    // behind the shoulder takes back.
    assert_relative_eq!(cost.back.load.saw.as_n_m(), 18.0, max_relative = 1e-12);
    let arms = cost.front.shoulder.moment.as_n_m() - 18.0 + cost.rear.shoulder.moment.as_n_m();
    assert_relative_eq!(cost.back.load.arms.as_n_m(), arms, max_relative = 1e-12);
    assert!(!cost.back.measured);
}

#[test]
fn the_back_has_the_moment_of_every_weight_about_the_disc() {
    // Plain sums: what hangs on each grip and each arm part, at its place ahead of the disc, and the trunk with hanging
    // arms by K (de Leva 1996), from which the arms' share is taken at the shoulder.
    const G: f64 = 9.806_65;
    let hold = off_the_spikes(40.0, 1.0);
    let cost = cost(&hold);
    let sine = 40.0_f64.to_radians().sin();
    let shoulder_m = 0.8 * 0.286 * 1.756 * sine;
    let arm_n = (0.0271 + 0.0162 + 0.0061) * 85.5 * G;
    let rest = 85.5 * G * 1.756 * 0.0955 * sine - 2.0 * arm_n * shoulder_m;
    let fore_share = 0.4574 * 0.1545 / 0.1793;
    let arm = |hand: &HandHold, arm: &ArmCost| {
        let (elbow, grip) = (arm.bent.elbow().x, hand.to_grip.x);
        [
            (0.0271 * 85.5 * G, 0.5772 * elbow),
            (0.0162 * 85.5 * G, elbow + fore_share * (grip - elbow)),
            (0.0061 * 85.5 * G + hand.lift.as_n(), grip),
        ]
        .iter()
        .map(|(weight_n, from_shoulder_m)| weight_n * (shoulder_m + from_shoulder_m))
        .sum::<f64>()
    };
    let whole = rest + arm(&hold.front, &cost.front) + arm(&hold.rear, &cost.rear);
    assert_relative_eq!(cost.back.load.moment().as_n_m(), whole, max_relative = 1e-12);
    assert_relative_eq!(cost.back.share.unwrap(), whole / 232.0, max_relative = 1e-12);
}

#[test]
fn the_bend_costs_more_than_the_saw() {
    let (body, saw) = cost(&off_the_spikes(45.0, 1.0)).back.load.body_and_saw().unwrap();
    assert!(body > 1.5 * saw, "{body} and {saw}");
}

#[test]
fn the_shoulder_of_the_front_hand_ends_a_nose_heavy_hold() {
    let cost = cost(&off_the_spikes(30.0, 1.0));
    let (place, holding) = cost.ends_first().unwrap();
    assert_eq!(place, Place::FrontShoulder);
    for other in Place::ARMS {
        let lasts =
            cost.joint(other).and_then(|joint| joint.holding).map_or(f64::INFINITY, |h| h.time.seconds());
        assert!(holding.time.seconds() <= lasts, "{other:?}");
    }
}

#[test]
fn a_hand_that_pushes_hard_has_no_share_and_does_not_end_the_hold() {
    let hold = Hold { rear: hand(0.35, -0.2, 200.0, -80.0), ..off_the_spikes(0.0, 0.1) };
    let cost = cost(&hold);
    assert!(cost.rear.shoulder.moment < Torque::ZERO);
    assert_eq!(cost.rear.shoulder.holding, None);
    assert_eq!(cost.rear.elbow.holding, None);
    assert!(
        cost.ends_first().is_none_or(|(place, _)| matches!(place, Place::FrontShoulder | Place::FrontElbow))
    );
}

#[test]
fn a_shoulder_has_no_share_for_a_hand_behind_it() {
    let hold = Hold { rear: hand(-0.15, -0.40, 50.0, 30.0), ..off_the_spikes(0.0, 1.0) };
    let behind = cost(&hold).rear;
    assert!(behind.shoulder.moment > Torque::ZERO && !behind.shoulder.is_slight(), "{behind:?}");
    assert_eq!(behind.shoulder.holding, None);
    assert!(behind.elbow.holding.is_some(), "the elbow still bends forward");
}

#[test]
fn a_moment_is_slight_to_either_side() {
    let with = |n_m: f64| JointCost {
        moment: Torque::from_n_m(n_m),
        strength: Torque::from_n_m(60.0),
        holding: None,
    };
    assert!(with(2.9).is_slight() && with(-2.9).is_slight());
    assert!(!with(3.1).is_slight() && !with(-3.1).is_slight() && !with(f64::NAN).is_slight());
}

#[test]
fn empty_hanging_arms_are_not_what_ends_a_hold() {
    let hanging = hand(0.0, -0.598, 0.0, 0.0);
    let cost = cost(&Hold { bend: Angle::ZERO, front: hanging, rear: hanging });
    assert_eq!(cost.ends_first(), None);
}

#[test]
fn beyond_the_strength_the_largest_share_ends_it_first() {
    let cost = cost(&off_the_spikes(60.0, 6.0));
    let (place, holding) = cost.ends_first().unwrap();
    assert_eq!(holding.time, HoldingTime::BeyondStrength);
    let shares: Vec<f64> = Place::ARMS
        .iter()
        .filter_map(|place| cost.joint(*place)?.holding)
        .map(|holding| holding.share)
        .chain(cost.back.share)
        .collect();
    assert!(shares.iter().all(|share| *share <= holding.share), "{place:?} {holding:?} of {shares:?}");
    // Arms that carry next to nothing, and a back that cannot: the back ends it.
    let mut back_only = cost;
    for arm in [&mut back_only.front, &mut back_only.rear] {
        let light =
            Some(Holding { share: 0.5, time: HoldingTime::Lasts(Endures { seconds: 50.0, half: None }) });
        arm.shoulder.holding = light;
        arm.elbow.holding = light;
    }
    back_only.back.share = Some(1.1);
    assert_eq!(back_only.ends_first().map(|(place, _)| place), Some(Place::Back));
}

#[test]
fn what_cannot_be_held_or_is_no_number_is_refused_by_name() {
    let good = off_the_spikes(30.0, 1.0);
    let far = Hold { front: hand(0.9, 0.0, 0.0, 10.0), ..good };
    let error = hold_cost(&mean_holder(), &far).unwrap_err();
    assert_eq!(error.to_string(), "front hand: arm too short by 301 mm");
    let near = Hold { rear: hand(0.0, 0.0, 0.0, 10.0), ..good };
    assert!(matches!(hold_cost(&mean_holder(), &near), Err(HoldError::Rear(OutOfReach::TooNear(_)))));
    for (hold, says) in [
        (Hold { bend: Angle::from_deg(f64::NAN), ..good }, "bend_deg: bend of the trunk NaN"),
        (Hold { front: hand(0.4, -0.2, 0.0, f64::INFINITY), ..good }, "front.lift_n"),
        (Hold { rear: hand(f64::NAN, -0.2, 0.0, 1.0), ..good }, "rear.ahead_mm"),
        (Hold { rear: hand(0.1, 9.0, 0.0, 1.0), ..good }, "rear.up_mm"),
        (Hold { rear: hand(0.1, -0.3, 2000.0, 1.0), ..good }, "rear.sideways_mm"),
    ] {
        let error = hold_cost(&mean_holder(), &hold).unwrap_err();
        assert!(matches!(error, HoldError::Fault(_)), "{error:?}");
        assert!(error.to_string().starts_with(says), "{error}");
    }
}

proptest! {
    #[test]
    fn law_every_moment_is_linear_in_the_hands_forces(bend in 0.0..70.0_f64, factor in -1.0..3.0_f64) {
        let moments = |factor: f64| {
            let cost = cost(&off_the_spikes(bend, factor));
            let arms = Place::ARMS.map(|place| cost.joint(place).unwrap().moment.as_n_m());
            (arms, cost.back.load.moment().as_n_m())
        };
        let (none, one, more) = (moments(0.0), moments(1.0), moments(factor));
        for at in 0..4 {
            let linear = none.0[at] + factor * (one.0[at] - none.0[at]);
            assert_abs_diff_eq!(linear, more.0[at], epsilon = 1e-10);
        }
        assert_abs_diff_eq!(none.1 + factor * (one.1 - none.1), more.1, epsilon = 1e-10);
    }

    #[test]
    fn law_shares_fall_as_the_percentile_rises(bend in 0.0..70.0_f64, weak in 1.0..90.0_f64, more in 0.5..9.0_f64) {
        let at = |percentile| {
            let holder = Holder { strength: Strength::new(People::Women, percentile).unwrap(), ..mean_holder() };
            hold_cost(&holder, &off_the_spikes(bend, 1.0)).unwrap()
        };
        let (weaker, stronger) = (at(weak), at(weak + more));
        for place in Place::ARMS {
            let (weaker, stronger) = (weaker.joint(place).unwrap(), stronger.joint(place).unwrap());
            assert_eq!(weaker.moment, stronger.moment);
            if let (Some(weaker), Some(stronger)) = (weaker.holding, stronger.holding) {
                prop_assert!(stronger.share < weaker.share);
                prop_assert!(stronger.time.seconds() >= weaker.time.seconds());
            }
        }
        prop_assert!(stronger.back.share < weaker.back.share);
    }
}
