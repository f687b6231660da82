//! The fit of a yard's numbers to its readings.

use super::apart::{Group, groups, joined};
use super::counts::{Counted, counted};
use super::knowledge::filled;
use super::next_reading::candidates;
use super::prior::{Prior, prior, value};
use super::saw_model::{Figure, SawModel};
use super::tell_apart::{Mixed, mixed};
use crate::least_squares::{FitError, Minimum, Misfit, chi_square_above, minimise};
use crate::record::Unknown;
use crate::yard::{Measured, Reading, SawMeasure, Yard};
use nalgebra::{DMatrix, DVector};
use std::collections::{HashMap, HashSet};
use std::fmt;

/// A number is left alone unless some reading would notice, by this share of its own uncertainty, that it is wrong
/// by its prior uncertainty.
const NOTICED: f64 = 0.01;
/// A reading that is this many standard deviations off disagrees, whatever the others say: one in 370 would.
const DISAGREES_ALONE: f64 = 3.0;
/// Where all readings together are less likely than this, the worst of them is named from [`DISAGREES_WITH`] on.
const UNLIKELY: f64 = 0.05;
const DISAGREES_WITH: f64 = 2.0;
/// A residual of a reading that the fit simply follows says nothing: below this share of its variance is left.
const LEAST_FREE_SHARE: f64 = 1e-9;

/// Which numbers a fit may change.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Choice {
    /// All that the readings notice.
    #[default]
    Automatic,
    /// These, as far as a reading notices them.
    Chosen(HashSet<Unknown>),
}

/// Why nothing was fitted.
#[derive(Clone, Debug, PartialEq)]
pub enum CannotFit {
    /// The yard has no reading, or all are left out.
    NoReadings,
    /// The readings notice none of the chosen numbers.
    NothingNoticed,
    /// The readings ask for a value outside its allowed range.
    OutOfRange {
        /// The number.
        unknown: Unknown,
        /// What they ask for, SI.
        value: f64,
    },
    /// The search failed.
    Search(FitError),
}

impl fmt::Display for CannotFit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoReadings => write!(f, "there is no reading to learn from"),
            Self::NothingNoticed => write!(f, "no reading depends on any of the chosen numbers"),
            Self::OutOfRange { unknown, value } => {
                let range = unknown.quantity.range();
                let value = value / unknown.quantity.si_per_file_unit();
                write!(
                    f,
                    "the readings ask for a {} of {value:.1} {} for {}, outside {}…{}: one of them must be wrong",
                    range.what, range.unit, unknown.of, range.min, range.max
                )
            }
            Self::Search(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for CannotFit {}

/// What the readings made of one number; SI throughout.
#[derive(Clone, Debug, PartialEq)]
pub struct Learnt {
    /// Which number.
    pub unknown: Unknown,
    /// What was known without any reading.
    pub prior: Prior,
    /// What the yard has now.
    pub before: f64,
    /// The fitted value.
    pub value: f64,
    /// Its standard uncertainty.
    pub uncertainty: f64,
}

impl Learnt {
    /// How much of what is known of it comes from the readings: 0 nothing, 1 all.
    pub fn from_readings(&self) -> f64 {
        (1.0 - (self.uncertainty / self.prior.uncertainty).powi(2)).clamp(0.0, 1.0)
    }
}

/// A reading and what the fit says of it; SI, weights in kg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FittedReading {
    /// Place in the yard's list of readings.
    pub index: usize,
    /// What was read, and its standard uncertainty.
    pub read: (f64, f64),
    /// What was expected without any reading.
    pub expected_before: f64,
    /// What the fitted numbers give.
    pub expected: f64,
    /// What the other readings and what was known before say, with its standard uncertainty; `None` where nothing but
    /// this reading settles it.
    pub by_others: Option<(f64, f64)>,
    /// Read less what the others say, in standard deviations of that difference; `None` as above.
    pub standardised: Option<f64>,
    /// The learnt number, by its place in [`Fit::learnt`], that took up most of what was read otherwise than expected
    /// before, and how much of it; `None` where none did.
    pub mostly: Option<(usize, f64)>,
}

/// The reading that does not go with the others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Disagreement {
    /// Place in the yard's list of readings.
    pub index: usize,
    /// How many standard deviations it is off.
    pub standardised: f64,
    /// The probability of so large a chi-square without it.
    pub probability_without: Option<f64>,
}

