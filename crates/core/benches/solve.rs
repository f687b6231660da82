//! How long the figures take: one setup, one made-up bar, one inverse answer, one curve.
//!
//! `cargo bench -p barpoise-core`. The aim is 10 µs for `solve`, so that a dragged nose costs nothing.

use barpoise_core::record::{
    BarFile, ChainFile, ConstructionFile, HeadUncertaintyFile, InertiaFile, NoseFile, OutlineFile, PointFile,
    PowerheadFile, SequenceFile, SetupFile, SprocketFile, TankFile, YARD_VERSION, YardFile,
};
use barpoise_core::units::{Angle, Length};
use barpoise_core::{BarFamily, Setup, Yard, drain_down, longest_within, solve};
use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;

const PITCH_IN: f64 = 0.375;

const fn at(x_mm: f64, y_mm: f64) -> PointFile {
    PointFile { x_mm, y_mm }
}

const fn tank(corner: PointFile, capacity_l: f64, density_kg_per_l: f64) -> TankFile {
    TankFile { corner, width_mm: 120.0, height_mm: 60.0, capacity_l, density_kg_per_l }
}

fn head() -> PowerheadFile {
    PowerheadFile {
        name: "head".into(),
        note: String::new(),
        mount: "wide slot".into(),
        dry_mass_kg: 6.1,
        centroid: at(-33.0, 15.0),
        inertia: InertiaFile::RadiusOfGyration { radius_mm: 120.0 },
        fuel_tank: tank(at(-230.0, -60.0), 0.8, 0.745),
        oil_tank: tank(at(-20.0, -65.0), 0.4, 0.88),
        front_grip: at(0.0, 145.0),
        rear_grip: at(-300.0, 35.0),
        spike_line_mm: 185.0,
        stud_mm: 75.0,
        tensioner_travel_mm: 18.0,
        sprocket: SprocketFile { teeth: 7, pitch_in: PITCH_IN },
        outline: OutlineFile::Generic,
        engine_size_cm3: None,
        power_kw: 4.4,
        power_rpm: 9500.0,
        pump_ml_per_min: 18.0,
        pump_rpm: 9500.0,
        longest_bar_in: None,
        photograph: None,
        standard_uncertainty: HeadUncertaintyFile::default(),
    }
}

fn bar(marked_length_in: f64, overall_length_mm: f64, marked_drive_links: u32) -> BarFile {
    BarFile {
        name: format!("{marked_length_in}"),
        note: String::new(),
        mount: "wide slot".into(),
        marked_length_in,
        overall_length_mm,
        tail_behind_studs_mm: 38.0,
        tail_width_mm: 46.0,
        body_width_mm: 64.0,
        nose_radius_mm: 28.3,
        thickness_mm: 4.8,
        gauge_mm: 1.6,
        groove_depth_mm: 7.0,
        construction: ConstructionFile::Solid,
        nose: NoseFile::Sprocket { pitch_in: PITCH_IN },
        marked_drive_links,
        weighed_mass_kg: None,
        mass_uncertainty_kg: None,
        nose_place_mm: None,
    }
}

fn chain() -> ChainFile {
    ChainFile {
        name: "chain".into(),
        note: String::new(),
        pitch_in: PITCH_IN,
        gauge_mm: 1.6,
        mass_per_drive_link_g: 4.8,
        sequence: SequenceFile::FullComplement,
        cutter_height_mm: 9.0,
        rail_to_rivet_mm: 5.0,
        mass_uncertainty_g: None,
    }
}

fn yard() -> Yard {
    let bars = vec![bar(16.0, 471.0, 60), bar(20.0, 585.0, 72), bar(24.0, 700.0, 84), bar(28.0, 785.0, 93)];
    let setups = bars
        .iter()
        .map(|bar| SetupFile {
            name: bar.name.clone(),
            note: String::new(),
            powerhead: "head".into(),
            bar: bar.name.clone(),
            chain: "chain".into(),
            drive_links: None,
            fuel_fill: 1.0,
            oil_fill: 1.0,
            extras: Vec::new(),
        })
        .collect();
    let file = YardFile {
        version: YARD_VERSION,
        name: "bench".into(),
        note: String::new(),
        person: None,
        powerheads: vec![head()],
        bars,
        chains: vec![chain()],
        setups,
        readings: Vec::new(),
        weigh_ins: Vec::new(),
        woods: Vec::new(),
    };
    match Yard::new(file) {
        Ok(yard) => yard,
        Err(faults) => unreachable!("{faults:#?}"),
    }
}

fn made_up(family: &BarFamily, overall: Length) -> Setup {
    match family.at(overall) {
        Ok(setup) => setup,
        Err(error) => unreachable!("{error}"),
    }
}

fn figures(c: &mut Criterion) {
    let yard = yard();
    let Some(setup) = yard.setup("20") else { unreachable!("the yard has a 20") };
    let family = BarFamily::new(setup, yard.bars());
    c.bench_function("solve a setup", |b| b.iter(|| solve(black_box(setup))));
    c.bench_function("hands at a pitch", |b| {
        let solved = solve(setup);
        b.iter(|| solved.hands_at(black_box(Angle::from_deg(20.0))));
    });
    c.bench_function("family of a setup", |b| {
        b.iter(|| BarFamily::new(black_box(setup), yard.bars()));
    });
    c.bench_function("make up a bar and solve", |b| {
        b.iter(|| solve(&made_up(&family, black_box(Length::from_mm(640.0)))));
    });
    c.bench_function("bar for a nose tip", |b| {
        b.iter(|| family.overall_with_tip_at(black_box(Length::from_mm(700.0))));
    });
    c.bench_function("curve of 120 made-up bars", |b| {
        b.iter(|| {
            (0..120)
                .map(|i| solve(&made_up(&family, Length::from_mm(200.0 + f64::from(i) * 900.0 / 119.0))))
                .collect::<Vec<_>>()
        });
    });
    c.bench_function("drain down in 40 steps", |b| {
        b.iter(|| drain_down(black_box(setup), 0.4, 40));
    });
    c.bench_function("longest within a hang", |b| {
        b.iter(|| longest_within(&family, |solved| solved.hangs_within(black_box(Angle::from_deg(12.0)))));
    });
}

criterion_group!(benches, figures);
criterion_main!(benches);
