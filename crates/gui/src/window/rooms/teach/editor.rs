//! The lesson being written beside the running step: fields for what the step shows, each with its faults under it. What
//! is typed runs at once.

use super::look::Look;
use super::{editor_log, steps_shown};
use crate::desk::document::Document;
use crate::desk::lesson::{Draft, measure};
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::{Choice, pick_list};
use barpoise_core::lesson::{AmongFile, ChoiceFile, Guessed, Role, StepFile, Subject, Thing, ViewFile};
use egui::{Button, CollapsingHeader, ComboBox, Label, RichText, TextEdit, Ui};

/// Width of a list, in points.
const PICK: f32 = 230.0;

/// What the editor asks of the room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum EditorAsk {
    /// The lesson into its file, or into one that is asked for.
    Save,
    /// No more writing.
    Done,
}

/// Fields of the step on show, and what can be done with the steps.
pub(super) fn editor_ui(
    ui: &mut Ui,
    document: &Document,
    view: &mut ViewState,
    look: &Look,
) -> Option<EditorAsk> {
    let mut draft = view.teach.draft.take()?;
    let before = draft.file.clone();
    let asked = head_ui(ui, view, look, &mut draft);
    let step = view.teach.step;
    let path = format!("steps[{step}]");
    faults_ui(ui, look, &draft, "name");
    if let Some(mut fields) = draft.file.steps.get(step).cloned() {
        step_ui(ui, document, look, &draft, &path, &mut fields);
        if let Some(kept) = draft.file.steps.get_mut(step) {
            *kept = fields;
        }
    }
    let changed = draft.file != before;
    view.teach.draft = Some(draft);
    if changed {
        view.teach.take_draft();
    }
    asked
}

/// The lesson's name, its steps, saving.
fn head_ui(ui: &mut Ui, view: &mut ViewState, look: &Look, draft: &mut Draft) -> Option<EditorAsk> {
    let mut asked = None;
    let step = view.teach.step;
    labelled(ui, look, "Lesson", |ui| ui.add(line(&mut draft.file.name)));
    ui.horizontal_wrapped(|ui| {
        if ui.button("New step").on_hover_text("After this one").clicked() {
            draft.add_after(step);
            view.teach.step = step + 1;
        }
        let several = draft.file.steps.len() > 1;
        if ui.add_enabled(several, Button::new("Take out")).on_hover_text("This step").clicked() {
            draft.remove(step);
            view.teach.step = step.min(draft.file.steps.len().saturating_sub(1));
        }
        if ui.add_enabled(step > 0, Button::new("Earlier")).clicked() {
            view.teach.step = draft.shift(step, false);
        }
        if ui.add_enabled(step + 1 < draft.file.steps.len(), Button::new("Later")).clicked() {
            view.teach.step = draft.shift(step, true);
        }
    });
    ui.horizontal_wrapped(|ui| {
        let sound = draft.fault_count() == 0;
        let save = ui.add_enabled(sound && draft.is_changed(), Button::new("Save lesson"));
        if save.on_disabled_hover_text("Nothing changed, or a fault is left").clicked() {
            asked = Some(EditorAsk::Save);
        }
        if ui.button("Done").clicked() {
            asked = Some(EditorAsk::Done);
        }
        let words = match draft.fault_count() {
            0 => steps_shown(view),
            1 => "1 fault".to_owned(),
            many => format!("{many} faults"),
        };
        let ink = if sound { Ink::Soft } else { Ink::Warn };
        ui.label(look.text(words, ink));
        if let Some(faulty) = draft.first_faulty_step().filter(|faulty| *faulty != step)
            && ui.button(format!("To step {}", faulty + 1)).clicked()
        {
            view.teach.step = faulty;
        }
    });
    asked
}

fn step_ui(ui: &mut Ui, document: &Document, look: &Look, draft: &Draft, path: &str, step: &mut StepFile) {
    let faults = |ui: &mut Ui, field: &str| faults_ui(ui, look, draft, &format!("{path}.{field}"));
    labelled(ui, look, "Heading", |ui| ui.add(line(&mut step.heading)));
    faults(ui, "heading");
    labelled(ui, look, "Words, with places such as {weight}", |ui| {
        ui.add(TextEdit::multiline(&mut step.caption).desired_rows(3).desired_width(f32::INFINITY))
    });
    faults(ui, "caption");
    view_ui(ui, document, look, &mut step.view);
    faults(ui, "view");
    if !matches!(step.view, ViewFile::Words { .. }) {
        players_ui(ui, document, look, step);
    }
    faults(ui, "roles");
    faults(ui, "setups");
    pointed_ui(ui, look, step);
    faults(ui, "point_at");
    asked_ui(ui, look, step);
    faults(ui, "guess");
    faults(ui, "choose");
}

