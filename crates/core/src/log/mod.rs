//! A log and how a bar takes it apart: settings of the spikes, what they cut, and what it asks of the hands.
//!
//! # Frame
//!
//! The section is seen along the log. Its centre is the origin; +x is the far side, the operator stands first at −x,
//! +y is up. A *bark angle* is the direction of a place on the bark from the centre, counter-clockwise from +x:
//! 180° is the near side, 90° the top, 0° the far side. A *swing angle* is the direction of the bar from straight
//! into the wood at the spikes, counter-clockwise positive: from the near side, nose up is positive.
//! The saw's upper side lies counter-clockwise of the bar for an operator on the near side, clockwise for one on the
//! far side.
//!
//! # Example
//!
//! A log of 340 mm before a bar of 452 mm comes through with the spikes set once; one of twice its reach and more does not
//! come through even from both sides, for nothing reaches its middle.
//!
//! ```
//! use barpoise_core::log::{CuttingBar, LogJob, LogSection, Stand, plan};
//! use barpoise_core::units::Length;
//!
//! let mm = Length::from_mm;
//! let bar = CuttingBar::new(mm(452.0), mm(45.0), mm(36.0))?;
//! let log = |diameter, stand| Ok::<_, barpoise_core::Fault>(LogJob::new(LogSection::round(mm(diameter), mm(400.0))?, stand));
//!
//! let thin = plan(&log(340.0, Stand::OneSide)?, &bar);
//! assert!(thin.is_whole() && thin.settings.len() == 1);
//! let thick = plan(&log(920.0, Stand::WalkRound)?, &bar);
//! assert!(!thick.is_whole() && thick.cover.covered_fraction < 1.0);
//! # Ok::<(), barpoise_core::Fault>(())
//! ```

mod at_work;
mod bar;
mod biggest;
mod candidates;
mod carry;
mod cover;
mod danger;
mod edge;
mod gaps;
mod job;
mod kickback;
pub mod limits;
mod nose;
mod order;
mod plan;
mod pose;
mod rate;
mod region;
mod search;
mod section;
mod setting;
mod slide;
mod stand;
mod trim;
mod workplace;

pub use at_work::{cutting_bar, cutting_saw, impact_setup};
pub use bar::CuttingBar;
pub use biggest::{biggest_log, can_cut, shortest_reach};
pub use carry::{Carrier, Carry, PhaseLoad, PhaseTimes, WorkPhase, carry};
pub use cover::{Cover, cover, new_cuts};
pub use danger::{
    DangerContact, PLUNGE_RULE, SwingStart, Touches, danger_contacts, swing_start,
};
pub use edge::{ArcEdge, Edge, LineEdge};
pub use job::{Bind, LogJob, SwingLimits, Tangle};
pub use kickback::{DEFAULT_CONTACT, ImpactSetup, KickbackRatios, compare_kickback};
pub(crate) use nose::hidden_travel_m;
pub use nose::{Nose, NosePhase, NoseState, nose};
pub use order::SettingPlace;
pub use plan::{Plan, plan};
pub use pose::{Pose, cut_so_far, pose};
pub use rate::{CuttingSaw, DEFAULT_KERF, DEFAULT_SPECIFIC_ENERGY_J_CM3, SawFigures};
pub use region::{NOTHING_LEFT_M2, Outline};
pub use section::LogSection;
pub use setting::{Kind, Setting};
pub use stand::{BarkArc, Side, Stand};
pub use workplace::{Trouble, Workplace, clock_hour};
