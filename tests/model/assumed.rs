//! Numbers that stand where nobody has measured: each is held to what is published, or else to what the program says of
//! it, so that none moves unseen.

#![expect(clippy::unwrap_used, reason = "helpers of tests, outside a test function")]

use barpoise_checks::bench_yard::{self, RACK, rack_file};
use barpoise_checks::{Within, assert_close};
use barpoise_core::log::{DEFAULT_KERF, DEFAULT_SPECIFIC_ENERGY_J_CM3, PhaseTimes, WorkPhase};
use barpoise_core::log::{LogJob, LogSection, Stand, Workplace, carry, plan, saw_body};
use barpoise_core::propose::{common_chain, common_powerhead};
use barpoise_core::rack::{
    Check, CheckKind, Measure, Preferences, Thresholds, Verdict, WorkRates, choose, contenders, fit_of,
};
use barpoise_core::record::{MeasuredFile, PartFile, PointFile, PowerheadFile, ReadingFile, YardFile};
use barpoise_core::units::{Length, Mass};
use barpoise_core::weigh_in::{Choice, Knowledge, Measured, Quantity, SawMeasure, Slip, Unknown, fit};
use barpoise_core::{
    BarFamily, Chain, DRIVE_EFFICIENCY, Yard, chain_speed, cutting_bar, cutting_saw, file::demo, solve,
};
use std::collections::HashSet;
use std::ops::ControlFlow;

const ROUNDING: Within = Within::Relative(1e-12);

fn bench() -> Yard {
    bench_yard::checked(rack_file())
}

fn check(head: PowerheadFile, kind: CheckKind) -> Check {
    let bars = vec![bench_yard::bar("20", 20.0, 72, 6.0)];
    let yard = bench_yard::checked(bench_yard::yard_file(head, bars));
    let setup = yard.setup("20").unwrap();
    let fit = fit_of(setup, &solve(setup), &Thresholds::default());
    *fit.checks().iter().find(|check| check.kind == kind).unwrap()
}

/// A verdict turns where the head's number puts the value on the threshold: just before it one, just behind it the next.
fn assert_turns(
    kind: CheckKind,
    at: f64,
    better: Verdict,
    worse: Verdict,
    head_with: impl Fn(f64) -> PowerheadFile,
) {
    let towards_better = if kind.wants_more() { 1.001 } else { 0.999 };
    for (value, expected) in [(at * towards_better, better), (at / towards_better, worse)] {
        let found = check(head_with(value), kind);
        assert_close(format_args!("{kind:?}"), found.value, value, Within::Relative(1e-9));
        assert_eq!(found.verdict, expected, "{kind:?} at {value}");
    }
}

/// Our guess: 6 and 4.5 kW for each metre past the spikes.
#[test]
fn power_suits_from_6_kw_for_a_metre_and_is_marginal_from_4_and_a_half() {
    let reach_m = {
        let bars = vec![bench_yard::bar("20", 20.0, 72, 6.0)];
        let yard = bench_yard::checked(bench_yard::yard_file(bench_yard::head(190.0), bars));
        solve(yard.setup("20").unwrap()).reach.as_m()
    };
    let head = |kw_m: f64| PowerheadFile { power_kw: kw_m * reach_m, ..bench_yard::head(190.0) };
    assert_turns(CheckKind::Power, 6.0, Verdict::Suits, Verdict::Marginal, head);
    assert_turns(CheckKind::Power, 4.5, Verdict::Marginal, Verdict::DoesNot, head);
}

/// Forests 2020, 11(3):276 has 28 m/s as a design case: a chain suits up to there. The other bounds are our guess.
#[test]
fn a_chain_is_as_fast_as_it_may_be_at_the_published_design_case() {
    // Seven teeth of 3/8 in: 133.35 mm for each turn.
    let head = |m_s: f64| PowerheadFile { power_rpm: m_s * 60.0 / 0.133_35, ..bench_yard::head(190.0) };
    assert_turns(CheckKind::FastChain, 28.0, Verdict::Suits, Verdict::Marginal, head);
    assert_turns(CheckKind::FastChain, 32.0, Verdict::Marginal, Verdict::DoesNot, head);
    assert_turns(CheckKind::SlowChain, 17.0, Verdict::Suits, Verdict::Marginal, head);
    assert_turns(CheckKind::SlowChain, 13.0, Verdict::Marginal, Verdict::DoesNot, head);
}

