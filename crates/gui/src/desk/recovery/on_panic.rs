//! What a fault of the program itself leaves: one line, and the work kept.

use super::keeper::Shared;
use std::io::Write;
use std::sync::{Arc, Mutex, Weak};

/// The window whose work is kept.
static GUARDED: Mutex<Weak<Shared>> = Mutex::new(Weak::new());

/// From now on a panic keeps this work.
pub(super) fn guard(shared: &Arc<Shared>) {
    if let Ok(mut guarded) = GUARDED.lock() {
        *guarded = Arc::downgrade(shared);
    }
}

/// A panic, such as the window library's over a missing system library, becomes one line; where there is unsaved
/// work, it is kept, and a second line says where.
pub fn keep_on_panic() {
    std::panic::set_hook(Box::new(|info| {
        let text = info.payload_as_str().unwrap_or("unknown fault");
        let line = text.lines().next().unwrap_or_default();
        eprintln!("barpoise: stopped by a fault: {line}");
        keep_at_once();
    }));
}

/// Keeps unsaved work whatever state the window is in, and says where.
pub(super) fn keep_at_once() {
    let shared = GUARDED.try_lock().ok().and_then(|guarded| guarded.upgrade());
    match shared.and_then(|shared| shared.write_at_once()) {
        None => {}
        Some(Ok(file)) => {
            say(&format!("unsaved work is kept in {}; the next start offers it", file.display()))
        }
        Some(Err(error)) => say(&format!("unsaved work could not be kept: {error}")),
    }
}

/// Where nobody listens any more, such as a terminal that was closed, nothing is said.
fn say(words: &str) {
    let _ = writeln!(std::io::stderr(), "barpoise: {words}");
}
