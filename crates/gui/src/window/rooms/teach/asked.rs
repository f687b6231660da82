//! What is asked before anything is told: a measure to guess or an answer to choose, by one person or by a class, kept as
//! it is said.

use super::look::Look;
use super::{in_a_row, row_ui};
use crate::desk::lesson::{
    Asked, Chosen, Guess, GuessScale, Kept, ROWS, Stage, answers, guess_words, right_answer, said_words,
};
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use barpoise_core::Solved;
use barpoise_core::lesson::{Choice, Guessed, Step};
use egui::{Button, CollapsingHeader, Id, Key, Label, RadioButton, RichText, TextEdit, Ui};

/// Room between two blocks, in points.
const BLOCK: f32 = 8.0;

/// The guess or the choice of a step.
pub(super) fn asked_ui(ui: &mut Ui, view: &mut ViewState, look: &Look, step: &Step, stage: &Stage) {
    if let (Some(guessed), Some(first)) = (step.guess, stage.setup(0)) {
        guess_ui(ui, view, look, step, stage, guessed, first.solved());
    }
    if let Some(choose) = &step.choose {
        choose_ui(ui, view, look, step, stage, choose);
    }
}

fn guess_ui(
    ui: &mut Ui,
    view: &mut ViewState,
    look: &Look,
    step: &Step,
    stage: &Stage,
    guessed: Guessed,
    solved: &Solved,
) {
    let at = view.teach.step;
    let scale = GuessScale::of(guessed, solved, look.units);
    let now = view.teach.guesses.get(&at).copied().unwrap_or_else(|| Guess::open(guessed, &scale));
    let pressed = if now.told {
        if !view.teach.figures_hidden {
            if view.teach.record.names().is_empty() {
                let words = guess_words(&now, solved, look.units);
                ui.add(Label::new(look.strong_text(words, Ink::Ours)).wrap());
            }
            said_ui(ui, view, look);
        }
        again_ui(ui, view, look)
    } else {
        turns_ui(ui, view, look);
        let shown = Guess::shown(guessed, now.value, look.units);
        ui.label(look.strong_text(format!("{} {shown}", whose(view)), Ink::Proposed));
        // Enter on the knob says the same.
        let entered = ui.input(|input| input.key_pressed(Key::Enter))
            && ui.memory(|memory| memory.has_focus(Id::unique("lesson guess")));
        let said = Said {
            now: now.moved.then_some(Kept::Value(now.value)),
            right: Guess::truth(guessed, solved).map(Kept::Value),
            entered,
            hint: "Move the knob on the drawing first",
        };
        buttons_ui(ui, view, look, step, stage, &said)
    };
    match pressed {
        Pressed::Nothing => {}
        Pressed::Kept => _ = view.teach.guesses.insert(at, Guess::open(guessed, &scale)),
        Pressed::Told => _ = view.teach.guesses.insert(at, Guess { told: true, ..now }),
        Pressed::Again => _ = view.teach.guesses.remove(&at),
    }
    space_ui(ui, look);
}

fn choose_ui(ui: &mut Ui, view: &mut ViewState, look: &Look, step: &Step, stage: &Stage, choose: &Choice) {
    let at = view.teach.step;
    let right = right_answer(choose, stage);
    let mut chosen = view.teach.chosen.get(&at).copied().unwrap_or_default();
    ui.spacing_mut().icon_width = look.pt(14.0);
    ui.spacing_mut().icon_width_inner = look.pt(8.0);
    // One person's answer is no count.
    let class = !view.teach.record.names().is_empty();
    for (index, answer) in answers(choose, &stage.names()).into_iter().enumerate() {
        let kept = view.teach.record.asked(at).filter(|_| class);
        let votes = kept.map_or(0, |asked| asked.votes(index));
        let votes = if votes == 0 { String::new() } else { format!("  ({votes})") };
        let is_picked = chosen.answer == Some(index);
        if chosen.told {
            let mark = if is_picked { "• " } else { "" };
            let text = if right == Some(index) {
                look.strong_text(format!("{mark}{answer}: right{votes}"), Ink::Ours)
            } else {
                look.text(format!("{mark}{answer}{votes}"), Ink::Line)
            };
            ui.add(Label::new(text).extend());
        } else if ui
            .add(RadioButton::new(is_picked, look.text(format!("{answer}{votes}"), Ink::Line)))
            .clicked()
        {
            chosen.answer = Some(index);
            view.teach.chosen.insert(at, chosen);
        }
    }
    let pressed = if chosen.told {
        if class {
            said_ui(ui, view, look);
        }
        again_ui(ui, view, look)
    } else {
        turns_ui(ui, view, look);
        let said = Said {
            now: chosen.answer.map(Kept::Answer),
            right: right.map(Kept::Answer),
            entered: false,
            hint: "Choose an answer first",
        };
        buttons_ui(ui, view, look, step, stage, &said)
    };
    match pressed {
        Pressed::Nothing => {}
        Pressed::Told => _ = view.teach.chosen.insert(at, Chosen { told: true, ..chosen }),
        Pressed::Kept | Pressed::Again => _ = view.teach.chosen.remove(&at),
    }
    space_ui(ui, look);
}

/// Room under a block, where blocks stand under each other.
fn space_ui(ui: &mut Ui, look: &Look) {
    if !in_a_row(ui) {
        ui.add_space(look.gap(BLOCK));
    }
}

