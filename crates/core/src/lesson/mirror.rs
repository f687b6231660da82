//! The lesson as it stands in a file, nothing checked yet.

use super::log_file::{LiesFile, SettingFile};
use super::role::Role;
use super::subject::Subject;
use crate::record::{PersonFile, StandFile};
use serde::{Deserialize, Serialize};

/// The version of a lesson's file that this program writes.
pub const LESSON_VERSION: u32 = 4;
/// The oldest version that this program reads; every file of an older version is also one of the newest.
pub const OLDEST_LESSON_VERSION: u32 = 1;

/// A whole lesson.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LessonFile {
    /// [`OLDEST_LESSON_VERSION`] to [`LESSON_VERSION`].
    pub version: u32,
    /// Name of the lesson.
    pub name: String,
    /// For whom it is, and what goes with it.
    #[serde(default)]
    pub note: String,
    /// The steps in their order.
    pub steps: Vec<StepFile>,
}

/// One step.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StepFile {
    /// What the step is about.
    pub heading: String,
    /// What the trainer says, with places for figures such as `{weight}`.
    pub caption: String,
    /// Names of the yard's setups that are shown.
    #[serde(default)]
    pub setups: Vec<String>,
    /// Parts that setups of the open yard play, in the place of names.
    #[serde(default)]
    pub roles: Vec<Role>,
    /// How they are shown.
    pub view: ViewFile,
    /// What is pointed at, in order.
    #[serde(default)]
    pub point_at: Vec<Thing>,
    /// What the apprentice guesses before any figure is shown.
    #[serde(default)]
    pub guess: Option<Guessed>,
    /// In its place: a question with answers to choose from.
    #[serde(default)]
    pub choose: Option<ChoiceFile>,
}

/// A question that is asked before anything is told.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChoiceFile {
    /// What is asked.
    pub question: String,
    /// What is chosen from.
    pub among: AmongFile,
}

/// What an answer is chosen from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum AmongFile {
    /// Answers in words.
    Answers {
        /// Two to four.
        said: Vec<String>,
        /// The right one, counted from 1.
        right: usize,
    },
    /// The step's setups: the right one is that with most of something, and comes from the model.
    Setups {
        /// Of what.
        most: Guessed,
    },
}

/// How a step is shown.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum ViewFile {
    /// One setup to scale, with its balance and reach.
    Bench,
    /// One setup before a log.
    Log {
        /// Diameter of the log.
        #[serde(default)]
        diameter_mm: Option<f64>,
        /// In its place: so many times the reach of the setup before it.
        #[serde(default)]
        reaches: Option<f64>,
        /// Whose reach that is, where it is not the setup before the log.
        #[serde(default)]
        reach_of: Option<Role>,
        /// Where the person stands.
        #[serde(default)]
        stand: StandFile,
        /// How it lies, where that is not a round log a hand above the ground with branches behind it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        lies: Option<LiesFile>,
        /// Who cuts it, where that is not the person of the yard.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        person: Option<Box<PersonFile>>,
        /// Settings in the place of the plan's, in their order.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        settings: Vec<SettingFile>,
        /// The cut runs as soon as the step is shown and nothing is asked any more.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        runs: bool,
    },
    /// Two to four setups to one scale on one plumb line, each as it hangs.
    SideBySide,
    /// A trainer's drawing with one setup.
    Drawing {
        /// What it is about.
        of: Subject,
    },
    /// No drawing: lines to tick off.
    Words {
        /// One a line.
        lines: Vec<String>,
    },
}

/// Something in a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Thing {
    /// The weight, which pulls straight down from the centre of gravity.
    Weight,
    /// The saw as it hangs from the front handle.
    Hang,
    /// Where the weight sits.
    CentreOfGravity,
    /// The plumb line through the front grip.
    PlumbLine,
    /// Where the front hand holds.
    FrontHand,
    /// Where the rear hand holds.
    RearHand,
    /// The spikes, where the reach begins.
    Spikes,
    /// The usable length past the spikes.
    Reach,
    /// The upper quadrant of the nose.
    DangerArc,
    /// The nose.
    Nose,
    /// The foremost point of the cutters.
    Tip,
    /// Where the spikes are set on the log.
    Settings,
    /// The bark that the spikes can reach.
    BarkInReach,
}

/// In which drawings a thing can be seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ThingSeen {
    /// On the bench.
    pub bench: bool,
    /// On the log.
    pub log: bool,
    /// On saws side by side.
    pub side_by_side: bool,
}

impl Thing {
    /// All of them.
    pub const ALL: [Self; 13] = [
        Self::Weight,
        Self::Hang,
        Self::CentreOfGravity,
        Self::PlumbLine,
        Self::FrontHand,
        Self::RearHand,
        Self::Spikes,
        Self::Reach,
        Self::DangerArc,
        Self::Nose,
        Self::Tip,
        Self::Settings,
        Self::BarkInReach,
    ];

    /// In the trade's words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Weight => "weight",
            Self::Hang => "saw as it hangs",
            Self::CentreOfGravity => "centre of gravity",
            Self::PlumbLine => "plumb line",
            Self::FrontHand => "front hand",
            Self::RearHand => "rear hand",
            Self::Spikes => "spikes",
            Self::Reach => "reach past spikes",
            Self::DangerArc => "nose danger arc",
            Self::Nose => "nose",
            Self::Tip => "tip of the bar",
            Self::Settings => "spike settings",
            Self::BarkInReach => "bark you can reach",
        }
    }

    /// As it stands in the file.
    pub fn file_name(self) -> String {
        format!("{self:?}")
    }

    /// True for the nose itself: a ring about it goes round all of it.
    pub const fn is_round_nose(self) -> bool {
        matches!(self, Self::Nose | Self::DangerArc)
    }

    /// Where it can be seen.
    pub const fn seen(self) -> ThingSeen {
        let (bench, log, side_by_side) = match self {
            Self::Spikes | Self::DangerArc | Self::Nose | Self::Tip => (true, true, true),
            Self::Hang | Self::CentreOfGravity | Self::PlumbLine | Self::FrontHand | Self::RearHand => {
                (true, false, true)
            }
            Self::Weight | Self::Reach => (true, false, false),
            Self::Settings | Self::BarkInReach => (false, true, false),
        };
        ThingSeen { bench, log, side_by_side }
    }
}

/// What an apprentice guesses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Guessed {
    /// How the saw hangs: turned about the front grip.
    Hang,
    /// How far it reaches past the spikes: a mark along the bar.
    Reach,
    /// What it weighs ready to work: a poise along a beam.
    Weight,
    /// What the front hand carries with the saw held level: a poise along a beam.
    FrontHand,
    /// Where the nose is while the bar is out of sight: a mark ahead of the front hand.
    Tip,
}

impl Guessed {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Hang, Self::Reach, Self::Weight, Self::FrontHand, Self::Tip];

    /// As it stands in the file.
    pub fn file_name(self) -> String {
        format!("{self:?}")
    }
}
