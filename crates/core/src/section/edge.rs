//! Straight lines and circular arcs: the pieces every outline of the log is made of.

use crate::geometry::{Point, Vector};
use std::f64::consts::TAU;

/// Two places closer than this are one place, m. Far above rounding at the size of a log (1e-15 m), and so small that
/// even circles that part from each other as slowly as a nose from its own swing are told apart within micrometres.
pub(crate) const SAME_PLACE_M: f64 = 1e-12;
/// How far past its ends another edge still splits this one, m. Too many splits do no harm, too few would.
const SPLIT_MARGIN_M: f64 = 1e-9;

/// A straight piece from one point to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineEdge {
    start: Point,
    end: Point,
}

/// A piece of a circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ArcEdge {
    centre: Point,
    radius_m: f64,
    from_rad: f64,
    sweep_rad: f64,
    start: Point,
    end: Point,
}

impl ArcEdge {
    /// Centre of the circle, m.
    pub const fn centre(&self) -> Point {
        self.centre
    }

    /// Radius, m.
    pub const fn radius_m(&self) -> f64 {
        self.radius_m
    }

    /// Where the arc starts, seen from the centre, counter-clockwise from +x.
    pub const fn from_rad(&self) -> f64 {
        self.from_rad
    }

    /// How far it runs: counter-clockwise positive, at most once round.
    pub const fn sweep_rad(&self) -> f64 {
        self.sweep_rad
    }
}

/// One piece of an outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Edge {
    /// A straight piece.
    Line(LineEdge),
    /// A circular piece.
    Arc(ArcEdge),
}

/// Unit vector at an angle counter-clockwise from +x.
pub(crate) fn unit(angle_rad: f64) -> Vector {
    let (sin, cos) = angle_rad.sin_cos();
    Vector::new(cos, sin)
}

impl Edge {
    /// A straight piece.
    pub const fn line(start: Point, end: Point) -> Self {
        Self::Line(LineEdge { start, end })
    }

    /// A circular piece: `from_rad` counter-clockwise from +x, `sweep_rad` counter-clockwise positive.
    pub fn arc(centre: Point, radius_m: f64, from_rad: f64, sweep_rad: f64) -> Self {
        let start = centre + radius_m * unit(from_rad);
        let end = centre + radius_m * unit(from_rad + sweep_rad);
        Self::Arc(ArcEdge { centre, radius_m, from_rad, sweep_rad, start, end })
    }

    /// Where it starts.
    pub const fn start(&self) -> Point {
        match self {
            Self::Line(line) => line.start,
            Self::Arc(arc) => arc.start,
        }
    }

    /// Where it ends.
    pub const fn end(&self) -> Point {
        match self {
            Self::Line(line) => line.end,
            Self::Arc(arc) => arc.end,
        }
    }

    /// Length along the edge, m.
    pub fn length_m(&self) -> f64 {
        match self {
            Self::Line(line) => (line.end - line.start).norm(),
            Self::Arc(arc) => arc.radius_m * arc.sweep_rad.abs(),
        }
    }

    /// The point at a share of the way, 0 at the start and 1 at the end.
    pub fn point_at(&self, share: f64) -> Point {
        match self {
            Self::Line(line) => line.start + share * (line.end - line.start),
            Self::Arc(arc) => arc.centre + arc.radius_m * unit(arc.from_rad + share * arc.sweep_rad),
        }
    }

    /// The same edge walked the other way.
    #[must_use]
    pub const fn reversed(&self) -> Self {
        match *self {
            Self::Line(line) => Self::line(line.end, line.start),
            Self::Arc(arc) => Self::Arc(ArcEdge {
                from_rad: arc.from_rad + arc.sweep_rad,
                sweep_rad: -arc.sweep_rad,
                start: arc.end,
                end: arc.start,
                ..arc
            }),
        }
    }

    /// The part between two shares of the way.
    pub(crate) fn part(&self, from: f64, to: f64) -> Self {
        match self {
            Self::Line(_) => Self::line(self.point_at(from), self.point_at(to)),
            Self::Arc(arc) => Self::arc(
                arc.centre,
                arc.radius_m,
                arc.from_rad + from * arc.sweep_rad,
                (to - from) * arc.sweep_rad,
            ),
        }
    }

    /// What the edge adds to the area of a closed outline, m²: the integral of `½ (x dy − y dx)` (Green's
    /// theorem), positive for an outline walked counter-clockwise.
    pub fn area_term_m2(&self) -> f64 {
        let (a, b) = (self.start(), self.end());
        match self {
            Self::Line(_) => 0.5 * a.coords.perp(&b.coords),
            Self::Arc(arc) => {
                0.5 * (arc.radius_m * arc.radius_m * arc.sweep_rad + arc.centre.coords.perp(&(b - a)))
            }
        }
    }

