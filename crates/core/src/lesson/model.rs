//! A checked lesson.

use super::checks;
use super::log::LogShown;
use super::mirror::{Guessed, LessonFile, Thing};
use super::role::Role;
use super::subject::Subject;
use super::words::Piece;
use crate::fault::Fault;
use crate::file::FileError;
use crate::file::nearest::nearest;
use crate::file::parse::located;
use crate::yard::Yard;

/// A lesson. If it exists, it is sound in itself; whether a yard has its setups is asked of
/// [`Lesson::missing_in`].
#[derive(Clone, Debug, PartialEq)]
pub struct Lesson {
    /// As it was read, for the places of what a yard lacks.
    text: String,
    /// What stands for the file in messages.
    file: String,
    name: String,
    note: String,
    steps: Vec<Step>,
}

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What it is about.
    pub heading: String,
    /// What the trainer says.
    pub caption: Vec<Piece>,
    /// Names of the setups that are shown; of a step with roles, once [`super::Cast`] has found who plays them.
    pub setups: Vec<String>,
    /// Parts that the open yard's setups play.
    pub roles: Vec<Role>,
    /// How they are shown.
    pub view: View,
    /// What is pointed at, in order.
    pub point_at: Vec<Thing>,
    /// What is guessed before any figure is shown.
    pub guess: Option<Guessed>,
    /// In its place: what is asked, and what is chosen from.
    pub choose: Option<Choice>,
}

/// A question that is asked before anything is told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// What is asked.
    pub question: String,
    /// What is chosen from.
    pub among: Among,
}

/// What an answer is chosen from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Among {
    /// Answers in words.
    Answers {
        /// Two to four.
        said: Vec<String>,
        /// The right one, from 0.
        right: usize,
    },
    /// The step's setups; the right one has most of something.
    Setups {
        /// Of what.
        most: Guessed,
    },
}

/// How a step is shown.
#[derive(Clone, Debug, PartialEq)]
pub enum View {
    /// One setup to scale.
    Bench,
    /// One setup before a log.
    Log(Box<LogShown>),
    /// Setups to one scale on one plumb line.
    SideBySide,
    /// A trainer's drawing with one setup.
    Drawing(Subject),
    /// Lines to tick off.
    Words {
        /// One a line.
        lines: Vec<String>,
    },
}

impl Lesson {
    /// A lesson from its file's mirror.
    pub(super) fn new(mirror: LessonFile, text: &str, file: &str) -> Result<Self, Vec<Fault>> {
        let steps = checks::checked(&mirror)?;
        Ok(Self { text: text.to_owned(), file: file.to_owned(), name: mirror.name, note: mirror.note, steps })
    }

    /// Its name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// For whom it is, and what goes with it.
    pub fn note(&self) -> &str {
        &self.note
    }

    /// The steps, at least one.
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// As it stands in its file.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The setups that a yard lacks, each with its place in the lesson's file and the nearest name the yard has;
    /// `None` where it has all. Steps that need none of them can be shown all the same.
    pub fn missing_in(&self, yard: &Yard) -> Option<FileError> {
        let known: Vec<&str> = yard.setups().iter().map(crate::saw::Setup::name).collect();
        let mut faults = Vec::new();
        for (index, step) in self.steps.iter().enumerate() {
            for (place, name) in step.setups.iter().enumerate().filter(|(_, name)| yard.setup(name).is_none())
            {
                let hint = match nearest(name, &known) {
                    Some(close) => format!("did you mean `{close}`?"),
                    None => format!("there is {}", known.join(", ")),
                };
                faults.push(Fault {
                    path: format!("steps[{index}].setups[{place}]"),
                    message: format!("the yard {} has no setup `{name}`; {hint}", yard.name()),
                });
            }
        }
        (!faults.is_empty()).then(|| located(&self.text, &self.file, &faults))
    }
}
