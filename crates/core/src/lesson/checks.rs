//! What makes a lesson sound in itself.

use super::log::LogShown;
use super::mirror::{AmongFile, Guessed, LESSON_VERSION, LessonFile, StepFile, Thing, ViewFile};
use super::model::{Among, Choice, Step, View};
use super::words::{Piece, Whose, pieces};
use crate::fault::{Checker, Fault};

/// More saws side by side are too small to see from the back of a room.
pub(super) const MOST_SIDE_BY_SIDE: usize = 4;
const LEAST_SIDE_BY_SIDE: usize = 2;
const MOST_STEPS: usize = 60;
const MOST_LINES: usize = 8;
/// So many characters fit beside a drawing in letters that read from the back of a room.
const LONGEST_HEADING: usize = 48;
const LONGEST_CAPTION: usize = 280;
const LONGEST_LINE: usize = 110;
const LONGEST_NOTE: usize = 600;
const LONGEST_QUESTION: usize = 140;
const LONGEST_ANSWER: usize = 48;
const ANSWERS: std::ops::RangeInclusive<usize> = 2..=4;

/// The steps of a lesson that is sound.
pub(super) fn checked(file: &LessonFile) -> Result<Vec<Step>, Vec<Fault>> {
    let mut top = Checker::new("", "");
    top.name("name", &file.name);
    text(&mut top, "note", "a note", &file.note, LONGEST_NOTE, true);
    match file.steps.len() {
        0 => top.fault("steps", format_args!("a lesson needs 1…{MOST_STEPS} steps, this one has none")),
        1..=MOST_STEPS => {}
        many => top.fault(
            "steps",
            format_args!("a lesson may have at most {MOST_STEPS} steps, this one has {many}"),
        ),
    }
    let mut faults = top.finish(()).err().unwrap_or_default();
    let mut steps = Vec::with_capacity(file.steps.len());
    for (index, step) in file.steps.iter().enumerate() {
        match checked_step(index, step, file.version) {
            Ok(step) => steps.push(step),
            Err(more) => faults.extend(more),
        }
    }
    if faults.is_empty() { Ok(steps) } else { Err(faults) }
}

fn checked_step(index: usize, file: &StepFile, version: u32) -> Result<Step, Vec<Fault>> {
    let mut step = Checker::new(format!("steps[{index}]"), format!("step {}", index + 1));
    newer(&mut step, file, version);
    text(&mut step, "heading", "a heading", &file.heading, LONGEST_HEADING, false);
    text(&mut step, "caption", "a caption", &file.caption, LONGEST_CAPTION, false);
    let caption = pieces(&file.caption).unwrap_or_else(|faults| {
        faults.into_iter().for_each(|fault| step.fault("caption", fault));
        Vec::new()
    });
    let view = view(&mut step, file);
    let count = setups(&mut step, file);
    places(&mut step, file, &caption, count);
    things(&mut step, file);
    guess(&mut step, file);
    let choose = choice(&mut step, file, count);
    step.finish(Step {
        heading: file.heading.trim().to_owned(),
        caption,
        setups: file.setups.clone(),
        roles: file.roles.clone(),
        view,
        point_at: file.point_at.clone(),
        guess: file.guess,
        choose,
    })
}

/// What older versions had not.
fn newer(step: &mut Checker, file: &StepFile, version: u32) {
    let made_to_reach = matches!(&file.view, ViewFile::Log { reaches: Some(_), .. });
    let drawing = matches!(&file.view, ViewFile::Drawing { .. });
    let (lies, person, own, runs) = match &file.view {
        ViewFile::Log { lies, person, settings, runs, .. } => {
            (lies.is_some(), person.is_some(), !settings.is_empty(), *runs)
        }
        _ => (false, false, false, false),
    };
    for (since, field, name, used) in [
        (2, "roles", "roles", !file.roles.is_empty()),
        (2, "view.reaches", "reaches", made_to_reach),
        (3, "view", "view Drawing", drawing),
        (3, "guess", "guess Tip", file.guess == Some(Guessed::Tip)),
        (3, "choose", "choose", file.choose.is_some()),
        (4, "view.lies", "lies", lies),
        (4, "view.person", "person of a step", person),
        (4, "view.settings", "settings of a step", own),
        (4, "view.runs", "runs", runs),
    ] {
        if version < since && used {
            step.fault(
                field,
                format_args!("version {version} has no {name} (write version: {LESSON_VERSION})"),
            );
        }
    }
}

