//! A saw from nothing: proposed parts, then what a scale, a tape and a glance say of it. The readings are a
//! practitioner's: *common practice, no source*.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "helpers of tests, outside a test function"
)]

use super::weigh_in::{Coverage, Dice, set, truth};
use barpoise_checks::{Within, assert_close};
use barpoise_core::propose::{
    Drive, LoopRound, common_bar, common_chain, common_powerhead, nose_doubt, propose_bar, propose_powerhead,
    unmark_proposed,
};
use barpoise_core::record::{MeasuredFile, PartFile, ReadingFile, SetupFile, YARD_VERSION, YardFile};
use barpoise_core::weigh_in::{
    COVERAGE, Choice, Counted, Knowledge, Measured, Quantity, SawMeasure, Slip, Unknown, applied, fit,
};
use barpoise_core::{Yard, solve};
use std::collections::HashMap;

/// A head known by its power alone, and bars known by their stamps.
fn proposed(power_kw: f64, stamps_in: &[f64]) -> YardFile {
    let mut part = common_powerhead("Own");
    unmark_proposed(&mut part, "power_kw");
    let PartFile::Powerhead(mut head) = part else { panic!("a head") };
    head.power_kw = power_kw;
    propose_powerhead(&mut head);
    let PartFile::Chain(chain) = common_chain("loop", 0.375) else { panic!("a chain") };
    let drive = Drive::of(&head, Some(&chain));
    let bars = stamps_in.iter().map(|stamp| {
        let mut part = common_bar(&format!("{stamp}"), &head.mount, &drive);
        unmark_proposed(&mut part, "marked_length_in");
        let PartFile::Bar(mut bar) = part else { panic!("a bar") };
        bar.marked_length_in = *stamp;
        propose_bar(&mut bar, &drive);
        *bar
    });
    let setup = |stamp: &f64| SetupFile {
        name: format!("{stamp}"),
        note: String::new(),
        powerhead: "Own".into(),
        bar: format!("{stamp}"),
        chain: "loop".into(),
        drive_links: None,
        fuel_fill: 1.0,
        oil_fill: 1.0,
        extras: Vec::new(),
    };
    YardFile {
        version: YARD_VERSION,
        name: "Own".into(),
        note: String::new(),
        person: None,
        powerheads: vec![(*head).clone()],
        bars: bars.collect(),
        chains: vec![*chain],
        setups: stamps_in.iter().map(setup).collect(),
        ..barpoise_checks::bench_yard::rack_file()
    }
}

fn read(setup: &str, measured: MeasuredFile) -> ReadingFile {
    let setup = Some(setup.into());
    ReadingFile::new(measured, setup)
}

fn total(setup: &str, weight_kg: f64) -> ReadingFile {
    read(setup, MeasuredFile::Total { weight_kg, uncertainty_kg: 0.05 })
}

fn yard(file: &YardFile, readings: Vec<ReadingFile>) -> Yard {
    Yard::new(YardFile { readings, ..file.clone() }).unwrap()
}

/// A first weight of 8.1 kg: common practice, no source.
#[test]
fn an_honest_first_weight_on_a_proposed_head_is_believed_and_applied() {
    let yard = yard(&proposed(4.7, &[16.0]), vec![total("16", 8.1)]);
    let setup = Box::new(yard.setup("16").unwrap().clone());
    let measured = Measured::Saw { setup, measure: SawMeasure::Total };
    assert_eq!(Slip::of(&yard, &measured, 8.1, 0.05), None);
    let found = fit(&yard, &Choice::Automatic).unwrap();
    assert!(found.disagreement.is_none(), "{:?}", found.disagreement);
    assert!(found.probability.unwrap() > 0.05, "{:?}", found.probability);
    let after = applied(&yard, &found, "2026-11-26").unwrap();
    let (weight, sure) = Knowledge::expected(&after, &measured_again(&after)).unwrap();
    assert!((weight - 8.1).abs() < 0.05 && sure < 0.051, "{weight} ± {sure}");
}

fn measured_again(yard: &Yard) -> Measured {
    Measured::Saw { setup: Box::new(yard.setup("16").unwrap().clone()), measure: SawMeasure::Total }
}

fn reach(setup: &str, past_spikes_mm: f64, uncertainty_mm: f64) -> ReadingFile {
    read(setup, MeasuredFile::Reach { past_spikes_mm, uncertainty_mm })
}

