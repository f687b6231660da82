//! A saw from nothing: proposed parts, then what a scale, a tape and a glance say of it. The readings are a
//! practitioner's: *common practice, no source*.

#![expect(clippy::unwrap_used, clippy::panic, reason = "helpers of tests, outside a test function")]

use barpoise_core::Yard;
use barpoise_core::propose::{
    Drive, common_bar, common_chain, common_powerhead, propose_bar, propose_powerhead, unmark_proposed,
};
use barpoise_core::record::{MeasuredFile, PartFile, ReadingFile, SetupFile, YARD_VERSION, YardFile};
use barpoise_core::weigh_in::{Choice, Knowledge, Measured, SawMeasure, Slip, applied, fit};

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
    ReadingFile { measured, setup, fuel_fill: None, oil_fill: None, note: String::new(), left_out: false }
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
