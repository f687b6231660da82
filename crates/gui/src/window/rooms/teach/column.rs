//! Beside the drawing: what the step is about, what the trainer says, the guess, and what is pointed at.

use super::asked::asked_ui;
use super::hung::growth_ui;
use super::log::run_ui;
use super::look::Look;
use super::pointing::letter;
use crate::desk::document::Document;
use crate::desk::lesson::{Span, Stage, caption, question};
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use barpoise_core::lesson::{Step, View};
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
    let mut job = LayoutJob::default();
    words_into(&mut job, view, look, step, stage);
    ui.add(Label::new(job).wrap());
    ui.add_space(look.gap(BLOCK));
    asked_ui(ui, view, look, step, stage);
    if !view.teach.waits_for_guess() {
        pointed_ui(ui, look, step);
    }
    motion_ui(ui, document, view, look, step, stage);
}

/// The same in as few lines as it takes, for a strip under the drawing: the heading runs into the words.
pub(super) fn strip_ui(
    ui: &mut Ui,
    document: &Document,
    view: &mut ViewState,
    look: &Look,
    step: &Step,
    stage: &Stage,
) {
    missing_ui(ui, document, look, step);
    let mut job = LayoutJob::default();
    let heading = format!("{}   ", step.heading);
    job.append(&heading, 0.0, TextFormat::simple(look.strong(), look.color(Ink::Ours)));
    words_into(&mut job, view, look, step, stage);
    if !view.teach.waits_for_guess() {
        point_into(&mut job, look, step, "   ");
    }
    ui.add(Label::new(job).wrap());
    ui.horizontal_wrapped(|ui| {
        asked_ui(ui, view, look, step, stage);
        motion_ui(ui, document, view, look, step, stage);
    });
}

/// What can be set in motion, once nothing is asked any more.
fn motion_ui(
    ui: &mut Ui,
    document: &Document,
    view: &mut ViewState,
    look: &Look,
    step: &Step,
    stage: &Stage,
) {
    if view.teach.waits_for_guess() {
        return;
    }
    match &step.view {
        View::SideBySide => growth_ui(ui, document, view, look, stage),
        View::Log(shown) => {
            if let Some(Ok(log)) = stage.log() {
                run_ui(ui, view, look, shown.runs, log);
            }
        }
        View::Bench | View::Drawing(_) | View::Words { .. } => {}
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

/// What is asked while it is asked, then what the trainer says: words plain, figures in the heavier weight.
fn words_into(job: &mut LayoutJob, view: &ViewState, look: &Look, step: &Step, stage: &Stage) {
    let asks = |text| vec![Span { text, figure: false }];
    let waits = view.teach.waits_for_guess();
    let spans = match (step.guess, &step.choose, stage.setup(0)) {
        (Some(guessed), _, Some(first)) if waits => asks(question(guessed, first.setup().name())),
        (_, Some(choose), _) if waits => asks(choose.question.clone()),
        _ => caption(step, stage, look.units, view.teach.hides_figures()),
    };
    for span in spans {
        let font = if span.figure { look.strong() } else { look.body() };
        job.append(&span.text, 0.0, TextFormat::simple(font, look.color(Ink::Line)));
    }
    job.halign = Align::Min;
}

/// The letters of the rings, in words.
fn pointed_ui(ui: &mut Ui, look: &Look, step: &Step) {
    if step.point_at.is_empty() {
        return;
    }
    let mut job = LayoutJob::default();
    point_into(&mut job, look, step, "");
    ui.add(Label::new(job).wrap());
    ui.add_space(look.gap(BLOCK));
}

/// The letters of the rings with what they mean, after a lead.
fn point_into(job: &mut LayoutJob, look: &Look, step: &Step, lead: &str) {
    for (index, thing) in step.point_at.iter().enumerate() {
        let lead = if index == 0 { lead } else { "   " };
        let letter = format!("{lead}{}\u{a0}", letter(index));
        job.append(&letter, 0.0, TextFormat::simple(look.strong(), look.color(Ink::Ours)));
        let words = thing.words().replace(' ', "\u{a0}");
        job.append(&words, 0.0, TextFormat::simple(look.body(), look.color(Ink::Line)));
    }
}