/// A saw like a proposed one: every number drawn from what is stated of it, the counts from theirs, and how many links
/// each bar's loop really has more than was proposed. A draw that makes no saw is drawn again.
fn really(yard: &Yard, dice: &mut Dice) -> (Yard, HashMap<String, i32>) {
    let knowledge = Knowledge::of(yard, yard.setups());
    loop {
        let (mut file, mut counts) = (yard.file().clone(), HashMap::new());
        for (unknown, value) in knowledge.unknowns().iter().zip(knowledge.values().iter()) {
            let off = if unknown.quantity == Quantity::NosePlace {
                let bar = yard.file().bars.iter().find(|bar| bar.name == *unknown.of).unwrap();
                let doubt = nose_doubt(bar, &LoopRound::of(yard, &unknown.of));
                let mut rest = dice.between(0.0, 1.0);
                let counted = doubt.counts();
                let drawn = counted.iter().find(|(_, chance)| {
                    rest -= chance;
                    rest <= 0.0
                });
                let aside = drawn.or(counted.last()).unwrap().0;
                counts.insert(unknown.of.to_string(), aside);
                f64::from(aside) * doubt.link_m.unwrap() + dice.normal() * doubt.even_m
            } else {
                dice.normal() * knowledge.uncertainty(unknown).unwrap()
            };
            set(&mut file, unknown, value + off);
        }
        if let Ok(real) = Yard::new(file)
            && real.setups().iter().all(|setup| solve(setup).hang.is_ok())
        {
            return (real, counts);
        }
    }
}

/// What is read off a saw, each measure with its scatter.
fn read_off(real: &Yard, dice: &mut Dice, measures: &[(&str, MeasuredFile)]) -> Vec<ReadingFile> {
    let noisy = |(setup, measured): &(&str, MeasuredFile)| {
        let value = truth::value(real, setup, measured) + dice.normal() * truth::uncertainty(measured);
        read(setup, truth::with_value(measured, value))
    };
    measures.iter().map(noisy).collect()
}

const STAMPS_IN: [f64; 4] = [16.0, 20.0, 24.0, 28.0];

/// Weight, hang and reach of three bars; the fourth is never measured.
fn an_afternoon() -> Vec<(&'static str, MeasuredFile)> {
    let total = || MeasuredFile::Total { weight_kg: 0.0, uncertainty_kg: 0.05 };
    let hang = || MeasuredFile::Hang { nose_down_deg: 0.0, uncertainty_deg: 1.0 };
    let reach = || MeasuredFile::Reach { past_spikes_mm: 0.0, uncertainty_mm: 5.0 };
    ["16", "20", "24"].into_iter().flat_map(|bar| [(bar, total()), (bar, hang()), (bar, reach())]).collect()
}

/// Saws as unlike their proposals as is stated: the intervals of what was learnt hold them, and so do those of a bar
/// that was never measured.
#[test]
fn a_thousand_proposed_saws_lie_within_their_intervals_and_so_does_the_bar_not_measured() {
    let mut dice = Dice(15);
    let mut by_number: Vec<(Unknown, Coverage)> = Vec::new();
    let mut of_28 = [Coverage::default(), Coverage::default(), Coverage::default()];
    let mut claims = Claims::default();
    for _ in 0..1000 {
        let stated = yard(&proposed(dice.between(2.5, 6.0), &STAMPS_IN), Vec::new());
        let (real, counts) = really(&stated, &mut dice);
        let readings = read_off(&real, &mut dice, &an_afternoon());
        let yard = yard(stated.file(), readings);
        let found = fit(&yard, &Choice::Automatic).unwrap();
        let knowledge = Knowledge::of(&real, real.setups());
        for learnt in &found.learnt {
            let place = knowledge.unknowns().iter().position(|known| *known == learnt.unknown).unwrap();
            let off = learnt.value - knowledge.values()[place];
            if !by_number.iter().any(|(unknown, _)| *unknown == learnt.unknown) {
                by_number.push((learnt.unknown.clone(), Coverage::default()));
            }
            let coverage = by_number.iter_mut().find(|(unknown, _)| *unknown == learnt.unknown).unwrap();
            coverage.1.add(off, learnt.uncertainty);
        }
        for counted in &found.counts {
            claims.add(counted, counts[&counted.bar]);
        }
        let after = applied(&yard, &found, "2026-11-27").unwrap();
        let known = Knowledge::of(&after, after.setups());
        let (setup, truth) = (after.setup("28").unwrap(), solve(real.setup("28").unwrap()));
        let (ours, bands) = (solve(setup), known.bands(setup));
        let offs = [
            ((ours.ready_mass() - truth.ready_mass()).as_kg(), bands.ready_mass.unwrap().as_kg()),
            (ours.hang.unwrap().as_rad() - truth.hang.unwrap().as_rad(), bands.hang.unwrap().as_rad()),
            ((ours.reach - truth.reach).as_m(), bands.reach.unwrap().as_m()),
        ];
        for (coverage, (off, uncertainty)) in of_28.iter_mut().zip(offs) {
            coverage.add(off, uncertainty);
        }
    }
    for (unknown, coverage) in &by_number {
        coverage.assert_honest(&format!("{} of {}", unknown.quantity.words(), unknown.of));
    }
    for (coverage, what) in of_28.iter().zip(["weight", "hang", "reach"]) {
        coverage.assert_honest(&format!("{what} of the bar not measured"));
    }
    claims.assert_honest();
}

