//! What must hold of any text whatever. The fuzz targets look for text that breaks a law; `corpus_replay.rs` holds
//! every seed, and every text that once broke one, to the same laws.
//!
//! Another parser gets a file here, a target of its name in `targets` and in `Cargo.toml`, a folder of its name in
//! `seeds`, and a line in `corpus_replay.rs`. `entry.rs` stands apart because it needs the window's crate.

#![allow(dead_code, reason = "each target is a program of its own and uses one of the laws")]

pub mod diameters;
pub mod keep;
pub mod lesson;
pub mod measure;
pub mod readings;
pub mod yard;

/// Holds a law to bytes that are text. Bytes that are none are refused before any parser sees them.
pub fn on_text(bytes: &[u8], law: fn(&str)) {
    if let Ok(text) = std::str::from_utf8(bytes) {
        law(text);
    }
}

/// A line of an error that a person can read: not empty, without control characters, and not endless.
pub fn is_one_line(said: &str) {
    const LONGEST: usize = 500;
    assert!(!said.trim().is_empty(), "an error that says nothing");
    assert!(!said.chars().any(char::is_control), "an error of more than one line: {said:?}");
    assert!(said.chars().count() <= LONGEST, "an error of {} characters: {said:?}", said.chars().count());
}

/// Two numbers that are the same but for the rounding of a change of units.
pub fn same(a: f64, b: f64) -> bool {
    // Two changes of units, each right to half a unit in the last place.
    (a - b).abs() <= 4.0 * f64::EPSILON * a.abs().max(b.abs())
}
