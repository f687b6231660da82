//! Finds where a field of a yard stands in its text.
//!
//! A walk over the brackets, names and commas of RON, which goes on where a parser has to give up: it finds
//! the places in a file that is broken further down, and says what is still open where a file ends.

use std::collections::HashMap;

/// Deeper nesting than this is no yard (the deepest field of a yard lies 7 brackets down); the walk stops.
const DEEPEST: usize = 64;

/// A place in a text, as an editor counts: the first line and the first column are 1, a column is a character.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Position {
    /// Line.
    pub line: usize,
    /// Column.
    pub column: usize,
}

impl Position {
    /// The place of a byte of the text; a byte past the end is the end.
    pub(super) fn of(text: &str, offset: usize) -> Self {
        let before = text.get(..offset).unwrap_or(text);
        let line_start = before.rfind('\n').map_or(0, |end| end + 1);
        Self {
            line: 1 + before.bytes().filter(|byte| *byte == b'\n').count(),
            column: 1 + before.get(line_start..).unwrap_or_default().chars().count(),
        }
    }

    /// The byte of the text at this place; the end where the text is shorter.
    pub(super) fn offset_in(self, text: &str) -> usize {
        let line_start = match self.line {
            0 | 1 => 0,
            line => text.match_indices('\n').nth(line - 2).map_or(text.len(), |(end, _)| end + 1),
        };
        let line = text.get(line_start..).unwrap_or_default();
        let column = line.char_indices().nth(self.column.saturating_sub(1));
        column.map_or(text.len(), |(offset, _)| line_start + offset)
    }
}

/// A value that the walk came to.
pub(super) struct Place<'a> {
    /// Its path, such as `bars[2].nose.pitch_in`; names of structs and variants are no part of it.
    pub(super) path: &'a str,
    /// Byte at which the value begins.
    pub(super) value: usize,
}

/// How a text ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Ending {
    /// Brackets not closed.
    pub(super) open: usize,
}

/// Byte offsets of the values at these paths; a path that is not in the text is left out.
pub(super) fn places<'p>(text: &str, paths: impl Iterator<Item = &'p str>) -> HashMap<&'p str, usize> {
    let mut wanted: HashMap<&str, Option<usize>> = paths.map(|path| (path, None)).collect();
    walk(text, |place| {
        if let Some(found) = wanted.get_mut(place.path) {
            found.get_or_insert(place.value);
        }
    });
    wanted.into_iter().filter_map(|(path, found)| found.map(|offset| (path, offset))).collect()
}

/// The path one step up: `bars[2].nose` of `bars[2].nose.pitch_in`; `None` from the top.
pub(super) fn parent(path: &str) -> Option<&str> {
    if path.is_empty() {
        return None;
    }
    let cut = path.rfind(['.', '[']).unwrap_or(0);
    path.get(..cut)
}

/// Path and byte of the last value or field name that begins before `offset`.
pub(super) fn last_before(text: &str, offset: usize) -> (String, usize) {
    let mut last = (String::new(), 0);
    walk(text, |place| {
        if place.value < offset {
            last = (place.path.to_owned(), place.value);
        }
    });
    last
}

/// The word, text or sign that begins at a byte.
pub(super) fn token_at(text: &str, offset: usize) -> &str {
    let mut tokens = Tokens { text, at: offset };
    tokens.next().and_then(|token| text.get(token.start..tokens.at)).unwrap_or_default()
}

/// Byte at which the next word, text or sign begins; `None` where nothing but blanks and comments follows.
pub(super) fn next_token_start(text: &str, offset: usize) -> Option<usize> {
    Tokens { text, at: offset }.next().map(|token| token.start)
}

