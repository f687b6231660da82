//! What is wrong with a value: where it stands, what it is, and what would be allowed.

use std::fmt;

/// One thing wrong in a yard, at a field's path such as `bars[2].thickness_mm`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Path of the field from the top of the yard.
    pub path: String,
    /// The owner, the value and the allowed range, as one line.
    pub message: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.path, self.message)
    }
}

impl std::error::Error for Fault {}

/// The allowed values of a field, in the unit in which it is written.
///
/// The same item serves the check, the message, the number field of the window and the tests' generators.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// What the value is, in the trade's words.
    pub what: &'static str,
    /// The unit it is written in; empty for a plain number.
    pub unit: &'static str,
    /// Smallest allowed value.
    pub min: f64,
    /// Largest allowed value.
    pub max: f64,
}

impl Range {
    /// A named range.
    pub const fn new(what: &'static str, unit: &'static str, min: f64, max: f64) -> Self {
        Self { what, unit, min, max }
    }

    /// True where the value is finite and inside.
    pub fn holds(&self, value: f64) -> bool {
        value.is_finite() && value >= self.min && value <= self.max
    }

    /// The one line that says why a value is refused, or `None` where it is not.
    pub fn refusal(&self, value: f64) -> Option<String> {
        (!self.holds(value)).then(|| {
            let Self { what, unit, min, max } = self;
            let space = if unit.is_empty() { "" } else { " " };
            format!("{what} {value}{space}{unit} is outside {min}…{max}{space}{unit}")
        })
    }
}

/// An owner's name in a message is cut at this many characters; a valid one fits.
const LONGEST_OWNER: usize = 92;

/// Text as one line of at most `longest` characters, so that nothing in a file can flood or garble a message.
pub(crate) fn clipped(text: &str, longest: usize) -> String {
    let shown = |c: char| if c.is_control() { ' ' } else { c };
    let mut chars = text.chars().map(shown);
    let mut line: String = chars.by_ref().take(longest).collect();
    if chars.next().is_some() {
        line.pop();
        line.push('…');
    }
    line
}

/// Gathers the faults of one item while it is being read, so that a person sees them all at once.
#[derive(Debug)]
pub(crate) struct Checker {
    path: String,
    owner: String,
    faults: Vec<Fault>,
}

impl Checker {
    /// `path` is the item's place in the yard, `owner` its name for people, such as `bar B24`.
    pub(crate) fn new(path: impl Into<String>, owner: impl Into<String>) -> Self {
        Self { path: path.into(), owner: clipped(owner.into().trim_end(), LONGEST_OWNER), faults: Vec::new() }
    }

    /// Notes a fault at a field of this item; an empty field means the item itself.
    pub(crate) fn fault(&mut self, field: &str, message: impl fmt::Display) {
        let path = match (self.path.is_empty(), field.is_empty()) {
            (true, _) => field.to_owned(),
            (false, true) => self.path.clone(),
            (false, false) => format!("{}.{field}", self.path),
        };
        let message =
            if self.owner.is_empty() { message.to_string() } else { format!("{}: {message}", self.owner) };
        self.faults.push(Fault { path, message });
    }

    /// Checks a number and hands it back, noting a fault where it is out of range.
    pub(crate) fn number(&mut self, field: &str, range: &Range, value: f64) -> f64 {
        if let Some(refusal) = range.refusal(value) {
            self.fault(field, refusal);
        }
        value
    }

    /// Checks a name: not empty, not overlong, without control characters.
    pub(crate) fn name(&mut self, field: &str, name: &str) {
        const LONGEST: usize = 80;
        if name.trim().is_empty() {
            self.fault(field, "a name must not be empty");
        } else if name.chars().count() > LONGEST {
            self.fault(
                field,
                format_args!(
                    "a name may have at most {LONGEST} characters, this one has {}",
                    name.chars().count()
                ),
            );
        } else if name.chars().any(char::is_control) {
            self.fault(field, "a name must not hold line breaks or control characters");
        }
    }

    /// The checked value, or every fault that was noted.
    pub(crate) fn finish<T>(self, value: T) -> Result<T, Vec<Fault>> {
        if self.faults.is_empty() { Ok(value) } else { Err(self.faults) }
    }

    /// True while nothing is wrong.
    pub(crate) fn is_clean(&self) -> bool {
        self.faults.is_empty()
    }
}
