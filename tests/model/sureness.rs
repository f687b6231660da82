//! How surely scores are told apart: against formulas worked by hand, and against yards whose numbers are drawn anew and
//! put through the wood each.

#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "helpers of tests, outside a test function"
)]

use barpoise_checks::{Within, assert_close, bench_yard};
use barpoise_core::rack::{
    Anchors, Contender, Measure, Preferences, Scales, Sureness, Thresholds, Wood, WorkRates, buyable, choose,
    contenders, pairs, purchases,
};
use barpoise_core::record::{
    DiameterFile, HardnessFile, InertiaFile, MeasuredFile, ReadingFile, StandFile, WoodFile, YardFile,
};
use barpoise_core::units::Mass;
use barpoise_core::weigh_in::{COVERAGE, Choice, Knowledge, Quantity, Unknown, applied, fit};
use barpoise_core::{BarFamily, Yard, solve};
use nalgebra::{DMatrix, DVector};
use std::ops::ControlFlow;

/// What rounding leaves of a sum of a hundred numbers.
const ROUNDING: Within = Within::Relative(1e-9);
/// Draws of the numbers of a yard; a spread over so many is off by one part in the root of twice their count.
const DRAWS: u32 = 300;
/// Five of these, and as much again as a straight line is off over two standard uncertainties of a saw's numbers.
const OF_DRAWS: f64 = 0.2 + 0.1;

fn mix(diameters: &[(f64, u32)], tangled_share: f64) -> Wood {
    let file = WoodFile {
        name: "mix".into(),
        note: String::new(),
        diameters: diameters
            .iter()
            .map(|(diameter_mm, cuts)| DiameterFile { diameter_mm: *diameter_mm, cuts: *cuts })
            .collect(),
        tangled_share,
        lifted_share: 0.3,
        stand: StandFile::OneSide,
        above_ground_mm: 600.0,
        hardness: HardnessFile {
            name: "as anywhere".into(),
            cutting_energy_j_per_cm3: 60.0,
            source: "common practice".into(),
        },
    };
    Wood::new(&file, 0).unwrap()
}

fn through(yard: &Yard, wood: &Wood) -> Vec<Contender> {
    let go_on = &mut |_| ControlFlow::Continue(());
    contenders(yard.setups(), wood, &WorkRates::default(), &Thresholds::default(), go_on).unwrap()
}

fn sureness(yard: &Yard, found: &[Contender], wood: &Wood) -> Sureness {
    let go_on = &mut |_| ControlFlow::Continue(());
    Sureness::new(yard, yard.setups(), found, wood, &WorkRates::default(), go_on).unwrap()
}

fn only(measures: &[(Measure, f64)]) -> Scales {
    let mut scales = Scales::nothing();
    measures.iter().for_each(|(measure, weight)| scales.set_weight(*measure, *weight));
    scales
}

/// Two bars on one head, and one of them on a second head as well.
fn two_heads(bar_kg: f64) -> YardFile {
    let mut file = bench_yard::rack_file();
    file.bars.retain(|bar| ["20", "24"].contains(&bar.name.as_str()));
    file.setups.retain(|setup| ["20", "24"].contains(&setup.name.as_str()));
    file.bars.iter_mut().for_each(|bar| bar.mass_uncertainty_kg = Some(bar_kg));
    file.chains[0].mass_uncertainty_g = Some(0.2);
    file.powerheads.push({
        let mut head = file.powerheads[0].clone();
        head.name = "other head".into();
        head.dry_mass_kg = 5.9;
        head
    });
    for head in &mut file.powerheads {
        head.standard_uncertainty.dry_mass_kg = Some(0.1);
    }
    let mut other = file.setups.iter().find(|setup| setup.name == "20").unwrap().clone();
    (other.name, other.powerhead) = ("20 on the other".into(), "other head".into());
    file.setups.push(other);
    file
}

fn place(yard: &Yard, name: &str) -> usize {
    yard.setups().iter().position(|setup| setup.name() == name).unwrap()
}

