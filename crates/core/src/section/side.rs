//! The sides of a log.

/// A side of the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Side {
    /// −x, where the operator stands first.
    Near,
    /// +x.
    Far,
}
