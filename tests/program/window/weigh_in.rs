//! The weigh-in in the window.

use super::harness::{SIZE, window_of};
use barpoise::desk::document::Document;
use barpoise::desk::edit::{Edit, Gesture, WeighInEdit};
use barpoise::window::app::App;
use barpoise::window::view_state::{Room, ViewState};
use barpoise_core::file::read_yard;
use barpoise_core::record::{MeasuredFile, ReadingFile};
use barpoise_core::weigh_in::Choice;
use egui::accesskit::Role;
use egui::{Key, Modifiers, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use std::collections::BTreeSet;

type Window = Harness<'static, App>;

fn room_of(document: Document, size: Vec2) -> Window {
    let view = ViewState { room: Room::WeighIn, ..ViewState::default() };
    window_of(App::with_view(document, view), size)
}

/// The demo without its readings.
fn unread() -> Document {
    let mut file = barpoise_core::file::demo().unwrap().file().clone();
    file.readings.clear();
    Document::new_yard(barpoise_core::Yard::new(file).unwrap()).unwrap()
}

fn room() -> Window {
    room_of(unread(), SIZE)
}

fn pick(window: &mut Window, list: &str, name: &str) {
    window.get_by_role_and_label(Role::ComboBox, list).click();
    window.run();
    window.get_by_role_and_label(Role::Button, name).click();
    window.run();
}

/// Types into a field, by its label, without leaving it.
fn type_in(window: &mut Window, field: &str, text: &str) {
    window.get_by_role_and_label(Role::TextInput, field).focus();
    window.run();
    window.key_press_modifiers(Modifiers::COMMAND, Key::A);
    window.run();
    window.get_by_role_and_label(Role::TextInput, field).type_text(text);
    window.run();
}

fn press(window: &mut Window, button: &str) {
    window.get_by_role_and_label(Role::Button, button).click();
    window.run();
}

fn undo(window: &mut Window) {
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    window.run();
}

fn enter(window: &mut Window, kind: &str, setup: &str, field: &str, text: &str) {
    pick(window, "Measured", kind);
    pick(window, "Setup", setup);
    type_in(window, field, text);
    press(window, "Add reading");
}

/// Five readings that go together, as a person types them.
fn enter_five(window: &mut Window) {
    let (hang, total) = ("Hang angle in °", "Total weight in kg");
    enter(window, "Hang angle", "Bittern B24", hang, "21,4");
    enter(window, "Hang angle", "Bittern B14", hang, "5.1°");
    enter(window, "Total weight", "Bittern B24", total, "9,05 kg");
    enter(window, "Front grip on the scale", "Bittern B24", "Weight at the front grip in kg", "10.9");
    enter(window, "Reach past the spikes", "Bittern B24", "Reach past the spikes in mm", "56,4 cm");
}

fn document(window: &Window) -> &Document {
    window.state().document()
}

fn readings(window: &Window) -> usize {
    document(window).yard().readings().len()
}

fn reading(setup: &str, measured: MeasuredFile) -> ReadingFile {
    ReadingFile::new(measured, Some(setup.to_owned()))
}

fn total(kg: f64) -> ReadingFile {
    reading("Bittern B24", MeasuredFile::Total { weight_kg: kg, uncertainty_kg: 0.05 })
}

fn document_with(readings: impl IntoIterator<Item = ReadingFile>) -> Document {
    let mut document = unread();
    for reading in readings {
        document.apply(Edit::WeighIn(WeighInEdit::AddReading(reading)), Gesture::Single);
        assert_eq!(document.refusal(), None);
    }
    document
}

#[test]
fn five_readings_teach_the_bench_and_can_be_taken_back() {
    let mut window = room();
    enter_five(&mut window);
    assert_eq!(readings(&window), 5, "{:?}", document(&window).refusal());
    let fit = document(&window).weigh_in().fit().unwrap();
    assert_eq!(fit.readings.len(), 5);
    assert!(fit.disagreement.is_none(), "{:?}", fit.disagreement);
    window.get_by_label("1 · hang angle of Bittern B24");
    window.get_by_label_contains("The readings go together");
    let mass = |window: &Window| document(window).figures().solved().ready_mass().as_kg();
    let before = mass(&window);
    let sure = |window: &Window| document(window).figures().bands().hang.unwrap().as_deg();
    let unsure = sure(&window);
    assert!(unsure > 1.5, "what nobody measured has its band from the start: {unsure}");
    let foretold = {
        let taught = document(&window).weigh_in().of_setup("Bittern B24").unwrap();
        let own = taught.rack.iter().find(|learnt| learnt.bar.name == "B24").unwrap();
        barpoise::desk::format::hang_with(own.bar.solved.hang.unwrap(), own.bands.hang.unwrap())
    };
    press(&mut window, "Apply");
    assert!((mass(&window) - 9.05).abs() < (before - 9.05).abs(), "{before} to {}", mass(&window));
    assert!(sure(&window) < 1.0);
    assert_eq!(window.query_all_by_role_and_label(Role::Button, "Apply").count(), 1);
    assert!(!document(&window).weigh_in().has_news(), "applied is applied");
    window.get_by_role_and_label(Role::Tab, "Bench").click();
    window.run();
    let bench = document(&window).figures();
    let hang = barpoise::desk::format::hang_with(bench.solved().hang.unwrap(), bench.bands().hang.unwrap());
    assert!(window.get_by_role(Role::Meter).accesskit_node().label().unwrap().contains(&hang), "{hang}");
    assert_eq!(hang, foretold, "bench and weigh-in agree to the digit");
    undo(&mut window);
    assert!((sure(&window) - unsure).abs() < 1e-12);
    assert!((mass(&window) - before).abs() < 1e-12);
    undo(&mut window);
    assert_eq!(readings(&window), 4);
    for _ in 0..2 {
        window.key_press_modifiers(Modifiers::COMMAND, Key::Y);
        window.run();
    }
    assert_eq!(readings(&window), 5);
    assert!(sure(&window) < unsure);
}

#[test]
fn put_back_brings_the_old_numbers_and_keeps_the_readings() {
    let mut window = room_of(document_with([total(9.4), total(9.38)]), SIZE);
    let before = document(&window).figures().solved().ready_mass().as_kg();
    press(&mut window, "Apply");
    assert!((document(&window).figures().solved().ready_mass().as_kg() - before).abs() > 0.05);
    press(&mut window, "Put back");
    assert!((document(&window).figures().solved().ready_mass().as_kg() - before).abs() < 1e-12);
    assert_eq!(readings(&window), 2);
    assert!(document(&window).weigh_in().has_news());
}

#[test]
fn a_reading_that_contradicts_the_rest_is_named_and_can_be_left_out() {
    let mut window = room_of(document_with([total(9.2), total(9.22), total(9.18), total(9.9)]), SIZE);
    let off = document(&window).weigh_in().fit().unwrap().disagreement.unwrap();
    assert_eq!(off.index, 3);
    window.get_by_label_contains("does not go with the others");
    window.get_by_label_contains("contradict");
    window.get_by_role_and_label(Role::CheckBox, "Reading 4 left out").click();
    window.run();
    assert!(document(&window).weigh_in().fit().unwrap().disagreement.is_none());
    assert!(window.query_by_label_contains("does not go with the others").is_none());
    press(&mut window, "Remove reading 4");
    assert_eq!(readings(&window), 3);
}

#[test]
fn few_readings_say_what_they_leave_open_and_what_to_read_next() {
    let mut window = room();
    window.get_by_label("No readings yet");
    assert!(window.query_by_role_and_label(Role::Button, "Apply").is_none());
    pick(&mut window, "Measured", "Total weight");
    type_in(&mut window, "Total weight in kg", "9,1");
    press(&mut window, "Add reading");
    let fit = document(&window).weigh_in().fit().unwrap();
    assert!(!fit.mixed.is_empty(), "one weight leaves much open: {fit:?}");
    for mixed in &fit.mixed {
        window.get_by_label(&barpoise::desk::words::weigh_in::mixed(mixed));
    }
    let next = &document(&window).weigh_in().of_setup("Bittern B24").unwrap().next;
    assert!(next[0].hang_then < next[0].hang_now);
    let name = barpoise::desk::words::weigh_in::measure_of(&next[0].measured);
    press(&mut window, &format!("Take reading: {name}"));
    window.get_by_role_and_label(Role::TextInput, "Hang angle in °");
}

#[test]
fn a_slipped_point_is_asked_about_and_mended_by_a_button() {
    let mut window = room();
    pick(&mut window, "Measured", "Total weight");
    let field = "Total weight in kg";
    type_in(&mut window, field, "76 kg");
    window.get_by_label_contains("7.60 ± 0.05 kg would be nearer");
    window.get_by_role_and_label(Role::Button, "Take 7.60 kg");
    type_in(&mut window, field, "92 kg");
    window.get_by_label_contains("Did the decimal point slip?");
    press(&mut window, "Take 9.20 kg");
    assert!(window.query_by_label_contains("Did the decimal point slip?").is_none());
    press(&mut window, "Add reading");
    assert_eq!(document(&window).yard().readings()[0].value().to_string(), "9.2");
    type_in(&mut window, field, "500 kg");
    window.get_by_label_contains("Weight must be 2.00 kg to 25.00 kg");
    type_in(&mut window, field, "9 mm");
    window.get_by_label_contains("kg, g, lb");
    // In range and far off: asked about, but a person may know better.
    type_in(&mut window, field, "20.2");
    window.get_by_label_contains("Are these pounds?");
    press(&mut window, "Add reading all the same");
    assert_eq!(readings(&window), 2);
}

#[test]
fn a_reading_is_changed_in_its_place() {
    let mut window = room_of(document_with([total(9.2), total(9.3)]), SIZE);
    press(&mut window, "Change reading 1");
    window.get_by_label("Reading 1");
    type_in(&mut window, "Total weight in kg", "9.25 kg");
    press(&mut window, "Change reading");
    assert_eq!(readings(&window), 2);
    assert_eq!(document(&window).yard().readings()[0].value().to_string(), "9.25");
    window.get_by_label("New reading");
    window.get_by_role_and_label(Role::CheckBox, "Learn Dry mass of Bittern").click();
    window.run();
    assert!(matches!(document(&window).choice(), Choice::Chosen(_)));
    let fit = document(&window).weigh_in().fit().unwrap();
    assert!(fit.learnt.iter().all(|learnt| learnt.unknown.quantity.words() != "dry mass"));
    undo(&mut window);
    assert_eq!(document(&window).choice(), &Choice::Automatic);
}

#[test]
fn a_yard_is_saved_where_it_is_told_and_asked_for_before_it_is_lost() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("mine.yard.ron");
    let mut window = room_of(document_with([total(9.2), total(9.25)]), SIZE);
    assert!(document(&window).unsaved());
    window.get_by_label_contains("unsaved");
    press(&mut window, "Yard");
    press(&mut window, "Demo yard Ctrl+Shift+D");
    window.get_by_label("Save the yard first?");
    press(&mut window, "Cancel");
    assert_eq!(readings(&window), 2, "nothing is lost");
    let hang = |window: &Window| document(window).figures().bands().hang.unwrap();
    let untaught = hang(&window);
    press(&mut window, "Apply");
    // The demo has no file: Save asks for one.
    window.key_press_modifiers(Modifiers::COMMAND, Key::S);
    window.run_steps(3);
    type_in(&mut window, "Save as, path of a yard file", path.to_str().unwrap());
    press(&mut window, "Save");
    assert!(!document(&window).unsaved(), "{:?}", window.state().notice());
    window.get_by_label("Saved");
    let read = read_yard(&path).unwrap();
    assert_eq!(read.file(), document(&window).yard().file());
    assert_eq!(read.file().weigh_ins.len(), 1);
    let again = room_of(Document::open(&path).unwrap(), SIZE);
    assert_eq!(hang(&again), hang(&window));
    assert!(hang(&again) < untaught, "what was taught is kept");
    assert!(!document(&again).weigh_in().has_news());
    // Its own file now: saved without asking; an undone step is unsaved again.
    undo(&mut window);
    assert!(document(&window).unsaved());
    window.key_press_modifiers(Modifiers::COMMAND, Key::S);
    window.run();
    assert!(!document(&window).unsaved());
    press(&mut window, "Remove reading 1");
    press(&mut window, "Yard");
    press(&mut window, "Demo yard Ctrl+Shift+D");
    press(&mut window, "Discard");
    assert_eq!(document(&window).yard().file(), barpoise_core::file::demo().unwrap().file());
    assert!(!document(&window).unsaved());
}

