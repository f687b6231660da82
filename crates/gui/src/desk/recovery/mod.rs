//! Unsaved work kept in a file of its own, so that it outlives a window that is lost.
//!
//! Each window has one such file, and holds a lock beside it for as long as it lives. A file whose lock is free was
//! left by a window that was lost; the next window offers it.

mod keeper;
mod left;
mod on_panic;
mod on_signal;
mod record;

pub use keeper::Keeper;
pub use left::{Left, left_in};
pub use on_panic::keep_on_panic;
pub use on_signal::keep_on_signal;
pub use record::Record;

use std::path::{Path, PathBuf};

/// What a file of kept work is called after the window's own part.
const KEPT: &str = ".recovery.ron";
/// The same of its lock.
const LOCK: &str = ".lock";

/// The folder of kept work in the program's own folder.
pub fn folder_in(own: &Path) -> PathBuf {
    own.join("recovery")
}
