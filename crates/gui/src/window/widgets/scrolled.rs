//! Scrolled contents in which what has the focus is always in sight.

use egui::{Id, ScrollArea, Ui, Vec2};

/// Space kept about what is scrolled into sight, for its ring, in points.
const MARGIN: f32 = 6.0;

/// Shows contents in a scroll area, and scrolls to what the keys have moved the focus to.
pub fn scrolled<R>(area: ScrollArea, ui: &mut Ui, contents: impl FnOnce(&mut Ui) -> R) -> R {
    let shown = area.show(ui, |ui| {
        let inner = contents(ui);
        follow_focus(ui, |_| Vec2::ZERO);
        inner
    });
    shown.inner
}

/// As [`scrolled`], where a part of the contents stays in its place at the left and the top and covers others: what
/// comes back from the contents says how much of the width and the height is covered for a widget, in points.
pub fn scrolled_under<C: FnOnce(Id) -> Vec2>(
    area: ScrollArea,
    ui: &mut Ui,
    contents: impl FnOnce(&mut Ui) -> C,
) {
    area.show(ui, |ui| {
        let covered = contents(ui);
        follow_focus(ui, covered);
    });
}

fn follow_focus(ui: &Ui, covered: impl FnOnce(Id) -> Vec2) {
    let focused = ui.memory(|memory| memory.focused());
    let followed = ui.scope_id().with("focus followed");
    let last = ui.data(|data| data.get_temp::<Option<Id>>(followed)).flatten();
    if focused == last {
        return;
    }
    ui.data_mut(|data| data.insert_temp(followed, focused));
    let Some(response) = focused.and_then(|id| ui.ctx().read_response(id)) else { return };
    if response.layer_id == ui.layer_id() && ui.min_rect().contains_rect(response.rect) {
        let mut shown = response.rect.expand(MARGIN);
        shown.min -= covered(response.id);
        ui.scroll_to_rect(shown, None);
    }
}
