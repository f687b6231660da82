//! The program: the command line, and from it the window.

use barpoise::cli::{Outcome, run};
use std::io;
use std::process::ExitCode;

fn main() -> ExitCode {
    match run(std::env::args_os(), &mut io::stdout().lock(), &mut io::stderr().lock()) {
        Outcome::Exit(code) => ExitCode::from(code),
        Outcome::Window(_) => ExitCode::SUCCESS,
    }
}
