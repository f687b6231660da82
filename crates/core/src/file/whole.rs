//! Writing a file whole or not at all.

use super::sort::Sort;
use std::fmt;
use std::fs::{self, File, Metadata};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant, SystemTime};

const PREFIX: &str = ".yard-";
const SUFFIX: &str = ".part";
/// How long a write waits for another program's in the same folder, which takes some hundredths of a second.
const LONGEST_WAIT: Duration = Duration::from_secs(2);
const BETWEEN_TRIES: Duration = Duration::from_millis(5);
/// Where folders cannot be locked, a half-written file older than this is nobody's.
const SURELY_LEFT: Duration = Duration::from_secs(60 * 60);

/// Why a file was not written. Whatever stood there before stands as it was.
#[derive(Debug)]
pub struct WriteError {
    /// What was being done.
    pub step: &'static str,
    /// What the system said, as plain words.
    pub cause: String,
}

impl WriteError {
    pub(super) fn new(step: &'static str, error: &io::Error) -> Self {
        Self { step, cause: plain_words(error) }
    }
}

impl fmt::Display for WriteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.step, self.cause)
    }
}

impl std::error::Error for WriteError {}

/// What a person can do something about, without the system's numbers.
fn plain_words(error: &io::Error) -> String {
    use io::ErrorKind as Kind;
    match error.kind() {
        Kind::StorageFull => "the disk is full".to_owned(),
        Kind::QuotaExceeded => "your share of the disk is used up".to_owned(),
        Kind::FileTooLarge => "the system allows no file of this size".to_owned(),
        Kind::ReadOnlyFilesystem => "the disk is read-only".to_owned(),
        Kind::PermissionDenied => "you may not write here (permission denied)".to_owned(),
        Kind::NotFound => "it is no longer there".to_owned(),
        _ => error.to_string(),
    }
}

/// Writes a file, atomically: to a new file in the same folder, flushed to the disk, then renamed over the old one.
/// A link is followed, the old file's permissions are kept. Gives the place where it stands.
///
/// # Errors
/// [`WriteError`] with the step that failed.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<PathBuf, WriteError> {
    Place::take(path)?.write(bytes)
}

/// Writes a file as [`write_whole`] does, where `may` lets it: it is told of a file that stands there, links followed, and
/// of what sort it is, while no other write of this kind goes on in the folder.
///
/// # Errors
/// [`WriteError`] with the step that failed, or with what `may` says against it.
pub fn write_whole_over(
    path: &Path,
    bytes: &[u8],
    may: impl FnOnce(&Path, Sort) -> Result<(), String>,
) -> Result<PathBuf, WriteError> {
    let place = Place::take(path)?;
    if place.is_taken() {
        let sort = Sort::in_file(place.target())
            .map_err(|error| WriteError::new("the old file cannot be looked at", &error))?;
        may(place.target(), sort).map_err(|cause| WriteError { step: "the file is left as it is", cause })?;
    }
    place.write(bytes)
}

/// Writes a file as [`write_whole`] does, for the eyes of its owner alone.
///
/// # Errors
/// [`WriteError`] with the step that failed.
pub fn write_whole_private(path: &Path, bytes: &[u8]) -> Result<PathBuf, WriteError> {
    let mut place = Place::take(path)?;
    place.private = true;
    place.write(bytes)
}

/// The place of a file that is about to be written; while it is held, no other write of this kind goes on in its
/// folder.
pub(super) struct Place {
    target: PathBuf,
    folder: PathBuf,
    old: Option<Metadata>,
    /// For its owner alone, whatever the old file's permissions were.
    private: bool,
    /// Given back when dropped.
    _turn: Option<File>,
}

