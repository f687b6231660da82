//! How surely the numbers of a yard are known, together.

use super::prior::{InForce, head_is_stated, in_force, prior, value};
use super::saw_model::{Gradient, Values};
use crate::record::{Part, Quantity, Unknown};
use crate::saw::{OriginBar, Setup};
use crate::yard::{Yard, unknowns_of};
use nalgebra::{DMatrix, DVector};
use std::collections::HashMap;

/// Numbers of a yard with their covariance: learnt ones as their weigh-in left them, the others as they were
/// before any reading, each independent of the rest.
#[derive(Clone, Debug, PartialEq)]
pub struct Knowledge {
    unknowns: Vec<Unknown>,
    values: DVector<f64>,
    covariance: DMatrix<f64>,
    places: HashMap<Unknown, usize>,
}

impl Knowledge {
    /// What the yard knows of every number of these setups.
    pub fn of<'a>(yard: &Yard, setups: impl IntoIterator<Item = &'a Setup>) -> Self {
        let mut unknowns: Vec<Unknown> = setups.into_iter().flat_map(unknowns_of).collect();
        unknowns.sort();
        unknowns.dedup();
        Self::of_unknowns(yard, unknowns)
    }

    /// What the yard knows of a head with every bar and chain of its setups.
    pub fn of_head(yard: &Yard, head: &str) -> Self {
        Self::of(yard, yard.setups().iter().filter(|setup| setup.powerhead().name() == head))
    }

    /// True once something is known of how sure a head's own numbers are: a weigh-in taught one of them and still
    /// stands, or the yard states an uncertainty. The common uncertainties that are assumed otherwise do not count.
    pub fn is_stated(yard: &Yard, head: &str) -> bool {
        let taught = |quantity: &Quantity| {
            quantity.part() == Part::Powerhead && in_force(yard, &Unknown::new(head, *quantity)).is_some()
        };
        head_is_stated(yard, head) || Quantity::ALL.iter().any(taught)
    }

    pub(super) fn of_unknowns(yard: &Yard, unknowns: Vec<Unknown>) -> Self {
        // A part that is not in the yard, such as a made-up bar, has nothing known of it and is left out.
        let known: Vec<_> =
            unknowns.into_iter().filter_map(|unknown| Some((value(yard, &unknown)?, unknown))).collect();
        let values = DVector::from_iterator(known.len(), known.iter().map(|(value, _)| *value));
        let unknowns: Vec<Unknown> = known.into_iter().map(|(_, unknown)| unknown).collect();
        let places = unknowns.iter().enumerate().map(|(place, unknown)| (unknown.clone(), place)).collect();
        let covariance = covariance(yard, &unknowns);
        Self { unknowns, values, covariance, places }
    }

    /// The numbers.
    pub fn unknowns(&self) -> &[Unknown] {
        &self.unknowns
    }

    /// Their values, SI.
    pub const fn values(&self) -> &DVector<f64> {
        &self.values
    }

    /// Their covariance, SI.
    pub const fn covariance(&self) -> &DMatrix<f64> {
        &self.covariance
    }

    /// The standard uncertainty of a number, SI.
    pub fn uncertainty(&self, unknown: &Unknown) -> Option<f64> {
        let place = *self.places.get(unknown)?;
        self.covariance.get((place, place)).map(|variance| variance.max(0.0).sqrt())
    }

    pub(super) fn place(&self, unknown: &Unknown) -> Option<usize> {
        self.places.get(unknown).copied()
    }

    /// A saw's gradient by its own numbers as a gradient by all of these. `bar` says how the saw's bar follows
    /// from bars known here: itself alone, or the two that a made-up bar lies between.
    pub(super) fn spread(&self, setup: &Setup, bar: &[OriginBar], gradient: &Gradient) -> DVector<f64> {
        let mut spread = DVector::zeros(self.unknowns.len());
        let mut add = |unknown: &Unknown, slope: f64| {
            if let Some(entry) = self.place(unknown).and_then(|place| spread.get_mut(place)) {
                *entry += slope;
            }
        };
        for (unknown, slope) in unknowns_of(setup).iter().zip(gradient) {
            if unknown.quantity.part() == Part::Bar {
                for origin in bar {
                    let nose = unknown.quantity == Quantity::NosePlace;
                    let weight = if nose { origin.by_nose } else { origin.by_mass };
                    add(&Unknown::new(&origin.name, unknown.quantity), slope * weight);
                }
            } else {
                add(unknown, *slope);
            }
        }
        spread
    }

    /// Where in the vector of these values each number of a setup stands.
    pub(super) fn slots(&self, setup: &Setup) -> Vec<Option<usize>> {
        unknowns_of(setup).iter().map(|unknown| self.place(unknown)).collect()
    }

    /// The standard uncertainty of a linear form, SI.
    pub(super) fn uncertainty_along(&self, gradient: &DVector<f64>) -> f64 {
        gradient.dot(&self.spread_along(gradient)).max(0.0).sqrt()
    }

    /// The covariance times a gradient. One of a saw follows the numbers of its own parts alone, whatever else is known.
    pub(super) fn spread_along(&self, gradient: &DVector<f64>) -> DVector<f64> {
        let mut spread = DVector::zeros(gradient.len());
        for (column, slope) in
            self.covariance.column_iter().zip(gradient.iter()).filter(|(_, slope)| **slope != 0.0)
        {
            spread.axpy(*slope, &column, 1.0);
        }
        spread
    }
}

