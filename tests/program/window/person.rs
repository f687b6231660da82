//! The person in the yard: their form in the room of parts.

use super::harness::window_of;
use barpoise::desk::document::Document;
use barpoise::desk::format::{LengthUnit, MassUnit, Units};
use barpoise::window::app::App;
use barpoise::window::view_state::{Room, ViewState};
use barpoise_core::record::{PeopleFile, PersonFile, SurveyFile};
use egui::accesskit::Role;
use egui::{Key, Modifiers, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

const SIZE: Vec2 = Vec2::new(1280.0, 1000.0);

fn form_in(units: Units) -> Harness<'static, App> {
    let view = ViewState { room: Room::Parts, units, ..ViewState::default() };
    let mut harness = window_of(App::with_view(Document::demo().unwrap(), view), SIZE);
    click(&mut harness, Role::Button, "Person · average");
    harness
}

fn form() -> Harness<'static, App> {
    form_in(Units::default())
}

fn click(harness: &mut Harness<'_, App>, role: Role, name: &str) {
    harness.get_by_role_and_label(role, name).click();
    harness.run();
}

fn type_in(harness: &mut Harness<'_, App>, name: &str, text: &str) {
    harness.get_by_role_and_label(Role::TextInput, name).focus();
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, name).type_text(text);
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
}

fn value_of(harness: &Harness<'_, App>, name: &str) -> String {
    harness.get_by_role_and_label(Role::TextInput, name).accesskit_node().value().unwrap()
}

fn person(harness: &Harness<'_, App>) -> Option<PersonFile> {
    harness.state().document().yard().file().person.clone()
}

fn has(harness: &Harness<'_, App>, words: &str) -> bool {
    let says = |text: Option<String>| text.is_some_and(|text| text.contains(words));
    harness.query_all_by(|node| says(node.label()) || says(node.value())).count() > 0
}

fn undo(harness: &mut Harness<'_, App>) {
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    harness.run();
}

#[test]
fn an_average_stands_there_and_is_called_one_until_somebody_is_put() {
    let mut harness = form();
    assert!(has(&harness, "This yard has no person of its own."));
    assert!(has(&harness, "the mean of a survey, not you"));
    assert_eq!(person(&harness), None);
    type_in(&mut harness, "Stature in mm", "182 cm");
    let put = person(&harness).unwrap();
    assert_eq!((put.stature_mm, put.survey), (1820.0, SurveyFile::Men));
    assert!(!has(&harness, "no person of its own"));
    assert!(has(&harness, "A man of average build, 1820 mm"));
    assert!(harness.state().document().unsaved());
    undo(&mut harness);
    assert_eq!(person(&harness), None);
    assert_eq!(value_of(&harness, "Stature in mm"), "1756.2 mm");
}

#[test]
fn every_field_of_the_person_goes_into_the_yard() {
    let mut harness = form();
    click(&mut harness, Role::RadioButton, "Averages of women");
    let woman = person(&harness).unwrap();
    assert_eq!(
        (woman.stature_mm, woman.survey),
        (1628.5, SurveyFile::Women),
        "an average goes with its survey"
    );
    click(&mut harness, Role::CheckBox, "Own measures");
    type_in(&mut harness, "Body mass in kg", "71");
    type_in(&mut harness, "Straight arm in mm", "590");
    type_in(&mut harness, "Leg in mm", "88 cm");
    type_in(&mut harness, "Strength percentile in percent", "60 %");
    click(&mut harness, Role::CheckBox, "Can kneel");
    type_in(&mut harness, "Slope across the log in degrees", "-6°");
    type_in(&mut harness, "Note on the person", "One of the three of Alder Flat, invented.");
    let wanted = PersonFile {
        note: "One of the three of Alder Flat, invented.".to_owned(),
        stature_mm: 1628.5,
        survey: SurveyFile::Own {
            of: PeopleFile::Women,
            mass_kg: 71.0,
            arm_mm: Some(590.0),
            leg_mm: Some(880.0),
        },
        strength_percentile: 60.0,
        can_kneel: false,
        slope_deg: -6.0,
    };
    assert_eq!(person(&harness), Some(wanted));
    type_in(&mut harness, "Straight arm in mm", " ");
    assert!(matches!(person(&harness).unwrap().survey, SurveyFile::Own { arm_mm: None, .. }));
    click(&mut harness, Role::Button, "Take the average");
    assert_eq!(person(&harness), None);
    assert!(has(&harness, "no person of its own"));
}

#[test]
fn what_is_out_of_range_is_refused_beside_its_field() {
    let mut harness = form();
    type_in(&mut harness, "Stature in mm", "175");
    assert_eq!(person(&harness), None);
    assert!(has(&harness, "Stature can be 1300 mm to 2200 mm"));
    harness.key_press(Key::Escape);
    harness.run();
    type_in(&mut harness, "Slope across the log in degrees", "60");
    assert!(has(&harness, "Slope across the log can be"));
    assert_eq!(person(&harness), None);
}

#[test]
fn inches_and_pounds_are_taken_and_shown() {
    let mut harness = form_in(Units { length: LengthUnit::In, mass: MassUnit::Lb, ..Units::default() });
    assert!(has(&harness, "69.1 in, 188 lb"));
    type_in(&mut harness, "Stature in in", "70");
    click(&mut harness, Role::CheckBox, "Own measures");
    type_in(&mut harness, "Body mass in lb", "200");
    let put = person(&harness).unwrap();
    assert!((put.stature_mm - 1778.0).abs() < 1e-6, "{put:?}");
    // A pound is 0.453 592 37 kg by definition.
    let SurveyFile::Own { mass_kg, .. } = put.survey else { panic!("{put:?}") };
    assert!((mass_kg - 90.718_474).abs() < 1e-6, "{put:?}");
}

#[test]
fn the_body_that_follows_stands_beside_the_form() {
    let mut harness = form();
    // 0.799 and 0.935 of 1756.2 mm.
    for words in ["Shoulder joint, standing upright", "1403 mm", "Eye, standing upright", "1642 mm"] {
        assert!(has(&harness, words), "{words}");
    }
    type_in(&mut harness, "Stature in mm", "1900");
    assert!(has(&harness, "1518 mm"));
}

#[test]
fn the_person_is_changed_beside_the_log_and_the_plan_follows() {
    let view = ViewState { room: Room::Log, ..ViewState::default() };
    let mut harness = window_of(App::with_view(Document::demo().unwrap(), view), SIZE);
    assert!(has(&harness, "Person, average"));
    click(&mut harness, Role::RadioButton, "Averages of women");
    type_in(&mut harness, "Stature in mm", "1500");
    click(&mut harness, Role::CheckBox, "Can kneel");
    type_in(&mut harness, "Slope across the log in degrees", "5");
    let wanted = PersonFile {
        note: String::new(),
        stature_mm: 1500.0,
        survey: SurveyFile::Women,
        strength_percentile: 50.0,
        can_kneel: false,
        slope_deg: 5.0,
    };
    assert_eq!(person(&harness), Some(wanted));
    let document = harness.state().document();
    assert_eq!(document.log_figures().unwrap().job().person(), document.yard().person());
    for _ in 0..4 {
        undo(&mut harness);
    }
    let document = harness.state().document();
    assert!(!document.yard().has_person());
    assert_eq!(document.log_figures().unwrap().job().person(), document.yard().person());
}
