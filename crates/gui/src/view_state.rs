//! How a person looks at the yard: kept between runs, never part of a yard, never undone.

use crate::format::Units;
use crate::theme::Paper;
use barpoise_core::units::Angle;

/// The rooms of the window.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum Room {
    /// One saw on the bench: weight, hang, hands, reach, nose.
    #[default]
    Bench,
}

impl Room {
    /// Every room in the order of the window's head.
    pub const ALL: [Self; 1] = [Self::Bench];

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Bench => "Bench",
        }
    }
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
    /// Pitch at which the saw is held, degrees, nose up positive.
    pub held_pitch_deg: f64,
}

impl ViewState {
    /// Pitch at which the saw is held, nose up positive.
    pub const fn held_pitch(&self) -> Angle {
        Angle::from_deg(self.held_pitch_deg)
    }
}
