//! What settings cut from a log, against polygons of the `geo` crate that become finer.
#![expect(clippy::unwrap_used, reason = "helpers of tests, outside a test function")]

use barpoise_checks::{Within, assert_close};
use barpoise_core::log::{BarkArc, CuttingBar, LogJob, LogSection, Setting, Side, Stand, cover, nose};
use barpoise_core::units::{Angle, Length};
use geo::orient::{Direction, Orient};
use geo::{Area, BooleanOps, Coord, LineString, MultiPolygon, Polygon, unary_union};
use proptest::prelude::*;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

const REACH_M: f64 = 0.452;
const HALF_WIDTH_M: f64 = 0.045;
const NOSE_M: f64 = 0.036;
const LIMIT_DEG: f64 = 75.0;

fn bar() -> CuttingBar {
    let m = Length::from_m;
    CuttingBar::new(m(REACH_M), m(HALF_WIDTH_M), m(NOSE_M)).unwrap()
}

fn job(diameter_m: f64) -> LogJob {
    let section = LogSection::round(Length::from_m(diameter_m), Length::from_m(0.4)).unwrap();
    let all = BarkArc::new(Angle::from_deg(0.0), Angle::from_deg(360.0), Side::Near).unwrap();
    LogJob::new(section, Stand::WalkRound).with_bark(vec![all])
}

/// A setting as it is told: the place on the bark, the bar's first and last angle from straight in, degrees; and how far it
/// is laid on and runs off, m.
#[derive(Clone, Copy, Debug)]
struct Told {
    bark: f64,
    from: f64,
    to: f64,
    lay_on: f64,
    run_off: f64,
}

/// Counter-clockwise: a union of polygons of both windings takes some of them away again.
fn ring(corners: impl IntoIterator<Item = (f64, f64)>) -> Polygon<f64> {
    let outline = LineString::from_iter(corners.into_iter().map(|(x, y)| Coord { x, y }));
    Polygon::new(outline, vec![]).orient(Direction::Default)
}

fn circle_part(x: f64, y: f64, r: f64, from: f64, to: f64, corners: u32) -> Vec<(f64, f64)> {
    (0..=corners)
        .map(|i| from + (to - from) * f64::from(i) / f64::from(corners))
        .map(|a| (x + r * a.cos(), y + r * a.sin()))
        .collect()
}

/// The bar where it stands: the hull of a circle about the spikes and the nose's circle.
fn bar_at(x: f64, y: f64, direction: f64, corners: u32) -> Polygon<f64> {
    let length = REACH_M - NOSE_M;
    let turn = ((HALF_WIDTH_M - NOSE_M) / length).acos();
    let (nx, ny) = (x + length * direction.cos(), y + length * direction.sin());
    let mut bar = circle_part(nx, ny, NOSE_M, direction - turn, direction + turn, corners);
    bar.extend(circle_part(x, y, HALF_WIDTH_M, direction + turn, direction + TAU - turn, corners));
    ring(bar)
}

/// Where the spikes go from a place on the bark while the bar, held in one direction, moves aside in the sense given: along
/// the bark as long as it bulges back past them, then straight. Corners of the way, from the bark on.
fn way_of_spikes(
    radius: f64,
    bark: f64,
    direction: f64,
    sense: f64,
    way: f64,
    corners: u32,
) -> Vec<(f64, f64)> {
    let (ax, ay) = (direction.cos(), direction.sin());
    let (sx, sy) = (-sense * ay, sense * ax);
    let (px, py) = (radius * bark.cos(), radius * bark.sin());
    // Across the bar the middle of the log lies so far on; there the bark is farthest back.
    let to_widest = -(px * sx + py * sy);
    let mut places = Vec::new();
    if to_widest > 0.0 {
        let along = way.min(to_widest);
        for i in 0..=corners {
            let aside = along * f64::from(i) / f64::from(corners);
            let off = to_widest - aside;
            let back = (radius * radius - off * off).max(0.0).sqrt();
            places.push((-back * ax - off * sx, -back * ay - off * sy));
        }
    } else {
        places.push((px, py));
    }
    let straight = way - to_widest.max(0.0);
    if straight > 0.0 {
        let (x, y) = *places.last().unwrap();
        places.push((x + straight * sx, y + straight * sy));
    }
    places
}

/// Pieces of what a setting takes, built from the words of the model alone: the sector of the reach, the bar where it
/// stands at all ends, and what the centreline sweeps sideways: the way of the spikes and the same moved on by the reach.
fn pieces(diameter_m: f64, told: &Told, corners: u32) -> Vec<Polygon<f64>> {
    let radius = 0.5 * diameter_m;
    let bark = told.bark.to_radians();
    let (px, py) = (radius * bark.cos(), radius * bark.sin());
    let at = |degrees: f64| bark + PI + degrees.to_radians();
    let (low, high) = (told.from.min(told.to), told.from.max(told.to));
    let mut sector = circle_part(px, py, REACH_M, at(low), at(high), corners);
    sector.push((px, py));
    let mut pieces = vec![bar_at(px, py, at(low), corners), bar_at(px, py, at(high), corners)];
    if high > low {
        pieces.push(ring(sector));
    }
    // The bar comes from the side its swing turns away from, and goes on to the side it turns to.
    let sense = if told.to > told.from { 1.0 } else { -1.0 };
    for (end, sense, way) in [(told.from, -sense, told.lay_on), (told.to, sense, told.run_off)] {
        if way <= 0.0 {
            continue;
        }
        let direction = at(end);
        let spikes = way_of_spikes(radius, bark, direction, sense, way, corners);
        let (ax, ay) = (REACH_M * direction.cos(), REACH_M * direction.sin());
        let ahead = spikes.iter().rev().map(|(x, y)| (x + ax, y + ay));
        pieces.push(ring(spikes.iter().copied().chain(ahead)));
        let (x, y) = *spikes.last().unwrap();
        pieces.push(bar_at(x, y, direction, corners));
    }
    pieces
}

