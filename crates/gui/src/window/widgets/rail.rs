//! Sliders whose rail is in sight on paper and sheet alike, with a ring round the one that has the keyboard.

use crate::draw::theme::{Ink, Paper};
use egui::{Response, Stroke, StrokeKind, Ui};

/// The ring keeps so far off the slider, in points.
const OFF: f32 = 2.0;

/// Shows a slider with a rail that stands off its ground.
pub fn with_rail(ui: &mut Ui, paper: Paper, slider: impl FnOnce(&mut Ui) -> Response) -> Response {
    ui.scope(|ui| {
        ui.visuals_mut().widgets.inactive.bg_fill = paper.color(Ink::Rule);
        let response = slider(ui);
        if response.has_focus() {
            let ring = Stroke::new(2.0, paper.color(Ink::Line));
            ui.painter().rect_stroke(response.rect.expand(OFF), 4.0, ring, StrokeKind::Outside);
        }
        response
    })
    .inner
}
