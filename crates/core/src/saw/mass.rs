//! Mass, centroid and inertia of parts, and their sums.

use crate::geometry::{AreaProperties, LineProperties, Point};
use crate::units::{Inertia, Mass};

/// A rigid part in the saw plane: its mass, centroid, and inertia about that centroid.
///
/// A sum of parts is again a part, by the parallel-axis theorem.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MassPart {
    /// Mass, kg, never negative.
    pub mass_kg: f64,
    /// Centroid, m.
    pub centroid: Point,
    /// Moment of inertia about the centroid, normal to the saw plane, kg·m².
    pub inertia_kg_m2: f64,
}

impl MassPart {
    /// Nothing, at the origin: the neutral element of [`MassPart::sum`].
    pub const NOTHING: Self = Self { mass_kg: 0.0, centroid: Point::new(0.0, 0.0), inertia_kg_m2: 0.0 };

    /// A point mass, which has no inertia of its own.
    pub const fn point(mass: Mass, centroid: Point) -> Self {
        Self { mass_kg: mass.as_kg(), centroid, inertia_kg_m2: 0.0 }
    }

    /// A uniform plate of the given total mass with this area.
    pub fn plate(mass: Mass, area: &AreaProperties) -> Self {
        Self {
            mass_kg: mass.as_kg(),
            centroid: area.centroid,
            inertia_kg_m2: mass.as_kg() * area.second_moment_m4 / area.area_m2,
        }
    }

    /// A uniform thin line of the given mass per metre.
    pub fn line(kg_per_m: f64, line: &LineProperties) -> Self {
        Self {
            mass_kg: kg_per_m * line.length_m,
            centroid: line.centroid,
            inertia_kg_m2: kg_per_m * line.second_moment_m3,
        }
    }

    /// The parts as one. Massless parts add nothing, wherever they lie.
    pub fn sum(parts: impl IntoIterator<Item = Self> + Clone) -> Self {
        let mut mass_kg = 0.0;
        let mut moment = crate::geometry::Vector::zeros();
        for part in parts.clone() {
            mass_kg += part.mass_kg;
            moment += part.mass_kg * part.centroid.coords;
        }
        if mass_kg == 0.0 {
            return Self::NOTHING;
        }
        let centroid = Point::from(moment / mass_kg);
        let inertia_kg_m2 = parts.into_iter().map(|part| part.inertia_about(centroid).as_kg_m2()).sum();
        Self { mass_kg, centroid, inertia_kg_m2 }
    }

    /// Inertia about another point of the plane, kg·m² (parallel-axis theorem).
    pub fn inertia_about(&self, point: Point) -> Inertia {
        Inertia::from_kg_m2(self.inertia_kg_m2 + self.mass_kg * (self.centroid - point).norm_squared())
    }

    /// The same part moved along by `by`, m.
    #[must_use]
    pub fn moved(self, by: crate::geometry::Vector) -> Self {
        Self { centroid: self.centroid + by, ..self }
    }

    /// The mass.
    pub const fn mass(&self) -> Mass {
        Mass::from_kg(self.mass_kg)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Vector;
    use approx::assert_relative_eq;

    #[test]
    fn two_points_balance_at_their_lever() {
        let a = MassPart::point(Mass::from_kg(1.0), Point::new(0.0, 0.0));
        let b = MassPart::point(Mass::from_kg(3.0), Point::new(4.0, 0.0));
        let sum = MassPart::sum([a, b]);
        assert_relative_eq!(sum.centroid.x, 3.0);
        // Reduced mass times distance squared: 0.75 · 16.
        assert_relative_eq!(sum.inertia_kg_m2, 12.0, max_relative = 1e-14);
    }

    #[test]
    fn law_summing_in_any_grouping_gives_the_same_part() {
        let parts: Vec<_> = (0..7)
            .map(|i| {
                let t = f64::from(i);
                MassPart { mass_kg: 0.2 + t, centroid: Point::new(t.sin(), t.cos()), inertia_kg_m2: 0.01 * t }
            })
            .collect();
        let whole = MassPart::sum(parts.iter().copied());
        let left = MassPart::sum(parts.iter().take(3).copied());
        let right = MassPart::sum(parts.iter().skip(3).copied());
        let halves = MassPart::sum([left, right]);
        assert_relative_eq!(whole.mass_kg, halves.mass_kg, max_relative = 1e-14);
        assert_relative_eq!(whole.centroid, halves.centroid, epsilon = 1e-14);
        assert_relative_eq!(whole.inertia_kg_m2, halves.inertia_kg_m2, max_relative = 1e-13);
    }

    #[test]
    fn law_moving_every_part_moves_the_sum() {
        let by = Vector::new(2.0, -3.0);
        let a = MassPart { mass_kg: 2.0, centroid: Point::new(0.1, 0.2), inertia_kg_m2: 0.3 };
        let b = MassPart { mass_kg: 0.7, centroid: Point::new(0.9, -0.1), inertia_kg_m2: 0.02 };
        let moved = MassPart::sum([a.moved(by), b.moved(by)]);
        let still = MassPart::sum([a, b]);
        assert_relative_eq!(moved.centroid, still.centroid + by, epsilon = 1e-13);
        assert_relative_eq!(moved.inertia_kg_m2, still.inertia_kg_m2, max_relative = 1e-12);
    }

    #[test]
    fn nothing_sums_to_nothing() {
        assert_eq!(MassPart::sum([]), MassPart::NOTHING);
    }
}
