//! What stands in a file, to tell later whether it still does.

use std::fs::File;
use std::hash::{DefaultHasher, Hasher};
use std::io::{self, Read};
use std::path::Path;

/// What stood in a file: its length and a 64-bit digest of its bytes. Two files of one length that differ have the
/// same digest once in 10¹⁹ pairs.
///
/// The digest may be another one in a program built with another Rust; what was kept by that program then counts as
/// different, which asks a question too many and loses nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct Contents {
    length: u64,
    digest: u64,
}

impl Contents {
    /// Of these bytes.
    pub fn of(mut bytes: &[u8]) -> Self {
        // Nothing fails to be read out of the memory.
        Self::read(&mut bytes).unwrap_or(Self { length: 0, digest: 0 })
    }

    /// Of what stands in a file now, however large; `None` where there is no file.
    ///
    /// # Errors
    /// Where there is something that cannot be read.
    pub fn in_file(path: &Path) -> io::Result<Option<Self>> {
        let found = std::fs::metadata(path).and_then(|meta| {
            if !meta.is_file() {
                return Err(io::Error::other("this is no file"));
            }
            Self::read(&mut File::open(path)?)
        });
        match found {
            Ok(contents) => Ok(Some(contents)),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error),
        }
    }

    /// Takes bytes in pieces of one size wherever they come from, so that their digest is the same.
    fn read(from: &mut impl Read) -> io::Result<Self> {
        const PIECE: u64 = 64 << 10;
        let (mut hasher, mut length) = (DefaultHasher::new(), 0);
        let mut piece = Vec::new();
        loop {
            piece.clear();
            let read = from.by_ref().take(PIECE).read_to_end(&mut piece)? as u64;
            hasher.write(&piece);
            length += read;
            if read < PIECE {
                return Ok(Self { length, digest: hasher.finish() });
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_changed_byte_a_lost_file_and_a_folder_are_told_apart() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        assert_eq!(Contents::in_file(&path).unwrap(), None);
        std::fs::write(&path, "abc").unwrap();
        assert_eq!(Contents::in_file(&path).unwrap(), Some(Contents::of(b"abc")));
        assert_ne!(Contents::of(b"abc"), Contents::of(b"abd"));
        assert!(Contents::in_file(folder.path()).is_err());
    }

    #[test]
    fn the_last_byte_of_a_file_of_any_size_counts() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        for size in [65_535, 65_536, 65_537, 5 << 20] {
            let mut bytes = vec![b'x'; size];
            std::fs::write(&path, &bytes).unwrap();
            let before = Contents::in_file(&path).unwrap();
            assert_eq!(before, Some(Contents::of(&bytes)), "{size}");
            *bytes.last_mut().unwrap() = b'y';
            std::fs::write(&path, &bytes).unwrap();
            let after = Contents::in_file(&path).unwrap();
            assert_eq!(after, Some(Contents::of(&bytes)), "{size}");
            assert_ne!(before, after, "{size}");
        }
    }
}