impl Place {
    /// Takes it, and throws away what writes that were cut short have left in the folder.
    pub(super) fn take(path: &Path) -> Result<Self, WriteError> {
        let target = followed(path).map_err(|error| WriteError::new("the link leads nowhere", &error))?;
        let folder = match target.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
            _ => PathBuf::from("."),
        };
        if !folder.is_dir() {
            let cause = folder.display().to_string();
            return Err(WriteError { step: "there is no such folder", cause });
        }
        let turn = turn_in(&folder);
        throw_left_away(&folder, turn.is_some());
        let old = match fs::metadata(&target) {
            Ok(meta) if meta.is_dir() => {
                let cause = "there is a folder of this name".to_owned();
                return Err(WriteError { step: "the place is taken", cause });
            }
            Ok(meta) if !meta.is_file() => {
                let cause = "there is a device or a pipe of this name".to_owned();
                return Err(WriteError { step: "the place is taken", cause });
            }
            Ok(meta) if meta.permissions().readonly() => {
                let cause =
                    "it is write-protected; give leave to write it, or save under another name".to_owned();
                return Err(WriteError { step: "the file is left as it is", cause });
            }
            Ok(meta) => Some(meta),
            Err(error) if error.kind() == io::ErrorKind::NotFound => None,
            Err(error) => return Err(WriteError::new("the old file cannot be looked at", &error)),
        };
        Ok(Self { target, folder, old, private: false, _turn: turn })
    }

    /// The file itself where a link was named.
    pub(super) fn target(&self) -> &Path {
        &self.target
    }

    /// True where there is a file already.
    pub(super) const fn is_taken(&self) -> bool {
        self.old.is_some()
    }

    pub(super) fn write(self, bytes: &[u8]) -> Result<PathBuf, WriteError> {
        let failed = |step| move |error: io::Error| WriteError::new(step, &error);
        // No more readable than the old one at any time.
        let for_anyone = !self.private && self.old.is_none();
        let mut file =
            new_file(&self.folder, for_anyone).map_err(failed("no new file can be made in the folder"))?;
        file.write_all(bytes)
            .and_then(|()| file.flush())
            .map_err(failed("the new file cannot be written"))?;
        let rights = match &self.old {
            _ if self.private => for_its_owner(file.as_file()),
            Some(meta) => keep_rights(file.as_file(), meta),
            None => Ok(()),
        };
        rights.map_err(failed("the old file's permissions cannot be kept"))?;
        file.as_file().sync_all().map_err(failed("the new file cannot be flushed to the disk"))?;
        if !self.private && self.old.as_ref().is_some_and(has_other_names) {
            self.write_in_place(file, bytes)?;
        } else {
            file.persist(&self.target)
                .map_err(|error| failed("the new file cannot take the old one's place")(error.error))?;
        }
        // The name is safe once the folder is flushed; some systems cannot do that, and the file is whole either way.
        let _ = File::open(&self.folder).and_then(|folder| folder.sync_all());
        Ok(self.target)
    }

    /// Writes over the file itself, for a new one would leave its other names with the old contents. Until that is done
    /// the new contents stand whole beside it, where a write that is cut short leaves them.
    fn write_in_place(&self, new: tempfile::NamedTempFile, bytes: &[u8]) -> Result<(), WriteError> {
        let failed = |step| move |error: io::Error| WriteError::new(step, &error);
        let beside = persisted_beside(new, &self.target, SAVING)
            .map_err(failed("the new contents cannot be kept beside the old file"))?;
        let written = File::options().write(true).open(&self.target).and_then(|mut file| {
            file.write_all(bytes)?;
            file.set_len(bytes.len() as u64)?;
            file.sync_all()
        });
        written.map_err(|error| WriteError {
            step: "the file could not be written through, for all its names",
            cause: format!("{}; the new contents stand whole as {}", plain_words(&error), beside.display()),
        })?;
        // What stays is a second copy of what was written.
        let _ = fs::remove_file(beside);
        Ok(())
    }
}

/// What contents that are being written over a file of several names are called meanwhile, behind that file's name.
pub(super) const SAVING: &str = ".saving";
/// Files of one name and ending beside another; more than this are not kept.
const MOST_BESIDE: u32 = 99;

/// Gives a new file the first free name behind that of another: `a.ron.old`, `a.ron.old2`, ….
pub(super) fn persisted_beside(
    mut file: tempfile::NamedTempFile,
    target: &Path,
    ending: &str,
) -> io::Result<PathBuf> {
    for number in 1..=MOST_BESIDE {
        let mut name = target.as_os_str().to_owned();
        name.push(if number == 1 { ending.to_owned() } else { format!("{ending}{number}") });
        let path = PathBuf::from(name);
        match file.persist_noclobber(&path) {
            Ok(_) => return Ok(path),
            Err(taken) if taken.error.kind() == io::ErrorKind::AlreadyExists => file = taken.file,
            Err(error) => return Err(error.error),
        }
    }
    Err(io::Error::other(format!("there are {MOST_BESIDE} copies beside it already")))
}

/// True where a file has more than one name in its file system.
fn has_other_names(meta: &Metadata) -> bool {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        meta.nlink() > 1
    }
    #[cfg(not(unix))]
    {
        let _ = meta;
        false
    }
}

fn for_its_owner(file: &File) -> io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        file.set_permissions(fs::Permissions::from_mode(0o600))?;
    }
    let _ = file;
    Ok(())
}

