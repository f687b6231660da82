//! A broken text without the faults that were found in it, so that those behind them are told as well.
//!
//! What was meant is put in where it can be told, and any value of the right kind elsewhere: nothing that may follow
//! from such a guess is told.

use super::tokens::{Kind, Tokens, value_end};
use std::borrow::Cow;
use std::ops::Range;

/// Other words for a piece of a text.
#[derive(Debug)]
pub(super) struct Mend {
    span: Range<usize>,
    words: String,
    /// True where this is what a person surely meant; false for a guess.
    meant: bool,
    /// The path of a field that got another name: what is wrong below it may follow from that.
    renamed: Option<String>,
}

impl Mend {
    pub(super) fn put(span: Range<usize>, words: &str, meant: bool) -> Self {
        Self { span, words: words.to_owned(), meant, renamed: None }
    }

    /// Another name for the field that stands here, with its new path.
    pub(super) fn rename(span: Range<usize>, name: &str, path: String) -> Self {
        Self { renamed: Some(path), ..Self::put(span, name, true) }
    }

    /// Takes out a field with its value and its comma.
    pub(super) fn leave_out(text: &str, name: usize) -> Self {
        let mut tokens = Tokens::new(text, name);
        tokens.next();
        if tokens.peek().is_some_and(|token| token.kind == Kind::Colon) {
            tokens.next();
        }
        let mut behind = Tokens::new(text, value_end(text, tokens.at));
        let comma = behind.peek().is_some_and(|token| token.kind == Kind::Comma);
        if comma {
            behind.next();
        }
        Self::put(name..behind.at, "", true)
    }
}

/// A text that is being mended.
pub(super) struct Mending<'a> {
    text: Cow<'a, str>,
    /// For each byte, and for the end, the byte of the first text that it comes from; empty while nothing is mended.
    origins: Vec<usize>,
    mended: Vec<Mended>,
}

struct Mended {
    path: String,
    meant: bool,
    /// True where nothing below the path is told.
    silent_below: bool,
}

impl<'a> Mending<'a> {
    pub(super) const fn new(text: &'a str) -> Self {
        Self { text: Cow::Borrowed(text), origins: Vec::new(), mended: Vec::new() }
    }

    /// The text as it now is.
    pub(super) fn text(&self) -> &str {
        &self.text
    }

    /// The byte of the first text that a byte comes from.
    pub(super) fn origin(&self, offset: usize) -> usize {
        self.origins.get(offset).copied().unwrap_or(offset)
    }

    /// Takes a letter out wherever it stands.
    pub(super) fn without(&mut self, letter: char) {
        let kept = self.text.char_indices().filter(|(_, other)| *other != letter);
        self.origins = kept.clone().flat_map(|(at, other)| at..at + other.len_utf8()).collect();
        self.origins.push(self.text.len());
        self.text = Cow::Owned(kept.map(|(_, other)| other).collect());
    }

    /// Mends a fault at a path.
    pub(super) fn mend(&mut self, path: String, mend: &Mend) {
        let Mend { span, words, meant, renamed } = mend;
        if self.text.get(span.clone()).is_none() {
            return;
        }
        if self.origins.is_empty() {
            self.origins = (0..=self.text.len()).collect();
        }
        let begin = self.origin(span.start);
        self.origins.splice(span.clone(), std::iter::repeat_n(begin, words.len()));
        self.text.to_mut().replace_range(span.clone(), words);
        let renamed = renamed.clone().map(|path| Mended { path, meant: true, silent_below: true });
        self.mended.extend(renamed);
        self.mended.push(Mended { path, meant: *meant, silent_below: !meant });
    }

    /// True where a fault at this path was told already, or follows from a guess.
    pub(super) fn explains(&self, path: &str) -> bool {
        self.mended.iter().any(|mended| {
            let below = path.strip_prefix(&mended.path);
            !path.is_empty()
                && below.is_some_and(|below| {
                    below.is_empty() || (mended.silent_below && below.starts_with(['.', '[']))
                })
        })
    }

    /// True where a fault of the model may follow from a guess: from one in the same item, or from any in a name or
    /// a list that others point at.
    pub(super) fn has_guessed_at(&self, path: &str) -> bool {
        self.mended.iter().filter(|mended| !mended.meant).any(|mended| {
            let is_wide = mended.path.ends_with(".name") || !mended.path.contains(['.', '[']);
            is_wide || item(&mended.path) == item(path)
        })
    }
}

/// The path of the item of a list, or of the field of the whole file, that a path leads into.
fn item(path: &str) -> &str {
    let end = path.find(']').map(|at| at + 1).or_else(|| path.find('.')).unwrap_or(path.len());
    path.get(..end).unwrap_or(path)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_behind_what_was_mended_is_told_as_in_the_first_text() {
        let text = "(a: 3/8, b: oops, c: 1)";
        let mut mending = Mending::new(text);
        mending.mend("a".to_owned(), &Mend::put(4..7, "0.375", true));
        let second = mending.text().find("oops").unwrap();
        assert_eq!(mending.origin(second), text.find("oops").unwrap());
        mending.mend("b".to_owned(), &Mend::put(second..second + 4, "0", false));
        assert_eq!(mending.text(), "(a: 0.375, b: 0, c: 1)");
        assert_eq!(mending.origin(mending.text().len()), text.len());
        assert_eq!(mending.origin(mending.text().find('c').unwrap()), text.find("c:").unwrap());
    }

    #[test]
    fn a_letter_goes_wherever_it_stands_and_places_stay() {
        let text = "(\0a: 6\08,\0 ñ\0: z)\0\0";
        let mut mending = Mending::new(text);
        mending.without('\0');
        assert_eq!(mending.text(), "(a: 68, ñ: z)");
        for letter in ["a", "8", "ñ", "z", ")"] {
            assert_eq!(mending.origin(mending.text().find(letter).unwrap()), text.find(letter).unwrap());
        }
        assert_eq!(mending.origin(mending.text().len()), text.len());
    }

    #[test]
    fn a_field_goes_with_its_value_and_its_comma() {
        for (text, left) in
            [("(a: [1, (b: 2)], c: 3)", "( c: 3)"), ("(a: 1)", "()"), ("(a: Some(1) c: 3)", "( c: 3)")]
        {
            let mut mending = Mending::new(text);
            mending.mend(String::new(), &Mend::leave_out(text, 1));
            assert_eq!(mending.text(), left);
        }
    }

    #[test]
    fn what_follows_from_a_guess_is_its_item_and_no_more() {
        let mut mending = Mending::new("(bars: [(gauge_mm: x)])");
        mending.mend("bars[0].gauge_mm".to_owned(), &Mend::put(19..20, "0", false));
        assert!(mending.explains("bars[0].gauge_mm") && !mending.explains("bars[0].gauge_mm_too"));
        assert!(
            mending.has_guessed_at("bars[0].thickness_mm") && !mending.has_guessed_at("bars[1].gauge_mm")
        );
        mending.mend("bars[1].name".to_owned(), &Mend::put(0..0, "", false));
        assert!(mending.has_guessed_at("setups[3].bar"), "a name that others point at");
    }
}
