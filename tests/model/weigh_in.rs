//! The weigh-in against synthetic saws of known truth, closed forms, draws, and what practitioners read.

#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "helpers of tests, outside a test function"
)]

use barpoise_checks::bench_yard::{self, RACK};
use barpoise_checks::{Within, assert_close};
use barpoise_core::record::{InertiaFile, MeasuredFile, ReadingFile, YardFile};
use barpoise_core::units::{Angle, Length};
use barpoise_core::weigh_in::{
    COVERAGE, CannotFit, Choice, Fit, Knowledge, Measured, NextReading, Quantity, Slip, Unknown, applied,
    draw, fit, next_readings, put_back, readable,
};
use barpoise_core::{BarFamily, Feel, Setup, Yard, solve};
use std::collections::HashSet;

const DATE: &str = "2026-11-25";

fn reading(setup: &str, measured: MeasuredFile) -> ReadingFile {
    ReadingFile::new(measured, Some(setup.into()))
}

fn alone(measured: MeasuredFile) -> ReadingFile {
    ReadingFile { setup: None, ..reading("", measured) }
}

fn total(weight_kg: f64) -> MeasuredFile {
    MeasuredFile::Total { weight_kg, uncertainty_kg: 0.05 }
}

fn hang(nose_down_deg: f64) -> MeasuredFile {
    MeasuredFile::Hang { nose_down_deg, uncertainty_deg: 1.0 }
}

fn yard_with(readings: Vec<ReadingFile>) -> Yard {
    bench_yard::checked(YardFile { readings, ..bench_yard::rack_file() })
}

fn fitted(yard: &Yard) -> Fit {
    fit(yard, &Choice::Automatic).unwrap()
}

fn learnt(found: &Fit, of: &str, quantity: Quantity) -> (f64, f64) {
    let unknown = Unknown::new(of, quantity);
    let entry = found.learnt.iter().find(|learnt| learnt.unknown == unknown).unwrap();
    (entry.value, entry.uncertainty)
}

/// What these readings would be on a saw, by the whole chain of [`solve`], which shares no code with the fit's own
/// model but the parts.
pub(super) mod truth {
    use super::*;

    pub(in super::super) fn value(yard: &Yard, setup: &str, measured: &MeasuredFile) -> f64 {
        let setup = yard.setup(setup).unwrap();
        let (head, solved) = (setup.powerhead(), solve(setup));
        let at = |deg: f64| solved.hands_at(Angle::from_deg(deg)).unwrap();
        match measured {
            MeasuredFile::Total { .. } => solved.ready_mass().as_kg(),
            MeasuredFile::FrontGrip { nose_up_deg, .. } => at(*nose_up_deg).front.as_kgf(),
            MeasuredFile::RearGrip { nose_up_deg, .. } => at(*nose_up_deg).rear.as_kgf(),
            MeasuredFile::Hang { .. } => solved.hang.unwrap().as_deg(),
            MeasuredFile::BalancePoint { .. } => {
                (Length::from_m(solved.saw.centroid.x) - head.spike_line()).as_mm()
            }
            MeasuredFile::Reach { .. } => solved.reach.as_mm(),
            MeasuredFile::SwingPeriod { .. } => {
                let arm_m = (solved.saw.centroid - head.front_grip()).norm();
                let pull = solved.weight().as_n() * arm_m;
                std::f64::consts::TAU * (solved.swing_inertia.as_kg_m2() / pull).sqrt()
            }
            MeasuredFile::Bar { .. } => setup.bar().mass().as_kg(),
            MeasuredFile::Loop { drive_links, .. } => {
                setup.chain().link_mass().as_kg() * f64::from(*drive_links)
            }
        }
    }

    /// The measure with another value.
    pub(in super::super) fn with_value(measured: &MeasuredFile, value: f64) -> MeasuredFile {
        let mut changed = measured.clone();
        match &mut changed {
            MeasuredFile::Total { weight_kg, .. }
            | MeasuredFile::FrontGrip { weight_kg, .. }
            | MeasuredFile::RearGrip { weight_kg, .. }
            | MeasuredFile::Bar { weight_kg, .. }
            | MeasuredFile::Loop { weight_kg, .. } => *weight_kg = value,
            MeasuredFile::Hang { nose_down_deg, .. } => *nose_down_deg = value,
            MeasuredFile::BalancePoint { past_spikes_mm, .. }
            | MeasuredFile::Reach { past_spikes_mm, .. } => {
                *past_spikes_mm = value;
            }
            MeasuredFile::SwingPeriod { period_s, .. } => *period_s = value,
        }
        changed
    }

    pub(in super::super) fn uncertainty(measured: &MeasuredFile) -> f64 {
        match *measured {
            MeasuredFile::Total { uncertainty_kg, .. }
            | MeasuredFile::FrontGrip { uncertainty_kg, .. }
            | MeasuredFile::RearGrip { uncertainty_kg, .. }
            | MeasuredFile::Bar { uncertainty_kg, .. }
            | MeasuredFile::Loop { uncertainty_kg, .. } => uncertainty_kg,
            MeasuredFile::Hang { uncertainty_deg, .. } => uncertainty_deg,
            MeasuredFile::BalancePoint { uncertainty_mm, .. }
            | MeasuredFile::Reach { uncertainty_mm, .. } => uncertainty_mm,
            MeasuredFile::SwingPeriod { uncertainty_s, .. } => uncertainty_s,
        }
    }
}

/// Normal numbers by Box and Muller over a 64-bit linear congruence (Knuth's MMIX constants).
pub(super) struct Dice(pub(super) u64);

