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
pub(crate) mod text;
mod tokens;
mod whole;
mod write;

pub use contents::Contents;
pub use error::{FileError, FileFault};
pub use locate::Position;
pub use read::{demo, demo_text, parse_yard, read_yard, read_yard_seen};
pub use save::{KeptCopy, Over, SaveError, Saved, save_yard, save_yard_over};
pub use whole::{WriteError, write_whole};
pub use write::to_ron;
