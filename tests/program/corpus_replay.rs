//! Every seed of the fuzz targets, every text that once broke a law, and random ones hold to the laws of `fuzz/laws`.
//! The fuzzer itself needs a nightly compiler; this does not.

#![expect(clippy::unwrap_used, reason = "helpers of tests, outside a test function")]

#[path = "../fuzz/laws/entry.rs"]
mod entry;
#[path = "../fuzz/laws/mod.rs"]
mod laws;

use barpoise_core::file::demo_text;
use barpoise_core::lesson::built_in_text;
use proptest::prelude::*;
use std::path::{Path, PathBuf};

fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests").join(name)
}

/// Holds a law to every file of a folder, and says how many there were.
fn replay(name: &str, law: fn(&str)) -> usize {
    let mut paths: Vec<PathBuf> =
        std::fs::read_dir(folder(name)).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    for path in &paths {
        // A law that is broken panics; the file it was broken by stands above it.
        eprintln!("{}", path.display());
        laws::on_text(&std::fs::read(path).unwrap(), law);
    }
    paths.len()
}

#[test]
fn yards_keep_their_laws() {
    laws::yard::holds(demo_text());
    assert!(replay("fuzz/seeds/yard", laws::yard::holds) >= 4);
    assert!(replay("bad-yards", laws::yard::holds) > 50);
}

#[test]
fn saves_over_a_yards_own_text_keep_their_law() {
    laws::keep::holds(demo_text());
    assert!(replay("fuzz/seeds/keep", laws::keep::holds) >= 6);
    assert!(replay("fuzz/seeds/yard", laws::keep::holds) >= 4);
}

#[test]
fn the_seeds_of_yards_are_yards_in_order() {
    let seeds = ["fuzz/seeds/yard", "fuzz/seeds/keep"];
    let entries = seeds.into_iter().flat_map(|seeds| std::fs::read_dir(folder(seeds)).unwrap());
    for path in entries.map(|entry| entry.unwrap().path()) {
        if path.to_str().is_some_and(|path| path.ends_with(".yard.ron")) {
            barpoise_core::file::read_yard(&path).unwrap();
        }
    }
}

#[test]
fn lessons_keep_their_laws() {
    laws::lesson::holds(built_in_text());
    assert!(replay("fuzz/seeds/lesson", laws::lesson::holds) >= 1);
    assert!(replay("bad-lessons", laws::lesson::holds) > 30);
}

#[test]
fn readings_keep_their_laws() {
    assert!(replay("fuzz/seeds/readings", laws::readings::holds) >= 4);
}

#[test]
fn measures_keep_their_laws() {
    assert!(replay("fuzz/seeds/measure", laws::measure::holds) > 15);
}

#[test]
fn diameters_keep_their_laws() {
    assert!(replay("fuzz/seeds/diameters", laws::diameters::holds) > 5);
}

#[test]
fn entries_keep_their_laws() {
    assert!(replay("fuzz/seeds/entry", entry::holds) > 9);
}

/// A text with a piece put in at a place of it.
fn bent(text: &str, at: prop::sample::Index, piece: &str) -> String {
    let places: Vec<usize> = text.char_indices().map(|(at, _)| at).chain([text.len()]).collect();
    let (before, after) = text.split_at(*at.get(&places));
    format!("{before}{piece}{after}")
}

/// What numbers with units are made of, and a little of everything else.
fn measure() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        8 => "[0-9]{1,4}",
        2 => "[0-9]{300,320}",
        4 => prop::sample::select(vec![" ", ",", ".", "/", "-", "−", "+", "\t", "\n", ";", " x ", "e"]).prop_map(str::to_owned),
        4 => prop::sample::select(vec!["mm", "cm", "m", "in", "\"", "kg", "lb", "kgf", "°", "%", "L", "hp", "ms"]).prop_map(str::to_owned),
        1 => any::<String>(),
    ];
    prop::collection::vec(piece, 0..6).prop_map(|pieces| pieces.concat())
}

proptest! {
    #[test]
    fn law_any_measure_reads_back_or_is_refused_in_one_line(text in measure()) {
        laws::measure::holds(&text);
    }

    #[test]
    fn law_any_diameters_read_back_or_are_refused_by_line(text in measure()) {
        laws::diameters::holds(&text);
    }

    #[test]
    fn law_any_entry_is_taken_or_refused_in_one_line(picks in "[?-G][ -~]{0,8}", value in measure(), sure in measure()) {
        entry::holds(&format!("{picks}\n{value}\n{sure}"));
    }

    #[test]
    fn law_a_bent_yard_is_read_and_written_or_refused_with_its_place(at: prop::sample::Index, piece in "\\PC{0,3}|[0-9]|\n|\"|,|\\)") {
        laws::yard::holds(&bent(demo_text(), at, &piece));
    }

    #[test]
    fn law_a_yard_written_by_any_hand_is_saved_by_its_one_number(
        at in prop::collection::vec(any::<prop::sample::Index>(), 1..12),
        piece in "[ \t]{1,3}|\r?\n|/\\*[ -)+.0-~]{0,9}\\*/|//[ -~]{0,9}\n",
    ) {
        let small = std::fs::read_to_string(folder("fuzz/seeds/yard/small.yard.ron")).unwrap();
        let text = at.into_iter().fold(small, |text, at| {
            let bent = bent(&text, at, &piece);
            // A piece in the midst of a word or a text makes no yard: there the text stays as it was.
            if barpoise_core::file::parse_yard(&bent, "bent").is_ok() { bent } else { text }
        });
        laws::keep::holds(&text);
    }

    #[test]
    fn law_a_bent_lesson_is_taken_or_refused_with_its_place(at: prop::sample::Index, piece in "\\PC{0,3}|[0-9]|\n|\"|,|\\)") {
        laws::lesson::holds(&bent(built_in_text(), at, &piece));
    }
}
