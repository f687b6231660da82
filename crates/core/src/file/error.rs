//! Why a yard file is refused.

use std::fmt;

/// Why a yard file is refused: one line for each fault.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct YardError {
    lines: Vec<String>,
}

impl YardError {
    /// A refusal of the file as a whole.
    pub(super) fn plain(name: &str, reason: impl fmt::Display) -> Self {
        Self { lines: vec![format!("{name}: {reason}")] }
    }
}

impl fmt::Display for YardError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.lines.join("\n"))
    }
}

impl std::error::Error for YardError {}
