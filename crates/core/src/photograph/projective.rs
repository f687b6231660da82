//! A projective map of the plane from pairs of points, by the normalised direct linear transform.

use crate::geometry::Point;
use nalgebra::{DMatrix, Matrix3, SVD, Vector3};

/// Unknowns of the homogeneous equations.
const UNKNOWNS: usize = 9;
/// The equations must fix eight of the nine; less than this share of the largest singular value is none. Three of four
/// points on one line leave rounding alone, some 1e-16.
const LEAST_SHARE: f64 = 1e-9;
/// A point whose third coordinate is less than this share of the others lies at infinity.
const AT_INFINITY: f64 = 1e-12;

/// A projective map of the plane onto a plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Projective {
    matrix: Matrix3<f64>,
}

impl Projective {
    /// A map of this matrix, for homogeneous columns; `None` where it has no inverse.
    pub fn new(matrix: Matrix3<f64>) -> Option<Self> {
        matrix.try_inverse().map(|_| Self { matrix })
    }

    /// The map that takes each first point to its second, in the least squares of the algebraic error: exactly for four
    /// pairs. `None` for fewer than four, or where three of four lie on a line.
    ///
    /// Either side is first moved to its middle and scaled to a mean distance of √2, without which the equations of
    /// pictures thousands of pixels wide lose half the digits. Source: R. Hartley, A. Zisserman, *Multiple View Geometry
    /// in Computer Vision*, 2nd ed. 2004, algorithm 4.2 (from memory, not looked up).
    pub fn from_pairs(pairs: &[(Point, Point)]) -> Option<Self> {
        if pairs.len() < 4 {
            return None;
        }
        let before = normaliser(pairs.iter().map(|(from, _)| *from))?;
        let after = normaliser(pairs.iter().map(|(_, to)| *to))?;
        // Rows of nothing make the matrix as high as it is wide, so that all nine directions come out.
        let rows = (2 * pairs.len()).max(UNKNOWNS);
        let mut equations = DMatrix::<f64>::zeros(rows, UNKNOWNS);
        for (pair, (from, to)) in pairs.iter().enumerate() {
            let (p, q) = (before * from.to_homogeneous(), after * to.to_homogeneous());
            let pairs_of_rows = [[0.0, -q.z, q.y], [q.z, 0.0, -q.x]];
            for (row, factors) in pairs_of_rows.into_iter().enumerate() {
                for (block, factor) in factors.into_iter().enumerate() {
                    for (column, coordinate) in p.iter().enumerate() {
                        let place = equations.get_mut((2 * pair + row, 3 * block + column))?;
                        *place = factor * coordinate;
                    }
                }
            }
        }
        let svd = SVD::try_new(equations, false, true, f64::EPSILON, 1000)?;
        // Sorted, the largest first.
        let (largest, eighth) = (svd.singular_values.get(0)?, svd.singular_values.get(UNKNOWNS - 2)?);
        if *eighth <= LEAST_SHARE * largest {
            return None;
        }
        let directions = svd.v_t?;
        let last = directions.row(directions.nrows() - 1);
        let normalised = Matrix3::from_row_iterator(last.iter().copied());
        // Second points of which three lie on a line flatten the plane.
        let spread = normalised.singular_values();
        if spread.min() <= LEAST_SHARE * spread.max() {
            return None;
        }
        let matrix = after.try_inverse()? * normalised * before;
        Self::new(matrix / matrix.norm())
    }

    /// The matrix, for homogeneous columns; its scale means nothing.
    pub const fn matrix(&self) -> &Matrix3<f64> {
        &self.matrix
    }

    /// Where a point goes; `None` where that is infinitely far.
    pub fn at(&self, point: Point) -> Option<Point> {
        let to: Vector3<f64> = self.matrix * point.to_homogeneous();
        let far = to.z.abs() <= AT_INFINITY * to.xy().norm();
        (!far && to.iter().all(|c| c.is_finite())).then(|| Point::from(to.xy() / to.z))
    }

