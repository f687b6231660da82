//! stub
use std::ffi::OsString;
use std::io::Write;
use std::path::PathBuf;
/// stub
#[derive(Debug)]
pub enum Outcome {
    /// e
    Exit(u8),
    /// w
    Window(Option<PathBuf>),
}
/// stub
pub fn run(args: impl IntoIterator<Item = OsString>, _o: &mut dyn Write, _e: &mut dyn Write) -> Outcome {
    Outcome::Window(args.into_iter().nth(1).map(PathBuf::from))
}
