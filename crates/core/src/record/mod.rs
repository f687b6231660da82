//! A yard as its file writes it: plain parts, setups, woods and readings that nothing has checked yet.

mod part;
mod part_numbers;
mod person;
mod photograph;
mod quantity;
mod readings;
mod wood;
mod yard;

pub use part::{PartFile, PartId, PartKind, Users};
pub use person::{PeopleFile, PersonFile, SurveyFile};
pub use photograph::{Landmark, MarksFile, PhotographFile, PixelFile, SquareUpFile};
pub(crate) use quantity::COUNT;
pub use quantity::{Part, Quantity, Unknown};
pub use readings::{LearntFile, MeasuredFile, ReadingFile, WeighInFile};
pub use wood::{DiameterFile, HardnessFile, StandFile, WoodFile};
pub use yard::{
    BarFile, ChainFile, ConstructionFile, ExtraFile, HeadUncertaintyFile, InertiaFile, NoseFile,
    OLDEST_YARD_VERSION, OutlineFile, PointFile, PowerheadFile, SequenceFile, SetupFile, SprocketFile,
    TankFile, YARD_VERSION, YardFile,
};
