//! Reading a yard, with every refusal located.

use super::contents::Contents;
use super::error::{MOST_LISTED, YardError, YardFault};
use super::explain::{explain, wrong_version};
use super::locate::{Position, next_token_start, parent, places};
use super::mirror::YardFile;
use crate::Yard;
use crate::fault::Fault;
use ron::Options;
use ron::extensions::Extensions;
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

/// The demo yard's name in messages.
const DEMO_NAME: &str = "alder-flat.yard.ron";
/// The demo yard, built in so that it is there in any folder.
const DEMO_TEXT: &str = include_str!("../../../../assets-demo/alder-flat.yard.ron");
/// A larger file is no yard: ten thousand bars take less.
pub(super) const LARGEST_BYTES: u64 = 4 << 20;

/// Reads a yard from a file.
///
/// # Errors
/// Whatever keeps the file from being read, or every fault found in it.
pub fn read_yard(path: &Path) -> Result<Yard, YardError> {
    read_yard_seen(path).map(|(yard, _)| yard)
}

/// Reads a yard from a file, with what stood in it, so that a change by others is noticed later.
///
/// # Errors
/// As [`read_yard`].
pub fn read_yard_seen(path: &Path) -> Result<(Yard, Contents), YardError> {
    let name = path.display().to_string();
    let bytes = read_bytes(path).map_err(|fault| YardError::one(&name, fault))?;
    let contents = Contents::of(&bytes);
    let text = decoded(bytes).map_err(|fault| YardError::one(&name, fault))?;
    Ok((parse_yard(&text, &name)?, contents))
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
pub fn parse_yard(text: &str, name: &str) -> Result<Yard, YardError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let refuse = |fault| YardError::one(name, fault);
    if next_token_start(text, 0).is_none() {
        return Err(refuse(YardFault::whole("the file is empty (a yard begins with `(` and `version: 1,`)")));
    }
    if let Some(fault) = wrong_version(text) {
        return Err(refuse(fault));
    }
    let file = deserialised(text).map_err(refuse)?;
    Yard::new(file).map_err(|faults| located(text, name, &faults))
}

fn deserialised(text: &str) -> Result<YardFile, YardFault> {
    let nowhere = serde_path_to_error::Track::new().path();
    let mut deserializer = ron::Deserializer::from_str_with_options(text, &ron_options())
        .map_err(|error| explain(text, &nowhere, &error))?;
    let file = serde_path_to_error::deserialize(&mut deserializer).map_err(|error| {
        let path = error.path().clone();
        explain(text, &path, &deserializer.span_error(error.into_inner()))
    })?;
    deserializer.end().map_err(|error| explain(text, &nowhere, &deserializer.span_error(error)))?;
    Ok(file)
}

/// Faults of the model in file order. A field that was left out stands where its owner begins.
fn located(text: &str, name: &str, faults: &[Fault]) -> YardError {
    let with_owners =
        faults.iter().flat_map(|fault| std::iter::successors(Some(fault.path.as_str()), |path| parent(path)));
    let places = places(text, with_owners);
    let start = |fault: &Fault| {
        std::iter::successors(Some(fault.path.as_str()), |path| parent(path))
            .find_map(|path| places.get(path))
            .copied()
    };
    let mut in_order: Vec<_> = faults.iter().map(|fault| (start(fault), fault)).collect();
    in_order.sort_by_key(|(start, _)| *start);
    let listed = in_order
        .iter()
        .take(MOST_LISTED)
        .map(|(start, fault)| {
            let position = start.map(|offset| Position::of(text, offset));
            YardFault::new(position, &fault.path, &fault.message)
        })
        .collect();
    YardError::several(name, listed, faults.len().saturating_sub(MOST_LISTED))
}

fn read_bytes(path: &Path) -> Result<Vec<u8>, YardFault> {
    let unreadable = |error: io::Error| YardFault::whole(unreadable(&error));
    let meta = std::fs::metadata(path).map_err(unreadable)?;
    if meta.is_dir() {
        return Err(YardFault::whole("this is a folder, not a yard file"));
    }
    if !meta.is_file() {
        return Err(YardFault::whole("this is a device or a pipe, not a yard file"));
    }
    if meta.len() > LARGEST_BYTES {
        return Err(too_large(meta.len()));
    }
    let mut bytes = Vec::new();
    // The file may have grown since.
    let mut file = File::open(path).map_err(unreadable)?.take(LARGEST_BYTES + 1);
    let read = file.read_to_end(&mut bytes).map_err(unreadable)? as u64;
    if read > LARGEST_BYTES {
        return Err(too_large(read));
    }
    Ok(bytes)
}

fn too_large(bytes: u64) -> YardFault {
    const KIB: u64 = 1 << 10;
    YardFault::whole(format_args!(
        "the file has {} KiB, more than the {} KiB that a yard may have",
        bytes.div_ceil(KIB),
        LARGEST_BYTES / KIB
    ))
}

fn unreadable(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file".to_owned(),
        io::ErrorKind::PermissionDenied => "the file may not be read (permission denied)".to_owned(),
        _ => format!("the file cannot be read ({error})"),
    }
}

fn decoded(bytes: Vec<u8>) -> Result<String, YardFault> {
    const UTF_16_MARKS: [[u8; 2]; 2] = [[0xff, 0xfe], [0xfe, 0xff]];
    if UTF_16_MARKS.iter().any(|mark| bytes.starts_with(mark)) {
        return Err(YardFault::whole("the text is in UTF-16 (save it as UTF-8)"));
    }
    if bytes.contains(&0) {
        return Err(YardFault::whole("this is a binary file, not a yard's text"));
    }
    String::from_utf8(bytes).map_err(|error| {
        let valid = error.utf8_error().valid_up_to();
        let bytes = error.into_bytes();
        let before = String::from_utf8_lossy(bytes.get(..valid).unwrap_or_default());
        let position = Position::of(&before, before.len());
        let byte = bytes.get(valid).copied().unwrap_or_default();
        let message = format!("the byte {byte:#04x} is not UTF-8 text (save the file as UTF-8)");
        YardFault::new(Some(position), "", message)
    })
}

/// The text of the demo yard: the *Alder Flat woodlot*, invented.
pub const fn demo_text() -> &'static str {
    DEMO_TEXT
}

/// The demo yard: the *Alder Flat woodlot*, invented.
///
/// # Errors
/// None in a released program: a test loads it.
pub fn demo() -> Result<Yard, YardError> {
    parse_yard(DEMO_TEXT, DEMO_NAME)
}

/// How yard files are written: values that may be left out stand without `Some(…)`.
pub(super) fn ron_options() -> Options {
    Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solve;

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
        assert!((0.0..6.0).contains(&hang_deg("Heron B14")));
        assert!((8.0..12.0).contains(&hang_deg("Heron B18")));
        assert!((18.0..24.0).contains(&hang_deg("Heron B24")));
        assert!((28.0..38.0).contains(&hang_deg("Heron B30")));
        assert!(hang_deg("Heron B24 light") < hang_deg("Heron B24"));
    }

    #[test]
    fn each_reason_a_file_stays_unread_has_its_words() {
        let said = |kind| unreadable(&io::Error::from(kind));
        assert_eq!(said(io::ErrorKind::NotFound), "there is no such file");
        assert_eq!(said(io::ErrorKind::PermissionDenied), "the file may not be read (permission denied)");
        assert!(said(io::ErrorKind::Interrupted).starts_with("the file cannot be read ("));
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
