//! The ground under a log, level or sloping across it.

use super::bark::Bark;
use crate::geometry::{Point, Vector};

/// Ground in the operator's frame: +x outward from the log to the operator, +y up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Ground {
    /// Height under the middle of the log, m.
    under_m: f64,
    /// How much it rises a metre outward.
    rise: f64,
    /// One over the squared length of a step along it of a metre outward.
    per_slant: f64,
    /// Upward, square to the ground.
    pub(super) up: Vector,
}

impl Ground {
    /// Ground as far below the bark as the log's clearance, measured square to the ground; `outward_rad` is its slope,
    /// positive where it rises outward.
    pub(super) fn below(bark: &Bark, clearance_m: f64, outward_rad: f64) -> Self {
        let (sin, cos) = outward_rad.sin_cos();
        let up = Vector::new(-sin, cos);
        let lowest_m = bark.support_m(-up);
        let under_m = -(lowest_m + clearance_m) / cos;
        Self { under_m, rise: sin / cos, per_slant: cos * cos, up }
    }

    /// How much it rises a metre outward.
    pub(super) const fn rise(&self) -> f64 {
        self.rise
    }

    /// One over the squared length of a way along it that goes a metre outward.
    pub(super) const fn per_slant(&self) -> f64 {
        self.per_slant
    }

    /// Height below the middle of the log, m.
    pub(super) const fn under_m(&self) -> f64 {
        self.under_m
    }

    /// Height of the ground at a place outward, m.
    pub(super) fn height_m(&self, out_m: f64) -> f64 {
        self.under_m + self.rise * out_m
    }

    /// Distance of a point from the ground, square to it, negative below, m.
    pub(super) fn above_m(&self, p: Point) -> f64 {
        self.up.dot(&p.coords) - self.up.y * self.under_m
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::section::LogSection;
    use crate::units::Length;
    use approx::assert_relative_eq;

    fn bark(ratio: f64) -> Bark {
        let m = Length::from_m;
        Bark::of(&LogSection::oval(m(0.6), m(0.6 * ratio), Length::ZERO).unwrap())
    }

    #[test]
    fn level_ground_lies_below_the_underside_by_the_clearance() {
        let ground = Ground::below(&bark(1.2), 0.25, 0.0);
        assert_relative_eq!(ground.height_m(0.0), -0.36 - 0.25, epsilon = 1e-12);
        assert_relative_eq!(ground.height_m(3.0), -0.36 - 0.25, epsilon = 1e-12);
        assert_relative_eq!(ground.above_m(Point::new(1.0, 0.0)), 0.61, epsilon = 1e-12);
    }

    #[test]
    fn sloping_ground_touches_a_log_that_lies_on_it() {
        for (ratio, degrees) in [(1.0, 20.0_f64), (1.6, -15.0), (0.6, 24.0)] {
            let ground = Ground::below(&bark(ratio), 0.0, degrees.to_radians());
            let lowest = (0..4000)
                .map(|i| ground.above_m(bark(ratio).towards(f64::from(i) * 1.6e-3)))
                .fold(f64::INFINITY, f64::min);
            // A sample lies within 0.4 mm of where they touch: a square of that over the curve is left.
            assert!((0.0..1e-5).contains(&(lowest + 1e-12)), "{lowest}");
            assert_relative_eq!(
                ground.height_m(1.0) - ground.height_m(0.0),
                degrees.to_radians().tan(),
                epsilon = 1e-12
            );
        }
    }
}
