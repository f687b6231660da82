//! How large and on which paper a step is shown: in the room, or on a projector.

use crate::desk::format::Units;
use crate::draw::theme::{self, Ink, Paper, size};
use crate::window::view_state::ViewState;
use egui::{Color32, FontId, RichText, Ui};

/// The window for which the projector's smallest text is laid out, points; a larger one has larger text.
const PROJECTED_WINDOW: egui::Vec2 = egui::vec2(1280.0, 800.0);

/// Paper, units and size.
#[derive(Clone, Copy, Debug)]
pub(super) struct Look {
    pub(super) paper: Paper,
    pub(super) units: Units,
    /// Texts and lines are so many times their size.
    pub(super) enlarged: f32,
}

impl Look {
    /// As the room shows it.
    pub(super) const fn room(paper: Paper, units: Units) -> Self {
        Self { paper, units, enlarged: 1.0 }
    }

    /// As a projector shows it: by the size of the window, whatever the zoom.
    pub(super) fn projector(ui: &Ui, view: &ViewState) -> Self {
        let zoom = ui.ctx().zoom_factor();
        let window = ui.ctx().content_rect().size() * zoom / PROJECTED_WINDOW;
        let larger = window.min_elem().max(1.0);
        let paper = if view.paper == Paper::Dark { Paper::Dark } else { Paper::Projector };
        Self { paper, units: view.units, enlarged: size::PROJECTED / size::BODY * larger / zoom }
    }

    pub(super) fn color(&self, ink: Ink) -> Color32 {
        self.paper.color(ink)
    }

    /// So many points of the room.
    pub(super) fn pt(&self, points: f32) -> f32 {
        points * self.enlarged
    }

    /// So many points of the room as a gap, in whole points.
    pub(super) fn gap(&self, points: f32) -> f32 {
        self.pt(points).round()
    }

    pub(super) fn body(&self) -> FontId {
        theme::plain(self.pt(size::BODY))
    }

    pub(super) fn strong(&self) -> FontId {
        theme::strong(self.pt(size::BODY))
    }

    /// A line of plain text.
    pub(super) fn text(&self, text: impl Into<String>, ink: Ink) -> RichText {
        RichText::new(text).font(self.body()).color(self.color(ink))
    }

    /// A line of heavier text.
    pub(super) fn strong_text(&self, text: impl Into<String>, ink: Ink) -> RichText {
        RichText::new(text).font(self.strong()).color(self.color(ink))
    }
}
