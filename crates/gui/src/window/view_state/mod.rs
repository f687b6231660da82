//! How a person looks at the yard: kept between runs, never part of a yard, never undone.

mod photograph;
mod rack;

use crate::desk::document::Wishes;
use crate::desk::format::Units;
use crate::desk::forms::parts::PartsState;
use crate::desk::forms::reading::Entry;
use crate::desk::lesson::TeachView;
use crate::draw::theme::Paper;
use barpoise_core::units::Angle;
pub use photograph::{Loading, PhotographView, Picture};
pub use rack::{Pasted, RackColumn, RackColumnShown, RackDrawing, RackView};

/// The rooms of the window.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum Room {
    /// One saw on the bench: weight, hang, hands, reach, nose.
    #[default]
    Bench,
    /// The saw before a log: how it takes it apart.
    Log,
    /// Every setup over the wood ahead: which one goes on.
    Rack,
    /// One's own saw on the scale: what readings teach.
    WeighIn,
    /// Powerheads, bars, chains and setups, to be added and changed.
    Parts,
    /// A lesson over the yard's setups, step by step.
    Teach,
}

impl Room {
    /// Every room in the order of the window's head.
    pub const ALL: [Self; 6] = [Self::Bench, Self::Log, Self::Rack, Self::WeighIn, Self::Parts, Self::Teach];

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Bench => "Bench",
            Self::Log => "Log",
            Self::Rack => "Rack",
            Self::WeighIn => "Weigh-in",
            Self::Parts => "Parts",
            Self::Teach => "Teach",
        }
    }
}

/// The figures that the weigh-in draws over the bar length.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
pub enum Charted {
    /// Hang angle.
    #[default]
    Hang,
    /// Weight ready to work.
    Weight,
    /// Reach past the spikes.
    Reach,
    /// Load in the front hand, the saw level.
    FrontHand,
}

/// What the window remembers.
#[derive(Clone, Debug, Default, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(default)]
pub struct ViewState {
    /// The room that is open.
    pub room: Room,
    /// Units.
    pub units: Units,
    /// Light or dark.
    pub paper: Paper,
    /// Zoom of the window, 1 for none; `None` until it is changed.
    pub zoom: Option<f32>,
    /// The hints of the first minute stand on the bench.
    pub hints_shown: bool,
    /// The cautions are folded to their first line; the rest is a press away.
    pub cautions_folded: bool,
    /// The bench has a field for the length of the plate beside mark and reach.
    pub plate_shown: bool,
    /// Pitch at which the saw is held, degrees, nose up positive.
    pub held_pitch_deg: f64,
    /// How far the cut of the log has run: whole settings, and the share of the one at work.
    pub cut_run: f64,
    /// The cut runs by itself.
    #[serde(skip)]
    pub cut_plays: bool,
    /// How the rack is seen.
    pub rack: RackView,
    /// The figure on the chart of the weigh-in.
    pub charted: Charted,
    /// The lesson, and where it stands.
    pub teach: TeachView,
    /// The log and what is wanted of a setup, as they were left.
    pub wishes: Option<Wishes>,
    /// Nothing moves by itself that does not have to.
    pub less_motion: bool,
    /// The reading that is being typed.
    #[serde(skip)]
    pub entry: Entry,
    /// The parts that are being made and changed.
    #[serde(skip)]
    pub parts: PartsState,
    /// The photograph that is being marked.
    #[serde(skip)]
    pub photograph: Option<PhotographView>,
}

impl ViewState {
    /// Pitch at which the saw is held, nose up positive.
    pub const fn held_pitch(&self) -> Angle {
        Angle::from_deg(self.held_pitch_deg)
    }
}
