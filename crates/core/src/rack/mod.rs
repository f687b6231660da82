//! Which bar goes on for the wood ahead: every setup over a mix of wood, what suits what, and a choice with reasons.
//!
//! A [`Wood`] is a list of diameters with counts, and how the work is done. [`over_wood`] puts a setup through it by plans
//! that the wood's person can hold; cuts that a setup does not do cost what they cost by other means
//! ([`Otherwise`]). [`fit_of`] says how head, bar and chain suit each other. [`choose`] applies limits and orders by what
//! everything is worth on fixed [`Scales`], so that no setup's score hangs on which others there are; [`Sureness`] says which
//! scores are told apart by what is known of the yard. [`pairs`] divides a
//! wood between two saws, [`buyable`] and [`loops_to_order`] make the shopping list. [`ReachTable`] puts very many setups of
//! one head through the same wood quickly.
//!
//! # Example
//!
//! ```
//! use barpoise_core::file::demo;
//! use barpoise_core::rack::{Measure, Preferences, Scales, Thresholds, WorkRates, choose, contenders};
//! use std::ops::ControlFlow;
//!
//! let yard = demo()?;
//! let wood = yard.wood("Larch stems").ok_or("the demo has this wood")?;
//! let go_on = &mut |_| ControlFlow::Continue(());
//! let found = contenders(yard.setups(), wood, &WorkRates::default(), &Thresholds::default(), go_on)
//!     .ok_or("nobody stopped it")?;
//!
//! // If weight alone counts, none that is admitted is lighter than the one that goes on.
//! let mut wishes = Preferences { scales: Scales::nothing(), ..Preferences::default() };
//! wishes.scales.set_weight(Measure::Weight, 1.0);
//! let choice = choose(&found, &wishes);
//! let lightest = choice.order.iter().map(|ranked| found[ranked.index].solved.ready_mass().as_kg());
//! let winner = choice.winner().ok_or("somebody is admitted")?;
//! assert!(lightest.fold(f64::INFINITY, f64::min) >= found[winner].solved.ready_mass().as_kg());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod choose;
mod contender;
mod effort;
mod fit;
mod log_cut;
mod measure;
mod otherwise;
mod over_wood;
mod pairs;
mod pareto;
mod rates;
mod read_diameters;
mod sawing;
mod sensitivity;
mod shopping;
mod sources;
mod sureness;
mod table;
mod worth;

pub use crate::yard::{Hardness, LogCount, Wood};
pub use choose::{Broken, Choice, Limit, Preferences, Ranked, choose};
pub use contender::{Contender, Progress, contenders, contenders_by};
pub use effort::Effort;
pub use fit::{Check, CheckKind, Fit, Threshold, Thresholds, Verdict, fit_of, heads_that_suit};
pub use log_cut::{Doing, LogCut, log_cut};
pub use measure::{Better, Measure, Values};
pub use otherwise::OtherMeans;
pub use over_wood::{LogKind, OverWood, kinds, over_wood, over_wood_with};
pub use pairs::{Pair, pairs};
pub use pareto::pareto;
pub use rates::{Otherwise, RATES_MARK, WorkRates};
pub use read_diameters::{Column, DiameterFault, read_csv, read_diameters};
pub use sawing::Sawing;
pub use sensitivity::{Change, Turn, sensitivity};
pub use shopping::{Buyable, LoopOrder, MARKED_IN, Purchase, buyable, loops_to_order, purchases};
pub use sources::CHOICE_ASSUMPTIONS;
pub use sureness::Sureness;
pub use table::{REACH_STEP, ReachTable};
pub use worth::{Anchors, MOST_WEIGHT, Scales, Score};
