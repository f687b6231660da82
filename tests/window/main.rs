//! The window driven without a display: by pointer, by keys, and as a screen reader sees it.

mod bench;
mod harness;
mod log;
