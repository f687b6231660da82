//! How many links a loop has, where nobody counted them: what the readings say for each count.
//!
//! One link more moves a nose by a pitch, and no half links are made. The fit takes the place of a nose as one number
//! with one spread; here the counts are taken apart again. With the noses' likelihood known (what the fit found, less
//! what was known before), each combination of counts has a closed chance, for all is normal but the counts; the
//! values of a fit are then the mean over the combinations and its covariance theirs together.

use super::fit::Learnt;
use crate::fault::Fault;
use crate::propose::{LoopRound, NoseDoubt, nose_doubt, propose_bar, unmark_proposed};
use crate::record::{PartFile, Quantity};
use crate::yard::Yard;
use nalgebra::{DMatrix, DVector};

/// A count of links of one bar's loop, and how likely it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Counted {
    /// Name of the bar.
    pub bar: String,
    /// The count that the yard has, proposed.
    pub proposed: u32,
    /// Counts with their chance before and after the readings, fewest first; the chances add up to 1.
    pub chances: Vec<CountChance>,
}

/// One count.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CountChance {
    /// Drive links.
    pub links: u32,
    /// How likely before any reading, 0 to 1.
    pub before: f64,
    /// How likely with the readings, 0 to 1.
    pub now: f64,
}

/// The yard with a count that somebody made: the bar's loop has so many links, and what is proposed of the bar follows.
/// What readings taught of the nose was taught of another count and goes.
///
/// # Errors
/// Where the count makes no yard: a loop that does not close on a bar whose length was measured.
pub fn links_counted(yard: &Yard, bar: &str, links: u32) -> Result<Yard, Vec<Fault>> {
    let mut file = yard.file().clone();
    for setup in file.setups.iter_mut().filter(|setup| setup.bar == bar) {
        setup.drive_links = None;
    }
    if let Some(found) = file.bars.iter_mut().find(|found| found.name == bar) {
        let mut part = PartFile::Bar(Box::new(found.clone()));
        unmark_proposed(&mut part, "marked_drive_links");
        if let PartFile::Bar(mut counted) = part {
            counted.marked_drive_links = links;
            counted.nose_place_mm = None;
            if let Some(drive) = LoopRound::of(yard, bar).drive() {
                propose_bar(&mut counted, &drive);
            }
            *found = *counted;
        }
    }
    Yard::new(file)
}

/// Combinations that are carried on from bar to bar, the likeliest ones: with five bars and nine counts each, what is
/// left out weighs less than a thousandth.
const MOST_KEPT: usize = 1_000;

/// A nose whose count is open.
struct Nose {
    /// Its place among the learnt numbers.
    place: usize,
    doubt: NoseDoubt,
    counts: Vec<(i32, f64)>,
}

/// What the readings say of the counts, and what that makes of the fitted numbers and their covariance. `None` where
/// every count was read, or no reading tells of a nose whose count was not.
pub(super) fn counted(
    yard: &Yard,
    learnt: &mut [Learnt],
    covariance: &mut DMatrix<f64>,
) -> Option<Vec<Counted>> {
    let noses = open_noses(yard, learnt);
    if noses.is_empty() {
        return None;
    }
    let places: Vec<usize> = noses.iter().map(|nose| nose.place).collect();
    let found = covariance.select_rows(&places).select_columns(&places);
    let value = |place: usize| learnt.get(place).map_or(0.0, |learnt| learnt.value - learnt.prior.value);
    let means = DVector::from_iterator(places.len(), places.iter().map(|place| value(*place)));
    // What the readings alone say of the noses: the fit less what it took as known before.
    let found_precision = found.clone().cholesky()?.inverse();
    let before = DVector::from_iterator(
        noses.len(),
        noses
            .iter()
            .map(|nose| learnt.get(nose.place).map_or(0.0, |learnt| learnt.prior.uncertainty.powi(-2))),
    );
    let precision = &found_precision - DMatrix::from_diagonal(&before);
    let pull = &found_precision * &means;
    let even = DVector::from_iterator(noses.len(), noses.iter().map(|nose| nose.doubt.even_m.powi(-2)));
    let within = (&precision + DMatrix::from_diagonal(&even)).cholesky()?.inverse();
    let combinations = combinations(&noses, &within, &pull, &even);

    // The mean of each combination follows its shifts straight: so the mean and the spread of all follow theirs.
    let mut shift = DVector::zeros(noses.len());
    for (shifts, chance) in &combinations {
        shift.axpy(*chance, shifts, 1.0);
    }
    let mut apart = DMatrix::zeros(noses.len(), noses.len());
    for (shifts, chance) in &combinations {
        let off = shifts - &shift;
        apart.ger(*chance, &off, &off, 1.0);
    }
    let follow = &within * DMatrix::from_diagonal(&even);
    let mean = &within * &pull + &follow * &shift;
    let spread = &within + &follow * apart * follow.transpose();
    carry_over(learnt, covariance, &places, &found_precision, &(&mean - &means), &(&spread - &found));
    Some(told(yard, learnt, &noses, &combinations))
}

