//! Yard files in the window: nothing unsaved or unseen is lost.

use super::harness::{SIZE, demo, window_of};
use barpoise::desk::document::Document;
use barpoise::window::app::App;
use barpoise::window::view_state::Room;
use barpoise_core::Yard;
use barpoise_core::file::{read_yard, save_yard};
use egui::accesskit::Role;
use egui::{DroppedFile, DroppedFileHandle, Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

const NAME: &str = "Höfe & Ødegård two.yard.ron";

/// A file dropped on the window.
#[derive(Debug)]
struct Dropped(PathBuf);

impl DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        fs::read(&self.0).map_err(|error| error.to_string())
    }
}

/// The demo yard in a file of its own, under another name.
fn yard_named(path: &Path, name: &str) {
    let mut file = barpoise_core::file::demo().unwrap().file().clone();
    file.name = name.to_owned();
    save_yard(&Yard::new(file).unwrap(), path).unwrap();
}

fn window_on(path: &Path) -> Harness<'static, App> {
    window_of(App::new(Document::open(path).unwrap()), SIZE)
}

/// A folder with a yard in it.
fn yard() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(NAME);
    yard_named(&path, "Alder Flat woodlot");
    (folder, path)
}

fn keys(window: &mut Harness<'_, App>, modifiers: Modifiers, key: Key) {
    window.key_press_modifiers(modifiers, key);
    window.run();
}

fn ctrl(window: &mut Harness<'_, App>, key: Key) {
    keys(window, Modifiers::COMMAND, key);
}

fn click(window: &mut Harness<'_, App>, name: &str) {
    window.get_by_role_and_label(Role::Button, name).click();
    window.run();
}

/// Duplicates the setup on show in the room Parts.
fn change(window: &mut Harness<'_, App>) {
    ctrl(window, Key::Num5);
    click(window, "Duplicate");
    assert!(window.state().document().unsaved());
}

fn setups(window: &Harness<'_, App>) -> usize {
    window.state().document().yard().setups().len()
}

fn name_of(window: &Harness<'_, App>) -> String {
    window.state().document().yard().name().to_owned()
}

fn said(window: &Harness<'_, App>) -> String {
    window.state().notice().unwrap_or_default().to_owned()
}

fn type_path(window: &mut Harness<'_, App>, field: &str, path: &str) {
    let field = window.get_by_role_and_label(Role::TextInput, field);
    field.focus();
    window.run();
    ctrl(window, Key::A);
    let focused = window.query_all_by(|node| node.is_focused()).next().unwrap();
    focused.type_text(path);
    window.run();
    keys(window, Modifiers::NONE, Key::Enter);
}

#[test]
fn reverting_asks_first_and_can_be_undone() {
    let (_folder, path) = yard();
    let mut window = window_on(&path);
    let before = setups(&window);
    change(&mut window);
    keys(&mut window, Modifiers::NONE, Key::F5);
    window.get_by_label("Revert to the file?");
    click(&mut window, "Cancel");
    assert_eq!(setups(&window), before + 1, "asked, and nothing done");
    keys(&mut window, Modifiers::NONE, Key::F5);
    click(&mut window, "Revert");
    assert_eq!(setups(&window), before);
    assert!(!window.state().document().unsaved());
    ctrl(&mut window, Key::Z);
    assert_eq!(setups(&window), before + 1);
    assert!(window.state().document().unsaved());
}

#[test]
fn a_change_by_another_program_is_told_and_can_be_read() {
    let (_folder, path) = yard();
    let mut window = window_on(&path);
    yard_named(&path, "Theirs");
    window.state_mut().look_at_disk();
    window.run();
    window.get_by_label("Changed on disk");
    assert_eq!(name_of(&window), "Alder Flat woodlot", "nothing is read unasked");
    click(&mut window, "Read it again");
    assert_eq!(name_of(&window), "Theirs");
    assert!(window.query_by_label("Changed on disk").is_none());
    assert!(!window.state().document().unsaved());
    ctrl(&mut window, Key::Z);
    assert_eq!(name_of(&window), "Alder Flat woodlot");
}

