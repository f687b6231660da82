//! The weigh-in: what a scale, an angle and a tape teach about one's own saw.
//!
//! A [`Reading`] is a measure with its standard uncertainty, taken on a setup at stated fills. [`fit`] finds the
//! numbers of heads, chains and bars ([`Unknown`]) that agree best with all readings and with what was known before
//! ([`Prior`]). [`applied`] writes them into the yard together with their uncertainty, [`put_back`] takes them out
//! again, and [`Knowledge`] carries the uncertainty into every figure. [`next_readings`] says what to measure next.
//!
//! Uncertainties are standard uncertainties (one standard deviation) throughout; a [`COVERAGE`] of two of them is an
//! interval of about 95 %.
//!
//! # Example
//!
//! A bar on a scale: what its outline said and what was read are weighted by the squares of their uncertainties.
//!
//! ```
//! use barpoise_core::Yard;
//! use barpoise_core::file::demo;
//! use barpoise_core::record::{MeasuredFile, ReadingFile};
//! use barpoise_core::weigh_in::{Choice, fit};
//!
//! let mut file = demo()?.file().clone();
//! let weighed = MeasuredFile::Bar { bar: "B24".into(), weight_kg: 1.28, uncertainty_kg: 0.02 };
//! file.readings = vec![ReadingFile::new(weighed, None)];
//! let yard = Yard::new(file).map_err(|faults| format!("{faults:?}"))?;
//!
//! let learnt = &fit(&yard, &Choice::Automatic)?.learnt[0];
//! let (before, u_before, read, u_read) = (learnt.prior.value, learnt.prior.uncertainty, 1.28, 0.02_f64);
//! let (w_before, w_read) = (u_before.powi(-2), u_read.powi(-2));
//! let both = (before * w_before + read * w_read) / (w_before + w_read);
//! assert!((learnt.value - both).abs() < 1e-6);
//! assert!((learnt.uncertainty - (w_before + w_read).sqrt().recip()).abs() < 1e-6);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod apart;
mod apply;
mod bands;
mod counts;
mod draws;
mod fit;
mod knowledge;
mod linear_form;
mod next_reading;
mod prior;
mod saw_model;
mod slip;
mod tell_apart;

pub use crate::record::{Part, Quantity, Unknown};
pub use crate::yard::{Measured, Reading, SawMeasure};
pub use apply::{applied, has_news, newest_weigh_in, put_back};
pub use bands::Bands;
pub use counts::{CountChance, Counted, links_counted};
pub use draws::{DRAW_SEED, DRAWS, DrawCheck, Drawn, draw};
pub use fit::{CannotFit, Choice, Disagreement, Fit, FittedReading, Learnt, fit, readable};
pub use knowledge::Knowledge;
pub(crate) use linear_form::{LinearForm, SawFigure, Spread};
pub use next_reading::{NextReading, next_readings};
pub use prior::{ASSUMED_MARK, Prior};
pub use slip::Slip;
pub use tell_apart::Mixed;

/// Standard uncertainties to either side of a value that make an interval of 95 % (a normal distribution's 97.5th
/// percentile).
pub const COVERAGE: f64 = 1.959_963_984_540_054;