fn line(text: &mut String) -> TextEdit<'_> {
    TextEdit::singleline(text).desired_width(f32::INFINITY)
}

fn labelled(ui: &mut Ui, look: &Look, name: &str, field: impl FnOnce(&mut Ui) -> egui::Response) {
    let label = ui.label(look.text(name, Ink::Soft));
    field(ui).labelled_by(label.id);
}

fn faults_ui(ui: &mut Ui, look: &Look, draft: &Draft, path: &str) {
    for fault in draft.faults_at(path) {
        ui.add(Label::new(look.text(fault, Ink::Warn)).wrap());
    }
}

/// A list under its name; the place of what was picked anew.
fn picked<'a>(
    ui: &mut Ui,
    look: &Look,
    name: &str,
    now: &str,
    all: impl Iterator<Item = &'a str>,
) -> Option<usize> {
    let label = ui.label(look.text(name, Ink::Soft));
    let combo = ComboBox::from_id_salt(("lesson field", name)).width(PICK).truncate().selected_text(now);
    let (list, picked) = pick_list(ui, combo, all.map(|words| Choice::new(words, words == now)));
    list.labelled_by(label.id);
    picked
}

/// One of several, picked from a list under its name.
pub(super) fn one_of<T: Clone>(
    ui: &mut Ui,
    look: &Look,
    name: &str,
    now: &mut T,
    all: &[T],
    words: impl Fn(&T) -> &str,
) {
    let place = picked(ui, look, name, words(now), all.iter().map(&words));
    if let Some(one) = place.and_then(|place| all.get(place)) {
        now.clone_from(one);
    }
}

/// Several of them, each in a list under its name and number, and each to be taken out.
fn several_of<T: Clone>(
    ui: &mut Ui,
    look: &Look,
    name: &str,
    now: &mut Vec<T>,
    all: &[T],
    words: impl Fn(&T) -> &str,
) {
    let mut out = None;
    for (index, one) in now.iter_mut().enumerate() {
        ui.horizontal(|ui| {
            one_of(ui, look, &format!("{name} {}", index + 1), one, all, &words);
            if ui.button("Out").clicked() {
                out = Some(index);
            }
        });
    }
    if let Some(out) = out {
        now.remove(out);
    }
}

/// The ways to show a step, in words.
const VIEWS: [&str; 5] = ["one saw", "saws side by side", "a drawing", "a log", "lines to tick off"];

const fn view_place(view: &ViewFile) -> usize {
    match view {
        ViewFile::Bench => 0,
        ViewFile::SideBySide => 1,
        ViewFile::Drawing { .. } => 2,
        ViewFile::Log { .. } => 3,
        ViewFile::Words { .. } => 4,
    }
}

fn new_view(place: usize) -> ViewFile {
    match place {
        1 => ViewFile::SideBySide,
        2 => ViewFile::Drawing { of: Subject::PullAndPush },
        3 => editor_log::new_log(),
        4 => ViewFile::Words { lines: vec!["The first line".to_owned()] },
        _ => ViewFile::Bench,
    }
}

fn view_ui(ui: &mut Ui, document: &Document, look: &Look, view: &mut ViewFile) {
    let now = VIEWS.get(view_place(view)).copied().unwrap_or_default();
    if let Some(place) = picked(ui, look, "Shows", now, VIEWS.into_iter()) {
        *view = new_view(place);
    }
    match view {
        ViewFile::Bench | ViewFile::SideBySide => {}
        ViewFile::Drawing { of } => {
            one_of(ui, look, "The drawing", of, &Subject::ALL, |subject| subject.words());
        }
        ViewFile::Log { .. } => editor_log::log_ui(ui, document, look, view),
        ViewFile::Words { lines } => {
            let mut text = lines.join("\n");
            let field = TextEdit::multiline(&mut text).desired_rows(4).desired_width(f32::INFINITY);
            let label = ui.label(look.text("Lines", Ink::Soft));
            if ui.add(field).labelled_by(label.id).changed() {
                *lines = text.split('\n').map(str::to_owned).collect();
            }
        }
    }
}

