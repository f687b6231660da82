//! Shared helpers of the outside checks.

pub mod bench_yard;

use std::fmt;

/// How far apart two values may lie.
#[derive(Clone, Copy, Debug)]
pub enum Within {
    /// By no more than this, in the values' own unit.
    Absolute(f64),
    /// By no more than this share of the larger of the two.
    Relative(f64),
}

/// Checks that the core's value and the outside one lie together, whichever is the larger; NaN is never close.
///
/// # Panics
/// With both values, their difference and what would have been allowed, where they do not.
#[track_caller]
pub fn assert_close(what: impl fmt::Display, ours: f64, outside: f64, within: Within) {
    let allowed = match within {
        Within::Absolute(allowed) => allowed,
        Within::Relative(share) => share * ours.abs().max(outside.abs()),
    };
    let difference = (ours - outside).abs();
    assert!(
        difference <= allowed,
        "{what}: ours {ours:e}, outside {outside:e}: {difference:e} apart, at most {allowed:e} allowed"
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_near_value_is_close_from_either_side() {
        assert_close("above", 1.001, 1.0, Within::Absolute(0.002));
        assert_close("below", 0.999, 1.0, Within::Relative(0.002));
    }

    #[test]
    #[should_panic(expected = "ours 9.97e-1, outside 1e0")]
    fn too_low_is_told_with_both_values() {
        assert_close("low", 0.997, 1.0, Within::Absolute(0.002));
    }

    #[test]
    #[should_panic(expected = "ours 1.003e0, outside 1e0")]
    fn too_high_is_told_with_both_values() {
        assert_close("high", 1.003, 1.0, Within::Relative(0.002));
    }

    #[test]
    #[should_panic(expected = "ours NaN")]
    fn not_a_number_is_close_to_nothing() {
        assert_close("nan", f64::NAN, f64::NAN, Within::Absolute(1.0));
    }
}
