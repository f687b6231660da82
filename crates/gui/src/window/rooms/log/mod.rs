//! The log: how this bar takes this log apart, from where the person stands.

mod canvas;
mod column;
mod job;
mod person;
mod run;
mod steps;

use crate::desk::document::Document;
use crate::desk::edit::Edits;
use crate::draw::theme::Ink;
use crate::window::view_state::ViewState;
use crate::window::widgets::scrolled;
use egui::{CentralPanel, Frame, Margin, Panel, ScrollArea, Ui};

/// Width of the column in points.
const COLUMN: f32 = 400.0;

/// Shows the log.
pub fn log_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    let sheet = Frame::new().fill(view.paper.color(Ink::Sheet)).inner_margin(Margin::symmetric(16, 10));
    Panel::right("log column").exact_size(COLUMN).resizable(false).frame(sheet).show(ui, |ui| {
        scrolled(ScrollArea::vertical().auto_shrink(false), ui, |ui| {
            column::column_ui(ui, document, view, edits)
        });
    });
    let strip = Frame::new().fill(view.paper.color(Ink::Paper)).inner_margin(Margin::symmetric(14, 8));
    Panel::bottom("log run").resizable(false).frame(strip).show(ui, |ui| run::run_ui(ui, document, view));
    let drawing = Frame::new().fill(view.paper.color(Ink::Paper));
    CentralPanel::no_frame().frame(drawing).show(ui, |ui| canvas::canvas_ui(ui, document, view, edits));
}