#[test]
fn the_window_notices_a_change_by_itself_and_is_at_rest_until_then() {
    let (_folder, path) = yard();
    let mut window = window_on(&path);
    window.step();
    let delay = window.output().viewport_output.values().map(|output| output.repaint_delay).min().unwrap();
    assert!(delay > std::time::Duration::from_secs(60), "asks to repaint after {delay:?}");
    yard_named(&path, "Theirs");
    let begun = std::time::Instant::now();
    while window.query_by_label("Changed on disk").is_none() {
        assert!(begun.elapsed() < std::time::Duration::from_secs(30), "not noticed");
        std::thread::sleep(std::time::Duration::from_millis(100));
        window.step();
    }
}

#[test]
fn saving_never_writes_over_what_nobody_has_seen() {
    let (folder, path) = yard();
    let mut window = window_on(&path);
    change(&mut window);
    yard_named(&path, "Theirs");
    ctrl(&mut window, Key::S);
    window.get_by_label("The file has changed");
    assert_eq!(read_yard(&path).unwrap().name(), "Theirs");
    click(&mut window, "Cancel");
    assert!(window.state().document().unsaved());
    // Changed once more while it is asked: it is asked again.
    ctrl(&mut window, Key::S);
    yard_named(&path, "Theirs again");
    click(&mut window, "Write mine over it");
    assert_eq!(read_yard(&path).unwrap().name(), "Theirs again");
    click(&mut window, "Save mine beside it");
    let beside = folder.path().join("Höfe & Ødegård two 2.yard.ron");
    assert_eq!(window.state().document().path(), Some(beside.as_path()));
    assert!(!window.state().document().unsaved());
    assert_eq!(read_yard(&beside).unwrap().file(), window.state().document().yard().file());
    assert_eq!(read_yard(&path).unwrap().name(), "Theirs again");
}

#[test]
fn it_can_be_written_over_knowingly() {
    let (_folder, path) = yard();
    let mut window = window_on(&path);
    change(&mut window);
    yard_named(&path, "Theirs");
    ctrl(&mut window, Key::S);
    click(&mut window, "Write mine over it");
    assert_eq!(read_yard(&path).unwrap().file(), window.state().document().yard().file());
    // And where it is known beforehand, it is not asked again.
    yard_named(&path, "Theirs");
    window.state_mut().look_at_disk();
    window.run();
    click(&mut window, "Keep mine");
    assert!(window.state().document().unsaved());
    ctrl(&mut window, Key::S);
    assert_eq!(read_yard(&path).unwrap().name(), "Alder Flat woodlot");
}

#[test]
fn two_windows_on_one_yard_are_safe() {
    let (_folder, path) = yard();
    let (mut one, mut other) = (window_on(&path), window_on(&path));
    change(&mut one);
    change(&mut other);
    click(&mut other, "Duplicate");
    ctrl(&mut one, Key::S);
    assert!(!one.state().document().unsaved());
    ctrl(&mut other, Key::S);
    other.get_by_label("The file has changed");
    assert_eq!(read_yard(&path).unwrap().file(), one.state().document().yard().file());
    click(&mut other, "Read theirs");
    assert_eq!(setups(&other), setups(&one));
    ctrl(&mut other, Key::Z);
    assert_eq!(setups(&other), setups(&one) + 1, "the work of the other window is one undo away");
}

#[test]
fn a_file_or_folder_that_is_gone_leaves_the_work_unsaved() {
    let (folder, path) = yard();
    let mut window = window_on(&path);
    fs::remove_file(&path).unwrap();
    window.state_mut().look_at_disk();
    window.run();
    window.get_by_label("Gone from disk");
    assert!(window.state().document().unsaved());
    click(&mut window, "Write it again");
    assert!(!window.state().document().unsaved());
    assert!(said(&window).contains("stands there again"), "{}", said(&window));
    assert!(window.query_by_label("Gone from disk").is_none());
    fs::remove_dir_all(folder.path()).unwrap();
    ctrl(&mut window, Key::S);
    assert!(said(&window).contains("there is no such folder"), "{}", said(&window));
    window.state_mut().look_at_disk();
    window.run();
    assert!(window.state().document().unsaved());
    // It is put back as it was: nothing was lost after all.
    fs::create_dir_all(folder.path()).unwrap();
    let yard = window.state().document().shared_yard().clone();
    save_yard(&yard, &path).unwrap();
    window.state_mut().look_at_disk();
    window.run();
    assert!(!window.state().document().unsaved());
}