/// What was said of counts, and how it came out.
#[derive(Default)]
struct Claims {
    /// By tenths of the chance that was said of one count: how many, the sum of the chances, how many were right.
    tenths: [(f64, f64, f64); 10],
    /// The fewest counts that have nine chances in ten together: the same.
    nine_in_ten: (f64, f64, f64),
}

impl Claims {
    fn add(&mut self, counted: &Counted, really_aside: i32) {
        let really = counted.proposed.checked_add_signed(really_aside).unwrap();
        let add = |(all, said, held): &mut (f64, f64, f64), chance: f64, right: bool| {
            *all += 1.0;
            *said += chance;
            *held += f64::from(u8::from(right));
        };
        for chance in &counted.chances {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a chance in tenths")]
            let tenth = (chance.now * 10.0).min(9.0) as usize;
            add(&mut self.tenths[tenth], chance.now, chance.links == really);
        }
        let mut likeliest = counted.chances.clone();
        likeliest.sort_by(|a, b| b.now.total_cmp(&a.now));
        let mut together = 0.0;
        let mut among = false;
        for chance in likeliest {
            together += chance.now;
            among |= chance.links == really;
            if together >= 0.9 {
                break;
            }
        }
        add(&mut self.nine_in_ten, together, among);
    }

    /// What is said comes true as often as is said, within four standard errors of a share.
    fn assert_honest(&self) {
        let mut held_to = 0;
        for (tenth, (all, said, held)) in self.tenths.iter().enumerate() {
            if *all < 100.0 {
                continue;
            }
            held_to += 1;
            let (said, held) = (said / all, held / all);
            let error = (said * (1.0 - said) / all).sqrt();
            assert!((said - held).abs() < 4.0 * error, "tenth {tenth}: said {said:.3}, came true {held:.3}");
        }
        assert!(held_to >= 4, "only {held_to} tenths had claims enough");
        let (all, said, held) = self.nine_in_ten;
        let percent = 100.0 * held / all;
        assert!((85.0..=97.0).contains(&percent), "{percent:.1} %, said {:.1} %", 100.0 * said / all);
    }
}

/// Counts under a tape of 2 mm on a head whose spike line was measured to 1 mm: there they are nearly settled.
#[test]
fn counts_are_right_as_often_as_is_said_where_the_tape_is_good() {
    let mut dice = Dice(59);
    let mut claims = Claims::default();
    for _ in 0..1000 {
        let mut file = proposed(dice.between(2.5, 6.0), &STAMPS_IN[..3]);
        let mut part = PartFile::Powerhead(Box::new(file.powerheads[0].clone()));
        for path in ["spike_line_mm", "sprocket.teeth"] {
            unmark_proposed(&mut part, path);
        }
        let PartFile::Powerhead(mut head) = part else { panic!("a head") };
        head.standard_uncertainty.spike_line_mm = Some(1.0);
        file.powerheads[0] = *head;
        let stated = yard(&file, Vec::new());
        let (real, counts) = really(&stated, &mut dice);
        let tape = || MeasuredFile::Reach { past_spikes_mm: 0.0, uncertainty_mm: 2.0 };
        let readings = read_off(&real, &mut dice, &["16", "20", "24"].map(|bar| (bar, tape())));
        let yard = yard(&file, readings);
        for counted in &fit(&yard, &Choice::Automatic).unwrap().counts {
            claims.add(counted, counts[&counted.bar]);
        }
    }
    claims.assert_honest();
    assert!(claims.tenths[8].0 + claims.tenths[7].0 > 100.0, "some counts are nearly settled");
}

