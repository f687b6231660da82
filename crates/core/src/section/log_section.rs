//! The disc that has to come off: a round or oval section over its ground.

use super::edge::{ArcEdge, Edge, unit};
use super::limits::{self, checked};
use super::region::Region;
use crate::fault::Fault;
use crate::geometry::{Point, Vector};
use crate::units::{Area, Length};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// A section of a log. Its centre is the origin; +x is the far side, +y is up.
///
/// An oval is the draughtsman's oval of four arcs on two diameters, arcs meeting without a corner: every piece of
/// its bark is a piece of a circle, and for two equal diameters it is the circle.
#[derive(Clone, Debug, PartialEq)]
pub struct LogSection {
    half_width_m: f64,
    half_height_m: f64,
    clearance_m: f64,
    arcs: FourArcs,
    edges: Vec<Edge>,
}

/// End arcs on the long axis, flank arcs on the short one.
#[derive(Clone, Copy, Debug, PartialEq)]
struct FourArcs {
    long_axis_is_y: bool,
    end_offset_m: f64,
    end_radius_m: f64,
    flank_offset_m: f64,
    flank_radius_m: f64,
    /// Direction, in the folded quadrant, from the flank's centre through the end's to where the arcs join.
    join: Vector,
}

impl FourArcs {
    /// The old construction with compasses: on the chord from the end of the long axis to that of the short
    /// one, take off the difference of the half axes; the bisector of the rest meets the axes in the centres.
    fn new(half_width_m: f64, half_height_m: f64) -> Self {
        let (long, short) = (half_width_m.max(half_height_m), half_width_m.min(half_height_m));
        let (chord, difference) = (long.hypot(short), long - short);
        let end_radius_m = chord * (chord - difference) / (2.0 * long);
        let flank_radius_m = chord * (chord + difference) / (2.0 * short);
        let mut arcs = Self {
            long_axis_is_y: half_height_m > half_width_m,
            end_offset_m: (long - end_radius_m).max(0.0),
            end_radius_m,
            flank_offset_m: (flank_radius_m - short).max(0.0),
            flank_radius_m,
            join: Vector::x(),
        };
        arcs.join = unit(arcs.join_rad());
        arcs
    }

    /// Coordinates along the long and the short axis, both folded to be positive.
    fn folded(&self, v: Vector) -> (f64, f64) {
        if self.long_axis_is_y { (v.y.abs(), v.x.abs()) } else { (v.x.abs(), v.y.abs()) }
    }

    /// Direction, in the folded quadrant, from the flank centre through the end centre to where the arcs join.
    fn join_rad(&self) -> f64 {
        // A circle: rounding must not decide where its four equal arcs join.
        if self.end_offset_m + self.flank_offset_m <= 1e-12 {
            return 0.25 * PI;
        }
        self.flank_offset_m.atan2(self.end_offset_m)
    }

    fn edges(&self) -> Vec<Edge> {
        let turn = if self.long_axis_is_y { FRAC_PI_2 } else { 0.0 };
        let join = self.join_rad();
        let mut edges = Vec::with_capacity(4);
        for half_turn in [0.0, PI] {
            let long = turn + half_turn;
            let end = Point::from(self.end_offset_m * unit(long));
            edges.push(Edge::arc(end, self.end_radius_m, long - join, 2.0 * join));
            let short = long + FRAC_PI_2;
            let flank = Point::from(-self.flank_offset_m * unit(short));
            edges.push(Edge::arc(flank, self.flank_radius_m, long + join, PI - 2.0 * join));
        }
        edges
    }

    fn outside_m(&self, v: Vector) -> f64 {
        let (along, across) = self.folded(v);
        let from_flank = Vector::new(along, across + self.flank_offset_m);
        let towards_end = self.end_offset_m * from_flank.y - self.flank_offset_m * from_flank.x;
        if towards_end < 0.0 {
            Vector::new(along - self.end_offset_m, across).norm() - self.end_radius_m
        } else {
            from_flank.norm() - self.flank_radius_m
        }
    }

    /// Distance from the middle to the bark in a direction.
    fn radius_towards_m(&self, direction: Vector) -> f64 {
        let (along, across) = self.folded(direction);
        let corner = Vector::new(self.end_offset_m, 0.0) + self.end_radius_m * self.join;
        if across * corner.x < along * corner.y {
            let off = self.end_offset_m * across;
            self.end_offset_m * along + (self.end_radius_m.powi(2) - off * off).max(0.0).sqrt()
        } else {
            let off = self.flank_offset_m * along;
            (self.flank_radius_m.powi(2) - off * off).max(0.0).sqrt() - self.flank_offset_m * across
        }
    }
}

