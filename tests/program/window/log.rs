//! The log in the window.

use super::harness::{SIZE, demo, focus_slider, length_mm, move_to, press, slider_at, window_of};
use barpoise::desk::document::{Document, LogFigures};
use barpoise::desk::edit::{Edit, Gesture};
use barpoise::window::app::App;
use barpoise::window::view_state::{Room, ViewState};
use egui::accesskit::Role;
use egui::{Key, Modifiers, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

const EDGE: &str = "Log diameter in mm";
const RUN: &str = "Run of the cut, in settings";

fn window() -> Harness<'static, App> {
    let view = ViewState { room: Room::Log, ..ViewState::default() };
    window_of(App::with_view(Document::demo().unwrap(), view), SIZE)
}

fn figures<'a>(harness: &'a Harness<'_, App>) -> &'a LogFigures {
    harness.state().document().log_figures().unwrap()
}

fn diameter_mm(harness: &Harness<'_, App>) -> f64 {
    harness.state().document().log().width().as_mm()
}

fn type_diameter(harness: &mut Harness<'_, App>, text: &str) {
    let field = || "Log diameter";
    harness.get_by_role_and_label(Role::TextInput, field()).focus();
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, field()).type_text(text);
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
}

#[test]
fn the_rooms_share_the_bar_on_the_bench() {
    let mut harness = window_of(demo(), SIZE);
    harness.get_by_label("Log").click();
    harness.run();
    assert_eq!(harness.state().view().room, Room::Log);
    let before = length_mm(&harness);
    focus_slider(&mut harness, "Nose, bar length in mm");
    harness.key_press_modifiers(Modifiers::SHIFT, Key::ArrowRight);
    harness.run();
    assert!((length_mm(&harness) - before - 10.0).abs() < 1e-6, "the same nose moves here");
}

#[test]
fn the_edge_dragged_keeps_under_the_pointer_and_is_one_undo_step() {
    let mut harness = window();
    let (before, grab) = (diameter_mm(&harness), slider_at(&harness, EDGE));
    move_to(&mut harness, grab);
    press(&mut harness, grab, true);
    for out in [10.0, 25.0, 40.0] {
        move_to(&mut harness, grab + Vec2::new(out, 0.53 * out));
    }
    let end = grab + Vec2::new(40.0, 21.2);
    let now = slider_at(&harness, EDGE);
    assert!((now - end).length() < 1.5, "{now:?} for {end:?}");
    press(&mut harness, end, false);
    assert!(diameter_mm(&harness) > before + 50.0);
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    harness.run();
    assert!((diameter_mm(&harness) - before).abs() < 1e-9);
}

#[test]
fn diameters_out_of_range_are_refused_with_the_range() {
    for bad in ["0", "-5", "abc", "40 m"] {
        let mut harness = window();
        type_diameter(&mut harness, bad);
        assert!((diameter_mm(&harness) - 560.0).abs() < 1e-9, "{bad} changed the log");
        let said = if bad == "abc" { "`abc` is not a number with a unit" } else { "30 mm to 3000 mm" };
        harness.get_by_label(said);
    }
}

#[test]
fn a_thicker_log_takes_more_settings_and_a_monster_says_what_would_do() {
    let mut harness = window();
    assert_eq!(figures(&harness).settings().len(), 1, "thinner than the reach");
    type_diameter(&mut harness, "740");
    assert!(figures(&harness).settings().len() >= 2, "1.3 times the reach");
    assert!(figures(&harness).cut().unwrap().cover.covered_fraction >= 1.0);
    type_diameter(&mut harness, "1,4 m");
    let cut = figures(&harness).cut().unwrap();
    assert!(cut.cover.covered_fraction < 1.0 && cut.is_doable());
    harness.get_by_label_contains("is left: no place of the saw");
    // What would help is worked out beside the window.
    let told = (0..600).any(|_| {
        std::thread::sleep(std::time::Duration::from_millis(50));
        harness.run_steps(1);
        harness.query_all_by_label_contains("would cut the rest").next().is_some()
            && harness.query_all_by_label_contains("Looking for").next().is_none()
    });
    assert!(told, "what would help is never told");
}

#[test]
fn the_cut_runs_by_space_and_arrows_and_its_knob() {
    let mut harness = window();
    harness.key_press(Key::ArrowRight);
    harness.run();
    assert!((harness.state().view().cut_run - 0.02).abs() < 1e-9);
    harness.key_press(Key::Space);
    harness.step();
    assert!(harness.state().view().cut_plays, "space runs");
    harness.key_press(Key::Space);
    harness.step();
    assert!(!harness.state().view().cut_plays, "and holds");
    focus_slider(&mut harness, RUN);
    harness.key_press(Key::PageUp);
    harness.run();
    assert!((harness.state().view().cut_run - 1.0).abs() < 1e-9);
    harness.key_press(Key::ArrowRight);
    harness.run();
    assert!((harness.state().view().cut_run - 1.0).abs() < 1e-9, "stops at the end");
}

