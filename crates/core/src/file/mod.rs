//! Yard files: the mirror, reading with located errors, and writing.

mod mirror;

pub use mirror::{
    BarFile, ChainFile, ConstructionFile, ExtraFile, InertiaFile, NoseFile, OutlineFile, PointFile,
    PowerheadFile, SequenceFile, SetupFile, SprocketFile, TankFile, YARD_VERSION, YardFile,
};
