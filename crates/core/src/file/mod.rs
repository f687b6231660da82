//! Yard files: the mirror, reading with located errors, and writing.

mod error;
mod explain;
mod locate;
mod mirror;
mod mirror_weigh_in;
mod mirror_wood;
mod nearest;
mod part;
mod part_numbers;
mod read;
mod save;
mod write;

pub use error::{YardError, YardFault};
pub use locate::Position;
pub use mirror::{
    BarFile, ChainFile, ConstructionFile, ExtraFile, HeadUncertaintyFile, InertiaFile, NoseFile,
    OLDEST_YARD_VERSION, OutlineFile, PointFile, PowerheadFile, SequenceFile, SetupFile, SprocketFile,
    TankFile, YARD_VERSION, YardFile,
};
pub use mirror_weigh_in::{LearntFile, MeasuredFile, ReadingFile, WeighInFile};
pub use mirror_wood::{DiameterFile, HardnessFile, StandFile, WoodFile};
pub use part::{PartFile, PartId, PartKind, Users};
pub use read::{demo, demo_text, parse_yard, read_yard};
pub use save::{SaveError, Saved, save_yard};
pub use write::to_ron;
