//! What is said of a hold, word by word.

use super::super::cost::Holding;
use super::super::cost::hold_cost;
use super::super::cost::tests::{mean_holder, off_the_spikes};
use super::super::time::{Muscles, holding_time};
use super::*;
use crate::units::Torque;

fn joint(muscles: Muscles, share: f64) -> JointCost {
    let holding = holding_time(muscles, share).map(|time| Holding { share, time });
    JointCost { moment: Torque::from_n_m(70.0 * share), strength: Torque::from_n_m(70.0), holding }
}

const MAN: Strength = Strength::average(People::Men);

#[test]
fn a_shoulder_is_told_as_a_person_would() {
    assert_eq!(
        arm_words("shoulder", &joint(Muscles::Shoulder, 0.38), &MAN),
        "shoulder 38 % of an average man's strength, about 1½ minutes, half of people 1 to 2"
    );
    assert_eq!(
        arm_words("elbow", &joint(Muscles::Elbow, 0.6), &Strength::new(People::Women, 30.0).unwrap()),
        "elbow 60 % of the strength of a woman stronger than 30 in 100 women, about 55 seconds, half of people 35 \
         seconds to 1½ minutes"
    );
    assert_eq!(
        arm_words("shoulder", &joint(Muscles::Shoulder, 0.7), &MAN),
        "shoulder 70 % of an average man's strength, about 30 seconds, half of people 20 to 40"
    );
    assert_eq!(
        arm_words("shoulder", &joint(Muscles::Shoulder, 0.04), &MAN),
        "shoulder 4 % of an average man's strength, not what ends the hold"
    );
    assert_eq!(
        arm_words("shoulder", &joint(Muscles::Shoulder, 1.3), &MAN),
        "shoulder 130 % of an average man's strength, more than this strength"
    );
    assert_eq!(
        arm_words("rear hand's elbow", &joint(Muscles::Elbow, -0.1), &MAN),
        "rear hand's elbow works the other way, down or back: no strength is known to hold that against"
    );
    assert_eq!(
        arm_words("rear hand's elbow", &joint(Muscles::Elbow, -0.02), &MAN),
        "rear hand's elbow holds next to nothing"
    );
    assert_eq!(
        holding_time(Muscles::General, 0.5).unwrap().words(),
        "about 1½ minutes, how people differ is not given"
    );
}

#[test]
fn times_are_rounded_as_they_are_spoken() {
    for (seconds, said) in [
        (1.0, "about 5 seconds"),
        (14.9, "about 15 seconds"),
        (57.4, "about 55 seconds"),
        (57.6, "about 1 minute"),
        (74.0, "about 1 minute"),
        (76.0, "about 1½ minutes"),
        (152.6, "about 2½ minutes"),
        (284.0, "about 4½ minutes"),
        (299.0, "about 5 minutes"),
        (330.0, "about 6 minutes"),
        (599.0, "about 10 minutes"),
        (1004.0, "about 15 minutes"),
        (2916.0, "about 50 minutes"),
    ] {
        assert_eq!(about(seconds), said, "{seconds} s");
    }
}

#[test]
fn law_longer_never_sounds_shorter() {
    let heard = |tenths: u32| {
        let (number, unit) = spoken(f64::from(tenths) / 10.0);
        let whole: f64 = number.trim_end_matches('½').parse().unwrap();
        let count = whole + if number.ends_with('½') { 0.5 } else { 0.0 };
        if unit == "seconds" { count } else { count * 60.0 }
    };
    for tenths in 100..50_000 {
        assert!(heard(tenths) <= heard(tenths + 1), "at {tenths} tenths of a second");
    }
}

#[test]
fn a_back_is_told_with_its_lines_and_whose_part_is_whose() {
    let cost = hold_cost(&mean_holder(), &off_the_spikes(40.0, 1.0)).unwrap();
    let share = (100.0 * cost.back.share.unwrap()).round();
    let (body, saw) = cost.back.load.body_and_saw().unwrap();
    assert_eq!(
        back_words(&cost.back, &MAN),
        format!(
            "back {share} % of an average man's strength, disc {} the design line of 3400 N{}; {:.0} % of it is the \
             bent body, {:.0} % the saw: the bend costs more than the saw; no time is given for a back",
            if cost.back.load.compression.as_n() < 3400.0 { "under" } else { "over" },
            if cost.back.load.compression.as_n() < 3400.0 { "" } else { ", under the upper line of 6400 N" },
            100.0 * body,
            100.0 * saw
        )
    );
    let deep = hold_cost(&mean_holder(), &off_the_spikes(70.0, 1.0)).unwrap();
    assert!(back_words(&deep.back, &MAN).contains("measured from 20 to 60° of bend only"));
}

#[test]
fn all_lines_of_a_hold_and_the_one_that_ends_it() {
    let cost = hold_cost(&mean_holder(), &off_the_spikes(30.0, 1.0)).unwrap();
    let lines = hold_words(&cost, &MAN);
    assert_eq!(lines.len(), 5);
    assert!(lines[0].starts_with("front hand's shoulder "), "{lines:?}");
    assert!(lines[4].starts_with("back "), "{lines:?}");
    let first = ends_first_words(&cost, &MAN);
    assert_eq!(format!("front hand's {first}"), lines[0], "{lines:?}");
}