/// By weight alone, on a scale of 4 to 14 kg, a kilogram is a tenth. Bars of one head differ by what their bars and
/// their links are unsure of; the same bar on two heads by what heads are: dry mass, and 3 % of what the tanks hold.
#[test]
fn the_doubt_of_a_difference_in_weight_is_that_worked_by_hand() {
    let yard = bench_yard::checked(two_heads(0.03));
    let wood = mix(&[(250.0, 10)], 0.0);
    let found = through(&yard, &wood);
    let sure = sureness(&yard, &found, &wood);
    let mut scales = only(&[(Measure::Weight, 1.0)]);
    scales.set_anchors(Measure::Weight, Anchors::new(Measure::Weight, 4.0, 14.0).unwrap());
    let of = |a: &str, b: &str| sure.of_difference(place(&yard, a), place(&yard, b), &scales).unwrap();
    // 84 and 72 links of 0.2 g each.
    let links_kg = 12.0 * 0.2e-3;
    let one_head = (2.0 * 0.03_f64.powi(2) + links_kg * links_kg).sqrt();
    assert_close("one head", of("24", "20"), COVERAGE * one_head / 10.0, ROUNDING);
    let fluids = [(0.9 * 0.8, bench_yard::FUEL_KG_PER_L), (0.8 * 0.4, bench_yard::OIL_KG_PER_L)]
        .map(|(litres, kg_per_l)| (0.03 * litres * kg_per_l).powi(2));
    let two_heads = (2.0 * (0.1 * 0.1 + fluids[0] + fluids[1])).sqrt();
    assert_close("two heads", of("20", "20 on the other"), COVERAGE * two_heads / 10.0, ROUNDING);
    assert_close("itself", of("24", "24"), 0.0, Within::Absolute(1e-12));
}

/// By weight alone: bars weighed to a gram are told apart by a few, bars known to 300 g are not by many times that.
#[test]
fn what_is_known_to_a_gram_is_told_apart_and_what_is_guessed_is_not() {
    let wood = mix(&[(250.0, 10)], 0.0);
    let preferences =
        Preferences { must_suit: false, scales: only(&[(Measure::Weight, 1.0)]), ..Preferences::default() };
    let places = |bar_kg: f64, lighter_kg: f64| {
        let mut file = two_heads(bar_kg);
        file.setups.retain(|setup| setup.powerhead == "head");
        file.chains[0].mass_uncertainty_g = Some(0.01);
        let dry = bench_yard::checked(file.clone());
        let of = |name: &str| solve(dry.setup(name).unwrap()).ready_mass().as_kg();
        let heavy = dry.bars().iter().find(|bar| bar.name() == "24").unwrap().mass().as_kg();
        // The long bar's setup becomes this much lighter than the short one's.
        let bar = file.bars.iter_mut().find(|bar| bar.name == "24").unwrap();
        bar.weighed_mass_kg = Some(heavy - (of("24") - of("20")) - lighter_kg);
        let yard = bench_yard::checked(file);
        let found = through(&yard, &wood);
        let choice = choose(&found, &preferences);
        assert_eq!(found[choice.winner().unwrap()].solved.setup, "24");
        let choice = choice.told_apart(&sureness(&yard, &found, &wood), &preferences);
        choice.order.iter().map(|ranked| ranked.place).collect::<Vec<_>>()
    };
    // √2 g and 1.96 of it are 2.8 g; 12 links of 0.01 g are a tenth of one.
    assert_eq!(places(0.001, 0.0035), [1, 2]);
    assert_eq!(places(0.001, 0.0020), [1, 1]);
    // √2 · 0.3 kg and 1.96 of it are 0.83 kg.
    assert_eq!(places(0.3, 0.75), [1, 1]);
    assert_eq!(places(0.3, 0.90), [1, 2]);
}

/// Where the nearer of two is the surer one, the farther is even with the first and the nearer is not.
#[test]
fn another_head_is_even_where_a_nearer_bar_of_the_same_head_is_not() {
    let mut file = two_heads(0.001);
    file.chains[0].mass_uncertainty_g = Some(0.001);
    file.powerheads[1].dry_mass_kg = 6.1;
    let dry = bench_yard::checked(file.clone());
    let of = |name: &str| solve(dry.setup(name).unwrap()).ready_mass().as_kg();
    // 24 lies 50 g behind 20, the other head 100 g.
    let bar = dry.bars().iter().find(|bar| bar.name() == "24").unwrap().mass().as_kg();
    file.bars.iter_mut().find(|bar| bar.name == "24").unwrap().weighed_mass_kg =
        Some(bar - (of("24") - of("20")) + 0.05);
    file.powerheads[1].dry_mass_kg += 0.1;
    let yard = bench_yard::checked(file);
    let wood = mix(&[(250.0, 10)], 0.0);
    let found = through(&yard, &wood);
    let preferences =
        Preferences { must_suit: false, scales: only(&[(Measure::Weight, 1.0)]), ..Preferences::default() };
    let choice = choose(&found, &preferences).told_apart(&sureness(&yard, &found, &wood), &preferences);
    let order: Vec<_> =
        choice.order.iter().map(|one| (found[one.index].solved.setup.as_str(), one.place)).collect();
    assert_eq!(order, [("20", 1), ("24", 2), ("20 on the other", 1)]);
}