/// Checks a text for people: there, not overlong, line breaks aside without control characters.
fn text(checker: &mut Checker, field: &str, what: &str, text: &str, longest: usize, may_be_empty: bool) {
    let length =
        text.split_whitespace().map(|word| word.chars().count() + 1).sum::<usize>().saturating_sub(1);
    if length == 0 && !may_be_empty {
        checker.fault(field, format_args!("{what} must not be empty"));
    } else if length > longest {
        checker.fault(
            field,
            format_args!("{what} may have at most {longest} characters, this one has {length}"),
        );
    } else if text.chars().any(|c| c.is_control() && !c.is_whitespace()) {
        checker.fault(field, format_args!("{what} must not hold control characters"));
    }
}

fn view(step: &mut Checker, file: &StepFile) -> View {
    match &file.view {
        ViewFile::Bench => View::Bench,
        ViewFile::SideBySide => View::SideBySide,
        ViewFile::Drawing { of } => View::Drawing(*of),
        log @ ViewFile::Log { .. } => View::Log(Box::new(LogShown::checked(step, log))),
        ViewFile::Words { lines } => {
            if lines.is_empty() || lines.len() > MOST_LINES {
                let many = lines.len();
                step.fault("view.lines", format_args!("words take 1…{MOST_LINES} lines, here are {many}"));
            }
            for (index, line) in lines.iter().enumerate() {
                text(step, &format!("view.lines[{index}]"), "a line", line, LONGEST_LINE, false);
            }
            View::Words { lines: lines.iter().map(|line| line.trim().to_owned()).collect() }
        }
    }
}

/// Checks who is shown; how many there are at least.
fn setups(step: &mut Checker, file: &StepFile) -> usize {
    let (mut least, mut most) = (file.setups.len(), file.setups.len());
    for role in &file.roles {
        let (few, many) = role.players();
        (least, most) = (least + few, most + many);
    }
    if !file.setups.is_empty() && !file.roles.is_empty() {
        step.fault("roles", "a step names setups or roles, not both");
        return least;
    }
    let field = if file.roles.is_empty() { "setups" } else { "roles" };
    let (fewest, largest, what) = match file.view {
        ViewFile::Bench => (1, 1, "the bench"),
        ViewFile::Log { .. } => (1, 1, "the log"),
        ViewFile::SideBySide => (LEAST_SIDE_BY_SIDE, MOST_SIDE_BY_SIDE, "side by side"),
        ViewFile::Drawing { .. } => (1, 1, "a drawing"),
        ViewFile::Words { .. } => {
            if most > 0 {
                let named = file.setups.len() + file.roles.len();
                step.fault(field, format_args!("words take no setups, this step names {named}"));
            }
            return least;
        }
    };
    if least < fewest || most > largest {
        let range = if fewest == largest { largest.to_string() } else { format!("{fewest}…{largest}") };
        let plural = if largest == 1 { "" } else { "s" };
        let named = if least == most { most.to_string() } else { format!("{least}…{most}") };
        step.fault(field, format_args!("{what} takes {range} setup{plural}, this step names {named}"));
    }
    for (index, name) in file.setups.iter().enumerate() {
        step.name(&format!("setups[{index}]"), name);
        if file.setups.iter().take(index).any(|earlier| earlier == name) {
            step.fault(&format!("setups[{index}]"), format_args!("`{name}` is named twice in this step"));
        }
    }
    for (index, role) in file.roles.iter().enumerate() {
        if file.roles.iter().take(index).any(|earlier| earlier == role) {
            let name = role.file_name();
            step.fault(&format!("roles[{index}]"), format_args!("{name} is named twice in this step"));
        }
    }
    least
}

