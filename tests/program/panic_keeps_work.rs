//! A fault of the program itself keeps the unsaved work, and says where.

#![expect(clippy::unwrap_used, reason = "a helper of tests, outside a test function")]

use barpoise::desk::document::Work;
use barpoise::desk::recovery::{Keeper, keep_on_panic, left_in};
use std::path::Path;
use std::process::Command;
use std::sync::Arc;

/// The folder in which the child keeps its work, in its environment.
const FOLDER: &str = "BARPOISE_TEST_KEEPS_IN";
const CHILD: &str = "panic_keeps_work::has_unsaved_work_and_panics";

fn work() -> Work {
    let yard = Arc::new(barpoise_core::file::demo().unwrap());
    Work { yard, path: Some("/a folder/Höfe.yard.ron".into()), seen: None }
}

/// What the child does. By itself this is no test, and does nothing.
#[test]
fn has_unsaved_work_and_panics() {
    let Some(folder) = std::env::var_os(FOLDER) else { return };
    let mut keeper = Keeper::begin(Path::new(&folder), || ()).unwrap();
    keep_on_panic();
    // In the midst of a drag nothing is written but by the panic.
    keeper.tend(Some(work()), true);
    assert!(!keeper.file().exists());
    panic!("a fault\nwith more to it");
}

#[test]
fn a_panic_keeps_the_work_and_says_where() {
    let folder = tempfile::tempdir().unwrap();
    let output = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", CHILD, "--nocapture"])
        .env(FOLDER, folder.path())
        .output()
        .unwrap();
    assert!(!output.status.success());
    let said = String::from_utf8(output.stderr).unwrap();
    let left = left_in(folder.path());
    assert_eq!(left.len(), 1, "{said}");
    let lines: Vec<&str> = said.lines().filter(|line| line.starts_with("barpoise: ")).collect();
    assert_eq!(lines[0], "barpoise: stopped by a fault: a fault");
    let file = left[0].file().display();
    assert_eq!(lines[1], format!("barpoise: unsaved work is kept in {file}; the next start offers it"));
    let record = left[0].record().unwrap();
    assert_eq!(record.work.yard.file(), work().yard.file());
    assert_eq!(record.work.path, work().path);
}
