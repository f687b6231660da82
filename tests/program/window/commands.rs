//! Commands by key, in menus and on the sheet, and the way Tab goes.

use super::harness::{SIZE, demo, focus_slider, window_of};
use barpoise::desk::format::LengthUnit;
use barpoise::draw::theme::Paper;
use barpoise::window::app::App;
use barpoise::window::commands::{Command, Menu};
use barpoise::window::view_state::Room;
use egui::accesskit::Role;
use egui::{Key, Modifiers, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

fn window() -> Harness<'static, App> {
    window_of(demo(), SIZE)
}

fn keys(window: &mut Harness<'_, App>, modifiers: Modifiers, key: Key) {
    window.key_press_modifiers(modifiers, key);
    window.run();
}

#[test]
fn every_room_opens_by_its_number() {
    let mut window = window();
    for room in Room::ALL.into_iter().rev() {
        for shortcut in Command::Go(room).keys() {
            keys(&mut window, shortcut.modifiers, shortcut.logical_key);
            assert_eq!(window.state().view().room, room);
        }
    }
}

#[test]
fn units_paper_and_zoom_change_by_key() {
    let mut window = window();
    keys(&mut window, Modifiers::COMMAND, Key::M);
    assert_eq!(window.state().view().units.length, LengthUnit::In);
    keys(&mut window, Modifiers::COMMAND, Key::D);
    assert_eq!(window.state().view().paper, Paper::Dark);
    keys(&mut window, Modifiers::COMMAND, Key::Plus);
    keys(&mut window, Modifiers::COMMAND, Key::Equals);
    assert!((window.ctx.zoom_factor() - 1.2).abs() < 1e-3, "each once: {}", window.ctx.zoom_factor());
    keys(&mut window, Modifiers::COMMAND, Key::Num0);
    assert!((window.ctx.zoom_factor() - 1.0).abs() < 1e-3);
}

#[test]
fn undo_in_the_menu_says_what_it_takes_back() {
    let mut window = window();
    focus_slider(&mut window, "Nose, bar length in mm");
    keys(&mut window, Modifiers::NONE, Key::ArrowRight);
    window.get_by_role_and_label(Role::Button, "Edit").click();
    window.run();
    window.get_by_label_contains("Undo move the nose").click();
    window.run();
    assert_eq!(window.state().document().undo_step(), None);
    window.get_by_role_and_label(Role::Button, "Edit").click();
    window.run();
    window.get_by_label_contains("Redo move the nose");
}

#[test]
fn every_command_is_in_a_menu_with_its_key_and_on_the_sheet() {
    let mut window = window_of(demo(), Vec2::new(1280.0, 1200.0));
    let ctx = window.ctx.clone();
    for menu in Menu::ALL {
        let title = if menu == Menu::View { "mm" } else { menu.name() };
        window
            .get_by(|node| {
                node.role() == Role::Button
                    && node.label().is_some_and(|label| label == title || label.starts_with("mm · kg"))
                    && (menu == Menu::View) == node.label().is_some_and(|label| label.starts_with("mm · kg"))
            })
            .click();
        window.run();
        for command in Command::all().filter(|command| command.menu() == menu) {
            let name = command.name().trim_end_matches('…');
            let keys = ctx.format_shortcut(&command.keys()[0]);
            let label = |label: String| label.starts_with(name) && label.ends_with(&keys);
            let found = window.query_all_by(|node| node.label().is_some_and(label)).count();
            assert!(found >= 1, "{command:?} is not in the menu as {name} … {keys}");
        }
        keys(&mut window, Modifiers::NONE, Key::Escape);
    }
    keys(&mut window, Modifiers::NONE, Key::F1);
    for command in Command::all() {
        assert!(window.query_all_by_label(command.name()).count() >= 1, "{command:?} is not on the sheet");
    }
    keys(&mut window, Modifiers::NONE, Key::Escape);
    assert!(window.query_by_label("In forms and drawings").is_none());
    keys(&mut window, Modifiers::COMMAND, Key::Slash);
    window.get_by_label("In forms and drawings");
    keys(&mut window, Modifiers::NONE, Key::F1);
    assert!(window.query_by_label("In forms and drawings").is_none());
}

