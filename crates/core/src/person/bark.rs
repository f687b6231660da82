//! The bark as the pose test sees it: how far a point or a piece of the saw is from it.

use crate::geometry::{Point, Vector};
use crate::section::{Edge, LogSection};

/// A section's outline: a circle, or the four arcs of an oval, folded into one quadrant. The same seen from either
/// side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bark {
    long_axis_is_y: bool,
    end_offset_m: f64,
    end_radius_m: f64,
    flank_offset_m: f64,
    flank_radius_m: f64,
    /// Half width and half height, m.
    half: Vector,
}

impl Bark {
    pub(super) fn of(section: &LogSection) -> Self {
        let half = 0.5 * Vector::new(section.width().as_m(), section.height().as_m());
        let mut bark = Self {
            long_axis_is_y: half.y > half.x,
            end_offset_m: 0.0,
            end_radius_m: half.max(),
            flank_offset_m: 0.0,
            flank_radius_m: half.max(),
            half,
        };
        if section.round_diameter().is_none() {
            for edge in section.outline() {
                let Edge::Arc(arc) = edge else { continue };
                let (along, across) = bark.folded(arc.centre().coords);
                if arc.radius_m() > half.max() {
                    (bark.flank_offset_m, bark.flank_radius_m) = (across, arc.radius_m());
                } else {
                    (bark.end_offset_m, bark.end_radius_m) = (along, arc.radius_m());
                }
            }
        }
        bark
    }

    const fn is_round(&self) -> bool {
        self.end_offset_m == 0.0 && self.flank_offset_m == 0.0
    }

    /// Radius of a round log, m.
    pub(super) const fn round_m(&self) -> Option<f64> {
        if self.is_round() { Some(self.flank_radius_m) } else { None }
    }

    /// Radius of the circle round the section, m.
    pub(super) fn outer_m(&self) -> f64 {
        self.half.max()
    }

    fn folded(&self, v: Vector) -> (f64, f64) {
        let (x, y) = (v.x.abs(), v.y.abs());
        if self.long_axis_is_y { (y, x) } else { (x, y) }
    }

    /// Distance of a point from the bark, negative inside, m.
    pub(super) fn outside_m(&self, p: Point) -> f64 {
        let (along, across) = self.folded(p.coords);
        let across = across + self.flank_offset_m;
        if self.end_offset_m * across < self.flank_offset_m * along {
            Vector::new(along - self.end_offset_m, across - self.flank_offset_m).norm() - self.end_radius_m
        } else {
            Vector::new(along, across).norm() - self.flank_radius_m
        }
    }

    /// Centres of the arcs: where the feet of a straight edge nearest to the bark are looked for.
    fn centres(&self) -> ([Point; 4], usize) {
        let turned = |along: f64, across: f64| {
            if self.long_axis_is_y { Point::new(across, along) } else { Point::new(along, across) }
        };
        let (end, flank) = (self.end_offset_m, self.flank_offset_m);
        let centres = [turned(0.0, flank), turned(0.0, -flank), turned(end, 0.0), turned(-end, 0.0)];
        (centres, if self.is_round() { 1 } else { 4 })
    }

    /// The place of a straight piece nearest to the bark, and its distance, negative inside, m.
    ///
    /// The distance from a convex outline is convex along a line, and smooth for arcs that join without a corner: its
    /// least value is at an end, or at the foot of the perpendicular from the centre of one of the arcs; inside, where the
    /// nearest flank changes, also where the line crosses an axis.
    pub(super) fn nearest_on(&self, start: Point, along: Vector) -> (f64, Point) {
        let length2 = along.norm_squared();
        if length2 < 1e-18 {
            return (self.outside_m(start), start);
        }
        let (centres, count) = self.centres();
        let at = |share: f64| {
            let p = start + share.clamp(0.0, 1.0) * along;
            (self.outside_m(p), p)
        };
        let axes = [-start.x / along.x, -start.y / along.y]
            .map(|share| at(if share.is_finite() { share } else { 0.0 }));
        let feet = centres.iter().take(count).map(|centre| at((centre - start).dot(&along) / length2));
        feet.chain(axes)
            .chain([at(0.0), at(1.0)])
            .fold((f64::INFINITY, start), |best, next| if next.0 < best.0 { next } else { best })
    }

