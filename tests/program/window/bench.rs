//! The bench in the window.

use super::harness::{SIZE, demo, focus_slider, length_mm, move_to, press, slider_at, window_of};
use barpoise::desk::document::Document;
use barpoise::desk::format::{LengthUnit, Units};
use barpoise::window::app::App;
use barpoise::window::view_state::ViewState;
use egui::accesskit::Role;
use egui::{Key, Modifiers, Pos2, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use std::path::PathBuf;

const NOSE: &str = "Nose, bar length in mm";

fn window() -> Harness<'static, App> {
    window_of(demo(), SIZE)
}

fn nose_at(harness: &Harness<'_, App>) -> Pos2 {
    slider_at(harness, NOSE)
}

#[test]
fn the_nose_dragged_past_its_limit_and_back_is_exactly_under_the_pointer() {
    let mut harness = window();
    let start = nose_at(&harness);
    let grab = start + Vec2::new(5.0, -4.0);
    move_to(&mut harness, grab);
    press(&mut harness, grab, true);
    for x in [40.0, 300.0, 900.0, 3000.0] {
        move_to(&mut harness, grab + Vec2::new(x, 30.0));
    }
    assert!((length_mm(&harness) - 1100.0).abs() < 1e-6, "stops at the longest: {}", length_mm(&harness));
    move_to(&mut harness, Pos2::new(-800.0, 200.0));
    assert!((length_mm(&harness) - 200.0).abs() < 1e-6, "stops at the shortest: {}", length_mm(&harness));
    let target = grab + Vec2::new(46.0, 17.0);
    move_to(&mut harness, target);
    let nose = nose_at(&harness);
    assert!((nose.x - (start.x + 46.0)).abs() < 0.05, "under the pointer: {nose:?} from {start:?}");
    assert!((nose.y - start.y).abs() < 0.05, "on its own line: {nose:?} from {start:?}");
    press(&mut harness, target, false);
    let before = length_mm(&harness);
    harness.run();
    assert!((length_mm(&harness) - before).abs() < 1e-9, "letting go moves nothing");
}

#[test]
fn one_drag_is_one_undo_step() {
    let mut harness = window();
    let before = length_mm(&harness);
    let grab = nose_at(&harness);
    move_to(&mut harness, grab);
    press(&mut harness, grab, true);
    for x in [20.0, 35.0, 50.0] {
        move_to(&mut harness, grab + Vec2::new(x, 0.0));
    }
    press(&mut harness, grab + Vec2::new(50.0, 0.0), false);
    let dragged = length_mm(&harness);
    assert!(dragged > before + 20.0);
    assert_eq!(harness.state().document().undo_step(), Some("move the nose"));
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    harness.run();
    assert!((length_mm(&harness) - before).abs() < 1e-9, "one undo takes the whole drag back");
    assert_eq!(harness.state().document().undo_step(), None);
    harness.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    harness.run();
    assert!((length_mm(&harness) - dragged).abs() < 1e-9, "redo brings it again");
}

#[test]
fn arrow_keys_step_the_nose_and_page_keys_go_along_the_rack() {
    let mut harness = window();
    let start = length_mm(&harness);
    harness.get_by_role_and_label(Role::Slider, NOSE).focus();
    harness.run();
    harness.key_press(Key::ArrowRight);
    harness.run();
    assert!((length_mm(&harness) - (start + 1.0)).abs() < 1e-6);
    harness.key_press_modifiers(Modifiers::SHIFT, Key::ArrowLeft);
    harness.run();
    assert!((length_mm(&harness) - (start - 9.0)).abs() < 1e-6);
    let name =
        |harness: &Harness<'_, App>| harness.state().document().figures().setup().bar().name().to_owned();
    harness.key_press(Key::PageUp);
    harness.run();
    assert_eq!(name(&harness), "B24");
    harness.key_press(Key::PageUp);
    harness.run();
    assert_eq!(name(&harness), "B30");
    harness.key_press(Key::PageDown);
    harness.run();
    assert_eq!(name(&harness), "B24");
}

