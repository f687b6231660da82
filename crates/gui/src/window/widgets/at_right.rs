//! Controls at the right end of a row that are still read, and gone through by Tab, from left to right.

use egui::{Id, Ui, UiBuilder};

/// Two widths nearer than this are the same, in points.
const SAME_WIDTH: f32 = 0.5;

/// Lays controls out from left to right, with their end at the right end of the row. They take the place that they
/// took in the pass before; where that was another, the pass is drawn once more before it is seen.
pub fn at_right<R>(ui: &mut Ui, id: Id, contents: impl FnOnce(&mut Ui) -> R) -> R {
    let (width, whole) = (width_at_right(ui, id), ui.available_width());
    ui.add_space((whole - width).max(0.0));
    // They have the whole row to themselves, so that what they took before does not bind what they take now.
    let mut room = ui.available_rect_before_wrap();
    room.set_width(whole.max(0.0));
    // Names of their own, for what stands before them in the row may come and go, and must not take the keyboard from them.
    let inner = ui.scope_builder(UiBuilder::new().scope_id(id.with("contents")).max_rect(room), contents);
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

#[cfg(test)]
mod tests {
    use super::*;
    use egui::{Pos2, RawInput, Rect, TextEdit};

    #[test]
    fn fields_keep_their_width_and_end_at_the_right() {
        let ctx = egui::Context::default();
        let screen = Rect::from_min_size(Pos2::ZERO, egui::vec2(400.0, 200.0));
        let mut field = Rect::NOTHING;
        let mut row = Rect::NOTHING;
        for wanted in [60.0, 60.0, 140.0, 140.0, 80.0, 80.0] {
            let input = RawInput { screen_rect: Some(screen), ..RawInput::default() };
            ctx.run_ui(input, |ui| {
                ui.horizontal(|ui| {
                    row = ui.max_rect();
                    ui.label("Fuel");
                    let mut text = String::from("100 %");
                    field = at_right(ui, Id::unique("row"), |ui| {
                        ui.add(TextEdit::singleline(&mut text).desired_width(wanted)).rect
                    });
                });
            })
            .textures_delta
            .clear();
            assert!(field.width() >= wanted, "{} of {wanted}", field.width());
        }
        assert!((field.right() - row.right()).abs() < 1.0, "{field:?} in {row:?}");
    }
}
