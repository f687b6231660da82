//! A tank: a rectangle in the saw frame that fills from the bottom.

use super::check_point;
use crate::fault::Checker;
use crate::geometry::{Point, Vector};
use crate::ranges;
use crate::record::TankFile;
use crate::saw::mass::MassPart;
use crate::units::{Length, Mass, Volume};

/// A fuel or oil tank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tank {
    corner: Point,
    width_m: f64,
    height_m: f64,
    capacity: Volume,
    density_kg_m3: f64,
}

impl Tank {
    pub(crate) fn checked(check: &mut Checker, field: &str, file: &TankFile) -> Self {
        let corner = check_point(check, &format!("{field}.corner"), file.corner);
        let mut number = |name: &str, range, value| check.number(&format!("{field}.{name}"), range, value);
        Self {
            corner,
            width_m: Length::from_mm(number("width_mm", &ranges::TANK_SIDE, file.width_mm)).as_m(),
            height_m: Length::from_mm(number("height_mm", &ranges::TANK_SIDE, file.height_mm)).as_m(),
            capacity: Volume::from_l(number("capacity_l", &ranges::TANK_CAPACITY, file.capacity_l)),
            density_kg_m3: 1e3 * number("density_kg_per_l", &ranges::FLUID_DENSITY, file.density_kg_per_l),
        }
    }

    /// What the tank holds when full.
    pub const fn capacity(&self) -> Volume {
        self.capacity
    }

    /// Rear lower corner in the saw frame, m.
    pub const fn corner(&self) -> Point {
        self.corner
    }

    /// Width along the bar and height, m.
    pub fn size(&self) -> Vector {
        Vector::new(self.width_m, self.height_m)
    }

    /// The fluid at a fill of 0 (empty) to 1 (full), with the saw level: a rectangle from the bottom up.
    pub fn fluid(&self, fill: f64) -> MassPart {
        let mass = Mass::from_kg(fill * self.capacity.as_m3() * self.density_kg_m3);
        let depth_m = fill * self.height_m;
        MassPart {
            mass_kg: mass.as_kg(),
            centroid: self.corner + 0.5 * Vector::new(self.width_m, depth_m),
            inertia_kg_m2: mass.as_kg() * (self.width_m.powi(2) + depth_m.powi(2)) / 12.0,
        }
    }
}
