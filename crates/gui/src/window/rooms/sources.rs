//! Where the numbers of a room come from, folded away until it is asked for.

use crate::desk::sources::{HEADING, Topic, line};
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use barpoise_core::Mark;
use egui::{RichText, Ui};

/// A fold with all that is assumed for some topics, and what the marks mean.
pub(super) fn sources_fold_ui(ui: &mut Ui, view: &ViewState, topics: &[Topic]) {
    ui.add_space(6.0);
    ui.collapsing(HEADING, |ui| sources_ui(ui, view, topics));
}

/// The same unfolded.
pub(crate) fn sources_ui(ui: &mut Ui, view: &ViewState, topics: &[Topic]) {
    let soft = view.paper.color(Ink::Soft);
    ui.label(RichText::new(Mark::LEGEND).color(soft));
    for topic in topics {
        ui.add_space(4.0);
        ui.label(RichText::new(topic.words()).font(theme::strong(size::BODY)));
        for of in topic.assumptions() {
            ui.label(RichText::new(line(view.units, &of)).color(soft));
        }
    }
}
