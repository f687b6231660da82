//! What sets one kind of file apart from another, for its reader and its refusals.

/// A kind of file: how people call it, which versions are read, how large it may be.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FileKind {
    /// `yard`: goes after *a*.
    pub(crate) noun: &'static str,
    /// The oldest version that is read.
    pub(crate) oldest: u32,
    /// The newest version that is read, which is the one that is written.
    pub(crate) newest: u32,
    /// Lists whose items people count from one, and what they call an item.
    pub(crate) numbered: &'static [(&'static str, &'static str)],
    /// A larger file is none of this kind.
    pub(crate) largest_bytes: u64,
}
