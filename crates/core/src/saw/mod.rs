//! A saw: its parts, and every figure of a setup of them.

mod balance;
mod drain;
mod drive;
mod grown;
mod head_outline;
mod inverse;
mod loop_path;
mod made_up;
mod mass;
mod nose;
mod parts;
mod solve;

pub use balance::{Feel, Hands, HandsError, HangError, hands, hang_angle, nose_moment, swing_inertia};
pub use drain::{DrainPoint, OIL_PER_FUEL, drain_down};
pub use drive::{DRIVE_EFFICIENCY, chain_energy_j, chain_speed, cutters_in_wood, pull_in_force};
pub use grown::{Grown, grown};
pub use head_outline::{HeadPart, OutlineStep, tooth_depth_m};
pub use inverse::{Limit, Longest, LongestWithin, longest_within};
pub use loop_path::{LoopError, LoopPath, loop_length, sprocket_pitch_radius};
pub use made_up::BarFamily;
pub use mass::MassPart;
pub use nose::NoseZone;
pub use parts::{
    Bar, Chain, Construction, CutterSequence, Extra, Fittings, Links, Nose, Outline, Powerhead, Setup,
    SetupError, Sprocket, Tank, loop_counts_that_close,
};
pub use solve::{PartMasses, Solved, parts, solve};
