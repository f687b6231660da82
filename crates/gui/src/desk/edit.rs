//! What a view may ask of the document. Nothing else changes it.

use barpoise_core::log::{Bind, Kind, Stand, Tangle};
use barpoise_core::rack::{Anchors, CheckKind, Limit, LogCount, Measure, Threshold, WorkRates};
use barpoise_core::record::{PartFile, PartId, PartKind, PersonFile, ReadingFile, WoodFile};
use barpoise_core::units::{Angle, Length};
use barpoise_core::weigh_in::Choice;

/// One change, as a person means it.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Put one of the yard's setups on the bench.
    PickSetup(String),
    /// Change the head.
    PickPowerhead(String),
    /// Change the bar to another of the rack, of any construction.
    PickBar(String),
    /// Change the chain.
    PickChain(String),
    /// Move the nose: a bar of this overall length of the same family.
    BarLength(Length),
    /// Move the nose to a rack bar of the same family.
    SnapToBar(String),
    /// Fuel, 0 empty to 1 full.
    FuelFill(f64),
    /// Bar oil, 0 empty to 1 full.
    OilFill(f64),
    /// The limit mark on the hang scale.
    HangLimit(Angle),
    /// The setup to compare with, or none.
    CompareWith(Option<String>),
    /// Change the log, or the settings on it.
    Log(LogEdit),
    /// Readings of the saw, and what is learnt from them.
    WeighIn(WeighInEdit),
    /// Change the yard's parts and setups.
    Parts(PartsEdit),
    /// The person in the yard; without one, an average man stands there.
    Person(Option<PersonFile>),
    /// The wood ahead, and what is wanted of a setup for it.
    Rack(RackEdit),
    /// One step back.
    Undo,
    /// One step forward again.
    Redo,
}

impl Edit {
    /// The step's name in the menu.
    pub const fn step_name(&self) -> &'static str {
        match self {
            Self::PickSetup(_) => "pick setup",
            Self::PickPowerhead(_) => "pick powerhead",
            Self::PickBar(_) => "pick bar",
            Self::PickChain(_) => "pick chain",
            Self::BarLength(_) | Self::SnapToBar(_) => "move the nose",
            Self::FuelFill(_) => "fuel level",
            Self::OilFill(_) => "oil level",
            Self::HangLimit(_) => "hang limit",
            Self::CompareWith(_) => "compare",
            Self::Log(change) => change.step_name(),
            Self::WeighIn(change) => change.step_name(),
            Self::Parts(change) => change.step_name(),
            Self::Person(Some(_)) => "change person",
            Self::Person(None) => "average person",
            Self::Rack(change) => change.step_name(),
            Self::Undo | Self::Redo => "",
        }
    }
}

/// A change of the log before the saw.
#[derive(Clone, Debug, PartialEq)]
pub enum LogEdit {
    /// Diameter across; an oval keeps its shape.
    Diameter(Length),
    /// Diameter upright; `None` for a round log.
    Height(Option<Length>),
    /// Height of the underside above the ground.
    Clearance(Length),
    /// Where the person stands.
    Stand(Stand),
    /// An end of a piece of bark within reach.
    BarkEnd {
        /// Which piece.
        arc: usize,
        /// Its end rather than its beginning, counter-clockwise.
        far_end: bool,
        /// Where to, counter-clockwise from the far side.
        angle: Angle,
    },
    /// The bark that goes with the stand again.
    WholeBark,
    /// How far the bar swings about the spikes, up and down from straight in.
    Swing {
        /// Nose up.
        upward: Angle,
        /// Nose down.
        downward: Angle,
    },
    /// Where branches stand.
    Tangle(Tangle),
    /// Where the wood binds.
    Bind(Bind),
    /// Spikes of one setting to another place on the bark.
    MoveSetting {
        /// Which setting, from 0.
        index: usize,
        /// Where to, counter-clockwise from the far side.
        bark: Angle,
    },
    /// An end of one setting's swing to another direction.
    SwingEnd {
        /// Which setting, from 0.
        index: usize,
        /// Its beginning rather than its end.
        start: bool,
        /// From straight in, counter-clockwise.
        angle: Angle,
    },
    /// How far one setting is laid on from, or runs off.
    Way {
        /// Which setting, from 0.
        index: usize,
        /// What is laid on rather than what runs off.
        lay_on: bool,
        /// How far.
        way: Length,
    },
    /// One more setting after the others.
    AddSetting,
    /// One setting less.
    RemoveSetting(usize),
    /// One setting earlier.
    SettingEarlier(usize),
    /// One setting the other way: up instead of down.
    TurnSetting(usize),
    /// One setting a sink or a pivot.
    SettingKind {
        /// Which setting, from 0.
        index: usize,
        /// What it becomes.
        kind: Kind,
    },
    /// The plan again instead of own settings.
    PlanAgain,
}