#[test]
fn tab_goes_through_the_head_as_it_is_read_and_then_into_the_room() {
    for room in Room::ALL {
        let mut window = window();
        for shortcut in Command::Go(room).keys() {
            keys(&mut window, shortcut.modifiers, shortcut.logical_key);
        }
        let mut reached = Vec::new();
        for _ in 0..Room::ALL.len() + Menu::ALL.len() + 1 {
            keys(&mut window, Modifiers::NONE, Key::Tab);
            let node = window.query_all_by(|node| node.is_focused()).next().unwrap();
            reached.push((node.accesskit_node().label().unwrap_or_default(), node.rect()));
        }
        let (last, head) = reached.split_last().unwrap();
        for (pair, names) in head.windows(2).map(|pair| (pair, (&pair[0].0, &pair[1].0))) {
            assert!(pair[1].1.left() >= pair[0].1.right(), "{room:?}: {names:?}");
        }
        let bottom = head.iter().map(|(_, rect)| rect.bottom()).fold(0.0, f32::max);
        assert!(last.1.top() > bottom, "{room:?}: {} comes into the room after the head", last.0);
    }
}

#[test]
fn tab_goes_along_a_row_as_it_is_read() {
    /// Stops whose middles are nearer than this are in one row, in points.
    const ROW: f32 = 3.0;
    /// The most stops of a room at this size.
    const STOPS: usize = 110;
    let mut pairs = 0;
    for room in Room::ALL {
        // So tall that nothing scrolls.
        let mut window = window_of(demo(), Vec2::new(1280.0, 2400.0));
        for shortcut in Command::Go(room).keys() {
            keys(&mut window, shortcut.modifiers, shortcut.logical_key);
        }
        let mut last: Option<(String, egui::Rect)> = None;
        let mut first = None;
        for stop in 0..STOPS {
            keys(&mut window, Modifiers::NONE, Key::Tab);
            let Some(node) = window.query_all_by(|node| node.is_focused()).next() else { continue };
            let now = (node.accesskit_node().label().unwrap_or_default(), node.rect());
            if first.as_ref() == Some(&now.0) && stop > 0 {
                break;
            }
            first.get_or_insert_with(|| now.0.clone());
            if let Some(last) = last.replace(now.clone())
                && (last.1.center().y - now.1.center().y).abs() < ROW
            {
                pairs += 1;
                assert!(now.1.left() > last.1.left(), "{room:?}: {} after {}", now.0, last.0);
            }
        }
    }
    assert!(pairs > 40, "only {pairs} were compared");
}

#[test]
fn what_tab_reaches_is_scrolled_into_sight() {
    let mut window = window();
    keys(&mut window, Modifiers::COMMAND, Key::Num5);
    let room = egui::Rect::from_min_size(egui::Pos2::ZERO, SIZE);
    let mut reached = 0;
    for _ in 0..60 {
        keys(&mut window, Modifiers::NONE, Key::Tab);
        // The list glides to it.
        window.run_steps(30);
        let Some(node) = window.query_all_by(|node| node.is_focused()).next() else { continue };
        let label = node.accesskit_node().label().unwrap_or_default();
        assert!(room.contains_rect(node.rect()), "{label} is out of sight at {:?}", node.rect());
        reached += usize::from(label == "Wren B18");
    }
    assert!(reached > 0, "the foot of the list was never reached");
}

#[test]
fn the_sheet_of_keys_scrolls_by_keys_where_it_is_too_long() {
    let mut window = window_of(demo(), Vec2::new(850.0, 530.0));
    keys(&mut window, Modifiers::NONE, Key::F1);
    let top = |window: &Harness<'_, App>| window.get_by_label("In forms and drawings").rect().top();
    let before = top(&window);
    assert!(before > 530.0, "it is below the fold: {before}");
    for _ in 0..3 {
        keys(&mut window, Modifiers::NONE, Key::PageDown);
        window.run_steps(30);
    }
    assert!(top(&window) < 530.0, "it is in sight: {}", top(&window));
}
