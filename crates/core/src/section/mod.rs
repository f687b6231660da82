//! The section of a log: its outline of arcs and lines over its ground, pieces of it, and its two sides. Frame and angles are
//! those of [`crate::log`].

mod edge;
pub mod limits;
mod log_section;
mod region;
mod side;

pub(crate) use edge::unit;
pub use edge::{ArcEdge, Edge, LineEdge};
pub(crate) use limits::checked;
pub use log_section::LogSection;
pub use region::{NOTHING_LEFT_M2, Outline};
pub(crate) use region::{Region, cut_out, fresh, is_empty};
pub use side::Side;
