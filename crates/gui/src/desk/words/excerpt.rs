//! The lines of a text round its faults, for whoever mends it beside the message.

use barpoise_core::file::FileFault;

/// The lines round so many faults are shown; the others wait until these are mended.
const FAULTS: usize = 3;
/// So many lines before and after a faulty one.
const BESIDE: usize = 1;
/// A line is shown with at most so many letters before and after its fault.
const LETTERS: usize = 60;

/// A line of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// Its number, from 1.
    pub number: usize,
    /// What stands before the fault; all of a line without one.
    pub before: String,
    /// The word that is faulty; empty on a line without a fault.
    pub faulty: String,
    /// What stands after it.
    pub after: String,
}

/// The lines round the first faults, in their order.
pub fn excerpt(text: &str, faults: &[FileFault]) -> Vec<Line> {
    let places: Vec<(usize, usize)> = faults
        .iter()
        .filter_map(|fault| fault.position)
        .map(|at| (at.line, at.column))
        .take(FAULTS)
        .collect();
    let near = |number: usize| places.iter().any(|(line, _)| number.abs_diff(*line) <= BESIDE);
    text.lines()
        .enumerate()
        .map(|(index, line)| (index + 1, line))
        .filter(|(number, _)| near(*number))
        .map(|(number, line)| {
            let column = places.iter().find(|(at, _)| *at == number).map(|(_, column)| *column);
            cut(number, line, column)
        })
        .collect()
}

fn cut(number: usize, line: &str, column: Option<usize>) -> Line {
    // What steers a terminal or turns letters round is none of what a person reads.
    let letters: Vec<char> = line.chars().map(|c| if c == '\t' { ' ' } else { c }).map(shown).collect();
    let at = column.map_or(letters.len(), |column| column.saturating_sub(1).min(letters.len()));
    let (before, rest) = letters.split_at_checked(at).unwrap_or((&letters, &[]));
    let ends = |c: &char| c.is_whitespace() || matches!(c, ',' | ')' | ']' | '}');
    let word = match column {
        None => 0,
        Some(_) => rest.iter().position(ends).unwrap_or(rest.len()).max(rest.len().min(1)),
    };
    let (faulty, after) = rest.split_at_checked(word).unwrap_or((rest, &[]));
    let text = |letters: &[char]| letters.iter().collect::<String>();
    let first = before.len().saturating_sub(LETTERS);
    let lead = if column.is_some() && first > 0 { "…" } else { "" };
    let from = if column.is_some() { before.get(first..).unwrap_or_default() } else { before };
    Line {
        number,
        before: format!("{lead}{}", clipped(&text(from), 2 * LETTERS)),
        faulty: clipped(&text(faulty), LETTERS),
        after: clipped(&text(after), LETTERS),
    }
}

fn clipped(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    text.chars().take(most).chain(['…']).collect()
}

fn shown(c: char) -> char {
    if c.is_control() { '\u{fffd}' } else { c }
}

#[cfg(test)]
mod tests {
    use super::*;
    use barpoise_core::file::{demo_text, parse_yard};

    #[test]
    fn the_lines_round_a_fault_are_shown_with_the_faulty_word() {
        let text = demo_text().replacen("dry_mass_kg: 6.3", "dry_mass_kg: 63", 1);
        assert_ne!(text, demo_text());
        let error = parse_yard(&text, "my.yard.ron").unwrap_err();
        let lines = excerpt(&text, error.faults());
        assert_eq!(lines.len(), 3, "{lines:?}");
        let at = error.faults()[0].position.unwrap().line;
        assert_eq!(lines.iter().map(|line| line.number).collect::<Vec<_>>(), [at - 1, at, at + 1]);
        assert_eq!(lines[1].faulty, "63");
        let whole = format!("{}{}{}", lines[1].before, lines[1].faulty, lines[1].after);
        assert_eq!(whole, text.lines().nth(at - 1).unwrap());
    }

    #[test]
    fn a_file_of_one_endless_line_is_shown_near_its_fault_alone() {
        let text = format!("(version: 9, {} a: oops, {})", "x".repeat(500), "y".repeat(500));
        let column = text.find("oops").unwrap() + 1;
        let line = cut(1, &text, Some(column));
        assert_eq!(line.faulty, "oops");
        assert!(line.before.chars().count() <= 61 && line.after.chars().count() <= 61, "{line:?}");
        let dark = cut(1, "a\u{1b}[31m", Some(2));
        assert!(!format!("{dark:?}").contains('\u{1b}'), "{dark:?}");
    }
}
