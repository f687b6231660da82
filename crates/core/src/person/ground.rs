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
        Self { under_m, rise: sin / cos, up }
    }

    /// How much it rises a metre outward.
    pub(super) const fn rise(&self) -> f64 {
        self.rise
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
