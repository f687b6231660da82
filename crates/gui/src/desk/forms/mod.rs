//! What is typed, and what becomes of it.

pub mod parts;
pub mod person;
pub mod reading;
