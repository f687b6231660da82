//! Where a lesson stands: kept between runs where it is worth it, never part of a yard.

use super::{Draft, Guess, GuessRecord, Played, Stage};
use crate::desk::document::Document;
use crate::desk::page_size::PageSize;
use barpoise_core::file::FileError;
use barpoise_core::lesson::{Lesson, Role, Step, built_in, read_lesson};
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
    /// When its file was last seen to change.
    #[serde(skip)]
    pub modified: Option<std::time::SystemTime>,
    /// The lesson as it was read; `None` until the room is opened.
    #[serde(skip)]
    pub lesson: Option<Arc<Lesson>>,
    /// Setups picked by hand for the parts of a lesson, by name.
    pub picked: BTreeMap<Role, String>,
    /// The lesson's steps as the open yard plays them.
    #[serde(skip)]
    pub played: Played,
    /// Guesses by step.
    #[serde(skip)]
    pub guesses: BTreeMap<usize, Guess>,
    /// Answers by step, and whether the right one is told.
    #[serde(skip)]
    pub chosen: BTreeMap<usize, Chosen>,
    /// Guesses that were kept, and who makes them.
    pub record: GuessRecord,
    /// Lines that were ticked off: step and line.
    #[serde(skip)]
    pub ticks: BTreeSet<(usize, usize)>,
    /// The step fills the window, for a projector.
    #[serde(skip)]
    pub projected: bool,
    /// The lesson while it is being written beside the running step.
    #[serde(skip)]
    pub draft: Option<Draft>,
    /// No figure is shown.
    #[serde(skip)]
    pub figures_hidden: bool,
    /// The bar that grows from one setup's to the next's, or the cut that runs; `None` while the drawing stands.
    #[serde(skip)]
    pub motion: Option<Motion>,
    /// What moves by itself has begun to.
    #[serde(skip)]
    pub began: bool,
    /// What goes on a handout, and which drawing is saved.
    pub sheet: SheetChoice,
}

/// An answer.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Chosen {
    /// Which, from 0.
    pub answer: Option<usize>,
    /// The right one is told.
    pub told: bool,
}

