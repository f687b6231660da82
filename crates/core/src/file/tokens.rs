//! The words, signs and comments of a text in RON, wherever it is broken.

/// Deeper nesting than this is no yard (the deepest field of a yard lies 7 brackets down).
pub(super) const DEEPEST: usize = 64;

/// The word, text or sign that begins at a byte.
pub(super) fn token_at(text: &str, offset: usize) -> &str {
    let mut tokens = Tokens::new(text, offset);
    tokens.next().and_then(|token| text.get(token.start..tokens.at)).unwrap_or_default()
}

/// Byte at which the next word, text or sign begins; `None` where nothing but blanks and comments follows.
pub(super) fn next_token_start(text: &str, offset: usize) -> Option<usize> {
    Tokens::new(text, offset).next().map(|token| token.start)
}

/// The comments of a text, in order.
pub(super) fn comments(text: &str) -> impl Iterator<Item = &str> {
    let mut tokens = Tokens::new(text, 0);
    std::iter::from_fn(move || {
        loop {
            if let Some(comment) = tokens.comment() {
                return Some(comment.trim_end());
            }
            tokens.next()?;
        }
    })
}

/// True where a comment stands in the text, outside of `heading`.
pub(super) fn has_comments(text: &str, heading: &str) -> bool {
    comments(text.strip_prefix(heading).unwrap_or(text)).next().is_some()
}

/// What begins like a comment and is none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stray {
    /// A `/` that no other and no `*` follows.
    Slash(usize),
    /// A comment that goes on to the end of the text.
    OpenComment(usize),
}

/// The first of them in a text.
pub(super) fn first_stray(text: &str) -> Option<Stray> {
    let mut tokens = Tokens::new(text, 0);
    loop {
        while let Some(comment) = tokens.comment() {
            if comment.starts_with("/*") && block_comment_length(comment).is_none() {
                return Some(Stray::OpenComment(tokens.at - comment.len()));
            }
        }
        let token = tokens.next()?;
        if text.get(token.start..tokens.at).is_some_and(|word| word.starts_with('/')) {
            return Some(Stray::Slash(token.start));
        }
    }
}

/// Byte behind the first opening bracket from here on, before anything but a name.
pub(super) fn brackets_behind(text: &str, offset: usize) -> Option<usize> {
    let mut tokens = Tokens::new(text, offset);
    let first = tokens.next()?;
    let opens = |token: Token| matches!(token.kind, Kind::Open { .. });
    let found = opens(first) || (first.kind == Kind::Word && tokens.next().is_some_and(opens));
    found.then_some(tokens.at)
}

/// Byte behind the last word of the value that begins here: before the comma, the bracket or the next field.
pub(super) fn value_end(text: &str, offset: usize) -> usize {
    let mut tokens = Tokens::new(text, offset);
    let (mut depth, mut end) = (0_usize, offset);
    while let Some(token) = tokens.next() {
        match token.kind {
            Kind::Open { .. } => depth += 1,
            Kind::Close if depth == 0 => break,
            Kind::Close => depth -= 1,
            Kind::Comma if depth == 0 => break,
            Kind::Word if depth == 0 && tokens.peek().is_some_and(|next| next.kind == Kind::Colon) => break,
            _ => {}
        }
        end = tokens.at;
    }
    end
}

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Word,
    Text,
    Open { list: bool },
    Close,
    Comma,
    Colon,
}

/// A token; it ends where [`Tokens::at`] then stands.
#[derive(Clone, Copy, Debug)]
pub(super) struct Token {
    pub(super) kind: Kind,
    pub(super) start: usize,
}

/// RON's tokens, as coarse as those need them who look for places.
#[derive(Clone, Debug)]
pub(super) struct Tokens<'a> {
    text: &'a str,
    /// Byte behind the last token.
    pub(super) at: usize,
}

impl<'a> Tokens<'a> {
    /// From a byte of a text on.
    pub(super) const fn new(text: &'a str, at: usize) -> Self {
        Self { text, at }
    }

    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    /// The token that comes next, left where it is.
    pub(super) fn peek(&self) -> Option<Token> {
        self.clone().next()
    }

    /// Over blanks, and over one comment where it comes next.
    fn comment(&mut self) -> Option<&'a str> {
        let rest = self.rest();
        let after = rest.trim_start();
        self.at += rest.len() - after.len();
        let length = if after.starts_with("//") {
            after.find('\n').unwrap_or(after.len())
        } else if after.starts_with("/*") {
            block_comment_length(after).unwrap_or(after.len())
        } else {
            return None;
        };
        self.at += length;
        after.get(..length)
    }
}

impl Iterator for Tokens<'_> {
    type Item = Token;

    fn next(&mut self) -> Option<Token> {
        while self.comment().is_some() {}
        let rest = self.rest();
        let (kind, length) = match rest.chars().next()? {
            '(' | '{' => (Kind::Open { list: false }, 1),
            '[' => (Kind::Open { list: true }, 1),
            ')' | ']' | '}' => (Kind::Close, 1),
            ',' => (Kind::Comma, 1),
            ':' => (Kind::Colon, 1),
            '"' => (Kind::Text, text_length(rest)),
            _ => match raw_text_length(rest).or_else(|| letter_length(rest)) {
                Some(length) => (Kind::Text, length),
                None => (Kind::Word, word_length(rest)),
            },
        };
        let start = self.at;
        self.at += length;
        Some(Token { kind, start })
    }
}

/// `None` where it is not closed.
fn block_comment_length(text: &str) -> Option<usize> {
    let (mut depth, mut at) = (0_usize, 0);
    while let Some(rest) = text.get(at..).filter(|rest| !rest.is_empty()) {
        if rest.starts_with("/*") {
            depth += 1;
            at += 2;
        } else if rest.starts_with("*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return Some(at);
            }
        } else {
            at += rest.chars().next().map_or(1, char::len_utf8);
        }
    }
    None
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

/// A letter in its quotes, such as `'"'`; an apostrophe elsewhere quotes nothing.
fn letter_length(text: &str) -> Option<usize> {
    let letter = text.strip_prefix('\'')?;
    let skipped = usize::from(letter.starts_with('\\'));
    let (at, last) = letter.char_indices().nth(1 + skipped)?;
    (last == '\'').then_some(1 + at + 1)
}

fn word_length(text: &str) -> usize {
    let ends =
        |c: char| c.is_whitespace() || matches!(c, '(' | ')' | '[' | ']' | '{' | '}' | ',' | ':' | '"' | '/');
    match text.char_indices().skip(1).find(|(_, c)| ends(*c)) {
        Some((at, _)) => at,
        None => text.len(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_are_told_from_texts() {
        let text =
            "(a: \"// no\", /* one /* in */ it */ b: r#\"/* \" no */\"#, // two\n c: '\"' /* three */)";
        let found: Vec<&str> = comments(text).collect();
        assert_eq!(found, ["/* one /* in */ it */", "// two", "/* three */"]);
    }
}
