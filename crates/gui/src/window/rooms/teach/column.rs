//! Beside the drawing: what the step is about, what the trainer says, the guess, and what is pointed at.

use super::hung::growth_ui;
use super::look::Look;
use super::pointing::letter;
use crate::desk::document::Document;
use crate::desk::lesson::{Guess, GuessScale, Span, Stage, caption, guess_words, question};
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use barpoise_core::lesson::{Guessed, Step, View};
use egui::text::{LayoutJob, TextFormat};
use egui::{Align, Label, RichText, Ui};

/// Room between two blocks, in points.
const BLOCK: f32 = 8.0;

/// Heading, words, guess, what is pointed at, and what can be set in motion.
pub(super) fn column_ui(
    ui: &mut Ui,
    document: &Document,
    view: &mut ViewState,
    look: &Look,
    step: &Step,
    stage: &Stage,
) {
    let heading = RichText::new(&step.heading).font(theme::strong(look.pt(size::TITLE)));
    ui.add(Label::new(heading.color(look.color(Ink::Line))).wrap());
    ui.add_space(look.gap(BLOCK));
    missing_ui(ui, document, look, step);
    let first = stage.setup(0);
    if let (Some(guessed), true, Some(first)) = (step.guess, view.teach.waits_for_guess(), first) {
        let words = question(guessed, first.setup().name());
        ui.add(Label::new(look.text(words, Ink::Line)).wrap());
    } else {
        let spans = caption(step, stage, look.units, view.teach.hides_figures());
        ui.add(Label::new(caption_job(&spans, look)).wrap());
    }
    ui.add_space(look.gap(BLOCK));
    if let (Some(guessed), Some(first)) = (step.guess, first) {
        guess_ui(ui, view, look, guessed, first.solved());
    }
    if !view.teach.waits_for_guess() {
        pointed_ui(ui, look, step);
    }
    if step.view == View::SideBySide {
        growth_ui(ui, document, view, look, stage);
    }
}

/// Setups of this step that the yard lacks.
fn missing_ui(ui: &mut Ui, document: &Document, look: &Look, step: &Step) {
    for name in step.setups.iter().filter(|name| document.yard().setup(name).is_none()) {
        let words = format!("The yard {} has no setup {name}.", document.yard().name());
        ui.add(Label::new(look.text(words, Ink::Warn)).wrap());
        ui.add_space(look.gap(BLOCK));
    }
}

/// Words plain, figures in the heavier weight.
fn caption_job(spans: &[Span], look: &Look) -> LayoutJob {
    let mut job = LayoutJob::default();
    for span in spans {
        let font = if span.figure { look.strong() } else { look.body() };
        job.append(&span.text, 0.0, TextFormat::simple(font, look.color(Ink::Line)));
    }
    job.halign = Align::Min;
    job
}

fn guess_ui(
    ui: &mut Ui,
    view: &mut ViewState,
    look: &Look,
    guessed: Guessed,
    solved: &barpoise_core::Solved,
) {
    let step = view.teach.step;
    let guess = view.teach.guesses.get(&step).copied();
    match guess {
        Some(guess) if guess.told => {
            if !view.teach.figures_hidden {
                let words = guess_words(&guess, solved, look.units);
                ui.add(Label::new(look.strong_text(words, Ink::Ours)).wrap());
            }
            if ui.button(look.text("Guess again", Ink::Line)).clicked() {
                view.teach.guesses.remove(&step);
            }
        }
        guess => {
            let scale = GuessScale::of(guessed, solved, look.units);
            let now = guess.unwrap_or_else(|| Guess::open(guessed, &scale));
            let shown = Guess::shown(guessed, now.value, look.units);
            ui.label(look.strong_text(format!("Your guess {shown}"), Ink::Proposed));
            let button = egui::Button::new(look.text("Show the answer", Ink::Line));
            let made = ui
                .add_enabled(now.moved, button)
                .on_disabled_hover_text("Move the knob on the drawing first")
                .clicked();
            // Enter on the knob says the same.
            let entered = ui.input(|input| input.key_pressed(egui::Key::Enter))
                && ui.memory(|memory| memory.has_focus(egui::Id::unique("lesson guess")));
            if now.moved && (made || entered) {
                view.teach.guesses.insert(step, Guess { told: true, ..now });
            }
        }
    }
    ui.add_space(look.gap(BLOCK));
}

/// The letters of the rings, in words.
fn pointed_ui(ui: &mut Ui, look: &Look, step: &Step) {
    if step.point_at.is_empty() {
        return;
    }
    let mut job = LayoutJob::default();
    for (index, thing) in step.point_at.iter().enumerate() {
        let lead = if index == 0 { "" } else { "   " };
        let letter = format!("{lead}{}\u{a0}", letter(index));
        job.append(&letter, 0.0, TextFormat::simple(look.strong(), look.color(Ink::Ours)));
        let words = thing.words().replace(' ', "\u{a0}");
        job.append(&words, 0.0, TextFormat::simple(look.body(), look.color(Ink::Line)));
    }
    ui.add(Label::new(job).wrap());
    ui.add_space(look.gap(BLOCK));
}
