//! The small drawing: where the scale hooks on, where the edge or the block goes, where the angle is read.

use crate::desk::document::Document;
use crate::draw::pieces::measure_scene;
use crate::draw::strokes::{self, Canvas};
use crate::window::view_state::ViewState;
use egui::{Role, Sense, Ui, WidgetInfo};

/// Height of the drawing as a share of its width.
const HEIGHT_SHARE: f32 = 0.52;

/// Shows it.
pub(super) fn sketch_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let width = ui.available_width();
    let size = egui::vec2(width, width * HEIGHT_SHARE);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let kind = view.entry.kind;
    let spoken = format!("How it is measured. {}", view.entry.how(document));
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
    let Some(setup) = view.entry.setup(document) else { return };
    let bar = view.entry.bar.as_deref().and_then(|name| {
        let bar = document.yard().bars().iter().find(|bar| bar.name() == name)?;
        setup.with_bar(bar.clone()).ok()
    });
    let shown = bar.as_ref().unwrap_or(&setup);
    // The scale is not known before the drawing is, and its texts keep their size: two rounds do.
    let mut points_per_mm = 0.25;
    let mut canvas = Canvas::fit(rect, kurbo::Rect::ZERO);
    for _ in 0..2 {
        let (_, extent) = measure_scene(shown, kind, view.entry.nose_up, points_per_mm);
        canvas = Canvas::fit(rect.shrink(4.0), extent).within(rect);
        points_per_mm = canvas.points_per_mm();
    }
    let (scene, _) = measure_scene(shown, kind, view.entry.nose_up, points_per_mm);
    strokes::paint(&scene, &canvas, &ui.painter_at(rect), view.paper);
}
