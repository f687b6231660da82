//! What is packed goes with the program: manual, completions and icons are those of today, and what the package says
//! of the program is so.

#![expect(clippy::unwrap_used, reason = "helpers of tests, outside a test function")]

#[path = "../../crates/gui/packaging/generate.rs"]
mod generate;

use std::path::{Path, PathBuf};

/// What is installed lies here.
fn packaging() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("packaging")
}

fn read(name: &str) -> String {
    std::fs::read_to_string(packaging().join(name)).unwrap()
}

#[test]
fn what_follows_from_the_program_is_up_to_date() {
    let made = generate::files().unwrap();
    let old: Vec<&str> = made
        .iter()
        .filter(|(name, bytes)| std::fs::read(packaging().join(name)).ok().as_ref() != Some(bytes))
        .map(|(name, _)| name.as_str())
        .collect();
    assert!(
        old.is_empty(),
        "{old:?} of packaging are out of date: cargo run -p barpoise --example packaging"
    );
    for folder in ["man", "completions"] {
        for entry in std::fs::read_dir(packaging().join(folder)).unwrap() {
            let name = format!("{folder}/{}", entry.unwrap().file_name().to_str().unwrap());
            assert!(made.iter().any(|(made, _)| *made == name), "{name} follows from no command any more");
        }
    }
}

#[test]
fn every_command_has_its_page_and_the_pages_warn() {
    let commands: Vec<String> =
        barpoise::cli::command().get_subcommands().map(|command| command.get_name().to_owned()).collect();
    assert!(commands.len() >= 5, "{commands:?}");
    let whole = read("man/barpoise.1");
    for command in commands {
        assert!(packaging().join(format!("man/barpoise-{command}.1")).is_file(), "{command}");
        assert!(whole.contains(&command.replace('-', "\\-")), "{command}");
    }
    assert!(whole.contains("A longer bar does not reduce kickback"), "{whole}");
}

/// What `cargo deb` packs is there, and all that lies in the folder is packed.
#[test]
fn the_package_holds_what_is_there() {
    let cargo_toml =
        std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.toml")).unwrap();
    let packed: Vec<&str> =
        cargo_toml.split('"').filter_map(|piece| piece.strip_prefix("packaging/")).collect();
    for file in ["barpoise.desktop", "barpoise.metainfo.xml", "barpoise-mime.xml", "icons/barpoise.svg"] {
        assert!(packed.contains(&file), "{file}: {packed:?}");
    }
    for name in packed.iter().filter(|name| !name.contains('*')) {
        assert!(packaging().join(name).is_file(), "{name} is packed and not there");
    }
    for (name, _) in generate::files().unwrap() {
        let any = format!("{}/*", name.split('/').next().unwrap());
        assert!(packed.contains(&name.as_str()) || packed.contains(&any.as_str()), "{name} is not packed");
    }
}

#[test]
fn the_window_finds_its_entry_and_its_icon() {
    let entry = read("barpoise.desktop");
    for line in ["Name=Barpoise", "Exec=barpoise %f", "Icon=barpoise", "StartupWMClass=barpoise"] {
        assert!(entry.lines().any(|found| found == line), "{line}");
    }
    assert!(barpoise::window::icon().is_some_and(|icon| icon.width == 128 && icon.height == 128));
}

#[test]
fn the_version_told_is_the_programs() {
    let version = env!("CARGO_PKG_VERSION");
    assert!(read("barpoise.metainfo.xml").contains(&format!("<release version=\"{version}\" ")));
    assert!(read("man/barpoise.1").contains(version));
}

/// The licence's first line is the copyright that the fonts state in their own tables.
#[test]
fn the_licence_of_the_typeface_has_the_copyright_of_the_fonts() {
    let fonts = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("fonts");
    let licence = std::fs::read_to_string(fonts.join("LICENSE-OFL.txt")).unwrap();
    for name in ["BarpoiseSans-Regular.otf", "BarpoiseSans-SemiBold.otf"] {
        let bytes = std::fs::read(fonts.join(name)).unwrap();
        let face = ttf_parser::Face::parse(&bytes, 0).unwrap();
        let copyright = face
            .names()
            .into_iter()
            .filter(|entry| entry.name_id == ttf_parser::name_id::COPYRIGHT_NOTICE)
            .find_map(|entry| entry.to_string())
            .unwrap();
        assert_eq!(licence.lines().next(), Some(copyright.as_str()), "{name}");
    }
}