    /// Unit vector to the left of the way at its middle.
    pub(crate) fn left_at_middle(&self) -> Vector {
        match self {
            Self::Line(line) => {
                let along = line.end - line.start;
                Vector::new(-along.y, along.x) / along.norm()
            }
            Self::Arc(arc) => -arc.sweep_rad.signum() * unit(arc.from_rad + 0.5 * arc.sweep_rad),
        }
    }

    /// Adds to `shares` every share of the way at which `other` meets this edge. Edges on the same line or
    /// circle meet at their ends.
    pub(crate) fn add_meetings(&self, other: &Self, shares: &mut Vec<f64>) {
        match (self, other) {
            (Self::Line(a), Self::Line(b)) => a.add_line(b, shares),
            (Self::Line(a), Self::Arc(b)) => a.add_arc(b, shares),
            (Self::Arc(a), Self::Line(b)) => a.add_line(b, shares),
            (Self::Arc(a), Self::Arc(b)) => a.add_arc(b, shares),
        }
    }
}

fn keep(share: f64, shares: &mut Vec<f64>) {
    if share > 0.0 && share < 1.0 {
        shares.push(share);
    }
}

impl LineEdge {
    fn add_line(&self, other: &Self, shares: &mut Vec<f64>) {
        let (along, across) = (self.end - self.start, other.end - other.start);
        let (length, other_length) = (along.norm(), across.norm());
        let between = other.start - self.start;
        let turn = along.perp(&across);
        if turn.abs() <= 1e-12 * length * other_length {
            if between.perp(&along).abs() <= SPLIT_MARGIN_M * length {
                keep(between.dot(&along) / (length * length), shares);
                keep((other.end - self.start).dot(&along) / (length * length), shares);
            }
            return;
        }
        let on_other = between.perp(&along) / turn;
        let margin = SPLIT_MARGIN_M / other_length;
        if on_other >= -margin && on_other <= 1.0 + margin {
            keep(between.perp(&across) / turn, shares);
        }
    }

    fn add_arc(&self, arc: &ArcEdge, shares: &mut Vec<f64>) {
        let along = self.end - self.start;
        let length = along.norm();
        let Some(meetings) = line_meets_circle(self.start, along / length, arc) else {
            return;
        };
        for at_m in meetings {
            if arc.holds(self.start + at_m / length * along) {
                keep(at_m / length, shares);
            }
        }
    }
}

/// Distances along a line (from `start`, unit direction) at which it meets the arc's circle.
fn line_meets_circle(start: Point, direction: Vector, arc: &ArcEdge) -> Option<[f64; 2]> {
    let to_centre = arc.centre - start;
    let foot_m = to_centre.dot(&direction);
    let off_m = to_centre.perp(&direction);
    let half_m = half_chord_m(arc.radius_m, off_m)?;
    Some([foot_m - half_m, foot_m + half_m])
}

/// Half a chord at a distance from the centre; 0 at a touch, `None` past it.
fn half_chord_m(radius_m: f64, off_m: f64) -> Option<f64> {
    let square = (radius_m - off_m) * (radius_m + off_m);
    if square < -2.0 * radius_m * SAME_PLACE_M {
        return None;
    }
    Some(square.max(0.0).sqrt())
}

impl ArcEdge {
    /// True for a point of the circle on the arc's side of its chord, ends included with a margin.
    fn holds(&self, point: Point) -> bool {
        let chord = self.end - self.start;
        let side = chord.perp(&(point - self.start)) * self.sweep_rad.signum();
        side <= SPLIT_MARGIN_M * (chord.norm() + SPLIT_MARGIN_M)
    }

    fn share_of(&self, point: Point) -> f64 {
        let from_centre = point - self.centre;
        let angle = from_centre.y.atan2(from_centre.x);
        ((angle - self.from_rad) * self.sweep_rad.signum()).rem_euclid(TAU) / self.sweep_rad.abs()
    }

    fn add_line(&self, line: &LineEdge, shares: &mut Vec<f64>) {
        let along = line.end - line.start;
        let length = along.norm();
        let Some(meetings) = line_meets_circle(line.start, along / length, self) else {
            return;
        };
        for at_m in meetings {
            if at_m < -SPLIT_MARGIN_M || at_m > length + SPLIT_MARGIN_M {
                continue;
            }
            let point = line.start + at_m / length * along;
            if self.holds(point) {
                keep(self.share_of(point), shares);
            }
        }
    }