/// Each figure of the caption belongs to something that the step shows.
fn places(step: &mut Checker, file: &StepFile, caption: &[Piece], count: usize) {
    let log = matches!(file.view, ViewFile::Log { .. });
    for piece in caption {
        let Piece::Figure(figure, whose) = piece else { continue };
        let name = super::Figure::ALL.iter().find(|(_, known)| known == figure).map_or("", |(name, _)| name);
        if figure.of_log() && !log {
            step.fault("caption", format_args!("`{{{name}}}` needs the view Log"));
            continue;
        }
        match *whose {
            Whose::Nth(setup) if setup >= count => {
                let number = setup + 1;
                step.fault(
                    "caption",
                    format_args!("`{{{name}:{number}}}` needs {number} setups, the step names {count}"),
                );
            }
            Whose::Last if count == 0 => {
                step.fault("caption", format_args!("`{{{name}:last}}` needs a setup, the step names none"));
            }
            Whose::Nth(_) | Whose::Last => {}
        }
    }
}

fn things(step: &mut Checker, file: &StepFile) {
    let seen = |thing: Thing| match file.view {
        ViewFile::Bench => thing.seen().bench,
        ViewFile::Log { .. } => thing.seen().log,
        ViewFile::SideBySide => thing.seen().side_by_side,
        // A drawing names its own parts.
        ViewFile::Drawing { .. } | ViewFile::Words { .. } => false,
    };
    for (index, thing) in file.point_at.iter().enumerate() {
        let field = format!("point_at[{index}]");
        if !seen(*thing) {
            let there: Vec<String> =
                Thing::ALL.into_iter().filter(|t| seen(*t)).map(Thing::file_name).collect();
            let there = if there.is_empty() { "nothing to point at".to_owned() } else { there.join(", ") };
            step.fault(&field, format_args!("{} is not in this view; there is {there}", thing.file_name()));
        } else if file.point_at.iter().take(index).any(|earlier| earlier == thing) {
            step.fault(&field, format_args!("{} is pointed at twice", thing.file_name()));
        }
    }
}

fn guess(step: &mut Checker, file: &StepFile) {
    if let (Some(guessed), false) = (file.guess, file.view == ViewFile::Bench) {
        let what = guessed.file_name();
        step.fault(
            "guess",
            format_args!("{what} is guessed on the bench alone; give this step the view Bench"),
        );
    }
}

/// Checks a question and what is chosen from.
fn choice(step: &mut Checker, file: &StepFile, count: usize) -> Option<Choice> {
    let choose = file.choose.as_ref()?;
    if file.guess.is_some() {
        step.fault("choose", "a step has a guess or a choice, not both");
    }
    text(step, "choose.question", "a question", &choose.question, LONGEST_QUESTION, false);
    let among = match &choose.among {
        AmongFile::Answers { said, right } => {
            let (least, most) = (ANSWERS.start(), ANSWERS.end());
            if !ANSWERS.contains(&said.len()) {
                let many = said.len();
                step.fault(
                    "choose.among.said",
                    format_args!("a choice takes {least}…{most} answers, here are {many}"),
                );
            } else if !(1..=said.len()).contains(right) {
                let many = said.len();
                step.fault(
                    "choose.among.right",
                    format_args!("the right answer must be 1…{many}, got {right}"),
                );
            }
            for (index, answer) in said.iter().enumerate() {
                text(
                    step,
                    &format!("choose.among.said[{index}]"),
                    "an answer",
                    answer,
                    LONGEST_ANSWER,
                    false,
                );
                if said.iter().take(index).any(|earlier| earlier.trim() == answer.trim()) {
                    step.fault(&format!("choose.among.said[{index}]"), "this answer stands there twice");
                }
            }
            let said = said.iter().map(|answer| answer.trim().to_owned()).collect();
            Among::Answers { said, right: right.saturating_sub(1) }
        }
        AmongFile::Setups { most } => {
            if count < LEAST_SIDE_BY_SIDE {
                step.fault(
                    "choose.among",
                    format_args!(
                        "to choose among setups takes {LEAST_SIDE_BY_SIDE} of them, this step names {count}"
                    ),
                );
            }
            Among::Setups { most: *most }
        }
    };
    Some(Choice { question: choose.question.split_whitespace().collect::<Vec<_>>().join(" "), among })
}