impl Dice {
    pub(super) fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(self.0 >> 33).unwrap()) / f64::from(1_u32 << 31)
    }

    pub(super) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.even()
    }

    pub(super) fn normal(&mut self) -> f64 {
        let (a, b) = (1.0 - self.even(), self.even());
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }
}

/// A yard of another head each time, within what heads are like.
fn some_yard(dice: &mut Dice) -> YardFile {
    let mut file = bench_yard::rack_file();
    let head = &mut file.powerheads[0];
    head.dry_mass_kg = dice.between(4.5, 7.5);
    head.centroid.x_mm = dice.between(-50.0, 0.0);
    head.centroid.y_mm = dice.between(0.0, 30.0);
    head.inertia = InertiaFile::RadiusOfGyration { radius_mm: dice.between(100.0, 150.0) };
    head.front_grip.y_mm = dice.between(140.0, 170.0);
    file
}

/// The yard as it really is: every number off by its prior uncertainty times a normal number.
fn true_yard(yard: &Yard, dice: &mut Dice) -> Yard {
    let knowledge = Knowledge::of(yard, yard.setups());
    let mut file = yard.file().clone();
    for (unknown, value) in knowledge.unknowns().iter().zip(knowledge.values().iter()) {
        set(&mut file, unknown, value + dice.normal() * knowledge.uncertainty(unknown).unwrap());
    }
    bench_yard::checked(file)
}

/// Sets a number of a yard with one head and one chain; the value is SI.
pub(super) fn set(file: &mut YardFile, unknown: &Unknown, value: f64) {
    let off = value / unknown.quantity.si_per_file_unit();
    let head = &mut file.powerheads[0];
    match unknown.quantity {
        Quantity::DryMass => head.dry_mass_kg = off,
        Quantity::CentroidX => head.centroid.x_mm = off,
        Quantity::CentroidY => head.centroid.y_mm = off,
        Quantity::RadiusOfGyration => head.inertia = InertiaFile::RadiusOfGyration { radius_mm: off },
        Quantity::SpikeLine => head.spike_line_mm = off,
        Quantity::FrontGripX => head.front_grip.x_mm = off,
        Quantity::FrontGripY => head.front_grip.y_mm = off,
        Quantity::RearGripX => head.rear_grip.x_mm = off,
        Quantity::RearGripY => head.rear_grip.y_mm = off,
        Quantity::FuelCapacity => head.fuel_tank.capacity_l = off,
        Quantity::OilCapacity => head.oil_tank.capacity_l = off,
        Quantity::FuelTankX => head.fuel_tank.corner.x_mm = off,
        Quantity::FuelTankY => head.fuel_tank.corner.y_mm = off,
        Quantity::OilTankX => head.oil_tank.corner.x_mm = off,
        Quantity::OilTankY => head.oil_tank.corner.y_mm = off,
        Quantity::LinkMass => file.chains[0].mass_per_drive_link_g = off,
        Quantity::BarMass | Quantity::NosePlace => {
            let bar = file.bars.iter_mut().find(|bar| bar.name == *unknown.of).unwrap();
            let nose = unknown.quantity == Quantity::NosePlace;
            *if nose { &mut bar.nose_place_mm } else { &mut bar.weighed_mass_kg } = Some(off);
        }
    }
}

/// A day's readings: all kinds, on bars of several lengths, with full and with empty tanks.
fn a_day_of_measures() -> Vec<(&'static str, MeasuredFile, Option<f64>)> {
    let grip = |nose_up_deg| MeasuredFile::FrontGrip { weight_kg: 0.0, uncertainty_kg: 0.05, nose_up_deg };
    let rear = |nose_up_deg| MeasuredFile::RearGrip { weight_kg: 0.0, uncertainty_kg: 0.05, nose_up_deg };
    vec![
        ("20", total(0.0), None),
        ("20", total(0.0), Some(0.0)),
        ("28", hang(0.0), None),
        ("16", hang(0.0), None),
        ("16", hang(0.0), Some(0.0)),
        ("24", grip(0.0), None),
        ("16", rear(-45.0), None),
        ("20", MeasuredFile::BalancePoint { past_spikes_mm: 0.0, uncertainty_mm: 5.0 }, None),
        ("24", MeasuredFile::Reach { past_spikes_mm: 0.0, uncertainty_mm: 5.0 }, None),
        ("24", MeasuredFile::SwingPeriod { period_s: 0.0, uncertainty_s: 0.02 }, None),
        ("24", MeasuredFile::Bar { bar: "24".into(), weight_kg: 0.0, uncertainty_kg: 0.01 }, None),
        (
            "20",
            MeasuredFile::Loop {
                chain: "chain".into(),
                drive_links: 72,
                weight_kg: 0.0,
                uncertainty_kg: 0.01,
            },
            None,
        ),
    ]
}

fn read_off(real: &Yard, dice: &mut Dice) -> Vec<ReadingFile> {
    a_day_of_measures()
        .into_iter()
        .map(|(setup, measured, fill)| {
            let mut file = real.file().clone();
            if let Some(fill) = fill {
                for setup in &mut file.setups {
                    (setup.fuel_fill, setup.oil_fill) = (fill, fill);
                }
            }
            let exact = truth::value(&bench_yard::checked(file), setup, &measured);
            let noisy = exact + dice.normal() * truth::uncertainty(&measured);
            let is_part = matches!(measured, MeasuredFile::Bar { .. } | MeasuredFile::Loop { .. });
            ReadingFile {
                setup: (!is_part).then(|| setup.to_owned()),
                fuel_fill: fill,
                oil_fill: fill,
                ..reading(setup, truth::with_value(&measured, noisy))
            }
        })
        .collect()
}

