//! A trainer's drawing with the step's saw.

use super::look::Look;
use crate::desk::document::{Document, Figures};
use crate::draw::pictures::ShownPicture;
use crate::draw::strokes;
use crate::window::view_state::ViewState;
use barpoise_core::lesson::Subject;
use egui::{Role, Ui, WidgetInfo};

/// Room kept round the drawing, in points.
const MARGIN: f32 = 12.0;

/// Shows the drawing in what is left of the room.
pub(super) fn shown_ui(
    ui: &mut Ui,
    document: &Document,
    view: &ViewState,
    look: &Look,
    of: Subject,
    figures: &Figures,
) {
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), egui::Sense::hover());
    let (person, measured) = (document.yard().person(), !view.teach.hides_figures());
    let asks = view.teach.waits_for_guess();
    let picture = ShownPicture { of, figures, person, units: look.units, measured, asks };
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, picture.spoken()));
    let (scene, canvas) = picture.scene(rect.shrink(look.pt(MARGIN)), look.enlarged);
    strokes::paint(&scene, &canvas, &ui.painter_at(rect), look.paper);
}
