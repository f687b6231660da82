//! What sort of file a file is, told by what stands in it: its name says what it should be.

use super::locate::places;
use super::read::LARGEST_BYTES;
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

/// What stands in a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// No byte at all.
    Empty,
    /// A yard, sound or not.
    Yard,
    /// A lesson, sound or not.
    Lesson,
    /// A drawing of lines.
    Svg,
    /// A picture.
    Png,
    /// Pages.
    Pdf,
    /// A picture that moves.
    Gif,
    /// Anything else.
    Other,
}

impl Sort {
    /// Of these bytes, the first of a file.
    pub fn of(bytes: &[u8]) -> Self {
        if bytes.is_empty() {
            return Self::Empty;
        }
        let marks: [(&[u8], Self); 3] =
            [(b"\x89PNG\r\n\x1a\n", Self::Png), (b"%PDF-", Self::Pdf), (b"GIF8", Self::Gif)];
        if let Some((_, sort)) = marks.iter().find(|(mark, _)| bytes.starts_with(mark)) {
            return *sort;
        }
        let text = String::from_utf8_lossy(bytes);
        let begin = text.trim_start_matches('\u{feff}').trim_start();
        if begin.starts_with("<svg") || (begin.starts_with('<') && begin.contains("<svg")) {
            return Self::Svg;
        }
        let found = places(begin, ["powerheads", "bars", "setups", "steps"].into_iter());
        match (found.contains_key("steps"), found.len()) {
            (true, 1) => Self::Lesson,
            (false, 1..) => Self::Yard,
            _ => Self::Other,
        }
    }

    /// Of what stands in a file.
    ///
    /// # Errors
    /// Where it cannot be read.
    pub fn in_file(path: &Path) -> io::Result<Self> {
        let mut bytes = Vec::new();
        File::open(path)?.take(LARGEST_BYTES).read_to_end(&mut bytes)?;
        Ok(Self::of(&bytes))
    }

    /// As it goes after *it is*.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Empty => "empty",
            Self::Yard => "a yard",
            Self::Lesson => "a lesson",
            Self::Svg => "a drawing (SVG)",
            Self::Png => "a picture (PNG)",
            Self::Pdf => "a sheet (PDF)",
            Self::Gif => "a picture that moves (GIF)",
            Self::Other => "a file of another sort",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo_text;
    use crate::lesson::built_in_text;

    #[test]
    fn each_sort_is_told_by_its_contents() {
        let broken = &demo_text()[..demo_text().find("    chains: [").unwrap()];
        for (bytes, sort) in [
            (demo_text().as_bytes(), Sort::Yard),
            (broken.as_bytes(), Sort::Yard),
            (b"\xef\xbb\xbf(version: 1, setups: [])", Sort::Yard),
            (built_in_text().as_bytes(), Sort::Lesson),
            (b"<?xml version=\"1.0\"?>\n<svg>", Sort::Svg),
            (b"\x89PNG\r\n\x1a\n....", Sort::Png),
            (b"%PDF-1.7", Sort::Pdf),
            (b"GIF89a", Sort::Gif),
            (b"", Sort::Empty),
            (b"setup,ready_mass_kg\n", Sort::Other),
            (b"\xff\xd8\xff\xe0", Sort::Other),
        ] {
            assert_eq!(Sort::of(bytes), sort, "{:?}", String::from_utf8_lossy(&bytes[..bytes.len().min(30)]));
        }
    }
}
