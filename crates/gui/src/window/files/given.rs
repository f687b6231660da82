//! What a file is that somebody gives to the program, by its name and how it begins.

use crate::desk::document::Work;
use crate::desk::lesson::is_lesson;
use crate::desk::recovery::Record;
use barpoise_core::file::Sort;
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// What a file is.
#[derive(Clone, Debug)]
pub(in crate::window) enum Given {
    Lesson,
    Photograph,
    /// Work of a lost window.
    Kept(Work),
    /// A yard, or whatever else it is that a yard's reader will say.
    Yard,
}

impl Given {
    /// Looks at a file.
    pub(in crate::window) fn of(path: &Path) -> Self {
        if is_lesson(path) {
            return Self::Lesson;
        }
        if !path.is_file() {
            return Self::Yard;
        }
        let beginning = beginning(path);
        if image::guess_format(&beginning).is_ok() {
            return Self::Photograph;
        }
        if matches!(Sort::in_file(path), Ok(Sort::Lesson)) {
            return Self::Lesson;
        }
        if Record::begins(&beginning)
            && let Ok(text) = std::fs::read_to_string(path)
            && let Ok(record) = Record::read(&text, &path.display().to_string())
        {
            return Self::Kept(record.work);
        }
        Self::Yard
    }
}

/// The first bytes of a file; none of what is no file or cannot be read.
fn beginning(path: &Path) -> Vec<u8> {
    const ENOUGH: u64 = 64;
    let mut bytes = Vec::new();
    if let Ok(file) = File::open(path) {
        // What cannot be read has no beginning.
        let _ = file.take(ENOUGH).read_to_end(&mut bytes);
    }
    bytes
}
