//! The person who holds the saw.

pub mod hold;
