//! The sheet that says of every assumed number what it is, how large, and where it comes from.

use super::App;
use super::sheet_of_keys::sheet_ui;
use crate::desk::sources::{HEADING, Topic};
use crate::window::rooms::sources::sources_ui;
use egui::Ui;

/// No line of the sheet is longer than this, in points.
const WIDEST: f32 = 900.0;

impl App {
    /// The sheet, over the window while it is asked for.
    pub(super) fn sources_ui(&mut self, ui: &Ui) {
        if !self.sources_shown {
            return;
        }
        let view = &self.view;
        let closed = sheet_ui(ui, HEADING, |ui, room| {
            ui.set_max_width(room.x.min(WIDEST));
            sources_ui(ui, view, &Topic::ALL);
        });
        if closed {
            self.sources_shown = false;
        }
    }
}