/// True where a comment stands in the text, outside of `heading`.
pub(super) fn has_comments(text: &str, heading: &str) -> bool {
    let text = text.strip_prefix(heading).unwrap_or(text);
    let mut tokens = Tokens { text, at: 0 };
    loop {
        let end = tokens.at;
        let start = tokens.next().map_or(text.len(), |token| token.start);
        if text.get(end..start).is_some_and(|gap| !gap.trim().is_empty()) {
            return true;
        }
        if start == text.len() {
            return false;
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Word,
    Text,
    Open { list: bool },
    Close,
    Comma,
    Colon,
}

#[derive(Clone, Copy)]
struct Token {
    kind: Kind,
    start: usize,
}

/// RON's tokens, as coarse as the walk needs them.
#[derive(Clone)]
struct Tokens<'a> {
    text: &'a str,
    at: usize,
}

impl Tokens<'_> {
    fn rest(&self) -> &str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn skip_blanks(&mut self) {
        loop {
            let rest = self.rest();
            let blanks = rest.len() - rest.trim_start().len();
            let after = rest.get(blanks..).unwrap_or_default();
            let comment = if after.starts_with("//") {
                after.find('\n').unwrap_or(after.len())
            } else if after.starts_with("/*") {
                block_comment_length(after)
            } else {
                self.at += blanks;
                return;
            };
            self.at += blanks + comment;
        }
    }
}

impl Iterator for Tokens<'_> {
    type Item = Token;

    fn next(&mut self) -> Option<Token> {
        self.skip_blanks();
        let rest = self.rest();
        let (kind, length) = match rest.chars().next()? {
            '(' | '{' => (Kind::Open { list: false }, 1),
            '[' => (Kind::Open { list: true }, 1),
            ')' | ']' | '}' => (Kind::Close, 1),
            ',' => (Kind::Comma, 1),
            ':' => (Kind::Colon, 1),
            '"' => (Kind::Text, text_length(rest)),
            _ => match raw_text_length(rest) {
                Some(length) => (Kind::Text, length),
                None => (Kind::Word, word_length(rest)),
            },
        };
        let start = self.at;
        self.at += length;
        Some(Token { kind, start })
    }
}

fn block_comment_length(text: &str) -> usize {
    let (mut depth, mut at) = (0_usize, 0);
    while let Some(rest) = text.get(at..).filter(|rest| !rest.is_empty()) {
        if rest.starts_with("/*") {
            depth += 1;
            at += 2;
        } else if rest.starts_with("*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return at;
            }
        } else {
            at += rest.chars().next().map_or(1, char::len_utf8);
        }
    }
    text.len()
}

fn text_length(text: &str) -> usize {
    let mut escaped = false;
    for (at, c) in text.char_indices().skip(1) {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return at + 1,
            _ => {}
        }
    }
    text.len()
}

fn raw_text_length(text: &str) -> Option<usize> {
    let after = text.strip_prefix('r')?;
    let hashes = after.len() - after.trim_start_matches('#').len();
    let body = after.get(hashes..)?.strip_prefix('"')?;
    let end = format!("\"{}", "#".repeat(hashes));
    let opening = 1 + hashes + 1;
    Some(body.find(&end).map_or(text.len(), |at| opening + at + end.len()))
}

fn word_length(text: &str) -> usize {
    let ends =
        |c: char| c.is_whitespace() || matches!(c, '(' | ')' | '[' | ']' | '{' | '}' | ',' | ':' | '"' | '/');
    match text.char_indices().skip(1).find(|(_, c)| ends(*c)) {
        Some((at, _)) => at,
        None => text.len(),
    }
}

struct Frame {
    list: bool,
    index: usize,
    /// Length of the path of the value that this bracket opens.
    path_length: usize,
}

