//! Writing a yard to disk: whole or not at all, and never over what nobody has seen.

use super::contents::Contents;
use super::explain::version_of;
use super::keep::edited;
use super::read::{LARGEST_BYTES, parse_yard};
use super::tokens::has_comments;
use super::whole::{Place, WriteError, keep_rights, new_file, persisted_beside};
use super::write::{HEADING, to_ron};
use crate::yard::Yard;
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::{fmt, fs};

/// What a yard may be written over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Over {
    /// Over whatever stands there: the person was asked.
    Anything,
    /// Only over this, or where nothing stands.
    Only(Contents),
    /// Only where nothing stands.
    Nothing,
}

/// What became of a yard that was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Saved {
    /// Where it stands: the file itself where a link was named.
    pub path: PathBuf,
    /// What stands there now.
    pub contents: Contents,
    /// The old file's copy, where something of it would have been lost.
    pub copy: Option<KeptCopy>,
}

/// A copy of the old file beside the new one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptCopy {
    /// Where it stands.
    pub path: PathBuf,
    /// The old file's version, where the new one has a newer.
    pub older_version: Option<u32>,
}

impl fmt::Display for KeptCopy {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let path = self.path.display();
        match self.older_version {
            Some(version) => write!(
                f,
                "The old file was of version {version}, which older programs read; it stands as {path}"
            ),
            None => write!(f, "Its comments cannot be kept in the new file; the old one stands as {path}"),
        }
    }
}

/// Why a yard was not written. The old file stands as it was.
#[derive(Debug)]
pub struct SaveError {
    path: PathBuf,
    cause: Cause,
    /// True where a file stood there before, and still does.
    had_old: bool,
}

#[derive(Debug)]
enum Cause {
    /// Something else stands there than what may be written over.
    Unseen(Over),
    Failed(WriteError),
}

impl SaveError {
    /// True where nothing failed, but the file is not the one that may be written over.
    pub const fn is_unseen(&self) -> bool {
        matches!(self.cause, Cause::Unseen(_))
    }
}

impl fmt::Display for SaveError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { path, cause, had_old } = self;
        write!(f, "{}: ", path.display())?;
        match cause {
            Cause::Unseen(Over::Nothing) => write!(f, "there is a file of this name already")?,
            Cause::Unseen(_) => write!(f, "another program has changed the file since it was read")?,
            Cause::Failed(error) => error.fmt(f)?,
        }
        if *had_old { write!(f, " (the old file stands as it was)") } else { Ok(()) }
    }
}

impl std::error::Error for SaveError {}

/// Writes a yard to a file, over whatever stands there; see [`save_yard_over`].
///
/// # Errors
/// [`SaveError`] with the step that failed: nothing of the old file is lost.
pub fn save_yard(yard: &Yard, path: &Path) -> Result<Saved, SaveError> {
    save_yard_over(yard, path, Over::Anything)
}

/// Writes a yard to a file, atomically: to a new file in the same folder, flushed to the disk, then renamed over the
/// old one. A link is followed, the old file's permissions are kept. Over the file that was read, only what changed is
/// written, where it stands, and nothing where nothing changed. Where comments of the old file cannot be kept so, and
/// where older programs read no newer version, a copy of it is kept beside it (`…ron.old`, `…ron.old2`, …).
///
/// # Errors
/// [`SaveError`] with the step that failed, or where what stands there may not be written over: nothing of the old
/// file is lost.
pub fn save_yard_over(yard: &Yard, path: &Path, over: Over) -> Result<Saved, SaveError> {
    let refused = |cause| SaveError { path: path.to_owned(), cause, had_old: path.is_file() };
    let failed = |error| refused(Cause::Failed(error));
    let step = |step| move |error: io::Error| refused(Cause::Failed(WriteError::new(step, &error)));
    let mut text = to_ron(yard.file()).map_err(|error| {
        failed(WriteError { step: "the yard cannot be put into text", cause: error.to_string() })
    })?;
    let sized = |text: &str| {
        let (bytes, most) = (text.len() as u64, LARGEST_BYTES);
        let cause = || {
            format!(
                "{} KiB, more than the {} KiB that can be read again",
                bytes.div_ceil(1 << 10),
                most >> 10
            )
        };
        if bytes <= most {
            Ok(())
        } else {
            Err(failed(WriteError { step: "the yard is too large", cause: cause() }))
        }
    };
    sized(&text)?;
    let place = Place::take(path).map_err(failed)?;
    let mut copy = None;
    if place.is_taken() {
        if over == Over::Nothing {
            return Err(refused(Cause::Unseen(over)));
        }
        let unread = "the old file cannot be read";
        let contents = Contents::in_file(place.target()).map_err(step(unread))?;
        if matches!(over, Over::Only(seen) if Some(seen) != contents) {
            return Err(refused(Cause::Unseen(over)));
        }
        // A larger one is no yard: it is kept as it is, whatever it says.
        let mut old = Vec::new();
        let file = fs::File::open(place.target()).map_err(step(unread))?;
        file.take(LARGEST_BYTES + 1).read_to_end(&mut old).map_err(step(unread))?;
        let seen = if matches!(over, Over::Only(_)) { std::str::from_utf8(&old).ok() } else { None };
        let mut comments_stay = false;
        if let Some((own, read)) = seen.and_then(|own| Some((own, parse_yard(own, "").ok()?))) {
            if read.file() == yard.file() {
                // It says this already, in its own words.
                return Ok(Saved { path: place.target().to_owned(), contents: Contents::of(&old), copy });
            }
            if let Some((edited, whole)) = edited(own, read.file(), yard.file(), &text) {
                sized(&edited)?;
                (text, comments_stay) = (edited, whole);
            }
        }
        copy = kept_copy(place.target(), &old, yard.file().version, comments_stay)
            .map_err(step("no copy of the old file can be kept"))?;
    }
    let path = place.write(text.as_bytes()).map_err(|error| {
        // The old file stands as it was: nobody needs its copy.
        if let Some(copy) = &copy {
            let _ = fs::remove_file(&copy.path);
        }
        failed(error)
    })?;
    Ok(Saved { path, contents: Contents::of(text.as_bytes()), copy })
}

