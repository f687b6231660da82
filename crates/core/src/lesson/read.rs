//! Reading a lesson, with every refusal located.

use super::mirror::{LESSON_VERSION, LessonFile, OLDEST_LESSON_VERSION};
use super::model::Lesson;
use crate::file::FileError;
use crate::file::kind::FileKind;
use crate::file::parse::{checked, without_mark};
use crate::file::text::read_text;
use std::path::Path;

const BUILT_IN_NAME: &str = "bar-and-balance.lesson.ron";
/// The lesson for any yard.
const BUILT_IN_TEXT: &str = include_str!("../../../../assets-demo/bar-and-balance.lesson.ron");

const LESSON: FileKind = FileKind {
    noun: "lesson",
    oldest: OLDEST_LESSON_VERSION,
    newest: LESSON_VERSION,
    numbered: &[("steps", "step")],
    // The most steps of the longest words take less.
    largest_bytes: 1 << 20,
};

/// Reads a lesson from a file.
///
/// # Errors
/// Whatever keeps the file from being read, or every fault found in it.
pub fn read_lesson(path: &Path) -> Result<Lesson, FileError> {
    let name = path.display().to_string();
    let text = read_text(&LESSON, path).map_err(|fault| FileError::one(&name, fault))?;
    parse_lesson(&text, &name)
}

/// Reads a lesson from text, without any file; `name` stands for the file in messages.
///
/// # Errors
/// Every fault found in the text.
pub fn parse_lesson(text: &str, name: &str) -> Result<Lesson, FileError> {
    let text = without_mark(text);
    checked(&LESSON, text, name, |file: LessonFile| Lesson::new(file, text, name))
}

/// The text of the lesson that is built in.
pub const fn built_in_text() -> &'static str {
    BUILT_IN_TEXT
}

/// The lesson that is built in, for any yard.
///
/// # Errors
/// None in a released program: a test loads it.
pub fn built_in() -> Result<Lesson, FileError> {
    parse_lesson(BUILT_IN_TEXT, BUILT_IN_NAME)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;
    use crate::lesson::{Cast, Guessed, View};
    use std::collections::BTreeMap;

    #[test]
    fn the_built_in_lesson_loads_and_the_demo_plays_all_its_parts() {
        let lesson = built_in().unwrap();
        let (demo, none) = (demo().unwrap(), BTreeMap::new());
        assert!(lesson.missing_in(&demo).is_none());
        assert!(lesson.note().contains("qualified trainer"));
        let played = Cast::new(&demo, "Bittern B24", &none).of(&lesson);
        let steps: Vec<_> = played.into_iter().map(Result::unwrap).collect();
        for guess in [Guessed::Weight, Guessed::Hang, Guessed::FrontHand, Guessed::Reach] {
            assert!(steps.iter().any(|step| step.guess == Some(guess)), "{guess:?} is guessed");
        }
        assert!(steps.iter().any(|step| step.view == View::SideBySide && step.setups.len() == 4));
        assert!(steps.iter().any(|step| matches!(step.view, View::Log(_))));
        assert!(steps.iter().any(|step| matches!(step.view, View::Words { .. })));
    }

    #[test]
    fn no_figure_is_typed_into_the_built_in_lesson() {
        use crate::lesson::Piece;
        for step in built_in().unwrap().steps() {
            for piece in &step.caption {
                if let Piece::Text(words) = piece {
                    assert!(!words.chars().any(|c| c.is_ascii_digit()), "{}: {words}", step.heading);
                }
            }
        }
    }

    #[test]
    fn setups_that_the_yard_lacks_are_told_with_their_place_and_the_nearest() {
        let text = "(\n version: 1,\n name: \"Bars\",\n steps: [(\n  heading: \"One\",\n  caption: \"Look.\",\n  \
                    setups: [\"Bittern B24\", \"Bittern B41\"],\n  view: SideBySide,\n )],\n)";
        let lesson = parse_lesson(text, "my.lesson.ron").unwrap();
        let yard = demo().unwrap();
        let said = lesson.missing_in(&yard).unwrap();
        assert_eq!(
            said.to_string(),
            "my.lesson.ron:7:27: steps[0].setups[1]: the yard Alder Flat woodlot has no setup `Bittern B41`; did you \
             mean `Bittern B14`?"
        );
    }
}
