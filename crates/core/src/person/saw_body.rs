//! The saw's own body: what of the powerhead can meet the wood or the ground, and where the hands are.

use super::ranges::{self, checked};
use crate::fault::Fault;
use crate::geometry::{Point, Polygon, Vector};
use crate::saw::{HeadPart, MassPart, Powerhead, Setup, Solved, tooth_depth_m};
use crate::units::{Length, Mass};

/// Room for a hand round a grip (*our guess*). It also stands for the hand guard, which is no part of the tested
/// outline: it moves, being the lever of the chain brake, and differs most from head to head.
pub const DEFAULT_HAND_ROOM_M: f64 = 0.050;
/// The teeth of the spikes reach so far above and below the middle of the bar, m (*our guess*).
pub(super) const TEETH_HALF_HEIGHT_M: f64 = 0.060;
/// What bar and chain add to the head where no setup is given, and how far ahead of the spikes (*our guess*: a bar of
/// middling length).
pub(super) const BAR_AND_CHAIN: MassPart =
    MassPart { mass_kg: 2.0, centroid: Point::new(0.22, 0.0), inertia_kg_m2: 0.0 };

/// An edge of the outline, with what the test against the wood needs of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Side {
    pub(super) start: Point,
    pub(super) along: Vector,
    pub(super) per_length2: f64,
    pub(super) half_m: f64,
}

impl Side {
    fn new(start: Point, end: Point) -> Self {
        let along = end - start;
        let per_length2 = 1.0 / along.norm_squared().max(1e-18);
        Self { start, along, per_length2, half_m: 0.5 * along.norm() }
    }

    /// The place on the edge nearest to a point.
    pub(super) fn nearest(&self, to: Point) -> Point {
        let share = ((to - self.start).dot(&self.along) * self.per_length2).clamp(0.0, 1.0);
        self.start + share * self.along
    }

    pub(super) fn end(&self) -> Point {
        self.start + self.along
    }
}

/// One part of the outline, its edges and a circle round them.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Part {
    pub(super) polygon: Polygon,
    pub(super) sides: Vec<Side>,
    pub(super) middle: Point,
    pub(super) round_m: f64,
}

/// A powerhead in the *spike frame*: origin where the spike line crosses the middle of the bar, +x to the nose, +y the
/// saw's upper side, m.
///
/// The outline is a set of polygons that overlap: body, rear handle and front handle. Each may be hollow at a side: it
/// is taken edge by edge, never as its hull. The spikes touch the bark by design, so their teeth are left out: the
/// generic body ends behind them, and of an owner's own outline the edges within the teeth (from the tips back to where
/// the generic body begins, 60 mm above and below the middle of the bar) are skipped.
#[derive(Clone, Debug, PartialEq)]
pub struct SawBody {
    pub(super) parts: Vec<Part>,
    /// Corners of the hull: what can touch flat ground first.
    pub(super) hull: Vec<Point>,
    front_grip: Point,
    rear_grip: Point,
    hand_room_m: f64,
    mass_kg: f64,
    centre: Point,
    is_proposed: bool,
}

impl SawBody {
    /// The body of a head. Its weight is that of the head with full tanks and a bar and chain of middling length;
    /// [`Self::with_saw`] takes a setup's own.
    pub fn of(head: &Powerhead) -> Self {
        let origin = Vector::new(head.spike_line().as_m(), 0.0);
        let shift = |p: Point| p - origin;
        let polygons =
            [HeadPart::Body, HeadPart::RearHandle, HeadPart::FrontHandle].map(|part| part.polygon_on(head));
        let is_proposed = matches!(head.outline(), crate::saw::Outline::Generic);
        let teeth_m = if is_proposed { 0.0 } else { tooth_depth_m(head) };
        let polygons = polygons.map(|p| Polygon::new(p.corners().iter().map(|c| shift(*c)).collect()));
        let ready = MassPart::sum([head.dry(), head.fuel_tank().fluid(1.0), head.oil_tank().fluid(1.0)]);
        let saw = MassPart::sum([MassPart { centroid: shift(ready.centroid), ..ready }, BAR_AND_CHAIN]);
        let mut body =
            Self::from_polygons(&polygons, teeth_m, shift(head.front_grip()), shift(head.rear_grip()));
        (body.mass_kg, body.centre, body.is_proposed) = (saw.mass_kg, saw.centroid, is_proposed);
        body
    }

    /// The body of a setup's head, with weight and centre of the whole saw as it was solved.
    pub fn of_setup(setup: &Setup, solved: &Solved) -> Self {
        let head = setup.powerhead();
        let centre = solved.saw.centroid - Vector::new(head.spike_line().as_m(), 0.0);
        Self::of(head).with_saw(solved.saw.mass(), centre)
    }

