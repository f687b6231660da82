//! What the readings leave open: numbers that they only know together, or not at all.

use super::fit::{expected_of, placed};
use super::prior::Prior;
use crate::record::Unknown;
use crate::yard::Measured;
use nalgebra::{DMatrix, DVector, SymmetricEigen};

/// A combination is left open where moving it by its prior uncertainty moves all readings together by less than a
/// tenth of theirs: they then add less than a hundredth to what was known.
const LEFT_OPEN: f64 = 0.1;
/// Two numbers belong to one open combination where the projection on the open ones links them by more than this.
const LINKED: f64 = 0.15;
/// A number is part of what is open where at least this share of it is.
const LEAST_OPEN_SHARE: f64 = 0.2;

/// A number matters where its prior uncertainty moves some measure by as much as the common uncertainty of its tool.
const NOTICEABLE: f64 = 1.0;

/// Numbers that the readings do not tell apart; one alone is a number of which they say nothing.
#[derive(Clone, Debug, PartialEq)]
pub struct Mixed {
    /// The numbers.
    pub unknowns: Vec<Unknown>,
    /// The measure that would separate them best.
    pub separated_by: Option<Measured>,
}

/// How many combinations the readings know better than the yard did, and which numbers they leave mixed.
///
/// `candidates` are the measures that could be taken; `seen` holds the derivatives of the readings, each over its uncertainty, one row for each.
pub(super) fn mixed(
    candidates: &[&Measured],
    seen: &DMatrix<f64>,
    unknowns: &[Unknown],
    priors: &[Prior],
) -> (usize, Vec<Mixed>) {
    // In units of the prior uncertainties, so that kilograms and millimetres compare.
    let scale = DVector::from_iterator(priors.len(), priors.iter().map(|prior| prior.uncertainty));
    let scaled = seen * DMatrix::from_diagonal(&scale);
    let information = SymmetricEigen::new(scaled.transpose() * &scaled);
    let strength = |value: f64| value.max(0.0).sqrt();
    let settled = information.eigenvalues.iter().filter(|value| strength(**value) >= 1.0).count();
    let mut open = DMatrix::zeros(unknowns.len(), unknowns.len());
    for (direction, value) in information.eigenvectors.column_iter().zip(information.eigenvalues.iter()) {
        if strength(*value) < LEFT_OPEN {
            open += direction * direction.transpose();
        }
    }
    let values = DVector::from_iterator(priors.len(), priors.iter().map(|prior| prior.value));
    let places = placed(unknowns);
    let rows: Vec<(&Measured, DVector<f64>)> = candidates
        .iter()
        .filter_map(|measured| {
            let (_, slopes) = expected_of(measured, &places, &values)?;
            let row = slopes.component_mul(&scale) / measured.common_uncertainty();
            Some((*measured, row))
        })
        .collect();
    // What no tool would notice is not worth a word: a tank's place, a grip's height.
    let matters = |place: &usize| {
        rows.iter().filter_map(|(_, row)| row.get(*place)).any(|moved| moved.abs() >= NOTICEABLE)
    };
    let groups = groups(&open).into_iter().map(|group| group.into_iter().filter(matters).collect::<Vec<_>>());
    let told = groups.filter(|group| !group.is_empty()).map(|group| Mixed {
        separated_by: separating(&rows, &open, &group),
        unknowns: group.iter().filter_map(|place| unknowns.get(*place).cloned()).collect(),
    });
    (settled, told.collect())
}

/// Numbers linked by what is open, each group in order.
fn groups(open: &DMatrix<f64>) -> Vec<Vec<usize>> {
    let entry = |i: usize, j: usize| open.get((i, j)).copied().unwrap_or(0.0);
    let mut left: Vec<usize> = (0..open.nrows()).filter(|i| entry(*i, *i) > LEAST_OPEN_SHARE).collect();
    let mut groups = Vec::new();
    while let Some(first) = left.first().copied() {
        let mut group = vec![first];
        left.retain(|other| *other != first);
        let mut next = 0;
        while let Some(member) = group.get(next).copied() {
            let (linked, others): (Vec<_>, Vec<_>) =
                left.iter().partition(|other| entry(member, **other).abs() > LINKED);
            group.extend(linked);
            left = others;
            next += 1;
        }
        group.sort_unstable();
        groups.push(group);
    }
    groups
}

/// The measure that sees most of what is open in a group.
fn separating(rows: &[(&Measured, DVector<f64>)], open: &DMatrix<f64>, group: &[usize]) -> Option<Measured> {
    rows.iter()
        .map(|(measured, row)| {
            let unseen = open * row;
            let strength: f64 =
                group.iter().filter_map(|place| unseen.get(*place)).map(|part| part * part).sum();
            (measured, strength)
        })
        .filter(|(_, strength)| strength.sqrt() > LEFT_OPEN)
        .max_by(|(_, a), (_, b)| a.total_cmp(b))
        .map(|(measured, _)| (*measured).clone())
}
