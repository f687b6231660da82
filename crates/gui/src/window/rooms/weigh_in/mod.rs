//! The weigh-in: one's own saw on the scale, and what its readings teach.

mod chart;
mod form;
mod learnt;
mod readings;
mod sketch;

use crate::desk::document::Document;
use crate::desk::edit::Edits;
use crate::draw::theme::{Ink, Paper};
use crate::window::view_state::ViewState;
use crate::window::widgets::{main_pane, pane, scrolled};
use egui::{CentralPanel, Frame, Margin, Panel, ScrollArea, Ui};

/// The two columns take these shares of the width, within limits in points.
const FORM_SHARE: f32 = 0.26;
const FORM_WIDTH: (f32, f32) = (300.0, 420.0);
const LEARNT_SHARE: f32 = 0.28;
const LEARNT_WIDTH: (f32, f32) = (326.0, 460.0);
/// The list of readings takes this share of the height under the chart.
const READINGS_SHARE: f32 = 0.42;

/// Height of the invitation where there is no reading yet, in points.
const EMPTY_HEIGHT: f32 = 176.0;

/// Shows the weigh-in.
pub fn weigh_in_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    let paper = view.paper;
    let wide = ui.available_width();
    let width = |share: f32, (least, most): (f32, f32)| (wide * share).clamp(least, most);
    let form = Panel::left("weigh-in form").exact_size(width(FORM_SHARE, FORM_WIDTH));
    form.resizable(false).frame(sheet(paper)).show(ui, |ui| {
        main_pane(ui);
        scrolled(ScrollArea::vertical().auto_shrink(false), ui, |ui| {
            form::form_ui(ui, document, view, edits)
        });
    });
    let learnt = Panel::right("weigh-in learnt").exact_size(width(LEARNT_SHARE, LEARNT_WIDTH));
    learnt.resizable(false).frame(sheet(paper)).show(ui, |ui| {
        pane(ui);
        scrolled(ScrollArea::vertical().auto_shrink(false), ui, |ui| {
            learnt::learnt_ui(ui, document, view, edits)
        });
    });
    let strip = Frame::new().fill(paper.color(Ink::Paper)).inner_margin(Margin::symmetric(14, 8));
    let height = if document.yard().readings().is_empty() {
        EMPTY_HEIGHT
    } else {
        ui.available_height() * READINGS_SHARE
    };
    let list = Panel::bottom("weigh-in readings").exact_size(height).resizable(false);
    list.frame(strip).show(ui, |ui| {
        pane(ui);
        readings::readings_ui(ui, document, view, edits);
    });
    CentralPanel::no_frame().frame(strip).show(ui, |ui| {
        pane(ui);
        chart::chart_ui(ui, document, view);
    });
}

fn sheet(paper: Paper) -> Frame {
    Frame::new().fill(paper.color(Ink::Sheet)).inner_margin(Margin::symmetric(14, 10))
}
