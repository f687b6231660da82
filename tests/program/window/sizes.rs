//! Every size of window and letters: the cautions keep to their share, the drawing keeps its size, all is in reach.

use super::harness::window_of;
use barpoise::desk::document::Document;
use barpoise::window::app::App;
use barpoise::window::view_state::{Room, ViewState};
use egui::accesskit::Role;
use egui::{Key, Modifiers, Rect, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

const SIZES: [Vec2; 3] = [Vec2::new(1024.0, 700.0), Vec2::new(1280.0, 800.0), Vec2::new(1920.0, 1080.0)];
const ZOOMS: [f32; 5] = [0.8, 1.0, 1.5, 2.0, 2.5];
/// The cautions' share of the window's height.
const CAUTIONS_SHARE: f32 = 0.12;
/// The drawing's share of the room's area where the letters have their usual size.
const DRAWING_SHARE: f32 = 0.45;
/// Head, folded cautions, the row of controls or the track of the cut, and what the test has round the window, in points.
const STRIPS: f32 = 44.0 + 37.0 + 67.0 + 2.0 * ROUND;
const ROUND: f32 = 8.0;
/// Places are rounded to pixels.
const PIXEL: f32 = 1.0;

/// A room on a screen of so many pixels.
fn room(room: Room, pixels: Vec2, cautions_folded: bool) -> Harness<'static, App> {
    let view = ViewState { room, cautions_folded, ..ViewState::default() };
    let mut harness = window_of(App::with_view(Document::demo().unwrap(), view), pixels);
    harness.state_mut().wait();
    harness.run();
    harness
}

/// Letters so many times their size.
fn zoomed(harness: &mut Harness<'_, App>, zoom: f32) {
    harness.set_pixels_per_point(zoom);
    harness.run();
}

/// From the top of the cautions to the window's foot, points.
fn cautions_high(harness: &Harness<'_, App>) -> f32 {
    let button = harness.query_all_by(|node| {
        node.role() == Role::Button && matches!(node.label().as_deref(), Some("All cautions" | "One line"))
    });
    let top = button.map(|node| node.rect().top()).fold(f32::INFINITY, f32::min);
    harness.ctx.content_rect().bottom() - top
}

#[test]
fn the_cautions_keep_to_their_share_folded_and_whole() {
    for (size, folded) in SIZES.into_iter().flat_map(|size| [(size, true), (size, false)]) {
        let mut harness = room(Room::Bench, size, folded);
        for zoom in ZOOMS {
            zoomed(&mut harness, zoom);
            let (high, window) = (cautions_high(&harness), harness.ctx.content_rect().height());
            assert!(
                high > 20.0 && high <= CAUTIONS_SHARE * window + PIXEL,
                "{size:?} at {zoom}, folded {folded}: {high} of {window} points"
            );
        }
    }
}

#[test]
fn the_cautions_fold_to_one_line_and_come_back_by_keys() {
    let mut harness = room(Room::Bench, SIZES[1], false);
    let spoken = |harness: &Harness<'_, App>| {
        let text = harness.get_by_label_contains(barpoise_core::KICKBACK_CAUTION);
        text.accesskit_node().value().or_else(|| text.accesskit_node().label()).unwrap()
    };
    assert!(barpoise_core::CAUTIONS.iter().all(|caution| spoken(&harness).contains(caution)));
    for (button, whole) in [("One line", false), ("All cautions", true)] {
        harness.get_by_role_and_label(Role::Button, button).focus();
        harness.run();
        harness.key_press_modifiers(Modifiers::NONE, Key::Enter);
        harness.run();
        let has_all = barpoise_core::CAUTIONS.iter().all(|caution| spoken(&harness).contains(caution));
        assert_eq!(has_all, whole, "after {button}");
    }
}

/// The drawing's rectangle, in pixels.
fn drawing(harness: &Harness<'_, App>, zoom: f32) -> Rect {
    harness.get_by_role(Role::Image).rect() * zoom
}

#[test]
fn the_drawing_has_its_share_and_never_shrinks_when_letters_grow() {
    for of in [Room::Bench, Room::Log] {
        for size in SIZES {
            let (mut before, mut strips) = (0.0_f32, 0.0_f32);
            let mut harness = room(of, size, true);
            for zoom in ZOOMS.into_iter().filter(|zoom| *zoom >= 1.0) {
                zoomed(&mut harness, zoom);
                let shown = drawing(&harness, zoom);
                let area = shown.area();
                if (zoom - 1.0).abs() < f32::EPSILON {
                    let head = harness.get_by_label("Yard").rect().bottom();
                    let share = area / size.x / (size.y - head - cautions_high(&harness));
                    assert!(share >= DRAWING_SHARE, "{of:?} {size:?}: {share:.3} of the room");
                    before = area;
                    strips = size.y - shown.height();
                }
                // Beside a column it is as wide as ever; head, cautions and controls grow with the letters, and no more goes.
                let grown =
                    (shown.width() * strips.min(STRIPS) + shown.height() * 2.0 * ROUND) * (zoom - 1.0);
                assert!(
                    area >= before - grown - PIXEL * size.x,
                    "{of:?} {size:?} at {zoom}: {area} of {before}"
                );
            }
        }
    }
}

/// Whatever the size, a control is across the window or in something that scrolls across to it.
#[test]
fn head_and_figures_are_across_the_window_at_every_size() {
    let controls = [Role::Button, Role::TextInput, Role::ComboBox, Role::CheckBox, Role::Tab];
    for of in [Room::Bench, Room::Log] {
        for size in SIZES {
            let mut harness = room(of, size, true);
            for zoom in ZOOMS {
                zoomed(&mut harness, zoom);
                let wide = harness.ctx.content_rect().width();
                let nodes: Vec<_> = harness.query_all_by(|node| controls.contains(&node.role())).collect();
                assert!(nodes.len() > 12, "{of:?} {size:?} at {zoom}: next to nothing to press");
                for node in nodes {
                    let rect = node.rect();
                    assert!(
                        rect.left() >= -PIXEL && rect.right() <= wide + PIXEL,
                        "{of:?} {size:?} at {zoom}: {:?} at {rect:?} of {wide}",
                        node.accesskit_node().label()
                    );
                }
            }
        }
    }
}

#[test]
fn no_menu_leaves_the_window_at_any_size() {
    for zoom in [1.0, 1.5, 2.5] {
        let mut harness = room(Room::Bench, SIZES[0], true);
        zoomed(&mut harness, zoom);
        let window = harness.ctx.content_rect();
        let buttons = |harness: &Harness<'_, App>| {
            let buttons = harness.query_all_by(|node| matches!(node.role(), Role::Button));
            buttons.filter_map(|node| node.accesskit_node().label()).collect::<Vec<_>>()
        };
        let before = buttons(&harness);
        let title = before.iter().find(|name| name.ends_with(" %")).unwrap();
        harness.get_by_role_and_label(Role::Button, title).click();
        harness.run();
        let items: Vec<String> =
            buttons(&harness).into_iter().filter(|name| !before.contains(name)).collect();
        assert!(items.len() > 6, "at {zoom} the menu has {items:?}");
        for name in items {
            harness.get_by_role_and_label(Role::Button, &name).scroll_to_me();
            harness.run_steps(30);
            let rect = harness.get_by_role_and_label(Role::Button, &name).rect();
            assert!(window.expand(PIXEL).contains_rect(rect), "at {zoom}: {name} at {rect:?} of {window:?}");
        }
    }
}
