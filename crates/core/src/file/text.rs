//! The text of a file, and why there is none.

use super::error::FileFault;
use super::kind::FileKind;
use super::locate::Position;
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

/// The text of a file of this kind.
///
/// # Errors
/// Whatever keeps the file from being read, and what is no text.
pub(crate) fn read_text(kind: &FileKind, path: &Path) -> Result<String, FileFault> {
    decoded(kind, read_bytes(kind, path)?)
}

/// The bytes of a file of this kind.
///
/// # Errors
/// Whatever keeps the file from being read.
pub(crate) fn read_bytes(kind: &FileKind, path: &Path) -> Result<Vec<u8>, FileFault> {
    let unreadable = |error: io::Error| FileFault::whole(unreadable(&error));
    let meta = std::fs::metadata(path).map_err(unreadable)?;
    if meta.is_dir() {
        return Err(FileFault::whole(format_args!("this is a folder, not a {} file", kind.noun)));
    }
    if !meta.is_file() {
        return Err(FileFault::whole(format_args!("this is a device or a pipe, not a {} file", kind.noun)));
    }
    if meta.len() > kind.largest_bytes {
        return Err(too_large(kind, meta.len()));
    }
    let mut bytes = Vec::new();
    // The file may have grown since.
    let mut file = File::open(path).map_err(unreadable)?.take(kind.largest_bytes + 1);
    let read = file.read_to_end(&mut bytes).map_err(unreadable)? as u64;
    if read > kind.largest_bytes {
        return Err(too_large(kind, read));
    }
    Ok(bytes)
}

fn too_large(kind: &FileKind, bytes: u64) -> FileFault {
    const KIB: u64 = 1 << 10;
    FileFault::whole(format_args!(
        "the file has {} KiB, more than the {} KiB that a {} may have",
        bytes.div_ceil(KIB),
        kind.largest_bytes / KIB,
        kind.noun
    ))
}

fn unreadable(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file".to_owned(),
        io::ErrorKind::PermissionDenied => "the file may not be read (permission denied)".to_owned(),
        _ => format!("the file cannot be read ({error})"),
    }
}

/// Bytes as text.
///
/// # Errors
/// What is no text, or not in UTF-8.
pub(crate) fn decoded(kind: &FileKind, bytes: Vec<u8>) -> Result<String, FileFault> {
    const UTF_16_MARKS: [[u8; 2]; 2] = [[0xff, 0xfe], [0xfe, 0xff]];
    if UTF_16_MARKS.iter().any(|mark| bytes.starts_with(mark)) {
        return Err(FileFault::whole("the text is in UTF-16 (save it as UTF-8)"));
    }
    if bytes.iter().position(|byte| *byte == 0).is_some_and(|nul| !begins_as_text(&bytes, nul)) {
        return Err(FileFault::whole(format_args!("this is a binary file, not a {}'s text", kind.noun)));
    }
    String::from_utf8(bytes).map_err(|error| {
        let valid = error.utf8_error().valid_up_to();
        let bytes = error.into_bytes();
        let before = String::from_utf8_lossy(bytes.get(..valid).unwrap_or_default());
        let position = Position::of(&before, before.len());
        let byte = bytes.get(valid).copied().unwrap_or_default();
        let message = format!("the byte {byte:#04x} is not UTF-8 text (save the file as UTF-8)");
        FileFault::new(Some(position), "", message)
    })
}

/// True where what stands before a NUL is the text of a file in RON: one that was damaged, not one of another sort.
fn begins_as_text(bytes: &[u8], nul: usize) -> bool {
    let before = bytes.get(..nul).and_then(|before| std::str::from_utf8(before).ok());
    before.is_some_and(|text| {
        let plain = |c: char| !c.is_control() || matches!(c, '\n' | '\r' | '\t');
        text.contains('(') && text.chars().all(plain)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_reason_a_file_stays_unread_has_its_words() {
        let said = |kind| unreadable(&io::Error::from(kind));
        assert_eq!(said(io::ErrorKind::NotFound), "there is no such file");
        assert_eq!(said(io::ErrorKind::PermissionDenied), "the file may not be read (permission denied)");
        assert!(said(io::ErrorKind::Interrupted).starts_with("the file cannot be read ("));
    }
}
