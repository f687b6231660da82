//! The saw as a drawing: silhouette, bar and chain, and the marks of a workshop drawing; the log; the person at the cut.

mod bar_chain;
pub mod figure;
mod gauge;
mod head;
mod lit;
pub mod log;
mod marks;
mod measure;
mod part;

pub use bar_chain::{bar, chain, chain_run, outlined_bar, plate};
pub use gauge::{HangGauge, HangReading};
pub use head::{
    about_spikes, covers, guard, head_extent, head_under, on_head, outlined_head, silhouette, tank,
    tank_label, tank_level_mm,
};
pub use lit::lit;
pub use marks::{
    arrow, centre_of_gravity, dimension, grip_mark, kickback_zone, offset_dimension, plumb_line, turn_arrow,
};

pub use measure::measure_scene;
pub use part::part_scene;

use barpoise_core::geometry::Point as SawPoint;
use barpoise_core::units::Length;
use kurbo::{BezPath, PathEl, Point};

/// Straight lines through points, one after the other.
pub(crate) fn through(points: impl IntoIterator<Item = Point>) -> BezPath {
    let mut points = points.into_iter();
    let mut path = BezPath::from_iter(points.next().map(PathEl::MoveTo));
    path.extend(points.map(PathEl::LineTo));
    path
}

/// A point of the saw frame in millimetres.
pub fn mm(point: SawPoint) -> Point {
    Point::new(Length::from_m(point.x).as_mm(), Length::from_m(point.y).as_mm())
}
