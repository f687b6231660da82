//! A lesson is taken in order, with every step within its bounds, or is refused in lines that say where.

use super::yard::is_located;
use barpoise_core::lesson::parse_lesson;

const NAME: &str = "any.lesson.ron";

/// Holds the law to a text.
pub fn holds(text: &str) {
    match parse_lesson(text, NAME) {
        Ok(lesson) => assert!(!lesson.steps().is_empty(), "a lesson without a step"),
        Err(error) => is_located(text, NAME, &error),
    }
}
