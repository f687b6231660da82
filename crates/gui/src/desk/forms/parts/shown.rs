//! A part that is being made, checked: what is drawn of it.

use barpoise_core::{Bar, Chain, Powerhead, Setup};

/// The part, as far as its numbers make one.
#[derive(Debug)]
pub enum PartShown {
    /// A head with its tanks and grips.
    Powerhead(Box<Powerhead>),
    /// A plate.
    Bar(Box<Bar>),
    /// A run of chain on a rail.
    Chain(Chain),
    /// The saw put together.
    Setup(Box<Setup>),
}
