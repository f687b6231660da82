//! What the checks compare by fails where it should.

use barpoise_checks::{Within, assert_close};

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
