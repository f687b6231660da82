//! The words of the rack: whole sentences, with their sources, read back as they are shown.

use super::*;
use crate::desk::format::{ForceUnit, LengthUnit, MassUnit};
use barpoise_core::file::demo;
use barpoise_core::rack::{
    CheckKind, Preferences, Thresholds, WorkRates, buyable, choose, contenders, loops_to_order, pairs,
    purchases, sensitivity,
};
use std::ops::ControlFlow;

fn found(wood: &Wood) -> Vec<Contender> {
    let go_on = &mut |_| ControlFlow::Continue(());
    let yard = demo().unwrap();
    contenders(yard.setups(), wood, &WorkRates::default(), &Thresholds::default(), go_on).unwrap()
}

#[test]
fn every_wood_of_the_demo_gets_whole_sentences() {
    let (yard, units) = (demo().unwrap(), Units::default());
    let (rates, thresholds) = (WorkRates::default(), Thresholds::default());
    for wood in yard.woods() {
        let found = found(wood);
        let bound = Limit { measure: Measure::FrontHand, bound: 100.0 };
        let preferences = Preferences { limits: vec![bound], ..Preferences::default() };
        let chosen = choose(&found, &preferences);
        let told = Told {
            units,
            yard: &yard,
            wood,
            contenders: &found,
            choice: &chosen,
            preferences: &preferences,
            thresholds: &thresholds,
            rates: &rates,
        };
        let mut said = told.sentences();
        assert_eq!(said.len(), 3, "three sentences: {said:?}");
        said.extend(told.trade_offs());
        said.extend(sensitivity(&found, &preferences, &chosen).iter().map(|one| told.turn(one)));
        said.push(pair(&told, pairs(&found, wood, &rates, &preferences, &chosen, None).first()));
        assert!(said.len() > 8);
        for sentence in &said {
            assert!(sentence.ends_with('.') && !sentence.contains("NaN"), "{sentence}");
            assert!(!sentence.contains("  ") && !sentence.contains("inf "), "{sentence}");
        }
        for (_, reasons) in &chosen.refused {
            assert!(refused(units, reasons).starts_with("out, "));
        }
    }
    let order = loop_order(Units::default(), &loops_to_order(&yard)[0]);
    assert!(order.contains(" drive links, 3/8 in, 1.5 mm, "), "{order}");
}

#[test]
fn what_to_buy_is_a_length_that_is_sold_with_its_loop() {
    let (yard, units) = (demo().unwrap(), Units::default());
    let (rates, thresholds, preferences) =
        (WorkRates::default(), Thresholds::default(), Preferences::default());
    let wood = yard.wood("Larch stems").unwrap();
    let found = found(wood);
    let choice = choose(&found, &preferences);
    let go_on = &mut |_| ControlFlow::Continue(());
    let bars = buyable(&yard, wood, &rates, &thresholds, go_on).unwrap();
    let told = Told {
        units,
        yard: &yard,
        wood,
        contenders: &found,
        choice: &choice,
        preferences: &preferences,
        thresholds: &thresholds,
        rates: &rates,
    };
    let all = purchases(&bars, &found, &choice, &preferences, None);
    assert!(!all.is_empty());
    for one in &all {
        let said = buy(&told, &bars, one).unwrap();
        assert!(said.contains(" in bar on ") && said.contains("loop of "), "{said}");
        assert!(said.ends_with('.'), "{said}");
    }
}

#[test]
fn thresholds_say_where_they_come_from() {
    let (yard, units) = (demo().unwrap(), Units::default());
    for one in found(&yard.woods()[0]) {
        for looked_at in one.fit.checks() {
            let said = check(units, looked_at);
            let source = if looked_at.kind == CheckKind::LongestBar { "a limit" } else { "our guess" };
            assert!(said.contains(source) && said.contains(looked_at.verdict.words()), "{said}");
        }
    }
}

#[test]
fn reasons_read_as_a_person_says_them() {
    let units = Units { force: ForceUnit::N, ..Units::default() };
    let limit = Limit { measure: Measure::FrontHand, bound: 109.0 };
    let said = broken(units, &Broken::Limit { limit, value: Some(131.2) });
    assert_eq!(said, "front hand 131 N, wanted at most 109 N");
    assert_eq!(broken(units, &Broken::DoesNotSuit(CheckKind::Oil)), "oil for the bar does not suit");
    assert_eq!(value(units, Measure::TangleTime, 2.46), "4.1 min in 100 cuts");
    assert_eq!(value(units, Measure::NoseOut, 0.218), "218 mm");
    assert_eq!(value(units, Measure::Effort, 0.029), "2.9\u{a0}% of what the arms can hold, each cut");
}

#[test]
fn law_what_is_shown_is_read_back() {
    let pounds = Units { length: LengthUnit::In, mass: MassUnit::Lb, force: ForceUnit::Lbf };
    for units in [Units::default(), pounds] {
        for measure in Measure::ALL {
            let typed = shown(units, measure, 0.37);
            let again = read(units, measure, &format!("{typed:.9}")).unwrap();
            assert!((again - 0.37).abs() < 1e-6, "{measure:?}: {again}");
            assert!((from_shown(units, measure, typed) - 0.37).abs() < 1e-12, "{measure:?}");
        }
    }
}
