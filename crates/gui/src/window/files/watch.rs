//! Whether the yard's file still holds what was read from it or written to it: looked at by a thread of its own, which
//! wakes the window only when that changes.

use barpoise_core::file::Contents;
use std::fs::Metadata;
use std::io;
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::{Duration, SystemTime};

/// How often the file is looked at.
const INTERVAL: Duration = Duration::from_secs(2);

/// A file, and what is known to stand in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::window) struct Target {
    pub(in crate::window) path: PathBuf,
    pub(in crate::window) seen: Contents,
}

/// What stands on disk now, held against that.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(in crate::window) enum OnDisk {
    /// The same, as far as can be told.
    #[default]
    AsSeen,
    /// Something else.
    Changed(Contents),
    /// No file, or no folder.
    Gone,
}

impl Target {
    /// Looks into the file. What cannot be read counts as unchanged here; saving says why.
    pub(in crate::window) fn look(&self) -> OnDisk {
        match Contents::in_file(&self.path) {
            Ok(Some(there)) if there == self.seen => OnDisk::AsSeen,
            Ok(Some(there)) => OnDisk::Changed(there),
            Ok(None) => OnDisk::Gone,
            Err(error) if error.kind() == io::ErrorKind::NotADirectory => OnDisk::Gone,
            Err(_) => OnDisk::AsSeen,
        }
    }
}

/// The thread that looks.
#[derive(Debug)]
pub(in crate::window) struct Watch {
    targets: Sender<Target>,
    news: Receiver<(Target, OnDisk)>,
    target: Option<Target>,
}

impl Watch {
    /// Begins; `wake` is called whenever there is news.
    pub(in crate::window) fn begin(wake: impl Fn() + Send + 'static) -> io::Result<Self> {
        let (targets, receive) = channel();
        let (tell, news) = channel();
        std::thread::Builder::new().name("file watch".to_owned()).spawn(move || {
            watch(&receive, |target, on_disk| {
                // A window that is closed hears no more.
                let _ = tell.send((target.clone(), on_disk));
                wake();
            });
        })?;
        Ok(Self { targets, news, target: None })
    }

    /// Looks at this file from now on; at once where it is another one or `now` says so.
    pub(in crate::window) fn follow(&mut self, target: &Target, now: bool) {
        if now || self.target.as_ref() != Some(target) {
            self.target = Some(target.clone());
            // Without the thread nothing is noticed before saving, which looks for itself.
            let _ = self.targets.send(target.clone());
        }
    }

    /// What was noticed about this file since the last time.
    pub(in crate::window) fn news_of(&self, target: &Target) -> Option<OnDisk> {
        self.news.try_iter().filter(|(of, _)| of == target).last().map(|(_, on_disk)| on_disk)
    }
}

/// What tells without reading that a file may have changed.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Outside {
    length: u64,
    modified: Option<SystemTime>,
    #[cfg(unix)]
    changed: (u64, i64, i64),
}

impl Outside {
    fn of(meta: &Metadata) -> Self {
        #[cfg(unix)]
        use std::os::unix::fs::MetadataExt;
        Self {
            length: meta.len(),
            modified: meta.modified().ok(),
            #[cfg(unix)]
            changed: (meta.ino(), meta.ctime(), meta.ctime_nsec()),
        }
    }
}

fn watch(targets: &Receiver<Target>, tell: impl Fn(&Target, OnDisk)) {
    let Ok(mut target) = targets.recv() else { return };
    let mut told = OnDisk::AsSeen;
    let mut outside = None;
    loop {
        let now = std::fs::metadata(&target.path).ok().map(|meta| Outside::of(&meta));
        if now.is_none() || now != outside {
            outside = now;
            let found = target.look();
            if found != told {
                told = found;
                tell(&target, found);
            }
        }
        match targets.recv_timeout(INTERVAL) {
            Ok(next) => {
                // The window forgets what it was told of another file, not of the same one.
                if next != target {
                    told = OnDisk::AsSeen;
                }
                (target, outside) = (next, None);
            }
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => return,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;

    #[test]
    fn a_change_and_a_loss_are_noticed_and_a_touch_is_not() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        fs::write(&path, "mine").unwrap();
        let (wake, woken) = channel();
        let mut watch = Watch::begin(move || wake.send(()).unwrap()).unwrap();
        let target = Target { path: path.clone(), seen: Contents::of(b"mine") };
        watch.follow(&target, false);
        let file = fs::File::options().write(true).open(&path).unwrap();
        file.set_modified(SystemTime::UNIX_EPOCH).unwrap();
        watch.follow(&target, true);
        assert!(woken.recv_timeout(Duration::from_millis(200)).is_err(), "nothing new was written");
        fs::write(&path, "theirs").unwrap();
        // By itself, at the next look.
        woken.recv_timeout(INTERVAL * 5).unwrap();
        assert_eq!(watch.news_of(&target), Some(OnDisk::Changed(Contents::of(b"theirs"))));
        fs::remove_file(&path).unwrap();
        watch.follow(&target, true);
        woken.recv_timeout(INTERVAL * 5).unwrap();
        assert_eq!(watch.news_of(&target), Some(OnDisk::Gone));
        fs::write(&path, "mine").unwrap();
        watch.follow(&target, true);
        woken.recv_timeout(INTERVAL * 5).unwrap();
        assert_eq!(watch.news_of(&target), Some(OnDisk::AsSeen));
    }

    #[test]
    fn a_lost_folder_is_a_lost_file() {
        let target = Target { path: "/no/such/folder/a.ron".into(), seen: Contents::of(b"") };
        assert_eq!(target.look(), OnDisk::Gone);
    }
}
