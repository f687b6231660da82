//! Work that was left by windows that were lost.

use super::record::Record;
use super::{KEPT, LOCK};
use barpoise_core::file::{LARGEST_YARD_BYTES, read_yard};
use std::fs::{self, File, TryLockError};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

/// What a broken file is called from then on, so that it is told of once.
const BROKEN: &str = ".broken";
/// More than this no window leaves: the largest yard that is written, and the line before it.
const LARGEST_BYTES: u64 = LARGEST_YARD_BYTES + (64 << 10);

/// Work left by a window that was lost. While it is held, no other window offers it.
#[derive(Debug)]
pub struct Left {
    file: PathBuf,
    record: Result<Record, String>,
    lock_path: PathBuf,
    _lock: File,
}

impl Left {
    /// Where it is kept.
    pub fn file(&self) -> &Path {
        &self.file
    }

    /// The work.
    ///
    /// # Errors
    /// Why it cannot be read, as one line that names the file.
    pub const fn record(&self) -> Result<&Record, &String> {
        self.record.as_ref()
    }

    /// Removes it: it is safe elsewhere, or given up.
    ///
    /// # Errors
    /// Where it cannot be removed.
    pub fn remove(self) -> io::Result<()> {
        fs::remove_file(&self.file)?;
        // A lock that stays is cleared away by the next start.
        let _ = fs::remove_file(&self.lock_path);
        Ok(())
    }

    /// Puts a broken file aside, so that it is not offered again; gives its new name.
    fn put_aside(&mut self) {
        if let Some(aside) = set_aside(&self.file) {
            let _ = fs::remove_file(&self.lock_path);
            self.file = aside;
        }
    }
}

/// All that was left in a folder, newest first. What is in its yard's file after all is removed, a broken file is put
/// aside and listed, and what belongs to a window that still lives is left alone.
pub fn left_in(folder: &Path) -> Vec<Left> {
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let mut left = Vec::new();
    for path in entries.flatten().map(|entry| entry.path()) {
        let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
        if let Some(stem) = name.strip_suffix(KEPT) {
            left.extend(taken(&path, folder.join(format!("{stem}{LOCK}"))));
        } else if let Some(stem) = name.strip_suffix(LOCK)
            && !folder.join(format!("{stem}{KEPT}")).exists()
        {
            clear_lock(&path);
        }
    }
    left.sort_by_key(|left| left.record.as_ref().ok().map(|record| std::cmp::Reverse(record.kept)));
    left
}

/// The work in a file, unless its window lives.
fn taken(file: &Path, lock_path: PathBuf) -> Option<Left> {
    // What is no file cannot be a lock, and opening it might wait for ever.
    if fs::symlink_metadata(&lock_path).is_ok_and(|meta| !meta.is_file()) {
        set_aside(&lock_path)?;
    }
    let lock = File::options().write(true).create(true).truncate(false).open(&lock_path).ok()?;
    if matches!(lock.try_lock(), Err(TryLockError::WouldBlock)) {
        return None;
    }
    let name = file.display().to_string();
    let record = own_text(file)
        .map_err(|reason| format!("{name}: {reason}"))
        .and_then(|text| Record::read(&text, &name));
    let mut left = Left { file: file.to_owned(), record, lock_path, _lock: lock };
    match &left.record {
        Ok(record) if is_in_its_file(record) => {
            // What cannot be removed is offered once more, which loses nothing.
            let _ = left.remove();
            None
        }
        Ok(_) => Some(left),
        Err(_) => {
            left.put_aside();
            Some(left)
        }
    }
}

/// The text of kept work. What no window can have left here is not read at all: it may be without end, or somebody else's.
fn own_text(path: &Path) -> Result<String, String> {
    let failed = |error: io::Error| error.to_string();
    let meta = fs::symlink_metadata(path).map_err(failed)?;
    if !meta.is_file() {
        return Err("this is no file, so no window left it; it was not read".to_owned());
    }
    if meta.len() > LARGEST_BYTES {
        let (mib, most) = (meta.len() >> 20, LARGEST_BYTES >> 20);
        return Err(format!("{mib} MiB, more than the {most} MiB that a window leaves; it was not read"));
    }
    if !belongs_to_folder_owner(path, &meta) {
        return Err(
            "it belongs to somebody else than its folder, so no window left it; it was not read".to_owned()
        );
    }
    let mut text = String::new();
    // It may have grown since.
    File::open(path).map_err(failed)?.take(LARGEST_BYTES).read_to_string(&mut text).map_err(failed)?;
    Ok(text)
}