fn close(window: &mut Window) -> Vec<egui::ViewportCommand> {
    let root = egui::ViewportId::ROOT;
    window.input_mut().viewports.entry(root).or_default().events.push(egui::ViewportEvent::Close);
    window.step();
    window.input_mut().viewports.entry(root).or_default().events.clear();
    window.output().viewport_output.values().flat_map(|output| output.commands.clone()).collect()
}

#[test]
fn closing_asks_first_only_where_something_would_be_lost() {
    let mut window = room_of(Document::demo().unwrap(), SIZE);
    let cancelled =
        |commands: &[egui::ViewportCommand]| commands.contains(&egui::ViewportCommand::CancelClose);
    assert!(!cancelled(&close(&mut window)));
    window.run();
    assert!(window.query_by_label("Save the yard first?").is_none());
    let mut window = room_of(document_with([total(9.2)]), SIZE);
    assert!(cancelled(&close(&mut window)));
    window.run();
    window.get_by_label("Save the yard first?");
    window.get_by_role_and_label(Role::Button, "Discard").click();
    window.step();
    let mut asked = Vec::new();
    for _ in 0..3 {
        asked.extend(window.output().viewport_output.values().flat_map(|output| output.commands.clone()));
        window.step();
    }
    assert!(asked.contains(&egui::ViewportCommand::Close), "{asked:?}");
    assert!(!cancelled(&close(&mut window)), "given up is given up");
}

