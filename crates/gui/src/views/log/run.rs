//! Running the cut: a track with a stretch for each setting, a knob, and keys.

use crate::document::Document;
use crate::edit::Gesture;
use crate::theme::{self, Ink};
use crate::view_state::ViewState;
use crate::widgets::{Handle, Moved, Steps};
use barpoise_core::log_section::SettingPlace;
use egui::{Align2, Key, Modifiers, Pos2, Sense, Stroke, Ui};

/// A setting runs this long when the cut plays by itself, s.
const SECONDS_PER_SETTING: f64 = 4.0;
/// An arrow key moves this share of a setting; with Shift five times as much.
const KEY_SHARE: f64 = 0.02;
const LARGE_KEYS: f64 = 5.0;

/// The settings' number and how far the cut has run, kept within it.
pub(super) fn run_of(document: &Document, view: &ViewState) -> (usize, f64) {
    let count = document.log_figures().map_or(0, |figures| figures.settings().len());
    let end = u32::try_from(count).map_or(0.0, f64::from);
    (count, view.cut_run.clamp(0.0, end))
}

/// The setting at work and the share of it that has run.
pub(super) fn at_work(document: &Document, view: &ViewState) -> Option<(usize, f64)> {
    let (count, run) = run_of(document, view);
    (0..count).rev().find_map(|index| {
        let start = u32::try_from(index).map_or(0.0, f64::from);
        let last = index + 1 == count;
        (run >= start && (run > start || index == 0 || !last || run < start + 1.0))
            .then_some((index, (run - start).min(1.0)))
    })
}

/// Shows the track.
pub(super) fn run_ui(ui: &mut Ui, document: &Document, view: &mut ViewState) {
    let (count, run) = run_of(document, view);
    view.cut_run = run;
    let end = u32::try_from(count).map_or(0.0, f64::from);
    keys(ui, view, end);
    play(ui, view, end);
    ui.horizontal(|ui| {
        ui.label("Run the cut");
        let name = if view.cut_plays { "Hold" } else { "Run" };
        if ui.add_enabled(count > 0, egui::Button::new(name).shortcut_text("Space")).clicked() {
            toggle(view, end);
        }
    });
    if count > 0 {
        track_ui(ui, document, view, end);
    }
}

fn toggle(view: &mut ViewState, end: f64) {
    view.cut_plays = !view.cut_plays;
    if view.cut_plays && view.cut_run >= end {
        view.cut_run = 0.0;
    }
}

/// Space runs and holds, the arrows step, unless something else has the keyboard.
fn keys(ui: &Ui, view: &mut ViewState, end: f64) {
    if ui.ctx().memory(|memory| memory.focused().is_some()) || end <= 0.0 {
        return;
    }
    let beside = ui.input(|input| {
        let pointer = &input.pointer;
        let on_track = pointer.primary_down() && pointer.press_origin().is_some_and(|at| rect.contains(at));
        pointer.interact_pos().filter(|_| on_track && !response.dragged())
    });
    let run = match moved.or(beside.map(|point| Moved::To(point, Gesture::Single))) {
        None => return,
        Some(Moved::To(point, _)) => f64::from((point.x - left) / (right - left)) * end,
        Some(Moved::By { small, large }) => {
            view.cut_run + KEY_SHARE * (f64::from(small) + LARGE_KEYS * f64::from(large))
        }
        Some(Moved::Mark(marks)) if marks > 0 => (view.cut_run + 1.0).floor(),
        Some(Moved::Mark(_)) => (view.cut_run - 1.0).ceil(),
        Some(Moved::Set(value)) => value,
    };
    view.cut_run = run.clamp(0.0, end);
    view.cut_plays = false;
}
