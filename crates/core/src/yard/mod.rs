//! A whole yard, checked: its person, its parts and setups, its woods, its readings.

mod named;
mod person;
mod reading;
mod sources;
mod whole;
mod wood;

pub(crate) use reading::unknowns_of;
pub use reading::{Measured, Reading, SawMeasure};
pub use sources::READING_ASSUMPTIONS;
pub use whole::Yard;
pub use wood::{Hardness, LogCount, Wood};
