//! The form of the person in the yard, and their measures beside it.

use super::row::{FIELD, Line};
use crate::desk::document::Document;
use crate::desk::edit::{Edit, Edits};
use crate::desk::forms::person::{
    PersonField, has_own_measures, people_of, person_of, take_own_measures, take_people,
};
use crate::desk::words::person::{GEOMETRY, SOURCES, who};
use crate::desk::words::weigh_in::capitalised;
use crate::draw::theme::{self, Ink, size};
use crate::window::rooms::person_fields::{number_ui, people_ui};
use crate::window::view_state::ViewState;
use crate::window::widgets::{MeasureField, Sense as Meaning, at_right, figure_row, scrolled};
use barpoise_core::person::Body;
use barpoise_core::record::PersonFile;
use barpoise_core::units::Length;
use egui::{Id, Label, RichText, ScrollArea, Ui};

/// Longest note, in characters.
const LONGEST_NOTE: usize = 600;
const AVERAGE: (&str, &str) =
    ("average", "The mean of a survey, and nobody's own. It is yours once you type over it.");

/// Shows the form.
pub(super) fn person_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let paper = view.paper;
    ui.horizontal(|ui| {
        ui.label(RichText::new("Person").font(theme::strong(size::TITLE)));
        at_right(ui, Id::unique("person at right"), |ui| {
            let own = document.yard().has_person();
            let button = ui.add_enabled(own, egui::Button::new("Take the average"));
            if button
                .on_hover_text("No person of the yard's own: an average man stands there again")
                .clicked()
            {
                edits.ask(Edit::Person(None));
            }
        });
    });
    let average = document.yard().person().is_average();
    let ink = if average { Ink::Proposed } else { Ink::Soft };
    let text = |words: String, ink| Label::new(RichText::new(words).color(paper.color(ink))).wrap();
    ui.add(text(who(document.yard(), view.units), ink));
    if let Some(refusal) = document.refusal().filter(|refusal| matches!(refusal.edit, Edit::Person(_))) {
        ui.add(text(capitalised(&refusal.reason), Ink::Warn));
    }
    let before = person_of(document.yard());
    let mut person = before.clone();
    scrolled(ScrollArea::vertical().id_salt("person form").auto_shrink(false), ui, |ui| {
        heading(ui, "Measures");
        people_row(ui, view, &mut person);
        for field in [PersonField::Stature, PersonField::Mass, PersonField::Arm, PersonField::Leg] {
            number_row(ui, view, field, &mut person, average);
        }
        heading(ui, "Strength, knees and ground");
        number_row(ui, view, PersonField::Strength, &mut person, average);
        let line = Line {
            paper,
            label: "Kneeling",
            hint: "On one knee; the other foot stands.",
            mark: None,
            wrong: &[],
        };
        line.show(ui, |ui, _| ui.checkbox(&mut person.can_kneel, "Can kneel"));
        number_row(ui, view, PersonField::Slope, &mut person, false);
        note_row(ui, view, &mut person);
        ui.add_space(10.0);
        ui.add(text(GEOMETRY.to_owned(), Ink::Soft));
        ui.add(text(SOURCES.to_owned(), Ink::Soft));
        ui.add_space(12.0);
    });
    if person != before {
        edits.ask(Edit::Person(Some(person)));
    }
}

/// Shows what follows from the measures.
pub(super) fn body_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let body = Body::of(document.yard().person());
    let mut row = |name: &str, metres: f64| {
        figure_row(ui, view.paper, name, &view.units.length(Length::from_m(metres)), Meaning::Plain);
    };
    row("Eye, standing upright", body.eye_height_m);
    row("Shoulder joint, standing upright", body.shoulder_height_m);
    row("Hip joint, standing upright", body.hip_height_m);
    row("Hip joint, on one knee", body.kneeling_hip_m);
    row("Shoulder to grip, farthest a hand works", body.longest_arm_m());
    row("Shoulder to grip, nearest a hand works", body.shortest_arm_m());
}

fn heading(ui: &mut Ui, text: &str) {
    ui.add_space(6.0);
    ui.label(RichText::new(text).font(theme::strong(size::STRONG)));
}

/// Whose means stand in, and whether there are own measures.
fn people_row(ui: &mut Ui, view: &ViewState, person: &mut PersonFile) {
    let line = Line {
        paper: view.paper,
        label: "Averages of",
        hint: "For whatever is not your own.",
        mark: None,
        wrong: &[],
    };
    line.show(ui, |ui, _| {
        if let Some(people) = people_ui(ui, people_of(person)) {
            take_people(person, people);
        }
    });
    let line = Line { label: "Own measures", hint: "Mass, and arm and leg where you measured them.", ..line };
    line.show(ui, |ui, _| {
        let mut own = has_own_measures(person);
        if ui.checkbox(&mut own, "Own measures").changed() {
            take_own_measures(person, own);
        }
    });
}

fn number_row(ui: &mut Ui, view: &ViewState, field: PersonField, person: &mut PersonFile, average: bool) {
    if !field.applies(person) {
        return;
    }
    let line = Line {
        paper: view.paper,
        label: field.label(),
        hint: field.hint(),
        mark: average.then_some(AVERAGE),
        wrong: &[],
    };
    let put = line.show(ui, |ui, width| number_ui(ui, view, "person form", field, person, FIELD.min(width)));
    if let Some(value) = put {
        field.put(person, value);
    }
}

fn note_row(ui: &mut Ui, view: &ViewState, person: &mut PersonFile) {
    let line = Line {
        paper: view.paper,
        label: "Note",
        hint: "Who it is, or where the measures come from.",
        mark: None,
        wrong: &[],
    };
    let put = line.show(ui, |ui, width| {
        let (id, shown) = (Id::unique("person note"), person.note.clone());
        let field = MeasureField { id, name: "Note on the person", shown, width };
        field.show_up_to(LONGEST_NOTE, ui, view.paper, |text| Ok::<_, String>(text.trim().to_owned())).1
    });
    if let Some(note) = put {
        person.note = note;
    }
}
