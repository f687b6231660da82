//! Speed of the rack: very many setups over fifty diameters through the table, and the demo's through full plans.

use barpoise_core::file::demo;
use barpoise_core::rack::{
    Preferences, ReachTable, Sawing, Sureness, Thresholds, Wood, WorkRates, choose, contenders,
    contenders_by, pairs, sensitivity,
};
use barpoise_core::record::{DiameterFile, HardnessFile, StandFile, WoodFile};
use barpoise_core::units::Length;
use barpoise_core::{BarFamily, Setup, Solved, Yard, solve};
use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use std::hint::black_box;
use std::ops::ControlFlow;
use std::time::Duration;

fn yard() -> Yard {
    match demo() {
        Ok(yard) => yard,
        Err(error) => unreachable!("{error}"),
    }
}

/// Fifty diameters from 100 to 590 mm.
fn wood() -> Wood {
    let file = WoodFile {
        name: "fifty".into(),
        note: String::new(),
        diameters: (0..50)
            .map(|step| DiameterFile { diameter_mm: 100.0 + 10.0 * f64::from(step), cuts: 10 })
            .collect(),
        tangled_share: 0.5,
        lifted_share: 0.2,
        stand: StandFile::OneSide,
        above_ground_mm: 400.0,
        hardness: HardnessFile {
            name: "as anywhere".into(),
            cutting_energy_j_per_cm3: 60.0,
            source: "common practice".into(),
        },
    };
    match Wood::new(&file, 0) {
        Ok(wood) => wood,
        Err(faults) => unreachable!("{faults:?}"),
    }
}

/// Setups of many lengths of the big head's bars.
fn setups(yard: &Yard, count: u32) -> Vec<Setup> {
    let Some(like) = yard.setup("Bittern B24") else { unreachable!("the demo has it") };
    let family = BarFamily::new(like, yard.bars());
    let (shortest, longest) = (Length::from_mm(420.0), Length::from_mm(1000.0));
    (0..count)
        .filter_map(|index| {
            family.at(shortest + (longest - shortest) * (f64::from(index) / f64::from(count))).ok()
        })
        .collect()
}

fn ranking(c: &mut Criterion) {
    let (yard, wood) = (yard(), wood());
    let Some(like) = yard.setup("Bittern B24") else { unreachable!("the demo has it") };
    let (family, spikes) = (BarFamily::new(like, yard.bars()), like.powerhead().spike_line());
    let (rates, thresholds) = (WorkRates::default(), Thresholds::default());
    let mut group = c.benchmark_group("rack");
    group.sample_size(10).measurement_time(Duration::from_secs(8));
    let sawing = |reach: Length| {
        let Ok(setup) = family.at(family.overall_with_tip_at(spikes + reach)) else {
            unreachable!("it can be made up")
        };
        Sawing::new(&setup, &solve(&setup), &wood, &rates)
    };
    let new_table = || {
        let (short, long) = (Length::from_mm(240.0), Length::from_mm(880.0));
        ReachTable::new(&wood, &rates, &sawing, short, long, &mut |_| ControlFlow::Continue(()))
    };
    let begun = std::time::Instant::now();
    let Ok(Some(table)) = new_table() else { unreachable!("nothing stops it") };
    // Too long to be made ten times over: once, told by itself.
    eprintln!("rack/table of 50 diameters, made beside the window: {:.1} s", begun.elapsed().as_secs_f64());
    for count in [1_000, 10_000, 100_000] {
        let setups = setups(&yard, count);
        group.throughput(Throughput::Elements(u64::from(count)));
        group.bench_with_input(BenchmarkId::new("setups ranked", count), &setups, |b, setups| {
            b.iter(|| {
                let found = contenders_by(
                    black_box(setups),
                    &wood,
                    &rates,
                    &thresholds,
                    &|solved, place, _| Ok(table.cut(solved.reach, place)),
                    &mut |_| ControlFlow::Continue(()),
                );
                found.map(|found| choose(&found, &Preferences::default()))
            });
        });
    }
    group.throughput(Throughput::Elements(1));
    let thousand = setups(&yard, 1_000);
    let cut = |solved: &Solved, place: usize, _: &_| Ok(table.cut(solved.reach, place));
    let go_on = &mut |_| ControlFlow::Continue(());
    let Some(found) = contenders_by(&thousand, &wood, &rates, &thresholds, &cut, go_on) else {
        unreachable!("nothing stops it")
    };
    group.bench_function("a moved weight re-orders 1 000 setups, with what would turn it and pairs", |b| {
        let preferences = Preferences { must_suit: false, ..Preferences::default() };
        b.iter(|| {
            let choice = choose(black_box(&found), &preferences);
            let turns = sensitivity(&found, &preferences, &choice);
            (pairs(&found, &wood, &rates, &preferences, &choice, None), turns)
        });
    });
    group.bench_function("the demo's setups over one of its woods, full plans", |b| {
        let wood = yard.woods().first();
        b.iter(|| {
            let go_on = &mut |_| ControlFlow::Continue(());
            wood.and_then(|wood| contenders(yard.setups(), wood, &rates, &thresholds, go_on))
        });
    });
    if let Some(wood) = yard.woods().first() {
        let go_on = &mut |_| ControlFlow::Continue(());
        let Some(found) = contenders(yard.setups(), wood, &rates, &thresholds, go_on) else {
            unreachable!("nothing stops it")
        };
        group.bench_function("how surely the demo's setups are told apart over it", |b| {
            let go_on = &mut |_| ControlFlow::Continue(());
            b.iter(|| Sureness::new(&yard, yard.setups(), &found, wood, &rates, go_on));
        });
    }
    group.finish();
}

criterion_group!(benches, ranking);
criterion_main!(benches);
