//! Who cuts: the person in the yard, as far as they are changed beside a log.

use crate::desk::document::Document;
use crate::desk::edit::{Edit, Edits};
use crate::desk::forms::person::{PersonField, people_of, person_of, take_people};
use crate::desk::words::person::who;
use crate::desk::words::weigh_in::capitalised;
use crate::draw::theme::Ink;
use crate::window::rooms::person_fields::{number_ui, people_ui};
use crate::window::view_state::ViewState;
use crate::window::widgets::at_right;
use barpoise_core::record::PersonFile;
use egui::{Id, RichText, Ui};

/// Widths of the two fields, in points.
const STATURE: f32 = 100.0;
const SLOPE: f32 = 56.0;

/// Stature, survey, kneeling and slope, on two lines.
pub(super) fn person_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let before = person_of(document.yard());
    let mut person = before.clone();
    let soft = |text: &str| RichText::new(text.to_owned()).color(view.paper.color(Ink::Soft));
    ui.horizontal(|ui| {
        let average = document.yard().person().is_average();
        ui.label(soft(if average { "Person, average" } else { "Person" }))
            .on_hover_text(who(document.yard(), view.units));
        at_right(ui, Id::unique("log person at right"), |ui| {
            number(ui, view, PersonField::Stature, &before, &mut person, STATURE);
            ui.label(soft("Slope")).on_hover_text(PersonField::Slope.hint());
            number(ui, view, PersonField::Slope, &before, &mut person, SLOPE);
        });
    });
    ui.horizontal(|ui| {
        ui.checkbox(&mut person.can_kneel, "Can kneel");
        at_right(ui, Id::unique("log people at right"), |ui| {
            if let Some(people) = people_ui(ui, people_of(&before)) {
                take_people(&mut person, people);
            }
        });
    });
    if let Some(refusal) = document.refusal().filter(|refusal| matches!(refusal.edit, Edit::Person(_))) {
        ui.colored_label(view.paper.color(Ink::Warn), capitalised(&refusal.reason));
    }
    if person != before {
        edits.ask(Edit::Person(Some(person)));
    }
}

fn number(
    ui: &mut Ui,
    view: &ViewState,
    field: PersonField,
    before: &PersonFile,
    person: &mut PersonFile,
    width: f32,
) {
    if let Some(value) = number_ui(ui, view, "log person", field, before, width) {
        field.put(person, value);
    }
}
