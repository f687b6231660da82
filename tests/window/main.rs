//! The window driven without a display: by pointer, by keys, and as a screen reader sees it.

#![expect(clippy::unwrap_used, reason = "helpers of tests, outside a test function")]

mod bench;
mod commands;
mod files;
mod harness;
mod log;
mod parts;
mod rack;
mod teach;
mod weigh_in;
