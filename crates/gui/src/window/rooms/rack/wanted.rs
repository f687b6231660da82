//! What is wanted of a setup: limits, whether it must suit itself, and how much each measure counts.

use super::{section_ui, slider_ui};
use crate::desk::document::{Document, LIMITS};
use crate::desk::edit::{Edit, Edits, RackEdit};
use crate::desk::format;
use crate::desk::words::rack as words;
use crate::desk::words::weigh_in::capitalised;
use crate::draw::theme::Ink;
use crate::window::view_state::ViewState;
use crate::window::widgets::{MeasureField, at_right, gesture_of};
use barpoise_core::rack::{Anchors, Limit, MOST_WEIGHT, Measure};
use egui::{Align, Id, Layout, RichText, Ui};

/// Width of a limit's field, in points.
const FIELD: f32 = 76.0;
const NUMBER: f32 = 38.0;
/// The ends of a scale, by name.
const NO_BURDEN: &str = "no burden";
const AS_BAD: &str = "as bad as it gets";
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
    ui.collapsing("Ends of the scales", |ui| {
        for measure in Measure::ALL {
            anchors_ui(ui, document, view, edits, measure);
        }
    });
    ui.label(
        RichText::new(
            "Limits, scales and weights to begin with are our guess: they are yours to change. \
             Setups are compared by these measures, never rated for kickback.",
        )
        .color(view.paper.color(Ink::Soft)),
    );
}

/// The two ends of a measure's scale.
fn anchors_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits, measure: Measure) {
    let now = document.rack().anchors(measure);
    let (units, soft) = (view.units, view.paper.color(Ink::Soft));
    let per = if matches!(measure, Measure::TangleTime | Measure::Time | Measure::Lifts | Measure::Fuel) {
        " in 100 cuts"
    } else {
        ""
    };
    ui.label(format!("{}{per}", capitalised(measure.words())));
    ui.horizontal(|ui| {
        let mut end = |word: &str, value: f64, with: &dyn Fn(f64) -> Result<Anchors, String>| {
            ui.label(RichText::new(word).color(soft));
            let name = format!("{} {word}, in {}", capitalised(measure.words()), words::unit(units, measure));
            let id = Id::unique(("rack anchor", measure, word));
            let shown = match measure {
                // Typed in minutes, however many there are.
                Measure::TangleTime | Measure::Time => {
                    format::trimmed(words::shown(units, measure, value), 1, words::unit(units, measure))
                }
                _ => words::short_value(units, measure, value),
            };
            let field = MeasureField { id, name: &name, shown, width: FIELD };
            let read = |text: &str| words::read(units, measure, text).and_then(with);
            if let (_, Some(anchors)) = field.show(ui, view.paper, read) {
                edits.ask(Edit::Rack(RackEdit::Anchor(measure, anchors)));
            }
        };
        end(NO_BURDEN, now.fine(), &|fine| words::ends(units, measure, fine, now.bad()));
        end(AS_BAD, now.bad(), &|bad| words::ends(units, measure, now.fine(), bad));
    });
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
            let spoken = format!("{name}, in {}", words::unit(view.units, measure));
            let field = MeasureField {
                id: Id::unique(("rack limit", measure)),
                name: &spoken,
                shown: words::short_value(view.units, measure, limit.bound),
                width: FIELD,
            };
            let read = |text: &str| words::read(view.units, measure, text);
            let (response, bound) = field.show(ui, view.paper, read);
            if measure == Measure::NoseOut {
                response
                    .on_hover_text("How far the nose is out among branches, the mean of each cut's farthest");
            }
            if let Some(bound) = bound {
                edits.ask(Edit::Rack(RackEdit::Limit(Limit { measure, bound })));
            }
        });
    });
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