/// Our guess: 21 and 15 mL/min for each metre of mark; 20 in are 0.508 m.
#[test]
fn oil_suits_from_21_ml_for_a_metre_and_is_marginal_from_15() {
    let head = |ml: f64| PowerheadFile { pump_ml_per_min: ml * 0.508, ..bench_yard::head(190.0) };
    assert_turns(CheckKind::Oil, 21.0, Verdict::Suits, Verdict::Marginal, head);
    assert_turns(CheckKind::Oil, 15.0, Verdict::Marginal, Verdict::DoesNot, head);
}

/// What is not stated is known as well as the weigh-in room says: common practice, no source.
#[test]
fn what_is_not_stated_is_known_to_so_much() {
    let yard = bench();
    let knowledge = Knowledge::of(&yard, [yard.setup("20").unwrap()]);
    let of = |name: &str, quantity| knowledge.uncertainty(&Unknown::new(name, quantity)).unwrap();
    let head = |quantity| of("head", quantity);
    assert_close("dry mass, kg", head(Quantity::DryMass), 0.150, ROUNDING);
    assert_close("centre, m", head(Quantity::CentroidX), 0.012, ROUNDING);
    assert_close("centre, m", head(Quantity::CentroidY), 0.012, ROUNDING);
    // 15 % of the bench head's 120 mm.
    assert_close("gyration, m", head(Quantity::RadiusOfGyration), 0.018, Within::Relative(1e-9));
    assert_close("spike line, m", head(Quantity::SpikeLine), 0.004, ROUNDING);
    for quantity in [Quantity::FuelTankX, Quantity::FuelTankY, Quantity::OilTankX, Quantity::OilTankY] {
        assert_close("tank, m", head(quantity), 0.015, ROUNDING);
    }
    // 4 % of 4.8 g, 6 % of the plate.
    assert_close("link, kg", of("chain", Quantity::LinkMass), 0.04 * 0.0048, Within::Relative(1e-9));
    let plate = yard.setup("20").unwrap().bar().mass().as_kg();
    assert_close("bar, kg", of("20", Quantity::BarMass), 0.06 * plate, Within::Relative(1e-9));
}

/// Reach is nose less spikes: the spike line by tape to 4 mm, and the nose by a counted loop in use, stretched by 0 to 2 %
/// of half its length, evenly falling: the root mean square of a triangle of width w is w/√6 (its second moment about the
/// end where it is highest).
#[test]
fn law_reach_is_known_as_well_as_the_spike_line_and_the_stretch_of_the_chain() {
    let yard = bench();
    let setup = Box::new(yard.setup("20").unwrap().clone());
    let reach = solve(&setup).reach.as_m();
    let (value, uncertainty) =
        Knowledge::expected(&yard, &Measured::Saw { setup, measure: SawMeasure::Reach }).unwrap();
    assert_close("reach, m", value, reach, ROUNDING);
    let half_loop = 72.0 * 0.375 * 0.0254;
    let stretch = 0.02 * half_loop / 6.0_f64.sqrt();
    assert_close("its uncertainty, m", uncertainty, 0.004_f64.hypot(stretch), Within::Relative(1e-9));
}

/// A reading four standard deviations off, its own scatter and what is known together, is looked at; one less is not.
#[test]
fn a_reading_is_far_off_from_four_standard_deviations() {
    let yard = bench();
    let setup = Box::new(yard.setup("20").unwrap().clone());
    let measured = Measured::Saw { setup, measure: SawMeasure::Total };
    let (expected, own) = Knowledge::expected(&yard, &measured).unwrap();
    let scatter = own.hypot(0.05);
    for way in [1.0, -1.0] {
        let slip = |deviations: f64| Slip::of(&yard, &measured, expected + way * deviations * scatter, 0.05);
        assert_eq!(slip(3.99), None);
        assert_eq!(slip(4.01), Some(Slip::Unexplained));
    }
    // A possible value is mended where that leaves it within six deviations, an impossible one within ten.
    let typed_as = |deviations: f64, share: f64| {
        Slip::of(&yard, &measured, (expected + deviations * scatter) * share, 0.05)
    };
    let lb_for_kg = |deviations| typed_as(deviations, Mass::from_kg(1.0).as_lb());
    assert!(matches!(lb_for_kg(5.99), Some(Slip::Pounds(_))), "{:?}", lb_for_kg(5.99));
    assert_eq!(lb_for_kg(6.01), Some(Slip::Unexplained));
    let tenth = |deviations| typed_as(deviations, 0.1);
    assert!(matches!(tenth(9.99), Some(Slip::DecimalPoint(_))), "{:?}", tenth(9.99));
    assert_eq!(tenth(10.01), Some(Slip::Unexplained));
}