/// Makes a file as readable as another, and no more: of its owner and group where one may give those, and with its
/// permissions; those of a group that cannot be given go to nobody.
pub(super) fn keep_rights(file: &File, old: &Metadata) -> io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt, PermissionsExt, fchown};
        // Before the permissions, for a change of group takes some of them away.
        let given =
            fchown(file, Some(old.uid()), Some(old.gid())).or_else(|_| fchown(file, None, Some(old.gid())));
        let mode = old.permissions().mode();
        let mode =
            if given.is_ok() || file.metadata()?.gid() == old.gid() { mode } else { without_group(mode) };
        file.set_permissions(fs::Permissions::from_mode(mode))
    }
    #[cfg(not(unix))]
    file.set_permissions(old.permissions())
}

/// The permissions of a file whose group became another: whoever was of the old group, and whoever is of the new one,
/// may do what both its group and everyone could.
#[cfg(unix)]
const fn without_group(mode: u32) -> u32 {
    const SET_GROUP: u32 = 0o2000;
    let both = (mode >> 3) & mode & 0o7;
    (mode & !(SET_GROUP | 0o77)) | (both << 3) | both
}

/// The file behind links; the path itself where there is nothing yet.
fn followed(path: &Path) -> io::Result<PathBuf> {
    match fs::symlink_metadata(path) {
        Ok(meta) if meta.is_symlink() => path.canonicalize(),
        _ => Ok(path.to_owned()),
    }
}

/// The turn to write in a folder; `None` where folders cannot be locked, or another program keeps this one locked.
fn turn_in(folder: &Path) -> Option<File> {
    let folder = File::open(folder).ok()?;
    let begun = Instant::now();
    loop {
        match folder.try_lock() {
            Ok(()) => return Some(folder),
            Err(fs::TryLockError::WouldBlock) if begun.elapsed() < LONGEST_WAIT => {
                std::thread::sleep(BETWEEN_TRIES);
            }
            Err(_) => return None,
        }
    }
}

/// Throws away half-written files. Whoever has the turn knows that nobody is writing one.
fn throw_left_away(folder: &Path, has_turn: bool) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    let is_left = |entry: &fs::DirEntry| {
        let name = entry.file_name();
        let Some(name) = name.to_str() else { return false };
        let ours = name.starts_with(PREFIX) && name.ends_with(SUFFIX);
        let modified = || entry.metadata().and_then(|meta| meta.modified()).ok();
        let age = || SystemTime::now().duration_since(modified()?).ok();
        ours && (has_turn || age().is_some_and(|age| age > SURELY_LEFT))
    };
    for entry in entries.flatten().filter(is_left) {
        // What cannot be thrown away is in nobody's way.
        let _ = fs::remove_file(entry.path());
    }
}