    fn add_arc(&self, other: &Self, shares: &mut Vec<f64>) {
        let between = other.centre - self.centre;
        let square = between.norm_squared();
        let (sum, difference) = (self.radius_m + other.radius_m, self.radius_m - other.radius_m);
        let room = 2.0 * sum * SAME_PLACE_M;
        if square > sum * sum + room || square < difference * difference - room {
            return;
        }
        if square < SAME_PLACE_M * SAME_PLACE_M {
            for point in [other.start, other.end] {
                if self.holds(point) {
                    keep(self.share_of(point), shares);
                }
            }
            return;
        }
        let distance = square.sqrt();
        let foot_m = 0.5 * (distance + difference * sum / distance);
        let half_m = half_chord_m(self.radius_m, foot_m).unwrap_or(0.0);
        let along = between / distance;
        let foot = self.centre + foot_m * along;
        let across = half_m * Vector::new(-along.y, along.x);
        for point in [foot + across, foot - across] {
            if self.holds(point) && other.holds(point) {
                keep(self.share_of(point), shares);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use std::f64::consts::PI;

    fn meetings(a: &Edge, b: &Edge) -> Vec<f64> {
        let mut shares = Vec::new();
        a.add_meetings(b, &mut shares);
        shares.sort_by(f64::total_cmp);
        shares
    }

    #[test]
    fn a_circle_in_two_arcs_has_its_area_wherever_it_lies() {
        let centre = Point::new(3.0, -2.0);
        let area: f64 =
            [0.3, 0.3 + PI].iter().map(|from| Edge::arc(centre, 0.7, *from, PI).area_term_m2()).sum();
        assert_relative_eq!(area, PI * 0.49, max_relative = 1e-13);
    }

    #[test]
    fn an_arc_and_a_line_meet_where_both_say_so() {
        let arc = Edge::arc(Point::origin(), 1.0, 0.0, PI);
        let line = Edge::line(Point::new(-2.0, 0.6), Point::new(2.0, 0.6));
        let on_line = meetings(&line, &arc);
        assert_eq!(on_line.len(), 2);
        assert_relative_eq!(line.point_at(on_line[0]), Point::new(-0.8, 0.6), epsilon = 1e-14);
        let on_arc = meetings(&arc, &line);
        assert_relative_eq!(arc.point_at(on_arc[1]), Point::new(-0.8, 0.6), epsilon = 1e-14);
        assert!(meetings(&line, &arc.part(0.9, 1.0)).is_empty());
    }

    #[test]
    fn two_circles_meet_on_their_radical_line() {
        let a = Edge::arc(Point::origin(), 1.0, -PI, 2.0 * PI);
        let b = Edge::arc(Point::new(1.0, 0.0), 1.0, -PI, 2.0 * PI);
        let shares = meetings(&a, &b);
        assert_eq!(shares.len(), 2);
        assert_relative_eq!(a.point_at(shares[1]), Point::new(0.5, 0.75_f64.sqrt()), epsilon = 1e-14);
    }

    #[test]
    fn edges_on_one_circle_or_one_line_split_each_other_at_their_ends() {
        let a = Edge::arc(Point::origin(), 1.0, 0.0, 2.0);
        let b = Edge::arc(Point::origin(), 1.0, 1.0, 2.0);
        assert_relative_eq!(meetings(&a, &b)[0], 0.5, epsilon = 1e-14);
        let a = Edge::line(Point::origin(), Point::new(4.0, 0.0));
        let b = Edge::line(Point::new(7.0, 0.0), Point::new(1.0, 0.0));
        assert_relative_eq!(meetings(&a, &b)[0], 0.25, epsilon = 1e-14);
    }

    #[test]
    fn law_an_edge_and_its_reverse_cancel() {
        for edge in [
            Edge::arc(Point::new(0.2, 0.4), 0.9, 2.0, -1.1),
            Edge::line(Point::new(0.2, 0.4), Point::new(1.0, 3.0)),
        ] {
            assert_relative_eq!(edge.area_term_m2(), -edge.reversed().area_term_m2(), epsilon = 1e-15);
            assert_relative_eq!(edge.point_at(0.3), edge.reversed().point_at(0.7), epsilon = 1e-15);
            let parts = edge.part(0.0, 0.4).area_term_m2() + edge.part(0.4, 1.0).area_term_m2();
            assert_relative_eq!(edge.area_term_m2(), parts, epsilon = 1e-15);
        }
    }
}
