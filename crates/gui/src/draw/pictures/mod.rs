//! Whole drawings, from figures to a scene: the same for the window, for files and for paper.
//!
//! A picture borrows what it shows and knows how to fit itself into a rectangle; whoever shows it may put handles
//! over it.

mod bench;
mod hung;
mod log;
mod moving;
mod shown;
mod sketch;
mod stack;
mod stand;

pub(crate) use bench::HAND_MM_PER_N;
pub use bench::{BenchPicture, BenchShows, BenchStand};
pub use hung::{Hung, HungPicture};
pub use log::{LogPicture, NUMBER_OUT_PT, REACH_OUT_PT, at_work, run_at};
pub use moving::Moving;
pub use shown::ShownPicture;
pub use sketch::{Drawn, Sketch};
pub use stack::{StackPicture, Stacked};
