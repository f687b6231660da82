//! Setups that are held against each other.

use super::fit::{Fit, Thresholds, fit_of};
use super::log_cut::LogCut;
use super::measure::{Measure, Values};
use super::over_wood::{OverWood, WorkRates, over_wood, over_wood_with};
use crate::fault::Fault;
use crate::saw::{Setup, Solved, solve};
use crate::units::Length;
use crate::yard::Wood;
use std::ops::ControlFlow;

/// A setup with all that a choice looks at.
#[derive(Clone, Debug, PartialEq)]
pub struct Contender {
    /// The setup's figures.
    pub solved: Solved,
    /// How it suits itself.
    pub fit: Fit,
    /// What it does with the wood; or why it cannot go to work at all.
    pub over: Result<OverWood, Fault>,
    /// What it is compared by.
    pub values: Values,
}

impl Contender {
    fn new(solved: Solved, fit: Fit, over: Result<OverWood, Fault>) -> Self {
        let values = match &over {
            Ok(over) => Measure::ALL.map(|measure| measure.value(&solved, over)),
            Err(_) => [None; Measure::ALL.len()],
        };
        Self { solved, fit, over, values }
    }

    /// The value of a measure, in its unit.
    pub fn value(&self, measure: Measure) -> Option<f64> {
        self.values.get(measure.place()).copied().flatten()
    }
}

/// How far long work has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Setups that are done.
    pub done: usize,
    /// All of them.
    pub all: usize,
}

/// Puts setups through a wood by the full plan of every diameter. `told` hears of every setup and may stop the work:
/// then there is no answer.
pub fn contenders(
    setups: &[Setup],
    wood: &Wood,
    rates: &WorkRates,
    thresholds: &Thresholds,
    told: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Option<Vec<Contender>> {
    through(setups, thresholds, told, |setup, solved| over_wood(setup, solved, wood, rates))
}

/// The same with each log's cut from elsewhere: a quick way for very many setups.
pub fn contenders_by(
    setups: &[Setup],
    wood: &Wood,
    rates: &WorkRates,
    thresholds: &Thresholds,
    cut_of: &dyn Fn(&Setup, Length, bool) -> Result<LogCut, Fault>,
    told: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Option<Vec<Contender>> {
    through(setups, thresholds, told, |setup, solved| {
        over_wood_with(setup, solved, wood, rates, |diameter, tangled| cut_of(setup, diameter, tangled))
    })
}

fn through(
    setups: &[Setup],
    thresholds: &Thresholds,
    told: &mut dyn FnMut(Progress) -> ControlFlow<()>,
    over: impl Fn(&Setup, &Solved) -> Result<OverWood, Fault>,
) -> Option<Vec<Contender>> {
    let mut found = Vec::with_capacity(setups.len());
    for (index, setup) in setups.iter().enumerate() {
        if told(Progress { done: index, all: setups.len() }).is_break() {
            return None;
        }
        let solved = solve(setup);
        let fit = fit_of(setup, &solved, thresholds);
        let over = over(setup, &solved);
        found.push(Contender::new(solved, fit, over));
    }
    told(Progress { done: setups.len(), all: setups.len() }).is_continue().then_some(found)
}