#[test]
fn settings_and_bark_move_by_keys_and_plan_again_takes_them_back() {
    let mut harness = window();
    let name = "Spikes of setting 1, in degrees round the bark";
    let before = figures(&harness).settings()[0].bark().as_deg();
    focus_slider(&mut harness, name);
    harness.key_press(Key::ArrowLeft);
    harness.run();
    let moved = figures(&harness).settings()[0].bark().as_deg();
    assert!((moved - before - 1.0).abs() < 1e-6, "{before} {moved}");
    harness.get_by_label("Plan again").click();
    harness.run();
    assert!(harness.state().document().log().own_settings().is_none());
    focus_slider(&mut harness, "End of the bark within reach, in degrees");
    let whole = figures(&harness).job().bark()[0].to_rad();
    harness.key_press_modifiers(Modifiers::SHIFT, Key::ArrowRight);
    harness.run();
    let less = figures(&harness).job().bark()[0].to_rad();
    assert!((whole - less - 10.0_f64.to_radians()).abs() < 1e-9, "{whole} {less}");
}

#[test]
fn a_longer_bar_is_shown_to_bring_more_energy() {
    let mut document = Document::demo().unwrap();
    document.apply(Edit::CompareWith(Some("Bittern B14".to_owned())), Gesture::Single);
    let kickback = document.log_figures().unwrap().kickback().unwrap();
    assert!(kickback.energy.least > 1.0, "B24 over B14: {kickback:?}");
    document.apply(Edit::PickSetup("Bittern B14".to_owned()), Gesture::Single);
    document.apply(Edit::CompareWith(Some("Bittern B24".to_owned())), Gesture::Single);
    let kickback = document.log_figures().unwrap().kickback().unwrap();
    assert!(kickback.energy.most < 1.0, "and the other way round: {kickback:?}");
}

#[test]
fn the_plan_can_be_done_and_a_setting_dragged_where_it_cannot_says_so_at_once() {
    let mut harness = window();
    type_diameter(&mut harness, "740");
    assert!(figures(&harness).cut().unwrap().is_doable(), "what is offered can be held");
    assert!(harness.query_all_by_label_contains("Cannot be done").next().is_none());
    // Down under the log, where the powerhead meets the ground.
    focus_slider(&mut harness, "Spikes of setting 1, in degrees round the bark");
    for _ in 0..14 {
        harness.key_press_modifiers(Modifiers::SHIFT, Key::ArrowLeft);
        harness.run();
    }
    assert!(!figures(&harness).cut().unwrap().is_doable());
    harness.get_by_label_contains("Cannot be done");
    // A changed diameter keeps the person's own settings; planning again takes them back.
    type_diameter(&mut harness, "700");
    assert!(harness.state().document().log().own_settings().is_some());
    harness.get_by_label("Plan again").click();
    harness.run();
    assert!(figures(&harness).cut().unwrap().is_doable());
}

#[test]
fn a_screen_reader_hears_how_the_person_stands_as_the_cut_runs() {
    let mut harness = window();
    let heard = |harness: &Harness<'_, App>| {
        let image = harness.get_by_label_contains("Log section, ");
        image.accesskit_node().label().unwrap()
    };
    let first = heard(&harness);
    assert!(first.contains("across; operator "), "{first}");
    let mut heard_others = false;
    for _ in 0..60 {
        harness.key_press(Key::ArrowRight);
        harness.run();
        heard_others |= heard(&harness) != first;
    }
    assert!(heard_others, "only {first}");
}

#[test]
fn settings_are_added_changed_and_removed_by_hand_and_undone() {
    let mut harness = window();
    type_diameter(&mut harness, "740");
    let count = figures(&harness).settings().len();
    harness.get_by_label("Add a setting").click();
    harness.run();
    assert_eq!(figures(&harness).settings().len(), count + 1);
    harness.get_by_label("Setting 1: Turn round").click_accesskit();
    harness.run();
    assert!(figures(&harness).settings()[0].rises());
    harness.get_by_label("Setting 1: Remove").click_accesskit();
    harness.run();
    assert_eq!(figures(&harness).settings().len(), count);
    for _ in 0..3 {
        harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        harness.run();
    }
    assert!(harness.state().document().log().own_settings().is_none(), "as it was planned");
}

#[test]
fn the_cautions_stand_beside_every_room() {
    for room in Room::ALL {
        let view = ViewState { room, ..ViewState::default() };
        let harness = window_of(App::with_view(Document::demo().unwrap(), view), SIZE);
        let text = harness.get_by_label_contains(barpoise_core::KICKBACK_CAUTION);
        let spoken = text.accesskit_node().value().or_else(|| text.accesskit_node().label()).unwrap();
        for caution in barpoise_core::CAUTIONS {
            assert!(spoken.contains(caution), "{room:?} lacks {caution}");
        }
        assert!(text.rect().bottom() <= SIZE.y && text.rect().top() >= 0.0, "in sight");
    }
}

#[test]
fn every_log_window_size_shows_every_handle() {
    for size in [Vec2::new(1024.0, 700.0), Vec2::new(1280.0, 800.0), Vec2::new(2560.0, 1440.0)] {
        let view = ViewState { room: Room::Log, ..ViewState::default() };
        let harness = window_of(App::with_view(Document::demo().unwrap(), view), size);
        let canvas = harness.get_by_role(Role::Image).rect();
        for name in [
            EDGE,
            "End of the bark within reach, in degrees",
            "Spikes of setting 1, in degrees round the bark",
        ] {
            let at = slider_at(&harness, name);
            assert!(canvas.contains(at), "{size:?}: {name} at {at:?} in {canvas:?}");
        }
    }
}
