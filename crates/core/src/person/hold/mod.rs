//! What a hold costs: the moments in the arms and the back while the hands carry the saw, the share of a person's
//! strength they take, and how long that can be held.
//!
//! It is asked only where the hands carry: lifting, laying on, sliding off, pulling back, holding the saw off its
//! spikes. Everything compares setups and poses for a person of measured average proportions; nothing here is a
//! medical statement.
//!
//! # Frame and signs
//!
//! The person's own: +x ahead, out of the chest toward the log, +y up. The arm of a person on the far side of a log is
//! mirrored into it first. A joint angle is zero with the arm hanging straight beside the trunk; forward and bent are
//! positive. A hand's force is positive where the hand lifts, as in [`Hands`](crate::Hands); a moment is positive where
//! the muscles have to raise the arm, bend the elbow or straighten the back.
//!
//! ```
//! use barpoise_core::geometry::Vector;
//! use barpoise_core::person::hold::{Arm, Muscles, HoldingTime, holding_time};
//! use barpoise_core::units::Force;
//!
//! // Upper arm and elbow to grip in metres; mass in kg and place of the centre along each.
//! let arm = Arm::new((0.284, 2.32, 0.164), (0.315, 1.39, 0.124), 0.52);
//! let arm = arm.map_err(|faults| format!("{faults:?}"))?;
//! let bent = arm.bent(Vector::new(0.45, -0.25), 0.0)?;
//! let moments = arm.moments(&bent, Force::from_n(40.0));
//! assert!((25.0..26.0).contains(&moments.shoulder.as_n_m()));
//! assert!(matches!(holding_time(Muscles::Shoulder, 0.38), Some(HoldingTime::Lasts(_))));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod arm;
mod back;
mod cost;
pub mod ranges;
mod sources;
mod spread;
mod strength;
mod time;
mod used;
mod words;

pub use arm::{Arm, ArmMoments, BentArm, OutOfReach};
pub use back::{BackLoad, DISC_DESIGN_LINE, DISC_UPPER_LINE, DiscLine, Trunk, disc_compression};
pub use cost::{
    ArmCost, BackCost, HandHold, Hold, HoldCost, HoldError, Holder, Holding, JointCost, Place, hold_cost,
};
pub use sources::{HOLD_MARKS, HoldMarks};
pub use spread::{STRENGTH_VARIATION, strength_factor};
pub use strength::{People, Strength};
pub use time::{Endures, HoldingTime, Muscles, holding_time, rohmert_time_s};
pub use used::{HeldFor, rest_after_s, share_of_time_used, used_over_cut};
pub use words::{about, arm_words, back_words, ends_first_words, hold_words};
