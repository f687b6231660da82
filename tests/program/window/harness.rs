//! A window without a display, and hands to drive it.

use barpoise::desk::document::Document;
use barpoise::draw::theme;
use barpoise::window::app::App;
use egui::accesskit::Role;
use egui::{Event, Modifiers, PointerButton, Pos2, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

/// The size of a common small screen's window.
pub const SIZE: Vec2 = Vec2::new(1280.0, 800.0);

/// Passes after which a window counts as never coming to rest. Work beside the window asks for a pass whenever it has got
/// on, so that how many there are until it rests depends on the machine; a window that never rests is found all the same.
const UNTIL_REST: u64 = 5_000;

pub fn window_of(app: App, size: Vec2) -> Harness<'static, App> {
    let mut harness = Harness::builder()
        .with_size(size)
        .with_max_steps(UNTIL_REST)
        .with_context_setup(theme::install)
        .build_ui_state(|ui, app: &mut App| app.show(ui), app);
    harness.run();
    harness
}

pub fn demo() -> App {
    App::new(Document::demo().unwrap())
}

pub fn slider_at(harness: &Harness<'_, App>, name: &str) -> Pos2 {
    harness.get_by_role_and_label(Role::Slider, name).rect().center()
}

pub fn focus_slider(harness: &mut Harness<'_, App>, name: &str) {
    harness.get_by_role_and_label(Role::Slider, name).focus();
    harness.run();
}

pub fn length_mm(harness: &Harness<'_, App>) -> f64 {
    harness.state().document().figures().setup().bar().overall_length().as_mm()
}

pub fn press(harness: &mut Harness<'_, App>, at: Pos2, pressed: bool) {
    let button = PointerButton::Primary;
    harness.event(Event::PointerButton { pos: at, button, pressed, modifiers: Modifiers::NONE });
    harness.step();
}

pub fn move_to(harness: &mut Harness<'_, App>, at: Pos2) {
    harness.event(Event::PointerMoved(at));
    harness.step();
    harness.step();
}
