//! Drawings as they come out: on the screen, as SVG, PNG and PDF, at scale 1 and 2.

#![expect(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic, reason = "tests may fail loudly")]

mod handout;
mod image;
mod moving;
mod readme;
mod same_everywhere;
mod screen;