#[test]
fn the_nose_snaps_to_a_rack_bar_it_comes_near() {
    let mut harness = window();
    let tip_of = |harness: &Harness<'_, App>, name: &str| {
        let figures = harness.state().document().figures();
        figures.rack().iter().find(|bar| bar.name == name).unwrap().solved.nose.tip_x().as_mm()
    };
    let (b24, b30) = (tip_of(&harness, "B24"), tip_of(&harness, "B30"));
    let grab = nose_at(&harness);
    move_to(&mut harness, grab);
    press(&mut harness, grab, true);
    // The scale is found by moving; then the nose is put 3 points short of the next bar's mark.
    move_to(&mut harness, grab + Vec2::new(30.0, 0.0));
    let now = harness.state().document().figures().solved().nose.tip_x().as_mm();
    let points_per_mm = 30.0 / (now - b24);
    #[expect(clippy::cast_possible_truncation, reason = "a few hundred points")]
    let away = ((b30 - b24) * points_per_mm) as f32;
    move_to(&mut harness, grab + Vec2::new(away - 3.0, 0.0));
    press(&mut harness, grab + Vec2::new(away - 3.0, 0.0), false);
    assert_eq!(harness.state().document().figures().setup().bar().name(), "B30");
}

#[test]
fn a_screen_reader_hears_gauge_nose_levels_and_sliders_by_name_and_value() {
    let harness = window();
    let meter = harness.get_by_role(Role::Meter);
    let node = meter.accesskit_node();
    let hang = harness.state().document().figures().solved().hang.unwrap().as_deg();
    assert!(node.label().unwrap().contains("nose down"), "{:?}", node.label());
    assert!((node.numeric_value().unwrap() - hang).abs() < 1e-9);
    for (name, value) in [
        (NOSE, length_mm(&harness)),
        ("Fuel level in percent", 100.0),
        ("Oil level in percent", 100.0),
        ("Hang limit in degrees nose down", 30.0),
        ("Length", length_mm(&harness)),
        ("Held", 0.0),
    ] {
        let node = harness.get_by_role_and_label(Role::Slider, name);
        let spoken = node.accesskit_node().numeric_value().unwrap();
        assert!((spoken - value).abs() < 1e-6, "{name}: {spoken} for {value}");
    }
    for name in ["Setup", "Powerhead", "Bar", "Chain", "Compared with"] {
        harness.get_by_role_and_label(Role::ComboBox, name);
    }
}

#[test]
fn tab_reaches_everything_that_can_be_dragged() {
    let mut harness = window();
    let mut reached = std::collections::BTreeSet::new();
    for _ in 0..60 {
        harness.key_press(Key::Tab);
        harness.run();
        if let Some(node) = harness.query_all_by(|node| node.is_focused()).next() {
            let label = node.accesskit_node().label();
            assert!(
                label.is_some(),
                "a stop without a name: {:?} at {:?}",
                node.accesskit_node().role(),
                node.rect()
            );
            reached.extend(label);
        }
    }
    for name in
        [NOSE, "Fuel level in percent", "Oil level in percent", "Hang limit in degrees nose down", "Held"]
    {
        assert!(reached.contains(name), "{name} not among {reached:?}");
    }
}

#[test]
fn picking_a_setup_to_compare_with_shows_the_differences() {
    // Tall enough that the comparison is not below the fold.
    let mut harness = window_of(demo(), Vec2::new(1280.0, 1300.0));
    harness.get_by_role_and_label(Role::ComboBox, "Compared with").click();
    harness.run();
    harness.get_by_label("Bittern B14").click();
    harness.run();
    let figures = harness.state().document().figures();
    let change = figures.solved().reach - figures.compared().unwrap().reach;
    assert!(change.as_mm() > 100.0);
    harness.get_by_label("Energy of the running chain");
    harness.get_by_label(format!("+{:.0} mm", change.as_mm()).as_str());
}

#[test]
fn levels_and_limit_move_by_keys_and_stop_at_their_ends() {
    let mut harness = window();
    harness.get_by_role_and_label(Role::Slider, "Fuel level in percent").focus();
    harness.run();
    harness.key_press(Key::ArrowUp);
    harness.key_press(Key::ArrowDown);
    harness.key_press(Key::ArrowDown);
    harness.run();
    let fuel = harness.state().document().figures().setup().fuel_fill();
    assert!((0.0..=1.0).contains(&fuel) && (fuel - 0.9).abs() < 0.051, "{fuel}");
    harness.key_press(Key::PageDown);
    harness.run();
    assert!(harness.state().document().figures().setup().fuel_fill().abs() < 1e-12);
    harness.get_by_role_and_label(Role::Slider, "Hang limit in degrees nose down").focus();
    harness.run();
    harness.key_press(Key::ArrowDown);
    harness.run();
    let limit = harness.state().document().bench().hang_limit().as_deg();
    assert!((limit - 31.0).abs() < 1e-9, "down the scale is more hang: {limit}");
}

