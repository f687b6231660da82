//! The chain's loop against paths made without its formula: hulls of points on the two circles, and the
//! support function of the pair.
#![expect(clippy::indexing_slicing, reason = "a helper of a check may stop the check")]

use barpoise_checks::{Within, assert_close, bench_yard};
use barpoise_core::geometry::Point;
use barpoise_core::units::{Length, Mass};
use barpoise_core::{LoopPath, MassPart, parts};
use proptest::prelude::*;
use std::f64::consts::{PI, TAU};

/// Sums of a few thousand chords lose no more than this share of themselves.
const ROUNDING: f64 = 1e-12;

#[derive(Clone, Copy, Debug)]
struct Circles {
    sprocket_m: f64,
    nose_m: f64,
    distance_m: f64,
}

impl Circles {
    fn path(&self) -> LoopPath {
        let circles =
            (Length::from_m(self.sprocket_m), Length::from_m(self.nose_m), Length::from_m(self.distance_m));
        match LoopPath::with_centre_distance(circles.0, circles.1, circles.2) {
            Some(path) => path,
            None => unreachable!("no belt round {self:?}"),
        }
    }

    /// The hull of `n` points on each circle, the circles blown up by `factor` about their centres.
    fn hull(&self, n: u32, factor: f64) -> Vec<Point> {
        let round = |centre: f64, radius: f64| {
            (0..n).map(move |i| {
                let angle = TAU * f64::from(i) / f64::from(n);
                Point::new(centre + factor * radius * angle.cos(), factor * radius * angle.sin())
            })
        };
        hull(round(0.0, self.sprocket_m).chain(round(self.distance_m, self.nose_m)).collect())
    }

    /// Cauchy: the boundary of a convex figure is as long as its support function integrated once round.
    fn by_support_function(&self, n: u32) -> f64 {
        let step = TAU / f64::from(n);
        (0..n)
            .map(|i| {
                let angle = (f64::from(i) + 0.5) * step;
                step * self.sprocket_m.max(self.distance_m * angle.cos() + self.nose_m)
            })
            .sum()
    }
}

/// Convex hull by the monotone chain, counter-clockwise.
fn hull(mut points: Vec<Point>) -> Vec<Point> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let half = |points: &mut dyn Iterator<Item = Point>| {
        let mut chain: Vec<Point> = Vec::new();
        for point in points {
            while let [.., a, b] = chain[..] {
                if (b - a).perp(&(point - b)) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(point);
        }
        chain.pop();
        chain
    };
    let mut lower = half(&mut points.iter().copied());
    lower.extend(half(&mut points.iter().rev().copied()));
    lower
}

fn edges(corners: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    corners.iter().copied().zip(corners.iter().copied().cycle().skip(1))
}

fn perimeter(corners: &[Point]) -> f64 {
    edges(corners).map(|(a, b)| (b - a).norm()).sum()
}

/// Circles as on saws and well beyond; apart, touching, overlapping, down to a nose that all but vanishes behind
/// the other circle.
fn circles() -> impl Strategy<Value = Circles> {
    (0.005..0.08_f64, 0.005..0.08_f64, 1e-4..1.5_f64).prop_map(|(sprocket_m, nose_m, clear_m)| Circles {
        sprocket_m,
        nose_m,
        distance_m: (sprocket_m - nose_m).abs() + clear_m,
    })
}

/// A convex figure inside another has the shorter boundary: points on the circles make a hull inside the belt,
/// points on circles blown up by 1/cos(π/n) make one outside it. The formula has to lie between, and the gap
/// closes as 1/n².
fn assert_between_hulls(circles: &Circles, length_m: f64) {
    let mut gaps = Vec::new();
    for n in [500, 1000, 2000] {
        let inside = perimeter(&circles.hull(n, 1.0));
        let outside = perimeter(&circles.hull(n, 1.0 / (PI / f64::from(n)).cos()));
        assert!(
            inside * (1.0 - ROUNDING) <= length_m && length_m <= outside * (1.0 + ROUNDING),
            "{circles:?}: {length_m} m is not between hulls of {inside} m and {outside} m"
        );
        gaps.push(outside - inside);
    }
    for pair in gaps.windows(2) {
        // Where the rails leave a circle moves by up to a point, so a quarter is met only roughly.
        assert!(pair[1] < 0.5 * pair[0], "{circles:?}: the hulls do not close in: {gaps:?} m");
    }
    let arcs_m = TAU * circles.sprocket_m.max(circles.nose_m);
    assert!(gaps[2] < 1e-5 * arcs_m, "{circles:?}: the hulls stay {} m apart, which proves little", gaps[2]);
}

