//! The parts that a yard's setups play in a lesson, so that one lesson serves any yard.

use serde::{Deserialize, Serialize};

/// A part in a step. Which setup plays it is up to the open yard, see [`super::Cast`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Role {
    /// What is on the bench.
    OnBench,
    /// The shortest bar of the head on the bench.
    Shortest,
    /// Its longest bar.
    Longest,
    /// Two to four bars of that head, from the shortest to the longest. It stands alone in a step.
    EachBar,
    /// A setup whose bar carries the same stamp as one on another head.
    SameStamp,
    /// That one on the other head.
    SameStampOtherHead,
    /// A solid bar of which the same head has a light one of the same length.
    Solid,
    /// That light one.
    Light,
}

impl Role {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::OnBench,
        Self::Shortest,
        Self::Longest,
        Self::EachBar,
        Self::SameStamp,
        Self::SameStampOtherHead,
        Self::Solid,
        Self::Light,
    ];

    /// In the trade's words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::OnBench => "saw on the bench",
            Self::Shortest => "shortest bar",
            Self::Longest => "longest bar",
            Self::EachBar => "each bar of the head",
            Self::SameStamp => "one marked length",
            Self::SameStampOtherHead => "same marked length, other head",
            Self::Solid => "solid bar",
            Self::Light => "light bar of the same length",
        }
    }

    /// As it stands in the file.
    pub fn file_name(self) -> String {
        format!("{self:?}")
    }

    /// So many setups play it: the least and the most.
    pub(super) const fn players(self) -> (usize, usize) {
        match self {
            Self::EachBar => (2, super::checks::MOST_SIDE_BY_SIDE),
            _ => (1, 1),
        }
    }
}