fn true_value(real: &Yard, unknown: &Unknown) -> f64 {
    let knowledge = Knowledge::of(real, real.setups());
    let place = knowledge.unknowns().iter().position(|known| known == unknown).unwrap();
    knowledge.values()[place]
}

/// Share of the truth within 95 % intervals.
#[derive(Default)]
pub(super) struct Coverage {
    inside: f64,
    all: f64,
}

impl Coverage {
    pub(super) fn add(&mut self, off: f64, uncertainty: f64) {
        self.all += 1.0;
        self.inside += f64::from(u8::from(off.abs() <= COVERAGE * uncertainty));
    }

    pub(super) fn percent(&self) -> f64 {
        100.0 * self.inside / self.all
    }

    pub(super) fn assert_honest(&self, what: &str) {
        let percent = self.percent();
        assert!((93.0..=97.0).contains(&percent), "{what}: {percent:.1} % of {} intervals", self.all);
    }
}

#[test]
fn a_thousand_saws_lie_within_their_intervals_as_often_as_they_should() {
    let mut dice = Dice(20_261_125);
    let mut by_number: Vec<(Unknown, Coverage)> = Vec::new();
    let (mut numbers, mut hangs, mut weights) =
        (Coverage::default(), Coverage::default(), Coverage::default());
    let mut chi_squares = Coverage::default();
    for _ in 0..1000 {
        let stated = bench_yard::checked(some_yard(&mut dice));
        let real = true_yard(&stated, &mut dice);
        let readings = read_off(&real, &mut dice);
        let yard = bench_yard::checked(YardFile { readings, ..stated.file().clone() });
        let found = fitted(&yard);
        for learnt in &found.learnt {
            let off = learnt.value - true_value(&real, &learnt.unknown);
            numbers.add(off, learnt.uncertainty);
            match by_number.iter_mut().find(|(unknown, _)| *unknown == learnt.unknown) {
                Some((_, coverage)) => coverage.add(off, learnt.uncertainty),
                None => {
                    let mut coverage = Coverage::default();
                    coverage.add(off, learnt.uncertainty);
                    by_number.push((learnt.unknown.clone(), coverage));
                }
            }
        }
        // A chi-square is unlikely at 5 % in 5 % of cases.
        chi_squares.all += 1.0;
        chi_squares.inside += f64::from(u8::from(found.probability.unwrap() > 0.05));
        let after = applied(&yard, &found, DATE).unwrap();
        let knowledge = Knowledge::of(&after, after.setups());
        for name in RACK {
            let (setup, truth) = (after.setup(name).unwrap(), solve(real.setup(name).unwrap()));
            let (said, bands) = (solve(setup), knowledge.bands(setup));
            let off = said.hang.unwrap().as_rad() - truth.hang.unwrap().as_rad();
            hangs.add(off, bands.hang.unwrap().as_rad());
            weights.add((said.ready_mass() - truth.ready_mass()).as_kg(), bands.ready_mass.unwrap().as_kg());
        }
    }
    numbers.assert_honest("numbers");
    hangs.assert_honest("hang over the rack");
    weights.assert_honest("weight over the rack");
    chi_squares.assert_honest("chi-squares above 5 %");
    assert_eq!(by_number.len(), 24, "fifteen of the head, the chain, mass and nose of four bars");
    for (unknown, coverage) in &by_number {
        coverage.assert_honest(&format!("{} of {}", unknown.quantity.words(), unknown.of));
    }
}

/// One reading of one number: the mean weighted by the inverse squares of the uncertainties.
#[test]
fn one_weight_and_one_number_make_the_weighted_mean() {
    let yard = yard_with(vec![reading("20", total(9.0))]);
    let only: HashSet<_> = [Unknown::new("head", Quantity::DryMass)].into();
    let found = fit(&yard, &Choice::Chosen(only)).unwrap();
    let (before, u_before, u_read) = (6.1, 0.15_f64, 0.05_f64);
    let rest = solve(yard.setup("20").unwrap()).ready_mass().as_kg() - before;
    let (w_before, w_read) = (u_before.powi(-2), u_read.powi(-2));
    let mean = (before * w_before + (9.0 - rest) * w_read) / (w_before + w_read);
    let (value, uncertainty) = learnt(&found, "head", Quantity::DryMass);
    assert_close("dry mass", value, mean, Within::Relative(1e-12));
    assert_close("its uncertainty", uncertainty, (w_before + w_read).sqrt().recip(), Within::Relative(1e-12));
    // Two values of one number: their difference over its standard deviation.
    let off = (9.0 - rest - before) / u_before.hypot(u_read);
    assert_close("chi-square", found.chi_square, off * off, Within::Relative(1e-10));
    assert_close("standardised", found.readings[0].standardised.unwrap(), off, Within::Relative(1e-10));
    assert_eq!(found.freedom, 1);
}

#[test]
fn law_readings_that_say_what_was_known_change_no_value_and_narrow_every_band() {
    let plain = yard_with(Vec::new());
    let exact: Vec<ReadingFile> = a_day_of_measures()
        .into_iter()
        .filter(|(.., fill)| fill.is_none())
        .filter(|(_, measured, _)| !matches!(measured, MeasuredFile::Bar { .. } | MeasuredFile::Loop { .. }))
        .map(|(setup, measured, _)| {
            reading(setup, truth::with_value(&measured, truth::value(&plain, setup, &measured)))
        })
        .collect();
    let yard = yard_with(exact);
    let found = fitted(&yard);
    assert!(found.chi_square < 1e-12, "{}", found.chi_square);
    for learnt in &found.learnt {
        let slack = 1e-6 * learnt.prior.uncertainty;
        assert_close("value", learnt.value, learnt.prior.value, Within::Absolute(slack));
        assert!(learnt.uncertainty < learnt.prior.uncertainty * 0.999_999, "{learnt:?}");
    }
}