#[test]
fn a_typed_name_that_is_taken_is_asked_about() {
    let (folder, path) = yard();
    let other = folder.path().join("other.yard.ron");
    yard_named(&other, "Another yard");
    let mut window = window_on(&path);
    keys(&mut window, Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    type_path(&mut window, "Save as, path of a yard file", other.to_str().unwrap());
    window.get_by_label("There is a file of this name already");
    assert_eq!(read_yard(&other).unwrap().name(), "Another yard");
    click(&mut window, "Write mine over it");
    assert_eq!(read_yard(&other).unwrap().name(), "Alder Flat woodlot");
    assert_eq!(window.state().document().path(), Some(other.as_path()));
}

#[test]
fn a_file_that_cannot_be_written_leaves_the_work_and_says_why() {
    let (folder, path) = yard();
    let mut window = window_on(&path);
    change(&mut window);
    let text = fs::read_to_string(&path).unwrap();
    // A folder stands where the yard should go.
    let taken = folder.path().join("taken.yard.ron");
    fs::create_dir(&taken).unwrap();
    let ctx = window.ctx.clone();
    window.state_mut().save_to(&taken, &ctx);
    window.run();
    window.get_by_label("Not saved");
    assert!(said(&window).contains("there is a folder of this name"), "{}", said(&window));
    assert!(window.state().document().unsaved());
    assert_eq!(window.state().document().path(), Some(path.as_path()));
    assert_eq!(fs::read_to_string(&path).unwrap(), text);
}

#[test]
fn what_is_dropped_on_the_window_opens_or_says_why_not() {
    let (folder, path) = yard();
    yard_named(&path, "Dropped");
    let picture = folder.path().join("saw.png");
    fs::write(&picture, [0x89, b'P', b'N', b'G', 0, 0]).unwrap();
    let mut window = window_of(demo(), SIZE);
    let drop = |window: &mut Harness<'_, App>, paths: &[&Path]| {
        window.input_mut().dropped_files =
            paths.iter().map(|path| Arc::new(Dropped(path.to_path_buf())) as DroppedFileHandle).collect();
        window.run();
    };
    drop(&mut window, &[&picture]);
    assert!(said(&window).contains("binary file"), "{}", said(&window));
    drop(&mut window, &[folder.path()]);
    assert!(said(&window).contains("this is a folder"), "{}", said(&window));
    assert_eq!(name_of(&window), "Alder Flat woodlot");
    drop(&mut window, &[&path, &picture]);
    assert_eq!(name_of(&window), "Dropped");
    assert!(said(&window).contains("saw.png stayed shut"), "{}", said(&window));
    // Unsaved work is asked about first.
    change(&mut window);
    drop(&mut window, &[&path]);
    window.get_by_label("Save the yard first?");
}

#[test]
fn recent_yards_are_listed_and_those_that_are_gone_can_be_taken_off() {
    let (folder, path) = yard();
    let own = folder.path().join("own");
    let gone = folder.path().join("gone.yard.ron");
    yard_named(&gone, "Soon gone");
    let mut window = window_of(demo(), SIZE);
    let ctx = window.ctx.clone();
    window.state_mut().keep_in(&own, &ctx);
    window.state_mut().open(&gone);
    window.state_mut().open(&path);
    fs::remove_file(&gone).unwrap();
    let mut window = window_of(demo(), SIZE);
    let ctx = window.ctx.clone();
    window.state_mut().keep_in(&own, &ctx);
    let open_menu = |window: &mut Harness<'_, App>| {
        click(window, "Yard");
        window.get_by_label_contains("Recent yards").click();
        window.run();
    };
    open_menu(&mut window);
    let begun = std::time::Instant::now();
    while window.query_by_label("Take off the list").is_none() {
        assert!(begun.elapsed() < std::time::Duration::from_secs(30), "not marked");
        std::thread::sleep(std::time::Duration::from_millis(20));
        window.step();
    }
    window.get_by_label_contains("gone.yard.ron (gone)");
    click(&mut window, "Take off the list");
    assert!(window.query_by_label_contains("gone.yard.ron").is_none());
    // The list stays open until a yard is picked.
    window.get_by_label_contains(NAME).click();
    window.run();
    assert_eq!(window.state().document().path(), Some(path.as_path()));
    assert!(window.query_by_label_contains("Recent yards").is_none(), "the menu is closed");
}

