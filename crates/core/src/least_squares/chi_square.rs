//! The chi-square distribution.

const MOST_TERMS: usize = 10_000;
const TERM_TOLERANCE: f64 = 1e-16;

/// The probability that a chi-square of this many degrees of freedom comes out above `chi_square`: the regularised
/// upper incomplete gamma function `Q(freedom/2, chi_square/2)` (NIST Digital Library of Mathematical Functions,
/// 8.2.4; series 8.7.1 and continued fraction 8.9.2).
///
/// 1 for a chi-square of 0 or below. `None` with no degree of freedom, for what is not a number, and where the
/// expansion did not converge.
pub fn chi_square_above(chi_square: f64, freedom: usize) -> Option<f64> {
    if freedom == 0 || chi_square.is_nan() {
        return None;
    }
    if chi_square <= 0.0 {
        return Some(1.0);
    }
    // More than 2^52 readings are not to be had.
    #[expect(clippy::cast_precision_loss, reason = "a count of readings")]
    let a = 0.5 * freedom as f64;
    let x = 0.5 * chi_square;
    let front = (a * x.ln() - x - ln_gamma_of_halves(freedom)).exp();
    if x < a + 1.0 {
        lower_series(a, x).map(|sum| (1.0 - front * sum).clamp(0.0, 1.0))
    } else {
        upper_fraction(a, x).map(|fraction| (front * fraction).clamp(0.0, 1.0))
    }
}

/// `ln Γ(n/2)`, by the recurrence from `Γ(1/2) = √π` and `Γ(1) = 1`.
fn ln_gamma_of_halves(n: usize) -> f64 {
    let (mut argument, mut sum) =
        if n.is_multiple_of(2) { (1.0, 0.0) } else { (0.5, 0.5 * std::f64::consts::PI.ln()) };
    for _ in 1..n.div_ceil(2) {
        sum += f64::ln(argument);
        argument += 1.0;
    }
    sum
}

fn lower_series(a: f64, x: f64) -> Option<f64> {
    let (mut term, mut sum, mut n) = (1.0 / a, 1.0 / a, a);
    for _ in 0..MOST_TERMS {
        n += 1.0;
        term *= x / n;
        sum += term;
        if term < sum * TERM_TOLERANCE {
            return Some(sum);
        }
    }
    None
}

/// By Lentz's method.
fn upper_fraction(a: f64, x: f64) -> Option<f64> {
    const TINY: f64 = 1e-300;
    let off_zero = |value: f64| if value.abs() < TINY { TINY } else { value };
    let mut b = x + 1.0 - a;
    let mut c = 1.0 / TINY;
    let mut d = 1.0 / off_zero(b);
    let mut fraction = d;
    let mut i = 0.0;
    for _ in 0..MOST_TERMS {
        i += 1.0;
        let numerator = -i * (i - a);
        b += 2.0;
        d = 1.0 / off_zero(numerator * d + b);
        c = off_zero(b + numerator / c);
        let factor = c * d;
        fraction *= factor;
        if (factor - 1.0).abs() < 1e-15 {
            return Some(fraction);
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn critical_values_have_their_probability() {
        // Upper critical values of the chi-square distribution, NIST/SEMATECH e-Handbook, 1.3.6.7.4, to 3 decimals;
        // remembered, and confirmed by the closed forms below.
        // Half of the third decimal moves a probability by at most 4 parts in 10 000.
        for (freedom, critical, above) in
            [(1, 3.841, 0.05), (2, 5.991, 0.05), (10, 18.307, 0.05), (10, 23.209, 0.01), (100, 124.342, 0.05)]
        {
            assert_relative_eq!(chi_square_above(critical, freedom).unwrap(), above, max_relative = 4e-4);
        }
    }

    #[test]
    fn even_degrees_of_freedom_agree_with_the_finite_sum() {
        // Q(k, x) = e^−x Σ x^j / j!, j below k: exact for whole k.
        for k in [1_usize, 2, 5, 20] {
            for x in [0.01, 0.7, 3.0, 19.0, 45.0] {
                let (mut term, mut sum) = (1.0, 1.0);
                for j in 1..k {
                    #[expect(clippy::cast_precision_loss, reason = "small")]
                    let j = j as f64;
                    term *= x / j;
                    sum += term;
                }
                let exact = sum * f64::exp(-x);
                assert_relative_eq!(chi_square_above(2.0 * x, 2 * k).unwrap(), exact, max_relative = 1e-11);
            }
        }
    }

    #[test]
    fn odd_degrees_of_freedom_step_by_the_recurrence() {
        // Q(a + 1, x) = Q(a, x) + x^a e^−x / Γ(a + 1).
        for freedom in [1, 3, 7, 31] {
            for chi in [0.2, 2.0, 11.0, 60.0] {
                let (a, x): (f64, f64) = (0.5 * f64::from(u32::try_from(freedom).unwrap()), 0.5 * chi);
                let step = (a * x.ln() - x - ln_gamma_of_halves(freedom + 2)).exp();
                let both = chi_square_above(chi, freedom).unwrap() + step;
                assert_relative_eq!(chi_square_above(chi, freedom + 2).unwrap(), both, max_relative = 1e-11);
            }
        }
    }

    #[test]
    fn nothing_to_judge_has_no_probability() {
        assert_eq!(chi_square_above(3.0, 0), None);
        assert_eq!(chi_square_above(f64::NAN, 3), None);
        assert_eq!(chi_square_above(0.0, 3), Some(1.0));
        assert!(chi_square_above(1e6, 3).unwrap() < 1e-100);
    }
}
