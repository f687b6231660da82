//! Files: reading with located errors; yard files with their mirror and their writer.

mod contents;
pub(crate) mod error;
mod explain;
pub(crate) mod keep;
pub(crate) mod kind;
mod locate;
mod mend;
pub(crate) mod nearest;
pub(crate) mod parse;
mod read;
mod save;
mod sort;
pub(crate) mod text;
mod tokens;
mod whole;
mod write;

pub use contents::Contents;
pub use error::{FileError, FileFault};
pub use keep::text_with_changes;
pub use locate::Position;
pub use read::{LARGEST_BYTES as LARGEST_YARD_BYTES, demo, demo_text, parse_yard, read_yard, read_yard_seen};
pub use save::{KeptCopy, Over, SaveError, Saved, save_yard, save_yard_over};
pub use sort::Sort;
pub use whole::{WriteError, write_whole, write_whole_over, write_whole_private};
pub use write::to_ron;
