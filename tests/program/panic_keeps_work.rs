//! A fault of the program itself, and being told to end, keep the unsaved work, and say where.

#![expect(clippy::unwrap_used, reason = "a helper of tests, outside a test function")]

use barpoise::desk::document::Work;
use barpoise::desk::recovery::{Keeper, keep_on_panic, keep_on_signal, left_in};
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

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
    keeper.tend(Some(work()));
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

const TOLD: &str = "panic_keeps_work::has_unsaved_work_and_is_told_to_end";

/// What the other child does: it has work that nothing has written yet, and waits. By itself this is no test.
#[test]
fn has_unsaved_work_and_is_told_to_end() {
    let Some(folder) = std::env::var_os(FOLDER) else { return };
    let mut keeper = Keeper::begin(Path::new(&folder), || ()).unwrap();
    let told = Arc::new(AtomicBool::new(false));
    keep_on_signal(told, || ()).unwrap();
    keeper.tend(Some(work()));
    println!("ready");
    loop {
        std::thread::park();
    }
}

#[cfg(unix)]
#[test]
fn being_told_to_end_keeps_the_work_whether_the_window_listens_or_not() {
    for (signal, code) in [("TERM", 143), ("HUP", 129)] {
        let folder = tempfile::tempdir().unwrap();
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", TOLD, "--nocapture"])
            .env(FOLDER, folder.path())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let ready = lines.map_while(Result::ok).any(|line| line.ends_with("ready"));
        assert!(ready);
        let id = child.id().to_string();
        assert!(Command::new("kill").args([&format!("-{signal}"), &id]).status().unwrap().success());
        assert_eq!(child.wait().unwrap().code(), Some(code));
        let left = left_in(folder.path());
        assert_eq!(left.len(), 1, "{signal}");
        assert_eq!(left[0].record().unwrap().work.yard.file(), work().yard.file());
    }
}