#[test]
fn law_a_fit_that_was_applied_learns_nothing_new_from_the_same_readings() {
    let yard = yard_with(vec![
        reading("20", total(9.0)),
        reading("28", hang(31.0)),
        reading("16", hang(4.0)),
        alone(MeasuredFile::Bar { bar: "20".into(), weight_kg: 1.31, uncertainty_kg: 0.01 }),
    ]);
    let first = fitted(&yard);
    let after = applied(&yard, &first, DATE).unwrap();
    let second = fitted(&after);
    assert_eq!(first.learnt.len(), second.learnt.len());
    for (a, b) in first.learnt.iter().zip(&second.learnt) {
        assert_eq!(a.unknown, b.unknown);
        // Priors are written to 15 digits.
        let slack = Within::Absolute(1e-9 * a.uncertainty);
        assert_close("value", b.value, a.value, slack);
        assert_close("uncertainty", b.uncertainty, a.uncertainty, Within::Relative(1e-9));
    }
    // The uncertainties and correlations that the yard now carries are those of the fit, to the digits written.
    let knowledge = Knowledge::of(&after, after.setups());
    for (i, a) in first.learnt.iter().enumerate() {
        let known = knowledge.uncertainty(&a.unknown).unwrap();
        assert_close("known", known, a.uncertainty, Within::Relative(6e-3));
        for (j, b) in first.learnt.iter().enumerate() {
            let place = |unknown| knowledge.unknowns().iter().position(|known| known == unknown).unwrap();
            let (row, column) = (place(&a.unknown), place(&b.unknown));
            let r =
                knowledge.covariance()[(row, column)] / known / knowledge.uncertainty(&b.unknown).unwrap();
            assert_close("correlation", r, first.correlation(i, j), Within::Absolute(1e-6));
        }
    }
}

#[test]
fn what_was_learnt_can_be_put_back_and_hand_made_changes_stay() {
    let yard = yard_with(vec![reading("20", total(9.0)), reading("28", hang(31.0))]);
    let after = applied(&yard, &fitted(&yard), DATE).unwrap();
    assert_ne!(after.file().powerheads, yard.file().powerheads);
    let back = put_back(&after).unwrap().unwrap();
    let file = back.file();
    assert_eq!(
        (&file.powerheads, &file.bars, &file.chains),
        (&yard.file().powerheads, &yard.file().bars, &yard.file().chains)
    );
    assert!(file.weigh_ins[0].put_back, "it stays in the history");
    assert!(put_back(&back).unwrap().is_none(), "there is nothing more to put back");
    // A number that was changed by hand since is no longer the weigh-in's.
    let mut changed = after.file().clone();
    changed.powerheads[0].dry_mass_kg = 7.0;
    let back = put_back(&bench_yard::checked(changed)).unwrap().unwrap();
    assert_close("dry mass", back.file().powerheads[0].dry_mass_kg, 7.0, Within::Absolute(0.0));
    assert_eq!(back.file().bars, yard.file().bars);
}

#[test]
fn two_weigh_ins_are_put_back_one_by_one() {
    let yard = yard_with(vec![reading("20", total(9.0))]);
    let first = applied(&yard, &fitted(&yard), DATE).unwrap();
    let mut file = first.file().clone();
    file.readings.push(reading("28", hang(31.0)));
    let more = bench_yard::checked(file);
    let second = applied(&more, &fitted(&more), "2026-11-26").unwrap();
    let one_back = put_back(&second).unwrap().unwrap();
    assert_eq!(one_back.file().powerheads, first.file().powerheads);
    assert_eq!(one_back.file().bars, first.file().bars);
    // The first is in force again, with what it was sure of.
    let known = |yard: &Yard| Knowledge::of(yard, yard.setups()).covariance().clone();
    assert_eq!(known(&one_back), known(&first));
    let both_back = put_back(&one_back).unwrap().unwrap();
    assert_eq!(both_back.file().powerheads, yard.file().powerheads);
    assert_eq!(both_back.file().bars, yard.file().bars);
}

#[test]
fn the_reading_that_disagrees_is_named() {
    let honest = [("16", 4.0), ("20", 12.5), ("24", 21.5), ("28", 29.0)];
    let plain = yard_with(Vec::new());
    let mut readings: Vec<_> = honest
        .iter()
        .map(|(setup, _)| reading(setup, hang(truth::value(&plain, setup, &hang(0.0)))))
        .collect();
    readings.push(reading("20", total(truth::value(&plain, "20", &total(0.0)))));
    readings[2].measured = hang(truth::value(&plain, "24", &hang(0.0)) - 12.0);
    let found = fitted(&yard_with(readings.clone()));
    let named = found.disagreement.unwrap();
    assert_eq!(named.index, 2);
    assert!(named.standardised < -5.0, "read too small: {named:?}");
    assert!(found.probability.unwrap() < 1e-3);
    assert!(named.probability_without.unwrap() > 0.5, "{named:?}");
    // What the others say is what they say without it, near enough for a little bend.
    let (said, uncertainty) = found.readings[2].by_others.unwrap();
    let off = (found.readings[2].read.0 - said) / found.readings[2].read.1.hypot(uncertainty);
    assert_close("off", off, named.standardised, Within::Relative(1e-9));
    // The standardised residual foretells what leaving it out does.
    readings[2].left_out = true;
    let without = fitted(&yard_with(readings.clone()));
    assert_eq!(without.disagreement, None);
    assert_eq!(without.readings.len(), 4);
    let drop = found.chi_square - without.chi_square;
    // Not quite linear, so not quite equal.
    assert_close("drop", drop, named.standardised.powi(2), Within::Relative(0.05));
}

