//! Area, centroid and second moment of outlines against another crate and against brute force.
#![expect(clippy::indexing_slicing, reason = "a helper of a check may stop the check")]

use barpoise_checks::{Within, assert_close, bench_yard};
use barpoise_core::Bar;
use barpoise_core::geometry::{AreaProperties, Point, Polygon, Vector};
use nalgebra::Rotation2;
use parry2d_f64::mass_properties::MassProperties;
use parry2d_f64::math::Vector as ParryVector;
use parry2d_f64::transformation::convex_hull;
use proptest::prelude::*;
use std::f64::consts::TAU;

/// Outlines here are decimetres across. Sums over some dozens of corners lose about 1e-14 of themselves; a
/// sliver's second moment is a small difference of them.
const AREA_ROUNDING: Within = Within::Relative(1e-10);
/// Centroids, m: a thousandth of a thousandth of a millimetre and less.
const PLACE_ROUNDING: Within = Within::Absolute(1e-10);
/// As for areas, with one more subtraction.
const MOMENT_ROUNDING: Within = Within::Relative(1e-8);
/// Random outlines below this area are slivers, which say nothing about a bar and lose digits in any sum.
const LEAST_AREA_M2: f64 = 1e-4;

fn properties(corners: &[Point]) -> AreaProperties {
    match Polygon::new(corners.to_vec()).properties() {
        Some(properties) => properties,
        None => unreachable!("no area in {corners:?}"),
    }
}

fn assert_same(what: &str, ours: &AreaProperties, outside: &AreaProperties) {
    assert_close(format_args!("{what}: area, m²"), ours.area_m2, outside.area_m2, AREA_ROUNDING);
    assert_close(format_args!("{what}: centroid x, m"), ours.centroid.x, outside.centroid.x, PLACE_ROUNDING);
    assert_close(format_args!("{what}: centroid y, m"), ours.centroid.y, outside.centroid.y, PLACE_ROUNDING);
    assert_close(
        format_args!("{what}: second moment, m⁴"),
        ours.second_moment_m4,
        outside.second_moment_m4,
        MOMENT_ROUNDING,
    );
}

/// A convex outline by the other crate, of unit density, so that mass is area.
///
/// Its `from_convex_polygon` takes each triangle's inertia about the corner that lies in the centroid, which is
/// right. Its `from_triangle` and what is built on it take the same figure for the inertia about the triangle's
/// own centroid, which is not: those are not used here.
fn by_parry(corners: &[Point]) -> MassProperties {
    let corners: Vec<_> = corners.iter().map(|p| ParryVector::new(p.x, p.y)).collect();
    MassProperties::from_convex_polygon(1.0, &corners)
}

fn as_area(parry: &MassProperties) -> AreaProperties {
    AreaProperties {
        area_m2: parry.mass(),
        centroid: Point::new(parry.local_com.x, parry.local_com.y),
        second_moment_m4: parry.principal_inertia(),
    }
}

#[test]
fn the_oracle_knows_a_rectangle_and_a_triangle() {
    // By hand: b·h, middle, b·h·(b² + h²)/12; and for a right triangle of legs b, h: b·h/2, a third along each
    // leg, b·h·(b² + h²)/36.
    let (b, h) = (0.4, 0.1);
    let rectangle = [(0.3, -0.2), (0.7, -0.2), (0.7, -0.1), (0.3, -0.1)].map(|(x, y)| Point::new(x, y));
    let by_hand = AreaProperties {
        area_m2: b * h,
        centroid: Point::new(0.5, -0.15),
        second_moment_m4: b * h * (b * b + h * h) / 12.0,
    };
    assert_same("rectangle", &as_area(&by_parry(&rectangle)), &by_hand);
    let triangle = [(0.0, 0.0), (0.4, 0.0), (0.0, 0.1)].map(|(x, y)| Point::new(x, y));
    let by_hand = AreaProperties {
        area_m2: 0.5 * b * h,
        centroid: Point::new(b / 3.0, h / 3.0),
        second_moment_m4: b * h * (b * b + h * h) / 36.0,
    };
    assert_same("triangle", &as_area(&by_parry(&triangle)), &by_hand);
    // Two triangles added up by the oracle are the rectangle again.
    let [a, b, c, d] = rectangle;
    let halves = as_area(&(by_parry(&[a, b, c]) + by_parry(&[a, c, d])));
    assert_same("two halves", &halves, &as_area(&by_parry(&rectangle)));
}

