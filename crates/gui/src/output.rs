//! Drawings as files: in which form, and written whole or not at all.

use std::io::{self, Write};
use std::path::Path;

/// The form of a drawing's file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Lines and text for any size, with the typeface inside.
    Svg,
    /// Pixels.
    Png,
    /// A page, its text selectable.
    Pdf,
}

impl Form {
    /// The form that a file's name asks for by its ending.
    ///
    /// # Errors
    /// One line that names the endings there are.
    pub fn of(path: &Path) -> Result<Self, String> {
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        match ending.as_deref() {
            Some("svg") => Ok(Self::Svg),
            Some("png") => Ok(Self::Png),
            Some("pdf") => Ok(Self::Pdf),
            Some(other) => Err(format!("{}: no form goes by .{other}; {ENDINGS}", path.display())),
            None => Err(format!("{}: the name says no form; {ENDINGS}", path.display())),
        }
    }
}

const ENDINGS: &str = "a drawing's file ends in .pdf, .svg or .png";

/// Writes a file whole or not at all: a new one in the same folder takes the old one's place.
///
/// # Errors
/// Where the folder takes no new file, or the disk not all of it; an old file then stands as it was.
pub fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
    if path.is_dir() {
        return Err(io::Error::other("there is a folder of this name"));
    }
    let target = if path.is_symlink() { path.canonicalize()? } else { path.to_owned() };
    let folder = target.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut builder = tempfile::Builder::new();
    builder.prefix(".drawing-").suffix(".part");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(std::fs::Permissions::from_mode(0o666));
    }
    let mut file = builder.tempfile_in(folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    file.persist(&target).map_err(|error| error.error)?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ending_says_the_form() {
        for (name, form) in [("a.pdf", Form::Pdf), ("b.SVG", Form::Svg), ("c d.v2.png", Form::Png)] {
            assert_eq!(Form::of(Path::new(name)), Ok(form));
        }
        for name in ["a.jpg", "pdf", ".svg"] {
            let refused = Form::of(Path::new(name)).unwrap_err();
            assert!(refused.ends_with(ENDINGS), "{refused}");
        }
    }

    #[test]
    fn a_file_is_written_whole_and_nothing_else_is_left() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("gäste 木.svg");
        write_whole(&path, b"one").unwrap();
        write_whole(&path, b"two").unwrap();
        assert_eq!(std::fs::read(&path).unwrap(), b"two");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
        assert!(write_whole(folder.path(), b"x").is_err());
        assert!(write_whole(&folder.path().join("gone").join("a.svg"), b"x").is_err());
    }
}
