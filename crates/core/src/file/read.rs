//! Reading a yard, with every refusal located.

use super::error::YardError;
use super::mirror::YardFile;
use crate::Yard;
use ron::Options;
use ron::extensions::Extensions;
use std::path::Path;

/// The demo yard's name in messages.
const DEMO_NAME: &str = "alder-flat.yard.ron";
/// The demo yard, built in so that it is there in any folder.
const DEMO_TEXT: &str = include_str!("../../../../assets-demo/alder-flat.yard.ron");

/// Reads a yard from a file.
///
/// # Errors
/// Whatever keeps the file from being read, or every fault found in it.
pub fn read_yard(path: &Path) -> Result<Yard, YardError> {
    let name = path.display().to_string();
    let text = std::fs::read_to_string(path).map_err(|error| YardError::plain(&name, error))?;
    parse_yard(&text, &name)
}

/// Reads a yard from text; `name` stands for the file in messages.
///
/// # Errors
/// Every fault found in the text.
pub fn parse_yard(text: &str, name: &str) -> Result<Yard, YardError> {
    let file: YardFile = ron_options().from_str(text).map_err(|error| YardError::plain(name, error))?;
    Yard::new(file).map_err(|faults| {
        YardError::plain(name, faults.first().map_or_else(String::new, ToString::to_string))
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
}
