//! What is beyond a limit of the head, in words for window, command line and paper.

use crate::desk::format;
use barpoise_core::units::Length;

/// `bar longer than the head is meant for, at most 30 in: out`, for the limit of a head that its bar is beyond.
pub fn beyond_longest_bar(longest: Option<Length>) -> Option<String> {
    longest.map(|longest| {
        format!("bar longer than the head is meant for, at most {}: out", format::marked_length(longest))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use barpoise_core::file::demo;
    use barpoise_core::{Yard, solve};

    #[test]
    fn a_bar_is_out_from_the_first_inch_beyond_its_heads_longest() {
        let mut file = demo().unwrap().file().clone();
        let said = |file: &barpoise_core::record::YardFile| {
            let yard = Yard::new(file.clone()).unwrap();
            beyond_longest_bar(solve(yard.setup("Bittern B24").unwrap()).beyond_longest_bar)
        };
        let of = |file: &mut barpoise_core::record::YardFile, inches| {
            for head in &mut file.powerheads {
                head.longest_bar_in = inches;
            }
        };
        of(&mut file, Some(24.0));
        assert_eq!(said(&file), None);
        of(&mut file, None);
        assert_eq!(said(&file), None);
        of(&mut file, Some(23.0));
        assert_eq!(said(&file).as_deref(), Some("bar longer than the head is meant for, at most 23 in: out"));
    }
}