/// Where a reading is a little off, what the others say is what a fit without it says; far off, the model bends. All
/// numbers are let free, for one that a fit holds is still unsure afterwards.
#[test]
fn law_what_the_others_say_is_what_they_say_alone() {
    let plain = yard_with(Vec::new());
    let exact = |setup| truth::value(&plain, setup, &hang(0.0));
    let mut readings: Vec<_> = RACK.iter().map(|setup| reading(setup, hang(exact(setup)))).collect();
    readings.push(reading("20", total(truth::value(&plain, "20", &total(0.0)))));
    readings[0].measured = hang(exact(RACK[0]) + 0.5);
    let (said, uncertainty) = fitted_whole(&yard_with(readings.clone())).readings[0].by_others.unwrap();
    readings[0].left_out = true;
    let left = yard_with(readings);
    let after = applied(&left, &fitted_whole(&left), DATE).unwrap();
    let (alone, u_alone) = Knowledge::expected(&after, after.readings()[0].measured()).unwrap();
    assert_close("value", said, alone, Within::Absolute(0.05 * u_alone));
    assert_close("uncertainty", uncertainty, u_alone, Within::Relative(0.05));
}

#[test]
fn two_weights_of_one_saw_that_cannot_both_be_true_are_not_believed() {
    let found = fitted(&yard_with(vec![reading("20", total(8.5)), reading("20", total(9.5))]));
    assert!(found.probability.unwrap() < 1e-6);
    // The one that is further from what was known.
    assert_eq!(found.disagreement.unwrap().index, 1);
}

#[test]
fn without_readings_there_is_nothing_to_learn() {
    assert_eq!(fit(&yard_with(Vec::new()), &Choice::Automatic), Err(CannotFit::NoReadings));
    let mut left_out = reading("20", total(9.0));
    left_out.left_out = true;
    assert_eq!(fit(&yard_with(vec![left_out]), &Choice::Automatic), Err(CannotFit::NoReadings));
    let reach = reading("20", MeasuredFile::Reach { past_spikes_mm: 440.0, uncertainty_mm: 5.0 });
    let mass: HashSet<_> = [Unknown::new("head", Quantity::DryMass)].into();
    assert_eq!(fit(&yard_with(vec![reach]), &Choice::Chosen(mass)), Err(CannotFit::NothingNoticed));
}

#[test]
fn a_fit_that_would_leave_what_is_possible_says_which_number() {
    let light = (0..12).map(|_| reading("16", MeasuredFile::Total { weight_kg: 2.1, uncertainty_kg: 0.001 }));
    let only: HashSet<_> = [Unknown::new("head", Quantity::DryMass)].into();
    match fit(&yard_with(light.collect()), &Choice::Chosen(only)) {
        Err(CannotFit::OutOfRange { unknown, value }) => {
            assert_eq!(unknown.quantity, Quantity::DryMass);
            assert!(value < 1.0, "{value} kg");
        }
        other => panic!("{other:?}"),
    }
}

/// What a hang alone says is one combination: a tank's place takes no more of it than its small part.
#[test]
fn a_tank_moves_little_where_all_readings_are_of_full_tanks() {
    let yard = yard_with(vec![reading("20", hang(18.0)), reading("20", hang(18.0))]);
    let found = fitted(&yard);
    let moved = |quantity| {
        let unknown = Unknown::new("head", quantity);
        let learnt = found.learnt.iter().find(|learnt| learnt.unknown == unknown);
        learnt.map_or(0.0, |learnt| ((learnt.value - learnt.prior.value) / learnt.prior.uncertainty).abs())
    };
    assert!(moved(Quantity::CentroidX) > 1.0, "{}", moved(Quantity::CentroidX));
    for tank in [Quantity::FuelTankX, Quantity::OilTankX, Quantity::FuelCapacity, Quantity::OilCapacity] {
        assert!(moved(tank) < 0.3, "{tank:?} {}", moved(tank));
    }
}

#[test]
fn slips_of_the_pen_are_recognised() {
    let yard = yard_with(Vec::new());
    let setup = yard.setup("20").unwrap();
    let saw = |measure| Measured::Saw { setup: Box::new(setup.clone()), measure };
    use barpoise_core::weigh_in::SawMeasure;
    let solved = solve(setup);
    let kg = solved.ready_mass().as_kg();
    let weight = |value| Slip::of(&yard, &saw(SawMeasure::Total), value, 0.05);
    assert_eq!(weight(kg), None);
    assert_eq!(weight(kg * 10.0), Some(Slip::DecimalPoint(kg * 10.0 / 10.0)));
    assert!(matches!(weight(kg / 0.453_592_37), Some(Slip::Pounds(mended)) if (mended - kg).abs() < 1e-9));
    assert!(matches!(weight(kg * 0.453_592_37), Some(Slip::Kilograms(mended)) if (mended - kg).abs() < 1e-9));
    assert_eq!(weight(kg + 2.5), Some(Slip::Unexplained));
    let nose_down = solved.hang.unwrap().as_rad();
    let angle = |value| Slip::of(&yard, &saw(SawMeasure::Hang), value, 0.01);
    assert_eq!(angle(-nose_down), Some(Slip::Sign(nose_down)));
    let behind =
        truth::value(&yard, "20", &MeasuredFile::BalancePoint { past_spikes_mm: 0.0, uncertainty_mm: 5.0 });
    let edge = Slip::of(&yard, &saw(SawMeasure::BalancePoint), -behind / 1e3, 0.005);
    assert!(matches!(edge, Some(Slip::Sign(mended)) if (mended - behind / 1e3).abs() < 1e-9), "{edge:?}");
    let reach = |value| Slip::of(&yard, &saw(SawMeasure::Reach), value, 0.005);
    let read_in_inches = solved.reach.as_in() / 1000.0;
    assert!(
        matches!(reach(read_in_inches), Some(Slip::Inches(mended)) if (mended - solved.reach.as_m()).abs() < 1e-9)
    );
}