impl LogSection {
    /// A round section whose underside lies `clearance` above the ground.
    ///
    /// # Errors
    /// A diameter outside 30…3000 mm or a clearance outside 0…3000 mm.
    pub fn round(diameter: Length, clearance: Length) -> Result<Self, Fault> {
        Self::oval(diameter, diameter, clearance)
    }

    /// An oval section `width` across and `height` high.
    ///
    /// # Errors
    /// A diameter outside 30…3000 mm, a clearance outside 0…3000 mm, or one diameter more than twice the other.
    pub fn oval(width: Length, height: Length, clearance: Length) -> Result<Self, Fault> {
        checked("width", &limits::LOG_DIAMETER, width.as_mm())?;
        checked("height", &limits::LOG_DIAMETER, height.as_mm())?;
        checked("clearance", &limits::CLEARANCE, clearance.as_mm())?;
        checked("oval", &limits::OVAL_RATIO, width.max(height) / width.min(height))?;
        let (half_width_m, half_height_m) = (0.5 * width.as_m(), 0.5 * height.as_m());
        let arcs = FourArcs::new(half_width_m, half_height_m);
        Ok(Self { half_width_m, half_height_m, clearance_m: clearance.as_m(), arcs, edges: arcs.edges() })
    }

    /// Diameter across.
    pub fn width(&self) -> Length {
        Length::from_m(2.0 * self.half_width_m)
    }

    /// Diameter upright.
    pub fn height(&self) -> Length {
        Length::from_m(2.0 * self.half_height_m)
    }

    /// Height of the underside above the ground.
    pub fn clearance(&self) -> Length {
        Length::from_m(self.clearance_m)
    }

    /// Height of the ground in the frame of the section, m; never above the underside.
    pub fn ground_y_m(&self) -> f64 {
        -self.half_height_m - self.clearance_m
    }

    /// Height of the top of the section, m.
    pub fn top_y_m(&self) -> f64 {
        self.half_height_m
    }

    /// Diameter of a round section; `None` for an oval.
    pub fn round_diameter(&self) -> Option<Length> {
        let difference = (self.half_width_m - self.half_height_m).abs();
        (difference <= 1e-12 * self.half_width_m).then(|| self.width())
    }

    /// Area of the section.
    pub fn area(&self) -> Area {
        Area::from_m2(self.edges.iter().map(Edge::area_term_m2).sum())
    }

    /// The bark as arcs, counter-clockwise.
    pub fn outline(&self) -> &[Edge] {
        &self.edges
    }

    /// The place on the bark in a direction from the middle, counter-clockwise from +x.
    pub fn bark_at(&self, bark_rad: f64) -> Point {
        let direction = unit(bark_rad);
        Point::from(self.arcs.radius_towards_m(direction) * direction)
    }

    /// Direction straight into the wood at a place on the bark: square to the bark, counter-clockwise from +x.
    pub fn straight_in_rad(&self, bark_rad: f64) -> f64 {
        let p = self.bark_at(bark_rad).coords;
        let (along, across) = self.arcs.folded(p);
        let from_flank = Vector::new(along, across + self.arcs.flank_offset_m);
        let on_end = self.arcs.end_offset_m * from_flank.y < self.arcs.flank_offset_m * from_flank.x;
        let folded = if on_end { Vector::new(along - self.arcs.end_offset_m, across) } else { from_flank };
        let (x, y) = if self.arcs.long_axis_is_y { (folded.y, folded.x) } else { (folded.x, folded.y) };
        (-y.copysign(p.y)).atan2(-x.copysign(p.x))
    }

    /// The place on the bark that faces a direction: where the bark's own direction outward is this, counter-clockwise
    /// from +x. The reverse of [`Self::straight_in_rad`], half a turn apart.
    pub fn bark_facing(&self, outward_rad: f64) -> f64 {
        let outward = unit(outward_rad);
        let (along, across) = self.arcs.folded(outward);
        let join = self.arcs.join;
        let folded = if across * join.x < along * join.y {
            Vector::new(
                self.arcs.end_offset_m + self.arcs.end_radius_m * along,
                self.arcs.end_radius_m * across,
            )
        } else {
            let flank_m = self.arcs.flank_radius_m;
            Vector::new(flank_m * along, flank_m * across - self.arcs.flank_offset_m)
        };
        let (x, y) = if self.arcs.long_axis_is_y { (folded.y, folded.x) } else { (folded.x, folded.y) };
        y.copysign(outward.y).atan2(x.copysign(outward.x))
    }

