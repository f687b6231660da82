//! Every lesson in `bad-lessons/` is refused with exactly the lines of `bad-lessons/expected.txt`.

use super::corpus::Corpus;
use barpoise_core::file::FileError;
use barpoise_core::lesson::{Lesson, built_in_text, parse_lesson, read_lesson};
use proptest::prelude::*;
use std::path::Path;

/// Characters of a file's own content that a line may show, several short pieces together.
const LONGEST_LINE: usize = 500;

const CORPUS: Corpus<Lesson, FileError> = Corpus::new("bad-lessons", ".lesson.ron", read_lesson);

#[test]
fn each_bad_lesson_gets_exactly_its_lines() {
    CORPUS.holds(35);
}

#[test]
fn a_folder_and_a_missing_file_are_refused_unread() {
    let dir = tempfile::tempdir().unwrap();
    let refused = |path: &Path| {
        let error = read_lesson(path).unwrap_err().to_string();
        error.replace(&dir.path().display().to_string(), "DIR")
    };
    assert_eq!(refused(dir.path()), "DIR: this is a folder, not a lesson file");
    assert_eq!(refused(&dir.path().join("none.lesson.ron")), "DIR/none.lesson.ron: there is no such file");
}

#[test]
fn law_a_lesson_cut_off_anywhere_is_refused_in_one_line_that_says_where() {
    let text = built_in_text();
    let whole = text.trim_end().len();
    let starts_at = text.find("\n(").unwrap() + 2;
    for end in (starts_at..whole).step_by(17).filter(|end| text.is_char_boundary(*end)) {
        let error = parse_lesson(&text[..end], "cut.ron").expect_err("a lesson cut off").to_string();
        assert_eq!(error.lines().count(), 1, "cut at {end}: {error}");
        assert!(error.contains("the file ends"), "cut at {end}: {error}");
    }
}

proptest! {
    #[test]
    fn law_whatever_stands_in_a_lesson_the_refusal_is_short_and_located(
        at in 0.0..1.0_f64,
        put in r#"[()\[\],:"{}0-9a-zé木\\/\n .-]{0,6}"#,
        out in 0..12_usize,
    ) {
        let text: Vec<char> = built_in_text().chars().collect();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss, reason = "a place in a text")]
        let at = (at * text.len() as f64) as usize;
        let after = (at + out).min(text.len());
        let bent: String =
            text[..at].iter().copied().chain(put.chars()).chain(text[after..].iter().copied()).collect();
        if let Err(error) = parse_lesson(&bent, "bent.ron") {
            for line in error.to_string().lines() {
                prop_assert!(line.chars().count() <= LONGEST_LINE, "{line}");
                prop_assert!(line.starts_with("bent.ron:"), "{line}");
            }
        }
    }
}