/// Integrals over an outline about the origin: of 1, x, y and x² + y².
type RawMoments = [f64; 4];

/// Brute force: upright strips, each with the outline's crossings at its middle. The strips are laid `per_slab` to
/// each slab between neighbouring corners, so that no strip has a corner inside.
fn by_strips(corners: &[Point], per_slab: u32) -> RawMoments {
    let mut edges_x: Vec<f64> = corners.iter().map(|p| p.x).collect();
    edges_x.sort_by(f64::total_cmp);
    let mut sums = [0.0; 4];
    for slab in edges_x.windows(2) {
        let width = (slab[1] - slab[0]) / f64::from(per_slab);
        for strip in 0..per_slab {
            let x = slab[0] + (f64::from(strip) + 0.5) * width;
            for span in crossings(corners, x).chunks_exact(2) {
                let (low, high) = (span[0], span[1]);
                sums[0] += width * (high - low);
                sums[1] += width * x * (high - low);
                sums[2] += width * (high * high - low * low) / 2.0;
                sums[3] += width * (x * x * (high - low) + (high.powi(3) - low.powi(3)) / 3.0);
            }
        }
    }
    sums
}

fn crossings(corners: &[Point], x: f64) -> Vec<f64> {
    let next = corners.iter().cycle().skip(1);
    let mut ys: Vec<f64> = corners
        .iter()
        .zip(next)
        .filter(|(a, b)| (a.x <= x) != (b.x <= x))
        .map(|(a, b)| a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x))
        .collect();
    ys.sort_by(f64::total_cmp);
    ys
}

fn raw(area: &AreaProperties) -> RawMoments {
    let [x, y] = [area.centroid.x, area.centroid.y];
    [area.area_m2, area.area_m2 * x, area.area_m2 * y, area.second_moment_m4 + area.area_m2 * (x * x + y * y)]
}

const RAW_NAMES: [&str; 4] = ["∫1, m²", "∫x, m³", "∫y, m³", "∫x²+y², m⁴"];

/// Inside a slab every integrand is a polynomial of at most third degree in x. The midpoint rule then misses by
/// exactly c/n², and four times the finer sum less the coarser one, over three, is exact.
fn assert_strips_converge_to(corners: &[Point], ours: &AreaProperties) {
    const COARSE: u32 = 8;
    /// An integral about the origin may itself be near zero; what rounding leaves is a share of area × size.
    const SHARE: f64 = 1e-11;
    /// Halving the strips quarters the error; a few per cent for rounding where the error is already small.
    const QUARTER: f64 = 0.05;
    let size_m = corners.iter().fold(1.0_f64, |size, p| size.max(p.coords.norm()));
    let (coarse, fine) = (by_strips(corners, COARSE), by_strips(corners, 2 * COARSE));
    for (i, exact) in raw(ours).into_iter().enumerate() {
        let rounding = SHARE * ours.area_m2 * size_m * size_m;
        assert_close(
            format_args!("{} from strips", RAW_NAMES[i]),
            exact,
            (4.0 * fine[i] - coarse[i]) / 3.0,
            Within::Absolute(rounding),
        );
        let missed = (coarse[i] - exact).abs();
        // A ratio of two roundings says nothing.
        if missed > 1e3 * rounding {
            assert_close(
                format_args!("{}: what is missed with strips half as wide", RAW_NAMES[i]),
                (fine[i] - exact).abs() / missed,
                0.25,
                Within::Absolute(QUARTER),
            );
        }
    }
}

fn cloud() -> impl Strategy<Value = Vec<Point>> {
    let place = (-0.5..1.0_f64, -0.4..0.4_f64).prop_map(|(x, y)| Point::new(x, y));
    prop::collection::vec(place, 3..24)
}

fn convex() -> impl Strategy<Value = Vec<Point>> {
    cloud()
        .prop_map(|cloud| {
            let cloud: Vec<_> = cloud.iter().map(|p| ParryVector::new(p.x, p.y)).collect();
            convex_hull(&cloud).iter().map(|p| Point::new(p.x, p.y)).collect::<Vec<_>>()
        })
        .prop_filter("a sliver", |hull| hull.len() >= 3 && enough(hull))
}

