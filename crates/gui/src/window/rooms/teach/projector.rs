//! A step that fills the window: letters that read from the back of a room, and the cautions under it.

use super::column::column_ui;
use super::keys::keys;
use super::look::Look;
use super::{drawing_ui, place_words};
use crate::desk::document::Document;
use crate::desk::lesson::Stage;
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use barpoise_core::lesson::View;
use barpoise_core::{CAUTIONS, KICKBACK_CAUTION};
use egui::text::{LayoutJob, TextFormat};
use egui::{CentralPanel, Frame, Margin, Panel, ScrollArea, Ui};

/// The words take this share of the width; of a step that has but words, less.
const COLUMN_SHARE: f32 = 0.39;
const COLUMN_SHARE_OF_WORDS: f32 = 0.31;
/// Room at the edges, in points of a room.
const EDGE: f32 = 10.0;

/// Shows the step over the whole window.
pub fn projector_ui(ui: &mut Ui, document: &Document, view: &mut ViewState) {
    keys(ui, view);
    let look = Look::projector(ui, view.units);
    let Some(step) = view.teach.shown().cloned() else {
        view.teach.projected = false;
        return;
    };
    let stage = Stage::of(&step, document);
    #[expect(clippy::cast_possible_truncation, reason = "a margin is a few points")]
    let edge = |x: f32, y: f32| {
        let margin = Margin::symmetric(look.pt(x) as i8, look.pt(y) as i8);
        Frame::new().fill(look.color(Ink::Paper)).inner_margin(margin)
    };
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing = egui::vec2(look.gap(5.0), look.gap(2.0));
        ui.spacing_mut().button_padding = egui::vec2(look.gap(5.0), look.gap(1.0));
        ui.spacing_mut().interact_size.y = look.gap(size::BODY);
        let cautions = Panel::bottom("projected cautions").resizable(false).frame(edge(EDGE, 4.0));
        cautions.show(ui, |ui| {
            ui.add(egui::Label::new(cautions_job(&look)).wrap());
        });
        let words = matches!(step.view, View::Words { .. });
        let share = if words { COLUMN_SHARE_OF_WORDS } else { COLUMN_SHARE };
        let wide = (ui.available_width() * share).round();
        let column = Panel::left("projected words").exact_size(wide).resizable(false);
        column.frame(edge(EDGE, 6.0)).show(ui, |ui| {
            ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
                place_ui(ui, view, &look);
                column_ui(ui, document, view, &look, &step, &stage);
            });
        });
        CentralPanel::no_frame().frame(edge(2.0, 2.0)).show(ui, |ui| {
            drawing_ui(ui, document, view, &look, &step, &stage);
        });
    });
}

/// Where the lesson is, and what can be done with the mouse.
fn place_ui(ui: &mut Ui, view: &mut ViewState, look: &Look) {
    ui.horizontal_wrapped(|ui| {
        ui.label(look.text(place_words(view), Ink::Soft));
        let figures = if view.teach.figures_hidden { "Show figures" } else { "Hide figures" };
        if ui.button(look.text(figures, Ink::Line)).on_hover_text("F").clicked() {
            view.teach.figures_hidden = !view.teach.figures_hidden;
        }
        if ui.button(look.text("Leave", Ink::Line)).on_hover_text("Escape").clicked() {
            view.teach.projected = false;
        }
    });
}

/// All cautions, the one of kickback first and heaviest.
fn cautions_job(look: &Look) -> LayoutJob {
    let mut job = LayoutJob::default();
    let lead = TextFormat::simple(theme::strong(look.pt(size::BODY)), look.color(Ink::Danger));
    job.append(KICKBACK_CAUTION, 0.0, lead);
    for caution in CAUTIONS {
        let plain = TextFormat::simple(look.body(), look.color(Ink::Line));
        job.append(&format!(" {caution}"), 0.0, plain);
    }
    job
}
