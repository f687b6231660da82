//! The chain's path: an open belt round the drive sprocket and the nose.

use crate::geometry::{LineProperties, Point, Vector, arc_line, segment_line};
use crate::units::Length;
use std::f64::consts::{FRAC_PI_2, PI};
use std::fmt;

const MAX_STEPS: usize = 60;
/// Two successive centre distances closer than this are the same place; far below a rounding of the file's mm.
const CENTRE_TOLERANCE_M: f64 = 1e-13;

/// Why a loop cannot be laid round the two circles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LoopError {
    /// The loop is no longer than the larger circle's own circumference.
    TooShort {
        /// The loop that was asked for.
        length: Length,
        /// The shortest loop that leaves the circles apart.
        shortest: Length,
    },
    /// The iteration reached its cap; no distance is given.
    DidNotConverge,
}

impl fmt::Display for LoopError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooShort { length, shortest } => write!(
                f,
                "a loop of {:.0} mm is too short: it must be longer than {:.0} mm to reach a nose at all",
                length.as_mm(),
                shortest.as_mm()
            ),
            Self::DidNotConverge => write!(f, "the centre distance of the loop did not converge"),
        }
    }
}

impl std::error::Error for LoopError {}

/// An open belt round two circles whose centres lie on the x axis: the sprocket at the origin, the nose at
/// `centre_distance`. Radii are those of the chain's rivet line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoopPath {
    sprocket_radius_m: f64,
    nose_radius_m: f64,
    centre_distance_m: f64,
}

/// Rivet-line radius of a sprocket: `teeth × 2 × pitch / 2π`.
pub fn sprocket_pitch_radius(teeth: u32, pitch: Length) -> Length {
    Length::from_m(f64::from(teeth) * pitch.as_m() / PI)
}

/// Length of a loop: `2 × pitch × drive links`; pitch is half the span of three consecutive rivets.
pub fn loop_length(pitch: Length, drive_links: f64) -> Length {
    pitch * (2.0 * drive_links)
}

impl LoopPath {
    /// The loop with its nose at this distance; `None` unless the circles stand clear of each other's centres
    /// (`distance > |difference of radii|`).
    pub fn with_centre_distance(sprocket: Length, nose: Length, distance: Length) -> Option<Self> {
        let path = Self {
            sprocket_radius_m: sprocket.as_m(),
            nose_radius_m: nose.as_m(),
            centre_distance_m: distance.as_m(),
        };
        (distance.as_m() > path.radius_difference_m().abs()).then_some(path)
    }

    /// The loop of this length, solved for the centre distance by Newton's method (`dL/dd = 2 cos a`).
    ///
    /// # Errors
    /// [`LoopError::TooShort`] where no such distance exists.
    pub fn with_length(sprocket: Length, nose: Length, length: Length) -> Result<Self, LoopError> {
        let (r_s, r_n, target) = (sprocket.as_m(), nose.as_m(), length.as_m());
        let shortest_m = 2.0 * PI * r_s.max(r_n);
        if target.is_nan() || target <= shortest_m {
            return Err(LoopError::TooShort { length, shortest: Length::from_m(shortest_m) });
        }
        let floor_m = (r_s - r_n).abs();
        let mut distance = (0.5 * (target - PI * (r_s + r_n))).max(floor_m * (1.0 + 1e-9) + 1e-9);
        for _ in 0..MAX_STEPS {
            let path = Self { sprocket_radius_m: r_s, nose_radius_m: r_n, centre_distance_m: distance };
            let slope = 2.0 * path.lean_rad().cos();
            // A step that would leave the domain goes half-way to its edge instead.
            let next = distance - (path.length().as_m() - target) / slope;
            let next = if next > floor_m { next } else { 0.5 * (distance + floor_m) };
            if (next - distance).abs() <= CENTRE_TOLERANCE_M {
                return Ok(Self { centre_distance_m: next, ..path });
            }
            distance = next;
        }
        Err(LoopError::DidNotConverge)
    }

    /// The loop with its nose this much farther out: a chain that is stretched. `None` where the circles would not
    /// stand clear of each other's centres.
    pub fn with_nose_moved(&self, by: Length) -> Option<Self> {
        let distance = self.centre_distance() + by;
        Self::with_centre_distance(self.sprocket_radius(), self.nose_radius(), distance)
    }

    fn radius_difference_m(&self) -> f64 {
        self.sprocket_radius_m - self.nose_radius_m
    }

    /// Angle `a` by which the rails lean towards each other from sprocket to nose, rad; negative where the
    /// nose is the larger circle.
    pub fn lean_rad(&self) -> f64 {
        (self.radius_difference_m() / self.centre_distance_m).asin()
    }

    /// Length once round.
    pub fn length(&self) -> Length {
        let a = self.lean_rad();
        let rails = 2.0 * self.rail_length_m();
        let wraps = self.sprocket_radius_m * (PI + 2.0 * a) + self.nose_radius_m * (PI - 2.0 * a);
        Length::from_m(rails + wraps)
    }

    fn rail_length_m(&self) -> f64 {
        (self.centre_distance_m.powi(2) - self.radius_difference_m().powi(2)).max(0.0).sqrt()
    }

