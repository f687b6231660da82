//! How long a plan and a cover take, and what the same cover costs with polygons of the `geo` crate at no smaller error.
#![expect(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, reason = "a bench may stop")]

use barpoise_core::log::{
    BarkArc, CuttingBar, LogJob, LogSection, Setting, Side, Stand, SwingLimits, Tangle, Workplace, cover,
    cutting_bar, plan, saw_body,
};
use barpoise_core::person::{Person, SawBody, Survey};
use barpoise_core::units::{Angle, Length};
use barpoise_core::{file, solve};
use criterion::{Criterion, criterion_group, criterion_main};
use geo::{Area, BooleanOps, Coord, LineString, Polygon, unary_union};
use std::f64::consts::{FRAC_PI_2, PI, TAU};
use std::hint::black_box;
use std::time::Instant;

const REACH_M: f64 = 0.452;
const HALF_WIDTH_M: f64 = 0.045;
const NOSE_M: f64 = 0.036;
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

/// One log with a bar and the saw it is on.
struct Case {
    job: LogJob,
    bar: CuttingBar,
    saw: SawBody,
}

/// Logs of up to 1.9 times the reach, every fourth an oval, for the setups of the demo yard in turn and people of all
/// sizes, some of whom do not kneel or stand on a slope.
fn random_cases(count: usize) -> Vec<Case> {
    let yard = file::demo().unwrap();
    let mut dice = Dice(0x9E37_79B9_7F4A_7C15);
    (0..count)
        .map(|i| {
            let setup = &yard.setups()[i % yard.setups().len()];
            let (bar, saw) = (cutting_bar(setup).unwrap(), saw_body(setup, &solve(setup)));
            let width = bar.reach() * dice.between(0.15, 1.9);
            let height = if i % 4 == 3 { width * dice.between(0.8, 1.25) } else { width };
            let m = Length::from_m;
            let section = LogSection::oval(width, height, m(dice.between(0.0, 0.8))).unwrap();
            let stand = [Stand::OneSide, Stand::BothSides, Stand::WalkRound][i % 3];
            let survey = [Survey::Men, Survey::Women][i / 2 % 2];
            let slope = Angle::from_deg(if i % 5 == 0 { dice.between(-10.0, 10.0) } else { 0.0 });
            let person = Person::new(m(dice.between(1.5, 1.95)), survey).unwrap();
            let person = person.with_kneeling(i % 5 != 4).with_slope(slope).unwrap();
            let job = LogJob::new(section, stand).with_tangle([Tangle::None, Tangle::Far][i / 3 % 2]);
            Case { job: job.with_person(person), bar, saw }
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

/// What half a turn takes, as one polygon: everything within reach on the wood's side of the spikes.
fn half_turn(diameter_m: f64, bark_deg: f64, corners: u32) -> Polygon<f64> {
    let bark = bark_deg.to_radians();
    let (px, py) = (0.5 * diameter_m * bark.cos(), 0.5 * diameter_m * bark.sin());
    let mut outline = circle_part(px, py, REACH_M, bark + FRAC_PI_2, bark + FRAC_PI_2 + PI, corners);
    outline.extend(circle_part(px, py, HALF_WIDTH_M, bark - FRAC_PI_2, bark + FRAC_PI_2, corners));
    ring(outline)
}

fn left_by_polygons(diameter_m: f64, barks: &[f64], corners: u32) -> f64 {
    let log = ring(circle_part(0.0, 0.0, 0.5 * diameter_m, 0.0, TAU, corners));
    let cuts: Vec<_> = barks.iter().map(|bark| half_turn(diameter_m, *bark, corners)).collect();
    log.difference(&unary_union(&cuts)).unsigned_area() / log.unsigned_area()
}

/// A plan from nothing: the person before the log, and the plan.
fn planned(case: &Case) {
    black_box(plan(black_box(&case.job), &case.bar, &Workplace::new(&case.job, &case.saw)));
}

fn plans(c: &mut Criterion) {
    let cases = random_cases(300);
    cases.iter().take(20).for_each(planned);
    let mut times: Vec<_> = cases
        .iter()
        .map(|case| {
            let start = Instant::now();
            planned(case);
            start.elapsed()
        })
        .collect();
    times.sort_unstable();
    println!(
        "plan with the person in it over {} random logs: median {:?}, 95 % under {:?}, longest {:?}",
        times.len(),
        times[times.len() / 2],
        times[times.len() * 95 / 100],
        times[times.len() - 1]
    );
    let mut next = 0;
    c.bench_function("plan/random logs", |b| {
        b.iter(|| {
            next = (next + 1) % cases.len();
            planned(&cases[next]);
        });
    });
    // What a drag asks of a setting at every move of the pointer.
    let held: Vec<_> = cases
        .iter()
        .map(|case| {
            let workplace = Workplace::new(&case.job, &case.saw);
            let found = plan(&case.job, &case.bar, &workplace);
            (case, workplace, found.settings)
        })
        .filter(|(_, _, settings)| !settings.is_empty())
        .collect();
    let mut next = 0;
    c.bench_function("look/one place of a plan", |b| {
        b.iter(|| {
            next = (next + 1) % held.len();
            let (case, workplace, settings) = &held[next];
            black_box(workplace.hold(&case.job, &case.bar, black_box(&settings[0]), 0.5).is_ok())
        });
    });
    let mut next = 0;
    c.bench_function("look/every place of a setting", |b| {
        b.iter(|| {
            next = (next + 1) % held.len();
            let (case, workplace, settings) = &held[next];
            black_box(workplace.can_do(&case.job, &case.bar, black_box(&settings[0])))
        });
    });
}

fn covers(c: &mut Criterion) {
    let (diameter_m, barks, bar) = (0.8, [170.0, 75.0, 215.0], bar());
    let section = LogSection::round(Length::from_m(diameter_m), Length::from_m(0.4)).unwrap();
    let all = BarkArc::new(Angle::from_deg(0.0), Angle::from_deg(360.0), Side::Near).unwrap();
    let right_angle = Angle::from_deg(90.0);
    let job = LogJob::new(section, Stand::OneSide)
        .with_bark(vec![all])
        .with_swing(SwingLimits::new(right_angle, right_angle).unwrap());
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
