//! Under the drawing: the bar length and the pitch at which the saw is held, as sliders and as typed values.

use super::canvas::length_edit;
use crate::desk::document::Document;
use crate::desk::edit::{Edit, Edits};
use crate::desk::format;
use crate::draw::theme::Paper;
use crate::window::view_state::ViewState;
use crate::window::widgets::{MeasureField, Moved, gesture_of, with_rail};
use barpoise_core::BarFamily;
use barpoise_core::measure_text::{read_angle, read_length};
use barpoise_core::ranges::{HELD_PITCH, MADE_UP_LENGTH};
use barpoise_core::units::{Angle, Length};
use egui::{Id, Slider, Ui};

/// Narrower than this, in points, the controls take two rows.
const ONE_ROW: f32 = 845.0;
/// A bar's mark without a unit is in inches up to here; no bar is marked longer.
const LONGEST_IN_INCHES: f64 = 100.0;

/// The controls, on one row where they fit.
pub(super) fn controls_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    if ui.available_width() >= ONE_ROW {
        ui.horizontal(|ui| {
            length_ui(ui, document, view, edits);
            ui.add_space(8.0);
            pitch_ui(ui, view);
        });
    } else {
        ui.horizontal_wrapped(|ui| length_ui(ui, document, view, edits));
        ui.horizontal_wrapped(|ui| pitch_ui(ui, view));
    }
}

fn length_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    let units = view.units;
    let overall = document.figures().setup().bar().overall_length();
    let label = ui.label("Length");
    let mut shown = units.length_value(overall);
    let ends = (Length::from_mm(MADE_UP_LENGTH.min), Length::from_mm(MADE_UP_LENGTH.max));
    let range = units.length_value(ends.0)..=units.length_value(ends.1);
    ui.spacing_mut().slider_width = 108.0;
    let slider = Slider::new(&mut shown, range).show_value(false);
    let slider = with_rail(ui, view.paper, |ui| ui.add(slider)).labelled_by(label.id);
    if slider.changed() {
        let gesture = gesture_of(ui, &slider);
        if let Some(edit) = length_edit(document, view, Moved::Set(shown)) {
            edits.ask_in(edit, gesture);
        }
    }
    let asked = marked_ui(ui, document, view).or_else(|| reach_ui(ui, document, view));
    let plate = ui.selectable_label(view.plate_shown, "Plate");
    if plate.on_hover_text("The length of the plate, tail end to nose end").clicked() {
        view.plate_shown = !view.plate_shown;
    }
    let asked = asked.or_else(|| if view.plate_shown { plate_ui(ui, view, overall) } else { None });
    if let Some(length) = asked {
        edits.ask(Edit::BarLength(length));
    }
}

/// The length as people say it: what is, or would be, stamped on the bar. A number alone is in inches, as stamps are; a
/// large one in millimetres.
fn marked_ui(ui: &mut Ui, document: &Document, view: &ViewState) -> Option<Length> {
    let family = document.figures().family();
    let field = MeasureField {
        id: Id::unique("bench marked field"),
        name: "Bar, as marked",
        shown: format::marked_length(document.figures().setup().bar().marked_length()),
        width: 60.0,
    };
    let ends = BarFamily::span();
    let mark = |overall: Length| family.at(overall).map(|setup| setup.bar().marked_length());
    let read = |text: &str| {
        let plain = |value: f64| {
            if value <= LONGEST_IN_INCHES { Length::from_in(value) } else { Length::from_mm(value) }
        };
        let marked = read_length(text, plain).map_err(|error| error.to_string())?;
        family.marked(marked).map(|setup| setup.bar().overall_length()).ok_or_else(|| {
            match (mark(ends.0), mark(ends.1)) {
                (Ok(shortest), Ok(longest)) => {
                    format!("{} to {}", format::marked_length(shortest), format::marked_length(longest))
                }
                _ => "no bar of this family can be made up".to_owned(),
            }
        })
    };
    let (response, committed) = field.show(ui, view.paper, read);
    response.on_hover_text(
        "The bar's marked length. Takes 20 in, 20, 50 cm; what lies between marks is a trial bar.",
    );
    committed
}

/// Past the spikes: the tip follows what is typed, and the bar the tip.
fn reach_ui(ui: &mut Ui, document: &Document, view: &ViewState) -> Option<Length> {
    let (figures, units) = (document.figures(), view.units);
    ui.label("reach");
    let spikes = figures.setup().powerhead().spike_line();
    let reach_of = |overall: Length| figures.family().at(overall).map_or(Length::ZERO, |setup| setup.reach());
    let ends = BarFamily::span();
    let field = MeasureField {
        id: Id::unique("bench reach field"),
        name: "Reach past the spikes",
        shown: units.length(figures.solved().reach),
        width: 76.0,
    };
    let read = |text: &str| {
        let reach = read_length(text, units.length_from()).map_err(|error| error.to_string())?;
        let (least, most) = (reach_of(ends.0), reach_of(ends.1));
        if (least..=most).contains(&reach) {
            Ok(figures.family().overall_with_tip_at(reach + spikes))
        } else {
            Err(format!("{} to {}", units.length(least), units.length(most)))
        }
    };
    let (response, committed) = field.show(ui, view.paper, read);
    response.on_hover_text("From the spikes to the end of the nose's cutters");
    committed
}

fn plate_ui(ui: &mut Ui, view: &ViewState, overall: Length) -> Option<Length> {
    let units = view.units;
    let field = MeasureField {
        id: Id::unique("bench length field"),
        name: "Bar length, tail to nose",
        shown: units.length(overall),
        width: 76.0,
    };
    let read = |text: &str| {
        let length = read_length(text, units.length_from()).map_err(|error| error.to_string())?;
        match MADE_UP_LENGTH.refusal(length.as_mm()) {
            None => Ok(length),
            Some(_) => {
                let ends = BarFamily::span();
                Err(format!("{} to {}", units.length(ends.0), units.length(ends.1)))
            }
        }
    };
    let (response, committed) = field.show(ui, view.paper, read);
    response.on_hover_text("Plate from tail end to nose end. Takes 742, 74,2 cm, 29 1/4 in.");
    committed
}

fn pitch_ui(ui: &mut Ui, view: &mut ViewState) {
    let paper: Paper = view.paper;
    let label = ui.label("Held");
    // Nose down is positive here as it is for the hang.
    let mut nose_down = -view.held_pitch_deg;
    ui.spacing_mut().slider_width = 84.0;
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