/// A window that keeps its work in a folder, as the real one does.
fn kept_window(own: &Path, document: Document) -> Harness<'static, App> {
    let mut window = window_of(App::new(document), SIZE);
    let ctx = window.ctx.clone();
    window.state_mut().keep_in(own, &ctx);
    window.run();
    window
}

#[test]
fn work_of_a_lost_window_is_restored_as_unsaved_work() {
    let (folder, path) = yard();
    let own = folder.path().join("own");
    let mut lost = kept_window(&own, Document::open(&path).unwrap());
    change(&mut lost);
    lost.state().keep_safe_now();
    let work = lost.state().document().yard().file().clone();
    // While it lives, nobody else is offered it.
    let other = kept_window(&own, Document::demo().unwrap());
    assert!(other.query_by_label("Restore").is_none());
    drop(other);
    drop(lost);
    let mut next = kept_window(&own, Document::demo().unwrap());
    next.get_by_label("A window was lost with unsaved work");
    next.get_by_label_contains("kept just now");
    click(&mut next, "Restore");
    assert_eq!(next.state().document().yard().file(), &work);
    assert_eq!(next.state().document().path(), Some(path.as_path()));
    assert!(next.state().document().unsaved());
    // Lost again before it is saved, it is offered again; saved, it is not.
    drop(next);
    let mut again = kept_window(&own, Document::demo().unwrap());
    click(&mut again, "Restore");
    ctrl(&mut again, Key::S);
    assert_eq!(read_yard(&path).unwrap().file(), &work);
    drop(again);
    assert!(kept_window(&own, Document::demo().unwrap()).query_by_label("Restore").is_none());
}

#[test]
fn restored_work_whose_file_changed_meanwhile_says_so() {
    let (folder, path) = yard();
    let own = folder.path().join("own");
    let mut lost = kept_window(&own, Document::open(&path).unwrap());
    change(&mut lost);
    lost.state().keep_safe_now();
    drop(lost);
    yard_named(&path, "Theirs");
    let mut next = kept_window(&own, Document::demo().unwrap());
    click(&mut next, "Restore");
    next.get_by_label("Changed on disk");
    ctrl(&mut next, Key::S);
    next.get_by_label("The file has changed");
    assert_eq!(read_yard(&path).unwrap().name(), "Theirs");
}

#[test]
fn what_was_left_can_wait_or_be_thrown_away() {
    let (folder, path) = yard();
    let own = folder.path().join("own");
    let mut lost = kept_window(&own, Document::open(&path).unwrap());
    change(&mut lost);
    lost.state().keep_safe_now();
    drop(lost);
    let mut next = kept_window(&own, Document::demo().unwrap());
    click(&mut next, "Later");
    assert!(next.query_by_label("Restore").is_none());
    keys(&mut next, Modifiers::COMMAND | Modifiers::SHIFT, Key::O);
    click(&mut next, "Open the saved file");
    assert_eq!(next.state().document().path(), Some(path.as_path()));
    keys(&mut next, Modifiers::COMMAND | Modifiers::SHIFT, Key::O);
    click(&mut next, "Throw away…");
    click(&mut next, "Throw away for good");
    assert!(next.query_by_label("A window was lost with unsaved work").is_none());
    keys(&mut next, Modifiers::COMMAND | Modifiers::SHIFT, Key::O);
    assert!(said(&next).contains("no window was lost"), "{}", said(&next));
}

#[test]
fn a_window_that_ends_leaves_what_was_neither_saved_nor_given_up() {
    let (folder, path) = yard();
    let own = folder.path().join("own");
    let mut ended = kept_window(&own, Document::open(&path).unwrap());
    change(&mut ended);
    ended.state_mut().end();
    drop(ended);
    let mut next = kept_window(&own, Document::demo().unwrap());
    click(&mut next, "Restore");
    ctrl(&mut next, Key::S);
    next.state_mut().end();
    drop(next);
    assert_eq!(fs::read_dir(own.join("recovery")).unwrap().count(), 0);
}

