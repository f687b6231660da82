//! Names as long as they may be, and paths longer than any screen: nothing is pushed out of reach.

use super::harness::{SIZE, window_of};
use barpoise::desk::document::Document;
use barpoise::desk::format::Units;
use barpoise::desk::page_size::PageSize;
use barpoise::draw::sheet::Handout;
use barpoise::draw::strokes::{Item, text_width};
use barpoise::window::app::App;
use barpoise::window::view_state::{Room, ViewState};
use barpoise_core::file::{demo_text, parse_yard};
use egui::Vec2;
use egui::accesskit::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

const LONGEST: usize = 80;

/// The demo with every name of 80 letters.
fn long_named() -> Document {
    let mut text = demo_text().to_owned();
    let yard = parse_yard(&text, "").unwrap();
    let file = yard.file();
    let names = std::iter::once(&file.name)
        .chain(file.powerheads.iter().map(|part| &part.name))
        .chain(file.bars.iter().map(|part| &part.name))
        .chain(file.chains.iter().map(|part| &part.name))
        .chain(file.setups.iter().map(|part| &part.name))
        .chain(file.woods.iter().map(|part| &part.name));
    for name in names {
        let filled: String =
            format!("{name} ").chars().chain("nameswithoutend".chars().cycle()).take(LONGEST).collect();
        text = text.replace(&format!("\"{name}\""), &format!("\"{filled}\""));
    }
    Document::new_yard(parse_yard(&text, "long").unwrap()).unwrap()
}

fn room(room: Room) -> Harness<'static, App> {
    let mut view = ViewState { room, ..ViewState::default() };
    view.teach.prepare().unwrap();
    window_of(App::with_view(long_named(), view), SIZE)
}

#[test]
fn every_control_stays_within_the_window_however_long_the_names() {
    for at in Room::ALL {
        let harness = room(at);
        let window = egui::Rect::from_min_size(egui::Pos2::ZERO, SIZE).expand(1.0);
        let mut seen = 0;
        for role in [Role::ComboBox, Role::TextInput, Role::Tab, Role::CheckBox] {
            for node in harness.query_all_by_role(role) {
                let rect = node.rect();
                let name = node.accesskit_node().label().unwrap_or_default();
                assert!(
                    rect.left() >= window.left() && rect.right() <= window.right(),
                    "{at:?}: {name} at {rect:?}"
                );
                seen += 1;
            }
        }
        assert!(seen >= Room::ALL.len(), "{at:?}: {seen}");
    }
}

#[test]
fn a_name_that_is_shortened_is_whole_for_a_screen_reader() {
    let harness = room(Room::Log);
    let document = long_named();
    let name = document.yard().name();
    assert_eq!(name.chars().count(), LONGEST);
    assert!(harness.query_by_label(name).is_some());
}

#[test]
fn a_path_of_thousands_of_letters_leaves_the_answers_of_a_question_in_reach() {
    let mut harness = room(Room::Bench);
    let folder = tempfile::tempdir().unwrap();
    // A folder in a folder in a folder: no name may be longer than 255 bytes, nor a path than 4096.
    let mut path = folder.path().to_owned();
    for _ in 0..15 {
        path.push("f".repeat(250));
    }
    std::fs::create_dir_all(&path).unwrap();
    let path = path.join("there.yard.ron");
    std::fs::write(&path, "theirs").unwrap();
    let ctx = harness.ctx.clone();
    harness.state_mut().save_to(&path, &ctx);
    harness.run();
    for answer in ["Save mine beside it", "Write mine over it", "Cancel"] {
        let rect = harness.get_by_label(answer).rect();
        assert!(rect.bottom() <= SIZE.y && rect.right() <= SIZE.x, "{answer} at {rect:?}");
    }
    harness.get_by_label("Cancel").click();
    harness.run();
    harness.state_mut().open(&path.with_file_name("no such file"));
    harness.run();
    let close = harness.get_by_label("Close").rect();
    assert!(close.bottom() <= 0.5 * SIZE.y && close.size() != Vec2::ZERO, "{close:?}");
}

#[test]
fn a_sheet_of_the_longest_names_runs_over_no_edge() {
    let document = long_named();
    let handout = Handout {
        yard: document.yard(),
        setups: document.yard().setups().iter().collect(),
        log: None,
        size: PageSize::A4,
        units: Units::default(),
        date: "2026-11-25",
        author: "",
    };
    let sheet = handout.sheet().unwrap();
    for (scene, canvas) in sheet.drawings() {
        let mut placed: Vec<(String, egui::Rect)> = Vec::new();
        for item in scene.items() {
            let Item::Text(label) = item else { continue };
            let size = label.size * canvas.enlargement();
            let room = egui::vec2(text_width(&label.text, size, label.strong), 0.8 * size);
            let place = canvas.place(label, room);
            assert!(canvas.rect().contains_rect(place), "{} at {place:?}", label.text);
            for (text, there) in &placed {
                assert!(!place.shrink(0.5).intersects(*there), "{} and {text} overlap", label.text);
            }
            placed.push((label.text.clone(), place));
        }
        assert!(placed.len() > 20);
    }
}