/// The parts that play, or the setups that are named.
fn players_ui(ui: &mut Ui, document: &Document, look: &Look, step: &mut StepFile) {
    several_of(ui, look, "Part", &mut step.roles, &Role::ALL, |role| role.words());
    let names: Vec<String> = document.yard().setups().iter().map(|setup| setup.name().to_owned()).collect();
    several_of(ui, look, "Setup", &mut step.setups, &names, |name| name);
    ui.horizontal_wrapped(|ui| {
        if ui.button("One more part").on_hover_text("Played by any yard's setups").clicked() {
            let free = Role::ALL.into_iter().find(|role| !step.roles.contains(role));
            step.roles.extend(free);
        }
        if ui.button("One more setup").on_hover_text("By its name, of this yard alone").clicked() {
            let free = names.iter().find(|name| !step.setups.contains(name));
            step.setups.extend(free.cloned());
        }
    });
}

fn pointed_ui(ui: &mut Ui, look: &Look, step: &mut StepFile) {
    let seen = |thing: Thing| match step.view {
        ViewFile::Bench => thing.seen().bench,
        ViewFile::Log { .. } => thing.seen().log,
        ViewFile::SideBySide => thing.seen().side_by_side,
        ViewFile::Drawing { .. } | ViewFile::Words { .. } => false,
    };
    let things: Vec<Thing> = Thing::ALL.into_iter().filter(|thing| seen(*thing)).collect();
    if things.is_empty() {
        return;
    }
    let title = RichText::new("Points at").font(theme::strong(size::BODY)).color(look.color(Ink::Line));
    CollapsingHeader::new(title).id_salt("lesson points at").show(ui, |ui| {
        for thing in things {
            let mut on = step.point_at.contains(&thing);
            if ui.checkbox(&mut on, thing.words()).changed() {
                if on {
                    step.point_at.push(thing);
                } else {
                    step.point_at.retain(|other| *other != thing);
                }
            }
        }
    });
}

/// What a step can ask, in words: nothing, a measure, answers, or which of the setups.
fn asked_ui(ui: &mut Ui, look: &Look, step: &mut StepFile) {
    let mut names = vec!["nothing"];
    names.extend(Guessed::ALL.into_iter().map(measure));
    names.extend(["one of some answers", "which of the setups"]);
    let answers = 1 + Guessed::ALL.len();
    let place = match (&step.guess, &step.choose) {
        (Some(of), _) => 1 + Guessed::ALL.iter().position(|other| other == of).unwrap_or_default(),
        (None, Some(ChoiceFile { among: AmongFile::Answers { .. }, .. })) => answers,
        (None, Some(_)) => answers + 1,
        (None, None) => 0,
    };
    let now = names.get(place).copied().unwrap_or_default();
    if let Some(place) = picked(ui, look, "Asks first", now, names.into_iter()) {
        step.guess = place.checked_sub(1).and_then(|at| Guessed::ALL.get(at)).copied();
        let question = step.choose.take().map_or_else(|| "Which?".to_owned(), |choose| choose.question);
        step.choose = match place {
            _ if place == answers => {
                let said = vec!["this".to_owned(), "that".to_owned()];
                Some(ChoiceFile { question, among: AmongFile::Answers { said, right: 1 } })
            }
            _ if place > answers => {
                Some(ChoiceFile { question, among: AmongFile::Setups { most: Guessed::Hang } })
            }
            _ => None,
        };
    }
    let Some(choose) = &mut step.choose else { return };
    labelled(ui, look, "Question", |ui| ui.add(line(&mut choose.question)));
    match &mut choose.among {
        AmongFile::Answers { said, right } => {
            let label = ui.label(look.text("Answers, one a line; the right one is ticked", Ink::Soft));
            let mut text = said.join("\n");
            let field = TextEdit::multiline(&mut text).desired_rows(2).desired_width(f32::INFINITY);
            if ui.add(field).labelled_by(label.id).changed() {
                *said = text.split('\n').map(str::to_owned).collect();
            }
            ui.horizontal_wrapped(|ui| {
                for (index, answer) in said.iter().enumerate() {
                    ui.radio_value(right, index + 1, answer);
                }
            });
        }
        AmongFile::Setups { most } => {
            one_of(ui, look, "Right is the one with most", most, &Guessed::ALL, |of| measure(*of));
        }
    }
}
