//! The choice: laws of worth, and four woods in which the trade would know what to take.

#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "helpers of tests, outside a test function"
)]

use barpoise_checks::{Within, assert_close, bench_yard};
use barpoise_core::file::demo;
use barpoise_core::propose::{mark_proposed, propose_powerhead, unmark_proposed};
use barpoise_core::rack::{
    Anchors, Better, CheckKind, Contender, Measure, Otherwise, Preferences, Scales, Thresholds, Verdict,
    Wood, WorkRates, choose, contenders, fit_of, pairs,
};
use barpoise_core::record::{DiameterFile, HardnessFile, PartFile, StandFile, WoodFile};
use barpoise_core::units::Length;
use barpoise_core::{BarFamily, Setup, Yard, solve};
use proptest::prelude::*;
use std::ops::ControlFlow;
use std::sync::OnceLock;

fn file(diameters: &[(f64, u32)], tangled_share: f64, above_ground_mm: f64) -> WoodFile {
    let log = |(diameter_mm, cuts): &(f64, u32)| DiameterFile { diameter_mm: *diameter_mm, cuts: *cuts };
    WoodFile {
        name: "mix".into(),
        note: String::new(),
        diameters: diameters.iter().map(log).collect(),
        tangled_share,
        lifted_share: 0.0,
        stand: StandFile::OneSide,
        above_ground_mm,
        hardness: HardnessFile {
            name: "as anywhere".into(),
            cutting_energy_j_per_cm3: 60.0,
            source: "common practice".into(),
        },
    }
}

fn checked(file: &WoodFile) -> Wood {
    Wood::new(file, 0).unwrap()
}

fn through(setups: &[Setup], wood: &Wood, rates: &WorkRates) -> Vec<Contender> {
    contenders(setups, wood, rates, &Thresholds::default(), &mut |_| ControlFlow::Continue(())).unwrap()
}

/// The demo's setups over one of its woods, put through once.
fn butts() -> &'static Vec<Contender> {
    static FOUND: OnceLock<Vec<Contender>> = OnceLock::new();
    FOUND.get_or_init(|| {
        let yard = demo().unwrap();
        through(yard.setups(), yard.wood("Poplar butts").unwrap(), &WorkRates::default())
    })
}

fn names(found: &[Contender], preferences: &Preferences) -> Vec<String> {
    let choice = choose(found, preferences);
    choice.order.iter().map(|ranked| found[ranked.index].solved.setup.clone()).collect()
}