    /// Distance from the sprocket centre to the nose centre.
    pub fn centre_distance(&self) -> Length {
        Length::from_m(self.centre_distance_m)
    }

    /// Radius of the rivet line round the nose.
    pub fn nose_radius(&self) -> Length {
        Length::from_m(self.nose_radius_m)
    }

    /// Radius of the rivet line round the sprocket.
    pub fn sprocket_radius(&self) -> Length {
        Length::from_m(self.sprocket_radius_m)
    }

    /// The four pieces of the path as thin lines: sprocket arc, upper rail, nose arc, lower rail.
    pub fn lines(&self) -> [LineProperties; 4] {
        let a = self.lean_rad();
        let nose = Point::new(self.centre_distance_m, 0.0);
        let upper = Vector::new(a.sin(), a.cos());
        let lower = Vector::new(a.sin(), -a.cos());
        let rail = |normal: Vector| {
            segment_line(Point::from(self.sprocket_radius_m * normal), nose + self.nose_radius_m * normal)
        };
        [
            arc_line(Point::origin(), self.sprocket_radius_m, PI, PI + 2.0 * a),
            rail(upper),
            arc_line(nose, self.nose_radius_m, 0.0, PI - 2.0 * a),
            rail(lower),
        ]
    }

    /// The point at `travel_m` along the loop and the direction of travel there (unit vector).
    ///
    /// Zero is where the chain leaves the top of the sprocket; it runs out along the upper rail, as a saw
    /// chain does. Travel beyond one turn goes round again.
    pub fn point_at(&self, travel_m: f64) -> (Point, Vector) {
        let a = self.lean_rad();
        let rail = self.rail_length_m();
        let nose_arc = self.nose_radius_m * (PI - 2.0 * a);
        let mut s = travel_m.rem_euclid(self.length().as_m());
        let nose = Point::new(self.centre_distance_m, 0.0);
        let upper = Vector::new(a.sin(), a.cos());
        let along = Vector::new(a.cos(), -a.sin());
        if s <= rail {
            return (Point::from(self.sprocket_radius_m * upper) + s * along, along);
        }
        s -= rail;
        if s <= nose_arc {
            return on_circle(nose, self.nose_radius_m, FRAC_PI_2 - a - s / self.nose_radius_m);
        }
        s -= nose_arc;
        if s <= rail {
            let lower = Vector::new(a.sin(), -a.cos());
            let back = Vector::new(-a.cos(), -a.sin());
            return (nose + self.nose_radius_m * lower + s * back, back);
        }
        s -= rail;
        on_circle(Point::origin(), self.sprocket_radius_m, -FRAC_PI_2 + a - s / self.sprocket_radius_m)
    }
}

/// A point on a circle at `angle_rad` from +x, and the clockwise unit tangent there.
fn on_circle(centre: Point, radius_m: f64, angle_rad: f64) -> (Point, Vector) {
    let (sin, cos) = angle_rad.sin_cos();
    (centre + radius_m * Vector::new(cos, sin), Vector::new(sin, -cos))
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    #[test]
    fn equal_circles_give_two_straight_runs_and_one_circumference() {
        let path = LoopPath::with_centre_distance(mm(30.0), mm(30.0), mm(500.0)).unwrap();
        assert_relative_eq!(path.length().as_mm(), 1000.0 + 60.0 * PI, max_relative = 1e-14);
    }

    #[test]
    fn solving_for_the_distance_undoes_the_length() {
        for (s, n, d) in [(21.2, 33.4, 760.0), (40.0, 12.0, 90.0), (12.0, 40.0, 29.0), (25.0, 25.0, 1.0)] {
            let path = LoopPath::with_centre_distance(mm(s), mm(n), mm(d)).unwrap();
            let back = LoopPath::with_length(mm(s), mm(n), path.length()).unwrap();
            assert_relative_eq!(back.centre_distance().as_mm(), d, max_relative = 1e-9);
        }
    }

    #[test]
    fn the_pieces_add_up_to_the_loop_and_join() {
        let path = LoopPath::with_centre_distance(mm(21.2), mm(33.4), mm(700.0)).unwrap();
        let pieces: f64 = path.lines().iter().map(|line| line.length_m).sum();
        assert_relative_eq!(pieces, path.length().as_m(), max_relative = 1e-14);
        let n = 5000;
        let step = path.length().as_m() / f64::from(n);
        let walked: f64 = (0..n)
            .map(|i| (path.point_at(f64::from(i + 1) * step).0 - path.point_at(f64::from(i) * step).0).norm())
            .sum();
        assert_relative_eq!(walked, path.length().as_m(), max_relative = 1e-5);
    }

    #[test]
    fn a_loop_shorter_than_the_circle_is_refused() {
        let error = LoopPath::with_length(mm(20.0), mm(30.0), mm(188.0)).unwrap_err();
        assert!(matches!(error, LoopError::TooShort { .. }), "{error}");
        assert!(LoopPath::with_centre_distance(mm(20.0), mm(30.0), mm(9.9)).is_none());
    }

    #[test]
    fn a_loop_of_no_number_has_no_distance() {
        let no_number = LoopPath::with_length(mm(20.0), mm(30.0), mm(f64::NAN));
        assert!(no_number.is_err(), "{no_number:?}");
    }
}
