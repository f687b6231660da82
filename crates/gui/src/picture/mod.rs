//! Whole drawings, from figures to a scene: the same for the window, for files and for paper.
//!
//! A picture borrows what it shows and knows how to fit itself into a rectangle; whoever shows it may put handles
//! over it.

mod bench;
mod log;
mod sketch;
mod stack;

pub use bench::{BenchPicture, BenchShows, BenchStand};
pub use log::{LogPicture, NUMBER_OUT_PT, REACH_OUT_PT};
pub use sketch::{Drawn, Sketch};
pub use stack::{StackPicture, Stacked};
