//! Reading a yard, with every refusal located.

use super::contents::Contents;
use super::error::{FileError, FileFault};
use super::kind::FileKind;
use super::parse::{checked, without_mark};
use super::text::{decoded, read_bytes};
use super::whole::SAVING;
use crate::record::{OLDEST_YARD_VERSION, YARD_VERSION, YardFile};
use crate::yard::Yard;
use std::path::Path;

/// The demo yard's name in messages.
const DEMO_NAME: &str = "alder-flat.yard.ron";
/// The demo yard, built in so that it is there in any folder.
const DEMO_TEXT: &str = include_str!("../../../../assets-demo/alder-flat.yard.ron");
const YARD: FileKind = FileKind {
    noun: "yard",
    oldest: OLDEST_YARD_VERSION,
    newest: YARD_VERSION,
    numbered: &[("readings", "reading"), ("weigh_ins", "weigh-in")],
    largest_bytes: LARGEST_BYTES,
};
/// A larger file is no yard: ten thousand bars take less.
pub const LARGEST_BYTES: u64 = 4 << 20;

/// Reads a yard from a file.
///
/// # Errors
/// Whatever keeps the file from being read, or every fault found in it.
pub fn read_yard(path: &Path) -> Result<Yard, FileError> {
    read_yard_seen(path).map(|(yard, _)| yard)
}

/// Reads a yard from a file, with what stood in it, so that a change by others is noticed later.
///
/// # Errors
/// As [`read_yard`].
pub fn read_yard_seen(path: &Path) -> Result<(Yard, Contents), FileError> {
    let name = path.display().to_string();
    let bytes = read_bytes(&YARD, path).map_err(|fault| FileError::one(&name, fault))?;
    let contents = Contents::of(&bytes);
    let read = decoded(&YARD, bytes)
        .map_err(|fault| FileError::one(&name, fault))
        .and_then(|text| parse_yard(&text, &name));
    Ok((read.map_err(|error| with_saving_told(error, path))?, contents))
}

/// Where a save was cut short in the midst of a file, what it was to become stands whole beside it.
fn with_saving_told(error: FileError, path: &Path) -> FileError {
    let mut beside = path.canonicalize().unwrap_or_else(|_| path.to_owned()).into_os_string();
    beside.push(SAVING);
    let beside = Path::new(&beside);
    if !beside.is_file() {
        return error;
    }
    error.with(FileFault::whole(format_args!(
        "a save of this file was cut short; what it was to become stands whole as {}",
        beside.display()
    )))
}

/// Reads a yard from text; `name` stands for the file in messages.
///
/// # Errors
/// Every fault found in the text.
///
/// # Example
/// ```
/// use barpoise_core::file::{demo_text, parse_yard};
///
/// let cut_off = &demo_text()[..9000];
/// let error = parse_yard(cut_off, "my.yard.ron").unwrap_err();
/// assert!(error.first_line().contains("the file ends too early"));
/// ```
pub fn parse_yard(text: &str, name: &str) -> Result<Yard, FileError> {
    checked(&YARD, without_mark(text), name, |file: YardFile| Yard::new(file))
}

/// The text of the demo yard: the *Alder Flat woodlot*, invented.
pub const fn demo_text() -> &'static str {
    DEMO_TEXT
}

/// The demo yard: the *Alder Flat woodlot*, invented.
///
/// # Errors
/// None in a released program: a test loads it.
pub fn demo() -> Result<Yard, FileError> {
    parse_yard(DEMO_TEXT, DEMO_NAME)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::saw::solve;

    #[test]
    fn the_demo_yard_loads_and_is_what_it_says() {
        let yard = demo().unwrap();
        assert_eq!(yard.powerheads().len(), 2);
        assert_eq!(yard.bars().len(), 9);
        assert_eq!(yard.chains().len(), 3);
        assert_eq!(yard.setups().len(), 8);
        assert!(yard.note().contains("Invented"));
    }

    #[test]
    fn the_demo_loops_stand_in_the_middle_of_the_tensioner() {
        let yard = demo().unwrap();
        for setup in yard.setups() {
            let share = setup.tensioner_out() / setup.powerhead().tensioner_travel();
            assert!((0.4..=0.6).contains(&share), "{}: {share}", setup.name());
        }
    }

    #[test]
    fn the_demo_bars_go_from_level_to_nose_heavy() {
        let yard = demo().unwrap();
        let hang_deg = |name| solve(yard.setup(name).unwrap()).hang.unwrap().as_deg();
        assert!((0.0..6.0).contains(&hang_deg("Bittern B14")));
        assert!((8.0..12.0).contains(&hang_deg("Bittern B18")));
        assert!((18.0..24.0).contains(&hang_deg("Bittern B24")));
        assert!((28.0..38.0).contains(&hang_deg("Bittern B30")));
        assert!(hang_deg("Bittern B24 light") < hang_deg("Bittern B24"));
    }

    #[test]
    fn a_file_whose_save_was_cut_short_says_where_the_whole_one_is() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        std::fs::write(&path, &demo_text()[..9000]).unwrap();
        assert_eq!(read_yard(&path).unwrap_err().count(), 1);
        std::fs::write(folder.path().join("a.ron.saving"), demo_text()).unwrap();
        let said = read_yard(&path).unwrap_err().to_string();
        assert!(said.contains("the file ends too early") && said.contains("stands whole as"), "{said}");
        assert!(said.contains("a.ron.saving"), "{said}");
    }

    #[test]
    fn an_option_may_be_written_with_or_without_some() {
        let plain = demo_text();
        let wrapped = plain.replace("longest_bar_in: 30,", "longest_bar_in: Some(30),");
        assert_ne!(plain, wrapped);
        let read = parse_yard(&wrapped, "wrapped.ron").unwrap();
        assert_eq!(read.file(), demo().unwrap().file());
    }
}
