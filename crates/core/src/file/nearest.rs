//! What was probably meant by a misspelt word.

/// A word longer than this is no slip of the pen.
const LONGEST: usize = 60;

/// The known word nearest to a misspelt one, where it is near enough to be meant: one slip in three
/// letters, four at most.
pub(crate) fn nearest<'k>(found: &str, known: &[&'k str]) -> Option<&'k str> {
    let found = found.trim_matches('`');
    let length = found.chars().count();
    if length > LONGEST {
        return None;
    }
    known
        .iter()
        .map(|word| (slips(found, word), *word))
        .filter(|(slips, word)| *slips <= (length.max(word.chars().count()) / 3).clamp(1, 4))
        .min()
        .map(|(_, word)| word)
}

/// Letters to put in, take out or change to get from one word to the other (Levenshtein distance), case apart.
fn slips(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.to_lowercase().chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, a_letter) in a.to_lowercase().chars().enumerate() {
        let mut next = vec![i + 1];
        for ((b_letter, diagonal), above) in b.iter().zip(&row).zip(row.iter().skip(1)) {
            let left = next.last().copied().unwrap_or_default();
            let changed = diagonal + usize::from(a_letter != *b_letter);
            next.push(changed.min(left + 1).min(above + 1));
        }
        row = next;
    }
    row.last().copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_are_counted() {
        assert_eq!(slips("kitten", "sitting"), 3);
        assert_eq!(slips("", "abc"), 3);
        assert_eq!(slips("Abc", "abc"), 0);
    }

    #[test]
    fn only_a_near_word_is_offered() {
        let known = ["thickness_mm", "tail_width_mm", "name"];
        assert_eq!(nearest("thicknes_mm", &known), Some("thickness_mm"));
        assert_eq!(nearest("thickness", &known), Some("thickness_mm"));
        assert_eq!(nearest("colour", &known), None);
        assert_eq!(nearest(&"x".repeat(1_000_000), &known), None);
    }
}
