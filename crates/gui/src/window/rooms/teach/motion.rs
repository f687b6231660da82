//! What a step sets in motion: a bar that grows, a cut that runs. A button, a track, and keys.

use super::look::Look;
use super::row_ui;
use crate::desk::lesson::Motion;
use crate::draw::theme::Ink;
use crate::window::view_state::ViewState;
use crate::window::widgets::with_rail;
use egui::{Key, Modifiers, Slider, Ui};

/// The words of something that moves through stretches, and how fast it goes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mover {
    /// The button that sets it going.
    pub(super) begins: &'static str,
    /// The same where nothing is to move by itself: one stretch on.
    pub(super) goes_on: &'static str,
    /// What the button does.
    pub(super) hint: &'static str,
    /// The button back to what stands still.
    pub(super) rests: &'static str,
    /// The track.
    pub(super) place: &'static str,
    /// Through one stretch.
    pub(super) seconds: f64,
}

impl Mover {
    /// Shows button and track, and moves on; so many stretches.
    pub(super) fn show(&self, ui: &mut Ui, view: &mut ViewState, look: &Look, stretches: usize) {
        let end = u32::try_from(stretches).map_or(0.0, f64::from);
        if ui.ctx().memory(|memory| memory.focused().is_none())
            && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::R))
        {
            press(view, end);
        }
        self.move_on(ui, view, end);
        let motion = view.teach.motion;
        let runs = motion.is_some_and(|motion| motion.runs);
        let name = match (runs, view.less_motion) {
            (true, _) => "Pause",
            (false, true) => self.goes_on,
            (false, false) => self.begins,
        };
        row_ui(ui, |ui| {
            let hint = format!("{} (R)", self.hint);
            if ui.button(look.text(name, Ink::Line)).on_hover_text(hint).clicked() {
                press(view, end);
            }
            if motion.is_some() && ui.button(look.text(self.rests, Ink::Line)).clicked() {
                view.teach.motion = None;
            }
        });
        let Some(mut motion) = view.teach.motion else { return };
        let label = ui.label(look.text(self.place, Ink::Soft));
        ui.spacing_mut().slider_width = (ui.available_width() - 12.0).min(look.pt(260.0));
        let slider = Slider::new(&mut motion.at, 0.0..=end).show_value(false);
        let slider = with_rail(ui, view.paper, |ui| ui.add(slider)).labelled_by(label.id);
        if slider.changed() {
            view.teach.motion = Some(Motion { runs: false, ..motion });
        }
    }

    fn move_on(&self, ui: &Ui, view: &mut ViewState, end: f64) {
        let Some(motion) = view.teach.motion.filter(|motion| motion.runs) else { return };
        if view.less_motion {
            view.teach.motion = Some(Motion { runs: false, ..motion });
            return;
        }
        let dt = f64::from(ui.input(|input| input.stable_dt)).min(0.1);
        let at = (motion.at + dt / self.seconds).min(end);
        view.teach.motion = Some(Motion { at, runs: at < end });
        ui.ctx().request_repaint();
    }
}

/// Holds what moves, else sets it going; by whole stretches where nothing is to move by itself.
pub(super) fn press(view: &mut ViewState, end: f64) {
    let Motion { at, runs } = view.teach.motion.unwrap_or_default();
    let from = if at >= end { 0.0 } else { at };
    let next = if view.less_motion && !runs {
        let begun = view.teach.motion.is_some();
        let at = if !begun || at >= end { 0.0 } else { at.floor() + 1.0 };
        Motion { at, runs: false }
    } else {
        Motion { at: if runs { at } else { from }, runs: !runs }
    };
    view.teach.motion = Some(next);
}
