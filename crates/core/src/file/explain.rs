//! Says in plain words why a text is not what it should be, and where.

use super::error::FileFault;
use super::kind::FileKind;
use super::locate::{Position, last_before, parent, places, walk};
use super::mend::Mend;
use super::nearest::nearest;
use super::tokens::{Stray, brackets_behind, first_stray, next_token_start, token_at, value_end};
use crate::fault::clipped;
use crate::measure_text::plain_number;
use crate::ranges;
use ron::error::{Error, SpannedError};
use serde_path_to_error::{Path, Segment};

/// Most characters of the file's own content in a message.
const MOST_SHOWN: usize = 40;

/// Why a text is not of its kind, at a byte of it, and what it would be without this fault.
#[derive(Debug)]
pub(super) struct Broken {
    pub(super) offset: usize,
    pub(super) path: String,
    pub(super) message: String,
    pub(super) mend: Option<Box<Mend>>,
}

impl Broken {
    fn mended(mut self, mend: impl Into<Option<Mend>>) -> Self {
        self.mend = mend.into().map(Box::new);
        self
    }
}

/// The refusal of a text that does not parse as a file of this kind.
pub(super) fn explain(kind: &FileKind, text: &str, path: &Path, error: &SpannedError) -> Broken {
    let cursor = offset(text, error.span.end.line, error.span.end.col);
    let begin = offset(text, error.span.start.line, error.span.start.col);
    let known = KnownPath::new(path);
    if matches!(error.code, Error::UnexpectedChar(_) | Error::UnclosedBlockComment)
        && let Some(stray) = first_stray(text)
    {
        return no_comment(text, &stray);
    }
    if next_token_start(text, cursor).is_none() && walk(text, |_| ()).open > 0 {
        return ends_early(text);
    }
    match &error.code {
        Error::NoSuchStructField { expected, found, .. } => {
            let mend = unknown_field_mended(text, begin, &known.path, found, expected);
            at(begin, &known.path, unknown_field(found, expected)).mended(mend)
        }
        Error::NoSuchEnumVariant { expected, found, .. } => {
            let meant = nearest(found, expected);
            let word = meant.or(expected.first().copied());
            let span = begin..begin + token_at(text, begin).len();
            let mend = word.map(|word| Mend::put(span, word, meant.is_some()));
            at(begin, &known.path, unknown_word(found, expected)).mended(mend)
        }
        Error::DuplicateStructField { field, .. } => {
            let message = format!("the field `{field}` stands here a second time");
            let again = (token_at(text, begin) == *field).then(|| Mend::leave_out(text, begin));
            at(begin, &known.child(field), message).mended(again)
        }
        Error::MissingStructField { field, .. } => {
            let owner = places(text, std::iter::once(known.path.as_str()));
            let start = owner.get(known.path.as_str()).copied().unwrap_or(begin);
            let inside = brackets_behind(text, start);
            let mend = inside.map(|at| Mend::put(at..at, &format!(" {field}: 0,"), false));
            at(start, &known.child(field), missing(kind, field)).mended(mend)
        }
        Error::SuggestRawIdentifier(found) | Error::InvalidIdentifier(found) => {
            before_a_name(text, cursor, &known, found)
        }
        Error::ExpectedComma | Error::ExpectedArrayEnd | Error::ExpectedStructLikeEnd => {
            after_a_value(text, cursor)
        }
        Error::ExpectedMapColon => {
            let found = shown(token_at(text, cursor));
            let message = format!("a colon is needed before {found}, as in `name: value`");
            at(cursor, &known.path, message).mended(Mend::put(cursor..cursor, ":", true))
        }
        Error::TrailingCharacters => {
            let rest = next_token_start(text, begin).unwrap_or(begin);
            let message = format!(
                "the {} ends before this, yet more follows: {}",
                kind.noun,
                shown(token_at(text, rest))
            );
            at(rest, "", message)
        }
        code => {
            let start = known.start_in(text).unwrap_or(cursor);
            if let Some(fraction) = fraction(text, start, &known.path) {
                return fraction;
            }
            let token = token_at(text, start);
            let ends = !known.path.is_empty() && text.trim_end().len() == start + token.len();
            if ends && !matches!(code, Error::ExpectedStringEnd) {
                // Cut off after a sign or a point of a number.
                return ends_early(text);
            }
            let broken = at(start, &known.path, wrong_value(kind, code, token, &known.path));
            if known.path.is_empty() { broken } else { broken.mended(value_mended(text, start, code)) }
        }
    }
}

