//! Finds where a field of a yard stands in its text.
//!
//! A walk over the brackets, names and commas of RON, which goes on where a parser has to give up: it finds
//! the places in a file that is broken further down, and says what is still open where a file ends.

use super::tokens::{DEEPEST, Kind, Tokens};
use std::collections::HashMap;

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

struct Frame {
    list: bool,
    index: usize,
    /// Length of the path of the value that this bracket opens.
    path_length: usize,
}

/// Goes through a text and calls `visit` at the start of each value, from the top down.
pub(super) fn walk(text: &str, mut visit: impl FnMut(Place)) -> Ending {
    let mut tokens = Tokens::new(text, 0);
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
    in_fields && tokens.peek().is_some_and(|token| token.kind == Kind::Colon)
}

#[cfg(test)]
mod tests {
    use super::super::tokens::token_at;
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
