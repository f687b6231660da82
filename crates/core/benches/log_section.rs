//! How long a plan and a cover take, and what the same cover costs with polygons of the `geo` crate at no smaller error.
#![expect(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, reason = "a bench may stop")]

use barpoise_core::log::{
    BarkArc, CuttingBar, LogJob, LogSection, Setting, Side, Stand, Tangle, Workplace, cover, plan,
};
use barpoise_core::units::{Angle, Length};
use criterion::{Criterion, criterion_group, criterion_main};
use geo::{Area, BooleanOps, Coord, LineString, Polygon, unary_union};
use std::f64::consts::{FRAC_PI_2, PI, TAU};
use std::hint::black_box;
use std::time::Instant;

const REACH_M: f64 = 0.452;
const HALF_WIDTH_M: f64 = 0.045;
const NOSE_M: f64 = 0.036;
const LIMIT_DEG: f64 = 75.0;
/// Share of the section by which the polygons may be off.
const EQUAL_ERROR: f64 = 1e-7;

fn bar() -> CuttingBar {
    let m = Length::from_m;
    CuttingBar::new(m(REACH_M), m(HALF_WIDTH_M), m(NOSE_M)).unwrap()
}

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

fn random_jobs(count: usize) -> Vec<LogJob> {
    let mut dice = Dice(0x9E37_79B9_7F4A_7C15);
    (0..count)
        .map(|i| {
            let width = dice.between(0.1, 1.0);
            // Every fourth log is an oval.
            let height = if i % 4 == 3 { width * dice.between(0.8, 1.25) } else { width };
            let m = Length::from_m;
            let section = LogSection::oval(m(width), m(height), m(dice.between(0.0, 0.6))).unwrap();
            let stand = [Stand::OneSide, Stand::BothSides, Stand::WalkRound][i % 3];
            LogJob::new(section, stand).with_tangle([Tangle::None, Tangle::Far][i % 2])
        })
        .collect()
}

fn ring(corners: impl IntoIterator<Item = (f64, f64)>) -> Polygon<f64> {
    Polygon::new(LineString::from_iter(corners.into_iter().map(|(x, y)| Coord { x, y })), vec![])
}

fn circle_part(x: f64, y: f64, r: f64, from: f64, to: f64, corners: u32) -> Vec<(f64, f64)> {
    (0..=corners)
        .map(|i| from + (to - from) * f64::from(i) / f64::from(corners))
        .map(|a| (x + r * a.cos(), y + r * a.sin()))
        .collect()
}

/// What a whole swing takes, as one polygon: between its limits, and with the strips beyond them.
fn whole_swing(diameter_m: f64, bark_deg: f64, corners: u32) -> Polygon<f64> {
    let bark = bark_deg.to_radians();
    let (px, py) = (0.5 * diameter_m * bark.cos(), 0.5 * diameter_m * bark.sin());
    let depth = 0.2 * REACH_M;
    let spread = (depth / REACH_M).asin();
    let (low, high) = (bark + PI - LIMIT_DEG.to_radians(), bark + PI + LIMIT_DEG.to_radians());
    let mut outline = circle_part(px, py, REACH_M, low - spread, high + spread, corners);
    let out = high + FRAC_PI_2;
    outline.push((px + depth * out.cos(), py + depth * out.sin()));
    outline.extend(circle_part(px, py, HALF_WIDTH_M, out, low - FRAC_PI_2 + TAU, corners));
    let out = low - FRAC_PI_2;
    outline.push((px + depth * out.cos(), py + depth * out.sin()));
    ring(outline)
}

fn left_by_polygons(diameter_m: f64, barks: &[f64], corners: u32) -> f64 {
    let log = ring(circle_part(0.0, 0.0, 0.5 * diameter_m, 0.0, TAU, corners));
    let cuts: Vec<_> = barks.iter().map(|bark| whole_swing(diameter_m, *bark, corners)).collect();
    log.difference(&unary_union(&cuts)).unsigned_area() / log.unsigned_area()
}

fn plans(c: &mut Criterion) {
    let (jobs, bar, free) = (random_jobs(300), bar(), Workplace::free());
    let mut times: Vec<_> = jobs
        .iter()
        .map(|job| {
            let start = Instant::now();
            black_box(plan(black_box(job), &bar, &free));
            start.elapsed()
        })
        .collect();
    times.sort_unstable();
    println!(
        "plan over {} random logs: median {:?}, nine in ten under {:?}, longest {:?}",
        times.len(),
        times[times.len() / 2],
        times[times.len() * 9 / 10],
        times[times.len() - 1]
    );
    let mut next = 0;
    c.bench_function("plan/random logs", |b| {
        b.iter(|| {
            next = (next + 1) % jobs.len();
            plan(black_box(&jobs[next]), &bar, &free)
        });
    });
}

fn covers(c: &mut Criterion) {
    let (diameter_m, barks, bar) = (0.8, [170.0, 75.0, 215.0], bar());
    let section = LogSection::round(Length::from_m(diameter_m), Length::from_m(0.4)).unwrap();
    let all = BarkArc::new(Angle::from_deg(0.0), Angle::from_deg(360.0), Side::Near).unwrap();
    let job = LogJob::new(section, Stand::OneSide).with_bark(vec![all]);
    let settings = barks.map(|bark| Setting::full(&job, Angle::from_deg(bark), Side::Near).unwrap());
    let exact = 1.0 - cover(&job, &bar, &settings).unwrap().covered_fraction;
    let corners = (7..22)
        .map(|power| 1 << power)
        .find(|corners| (left_by_polygons(diameter_m, &barks, *corners) - exact).abs() <= EQUAL_ERROR)
        .expect("polygons that come to the exact share");
    let off = (left_by_polygons(diameter_m, &barks, corners) - exact).abs();
    println!("cover: exact share left {exact:.9}; polygons of {corners} corners are off by {off:.1e}");
    let mut group = c.benchmark_group("cover");
    group.bench_function("lines and arcs", |b| b.iter(|| cover(&job, &bar, black_box(&settings)).unwrap()));
    group.sample_size(10);
    group.bench_function("geo polygons", |b| {
        b.iter(|| left_by_polygons(diameter_m, black_box(&barks), corners))
    });
    group.finish();
}

criterion_group!(benches, plans, covers);
criterion_main!(benches);
