//! Commands by key, in menus and on the sheet, and the way Tab goes.

use super::harness::{SIZE, demo, focus_slider, window_of};
use barpoise::desk::document::Document;
use barpoise::desk::format::LengthUnit;
use barpoise::draw::theme::Paper;
use barpoise::window::app::App;
use barpoise::window::commands::{Command, Menu};
use barpoise::window::view_state::{Room, ViewState};
use egui::accesskit::Role;
use egui::{Key, Modifiers, Pos2, Rect, Vec2};
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
        let view = ViewState { room, ..ViewState::default() };
        let mut window = window_of(App::with_view(Document::demo().unwrap(), view), SIZE);
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
fn a_room_opened_by_its_number_has_the_keyboard_in_it() {
    for room in Room::ALL {
        let mut window = window();
        for shortcut in Command::Go(room).keys() {
            keys(&mut window, shortcut.modifiers, shortcut.logical_key);
        }
        window.run();
        let head = window.get_by_label("Edit").rect().bottom();
        let (_, label, rect) =
            focused(&window).unwrap_or_else(|| panic!("{room:?}: nothing has the keyboard"));
        let cautions = window.get_by_label("One line").rect().top();
        assert!(rect.top() > head && rect.bottom() < cautions, "{room:?}: {label} at {rect:?}");
    }
}

#[test]
fn f6_goes_once_through_every_pane_and_comes_round_and_back() {
    for (shown, panes) in
        [(Room::Bench, 5), (Room::Log, 5), (Room::Rack, 6), (Room::WeighIn, 4), (Room::Parts, 4)]
    {
        let mut window = room(shown, SIZE);
        keys(&mut window, Modifiers::NONE, Key::F6);
        let first = focused(&window).unwrap().0;
        let (mut reached, mut passed) = (Vec::new(), Vec::new());
        while reached.last() != Some(&first) {
            keys(&mut window, Modifiers::NONE, Key::F6);
            window.run();
            let (id, label, rect) = focused(&window).unwrap();
            reached.push(id);
            passed.push(format!("{label} at {rect:?}"));
            assert!(reached.len() < 12, "{shown:?}: F6 does not come round: {passed:?}");
        }
        assert!(reached.len() >= panes, "{shown:?}: only {} panes", reached.len());
        let last = reached[reached.len() - 2].clone();
        keys(&mut window, Modifiers::SHIFT, Key::F6);
        window.run();
        assert_eq!(focused(&window).unwrap().0, last, "{shown:?}: Shift goes the other way");
    }
}

#[test]
fn the_first_row_of_the_rack_is_near_by_keys() {
    /// Stops of Tab from where one comes into the room.
    const STOPS: usize = 12;
    let mut window = room(Room::Rack, SIZE);
    let mut passed = Vec::new();
    let stops = (0..STOPS).position(|_| {
        let at = focused(&window);
        passed.extend(at.iter().map(|(_, label, _)| label.clone()));
        let is_row = at.is_some_and(|(_, label, _)| label.starts_with("Keep ") || label.contains(", 1st,"));
        keys(&mut window, Modifiers::NONE, Key::Tab);
        is_row
    });
    assert!(stops.is_some(), "the first row is more than {STOPS} stops away: {passed:?}");
}

#[test]
fn a_list_opens_and_closes_by_keys_and_leaves_the_keyboard_where_it_was() {
    let mut window = window();
    let setup = |window: &Harness<'_, App>| window.state().document().figures().setup().name().to_owned();
    let is_open = |window: &Harness<'_, App>| window.query_by_role(Role::ListBox).is_some();
    let at_list =
        |window: &Harness<'_, App>| window.get_by_role_and_label(Role::ComboBox, "Setup").is_focused();
    let before = setup(&window);
    window.get_by_role_and_label(Role::ComboBox, "Setup").focus();
    window.run();
    // Escape leaves it as it was.
    keys(&mut window, Modifiers::NONE, Key::Enter);
    assert!(is_open(&window));
    keys(&mut window, Modifiers::NONE, Key::ArrowDown);
    keys(&mut window, Modifiers::NONE, Key::Escape);
    assert!(!is_open(&window) && at_list(&window) && setup(&window) == before);
    // Enter takes the line that Down has gone to.
    keys(&mut window, Modifiers::NONE, Key::Enter);
    keys(&mut window, Modifiers::NONE, Key::ArrowDown);
    keys(&mut window, Modifiers::NONE, Key::Enter);
    assert!(!is_open(&window) && at_list(&window));
    let names: Vec<String> =
        window.state().document().yard().setups().iter().map(|setup| setup.name().to_owned()).collect();
    let place = |name: &str| names.iter().position(|other| other == name).unwrap();
    assert_eq!(place(&setup(&window)), place(&before) + 1, "the next one");
    // Closed, Down takes the next and Up the one before.
    keys(&mut window, Modifiers::NONE, Key::ArrowDown);
    assert_eq!(place(&setup(&window)), place(&before) + 2);
    keys(&mut window, Modifiers::NONE, Key::ArrowUp);
    assert_eq!(place(&setup(&window)), place(&before) + 1);
    assert!(at_list(&window));
}

