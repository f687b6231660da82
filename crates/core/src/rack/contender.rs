//! Setups that are held against each other.

use super::fit::{Fit, Thresholds, fit_of};
use super::log_cut::LogCut;
use super::measure::{Measure, Values};
use super::otherwise::OtherMeans;
use super::over_wood::{LogKind, OverWood, cuts_of, kinds, over_each, over_wood_with};
use super::rates::WorkRates;
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
    /// Name of its head.
    pub head: String,
    /// Length of its bar as it is marked.
    pub marked: Length,
    /// How it suits itself.
    pub fit: Fit,
    /// What it does with the wood; or why it cannot go to work at all.
    pub over: Result<OverWood, Fault>,
    /// What it is compared by.
    pub values: Values,
    /// The same for one cut of each kind of log, in the order of [`kinds`]; none where the cuts came from a table.
    pub by_kind: Vec<Values>,
}

impl Contender {
    fn new(setup: &Setup, solved: Solved, fit: Fit, over: Result<OverWood, Fault>) -> Self {
        let values = match &over {
            Ok(over) => Measure::ALL.map(|measure| measure.value(&solved, over)),
            Err(_) => [None; Measure::ALL.len()],
        };
        Self {
            head: setup.powerhead().name().to_owned(),
            marked: setup.bar().marked_length(),
            solved,
            fit,
            over,
            values,
            by_kind: Vec::new(),
        }
    }

    /// One setup through a wood by plans that can be held.
    pub fn of(
        setup: &Setup,
        wood: &Wood,
        rates: &WorkRates,
        thresholds: &Thresholds,
        means: &OtherMeans,
    ) -> Self {
        let solved = solve(setup);
        let fit = fit_of(setup, &solved, thresholds);
        let cuts = match cuts_of(setup, &solved, wood, rates) {
            Ok(cuts) => cuts,
            Err(fault) => return Self::new(setup, solved, fit, Err(fault)),
        };
        let over = over_wood_with(setup, wood, rates, means, cuts.iter().map(Ok));
        let mut one = Self::new(setup, solved, fit, over);
        one.by_kind = over_each(setup, wood, rates, means, &cuts)
            .iter()
            .map(|over| Measure::ALL.map(|measure| measure.value(&one.solved, over)))
            .collect();
        one
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

/// Puts setups through a wood by plans for every diameter that the person can hold. `told` hears of every setup and may
/// stop the work: then there is no answer.
pub fn contenders(
    setups: &[Setup],
    wood: &Wood,
    rates: &WorkRates,
    thresholds: &Thresholds,
    told: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Option<Vec<Contender>> {
    // A saw that cannot go to work is no other means.
    let means = OtherMeans::new(setups, wood, rates).unwrap_or_default();
    through(setups, told, |setup| Contender::of(setup, wood, rates, thresholds, &means))
}

/// The same with each log's cut from elsewhere, by its place among the wood's [`kinds`]: a quick way for very many setups.
pub fn contenders_by<'t>(
    setups: &[Setup],
    wood: &Wood,
    rates: &WorkRates,
    thresholds: &Thresholds,
    cut_of: &dyn Fn(&Solved, usize, &LogKind) -> Result<&'t LogCut, Fault>,
    told: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Option<Vec<Contender>> {
    let means = OtherMeans::new(setups, wood, rates).unwrap_or_default();
    through(setups, told, |setup| {
        let solved = solve(setup);
        let fit = fit_of(setup, &solved, thresholds);
        let cuts = kinds(wood).enumerate().map(|(place, kind)| cut_of(&solved, place, &kind));
        let over = over_wood_with(setup, wood, rates, &means, cuts);
        Contender::new(setup, solved, fit, over)
    })
}

fn through(
    setups: &[Setup],
    told: &mut dyn FnMut(Progress) -> ControlFlow<()>,
    mut one: impl FnMut(&Setup) -> Contender,
) -> Option<Vec<Contender>> {
    let mut found = Vec::with_capacity(setups.len());
    for (index, setup) in setups.iter().enumerate() {
        if told(Progress { done: index, all: setups.len() }).is_break() {
            return None;
        }
        found.push(one(setup));
    }
    told(Progress { done: setups.len(), all: setups.len() }).is_continue().then_some(found)
}
