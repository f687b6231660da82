//! Keeping the unsaved work of one window, on a thread of its own.

use super::record::Record;
use super::{KEPT, LOCK, on_panic};
use crate::desk::document::Work;
use barpoise_core::file::write_whole_private;
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant, SystemTime, UNIX_EPOCH};

/// Work is kept when nothing has changed for this long, …
const CALM: Duration = Duration::from_millis(700);
/// … and at the latest this long after the first change, whatever is being dragged: within three seconds it is on the disk.
const LATEST: Duration = Duration::from_millis(2000);
/// Names tried for the lock before giving up.
const TRIES: u32 = 20;

/// What the window, its thread and a panic share.
#[derive(Debug)]
pub(super) struct Shared {
    file: PathBuf,
    /// The newest work; `None` where nothing is unsaved.
    work: Mutex<Option<Work>>,
}

#[derive(Debug)]
enum Order {
    /// The work is another one.
    Changed,
    /// Keep it now, and say when it is done.
    Now(Sender<()>),
}

/// Keeps the unsaved work of one window.
///
/// Dropped, it leaves the file where it is: only [`Keeper::close`] says that the work is saved or given up.
#[derive(Debug)]
pub struct Keeper {
    shared: Arc<Shared>,
    orders: Sender<Order>,
    troubles: Receiver<Option<String>>,
    handed: Option<Work>,
    lock_path: PathBuf,
    /// Locked while the window lives; the system frees it however the window ends.
    _lock: File,
}

impl Keeper {
    /// Begins to keep work in a folder, which is made where it is missing. `wake` is called when there is trouble to
    /// tell of.
    ///
    /// # Errors
    /// Where the folder cannot be made or written.
    pub fn begin(folder: &Path, wake: impl Fn() + Send + 'static) -> io::Result<Self> {
        fs::create_dir_all(folder)?;
        let (stem, lock_path, lock) = locked_name(folder)?;
        let shared = Arc::new(Shared { file: folder.join(format!("{stem}{KEPT}")), work: Mutex::new(None) });
        let (orders, receive) = channel();
        let (tell, troubles) = channel();
        let for_thread = Arc::clone(&shared);
        std::thread::Builder::new().name("recovery".to_owned()).spawn(move || {
            keep_on(&for_thread, &receive, |trouble| {
                // A window that is closed hears no more.
                let _ = tell.send(trouble);
                wake();
            });
        })?;
        on_panic::guard(&shared);
        Ok(Self { shared, orders, troubles, handed: None, lock_path, _lock: lock })
    }

    /// Where the work is kept while there is any.
    pub fn file(&self) -> &Path {
        &self.shared.file
    }

    /// Takes in the work as it stands; `None` where nothing is unsaved.
    pub fn tend(&mut self, work: Option<Work>) {
        let is_same = match (&work, &self.handed) {
            (None, None) => true,
            (Some(work), Some(handed)) => work.is_same(handed),
            _ => false,
        };
        if !is_same {
            self.handed.clone_from(&work);
            *self.shared.work.lock().unwrap_or_else(PoisonError::into_inner) = work;
            // The thread ends with the window.
            let _ = self.orders.send(Order::Changed);
        }
    }

    /// Keeps the work at once, and waits until it is done.
    pub fn keep_now(&self) {
        let (done, wait) = channel();
        if self.orders.send(Order::Now(done)).is_ok() {
            // An error says that the thread is gone; there is nothing to wait for then.
            let _ = wait.recv();
        }
    }

    /// What went wrong since the last time, as one line; `Some(None)` where keeping works again.
    pub fn trouble(&self) -> Option<Option<String>> {
        self.troubles.try_recv().ok()
    }

    /// The window closes, with its work saved or given up.
    pub fn close(&mut self) {
        self.tend(None);
        self.keep_now();
        // What cannot be removed is empty and in nobody's way.
        let _ = fs::remove_file(&self.lock_path);
    }
}

