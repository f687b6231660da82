//! Where the nose and its kickback zone are.

use crate::geometry::{Point, Vector};
use crate::units::{Angle, Length};

/// The kickback zone: the upper quadrant of the nose, from the tip on the centreline up to the top of the
/// nose circle.
///
/// NWCG S-212 glossary: "top corner of the bar's tip"; ISO 6531:2017, 3.1.6: contact near the upper part of
/// the nose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NoseZone {
    /// Centre of the nose circle, saw frame, m.
    pub centre: Point,
    /// Radius out to the cutters' tips.
    pub radius: Length,
}

impl NoseZone {
    /// Where the zone begins: the tip on the centreline, counted counter-clockwise from +x.
    pub const FROM: Angle = Angle::from_rad(0.0);
    /// Where the zone ends: the top of the nose circle.
    pub const TO: Angle = Angle::from_rad(std::f64::consts::FRAC_PI_2);

    /// A point on the nose circle at an angle from the tip (0) up to the top (90°), saw frame, m.
    pub fn point_at(&self, angle: Angle) -> Point {
        let (sin, cos) = angle.as_rad().sin_cos();
        self.centre + self.radius.as_m() * Vector::new(cos, sin)
    }

    /// The foremost point of the cutters' path.
    pub fn tip_x(&self) -> Length {
        Length::from_m(self.point_at(Self::FROM).x)
    }

    /// True where a point of the saw frame lies in the quarter disc.
    pub fn holds(&self, point: Point) -> bool {
        let from_centre = point - self.centre;
        from_centre.x >= 0.0 && from_centre.y >= 0.0 && from_centre.norm() <= self.radius.as_m()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn the_zone_runs_from_the_tip_to_the_top() {
        let zone = NoseZone { centre: Point::new(0.7, 0.0), radius: Length::from_mm(40.0) };
        assert_relative_eq!(zone.tip_x().as_mm(), 740.0, max_relative = 1e-12);
        assert_relative_eq!(zone.point_at(NoseZone::TO), Point::new(0.7, 0.04), epsilon = 1e-15);
        assert!(zone.holds(Point::new(0.72, 0.02)));
        assert!(!zone.holds(Point::new(0.72, -0.02)), "the lower quadrant is not in it");
        assert!(!zone.holds(Point::new(0.735, 0.035)), "the corner outside the circle is not in it");
    }
}
