//! The log: how this bar takes this log apart, from where the person stands.

mod canvas;
mod column;
mod job;
mod person;
mod run;
mod steps;

pub use run::SECONDS_PER_SETTING;

use super::beside::Beside;
use crate::desk::document::Document;
use crate::desk::edit::Edits;
use crate::draw::theme::Ink;
use crate::window::view_state::ViewState;
use crate::window::widgets::pane;
use egui::{Frame, Margin, Panel, Ui};

/// The column is at least so wide, in points.
const COLUMN: f32 = 392.0;

/// Shows the log.
pub fn log_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    let (beside, paper) = (Beside::of(ui), view.paper);
    if !beside.is_wide() {
        Beside::stacked_ui(ui, paper, |ui| {
            beside.stacked_drawing_ui(ui, |ui| canvas::canvas_ui(ui, document, view, edits));
            Beside::stacked_part_ui(ui, paper, |ui| run::run_ui(ui, document, view));
            Beside::stacked_part_ui(ui, paper, |ui| column::column_ui(ui, document, view, edits));
        });
        return;
    }
    beside.column_ui(ui, paper, COLUMN, |ui| column::column_ui(ui, document, view, edits));
    let strip = Frame::new().fill(paper.color(Ink::Paper)).inner_margin(Margin::symmetric(14, 8));
    Panel::bottom("log run").resizable(false).frame(strip).show(ui, |ui| {
        pane(ui);
        run::run_ui(ui, document, view);
    });
    Beside::drawing_ui(ui, paper, |ui| canvas::canvas_ui(ui, document, view, edits));
}
