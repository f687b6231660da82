//! What is asked before anything is told: a measure to guess or an answer to choose, by one person or by a class, kept as
//! it is said.

use super::look::Look;
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
    if now.told {
        if !view.teach.figures_hidden {
            if view.teach.record.names().is_empty() {
                let words = guess_words(&now, solved, look.units);
                ui.add(Label::new(look.strong_text(words, Ink::Ours)).wrap());
            }
            said_ui(ui, view, look);
        }
        if again_ui(ui, look) {
            view.teach.guesses.remove(&at);
            view.teach.record.forget(at);
        }
    } else {
        turns_ui(ui, view, look);
        let shown = Guess::shown(guessed, now.value, look.units);
        ui.label(look.strong_text(format!("{} {shown}", whose(view)), Ink::Proposed));
        // Enter on the knob says the same.
        let entered = ui.input(|input| input.key_pressed(Key::Enter))
            && ui.memory(|memory| memory.has_focus(Id::unique("lesson guess")));
        let moved = now.moved.then_some(Kept::Value(now.value));
        match buttons_ui(ui, view, look, moved, entered, "Move the knob on the drawing first") {
            Pressed::Keep(kept) => {
                view.teach.record.keep(at, || Asked::of_step(step, stage), kept);
                view.teach.guesses.insert(at, Guess::open(guessed, &scale));
            }
            Pressed::Show(kept) => {
                if let Some(kept) = kept {
                    view.teach.record.keep(at, || Asked::of_step(step, stage), kept);
                }
                view.teach.record.tell(at, Guess::truth(guessed, solved).map(Kept::Value));
                view.teach.guesses.insert(at, Guess { told: true, ..now });
            }
            Pressed::Nothing => {}
        }
    }
    if !in_a_row(ui) {
        ui.add_space(look.gap(BLOCK));
    }
}

fn choose_ui(ui: &mut Ui, view: &mut ViewState, look: &Look, step: &Step, stage: &Stage, choose: &Choice) {
    let at = view.teach.step;
    let names: Vec<String> = stage.setups().map(|figures| figures.setup().name().to_owned()).collect();
    let right = right_answer(choose, stage);
    let mut chosen = view.teach.chosen.get(&at).copied().unwrap_or_default();
    ui.spacing_mut().icon_width = look.pt(14.0);
    ui.spacing_mut().icon_width_inner = look.pt(8.0);
    for (index, answer) in answers(choose, &names).into_iter().enumerate() {
        let votes =
            view.teach.record.asked(at).map_or(0, |asked| {
                asked.said.iter().filter(|(_, kept)| *kept == Kept::Answer(index)).count()
            });
        let votes = if votes == 0 { String::new() } else { format!("  ({votes})") };
        let is_right = chosen.told && right == Some(index);
        let (ink, tail) = if is_right { (Ink::Ours, ": right") } else { (Ink::Line, "") };
        let words = format!("{answer}{tail}{votes}");
        let is_picked = chosen.answer == Some(index);
        if chosen.told {
            let mark = if is_picked { "• " } else { "" };
            let text = if is_right {
                look.strong_text(format!("{mark}{words}"), ink)
            } else {
                look.text(format!("{mark}{words}"), ink)
            };
            ui.add(Label::new(text).extend());
        } else if ui.add(RadioButton::new(is_picked, look.text(words, ink))).clicked() {
            chosen.answer = Some(index);
            view.teach.chosen.insert(at, chosen);
        }
    }
    if chosen.told {
        if !view.teach.record.names().is_empty() {
            said_ui(ui, view, look);
        }
        if again_ui(ui, look) {
            view.teach.chosen.remove(&at);
            view.teach.record.forget(at);
        }
    } else {
        turns_ui(ui, view, look);
        let picked = chosen.answer.map(Kept::Answer);
        match buttons_ui(ui, view, look, picked, false, "Choose an answer first") {
            Pressed::Keep(kept) => {
                view.teach.record.keep(at, || Asked::of_step(step, stage), kept);
                view.teach.chosen.remove(&at);
            }
            Pressed::Show(kept) => {
                if let Some(kept) = kept {
                    view.teach.record.keep(at, || Asked::of_step(step, stage), kept);
                }
                view.teach.record.tell(at, right.map(Kept::Answer));
                view.teach.chosen.insert(at, Chosen { told: true, ..chosen });
            }
            Pressed::Nothing => {}
        }
    }
    if !in_a_row(ui) {
        ui.add_space(look.gap(BLOCK));
    }
}

/// True where controls stand beside each other already.
fn in_a_row(ui: &Ui) -> bool {
    ui.layout().is_horizontal()
}

/// `Your guess`, or whose it is.
fn whose(view: &ViewState) -> String {
    match view.teach.record.whose_turn() {
        "" => "Your guess".to_owned(),
        name => format!("Guess of {name}"),
    }
}

/// What was pressed, and what was said by then.
enum Pressed {
    Nothing,
    Keep(Kept),
    Show(Option<Kept>),
}

/// Keep one's guess in a class, and let the answer be told once somebody has said something.
fn buttons_ui(
    ui: &mut Ui,
    view: &ViewState,
    look: &Look,
    said: Option<Kept>,
    entered: bool,
    hint: &str,
) -> Pressed {
    let class = !view.teach.record.names().is_empty();
    let any_kept = view.teach.record.asked(view.teach.step).is_some();
    let mut pressed = Pressed::Nothing;
    let mut buttons = |ui: &mut Ui| {
        if class {
            let name = view.teach.record.whose_turn();
            let keep = Button::new(look.text(format!("Keep for {name}"), Ink::Line));
            let kept = ui.add_enabled(said.is_some(), keep).on_disabled_hover_text(hint).clicked();
            if let Some(said) = said.filter(|_| kept || entered) {
                pressed = Pressed::Keep(said);
            }
        }
        let show = Button::new(look.text("Show the answer", Ink::Line));
        let may = said.is_some() || any_kept;
        let shown = ui.add_enabled(may, show).on_disabled_hover_text(hint).clicked();
        if shown || (!class && entered && said.is_some()) {
            pressed = Pressed::Show(said);
        }
    };
    if in_a_row(ui) {
        buttons(ui)
    } else {
        ui.horizontal_wrapped(buttons).inner
    }
    pressed
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
    if in_a_row(ui) { turns(ui) } else { ui.horizontal_wrapped(turns).inner }
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

fn again_ui(ui: &mut Ui, look: &Look) -> bool {
    ui.button(look.text("Guess again", Ink::Line)).clicked()
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
