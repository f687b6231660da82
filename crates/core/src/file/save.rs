//! Writing a yard to disk: whole or not at all.

use super::locate::has_comments;
use super::write::{HEADING, to_ron};
use crate::Yard;
use std::fmt;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Copies of a file whose comments would be lost; more than this are not kept.
const MOST_COPIES: u32 = 99;

/// What became of a yard that was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Saved {
    /// Where it stands: the file itself where a link was named.
    pub path: PathBuf,
    /// The old file's copy, where it held comments, which the writer does not keep.
    pub copy: Option<PathBuf>,
}

/// Why a yard was not written. The old file stands as it was.
#[derive(Debug)]
pub struct SaveError {
    path: PathBuf,
    /// What was being done.
    step: &'static str,
    cause: String,
    /// True where a file stood there before, and still does.
    had_old: bool,
}

impl fmt::Display for SaveError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { path, step, cause, had_old } = self;
        let old = if *had_old { " (the old file stands as it was)" } else { "" };
        write!(f, "{}: {step}: {cause}{old}", path.display())
    }
}

impl std::error::Error for SaveError {}

/// Writes a yard to a file, atomically: to a new file in the same folder, flushed to the disk, then renamed over the
/// old one. A link is followed, the old file's permissions are kept. Comments of the old file cannot be kept in
/// place: a copy of it is kept beside it (`…ron.old`, `…ron.old2`, …).
///
/// # Errors
/// [`SaveError`] with the step that failed: nothing of the old file is lost.
pub fn save_yard(yard: &Yard, path: &Path) -> Result<Saved, SaveError> {
    let failed = |step, cause: &dyn fmt::Display| SaveError {
        path: path.to_owned(),
        step,
        cause: cause.to_string(),
        had_old: path.is_file(),
    };
    let text = to_ron(yard.file()).map_err(|error| failed("the yard cannot be put into text", &error))?;
    let target = followed(path).map_err(|error| failed("the link leads nowhere", &error))?;
    let folder = target.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    if !folder.is_dir() {
        return Err(failed("there is no such folder", &folder.display()));
    }
    let old = match fs::metadata(&target) {
        Ok(meta) if meta.is_dir() => {
            return Err(failed("the place is taken", &"there is a folder of this name"));
        }
        Ok(meta) => Some(meta),
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(error) => return Err(failed("the old file cannot be looked at", &error)),
    };
    let copy = match &old {
        Some(_) => {
            kept_copy(&target).map_err(|error| failed("the old file's comments cannot be kept", &error))?
        }
        None => None,
    };
    let mut file =
        new_file(folder).map_err(|error| failed("no new file can be made in the folder", &error))?;
    file.write_all(text.as_bytes())
        .and_then(|()| file.flush())
        .map_err(|error| failed("the new file cannot be written", &error))?;
    if let Some(meta) = &old {
        file.as_file()
            .set_permissions(meta.permissions())
            .map_err(|error| failed("the old file's permissions cannot be kept", &error))?;
    }
    file.as_file()
        .sync_all()
        .map_err(|error| failed("the new file cannot be flushed to the disk", &error))?;
    file.persist(&target)
        .map_err(|error| failed("the new file cannot take the old one's place", &error.error))?;
    // The name is safe once the folder is flushed; some systems cannot do that, and the file is whole either way.
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
    Ok(Saved { path: target, copy })
}

/// The file behind links; the path itself where there is nothing yet.
fn followed(path: &Path) -> io::Result<PathBuf> {
    match fs::symlink_metadata(path) {
        Ok(meta) if meta.is_symlink() => path.canonicalize(),
        _ => Ok(path.to_owned()),
    }
}

/// A new file with the permissions that any new file of the person gets.
fn new_file(folder: &Path) -> io::Result<tempfile::NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".yard-").suffix(".part");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    builder.tempfile_in(folder)
}

/// Copies the old file aside where it holds comments.
fn kept_copy(target: &Path) -> io::Result<Option<PathBuf>> {
    let bytes = fs::read(target)?;
    // What is not text cannot be judged, and so is kept.
    let plain = std::str::from_utf8(&bytes).is_ok_and(|text| !has_comments(text, HEADING));
    if plain {
        return Ok(None);
    }
    for number in 1..=MOST_COPIES {
        let mut name = target.as_os_str().to_owned();
        name.push(if number == 1 { ".old".to_owned() } else { format!(".old{number}") });
        let copy = PathBuf::from(name);
        match File::options().write(true).create_new(true).open(&copy) {
            Ok(mut file) => {
                file.write_all(&bytes)?;
                file.sync_all()?;
                return Ok(Some(copy));
            }
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
            Err(error) => return Err(error),
        }
    }
    Err(io::Error::other(format!("there are {MOST_COPIES} copies beside it already")))
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
        assert_eq!(saved, Saved { path: path.clone(), copy: None });
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
            assert_eq!(saved.copy, Some(folder.path().join(copy)));
            assert_eq!(fs::read_to_string(folder.path().join(copy)).unwrap(), demo_text());
        }
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
