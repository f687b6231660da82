//! Rows of figures: a soft name on the left, a strong value on the right, a rule beneath.

use crate::draw::theme::{self, Ink, Paper, size};
use egui::{Align, Layout, RichText, Stroke, Ui};

/// Height of a row's text line and the gaps between text and rules, in points.
const ROW: f32 = 18.0;
const ROW_GAP: f32 = 3.0;

/// How a value stands to the person's limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// As it is.
    Plain,
    /// Past a limit, or missing.
    Warn,
}

/// A small heading over a group.
pub fn caption(ui: &mut Ui, paper: Paper, text: &str) {
    ui.label(RichText::new(text).color(paper.color(Ink::Soft)));
}

/// One figure.
pub fn figure_row(ui: &mut Ui, paper: Paper, name: &str, value: &str, sense: Sense) {
    let ink = match sense {
        Sense::Plain => Ink::Line,
        Sense::Warn => Ink::Warn,
    };
    row(ui, paper, name, value, ink);
    rule(ui, paper);
}

/// One difference to the setup it is compared with.
pub fn change_row(ui: &mut Ui, paper: Paper, name: &str, value: &str) {
    row(ui, paper, name, value, Ink::Line);
}

fn row(ui: &mut Ui, paper: Paper, name: &str, value: &str, ink: Ink) {
    ui.spacing_mut().interact_size.y = ROW;
    ui.spacing_mut().item_spacing.y = ROW_GAP;
    ui.horizontal(|ui| {
        let name = ui.label(RichText::new(name).color(paper.color(Ink::Soft)));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let text = RichText::new(value).font(theme::strong(size::BODY)).color(paper.color(ink));
            ui.add(egui::Label::new(text).wrap()).labelled_by(name.id);
        });
    });
}

fn rule(ui: &mut Ui, paper: Paper) {
    let (rect, _) = ui.allocate_exact_size(egui::vec2(ui.available_width(), 1.0), egui::Sense::hover());
    ui.painter().hline(rect.x_range(), rect.center().y, Stroke::new(1.0, paper.color(Ink::Rule)));
}
