//! From a text to the mirror of its kind, and faults of the model back to their places in the text.

use super::error::{FileError, FileFault, MOST_LISTED};
use super::explain::{Broken, explain, wrong_version};
use super::kind::FileKind;
use super::locate::{Position, last_before, parent, places};
use super::mend::Mending;
use super::tokens::next_token_start;
use crate::fault::Fault;
use ron::Options;
use ron::extensions::Extensions;
use serde::de::DeserializeOwned;

/// A text as what its kind is checked to be: its version first, then its fields, then what they say.
///
/// # Errors
/// Every fault that can be told: behind one at which the text stops being of its kind, those that it has without it.
pub(crate) fn checked<T: DeserializeOwned, V>(
    kind: &FileKind,
    text: &str,
    name: &str,
    check: impl FnOnce(T) -> Result<V, Vec<Fault>>,
) -> Result<V, FileError> {
    if next_token_start(text, 0).is_none() {
        let noun = kind.noun;
        let message = format!("the file is empty (a {noun} begins with `(` and `version: 1,`)");
        return Err(FileError::one(name, FileFault::whole(message)));
    }
    if let Some(fault) = wrong_version(kind, text) {
        return Err(FileError::one(name, fault));
    }
    let mut mending = Mending::new(text);
    let mut found = Vec::new();
    if let Some(first) = text.find('\0') {
        found.push(nul(text, first));
        mending.without('\0');
    }
    for _ in 0..most_passes(text) {
        let Broken { offset, path, message, mend } = match deserialised(kind, mending.text()) {
            Ok(file) => {
                let faults = check(file);
                if found.is_empty() {
                    return faults.map_err(|faults| located(text, name, &faults));
                }
                found.extend(behind(&mending, faults.err().unwrap_or_default()));
                break;
            }
            Err(broken) => broken,
        };
        if !mending.explains(&path) {
            let offset = mending.origin(offset);
            found.push(Told {
                start: Some(offset),
                message: counted(kind, &path, &message),
                path: path.clone(),
            });
        }
        match mend.filter(|_| found.len() < MOST_LISTED) {
            Some(mend) => mending.mend(path, &mend),
            None => break,
        }
    }
    Err(in_file_order(text, name, found))
}

/// So often is a text read again with its faults mended: seldom where it is long, for nobody waits for that.
fn most_passes(text: &str) -> usize {
    const BYTES_IN_ALL: usize = 64 << 20;
    const FEWEST: usize = 8;
    const MOST: usize = 200;
    (BYTES_IN_ALL / text.len().max(1)).clamp(FEWEST, MOST)
}

/// The refusal of a text that holds NUL: as a file does that was cut short when a computer went down.
fn nul(text: &str, first: usize) -> Told {
    let many = text.matches('\0').count();
    let (path, _) = last_before(text, first);
    let message = format!("here stands a NUL byte, which is no text; {many} in the file (take it out)");
    Told { start: Some(first), path, message }
}

/// The message with its item as people count it, as the model's own messages have it.
fn counted(kind: &FileKind, path: &str, message: &str) -> String {
    let number = kind.numbered.iter().find_map(|(list, word)| {
        let rest = path.strip_prefix(list)?.strip_prefix('[')?;
        let index: usize = rest.split(']').next()?.parse().ok()?;
        Some(format!("{word} {}: {message}", index + 1))
    });
    number.unwrap_or_else(|| message.to_owned())
}

/// A fault with its byte in the text, where it has one.
struct Told {
    start: Option<usize>,
    path: String,
    message: String,
}

/// Faults of the model in a mended text that are none of the mending.
fn behind(mending: &Mending<'_>, faults: Vec<Fault>) -> Vec<Told> {
    let faults: Vec<Fault> =
        faults.into_iter().filter(|fault| !mending.has_guessed_at(&fault.path)).collect();
    starts(mending.text(), &faults)
        .into_iter()
        .map(|(start, fault)| Told {
            start: start.map(|start| mending.origin(start)),
            path: fault.path.clone(),
            message: fault.message.clone(),
        })
        .collect()
}

fn in_file_order(text: &str, name: &str, mut told: Vec<Told>) -> FileError {
    told.sort_by_key(|fault| fault.start);
    let unlisted = told.len().saturating_sub(MOST_LISTED);
    let listed = told.iter().take(MOST_LISTED).map(|Told { start, path, message }| {
        let position = start.map(|offset| Position::of(text, offset));
        FileFault::new(position, path, message)
    });
    FileError::several(name, listed.collect(), unlisted)
}

/// Without the mark that some editors put before a text.
pub(crate) fn without_mark(text: &str) -> &str {
    text.strip_prefix('\u{feff}').unwrap_or(text)
}

fn deserialised<T: DeserializeOwned>(kind: &FileKind, text: &str) -> Result<T, Broken> {
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
    let told = starts(text, faults).into_iter().map(|(start, fault)| Told {
        start,
        path: fault.path.clone(),
        message: fault.message.clone(),
    });
    in_file_order(text, name, told.collect())
}

/// Each fault with the byte at which its field stands, or the nearest owner of it that is there.
fn starts<'f>(text: &str, faults: &'f [Fault]) -> Vec<(Option<usize>, &'f Fault)> {
    let with_owners =
        faults.iter().flat_map(|fault| std::iter::successors(Some(fault.path.as_str()), |path| parent(path)));
    let places = places(text, with_owners);
    let start = |fault: &Fault| {
        std::iter::successors(Some(fault.path.as_str()), |path| parent(path))
            .find_map(|path| places.get(path))
            .copied()
    };
    faults.iter().map(|fault| (start(fault), fault)).collect()
}

/// How files are written: values that may be left out stand without `Some(…)`.
pub(crate) fn ron_options() -> Options {
    Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}
