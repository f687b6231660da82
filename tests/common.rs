//! Shared helpers of the outside checks.

pub mod bench_yard;

use proptest::test_runner::Config;
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

/// So many random cases where a cheap law gets 256; `PROPTEST_CASES` raises both in proportion.
pub fn few_cases(of: u32) -> Config {
    Config { cases: (of * Config::default().cases).div_ceil(256), ..Config::default() }
}
