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

/// A swing about a place on the bark, degrees: place, low end, high end.
type Swing = (f64, f64, f64);

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

/// Pieces of what a swing takes, built from the words of the model alone: the sector of the reach, the bar at both ends,
/// and at a limit the strip a fifth of the reach deep.
fn pieces(diameter_m: f64, swing: Swing, corners: u32) -> Vec<Polygon<f64>> {
    let (bark, low, high) = swing;
    let bark = bark.to_radians();
    let (px, py) = (0.5 * diameter_m * bark.cos(), 0.5 * diameter_m * bark.sin());
    let at = |degrees: f64| bark + PI + degrees.to_radians();
    let mut sector = circle_part(px, py, REACH_M, at(low), at(high), corners);
    sector.push((px, py));
    let mut pieces = vec![ring(sector)];
    for (end, outward, is_limit) in [(high, 1.0, high >= LIMIT_DEG), (low, -1.0, low <= -LIMIT_DEG)] {
        let direction = at(end);
        let length = REACH_M - NOSE_M;
        let turn = ((HALF_WIDTH_M - NOSE_M) / length).acos();
        let (nx, ny) = (px + length * direction.cos(), py + length * direction.sin());
        let mut bar = circle_part(nx, ny, NOSE_M, direction - turn, direction + turn, corners);
        bar.extend(circle_part(px, py, HALF_WIDTH_M, direction + turn, direction + TAU - turn, corners));
        pieces.push(ring(bar));
        if is_limit {
            let depth = 0.2 * REACH_M;
            let far = direction + outward * (depth / REACH_M).asin();
            let mut strip = circle_part(px, py, REACH_M, direction, far, corners);
            let out = direction + outward * FRAC_PI_2;
            strip.push((px + depth * out.cos(), py + depth * out.sin()));
            strip.push((px, py));
            pieces.push(ring(strip));
        }
    }
    pieces
}

/// Share left of a polygon of so many corners for each circle.
fn left_by_polygons(diameter_m: f64, swings: &[Swing], corners: u32) -> f64 {
    let log = ring(circle_part(0.0, 0.0, 0.5 * diameter_m, 0.0, TAU, corners));
    let cuts: Vec<_> = swings.iter().flat_map(|swing| pieces(diameter_m, *swing, corners)).collect();
    let cut: MultiPolygon<f64> = unary_union(&cuts);
    log.difference(&cut).unsigned_area() / log.unsigned_area()
}

fn left_exactly(diameter_m: f64, swings: &[Swing]) -> f64 {
    let job = job(diameter_m);
    let deg = Angle::from_deg;
    let settings: Vec<_> = swings
        .iter()
        .map(|(bark, low, high)| Setting::new(&job, deg(*bark), Side::Near, deg(*high), deg(*low)).unwrap())
        .collect();
    1.0 - cover(&job, &bar(), &settings).unwrap().covered_fraction
}

fn a_swing() -> impl Strategy<Value = Swing> {
    let end = || prop_oneof![Just(LIMIT_DEG), Just(-LIMIT_DEG), -70.0_f64..70.0];
    (0.0_f64..360.0, end(), end()).prop_map(|(bark, a, b)| (bark, a.min(b), a.max(b)))
}

#[test]
fn the_polygons_agree_with_a_case_solved_by_hand() {
    // An oracle can be wrong: a log no one cuts keeps all of it (on the crate's grid of whole numbers), and half a circle
    // is half a circle.
    assert_close("a whole log", left_by_polygons(0.8, &[], 512), 1.0, Within::Absolute(1e-9));
    let half = ring(circle_part(0.0, 0.0, 1.0, 0.0, PI, 4096));
    assert_close("half a circle", half.unsigned_area(), FRAC_PI_2, Within::Relative(1e-6));
}

proptest! {
    #![proptest_config(barpoise_checks::few_cases(24))]

    #[test]
    fn law_polygons_come_to_the_exact_share_as_they_refine(
        diameter in 0.2_f64..1.2, swings in prop::collection::vec(a_swing(), 1..5)
    ) {
        let exact = left_exactly(diameter, &swings);
        let error = |corners: u32| (left_by_polygons(diameter, &swings, corners) - exact).abs();
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