#[test]
fn nothing_is_clipped_at_any_size() {
    for size in [Vec2::new(1024.0, 700.0), Vec2::new(1280.0, 800.0), Vec2::new(2560.0, 1440.0)] {
        let window = room_of(document_with([total(9.2), total(9.25)]), size);
        for (role, name) in [
            (Role::ComboBox, "Measured"),
            (Role::TextInput, "Total weight in kg"),
            (Role::TextInput, "Fuel level in percent"),
            (Role::Button, "Add reading"),
            (Role::Button, "Apply"),
            (Role::Button, "Remove reading 1"),
            (Role::CheckBox, "Reading 1 left out"),
        ] {
            let name =
                if role == Role::TextInput && name.starts_with("Total") { "Hang angle in °" } else { name };
            let rect = window.get_by_role_and_label(role, name).rect();
            let inside = rect.left() >= 0.0 && rect.right() <= size.x && rect.bottom() <= size.y;
            assert!(inside, "{size:?}: {name} at {rect:?}");
        }
        let remove = window.get_by_role_and_label(Role::Button, "Remove reading 1").rect();
        let label = window.get_by_label("1 · total weight of Bittern B24").rect();
        let tick = window.get_by_role_and_label(Role::CheckBox, "Reading 1 left out").rect();
        let apart = label.right() <= tick.left() + 1.0 || label.bottom() <= tick.top() + 1.0;
        assert!(apart, "{size:?}: {label:?} runs into {tick:?}");
        assert!(tick.right() <= remove.left(), "{size:?}");
    }
}

