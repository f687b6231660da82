//! Area, centroid and second moment of a simple polygon by the shoelace sums.

use super::Point;

/// What an area weighs on a lever: size, centroid and polar second moment about that centroid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AreaProperties {
    /// Area in m², positive for either winding.
    pub area_m2: f64,
    /// Centroid in the polygon's own frame, m.
    pub centroid: Point,
    /// Polar second moment about the centroid, m⁴.
    pub second_moment_m4: f64,
}

/// A closed polygon; the last corner joins the first.
#[derive(Clone, Debug, PartialEq)]
pub struct Polygon {
    corners: Vec<Point>,
}

impl Polygon {
    /// A polygon through these corners in order, in metres. Neither winding is preferred; edges that
    /// cross each other give signed areas, so callers build simple outlines only.
    pub fn new(corners: Vec<Point>) -> Self {
        Self { corners }
    }

    /// The corners in order, m.
    pub fn corners(&self) -> &[Point] {
        &self.corners
    }

    /// Each edge from one corner to the next, the closing edge last.
    pub fn edges(&self) -> impl Iterator<Item = (Point, Point)> + '_ {
        let next = self.corners.iter().skip(1).chain(self.corners.first());
        self.corners.iter().copied().zip(next.copied())
    }

    /// Length of the boundary, m.
    pub fn perimeter_m(&self) -> f64 {
        self.edges().map(|(a, b)| (b - a).norm()).sum()
    }

    /// Area, centroid and polar second moment, or `None` where the polygon encloses no area.
    ///
    /// The shoelace sums (Green's theorem) are taken about the first corner, so that an outline far
    /// from the origin loses no digits.
    pub fn properties(&self) -> Option<AreaProperties> {
        let origin = *self.corners.first()?;
        let (mut twice_area, mut mx, mut my, mut moment) = (0.0, 0.0, 0.0, 0.0);
        for (a, b) in self.edges() {
            let (a, b) = (a - origin, b - origin);
            let cross = a.perp(&b);
            twice_area += cross;
            mx += cross * (a.x + b.x);
            my += cross * (a.y + b.y);
            moment += cross * (a.dot(&a) + a.dot(&b) + b.dot(&b));
        }
        let area_m2 = 0.5 * twice_area;
        if area_m2 == 0.0 || !area_m2.is_finite() {
            return None;
        }
        let centroid = super::Vector::new(mx, my) / (6.0 * area_m2);
        let about_origin = moment / 12.0;
        let about_centroid = about_origin - area_m2 * centroid.norm_squared();
        Some(AreaProperties {
            area_m2: area_m2.abs(),
            centroid: origin + centroid,
            second_moment_m4: about_centroid * area_m2.signum(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn rectangle(x: f64, y: f64, w: f64, h: f64) -> Polygon {
        Polygon::new(vec![
            Point::new(x, y),
            Point::new(x + w, y),
            Point::new(x + w, y + h),
            Point::new(x, y + h),
        ])
    }

    #[test]
    fn a_rectangle_has_its_closed_forms() {
        let p = rectangle(3.0, -2.0, 0.4, 0.1).properties().unwrap();
        assert_relative_eq!(p.area_m2, 0.04, max_relative = 1e-13);
        assert_relative_eq!(p.centroid, Point::new(3.2, -1.95), epsilon = 1e-13);
        let expected = 0.04 * (0.4_f64.powi(2) + 0.1_f64.powi(2)) / 12.0;
        assert_relative_eq!(p.second_moment_m4, expected, max_relative = 1e-12);
    }

    #[test]
    fn winding_does_not_matter() {
        let mut corners = rectangle(1.0, 1.0, 0.3, 0.2).corners().to_vec();
        let forward = Polygon::new(corners.clone()).properties().unwrap();
        corners.reverse();
        let backward = Polygon::new(corners).properties().unwrap();
        assert_relative_eq!(forward.area_m2, backward.area_m2, max_relative = 1e-13);
        assert_relative_eq!(forward.second_moment_m4, backward.second_moment_m4, max_relative = 1e-12);
    }

    #[test]
    fn a_line_and_nothing_at_all_have_no_area() {
        assert!(Polygon::new(vec![]).properties().is_none());
        assert!(Polygon::new(vec![Point::origin(), Point::new(1.0, 0.0)]).properties().is_none());
    }
}
