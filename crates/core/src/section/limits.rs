//! The allowed range of every number of a log and a cut, in the unit a person writes it in.

use crate::fault::{Fault, Range};

/// A log's diameter, or one of the two of an oval.
pub const LOG_DIAMETER: Range = Range::new("log diameter", "mm", 30.0, 3000.0);
/// The longer of an oval's diameters over the shorter.
pub const OVAL_RATIO: Range = Range::new("oval's longer over shorter diameter", "", 1.0, 2.0);
/// Height of the log's underside above the ground.
pub const CLEARANCE: Range = Range::new("height above ground", "mm", 0.0, 3000.0);
/// Reach of a bar past the spikes.
pub const REACH: Range = Range::new("reach past the spikes", "mm", 120.0, 1700.0);
/// Half the width of a bar with its chain, cutters included.
pub const BAR_HALF_WIDTH: Range = Range::new("half width of bar and chain", "mm", 10.0, 110.0);
/// Radius of the nose over the cutters.
pub const OUTER_NOSE_RADIUS: Range = Range::new("nose radius over the cutters", "mm", 5.0, 110.0);
/// How far the bar turns about the spikes from straight in, to one side.
pub const SWING_LIMIT: Range = Range::new("swing limit", "°", 45.0, 90.0);
/// An end of a piece of bark, counter-clockwise from the far side.
pub const BARK_ANGLE: Range = Range::new("bark angle", "°", -360.0, 720.0);
/// How far a bar is laid on from, or runs off, sideways.
pub const SLIDE_WAY: Range = Range::new("way of the bar sideways", "mm", 0.0, 3500.0);
/// Weight of the whole saw.
pub const SAW_WEIGHT: Range = Range::new("weight of the saw", "N", 5.0, 300.0);
/// Engine power.
pub const SAW_POWER: Range = Range::new("power", "W", 200.0, 12_000.0);
/// Share of the power that arrives at the chain.
pub const DRIVE_EFFICIENCY: Range = Range::new("drive efficiency", "", 0.1, 1.0);
/// Speed of the chain in the cut.
pub const CHAIN_SPEED: Range = Range::new("chain speed", "m/s", 1.0, 40.0);
/// Width of the kerf.
pub const KERF: Range = Range::new("kerf", "mm", 2.0, 15.0);
/// Spacing of the cutters along the chain.
pub const CUTTER_SPACING: Range = Range::new("cutter spacing", "mm", 10.0, 200.0);
/// Energy to turn a volume of wood into chips.
pub const SPECIFIC_ENERGY: Range = Range::new("specific cutting energy", "J/cm³", 5.0, 500.0);
/// A time of a phase of the work.
pub const PHASE_TIME: Range = Range::new("phase time", "s", 0.0, 600.0);
/// Nose angle of a kickback contact: 0 at the tip, 90 at the top of the nose.
pub const CONTACT_ANGLE: Range = Range::new("contact angle", "°", 0.0, 90.0);

/// The value, or why not.
pub(crate) fn checked(path: &str, range: &Range, value: f64) -> Result<f64, Fault> {
    match range.refusal(value) {
        Some(message) => Err(Fault { path: path.to_owned(), message }),
        None => Ok(value),
    }
}