/// Writes a number of a yard, SI.
fn set(file: &mut YardFile, unknown: &Unknown, si: f64) {
    let value = si / unknown.quantity.si_per_file_unit();
    let of = &*unknown.of;
    if let Some(bar) = file.bars.iter_mut().find(|bar| bar.name == of) {
        let nose = unknown.quantity == Quantity::NosePlace;
        *(if nose { &mut bar.nose_place_mm } else { &mut bar.weighed_mass_kg }) = Some(value);
        return;
    }
    if let Some(chain) = file.chains.iter_mut().find(|chain| chain.name == of) {
        chain.mass_per_drive_link_g = value;
        return;
    }
    let head = file.powerheads.iter_mut().find(|head| head.name == of).unwrap();
    *match unknown.quantity {
        Quantity::DryMass => &mut head.dry_mass_kg,
        Quantity::CentroidX => &mut head.centroid.x_mm,
        Quantity::CentroidY => &mut head.centroid.y_mm,
        Quantity::RadiusOfGyration => {
            head.inertia = InertiaFile::RadiusOfGyration { radius_mm: value };
            return;
        }
        Quantity::SpikeLine => &mut head.spike_line_mm,
        Quantity::FrontGripX => &mut head.front_grip.x_mm,
        Quantity::FrontGripY => &mut head.front_grip.y_mm,
        Quantity::RearGripX => &mut head.rear_grip.x_mm,
        Quantity::RearGripY => &mut head.rear_grip.y_mm,
        Quantity::FuelTankX => &mut head.fuel_tank.corner.x_mm,
        Quantity::FuelTankY => &mut head.fuel_tank.corner.y_mm,
        Quantity::FuelCapacity => &mut head.fuel_tank.capacity_l,
        Quantity::OilTankX => &mut head.oil_tank.corner.x_mm,
        Quantity::OilTankY => &mut head.oil_tank.corner.y_mm,
        Quantity::OilCapacity => &mut head.oil_tank.capacity_l,
        Quantity::LinkMass | Quantity::BarMass | Quantity::NosePlace => unreachable!("{of}"),
    } = value;
}

/// Standard normal numbers: sums of twelve even ones less six (a sum of twelve has a variance of one).
fn normal(state: &mut u64) -> f64 {
    let mut even = || {
        // Knuth, TAOCP 2, 3.3.4, the multiplier of his MMIX.
        *state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(*state >> 32).unwrap()) / f64::from(u32::MAX)
    };
    (0..12).map(|_| even()).sum::<f64>() - 6.0
}

/// The same difference over yards whose numbers are drawn from what is known, each planned anew from its file: what a
/// weigh-in taught hangs together, what nobody measured does not.
#[test]
fn the_doubt_of_a_difference_is_the_spread_over_drawn_yards() {
    let mut file = two_heads(0.05);
    file.readings = [("20", 8.93, 0.05), ("24", 9.41, 0.05)]
        .map(|(setup, weight_kg, uncertainty_kg)| {
            ReadingFile::new(MeasuredFile::Total { weight_kg, uncertainty_kg }, Some(setup.into()))
        })
        .to_vec();
    let read = bench_yard::checked(file);
    let yard = applied(&read, &fit(&read, &Choice::Automatic).unwrap(), "2026-11-25").unwrap();
    let wood = mix(&[(330.0, 10)], 1.0);
    let found = through(&yard, &wood);
    let sure = sureness(&yard, &found, &wood);
    let scales = only(&[
        (Measure::Weight, 1.0),
        (Measure::FrontHand, 2.0),
        (Measure::NoseOut, 2.0),
        (Measure::Hang, 1.0),
        (Measure::Effort, 2.0),
        (Measure::TangleTime, 1.0),
    ]);
    let knowledge = Knowledge::of(&yard, yard.setups());
    let root = root_of(knowledge.covariance());
    let mut state = 20_261_127;
    let mut drawn = Vec::new();
    while drawn.len() < usize::try_from(DRAWS).unwrap() {
        let standard = DVector::from_fn(knowledge.values().len(), |_, _| normal(&mut state));
        let values = knowledge.values() + &root * standard;
        let mut file = yard.file().clone();
        for (unknown, value) in knowledge.unknowns().iter().zip(values.iter()) {
            set(&mut file, unknown, *value);
        }
        // Put-back and taught numbers no longer stand.
        file.weigh_ins.clear();
        let one = through(&bench_yard::checked(file), &wood);
        drawn.push(one.iter().map(|one| scales.score(&one.values).score).collect::<Vec<f64>>());
    }
    let names = ["20", "24", "20 on the other"];
    for (a, b) in [(0, 1), (0, 2), (1, 2)] {
        let (i, j) = (place(&yard, names[a]), place(&yard, names[b]));
        let ours = sure.of_difference(i, j, &scales).unwrap() / COVERAGE;
        let spread = deviation(drawn.iter().map(|scores| scores[i] - scores[j]));
        let what = format!("{} against {}", names[a], names[b]);
        assert_close(&what, ours, spread, Within::Relative(OF_DRAWS));
    }
    // Heads that share nothing of their own are told apart less than two bars of one head.
    let of = |a: &str, b: &str| sure.of_difference(place(&yard, a), place(&yard, b), &scales).unwrap();
    assert!(of("20", "24") < 0.8 * of("20", "20 on the other"));
}

