//! Speed of the weigh-in: a fit of twenty readings, and ten thousand draws of a whole rack.

use barpoise_core::file::demo;
use barpoise_core::propose::mark_proposed;
use barpoise_core::record::{MeasuredFile, PartFile, ReadingFile, YARD_VERSION};
use barpoise_core::weigh_in::{Choice, Knowledge, applied, draw, fit, next_readings};
use barpoise_core::{Setup, Yard, solve};
use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;

/// Four readings of each of the big head's setups, each a little off by turns.
fn yard() -> Yard {
    let Ok(demo) = demo() else { unreachable!("a test loads the demo") };
    let mut file = demo.file().clone();
    file.readings.clear();
    file.version = YARD_VERSION;
    let setups = demo.setups().iter().filter(|setup| setup.powerhead().name() == "Bittern").take(5);
    for (turn, setup) in setups.enumerate() {
        let solved = solve(setup);
        let sign = if turn % 2 == 0 { 1.0 } else { -1.0 };
        let (Ok(hang), Ok(hands)) = (solved.hang, solved.hands) else { continue };
        let measured = [
            MeasuredFile::Total {
                weight_kg: solved.ready_mass().as_kg() + 0.04 * sign,
                uncertainty_kg: 0.05,
            },
            MeasuredFile::Hang { nose_down_deg: hang.as_deg() - 0.8 * sign, uncertainty_deg: 1.0 },
            MeasuredFile::FrontGrip {
                weight_kg: hands.front.as_kgf() + 0.05,
                uncertainty_kg: 0.05,
                nose_up_deg: 0.0,
            },
            MeasuredFile::Reach { past_spikes_mm: solved.reach.as_mm() + 3.0 * sign, uncertainty_mm: 5.0 },
        ];
        file.readings
            .extend(measured.map(|measured| ReadingFile::new(measured, Some(setup.name().to_owned()))));
    }
    match Yard::new(file) {
        Ok(yard) => yard,
        Err(faults) => unreachable!("{faults:#?}"),
    }
}

/// The same with loops that nobody counted: each count is a question.
fn uncounted(yard: &Yard) -> Yard {
    let mut file = yard.file().clone();
    for bar in &mut file.bars {
        let mut part = PartFile::Bar(Box::new(bar.clone()));
        mark_proposed(&mut part, Some("marked_drive_links"));
        if let PartFile::Bar(marked) = part {
            *bar = *marked;
        }
    }
    match Yard::new(file) {
        Ok(yard) => yard,
        Err(faults) => unreachable!("{faults:#?}"),
    }
}

fn weigh_in(c: &mut Criterion) {
    let yard = yard();
    let found = match fit(&yard, &Choice::Automatic) {
        Ok(found) => found,
        Err(error) => unreachable!("{error}"),
    };
    assert_eq!(found.readings.len(), 20);
    c.bench_function("fit of 20 readings", |b| b.iter(|| fit(black_box(&yard), &Choice::Automatic)));
    let open = uncounted(&yard);
    let counts = fit(&open, &Choice::Automatic).map(|found| found.counts.len());
    assert_eq!(counts, Ok(5), "five loops are asked about");
    c.bench_function("fit of 20 readings, five loops not counted", |b| {
        b.iter(|| fit(black_box(&open), &Choice::Automatic));
    });
    let Ok(after) = applied(&yard, &found, "2026-11-25") else { unreachable!("the fit makes a yard") };
    let knowledge = Knowledge::of_head(&after, "Bittern");
    let setups: Vec<&Setup> =
        after.setups().iter().filter(|setup| setup.powerhead().name() == "Bittern").collect();
    c.bench_function("10 000 draws of the rack", |b| {
        b.iter(|| draw(black_box(&knowledge), black_box(&setups), 10_000, 1));
    });
    c.bench_function("bands of a setup", |b| {
        let setup = setups.first().copied();
        b.iter(|| black_box(setup).map(|setup| knowledge.bands(setup)));
    });
    c.bench_function("what to measure next", |b| b.iter(|| next_readings(black_box(&after), "Bittern", 3)));
}

criterion_group!(benches, weigh_in);
criterion_main!(benches);