/// A fit.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The numbers, by part and kind.
    pub learnt: Vec<Learnt>,
    /// Their covariance, SI.
    pub covariance: DMatrix<f64>,
    /// How many links those loops have that nobody counted, where a reading tells of them.
    pub counts: Vec<Counted>,
    /// The readings that were used.
    pub readings: Vec<FittedReading>,
    /// Sum of squared residuals, those against what was known before included.
    pub chi_square: f64,
    /// Its degrees of freedom: as many as readings, for each number brings a row of what was known before.
    pub freedom: usize,
    /// The probability of a chi-square at least as large, if every stated uncertainty holds.
    pub probability: Option<f64>,
    /// The reading that disagrees most, if one does.
    pub disagreement: Option<Disagreement>,
    /// How many combinations of the numbers the readings know better than the yard did.
    pub settled: usize,
    /// Numbers that the readings do not tell apart.
    pub mixed: Vec<Mixed>,
    /// Evaluations that were needed.
    pub steps: usize,
}

impl Fit {
    /// What the readings made of a number; `None` where it was not learnt.
    pub fn of(&self, unknown: &Unknown) -> Option<&Learnt> {
        self.learnt.iter().find(|learnt| learnt.unknown == *unknown)
    }

    /// Correlation of two numbers by their places in [`Fit::learnt`].
    pub fn correlation(&self, i: usize, j: usize) -> f64 {
        let of = |i: usize, j: usize| self.covariance.get((i, j)).copied().unwrap_or(0.0);
        let both = (of(i, i) * of(j, j)).sqrt();
        if both > 0.0 { of(i, j) / both } else { 0.0 }
    }
}

/// How a reading follows from the unknowns.
enum Model {
    Saw { saw: Box<SawModel>, slots: Vec<Option<usize>>, measure: SawMeasure },
    Scaled { place: Option<usize>, own: f64, factor: f64 },
}

impl Model {
    fn new(measured: &Measured, places: &HashMap<&Unknown, usize>) -> Self {
        let slots: Vec<_> = measured.unknowns().iter().map(|unknown| places.get(unknown).copied()).collect();
        match measured {
            Measured::Saw { setup, measure } => {
                Self::Saw { saw: Box::new(SawModel::new(setup)), slots, measure: *measure }
            }
            Measured::Bar(bar) => {
                Self::Scaled { place: slots.first().copied().flatten(), own: bar.mass().as_kg(), factor: 1.0 }
            }
            Measured::Loop { chain, links } => Self::Scaled {
                place: slots.first().copied().flatten(),
                own: chain.link_mass().as_kg(),
                factor: f64::from(*links),
            },
        }
    }

    /// The expected reading and its derivatives by the unknowns.
    fn at(&self, values: &DVector<f64>) -> Option<(f64, DVector<f64>)> {
        let mut slopes = DVector::zeros(values.len());
        match self {
            Self::Saw { saw, slots, measure } => {
                let own = filled(saw.values(), slots, values);
                let (value, gradient) = saw.figure(Figure::Measured(*measure), &own)?;
                for (slot, slope) in slots.iter().zip(gradient) {
                    if let Some(entry) = slot.and_then(|place| slopes.get_mut(place)) {
                        *entry = slope;
                    }
                }
                Some((value, slopes))
            }
            Self::Scaled { place, own, factor } => {
                let now = place.and_then(|place| values.get(place)).unwrap_or(own);
                if let Some(entry) = place.and_then(|place| slopes.get_mut(place)) {
                    *entry = *factor;
                }
                Some((factor * now, slopes))
            }
        }
    }
}

/// The readings and what was known before, as rows.
struct Rows<'a> {
    readings: Vec<(usize, &'a Reading, Model)>,
    unknowns: &'a [Unknown],
    priors: &'a [Prior],
    fenced: bool,
}

impl Rows<'_> {
    fn allowed(&self, values: &DVector<f64>) -> bool {
        !self.fenced || self.unknowns.iter().zip(values.iter()).all(|(unknown, value)| holds(unknown, *value))
    }
}

fn holds(unknown: &Unknown, value: f64) -> bool {
    unknown.quantity.range().holds(value / unknown.quantity.si_per_file_unit())
}