fn open_noses(yard: &Yard, learnt: &[Learnt]) -> Vec<Nose> {
    let file = yard.file();
    learnt
        .iter()
        .enumerate()
        .filter(|(_, learnt)| learnt.unknown.quantity == Quantity::NosePlace)
        .filter_map(|(place, learnt)| {
            let bar = file.bars.iter().find(|bar| bar.name == *learnt.unknown.of)?;
            let doubt = nose_doubt(bar, &LoopRound::of(yard, &bar.name));
            doubt.link_m?;
            Some(Nose { place, counts: doubt.counts(), doubt })
        })
        .collect()
}

/// The combinations of counts as shifts of the noses, m, each with its chance.
///
/// With the readings' information Λ and pull η, and each nose normal about its count's place c with variance D, the
/// chance of a combination is that of the counts times exp(½ bᵀA⁻¹b − ½ cᵀD⁻¹c) with A = Λ + D⁻¹, b = η + D⁻¹c.
/// Noses come in one after the other, those that have not come yet standing at their proposed count.
fn combinations(
    noses: &[Nose],
    within: &DMatrix<f64>,
    pull: &DVector<f64>,
    even: &DVector<f64>,
) -> Vec<(DVector<f64>, f64)> {
    // The chance's logarithm is a parabola of the shifts, gᵀc + ½ cᵀHc: one more nose adds to it from its own row.
    let slopes = even.component_mul(&(within * pull));
    let weights = DMatrix::from_diagonal(even);
    let bend = &weights * within * &weights - &weights;
    let entry = |row: usize, column: usize| bend.get((row, column)).copied().unwrap_or(0.0);
    let mut kept: Vec<(DVector<f64>, f64)> = vec![(DVector::zeros(noses.len()), 0.0)];
    for (row, nose) in noses.iter().enumerate() {
        let link_m = nose.doubt.link_m.unwrap_or(0.0);
        let own = slopes.get(row).copied().unwrap_or(0.0);
        let mut next: Vec<(usize, f64, f64)> = Vec::with_capacity(kept.len() * nose.counts.len());
        for (from, (shifts, so_far)) in kept.iter().enumerate() {
            let by_others: f64 =
                shifts.iter().take(row).enumerate().map(|(column, shift)| entry(row, column) * shift).sum();
            for (aside, chance) in &nose.counts {
                let shift = f64::from(*aside) * link_m;
                let more = shift * (own + by_others + 0.5 * shift * entry(row, row));
                next.push((from, shift, so_far + chance.ln() + more));
            }
        }
        if next.len() > MOST_KEPT {
            next.select_nth_unstable_by(MOST_KEPT, |a, b| b.2.total_cmp(&a.2));
            next.truncate(MOST_KEPT);
        }
        let with = |(from, shift, so_far): (usize, f64, f64)| {
            let mut shifts = kept.get(from)?.0.clone();
            *shifts.get_mut(row)? = shift;
            Some((shifts, so_far))
        };
        kept = next.into_iter().filter_map(with).collect();
    }
    let highest = kept.iter().map(|(_, all)| *all).fold(f64::NEG_INFINITY, f64::max);
    let sum: f64 = kept.iter().map(|(_, all)| (all - highest).exp()).sum();
    kept.into_iter().map(|(shifts, all)| (shifts, (all - highest).exp() / sum)).collect()
}

/// Moves what goes with the noses: each other number follows them as it did in the fit, and keeps the spread that it
/// has for itself.
fn carry_over(
    learnt: &mut [Learnt],
    covariance: &mut DMatrix<f64>,
    places: &[usize],
    found_precision: &DMatrix<f64>,
    moved: &DVector<f64>,
    wider: &DMatrix<f64>,
) {
    let follow = covariance.select_columns(places) * found_precision;
    let by = &follow * moved;
    *covariance += &follow * wider * follow.transpose();
    for (place, (learnt, by)) in learnt.iter_mut().zip(by.iter()).enumerate() {
        learnt.value += by;
        learnt.uncertainty = covariance.get((place, place)).map_or(0.0, |variance| variance.max(0.0).sqrt());
    }
}

fn told(
    yard: &Yard,
    learnt: &[Learnt],
    noses: &[Nose],
    combinations: &[(DVector<f64>, f64)],
) -> Vec<Counted> {
    let file = yard.file();
    let bar_of = |nose: &Nose| {
        let name = &learnt.get(nose.place)?.unknown.of;
        file.bars.iter().find(|bar| bar.name == **name)
    };
    noses
        .iter()
        .enumerate()
        .filter_map(|(row, nose)| {
            let bar = bar_of(nose)?;
            let link_m = nose.doubt.link_m?;
            let chances = nose.counts.iter().filter_map(|(aside, before)| {
                let place = f64::from(*aside) * link_m;
                let here = |shifts: &DVector<f64>| {
                    shifts.get(row).is_some_and(|shift| (shift - place).abs() < 0.5 * link_m)
                };
                let now = combinations.iter().filter(|(shifts, _)| here(shifts)).map(|(_, chance)| chance);
                let links = bar.marked_drive_links.checked_add_signed(*aside)?;
                Some(CountChance { links, before: *before, now: now.sum() })
            });
            Some(Counted {
                bar: bar.name.clone(),
                proposed: bar.marked_drive_links,
                chances: chances.collect(),
            })
        })
        .collect()
}
