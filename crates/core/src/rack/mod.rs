//! Which bar goes on for the wood ahead: every setup over a mix of wood, what suits what, and a choice with reasons.
//!
//! A [`Wood`] is a list of diameters with counts, and how the work is done. [`over_wood`] puts a setup through it with
//! the same plans as [`crate::log`]; [`fit_of`] says how head, bar and chain suit each other; [`choose`] applies
//! limits, finds the setups that no other beats in everything, and orders by stated weights. [`missing_bars`] and
//! [`loops_to_order`] make the shopping list. [`ReachTable`] puts very many setups through the same wood quickly.
//!
//! # Example
//!
//! ```
//! use barpoise_core::file::demo;
//! use barpoise_core::rack::{Measure, Preferences, Thresholds, WorkRates, choose, contenders};
//! use std::ops::ControlFlow;
//!
//! let yard = demo()?;
//! let wood = yard.wood("Larch stems").ok_or("the demo has this wood")?;
//! let go_on = &mut |_| ControlFlow::Continue(());
//! let found = contenders(yard.setups(), wood, &WorkRates::default(), &Thresholds::default(), go_on)
//!     .ok_or("nobody stopped it")?;
//!
//! // If weight alone counts, the lightest of those that are admitted goes on.
//! let mut wishes = Preferences { weights: [0.0; Measure::ALL.len()], ..Preferences::default() };
//! wishes.set_weight(Measure::Weight, 1.0);
//! let choice = choose(&found, &wishes);
//! let lightest = choice.order.iter().map(|ranked| found[ranked.index].solved.ready_mass().as_kg());
//! let winner = choice.winner().ok_or("somebody is admitted")?;
//! assert!(lightest.fold(f64::INFINITY, f64::min) >= found[winner].solved.ready_mass().as_kg());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod choose;
mod contender;
mod fit;
mod log_cut;
mod measure;
mod over_wood;
mod pareto;
mod read_diameters;
mod sensitivity;
mod shopping;
mod table;

pub use crate::yard::{Hardness, LogCount, Wood};
pub use choose::{Broken, Choice, Limit, MOST_WEIGHT, Preferences, Ranked, choose};
pub use contender::{Contender, Progress, contenders, contenders_by};
pub use fit::{Check, CheckKind, Fit, Threshold, Thresholds, Verdict, fit_of};
pub use log_cut::{Doing, LogCut, log_cut};
pub use measure::{Better, Measure, Values};
pub use over_wood::{OverWood, WorkRates, over_wood, over_wood_with};
pub use pareto::pareto;
pub use read_diameters::{Column, DiameterFault, read_csv, read_diameters};
pub use sensitivity::{Change, Turn, sensitivity};
pub use shopping::{
    LoopOrder, Missing, Wanted, limits_broken, loops_to_order, missing_bars, missing_bars_telling,
};
pub use table::ReachTable;