/// Goes through a text and calls `visit` at the start of each value, from the top down.
pub(super) fn walk(text: &str, mut visit: impl FnMut(Place)) -> Ending {
    let mut tokens = Tokens { text, at: 0 };
    let mut frames: Vec<Frame> = Vec::new();
    let mut path = String::new();
    let mut in_value = false;
    while let Some(token) = tokens.next() {
        match token.kind {
            Kind::Comma => {
                in_value = false;
                if let Some(frame) = frames.last_mut() {
                    path.truncate(frame.path_length);
                    frame.index += 1;
                    if frame.list {
                        path.push_str(&format!("[{}]", frame.index));
                    }
                }
            }
            Kind::Close => {
                if let Some(frame) = frames.pop() {
                    path.truncate(frame.path_length);
                }
                in_value = true;
            }
            Kind::Colon => {}
            Kind::Word if is_field_name(&frames, &tokens) => {
                let name = text.get(token.start..tokens.at).unwrap_or_default();
                path.truncate(frames.last().map_or(0, |frame| frame.path_length));
                if !path.is_empty() {
                    path.push('.');
                }
                path.push_str(name);
                in_value = false;
            }
            Kind::Word | Kind::Text | Kind::Open { .. } => {
                if !in_value {
                    in_value = true;
                    visit(Place { path: &path, value: token.start });
                }
                if let Kind::Open { list } = token.kind {
                    if frames.len() == DEEPEST {
                        break;
                    }
                    frames.push(Frame { list, index: 0, path_length: path.len() });
                    if list {
                        path.push_str("[0]");
                    }
                    in_value = false;
                }
            }
        }
    }
    Ending { open: frames.len() }
}

fn is_field_name(frames: &[Frame], tokens: &Tokens<'_>) -> bool {
    let in_fields = frames.last().is_some_and(|frame| !frame.list);
    in_fields && tokens.clone().next().is_some_and(|token| token.kind == Kind::Colon)
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = r##"#![enable(implicit_some)]
// a: (b: 1)
Yard( /* x: [ /* nested */ */
    name: "a: [(\"", note: r#"quoted " (["#,
    heads: [ (x: 1, y: Some(2.5)), Head(x: -3, how: Round(radius: 4)) ],
    outline: Corners([(x_mm: 5), (x_mm: 6)]),
    empty: [],
    last: 7,
)"##;

    fn found(path: &str) -> Option<&'static str> {
        places(TEXT, std::iter::once(path)).get(path).map(|offset| token_at(TEXT, *offset))
    }

    #[test]
    fn each_value_is_found_at_its_path() {
        assert_eq!(found("name"), Some(r#""a: [(\"""#));
        assert_eq!(found("note"), Some(r##"r#"quoted " (["#"##));
        assert_eq!(found("heads[0].x"), Some("1"));
        assert_eq!(found("heads[0].y"), Some("Some"));
        assert_eq!(found("heads[1]"), Some("Head"));
        assert_eq!(found("heads[1].how"), Some("Round"));
        assert_eq!(found("heads[1].how.radius"), Some("4"));
        assert_eq!(found("outline[1].x_mm"), Some("6"));
        assert_eq!(found("empty"), Some("["));
        assert_eq!(found("last"), Some("7"));
    }

    #[test]
    fn what_is_not_there_is_not_found() {
        for path in ["a", "heads[2]", "heads[0].radius", "implicit_some", "heads.x"] {
            assert_eq!(found(path), None, "{path}");
        }
    }

    #[test]
    fn open_brackets_are_counted_at_the_end() {
        assert_eq!(walk(TEXT, |_| ()), Ending { open: 0 });
        assert_eq!(walk("(a: [(b: \"x", |_| ()), Ending { open: 3 });
        assert_eq!(walk("", |_| ()), Ending { open: 0 });
        assert_eq!(walk("]])", |_| ()), Ending { open: 0 });
    }

    #[test]
    fn a_position_and_its_offset_undo_each_other() {
        let text = "a\r\nñandú 木\n\nz";
        for (offset, _) in text.char_indices() {
            let position = Position::of(text, offset);
            assert_eq!(position.offset_in(text), offset, "{position:?}");
        }
        let tree = text.find('木').unwrap();
        assert_eq!(Position::of(text, tree), Position { line: 2, column: 7 });
        assert_eq!(Position { line: 9, column: 9 }.offset_in(text), text.len());
    }

    #[test]
    fn a_path_leads_up_to_the_top() {
        let up: Vec<_> = std::iter::successors(Some("bars[2].nose.pitch_in"), |path| parent(path)).collect();
        assert_eq!(up, ["bars[2].nose.pitch_in", "bars[2].nose", "bars[2]", "bars", ""]);
    }

    #[test]
    fn deep_nesting_ends_the_walk() {
        let deep = "[".repeat(1_000_000);
        assert_eq!(walk(&deep, |_| ()), Ending { open: DEEPEST });
    }
}
