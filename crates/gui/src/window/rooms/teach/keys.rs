//! The keys of a lesson: forward, back, figures, into the projector and out of it.

use super::motion;
use crate::window::view_state::ViewState;
use barpoise_core::lesson::View;
use egui::{Key, Modifiers, Ui};

const FORWARD: [Key; 2] = [Key::ArrowRight, Key::PageDown];
const BACK: [Key; 2] = [Key::ArrowLeft, Key::PageUp];

/// Takes the keys of a clicker, whatever has the keyboard on a projector and the page keys in the room; the others where
/// nothing else has it.
pub(super) fn keys(ui: &Ui, view: &mut ViewState) {
    if view.teach.steps().is_empty() {
        return;
    }
    let free = ui.ctx().memory(|memory| memory.focused().is_none());
    let clicker = free || view.teach.projected;
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    if clicker && pressed(Key::Space) {
        space(view);
    }
    // Quick presses arrive together.
    let times = |key| ui.input_mut(|input| input.count_and_consume_key(Modifiers::NONE, key));
    let takes = |key: &Key| clicker || matches!(key, Key::PageUp | Key::PageDown);
    for _ in 0..FORWARD.into_iter().filter(takes).map(times).sum() {
        view.teach.forward();
    }
    for _ in 0..BACK.into_iter().filter(takes).map(times).sum() {
        view.teach.back();
    }
    if view.teach.projected && pressed(Key::Escape) {
        view.teach.projected = false;
    }
    if !free {
        return;
    }
    if pressed(Key::Home) {
        view.teach.go(0);
    }
    if pressed(Key::End) {
        view.teach.go(usize::MAX);
    }
    if pressed(Key::F) {
        view.teach.figures_hidden = !view.teach.figures_hidden;
    }
    if pressed(Key::P) {
        view.teach.projected = true;
    }
}

/// Holds a bar that grows; else goes on to the next step.
fn space(view: &mut ViewState) {
    let growing = view.teach.motion.is_some_and(|motion| motion.runs);
    let side_by_side = view.teach.shown().is_some_and(|step| step.view == View::SideBySide);
    if growing && side_by_side {
        motion::press(view, f64::INFINITY);
    } else {
        view.teach.forward();
    }
}