/// Star-shaped about `middle`: one corner in each of the even sectors, at any distance. Hardly ever convex.
fn star() -> impl Strategy<Value = (Point, Vec<Point>)> {
    let middle = (-0.5..0.5_f64, -0.5..0.5_f64);
    let corner = (0.03..0.4_f64, 0.05..0.95_f64);
    (middle, prop::collection::vec(corner, 5..20)).prop_map(|((x, y), corners)| {
        let (middle, sectors) = (Point::new(x, y), corners.len() as f64);
        let corners = corners
            .iter()
            .enumerate()
            .map(|(i, (radius, within))| {
                let angle = TAU * (i as f64 + within) / sectors;
                middle + *radius * Vector::new(angle.cos(), angle.sin())
            })
            .collect();
        (middle, corners)
    })
}

fn enough(corners: &[Point]) -> bool {
    Polygon::new(corners.to_vec()).properties().is_some_and(|p| p.area_m2 > LEAST_AREA_M2)
}

/// The part of a convex outline on one side of a line (`normal · p ≥ offset`).
fn cut(corners: &[Point], normal: Vector, offset: f64) -> Vec<Point> {
    let side = |p: &Point| normal.dot(&p.coords) - offset;
    let mut kept = Vec::new();
    for (a, b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let (from, to) = (side(a), side(b));
        if from >= 0.0 {
            kept.push(*a);
        }
        if (from >= 0.0) != (to >= 0.0) {
            kept.push(a + (b - a) * (from / (from - to)));
        }
    }
    kept
}

/// Two areas as one, by the parallel-axis theorem.
fn together(a: &AreaProperties, b: &AreaProperties) -> AreaProperties {
    let (a_raw, b_raw) = (raw(a), raw(b));
    let sum: RawMoments = std::array::from_fn(|i| a_raw[i] + b_raw[i]);
    let centroid = Point::new(sum[1] / sum[0], sum[2] / sum[0]);
    AreaProperties {
        area_m2: sum[0],
        centroid,
        second_moment_m4: sum[3] - sum[0] * centroid.coords.norm_squared(),
    }
}

proptest! {
    #[test]
    fn convex_outlines_agree_with_the_other_crate(hull in convex()) {
        assert_same("convex", &properties(&hull), &as_area(&by_parry(&hull)));
    }

    #[test]
    fn concave_outlines_agree_with_the_other_crate((middle, corners) in star()) {
        // As a fan of triangles about the point from which all of the star is seen.
        let fan = corners
            .iter()
            .zip(corners.iter().cycle().skip(1))
            .map(|(a, b)| by_parry(&[middle, *a, *b]))
            .reduce(|sum, triangle| sum + triangle);
        assert_same("star", &properties(&corners), &as_area(&fan.unwrap()));
    }

    #[test]
    fn convex_outlines_agree_with_brute_force(hull in convex()) {
        assert_strips_converge_to(&hull, &properties(&hull));
    }

    #[test]
    fn concave_outlines_agree_with_brute_force((_, corners) in star()) {
        assert_strips_converge_to(&corners, &properties(&corners));
    }

    #[test]
    fn law_shifting_an_outline_shifts_its_centroid_alone(
        (_, corners) in star(),
        x in -3.0..3.0_f64,
        y in -3.0..3.0_f64,
    ) {
        let by = Vector::new(x, y);
        let shifted: Vec<_> = corners.iter().map(|p| p + by).collect();
        let still = properties(&corners);
        let expected = AreaProperties { centroid: still.centroid + by, ..still };
        assert_same("shifted", &properties(&shifted), &expected);
    }

    #[test]
    fn law_turning_an_outline_turns_its_centroid_alone((_, corners) in star(), angle in -7.0..7.0_f64) {
        let turn = Rotation2::new(angle);
        let turned: Vec<_> = corners.iter().map(|p| turn * p).collect();
        let still = properties(&corners);
        let expected = AreaProperties { centroid: turn * still.centroid, ..still };
        assert_same("turned", &properties(&turned), &expected);
    }

    #[test]
    fn law_mirroring_an_outline_mirrors_its_centroid_alone((_, corners) in star()) {
        let mirror = |p: &Point| Point::new(p.x, -p.y);
        let mirrored: Vec<_> = corners.iter().map(mirror).collect();
        let still = properties(&corners);
        let expected = AreaProperties { centroid: mirror(&still.centroid), ..still };
        assert_same("mirrored", &properties(&mirrored), &expected);
    }

    #[test]
    fn law_the_parts_of_an_outline_sum_to_it(hull in convex(), angle in 0.0..TAU, at in 0.1..0.9_f64) {
        let normal = Vector::new(angle.cos(), angle.sin());
        let along = || hull.iter().map(|p| normal.dot(&p.coords));
        let (low, high) = (along().fold(f64::MAX, f64::min), along().fold(f64::MIN, f64::max));
        let offset = low + at * (high - low);
        let (one, other) = (cut(&hull, normal, offset), cut(&hull, -normal, -offset));
        prop_assume!(enough(&one) && enough(&other));
        let sum = together(&properties(&one), &properties(&other));
        assert_same("split and summed", &sum, &properties(&hull));
    }
}

