//! Controls at the right end of a row that are still read, and gone through by Tab, from left to right.

use egui::{Id, Ui};

/// Two widths nearer than this are the same, in points.
const SAME_WIDTH: f32 = 0.5;

/// Lays controls out from left to right, with their end at the right end of the row. They take the place that they
/// took in the pass before; where that was another, the pass is drawn once more before it is seen.
pub fn at_right<R>(ui: &mut Ui, id: Id, contents: impl FnOnce(&mut Ui) -> R) -> R {
    let width = width_at_right(ui, id);
    ui.add_space((ui.available_width() - width).max(0.0));
    let inner = ui.scope(contents);
    let now = inner.response.rect.width();
    if (now - width).abs() > SAME_WIDTH {
        ui.data_mut(|data| data.insert_temp(id, now));
        ui.ctx().request_discard("controls at the right have another width");
    }
    inner.inner
}

/// The width that those controls take.
pub fn width_at_right(ui: &Ui, id: Id) -> f32 {
    ui.data(|data| data.get_temp(id)).unwrap_or_default()
}