    /// The bark in a direction from the middle, counter-clockwise from +x, m.
    pub(super) fn towards(&self, rad: f64) -> Point {
        let (sin, cos) = rad.sin_cos();
        let direction = Vector::new(cos, sin);
        let (along, across) = self.folded(direction);
        let off = self.end_offset_m * across;
        let on_end = self.end_offset_m * along + (self.end_radius_m.powi(2) - off * off).max(0.0).sqrt();
        // On the end arc, seen from the flank's centre, no nearer the short axis than where the arcs join.
        let is_end = self.end_offset_m * (on_end * across + self.flank_offset_m)
            < self.flank_offset_m * on_end * along;
        let far = if is_end {
            on_end
        } else {
            let off = self.flank_offset_m * along;
            (self.flank_radius_m.powi(2) - off * off).max(0.0).sqrt() - self.flank_offset_m * across
        };
        Point::from(far * direction)
    }
}

impl Bark {
    /// How far the section reaches in a unit direction, m from the middle.
    pub(super) fn support_m(&self, direction: Vector) -> f64 {
        let (along, across) = self.folded(direction);
        if self.end_offset_m * across < self.flank_offset_m * along {
            self.end_offset_m * along + self.end_radius_m
        } else {
            self.flank_radius_m - self.flank_offset_m * across
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Length;
    use proptest::prelude::*;
    use std::f64::consts::TAU;

    fn section(width: f64, ratio: f64) -> LogSection {
        let m = Length::from_m;
        LogSection::oval(m(width), m(width * ratio), Length::ZERO).unwrap()
    }

    proptest! {
        #[test]
        fn law_the_bark_is_where_the_section_says(w in 0.06_f64..1.5, ratio in 0.5_f64..2.0, rad in -7.0_f64..7.0) {
            let section = section(w, ratio);
            let bark = Bark::of(&section);
            prop_assert!((bark.towards(rad) - section.bark_at(rad)).norm() < 1e-12);
            prop_assert!(bark.outside_m(bark.towards(rad)).abs() < 1e-12);
        }

        #[test]
        fn law_the_distance_outside_is_that_of_the_nearest_bark(
            w in 0.1_f64..1.5, ratio in 0.5_f64..2.0, x in -1.5_f64..1.5, y in -1.5_f64..1.5
        ) {
            let section = section(w, ratio);
            let bark = Bark::of(&section);
            let p = Point::new(x, y);
            let samples: Vec<Point> =
                (0..=2000).map(|i| section.bark_at(TAU * f64::from(i) / 2000.0)).collect();
            let nearest = samples.iter().map(|bark| (bark - p).norm()).fold(f64::INFINITY, f64::min);
            let step = samples.windows(2).map(|pair| (pair[1] - pair[0]).norm()).fold(0.0, f64::max);
            let outside = bark.outside_m(p);
            if outside > 0.0 {
                // A sample lies within a step of the nearest place.
                prop_assert!(outside <= nearest + 1e-12 && nearest <= outside + step, "{outside} {nearest}");
            } else {
                prop_assert!(outside >= -nearest - 1e-12, "{outside} {nearest}");
            }
        }

        #[test]
        fn law_a_straight_piece_is_nearest_where_samples_say(
            w in 0.1_f64..1.5, ratio in 0.5_f64..2.0, x in -1.5_f64..1.5, y in -1.5_f64..1.5,
            dx in -1.0_f64..1.0, dy in -1.0_f64..1.0
        ) {
            let bark = Bark::of(&section(w, ratio));
            let (start, along) = (Point::new(x, y), Vector::new(dx, dy));
            let (outside, at) = bark.nearest_on(start, along);
            prop_assert!((bark.outside_m(at) - outside).abs() < 1e-12);
            let sampled = (0..=200)
                .map(|i| bark.outside_m(start + (f64::from(i) / 200.0) * along))
                .fold(f64::INFINITY, f64::min);
            prop_assert!(outside <= sampled + 1e-12, "{outside} {sampled}");
        }

        #[test]
        fn law_support_is_the_farthest_bark(w in 0.1_f64..1.5, ratio in 0.5_f64..2.0, rad in -7.0_f64..7.0) {
            let section = section(w, ratio);
            let direction = Vector::new(rad.cos(), rad.sin());
            let farthest = (0..2000)
                .map(|i| section.bark_at(TAU * f64::from(i) / 2e3).coords.dot(&direction))
                .fold(f64::NEG_INFINITY, f64::max);
            let support = Bark::of(&section).support_m(direction);
            // Half a step, 7 mm at most, off the farthest place of an arc of 75 mm or more: 0.4 mm short at most.
            prop_assert!(support >= farthest - 1e-12 && support - farthest < 4e-4, "{support} {farthest}");
        }
    }
}