    /// The way back.
    pub fn inverse(&self) -> Option<Self> {
        self.matrix.try_inverse().map(|matrix| Self { matrix })
    }
}

/// Moves points to their middle and scales them to a mean distance of √2; `None` where all are one.
fn normaliser(points: impl Iterator<Item = Point> + Clone) -> Option<Matrix3<f64>> {
    let count = f64::from(u32::try_from(points.clone().count()).ok()?);
    let middle = points.clone().map(|point| point.coords).sum::<crate::geometry::Vector>() / count;
    let mean = points.map(|point| (point.coords - middle).norm()).sum::<f64>() / count;
    let scale = std::f64::consts::SQRT_2 / mean;
    scale
        .is_finite()
        .then(|| Matrix3::new(scale, 0.0, -scale * middle.x, 0.0, scale, -scale * middle.y, 0.0, 0.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn corner() -> impl Strategy<Value = (f64, f64)> {
        (-150.0..150.0, -150.0..150.0)
    }

    proptest! {
        /// Far from the middle of a large picture, four corners go where they should, and back.
        #[test]
        fn four_corners_go_to_theirs_and_back(a in corner(), b in corner(), c in corner(), d in corner()) {
            let sheet = [(0.0, 0.0), (297.0, 0.0), (297.0, 210.0), (0.0, 210.0)].map(|(x, y)| Point::new(x, y));
            let picture = [(3000.0, 400.0, a), (5000.0, 420.0, b), (5050.0, 1900.0, c), (2980.0, 1850.0, d)]
                .map(|(x, y, (dx, dy))| Point::new(x + dx, y + dy));
            let pairs: Vec<_> = picture.into_iter().zip(sheet).collect();
            let map = Projective::from_pairs(&pairs).unwrap();
            let back = map.inverse().unwrap();
            for (from, to) in pairs {
                prop_assert!((map.at(from).unwrap() - to).norm() < 1e-9);
                prop_assert!((back.at(to).unwrap() - from).norm() < 1e-8);
            }
        }
    }

    #[test]
    fn more_pairs_of_one_map_give_that_map() {
        let map = Projective::new(Matrix3::new(0.2, 0.01, 40.0, -0.02, 0.21, 3.0, 1e-5, -2e-5, 1.0)).unwrap();
        let pairs: Vec<_> = (0..12)
            .map(|i| Point::new(f64::from(i * 331 % 4000), f64::from(i * 977 % 3000)))
            .map(|from| (from, map.at(from).unwrap()))
            .collect();
        let found = Projective::from_pairs(&pairs).unwrap();
        for (x, y) in [(0.0, 0.0), (4000.0, 3000.0), (120.0, 2900.0)] {
            let point = Point::new(x, y);
            assert_relative_eq!(found.at(point).unwrap(), map.at(point).unwrap(), epsilon = 1e-8);
        }
    }

    #[test]
    fn three_on_a_line_one_point_and_too_few_give_none() {
        let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)].map(|(x, y)| Point::new(x, y));
        let line = [(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (0.0, 1.0)].map(|(x, y)| Point::new(x, y));
        let pairs = |from: [Point; 4], to: [Point; 4]| from.into_iter().zip(to).collect::<Vec<_>>();
        assert!(Projective::from_pairs(&pairs(line, square)).is_none());
        assert!(Projective::from_pairs(&pairs(square, line)).is_none());
        assert!(Projective::from_pairs(&pairs([square[0]; 4], square)).is_none());
        assert!(Projective::from_pairs(&pairs(square, square)[..3]).is_none());
    }

    #[test]
    fn the_horizon_is_infinitely_far() {
        let map = Projective::new(Matrix3::new(1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 1.0, -5.0)).unwrap();
        assert!(map.at(Point::new(3.0, 5.0)).is_none());
        assert!(map.at(Point::new(3.0, 4.0)).is_some());
    }
}
