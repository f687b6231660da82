//! How long and how far the nose is out among branches, against a plain simulation step by step with `geo`'s polygons.

#![expect(clippy::unwrap_used, reason = "helpers of tests, outside a test function")]

use barpoise_checks::{Within, assert_close};
use barpoise_core::log::{CuttingBar, LogJob, LogSection, Setting, Side, Stand, Tangle, exposure};
use barpoise_core::units::{Angle, Length};
use geo::{Area, BooleanOps, Contains, Coord, LineString, MultiPolygon, Point, Polygon};
use proptest::prelude::*;

const REACH_M: f64 = 0.45;
const NOSE_M: f64 = 0.036;
/// Steps of each stretch of a setting.
const STEPS: u32 = 120;

/// The bar at a moment: where its spikes are and where it points.
#[derive(Clone, Copy)]
struct Held {
    x: f64,
    y: f64,
    direction: f64,
}

impl Held {
    fn at(&self, along: f64, across: f64) -> Coord {
        let (sin, cos) = self.direction.sin_cos();
        Coord { x: self.x + along * cos - across * sin, y: self.y + along * sin + across * cos }
    }
}

fn disc(radius: f64) -> Polygon {
    let corner = |i: u32| {
        let (sin, cos) = (std::f64::consts::TAU * f64::from(i) / 720.0).sin_cos();
        Coord { x: radius * cos, y: radius * sin }
    };
    Polygon::new((0..720).map(corner).collect::<LineString>(), Vec::new())
}

/// Spikes of a slide about a round log, from the words alone: along the bark to its widest place, then straight on.
fn slid(radius: f64, bark: f64, direction: f64, sense: f64, way: f64) -> Held {
    let (sin, cos) = direction.sin_cos();
    let (along, away) = ((cos, sin), (-sense * sin, sense * cos));
    let pivot = (radius * bark.cos(), radius * bark.sin());
    let ahead = pivot.0 * along.0 + pivot.1 * along.1;
    let aside = pivot.0 * away.0 + pivot.1 * away.1;
    let now = aside + way;
    let back = if aside >= 0.0 { ahead } else { -(radius * radius - now.min(0.0).powi(2)).max(0.0).sqrt() };
    Held { x: back * along.0 + now * away.0, y: back * along.1 + now * away.1, direction }
}

/// Every moment of a setting worked downward from the near side.
fn moments(radius: f64, bark: f64, from: f64, to: f64, on: f64, off: f64) -> Vec<Held> {
    let straight_in = bark + std::f64::consts::PI;
    let share = |i: u32| f64::from(i) / f64::from(STEPS);
    let mut all = Vec::new();
    for i in 0..=STEPS {
        all.push(slid(radius, bark, straight_in + from, 1.0, on * (1.0 - share(i))));
    }
    for i in 1..=STEPS {
        let direction = straight_in + from + share(i) * (to - from);
        all.push(Held { x: radius * bark.cos(), y: radius * bark.sin(), direction });
    }
    for i in 1..=STEPS {
        all.push(slid(radius, bark, straight_in + to, -1.0, off * share(i)));
    }
    all
}

