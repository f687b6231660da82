//! The rack against a mix worked by hand, the same cuts by the log's own loads, brute force, and published figures.

#![expect(clippy::unwrap_used, reason = "helpers of tests, outside a test function")]

use barpoise_checks::{Within, assert_close, bench_yard};
use barpoise_core::file::demo;
use barpoise_core::log::{LogJob, LogSection, PhaseTimes, Stand, Workplace, carry, plan, saw_body};
use barpoise_core::rack::{
    Better, Change, CheckKind, Contender, Limit, Measure, OtherMeans, OverWood, Preferences, ReachTable,
    Sawing, Scales, Threshold, Thresholds, Wood, WorkRates, buyable, choose, contenders, contenders_by,
    fit_of, loops_to_order, over_wood, purchases, sensitivity,
};
use barpoise_core::record::{DiameterFile, HardnessFile, StandFile, WoodFile};
use barpoise_core::units::Length;
use barpoise_core::{BarFamily, Setup, Solved, Yard, cutting_bar, cutting_saw, solve};
use std::ops::ControlFlow;

fn wood(diameters: &[(f64, u32)]) -> WoodFile {
    WoodFile {
        name: "mix".into(),
        note: String::new(),
        diameters: diameters
            .iter()
            .map(|(diameter_mm, cuts)| DiameterFile { diameter_mm: *diameter_mm, cuts: *cuts })
            .collect(),
        tangled_share: 0.0,
        lifted_share: 0.0,
        stand: StandFile::OneSide,
        above_ground_mm: 600.0,
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

fn bench() -> Yard {
    bench_yard::checked(bench_yard::rack_file())
}

fn by_plan(yard: &Yard, wood: &Wood) -> Vec<Contender> {
    let go_on = &mut |_| ControlFlow::Continue(());
    contenders(yard.setups(), wood, &WorkRates::default(), &Thresholds::default(), go_on).unwrap()
}

/// A setup over a wood by plans that can be held.
fn over(setup: &Setup, wood: &Wood) -> OverWood {
    over_wood(setup, &solve(setup), wood, &WorkRates::default(), &OtherMeans::default()).unwrap()
}

/// What is done, and how, is what the log room's plan says, one diameter at a time.
#[test]
fn a_mix_is_done_as_the_log_room_plans_it() {
    let yard = demo().unwrap();
    let mut seen = [0; 4];
    for setup in [yard.setup("Bittern B24").unwrap(), yard.setup("Wren B14").unwrap()] {
        let (bar, body) = (cutting_bar(setup).unwrap(), saw_body(setup, &solve(setup)));
        for (diameter_mm, stand) in [
            (180.0, StandFile::OneSide),
            (420.0, StandFile::OneSide),
            (560.0, StandFile::BothSides),
            (640.0, StandFile::OneSide),
            (1400.0, StandFile::BothSides),
        ] {
            let mix = checked(&WoodFile { stand, above_ground_mm: 250.0, ..wood(&[(diameter_mm, 4)]) });
            let over = over(setup, &mix);
            let settings = |stand| {
                let section =
                    LogSection::round(Length::from_mm(diameter_mm), Length::from_mm(250.0)).unwrap();
                let job = LogJob::new(section, stand);
                let plan = plan(&job, &bar, &Workplace::new(&job, &body));
                plan.is_whole().then_some(plan.settings.len())
            };
            let (one, both) = (settings(Stand::OneSide), settings(Stand::BothSides));
            let expected = match (one, both) {
                (Some(1), _) => [1.0, 0.0, 0.0, 0.0],
                (Some(_), _) => [0.0, 1.0, 0.0, 0.0],
                (None, Some(_)) => [0.0, 0.0, 1.0, 0.0],
                (None, None) => [0.0, 0.0, 0.0, 1.0],
            };
            let shares = [over.one_setting, over.resetting, over.both_sides, over.cannot];
            let what = format!("{} at {diameter_mm} mm", setup.name());
            for ((share, expected), seen) in shares.into_iter().zip(expected).zip(&mut seen) {
                assert_close(&what, share, expected, Within::Absolute(1e-12));
                *seen += usize::from(share > 0.0);
            }
            let done = one.is_some() || (both.is_some() && stand == StandFile::BothSides);
            assert_close(&what, over.done, f64::from(u8::from(done)), Within::Absolute(1e-12));
            let lifts = one.or(both).map_or(0.0, |count| f64::from(u32::try_from(count).unwrap()));
            assert_close(&what, over.lifts_per_cut, lifts, Within::Absolute(1e-12));
        }
    }
    assert!(seen.iter().all(|seen| *seen > 0), "every way is met: {seen:?}");
}

/// Power 4.4 kW, 0.9 of it at the chain, over 7.5 mm of kerf and 60 J/cm³ makes 88 cm²/s; ten cuts of 300 mm are
/// 0.70686 m², 80.3 s; each is laid on and taken off in 3 s. 4.4 kW for 80.3 s are 0.09818 kWh, at 450 g/kWh and 0.745
/// kg/L 59.3 mL, and 30 s of idling at 5 mL/min 2.5 mL more. The pump gives 18 mL/min at that speed: 24.1 mL.
#[test]
fn time_fuel_and_oil_of_a_plain_mix_come_out_by_hand() {
    let yard = bench();
    let setup = yard.setup("20").unwrap();
    let over = over(setup, &checked(&wood(&[(300.0, 10)])));
    assert_close("section, m²", over.area.as_m2(), 0.706_86, Within::Relative(1e-5));
    assert_close("cutting, s", over.cutting_s, 80.325, Within::Relative(1e-4));
    assert_close("setting, s", over.resetting_s, 30.0, Within::Absolute(1e-9));
    assert_close("fuel, mL", over.fuel.as_l() * 1e3, 59.30 + 2.5, Within::Relative(1e-3));
    assert_close("oil, mL", over.oil.as_l() * 1e3, 24.10, Within::Relative(1e-3));
    assert_close("lifts", over.lifts_per_cut, 1.0, Within::Absolute(1e-12));
}

/// Hands and lifts as the log room has them for one log, for what goes down: the weight while the hands carry.
#[test]
fn law_a_wood_of_one_diameter_asks_of_the_hands_what_the_log_does() {
    let mut held = 0;
    for setup in demo().unwrap().setups() {
        let (solved, bar) = (solve(setup), cutting_bar(setup).unwrap());
        let saw = cutting_saw(setup, &solved).unwrap();
        let body = saw_body(setup, &solved);
        for diameter_mm in [150.0, 320.0, 470.0] {
            let found = over(setup, &checked(&wood(&[(diameter_mm, 3)])));
            let section = LogSection::round(Length::from_mm(diameter_mm), Length::from_mm(600.0)).unwrap();
            let job = LogJob::new(section, Stand::OneSide);
            let plan = plan(&job, &bar, &Workplace::new(&job, &body));
            if !plan.is_whole() || plan.settings.iter().any(|setting| setting.rises()) {
                continue;
            }
            let carry = carry(&job, &bar, &saw, &plan.settings, &PhaseTimes::default()).unwrap();
            let what = format!("{} at {diameter_mm} mm", setup.name());
            let hands = found.hands_newton_seconds_per_cut;
            assert_close(&what, hands, carry.hands_newton_seconds, Within::Relative(1e-9));
            held += 1;
        }
    }
    assert!(held > 10, "{held}");
}

#[test]
fn law_a_lifted_cut_is_held_through_all_of_it() {
    let yard = bench();
    let setup = yard.setup("20").unwrap();
    let of = |lifted_share| over(setup, &checked(&WoodFile { lifted_share, ..wood(&[(300.0, 10)]) }));
    // The weight through touch-down, cut and slide.
    let all = solve(setup).weight().as_n() * (2.0 + of(1.0).cutting_s / 10.0 + 1.0);
    assert_close("held", of(1.0).hands_newton_seconds_per_cut, all, Within::Relative(1e-9));
    let half = 0.5 * (of(0.0).hands_newton_seconds_per_cut + all);
    assert_close("half of them", of(0.5).hands_newton_seconds_per_cut, half, Within::Relative(1e-12));
    let used = |share| of(share).used_per_cut.unwrap();
    assert!(used(1.0) > used(0.0), "holding it through the cut takes more");
}

/// Sustainability 2023, 15(3):2795: a tree of 30 cm takes 202–265 mL of fuel and 81–129 mL of oil for a cubic metre,
/// felling, limbing, walking and idling included. This model has the cuts across the stem alone: logs of 2.5 m are 5.66
/// cuts for a cubic metre, which burn a fifth to a third of that. So the amounts cannot be compared, and are not tuned to;
/// what can be is that the cuts stay below the whole, and how much oil goes with the fuel.
#[test]
fn fuel_and_oil_of_cross_cuts_lie_below_the_whole_and_in_its_proportion() {
    let per_m3 = 1.0 / (std::f64::consts::FRAC_PI_4 * 0.3 * 0.3 * 2.5);
    let yard = bench();
    let setup = yard.setup("20").unwrap();
    let cuts = 1000;
    let mix = checked(&wood(&[(300.0, cuts)]));
    let over = over(setup, &mix);
    let ml = |volume: barpoise_core::units::Volume| volume.as_l() * 1e3 / f64::from(cuts) * per_m3;
    let (fuel, oil) = (ml(over.fuel), ml(over.oil));
    assert!((0.1..0.5).contains(&(fuel / 202.0)), "{fuel} mL/m³ of fuel");
    assert!((0.1..0.5).contains(&(oil / 81.0)), "{oil} mL/m³ of oil");
    // From the leanest oil with the most fuel to the other way round.
    assert!((81.0 / 265.0..129.0 / 202.0).contains(&(oil / fuel)), "{} of oil to fuel", oil / fuel);
}

/// The worth of a value is its place between the ends of its scale, the score their mean by the weights.
#[test]
fn the_score_of_a_setup_is_that_of_the_definition() {
    let yard = bench();
    let found = by_plan(&yard, &checked(&wood(&[(250.0, 10), (500.0, 10)])));
    let mut preferences =
        Preferences { must_suit: false, scales: Scales::nothing(), ..Preferences::default() };
    preferences.scales.set_weight(Measure::OneSetting, 3.0);
    preferences.scales.set_weight(Measure::Weight, 1.0);
    let choice = choose(&found, &preferences);
    assert!(choice.order.len() > 1);
    for ranked in &choice.order {
        let one = &found[ranked.index];
        // Scales of 0 to 100 % and 14 to 4 kg.
        let share = one.value(Measure::OneSetting).unwrap();
        let light = ((14.0 - one.value(Measure::Weight).unwrap()) / 10.0).clamp(0.0, 1.0);
        assert_close("score", ranked.score, 0.75 * share + 0.25 * light, Within::Absolute(1e-12));
    }
    assert!(choice.order.windows(2).all(|pair| pair[0].score >= pair[1].score));
}

#[test]
fn law_nobody_beats_the_unbeaten_and_somebody_beats_the_others() {
    let yard = demo().unwrap();
    for wood in yard.woods() {
        let found = by_plan(&yard, wood);
        let preferences = Preferences { must_suit: false, ..Preferences::default() };
        let choice = choose(&found, &preferences);
        let counted: Vec<Measure> =
            Measure::ALL.into_iter().filter(|measure| preferences.scales.weight(*measure) > 0.0).collect();
        let cost = |index: usize, measure: &Measure| match (found[index].value(*measure), measure.better()) {
            (None, _) => f64::INFINITY,
            (Some(value), Better::Less) => value,
            (Some(value), Better::More) => -value,
        };
        for ranked in &choice.order {
            let beaten = choice.order.iter().any(|other| {
                counted.iter().all(|m| cost(other.index, m) <= cost(ranked.index, m))
                    && counted.iter().any(|m| cost(other.index, m) < cost(ranked.index, m))
            });
            assert_eq!(
                ranked.unbeaten,
                Some(!beaten),
                "{} on {}",
                found[ranked.index].solved.setup,
                wood.name()
            );
        }
        let best = choice.order.first().unwrap();
        assert_eq!(best.unbeaten, Some(true), "with every measure counted the winner is unbeaten");
    }
}

#[test]
fn limits_put_setups_out_with_their_reason() {
    let yard = demo().unwrap();
    let found = by_plan(&yard, yard.wood("Poplar butts").unwrap());
    let limit = Limit { measure: Measure::Hang, bound: 20.0_f64.to_radians() };
    let preferences = Preferences { limits: vec![limit], must_suit: false, ..Preferences::default() };
    let choice = choose(&found, &preferences);
    assert_eq!(choice.order.len() + choice.refused.len(), found.len());
    for (index, one) in found.iter().enumerate() {
        let hangs = one.solved.hang.unwrap().as_deg();
        let does_none = one.over.as_ref().unwrap().done <= 0.0;
        let refused = choice.refused.iter().any(|(other, _)| *other == index);
        assert_eq!(refused, hangs.abs() > 20.0 || does_none, "{hangs}");
    }
}

/// A turn is where the winner changes: just before it the old one wins, just after it the new one.
#[test]
fn law_each_turn_of_the_weights_is_where_another_wins() {
    let yard = demo().unwrap();
    let mut turned = 0;
    for wood in yard.woods() {
        let found = by_plan(&yard, wood);
        let preferences = Preferences { must_suit: false, ..Preferences::default() };
        let choice = choose(&found, &preferences);
        for turn in sensitivity(&found, &preferences, &choice) {
            let Change::Weight { measure, from, to } = turn.change else { continue };
            let at = |weight: f64| {
                let mut other = preferences.clone();
                other.scales.set_weight(measure, weight);
                choose(&found, &other).winner().unwrap()
            };
            let step = 1e-6 * (to - from);
            assert_eq!(Some(at(to - step)), choice.winner(), "{measure:?} on {}", wood.name());
            assert_eq!(at(to + step), turn.winner, "{measure:?} on {}", wood.name());
            turned += 1;
        }
    }
    assert!(turned > 5, "{turned} turns in all woods");
}

#[test]
fn a_limit_that_alone_keeps_the_better_one_out_is_named() {
    let yard = demo().unwrap();
    let found = by_plan(&yard, yard.wood("Poplar butts").unwrap());
    let free = Preferences { must_suit: false, ..Preferences::default() };
    let best = choose(&found, &free).winner().unwrap();
    let hang = found[best].value(Measure::Hang).unwrap();
    let limit = Limit { measure: Measure::Hang, bound: hang - 0.01 };
    let bound = Preferences { limits: vec![limit], ..free };
    let choice = choose(&found, &bound);
    assert_ne!(choice.winner(), Some(best));
    let turns = sensitivity(&found, &bound, &choice);
    let named = turns.iter().find(|turn| turn.winner == best).unwrap();
    assert_eq!(named.change, Change::Limit { measure: Measure::Hang, from: hang - 0.01, to: hang });
}

#[test]
fn thick_butts_and_hedgerow_poles_get_different_bars() {
    let yard = demo().unwrap();
    let winner = |wood: &str| {
        let found = by_plan(&yard, yard.wood(wood).unwrap());
        let choice = choose(&found, &Preferences::default());
        found[choice.winner().unwrap()].solved.setup.clone()
    };
    let (butts, poles) = (winner("Poplar butts"), winner("Hedgerow poles"));
    assert!(butts.starts_with("Bittern"), "{butts}");
    assert!(poles.starts_with("Wren"), "{poles}");
}

/// The table against the full plan, for bars of the head that it was made for.
#[test]
fn the_table_says_what_the_plans_say() {
    let yard = demo().unwrap();
    let like = yard.setup("Bittern B24").unwrap();
    let family = BarFamily::new(like, yard.bars());
    let spikes = like.powerhead().spike_line();
    let (rates, mm) = (WorkRates::default(), Length::from_mm);
    let (mut same, mut all) = (0, 0);
    for wood in yard.woods().iter().take(2) {
        let made = |reach: Length| family.at(family.overall_with_tip_at(spikes + reach)).unwrap();
        let sawing = |reach: Length| {
            let setup = made(reach);
            Sawing::new(&setup, &solve(&setup), wood, &rates)
        };
        let go_on = &mut |_| ControlFlow::Continue(());
        let table = ReachTable::new(wood, &rates, &sawing, mm(250.0), mm(750.0), go_on).unwrap().unwrap();
        let setups: Vec<Setup> = [262.0, 331.0, 402.0, 447.0, 518.0, 567.0, 633.0, 719.0]
            .into_iter()
            .map(|reach| made(mm(reach)))
            .collect();
        let thresholds = Thresholds::default();
        let go_on = &mut |_| ControlFlow::Continue(());
        let cut = |solved: &Solved, place: usize, _: &_| Ok(table.cut(solved.reach, place));
        let quick = contenders_by(&setups, wood, &rates, &thresholds, &cut, go_on).unwrap();
        let exact = contenders(&setups, wood, &rates, &thresholds, go_on).unwrap();
        for (quick, exact) in quick.iter().zip(&exact) {
            let (a, b) = (quick.over.as_ref().unwrap(), exact.over.as_ref().unwrap());
            // A bar's own weight and balance are not the middle bar's: a kind of log at the edge may fall otherwise.
            let share = 1.0 / f64::from(u32::try_from(wood.logs().len()).unwrap());
            assert!((a.done - b.done).abs() <= share + 1e-9, "{}: {a:?} {b:?}", quick.solved.setup);
            same += usize::from(
                (a.done - b.done).abs() < 1e-9 && (a.lifts_per_cut - b.lifts_per_cut).abs() < 1e-9,
            );
            all += 1;
            let (x, y) = (a.tangle_s_per_cut, b.tangle_s_per_cut);
            assert!((x - y).abs() <= 0.5 * x.max(y) + 1.0, "{}: {x} s of {y} s", quick.solved.setup);
        }
    }
    assert!(4 * same >= 3 * all, "{same} of {all} alike in what is done and how often it is lifted");
}

#[test]
fn long_work_can_be_stopped() {
    let yard = demo().unwrap();
    let wood = &yard.woods()[0];
    let mut heard = 0;
    let stopped = contenders(yard.setups(), wood, &WorkRates::default(), &Thresholds::default(), &mut |p| {
        heard = p.done;
        if p.done == 3 { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    });
    assert_eq!((stopped, heard), (None, 3));
}

#[test]
fn bars_to_buy_are_lengths_that_are_sold_and_not_on_the_rack() {
    let yard = demo().unwrap();
    let wood = yard.wood("Larch stems").unwrap();
    let (rates, thresholds) = (WorkRates::default(), Thresholds::default());
    let go_on = &mut |_| ControlFlow::Continue(());
    let bars = buyable(&yard, wood, &rates, &thresholds, go_on).unwrap();
    assert!(bars.len() > 10, "{}", bars.len());
    for bar in &bars {
        let inches = bar.marked.as_in();
        assert_close(&bar.like, inches, 2.0 * (0.5 * inches).round(), Within::Absolute(1e-9));
        assert_close(&bar.like, bar.setup.bar().marked_length().as_in(), inches, Within::Absolute(1e-6));
        assert!((10.0..=36.0).contains(&inches) && bar.links().is_some(), "{inches} in");
        let same = |setup: &&Setup| {
            setup.powerhead().name() == bar.contender.head
                && setup.chain().name() == bar.setup.chain().name()
                && setup.bar().construction() == bar.setup.bar().construction()
                && (setup.bar().marked_length().as_in() - inches).abs() < 0.2
        };
        assert!(yard.setups().iter().find(same).is_none(), "{} in on {}", inches, bar.like);
    }
    let found = by_plan(&yard, wood);
    let preferences = Preferences::default();
    let choice = choose(&found, &preferences);
    let all = purchases(&bars, &found, &choice, &preferences, None);
    let best = choice.order[0].score;
    for (place, one) in all.iter().enumerate() {
        assert_close("gain", one.gain.unwrap(), one.score - best, Within::Absolute(1e-12));
        assert!(
            all.iter().skip(place + 1).all(|o| bars[o.place].like != bars[one.place].like),
            "one of a family"
        );
    }
    let stiff = Preferences {
        limits: vec![Limit { measure: Measure::Weight, bound: 1.0 }],
        ..Preferences::default()
    };
    assert!(purchases(&bars, &found, &choice, &stiff, None).iter().all(|one| !one.broken.is_empty()));
}

#[test]
fn each_kind_of_loop_is_ordered_once() {
    let yard = demo().unwrap();
    let orders = loops_to_order(&yard);
    let named: usize = orders.iter().map(|order| order.setups.len()).sum();
    assert_eq!(named, yard.setups().len());
    for (index, order) in orders.iter().enumerate() {
        let twice = orders.iter().skip(index + 1).any(|o| o.chain == order.chain && o.links == order.links);
        assert!(!twice, "{} {}", order.chain, order.links);
        let setup: &Setup = yard.setup(&order.setups[0]).unwrap();
        assert_eq!(setup.links().order(), Some(order.links));
    }
}

#[test]
fn law_judging_again_is_judging_by_those_thresholds() {
    let strict = CheckKind::ALL.into_iter().fold(Thresholds::default(), |all, kind| {
        let Threshold { suits, marginal } = all.of(kind);
        let share = if kind.wants_more() { 1.4 } else { 0.7 };
        all.with(kind, Threshold { suits: share * suits, marginal: share * marginal })
    });
    let mut changed = 0;
    for setup in demo().unwrap().setups() {
        let solved = solve(setup);
        let by_default = fit_of(setup, &solved, &Thresholds::default());
        let by_strict = fit_of(setup, &solved, &strict);
        assert_eq!(by_default.judged(&strict), by_strict, "{}", setup.name());
        changed += usize::from(by_default.verdict() != by_strict.verdict());
    }
    assert!(changed > 0, "stricter thresholds tell somewhere");
}