/// A saw's own values with those taken over that stand in `all`.
pub(super) fn filled(own: &Values, slots: &[Option<usize>], all: &DVector<f64>) -> Values {
    let mut values = *own;
    for (value, slot) in values.iter_mut().zip(slots) {
        if let Some(known) = slot.and_then(|place| all.get(place)) {
            *value = *known;
        }
    }
    values
}

fn covariance(yard: &Yard, unknowns: &[Unknown]) -> DMatrix<f64> {
    let taught: Vec<Option<InForce<'_>>> = unknowns.iter().map(|unknown| in_force(yard, unknown)).collect();
    let uncertainty: Vec<f64> = unknowns
        .iter()
        .zip(&taught)
        .map(|(unknown, found)| match found {
            Some(found) => found.learnt.uncertainty * unknown.quantity.si_per_file_unit(),
            None => prior(yard, unknown).map_or(0.0, |prior| prior.uncertainty),
        })
        .collect();
    DMatrix::from_fn(unknowns.len(), unknowns.len(), |i, j| {
        let pair = (uncertainty.get(i), uncertainty.get(j), taught.get(i), taught.get(j));
        let (Some(a), Some(b), Some(first), Some(second)) = pair else { return 0.0 };
        let correlation = match (first, second) {
            _ if i == j => 1.0,
            (Some(first), Some(second)) if first.place.0 == second.place.0 => {
                correlation(first.weigh_in.correlations.as_slice(), first.place.1, second.place.1)
            }
            _ => 0.0,
        };
        a * b * correlation
    })
}

/// Entry of a matrix written below its diagonal row by row.
fn correlation(below_diagonal: &[f64], i: usize, j: usize) -> f64 {
    let (row, column) = if i > j { (i, j) } else { (j, i) };
    below_diagonal.get(row * row.saturating_sub(1) / 2 + column).copied().unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;
    use crate::record::{MeasuredFile, ReadingFile, YARD_VERSION};
    use crate::weigh_in::{Choice, applied, fit, put_back};

    #[test]
    fn a_head_is_stated_by_a_weigh_in_in_force_or_by_its_file() {
        let demo = demo().unwrap();
        assert!(!Knowledge::is_stated(&demo, "Bittern"), "common uncertainties do not count");
        let mut file = demo.file().clone();
        file.powerheads[0].standard_uncertainty.spike_line_mm = Some(2.0);
        let name = file.powerheads[0].name.clone();
        assert!(Knowledge::is_stated(&Yard::new(file).unwrap(), &name));
        let mut file = demo.file().clone();
        file.version = YARD_VERSION;
        file.readings.clear();
        file.readings.push(ReadingFile::new(
            MeasuredFile::Hang { nose_down_deg: 20.0, uncertainty_deg: 1.0 },
            Some("Bittern B24".to_owned()),
        ));
        let read = Yard::new(file).unwrap();
        let after = applied(&read, &fit(&read, &Choice::Automatic).unwrap(), "2026-11-25").unwrap();
        assert!(Knowledge::is_stated(&after, "Bittern"));
        assert!(!Knowledge::is_stated(&after, "Wren"), "another head learnt nothing");
        assert!(!Knowledge::is_stated(&put_back(&after).unwrap().unwrap(), "Bittern"));
    }
}
