//! Mass, balance and reach of a chainsaw and its guide bars, and how a bar takes a log apart.
//!
//! A yard file is read into a [`Yard`] of checked parts; [`solve`] computes every figure of a [`Setup`];
//! [`BarFamily`] makes bars of any length; [`log`] plans a cut; [`lesson`] reads lessons over a yard's
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

mod assumption;
mod cautions;
mod fault;
#[cfg(test)]
mod few_cases;
mod mark;

pub mod file;
pub mod geometry;
pub mod least_squares;
pub mod lesson;
pub mod log;
pub mod measure_text;
pub mod person;
pub mod photograph;
pub mod propose;
pub mod rack;
pub mod ranges;
pub mod record;
pub mod saw;
pub mod section;
pub mod units;
pub mod weigh_in;
pub mod yard;

pub use assumption::{Assumption, Size};
pub use cautions::{CAUTIONS, KICKBACK_CAUTION, NO_LESS_DANGER};
pub use fault::{Fault, Range};
pub use log::{cutting_bar, cutting_saw, impact_setup};
pub use mark::Mark;
pub use saw::{
    Bar, BarFamily, Chain, Construction, CutterSequence, DRIVE_EFFICIENCY, DRIVE_EFFICIENCY_MARK, DrainPoint,
    Extra, Feel, Fittings, Grown, Hands, HandsError, HangError, Links, Longest, LongestWithin, LoopError,
    LoopPath, MassPart, Nose, NoseZone, OIL_PER_FUEL, OIL_PER_FUEL_MARK, Outline, PartMasses, Powerhead,
    Setup, SetupError, Solved, Sprocket, Tank, chain_energy_j, chain_speed, cutters_in_wood, drain_down,
    grown, hands, hang_angle, longest_within, loop_counts_that_close, loop_length, nose_moment, parts,
    pull_in_force, solve, sprocket_pitch_radius, swing_inertia,
};
pub use yard::Yard;
