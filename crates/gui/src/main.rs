//! The program: the command line, or the window.

// No console behind the window on Windows. What a command prints there goes into a pipe or a file:
// `barpoise figures | more`. A debug build keeps its console.
#![cfg_attr(all(windows, not(debug_assertions)), windows_subsystem = "windows")]

use barpoise::cli::{self, Outcome};
use std::io::Write;
use std::process::ExitCode;

fn main() -> ExitCode {
    let (mut out, mut err) = (std::io::stdout().lock(), std::io::stderr());
    match cli::run(std::env::args_os(), &mut out, &mut err) {
        Outcome::Exit(code) => ExitCode::from(code),
        Outcome::Window(path) => {
            drop(out);
            match barpoise::window::open(path.as_deref()) {
                Ok(()) => ExitCode::SUCCESS,
                Err(error) => {
                    // A closed standard error leaves nothing to tell it to.
                    let why = cli::no_window(&error.to_string(), |name| std::env::var_os(name));
                    let _ = writeln!(err, "barpoise: {why}");
                    ExitCode::FAILURE
                }
            }
        }
    }
}