/// The yard with one more reading: what it asks for, read as expected.
fn with_reading(yard: &Yard, next: &NextReading) -> Yard {
    let (expected, _) = Knowledge::expected(yard, &next.measured).unwrap();
    let shown = expected / next.measured.si_per_file_unit();
    let u = next.measured.common_uncertainty() / next.measured.si_per_file_unit();
    let mut file = yard.file().clone();
    file.readings.push(written(&next.measured, shown, u));
    bench_yard::checked(file)
}

fn written(measured: &Measured, value: f64, uncertainty: f64) -> ReadingFile {
    use barpoise_core::weigh_in::SawMeasure;
    match measured {
        Measured::Bar(bar) => {
            alone(MeasuredFile::Bar { bar: bar.name().into(), weight_kg: value, uncertainty_kg: uncertainty })
        }
        Measured::Loop { chain, links } => alone(MeasuredFile::Loop {
            chain: chain.name().into(),
            drive_links: *links,
            weight_kg: value,
            uncertainty_kg: uncertainty,
        }),
        Measured::Saw { setup, measure } => {
            let file = match measure {
                SawMeasure::Total => MeasuredFile::Total { weight_kg: value, uncertainty_kg: uncertainty },
                SawMeasure::FrontGrip { nose_up } => MeasuredFile::FrontGrip {
                    weight_kg: value,
                    uncertainty_kg: uncertainty,
                    nose_up_deg: nose_up.as_deg(),
                },
                SawMeasure::RearGrip { nose_up } => MeasuredFile::RearGrip {
                    weight_kg: value,
                    uncertainty_kg: uncertainty,
                    nose_up_deg: nose_up.as_deg(),
                },
                SawMeasure::Hang => MeasuredFile::Hang { nose_down_deg: value, uncertainty_deg: uncertainty },
                SawMeasure::BalancePoint => {
                    MeasuredFile::BalancePoint { past_spikes_mm: value, uncertainty_mm: uncertainty }
                }
                SawMeasure::Reach => {
                    MeasuredFile::Reach { past_spikes_mm: value, uncertainty_mm: uncertainty }
                }
                SawMeasure::SwingPeriod => {
                    MeasuredFile::SwingPeriod { period_s: value, uncertainty_s: uncertainty }
                }
            };
            reading(setup.name(), file)
        }
    }
}

/// Every number, so that nothing is held that the foresight lets move.
fn fitted_whole(yard: &Yard) -> Fit {
    let all = readable(yard).into_iter().collect();
    fit(yard, &Choice::Chosen(all)).unwrap()
}

fn hang_over_rack(yard: &Yard) -> f64 {
    let knowledge = Knowledge::of(yard, yard.setups());
    let squares = yard.setups().iter().map(|setup| knowledge.bands(setup).hang.unwrap().as_deg().powi(2));
    (squares.sum::<f64>() / f64::from(u32::try_from(yard.setups().len()).unwrap())).sqrt()
}

#[test]
fn the_next_reading_brings_what_was_foretold_and_none_brings_more() {
    let yard = yard_with(vec![reading("20", total(8.6)), reading("20", hang(12.0))]);
    let known = applied(&yard, &fitted_whole(&yard), DATE).unwrap();
    let all = next_readings(&known, "head", usize::MAX);
    assert!(all.len() > 20, "{}", all.len());
    let mut brought = Vec::new();
    for next in &all {
        let more = with_reading(&known, next);
        let after = applied(&more, &fitted_whole(&more), DATE).unwrap();
        let then = hang_over_rack(&after);
        // The weigh-in is written to three digits of each uncertainty.
        assert_close("hang then", then, next.hang_then.as_deg(), Within::Relative(0.01));
        brought.push(then);
    }
    let best = brought.iter().copied().fold(f64::INFINITY, f64::min);
    assert_close("the first is the best", brought[0], best, Within::Relative(0.01));
    assert_close("now", hang_over_rack(&known), all[0].hang_now.as_deg(), Within::Relative(1e-9));
    // The least useful one, such as a reach, brings nothing at all.
    let least = brought.iter().copied().fold(0.0, f64::max);
    assert_close("the least useful", least, all[0].hang_now.as_deg(), Within::Relative(1e-3));
    assert!(brought[0] < 0.9 * least, "from {least}° to {}°", brought[0]);
}

#[test]
fn numbers_that_one_reading_cannot_tell_apart_are_named_and_then_told_apart() {
    let chosen: HashSet<_> =
        [Unknown::new("head", Quantity::DryMass), Unknown::new("20", Quantity::BarMass)].into();
    let first = yard_with(vec![reading("20", MeasuredFile::Total { weight_kg: 9.0, uncertainty_kg: 0.01 })]);
    let found = fit(&first, &Choice::Chosen(chosen.clone())).unwrap();
    assert_eq!(found.settled, 1, "their sum");
    // The sum weighs them by how unsure each is, so that the open combination is mostly the more surely known bar.
    let mixed = &found.mixed[0];
    assert!(mixed.unknowns.contains(&Unknown::new("20", Quantity::BarMass)), "{:?}", mixed.unknowns);
    let by = mixed.separated_by.clone().unwrap();
    let mut file = first.file().clone();
    let (expected, _) = Knowledge::expected(&first, &by).unwrap();
    file.readings.push(written(
        &by,
        expected / by.si_per_file_unit(),
        by.common_uncertainty() / by.si_per_file_unit(),
    ));
    let found = fit(&bench_yard::checked(file), &Choice::Chosen(chosen)).unwrap();
    assert!(
        found.mixed.is_empty(),
        "{:?}",
        found.mixed.iter().map(|mixed| &mixed.unknowns).collect::<Vec<_>>()
    );
}