impl LogEdit {
    const fn step_name(&self) -> &'static str {
        match self {
            Self::Diameter(_) | Self::Height(_) => "log diameter",
            Self::Clearance(_) => "height above ground",
            Self::Stand(_) => "stand",
            Self::BarkEnd { .. } | Self::WholeBark => "bark within reach",
            Self::Swing { .. } => "swing limits",
            Self::Tangle(_) => "tangle",
            Self::Bind(_) => "bind",
            Self::MoveSetting { .. } => "move a setting",
            Self::SwingEnd { .. } => "end of a swing",
            Self::Way { .. } => "way of a setting",
            Self::AddSetting => "add a setting",
            Self::RemoveSetting(_) => "remove a setting",
            Self::SettingEarlier(_) => "order of settings",
            Self::TurnSetting(_) => "turn a setting round",
            Self::SettingKind { .. } => "sink or pivot",
            Self::PlanAgain => "plan again",
        }
    }
}

/// A change of the yard's readings, or of what was learnt from them.
#[derive(Clone, Debug, PartialEq)]
pub enum WeighInEdit {
    /// One more reading.
    AddReading(ReadingFile),
    /// Another reading in the place of this one.
    ChangeReading(usize, ReadingFile),
    /// No longer this reading.
    RemoveReading(usize),
    /// Keep this reading, but use it or not.
    LeaveOut(usize, bool),
    /// Which numbers the readings may change.
    Learn(Choice),
    /// Write what was learnt into the yard.
    Apply {
        /// The day, such as 2026-11-25.
        date: String,
    },
    /// The numbers before the newest weigh-in again.
    PutBack,
    /// Somebody counted the links of a bar's loop.
    CountLinks {
        /// Name of the bar.
        bar: String,
        /// How many there are.
        links: u32,
    },
}

impl WeighInEdit {
    const fn step_name(&self) -> &'static str {
        match self {
            Self::AddReading(_) => "add reading",
            Self::ChangeReading(..) => "change reading",
            Self::RemoveReading(_) => "remove reading",
            Self::LeaveOut(..) => "leave reading out",
            Self::Learn(_) => "pick what is learnt",
            Self::Apply { .. } => "apply weigh-in",
            Self::PutBack => "put back",
            Self::CountLinks { .. } => "count links",
        }
    }
}

/// A change of the yard's parts and setups.
#[derive(Clone, Debug, PartialEq)]
pub enum PartsEdit {
    /// One more part.
    Add(PartFile),
    /// The same part once more under a free name.
    Duplicate(PartId),
    /// Other numbers or names for parts, all at once; what names them follows.
    Change(Vec<(PartId, PartFile)>),
    /// Without a part.
    Delete {
        /// Which.
        id: PartId,
        /// With all that uses it; else it is refused where anything does.
        with_users: bool,
    },
}

impl PartsEdit {
    const fn step_name(&self) -> &'static str {
        match self {
            Self::Add(part) => match part.kind() {
                PartKind::Powerhead => "add powerhead",
                PartKind::Bar => "add bar",
                PartKind::Chain => "add chain",
                PartKind::Setup => "add setup",
            },
            Self::Duplicate(id) => match id.kind {
                PartKind::Powerhead => "duplicate powerhead",
                PartKind::Bar => "duplicate bar",
                PartKind::Chain => "duplicate chain",
                PartKind::Setup => "duplicate setup",
            },
            Self::Change(changes) => match changes.as_slice() {
                [(id, _)] => match id.kind {
                    PartKind::Powerhead => "change powerhead",
                    PartKind::Bar => "change bar",
                    PartKind::Chain => "change chain",
                    PartKind::Setup => "change setup",
                },
                _ => "change parts",
            },
            Self::Delete { id, .. } => match id.kind {
                PartKind::Powerhead => "delete powerhead",
                PartKind::Bar => "delete bar",
                PartKind::Chain => "delete chain",
                PartKind::Setup => "delete setup",
            },
        }
    }
}

