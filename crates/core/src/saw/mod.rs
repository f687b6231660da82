//! A saw: its parts, and every figure of a setup of them.
//!
//! [`parts`](Powerhead) are checked once and are valid from then on; a [`Setup`] puts a head, a bar and a chain together,
//! and [`solve`] computes its figures. [`BarFamily`] makes bars of any length between those of the rack.
//!
//! The saw frame: origin at the centre of the drive sprocket, x to the nose, y to the front handle, metres.
//!
//! # Balance
//!
//! Lifted by the front handle alone, the saw turns until its centre of gravity hangs plumb under that grip; held still in
//! both hands, moments about the front grip vanish. A hang counts positive nose down, a load positive where the hand lifts.
//!
//! ```
//! use barpoise_core::geometry::Point;
//! use barpoise_core::saw::{Feel, MassPart, hands, hang_angle};
//! use barpoise_core::units::{Angle, Mass, STANDARD_GRAVITY_M_S2};
//!
//! // 9 kg, 50 mm ahead of the front grip and 150 mm under it; the rear grip 300 mm behind the front one.
//! let saw = MassPart::point(Mass::from_kg(9.0), Point::new(0.05, 0.0));
//! let (front, rear) = (Point::new(0.0, 0.15), Point::new(-0.3, 0.05));
//! let hang = hang_angle(&saw, front)?;
//! assert!((hang.as_rad() - (50.0_f64 / 150.0).atan()).abs() < 1e-12);
//! assert_eq!(Feel::of(hang).words(), "nose-heavy");
//!
//! // Held level, the rear hand pushes down by 50/300 of the weight, and the front hand carries that as well.
//! let held = hands(&saw, front, rear, Angle::ZERO)?;
//! let weight_n = 9.0 * STANDARD_GRAVITY_M_S2;
//! assert!((held.rear.as_n() + weight_n / 6.0).abs() < 1e-12);
//! assert!((held.front.as_n() - weight_n * 7.0 / 6.0).abs() < 1e-12);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # The loop
//!
//! A chain is an open belt round the drive sprocket and the nose: its count of links says how far apart the two are, and so
//! how far the saw reaches.
//!
//! ```
//! use barpoise_core::saw::{LoopPath, loop_length, sprocket_pitch_radius};
//! use barpoise_core::units::Length;
//!
//! // 72 drive links of 3/8 in, which is 2 · 72 · 9.525 mm, round seven teeth and a nose of 33 mm over the rivets.
//! let pitch = Length::from_in(0.375);
//! let length = loop_length(pitch, 72.0);
//! assert!((length.as_mm() - 1371.6).abs() < 1e-9);
//! let (sprocket, nose) = (sprocket_pitch_radius(7, pitch), Length::from_mm(33.0));
//! let path = LoopPath::with_length(sprocket, nose, length)?;
//!
//! // The belt's own equation gives the length back.
//! let (d, s, n) = (path.centre_distance().as_mm(), sprocket.as_mm(), nose.as_mm());
//! let a = ((s - n) / d).asin();
//! let pi = std::f64::consts::PI;
//! let belt = 2.0 * (d * d - (s - n).powi(2)).sqrt() + s * (pi + 2.0 * a) + n * (pi - 2.0 * a);
//! assert!((belt - 1371.6).abs() < 1e-9);
//!
//! // One link more moves the nose on by nearly a pitch.
//! let longer = LoopPath::with_length(sprocket, nose, loop_length(pitch, 73.0))?;
//! assert!((longer.centre_distance().as_mm() - d - 9.525).abs() < 0.01);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

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
mod sources;

pub use balance::{Feel, Hands, HandsError, HangError, hands, hang_angle, nose_moment, swing_inertia};
pub use drain::{DrainPoint, OIL_PER_FUEL, OIL_PER_FUEL_MARK, drain_down};
pub use drive::{
    DRIVE_EFFICIENCY, DRIVE_EFFICIENCY_MARK, chain_energy_j, chain_speed, cutters_in_wood, pull_in_force,
};
pub use grown::{Grown, grown};
pub use head_outline::{HeadFit, HeadPart, OutlineStep, tooth_depth_m};
pub use inverse::{Longest, LongestWithin, longest_within};
pub use loop_path::{LoopError, LoopPath, loop_length, sprocket_pitch_radius};
pub use made_up::BarFamily;
pub(crate) use made_up::{Origin, OriginBar};
pub use mass::MassPart;
pub use nose::NoseZone;
pub use parts::{
    Bar, Chain, Construction, CutterSequence, Extra, Fittings, Links, Nose, Outline, Powerhead, Setup,
    SetupError, Sprocket, Tank, loop_counts_that_close,
};
pub use solve::{PartMasses, Solved, parts, solve};
pub use sources::SAW_ASSUMPTIONS;
