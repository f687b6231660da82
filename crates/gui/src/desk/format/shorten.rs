//! Names that are longer than their room, shortened in the middle: there they differ least.

/// A name in a drawing has at most so many letters.
const NAME: usize = 26;
/// What stands for the letters that are left out.
const GAP: &str = "…";

/// A text of at most so many letters: its beginning, a gap, its end.
pub fn middle(text: &str, most: usize) -> String {
    let count = text.chars().count();
    if count <= most {
        return text.to_owned();
    }
    let kept = most.saturating_sub(1);
    let (before, after) = (kept.div_ceil(2), kept / 2);
    let begin = text.chars().take(before);
    begin.chain(GAP.chars()).chain(text.chars().skip(count - after)).collect()
}

/// A name as a drawing shows it.
pub fn short_name(name: &str) -> String {
    middle(name, NAME)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ends_of_a_text_stay() {
        assert_eq!(middle("Alder Flat", 10), "Alder Flat");
        assert_eq!(middle("Alder Flat woodlot", 9), "Alde…dlot");
        assert_eq!(middle("Höfe am Fluß", 6), "Höf…uß");
        assert_eq!(middle("abc", 1), "…");
    }
}
