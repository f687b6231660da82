//! Speed of the rack: very many setups over fifty diameters through the table, and the demo's through full plans.

use barpoise_core::file::demo;
use barpoise_core::rack::{
    Preferences, ReachTable, Thresholds, Wood, WorkRates, choose, contenders, contenders_by,
};
use barpoise_core::record::{DiameterFile, HardnessFile, StandFile, WoodFile};
use barpoise_core::units::Length;
use barpoise_core::{BarFamily, Setup, Yard, cutting_bar};
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
    let like = yard.setup("Bittern B24").and_then(|setup| cutting_bar(setup).ok());
    let Some(like) = like else { unreachable!("it cuts") };
    let mut group = c.benchmark_group("rack");
    group.sample_size(10).measurement_time(Duration::from_secs(8));
    let new_table = || {
        let (short, long) = (Length::from_mm(200.0), Length::from_mm(900.0));
        ReachTable::new(&wood, &like, short, long, &mut |_| ControlFlow::Continue(()))
    };
    group.bench_function("table of 50 diameters", |b| b.iter(new_table));
    let Ok(Some(table)) = new_table() else { unreachable!("nothing stops it") };
    let (rates, thresholds) = (WorkRates::default(), Thresholds::default());
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
                    &|setup, diameter, tangled| Ok(table.cut(cutting_bar(setup)?.reach(), diameter, tangled)),
                    &mut |_| ControlFlow::Continue(()),
                );
                found.map(|found| choose(&found, &Preferences::default()))
            });
        });
    }
    group.throughput(Throughput::Elements(1));
    group.bench_function("the demo's setups over one of its woods, full plans", |b| {
        let wood = yard.woods().first();
        b.iter(|| {
            let go_on = &mut |_| ControlFlow::Continue(());
            wood.and_then(|wood| contenders(yard.setups(), wood, &rates, &thresholds, go_on))
        });
    });
    group.finish();
}

criterion_group!(benches, ranking);
criterion_main!(benches);
