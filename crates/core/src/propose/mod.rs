//! Starting values for a part that nobody has measured yet.
//!
//! All of them are *our guess* ([`PROPOSED_MARK`]): rules fitted to the invented demo, so that a saw can be
//! looked at before it is measured. What is still such a value is named in the part's note and thereby in the
//! file; what is typed over is taken out of it. A proposed part passes its checks.

mod bar;
mod blank;
mod chain;
mod doubt;
mod note;
mod powerhead;
mod setup;
mod sources;

pub use bar::{Drive, propose_bar};
pub use blank::{common_bar, common_chain, common_powerhead};
pub use chain::propose_chain;
pub(crate) use doubt::PLATE_LENGTH;
pub use doubt::{DOUBT_MARK, LoopRound, NoseDoubt, head_doubt, link_doubt, nose_doubt, plate_doubt};
pub use note::{Proposed, is_proposed, mark_proposed, proposed_fields, proposed_words, unmark_proposed};
pub use powerhead::propose_powerhead;
pub use setup::propose_setup;
pub use sources::PROPOSED_ASSUMPTIONS;

use crate::fault::Range;
use crate::mark::Mark;

/// Where every proposed value comes from.
pub const PROPOSED_MARK: Mark = Mark::OurGuess;

/// A value to the nearest step, within its range.
fn rounded(value: f64, step: f64, range: &Range) -> f64 {
    let steps = (value / step).round();
    // A step such as 0.1 is written as its reciprocal, so that 46 steps are 4.6 and not 4.6000000000000005.
    let near = if step < 1.0 { steps / (1.0 / step).round() } else { steps * step };
    near.clamp(range.min, range.max)
}
