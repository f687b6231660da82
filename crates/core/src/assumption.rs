//! A number that is taken where nobody measured: what it is, how large, and where it comes from.
//!
//! Each room keeps its own list beside the numbers it takes, in a file `sources.rs`; what is not in one of them is not shown.

use crate::mark::Mark;

/// How large an assumed number is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Size {
    /// A length, m.
    Length(f64),
    /// An angle, rad.
    Angle(f64),
    /// A mass, kg.
    Mass(f64),
    /// A time, s.
    Time(f64),
    /// A plain share of what the words say.
    Share(f64),
    /// So many.
    Count(u32),
    /// So many of a unit that nobody shows otherwise; none for a plain number.
    In(f64, &'static str),
    /// Tables, or a rule without a number of its own.
    Many,
}

/// Something that figures are computed with, and where it comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Assumption {
    /// What it is.
    pub what: &'static str,
    /// How large.
    pub size: Size,
    /// Where it comes from.
    pub mark: Mark,
}

impl Assumption {
    /// Chosen for this program.
    pub const fn guess(what: &'static str, size: Size) -> Self {
        known(what, size, Mark::OurGuess)
    }
}

/// Chosen for this program.
pub(crate) const fn guess(what: &'static str, size: Size) -> Assumption {
    Assumption::guess(what, size)
}

/// What the trade does.
pub(crate) const fn practice(what: &'static str, size: Size) -> Assumption {
    known(what, size, Mark::CommonPractice)
}

/// With a mark of its own.
pub(crate) const fn known(what: &'static str, size: Size, mark: Mark) -> Assumption {
    Assumption { what, size, mark }
}
