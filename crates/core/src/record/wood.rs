//! The wood ahead, as it stands in a yard file.

use super::yard::is_default;
use serde::{Deserialize, Serialize};

/// A mix of wood to be cut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WoodFile {
    /// Unique name.
    pub name: String,
    /// Free text.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Diameters and how often each is cut.
    pub diameters: Vec<DiameterFile>,
    /// Share of the cuts made in tangle, 0 to 1: branches behind the log hide the nose.
    #[serde(default, skip_serializing_if = "is_default")]
    pub tangled_share: f64,
    /// Share of the cuts made with the saw in the hands, 0 to 1; in the others the log carries it.
    #[serde(default, skip_serializing_if = "is_default")]
    pub lifted_share: f64,
    /// Where the sawyer may stand.
    #[serde(default, skip_serializing_if = "is_default")]
    pub stand: StandFile,
    /// Height of the logs' undersides above the ground.
    pub above_ground_mm: f64,
    /// How hard the wood is.
    pub hardness: HardnessFile,
}

/// One diameter of a mix.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DiameterFile {
    /// Diameter of the section.
    pub diameter_mm: f64,
    /// Cuts of this diameter.
    pub cuts: u32,
}

/// Where the sawyer may stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum StandFile {
    /// On one side of the log only.
    #[default]
    OneSide,
    /// On one side, then on the other.
    BothSides,
    /// All round.
    WalkRound,
}

/// How much work the wood takes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HardnessFile {
    /// What wood, in what state.
    pub name: String,
    /// Energy to turn a volume of it into chips.
    pub cutting_energy_j_per_cm3: f64,
    /// Where that number comes from, or *common practice*.
    pub source: String,
}
