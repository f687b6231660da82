//! Where the numbers under a report come from, in lines that a terminal holds.

use crate::desk::format::Units;
use crate::desk::sources::{HEADING, Topic, by_mark};
use barpoise_core::Mark;

/// No line is longer than this, unless a single word is.
const WIDEST: usize = 110;
/// How far lines stand in after the first of a paragraph.
const IN: &str = "    ";

/// All that is assumed for some topics, a paragraph for each mark, and what the marks mean.
pub(super) fn lines(units: Units, topics: &[Topic]) -> String {
    let mut text = format!("{HEADING}\n");
    for paragraph in by_mark(units, topics).into_iter().chain([format!("{}.", Mark::LEGEND)]) {
        wrap(&mut text, &paragraph);
    }
    text
}

fn wrap(text: &mut String, paragraph: &str) {
    let mut line = String::from("  ");
    for word in paragraph.split(' ') {
        let is_begun = !line.trim().is_empty();
        if is_begun && line.chars().count() + 1 + word.chars().count() > WIDEST {
            text.push_str(&line);
            text.push('\n');
            IN.clone_into(&mut line);
        } else if is_begun {
            line.push(' ');
        }
        line.push_str(word);
    }
    text.push_str(&line);
    text.push('\n');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_word_is_lost_and_no_line_is_too_long() {
        let text = lines(Units::default(), &Topic::ALL);
        assert!(text.lines().all(|line| line.chars().count() <= WIDEST), "{text}");
        let words = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
        let said = by_mark(Units::default(), &Topic::ALL).join(" ");
        assert_eq!(words(&text), words(&format!("{HEADING} {said} {}.", Mark::LEGEND)));
    }
}
