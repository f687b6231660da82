//! gui
pub mod cli;