/// The refusal of a `/` that begins no comment, and of a comment that does not end.
fn no_comment(text: &str, stray: &Stray) -> Broken {
    match *stray {
        Stray::OpenComment(begin) => {
            let (path, _) = last_before(text, begin);
            let line = text.get(begin..).and_then(|rest| rest.lines().next()).unwrap_or_default();
            let end = begin + line.len();
            let message = "a comment that begins with `/*` is not closed (write `*/` where it ends, or `//` before a \
                           comment of one line)";
            at(begin, &path, message).mended(Mend::put(end..end, "*/", true))
        }
        Stray::Slash(slash) => {
            let (path, start) = last_before(text, slash + 1);
            let in_value = value_end(text, start) > slash;
            if let Some(fraction) =
                Some(start).filter(|_| in_value).and_then(|start| fraction(text, start, &path))
            {
                return fraction;
            }
            let message =
                "a `/` by itself means nothing here (take it out; a comment begins with `//` or `/*`)";
            // Words behind it were to be a comment; a field was not.
            let word = token_at(text, slash + 1);
            let behind = next_token_start(text, slash + 1).map_or(slash + 1, |start| start + word.len());
            let instead = if token_at(text, behind) == ":" { " " } else { "//" };
            at(slash, &path, message).mended(Mend::put(slash..slash + 1, instead, false))
        }
    }
}

/// The refusal of `3/8`, where a value of that sort begins here.
fn fraction(text: &str, start: usize, path: &str) -> Option<Broken> {
    let end = value_end(text, start);
    let value = text.get(start..end)?.trim_end();
    let number = Some(value).filter(|value| value.contains('/')).and_then(plain_number)?;
    let number = decimals(number);
    let message = format!(
        "{} is a fraction, and numbers are written with a decimal point here (write `{number}`)",
        shown(value)
    );
    Some(at(start, path, message).mended(Mend::put(start..end, &number, true)))
}