impl Misfit for Rows<'_> {
    fn unknowns(&self) -> usize {
        self.unknowns.len()
    }

    fn at(&self, values: &DVector<f64>) -> Option<(DVector<f64>, DMatrix<f64>)> {
        if !self.allowed(values) {
            return None;
        }
        let (count, width) = (self.readings.len(), self.unknowns.len());
        let mut residuals = DVector::zeros(count + width);
        let mut slopes = DMatrix::zeros(count + width, width);
        for (row, (_, reading, model)) in self.readings.iter().enumerate() {
            let (expected, by) = model.at(values)?;
            *residuals.get_mut(row)? = (expected - reading.value()) / reading.uncertainty();
            slopes.row_mut(row).copy_from(&(by / reading.uncertainty()).transpose());
        }
        for (place, (prior, value)) in self.priors.iter().zip(values.iter()).enumerate() {
            *residuals.get_mut(count + place)? = (value - prior.value) / prior.uncertainty;
            *slopes.get_mut((count + place, place))? = 1.0 / prior.uncertainty;
        }
        Some((residuals, slopes))
    }
}

fn used(yard: &Yard) -> impl Iterator<Item = (usize, &Reading)> {
    yard.readings().iter().enumerate().filter(|(_, reading)| !reading.left_out())
}

/// The numbers that the yard's readings notice, in order.
pub fn readable(yard: &Yard) -> Vec<Unknown> {
    let mut noticed: Vec<Unknown> = Vec::new();
    for (_, reading) in used(yard) {
        let unknowns = reading.measured().unknowns();
        let places: HashMap<_, _> =
            unknowns.iter().enumerate().map(|(place, unknown)| (unknown, place)).collect();
        let priors: Vec<_> = unknowns.iter().map(|unknown| prior(yard, unknown)).collect();
        let values = DVector::from_iterator(
            priors.len(),
            priors.iter().map(|prior| prior.map_or(0.0, |prior| prior.value)),
        );
        if let Some((_, slopes)) = Model::new(reading.measured(), &places).at(&values) {
            for ((unknown, prior), slope) in unknowns.iter().zip(&priors).zip(slopes.iter()) {
                let moved = prior.map_or(0.0, |prior| (slope * prior.uncertainty).abs());
                if moved > NOTICED * reading.uncertainty() {
                    noticed.push(unknown.clone());
                }
            }
        }
    }
    noticed.sort();
    noticed.dedup();
    noticed
}

/// Fits the yard's numbers to its readings. What was known before counts as one reading of each number; where a
/// weigh-in taught a number, what was known before that.
///
/// # Errors
/// [`CannotFit`].
pub fn fit(yard: &Yard, choice: &Choice) -> Result<Fit, CannotFit> {
    fitted_in(yard, choice, groups)
}

/// The fit with its numbers in groups that are each fitted alone.
pub(super) fn fitted_in(
    yard: &Yard,
    choice: &Choice,
    groups: impl FnOnce(usize, &[Vec<usize>]) -> Vec<Group>,
) -> Result<Fit, CannotFit> {
    let used: Vec<(usize, &Reading)> = used(yard).collect();
    if used.is_empty() {
        return Err(CannotFit::NoReadings);
    }
    let (unknowns, priors): (Vec<Unknown>, Vec<Prior>) = readable(yard)
        .into_iter()
        .filter(|unknown| match choice {
            Choice::Automatic => true,
            Choice::Chosen(chosen) => chosen.contains(unknown),
        })
        .filter_map(|unknown| prior(yard, &unknown).map(|prior| (unknown, prior)))
        .unzip();
    if unknowns.is_empty() {
        return Err(CannotFit::NothingNoticed);
    }
    let places: HashMap<_, _> =
        unknowns.iter().enumerate().map(|(place, unknown)| (unknown, place)).collect();
    let reads: Vec<Vec<usize>> =
        used.iter().map(|(_, reading)| places_of(reading.measured(), &places)).collect();
    let candidates: Vec<(Measured, Vec<usize>)> = candidates(yard, &unknowns)
        .into_iter()
        .map(|measured| {
            let reads = places_of(&measured, &places);
            (measured, reads)
        })
        .collect();
    let whole = Whole { yard, used: &used, unknowns: &unknowns, priors: &priors, candidates: &candidates };
    let (mut parts, mut refused) = (Vec::new(), Vec::new());
    for group in groups(unknowns.len(), &reads) {
        match whole.fitted(&group) {
            Ok(fit) => parts.push((group, fit)),
            Err(error) => refused.push(error),
        }
    }
    // A number out of its range says more than a search that failed.
    let out = refused.iter().position(|error| matches!(error, CannotFit::OutOfRange { .. }));
    match refused.into_iter().nth(out.unwrap_or(0)) {
        Some(error) => Err(error),
        None => Ok(joined(unknowns.len(), parts)),
    }
}

