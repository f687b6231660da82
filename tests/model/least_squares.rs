//! The least-squares code against certified and published fits.

#![expect(clippy::unwrap_used, reason = "helpers of tests, outside a test function")]

use barpoise_checks::{Within, assert_close};
use barpoise_core::least_squares::{Minimum, Misfit, minimise};
use nalgebra::{DMatrix, DVector};

/// `y = b0 + b1 · x` with every reading as good as the next.
struct Line<'a>(&'a [(f64, f64)]);

impl Misfit for Line<'_> {
    fn unknowns(&self) -> usize {
        2
    }

    fn at(&self, b: &DVector<f64>) -> Option<(DVector<f64>, DMatrix<f64>)> {
        let rows = self.0.iter().map(|(x, y)| b[0] + b[1] * x - y);
        let slopes = self.0.iter().flat_map(|(x, _)| [1.0, *x]);
        Some((
            DVector::from_iterator(self.0.len(), rows),
            DMatrix::from_row_iterator(self.0.len(), 2, slopes),
        ))
    }
}

fn line(points: &[(f64, f64)]) -> Minimum {
    match minimise(&Line(points), DVector::zeros(2)) {
        Ok(found) => found,
        Err(error) => unreachable!("{error}"),
    }
}

fn freedom(found: &Minimum) -> f64 {
    f64::from(u32::try_from(found.freedom).unwrap())
}

/// Residual variance: the uncertainties of these readings are known only to be equal.
fn variance(found: &Minimum) -> f64 {
    found.chi_square / freedom(found)
}

/// (x, y) of the data set Norris, ozone monitors against each other. NIST Statistical Reference Datasets, linear
/// regression, lower level of difficulty. The points are remembered; that the certified values come out to every
/// digit below shows that they are remembered right.
const NORRIS: [(f64, f64); 36] = [
    (0.2, 0.1),
    (337.4, 338.8),
    (118.2, 118.1),
    (884.6, 888.0),
    (10.1, 9.2),
    (226.5, 228.1),
    (666.3, 668.5),
    (996.3, 998.5),
    (448.6, 449.1),
    (777.0, 778.9),
    (558.2, 559.2),
    (0.4, 0.3),
    (0.6, 0.1),
    (775.5, 778.1),
    (666.9, 668.8),
    (338.0, 339.3),
    (447.5, 448.9),
    (11.6, 10.8),
    (556.0, 557.7),
    (228.1, 228.3),
    (995.8, 998.0),
    (887.6, 888.8),
    (120.2, 119.6),
    (0.3, 0.3),
    (0.3, 0.6),
    (556.8, 557.6),
    (339.1, 339.3),
    (887.2, 888.0),
    (999.0, 998.5),
    (779.0, 778.9),
    (11.1, 10.2),
    (118.3, 117.6),
    (229.2, 228.9),
    (669.1, 668.4),
    (448.9, 449.2),
    (0.5, 0.2),
];

/// Nine certified digits.
const NINE_DIGITS: Within = Within::Relative(5e-10);

#[test]
fn norris_comes_out_as_certified() {
    let found = line(&NORRIS);
    assert_close("B0", found.values[0], -0.262_323_073_774_029, NINE_DIGITS);
    assert_close("B1", found.values[1], 1.002_116_818_020_45, NINE_DIGITS);
    let s = variance(&found);
    assert_close("residual deviation", s.sqrt(), 0.884_796_396_144_373, NINE_DIGITS);
    assert_close("sum of squares", found.chi_square, 26.617_398_529_422_4, NINE_DIGITS);
    let deviation = |i| (s * found.covariance[(i, i)]).sqrt();
    assert_close("deviation of B0", deviation(0), 0.232_818_234_301_152, NINE_DIGITS);
    assert_close("deviation of B1", deviation(1), 4.297_968_481_999_37e-4, NINE_DIGITS);
    assert_eq!(found.freedom, 34);
}

/// Thermometer correction against temperature: JCGM 100:2008, H.3, table H.6; °C.
const THERMOMETER: [(f64, f64); 11] = [
    (21.521, -0.171),
    (22.012, -0.169),
    (22.512, -0.166),
    (23.003, -0.159),
    (23.507, -0.164),
    (23.999, -0.165),
    (24.513, -0.156),
    (25.002, -0.157),
    (25.503, -0.159),
    (26.010, -0.161),
    (26.511, -0.160),
];

#[test]
fn the_thermometer_of_the_guide_comes_out_as_printed() {
    let points = THERMOMETER.map(|(t, b)| (t - 20.0, b));
    let found = line(&points);
    let s = variance(&found);
    let u = |i| (s * found.covariance[(i, i)]).sqrt();
    // The guide prints these to the digits given; half of the last one is the bound.
    assert_close("y1", found.values[0], -0.1712, Within::Absolute(5e-5));
    assert_close("u(y1)", u(0), 0.0029, Within::Absolute(5e-5));
    assert_close("y2", found.values[1], 0.00218, Within::Absolute(5e-6));
    assert_close("u(y2)", u(1), 0.00067, Within::Absolute(5e-6));
    let r = found.covariance[(0, 1)] / (found.covariance[(0, 0)] * found.covariance[(1, 1)]).sqrt();
    assert_close("r(y1, y2)", r, -0.930, Within::Absolute(5e-4));
    assert_close("s", s.sqrt(), 0.0035, Within::Absolute(5e-5));
    // At 30 °C the correlation counts.
    let at_30 = found.values[0] + 10.0 * found.values[1];
    let u_at_30 = (u(0).powi(2) + 100.0 * u(1).powi(2) + 20.0 * u(0) * u(1) * r).sqrt();
    assert_close("b(30)", at_30, -0.1494, Within::Absolute(5e-5));
    assert_close("u(b(30))", u_at_30, 0.0041, Within::Absolute(5e-5));
}

/// The longest series of a few linear steps must not lose digits to a shift of the origin.
#[test]
fn law_a_shift_of_x_shifts_the_intercept_alone() {
    let shifted = NORRIS.map(|(x, y)| (x + 1000.0, y));
    let (found, moved) = (line(&NORRIS), line(&shifted));
    assert_close("slope", moved.values[1], found.values[1], Within::Relative(1e-11));
    let intercept = found.values[0] - 1000.0 * found.values[1];
    assert_close("intercept", moved.values[0], intercept, Within::Relative(1e-11));
    assert_close("sum of squares", moved.chi_square, found.chi_square, Within::Relative(1e-9));
}
