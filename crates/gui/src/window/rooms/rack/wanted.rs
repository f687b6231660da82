//! What is wanted of a setup: limits, whether it must suit itself, and how much each measure counts.

use super::{section_ui, slider_ui};
use crate::desk::document::{Document, LIMITS};
use crate::desk::edit::{Edit, Edits, RackEdit};
use crate::desk::format::{self, Units};
use crate::desk::words::rack as words;
use crate::desk::words::weigh_in::capitalised;
use crate::draw::theme::Ink;
use crate::window::view_state::ViewState;
use crate::window::widgets::{MeasureField, at_right, gesture_of};
use barpoise_core::measure_text::{read_angle, read_force, read_length, read_mass};
use barpoise_core::rack::{Limit, MOST_WEIGHT, Measure};
use barpoise_core::units::{Angle, Force, Length, Mass};
use egui::{Align, Id, Layout, RichText, Ui};

/// Width of a limit's field, in points.
const FIELD: f32 = 76.0;
const NUMBER: f32 = 38.0;
/// Steps of a weight's slider.
const STEP: f64 = 0.1;

/// Shows the wishes.
pub(super) fn wanted_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    section_ui(ui, view.paper, "What is wanted");
    for measure in LIMITS {
        limit_ui(ui, document, view, edits, measure);
    }
    let mut must_suit = document.rack().must_suit();
    let tick = ui.checkbox(&mut must_suit, "Head, bar and chain must suit each other");
    if tick.changed() {
        edits.ask(Edit::Rack(RackEdit::MustSuit(must_suit)));
    }
    ui.add_space(4.0);
    ui.label(RichText::new("How much it counts").color(view.paper.color(Ink::Soft)));
    for measure in Measure::ALL {
        weight_ui(ui, document, view, edits, measure);
    }
    ui.label(
        RichText::new(
            "Limits and weights to begin with are common practice, no source: they are yours to change. \
             Setups are compared by these measures, never rated for kickback.",
        )
        .color(view.paper.color(Ink::Soft)),
    );
}

fn limit_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits, measure: Measure) {
    let Some((limit, in_force)) = document.rack().limit(measure) else { return };
    let mut on = in_force;
    let name = format!("{} at most", capitalised(measure.words()));
    ui.horizontal(|ui| {
        if ui.checkbox(&mut on, &name).changed() {
            edits.ask(Edit::Rack(RackEdit::LimitInForce(measure, on)));
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let spoken = format!("{name}, in {}", unit_of(view.units, measure));
            let field = MeasureField {
                id: Id::unique(("rack limit", measure)),
                name: &spoken,
                shown: words::short_value(view.units, measure, limit.bound),
                width: FIELD,
            };
            let read = |text: &str| read_bound(view.units, measure, text);
            let (response, bound) = field.show(ui, view.paper, read);
            if measure == Measure::HiddenNose {
                response.on_hover_text("Way of the nose out of sight in 100 cuts");
            }
            if let Some(bound) = bound {
                edits.ask(Edit::Rack(RackEdit::Limit(Limit { measure, bound })));
            }
        });
    });
}

/// The unit in which a limit on a measure is typed.
pub(super) fn unit_of(units: Units, measure: Measure) -> &'static str {
    match measure {
        Measure::Weight => units.mass_unit(),
        Measure::Hang => "degrees",
        Measure::FrontHand => units.force_unit(),
        Measure::HiddenNose => units.way_unit(),
        _ => "",
    }
}

fn read_bound(units: Units, measure: Measure, text: &str) -> Result<f64, String> {
    let told = |error: barpoise_core::measure_text::MeasureError| error.to_string();
    let bound = match measure {
        Measure::Weight => read_mass(text, units.mass_from()).map_err(told)?.as_kg(),
        Measure::Hang => read_angle(text).map_err(told)?.as_rad(),
        Measure::FrontHand => read_force(text, units.force_from()).map_err(told)?.as_n(),
        _ => read_length(text, units.way_from()).map_err(told)?.as_m() / words::CUTS_TOLD,
    };
    if bound < 0.0 { Err("a limit is a number from nothing up".to_owned()) } else { Ok(bound) }
}

/// A limit's value on an axis, in the shown unit.
pub(super) fn axis_value(units: Units, measure: Measure, value: f64) -> f64 {
    match measure {
        Measure::Weight => units.mass_value(Mass::from_kg(value)),
        Measure::Hang => Angle::from_rad(value).as_deg(),
        Measure::FrontHand => units.force_value(Force::from_n(value)),
        _ => units.way_value(Length::from_m(value * words::CUTS_TOLD)),
    }
}

/// The value of a measure from one on an axis.
pub(super) fn from_axis(units: Units, measure: Measure, shown: f64) -> f64 {
    match measure {
        Measure::Weight => units.mass_from()(shown).as_kg(),
        Measure::Hang => Angle::from_deg(shown).as_rad(),
        Measure::FrontHand => units.force_from()(shown).as_n(),
        _ => units.way_from()(shown).as_m() / words::CUTS_TOLD,
    }
}

fn weight_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits, measure: Measure) {
    let weight = document.rack().weight(measure);
    ui.horizontal(|ui| {
        ui.label(capitalised(measure.words()));
        at_right(ui, Id::unique(("rack weight at right", measure)), |ui| {
            let name = format!("How much {} counts", measure.words());
            let field = MeasureField {
                id: Id::unique(("rack weight", measure)),
                name: &name,
                shown: format::weight_of_choice(weight),
                width: NUMBER,
            };
            let mut shown = weight;
            let slider = slider_ui(ui, view, &name, &mut shown, MOST_WEIGHT, STEP);
            if let (_, Some(weight)) = field.show(ui, view.paper, read_weight) {
                edits.ask(Edit::Rack(RackEdit::Weigh(measure, weight)));
            }
            if slider.changed() {
                let gesture = gesture_of(ui, &slider);
                edits.ask_in(Edit::Rack(RackEdit::Weigh(measure, shown)), gesture);
            }
        });
    });
}

fn read_weight(text: &str) -> Result<f64, String> {
    let weight = text.trim().replace(',', ".").parse::<f64>().ok();
    weight
        .filter(|weight| (0.0..=MOST_WEIGHT).contains(weight))
        .ok_or_else(|| format!("0 to {}", format::weight_of_choice(MOST_WEIGHT)))
}
