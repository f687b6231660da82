//! A step that fills the window: the drawing first, under it a strip of words that read from the back of a room, and one
//! caution.

use super::column::strip_ui;
use super::keys::keys;
use super::look::Look;
use super::{drawing_ui, place_words};
use crate::desk::document::Document;
use crate::desk::lesson::Stage;
use crate::draw::theme::{Ink, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::{at_right, width_at_right};
use barpoise_core::lesson::{Step, Subject, View};
use barpoise_core::{CAUTIONS, KICKBACK_CAUTION};
use egui::{CentralPanel, Frame, Id, Label, Margin, Panel, ScrollArea, Ui};

/// Words and caution take this share of the height; more is scrolled.
const STRIP_SHARE: f32 = 0.335;
/// Room at the edges, in points of a room.
const EDGE: f32 = 10.0;

/// Shows the step over the whole window.
pub fn projector_ui(ui: &mut Ui, document: &Document, view: &mut ViewState) {
    keys(ui, view);
    let look = Look::projector(ui, view);
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
        ui.spacing_mut().item_spacing = egui::vec2(look.gap(5.0), look.gap(1.0));
        ui.spacing_mut().button_padding = egui::vec2(look.gap(5.0), look.gap(1.0));
        ui.spacing_mut().interact_size.y = look.gap(size::BODY);
        let most = ui.available_height() * STRIP_SHARE;
        let strip = Panel::bottom("projected words").resizable(false).exact_size(most);
        strip.frame(edge(EDGE, 1.0)).show(ui, |ui| {
            Panel::bottom("projected caution").resizable(false).frame(Frame::new()).show(ui, |ui| {
                caution_ui(ui, view, &look, &step);
            });
            CentralPanel::no_frame().show(ui, |ui| {
                ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
                    strip_ui(ui, document, view, &look, &step, &stage);
                });
            });
        });
        CentralPanel::no_frame().frame(edge(2.0, 2.0)).show(ui, |ui| {
            drawing_ui(ui, document, view, &look, &step, &stage);
        });
    });
}

/// One caution, and beside it where the lesson is and what can be done with the mouse.
fn caution_ui(ui: &mut Ui, view: &mut ViewState, look: &Look, step: &Step) {
    let controls = Id::unique("projector at right");
    ui.horizontal_top(|ui| {
        let caution = caution_of(view.teach.step, step);
        let wide = (ui.available_width() - width_at_right(ui, controls) - look.gap(6.0)).max(1.0);
        ui.vertical(|ui| {
            ui.set_width(wide);
            ui.add(Label::new(look.strong_text(caution, Ink::Danger)).wrap());
        });
        at_right(ui, controls, |ui| controls_ui(ui, view, look));
    });
}

/// Where the lesson is, and what can be done with the mouse.
fn controls_ui(ui: &mut Ui, view: &mut ViewState, look: &Look) {
    ui.horizontal(|ui| {
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

/// The caution that belongs to what a step draws; else they take turns, so that a lesson shows them all.
pub(super) fn caution_of(index: usize, step: &Step) -> &'static str {
    let [thumb, brake, nose, ..] = CAUTIONS;
    match step.view {
        View::Drawing(Subject::Thumb | Subject::WhoCarries) => thumb,
        View::Drawing(Subject::BrakeTests | Subject::Controls) => brake,
        View::Drawing(Subject::LeftArm | Subject::Plunge | Subject::TopAndBottomBind) => nose,
        View::Drawing(Subject::KickbackQuadrant | Subject::PullAndPush) => KICKBACK_CAUTION,
        _ => {
            let mut all = [KICKBACK_CAUTION].into_iter().chain(CAUTIONS);
            all.nth(index % (CAUTIONS.len() + 1)).unwrap_or(KICKBACK_CAUTION)
        }
    }
}
