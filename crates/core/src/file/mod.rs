//! Yard files: the mirror, reading with located errors, and writing.

mod error;
mod mirror;
mod read;

pub use error::YardError;
pub use mirror::{
    BarFile, ChainFile, ConstructionFile, ExtraFile, InertiaFile, NoseFile, OutlineFile, PointFile,
    PowerheadFile, SequenceFile, SetupFile, SprocketFile, TankFile, YARD_VERSION, YardFile,
};
pub use read::{demo, demo_text, parse_yard, read_yard};
