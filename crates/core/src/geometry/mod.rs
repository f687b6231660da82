//! Plane geometry in metres: points, and the mass properties of polygons, arcs and segments.

mod curve;
mod polygon;

pub use curve::{LineProperties, arc_line, segment_line};
pub use polygon::{AreaProperties, Polygon};

/// A point in the saw frame or another stated frame, in metres.
pub type Point = nalgebra::Point2<f64>;

/// A displacement in metres.
pub type Vector = nalgebra::Vector2<f64>;
