//! From a text to the mirror of its kind, and faults of the model back to their places in the text.

use super::error::{FileError, FileFault, MOST_LISTED};
use super::explain::{explain, wrong_version};
use super::kind::FileKind;
use super::locate::{Position, parent, places};
use super::tokens::next_token_start;
use crate::fault::Fault;
use ron::Options;
use ron::extensions::Extensions;
use serde::de::DeserializeOwned;

/// A text as the mirror of its kind: its version first, then its fields.
///
/// # Errors
/// The one fault at which the text stops being of this kind.
pub(crate) fn parsed<T: DeserializeOwned>(kind: &FileKind, text: &str, name: &str) -> Result<T, FileError> {
    let refuse = |fault| FileError::one(name, fault);
    if next_token_start(text, 0).is_none() {
        let noun = kind.noun;
        let message = format!("the file is empty (a {noun} begins with `(` and `version: 1,`)");
        return Err(refuse(FileFault::whole(message)));
    }
    match wrong_version(kind, text) {
        Some(fault) => Err(refuse(fault)),
        None => deserialised(kind, text).map_err(refuse),
    }
}

/// Without the mark that some editors put before a text.
pub(crate) fn without_mark(text: &str) -> &str {
    text.strip_prefix('\u{feff}').unwrap_or(text)
}

fn deserialised<T: DeserializeOwned>(kind: &FileKind, text: &str) -> Result<T, FileFault> {
    let nowhere = serde_path_to_error::Track::new().path();
    let mut deserializer = ron::Deserializer::from_str_with_options(text, &ron_options())
        .map_err(|error| explain(kind, text, &nowhere, &error))?;
    let file = serde_path_to_error::deserialize(&mut deserializer).map_err(|error| {
        let path = error.path().clone();
        explain(kind, text, &path, &deserializer.span_error(error.into_inner()))
    })?;
    deserializer.end().map_err(|error| explain(kind, text, &nowhere, &deserializer.span_error(error)))?;
    Ok(file)
}

/// Faults of the model in file order. A field that was left out stands where its owner begins.
pub(crate) fn located(text: &str, name: &str, faults: &[Fault]) -> FileError {
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
            FileFault::new(position, &fault.path, &fault.message)
        })
        .collect();
    FileError::several(name, listed, faults.len().saturating_sub(MOST_LISTED))
}

/// How files are written: values that may be left out stand without `Some(…)`.
pub(crate) fn ron_options() -> Options {
    Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}
