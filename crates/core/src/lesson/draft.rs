//! A lesson while it is being written: its faults, its text, and that text in an old file's own words.

use super::checks::checked;
use super::mirror::{LESSON_VERSION, LessonFile};
use super::model::Lesson;
use super::read::parse_lesson;
use crate::fault::Fault;
use crate::file::keep::edited_text;
use crate::file::parse::ron_options;
use ron::ser::PrettyConfig;

/// Steps and their fields stand on lines of their own, what is inside them on one.
const LINES_TO_DEPTH: usize = 4;

impl LessonFile {
    /// A lesson as it stands in its file.
    ///
    /// # Errors
    /// None for a lesson that was read: its text was read before.
    pub fn of(lesson: &Lesson) -> Result<Self, ron::error::SpannedError> {
        ron_options().from_str(lesson.text())
    }

    /// What is wrong with it, each with the path of its field, such as `steps[2].heading`.
    pub fn faults(&self) -> Vec<Fault> {
        checked(self).err().unwrap_or_default()
    }

    /// As text that is read back as the same lesson, of the newest version.
    ///
    /// # Errors
    /// None for any lesson of today's layout; the serializer's own, should a field ever not be writable.
    pub fn text(&self) -> Result<String, ron::Error> {
        Self { version: LESSON_VERSION, ..self.clone() }.text_as_it_is()
    }

    /// Of whatever version it says.
    fn text_as_it_is(&self) -> Result<String, ron::Error> {
        let layout = PrettyConfig::new()
            .new_line("\n")
            .indentor("    ")
            .struct_names(false)
            .depth_limit(LINES_TO_DEPTH);
        Ok(format!("// A Barpoise lesson.\n{}\n", ron_options().to_string_pretty(self, layout)?))
    }

    /// The text of an old file with only that changed by which this lesson differs from what stood there: its comments and
    /// its order stay where they can.
    ///
    /// # Errors
    /// As [`Self::text`].
    pub fn text_over(&self, old: &str) -> Result<String, ron::Error> {
        let is = self.text()?;
        let was = ron_options().from_str::<Self>(old).ok().and_then(|old| old.text_as_it_is().ok());
        let newest = Self { version: LESSON_VERSION, ..self.clone() };
        let holds = |text: &str| {
            parse_lesson(text, "").is_ok()
                && ron_options().from_str::<Self>(text).is_ok_and(|read| read == newest)
        };
        Ok(was.and_then(|was| edited_text(old, &was, &is, holds)).map_or(is, |(text, _)| text))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::{built_in, built_in_text};

    #[test]
    fn a_lesson_is_written_and_read_back_as_the_same() {
        let lesson = built_in().unwrap();
        let file = LessonFile::of(&lesson).unwrap();
        assert!(file.faults().is_empty());
        let again = parse_lesson(&file.text().unwrap(), "again").unwrap();
        assert_eq!(again.steps(), lesson.steps());
        assert_eq!((again.name(), again.note()), (lesson.name(), lesson.note()));
    }

    #[test]
    fn one_changed_heading_leaves_every_other_byte_of_the_file_alone() {
        let old = built_in_text();
        let mut file = LessonFile::of(&built_in().unwrap()).unwrap();
        let before = std::mem::replace(&mut file.steps[4].heading, "Another word".to_owned());
        let text = file.text_over(old).unwrap();
        assert_eq!(text, old.replacen(&format!("\"{before}\""), "\"Another word\"", 1));
        file.steps.remove(3);
        let text = file.text_over(old).unwrap();
        assert!(text.contains("// No figure is typed into a caption."), "the comments stay");
        assert_eq!(parse_lesson(&text, "").unwrap().steps().len(), file.steps.len());
    }

    #[test]
    fn a_lesson_of_an_older_version_keeps_its_comments_and_becomes_one_of_the_newest() {
        let old = "// Ours.\n(version: 2, name: \"Bars\", steps: [\n  // The only one.\n  (heading: \"One\", caption: \
                   \"Look.\", roles: [OnBench], view: Log(reaches: 1.2)),\n])\n";
        let mut file = LessonFile::of(&parse_lesson(old, "").unwrap()).unwrap();
        file.steps[0].heading = "Two".to_owned();
        let newest = format!("version: {LESSON_VERSION}");
        let wanted = old.replace("version: 2", &newest).replace("\"One\"", "\"Two\"");
        assert_eq!(file.text_over(old).unwrap(), wanted);
    }

    #[test]
    fn faults_are_told_by_the_path_of_their_field() {
        let mut file = LessonFile::of(&built_in().unwrap()).unwrap();
        file.steps[2].heading.clear();
        let faults = file.faults();
        assert_eq!(faults.len(), 1);
        assert_eq!(faults[0].path, "steps[2].heading");
    }
}
