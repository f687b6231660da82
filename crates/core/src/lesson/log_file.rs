//! How the log of a step lies and how it is cut, as it stands in a lesson's file, nothing checked yet.

use serde::{Deserialize, Serialize};

/// How a log lies.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LiesFile {
    /// Upright diameter over the one across.
    #[serde(default = "round")]
    pub height_over_width: f64,
    /// Height of the underside above the ground.
    #[serde(default = "a_hand")]
    pub above_ground_mm: f64,
    /// Where branches stand.
    #[serde(default)]
    pub tangle: TangleFile,
    /// Where the wood binds.
    #[serde(default)]
    pub bind: BindFile,
}

impl Default for LiesFile {
    fn default() -> Self {
        Self {
            height_over_width: round(),
            above_ground_mm: a_hand(),
            tangle: TangleFile::default(),
            bind: BindFile::default(),
        }
    }
}

const fn round() -> f64 {
    1.0
}

const fn a_hand() -> f64 {
    150.0
}

/// Where branches stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum TangleFile {
    /// Clear ground all round.
    None,
    /// On the near side.
    Near,
    /// On the far side.
    #[default]
    Far,
}

/// Where the wood is pressed together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum BindFile {
    /// Neither.
    #[default]
    None,
    /// The top.
    Top,
    /// The underside.
    Bottom,
}

/// One setting of the spikes, as a person made it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SettingFile {
    /// Where the spikes bite, counter-clockwise from the far side.
    pub bark_deg: f64,
    /// Worked from the far side of the log.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub from_far_side: bool,
    /// Direction of the bar at the start, from straight in, counter-clockwise.
    pub from_deg: f64,
    /// Direction at the end.
    pub to_deg: f64,
    /// How far off the bar is laid on, sideways, before the spikes bite.
    #[serde(default, skip_serializing_if = "WayFile::is_none")]
    pub lay_on: WayFile,
    /// How far the saw runs off sideways after the swing.
    #[serde(default, skip_serializing_if = "WayFile::is_none")]
    pub run_off: WayFile,
    /// A bar held at one direction comes from below; of one that swings, its two directions say it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub from_below: bool,
}

/// A way of the bar sideways.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub enum WayFile {
    /// None.
    #[default]
    None,
    /// As far as there is wood, whatever the log.
    Wood,
    /// So far.
    Mm(f64),
}

impl WayFile {
    pub(super) const fn is_none(&self) -> bool {
        matches!(self, Self::None)
    }
}