    /// Where a straight line first meets the wood, m from its origin along its direction and negative behind it; `None`
    /// where it misses the section.
    pub fn entry_m(&self, origin: Point, direction: Vector) -> Option<f64> {
        self.meetings_m(origin, direction).map(|(first, _)| first)
    }

    /// Where a straight line enters and leaves the wood, m from its origin along its direction; `None` where it misses.
    pub fn meetings_m(&self, origin: Point, direction: Vector) -> Option<(f64, f64)> {
        /// A place this far off the bark is on none of the other arcs' pieces of it, m.
        const ON_BARK_M: f64 = 1e-9;
        let mut found: Option<(f64, f64)> = None;
        for edge in &self.edges {
            let Edge::Arc(arc) = edge else { continue };
            let to_centre = arc.centre() - origin;
            let foot_m = to_centre.dot(&direction);
            let off_m = to_centre.perp(&direction);
            let square = (arc.radius_m() - off_m) * (arc.radius_m() + off_m);
            if square < 0.0 {
                continue;
            }
            for at_m in [foot_m - square.sqrt(), foot_m + square.sqrt()] {
                if self.arcs.outside_m((origin + at_m * direction).coords).abs() <= ON_BARK_M {
                    found =
                        Some(found.map_or((at_m, at_m), |(first, last)| (at_m.min(first), at_m.max(last))));
                }
            }
        }
        found
    }

    /// The bark from one place counter-clockwise to another, as arcs; both counter-clockwise from +x, less than a full
    /// turn apart.
    pub(crate) fn bark_between(&self, from_rad: f64, to_rad: f64) -> Vec<Edge> {
        const SHORTEST_RAD: f64 = 1e-9;
        let span_rad = to_rad - from_rad;
        let mut ends: Vec<f64> = vec![0.0, span_rad];
        for edge in &self.edges {
            let joint = edge.start();
            let turn = (joint.y.atan2(joint.x) - from_rad).rem_euclid(TAU);
            if turn > SHORTEST_RAD && turn < span_rad - SHORTEST_RAD {
                ends.push(turn);
            }
        }
        ends.sort_unstable_by(f64::total_cmp);
        let pieces = ends.iter().zip(ends.iter().skip(1));
        pieces.filter_map(|(a, b)| self.bark_piece(from_rad + a, from_rad + b)).collect()
    }

    /// A piece of bark that lies on one arc.
    fn bark_piece(&self, from_rad: f64, to_rad: f64) -> Option<Edge> {
        let middle = self.bark_at(0.5 * (from_rad + to_rad));
        let arc = self
            .edges
            .iter()
            .filter_map(|edge| match edge {
                Edge::Arc(arc) if arc.sweep_rad() > 0.0 => Some(arc),
                _ => None,
            })
            .min_by(|a, b| {
                let off = |arc: &ArcEdge| {
                    let v = middle - arc.centre();
                    let within = (v.y.atan2(v.x) - arc.from_rad()).rem_euclid(TAU) <= arc.sweep_rad() + 1e-9;
                    if within { (v.norm() - arc.radius_m()).abs() } else { f64::INFINITY }
                };
                off(a).total_cmp(&off(b))
            })?;
        let angle = |bark_rad: f64| {
            let v = self.bark_at(bark_rad) - arc.centre();
            v.y.atan2(v.x)
        };
        let (from, to) = (angle(from_rad), angle(to_rad));
        Some(Edge::arc(arc.centre(), arc.radius_m(), from, (to - from).rem_euclid(TAU)))
    }
}

impl Region for LogSection {
    fn edges(&self) -> &[Edge] {
        &self.edges
    }