fn some_scales() -> impl Strategy<Value = Scales> {
    let each = (0.0_f64..10.0, 0.3_f64..3.0, 0.3_f64..3.0);
    proptest::collection::vec(each, Measure::ALL.len()).prop_map(|drawn| {
        let mut scales = Scales::default();
        for (measure, (weight, fine, bad)) in Measure::ALL.into_iter().zip(drawn) {
            scales.set_weight(measure, weight);
            let common = measure.common_anchors();
            if let Ok(anchors) = Anchors::new(measure, common.fine() * fine, common.bad() * bad) {
                scales.set_anchors(measure, anchors);
            }
        }
        scales
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn law_taking_setups_off_changes_the_order_of_no_others(
        scales in some_scales(), off in proptest::collection::vec(any::<bool>(), 8),
    ) {
        let preferences = Preferences { must_suit: false, scales, ..Preferences::default() };
        let all = butts();
        let kept: Vec<Contender> = all.iter().zip(off.iter().chain(std::iter::repeat(&false)))
            .filter(|(_, off)| !**off).map(|(one, _)| one.clone()).collect();
        let mut before = names(all, &preferences);
        before.retain(|name| kept.iter().any(|one| one.solved.setup == *name));
        prop_assert_eq!(before, names(&kept, &preferences));
    }

    #[test]
    fn law_what_is_better_in_everything_is_never_below(
        scales in some_scales(), by in proptest::collection::vec(0.0_f64..0.6, Measure::ALL.len()),
        first in any::<bool>(),
    ) {
        let preferences = Preferences { must_suit: false, scales, ..Preferences::default() };
        for one in butts() {
            let mut better = one.clone();
            for (measure, by) in Measure::ALL.into_iter().zip(&by) {
                let value = &mut better.values[measure.place()];
                *value = value.map(|value| match measure.better() {
                    Better::More => value * (1.0 + by) + by,
                    Better::Less => value * (1.0 - by),
                });
            }
            better.solved.setup = "better".to_owned();
            let both = if first { [better, one.clone()] } else { [one.clone(), better] };
            let order = choose(&both, &preferences).order;
            if order.len() == 2 && by.iter().any(|by| *by > 0.0) {
                let (top, other) = (&order[0], &order[1]);
                prop_assert!(both[top.index].solved.setup == "better" || (top.score - other.score).abs() <= 0.0);
            }
        }
    }

    #[test]
    fn law_a_measure_that_counts_nothing_is_not_looked_at(
        scales in some_scales(), which in 0_usize..Measure::ALL.len(), other in 0.0_f64..100.0,
    ) {
        let measure = Measure::ALL[which];
        let mut scales = scales;
        scales.set_weight(measure, 0.0);
        let preferences = Preferences { must_suit: false, scales, ..Preferences::default() };
        let mut changed = butts().clone();
        for (place, one) in changed.iter_mut().enumerate() {
            one.values[measure.place()] = (place % 2 == 0).then_some(other);
        }
        prop_assert_eq!(names(butts(), &preferences), names(&changed, &preferences));
    }
}

#[test]
fn law_twice_the_counts_change_nothing() {
    let yard = demo().unwrap();
    let once = file(&[(180.0, 7), (420.0, 12), (560.0, 5)], 0.6, 300.0);
    let mut twice = once.clone();
    twice.diameters.iter_mut().for_each(|log| log.cuts *= 2);
    let rates = WorkRates::default();
    let (a, b) =
        (through(yard.setups(), &checked(&once), &rates), through(yard.setups(), &checked(&twice), &rates));
    for (a, b) in a.iter().zip(&b) {
        for measure in Measure::ALL {
            let (x, y) = (a.value(measure), b.value(measure));
            assert_eq!(x.is_some(), y.is_some(), "{measure:?}");
            let what = format!("{} of {}", measure.words(), a.solved.setup);
            assert_close(what, x.unwrap_or(0.0), y.unwrap_or(0.0), Within::Relative(1e-12));
        }
    }
    assert_eq!(names(&a, &Preferences::default()), names(&b, &Preferences::default()));
}

#[test]
fn law_a_wood_is_the_mean_of_its_kinds() {
    let yard = demo().unwrap();
    let wood = yard.wood("Poplar butts").unwrap();
    let kinds: Vec<f64> = barpoise_core::rack::kinds(wood).map(|kind| kind.cuts / wood.cuts()).collect();
    for one in butts() {
        for measure in Measure::ALL {
            let Some(value) = one.value(measure) else { continue };
            let each = one.by_kind.iter().zip(&kinds);
            let mean: f64 = each.map(|(values, share)| share * values[measure.place()].unwrap()).sum();
            let what = format!("{} of {}", measure.words(), one.solved.setup);
            assert_close(what, mean, value, Within::Relative(1e-9));
        }
    }
}

#[test]
fn a_cut_not_done_costs_what_its_other_means_cost() {
    let yard = demo().unwrap();
    // No bar of the small head goes through 640 mm from one side.
    let wood = checked(&file(&[(200.0, 8), (640.0, 2)], 0.0, 300.0));
    let of = |otherwise: Otherwise| {
        let rates = WorkRates { otherwise, ..WorkRates::default() };
        let found = through(yard.setups(), &wood, &rates);
        let one = found.iter().find(|one| one.solved.setup == "Wren B14").unwrap().clone();
        (one.over.unwrap(), rates)
    };
    let (lying, rates) = of(Otherwise::LeftLying);
    assert_close("done", lying.done, 0.8, Within::Absolute(1e-12));
    assert_close("left", lying.left, 0.2, Within::Absolute(1e-12));
    assert_close("s", lying.otherwise_s, 2.0 * rates.left_lying_s, Within::Absolute(1e-9));
    let (by_other, rates) = of(Otherwise::OtherSaw("Bittern B30".to_owned()));
    let found = through(yard.setups(), &wood, &rates);
    let big = found.iter().find(|one| one.solved.setup == "Bittern B30").unwrap().over.as_ref().unwrap();
    assert_close("the big one does it", big.done, 1.0, Within::Absolute(1e-12));
    assert_close("left", by_other.left, 0.0, Within::Absolute(1e-12));
    assert_close("done by itself", by_other.done, 0.8, Within::Absolute(1e-12));
    assert_close("s", by_other.otherwise_s, 2.0 * rates.fetch_s, Within::Absolute(1e-9));
    assert!(by_other.cutting_s > lying.cutting_s && by_other.lifts_per_cut > lying.lifts_per_cut);
}

#[test]
fn a_pair_is_worth_no_less_than_its_parts_on_every_log() {
    let yard = demo().unwrap();
    let wood = checked(&file(&[(90.0, 80), (180.0, 40), (560.0, 8), (700.0, 6)], 0.5, 400.0));
    let (rates, preferences) = (WorkRates::default(), Preferences::default());
    let found = through(yard.setups(), &wood, &rates);
    let choice = choose(&found, &preferences);
    let all = pairs(&found, &wood, &rates, &preferences, &choice, None);
    assert!(!all.is_empty());
    assert!(all.windows(2).all(|pair| pair[0].score >= pair[1].score));
    for pair in &all {
        let one_head = found[pair.setups[0]].head == found[pair.setups[1]].head;
        assert_eq!(pair.swaps, one_head);
        let swap_s = if one_head { rates.swap_bar_s * rates.swaps_per_100 / 100.0 } else { 0.0 };
        assert_close("swap", pair.swap_s_per_cut, swap_s, Within::Absolute(1e-12));
        let takes = barpoise_core::rack::kinds(&wood).zip(&pair.first_takes);
        let first: f64 = takes.filter(|(_, takes)| **takes).map(|(kind, _)| kind.cuts).sum();
        assert_close("share", pair.share_of_first, first / wood.cuts(), Within::Absolute(1e-12));
    }
    // Thick ones to the big head, thin ones to the small.
    let best = &all[0];
    assert_eq!(found[best.setups[1]].head, "Wren");
    assert_eq!(found[best.setups[0]].head, "Bittern");
    assert!(best.gain > 0.0, "{best:?}");
}

#[test]
fn trading_follows_from_weights_and_scales() {
    // 2 for 98 N against 1 for 3 lifts: a newton is 0.0204, a lift 0.333.
    let mut scales = Scales::nothing();
    scales.set_weight(Measure::FrontHand, 2.0);
    scales.set_anchors(Measure::FrontHand, Anchors::new(Measure::FrontHand, 50.0, 148.0).unwrap());
    scales.set_weight(Measure::Lifts, 1.0);
    scales.set_anchors(Measure::Lifts, Anchors::new(Measure::Lifts, 1.0, 4.0).unwrap());
    let lifts = scales.trade(Measure::FrontHand, Measure::Lifts).unwrap();
    assert_close("lifts for a newton", lifts, 2.0 / 98.0 * 3.0, Within::Relative(1e-12));
    assert_eq!(scales.trade(Measure::FrontHand, Measure::Time), None);
    assert!(Anchors::new(Measure::Lifts, 4.0, 1.0).unwrap_err().message.contains("lies below"));
    assert!(Anchors::new(Measure::Done, 0.5, 0.5).is_err());
    assert!(Anchors::new(Measure::Time, f64::NAN, 1.0).is_err());
}

/// Bars of the big head in every length from 14 to 36 in, and the small head's own.
fn long_rack(yard: &Yard) -> Vec<Setup> {
    let family = BarFamily::new(yard.setup("Bittern B24").unwrap(), yard.bars());
    let made = [16.0, 20.0, 32.0, 36.0].map(|inches| family.marked(Length::from_in(inches)).unwrap());
    yard.setups().iter().cloned().chain(made).collect()
}

fn marked_in(found: &[Contender], name: &str) -> f64 {
    found.iter().find(|one| one.solved.setup == name).unwrap().marked.as_in()
}

// The four choices that follow are what the trade does: common practice, no source.

#[test]
fn limb_wood_in_crowns_takes_a_short_bar_of_the_big_head() {
    let yard = demo().unwrap();
    let limbs = [(50.0, 30), (100.0, 40), (150.0, 40), (200.0, 30), (280.0, 20), (400.0, 6), (600.0, 2)];
    let setups: Vec<Setup> =
        long_rack(&yard).into_iter().filter(|setup| setup.powerhead().name() == "Bittern").collect();
    let wood = checked(&WoodFile { lifted_share: 0.3, ..file(&limbs, 0.8, 600.0) });
    let found = through(&setups, &wood, &WorkRates::default());
    let order = names(&found, &Preferences { must_suit: false, ..Preferences::default() });
    assert!(marked_in(&found, &order[0]) <= 18.0, "{order:?}");
    let marks: Vec<f64> = order.iter().map(|name| marked_in(&found, name)).collect();
    let (short, long): (Vec<usize>, Vec<usize>) = (0..marks.len()).partition(|place| marks[*place] < 22.0);
    assert!(short.iter().all(|short| long.iter().all(|long| short < long)), "{order:?}: {marks:?}");
}

#[test]
fn thick_trunks_from_one_side_take_the_bar_that_reaches_and_its_pump_is_told() {
    // A head of 4.4 kW whose pump gives 18 mL/min at full power.
    let mut rack = bench_yard::yard_file(
        bench_yard::head(190.0),
        [(24.0, 84), (28.0, 95), (32.0, 105), (36.0, 115)]
            .map(|(inches, links)| bench_yard::bar(&format!("{inches:.0}"), inches, links, 6.0))
            .to_vec(),
    );
    rack.powerheads[0].longest_bar_in = None;
    let yard = bench_yard::checked(rack);
    let wood = checked(&file(&[(900.0, 5), (1000.0, 5)], 0.0, 100.0));
    let found = through(yard.setups(), &wood, &WorkRates::default());
    let order = names(&found, &Preferences::default());
    assert!((marked_in(&found, &order[0]) - 36.0).abs() < 0.5, "{order:?}");
    let winner = found.iter().find(|one| one.solved.setup == order[0]).unwrap();
    let oil = winner.fit.checks().iter().find(|check| check.kind == CheckKind::Oil).unwrap();
    assert_eq!(oil.verdict, Verdict::Marginal);
}

#[test]
fn hedge_poles_take_the_small_head_with_its_short_bar() {
    let yard = demo().unwrap();
    let poles = [(60.0, 60), (90.0, 80), (120.0, 50), (180.0, 15)];
    let wood = checked(&WoodFile { lifted_share: 0.9, ..file(&poles, 0.4, 900.0) });
    let found = through(&long_rack(&yard), &wood, &WorkRates::default());
    assert_eq!(names(&found, &Preferences::default())[0], "Wren B14");
}

#[test]
fn storm_butts_take_a_middling_bar_that_can_be_stood_to() {
    let yard = demo().unwrap();
    let logs = [(420.0, 6), (500.0, 12), (560.0, 10), (640.0, 7), (740.0, 5)];
    let wood = checked(&WoodFile { lifted_share: 0.05, ..file(&logs, 0.7, 250.0) });
    let found = through(&long_rack(&yard), &wood, &WorkRates::default());
    let order = names(&found, &Preferences::default());
    let inches = marked_in(&found, &order[0]);
    assert!((20.0..=28.0).contains(&inches), "{order:?}");
}

/// A head of the class that serves 32 in and is a little short of oil on 36 in comes out so with a proposed pump too, and a
/// proposed tank of oil lasts a proposed tank of fuel at full power.
#[test]
fn a_proposed_pump_serves_as_long_a_bar_as_a_stated_one() {
    let own = ["power_kw", "dry_mass_kg"];
    let mut part = PartFile::Powerhead(Box::new(bench_yard::head(190.0)));
    mark_proposed(&mut part, None);
    own.iter().for_each(|path| unmark_proposed(&mut part, path));
    let PartFile::Powerhead(mut head) = part else { unreachable!() };
    propose_powerhead(&mut head);
    head.spike_line_mm = 190.0;
    let at_power = head.pump_ml_per_min * head.power_rpm / head.pump_rpm;
    let verdict = |inches: f64, links: u32| {
        let mut head = bench_yard::head(190.0);
        head.pump_ml_per_min = at_power * head.pump_rpm / head.power_rpm;
        let yard = bench_yard::checked(bench_yard::yard_file(
            head,
            vec![bench_yard::bar("long", inches, links, 6.0)],
        ));
        let setup = &yard.setups()[0];
        let fit = fit_of(setup, &solve(setup), &Thresholds::default());
        fit.checks().iter().find(|check| check.kind == CheckKind::Oil).unwrap().verdict
    };
    assert_eq!(verdict(32.0, 105), Verdict::Suits);
    assert_eq!(verdict(36.0, 115), Verdict::Marginal);
    // 450 g/kWh at the tank's density, against the pump.
    let fuel_ml_min = head.power_kw * 450.0 / head.fuel_tank.density_kg_per_l / 60.0;
    let flows = at_power / fuel_ml_min;
    let tanks = head.oil_tank.capacity_l / head.fuel_tank.capacity_l;
    assert_close("oil to fuel, mL", flows, 0.4, Within::Absolute(0.03));
    assert_close("oil to fuel, tanks", tanks, 0.4, Within::Absolute(0.03));
    assert!(tanks >= flows, "the oil lasts the fuel: {tanks} and {flows}");
}
