//! The rooms and layers of both crates, read off their source: no rooms name each other in a circle, what stands lower in
//! the window's crate names nothing that stands higher, the desk knows no toolkit, and every file says what it is about.

#![expect(clippy::unwrap_used, reason = "helpers of tests, outside a test function")]

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// Each layer and the layers that it may name.
const LAYERS: [(&str, &[&str]); 4] = [
    ("desk", &["desk"]),
    ("draw", &["desk", "draw"]),
    ("cli", &["desk", "draw", "cli"]),
    ("window", &["desk", "draw", "window"]),
];

/// Crates that show, paint or ask: none of them is the desk's business.
const TOOLKIT: [&str; 8] =
    ["egui", "eframe", "egui_plot", "kurbo", "lyon_tessellation", "resvg", "rfd", "winit"];

fn source() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates/gui/src")
}

fn model() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates/core/src")
}

fn files_in(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let found = entries.flat_map(|path| if path.is_dir() { files_in(&path) } else { vec![path] });
    found.filter(|path| path.extension().is_some_and(|ending| ending == "rs")).collect()
}

/// The code of a file without what is said of it.
fn code_of(path: &Path) -> String {
    let text = std::fs::read_to_string(path).unwrap();
    let lines = text.lines().map(|line| line.split("//").next().unwrap_or_default());
    lines.collect::<Vec<_>>().join("\n")
}

/// What a file names of its own crate: layer, and room in it where it is said.
fn named(code: &str) -> BTreeSet<(String, Option<String>)> {
    let word = |text: &str| text.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect::<String>();
    let mut names = BTreeSet::new();
    for (at, found) in code.match_indices("crate::") {
        if code[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_') {
            continue;
        }
        let rest = &code[at + found.len()..];
        let layer = word(rest);
        let after = rest[layer.len()..].strip_prefix("::");
        let room = after.map(word).filter(|room| room.starts_with(|c: char| c.is_lowercase()));
        names.insert((layer, room));
    }
    names
}

/// The first folder or file under a folder: `document` of `desk/document/history.rs`, `edit` of `desk/edit.rs`.
fn room_of(folder: &Path, path: &Path) -> String {
    let inside = path.strip_prefix(folder).unwrap();
    let first = inside.components().next().unwrap();
    Path::new(first.as_os_str()).with_extension("").display().to_string()
}

/// Takes rooms away that name none that is left; what stays is a circle, or names one.
fn circle(mut names: BTreeMap<String, BTreeSet<String>>) -> BTreeMap<String, BTreeSet<String>> {
    loop {
        let left: BTreeSet<String> = names.keys().cloned().collect();
        names.retain(|room, named| named.iter().any(|other| other != room && left.contains(other)));
        if names.len() == left.len() {
            return names;
        }
    }
}

#[test]
fn every_file_stands_in_a_layer() {
    let top: Vec<String> = std::fs::read_dir(source())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| !LAYERS.iter().any(|(layer, _)| layer == name))
        .collect();
    assert!(top.iter().all(|name| ["lib.rs", "main.rs"].contains(&name.as_str())), "{top:?}");
}

#[test]
fn no_layer_names_one_above_it() {
    for (layer, allowed) in LAYERS {
        let files = files_in(&source().join(layer));
        assert!(!files.is_empty(), "{layer} is empty");
        for path in files {
            let code = code_of(&path);
            assert!(!code.contains("super::super::"), "{}: which layer is that?", path.display());
            for (named, _) in named(&code) {
                assert!(allowed.contains(&named.as_str()), "{}: {layer} names {named}", path.display());
            }
        }
    }
}

#[test]
fn no_rooms_of_a_layer_name_each_other_in_a_circle() {
    for (layer, _) in LAYERS {
        let folder = source().join(layer);
        let mut names: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for path in files_in(&folder) {
            let others = named(&code_of(&path)).into_iter().filter(|(other, _)| other == layer);
            names.entry(room_of(&folder, &path)).or_default().extend(others.filter_map(|(_, room)| room));
        }
        assert!(names.len() > 2, "{layer} has rooms");
        let circle = circle(names);
        assert!(circle.is_empty(), "in {layer} these name each other in a circle: {circle:#?}");
    }
}

#[test]
fn no_rooms_of_the_model_name_each_other_in_a_circle() {
    let mut names: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    // Tests look across: those that have a file of their own, and those at the end of one.
    let is_test =
        |path: &Path| path.file_stem().is_some_and(|name| name.to_string_lossy().ends_with("tests"));
    for path in files_in(&model()).into_iter().filter(|path| !path.ends_with("lib.rs") && !is_test(path)) {
        let code = code_of(&path);
        let code = code.split("#[cfg(test)]").next().unwrap();
        let others: BTreeSet<String> = named(code).into_iter().map(|(room, _)| room).collect();
        let hidden = others.iter().find(|name| !name.starts_with(|c: char| c.is_lowercase()));
        assert!(hidden.is_none(), "{}: of which room is {hidden:?}?", path.display());
        names.entry(room_of(&model(), &path)).or_default().extend(others);
    }
    assert!(names.len() > 10, "the model has rooms");
    let circle = circle(names);
    assert!(circle.is_empty(), "these name each other in a circle: {circle:#?}");
}

#[test]
fn circles_are_found_with_what_names_them() {
    let rooms = |names: &[(&str, &str)]| {
        let mut rooms: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for (room, other) in names {
            rooms.entry((*room).to_owned()).or_default().insert((*other).to_owned());
        }
        circle(rooms).into_keys().collect::<Vec<_>>()
    };
    assert!(rooms(&[("a", "b"), ("a", "a"), ("b", "c"), ("c", "egui")]).is_empty());
    assert_eq!(rooms(&[("a", "b"), ("b", "c"), ("c", "b"), ("d", "e"), ("e", "e")]), ["a", "b", "c"]);
}

#[test]
fn every_file_says_first_what_it_is_about() {
    for path in [files_in(&source()), files_in(&model())].concat() {
        let text = std::fs::read_to_string(&path).unwrap();
        let first = text.lines().next().unwrap_or_default();
        assert!(first.starts_with("//! ") && first.len() > 12, "{}: {first}", path.display());
    }
}

#[test]
fn the_desk_knows_no_toolkit() {
    for path in files_in(&source().join("desk")) {
        let code = code_of(&path);
        for toolkit in TOOLKIT {
            assert!(!code.contains(&format!("{toolkit}::")), "{} names {toolkit}", path.display());
        }
    }
}

#[test]
fn names_are_found_wherever_they_stand() {
    let found = named(
        "use crate::desk::edit::{Edit, Edits};\nlet x = my_crate::no(crate::draw::theme::BODY, crate::window);",
    );
    let pair = |layer: &str, room: Option<&str>| (layer.to_owned(), room.map(str::to_owned));
    let wanted = [pair("desk", Some("edit")), pair("draw", Some("theme")), pair("window", None)];
    assert_eq!(found, wanted.into_iter().collect());
}
