//! Running the cut: a track with a stretch for each setting, a knob, and keys.

use crate::desk::document::Document;
use crate::desk::edit::Gesture;
use crate::desk::words::cut::clock;
use crate::draw::pictures::{self, run_at};
use crate::draw::theme::{self, Ink};
use crate::window::view_state::ViewState;
use crate::window::widgets::{Handle, Moved, Scale, Steps};
use egui::{Align2, Key, Modifiers, Pos2, Sense, Stroke, Ui};

/// A setting runs this long when the cut plays by itself, s.
pub const SECONDS_PER_SETTING: f64 = 4.0;
/// An arrow key moves this share of a setting; with Shift five times as much.
const KEY_SHARE: f64 = 0.02;
const LARGE_KEYS: f64 = 5.0;

/// Narrower than this, in points, the track has a row of its own.
const ONE_ROW: f32 = 600.0;

/// The settings' number and how far the cut has run, kept within it.
pub(super) fn run_of(document: &Document, view: &ViewState) -> (usize, f64) {
    let count = document.log_figures().map_or(0, |figures| figures.settings().len());
    let end = run_at(count);
    (count, view.cut_run.clamp(0.0, end))
}

/// The setting at work and the share of it that has run.
pub(super) fn at_work(document: &Document, view: &ViewState) -> Option<(usize, f64)> {
    let (count, run) = run_of(document, view);
    pictures::at_work(count, run)
}

/// Shows the track.
pub(super) fn run_ui(ui: &mut Ui, document: &Document, view: &mut ViewState) {
    let (count, run) = run_of(document, view);
    view.cut_run = run;
    let end = run_at(count);
    keys(ui, view, end);
    play(ui, view, end);
    if ui.available_width() < ONE_ROW {
        ui.horizontal(|ui| button_ui(ui, view, count, end));
        track_ui(ui, document, view, end);
    } else {
        ui.horizontal_top(|ui| {
            ui.horizontal(|ui| button_ui(ui, view, count, end));
            track_ui(ui, document, view, end);
        });
    }
}

fn button_ui(ui: &mut Ui, view: &mut ViewState, count: usize, end: f64) {
    ui.label("Run the cut");
    let name = if view.cut_plays { "Pause" } else { "Run" };
    if ui.add_enabled(count > 0, egui::Button::new(name).shortcut_text("Space")).clicked() {
        toggle(view, end);
    }
}

fn toggle(view: &mut ViewState, end: f64) {
    view.cut_plays = !view.cut_plays;
    if view.cut_plays && view.cut_run >= end {
        view.cut_run = 0.0;
    }
}

/// Space runs and holds, the arrows step, unless something else has the keyboard; a handle of the drawing needs the arrows
/// only.
fn keys(ui: &Ui, view: &mut ViewState, end: f64) {
    let free = ui.ctx().memory(|memory| memory.focused().is_none());
    if end <= 0.0 || !(free || Handle::has_keyboard(ui)) {
        return;
    }
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    if pressed(Key::Space) {
        toggle(view, end);
    }
    if !free {
        return;
    }
    for (key, step) in [(Key::ArrowRight, KEY_SHARE), (Key::ArrowLeft, -KEY_SHARE)] {
        if pressed(key) {
            view.cut_run = (view.cut_run + step).clamp(0.0, end);
            view.cut_plays = false;
        }
    }
}

fn play(ui: &Ui, view: &mut ViewState, end: f64) {
    if !view.cut_plays {
        return;
    }
    let dt = f64::from(ui.input(|input| input.stable_dt)).min(0.1);
    view.cut_run = (view.cut_run + dt / SECONDS_PER_SETTING).min(end);
    if view.cut_run >= end {
        view.cut_plays = false;
    } else {
        ui.ctx().request_repaint();
    }
}

#[expect(clippy::cast_possible_truncation, reason = "the screen is f32 by egui's choice")]
fn track_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, end: f64) {
    // For the pointer only: the knob on it is what keys and screen readers find. Its place is kept where there is no cut,
    // so that the drawing above keeps its own.
    let (rect, track) =
        ui.allocate_exact_size(egui::vec2(ui.available_width(), 50.0), Sense::CLICK | Sense::DRAG);
    let Some(figures) = document.log_figures().filter(|_| end > 0.0) else { return };
    let paper = view.paper;
    let (left, right, y) = (rect.left() + 16.0, rect.right() - 16.0, rect.top() + 16.0);
    let x_of = |run: f64| left + (right - left) * (run / end) as f32;
    let line = |from: f32, to: f32, ink| {
        ui.painter().line_segment([Pos2::new(from, y), Pos2::new(to, y)], Stroke::new(5.0, paper.color(ink)));
    };
    line(left, right, Ink::Rule);
    line(left, x_of(view.cut_run), Ink::Ours);
    for (index, setting) in figures.settings().iter().enumerate() {
        let start = x_of(run_at(index));
        let tick = [Pos2::new(start, y - 9.0), Pos2::new(start, y + 9.0)];
        ui.painter().line_segment(tick, Stroke::new(1.5, paper.color(Ink::Soft)));
        let words = clock(setting.bark());
        let text = format!("{}. at {words}", index + 1);
        let room = (right - left) / end as f32 - 8.0;
        let galley = ui.painter().layout(text, theme::body(), paper.color(Ink::Soft), f32::INFINITY);
        let galley = if galley.size().x > room {
            ui.painter().layout((index + 1).to_string(), theme::body(), paper.color(Ink::Soft), f32::INFINITY)
        } else {
            galley
        };
        let place = Align2::LEFT_TOP.anchor_size(Pos2::new(start + 2.0, y + 12.0), galley.size());
        ui.painter().galley(place.min, galley, paper.color(Ink::Soft));
    }
    let handle = Handle {
        id: egui::Id::unique("log run"),
        at: Pos2::new(x_of(view.cut_run), y),
        name: "Run of the cut, in settings",
        value: view.cut_run,
        scale: Scale::new(0.0, end, KEY_SHARE),
        steps: Steps::Across,
    };
    let (response, moved) = handle.show(ui);
    Handle::paint_knob(ui, &response, paper, Steps::Across);
    // A press beside the knob brings the cut there, and drags on from there.
    let beside = (track.clicked() || track.dragged()).then(|| track.interact_pointer_pos()).flatten();
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
