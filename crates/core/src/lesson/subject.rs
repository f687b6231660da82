//! What a lesson draws beside saws and logs: where a hand, a nose or a stem must be, and what the chain does to a saw.

use serde::{Deserialize, Serialize};

/// A drawing that a trainer would make on the board, with the saw of the step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Subject {
    /// The underside pulls the saw to the wood, the top pushes it back.
    PullAndPush,
    /// The upper quadrant of the nose, how the chain runs there and which way it throws.
    KickbackQuadrant,
    /// Where a stem is pressed together and closes on the bar.
    TopAndBottomBind,
    /// With which part of the nose a plunge is begun.
    Plunge,
    /// The left thumb under the front handle and not.
    Thumb,
    /// The left arm straight and bent while the nose is out of sight.
    LeftArm,
    /// The chain brake by hand, and by the drop of the nose onto a stump.
    BrakeTests,
    /// The log carrying the saw, and the arms carrying it.
    WhoCarries,
    /// What is looked at on a saw before work.
    Controls,
}

impl Subject {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Self::PullAndPush,
        Self::KickbackQuadrant,
        Self::TopAndBottomBind,
        Self::Plunge,
        Self::Thumb,
        Self::LeftArm,
        Self::BrakeTests,
        Self::WhoCarries,
        Self::Controls,
    ];

    /// In the trade's words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::PullAndPush => "pull of the underside and push of the top",
            Self::KickbackQuadrant => "upper quadrant of the nose",
            Self::TopAndBottomBind => "top bind and bottom bind",
            Self::Plunge => "start of a plunge",
            Self::Thumb => "left thumb on the front handle",
            Self::LeftArm => "left arm, the nose out of sight",
            Self::BrakeTests => "tests of the chain brake",
            Self::WhoCarries => "who carries the saw",
            Self::Controls => "what is looked at before work",
        }
    }

    /// As it stands in the file.
    pub fn file_name(self) -> String {
        format!("{self:?}")
    }
}
