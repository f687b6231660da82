//! The rooms of the window. A view reads the document, keeps its own view state, and asks for edits.

pub mod bench;
pub mod log;
pub(crate) mod picks;
