//! What a screen reader is told: the tree of each room, kept beside this file, and the laws that any tree keeps to.

use super::harness::{SIZE, window_of};
use barpoise::desk::document::Document;
use barpoise::desk::format::{ForceUnit, LengthUnit, MassUnit, Units};
use barpoise::window::app::App;
use barpoise::window::view_state::{Room, ViewState};
use egui::accesskit::{Live, Role};
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use std::collections::BTreeMap;
use std::path::PathBuf;

/// What takes the keyboard and does something.
const CONTROLS: [Role; 7] = [
    Role::Button,
    Role::CheckBox,
    Role::ComboBox,
    Role::RadioButton,
    Role::Slider,
    Role::Tab,
    Role::TextInput,
];

fn room(room: Room) -> Harness<'static, App> {
    let view = ViewState { room, ..ViewState::default() };
    let mut harness = window_of(App::with_view(Document::demo().unwrap(), view), SIZE);
    harness.state_mut().wait();
    harness.run();
    harness
}

/// Every node that says something: its role, its name, its value, as they are read. The lines that a text is broken into
/// are the window's affair.
fn told(harness: &Harness<'_, App>) -> Vec<(Role, String)> {
    let nodes = harness.query_all_by(|_| true);
    let said = nodes.filter_map(|node| {
        let node = node.accesskit_node();
        let (label, value) = (node.label(), node.value());
        let mut words = [label, value].into_iter().flatten().collect::<Vec<_>>();
        words.dedup();
        let words = words.join(" = ").replace('\n', " ");
        let is_told = !words.trim().is_empty() && node.role() != Role::TextRun;
        is_told.then(|| (node.role(), words))
    });
    said.collect()
}

fn kept(room: Room) -> PathBuf {
    let name = room.name().to_lowercase();
    [env!("CARGO_MANIFEST_DIR"), "../../tests/program/window/told", &name]
        .iter()
        .collect::<PathBuf>()
        .with_extension("txt")
}

/// `RENEW_TOLD=1` writes the trees anew, to be read again.
#[test]
fn every_room_tells_what_it_told_when_it_was_last_read() {
    let mut changed = Vec::new();
    for of in Room::ALL {
        let lines: Vec<String> =
            told(&room(of)).into_iter().map(|(role, words)| format!("{role:?}: {words}")).collect();
        let text = lines.join("\n") + "\n";
        assert!(lines.len() > 25, "{of:?} tells next to nothing");
        if std::env::var_os("RENEW_TOLD").is_some() {
            std::fs::write(kept(of), &text).unwrap();
        }
        let before = std::fs::read_to_string(kept(of)).unwrap_or_default();
        if before != text {
            let first = before.lines().zip(text.lines()).find(|(before, now)| before != now);
            changed.push(format!("{of:?}: {first:?}"));
        }
    }
    assert!(changed.is_empty(), "RENEW_TOLD=1 where it should change: {changed:#?}");
}

#[test]
fn no_two_controls_of_a_room_have_one_name_and_none_has_none() {
    for of in Room::ALL {
        let harness = room(of);
        let mut names: BTreeMap<(String, String), usize> = BTreeMap::new();
        for node in harness.query_all_by(|node| CONTROLS.contains(&node.role()) && !node.is_hidden()) {
            let (rect, node) = (node.rect(), node.accesskit_node());
            let name = node.label().or_else(|| node.value()).unwrap_or_default();
            assert!(!name.trim().is_empty(), "{of:?}: a {:?} at {rect:?} has no name", node.role());
            *names.entry((format!("{:?}", node.role()), name)).or_default() += 1;
        }
        let twice: Vec<_> = names.into_iter().filter(|(_, count)| *count > 1).collect();
        assert!(twice.is_empty(), "{of:?}: {twice:?}");
    }
}

#[test]
fn a_handle_tells_its_ends_its_step_and_a_round_value_with_its_unit() {
    let harness = room(Room::Bench);
    let limit = harness.get_by_role_and_label(Role::Slider, "Hang limit in degrees nose down");
    let limit = limit.accesskit_node();
    assert_eq!(limit.value().unwrap(), "30 degrees nose down");
    assert_eq!((limit.min_numeric_value(), limit.max_numeric_value()), (Some(0.0), Some(60.0)));
    assert_eq!(limit.numeric_value_step(), Some(1.0));
    let nose = harness.get_by_role_and_label(Role::Slider, "Nose, bar length in mm");
    let overall = harness.state().document().figures().setup().bar().overall_length();
    assert_eq!(nose.accesskit_node().value().unwrap(), format!("{:.0} mm", overall.as_mm()));
    let fuel = harness.get_by_role_and_label(Role::Slider, "Fuel level in percent");
    assert_eq!(fuel.accesskit_node().value().unwrap(), "100 percent");
}

#[test]
fn a_plot_tells_its_reading_and_moves_by_arrows() {
    let mut view = ViewState { room: Room::Bench, ..ViewState::default() };
    view.cautions_folded = true;
    let mut harness =
        window_of(App::with_view(Document::demo().unwrap(), view), egui::Vec2::new(1400.0, 1000.0));
    let said = |harness: &Harness<'_, App>| {
        let plot = harness.get_all_by_role(Role::Figure).next().unwrap();
        plot.accesskit_node().label().unwrap()
    };
    assert_eq!(harness.get_all_by_role(Role::Figure).count(), 4);
    let before = said(&harness);
    assert!(before.starts_with("Hang against bar length: 20.3° at 676 mm; from "), "{before}");
    harness.get_all_by_role(Role::Figure).next().unwrap().focus();
    harness.run();
    harness.key_press_modifiers(Modifiers::SHIFT, Key::ArrowRight);
    harness.run();
    assert!(said(&harness).contains(" at 686 mm; from "), "{}", said(&harness));
}

#[test]
fn the_drawing_of_the_bench_tells_hang_hand_and_reach() {
    let harness = room(Room::Bench);
    let label = harness.get_by_role(Role::Image).accesskit_node().label().unwrap();
    for part in ["hangs 20.3° nose down", "front hand 10.9 kg up", "reach past spikes 567 mm"] {
        assert!(label.contains(part), "{part}: {label}");
    }
}

#[test]
fn a_notice_is_told_as_it_comes() {
    let mut harness = room(Room::Bench);
    // A lesson that is not there is told of.
    harness.state_mut().open_lesson(std::path::Path::new("nowhere.lesson.ron"));
    harness.run();
    let status = harness.get_by_role(Role::Status);
    assert_eq!(status.accesskit_node().live(), Live::Polite);
}

/// Everything is in the units that one has picked.
#[test]
fn nothing_is_in_millimetres_where_inches_are_picked() {
    for of in Room::ALL {
        let units = Units { length: LengthUnit::In, mass: MassUnit::Lb, force: ForceUnit::Lbf };
        let view = ViewState { room: of, units, ..ViewState::default() };
        let mut harness = window_of(App::with_view(Document::demo().unwrap(), view), SIZE);
        harness.state_mut().wait();
        harness.run();
        let metric: Vec<String> = told(&harness)
            .into_iter()
            .map(|(_, words)| words)
            .filter(|words| {
                words
                    .split(|c: char| !c.is_alphanumeric())
                    .any(|word| matches!(word, "mm" | "kg" | "N" | "cm"))
            })
            .collect();
        assert!(metric.is_empty(), "{of:?}: {metric:#?}");
    }
}
