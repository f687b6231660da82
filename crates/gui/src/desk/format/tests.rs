//! What numbers look like.

use super::uncertain::number_with;
use super::*;
use barpoise_core::units::{Force, Mass};

#[test]
fn zero_has_no_minus_and_negatives_have_a_real_one() {
    assert_eq!(angle(Angle::from_deg(-0.01)), "0.0°");
    assert_eq!(angle(Angle::from_deg(-3.0)), "−3.0°");
    assert_eq!(hang(Angle::from_deg(-3.0)), "3.0° nose up");
    assert_eq!(hang(Angle::from_deg(0.02)), "level");
}

#[test]
fn what_rounds_to_nothing_has_no_sign() {
    assert_eq!(plain(-0.04, 1), "0.0");
    assert_eq!(plain(-0.06, 1), "-0.1");
    assert_eq!(plain(-0.0, 0), "0");
    assert_eq!(plain(12.345, 2), "12.35");
}

#[test]
fn thousands_stand_apart() {
    assert_eq!(thousands(7), "7");
    assert_eq!(thousands(1000), "1\u{a0}000");
    assert_eq!(thousands(1_234_567), "1\u{a0}234\u{a0}567");
}

#[test]
fn decimals_follow_the_uncertainty() {
    let with = |value, uncertainty| number_with(value, uncertainty);
    assert_eq!(with(20.437, 0.7), "20.4 ± 0.7");
    assert_eq!(with(20.437, 0.13), "20.44 ± 0.13");
    assert_eq!(with(20.437, 0.299), "20.4 ± 0.3");
    assert_eq!(with(20.437, 0.098), "20.44 ± 0.10");
    assert_eq!(with(20.437, 0.0996), "20.44 ± 0.10");
    assert_eq!(with(497.6, 4.2), "498 ± 4");
    assert_eq!(with(497.6, 14.2), "498 ± 14");
    assert_eq!(with(-0.2, 9.7), "0 ± 10");
    assert_eq!(with(6.213_4, 0.041), "6.21 ± 0.04");
    assert_eq!(with(1.0, 0.0), "1.00 ± 0.00");
}

#[test]
fn known_values_follow_the_units_and_the_uncertainty() {
    let pounds = Units { length: LengthUnit::In, mass: MassUnit::Lb, force: ForceUnit::Lbf };
    assert_eq!(pounds.known(Dimension::Length, 0.566, 0.005), "22.28 ± 0.20 in");
    assert_eq!(pounds.known_hand(Force::from_lbf(-4.0), Force::from_lbf(0.5)), "4.0 ± 0.5 lb down");
    let units = Units::default();
    assert_eq!(units.known(Dimension::Angle, 0.356_77, 0.0126), "20.4 ± 0.7°");
    assert_eq!(units.known_value(Dimension::Mass, 8.0998, 0.05), "8.10 kg");
    assert_eq!(units.known_value(Dimension::Length, 0.05, 0.0), "50 mm");
    assert_eq!(as_typed(tidy(8.1 * 1.1 / 1.1), "kg"), "8.1 kg");
}

#[test]
fn pitch_reads_as_the_trade_writes_it() {
    assert_eq!(pitch(Length::from_in(0.375)), "3/8 in");
    assert_eq!(pitch(Length::from_in(0.25)), "1/4 in");
    assert_eq!(pitch(Length::from_in(0.325)), ".325 in");
    assert_eq!(pitch(Length::from_in(0.404)), ".404 in");
}

#[test]
fn units_follow_the_choice() {
    let pounds = Units { length: LengthUnit::In, mass: MassUnit::Lb, force: ForceUnit::Lbf };
    assert_eq!(pounds.length(Length::from_in(22.3)), "22.3 in");
    assert_eq!(pounds.mass(Mass::from_lb(19.0)), "19.0 lb");
    assert_eq!(pounds.hand(Force::from_lbf(-4.0)), "4.0 lb down");
    // What a scale shows comes first; who wants newtons has them.
    assert_eq!(Units::default().hand(Force::from_n(107.0)), "10.9 kg up");
    assert_eq!(Units::default().hand(Force::from_n(0.2)), "0.0 kg, rests");
    let newtons = Units { force: ForceUnit::N, ..Units::default() };
    assert_eq!(newtons.hand(Force::from_n(0.2)), "0 N, rests");
}