    /// A body of polygons in the spike frame, weighing nothing; edges closer than `teeth_m` behind the spike line and
    /// beside the bar are skipped.
    pub fn from_polygons(polygons: &[Polygon], teeth_m: f64, front_grip: Point, rear_grip: Point) -> Self {
        let parts: Vec<Part> = polygons.iter().map(|polygon| part(polygon, teeth_m)).collect();
        let ends: Vec<Point> =
            parts.iter().flat_map(|part| &part.sides).flat_map(|side| [side.start, side.end()]).collect();
        Self {
            parts,
            hull: hull(ends),
            front_grip,
            rear_grip,
            hand_room_m: DEFAULT_HAND_ROOM_M,
            mass_kg: 0.0,
            centre: Point::origin(),
            is_proposed: false,
        }
    }

    /// The same with other room for a hand.
    ///
    /// # Errors
    /// A room outside 0…150 mm.
    pub fn with_hand_room(mut self, room: Length) -> Result<Self, Fault> {
        self.hand_room_m = Length::from_mm(checked("hand_room", &ranges::HAND_ROOM, room.as_mm())?).as_m();
        Ok(self)
    }

    /// The same with the weight of a whole saw, its centre in the spike frame.
    #[must_use]
    pub const fn with_saw(mut self, mass: Mass, centre: Point) -> Self {
        (self.mass_kg, self.centre) = (mass.as_kg(), centre);
        self
    }

    /// The outline's parts: body, rear handle, front handle; spike frame, m.
    pub fn outline(&self) -> impl Iterator<Item = &Polygon> {
        self.parts.iter().map(|part| &part.polygon)
    }

    /// Middle of the front hand, spike frame, m.
    pub const fn front_grip(&self) -> Point {
        self.front_grip
    }

    /// Middle of the rear hand, spike frame, m.
    pub const fn rear_grip(&self) -> Point {
        self.rear_grip
    }

    /// Least distance of a grip from the bark, m.
    pub const fn hand_room_m(&self) -> f64 {
        self.hand_room_m
    }

    /// Weight of the saw that the balance of the body counts, kg.
    pub const fn mass_kg(&self) -> f64 {
        self.mass_kg
    }

    /// Its centre, spike frame, m.
    pub const fn centre(&self) -> Point {
        self.centre
    }

    /// True where the outline of the body is the generic one.
    pub const fn is_proposed(&self) -> bool {
        self.is_proposed
    }
}

fn part(polygon: &Polygon, teeth_m: f64) -> Part {
    let mut sides = Vec::with_capacity(polygon.corners().len());
    for (a, b) in polygon.edges() {
        for (from, to) in outside_teeth(a, b, teeth_m) {
            sides.push(Side::new(a + from * (b - a), a + to * (b - a)));
        }
    }
    let corners = polygon.corners();
    let (low, high) = corners
        .iter()
        .fold((Vector::repeat(f64::INFINITY), Vector::repeat(f64::NEG_INFINITY)), |(low, high), corner| {
            (low.inf(&corner.coords), high.sup(&corner.coords))
        });
    let middle = Point::from(0.5 * (low + high));
    let round_m = corners.iter().map(|corner| (corner - middle).norm()).fold(0.0, f64::max);
    Part { polygon: polygon.clone(), sides, middle, round_m }
}

/// The shares of an edge that lie outside the teeth's box.
fn outside_teeth(a: Point, b: Point, teeth_m: f64) -> impl Iterator<Item = (f64, f64)> {
    let along = b - a;
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    // Inside is −teeth < x, and y within the teeth's height.
    let walls = [
        (-along.x, a.x + teeth_m),
        (along.y, TEETH_HALF_HEIGHT_M - a.y),
        (-along.y, TEETH_HALF_HEIGHT_M + a.y),
    ];
    for (towards, room) in walls {
        if towards.abs() < 1e-15 {
            if room <= 0.0 {
                leave = -1.0;
            }
        } else if towards > 0.0 {
            leave = leave.min(room / towards);
        } else {
            enter = enter.max(room / towards);
        }
    }
    let pieces = if teeth_m <= 0.0 || enter >= leave {
        [(0.0, 1.0), (0.0, 0.0)]
    } else {
        [(0.0, enter), (leave, 1.0)]
    };
    pieces.into_iter().filter(|(from, to)| to - from > 1e-9)
}