#[test]
fn linear_bands_agree_with_draws() {
    const DRAWS: u32 = 40_000;
    let yard =
        yard_with(vec![reading("20", total(8.6)), reading("28", hang(29.0)), reading("16", hang(4.0))]);
    for yard in [applied(&yard, &fitted(&yard), DATE).unwrap(), yard.clone()] {
        let knowledge = Knowledge::of(&yard, yard.setups());
        let setups: Vec<&Setup> = yard.setups().iter().collect();
        for (setup, drawn) in setups.iter().zip(draw(&knowledge, &setups, DRAWS, 3)) {
            let (bands, solved) = (knowledge.bands(setup), solve(setup));
            // The deviation of so many draws scatters by 1 in √(2n), 0.35 %; five of those. Weight is linear.
            let mass = drawn.ready_mass.1.as_kg();
            assert_close("weight", mass, bands.ready_mass.unwrap().as_kg(), Within::Relative(0.018));
            let reach = drawn.reach.1.as_m();
            assert_close("reach", reach, bands.reach.unwrap().as_m(), Within::Relative(0.018));
            // Products of two unsure numbers bend as little.
            for (what, drawn, band) in [
                ("front hand", drawn.front_hand.1.as_n(), bands.front_hand.unwrap().as_n()),
                ("rear hand", drawn.rear_hand.1.as_n(), bands.rear_hand.unwrap().as_n()),
                ("nose moment", drawn.nose_moment.1.as_n_m(), bands.nose_moment.unwrap().as_n_m()),
                ("swing inertia", drawn.swing_inertia.1.as_kg_m2(), bands.swing_inertia.unwrap().as_kg_m2()),
            ] {
                assert_close(what, drawn, band, Within::Relative(0.03));
            }
            // The hang bends a little over its band.
            let hang = drawn.hang.1.as_deg();
            assert_close("hang", hang, bands.hang.unwrap().as_deg(), Within::Relative(0.03));
            let middle = drawn.hang.0.as_deg();
            assert_close("mean hang", middle, solved.hang.unwrap().as_deg(), Within::Absolute(0.1 * hang));
            assert_close("hangs", drawn.hangs, 1.0, Within::Absolute(0.0));
        }
    }
    let knowledge = Knowledge::of_head(&yard, "head");
    let setup = yard.setup("20").unwrap();
    assert_eq!(
        draw(&knowledge, &[setup], 100, 5),
        draw(&knowledge, &[setup], 100, 5),
        "a seed draws the same"
    );
}

#[test]
fn law_a_made_up_bar_at_a_rack_bars_length_has_that_bars_bands() {
    let yard = yard_with(vec![reading("20", total(8.6)), reading("24", hang(20.0))]);
    let yard = applied(&yard, &fitted(&yard), DATE).unwrap();
    let knowledge = Knowledge::of(&yard, yard.setups());
    let family = BarFamily::new(yard.setup("20").unwrap(), yard.bars());
    for name in RACK {
        let rack = yard.setup(name).unwrap();
        let made = family.at(rack.bar().overall_length()).unwrap();
        let (a, b) =
            (knowledge.bands(rack), knowledge.bands_made_up(&made, &family, rack.bar().overall_length()));
        assert_close(
            "weight",
            b.ready_mass.unwrap().as_kg(),
            a.ready_mass.unwrap().as_kg(),
            Within::Relative(1e-9),
        );
        assert_close("hang", b.hang.unwrap().as_rad(), a.hang.unwrap().as_rad(), Within::Relative(1e-9));
    }
}

/// The derivative of a made-up bar's mass by those of its neighbours, against weighing them anew.
#[test]
fn law_the_mass_of_a_made_up_bar_follows_its_neighbours() {
    let weighed = |kg_20: f64, kg_24: f64| {
        let mut file = bench_yard::rack_file();
        for bar in &mut file.bars {
            match bar.name.as_str() {
                "20" => bar.weighed_mass_kg = Some(kg_20),
                "24" => bar.weighed_mass_kg = Some(kg_24),
                _ => {}
            }
        }
        bench_yard::checked(file)
    };
    let between = Length::from_mm(640.0);
    let mass = |yard: &Yard| {
        let family = BarFamily::new(yard.setup("20").unwrap(), yard.bars());
        family.at(between).unwrap().bar().mass().as_kg()
    };
    let yard = weighed(1.25, 1.60);
    let family = BarFamily::new(yard.setup("20").unwrap(), yard.bars());
    let made = family.at(between).unwrap();
    // Only the bars are unsure here: 20 g each, as weighed.
    let (h, u) = (1e-4, 0.02);
    let slope_20 = (mass(&weighed(1.25 + h, 1.60)) - mass(&weighed(1.25 - h, 1.60))) / (2.0 * h);
    let slope_24 = (mass(&weighed(1.25, 1.60 + h)) - mass(&weighed(1.25, 1.60 - h))) / (2.0 * h);
    // Each bar as it is scaled to this length, and no surer between two than they are on the way from one to the other.
    let of_20 = (between - yard.setup("20").unwrap().bar().overall_length()).as_mm();
    let of_24 = (yard.setup("24").unwrap().bar().overall_length() - between).as_mm();
    let (w_20, w_24) = (of_24 / (of_20 + of_24), of_20 / (of_20 + of_24));
    let of_bars = u * (slope_20.powi(2) / w_20 + slope_24.powi(2) / w_24).sqrt();
    let knowledge = Knowledge::of(&yard, yard.setups());
    let with_bars = knowledge.bands_made_up(&made, &family, between).ready_mass.unwrap().as_kg();
    // Take off what head, loop and fluids bring, and 6 % of the plate that the nearer bar does not have.
    let own_kg = (mass(&yard) - 1.25).abs().min((mass(&yard) - 1.60).abs());
    let others = 0.15_f64.hypot(0.04 * 0.0048 * made.links().exact()).hypot(0.06 * own_kg);
    let head = made.powerhead();
    let fluids = [head.fuel_tank().fluid(made.fuel_fill()), head.oil_tank().fluid(made.oil_fill())];
    let others = fluids.iter().fold(others, |others, fluid| others.hypot(0.03 * fluid.mass_kg));
    let bars = (with_bars.powi(2) - others.powi(2)).sqrt();
    assert_close("bars' part", bars, of_bars, Within::Relative(1e-6));
}

