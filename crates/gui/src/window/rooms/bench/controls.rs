//! Under the drawing: the bar length and the pitch at which the saw is held, as sliders and as typed values.

use super::canvas::length_edit;
use crate::desk::document::Document;
use crate::desk::edit::{Edit, Edits};
use crate::desk::format;
use crate::draw::theme::Paper;
use crate::window::view_state::ViewState;
use crate::window::widgets::{MeasureField, Moved, gesture_of, with_rail};
use barpoise_core::measure_text::{read_angle, read_length};
use barpoise_core::ranges::{HELD_PITCH, MADE_UP_LENGTH};
use barpoise_core::units::{Angle, Length};
use egui::{Id, Slider, Ui};

/// Narrower than this, in points, the controls take two rows.
const ONE_ROW: f32 = 760.0;

/// The controls, on one row where they fit.
pub(super) fn controls_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    if ui.available_width() >= ONE_ROW {
        ui.horizontal(|ui| {
            length_ui(ui, document, view, edits);
            ui.add_space(18.0);
            pitch_ui(ui, view);
        });
    } else {
        ui.horizontal(|ui| length_ui(ui, document, view, edits));
        ui.horizontal_wrapped(|ui| pitch_ui(ui, view));
    }
}

fn length_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let units = view.units;
    let overall = document.figures().setup().bar().overall_length();
    let label = ui.label("Overall");
    let mut shown = units.length_value(overall);
    let ends = (Length::from_mm(MADE_UP_LENGTH.min), Length::from_mm(MADE_UP_LENGTH.max));
    let range = units.length_value(ends.0)..=units.length_value(ends.1);
    ui.spacing_mut().slider_width = 190.0;
    let slider = Slider::new(&mut shown, range).show_value(false);
    let slider = with_rail(ui, view.paper, |ui| ui.add(slider)).labelled_by(label.id);
    if slider.changed() {
        let gesture = gesture_of(ui, &slider);
        if let Some(edit) = length_edit(document, view, Moved::Set(shown)) {
            edits.ask_in(edit, gesture);
        }
    }
    let field = MeasureField {
        id: Id::unique("bench length field"),
        name: "Bar length, tail to nose",
        shown: units.length(overall),
        width: 84.0,
    };
    let read = |text: &str| {
        let length = read_length(text, units.length_from()).map_err(|error| error.to_string())?;
        match MADE_UP_LENGTH.refusal(length.as_mm()) {
            None => Ok(length),
            Some(_) => Err(format!("{} to {}", units.length(ends.0), units.length(ends.1))),
        }
    };
    let (response, committed) = field.show(ui, view.paper, read);
    response.on_hover_text("Plate from tail end to nose end. Takes 742, 74,2 cm, 29 1/4 in.");
    if let Some(length) = committed {
        edits.ask(Edit::BarLength(length));
    }
}

fn pitch_ui(ui: &mut Ui, view: &mut ViewState) {
    let paper: Paper = view.paper;
    let label = ui.label("Held");
    // Nose down is positive here as it is for the hang.
    let mut nose_down = -view.held_pitch_deg;
    ui.spacing_mut().slider_width = 96.0;
    let slider =
        Slider::new(&mut nose_down, -HELD_PITCH.max..=-HELD_PITCH.min).show_value(false).step_by(1.0);
    let slid = with_rail(ui, paper, |ui| ui.add(slider)).labelled_by(label.id);
    if slid.changed() {
        view.held_pitch_deg = -nose_down;
    }
    slid.on_hover_text("Pitch at which the saw is held, nose down positive: the hands change with it");
    let field = MeasureField {
        id: Id::unique("bench pitch field"),
        name: "Held pitch, nose down positive",
        shown: format::whole_angle(Angle::ZERO - view.held_pitch()),
        width: 44.0,
    };
    let read = |text: &str| {
        let pitch = read_angle(text).map_err(|error| error.to_string())?;
        HELD_PITCH.refusal(pitch.as_deg()).map_or(Ok(pitch), Err)
    };
    if let (_, Some(nose_down)) = field.show(ui, paper, read) {
        view.held_pitch_deg = -nose_down.as_deg();
    }
    for (name, pitch_deg) in [("Nose down", -30.0), ("Level", 0.0), ("Nose up", 30.0)] {
        let on = (view.held_pitch_deg - pitch_deg).abs() < 0.5;
        if ui.selectable_label(on, name).clicked() {
            view.held_pitch_deg = pitch_deg;
        }
    }
}