/// Copies the old file aside where comments of it would be lost or it is of an older version.
fn kept_copy(target: &Path, bytes: &[u8], version: u32, comments_stay: bool) -> io::Result<Option<KeptCopy>> {
    // What is not text, or too long to be read through, cannot be judged, and so is kept.
    let whole = bytes.len() as u64 <= LARGEST_BYTES;
    let text = std::str::from_utf8(bytes).ok().filter(|_| whole);
    let older_version = text.and_then(version_of).filter(|old| *old < version);
    let stays = |text: &str| comments_stay || !has_comments(text, HEADING);
    if older_version.is_none() && text.is_some_and(stays) {
        return Ok(None);
    }
    let mut file = new_file(target.parent().unwrap_or(Path::new("")), false)?;
    io::copy(&mut fs::File::open(target)?, &mut file)?;
    keep_rights(file.as_file(), &fs::metadata(target)?)?;
    file.as_file().sync_all()?;
    Ok(Some(KeptCopy { path: persisted_beside(file, target, ".old")?, older_version }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::{demo, demo_text, read_yard};

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<_> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_yard_comes_back_as_it_was_saved() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("höfe 木.yard.ron");
        let yard = demo().unwrap();
        let saved = save_yard(&yard, &path).unwrap();
        let contents = Contents::in_file(&path).unwrap().unwrap();
        assert_eq!(saved, Saved { path: path.clone(), contents, copy: None });
        assert_eq!(read_yard(&path).unwrap().file(), yard.file());
        // What the writer itself wrote holds nothing that is lost.
        assert_eq!(save_yard(&yard, &path).unwrap().copy, None);
        assert_eq!(names(folder.path()), ["höfe 木.yard.ron"], "nothing is left lying about");
    }

    #[test]
    fn comments_are_kept_in_a_copy() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        for copy in ["a.ron.old", "a.ron.old2"] {
            fs::write(&path, demo_text()).unwrap();
            let saved = save_yard(&demo().unwrap(), &path).unwrap();
            let copied = saved.copy.unwrap();
            assert_eq!(copied.path, folder.path().join(copy));
            assert!(copied.to_string().contains("comments cannot be kept"), "{copied}");
            assert_eq!(fs::read_to_string(folder.path().join(copy)).unwrap(), demo_text());
        }
    }

    #[test]
    fn an_older_version_is_kept_in_a_copy() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        let mut file = demo().unwrap().file().clone();
        (file.readings, file.weigh_ins, file.woods) = (Vec::new(), Vec::new(), Vec::new());
        for head in &mut file.powerheads {
            head.standard_uncertainty = Default::default();
        }
        file.version = 1;
        let first = Yard::new(file.clone()).unwrap();
        assert_eq!(save_yard(&first, &path).unwrap().copy, None);
        let text = fs::read_to_string(&path).unwrap();
        assert_eq!(save_yard(&first, &path).unwrap().copy, None, "the same version");
        file.version = 2;
        let copy = save_yard(&Yard::new(file).unwrap(), &path).unwrap().copy.unwrap();
        assert_eq!(copy.older_version, Some(1));
        assert_eq!(fs::read_to_string(&copy.path).unwrap(), text);
        assert!(copy.to_string().starts_with("The old file was of version 1"), "{copy}");
    }

    #[test]
    fn a_yard_that_could_not_be_read_again_is_not_saved() {
        let folder = tempfile::tempdir().unwrap();
        let mut file = demo().unwrap().file().clone();
        file.note = "x".repeat(5 << 20);
        let error =
            save_yard(&Yard::new(file).unwrap(), &folder.path().join("a.ron")).unwrap_err().to_string();
        assert!(error.contains("the yard is too large: 51"), "{error}");
        assert_eq!(names(folder.path()).len(), 0);
    }

    #[test]
    fn a_file_of_any_size_is_written_over_once_it_was_seen_and_a_copy_of_it_is_kept() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        let theirs = format!("(note: \"{}\")", "x".repeat(5 << 20));
        fs::write(&path, &theirs).unwrap();
        let seen = Contents::in_file(&path).unwrap().unwrap();
        fs::write(&path, theirs.replace("x\"", "y\"")).unwrap();
        let error = save_yard_over(&demo().unwrap(), &path, Over::Only(seen)).unwrap_err();
        assert!(error.is_unseen(), "one letter at the end of five million is another: {error}");
        fs::write(&path, &theirs).unwrap();
        let saved = save_yard_over(&demo().unwrap(), &path, Over::Only(seen)).unwrap();
        assert_eq!(fs::read_to_string(saved.copy.unwrap().path).unwrap(), theirs);
        assert_eq!(read_yard(&path).unwrap().file(), demo().unwrap().file());
    }

    #[test]
    fn nothing_is_written_over_what_nobody_has_seen() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        let yard = demo().unwrap();
        let ours = save_yard_over(&yard, &path, Over::Nothing).unwrap().contents;
        let error = save_yard_over(&yard, &path, Over::Nothing).unwrap_err();
        assert!(error.is_unseen() && error.to_string().contains("of this name already"), "{error}");
        assert!(save_yard_over(&yard, &path, Over::Only(ours)).is_ok());
        fs::write(&path, "theirs").unwrap();
        let error = save_yard_over(&yard, &path, Over::Only(ours)).unwrap_err();
        assert!(error.is_unseen() && error.to_string().contains("another program"), "{error}");
        assert_eq!(fs::read_to_string(&path).unwrap(), "theirs");
        assert_eq!(names(folder.path()), ["a.ron"]);
        // A file that is gone holds nothing that could be lost.
        fs::remove_file(&path).unwrap();
        assert!(save_yard_over(&yard, &path, Over::Only(ours)).is_ok());
        fs::write(&path, "(theirs: 1)").unwrap();
        assert!(save_yard_over(&yard, &path, Over::Anything).is_ok());
    }

    #[test]
    fn comments_are_found_wherever_they_stand_and_nowhere_else() {
        for text in ["(a: 1) // end", "/* x */(a: 1)", "(a: 1, // in\n)", "// Other\n(a: 1)"] {
            assert!(has_comments(text, HEADING), "{text}");
        }
        for text in ["(a: \"// no\")", "(a: r#\"/* no */\"#)", "  (a: 1)\n\n"] {
            assert!(!has_comments(text, HEADING), "{text}");
            assert!(!has_comments(&format!("{HEADING}{text}"), HEADING), "{text}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_followed_and_the_mode_is_kept() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let folder = tempfile::tempdir().unwrap();
        let (real, link) = (folder.path().join("real.ron"), folder.path().join("link.ron"));
        fs::write(&real, "(old)").unwrap();
        fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).unwrap();
        symlink(&real, &link).unwrap();
        let saved = save_yard(&demo().unwrap(), &link).unwrap();
        assert_eq!(saved.path.file_name(), real.file_name());
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::metadata(&real).unwrap().permissions().mode() & 0o777, 0o640);
        assert_eq!(read_yard(&link).unwrap().name(), "Alder Flat woodlot");
    }

    #[test]
    fn what_cannot_be_saved_leaves_the_old_file() {
        let folder = tempfile::tempdir().unwrap();
        let error = save_yard(&demo().unwrap(), folder.path()).unwrap_err();
        assert!(error.to_string().contains("there is a folder of this name"), "{error}");
        let nowhere = folder.path().join("gone").join("a.ron");
        let error = save_yard(&demo().unwrap(), &nowhere).unwrap_err().to_string();
        assert!(error.contains("there is no such folder"), "{error}");
        assert_eq!(error.lines().count(), 1);
        assert_eq!(names(folder.path()).len(), 0);
    }
}
