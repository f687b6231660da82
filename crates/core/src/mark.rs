//! Where a number comes from, said beside it.

use std::fmt;

/// Where a number that a user sees the effect of comes from.
///
/// There are three words for it: *published*, *common practice* and *our guess*. What was read in another text
/// than its source, or is known from memory alone, is published with a note.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// Printed in this source, and read there.
    Published(&'static str),
    /// From this source, read in a text that quotes it.
    SecondHand(&'static str),
    /// From this source, as remembered: not looked up.
    FromMemory(&'static str),
    /// What the trade does; there is no source.
    CommonPractice,
    /// Chosen for this program; there is no source.
    OurGuess,
}

impl Mark {
    /// What the three words mean, for wherever they stand.
    pub const LEGEND: &str = "published: in a source that is named; common practice: the trade does so, no source; \
        our guess: chosen for this program, no source";

    /// The word that stands beside the number.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Published(_) | Self::SecondHand(_) | Self::FromMemory(_) => "published",
            Self::CommonPractice => "common practice",
            Self::OurGuess => "our guess",
        }
    }

    /// What a reader should know before they trust the source.
    pub const fn note(self) -> Option<&'static str> {
        match self {
            Self::SecondHand(_) => Some("as quoted by others"),
            Self::FromMemory(_) => Some("from memory, not looked up"),
            Self::Published(_) | Self::CommonPractice | Self::OurGuess => None,
        }
    }

    /// The source, where there is one.
    pub const fn source(self) -> Option<&'static str> {
        match self {
            Self::Published(source) | Self::SecondHand(source) | Self::FromMemory(source) => Some(source),
            Self::CommonPractice | Self::OurGuess => None,
        }
    }
}

impl fmt::Display for Mark {
    /// Word, source and note in one line.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.words())?;
        match self.source() {
            Some(source) => write!(f, ": {source}")?,
            None => write!(f, ", no source")?,
        }
        self.note().map_or(Ok(()), |note| write!(f, " ({note})"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_legend_explains_every_word() {
        for mark in [Mark::Published("A 2001"), Mark::CommonPractice, Mark::OurGuess] {
            assert!(Mark::LEGEND.contains(&format!("{}:", mark.words())), "{mark}");
        }
    }

    #[test]
    fn a_mark_says_word_source_and_note() {
        let said = |mark: Mark| mark.to_string();
        assert_eq!(said(Mark::Published("A 2001, table 2")), "published: A 2001, table 2");
        assert_eq!(said(Mark::SecondHand("A 2001")), "published: A 2001 (as quoted by others)");
        assert_eq!(said(Mark::FromMemory("A 2001")), "published: A 2001 (from memory, not looked up)");
        assert_eq!(said(Mark::CommonPractice), "common practice, no source");
        assert_eq!(said(Mark::OurGuess), "our guess, no source");
    }
}
