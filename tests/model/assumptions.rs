//! No number that calls itself a guess, or what the trade does, stands outside the lists that are shown.

#![expect(clippy::unwrap_used, reason = "helpers of tests, outside a test function")]

use std::path::{Path, PathBuf};

fn files_in(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let found = entries.flat_map(|path| if path.is_dir() { files_in(&path) } else { vec![path] });
    found.filter(|path| path.extension().is_some_and(|ending| ending == "rs")).collect()
}

fn source_of(krate: &str) -> Vec<(PathBuf, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates").join(krate);
    files_in(&root).into_iter().map(|path| (path.clone(), std::fs::read_to_string(&path).unwrap())).collect()
}

/// Name of a constant that a line defines.
fn constant(line: &str) -> Option<&str> {
    let (before, after) = line.trim_start().split_once("const ")?;
    let is_one = before.is_empty() || before.starts_with("pub");
    let name = after.split(':').next()?;
    (is_one
        && !name.is_empty()
        && name.chars().all(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || c == '_'))
    .then_some(name)
}

/// Constants under a comment that calls them so: those that follow it without a break.
fn assumed(text: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let (mut comment, mut calls) = (String::new(), false);
    for line in text.lines().take_while(|line| !line.contains("#[cfg(test)]")) {
        let trimmed = line.trim_start();
        if let Some(said) = trimmed.strip_prefix("///") {
            comment.push_str(said);
            continue;
        }
        if !comment.is_empty() {
            let said = comment.to_lowercase().replace('*', "");
            calls = said.contains("our guess") || said.contains("common practice");
            comment.clear();
        }
        match constant(trimmed) {
            Some(name) if calls => found.push(name),
            _ if trimmed.is_empty() || trimmed.starts_with("pub fn") => calls = false,
            _ => {}
        }
    }
    found
}

#[test]
fn law_every_constant_that_is_assumed_stands_in_a_list_that_is_shown() {
    let core = source_of("core/src");
    let shown: Vec<&String> =
        core.iter().filter(|(path, _)| path.ends_with("sources.rs")).map(|(_, text)| text).collect();
    assert!(shown.len() >= 7, "{} lists", shown.len());
    let mut count = 0;
    for (path, text) in core.iter().filter(|(path, _)| !path.ends_with("sources.rs")) {
        for name in assumed(text).into_iter().filter(|name| !name.ends_with("MARK") && *name != "COMMON") {
            count += 1;
            let is_word = |text: &str| {
                text.split(|c: char| !c.is_ascii_alphanumeric() && c != '_').any(|word| word == name)
            };
            // A photograph's list stands with its numbers.
            let here = path.ends_with("assumed.rs");
            assert!(here || shown.iter().any(|text| is_word(text)), "{}: {name}", path.display());
        }
    }
    assert!(count > 40, "only {count} were found");
}

#[test]
fn assumed_constants_are_found_with_those_that_follow_them() {
    let text = "/// Two (our guess).\npub const ONE: f64 = 1.0;\nconst TWO: f64 = 2.0;\n\nconst NOT: f64 = 0.0;\n\
        /// The trade's, *common practice*.\npub(super) const THREE: f64 = 3.0;\n/// A fact.\nconst NOR: f64 = 4.0;\n";
    assert_eq!(assumed(text), ["ONE", "TWO", "THREE"]);
}