fn belongs_to_folder_owner(path: &Path, meta: &fs::Metadata) -> bool {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        path.parent()
            .and_then(|folder| fs::metadata(folder).ok())
            .is_some_and(|folder| folder.uid() == meta.uid())
    }
    #[cfg(not(unix))]
    {
        let _ = (path, meta);
        true
    }
}

/// Gives something another name, under which nobody looks for it; `None` where that cannot be done.
fn set_aside(path: &Path) -> Option<PathBuf> {
    let mut name = path.to_owned().into_os_string();
    name.push(BROKEN);
    let aside = PathBuf::from(name);
    fs::rename(path, &aside).ok()?;
    Some(aside)
}

fn is_in_its_file(record: &Record) -> bool {
    let Some(path) = &record.work.path else { return false };
    read_yard(path).is_ok_and(|yard| yard.file() == record.work.yard.file())
}

/// Removes the lock of a window that left no work.
fn clear_lock(path: &Path) {
    if fs::symlink_metadata(path).is_ok_and(|meta| !meta.is_file()) {
        set_aside(path);
        return;
    }
    let Ok(lock) = File::options().write(true).open(path) else { return };
    if lock.try_lock().is_ok() {
        // Whoever else clears up may have been faster.
        let _ = fs::remove_file(path);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::desk::document::{Document, Work};
    use crate::desk::recovery::Keeper;
    use barpoise_core::file::Over;
    use std::sync::Arc;

    fn work() -> Work {
        let yard = Arc::new(barpoise_core::file::demo().unwrap());
        Work { yard, path: None, seen: None }
    }

    fn begun(folder: &Path) -> Keeper {
        Keeper::begin(folder, || ()).unwrap()
    }

    fn count(folder: &Path) -> usize {
        fs::read_dir(folder).unwrap().count()
    }

    #[test]
    fn what_a_lost_window_left_is_offered_once_and_that_of_a_living_one_never() {
        let folder = tempfile::tempdir().unwrap();
        let (mut lost, mut living) = (begun(folder.path()), begun(folder.path()));
        for keeper in [&mut lost, &mut living] {
            keeper.tend(Some(work()));
            keeper.keep_now();
            assert!(keeper.file().exists());
        }
        assert!(left_in(folder.path()).is_empty(), "both live");
        let file = lost.file().to_owned();
        drop(lost);
        let left = left_in(folder.path());
        assert_eq!(left.iter().map(Left::file).collect::<Vec<_>>(), [file.as_path()]);
        assert!(left_in(folder.path()).is_empty(), "another window offers it");
        drop(left);
        for left in left_in(folder.path()) {
            assert_eq!(left.record().unwrap().work.yard.file(), work().yard.file());
            left.remove().unwrap();
        }
        assert!(left_in(folder.path()).is_empty());
        living.close();
        assert_eq!(count(folder.path()), 0, "a window that closes leaves nothing");
    }

    #[test]
    fn work_that_is_saved_or_given_up_is_no_longer_kept() {
        let folder = tempfile::tempdir().unwrap();
        let mut keeper = begun(folder.path());
        keeper.tend(Some(work()));
        keeper.keep_now();
        keeper.tend(None);
        keeper.keep_now();
        assert!(!keeper.file().exists());
        drop(keeper);
        assert!(left_in(folder.path()).is_empty());
        assert_eq!(count(folder.path()), 0, "nor is the lock of a lost window");
    }

    #[test]
    fn work_that_reached_its_file_after_all_is_not_offered() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.yard.ron");
        let mut document = Document::demo().unwrap();
        document.save(&path, Over::Nothing).unwrap();
        let kept = folder.path().join("recovery");
        let mut keeper = begun(&kept);
        keeper.tend(Some(Work { path: Some(path), seen: document.seen(), ..work() }));
        keeper.keep_now();
        drop(keeper);
        assert!(left_in(&kept).is_empty());
        assert_eq!(count(&kept), 0);
    }

    #[test]
    fn a_broken_file_is_named_and_kept_and_told_of_once() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("window-1-1-0.recovery.ron");
        fs::write(&file, "(version: 2, name: \"half").unwrap();
        let left = left_in(folder.path());
        assert_eq!(left.len(), 1);
        assert!(left[0].record().unwrap_err().contains("window-1-1-0"));
        assert!(left[0].file().exists() && !file.exists());
        let aside = left[0].file().to_owned();
        drop(left);
        assert!(left_in(folder.path()).is_empty());
        assert!(aside.exists());
    }

    /// No timed test: it waits as long as it takes, and cannot end where change after change puts the writing off.
    #[test]
    fn work_is_kept_while_it_goes_on_changing() {
        let folder = tempfile::tempdir().unwrap();
        let mut keeper = begun(folder.path());
        while !keeper.file().exists() {
            keeper.tend(Some(work()));
            std::thread::sleep(std::time::Duration::from_millis(10));
        }
        assert!(Record::read(&fs::read_to_string(keeper.file()).unwrap(), "kept").is_ok());
    }

    #[test]
    fn a_folder_that_cannot_be_written_is_told_of_once() {
        let folder = tempfile::tempdir().unwrap();
        let kept = folder.path().join("recovery");
        let mut keeper = begun(&kept);
        fs::remove_dir_all(&kept).unwrap();
        keeper.tend(Some(work()));
        keeper.keep_now();
        keeper.keep_now();
        let trouble = keeper.trouble().unwrap().unwrap();
        assert!(trouble.contains("there is no such folder"), "{trouble}");
        assert_eq!(keeper.trouble(), None, "told once");
        fs::create_dir(&kept).unwrap();
        keeper.keep_now();
        assert_eq!(keeper.trouble(), Some(None), "and that it works again");
    }

    #[cfg(unix)]
    #[test]
    fn what_no_window_can_have_left_is_put_aside_unread() {
        use std::os::unix::fs::{chown, symlink};
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let good = Record::text(&work(), std::time::SystemTime::now()).unwrap();
        let pipe =
            |path: &Path| assert!(std::process::Command::new("mkfifo").arg(path).status().unwrap().success());
        pipe(&at(&format!("pipe{KEPT}")));
        pipe(&at(&format!("locked{LOCK}")));
        fs::write(at(&format!("locked{KEPT}")), &good).unwrap();
        pipe(&at(&format!("alone{LOCK}")));
        File::create(at(&format!("huge{KEPT}"))).unwrap().set_len(6 << 30).unwrap();
        fs::create_dir(at(&format!("folder{KEPT}"))).unwrap();
        symlink("/dev/zero", at(&format!("link{KEPT}"))).unwrap();
        fs::write(at(&format!("theirs{KEPT}")), &good).unwrap();
        // Only root may give a file away.
        let given = chown(at(&format!("theirs{KEPT}")), Some(12_345), None).is_ok();
        let left = left_in(folder.path());
        let (taken, refused): (Vec<_>, Vec<_>) = left.iter().partition(|left| left.record().is_ok());
        assert_eq!(taken.len(), if given { 1 } else { 2 }, "{left:?}");
        assert_eq!(refused.len(), if given { 5 } else { 4 }, "{left:?}");
        for left in refused {
            let said = left.record().unwrap_err();
            assert!(said.ends_with("it was not read"), "{said}");
            assert!(left.file().to_str().unwrap().ends_with(BROKEN), "{left:?}");
        }
        assert!(at(&format!("alone{LOCK}{BROKEN}")).symlink_metadata().is_ok());
    }

    #[cfg(unix)]
    #[test]
    fn kept_work_is_its_owners_alone() {
        use std::os::unix::fs::MetadataExt;
        let folder = tempfile::tempdir().unwrap();
        let mut keeper = begun(folder.path());
        keeper.tend(Some(work()));
        keeper.keep_now();
        assert_eq!(fs::metadata(keeper.file()).unwrap().mode() & 0o777, 0o600);
    }
}
