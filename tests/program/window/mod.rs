//! The window driven without a display: by pointer, by keys, and as a screen reader sees it.

#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "helpers of tests, outside a test function"
)]

mod any_text;
mod any_yard;
mod bench;
mod commands;
mod extremes;
mod eyes;
mod files;
mod harness;
mod log;
mod long_names;
mod parts;
mod person;
mod photograph;
mod rack;
mod seen;
mod shapes;
mod sizes;
mod sources;
mod teach;
mod told;
mod weigh_in;