/// A name that no other window has, with its lock held.
fn locked_name(folder: &Path) -> io::Result<(String, PathBuf, File)> {
    let millis = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_millis());
    for number in 0..TRIES {
        let stem = format!("window-{}-{millis}-{number}", std::process::id());
        let path = folder.join(format!("{stem}{LOCK}"));
        let lock = match File::options().write(true).create_new(true).open(&path) {
            Ok(lock) => lock,
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => continue,
            Err(error) => return Err(error),
        };
        // Another window that clears up may have taken it between the two; then it is gone, and the next name serves.
        if lock.try_lock().is_ok() && path.exists() {
            return Ok((stem, path, lock));
        }
    }
    Err(io::Error::other("no name is free"))
}

/// The thread's work: waits for calm after each change, then writes.
fn keep_on(shared: &Shared, orders: &Receiver<Order>, tell: impl Fn(Option<String>)) {
    let mut told = None;
    while let Ok(order) = orders.recv() {
        let done = match order {
            Order::Now(done) => Some(done),
            Order::Changed => match calm(shared, orders) {
                Ok(done) => done,
                // The window is gone without a word, and what was kept last stands.
                Err(RecvTimeoutError::Disconnected | RecvTimeoutError::Timeout) => return,
            },
        };
        let trouble = shared.write().err();
        if trouble != told {
            told.clone_from(&trouble);
            tell(trouble);
        }
        if let Some(done) = done {
            // Whoever asked may have stopped waiting.
            let _ = done.send(());
        }
    }
}

/// Waits until nothing changes; at once where nothing is unsaved any more. Gives whom to tell, where somebody waits.
fn calm(shared: &Shared, orders: &Receiver<Order>) -> Result<Option<Sender<()>>, RecvTimeoutError> {
    let begun = Instant::now();
    while shared.has_work() {
        let left = LATEST.saturating_sub(begun.elapsed());
        match orders.recv_timeout(CALM.min(left)) {
            Ok(Order::Now(done)) => return Ok(Some(done)),
            Ok(Order::Changed) if begun.elapsed() < LATEST => {}
            Err(RecvTimeoutError::Disconnected) => return Err(RecvTimeoutError::Disconnected),
            Ok(Order::Changed) | Err(RecvTimeoutError::Timeout) => return Ok(None),
        }
    }
    Ok(None)
}

impl Shared {
    fn has_work(&self) -> bool {
        self.work.lock().unwrap_or_else(PoisonError::into_inner).is_some()
    }

    /// Writes the newest work, or removes the file where there is none.
    fn write(&self) -> Result<(), String> {
        let work = self.work.lock().unwrap_or_else(PoisonError::into_inner).clone();
        match work {
            Some(work) => self.write_work(&work).map(|_| ()),
            None => match fs::remove_file(&self.file) {
                Err(error) if error.kind() != io::ErrorKind::NotFound => Err(format!(
                    "{}: kept work that is saved by now cannot be removed: {error}",
                    self.file.display()
                )),
                _ => Ok(()),
            },
        }
    }

    fn write_work(&self, work: &Work) -> Result<PathBuf, String> {
        let text = Record::text(work, SystemTime::now())?;
        // Whoever may read the yard itself, what is in no file yet is its owner's alone.
        write_whole_private(&self.file, text.as_bytes())
            .map_err(|error| format!("{}: {error}", self.file.display()))
    }

    /// Writes the newest work without waiting for anything; gives the file. `None` where nothing is unsaved, or the work
    /// is just being taken in.
    pub(super) fn write_at_once(&self) -> Option<Result<PathBuf, String>> {
        let work = match self.work.try_lock() {
            Ok(work) => work.clone(),
            Err(std::sync::TryLockError::Poisoned(poisoned)) => poisoned.into_inner().clone(),
            Err(std::sync::TryLockError::WouldBlock) => None,
        };
        Some(self.write_work(&work?))
    }
}
