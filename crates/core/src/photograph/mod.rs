//! A head's numbers from a photograph: the view squared up, landmarks marked, lengths with their uncertainty.
//!
//! The camera looks at the saw's sprocket side, the bar's plane before it. Two points of known distance there, or the four
//! corners of a sheet, tell how the camera saw that plane; what lies behind the plane is moved along its ray. Points of a
//! picture count in pixels from its upper left corner, of the plane in millimetres, of the saw in its own frame.

pub mod assumed;
mod check;
mod landmark;
mod numbers;
mod projective;
mod view;

pub(crate) use check::check;
pub use numbers::{Corner, Measured, Missing, Number, measure, tenth};
pub use projective::Projective;
