//! Files: reading with located errors; yard files with their mirror and their writer.

mod contents;
pub(crate) mod error;
mod explain;
pub(crate) mod kind;
mod locate;
mod mirror;
mod mirror_weigh_in;
mod mirror_wood;
pub(crate) mod nearest;
pub(crate) mod parse;
mod part;
mod part_numbers;
mod read;
mod save;
pub(crate) mod text;
mod whole;
mod write;

pub use contents::Contents;
pub use error::{FileError, FileFault};
pub use locate::Position;
pub use mirror::{
    BarFile, ChainFile, ConstructionFile, ExtraFile, HeadUncertaintyFile, InertiaFile, NoseFile,
    OLDEST_YARD_VERSION, OutlineFile, PointFile, PowerheadFile, SequenceFile, SetupFile, SprocketFile,
    TankFile, YARD_VERSION, YardFile,
};
pub use mirror_weigh_in::{LearntFile, MeasuredFile, ReadingFile, WeighInFile};
pub use mirror_wood::{DiameterFile, HardnessFile, StandFile, WoodFile};
pub use part::{PartFile, PartId, PartKind, Users};
pub use read::{demo, demo_text, parse_yard, read_yard, read_yard_seen};
pub use save::{KeptCopy, Over, SaveError, Saved, save_yard, save_yard_over};
pub use whole::{WriteError, write_whole};
pub use write::to_ron;