#[test]
fn kept_work_that_is_broken_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let kept = folder.path().join("recovery");
    fs::create_dir(&kept).unwrap();
    fs::write(kept.join("window-7-7-0.recovery.ron"), "(version: 2, name:").unwrap();
    let mut window = kept_window(folder.path(), Document::demo().unwrap());
    window.get_by_label("Kept work that cannot be read");
    window.get_by_label_contains("window-7-7-0.recovery.ron.broken");
    click(&mut window, "Later");
    assert!(kept.join("window-7-7-0.recovery.ron.broken").exists());
}

#[test]
fn a_name_in_letters_that_the_font_lacks_is_saved_and_opened() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("двор 木 two.yard.ron");
    yard_named(&path, "двор 木");
    let mut window = window_of(demo(), SIZE);
    window.ctx.set_missing_glyph_policy(egui::epaint::text::MissingGlyphPolicy::Tofu);
    window.state_mut().open(&path);
    window.run();
    change(&mut window);
    ctrl(&mut window, Key::S);
    window.get_by_label("Saved");
    assert!(said(&window).contains("двор 木 two.yard.ron"), "{}", said(&window));
    assert_eq!(read_yard(&path).unwrap().file(), window.state().document().yard().file());
}

#[test]
fn a_yard_of_an_older_version_is_copied_aside_and_that_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("old.yard.ron");
    let mut file = barpoise_core::file::demo().unwrap().file().clone();
    (file.readings, file.weigh_ins, file.woods) = (Vec::new(), Vec::new(), Vec::new());
    for head in &mut file.powerheads {
        head.standard_uncertainty = Default::default();
    }
    file.version = 1;
    save_yard(&Yard::new(file).unwrap(), &path).unwrap();
    let text = fs::read_to_string(&path).unwrap();
    let mut window = window_on(&path);
    ctrl(&mut window, Key::Num3);
    click(&mut window, "Add");
    ctrl(&mut window, Key::S);
    assert!(said(&window).contains("The old file was of version 1"), "{}", said(&window));
    assert_eq!(fs::read_to_string(folder.path().join("old.yard.ron.old")).unwrap(), text);
    assert_eq!(read_yard(&path).unwrap().file().version, 2);
}

#[test]
fn where_nothing_can_be_kept_safe_that_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let own = folder.path().join("a file");
    fs::write(&own, "").unwrap();
    let window = kept_window(&own, Document::demo().unwrap());
    window.get_by_label("Unsaved work is not kept safe");
}

#[test]
fn a_question_begins_with_its_first_answer_in_focus() {
    let (_folder, path) = yard();
    let mut window = window_on(&path);
    let before = setups(&window);
    change(&mut window);
    for _ in 0..2 {
        keys(&mut window, Modifiers::NONE, Key::F5);
        window.run();
        keys(&mut window, Modifiers::NONE, Key::Enter);
        assert_eq!(setups(&window), before, "Enter reverts");
        ctrl(&mut window, Key::Z);
        assert_eq!(setups(&window), before + 1);
    }
}

/// A double click on a faulty file opens a window that says so; once it is mended it is read again from there.
#[test]
fn a_faulty_file_that_was_given_is_told_of_in_the_window_and_read_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("mine.yard.ron");
    fs::write(&path, "(version: 3, name: \"half").unwrap();
    let mut app = demo();
    app.open_given(&path, &egui::Context::default());
    let mut window = window_of(app, SIZE);
    let told = window.state().notice().unwrap().to_owned();
    assert!(told.contains("mine.yard.ron:1:"), "file, line and column: {told}");
    window.get_by_role_and_label(Role::Button, "Open another…");
    yard_named(&path, "Mended");
    click(&mut window, "Read it again");
    assert_eq!(name_of(&window), "Mended");
    assert!(window.state().notice().is_none());
}

#[test]
fn a_lesson_that_was_given_opens_in_its_room() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("own.lesson.ron");
    let own: PathBuf =
        [env!("CARGO_MANIFEST_DIR"), "../../assets-demo/bar-and-balance.lesson.ron"].iter().collect();
    fs::copy(own, &path).unwrap();
    let mut app = demo();
    app.open_given(&path, &egui::Context::default());
    let window = window_of(app, SIZE);
    assert!(window.state().notice().is_none(), "{:?}", window.state().notice());
    window.get_by_label("Show the answer");
}

