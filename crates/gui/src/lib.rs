//! The window and the command line of Barpoise, in layers: each may name what stands before it, none what comes after.
//!
//! - `desk`: the document, its edits and history, words, forms; it knows no window.
//! - `draw`: from strokes to a sheet of paper.
//! - `cli` and `window`: what a person calls and sees.

pub mod cli;
pub mod desk;
pub mod draw;
pub mod window;