#[test]
fn a_bad_yard_keeps_the_last_good_one_and_says_why() {
    let folder = tempfile::tempdir().unwrap();
    let bad: PathBuf = folder.path().join("bad.yard.ron");
    std::fs::write(&bad, "(version: 1, name: \"half").unwrap();
    let mut app = App::new(Document::demo().unwrap());
    app.open(&bad);
    let harness = window_of(app, SIZE);
    assert_eq!(harness.state().document().yard().name(), "Alder Flat woodlot");
    let notice = harness.state().notice().unwrap().to_owned();
    assert!(notice.contains("bad.yard.ron"), "{notice}");
    harness.get_by_label(notice.as_str());
    harness.get_by_label("Not opened");
}

#[test]
fn typed_lengths_commit_on_enter_and_a_wrong_one_says_what_would_do() {
    let mut harness = window();
    harness.get_by_label("Plate").click();
    harness.run();
    let type_into = |harness: &mut Harness<'_, App>, field: &str, text: &str| {
        harness.get_by_label(field).focus();
        harness.run();
        harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
        harness.run();
        harness.get_by_label(field).type_text(text);
        harness.run();
        harness.key_press(Key::Enter);
        harness.run();
    };
    let type_in = |harness: &mut _, text: &str| type_into(harness, "Bar length, tail to nose", text);
    type_in(&mut harness, "55,5 cm");
    assert!((length_mm(&harness) - 555.0).abs() < 1e-6, "{}", length_mm(&harness));
    type_in(&mut harness, "5 m");
    assert!((length_mm(&harness) - 555.0).abs() < 1e-6, "a refused value changes nothing");
    harness.get_by_label("200 mm to 1100 mm");
    // As people say it: the mark first, then the reach.
    let setup = |harness: &Harness<'_, App>| harness.state().document().figures().setup().clone();
    for (text, marked_in) in [("20in", 20.0), ("22", 22.0), ("50 cm", 50.0 / 2.54), ("24 in", 24.0)] {
        type_into(&mut harness, "Bar, as marked", text);
        assert!((setup(&harness).bar().marked_length().as_in() - marked_in).abs() < 1e-4, "{text}");
    }
    assert_eq!(setup(&harness).bar().name(), "B24", "a bar of the rack is that bar");
    type_into(&mut harness, "Bar, as marked", "70 in");
    assert_eq!(setup(&harness).bar().name(), "B24", "a refused mark changes nothing");
    type_into(&mut harness, "Reach past the spikes", "480");
    let reach = harness.state().document().figures().solved().reach.as_mm();
    assert!((reach - 480.0).abs() < 1e-3, "{reach}");
}

#[test]
fn the_window_is_at_rest_when_nothing_moves() {
    let mut harness = window();
    harness.run();
    for _ in 0..3 {
        harness.step();
        let delay =
            harness.output().viewport_output.values().map(|output| output.repaint_delay).min().unwrap();
        assert!(delay > std::time::Duration::from_secs(60), "asks to repaint after {delay:?}");
    }
}

#[test]
fn the_saw_is_never_clipped_at_any_size_pitch_or_length() {
    for size in [Vec2::new(1024.0, 700.0), Vec2::new(1280.0, 800.0), Vec2::new(2560.0, 1440.0)] {
        for held_pitch_deg in [-60.0, 0.0, 60.0] {
            let view = ViewState {
                held_pitch_deg,
                units: Units { length: LengthUnit::Mm, ..Units::default() },
                ..ViewState::default()
            };
            let mut harness = window_of(App::with_view(Document::demo().unwrap(), view), size);
            focus_slider(&mut harness, NOSE);
            for _ in 0..4 {
                harness.key_press(Key::PageUp);
                harness.run();
            }
            assert!((length_mm(&harness) - 1100.0).abs() < 1e-6);
            let canvas = harness.get_by_role(Role::Image).rect();
            let nose = harness.get_by_role_and_label(Role::Slider, NOSE).rect();
            assert!(
                canvas.expand(1.0).contains_rect(nose),
                "{size:?} {held_pitch_deg}: {nose:?} in {canvas:?}"
            );
        }
    }
}
