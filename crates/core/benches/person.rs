//! How long one look at a pose takes, and all the intervals of one place on the bark.
#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a bench may stop")]

use barpoise_core::file;
use barpoise_core::geometry::Point;
use barpoise_core::log::{LogSection, Side};
use barpoise_core::person::{Person, SawBody, Standing};
use barpoise_core::units::Length;
use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use std::time::Instant;

/// Numbers from 0 to 1 that look random and are the same in every run.
struct Dice(u64);

impl Dice {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        low + (high - low) * (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}

fn standing(width_m: f64, height_m: f64, clearance_m: f64) -> Standing {
    let yard = file::demo().unwrap();
    let saw = SawBody::of(&yard.powerheads()[0]);
    let m = Length::from_m;
    let section = LogSection::oval(m(width_m), m(height_m), m(clearance_m)).unwrap();
    Standing::new(&section, Side::Near, &saw, &Person::default())
}

/// Spikes on the near half of the bark, the bar within 75° of straight in.
fn looks(standing: &Standing, count: usize) -> Vec<(Point, f64)> {
    let mut dice = Dice(0x9E37_79B9_7F4A_7C15);
    (0..count)
        .map(|_| {
            let bark = dice.between(60.0_f64, 220.0).to_radians();
            let turn = dice.between(-75.0_f64, 75.0).to_radians();
            (standing.section().bark_at(bark), standing.section().straight_in_rad(bark) + turn)
        })
        .collect()
}

fn looking(c: &mut Criterion) {
    for (name, width, height) in [("round", 0.56, 0.56), ("oval", 0.62, 0.5)] {
        let standing = standing(width, height, 0.3);
        let looks = looks(&standing, 4001);
        let mut times: Vec<_> = looks
            .iter()
            .map(|(spikes, direction)| {
                let start = Instant::now();
                for _ in 0..20 {
                    let _ = black_box(standing.look(black_box(*spikes), black_box(*direction)));
                }
                start.elapsed() / 20
            })
            .collect();
        times.sort_unstable();
        let held = looks.iter().filter(|(spikes, direction)| standing.can(*spikes, *direction)).count();
        println!(
            "look at {} random holds of a {name} log, {held} of them held: median {:?}, nine in ten under {:?}, longest {:?}",
            times.len(),
            times[times.len() / 2],
            times[times.len() * 9 / 10],
            times[times.len() - 1]
        );
        let mut next = 0;
        c.bench_function(&format!("person/look, {name} log"), |b| {
            b.iter(|| {
                next = (next + 1) % looks.len();
                standing.look(looks[next].0, looks[next].1)
            });
        });
        let mut bark = 180.0_f64;
        c.bench_function(&format!("person/intervals of one place, {name} log"), |b| {
            b.iter(|| {
                bark = if bark > 215.0 { 60.0 } else { bark + 5.0 };
                standing.intervals(black_box(bark.to_radians()))
            });
        });
    }
    let yard = file::demo().unwrap();
    let saw = SawBody::of(&yard.powerheads()[0]);
    let section = LogSection::round(Length::from_mm(560.0), Length::from_mm(300.0)).unwrap();
    c.bench_function("person/standing to a log", |b| {
        b.iter(|| Standing::new(black_box(&section), Side::Near, &saw, &Person::default()));
    });
}

criterion_group!(benches, looking);
criterion_main!(benches);
