//! The command line: figures and checks for people, spreadsheets and other programs, with no display needed.

mod args;
mod args_drawn;
mod args_log;
mod args_person;
mod check;
mod check_lesson;
mod choose;
mod cut;
mod drawn;
mod figures;
mod sources;
mod table;
mod weigh_in;

use crate::desk::format::{ForceUnit, LengthUnit, MassUnit, Units};
use args::{Args, Command};
use args_person::PersonArgs;
use barpoise_core::Yard;
use barpoise_core::file::{FileError, demo, read_yard, read_yard_seen};
use barpoise_core::lesson::read_lesson;
use clap::{CommandFactory, Parser};
use std::ffi::OsString;
use std::fmt;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// What is left to do after the command line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Nothing: leave with this code. 0 is success, 1 a refused yard or name, 2 a command that is not one.
    Exit(u8),
    /// Open the window, on the demo where there is no yard file.
    Window(Option<PathBuf>),
}

/// Why a command ends without its result.
#[derive(Debug)]
enum CliError {
    /// The yard was refused.
    Yard(FileError),
    /// No setup has that name.
    UnknownSetup { name: String, yard: String, known: Vec<String> },
    /// The log cannot be cut as asked.
    Cut(String),
    /// No wood has that name.
    UnknownWood { name: String, yard: String, known: Vec<String> },
    /// The readings teach nothing.
    WeighIn(String),
    /// The yard could not be written.
    Save(String),
    /// The drawing could not be made.
    Drawn(String),
    /// The figures could not be put into the asked form.
    Form(String),
}

impl fmt::Display for CliError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Yard(error) => error.fmt(f),
            Self::UnknownSetup { name, yard, known } => {
                write!(f, "there is no setup named `{name}` in {yard}; there is {}", known.join(", "))
            }
            Self::UnknownWood { name, yard, known } if known.is_empty() => {
                write!(f, "there is no wood named `{name}` in {yard}; there is none at all")
            }
            Self::UnknownWood { name, yard, known } => {
                write!(f, "there is no wood named `{name}` in {yard}; there is {}", known.join(", "))
            }
            Self::Cut(reason) => write!(f, "this cut cannot be planned: {reason}"),
            Self::WeighIn(reason) => write!(f, "nothing was learnt: {reason}"),
            Self::Save(reason) => write!(f, "not saved: {reason}"),
            Self::Drawn(reason) => write!(f, "not drawn: {reason}"),
            Self::Form(reason) => write!(f, "the figures cannot be written: {reason}"),
        }
    }
}

impl From<FileError> for CliError {
    fn from(error: FileError) -> Self {
        Self::Yard(error)
    }
}

/// The definition of the command line, from which manual and completions are made.
pub fn command() -> clap::Command {
    Args::command()
}

/// Does what the arguments ask, the program's own name first. Results go to `out`, refusals to `err`.
pub fn run(args: impl IntoIterator<Item = OsString>, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
    let args = match Args::try_parse_from(args) {
        Ok(args) => args,
        Err(message) => {
            let text = format!("{}\n", message.render().to_string().trim_end());
            return if message.use_stderr() { refuse(err, &text, 2) } else { finish(out, err, &text) };
        }
    };
    let result = match &args.command {
        None => {
            return match args.file.as_deref().and_then(misspelt) {
                Some(text) => refuse(err, &text, 2),
                None => Outcome::Window(args.file),
            };
        }
        Some(Command::Figures(asked)) => {
            for_person(asked.file.as_deref(), &asked.person).and_then(|yard| figures::figures(&yard, asked))
        }
        Some(Command::Cut(asked)) => {
            for_person(asked.file.as_deref(), &asked.person).and_then(|yard| cut::cut(&yard, asked))
        }
        Some(Command::Choose(asked)) => {
            for_person(asked.file.as_deref(), &asked.person).and_then(|yard| choose::choose(&yard, asked))
        }
        Some(Command::WeighIn(asked)) => {
            let read = read_yard_seen(&asked.file).map_err(CliError::from);
            read.and_then(|(yard, seen)| weigh_in::weigh_in(&yard, seen, asked))
        }
        Some(Command::Handout(asked)) => {
            for_person(asked.file.as_deref(), &asked.person).and_then(|yard| drawn::handout(&yard, asked))
        }
        Some(Command::Picture(asked)) => {
            for_person(asked.file.as_deref(), &asked.person).and_then(|yard| drawn::picture(&yard, asked))
        }
        Some(Command::Check { file }) if check_lesson::is_lesson(file) => {
            let read = read_lesson(file).map_err(CliError::from);
            read.map(|lesson| check_lesson::report(&lesson, file))
        }
        Some(Command::Check { file }) => opened(Some(file)).map(|yard| check::report(&yard, file)),
    };
    match result {
        Ok(text) => finish(out, err, &text),
        Err(error) => refuse(err, &format!("{error}\n"), 1),
    }
}

