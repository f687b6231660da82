//! Mass, balance and reach of a chainsaw and its guide bars, and how a bar takes a log apart.
//!
//! A yard file is read into a [`Yard`] of checked parts; [`solve`] computes every figure of a [`Setup`];
//! [`BarFamily`] makes bars of any length; [`log_section`] plans a cut; [`lesson`] reads lessons over a yard's
//! setups. Everything inside is SI.
//!
//! ```
//! use barpoise_core::{Feel, file, solve};
//!
//! let yard = file::demo()?;
//! let setup = yard.setup("Bittern B24").ok_or("the demo has this setup")?;
//! let solved = solve(setup);
//! let hang = solved.hang?;
//! assert!((15.0..25.0).contains(&hang.as_deg()), "nose down is positive");
//! assert_eq!(Feel::of(hang).words(), "nose-heavy");
//! assert!(solved.reach < setup.bar().overall_length());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod at_work;
mod balance;
mod cautions;
mod drain;
mod drive;
mod fault;
mod grown;
mod inverse;
mod loop_path;
mod made_up;
mod mass;
mod nose;
mod parts;
mod solve;
mod yard;

pub mod file;
pub mod geometry;
pub mod least_squares;
pub mod lesson;
pub mod log_section;
pub mod measure_text;
pub mod propose;
pub mod rack;
pub mod ranges;
pub mod units;
pub mod weigh_in;

pub use at_work::{cutting_bar, cutting_saw, impact_setup};
pub use balance::{Feel, Hands, HandsError, HangError, hands, hang_angle, nose_moment, swing_inertia};
pub use cautions::{CAUTIONS, KICKBACK_CAUTION};
pub use drain::{DrainPoint, OIL_PER_FUEL, drain_down};
pub use drive::{DRIVE_EFFICIENCY, chain_energy_j, chain_speed, cutters_in_wood, pull_in_force};
pub use fault::{Fault, Range};
pub use grown::{Grown, grown};
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
pub use yard::Yard;
