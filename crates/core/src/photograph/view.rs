//! How a camera saw the bar's plane: where a point of the picture lies there, and behind it.

use super::projective::Projective;
use crate::geometry::{Point, Vector};
use nalgebra::{Matrix3, Rotation3};

/// Steps until the focal length is found; each gains digits, a handful is usual.
const MOST_STEPS: u32 = 60;
/// The focal length is found where a step changes it by no more than this share.
const FOUND: f64 = 1e-12;

/// A picture's size: its middle and its corner set the scale of a lens's bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Picture {
    pub(super) width_px: f64,
    pub(super) height_px: f64,
}

impl Picture {
    fn half(self) -> Vector {
        0.5 * Vector::new(self.width_px, self.height_px)
    }

    /// A point of the picture from its middle, with the lens's bend taken out: `bend` is the share by which a straight
    /// lens's corner is moved outward.
    pub(super) fn straight(self, point: Point, bend: f64) -> Point {
        let from_middle = point.coords - self.half();
        let share = from_middle.norm_squared() / self.half().norm_squared();
        Point::from(from_middle * (1.0 - bend * share))
    }
}

/// A camera over the bar's plane. Points of the picture count from its middle, of the plane in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct View {
    plane_from_picture: Projective,
    /// The plane's point under the lens.
    foot: Point,
    /// Of the lens over the plane, mm.
    height_mm: f64,
}

impl View {
    /// The view of four corners of a known sheet, from a lens at a known distance along its axis.
    pub(super) fn of_sheet(corners: &[(Point, Point)], distance_mm: f64) -> Option<Self> {
        Self::new(Projective::from_pairs(corners)?, distance_mm)
    }

    /// The lens's place from the map alone. The third row of a camera's matrix gives, but for one factor, how far along the
    /// axis each point of the plane lies; the factor is known where the middle of the picture looks. The slope of that depth
    /// is the sine of the tilt, down which the foot lies. No focal length is needed.
    fn new(plane_from_picture: Projective, distance_mm: f64) -> Option<Self> {
        let picture_from_plane = plane_from_picture.inverse()?;
        let aim = plane_from_picture.at(Point::origin())?;
        let [x, y, z]: [f64; 3] = picture_from_plane.matrix().row(2).transpose().into();
        let factor = (x * aim.x + y * aim.y + z) / distance_mm;
        let slope = Vector::new(x, y) / factor;
        let cosine = (1.0 - slope.norm_squared()).sqrt();
        // False for a slope that is no sine, too.
        (cosine > 0.0).then(|| Self {
            plane_from_picture,
            foot: aim - distance_mm * slope,
            height_mm: distance_mm * cosine,
        })
    }

    /// The view of two points of known distance, from a lens at a known distance that looks at the plane squarely but
    /// for a tilt about its own axes to the right and down, rad.
    pub(super) fn of_distance(
        ends: [Point; 2],
        apart_mm: f64,
        distance_mm: f64,
        tilt: Vector,
    ) -> Option<Self> {
        let turn = Rotation3::from_euler_angles(tilt.x, tilt.y, 0.0);
        let turn = turn.matrix();
        let [a, b] = ends;
        let mut focal_px = (b - a).norm() * distance_mm / apart_mm;
        for _ in 0..MOST_STEPS {
            let picture_from_plane = Matrix3::from_diagonal(&nalgebra::Vector3::new(focal_px, focal_px, 1.0))
                * Matrix3::from_columns(&[
                    turn.column(0).into_owned(),
                    turn.column(1).into_owned(),
                    nalgebra::Vector3::new(0.0, 0.0, distance_mm),
                ]);
            let plane_from_picture = Projective::new(picture_from_plane.try_inverse()?)?;
            let seen_mm = (plane_from_picture.at(b)? - plane_from_picture.at(a)?).norm();
            let ratio = seen_mm / apart_mm;
            if (ratio - 1.0).abs() < FOUND {
                return Self::new(plane_from_picture, distance_mm);
            }
            if !ratio.is_finite() {
                return None;
            }
            focal_px *= ratio;
        }
        None
    }

    /// Where a point of the picture lies that is so far behind the plane: moved along its ray and set upright onto the
    /// plane.
    pub(super) fn at(&self, point: Point, behind_mm: f64) -> Option<Point> {
        let seen = self.plane_from_picture.at(point)?;
        Some(self.foot + (seen - self.foot) * ((self.height_mm + behind_mm) / self.height_mm))
    }

    /// How many millimetres of the plane a pixel at this point covers, as the root of its area.
    pub(super) fn mm_per_px(&self, point: Point) -> Option<f64> {
        let here = self.plane_from_picture.at(point)?;
        let right = self.plane_from_picture.at(point + Vector::x())? - here;
        let down = self.plane_from_picture.at(point + Vector::y())? - here;
        Some(right.perp(&down).abs().sqrt())
    }
}