/// How far a bar has grown along a step's setups, or a cut has run along its settings.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Motion {
    /// 0 is the first of them, 1 the second.
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
    /// Who made it.
    pub author: String,
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
        let (step, record) = (self.step, std::mem::take(&mut self.record));
        let told = match self.path.clone() {
            Some(path) => self.open(&path),
            None => self.open_built_in(),
        };
        if told.is_err() && self.path.take().is_some() {
            self.open_built_in()?;
        } else {
            self.go(step);
            self.keep_record(record);
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

    /// Reads the lesson's file again where it was changed since; the step and what was guessed stay. Nothing while somebody
    /// writes on it here.
    ///
    /// # Errors
    /// Why the file was refused; the last good lesson runs on.
    pub fn read_again(&mut self) -> Result<bool, FileError> {
        let Some(path) = self.path.clone().filter(|_| self.draft.is_none()) else { return Ok(false) };
        let Some(now) = std::fs::metadata(&path).and_then(|about| about.modified()).ok() else {
            return Ok(false);
        };
        let before = self.modified.replace(now);
        if before.is_none_or(|before| before == now) {
            return Ok(false);
        }
        let lesson = read_lesson(&path)?;
        if self.lesson.as_ref().is_some_and(|known| known.text() == lesson.text()) {
            return Ok(false);
        }
        let (step, record) = (self.step, self.record.clone());
        self.begin(lesson, Some(path));
        self.modified = Some(now);
        self.keep_record(record);
        self.go(step);
        Ok(true)
    }

    /// The same lesson goes on: what was kept of steps that are what they were stays.
    fn keep_record(&mut self, record: GuessRecord) {
        self.record = record;
        let headings: Vec<String> = self.steps().iter().map(|step| step.heading.clone()).collect();
        self.record.only(|step, asked| headings.get(step) == Some(&asked.heading));
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
        let picked = std::mem::take(&mut self.picked);
        let mut record = std::mem::take(&mut self.record);
        record.clear();
        *self = Self {
            path,
            lesson: Some(Arc::new(lesson)),
            sheet,
            picked,
            record,
            projected: self.projected,
            ..Self::default()
        };
    }

    /// Begins to write on the lesson, or ends.
    pub fn write(&mut self, on: bool) {
        self.draft = self.lesson.as_deref().filter(|_| on).and_then(Draft::of);
    }

    /// Takes what was typed; the last lesson without a fault runs on.
    pub fn take_draft(&mut self) {
        let Some(draft) = &mut self.draft else { return };
        if let Some(lesson) = draft.take() {
            self.lesson = Some(lesson);
            self.guesses.clear();
            self.chosen.clear();
        }
    }

    /// The steps of the lesson; none until it is read.
    pub fn steps(&self) -> &[Step] {
        self.lesson.as_ref().map_or(&[], |lesson| lesson.steps())
    }

    /// Finds who plays in each step, and leaves a step that nobody can play.
    pub fn play(&mut self, document: &Document) {
        let Some(lesson) = self.lesson.clone() else { return };
        if self.played.find(&lesson, document, &self.picked) {
            self.go(self.step);
        }
    }

    /// The steps that the open yard can play, each with its number from 1 and what it shows.
    pub fn staged(&self, document: &Document) -> Vec<(usize, &Step, Stage)> {
        let played = (0..self.steps().len()).filter_map(|index| Some((index + 1, self.played.step(index)?)));
        played.map(|(number, step)| (number, step, Stage::of(step, document))).collect()
    }

    /// The step on show, with those who play in it.
    pub fn shown(&self) -> Option<&Step> {
        self.played.step(self.step).or_else(|| self.steps().get(self.step))
    }

    /// The steps that are left out with this yard, and why.
    pub fn left_out(&self) -> impl Iterator<Item = (&Step, &str)> {
        let steps = self.steps().iter().enumerate();
        steps.filter_map(|(index, step)| Some((step, self.played.left_out(index)?)))
    }

    /// Goes to a step, or to the last where there are fewer. One that is left out gives way to the next, in the direction
    /// in which one goes, else to the nearest the other way.
    pub fn go(&mut self, step: usize) {
        let last = self.steps().len().saturating_sub(1);
        let wanted = step.min(last);
        let plays = |step: &usize| self.played.left_out(*step).is_none();
        let (on, back) = ((wanted..=last).find(plays), (0..=wanted).rev().find(plays));
        let step = if wanted < self.step { back.or(on) } else { on.or(back) }.unwrap_or(wanted);
        if step != self.step {
            (self.motion, self.began) = (None, false);
        }
        self.step = step;
    }

    /// True where a step that can be shown comes after this one.
    pub fn has_next(&self) -> bool {
        (self.step + 1..self.steps().len()).any(|step| self.played.left_out(step).is_none())
    }

    /// True where one comes before it.
    pub fn has_back(&self) -> bool {
        (0..self.step).any(|step| self.played.left_out(step).is_none())
    }

    /// Has a setup play a part from now on; what was guessed of another is forgotten.
    pub fn pick(&mut self, role: Role, setup: &str) {
        self.picked.insert(role, setup.to_owned());
        let steps: Vec<bool> = self.steps().iter().map(|step| step.roles.is_empty()).collect();
        let stays = |step: &usize| steps.get(*step).copied().unwrap_or_default();
        self.guesses.retain(|step, _| stays(step));
        self.chosen.retain(|step, _| stays(step));
        (self.motion, self.began) = (None, false);
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
        let Some(step) = self.shown() else { return false };
        let told = self.guesses.get(&self.step).is_some_and(|guess| guess.told);
        let answered = self.chosen.get(&self.step).is_some_and(|chosen| chosen.told);
        (step.guess.is_some() && !told) || (step.choose.is_some() && !answered)
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
