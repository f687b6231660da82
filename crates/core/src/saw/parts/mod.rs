//! What a saw is put together from. A part that exists is valid: it is made from its mirror and checked once.

mod bar;
mod chain;
mod powerhead;
mod setup;
mod tank;

pub(crate) use bar::BarShape;
pub use bar::{Bar, Construction, Nose};
pub(super) use bar::{STEEL_KG_M3, TAPER_SLOPE};
pub use chain::{Chain, CutterSequence};
pub use powerhead::{Outline, Powerhead, Sprocket};
pub use setup::{Extra, Fittings, Links, Setup, SetupError, loop_counts_that_close};
pub use tank::Tank;

use crate::fault::Checker;
use crate::geometry::Point;
use crate::ranges;
use crate::record::PointFile;
use crate::units::Length;

/// Two pitches closer than this are one pitch: 1/2000 of the smallest step in the trade's series.
const PITCH_TOLERANCE_M: f64 = 1e-6;
/// Two gauges closer than this are one gauge; the trade's steps are 0.1 mm.
const GAUGE_TOLERANCE_M: f64 = 1e-5;

/// True where two pitches are the same one.
pub(crate) fn same_pitch(a: Length, b: Length) -> bool {
    (a.as_m() - b.as_m()).abs() < PITCH_TOLERANCE_M
}

/// True where two gauges are the same one.
pub(crate) fn same_gauge(a: Length, b: Length) -> bool {
    (a.as_m() - b.as_m()).abs() < GAUGE_TOLERANCE_M
}

fn check_point(check: &mut Checker, field: &str, point: PointFile) -> Point {
    let x_mm = check.number(&format!("{field}.x_mm"), &ranges::COORDINATE, point.x_mm);
    let y_mm = check.number(&format!("{field}.y_mm"), &ranges::COORDINATE, point.y_mm);
    Point::new(Length::from_mm(x_mm).as_m(), Length::from_mm(y_mm).as_m())
}
