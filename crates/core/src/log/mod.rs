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
//! # What a cut is made of
//!
//! A [`Setting`] is all the saw does between being laid on and being taken away: the bar held at one angle and let through
//! the wood (a *sink*), or turned about the set spikes (a *pivot*), with what is laid on before and what runs off after.
//! [`plan()`] chooses among settings every place of which the job's person can hold with the setup's head: it asks a
//! [`Workplace`]. A pose that can be held is geometry of an average body, not advice.
//!
//! # Example
//!
//! A log of 340 mm held up 400 mm goes through in one setting of a bar of 24 in; one of twice its reach and more does not
//! go through even from both sides, for nothing reaches its middle.
//!
//! ```
//! use barpoise_core::log::{Cut, LogJob, LogSection, Stand};
//! use barpoise_core::units::Length;
//! use barpoise_core::{file, solve};
//!
//! let yard = file::demo()?;
//! let setup = yard.setup("Bittern B24").ok_or("the demo has this setup")?;
//! let mm = Length::from_mm;
//! let log = |diameter, stand| Ok::<_, barpoise_core::Fault>(LogJob::new(LogSection::round(mm(diameter), mm(400.0))?, stand));
//!
//! let thin = Cut::new(&log(340.0, Stand::OneSide)?, None, setup, &solve(setup))?;
//! assert!(thin.is_whole() && thin.is_doable() && thin.settings.len() == 1);
//! let thick = Cut::new(&log(1300.0, Stand::BothSides)?, None, setup, &solve(setup))?;
//! assert!(!thick.is_whole() && thick.is_doable());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod at_work;
mod bar;
mod biggest;
mod biggest_held;
mod candidates;
mod carry;
mod cover;
mod cut;
mod danger;
mod exposure;
mod gaps;
mod help;
mod job;
mod kickback;
mod nose;
mod order;
mod own_setting;
mod plan;
#[cfg(test)]
mod plan_tests;
mod pose;
mod rate;
mod relief;
mod search;
mod setting;
mod slide;
mod sources;
mod stand;
mod trim;
mod workplace;

pub use crate::section::{ArcEdge, Edge, LineEdge, LogSection, NOTHING_LEFT_M2, Outline, Side, limits};
pub use at_work::{cutting_bar, cutting_saw, impact_setup};
pub use bar::CuttingBar;
pub use biggest::{biggest_log, can_cut, shortest_reach};
pub use biggest_held::{BiggestHeld, biggest_held};
pub use carry::{Carrier, Carry, PHASE_TIMES_MARK, PhaseLoad, PhaseTimes, WorkPhase, carry};
pub use cover::{Cover, cover, new_cuts};
pub use cut::{Cut, Step, saw_body};
pub use danger::{DangerContact, PLUNGE_RULE, SwingStart, Touches, danger_contacts, swing_start};
pub(crate) use exposure::swept_m2;
pub use exposure::{Exposure, exposure};
pub use help::{Help, help};
pub use job::{Bind, LogJob, SwingLimits, Tangle};
pub use kickback::{
    DEFAULT_CONTACT, ImpactSetup, KickbackRatios, RatioSpan, TURNING, Turning, compare_kickback,
};
pub use nose::{Nose, NosePhase, NoseState, nose};
pub use own_setting::{MOST_SETTINGS, OwnSetting, Way};
pub use plan::{Plan, plan};
pub use pose::{Pose, cut_so_far, pose};
pub use rate::{
    CUTTING_ENERGY_MARK, CuttingSaw, DEFAULT_KERF, DEFAULT_SPECIFIC_ENERGY_J_CM3, KERF_MARK, SawFigures,
};
pub use relief::{RELIEF_SHARE, relief_depth};
pub use setting::{Kind, Setting};
pub use sources::{CUT_ASSUMPTIONS, SNAG_ASSUMPTIONS};
pub use stand::{BarkArc, Stand};
pub use workplace::{Trouble, Workplace, clock_hour};