/// The places of the numbers that a measure depends on, of those that are fitted.
fn places_of(measured: &Measured, places: &HashMap<&Unknown, usize>) -> Vec<usize> {
    measured.unknowns().iter().filter_map(|unknown| places.get(unknown).copied()).collect()
}

/// All that is fitted.
struct Whole<'a> {
    yard: &'a Yard,
    used: &'a [(usize, &'a Reading)],
    unknowns: &'a [Unknown],
    priors: &'a [Prior],
    /// Measures that could be taken, and the places of the numbers that they depend on.
    candidates: &'a [(Measured, Vec<usize>)],
}

impl Whole<'_> {
    fn fitted(&self, group: &Group) -> Result<Fit, CannotFit> {
        let own = |place: &usize| Some((self.unknowns.get(*place)?.clone(), *self.priors.get(*place)?));
        let (unknowns, priors): (Vec<Unknown>, Vec<Prior>) = group.unknowns.iter().filter_map(own).unzip();
        let places: HashMap<_, _> =
            unknowns.iter().enumerate().map(|(place, unknown)| (unknown, place)).collect();
        let readings = group
            .readings
            .iter()
            .filter_map(|reading| self.used.get(*reading))
            .map(|(index, reading)| (*index, *reading, Model::new(reading.measured(), &places)))
            .collect();
        let start = DVector::from_iterator(priors.len(), priors.iter().map(|prior| prior.value));
        let mut rows = Rows { readings, unknowns: &unknowns, priors: &priors, fenced: true };
        match minimise(&rows, start.clone()) {
            Ok(minimum) => {
                let is_own = |place: &usize| group.unknowns.binary_search(place).is_ok();
                let separating: Vec<&Measured> = self
                    .candidates
                    .iter()
                    .filter(|(_, reads)| reads.iter().any(is_own))
                    .map(|(measured, _)| measured)
                    .collect();
                Ok(told(self.yard, &rows, &start, minimum, &separating))
            }
            Err(error) => {
                rows.fenced = false;
                Err(beyond(&rows, start).unwrap_or(CannotFit::Search(error)))
            }
        }
    }
}

/// The number that the readings would push furthest out of its range, if that is what stopped the fit.
fn beyond(rows: &Rows<'_>, start: DVector<f64>) -> Option<CannotFit> {
    let minimum = minimise(rows, start).ok()?;
    rows.unknowns
        .iter()
        .zip(minimum.values.iter())
        .find(|(unknown, value)| !holds(unknown, **value))
        .map(|(unknown, value)| CannotFit::OutOfRange { unknown: unknown.clone(), value: *value })
}

