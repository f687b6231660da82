//! The allowed range of every number that a hold is computed from.

use crate::fault::Range;

/// Length of one link of an arm.
pub const ARM_LINK: Range = Range::new("arm link", "mm", 100.0, 600.0);
/// Mass of one segment of an arm.
pub const ARM_MASS: Range = Range::new("mass of a part of the arm", "kg", 0.0, 15.0);
/// Place of a segment's centre along its link, 0 at the upper end, 1 at the lower.
pub const CENTRE: Range = Range::new("place of the centre along the link", "", 0.0, 1.0);
/// Distance from the middle of the hips to the middle of the shoulders.
pub const TRUNK: Range = Range::new("trunk", "mm", 250.0, 800.0);
/// Bend of the trunk, forward positive.
pub const BEND: Range = Range::new("bend of the trunk", "°", -30.0, 100.0);
/// Force of one hand, lifting positive.
pub const HAND_FORCE: Range = Range::new("force of a hand", "N", -1000.0, 1000.0);
/// Sideways distance of a grip from the shoulder's plane.
pub const SIDEWAYS: Range = Range::new("sideways distance of the grip", "mm", -500.0, 500.0);
/// Either coordinate of a grip from the shoulder.
pub const GRIP: Range = Range::new("grip from the shoulder", "mm", -1500.0, 1500.0);
