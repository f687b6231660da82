//! What a file of kept work says: the yard as any yard file, after one line that says whose it is.
//!
//! So a person can read it, and any Barpoise opens it as a yard.

use crate::desk::document::Work;
use barpoise_core::Yard;
use barpoise_core::file::{Contents, parse_yard, to_ron};
use std::path::PathBuf;
use std::sync::Arc;
use std::time::{Duration, SystemTime, UNIX_EPOCH};

const LEAD: &str = "// Barpoise keeps here what was in no file yet: ";

/// Kept work, and when it was kept.
#[derive(Clone, Debug)]
pub struct Record {
    /// The work.
    pub work: Work,
    /// When it was kept; the beginning of 1970 where that is not known.
    pub kept: SystemTime,
}

#[derive(Debug, Default, serde::Serialize, serde::Deserialize)]
#[serde(default)]
struct FirstLine {
    kept_s: u64,
    /// A path that is no text is left out; the work then has no file of its own.
    path: Option<String>,
    seen: Option<Contents>,
}

impl Record {
    /// The file's text.
    ///
    /// # Errors
    /// Where the yard cannot be written, as one line.
    pub fn text(work: &Work, now: SystemTime) -> Result<String, String> {
        let path = work.path.as_ref().and_then(|path| path.to_str()).map(ToOwned::to_owned);
        let kept_s = now.duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
        let first = FirstLine { kept_s, path, seen: work.seen };
        let first = serde_json::to_string(&first).map_err(|error| error.to_string())?;
        let yard = to_ron(work.yard.file()).map_err(|error| error.to_string())?;
        Ok(format!("{LEAD}{first}\n{yard}"))
    }

    /// True where a file begins as kept work does.
    pub fn begins(bytes: &[u8]) -> bool {
        bytes.starts_with(LEAD.as_bytes())
    }

    /// Reads the text again; `name` stands for the file in messages. Where only the first line is broken, the yard
    /// is not lost.
    ///
    /// # Errors
    /// Where the yard is broken, as one line.
    pub fn read(text: &str, name: &str) -> Result<Self, String> {
        let yard: Yard = parse_yard(text, name).map_err(|error| error.first_line())?;
        let first = text.lines().next().and_then(|line| line.strip_prefix(LEAD));
        let first: FirstLine = first.and_then(|json| serde_json::from_str(json).ok()).unwrap_or_default();
        let work = Work { yard: Arc::new(yard), path: first.path.map(PathBuf::from), seen: first.seen };
        let kept = UNIX_EPOCH.checked_add(Duration::from_secs(first.kept_s)).unwrap_or(UNIX_EPOCH);
        Ok(Self { work, kept })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kept_work_comes_back_as_it_was() {
        let yard = Arc::new(barpoise_core::file::demo().unwrap());
        let path = Some(PathBuf::from("/a folder/Höfe \n \"木\".yard.ron"));
        let work = Work { yard, path, seen: Some(Contents::of(b"x")) };
        let now = UNIX_EPOCH + Duration::from_secs(1_764_028_800);
        let text = Record::text(&work, now).unwrap();
        let back = Record::read(&text, "kept").unwrap();
        assert_eq!(back.work.yard.file(), work.yard.file());
        assert_eq!((back.work.path, back.work.seen, back.kept), (work.path, work.seen, now));
        // A yard like any other.
        assert!(parse_yard(&text, "kept").is_ok());
        let cut = &text[..text.len() / 2];
        assert!(Record::read(cut, "kept").unwrap_err().contains("kept"), "names the file");
        let without_first = &text[text.find('\n').unwrap()..];
        assert!(Record::read(without_first, "kept").unwrap().work.path.is_none());
    }
}
