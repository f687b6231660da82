//! The bench: one saw to scale, its balance and reach live under the drag of the nose.

mod canvas;
mod column;
mod controls;
mod plots;

pub(crate) use canvas::length_edit;

use crate::desk::document::Document;
use crate::desk::edit::Edits;
use crate::draw::theme::{Ink, Paper};
use crate::window::view_state::ViewState;
use crate::window::widgets::scrolled;
use egui::{CentralPanel, Frame, Margin, Panel, ScrollArea, Ui};

/// Width of the column of figures in points.
const COLUMN: f32 = 384.0;
/// The strip of plots takes this share of the height, within limits in points.
const PLOTS_SHARE: f32 = 0.27;
const PLOTS_HEIGHT: (f32, f32) = (176.0, 300.0);

/// A room lower than this, in points, has no strip of plots: they go into the column.
const LOW_ROOM: f32 = 520.0;

/// Shows the bench.
pub fn bench_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    let sheet = Frame::new().fill(view.paper.color(Ink::Sheet)).inner_margin(Margin::symmetric(16, 10));
    let low = ui.available_height() < LOW_ROOM;
    Panel::right("bench column").exact_size(COLUMN).resizable(false).frame(sheet).show(ui, |ui| {
        scrolled(ScrollArea::vertical().auto_shrink(false), ui, |ui| {
            column::column_ui(ui, document, view, edits);
            if low {
                ui.add_space(10.0);
                plots::plots_below_ui(ui, document, view);
            }
        });
    });
    if !low {
        let height = (ui.available_height() * PLOTS_SHARE).clamp(PLOTS_HEIGHT.0, PLOTS_HEIGHT.1);
        let strip = Panel::bottom("bench plots").exact_size(height).resizable(false);
        strip.frame(paper_frame(view.paper)).show(ui, |ui| plots::plots_ui(ui, document, view));
    }
    Panel::bottom("bench controls").resizable(false).frame(paper_frame(view.paper)).show(ui, |ui| {
        controls::controls_ui(ui, document, view, edits);
    });
    let drawing = Frame::new().fill(view.paper.color(Ink::Paper));
    CentralPanel::no_frame().frame(drawing).show(ui, |ui| canvas::canvas_ui(ui, document, view, edits));
}

fn paper_frame(paper: Paper) -> Frame {
    Frame::new().fill(paper.color(Ink::Paper)).inner_margin(Margin::symmetric(14, 6))
}
