//! Mass, balance and reach of a chainsaw and its guide bars.

mod fault;
mod loop_path;
mod mass;

pub mod geometry;
pub mod log_section;
pub mod ranges;
pub mod units;

pub use fault::{Fault, Range};
pub use loop_path::{loop_length, sprocket_pitch_radius, LoopError, LoopPath};
pub use mass::MassPart;
