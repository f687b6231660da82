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

mod bar;
mod cover;
mod edge;
pub mod limits;
mod region;
mod section;
mod setting;
mod stand;

pub use bar::CuttingBar;
pub use cover::{Cover, cover, new_cuts};
pub use edge::{ArcEdge, Edge, LineEdge};
pub use region::{NOTHING_LEFT_M2, Outline};
pub use section::LogSection;
pub use setting::Setting;
pub use stand::{BarkArc, Bind, LogJob, Side, Stand, SwingLimits, Tangle};
