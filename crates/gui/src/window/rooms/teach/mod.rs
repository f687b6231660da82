//! Teach: a lesson over the yard's setups, step by step, in the room or on a projector.

mod asked;
mod beam;
mod bench;
mod column;
mod editor;
mod editor_log;
mod files;
mod hung;
mod keys;
mod log;
mod look;
mod motion;
mod parts;
mod pointing;
mod projector;
mod shown;
mod words;

pub use files::TeachAsk;
pub use projector::projector_ui;

use crate::desk::document::Document;
use crate::desk::lesson::Stage;
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::{main_pane, pane};
use barpoise_core::lesson::{Guessed, Step, View};
use editor::EditorAsk;
use egui::{Button, CentralPanel, Frame, Label, Margin, Panel, RichText, ScrollArea, Ui};
use look::Look;

/// Width of the column of words, in points.
const COLUMN: f32 = 384.0;

/// Shows the room; says what is asked of the window beside it.
pub fn teach_ui(ui: &mut Ui, document: &Document, view: &mut ViewState) -> Option<TeachAsk> {
    keys::keys(ui, view);
    let look = Look::room(view.paper, view.units);
    let step = view.teach.shown().cloned()?;
    let stage = Stage::of(&step, document);
    let mut asked = None;
    let sheet = Frame::new().fill(look.color(Ink::Sheet)).inner_margin(Margin::symmetric(16, 10));
    Panel::left("lesson words").exact_size(COLUMN).resizable(false).frame(sheet).show(ui, |ui| {
        pane(ui);
        Panel::bottom("lesson steps").resizable(false).frame(Frame::new()).show(ui, |ui| {
            pane(ui);
            steps_ui(ui, view);
        });
        CentralPanel::no_frame().show(ui, |ui| {
            ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
                asked = files::lesson_ui(ui, view);
                told_ui(ui, document, view, &look);
                ui.add_space(6.0);
                if view.teach.draft.is_some() {
                    asked = match editor::editor_ui(ui, document, view, &look) {
                        Some(EditorAsk::Save) => Some(TeachAsk::SaveDraft),
                        Some(EditorAsk::Done) => Some(TeachAsk::EndWriting),
                        None => asked.take(),
                    };
                    return;
                }
                column::column_ui(ui, document, view, &look, &step, &stage);
                parts::parts_ui(ui, document, view, &step);
                parts::left_out_ui(ui, view, &look);
                if asked::class_ui(ui, view) {
                    asked = Some(TeachAsk::SaveGuesses);
                }
                ui.add_space(8.0);
                asked = asked.take().or_else(|| files::sheets_ui(ui, document, view));
            });
        });
    });
    let drawing = Frame::new().fill(look.color(Ink::Paper));
    CentralPanel::no_frame().frame(drawing).show(ui, |ui| {
        pane(ui);
        drawing_ui(ui, document, view, &look, &step, &stage);
    });
    asked
}

/// What the step shows beside its words.
fn drawing_ui(
    ui: &mut Ui,
    document: &Document,
    view: &mut ViewState,
    look: &Look,
    step: &Step,
    stage: &Stage,
) {
    if let Some(reason) = view.teach.played.left_out(view.teach.step) {
        return nothing_ui(ui, look, &format!("Nothing to show with this yard: {reason}."));
    }
    match (&step.view, stage.setup(0)) {
        (View::Words { lines }, _) => words::words_ui(ui, view, look, lines),
        (View::SideBySide, _) if stage.setups().next().is_some() => {
            hung::hung_ui(ui, document, view, look, step, stage);
        }
        (View::Drawing(of), Some(figures)) => shown::shown_ui(ui, document, view, look, *of, figures),
        (View::Log(_), Some(figures)) => match stage.log() {
            Some(Ok(log)) => log::log_ui(ui, view, look, step, figures, log),
            Some(Err(reason)) => nothing_ui(ui, look, reason),
            None => {}
        },
        (View::Bench, Some(figures)) => {
            if let Some(of @ (Guessed::Weight | Guessed::FrontHand)) = step.guess {
                let strip = Panel::bottom("lesson beam").resizable(false).frame(Frame::new());
                strip.show(ui, |ui| beam::beam_ui(ui, view, look, of, figures));
            }
            bench::bench_ui(ui, view, look, step, figures);
        }
        _ => nothing_ui(ui, look, "Nothing to show here: the yard lacks what this step is about."),
    }
}

fn nothing_ui(ui: &mut Ui, look: &Look, words: &str) {
    ui.add_space(look.pt(40.0));
    ui.vertical_centered(|ui| ui.add(Label::new(look.text(words, Ink::Warn)).wrap()));
}

/// What the lesson names and the yard lacks, with the places in the lesson's file.
fn told_ui(ui: &mut Ui, document: &Document, view: &ViewState, look: &Look) {
    let missing = view.teach.lesson.as_ref().and_then(|lesson| lesson.missing_in(document.yard()));
    let Some(missing) = missing else { return };
    ui.label(look.strong_text("Some steps cannot be shown with this yard", Ink::Warn));
    ui.add(Label::new(look.text(missing.first_line(), Ink::Soft)).wrap()).on_hover_text(missing.to_string());
}

/// True where controls stand beside each other already.
fn in_a_row(ui: &Ui) -> bool {
    ui.layout().is_horizontal()
}

/// Controls beside each other, whatever stands about them.
fn row_ui(ui: &mut Ui, controls: impl FnOnce(&mut Ui)) {
    if in_a_row(ui) { controls(ui) } else { ui.horizontal_wrapped(controls).inner }
}

/// How many of the steps this yard can show.
fn steps_shown(view: &ViewState) -> String {
    let (all, out) = (view.teach.steps().len(), view.teach.left_out().count());
    format!("{} of {all} steps shown", all - out.min(all))
}

/// `3 of 12`.
fn place_words(view: &ViewState) -> String {
    format!("{} of {}", view.teach.step + 1, view.teach.steps().len())
}

/// Back, forward, and where the lesson is.
fn steps_ui(ui: &mut Ui, view: &mut ViewState) {
    ui.add_space(6.0);
    ui.horizontal(|ui| {
        let back = ui.add_enabled(view.teach.has_back(), Button::new("Back"));
        if back.on_hover_text("Arrow left, Page Up").clicked() {
            view.teach.back();
        }
        main_pane(ui);
        let next = Button::new(RichText::new("Next").font(theme::strong(size::BODY)));
        let next = ui.add_enabled(view.teach.has_next(), next);
        if next.on_hover_text("Arrow right, Page Down, space").clicked() {
            view.teach.forward();
        }
        ui.label(RichText::new(place_words(view)).color(view.paper.color(Ink::Soft)));
        let mut shown = !view.teach.figures_hidden;
        if ui.checkbox(&mut shown, "Figures").on_hover_text("F").changed() {
            view.teach.figures_hidden = !shown;
        }
        if ui.button("Project").on_hover_text("Fills the window (P); Escape leaves").clicked() {
            view.teach.projected = true;
        }
    });
}
