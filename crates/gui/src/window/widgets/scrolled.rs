//! Scrolled contents in which what has the focus is always in sight.

use egui::{Id, ScrollArea, Ui};

/// Space kept about what is scrolled into sight, for its ring, in points.
const MARGIN: f32 = 6.0;

/// Shows contents in a scroll area, and scrolls to what the keys have moved the focus to.
pub fn scrolled<R>(area: ScrollArea, ui: &mut Ui, contents: impl FnOnce(&mut Ui) -> R) -> R {
    let shown = area.show(ui, |ui| {
        let inner = contents(ui);
        follow_focus(ui);
        inner
    });
    shown.inner
}

fn follow_focus(ui: &Ui) {
    let focused = ui.memory(|memory| memory.focused());
    let followed = ui.scope_id().with("focus followed");
    let last = ui.data(|data| data.get_temp::<Option<Id>>(followed)).flatten();
    if focused == last {
        return;
    }
    ui.data_mut(|data| data.insert_temp(followed, focused));
    let Some(response) = focused.and_then(|id| ui.ctx().read_response(id)) else { return };
    if response.layer_id == ui.layer_id() && ui.min_rect().contains_rect(response.rect) {
        ui.scroll_to_rect(response.rect.expand(MARGIN), None);
    }
}