/// A change of a wood, or of what is wanted for it.
#[derive(Clone, Debug, PartialEq)]
pub enum RackEdit {
    /// Go through another wood.
    PickWood(String),
    /// One more wood, which is then picked.
    AddWood(WoodFile),
    /// Another wood in the place of the one of this name.
    ChangeWood(String, WoodFile),
    /// The same wood once more under a name of its own, which is then picked.
    DuplicateWood(String),
    /// No longer this wood.
    DeleteWood(String),
    /// How many cuts there are of a diameter.
    SetCuts {
        /// The wood.
        wood: String,
        /// Place of the diameter in the wood's list.
        place: usize,
        /// How many.
        cuts: u32,
    },
    /// One more diameter; more cuts of it where the wood has it already.
    AddDiameter {
        /// The wood.
        wood: String,
        /// The diameter and its count.
        log: LogCount,
    },
    /// No longer this diameter.
    RemoveDiameter {
        /// The wood.
        wood: String,
        /// Place of the diameter in the wood's list.
        place: usize,
    },
    /// Other diameters altogether.
    ReplaceDiameters {
        /// The wood.
        wood: String,
        /// Diameters and counts.
        logs: Vec<LogCount>,
    },
    /// Where a limit stands; it is then in force.
    Limit(Limit),
    /// A limit in force or not.
    LimitInForce(Measure, bool),
    /// Whether a setup that does not suit itself is refused.
    MustSuit(bool),
    /// From where on something suits.
    Threshold(CheckKind, Threshold),
    /// What the work takes beside the wood.
    Rates(WorkRates),
    /// How much a measure counts.
    Weigh(Measure, f64),
    /// Where a measure's scale begins and ends.
    Anchor(Measure, Anchors),
    /// Keep a setup on top of the table, or not.
    Pin(String, bool),
    /// Lay a setup over another: the first or the second of the drawing.
    Lay {
        /// The second rather than the first.
        second: bool,
        /// Which; `None` for the one that goes on, or the next after it.
        setup: Option<String>,
    },
}

impl RackEdit {
    const fn step_name(&self) -> &'static str {
        match self {
            Self::PickWood(_) => "pick wood",
            Self::AddWood(_) => "add wood",
            Self::ChangeWood(..) => "change wood",
            Self::DuplicateWood(_) => "duplicate wood",
            Self::DeleteWood(_) => "delete wood",
            Self::SetCuts { .. } => "number of cuts",
            Self::AddDiameter { .. } => "add diameter",
            Self::RemoveDiameter { .. } => "remove diameter",
            Self::ReplaceDiameters { .. } => "replace diameters",
            Self::Limit(_) | Self::LimitInForce(..) => "limit",
            Self::MustSuit(_) => "must suit",
            Self::Threshold(..) => "what suits",
            Self::Rates(_) => "what work takes",
            Self::Weigh(..) => "what counts",
            Self::Anchor(..) => "scale",
            Self::Pin(..) => "pin setup",
            Self::Lay { .. } => "lay over",
        }
    }
}

/// Edits of one drag share a gesture, and so make one undo step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gesture {
    /// A whole change by itself: a pick, a key press, a typed value.
    Single,
    /// Part of a drag, which began at this pass of the window.
    Drag(u64),
}

/// What the views of one pass ask for, in the order in which they asked.
#[derive(Debug, Default)]
pub struct Edits {
    list: Vec<(Edit, Gesture)>,
}

impl Edits {
    /// Asks for a whole change.
    pub fn ask(&mut self, edit: Edit) {
        self.list.push((edit, Gesture::Single));
    }

    /// Asks for a change that is part of a drag.
    pub fn ask_in(&mut self, edit: Edit, gesture: Gesture) {
        self.list.push((edit, gesture));
    }

    /// Takes all that was asked.
    pub fn take(&mut self) -> Vec<(Edit, Gesture)> {
        std::mem::take(&mut self.list)
    }
}
