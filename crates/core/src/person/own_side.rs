//! The rule that the nose never comes out of the log on the operator's own side.

use crate::geometry::{Point, Vector};
use crate::section::{LogSection, Side};
use crate::units::Length;

use super::bark::Bark;

/// True where the nose is out of the log, above the ground, on the operator's own side of its middle.
///
/// `reach` and `nose_radius` are the bar's, past the spikes and over the cutters; `direction_rad` counts
/// counter-clockwise from +x. The nose is out once the middle of its round end is: the tip farther from the bark than
/// the nose's radius. On round wood of radius r, the spikes level with the middle, that holds the swing within
/// acos(r / reach) either way.
pub fn own_side_nose(
    section: &LogSection,
    reach: Length,
    nose_radius: Length,
    spikes: Point,
    direction_rad: f64,
    side: Side,
) -> bool {
    let (sin, cos) = direction_rad.sin_cos();
    let tip = spikes + reach.as_m() * Vector::new(cos, sin);
    let outward = match side {
        Side::Near => -tip.x,
        Side::Far => tip.x,
    };
    outward > 0.0 && tip.y > section.ground_y_m() && Bark::of(section).outside_m(tip) > nose_radius.as_m()
}
