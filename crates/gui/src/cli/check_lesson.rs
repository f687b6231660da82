//! What a lesson's file holds, step by step.

use crate::desk::words::weigh_in::counted;
use barpoise_core::lesson::{Lesson, Step, View};
use std::path::Path;

/// The report on a lesson that was read without a fault.
pub(super) fn report(lesson: &Lesson, file: &Path) -> String {
    let steps = lesson.steps();
    let mut text =
        format!("{}: in order\n{}: {}\n\n", file.display(), lesson.name(), counted(steps.len(), "step"));
    for (index, step) in steps.iter().enumerate() {
        text.push_str(&format!("{:>3}  {}: {}\n", index + 1, step.heading, shows(step)));
    }
    text
}

fn shows(step: &Step) -> String {
    let view = match &step.view {
        View::Bench => "one saw".to_owned(),
        View::SideBySide => "saws side by side".to_owned(),
        View::Drawing(of) => of.words().to_owned(),
        View::Log(log) if log.runs => "a log, its cut running".to_owned(),
        View::Log(_) => "a log".to_owned(),
        View::Words { lines } => counted(lines.len(), "line"),
    };
    let mut said = vec![view];
    if !step.roles.is_empty() {
        said.push(step.roles.iter().map(|role| role.words()).collect::<Vec<_>>().join(", "));
    }
    if !step.setups.is_empty() {
        said.push(step.setups.join(", "));
    }
    if step.guess.is_some() || step.choose.is_some() {
        said.push("asks first".to_owned());
    }
    said.join("; ")
}