fn bar() -> Bar {
    Bar::new(&bench_yard::bar("20", 20.0, 72, 6.0), 0).unwrap_or_else(|faults| unreachable!("{faults:?}"))
}

#[test]
fn a_bars_plate_agrees_with_strips_of_its_outline() {
    let bar = bar();
    let corners = bar.outline().corners();
    let area = properties(corners);
    assert_strips_converge_to(corners, &area);
    // Through the part that goes into a saw: the same centroid and, per kilogram, the same second moment.
    let nose = Point::new(0.6, 0.0);
    let part = bar.part(nose);
    let [area_m2, x, y, second] = {
        let (coarse, fine) = (by_strips(corners, 8), by_strips(corners, 16));
        std::array::from_fn(|i| (4.0 * fine[i] - coarse[i]) / 3.0)
    };
    let centroid = Vector::new(x, y) / area_m2;
    assert_close("plate x, m", part.centroid.x, nose.x + centroid.x, PLACE_ROUNDING);
    assert_close("plate y, m", part.centroid.y, 0.0, PLACE_ROUNDING);
    assert_close(
        "plate inertia, kg·m²",
        part.inertia_kg_m2,
        part.mass_kg * (second / area_m2 - centroid.norm_squared()),
        MOMENT_ROUNDING,
    );
    // Mass: plate volume less the groove round all but the tail, in steel of 7850 kg/m³ (EN 1991-1-1: from 77.0 kN/m³).
    let file = bench_yard::bar("20", 20.0, 72, 6.0);
    let tail_m = file.tail_width_mm * 1e-3;
    let rail_m: f64 =
        corners.iter().zip(corners.iter().cycle().skip(1)).map(|(a, b)| (b - a).norm()).sum::<f64>() - tail_m;
    let volume_m3 = area_m2 * file.thickness_mm * 1e-3 - rail_m * file.groove_depth_mm * file.gauge_mm * 1e-6;
    assert_close("plate, kg", part.mass_kg, 7850.0 * volume_m3, AREA_ROUNDING);
}

#[test]
fn a_bars_corners_stay_close_to_the_smooth_outline() {
    /// What the core states for its sampled outline.
    const STATED_SHARE: f64 = 1e-3;
    const STRIPS: u32 = 200_000;
    for (name, links) in [("16", 60), ("20", 72), ("26", 89)] {
        let file = bench_yard::bar(name, 20.0, links, 6.0);
        let bar = Bar::new(&file, 0).unwrap();
        let (tail, body, nose) =
            (0.5e-3 * file.tail_width_mm, 0.5e-3 * file.body_width_mm, 1e-3 * file.nose_radius_mm);
        let length = 1e-3 * file.overall_length_mm;
        let centre = length - nose;
        // Half a wave of a cosine over eight times the change of half width, at both ends; then the nose circle.
        let wave = |t: f64| 0.5 - 0.5 * (std::f64::consts::PI * t).cos();
        let half_width = |x: f64| {
            let (tail_taper, nose_taper) = (8.0 * (body - tail), 8.0 * (body - nose));
            if x > centre {
                (nose * nose - (x - centre).powi(2)).max(0.0).sqrt()
            } else if x > centre - nose_taper {
                nose + (body - nose) * wave((centre - x) / nose_taper)
            } else if x < tail_taper {
                tail + (body - tail) * wave(x / tail_taper)
            } else {
                body
            }
        };
        let step = length / f64::from(STRIPS);
        let (mut area, mut moment) = (0.0, 0.0);
        for strip in 0..STRIPS {
            let x = (f64::from(strip) + 0.5) * step;
            area += 2.0 * half_width(x) * step;
            moment += 2.0 * half_width(x) * step * (x - centre);
        }
        let ours = properties(bar.outline().corners());
        assert_close(
            format_args!("bar {name}: area, m²"),
            ours.area_m2,
            area,
            Within::Relative(STATED_SHARE),
        );
        // The centroid moves by no more than the missing area, at the plate's end, can move it.
        assert_close(
            format_args!("bar {name}: centroid, m"),
            ours.centroid.x,
            moment / area,
            Within::Absolute(STATED_SHARE * length),
        );
    }
}