/// Corners of the convex hull, by the monotone chain.
fn hull(mut points: Vec<Point>) -> Vec<Point> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let half = |points: &mut dyn Iterator<Item = Point>| {
        let mut chain: Vec<Point> = Vec::new();
        for p in points {
            while let [.., a, b] = chain.as_slice() {
                if (b - a).perp(&(p - b)) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(p);
        }
        chain
    };
    let mut corners = half(&mut points.iter().copied());
    corners.extend(half(&mut points.iter().rev().copied()).into_iter().skip(1));
    corners.pop();
    corners
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;
    use crate::units::Length;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    #[test]
    fn the_generic_outline_ends_behind_the_spikes_and_holds_no_teeth() {
        for head in demo().unwrap().powerheads() {
            let saw = SawBody::of(head);
            assert!(saw.is_proposed());
            let corners: Vec<Point> = saw.outline().flat_map(|part| part.corners().to_vec()).collect();
            let foremost = corners.iter().map(|p| p.x).fold(f64::NEG_INFINITY, f64::max);
            assert_relative_eq!(foremost, -tooth_depth_m(head), epsilon = 1e-12);
            assert!((0.02..0.06).contains(&-foremost), "{}: {foremost}", head.name());
            // Few enough to be tested in a microsecond, many enough to look round.
            assert!((60..110).contains(&corners.len()), "{} corners", corners.len());
            // The rear hand holds the rear handle: its grip lies within a hand's breadth of that part.
            let grip = saw.rear_grip();
            let nearest = corners.iter().map(|p| (p - grip).norm()).fold(f64::INFINITY, f64::min);
            assert!(nearest < 0.06, "{}: {nearest}", head.name());
        }
    }

    #[test]
    fn a_saw_weighs_its_head_its_fluids_and_a_bar() {
        for head in demo().unwrap().powerheads() {
            let saw = SawBody::of(head);
            let fluids = head.fuel_tank().fluid(1.0).mass_kg + head.oil_tank().fluid(1.0).mass_kg;
            assert_relative_eq!(saw.mass_kg(), head.dry().mass_kg + fluids + 2.0, max_relative = 1e-12);
            // Behind the spikes, ahead of the front hand.
            assert!(saw.centre().x < 0.0 && saw.centre().x > saw.front_grip().x, "{:?}", saw.centre());
            let own = saw.with_saw(Mass::from_kg(7.0), Point::new(0.1, 0.0));
            assert_relative_eq!(own.mass_kg(), 7.0);
        }
    }

    #[test]
    fn edges_within_the_teeth_are_skipped_and_those_across_are_cut() {
        let grip = Point::new(-0.2, 0.15);
        let body = |teeth_m: f64| {
            let corners = [(-0.3, -0.1), (0.0, -0.1), (0.0, 0.1), (-0.3, 0.1)];
            let polygon = Polygon::new(corners.iter().map(|(x, y)| Point::new(*x, *y)).collect());
            SawBody::from_polygons(&[polygon], teeth_m, grip, grip)
        };
        let lengths = |saw: &SawBody| saw.parts[0].sides.iter().map(|side| side.along.norm()).sum::<f64>();
        assert_relative_eq!(lengths(&body(0.0)), 1.0, epsilon = 1e-12);
        // Of the front edge, 200 mm, the 120 mm of the teeth are gone; 40 mm stay above and below.
        let teeth = body(0.05);
        assert_relative_eq!(lengths(&teeth), 1.0 - 0.12, epsilon = 1e-12);
        assert_eq!(teeth.parts[0].sides.len(), 5);
    }

    proptest! {
        #[test]
        fn law_no_corner_is_outside_the_hull(points in prop::collection::vec((-1.0_f64..1.0, -1.0_f64..1.0), 3..40)) {
            let points: Vec<Point> = points.into_iter().map(|(x, y)| Point::new(x, y)).collect();
            let hull = hull(points.clone());
            for i in 0..hull.len() {
                let (a, b) = (hull[i], hull[(i + 1) % hull.len()]);
                for p in &points {
                    prop_assert!((b - a).perp(&(p - a)) >= -1e-12, "{p:?} is outside {a:?}–{b:?}");
                }
            }
        }

        #[test]
        fn law_the_nearest_place_of_an_edge_is_nearer_than_any_other(
            x in -1.0_f64..1.0, y in -1.0_f64..1.0, dx in -1.0_f64..1.0, dy in -1.0_f64..1.0, share in 0.0_f64..1.0
        ) {
            let side = Side::new(Point::new(x, y), Point::new(x + dx, y + dy));
            let to = Point::new(0.3, -0.2);
            let other = side.start + share * side.along;
            prop_assert!((side.nearest(to) - to).norm() <= (other - to).norm() + 1e-12);
            prop_assert!((side.end() - Point::new(x + dx, y + dy)).norm() < 1e-12);
        }
    }

    #[test]
    fn hand_room_out_of_range_is_refused() {
        let saw = SawBody::of(&demo().unwrap().powerheads()[0]);
        let refused = saw.clone().with_hand_room(Length::from_mm(151.0)).unwrap_err();
        assert!(refused.message.contains("0…150 mm"), "{refused}");
        assert_relative_eq!(saw.with_hand_room(Length::ZERO).unwrap().hand_room_m(), 0.0);
    }
}