/// One bar whose nose alone is learnt from one tape: by Bayes' rule (JCGM 106:2012, 6.2) the chance of a count is its own
/// times the normal density of what was taped about where that count puts the nose.
#[test]
fn one_tape_and_one_loop_give_the_chances_of_bayes_rule() {
    let (tape_mm, give_or_take_mm) = (345.0, 5.0);
    let yard = yard(&proposed(4.7, &[16.0]), vec![reach("16", tape_mm, give_or_take_mm)]);
    let only = [Unknown::new("16", Quantity::NosePlace)].into();
    let found = fit(&yard, &Choice::Chosen(only)).unwrap();
    let doubt = nose_doubt(&yard.file().bars[0], &LoopRound::of(&yard, "16"));
    let (link, even) = (doubt.link_m.unwrap() * 1e3, doubt.even_m * 1e3);
    let expected_mm = solve(yard.setup("16").unwrap()).reach.as_mm();
    let density = |aside: i32| {
        let off = tape_mm - expected_mm - f64::from(aside) * link;
        (-0.5 * off * off / (even * even + give_or_take_mm * give_or_take_mm)).exp()
    };
    let counts = doubt.counts();
    let all: f64 = counts.iter().map(|(aside, chance)| chance * density(*aside)).sum();
    let counted = &found.counts[0];
    assert_eq!(counted.chances.len(), counts.len());
    let (mut mean, mut square) = (0.0, 0.0);
    let (w_tape, w_even) = (give_or_take_mm.powi(-2), even.powi(-2));
    for ((aside, chance), said) in counts.iter().zip(&counted.chances) {
        let posterior = chance * density(*aside) / all;
        assert_close("chance", said.now, posterior, Within::Absolute(1e-9));
        assert_close("before", said.before, *chance, Within::Absolute(1e-12));
        // Where the nose is if that is the count: the mean weighted by the inverse squares.
        let (taped, counted) = (tape_mm - expected_mm, f64::from(*aside) * link);
        let nose = (taped * w_tape + counted * w_even) / (w_tape + w_even);
        mean += posterior * nose;
        square += posterior * (nose * nose + 1.0 / (w_tape + w_even));
    }
    let nose = &found.learnt[0];
    assert_close("place of the nose, mm", nose.value * 1e3, mean, Within::Relative(1e-9));
    let spread = (square - mean * mean).sqrt();
    assert_close("its uncertainty, mm", nose.uncertainty * 1e3, spread, Within::Relative(1e-9));
    let chances: f64 = counted.chances.iter().map(|chance| chance.now).sum();
    assert_close("all chances", chances, 1.0, Within::Absolute(1e-12));
}

/// Three bars on a head of 4.7 kW of which nothing else is known: weights to 50 g, tapes to 5 mm, hang in words. *Common
/// practice, no source.*
#[test]
fn what_practitioners_taped_lies_in_its_band_and_the_longer_bar_in_a_wider_one() {
    let mut file = proposed(4.7, &[16.0, 20.0, 26.0, 34.0]);
    let taped = [("16", 8.1, 330.0), ("20", 8.6, 450.0), ("26", 9.1, 620.0)];
    let before = yard(&file, Vec::new());
    let known = Knowledge::of(&before, before.setups());
    for (name, _, tape) in taped {
        let setup = before.setup(name).unwrap();
        let (said, band) = (solve(setup).reach.as_mm(), known.bands(setup).reach.unwrap().as_mm());
        let off = (said - tape).abs();
        assert!(off <= COVERAGE * band, "before: {name} in: {said} ± {band} mm, taped {tape} mm");
    }
    file.readings =
        taped.iter().flat_map(|(name, kg, tape)| [total(name, *kg), reach(name, *tape, 5.0)]).collect();
    let yard = yard(&file, file.readings.clone());
    let found = fit(&yard, &Choice::Automatic).unwrap();
    assert!(found.disagreement.is_none(), "{:?}", found.disagreement);
    let after = applied(&yard, &found, "2026-11-27").unwrap();
    let knowledge = Knowledge::of(&after, after.setups());
    let reach_of = |name: &str| {
        let setup = after.setup(name).unwrap();
        (solve(setup).reach.as_mm(), knowledge.bands(setup).reach.unwrap().as_mm())
    };
    let mut widest: f64 = 0.0;
    for (name, kg, tape) in taped {
        let (said, band) = reach_of(name);
        assert!((said - tape).abs() <= COVERAGE * band, "{name} in: {said} ± {band} mm, taped {tape} mm");
        assert!(band <= 5.5, "the tape says it to 5 mm: {band} mm");
        widest = widest.max(band);
        let setup = after.setup(name).unwrap();
        let (ready, band) = (solve(setup).ready_mass().as_kg(), knowledge.bands(setup).ready_mass.unwrap());
        assert!((ready - kg).abs() <= COVERAGE * band.as_kg(), "{name} in: {ready} kg, weighed {kg} kg");
    }
    let (_, band) = reach_of("34");
    assert!(band > 2.0 * widest, "nobody counted that loop: {band} mm against {widest} mm");
}
