//! What is said of things, in one place for window, command line and paper.

pub mod cut;
pub mod excerpt;
pub mod hold;
pub mod kickback;
pub mod limits;
pub mod person;
pub mod rack;
pub mod weigh_in;
