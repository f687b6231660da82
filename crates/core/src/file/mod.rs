//! Yard files: the mirror, reading with located errors, and writing.

mod mirror;
mod read;

pub use mirror::{
    BarFile, ChainFile, ConstructionFile, ExtraFile, InertiaFile, NoseFile, OutlineFile, PointFile,
    PowerheadFile, SequenceFile, SetupFile, SprocketFile, TankFile, YARD_VERSION, YardFile,
};
pub use read::{YardError, demo_yard, read_yard};
