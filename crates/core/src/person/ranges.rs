//! The allowed range of every number of a person, in the unit in which a person writes it.

use crate::fault::{Fault, Range};

/// Stature, barefoot.
pub const STATURE: Range = Range::new("stature", "mm", 1300.0, 2200.0);
/// Body mass.
pub const BODY_MASS: Range = Range::new("body mass", "kg", 35.0, 200.0);
/// A straight arm from the shoulder joint to the middle of a grip.
pub const ARM: Range = Range::new("arm from shoulder to grip", "mm", 400.0, 900.0);
/// A leg from the floor to the hip joint.
pub const LEG: Range = Range::new("leg from floor to hip", "mm", 600.0, 1300.0);
/// Share of people who are weaker.
pub const STRENGTH_PERCENTILE: Range = Range::new("strength percentile", "%", 1.0, 99.0);
/// Slope of the ground across the log, rising from the near to the far side.
pub const SLOPE: Range = Range::new("slope across the log", "°", -25.0, 25.0);
/// Room for a hand round a grip.
pub const HAND_ROOM: Range = Range::new("room for a hand", "mm", 0.0, 150.0);

/// The value, or why not.
pub(super) fn checked(path: &str, range: &Range, value: f64) -> Result<f64, Fault> {
    match range.refusal(value) {
        Some(message) => Err(Fault { path: path.to_owned(), message }),
        None => Ok(value),
    }
}
