//! A lesson: steps over a yard's own setups, in a file that a trainer edits by hand.
//!
//! A lesson names setups, or the parts that they play, and says what to show of them; no figure stands in it. Captions
//! leave a place for each figure, such as `{weight}`, which is filled from the model when the step is shown. [`Cast`]
//! finds who plays the parts in a yard.
//!
//! ```
//! use barpoise_core::{file, lesson};
//!
//! let lesson = lesson::built_in()?;
//! assert!(lesson.missing_in(&file::demo()?).is_none(), "it names only setups of the demo yard");
//! let said = lesson::parse_lesson("(version: 1, name: \"Balance\", steps: [])", "my.lesson.ron");
//! assert!(said.unwrap_err().first_line().starts_with("my.lesson.ron:1:38: steps: "));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod cast;
mod checks;
mod draft;
mod log;
mod log_file;
mod mirror;
mod model;
mod read;
mod role;
mod subject;
mod words;

pub use cast::{CAST_ASSUMPTIONS, Cast, Unplayed};
pub use log::{LogShown, LogWidth};
pub use log_file::{BindFile, LiesFile, SettingFile, TangleFile, WayFile};
pub use mirror::{
    AmongFile, ChoiceFile, Guessed, LESSON_VERSION, LessonFile, OLDEST_LESSON_VERSION, StepFile, Thing,
    ThingSeen, ViewFile,
};
pub use model::{Among, Choice, Lesson, Step, View};
pub use read::{built_in, built_in_text, parse_lesson, read_lesson};
pub use role::Role;
pub use subject::Subject;
pub use words::{Figure, Piece, Whose};
