//! Marks on a photograph of a head, from the first click to the numbers in the form and back.
//!
//! The picture is a camera's that looks straight at the bar's plane, a millimetre to the pixel, the sprocket's centre in its
//! middle: what each mark must say follows from that by similar triangles.

#![expect(clippy::panic, reason = "helpers of tests, outside a test function")]

use super::harness::{move_to, press, window_of};
use barpoise::desk::document::Document;
use barpoise::window::app::App;
use barpoise::window::view_state::{Room, ViewState};
use barpoise_core::file::demo;
use barpoise_core::photograph::assumed::{Depth, depth};
use barpoise_core::record::{
    Landmark, OutlineFile, PartFile, PartId, PartKind, PhotographFile, PowerheadFile,
};
use egui::accesskit::Role;
use egui::{Key, Modifiers, Pos2, Rect, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use std::path::{Path, PathBuf};

type Window = Harness<'static, App>;

/// Size of the picture, pixels and millimetres, and its middle: the sprocket's centre.
const WIDTH: u32 = 1000;
const HEIGHT: u32 = 700;
const MIDDLE: (f32, f32) = (500.0, 350.0);
/// Tall enough that nothing of the column is below the fold.
const SIZE: Vec2 = Vec2::new(1500.0, 1500.0);

fn yard_beside_a_picture(folder: &Path) -> PathBuf {
    image::RgbImage::from_pixel(WIDTH, HEIGHT, image::Rgb([190, 200, 205]))
        .save(folder.join("straight.png"))
        .unwrap();
    let path = folder.join("own.yard.ron");
    std::fs::write(&path, barpoise_core::file::to_ron(demo().unwrap().file()).unwrap()).unwrap();
    path
}

fn parts_of(path: &Path) -> Window {
    let view = ViewState { room: Room::Parts, ..ViewState::default() };
    let mut window = window_of(App::with_view(Document::open(path).unwrap(), view), SIZE);
    click(&mut window, "Bittern");
    window
}

fn click(window: &mut Window, name: &str) {
    window.get_by_role_and_label(Role::Button, name).click();
    window.run();
}

/// Lets the picture be read beside the window.
fn picture(window: &mut Window) -> Rect {
    for _ in 0..500 {
        window.step();
        if let Some(found) = window.query_by_label("Photograph of Bittern") {
            return found.rect();
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    panic!("the picture never came");
}

fn open(window: &mut Window, picture_path: &Path) -> Rect {
    click(window, "From a photograph…");
    window.run_steps(3);
    let field = "Path of a photograph, .jpg, .png or .webp";
    window.get_by_label(field).focus();
    window.run();
    window.get_by_label(field).type_text(picture_path.to_str().unwrap());
    window.run();
    click(window, "Open");
    picture(window)
}

/// Where a place of the saw frame lies on the screen; y up, mm.
fn on_screen(room: Rect, x_mm: f32, y_mm: f32) -> Pos2 {
    let scale = (room.width() / WIDTH as f32).min(room.height() / HEIGHT as f32);
    let from_middle = Vec2::new(x_mm + MIDDLE.0 - 0.5 * WIDTH as f32, 0.5 * HEIGHT as f32 - MIDDLE.1 - y_mm);
    room.center() + from_middle * scale
}

fn mark(window: &mut Window, room: Rect, places: &[(f32, f32)]) {
    for (x_mm, y_mm) in places {
        let at = on_screen(room, *x_mm, *y_mm);
        move_to(window, at);
        press(window, at, true);
        press(window, at, false);
        window.run();
    }
}

fn bittern(window: &Window) -> PowerheadFile {
    let id = PartId::new(PartKind::Powerhead, "Bittern");
    match window.state().document().yard().file().part(&id) {
        Some(PartFile::Powerhead(head)) => *head,
        other => panic!("{other:?}"),
    }
}

fn marks(window: &Window) -> PhotographFile {
    bittern(window).photograph.unwrap()
}

/// The sheet of A4, then the frame.
const SHEET: [(f32, f32); 4] = [(60.0, -60.0), (357.0, -60.0), (357.0, -270.0), (60.0, -270.0)];

fn mark_all(window: &mut Window, room: Rect) {
    mark(window, room, &SHEET);
    mark(window, room, &[(0.0, 0.0)]);
    mark(window, room, &[(40.0, 0.0), (440.0, 0.0)]);
    mark(window, room, &[(165.0, 12.0), (165.0, -14.0)]);
    window.get_by_label("Front grip").click();
    window.run();
    mark(window, room, &[(4.0, 160.0)]);
    mark(window, room, &[(-300.0, 50.0)]);
}

#[test]
fn a_head_is_measured_on_a_photograph_by_clicks_and_all_is_taken_back_by_undo() {
    let folder = tempfile::tempdir().unwrap();
    let path = yard_beside_a_picture(folder.path());
    let mut window = parts_of(&path);
    let before = bittern(&window);
    let room = open(&mut window, &folder.path().join("straight.png"));
    window.get_by_label("No numbers yet: the corners of the sheet is asked first.");
    mark_all(&mut window, room);
    assert_eq!(marks(&window).path, "straight.png", "kept by its place beside the yard");
    for (landmark, count) in [
        (Landmark::SheetCorners, 4),
        (Landmark::Sprocket, 1),
        (Landmark::BarLine, 2),
        (Landmark::SpikeTips, 2),
        (Landmark::FrontGrip, 1),
        (Landmark::RearGrip, 1),
    ] {
        assert_eq!(marks(&window).marks_of(landmark).len(), count, "{landmark:?}");
    }
    assert_eq!(bittern(&window).dry_mass_kg.to_bits(), before.dry_mass_kg.to_bits());
    assert_eq!(bittern(&window).spike_line_mm.to_bits(), before.spike_line_mm.to_bits(), "nothing unasked");

    // Round the body.
    window.get_by_label("Outline of the body").click();
    window.run();
    mark(&mut window, room, &[(-180.0, -70.0), (120.0, -70.0), (110.0, 90.0), (-160.0, 80.0)]);
    let all = window.get_by_label_contains("Put all").accesskit_node().label().unwrap();
    click(&mut window, &all);

    let head = bittern(&window);
    let (camera, kept) = (marks(&window).camera_distance_mm, marks(&window));
    // A picture's pixel is a tenth of one at most off where it was clicked; a click lies on a point of the screen.
    let within = 1.0;
    let near = |value: f64, expected: f64, what: &str| {
        assert!((value - expected).abs() < within, "{what}: {value} for {expected}");
    };
    // What lies farther from the camera than the bar's plane is larger than it looks: spikes beside the bar, grips behind it.
    let grips = Depth { behind_mm: kept.grips_behind_mm, uncertainty_mm: kept.grips_behind_uncertainty_mm };
    let larger_at = |landmark| (camera + depth(landmark, grips).behind_mm) / camera;
    near(head.spike_line_mm, 165.0 * larger_at(Landmark::SpikeTips), "spike line");
    let larger = larger_at(Landmark::FrontGrip);
    assert!(160.0 * (larger - 1.0) > 2.0 * within, "the grips' depth is seen here: {larger}");
    near(head.front_grip.x_mm, 4.0 * larger, "front grip along");
    near(head.front_grip.y_mm, 160.0 * larger, "front grip up");
    near(head.rear_grip.x_mm, -300.0 * larger, "rear grip along");
    let OutlineFile::Corners(corners) = &head.outline else { panic!("{:?}", head.outline) };
    assert_eq!(corners.len(), 4);
    let unsure = head.standard_uncertainty;
    let (spikes, unsure_grips) = (unsure.spike_line_mm.unwrap(), unsure.grips_mm.unwrap());
    assert!((0.5..6.0).contains(&spikes), "{spikes}");
    assert!(unsure_grips > 2.0 * spikes, "far from the sheet less is known: {unsure_grips} mm, {spikes} mm");

    // One press of undo takes the numbers back and leaves the marks.
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    window.run();
    let back = bittern(&window);
    assert_eq!((back.spike_line_mm, back.front_grip), (before.spike_line_mm, before.front_grip));
    assert_eq!(back.outline, before.outline);
    assert_eq!(back.photograph.as_ref(), Some(&kept), "the marks stay");
    window.get_by_label_contains("Put all");
}

#[test]
fn marks_move_by_drag_and_keys_go_by_delete_and_are_there_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = yard_beside_a_picture(folder.path());
    let mut window = parts_of(&path);
    let room = open(&mut window, &folder.path().join("straight.png"));
    mark_all(&mut window, room);
    let tips = |window: &Window| marks(window).marks_of(Landmark::SpikeTips).to_vec();
    let before = tips(&window);

    let name = "Mark 1 of spike tips, pixels from the left";
    let at = window.get_by_label(name).rect().center();
    move_to(&mut window, at);
    press(&mut window, at, true);
    for step in 1..=4 {
        move_to(&mut window, at + Vec2::new(3.0 * step as f32, 0.0));
    }
    press(&mut window, at + Vec2::new(12.0, 0.0), false);
    window.run();
    let scale = f64::from((room.width() / WIDTH as f32).min(room.height() / HEIGHT as f32));
    let moved = tips(&window)[0].x_px - before[0].x_px;
    assert!((moved - 12.0 / scale).abs() < 1.5, "{moved} px for {} px", 12.0 / scale);
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    window.run();
    assert_eq!(tips(&window), before, "one drag is one step of undo");

    window.get_by_label(name).focus();
    window.run();
    window.key_press(Key::ArrowRight);
    window.run();
    window.key_press_modifiers(Modifiers::SHIFT, Key::ArrowDown);
    window.run();
    let stepped = tips(&window)[0];
    assert!((stepped.x_px - before[0].x_px - 1.0).abs() < 1e-9, "{stepped:?}");
    assert!((stepped.y_px - before[0].y_px - 10.0).abs() < 1e-9, "{stepped:?}");
    window.key_press(Key::Delete);
    window.run();
    assert_eq!(tips(&window), before[1..], "Delete takes the mark that has the focus");

    let kept = marks(&window);
    click(&mut window, "Back to the form");
    click(&mut window, "Marks on its photograph");
    picture(&mut window);
    window.run();
    assert_eq!(marks(&window), kept);
    window.get_by_label(name);
}

#[test]
fn what_is_no_photograph_is_refused_in_one_clear_line() {
    let folder = tempfile::tempdir().unwrap();
    let path = yard_beside_a_picture(folder.path());
    std::fs::write(folder.path().join("text.jpg"), "no picture at all").unwrap();
    std::fs::write(folder.path().join("empty.png"), "").unwrap();
    let whole = std::fs::read(folder.path().join("straight.png")).unwrap();
    std::fs::write(folder.path().join("torn.png"), &whole[..whole.len() / 2]).unwrap();
    for name in ["text.jpg", "empty.png", "torn.png", "not there.jpg"] {
        let mut window = parts_of(&path);
        click(&mut window, "From a photograph…");
        window.run_steps(3);
        let field = "Path of a photograph, .jpg, .png or .webp";
        window.get_by_label(field).focus();
        window.run();
        window.get_by_label(field).type_text(folder.path().join(name).to_str().unwrap());
        window.run();
        click(&mut window, "Open");
        for _ in 0..200 {
            window.step();
            std::thread::sleep(std::time::Duration::from_millis(5));
            if window.query_by_label_contains(name).is_some() {
                break;
            }
        }
        let said = window.get_by_label_contains(name).accesskit_node();
        let said = said.label().or_else(|| said.value()).unwrap();
        assert_eq!(said.lines().count(), 1, "{said}");
        assert!(said.len() < 300, "{said}");
        assert_eq!(bittern(&window).photograph, None);
    }
}
