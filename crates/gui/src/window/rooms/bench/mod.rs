//! The bench: one saw to scale, its balance and reach live under the drag of the nose.

mod canvas;
mod column;
mod controls;
mod hints;
mod plots;

pub(crate) use canvas::{bar_scale, length_edit};

use super::beside::Beside;
use crate::desk::document::Document;
use crate::desk::edit::Edits;
use crate::draw::theme::{Ink, Paper};
use crate::window::view_state::ViewState;
use crate::window::widgets::pane;
use egui::{Frame, Margin, Panel, Ui};

/// The column is at least so wide, in points.
const COLUMN: f32 = 384.0;
/// The row of controls under the drawing is so high, in points.
const CONTROLS: f32 = 40.0;
/// The strip of plots is at least and at most so high, in points; where there is less they go into the column.
const PLOTS: (f32, f32) = (176.0, 300.0);

/// Shows the bench.
pub fn bench_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    let (beside, paper) = (Beside::of(ui), view.paper);
    if !beside.is_wide() {
        Beside::stacked_ui(ui, paper, |ui| {
            beside.stacked_drawing_ui(ui, |ui| canvas::canvas_ui(ui, document, view, edits));
            Beside::stacked_part_ui(ui, paper, |ui| controls::controls_ui(ui, document, view, edits));
            Beside::stacked_part_ui(ui, paper, |ui| {
                column::column_ui(ui, document, view, edits);
                ui.add_space(10.0);
                plots::plots_below_ui(ui, document, view, edits);
            });
        });
        return;
    }
    let spare = beside.spare_height(CONTROLS);
    let strip = spare >= PLOTS.0;
    beside.column_ui(ui, paper, COLUMN, |ui| {
        column::column_ui(ui, document, view, edits);
        if !strip {
            ui.add_space(10.0);
            plots::plots_below_ui(ui, document, view, edits);
        }
    });
    if strip {
        let plots = Panel::bottom("bench plots").exact_size(spare.min(PLOTS.1)).resizable(false);
        plots.frame(paper_frame(paper)).show(ui, |ui| plots::plots_ui(ui, document, view, edits));
    }
    Panel::bottom("bench controls").resizable(false).frame(paper_frame(paper)).show(ui, |ui| {
        pane(ui);
        controls::controls_ui(ui, document, view, edits);
    });
    Beside::drawing_ui(ui, paper, |ui| canvas::canvas_ui(ui, document, view, edits));
}

fn paper_frame(paper: Paper) -> Frame {
    Frame::new().fill(paper.color(Ink::Paper)).inner_margin(Margin::symmetric(14, 6))
}