proptest! {
    // A hull of some thousands of points takes a while to draw.
    #![proptest_config(barpoise_checks::few_cases(64))]

    #[test]
    fn the_belt_lies_between_hulls(circles in circles()) {
        assert_between_hulls(&circles, circles.path().length().as_m());
    }

    #[test]
    fn the_belt_is_the_integrated_support_function(circles in circles()) {
        const STEPS: u32 = 40_000;
        // The slope jumps by at most d at either rail; the midpoint rule misses a jump j by at most step²·j/8, and
        // the smooth pieces between by step²·j/24 for each: step²·d/3 in all.
        let step = TAU / f64::from(STEPS);
        let missed = step * step * circles.distance_m / 3.0;
        assert_close(
            "belt, m",
            circles.path().length().as_m(),
            circles.by_support_function(STEPS),
            Within::Absolute(missed + ROUNDING),
        );
    }

    #[test]
    fn a_loop_solved_for_its_length_reaches_the_nose_that_the_hulls_say(
        circles in circles(),
        slack_m in 1e-6..3.0_f64,
    ) {
        let shortest_m = TAU * circles.sprocket_m.max(circles.nose_m);
        let length_m = shortest_m + slack_m;
        let path = LoopPath::with_length(
            Length::from_m(circles.sprocket_m),
            Length::from_m(circles.nose_m),
            Length::from_m(length_m),
        );
        let distance_m = path.unwrap().centre_distance().as_m();
        assert_between_hulls(&Circles { distance_m, ..circles }, length_m);
    }

    #[test]
    fn the_walked_path_is_the_hull(circles in circles(), share in 0.0..1.0_f64) {
        const POINTS: u32 = 2000;
        let path = circles.path();
        let (point, along) = path.point_at(share * path.length().as_m());
        assert_close("tangent's length", along.norm(), 1.0, Within::Absolute(ROUNDING));
        // The chain goes round clockwise with the figure on its right: every corner of the hull lies on that side
        // of the tangent, and one lies on it but for a circle's sagitta between two points.
        let inward = |corner: &Point| along.perp(&(point - corner));
        let nearest = circles.hull(POINTS, 1.0).iter().map(inward).fold(f64::MAX, f64::min);
        let sagitta = circles.sprocket_m.max(circles.nose_m) * (PI / f64::from(POINTS)).powi(2);
        prop_assert!(nearest >= -ROUNDING, "{point} lies {} m inside the hull", -nearest);
        prop_assert!(nearest <= sagitta, "{point} lies {nearest} m outside the hull");
    }
}

/// The loop's mass as points in the middle of even steps.
fn as_points(mass_kg: f64, points: &[Point]) -> MassPart {
    let each = Mass::from_kg(mass_kg / points.len() as f64);
    MassPart::sum(points.iter().map(|point| MassPart::point(each, *point)))
}

/// Points in the middle of even steps of at most `step_m` along a closed outline, each step of one length.
fn beads(corners: &[Point], count: u32) -> Vec<Point> {
    let step = perimeter(corners) / f64::from(count);
    let (mut beads, mut next) = (Vec::new(), 0.5 * step);
    for (a, b) in edges(corners) {
        let length = (b - a).norm();
        while next < length {
            beads.push(a + (b - a) * (next / length));
            next += step;
        }
        next -= length;
    }
    beads
}

fn assert_same_part(what: &str, ours: &MassPart, outside: &MassPart, place_m: f64, share: f64) {
    assert_close(format_args!("{what}, kg"), ours.mass_kg, outside.mass_kg, Within::Relative(1e-10));
    let (x, y) = (Within::Absolute(place_m), Within::Absolute(place_m));
    assert_close(format_args!("{what} x, m"), ours.centroid.x, outside.centroid.x, x);
    assert_close(format_args!("{what} y, m"), ours.centroid.y, outside.centroid.y, y);
    assert_close(
        format_args!("{what}, kg·m²"),
        ours.inertia_kg_m2,
        outside.inertia_kg_m2,
        Within::Relative(share),
    );
}

#[test]
fn a_chain_weighs_on_the_saw_like_beads_along_its_path() {
    // A step of about 0.1 mm: beads miss the path by less than a step squared over its radii, which is 1e-6 m,
    // and the inertia by the same share.
    const BEADS: u32 = 20_000;
    const PLACE_M: f64 = 1e-6;
    const SHARE: f64 = 1e-5;
    let yard = bench_yard::checked(bench_yard::yard_file(
        bench_yard::head(190.0),
        vec![bench_yard::bar("16", 16.0, 60, 6.0), bench_yard::bar("26", 26.0, 89, 6.0)],
    ));
    for setup in yard.setups() {
        let path = setup.path();
        let mass_kg = setup.chain_mass().as_kg();
        // Head, bar, fuel and oil come first, then the four runs of the chain.
        let chain = MassPart::sum(parts(setup).into_iter().skip(4).take(4));
        let step = path.length().as_m() / f64::from(BEADS);
        let along: Vec<_> = (0..BEADS).map(|i| path.point_at((f64::from(i) + 0.5) * step).0).collect();
        assert_same_part("chain", &chain, &as_points(mass_kg, &along), PLACE_M, SHARE);
        let circles = Circles {
            sprocket_m: path.sprocket_radius().as_m(),
            nose_m: path.nose_radius().as_m(),
            distance_m: path.centre_distance().as_m(),
        };
        let hung = beads(&circles.hull(5000, 1.0), BEADS);
        assert_same_part("chain on the hull", &chain, &as_points(mass_kg, &hung), PLACE_M, SHARE);
    }
}

#[test]
fn a_loop_that_reaches_no_nose_is_an_error() {
    let circle = Length::from_mm(20.0);
    let once_round = Length::from_m(TAU * circle.as_m());
    for length in [Length::ZERO, Length::from_mm(-1.0), once_round, Length::from_m(f64::NAN)] {
        let refused = LoopPath::with_length(circle, circle, length);
        assert!(refused.is_err(), "{length:?} gave {refused:?}");
    }
    let endless = LoopPath::with_length(circle, circle, Length::from_m(f64::INFINITY));
    assert!(endless.is_err(), "an endless loop gave {endless:?}");
    let no_distance = Length::from_m(f64::NAN);
    assert!(LoopPath::with_centre_distance(circle, circle, no_distance).is_none());
}