fn root_of(covariance: &DMatrix<f64>) -> DMatrix<f64> {
    let eigen = covariance.clone().symmetric_eigen();
    let mut root = eigen.eigenvectors;
    for (mut column, value) in root.column_iter_mut().zip(eigen.eigenvalues.iter()) {
        column *= value.max(0.0).sqrt();
    }
    root
}

fn deviation(values: impl Iterator<Item = f64>) -> f64 {
    let all: Vec<f64> = values.collect();
    let count = f64::from(u32::try_from(all.len()).unwrap());
    let mean = all.iter().sum::<f64>() / count;
    (all.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / (count - 1.0)).sqrt()
}

/// By weight and by what is done in one setting, which no doubt of a few millimetres changes here: two bars of one head that
/// share the cuts differ from the better one alone by the cuts that the other takes.
#[test]
fn a_pair_is_unsure_by_the_cuts_that_the_other_takes() {
    let yard = bench_yard::checked(two_heads(0.03));
    let scales = only(&[(Measure::Weight, 1.0), (Measure::OneSetting, 0.1)]);
    let preferences = Preferences { must_suit: false, scales, ..Preferences::default() };
    let mut held = 0;
    for thick_mm in [380.0, 420.0, 460.0, 500.0, 540.0] {
        let wood = mix(&[(150.0, 12), (thick_mm, 8)], 0.0);
        let found = through(&yard, &wood);
        let sure = sureness(&yard, &found, &wood);
        let choice = choose(&found, &preferences);
        let best = choice.winner().unwrap();
        for pair in pairs(&found, &wood, &WorkRates::default(), &preferences, &choice, Some(&sure)) {
            let [first, second] = pair.setups;
            let (other, share) = match best {
                _ if best == first => (second, 1.0 - pair.share_of_first),
                _ if best == second => (first, pair.share_of_first),
                _ => continue,
            };
            // A log that is only just done in one setting by one of them is no such wood.
            let steps = only(&[(Measure::OneSetting, 1.0)]);
            let stepped =
                |one: usize| (0..found.len()).any(|to| sure.of_difference(one, to, &steps) > Some(1e-12));
            if stepped(first) || stepped(second) {
                continue;
            }
            let alone = sure.of_difference(best, other, &scales).unwrap();
            assert_close(format!("{thick_mm} mm"), pair.doubt.unwrap(), share * alone, ROUNDING);
            held += 1;
        }
    }
    assert!(held > 0, "no two share the cuts");
}

/// By weight alone, on a scale of ten kilograms: the difference of two is unsure by no less than the difference of what each
/// is unsure of and by no more than their sum; on one head by less than if they shared nothing.
#[test]
fn law_a_bar_to_buy_is_unsure_within_the_triangle_of_both() {
    let yard = bench_yard::checked(two_heads(0.03));
    let wood = mix(&[(120.0, 10)], 0.0);
    let found = through(&yard, &wood);
    let sure = sureness(&yard, &found, &wood);
    let knowledge = Knowledge::of(&yard, yard.setups());
    let scales = only(&[(Measure::Weight, 1.0)]);
    let wanted = Preferences { must_suit: false, scales, ..Preferences::default() };
    let choice = choose(&found, &wanted);
    let best = &yard.setups()[choice.winner().unwrap()];
    let score = |mass: Mass| COVERAGE * mass.as_kg() / Measure::Weight.common_anchors().span();
    let go_on = &mut |_| ControlFlow::Continue(());
    let bars = buyable(&yard, &wood, &WorkRates::default(), &Thresholds::default(), go_on).unwrap();
    let all = purchases(&bars, &found, &choice, &wanted, Some(&sure));
    assert_eq!(all.len(), 2, "one on each head");
    for one in all {
        let bar = &bars[one.place];
        let family = BarFamily::new(yard.setup(&bar.like).unwrap(), yard.bars());
        let overall = bar.setup.bar().overall_length();
        let own = score(knowledge.bands_made_up(&bar.setup, &family, overall).ready_mass.unwrap());
        let of_best = score(knowledge.bands(best).ready_mass.unwrap());
        let doubt = one.doubt.unwrap();
        assert!((own - of_best).abs() <= doubt && doubt <= own + of_best, "{own}, {of_best}: {doubt}");
        let shares = bar.setup.powerhead().name() == best.powerhead().name();
        assert_eq!(doubt < 0.9 * own.hypot(of_best), shares, "{} in: {doubt}", bar.marked.as_in());
    }
}
