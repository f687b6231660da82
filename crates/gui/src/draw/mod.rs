//! Drawings, rung by rung: `strokes` are lists of fills, lines and texts, and how they are painted or written; `pieces` are
//! the saw, the log and marks as strokes; `pictures` fit pieces into a place; a `sheet` of paper has pictures and tables.

pub mod output;
pub mod pictures;
pub mod pieces;
pub mod sheet;
pub mod strokes;
pub mod theme;
