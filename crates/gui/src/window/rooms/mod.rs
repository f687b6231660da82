//! The rooms of the window. A view reads the document, keeps its own view state, and asks for edits.

pub mod bench;
mod beside;
mod chart_marks;
pub mod log;
pub mod parts;
mod person_fields;
pub(crate) mod picks;
pub mod rack;
pub(crate) mod sources;
pub mod teach;
pub mod weigh_in;

pub(crate) use log::SECONDS_PER_SETTING;