/// Section cut with any of the quadrant out among branches, and that times how far out the tip is.
fn simulated(radius: f64, top: f64, moments: &[Held]) -> (f64, f64, f64) {
    let log = disc(radius);
    let mut wood = MultiPolygon::new(vec![log.clone()]);
    let (mut cut, mut out_cut, mut farthest) = (0.0, 0.0, 0.0_f64);
    for pair in moments.windows(2) {
        let [a, b] = pair else { continue };
        let corners = vec![a.at(0.0, 0.0), a.at(REACH_M, 0.0), b.at(REACH_M, 0.0), b.at(0.0, 0.0)];
        let swept = Polygon::new(LineString::from(corners), Vec::new());
        if swept.unsigned_area() < 1e-12 {
            continue;
        }
        let taken = wood.intersection(&swept).unsigned_area();
        wood = wood.difference(&swept);
        let middle =
            Held { x: 0.5 * (a.x + b.x), y: 0.5 * (a.y + b.y), direction: 0.5 * (a.direction + b.direction) };
        let caught = (0..=30).any(|i| {
            let angle = f64::from(i) * 3.0_f64.to_radians();
            let place = middle.at(REACH_M - NOSE_M + NOSE_M * angle.cos(), NOSE_M * angle.sin());
            place.x > 0.0 && place.y < top && !log.contains(&Point::from(place))
        });
        if caught {
            // How far past the last wood along the bar, found by stepping back from the tip.
            let inside = (0..900)
                .map(|i| REACH_M - f64::from(i) * 5e-4)
                .take_while(|along| *along > 0.0 && !log.contains(&Point::from(middle.at(*along, 0.0))));
            let out = f64::from(u32::try_from(inside.count()).unwrap()) * 5e-4;
            cut += taken;
            out_cut += taken * out;
            // Where the bar does not meet the log at all there is no bark to be past.
            if taken > 1e-9 && out < REACH_M - 1e-3 {
                farthest = farthest.max(out);
            }
        }
    }
    (cut, out_cut, farthest)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn law_exposure_is_what_a_simulation_adds_up_to(
        diameter in 0.15_f64..0.7, bark in 120.0_f64..200.0, from in -10.0_f64..40.0, swing in 5.0_f64..60.0,
        on in 0.02_f64..0.4, off in 0.02_f64..0.4, above in 0.0_f64..0.5,
    ) {
        let (radius, mm, deg) = (0.5 * diameter, Length::from_mm, Angle::from_deg);
        let section = LogSection::round(Length::from_m(diameter), mm(700.0)).unwrap();
        let job = LogJob::new(section, Stand::OneSide)
            .with_tangle(Tangle::Far)
            .with_tangle_above(Length::from_m(above))
            .unwrap();
        let bar = CuttingBar::new(Length::from_m(REACH_M), mm(45.0), Length::from_m(NOSE_M)).unwrap();
        let setting = Setting::new(&job, deg(bark), Side::Near, deg(from), deg(from - swing)).unwrap();
        let setting = setting.with_ways(&job, Length::from_m(on), Length::from_m(off)).unwrap();
        let found = exposure(&job, &bar, &[setting]);
        let rad = f64::to_radians;
        let all = moments(radius, rad(bark), rad(from), rad(from - swing), on, off);
        let (cut, out_cut, farthest) = simulated(radius, radius + above, &all);
        // One of 64 places of a stretch may fall to either side where the nose comes out or goes in.
        let place = 2.0 * (diameter * on.max(off).max(swing.to_radians() * REACH_M)) / 64.0;
        prop_assert!((found.cut().as_m2() - cut).abs() < 0.02 * cut + 2.0 * place, "{found:?} {cut}");
        if cut > 20.0 * place {
            let mean = found.mean_out().unwrap().as_m();
            prop_assert!((mean - out_cut / cut).abs() < 0.03, "{mean} {}", out_cut / cut);
            prop_assert!((found.farthest_out().as_m() - farthest).abs() < 0.06, "{found:?} {farthest}");
        }
    }
}

/// A level sink through 200 mm with 450 mm past the spikes, all of it among branches: by hand, the tip is out by
/// `R − r − √(r² − y²)` while `2·√(r² − y²)` is cut, the mean `R − r − 8r/3π`.
#[test]
fn the_simulation_agrees_with_a_sink_worked_by_hand() {
    let (radius, pi) = (0.1, std::f64::consts::PI);
    let (cut, out_cut, farthest) = simulated(radius, 3.0, &moments(radius, pi, 0.0, 0.0, 0.12, 0.12));
    assert_close("section, m²", cut, pi * 0.01, Within::Relative(1e-3));
    assert_close(
        "mean, m",
        out_cut / cut,
        REACH_M - radius - 8.0 * radius / (3.0 * pi),
        Within::Absolute(1e-3),
    );
    assert_close("farthest, m", farthest, REACH_M - radius, Within::Absolute(0.02));
}
