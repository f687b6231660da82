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

/// True for a letter that shows nothing, or that has others run the other way: two names that look alike would differ by it.
/// Joiners stay: some scripts need them between letters.
const fn misleads(letter: char) -> bool {
    matches!(
        letter,
        // soft hyphen, combining grapheme joiner, Arabic letter mark, Hangul fillers, Khmer inherent vowels
        '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}' | '\u{3164}' | '\u{ffa0}'
        // zero-width space, direction marks, line and paragraph separators, embeddings, overrides, isolates
        | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
        // byte order mark, interlinear marks, tags
        | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e0fff}'
    )
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
        } else if let Some(letter) = name.chars().find(|letter| misleads(*letter)) {
            self.fault(
                field,
                format_args!(
                    "a name must not hold what nobody sees or what turns letters round (U+{:04X})",
                    u32::from(letter)
                ),
            );
        } else if !name.chars().any(|letter| letter.is_alphanumeric() || letter.is_ascii_graphic()) {
            self.fault(field, "a name needs a letter or a digit");
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

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(name: &str) -> Option<String> {
        let mut checker = Checker::new("bars[0]", "");
        checker.name("name", name);
        checker.finish(()).err().and_then(|faults| faults.into_iter().next()).map(|fault| fault.message)
    }

    #[test]
    fn a_name_of_any_script_is_one_and_what_nobody_sees_is_none() {
        for name in [
            "B24",
            "Höfe",
            "榛の木",
            "شجرة",
            "עץ",
            "वृक्ष",
            "ไม้",
            "B24 “best” ½",
            "می\u{200c}خواهم",
            "क्\u{200d}ष",
            "№ 4",
            "+",
        ] {
            assert_eq!(refused(name), None, "{name}");
        }
        for (name, said) in [
            ("B24\u{200b}", "(U+200B)"),
            ("\u{202e}42B", "(U+202E)"),
            ("B\u{2066}24", "(U+2066)"),
            ("B24\u{feff}", "(U+FEFF)"),
            ("B\u{ad}24", "(U+00AD)"),
            ("\u{e0042}B24", "(U+E0042)"),
            ("\u{200d}\u{200c}", "a letter or a digit"),
            ("a\u{7}", "control characters"),
            (" \u{3000} ", "must not be empty"),
        ] {
            let message = refused(name).unwrap_or_else(|| panic!("{name:?} is taken"));
            assert!(message.contains(said), "{name:?}: {message}");
        }
    }
}
