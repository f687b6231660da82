//! Which drag a stock control's change belongs to.

use crate::desk::edit::Gesture;
use egui::{Response, Ui};

/// The drag that a slider's change belongs to, or a single change where it was a key or a click.
pub fn gesture_of(ui: &Ui, response: &Response) -> Gesture {
    if response.drag_started() {
        let pass = ui.ctx().cumulative_pass_nr();
        ui.data_mut(|data| data.insert_temp(response.id, pass));
    }
    let pass = ui.data(|data| data.get_temp::<u64>(response.id));
    match pass {
        Some(pass) if response.dragged() => Gesture::Drag(pass),
        _ => Gesture::Single,
    }
}