#[test]
fn tab_reaches_every_control_by_name_and_the_room_rests() {
    let mut window = room_of(document_with([total(9.2), total(9.25)]), Vec2::new(1600.0, 1400.0));
    let mut reached = BTreeSet::new();
    for _ in 0..80 {
        window.key_press(Key::Tab);
        window.run();
        if let Some(node) = window.query_all_by(|node| node.is_focused()).next() {
            let label = node.accesskit_node().label();
            assert!(label.is_some(), "a stop without a name: {:?}", node.accesskit_node().role());
            reached.extend(label);
        }
    }
    for name in [
        "Measured",
        "Setup",
        "Fuel level in percent",
        "Oil level in percent",
        "Hang angle in °",
        "Give or take in °",
        "Reading 1 left out",
        "Change reading 2",
        "Remove reading 2",
        "Apply",
        "automatic",
        "Learn Dry mass of Bittern",
        "Front hand",
    ] {
        assert!(reached.contains(name), "{name} not among {reached:?}");
    }
    // A text field's mark blinks while it has the focus.
    window.key_press(Key::Escape);
    window.run();
    for _ in 0..3 {
        window.step();
        let delay =
            window.output().viewport_output.values().map(|output| output.repaint_delay).min().unwrap();
        assert!(delay > std::time::Duration::from_secs(60), "asks to repaint after {delay:?}");
    }
}
