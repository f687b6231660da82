//! The README is true: its commands do what it says, its links lead somewhere, and what it says of codes is so.

#![expect(clippy::unwrap_used, reason = "helpers of tests, outside a test function")]

use barpoise_core::file::demo_text;
use std::path::{Path, PathBuf};
use std::process::Command;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn read(name: &str) -> String {
    std::fs::read_to_string(root().join(name)).unwrap()
}

/// Each line of the shell in a text, without what is said beside it.
fn commands(text: &str) -> Vec<String> {
    let blocks = text.split("```sh\n").skip(1).map(|rest| rest.split("```").next().unwrap());
    let lines = blocks.flat_map(str::lines).map(|line| line.split(" #").next().unwrap().trim().to_owned());
    lines.filter(|line| !line.is_empty()).collect()
}

/// The words of a line as a shell takes them apart; quotes keep spaces.
fn words(line: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            letter => words.last_mut().unwrap().push(letter),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

/// The code with which the program leaves, and what it says.
fn ran(args: &[&str], folder: &Path) -> (i32, String) {
    let mut program = Command::new(env!("CARGO_BIN_EXE_barpoise"));
    program.args(args).current_dir(folder).env_remove("DISPLAY").env_remove("WAYLAND_DISPLAY");
    let output = program.output().unwrap();
    let said = [output.stdout, output.stderr].concat();
    (output.status.code().unwrap(), String::from_utf8_lossy(&said).into_owned())
}

#[test]
fn every_command_of_the_readme_runs_and_writes_what_it_names() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("my.yard.ron"), demo_text()).unwrap();
    let (mut run, mut opened) = (0, 0);
    for line in commands(&read("README.md")) {
        let all = words(&line);
        let Some(("barpoise", args)) = all.split_first().map(|(first, rest)| (first.as_str(), rest)) else {
            assert!(line.starts_with("cargo "), "{line} is neither ours nor cargo's");
            continue;
        };
        let args: Vec<&str> = args.iter().map(String::as_str).collect();
        let has_command =
            barpoise::cli::command().get_subcommands().any(|known| args.first() == Some(&known.get_name()));
        let (code, said) = ran(&args, folder.path());
        if has_command {
            assert_eq!(code, 0, "{line}: {said}");
            run += 1;
        } else {
            // The window: the call is understood, and without a display there is none.
            assert!(code == 1 && args.len() <= 1 && !said.contains("Usage"), "{line}: {code} {said}");
            opened += 1;
        }
        if let Some(at) = args.iter().position(|arg| *arg == "-o") {
            let written = std::fs::metadata(folder.path().join(args[at + 1])).unwrap();
            assert!(written.len() > 1000, "{line} writes {} bytes", written.len());
        }
    }
    assert!(run >= 9 && opened >= 2, "{run} run, {opened} open the window");
}

#[test]
fn what_cargo_is_asked_for_in_both_texts_is_there() {
    let (packages, mut asked) = (["barpoise", "barpoise-core", "barpoise-checks"], 0);
    for line in commands(&(read("README.md") + &read("DEVELOPERS.md"))) {
        for call in line.split("&&").map(words).filter(|call| call.first().is_some_and(|of| of == "cargo")) {
            let after = |flag: &str| {
                let place = call.iter().position(|word| word == flag)?;
                call.get(place + 1).map(String::as_str)
            };
            for package in after("-p").into_iter() {
                asked += 1;
                assert!(packages.contains(&package), "{line}: no package {package}");
            }
            for path in after("--path").into_iter() {
                asked += 1;
                assert!(root().join(path).join("Cargo.toml").is_file(), "{line}: nothing in {path}");
            }
            for profile in after("--profile").into_iter() {
                asked += 1;
                assert!(read("Cargo.toml").contains(&format!("[profile.{profile}]")), "{line}: no {profile}");
            }
        }
    }
    assert!(asked >= 4, "only {asked} were looked at");
}

#[test]
fn every_file_that_the_texts_link_to_is_there() {
    let mut found = 0;
    for name in ["README.md", "DEVELOPERS.md"] {
        let text = read(name);
        for link in text.split("](").skip(1).map(|rest| rest.split(')').next().unwrap()) {
            found += 1;
            assert!(root().join(link).exists(), "{name}: {link}");
        }
    }
    assert!(found >= 10, "{found}");
}

#[test]
fn exit_codes_are_those_of_the_readme() {
    let folder = tempfile::tempdir().unwrap();
    let said = read("README.md").replace('\n', " ");
    for words in [
        "Exit code 0 is success",
        "1 a yard or a setup's name that was refused",
        "2 a call that was not understood",
    ] {
        assert!(said.contains(words), "{words}");
    }
    for (code, args) in [
        (0, &["check", "my.yard.ron"][..]),
        (1, &["check", "none.yard.ron"]),
        (1, &["figures", "--setup", "None"]),
        (2, &["figures", "--colour"]),
        (2, &["cut", "--setup", "Bittern B18", "--diameter", "9"]),
        // A misspelt command is no file.
        (2, &["figurs"]),
        (2, &["weighin"]),
    ] {
        std::fs::write(folder.path().join("my.yard.ron"), demo_text()).unwrap();
        let (found, said) = ran(args, folder.path());
        assert_eq!(found, code, "{args:?}: {said}");
    }
    let (_, said) = ran(&["figurs"], folder.path());
    assert!(said.contains("no command and no file `figurs`") && said.contains("figures"), "{said}");
}
