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
use crate::desk::lesson::is_lesson;
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
    let args = match Args::try_parse_from(with_help_as_option(args)) {
        Ok(args) => args,
        Err(message) => {
            let text = format!("{}\n", message.render().to_string().trim_end());
            return if message.use_stderr() { refuse(err, &text, 2) } else { finish(out, err, &text) };
        }
    };
    // A yard that was written stands, whatever becomes of the report on it.
    let mut applied = None;
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
            read.and_then(|(yard, seen)| weigh_in::weigh_in(&yard, seen, asked, &mut applied, err))
        }
        Some(Command::Handout(asked)) => for_person(asked.file.as_deref(), &asked.person)
            .and_then(|yard| drawn::handout(&yard, asked, err)),
        Some(Command::Picture(asked)) => for_person(asked.file.as_deref(), &asked.person)
            .and_then(|yard| drawn::picture(&yard, asked, err)),
        Some(Command::Check { file }) if is_lesson(file) => {
            let read = read_lesson(file).map_err(CliError::from);
            read.map(|lesson| check_lesson::report(&lesson, file))
        }
        Some(Command::Check { file }) => opened(Some(file)).map(|yard| check::report(&yard, file)),
    };
    let all_the_same = applied.map(|path| format!("{} was written all the same\n", path.display()));
    match (result, all_the_same) {
        (Ok(text), None) => finish(out, err, &text),
        (Ok(text), Some(all_the_same)) => match write_out(out, &text) {
            Ok(()) => Outcome::Exit(0),
            Err(error) => {
                let text = format!("the report cannot be written: {error}; {all_the_same}");
                refuse(err, &text, u8::from(error.kind() != io::ErrorKind::BrokenPipe))
            }
        },
        (Err(error), None) => refuse(err, &format!("{error}\n"), 1),
        (Err(error), Some(all_the_same)) => refuse(err, &format!("{error}; {all_the_same}"), 1),
    }
}

/// `help cut` as `cut --help`, which is how the rest of the program knows it.
fn with_help_as_option(args: impl IntoIterator<Item = OsString>) -> Vec<OsString> {
    let mut args: Vec<OsString> = args.into_iter().collect();
    if args.get(1).is_some_and(|word| word == "help") {
        args.remove(1);
        args.push("--help".into());
    }
    args
}

/// Why there is no window, and what to do about it where the display is to blame; `variable` looks into the environment.
pub fn no_window(error: &str, variable: impl Fn(&str) -> Option<OsString>) -> String {
    /// How the window's library begins the words for a display that it does not reach.
    const DISPLAY_FAILED: &str = "EventLoopError";
    let named = ["WAYLAND_DISPLAY", "DISPLAY"].into_iter().find_map(|name| Some((name, variable(name)?)));
    match named.filter(|_| error.contains(DISPLAY_FAILED)) {
        Some((name, display)) => format!(
            "no window: the display `{}` that {name} names cannot be reached. Start the program from a desktop, or set \
             {name} to the display that is running; `barpoise figures` and the other commands need none",
            display.to_string_lossy()
        ),
        None => error.to_owned(),
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
    match write_out(out, text) {
        Ok(()) => Outcome::Exit(0),
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Outcome::Exit(0),
        Err(error) => refuse(err, &format!("the output cannot be written: {error}\n"), 1),
    }
}

fn write_out(out: &mut dyn Write, text: &str) -> io::Result<()> {
    out.write_all(harmless(text).as_bytes()).and_then(|()| out.flush())
}

/// Says beside the result what file was really meant, where a link was named.
fn say_link(err: &mut dyn Write, named: &Path, written: &Path) {
    if std::fs::symlink_metadata(named).is_ok_and(|meta| meta.is_symlink()) {
        let text = format!("{} is a link; {} was written\n", named.display(), written.display());
        // Nobody reads it: the result stands.
        let _ = err.write_all(harmless(&text).as_bytes());
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
    fn a_report_that_fails_says_that_the_yard_was_written() {
        let folder = tempfile::tempdir().unwrap();
        for (kind, code) in [(io::ErrorKind::BrokenPipe, 0), (io::ErrorKind::StorageFull, 1)] {
            let path = folder.path().join("a.ron");
            std::fs::write(&path, barpoise_core::file::demo_text()).unwrap();
            let before = std::fs::read(&path).unwrap();
            let mut said = Vec::new();
            let words = ["weigh-in", path.to_str().unwrap(), "--apply", "--even-so"];
            assert_eq!(run(args(&words), &mut Failing(kind), &mut said), Outcome::Exit(code));
            let said = String::from_utf8(said).unwrap();
            assert!(said.ends_with(&format!("{} was written all the same\n", path.display())), "{said}");
            assert_ne!(std::fs::read(&path).unwrap(), before);
        }
    }

    #[test]
    fn help_is_a_word_as_well_as_an_option() {
        let said = |words: &[&str]| {
            let mut out = Vec::new();
            assert_eq!(run(args(words), &mut out, &mut Vec::new()), Outcome::Exit(0), "{words:?}");
            String::from_utf8(out).unwrap()
        };
        assert_eq!(said(&["help"]), said(&["--help"]));
        assert_eq!(said(&["help", "cut"]), said(&["cut", "--help"]));
    }

    #[test]
    fn a_display_that_is_not_there_is_named_with_what_to_do() {
        let error = "the window could not be opened: winit EventLoopError: os error";
        let bad = |name: &str| (name == "DISPLAY").then(|| OsString::from(":77"));
        let said = no_window(error, bad);
        assert!(said.contains("the display `:77` that DISPLAY names cannot be reached"), "{said}");
        assert!(said.contains("set DISPLAY") && said.contains("barpoise figures"), "{said}");
        assert_eq!(no_window("no yard", bad), "no yard");
        assert_eq!(no_window(error, |_| None), error);
    }

    #[test]
    fn a_refusal_nobody_reads_still_has_its_code() {
        let mut closed = Failing(io::ErrorKind::BrokenPipe);
        let outcome = run(args(&["check", "/no/such.yard.ron"]), &mut Vec::new(), &mut closed);
        assert_eq!(outcome, Outcome::Exit(1));
    }
}
