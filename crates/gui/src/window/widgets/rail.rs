//! Sliders whose rail is in sight on paper and sheet alike.

use crate::draw::theme::{Ink, Paper};
use egui::Ui;

/// Shows sliders with a rail that stands off its ground.
pub fn with_rail<R>(ui: &mut Ui, paper: Paper, contents: impl FnOnce(&mut Ui) -> R) -> R {
    ui.scope(|ui| {
        ui.visuals_mut().widgets.inactive.bg_fill = paper.color(Ink::Rule);
        contents(ui)
    })
    .inner
}