#[test]
fn many_faults_scroll_and_close_stays_in_reach() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("many.yard.ron");
    yard_named(&path, "Many");
    let fields = [
        "_length_mm: ",
        "_width_mm: ",
        "_radius_mm: ",
        "thickness_mm: ",
        "height_mm: ",
        " width_mm: ",
        "_kg: ",
    ];
    let text = fs::read_to_string(&path).unwrap();
    let text = fields.iter().fold(text, |text, field| text.replace(field, &format!("{field}-9")));
    fs::write(&path, text).unwrap();
    let mut app = demo();
    app.open_given(&path, &egui::Context::default());
    let mut window = window_of(app, SIZE);
    assert!(window.state().notice().unwrap().lines().count() > 15, "{:?}", window.state().notice());
    for name in ["Read it again", "Open another…", "Close"] {
        let rect = window.get_by_role_and_label(Role::Button, name).rect();
        assert!(rect.bottom() < 0.4 * SIZE.y && rect.right() <= SIZE.x, "{name} at {rect:?}");
    }
    click(&mut window, "Close");
    assert!(window.state().notice().is_none());
}

/// No timed test: the window looks at the file every two seconds, and this waits until it has.
fn until(window: &mut Harness<'static, App>, so: impl Fn(&Harness<'static, App>) -> bool) {
    while !so(window) {
        std::thread::sleep(std::time::Duration::from_millis(50));
        window.run();
    }
}

#[test]
fn a_faulty_file_is_shown_round_its_fault_and_read_again_when_it_is_mended() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("mine.yard.ron");
    yard_named(&path, "Mine");
    let good = fs::read_to_string(&path).unwrap();
    let at = good.find("dry_mass_kg: ").unwrap() + "dry_mass_kg: ".len();
    let end = at + good[at..].find(',').unwrap();
    fs::write(&path, format!("{}63{}", &good[..at], &good[end..])).unwrap();
    let mut app = demo();
    app.open_given(&path, &egui::Context::default());
    let mut window = window_of(app, SIZE);
    let line = good[..at].lines().count();
    window.get_by_label_contains(&format!("{line}   "));
    assert!(said(&window).contains("dry_mass_kg"));
    fs::write(&path, good).unwrap();
    until(&mut window, |window| name_of(window) == "Mine");
    assert!(window.state().notice().is_none());
}

#[test]
fn a_photograph_and_kept_work_open_as_what_they_are() {
    let folder = tempfile::tempdir().unwrap();
    let photo: PathBuf = [env!("CARGO_MANIFEST_DIR"), "../../assets-demo/bittern.jpg"].iter().collect();
    // By what is in it, whatever it is called.
    let named = folder.path().join("IMG 0012");
    fs::copy(photo, &named).unwrap();
    let mut app = demo();
    app.open_given(&named, &egui::Context::default());
    assert!(app.view().photograph.is_some() && app.view().room == Room::Parts);
    let work = barpoise::desk::document::Work {
        yard: std::sync::Arc::new(barpoise_core::file::demo().unwrap()),
        path: None,
        seen: None,
    };
    let kept = folder.path().join("window-1.recovery.ron");
    let text = barpoise::desk::recovery::Record::text(&work, std::time::SystemTime::now()).unwrap();
    fs::write(&kept, text).unwrap();
    let mut app = demo();
    app.open_given(&kept, &egui::Context::default());
    assert!(app.document().unsaved() && app.document().path().is_none());
    assert!(app.notice().unwrap().contains("as it was kept in"), "{:?}", app.notice());
}

#[test]
fn undo_and_redo_that_come_together_end_where_they_should() {
    let (_folder, path) = yard();
    let mut window = window_on(&path);
    let before = setups(&window);
    ctrl(&mut window, Key::Num5);
    for _ in 0..3 {
        click(&mut window, "Duplicate");
    }
    assert_eq!(setups(&window), before + 3);
    let press = |key, modifiers| egui::Event::Key {
        key,
        physical_key: None,
        pressed: true,
        repeat: false,
        modifiers,
    };
    let (undo, redo) =
        (press(Key::Z, Modifiers::COMMAND), press(Key::Z, Modifiers::COMMAND | Modifiers::SHIFT));
    window.input_mut().events.extend([undo.clone(), undo.clone(), redo, undo]);
    window.run();
    assert_eq!(setups(&window), before + 1);
}