/// Which widget of the window this is.
fn id_of<'tree>(node: &impl NodeT<'tree>) -> String {
    format!("{:?}", node.accesskit_node().id())
}

/// What has the focus: which widget it is, its name, and its place.
fn focused(window: &Harness<'_, App>) -> Option<(String, String, Rect)> {
    let node = window.query_all_by(|node| node.is_focused()).next()?;
    Some((id_of(&node), node.accesskit_node().label().unwrap_or_default(), node.rect()))
}

/// A room with all that it computes beside the window.
fn room(room: Room, size: Vec2) -> Harness<'static, App> {
    let mut window = window_of(demo(), size);
    for shortcut in Command::Go(room).keys() {
        keys(&mut window, shortcut.modifiers, shortcut.logical_key);
    }
    window.state_mut().wait();
    window.run();
    window
}

#[test]
fn tab_goes_along_a_row_as_it_is_read() {
    /// Stops whose middles are nearer than this are in one row, in points.
    const ROW: f32 = 3.0;
    /// The most stops of a room at this size.
    const STOPS: usize = 150;
    let mut pairs = 0;
    for shown in Room::ALL {
        // So tall that nothing scrolls up and down.
        let mut window = room(shown, Vec2::new(1280.0, 2400.0));
        let mut last: Option<(String, String)> = None;
        let mut first = None;
        let mut stops = 0;
        loop {
            keys(&mut window, Modifiers::NONE, Key::Tab);
            stops += 1;
            assert!(stops < STOPS, "{shown:?}: Tab does not come round");
            let Some((id, label, rect)) = focused(&window) else { continue };
            if *first.get_or_insert_with(|| id.clone()) == id && last.is_some() {
                break;
            }
            if let Some((last, from)) = last.replace((id, label.clone()))
                // Where it stands now: the table may have been scrolled sideways since.
                && let Some(from_rect) = window.query_all_by(|node| format!("{:?}", node.id()) == last).next().map(|node| node.rect())
                && (from_rect.center().y - rect.center().y).abs() < ROW
            {
                pairs += 1;
                assert!(rect.left() > from_rect.left(), "{shown:?}: {label} after {from}");
            }
        }
    }
    assert!(pairs > 60, "only {pairs} were compared");
}

#[test]
fn tab_reaches_the_heads_of_a_table_before_its_rows_and_nothing_of_it_covered() {
    /// Places are rounded to pixels.
    const PIXEL: f32 = 1.0;
    // So small that the table scrolls both ways.
    let size = Vec2::new(1000.0, 530.0);
    let mut window = room(Room::Rack, size);
    window.get_by_label("All columns").click();
    window.run();
    window.get_by_role_and_label(Role::TextInput, "Filter by name").focus();
    window.run();
    let seen = Rect::from_min_size(Pos2::ZERO, size);
    let head = |label: &str| label.starts_with("Sort by ");
    let mut reached: Vec<String> = Vec::new();
    let mut turned = Vec::new();
    for (key, reached) in [(Modifiers::NONE, &mut reached), (Modifiers::SHIFT, &mut turned)] {
        loop {
            keys(&mut window, key, Key::Tab);
            // The table glides to it.
            window.run_steps(30);
            let (_, label, rect) = focused(&window).unwrap();
            let in_table = head(&label) || label.starts_with("Keep ") || label.contains(", One ");
            if !in_table {
                break;
            }
            let order = window.get_by_label_contains("Sort by order of the choice").rect();
            assert!(
                seen.contains_rect(rect.intersect(seen)) && rect.top() >= order.top(),
                "{label} at {rect:?}"
            );
            if head(&label) {
                assert!(seen.contains_rect(rect), "{label} is out of sight at {rect:?}");
                let is_order = label.contains("order of the choice");
                assert!(is_order || rect.left() >= order.right() - PIXEL, "{label} is covered at {rect:?}");
            } else {
                assert!(
                    rect.top() >= order.bottom() - PIXEL && rect.bottom() <= size.y,
                    "{label} is covered at {rect:?}"
                );
            }
            reached.push(label);
        }
        let heads = reached.iter().filter(|label| head(label)).count();
        assert_eq!(heads, 15, "{reached:?}");
        assert!(reached.len() > heads + 8, "{reached:?}");
    }
    assert!(reached.iter().take(15).all(|label| head(label)), "{reached:?}");
    turned.reverse();
    assert_eq!(turned, reached, "backwards is the same way");
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
