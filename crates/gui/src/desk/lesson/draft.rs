//! A lesson being written: what is typed, what is wrong with it, and the text that goes into its file.

use barpoise_core::Fault;
use barpoise_core::lesson::{Lesson, LessonFile, StepFile, ViewFile, parse_lesson};
use std::sync::Arc;

/// A lesson being written beside the running step.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// The lesson as it is typed.
    pub file: LessonFile,
    /// The text it was read from, for its comments.
    read: String,
    faults: Vec<Fault>,
    changed: bool,
}

impl Draft {
    /// Begins with a lesson as it was read.
    pub fn of(lesson: &Lesson) -> Option<Self> {
        let file = LessonFile::of(lesson).ok()?;
        Some(Self { file, read: lesson.text().to_owned(), faults: Vec::new(), changed: false })
    }

    /// The text it was read from, or last saved as.
    pub fn read(&self) -> &str {
        &self.read
    }

    /// What is wrong with the field of this path, such as `steps[2].heading`, or with anything within it.
    pub fn faults_at<'a>(&'a self, path: &'a str) -> impl Iterator<Item = &'a str> {
        let within = move |fault: &&Fault| {
            fault.path.strip_prefix(path).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        };
        self.faults.iter().filter(within).map(|fault| fault.message.as_str())
    }

    /// How many faults there are.
    pub fn fault_count(&self) -> usize {
        self.faults.len()
    }

    /// The first step that has a fault.
    pub fn first_faulty_step(&self) -> Option<usize> {
        (0..self.file.steps.len()).find(|step| self.faults_at(&format!("steps[{step}]")).next().is_some())
    }

    /// True where something was typed that is in no file.
    pub const fn is_changed(&self) -> bool {
        self.changed
    }

    /// Takes what was typed: the lesson that it makes, where it makes one.
    pub fn take(&mut self) -> Option<Arc<Lesson>> {
        self.changed = true;
        self.faults = self.file.faults();
        if !self.faults.is_empty() {
            return None;
        }
        let text = self.text().ok()?;
        parse_lesson(&text, &self.file.name).ok().map(Arc::new)
    }

    /// The text for its file: the old one where nothing changed it.
    ///
    /// # Errors
    /// The first fault, or that it cannot be written.
    pub fn text(&self) -> Result<String, String> {
        if let Some(fault) = self.faults.first() {
            return Err(fault.message.clone());
        }
        self.file.text_over(&self.read).map_err(|error| error.to_string())
    }

    /// What was typed is in a file now.
    pub fn saved(&mut self, text: String) {
        self.read = text;
        self.changed = false;
    }

    /// A new step after one.
    pub fn add_after(&mut self, step: usize) {
        let roles = vec![barpoise_core::lesson::Role::OnBench];
        let new = StepFile {
            heading: "New step".to_owned(),
            caption: "What is seen here.".to_owned(),
            setups: Vec::new(),
            roles,
            view: ViewFile::Bench,
            point_at: Vec::new(),
            guess: None,
            choose: None,
        };
        let at = (step + 1).min(self.file.steps.len());
        self.file.steps.insert(at, new);
    }

    /// Takes a step out; the last one stays.
    pub fn remove(&mut self, step: usize) {
        if self.file.steps.len() > 1 && step < self.file.steps.len() {
            self.file.steps.remove(step);
        }
    }

    /// Moves a step one place towards the end, or towards the beginning; tells where it stands then.
    pub fn shift(&mut self, step: usize, later: bool) -> usize {
        let to = if later { step + 1 } else { step.wrapping_sub(1) };
        if step < self.file.steps.len() && to < self.file.steps.len() {
            self.file.steps.swap(step, to);
            return to;
        }
        step
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use barpoise_core::lesson::built_in;

    #[test]
    fn what_is_typed_is_the_lesson_at_once_and_a_fault_is_told_at_its_field() {
        let mut draft = Draft::of(&built_in().unwrap()).unwrap();
        draft.file.steps[1].heading = "Mine".to_owned();
        assert_eq!(draft.take().unwrap().steps()[1].heading, "Mine");
        draft.file.steps[1].heading = String::new();
        assert!(draft.take().is_none());
        assert_eq!(draft.faults_at("steps[1].heading").count(), 1);
        assert_eq!(draft.faults_at("steps[1]").count(), 1);
        assert_eq!(draft.faults_at("steps[10]").count(), 0, "not step 1 of step 10");
        assert_eq!(draft.first_faulty_step(), Some(1));
        assert!(draft.text().is_err());
    }

    #[test]
    fn steps_are_added_moved_and_taken_out() {
        let mut draft = Draft::of(&built_in().unwrap()).unwrap();
        let many = draft.file.steps.len();
        draft.add_after(0);
        assert_eq!((draft.file.steps.len(), draft.file.steps[1].heading.as_str()), (many + 1, "New step"));
        assert_eq!(draft.shift(1, true), 2);
        assert_eq!(draft.file.steps[2].heading, "New step");
        assert_eq!(draft.shift(0, false), 0, "the first stays first");
        assert!(draft.take().is_some());
        draft.remove(2);
        assert_eq!(draft.file.steps.len(), many);
    }
}