/// A new file beside others: with the permissions that any new file of the person gets, or for its owner alone.
pub(super) fn new_file(folder: &Path, for_anyone: bool) -> io::Result<tempfile::NamedTempFile> {
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    let mut builder = tempfile::Builder::new();
    builder.prefix(PREFIX).suffix(SUFFIX);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(if for_anyone { 0o666 } else { 0o600 }));
    }
    #[cfg(not(unix))]
    let _ = for_anyone;
    builder.tempfile_in(folder)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_writes_that_were_cut_short_have_left_is_thrown_away() {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        for name in [".yard-abc.part", ".yard-def.part", ".yard-mine", "other.part"] {
            fs::write(path(name), "half").unwrap();
        }
        write_whole(&path("a.ron"), b"whole").unwrap();
        let mut names: Vec<_> =
            fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
        names.sort();
        assert_eq!(names, [".yard-mine", "a.ron", "other.part"]);
    }

    #[cfg(unix)]
    #[test]
    fn a_write_protected_file_is_left_and_group_and_mode_are_kept() {
        use std::os::unix::fs::{MetadataExt, PermissionsExt};
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        for mode in [0o444, 0o400] {
            fs::write(&path, "old").unwrap();
            fs::set_permissions(&path, fs::Permissions::from_mode(mode)).unwrap();
            let error = write_whole(&path, b"new").unwrap_err().to_string();
            assert!(error.contains("write-protected"), "{error}");
            assert_eq!(fs::read_to_string(&path).unwrap(), "old");
            fs::remove_file(&path).unwrap();
        }
        fs::write(&path, "old").unwrap();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
        // Only root may give any group.
        let given = std::os::unix::fs::chown(&path, None, Some(12_345)).is_ok();
        let group = fs::metadata(&path).unwrap().gid();
        assert!(!given || group == 12_345);
        write_whole(&path, b"new").unwrap();
        let now = fs::metadata(&path).unwrap();
        assert_eq!((now.gid(), now.mode() & 0o777), (group, 0o640));
    }

    #[cfg(unix)]
    #[test]
    fn all_names_of_a_file_keep_one_contents_and_nothing_is_left_beside_it() {
        use std::os::unix::fs::MetadataExt;
        let folder = tempfile::tempdir().unwrap();
        let (one, other) = (folder.path().join("a.ron"), folder.path().join("b.ron"));
        fs::write(&one, "old and longer than the new").unwrap();
        fs::hard_link(&one, &other).unwrap();
        write_whole(&one, b"new").unwrap();
        assert_eq!(fs::read_to_string(&other).unwrap(), "new");
        assert_eq!(fs::metadata(&one).unwrap().ino(), fs::metadata(&other).unwrap().ino());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2);
    }

    #[cfg(unix)]
    #[test]
    fn rights_of_a_group_that_cannot_be_given_go_to_nobody() {
        assert_eq!(without_group(0o100_640), 0o100_600);
        assert_eq!(without_group(0o100_660), 0o100_600);
        assert_eq!(without_group(0o100_644), 0o100_644, "what everyone could, everyone still can");
        assert_eq!(without_group(0o100_604), 0o100_600, "who was of the group could not, and still cannot");
        assert_eq!(without_group(0o102_775), 0o100_755);
    }

    #[cfg(unix)]
    #[test]
    fn what_is_private_is_so_from_the_first_byte_and_stays_so() {
        use std::os::unix::fs::{MetadataExt, PermissionsExt};
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("kept.ron");
        for _ in 0..2 {
            write_whole_private(&path, b"mine").unwrap();
            assert_eq!(fs::metadata(&path).unwrap().mode() & 0o777, 0o600);
            fs::set_permissions(&path, fs::Permissions::from_mode(0o644)).unwrap();
        }
    }

    #[test]
    fn a_file_is_only_written_over_where_that_was_let() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.svg");
        let never = |_: &Path, sort: Sort| Err(format!("it is {}", sort.words()));
        write_whole_over(&path, b"<svg/>", never).unwrap();
        let error = write_whole_over(&path, b"<svg>2</svg>", never).unwrap_err().to_string();
        assert_eq!(error, "the file is left as it is: it is a drawing (SVG)");
        assert_eq!(fs::read(&path).unwrap(), b"<svg/>");
        write_whole_over(&path, b"<svg>2</svg>", |_, _| Ok(())).unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"<svg>2</svg>");
    }

    #[cfg(unix)]
    #[test]
    fn a_device_is_not_written_over() {
        let error = write_whole(Path::new("/dev/null"), b"x").unwrap_err().to_string();
        assert!(error.contains("there is a device or a pipe of this name"), "{error}");
    }

    #[test]
    fn without_the_turn_only_what_is_old_is_thrown_away() {
        let folder = tempfile::tempdir().unwrap();
        let (new, old) = (folder.path().join(".yard-new.part"), folder.path().join(".yard-old.part"));
        for path in [&new, &old] {
            fs::write(path, "half").unwrap();
        }
        let long_ago = SystemTime::now() - SURELY_LEFT - Duration::from_secs(60);
        File::options().write(true).open(&old).unwrap().set_modified(long_ago).unwrap();
        throw_left_away(folder.path(), false);
        assert!(new.exists() && !old.exists());
    }

    #[cfg(unix)]
    #[test]
    fn two_that_write_in_a_folder_take_turns() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        std::thread::scope(|scope| {
            for byte in [b'a', b'b', b'c', b'd'] {
                let path = &path;
                scope.spawn(move || {
                    for _ in 0..20 {
                        write_whole(path, &[byte; 4096]).unwrap();
                    }
                });
            }
        });
        let bytes = fs::read(&path).unwrap();
        assert!(bytes.len() == 4096 && bytes.windows(2).all(|pair| pair.first() == pair.last()));
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn the_reasons_a_person_can_do_something_about_have_plain_words() {
        let said = |kind| plain_words(&io::Error::from(kind));
        assert_eq!(said(io::ErrorKind::StorageFull), "the disk is full");
        assert_eq!(said(io::ErrorKind::ReadOnlyFilesystem), "the disk is read-only");
        assert!(said(io::ErrorKind::PermissionDenied).starts_with("you may not write here"));
    }
}