/// What is said of a plain word that is no command and names no file: a yard's file has an ending.
fn misspelt(file: &Path) -> Option<String> {
    let word = file.to_str()?;
    let is_plain = !word.is_empty() && word.chars().all(|c| c.is_alphabetic() || c == '-');
    if !is_plain || file.exists() {
        return None;
    }
    let commands = command();
    let known: Vec<&str> = commands.get_subcommands().map(clap::Command::get_name).collect();
    Some(format!("there is no command and no file `{word}`; commands are {}\n", known.join(", ")))
}

/// The units of words for people.
const fn units_of(choice: args::Units) -> Units {
    match choice {
        args::Units::MmKg => Units { length: LengthUnit::Mm, mass: MassUnit::Kg, force: ForceUnit::Kgf },
        args::Units::InLb => Units { length: LengthUnit::In, mass: MassUnit::Lb, force: ForceUnit::Lbf },
    }
}

fn opened(file: Option<&Path>) -> Result<Yard, CliError> {
    Ok(file.map_or_else(demo, read_yard)?)
}

/// A yard with the person that was asked for in the place of its own.
fn for_person(file: Option<&Path>, asked: &PersonArgs) -> Result<Yard, CliError> {
    opened(file).and_then(|yard| asked.put_into(yard))
}

/// A text without what a terminal would take for an order or would turn the line round by: control characters but the ends
/// of lines and the tab, and the marks that reverse the way of writing. Each leaves a sign that something was there.
fn harmless(text: &str) -> String {
    let is_order = |c: char| {
        (c.is_control() && !matches!(c, '\n' | '\t'))
            || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    text.chars().map(|c| if is_order(c) { char::REPLACEMENT_CHARACTER } else { c }).collect()
}

/// Writes a result. A reader that has seen enough and closed the pipe is no failure.
fn finish(out: &mut dyn Write, err: &mut dyn Write, text: &str) -> Outcome {
    match out.write_all(harmless(text).as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => Outcome::Exit(0),
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Outcome::Exit(0),
        Err(error) => refuse(err, &format!("the output cannot be written: {error}\n"), 1),
    }
}

/// Says why; where nobody can be told, the code alone says it.
fn refuse(err: &mut dyn Write, text: &str, code: u8) -> Outcome {
    let told = err.write_all(harmless(text).as_bytes()).and_then(|()| err.flush());
    drop(told);
    Outcome::Exit(code)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_that_a_terminal_would_obey_is_written() {
        let mut out = Vec::new();
        let text = "B24\u{1b}[31m red\u{7}\tand\r back\u{202e}\n";
        assert!(matches!(finish(&mut out, &mut Vec::new(), text), Outcome::Exit(0)));
        let written = String::from_utf8(out).unwrap();
        assert_eq!(written, "B24\u{fffd}[31m red\u{fffd}\tand\u{fffd} back\u{fffd}\n");
        let mut err = Vec::new();
        refuse(&mut err, "no yard \u{9b}31m\n", 1);
        assert_eq!(String::from_utf8(err).unwrap(), "no yard \u{fffd}31m\n");
    }

    /// A sink that fails like a closed pipe or a full disk.
    struct Failing(io::ErrorKind);

    impl Write for Failing {
        fn write(&mut self, _: &[u8]) -> io::Result<usize> {
            Err(io::Error::from(self.0))
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    fn args(words: &[&str]) -> Vec<OsString> {
        std::iter::once("barpoise").chain(words.iter().copied()).map(OsString::from).collect()
    }

    #[test]
    fn no_command_opens_the_window() {
        let window = |words: &[&str]| run(args(words), &mut Vec::new(), &mut Vec::new());
        assert_eq!(window(&[]), Outcome::Window(None));
        assert_eq!(window(&["my yard.ron"]), Outcome::Window(Some("my yard.ron".into())));
    }

    #[test]
    fn a_closed_pipe_is_no_failure_and_a_full_disk_is() {
        let mut said = Vec::new();
        let mut with = |kind| run(args(&["figures"]), &mut Failing(kind), &mut said);
        assert_eq!(with(io::ErrorKind::BrokenPipe), Outcome::Exit(0));
        assert_eq!(with(io::ErrorKind::StorageFull), Outcome::Exit(1));
        let said = String::from_utf8(said).unwrap();
        assert_eq!(said.lines().count(), 1, "{said}");
        assert!(said.starts_with("the output cannot be written: "), "{said}");
    }

    #[test]
    fn a_refusal_nobody_reads_still_has_its_code() {
        let mut closed = Failing(io::ErrorKind::BrokenPipe);
        let outcome = run(args(&["check", "/no/such.yard.ron"]), &mut Vec::new(), &mut closed);
        assert_eq!(outcome, Outcome::Exit(1));
    }
}
