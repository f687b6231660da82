//! Every field of every room takes any text whatever: it is understood or refused, and nothing else happens.

use super::harness::{demo, window_of};
use barpoise::desk::document::Document;
use barpoise::window::app::App;
use barpoise::window::view_state::{Room, ViewState};
use egui::accesskit::Role;
use egui::{Event, Key, MissingGlyphPolicy, Modifiers, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

/// Tall enough that every field is in sight.
const TALL: Vec2 = Vec2::new(1600.0, 2600.0);
/// What nobody should type, and somebody will paste.
const NASTY: [&str; 22] = [
    "",
    " ",
    "-0",
    "−0,0",
    "½",
    "1e400",
    "99999999999999999999999999999999999999999999",
    "0.00000000000000000000000000000000000000001",
    "1/0",
    "0/0",
    "nan",
    "Infinity mm",
    "12 mm mm",
    "3 3/8 in",
    "1,2,3",
    "\u{0}\u{1b}[31m",
    "12\n5\r\n\t7",
    "\u{202e}mm 21\u{202c}",
    "מ״מ 12 ملم",
    "e\u{301}\u{20dd}\u{200d}👩🏽‍🚒🪚",
    "木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木木",
    "\u{feff}\u{fffd}\u{10ffff}",
];

fn room_of(room: Room) -> Harness<'static, App> {
    let view = ViewState { room, ..ViewState::default() };
    any_glyph(window_of(App::with_view(Document::demo().unwrap(), view), TALL))
}

/// The bundled typeface has no emoji: a box stands for one, as in the real window.
fn any_glyph(harness: Harness<'static, App>) -> Harness<'static, App> {
    harness.ctx.set_missing_glyph_policy(MissingGlyphPolicy::Tofu);
    harness
}

/// Roles of what text can be typed into.
const FIELDS: [Role; 3] = [Role::TextInput, Role::MultilineTextInput, Role::SearchInput];

fn count(harness: &Harness<'_, App>) -> usize {
    harness.query_all_by(|node| FIELDS.contains(&node.role())).count()
}

/// Puts a text into the field of this place, as a paste or as typed, and leaves the field by Enter; then gives it up.
fn put(harness: &mut Harness<'_, App>, place: usize, text: &str, pasted: bool) {
    let Some(field) = harness.query_all_by(|node| FIELDS.contains(&node.role())).nth(place) else {
        return;
    };
    field.focus();
    harness.step();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.event(if pasted { Event::Paste(text.to_owned()) } else { Event::Text(text.to_owned()) });
    harness.step();
    harness.key_press(Key::Enter);
    harness.step();
    harness.step();
    says_no_nonsense(harness);
    harness.key_press(Key::Escape);
    harness.step();
}

/// Whatever is said or shown: no figure is infinite or no number, as Rust would write those.
fn says_no_nonsense(harness: &Harness<'_, App>) {
    for node in harness.query_all_by(|_| true) {
        let node = node.accesskit_node();
        for said in [node.label(), node.value()].into_iter().flatten() {
            let nonsense =
                said.split(|c: char| !c.is_alphanumeric()).any(|word| matches!(word, "NaN" | "inf"));
            assert!(!nonsense, "{said}");
        }
        if let Some(value) = node.numeric_value() {
            assert!(value.is_finite(), "{:?} is {value}", node.label());
        }
    }
}

fn put_all(mut harness: Harness<'static, App>, least: usize) {
    let fields = count(&harness);
    assert!(fields >= least, "only {fields} fields");
    for place in 0..fields {
        for (index, text) in NASTY.iter().enumerate() {
            put(&mut harness, place, text, index % 2 == 0);
        }
    }
    harness.run();
    harness.state_mut().wait();
    harness.run();
    says_no_nonsense(&harness);
}

#[test]
fn the_fields_of_every_room_take_any_text() {
    for room in Room::ALL {
        let least = match room {
            Room::Bench => 2,
            Room::Log => 3,
            Room::Rack | Room::WeighIn => 4,
            _ => 0,
        };
        put_all(room_of(room), least);
    }
}

#[test]
fn the_fields_of_every_part_take_any_text() {
    for part in ["Bittern", "B24", "3/8 full", "Bittern B24"] {
        let mut harness = room_of(Room::Parts);
        harness.get_all_by_role_and_label(Role::Button, part).next().unwrap().click();
        harness.run();
        put_all(harness, 4);
    }
}

#[test]
fn the_fields_of_a_new_yard_take_any_text() {
    let mut harness = any_glyph(window_of(demo(), TALL));
    harness.key_press_modifiers(Modifiers::COMMAND, Key::N);
    harness.run();
    put_all(harness, 4);
}
