//! The files that the room *Teach* reads and writes.

/// A file that the room *Teach* reads or writes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::window) enum TeachFile {
    OpenLesson,
    SaveLesson,
    Handout,
    LessonSheet,
    Drawing,
    Table,
    Guesses,
    Moving,
}

impl TeachFile {
    /// What is asked beside the field, and its button.
    pub(in crate::window) const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::OpenLesson => ("Path of a lesson file", "Open"),
            Self::SaveLesson => ("Save the lesson as, path of a lesson file", "Save"),
            Self::Handout => ("Save the handout as, .pdf, .svg or .png", "Save"),
            Self::LessonSheet => ("Save the lesson sheet as, .pdf, .svg or .png", "Save"),
            Self::Drawing => ("Save the drawing as, .pdf, .svg or .png", "Save"),
            Self::Table => ("Save the table as, .csv or .json", "Save"),
            Self::Guesses => ("Save the guesses as, .csv", "Save"),
            Self::Moving => ("Save the moving picture as, .gif", "Save"),
        }
    }

    /// The name that the dialog offers; `None` where a file is opened.
    pub(in crate::window) const fn offered(self) -> Option<&'static str> {
        match self {
            Self::OpenLesson => None,
            Self::SaveLesson => Some("my.lesson.ron"),
            Self::Handout => Some("handout.pdf"),
            Self::LessonSheet => Some("lesson.pdf"),
            Self::Drawing => Some("drawing.pdf"),
            Self::Table => Some("figures.csv"),
            Self::Guesses => Some("guesses.csv"),
            Self::Moving => Some("moving.gif"),
        }
    }

    /// The kind of file, and its endings.
    pub(in crate::window) const fn filter(self) -> (&'static str, &'static [&'static str]) {
        match self {
            Self::OpenLesson | Self::SaveLesson => ("Lesson", &["ron"]),
            Self::Handout | Self::LessonSheet | Self::Drawing => ("Drawing", &["pdf", "svg", "png"]),
            Self::Table => ("Table", &["csv", "json"]),
            Self::Guesses => ("Table", &["csv"]),
            Self::Moving => ("Moving picture", &["gif"]),
        }
    }
}