/// `Your guess`, or whose it is.
fn whose(view: &ViewState) -> String {
    match view.teach.record.whose_turn() {
        "" => "Your guess".to_owned(),
        name => format!("Guess of {name}"),
    }
}

/// What is said at this moment, and what goes with it.
struct Said<'a> {
    /// `None` while nothing is.
    now: Option<Kept>,
    /// What is right; `None` where nobody knows.
    right: Option<Kept>,
    /// It was said by the key Enter.
    entered: bool,
    /// What to do before anything can be kept.
    hint: &'a str,
}

/// What was pressed; the record knows of it.
enum Pressed {
    Nothing,
    Kept,
    Told,
    Again,
}

/// Keep one's guess in a class, and let the answer be told once somebody has said something.
fn buttons_ui(
    ui: &mut Ui,
    view: &mut ViewState,
    look: &Look,
    step: &Step,
    stage: &Stage,
    said: &Said<'_>,
) -> Pressed {
    let at = view.teach.step;
    let class = !view.teach.record.names().is_empty();
    let may_show = said.now.is_some() || view.teach.record.asked(at).is_some();
    let (mut keeps, mut shows) = (class && said.entered, !class && said.entered);
    let buttons = |ui: &mut Ui| {
        if class {
            let name = view.teach.record.whose_turn();
            let keep = Button::new(look.text(format!("Keep for {name}"), Ink::Line));
            keeps |= ui.add_enabled(said.now.is_some(), keep).on_disabled_hover_text(said.hint).clicked();
        }
        let show = Button::new(look.text("Show the answer", Ink::Line));
        let pressed = ui.add_enabled(may_show, show).on_disabled_hover_text(said.hint).clicked();
        shows = pressed || (shows && said.now.is_some());
    };
    row_ui(ui, buttons);
    if let Some(now) = said.now.filter(|_| keeps || shows) {
        view.teach.record.keep(at, || Asked::of_step(step, stage), now);
    }
    if shows {
        view.teach.record.tell(at, said.right);
        Pressed::Told
    } else if keeps && said.now.is_some() {
        Pressed::Kept
    } else {
        Pressed::Nothing
    }
}

/// Whose turn it is, each with a tick once they have said something.
fn turns_ui(ui: &mut Ui, view: &mut ViewState, look: &Look) {
    let names = view.teach.record.names().to_vec();
    if names.is_empty() {
        return;
    }
    let said = |name: &str| {
        let asked = view.teach.record.asked(view.teach.step);
        asked.is_some_and(|asked| asked.said.iter().any(|(who, _)| who == name))
    };
    let lines: Vec<(String, bool, bool)> =
        names.iter().map(|name| (name.clone(), said(name), view.teach.record.whose_turn() == name)).collect();
    let turns = |ui: &mut Ui| {
        for (index, (name, said, turn)) in lines.into_iter().enumerate() {
            let words = if said { format!("{name}: said") } else { name };
            if ui.selectable_label(turn, look.text(words, Ink::Line)).clicked() {
                view.teach.record.turn_to(index);
            }
        }
    };
    row_ui(ui, turns);
}

/// What everybody said, and how far off it was.
fn said_ui(ui: &mut Ui, view: &ViewState, look: &Look) {
    let Some(asked) = view.teach.record.asked(view.teach.step) else { return };
    let named = asked.said.iter().filter(|(name, _)| !name.is_empty());
    let words: Vec<String> = named.map(|(name, kept)| said_words(asked, name, kept, look.units)).collect();
    if !words.is_empty() {
        ui.add(Label::new(look.text(words.join("; "), Ink::Line)).wrap());
    }
}

/// Asks the step again, and forgets what was said.
fn again_ui(ui: &mut Ui, view: &mut ViewState, look: &Look) -> Pressed {
    if !ui.button(look.text("Guess again", Ink::Line)).clicked() {
        return Pressed::Nothing;
    }
    view.teach.record.forget(view.teach.step);
    Pressed::Again
}

/// Who guesses, and what becomes of the guesses; true where they are to go out as a table.
pub(super) fn class_ui(ui: &mut Ui, view: &mut ViewState) -> bool {
    let mut save = false;
    let title = RichText::new("Who guesses").font(theme::strong(size::BODY));
    CollapsingHeader::new(title).id_salt("lesson class").show(ui, |ui| {
        let id = Id::unique("lesson names");
        let kept = ui.data(|data| data.get_temp::<String>(id));
        let mut text = kept.unwrap_or_else(|| view.teach.record.names().join(", "));
        let label = ui.label("Names, with commas between; none for one guess");
        let field =
            ui.add(TextEdit::singleline(&mut text).desired_width(f32::INFINITY)).labelled_by(label.id);
        if field.changed() {
            view.teach.record.name_them(&text);
            ui.data_mut(|data| data.insert_temp(id, text));
        } else if field.lost_focus() {
            ui.data_mut(|data| data.remove::<String>(id));
        }
        ui.horizontal_wrapped(|ui| {
            if ui.button("Front, middle, back").clicked() {
                view.teach.record.name_them(&ROWS.join(","));
                ui.data_mut(|data| data.remove::<String>(id));
            }
            let any = !view.teach.record.is_empty();
            let table = ui.add_enabled(any, Button::new("Save guesses…"));
            save = table.on_hover_text("Every guess that was kept, as .csv").clicked();
            if ui.add_enabled(any, Button::new("Forget guesses")).clicked() {
                view.teach.record.clear();
                view.teach.guesses.clear();
                view.teach.chosen.clear();
            }
        });
    });
    save
}
