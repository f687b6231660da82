//! A lesson being given: where it stands, what a step shows of the open yard, captions with their figures filled in,
//! and guesses.

mod draft;
mod guess;
mod near;
mod played;
mod record;
mod stage;
mod view;
mod words;

use std::path::Path;

pub use draft::Draft;
pub use guess::{Guess, GuessScale};
pub use near::GUESS_ASSUMPTIONS;
pub use played::Played;
pub use record::{Asked, GuessRecord, Kept, ROWS, answers, measure, right_answer, said_words};
pub use stage::Stage;
pub use view::{Chosen, Motion, SheetChoice, SheetDrawing, TeachView};
pub use words::{Span, caption, guess_words, hung_words, question};

/// True where a file's name is that of a lesson.
pub fn is_lesson(path: &Path) -> bool {
    const ENDING: &str = ".lesson.ron";
    path.file_name().is_some_and(|name| name.to_string_lossy().to_lowercase().ends_with(ENDING))
}