/// Share left of a polygon of so many corners for each circle.
fn left_by_polygons(diameter_m: f64, told: &[Told], corners: u32) -> f64 {
    let log = ring(circle_part(0.0, 0.0, 0.5 * diameter_m, 0.0, TAU, corners));
    let cuts: Vec<_> = told.iter().flat_map(|told| pieces(diameter_m, told, corners)).collect();
    let cut: MultiPolygon<f64> = unary_union(&cuts);
    log.difference(&cut).unsigned_area() / log.unsigned_area()
}

fn left_exactly(diameter_m: f64, told: &[Told]) -> f64 {
    let job = job(diameter_m);
    let (deg, m) = (Angle::from_deg, Length::from_m);
    let settings: Vec<_> = told
        .iter()
        .map(|t| {
            let swing = Setting::new(&job, deg(t.bark), Side::Near, deg(t.from), deg(t.to)).unwrap();
            swing.with_ways(&job, m(t.lay_on), m(t.run_off)).unwrap()
        })
        .collect();
    1.0 - cover(&job, &bar(), &settings).unwrap().covered_fraction
}

fn told() -> impl Strategy<Value = Told> {
    let end = || prop_oneof![Just(LIMIT_DEG), Just(-LIMIT_DEG), -70.0_f64..70.0];
    let way = || prop_oneof![Just(0.0), 0.01_f64..0.7];
    // A sink is told with a swing of nothing; the way it goes is told apart, and here it goes down.
    let swing = prop_oneof![3 => (end(), end()), 1 => (-70.0_f64..70.0).prop_map(|held| (held, held))];
    (0.0_f64..360.0, swing, way(), way()).prop_map(|(bark, (from, to), lay_on, run_off)| Told {
        bark,
        from,
        to,
        lay_on,
        run_off,
    })
}

#[test]
fn the_polygons_agree_with_cases_solved_by_hand() {
    // An oracle can be wrong: a log no one cuts keeps all of it (on the crate's grid of whole numbers), and half a circle
    // is half a circle.
    assert_close("a whole log", left_by_polygons(0.8, &[], 512), 1.0, Within::Absolute(1e-9));
    let half = ring(circle_part(0.0, 0.0, 1.0, 0.0, PI, 4096));
    assert_close("half a circle", half.unsigned_area(), FRAC_PI_2, Within::Relative(1e-6));
    // A level bar let all the way down through a log twice its reach leaves the far half.
    let sink = Told { bark: 180.0, from: 0.0, to: 0.0, lay_on: 0.6, run_off: 0.6 };
    assert_close(
        "a sink to the middle",
        left_by_polygons(2.0 * REACH_M, &[sink], 2048),
        0.5,
        Within::Absolute(1e-6),
    );
    // Spikes that start at the top of the near side follow the bark round to its widest place, a radius back and down.
    let way = way_of_spikes(0.5, FRAC_PI_2, 0.0, -1.0, 0.9, 64);
    let (x, y) = way[64];
    assert!((x + 0.5).abs() < 1e-12 && y.abs() < 1e-12, "{x} {y}");
    let (x, y) = way[65];
    assert!((x + 0.5).abs() < 1e-12 && (y + 0.4).abs() < 1e-12, "{x} {y}");
}

proptest! {
    #![proptest_config(barpoise_checks::few_cases(24))]

    #[test]
    fn law_polygons_come_to_the_exact_share_as_they_refine(
        diameter in 0.2_f64..1.2, settings in prop::collection::vec(told(), 1..5)
    ) {
        let exact = left_exactly(diameter, &settings);
        let error = |corners: u32| (left_by_polygons(diameter, &settings, corners) - exact).abs();
        // Chords of a circle in n corners leave out a share of (2π/n)²/6 of it, 2.5·10⁻⁵ for 512; four times that for
        // the circles of the swings, and a sixteenth of it all for four times the corners.
        prop_assert!(error(512) < 1e-4, "{} at 512", error(512));
        prop_assert!(error(2048) < 7e-6, "{} at 2048", error(2048));
    }
}

#[test]
fn a_nose_level_with_the_middle_is_buried_by_what_the_reach_lacks_of_the_diameter() {
    let job = job(0.56);
    let setting = Setting::full(&job, Angle::from_deg(180.0), Side::Near).unwrap();
    let nose = nose(&job, &bar(), &[], &setting).unwrap();
    assert_close("buried at most, m", nose.buried_max_m, 0.108, Within::Absolute(1e-12));
}