/// EN 228: petrol 0.720–0.775 kg/L at 15 °C; a mix of 2 to 4 parts of oil in a hundred lies a little above it. Vegetable and
/// mineral bar oils lie below water and above petrol.
#[test]
fn a_proposed_head_holds_petrol_and_oil_and_turns_as_heads_do() {
    let PartFile::Powerhead(head) = common_powerhead("new") else { unreachable!() };
    let fuel = head.fuel_tank.density_kg_per_l;
    assert!((0.720..=0.775).contains(&fuel), "{fuel} kg/L is no petrol");
    let oil = head.oil_tank.density_kg_per_l;
    assert!(oil > 0.775 && oil < 0.999, "{oil} kg/L is no oil");
    // Forests 2020, 11(3):276: chains are designed for 28 m/s at most; the head's own sprocket at full power stays below, and
    // the speed at which pumps are stated is not above that of full power.
    let sprocket = barpoise_core::Sprocket {
        teeth: head.sprocket.teeth,
        pitch: Length::from_in(head.sprocket.pitch_in),
    };
    let speed = chain_speed(sprocket, head.power_rpm).as_m_s();
    assert!(speed < 28.0 && Thresholds::default().slow_chain.suits < speed, "{speed} m/s");
    assert!(head.pump_rpm <= head.power_rpm, "{} above {}", head.pump_rpm, head.power_rpm);
    // Sustainability 2023, 15(3):2795: 81–129 mL of oil go with 202–265 mL of fuel; a full tank of each with the other.
    let oil_to_fuel = head.oil_tank.capacity_l / head.fuel_tank.capacity_l;
    assert!((81.0 / 265.0..=129.0 / 202.0).contains(&oil_to_fuel), "{oil_to_fuel}");
}

/// A chain is steel (EN 1991-1-1: 77.0 kN/m³, 7850 kg/m³) of three plates across: the drive link between two ties, each as thick as the
/// gauge or less, none higher than the pitch. So a drive link, with its ties, weighs no more than that block, and it is no
/// wire either: a quarter of the block.
#[test]
fn a_proposed_chain_weighs_what_its_steel_can() {
    for pitch_in in [0.25, 0.325, 0.375, 0.404] {
        let PartFile::Chain(file) = common_chain("new", pitch_in) else { unreachable!() };
        let chain = Chain::new(&file, 0).unwrap();
        let (pitch_mm, gauge_mm) = (pitch_in * 25.4, file.gauge_mm);
        let block_g = 7.85e-3 * (2.0 * pitch_mm) * pitch_mm * (3.0 * gauge_mm);
        let link_g = file.mass_per_drive_link_g;
        assert!((0.25 * block_g..block_g).contains(&link_g), "{link_g} g of {block_g} g at {pitch_in} in");
        // From memory, unverified: a drive link of 3/8 in and 1.5 mm weighs 4.8 to 5.6 g with its share of ties.
        if (pitch_in - 0.375).abs() < 1e-9 {
            assert!((4.8..=5.6).contains(&link_g), "{link_g} g");
        }
        assert!(chain.cutter_spacing().as_mm() > 0.0);
    }
}

/// Beyond the rack's ends nothing but length is added, and the mark grows with it.
#[test]
fn law_beyond_the_rack_the_mark_grows_as_the_bar_does() {
    let yard = bench();
    let family = BarFamily::new(yard.setup("20").unwrap(), yard.bars());
    for (end, further_mm) in [(RACK.first().unwrap(), -60.0), (RACK.last().unwrap(), 80.0)] {
        let own = yard.setup(end).unwrap();
        let made = family.at(own.bar().overall_length() + Length::from_mm(further_mm)).unwrap();
        let grown = (made.bar().marked_length() - own.bar().marked_length()).as_mm();
        assert_close(format_args!("mark beyond the {end}, mm"), grown, further_mm, Within::Absolute(1e-9));
    }
}

