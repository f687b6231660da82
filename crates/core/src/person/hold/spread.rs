//! How much stronger or weaker people are than the average.

use super::super::ranges;
use crate::fault::Fault;
use crate::least_squares::chi_square_above;

/// Standard deviation of a strength over its mean, among people of one survey: La Delfa & Potvin 2017, Appl. Ergon.
/// 59:410–421, for arms; as quoted by others. That the back spreads alike and that the spread is normal are our guess.
pub const STRENGTH_VARIATION: f64 = 0.277;

/// No number of standard deviations here is looked for beyond this one; the 99th percentile lies at 2.33.
const FARTHEST: f64 = 8.0;
/// 8 / 2^50 is below the rounding of any percentile.
const BISECTIONS: u32 = 50;

/// A person's strength over the average one's, when `percentile` in a hundred people are weaker.
///
/// # Errors
/// A percentile outside [`STRENGTH_PERCENTILE`](ranges::STRENGTH_PERCENTILE).
pub fn strength_factor(percentile: f64) -> Result<f64, Fault> {
    match ranges::STRENGTH_PERCENTILE.refusal(percentile) {
        Some(message) => Err(Fault { path: "strength_percentile".to_owned(), message }),
        None => Ok(1.0 + STRENGTH_VARIATION * deviations(percentile / 100.0)),
    }
}

/// Where a standard normal number lies that is above this share of all.
fn deviations(share_below: f64) -> f64 {
    if share_below < 0.5 {
        return -deviations(1.0 - share_below);
    }
    // The square of a normal number is a chi-square of one degree of freedom.
    let above = |z: f64| 0.5 * chi_square_above(z * z, 1).unwrap_or(0.0);
    let (mut low, mut high) = (0.0, FARTHEST);
    if above(low) <= 1.0 - share_below {
        return low;
    }
    for _ in 0..BISECTIONS {
        let middle = 0.5 * (low + high);
        if above(middle) > 1.0 - share_below {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn five_and_ninety_five_in_a_hundred_have_their_factor() {
        // Worked from the .277: 1 ∓ 1.6449 · .277.
        assert_abs_diff_eq!(strength_factor(5.0).unwrap(), 0.544, epsilon = 0.000_5);
        assert_abs_diff_eq!(strength_factor(95.0).unwrap(), 1.456, epsilon = 0.000_5);
        assert_abs_diff_eq!(strength_factor(50.0).unwrap(), 1.0, epsilon = 1e-15);
    }

    #[test]
    fn deviations_are_those_of_the_normal_table() {
        // Standard normal quantiles, from memory: any table has them.
        for (share, z) in [(0.75, 0.674_490), (0.9, 1.281_552), (0.975, 1.959_964), (0.99, 2.326_348)] {
            assert_abs_diff_eq!(deviations(share), z, epsilon = 5e-7);
            assert_abs_diff_eq!(deviations(1.0 - share), -z, epsilon = 5e-7);
        }
    }

    #[test]
    fn law_the_share_below_counts_what_lies_below() {
        // Midpoint sums of the density from the mean outward: an error of some h² / 24 of its slope.
        for percentile in [55.0, 70.0, 93.0, 98.5] {
            let z = deviations(percentile / 100.0);
            let steps = 20_000;
            let width = z / f64::from(steps);
            let density = |at: f64| (-0.5 * at * at).exp() / std::f64::consts::TAU.sqrt();
            let sum: f64 = (0..steps).map(|step| density((f64::from(step) + 0.5) * width)).sum();
            assert_abs_diff_eq!(0.5 + sum * width, percentile / 100.0, epsilon = 1e-9);
        }
    }

    #[test]
    fn the_weakest_have_some_strength_and_nobody_is_off_the_scale() {
        assert!(strength_factor(1.0).unwrap() > 0.3);
        for odd in [0.0, 100.0, -5.0, f64::NAN] {
            let fault = strength_factor(odd).unwrap_err();
            assert!(fault.message.contains("outside 1…99"), "{fault}");
        }
    }
}
