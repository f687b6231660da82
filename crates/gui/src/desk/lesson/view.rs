//! Where a lesson stands: kept between runs where it is worth it, never part of a yard.

use super::Guess;
use crate::desk::page_size::PageSize;
use barpoise_core::file::FileError;
use barpoise_core::lesson::{Lesson, Step, built_in, read_lesson};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// How the room *Teach* is seen.
#[derive(Clone, Debug, Default, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(default)]
pub struct TeachView {
    /// The lesson's file; `None` for the one that is built in.
    pub path: Option<PathBuf>,
    /// The step on show, from 0.
    pub step: usize,
    /// The lesson as it was read; `None` until the room is opened.
    #[serde(skip)]
    pub lesson: Option<Arc<Lesson>>,
    /// Guesses by step.
    #[serde(skip)]
    pub guesses: BTreeMap<usize, Guess>,
    /// Lines that were ticked off: step and line.
    #[serde(skip)]
    pub ticks: BTreeSet<(usize, usize)>,
    /// The step fills the window, for a projector.
    #[serde(skip)]
    pub projected: bool,
    /// No figure is shown.
    #[serde(skip)]
    pub figures_hidden: bool,
    /// The bar that grows from one setup's to the next's; `None` while they hang under each other.
    #[serde(skip)]
    pub growth: Option<Growth>,
    /// What goes on a handout, and which drawing is saved.
    pub sheet: SheetChoice,
}

/// How far a bar has grown along a step's setups.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Growth {
    /// 0 is the first setup, 1 the second.
    pub at: f64,
    /// It goes on by itself.
    pub runs: bool,
}

/// A handout, and a drawing for a file.
#[derive(Clone, Debug, Default, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(default)]
pub struct SheetChoice {
    /// The sheet.
    pub size: PageSize,
    /// Setups that stay off it, by name.
    pub left_out: BTreeSet<String>,
    /// The log of the room *Log* goes on it.
    pub with_log: bool,
    /// The drawing to save.
    pub drawing: SheetDrawing,
}

/// A drawing that can be saved.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum SheetDrawing {
    /// The saw on the bench.
    #[default]
    Bench,
    /// The log before it.
    Log,
    /// The setups of the handout under each other.
    Rack,
}

impl TeachView {
    /// Reads the lesson where that has not been done. Where its file is refused, the built-in lesson stands in for it.
    ///
    /// # Errors
    /// Why the file was refused.
    pub fn prepare(&mut self) -> Result<(), FileError> {
        if self.lesson.is_some() {
            return Ok(());
        }
        let step = self.step;
        let told = match self.path.clone() {
            Some(path) => self.open(&path),
            None => self.open_built_in(),
        };
        if told.is_err() && self.path.take().is_some() {
            self.open_built_in()?;
        } else {
            self.go(step);
        }
        told
    }

    /// Goes on with the lesson of a file; one that is refused changes nothing.
    ///
    /// # Errors
    /// Why it was refused.
    pub fn open(&mut self, path: &Path) -> Result<(), FileError> {
        let lesson = read_lesson(path)?;
        self.begin(lesson, Some(path.to_owned()));
        Ok(())
    }

    /// Goes on with the lesson that is built in.
    ///
    /// # Errors
    /// None in a released program.
    pub fn open_built_in(&mut self) -> Result<(), FileError> {
        self.begin(built_in()?, None);
        Ok(())
    }

    fn begin(&mut self, lesson: Lesson, path: Option<PathBuf>) {
        let sheet = std::mem::take(&mut self.sheet);
        *self = Self {
            path,
            lesson: Some(Arc::new(lesson)),
            sheet,
            projected: self.projected,
            ..Self::default()
        };
    }

    /// The steps of the lesson; none until it is read.
    pub fn steps(&self) -> &[Step] {
        self.lesson.as_ref().map_or(&[], |lesson| lesson.steps())
    }

    /// The step on show.
    pub fn shown(&self) -> Option<&Step> {
        self.steps().get(self.step)
    }

    /// Goes to a step, or to the last where there are fewer.
    pub fn go(&mut self, step: usize) {
        let step = step.min(self.steps().len().saturating_sub(1));
        if step != self.step {
            self.growth = None;
        }
        self.step = step;
    }

    /// One step on.
    pub fn forward(&mut self) {
        self.go(self.step + 1);
    }

    /// One step back.
    pub fn back(&mut self) {
        self.go(self.step.saturating_sub(1));
    }

    /// True while the step waits for a guess: nothing that would give it away is shown.
    pub fn waits_for_guess(&self) -> bool {
        let guessed = self.shown().is_some_and(|step| step.guess.is_some());
        guessed && !self.guesses.get(&self.step).is_some_and(|guess| guess.told)
    }

    /// True where no figure may be shown now.
    pub fn hides_figures(&self) -> bool {
        self.figures_hidden || self.waits_for_guess()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_refused_file_gives_way_to_the_built_in_lesson_and_says_why() {
        let mut view = TeachView { path: Some("none.lesson.ron".into()), step: 3, ..TeachView::default() };
        let said = view.prepare().unwrap_err().to_string();
        assert_eq!(said, "none.lesson.ron: there is no such file");
        assert_eq!((view.path.clone(), view.step), (None, 0));
        assert!(!view.steps().is_empty());
        assert!(view.prepare().is_ok(), "told once");
    }

    #[test]
    fn the_step_is_kept_and_stays_within_the_lesson() {
        let mut view = TeachView { step: 4, ..TeachView::default() };
        view.prepare().unwrap();
        assert_eq!(view.step, 4);
        view.go(10_000);
        assert_eq!(view.step, view.steps().len() - 1);
        view.forward();
        assert_eq!(view.step, view.steps().len() - 1);
        view.go(0);
        view.back();
        assert_eq!(view.step, 0);
    }
}
