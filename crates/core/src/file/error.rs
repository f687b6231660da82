//! Why a file is refused, as lines for people.

use super::locate::Position;
use crate::fault::clipped;
use std::fmt;

/// More faults than this are counted, not listed: nobody reads on.
pub(crate) const MOST_LISTED: usize = 20;
/// A line is never longer than this, whatever stands in the file.
const LONGEST_MESSAGE: usize = 400;
const LONGEST_PATH: usize = 80;

/// Why a file is refused: one fault or several. Displayed, each is one line,
/// `file:line:column: field.path: what is wrong`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileError {
    file: String,
    /// In file order, at least one.
    faults: Vec<FileFault>,
    unlisted: usize,
}

/// One fault in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileFault {
    /// Where it stands; `None` where the file as a whole is refused.
    pub position: Option<Position>,
    /// Path of the field, such as `bars[2].thickness_mm`; empty for the whole file.
    pub path: String,
    /// What is wrong, the value, what would be allowed, and a hint where one helps.
    pub message: String,
}

impl FileFault {
    /// A fault of the file as a whole.
    pub(crate) fn whole(message: impl fmt::Display) -> Self {
        Self::new(None, "", message)
    }

    pub(crate) fn new(position: Option<Position>, path: &str, message: impl fmt::Display) -> Self {
        Self {
            position,
            path: clipped(path, LONGEST_PATH),
            message: clipped(&message.to_string(), LONGEST_MESSAGE),
        }
    }

    fn line(&self, file: &str) -> String {
        let mut line = clipped(file, LONGEST_MESSAGE);
        if let Some(Position { line: row, column }) = self.position {
            line.push_str(&format!(":{row}:{column}"));
        }
        if !self.path.is_empty() {
            line.push_str(": ");
            line.push_str(&self.path);
        }
        line.push_str(": ");
        line.push_str(&self.message);
        line
    }
}

impl FileError {
    pub(crate) fn one(file: &str, fault: FileFault) -> Self {
        Self::several(file, vec![fault], 0)
    }

    /// The same with one more fault, told last.
    pub(crate) fn with(mut self, fault: FileFault) -> Self {
        self.faults.push(fault);
        self
    }

    /// Faults in file order, and the count of those that are not listed.
    pub(crate) fn several(file: &str, faults: Vec<FileFault>, unlisted: usize) -> Self {
        Self { file: file.to_owned(), faults, unlisted }
    }

    /// The faults in file order, at most twenty.
    pub fn faults(&self) -> &[FileFault] {
        &self.faults
    }

    /// How many faults there are in all.
    pub const fn count(&self) -> usize {
        self.faults.len() + self.unlisted
    }

    /// The first fault as one line, with a count of the others.
    pub fn first_line(&self) -> String {
        let line = self.faults.first().map(|first| first.line(&self.file));
        match self.count() {
            0 | 1 => line.unwrap_or_default(),
            all => format!("{} (and {} more)", line.unwrap_or_default(), all - 1),
        }
    }
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut lines: Vec<String> = self.faults.iter().map(|fault| fault.line(&self.file)).collect();
        if self.unlisted > 0 {
            let file = clipped(&self.file, LONGEST_MESSAGE);
            lines.push(format!("{file}: and {} more faults", self.unlisted));
        }
        f.write_str(&lines.join("\n"))
    }
}

impl std::error::Error for FileError {}

#[cfg(test)]
mod tests {
    use super::*;

    fn fault(line: usize) -> FileFault {
        FileFault::new(Some(Position { line, column: 3 }), "bars[0]", "is bent")
    }

    #[test]
    fn faults_are_listed_one_a_line() {
        let error = FileError::several("a.ron", vec![fault(2), fault(9)], 0);
        assert_eq!(error.to_string(), "a.ron:2:3: bars[0]: is bent\na.ron:9:3: bars[0]: is bent");
        assert_eq!(error.first_line(), "a.ron:2:3: bars[0]: is bent (and 1 more)");
    }

    #[test]
    fn faults_that_are_not_listed_are_counted() {
        let error = FileError::several("a.ron", vec![fault(2)], 30);
        assert_eq!(error.count(), 31);
        assert!(error.to_string().ends_with("a.ron: and 30 more faults"));
    }

    #[test]
    fn a_line_stays_one_line_and_of_bearable_length() {
        let long = format!("\n\u{1b}[31m{}", "x".repeat(100_000));
        let line = FileError::one(&long, FileFault::new(None, &long, &long)).to_string();
        assert!(!line.chars().any(char::is_control), "{line}");
        assert!(line.chars().count() < 1000, "{}", line.chars().count());
    }
}