/// A number as it may be written instead of a fraction: to a millionth.
fn decimals(number: f64) -> String {
    let text = format!("{number:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A field nobody knows, renamed to the one that was meant, or left out.
fn unknown_field_mended(text: &str, begin: usize, path: &str, found: &str, known: &[&str]) -> Option<Mend> {
    let word = token_at(text, begin);
    if word != found {
        return None;
    }
    let owner = parent(path).unwrap_or_default();
    let child = |name: &str| if owner.is_empty() { name.to_owned() } else { format!("{owner}.{name}") };
    let is_free = |name: &&str| places(text, std::iter::once(child(name).as_str())).is_empty();
    Some(match nearest(found, known).filter(is_free) {
        Some(meant) => Mend::rename(begin..begin + word.len(), meant, child(meant)),
        None => Mend::leave_out(text, begin),
    })
}

/// A value of the wrong kind as one of the right kind: the number that was meant, or any.
fn value_mended(text: &str, start: usize, code: &Error) -> Option<Mend> {
    let end = value_end(text, start);
    let value = text.get(start..end)?.trim();
    let bare = value.trim_matches('"').trim();
    let any = match code {
        Error::ExpectedFloat | Error::FloatUnderscore | Error::UnderscoreAtBeginning => {
            return Some(match bare.parse::<f64>() {
                Ok(_) => Mend::put(start..end, bare, true),
                Err(_) => Mend::put(start..end, "0", false),
            });
        }
        Error::ExpectedInteger | Error::InvalidIntegerDigit { .. } | Error::IntegerOutOfBounds => "0",
        Error::ExpectedBoolean => "true",
        Error::ExpectedString | Error::InvalidEscape(_) => "\"\"",
        Error::ExpectedArray => "[]",
        Error::ExpectedIdentifier => "x",
        Error::ExpectedNamedStructLike(_) | Error::ExpectedDifferentStructName { .. } => "()",
        Error::ExpectedStructLike => return Some(Mend::put(end..end, "()", false)),
        _ => return None,
    };
    (value != any).then(|| Mend::put(start..end, any, false))
}

/// The refusal of a text that stops before its brackets are closed.
fn ends_early(text: &str) -> Broken {
    let (path, _) = last_before(text, text.len());
    let after = if path.is_empty() { String::new() } else { format!(" after {path}") };
    let message = format!("the file ends too early{after}: its brackets are not closed (was it cut off?)");
    at(text.trim_end().len(), "", message)
}

/// The refusal of a text of another version; `None` where the version is ours or cannot be read.
pub(super) fn wrong_version(kind: &FileKind, text: &str) -> Option<FileFault> {
    let (start, found) = version_at(text)?;
    let FileKind { oldest, newest, .. } = *kind;
    let message = if (oldest..=newest).contains(&found) {
        return None;
    } else if found < oldest {
        let read = if oldest == newest {
            format!("version {newest}")
        } else {
            format!("versions {oldest} to {newest}")
        };
        format!("there is no version {found}; this program reads {read}")
    } else {
        format!(
            "version {found} is newer than version {newest}, which this program reads; \
             it might hold what would be lost (a newer Barpoise reads it)"
        )
    };
    Some(FileFault::new(Some(Position::of(text, start)), "version", message))
}

/// The version that a text says it is of.
pub(super) fn version_of(text: &str) -> Option<u32> {
    version_at(text).map(|(_, version)| version)
}

fn version_at(text: &str) -> Option<(usize, u32)> {
    let start = places(text, std::iter::once("version")).get("version").copied()?;
    Some((start, token_at(text, start).parse().ok()?))
}

/// The path of a fault as far as the parser knew it, without the names of variants.
struct KnownPath {
    path: String,
    complete: bool,
}

impl KnownPath {
    fn new(path: &Path) -> Self {
        let mut known = Self { path: String::new(), complete: true };
        for segment in path {
            match segment {
                Segment::Seq { index } => known.path.push_str(&format!("[{index}]")),
                Segment::Map { key } => known.path = known.child(key),
                Segment::Enum { .. } => {}
                Segment::Unknown => known.complete = false,
            }
        }
        known
    }

    fn child(&self, field: &str) -> String {
        if self.path.is_empty() { field.to_owned() } else { format!("{}.{field}", self.path) }
    }

    fn start_in(&self, text: &str) -> Option<usize> {
        let path = self.complete.then_some(self.path.as_str())?;
        places(text, std::iter::once(path)).get(path).copied()
    }
}

fn offset(text: &str, line: usize, column: usize) -> usize {
    Position { line, column }.offset_in(text)
}

fn at(offset: usize, path: &str, message: impl Into<String>) -> Broken {
    Broken { offset, path: path.to_owned(), message: message.into(), mend: None }
}

fn shown(token: &str) -> String {
    if token.is_empty() {
        "the end of the file".to_owned()
    } else {
        format!("`{}`", clipped(token, MOST_SHOWN))
    }
}

fn unknown_field(found: &str, known: &[&str]) -> String {
    let known_ones = known.join(", ");
    let found = shown(found);
    match nearest(&found, known) {
        Some(close) => {
            format!("there is no field {found}, did you mean `{close}`? (known here: {known_ones})")
        }
        None => format!("there is no field {found} (known here: {known_ones})"),
    }
}

fn unknown_word(found: &str, known: &[&str]) -> String {
    let known_ones = known.join(", ");
    let found = shown(found);
    match nearest(&found, known) {
        Some(close) => format!("{found} is not one of {known_ones}; did you mean `{close}`?"),
        None => format!("{found} is not one of {known_ones}"),
    }
}

fn missing(kind: &FileKind, field: &str) -> String {
    if field == "version" {
        format!("the field `version` is missing (this program writes version {})", kind.newest)
    } else {
        format!("the field `{field}` is missing")
    }
}

/// What the parser took for a field's name begins with a digit or a sign.
fn before_a_name(text: &str, cursor: usize, known: &KnownPath, found: &str) -> Broken {
    if let Some(fault) = decimal_comma(text, cursor) {
        return fault;
    }
    let message = format!("a field's name and a colon are needed before {}", shown(found));
    at(cursor, &known.path, message)
}

/// `4,6` where `4.6` was meant: a number, a comma, and digits straight after it.
fn decimal_comma(text: &str, cursor: usize) -> Option<Broken> {
    let (path, start) = last_before(text, cursor);
    let before = text.get(start..cursor)?.strip_suffix(',')?;
    before.parse::<f64>().ok()?;
    let after = text.get(cursor..)?;
    let digits = after.len() - after.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let after = after.get(..digits).filter(|digits| !digits.is_empty())?;
    let (before, after) = (clipped(before, MOST_SHOWN / 2), clipped(after, MOST_SHOWN / 2));
    let message =
        format!("a decimal comma in `{before},{after}` (write a decimal point: `{before}.{after}`)");
    Some(at(start, &path, message).mended(Mend::put(cursor - 1..cursor, ".", true)))
}

/// Something stands where a value should be over.
fn after_a_value(text: &str, cursor: usize) -> Broken {
    let (path, start) = last_before(text, cursor);
    if let Some(fraction) = fraction(text, start, &path) {
        return fraction;
    }
    let value = text.get(start..cursor).unwrap_or_default();
    let next = token_at(text, cursor);
    let text_here = token_at(text, start);
    let before_a_field =
        next_token_start(text, cursor + next.len()).map(|then| token_at(text, then)) == Some(":");
    if text_here.starts_with('"') && text_here.contains('\n') && !before_a_field {
        let message = format!(
            "this text is not closed with a quote on its line: {}",
            shown(value.lines().next().unwrap_or_default())
        );
        let line = value.lines().next().unwrap_or_default();
        let end = start + line.trim_end_matches([',', ' ', '\t', '\r']).len();
        return at(start, &path, message).mended(Mend::put(end..end, "\"", true));
    }
    let after_digit = value.trim_end().ends_with(|c: char| c.is_ascii_digit());
    if after_digit && next.starts_with('.') {
        let number = token_at(text, start);
        let message = format!("a whole number is needed, found {}", shown(number));
        return at(start, &path, message).mended(Mend::put(start..start + number.len(), "0", false));
    }
    let then = next_token_start(text, cursor + next.len()).map(|start| token_at(text, start));
    if after_digit && next.starts_with(char::is_alphabetic) && then != Some(":") {
        let end = value_end(text, start);
        let found = text.get(start..end).unwrap_or_default().trim_end();
        let message =
            format!("a number is needed, found {} (the unit stands in the field's name)", shown(found));
        return at(start, &path, message).mended(Mend::put(cursor..end.max(cursor), "", true));
    }
    let message = format!("a comma or a closing bracket is needed before {}", shown(next));
    let more_comes = next.starts_with(|c: char| !matches!(c, ')' | ']' | '}' | ':'));
    at(cursor, &path, message).mended(more_comes.then(|| Mend::put(cursor..cursor, ",", true)))
}

/// A value that is not of the field's kind.
fn wrong_value(kind: &FileKind, code: &Error, token: &str, path: &str) -> String {
    let found = shown(token);
    match code {
        Error::ExpectedFloat | Error::FloatUnderscore | Error::UnderscoreAtBeginning => {
            format!("a number is needed, found {found}")
        }
        Error::ExpectedInteger | Error::InvalidIntegerDigit { .. } => {
            format!("a whole number is needed, found {found}")
        }
        Error::ExpectedBoolean => format!("true or false is needed, found {found}"),
        Error::IntegerOutOfBounds => out_of_bounds(token, path),
        Error::ExpectedString => format!("a text in \"quotes\" is needed, found {found}"),
        Error::ExpectedStringEnd => {
            format!("the file ends within this text: {found} (was it cut off, or is a quote missing?)")
        }
        Error::ExpectedIdentifier => format!("a field's name is needed, found {found}"),
        Error::ExpectedArray => format!("a list in `[` and `]` is needed, found {found}"),
        Error::InvalidEscape(_) => format!(
            "in this text a `\\` is followed by what means nothing: {found} (write `\\\\` for a backslash)"
        ),
        Error::ExpectedStructLike => {
            format!("after {found} its fields are needed, as in `{}(…)`", clipped(token, MOST_SHOWN))
        }
        Error::ExpectedNamedStructLike(_) | Error::ExpectedDifferentStructName { .. } if path.is_empty() => {
            format!("a {} begins with `(`, found {found}", kind.noun)
        }
        Error::ExpectedNamedStructLike(_) | Error::ExpectedDifferentStructName { .. } => {
            format!("fields in `(` and `)` are needed, found {found}")
        }
        Error::UnclosedBlockComment => "a comment that begins with `/*` is not closed with `*/`".to_owned(),
        other => {
            format!("this cannot be read: {}", lower_first(&clipped(&other.to_string(), 2 * MOST_SHOWN)))
        }
    }
}

/// A whole number that is negative or far too large: the same words as for one that only the model refuses.
fn out_of_bounds(token: &str, path: &str) -> String {
    let range = match path.rsplit('.').next() {
        Some("teeth") => Some(&ranges::TEETH),
        Some("drive_links" | "marked_drive_links") => Some(&ranges::DRIVE_LINKS),
        _ => None,
    };
    range.zip(token.parse().ok()).and_then(|(range, value)| range.refusal(value)).unwrap_or_else(|| {
        let most = u32::MAX;
        format!("a whole number is needed, 0…{most}, found {}", shown(token))
    })
}

fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map(|first| first.to_lowercase().chain(chars).collect()).unwrap_or_default()
}