/// Readings of one head with three bars, *common practice, no source*: weights to 0.1 kg, reach by tape to 10 mm, and the feel
/// in the hand as the middle of its band with the spread of an even distribution (JCGM 100:2008, 4.3.7).
#[test]
fn what_practitioners_read_makes_a_sane_saw_and_an_honest_band() {
    let bars = [(16.0, 60), (20.0, 72), (26.0, 89)];
    let mut file = bench_yard::yard_file(
        bench_yard::head(195.0),
        bars.iter()
            .map(|(marked, links)| bench_yard::bar(&format!("{marked}"), *marked, *links, 6.0))
            .collect(),
    );
    // Nothing of the bench yard's own spike line is known: it is invented.
    file.powerheads[0].standard_uncertainty.spike_line_mm = Some(40.0);
    file.powerheads[0].standard_uncertainty.dry_mass_kg = Some(1.0);
    let feel = |feel: Feel| {
        let edges = Feel::EDGES_DEG;
        let at = edges.iter().position(|(band, _)| *band == feel).unwrap();
        let (low, high) = (edges[at - 1].1, edges[at].1);
        MeasuredFile::Hang {
            nose_down_deg: 0.5 * (low + high),
            uncertainty_deg: 0.5 * (high - low) / 3.0_f64.sqrt(),
        }
    };
    let read = [
        ("16", 8.1, 330.0, Feel::Level),
        ("20", 8.6, 450.0, Feel::SlightlyNoseHeavy),
        ("26", 9.1, 620.0, Feel::NoseHeavy),
    ];
    for (setup, kg, reach, band) in read {
        file.readings.push(reading(setup, MeasuredFile::Total { weight_kg: kg, uncertainty_kg: 0.05 }));
        file.readings
            .push(reading(setup, MeasuredFile::Reach { past_spikes_mm: reach, uncertainty_mm: 10.0 }));
        file.readings.push(reading(setup, feel(band)));
    }
    let yard = bench_yard::checked(file);
    let found = fitted(&yard);
    let (dry, _) = learnt(&found, "head", Quantity::DryMass);
    assert!((5.5..=7.0).contains(&dry), "dry mass {dry} kg");
    let (spikes, u_spikes) = learnt(&found, "head", Quantity::SpikeLine);
    assert!((0.180..=0.210).contains(&spikes), "spike line {spikes} m");
    // Three tape readings of 10 mm, each to a nose as sure as its chain's stretch; what was known adds next to nothing.
    let each =
        bars.map(|(_, links)| 0.010_f64.hypot(0.02 / 6.0_f64.sqrt() * f64::from(links) * 0.375 * 0.0254));
    let all: f64 = each.iter().map(|each| each.powi(-2)).sum();
    assert_close("its uncertainty", u_spikes, all.sqrt().recip(), Within::Relative(0.02));
    assert!(found.probability.unwrap() > 0.05, "{:?}", found.probability);

    let after = applied(&yard, &found, DATE).unwrap();
    let knowledge = Knowledge::of(&after, after.setups());
    let longest = after.setup("26").unwrap();
    let family = BarFamily::new(longest, after.bars());
    // The bar that takes 119 links.
    let (mut low, mut high) = BarFamily::span();
    for _ in 0..60 {
        let middle = (low + high) * 0.5;
        if family.at(middle).unwrap().links().exact() < 119.0 { low = middle } else { high = middle }
    }
    let far = family.at(low).unwrap();
    assert_close("links", far.links().exact(), 119.0, Within::Absolute(1e-6));
    let (near_band, far_band) = (knowledge.bands(longest), knowledge.bands_made_up(&far, &family, low));
    let (kg, u_kg) = (solve(&far).ready_mass().as_kg(), far_band.ready_mass.unwrap().as_kg());
    assert!((9.7..11.0).contains(&kg), "{kg} kg");
    assert!(
        u_kg > 1.5 * near_band.ready_mass.unwrap().as_kg(),
        "a bar that nobody weighed is known less: {u_kg}"
    );
    let (hang, u_hang) = (solve(&far).hang.unwrap().as_deg(), far_band.hang.unwrap().as_deg());
    assert_eq!(Feel::of(Angle::from_deg(hang)), Feel::VeryNoseHeavy, "{hang}°");
    assert!((0.5..5.0).contains(&u_hang), "{u_hang}°");
}
