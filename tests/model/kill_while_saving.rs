//! A program killed while it saves leaves the old yard or the new one, whole, and no heap of half-written files.
//!
//! `cargo test` kills it some dozen times; `cargo test -p barpoise-checks --test model kill -- --ignored
//! --nocapture` a thousand times, and tells what it found.
#![expect(clippy::unwrap_used, clippy::panic, reason = "a helper of a check may stop the check")]

use barpoise_core::Yard;
use barpoise_core::file::{demo, read_yard, save_yard};
use std::collections::hash_map::RandomState;
use std::hash::{BuildHasher, Hasher};
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

/// The file that the child saves to, in its environment.
const TARGET: &str = "BARPOISE_TEST_SAVES_TO";
const CHILD: &str = "kill_while_saving::saves_one_yard_and_the_other_until_it_is_killed";
const FEW_KILLS: u32 = 50;
const MANY_KILLS: u32 = 1000;
/// The kill comes at a random moment within this time, some dozen saves long.
const LONGEST_LIFE: Duration = Duration::from_millis(60);

fn yards() -> [Yard; 2] {
    let first = demo().unwrap();
    let mut file = first.file().clone();
    file.name = "The other one".to_owned();
    // A good deal shorter, so that a torn file could not be taken for either.
    file.woods.clear();
    file.note = "x".repeat(20_000);
    [first, Yard::new(file).unwrap()]
}

/// What the killed program does. By itself this is no test, and does nothing.
#[test]
fn saves_one_yard_and_the_other_until_it_is_killed() {
    let Some(target) = std::env::var_os(TARGET) else { return };
    let yards = yards();
    for yard in yards.iter().cycle() {
        save_yard(yard, Path::new(&target)).unwrap();
        println!("saved");
    }
}

#[derive(Debug, Default)]
struct Found {
    first: u32,
    other: u32,
    /// Kills that left a half-written file, which shows that they came in the midst of a save.
    left_half: u32,
    most_left: usize,
}

fn random(below: Duration) -> Duration {
    let hash = RandomState::new().build_hasher().finish();
    let micros = u64::try_from(below.as_micros()).unwrap();
    Duration::from_micros(hash % micros)
}

fn killed(times: u32) -> Found {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("Höfe 木 two.yard.ron");
    let [first, other] = yards();
    save_yard(&first, &path).unwrap();
    let mut found = Found::default();
    for _ in 0..times {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", CHILD, "--nocapture"])
            .env(TARGET, &path)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let begun = lines.find(|line| line.as_ref().is_ok_and(|line| line.ends_with("saved")));
        assert!(begun.is_some(), "the child saved nothing");
        // It goes on saving while the pipe takes its words: some thousand saves.
        std::thread::sleep(random(LONGEST_LIFE));
        child.kill().unwrap();
        child.wait().unwrap();
        let yard = read_yard(&path).unwrap_or_else(|error| panic!("torn: {error}"));
        if yard.file() == first.file() {
            found.first += 1;
        } else {
            assert_eq!(yard.file(), other.file());
            found.other += 1;
        }
        let left = std::fs::read_dir(folder.path()).unwrap().count() - 1;
        found.left_half += u32::from(left > 0);
        found.most_left = found.most_left.max(left);
        assert!(left <= 1, "{left} half-written files have gathered");
    }
    save_yard(&first, &path).unwrap();
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1, "the next save clears up");
    found
}

#[cfg(unix)]
#[test]
fn a_program_killed_while_saving_leaves_a_whole_yard() {
    let found = killed(FEW_KILLS);
    assert_eq!(found.first + found.other, FEW_KILLS);
}

#[cfg(unix)]
#[test]
#[ignore = "a thousand kills take some minutes"]
fn a_program_killed_a_thousand_times_leaves_a_whole_yard() {
    let found = killed(MANY_KILLS);
    println!(
        "{MANY_KILLS} kills: {} found the one yard, {} the other, none a torn one; {} came in the midst of a save, \
         with at most {} half-written file left",
        found.first, found.other, found.left_half, found.most_left
    );
    assert!(found.left_half > 0, "no kill came in the midst of a save");
}
