//! Mass properties of thin curves: what a chain adds along its path.

use super::{Point, Vector};

/// Length, centroid and polar second moment (about that centroid) of a thin curve of unit line density.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineProperties {
    /// Length, m.
    pub length_m: f64,
    /// Centroid, m.
    pub centroid: Point,
    /// Integral of the squared distance from the centroid along the curve, m³.
    pub second_moment_m3: f64,
}

/// A straight run from `a` to `b`.
pub fn segment_line(a: Point, b: Point) -> LineProperties {
    let length_m = (b - a).norm();
    LineProperties { length_m, centroid: a + 0.5 * (b - a), second_moment_m3: length_m.powi(3) / 12.0 }
}

/// A circular arc about `centre`, symmetric about the direction `mid_rad` (counter-clockwise from +x),
/// spanning `span_rad` in all.
pub fn arc_line(centre: Point, radius_m: f64, mid_rad: f64, span_rad: f64) -> LineProperties {
    let half = 0.5 * span_rad;
    let sinc = if half.abs() < 1e-9 { 1.0 } else { half.sin() / half };
    let offset_m = radius_m * sinc;
    let length_m = radius_m * span_rad;
    LineProperties {
        length_m,
        centroid: centre + offset_m * Vector::new(mid_rad.cos(), mid_rad.sin()),
        second_moment_m3: length_m * (radius_m * radius_m - offset_m * offset_m),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use std::f64::consts::PI;

    #[test]
    fn a_half_circle_has_its_centroid_at_two_r_over_pi() {
        let arc = arc_line(Point::new(1.0, 2.0), 0.5, 0.0, PI);
        assert_relative_eq!(arc.length_m, 0.5 * PI, max_relative = 1e-14);
        assert_relative_eq!(arc.centroid, Point::new(1.0 + 2.0 * 0.5 / PI, 2.0), epsilon = 1e-14);
    }

    #[test]
    fn an_arc_is_the_sum_of_many_short_chords() {
        let (centre, r, mid, span) = (Point::new(-0.2, 0.1), 0.3, 0.7, 2.1);
        let at = |t: f64| {
            let angle = mid - 0.5 * span + span * t;
            centre + r * Vector::new(angle.cos(), angle.sin())
        };
        let n = 20_000;
        let chords: Vec<_> = (0..n)
            .map(|i| segment_line(at(f64::from(i) / f64::from(n)), at(f64::from(i + 1) / f64::from(n))))
            .collect();
        let length: f64 = chords.iter().map(|c| c.length_m).sum();
        let mean = chords.iter().fold(Vector::zeros(), |s, c| s + c.length_m * c.centroid.coords) / length;
        let second: f64 = chords
            .iter()
            .map(|c| c.second_moment_m3 + c.length_m * (c.centroid.coords - mean).norm_squared())
            .sum();
        let arc = arc_line(centre, r, mid, span);
        assert_relative_eq!(arc.length_m, length, max_relative = 1e-8);
        assert_relative_eq!(arc.centroid.coords, mean, epsilon = 1e-8);
        assert_relative_eq!(arc.second_moment_m3, second, max_relative = 1e-7);
    }
}
