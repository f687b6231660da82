//! Being told to end from outside: by the system that shuts down, a session that ends, or Ctrl+C.

use super::on_panic::keep_at_once;
use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// A window that does not close within this time of being told to is not waited for.
#[cfg(unix)]
const PATIENCE: std::time::Duration = std::time::Duration::from_secs(2);

/// From now on unsaved work is kept at once when the program is told to end, and the window is asked to close: `told` is
/// set, and `wake` called. A window that does not listen is ended all the same.
///
/// # Errors
/// Where the system does not let a program listen.
#[cfg(unix)]
pub fn keep_on_signal(told: Arc<AtomicBool>, wake: impl Fn() + Send + 'static) -> io::Result<()> {
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    // What a shell says of a program that a signal ended.
    const ENDED_BY: i32 = 128;
    let mut signals = signal_hook::iterator::Signals::new([SIGHUP, SIGINT, SIGTERM])?;
    let listen = move || {
        if let Some(signal) = signals.forever().next() {
            keep_at_once();
            told.store(true, Ordering::Relaxed);
            wake();
            std::thread::sleep(PATIENCE);
            keep_at_once();
            std::process::exit(ENDED_BY + signal);
        }
    };
    std::thread::Builder::new().name("signals".to_owned()).spawn(listen).map(|_| ())
}

/// Elsewhere a window is asked to close like any other.
///
/// # Errors
/// None.
#[cfg(not(unix))]
pub fn keep_on_signal(_told: Arc<AtomicBool>, _wake: impl Fn() + Send + 'static) -> io::Result<()> {
    Ok(())
}
