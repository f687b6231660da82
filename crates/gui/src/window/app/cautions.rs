//! The cautions, always in sight: whole until they are folded, then one red line with the rest a press away.

use crate::draw::theme::{self, Ink, Paper, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::scrolled;
use barpoise_core::{CAUTIONS, KICKBACK_CAUTION};
use egui::text::{LayoutJob, TextFormat};
use egui::{Align, Button, Label, Layout, ScrollArea, Ui};

/// Over and under the cautions, in points.
pub(super) const MARGIN: i8 = 5;
/// The line over them and the rounding to pixels, in points.
const EDGE: f32 = 3.0;
/// They take no more than this share of the window's height.
const MOST_SHARE: f32 = 0.12;
/// Room for the button that folds and unfolds them, in points.
const BUTTON: f32 = 120.0;
/// The least height of a row with a button, in points.
const ROW: f32 = 26.0;

/// The strip of cautions.
pub(super) fn cautions_ui(ui: &mut Ui, view: &mut ViewState) {
    let most = MOST_SHARE * ui.ctx().content_rect().height() - 2.0 * f32::from(MARGIN) - EDGE;
    let wide = ui.available_width() - BUTTON;
    let job = words(view.paper, !view.cautions_folded);
    let whole = ui.fonts_mut(|fonts| {
        let mut job = job.clone();
        job.wrap.max_width = wide;
        fonts.layout_job(job).size().y
    });
    let high = if view.cautions_folded { ROW.min(most) } else { whole.max(ROW).min(most) };
    let align = if view.cautions_folded { Align::Center } else { Align::Min };
    ui.allocate_ui_with_layout(egui::vec2(ui.available_width(), high), Layout::right_to_left(align), |ui| {
        let name = if view.cautions_folded { "All cautions" } else { "One line" };
        if ui.add(if high < ROW { Button::new(name).small() } else { Button::new(name) }).clicked() {
            view.cautions_folded = !view.cautions_folded;
        }
        ui.with_layout(Layout::left_to_right(align), |ui| {
            if view.cautions_folded {
                let line = ui.add(Label::new(job).truncate());
                line.on_hover_text(CAUTIONS.join(" "));
            } else {
                let area =
                    ScrollArea::vertical().max_height(high).min_scrolled_height(0.0).auto_shrink(false);
                scrolled(area, ui, |ui| ui.add(Label::new(job).wrap()));
            }
        });
    });
}

/// The red line, and after it the others.
fn words(paper: Paper, all: bool) -> LayoutJob {
    let mut job = LayoutJob::default();
    let lead = TextFormat::simple(theme::strong(size::BODY), paper.color(Ink::Danger));
    job.append(KICKBACK_CAUTION, 0.0, lead);
    for caution in CAUTIONS.into_iter().filter(|_| all) {
        job.append(" ", 0.0, TextFormat::simple(theme::body(), paper.color(Ink::Line)));
        job.append(caution, 0.0, TextFormat::simple(theme::body(), paper.color(Ink::Line)));
    }
    job
}
