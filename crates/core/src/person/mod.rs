//! The person in the cut: a body, a saw in its hands, and the poses it can take beside a log.
//!
//! A plan is only a plan if this saw, in these hands, over this ground can take every pose of it. [`Person`] says who;
//! [`Body`] is that person as links, heights and masses; [`SawBody`] is what of the saw can meet wood or ground;
//! [`Standing`] brings them to one side of one log and answers, for any place of the spikes and any direction of the
//! bar, how the person stands to it ([`Stance`]) or why they cannot ([`WhyNot`]).
//!
//! Everything is a comparison between setups and poses for an average body. A pose that passes is geometry, not advice:
//! nothing here says that a cut is safe.
//!
//! # Frames
//!
//! Places and directions that go in and come out are those of the log: see [`crate::log`]. Inside, the operator's
//! frame has +x outward from the log to the operator and +y up, from either side. The *spike frame* of a saw has its
//! origin where the spike line crosses the middle of the bar, +x to the nose, +y to the saw's upper side.

mod asked;
mod bark;
mod bearing;
mod body;
mod feet;
mod ground;
mod held;
pub mod hold;
mod intervals;
mod posture;
pub mod ranges;
mod reach;
mod saw_body;
mod sources;
mod stance;
mod standing;
mod survey;
mod who;
mod why_not;

pub use bearing::{Bearing, BearingError, LEVEL_AHEAD_M, LEVEL_PLACE_MARK, UPRIGHT_FORCES_MARK, held_level};
pub use body::{ArmAngles, Body, FRONT_ASIDE_M, Hand, REAR_ASIDE_M, SegmentMass};
pub use held::GRIP_ABOVE_GROUND_M;
pub use hold::People;
pub use intervals::{END_WITHIN_RAD, Interval};
pub use posture::{Barrier, Legs};
pub use saw_body::{DEFAULT_HAND_ROOM_M, SawBody};
pub use sources::{LEVEL_ASSUMPTIONS, POSE_ASSUMPTIONS};
pub use stance::{ArmPose, LegPose, Stance};
pub use standing::Standing;
pub use survey::{MEN, Measures, Segment, WOMEN};
pub use who::{Person, Survey};
pub use why_not::WhyNot;