fn told(
    yard: &Yard,
    rows: &Rows<'_>,
    start: &DVector<f64>,
    mut minimum: Minimum,
    candidates: &[&Measured],
) -> Fit {
    let count = rows.readings.len();
    let before: Vec<_> = rows.readings.iter().map(|(_, _, model)| model.at(start)).collect();
    let mut readings: Vec<FittedReading> = rows
        .readings
        .iter()
        .enumerate()
        .zip(&before)
        .map(|((row, (index, reading, _)), before)| {
            let (value, uncertainty) = (reading.value(), reading.uncertainty());
            let residual = minimum.residuals.get(row).copied().unwrap_or(0.0);
            FittedReading {
                index: *index,
                read: (value, uncertainty),
                expected_before: before.as_ref().map_or(f64::NAN, |(expected, _)| *expected),
                expected: value + residual * uncertainty,
                by_others: free_share(&minimum, row).map(|free| {
                    // What a fit without this row would give (the linear case of leaving one out).
                    let alone = uncertainty * (1.0 / free - 1.0).max(0.0).sqrt();
                    (value + residual * uncertainty / free, alone)
                }),
                standardised: free_share(&minimum, row).map(|free| -residual / free.sqrt()),
                mostly: None,
            }
        })
        .collect();
    let mut learnt: Vec<Learnt> = rows
        .unknowns
        .iter()
        .zip(rows.priors)
        .enumerate()
        .map(|(place, (unknown, prior))| Learnt {
            unknown: unknown.clone(),
            prior: *prior,
            before: value(yard, unknown).unwrap_or(prior.value),
            value: minimum.values.get(place).copied().unwrap_or(prior.value),
            uncertainty: minimum
                .covariance
                .get((place, place))
                .map_or(0.0, |variance| variance.max(0.0).sqrt()),
        })
        .collect();
    let probability = chi_square_above(minimum.chi_square, minimum.freedom);
    let seen = minimum.jacobian.rows(0, count).into_owned();
    let (settled, mixed) = mixed(candidates, &seen, rows.unknowns, rows.priors);
    let disagreement = disagreement(&readings, minimum.chi_square, minimum.freedom);
    let counts = counted(yard, &mut learnt, &mut minimum.covariance).unwrap_or_default();
    let values = DVector::from_iterator(learnt.len(), learnt.iter().map(|learnt| learnt.value));
    let moved = &values - start;
    for ((fitted, (_, _, model)), before) in readings.iter_mut().zip(&rows.readings).zip(&before) {
        if !counts.is_empty() {
            fitted.expected = model.at(&values).map_or(fitted.expected, |(expected, _)| expected);
        }
        let by = fitted.expected - fitted.expected_before;
        fitted.mostly = before.as_ref().and_then(|(_, slopes)| mostly(&slopes.component_mul(&moved), by));
    }
    Fit {
        learnt,
        counts,
        disagreement,
        readings,
        chi_square: minimum.chi_square,
        freedom: minimum.freedom,
        probability,
        settled,
        mixed,
        steps: minimum.steps,
        covariance: minimum.covariance,
    }
}

/// Which number moved a reading most in the way in which it moved, and by how much.
fn mostly(parts: &DVector<f64>, moved: f64) -> Option<(usize, f64)> {
    let along = parts.iter().copied().enumerate().filter(|(_, part)| part * moved > 0.0);
    along.max_by(|(_, a), (_, b)| a.abs().total_cmp(&b.abs()))
}

/// The share of a reading's variance that the fit did not take up from the reading itself.
fn free_share(minimum: &Minimum, row: usize) -> Option<f64> {
    let slopes = minimum.jacobian.row(row).transpose();
    let free = 1.0 - slopes.dot(&(&minimum.covariance * &slopes));
    (free > LEAST_FREE_SHARE).then_some(free)
}

pub(super) fn disagreement(
    readings: &[FittedReading],
    chi_square: f64,
    freedom: usize,
) -> Option<Disagreement> {
    let (reading, off) = readings
        .iter()
        .filter_map(|reading| Some((reading, reading.standardised?)))
        .max_by(|(_, a), (_, b)| a.abs().total_cmp(&b.abs()))?;
    let probability = chi_square_above(chi_square, freedom);
    let unlikely = probability.is_some_and(|probability| probability < UNLIKELY);
    let limit = if unlikely { DISAGREES_WITH } else { DISAGREES_ALONE };
    // Leaving a reading out takes the square of its standardised residual off the chi-square.
    (off.abs() > limit).then(|| Disagreement {
        index: reading.index,
        standardised: off,
        probability_without: freedom
            .checked_sub(1)
            .and_then(|freedom| chi_square_above(chi_square - off * off, freedom)),
    })
}

/// The expected value of a measure and its derivatives by these numbers at the yard's own values, SI.
pub(super) fn expected_of(
    measured: &Measured,
    places: &HashMap<&Unknown, usize>,
    values: &DVector<f64>,
) -> Option<(f64, DVector<f64>)> {
    Model::new(measured, places).at(values)
}

/// Where each of these numbers stands.
pub(super) fn placed(unknowns: &[Unknown]) -> HashMap<&Unknown, usize> {
    unknowns.iter().enumerate().map(|(place, unknown)| (unknown, place)).collect()
}
