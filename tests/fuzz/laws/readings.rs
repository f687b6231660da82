//! The readings of a yard whose other parts are in order.

use super::yard;

/// A yard in order up to its readings, which are the only seed that takes more than text.
const SMALL_YARD: &str = include_str!("../seeds/yard/small.yard.ron");

/// Holds the law of yards to one that has this text as its list of readings.
pub fn holds(text: &str) {
    let yard = SMALL_YARD.trim_end().trim_end_matches(')');
    yard::holds(&format!("{yard}    readings: [{text}],\n)\n"));
}
