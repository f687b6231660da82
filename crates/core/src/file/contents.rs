//! What stands in a file, to tell later whether it still does.

use super::read::LARGEST_BYTES;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::io;
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
    pub fn of(bytes: &[u8]) -> Self {
        let mut hasher = DefaultHasher::new();
        bytes.hash(&mut hasher);
        Self { length: bytes.len() as u64, digest: hasher.finish() }
    }

    /// Of what stands in a file now; `None` where there is no file.
    ///
    /// # Errors
    /// Where there is something that cannot be read.
    pub fn in_file(path: &Path) -> io::Result<Option<Self>> {
        let found = std::fs::metadata(path).and_then(|meta| {
            if !meta.is_file() {
                return Err(io::Error::other("this is no file"));
            }
            if meta.len() > LARGEST_BYTES {
                // No yard that was read or written here is as large, so it need not be read to be another one.
                return Ok(Self { length: meta.len(), digest: 0 });
            }
            Ok(Self::of(&std::fs::read(path)?))
        });
        match found {
            Ok(contents) => Ok(Some(contents)),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error),
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
        let large = std::fs::File::create(&path).unwrap();
        large.set_len(LARGEST_BYTES + 1).unwrap();
        assert_eq!(
            Contents::in_file(&path).unwrap().map(|contents| contents.length),
            Some(LARGEST_BYTES + 1)
        );
    }
}