/// What the log room and the rack work with is one and the same, and what is said of it.
#[test]
fn the_saw_is_pulled_back_for_three_seconds_between_two_settings() {
    let yard = demo().unwrap();
    let setup = yard.setup("Bittern B18").unwrap();
    let solved = solve(setup);
    let (bar, saw) = (cutting_bar(setup).unwrap(), cutting_saw(setup, &solved).unwrap());
    let section = LogSection::round(Length::from_mm(520.0), Length::from_mm(400.0)).unwrap();
    let job = LogJob::new(section, Stand::OneSide);
    let plan = plan(&job, &bar, &Workplace::new(&job, &saw_body(setup, &solved)));
    let count = plan.settings.len();
    assert!(count > 1, "{count}");
    let carry = carry(&job, &bar, &saw, &plan.settings, &PhaseTimes::default()).unwrap();
    let back = carry.phases.iter().filter(|load| load.phase == WorkPhase::PullBack);
    let all: f64 = back.map(|load| load.seconds).sum();
    let times = f64::from(u32::try_from(count - 1).unwrap());
    assert_close("pulled back, s", all, 3.0 * times, Within::Absolute(1e-9));
    let rates = WorkRates::default();
    assert_close("kerf, mm", rates.kerf.as_mm(), DEFAULT_KERF.as_mm(), ROUNDING);
    assert_close("efficiency", rates.drive_efficiency, DRIVE_EFFICIENCY, ROUNDING);
    assert!((35.0..120.0).contains(&DEFAULT_SPECIFIC_ENERGY_J_CM3));
}

/// A head that hangs tail down: the size of its hang counts, whichever way.
#[test]
fn a_saw_that_hangs_tail_down_is_no_better_for_it() {
    let mut file = rack_file();
    file.powerheads[0].centroid = PointFile { x_mm: -110.0, y_mm: 15.0 };
    let yard = bench_yard::checked(file);
    let demo = demo().unwrap();
    let wood = &demo.woods()[0];
    let go_on = &mut |_| ControlFlow::Continue(());
    let found =
        contenders(yard.setups(), wood, &WorkRates::default(), &Thresholds::default(), go_on).unwrap();
    let mut tail_heavy = 0;
    for one in &found {
        let hang = one.solved.hang.unwrap().as_rad();
        let Some(counted) = one.value(Measure::Hang) else { continue };
        assert_close(&one.solved.setup, counted, hang.abs(), ROUNDING);
        tail_heavy += usize::from(hang < -0.05);
    }
    assert!(tail_heavy > 1, "{tail_heavy} hang tail down");
    // By hang alone, the more tail-heavy loses.
    let mut preferences = Preferences { must_suit: false, ..Preferences::default() };
    for measure in Measure::ALL {
        preferences.scales.set_weight(measure, if measure == Measure::Hang { 1.0 } else { 0.0 });
    }
    let choice = choose(&found, &preferences);
    let hang = |place: usize| found[choice.order[place].index].solved.hang.unwrap().as_rad().abs();
    assert!(choice.order.len() > 1);
    assert!((1..choice.order.len()).all(|place| hang(place - 1) <= hang(place) + 1e-12));
}

/// Two independent sources of one number weigh by the inverse squares of their uncertainties : the share that comes from the reading is its weight of both.
#[test]
fn what_a_reading_taught_is_its_weight_among_both() {
    let readings = vec![ReadingFile::new(
        MeasuredFile::Total { weight_kg: 9.0, uncertainty_kg: 0.05 },
        Some("20".into()),
    )];
    let yard = bench_yard::checked(YardFile { readings, ..rack_file() });
    let only: HashSet<_> = [Unknown::new("head", Quantity::DryMass)].into();
    let found = fit(&yard, &Choice::Chosen(only)).unwrap();
    // 150 g before and 50 g by the scale: nine parts in ten.
    assert_close(
        "from the reading",
        found.learnt.first().unwrap().from_readings(),
        0.9,
        Within::Relative(1e-9),
    );
}