    fn outside_m(&self, point: Point) -> f64 {
        self.arcs.outside_m(point.coords)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    #[test]
    fn a_round_section_is_a_circle() {
        let log = LogSection::round(mm(560.0), Length::ZERO).unwrap();
        assert_relative_eq!(log.area().as_m2(), PI * 0.28 * 0.28, max_relative = 1e-13);
        for degrees in [0.0_f64, 45.0, 133.0, 180.0, 271.0] {
            let bark = degrees.to_radians();
            assert_relative_eq!(log.bark_at(bark).coords, 0.28 * unit(bark), epsilon = 1e-13);
            assert_relative_eq!(unit(log.straight_in_rad(bark)), -unit(bark), epsilon = 1e-12);
        }
        let (from, to) = log.meetings_m(log.bark_at(PI), unit(0.0)).unwrap();
        assert_relative_eq!(from, 0.0, epsilon = 1e-12);
        assert_relative_eq!(to, 0.56, epsilon = 1e-12);
    }

    #[test]
    fn sizes_that_are_no_log_are_refused_with_the_range() {
        for bad in [0.0, -5.0, 40_000.0, f64::NAN, f64::INFINITY] {
            let fault = LogSection::round(mm(bad), Length::ZERO).unwrap_err();
            assert!(fault.message.contains("30…3000 mm"), "{fault}");
        }
        assert!(LogSection::oval(mm(500.0), mm(1001.0), Length::ZERO).is_err());
        assert!(LogSection::round(mm(500.0), mm(-1.0)).is_err());
    }

    proptest! {
        #[test]
        fn law_an_oval_spans_its_diameters_and_its_arcs_join(w in 0.1_f64..1.4, ratio in 0.5_f64..2.0) {
            let log = LogSection::oval(Length::from_m(w), Length::from_m(w * ratio), Length::ZERO).unwrap();
            let next = log.outline().iter().skip(1).chain(log.outline().first());
            for (a, b) in log.outline().iter().zip(next) {
                prop_assert!((a.end() - b.start()).norm() < 1e-12, "{a:?} {b:?}");
            }
            prop_assert!((log.bark_at(0.0).x - 0.5 * w).abs() < 1e-12);
            prop_assert!((log.bark_at(FRAC_PI_2).y - 0.5 * w * ratio).abs() < 1e-12);
        }

        #[test]
        fn law_bark_is_neither_inside_nor_outside(ratio in 0.5_f64..2.0, bark in 0.0_f64..6.3) {
            let log = LogSection::oval(mm(600.0), mm(600.0 * ratio), Length::ZERO).unwrap();
            let p = log.bark_at(bark);
            prop_assert!(log.outside_m(p).abs() < 1e-12);
            let inward = unit(log.straight_in_rad(bark));
            prop_assert!((log.outside_m(p + 0.01 * inward) + 0.01).abs() < 1e-9);
        }

        #[test]
        fn law_bark_faces_away_from_straight_in(ratio in 0.5_f64..2.0, outward in -3.1_f64..3.1) {
            let log = LogSection::oval(mm(600.0), mm(600.0 * ratio), Length::ZERO).unwrap();
            let bark = log.bark_facing(outward);
            prop_assert!((unit(log.straight_in_rad(bark)) + unit(outward)).norm() < 1e-9, "{bark}");
        }

        #[test]
        fn law_a_line_meets_the_bark_where_it_says(
            ratio in 0.5_f64..2.0, across in -0.29_f64..0.29, angle in 0.0_f64..6.3
        ) {
            let log = LogSection::oval(mm(600.0), mm(600.0 * ratio), Length::ZERO).unwrap();
            let origin = Point::from(across * unit(angle + FRAC_PI_2) - 2.0 * unit(angle));
            let Some((first, last)) = log.meetings_m(origin, unit(angle)) else { return Ok(()); };
            for at in [first, last] {
                prop_assert!(log.outside_m(origin + at * unit(angle)).abs() < 1e-9);
            }
            prop_assert!(log.outside_m(origin + (0.5 * (first + last)) * unit(angle)) < 1e-9);
        }

        #[test]
        fn law_pieces_of_bark_lie_on_the_bark_end_to_end(
            ratio in 0.5_f64..2.0, from in 0.0_f64..6.3, span in 0.01_f64..6.2
        ) {
            let log = LogSection::oval(mm(600.0), mm(600.0 * ratio), Length::ZERO).unwrap();
            let pieces = log.bark_between(from, from + span);
            prop_assert!((pieces[0].start() - log.bark_at(from)).norm() < 1e-9);
            prop_assert!((pieces[pieces.len() - 1].end() - log.bark_at(from + span)).norm() < 1e-9);
            for (a, b) in pieces.iter().zip(pieces.iter().skip(1)) {
                prop_assert!((a.end() - b.start()).norm() < 1e-9);
            }
            for piece in &pieces {
                prop_assert!(log.outside_m(piece.point_at(0.37)).abs() < 1e-9, "{piece:?}");
            }
        }
    }

    #[test]
    fn a_mild_oval_is_close_to_the_ellipse() {
        // Area of an ellipse: π a b. The four-arc oval of 1.2 : 1 lies within half a per cent of it.
        let log = LogSection::oval(mm(600.0), mm(500.0), Length::ZERO).unwrap();
        assert_relative_eq!(log.area().as_m2(), PI * 0.3 * 0.25, max_relative = 5e-3);
    }
}
