//! The parts: powerheads, bars, chains and setups, to be added, changed, duplicated and deleted; the person who cuts.

mod extras;
mod form;
mod list;
mod new_yard;
mod person;
mod photograph;
mod row;
mod shown;

use crate::desk::document::Document;
use crate::desk::edit::Edits;
use crate::desk::forms::parts::Picked;
use crate::draw::theme::{Ink, Paper};
use crate::window::view_state::ViewState;
use crate::window::widgets::{main_pane, pane};
use egui::{CentralPanel, Frame, Margin, Panel, ScrollArea, Ui};
pub use photograph::open_photograph;
use std::path::PathBuf;

/// The list and the drawing take these shares of the width, within limits in points.
const LIST_SHARE: f32 = 0.19;
const LIST_WIDTH: (f32, f32) = (196.0, 300.0);
const SHOWN_SHARE: f32 = 0.3;
const SHOWN_WIDTH: (f32, f32) = (230.0, 640.0);

/// What the room asks of the window.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PartsAsk {
    /// The new yard on its page is to be made.
    NewYard,
    /// The path of a photograph of the picked head.
    Photograph,
    /// The photograph kept with the picked head.
    Kept(PathBuf),
}

/// Shows the room.
pub fn parts_ui(
    ui: &mut Ui,
    document: &Document,
    view: &mut ViewState,
    edits: &mut Edits,
) -> Option<PartsAsk> {
    let paper = view.paper;
    let wide = ui.available_width();
    let width = |share: f32, (least, most): (f32, f32)| (wide * share).clamp(least, most);
    if view.parts.new_yard.is_some() {
        return new_yard::new_yard_ui(ui, view).then_some(PartsAsk::NewYard);
    }
    view.parts.settle(document);
    if view.photograph.is_some() {
        photograph::photograph_ui(ui, document, view, edits);
        return None;
    }
    let mut ask = None;
    let list = Panel::left("parts list").exact_size(width(LIST_SHARE, LIST_WIDTH));
    list.resizable(false).frame(sheet(paper)).show(ui, |ui| {
        main_pane(ui);
        list::list_ui(ui, document, view);
    });
    let shown = Panel::right("part shown").exact_size(width(SHOWN_SHARE, SHOWN_WIDTH));
    shown.resizable(false).frame(ground(paper)).show(ui, |ui| {
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            if view.parts.picked == Some(Picked::Person) {
                person::body_ui(ui, document, view);
            } else {
                shown::shown_ui(ui, document, view);
            }
        });
    });
    CentralPanel::no_frame().frame(sheet(paper)).show(ui, |ui| {
        pane(ui);
        if view.parts.picked == Some(Picked::Person) {
            person::person_ui(ui, document, view, edits);
        } else {
            ask = form::form_ui(ui, document, view, edits);
        }
    });
    if view.parts.turn() {
        ui.ctx().request_repaint();
    }
    ask
}

fn sheet(paper: Paper) -> Frame {
    Frame::new().fill(paper.color(Ink::Sheet)).inner_margin(Margin::symmetric(14, 10))
}

fn ground(paper: Paper) -> Frame {
    Frame::new().fill(paper.color(Ink::Paper)).inner_margin(Margin::symmetric(14, 10))
}
