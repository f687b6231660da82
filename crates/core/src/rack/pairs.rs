//! Two saws for a mixed wood: which pair serves best, and which of them takes which logs.

use super::choose::{Choice, Preferences};
use super::contender::Contender;
use super::measure::{Measure, Values};
use super::over_wood::{LogKind, kinds};
use super::rates::WorkRates;
use super::sureness::Sureness;
use crate::yard::Wood;

/// The best so many of the order are paired.
const MOST_PAIRED: usize = 40;

/// Two setups that share the cuts of a wood.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// Their places in the list, the one that takes the thicker logs first.
    pub setups: [usize; 2],
    /// What the wood is worth done so; see [`super::Scales::score`].
    pub score: f64,
    /// By how much that is more than the better of the two alone.
    pub gain: f64,
    /// By how much the difference to the best alone is unsure; `None` where nobody asked.
    pub doubt: Option<f64>,
    /// Share of the cuts that the first takes.
    pub share_of_first: f64,
    /// For each kind of log of the wood, true where the first takes it.
    pub first_takes: Vec<bool>,
    /// True where one head carries both bars, and they are swapped.
    pub swaps: bool,
    /// What the swapping adds to each cut, s, the mean; 0 with two heads.
    pub swap_s_per_cut: f64,
}

/// The pairs of admitted setups that share a wood, best first: each kind of log goes to the one whose cut of it is worth
/// more. Pairs in which one takes everything are none. Of very many setups the best are paired.
///
/// With two heads, that both are carried to the wood is not counted; with one, changing the bar is
/// ([`WorkRates::swap_bar_s`]).
pub fn pairs(
    contenders: &[Contender],
    wood: &Wood,
    rates: &WorkRates,
    preferences: &Preferences,
    choice: &Choice,
    sureness: Option<&Sureness>,
) -> Vec<Pair> {
    let kinds: Vec<LogKind> = kinds(wood).collect();
    let ones: Vec<One<'_>> = choice
        .order
        .iter()
        .take(MOST_PAIRED)
        .filter_map(|ranked| One::new(ranked.index, ranked.score, contenders, preferences))
        .filter(|one| one.contender.by_kind.len() == kinds.len())
        .collect();
    let mut found = Vec::new();
    for (place, one) in ones.iter().enumerate() {
        for other in ones.iter().skip(place + 1) {
            found.extend(paired(one, other, &kinds, rates, preferences));
        }
    }
    let cuts: Vec<f64> = kinds.iter().map(|kind| kind.cuts).collect();
    for pair in &mut found {
        pair.doubt = sureness
            .and_then(|sureness| sureness.of_pair(pair, &cuts, contenders, &preferences.scales, choice));
    }
    found.sort_by(|a, b| b.score.total_cmp(&a.score).then(a.setups.cmp(&b.setups)));
    found
}

struct One<'a> {
    index: usize,
    score: f64,
    contender: &'a Contender,
    worth: Vec<f64>,
}

impl<'a> One<'a> {
    fn new(index: usize, score: f64, all: &'a [Contender], preferences: &Preferences) -> Option<Self> {
        let contender = all.get(index)?;
        let worth = contender.by_kind.iter().map(|values| preferences.scales.score(values).score).collect();
        Some(Self { index, score, contender, worth })
    }
}

fn paired(
    one: &One<'_>,
    other: &One<'_>,
    kinds: &[LogKind],
    rates: &WorkRates,
    preferences: &Preferences,
) -> Option<Pair> {
    let takes: Vec<bool> = one.worth.iter().zip(&other.worth).map(|(a, b)| a >= b).collect();
    let all: f64 = kinds.iter().map(|kind| kind.cuts).sum();
    let share = |mine: bool| {
        kinds.iter().zip(&takes).filter(|(_, takes)| **takes == mine).map(|(kind, _)| kind.cuts).sum::<f64>()
            / all
    };
    let (first, second) = (share(true), share(false));
    if first <= 0.0 || second <= 0.0 {
        return None;
    }
    let swaps = one.contender.head == other.contender.head;
    let swap_s_per_cut = if swaps { rates.swap_bar_s * rates.swaps_per_100 / 100.0 } else { 0.0 };
    let cuts: Vec<f64> = kinds.iter().map(|kind| kind.cuts).collect();
    let by = [one.contender.by_kind.as_slice(), other.contender.by_kind.as_slice()];
    let values = together(by, &takes, &cuts, swap_s_per_cut);
    let score = preferences.scales.score(&values).score;
    let gain = score - one.score.max(other.score);
    let mean_m = |mine: bool| {
        let of = kinds.iter().zip(&takes).filter(|(_, takes)| **takes == mine);
        of.map(|(kind, _)| kind.cuts * kind.diameter.as_m()).sum::<f64>()
    };
    // The one that takes the thicker logs first.
    if mean_m(true) / first >= mean_m(false) / second {
        let setups = [one.index, other.index];
        Some(Pair {
            setups,
            score,
            gain,
            doubt: None,
            share_of_first: first,
            first_takes: takes,
            swaps,
            swap_s_per_cut,
        })
    } else {
        let first_takes = takes.into_iter().map(|takes| !takes).collect();
        let setups = [other.index, one.index];
        Some(Pair {
            setups,
            score,
            gain,
            doubt: None,
            share_of_first: second,
            first_takes,
            swaps,
            swap_s_per_cut,
        })
    }
}

/// What two setups do with a wood between them: for each kind of log the values of the one that takes it, by how many cuts
/// there are of it.
pub(super) fn together(
    by: [&[Values]; 2],
    first_takes: &[bool],
    cuts: &[f64],
    swap_s_per_cut: f64,
) -> Values {
    let all: f64 = cuts.iter().sum();
    let [first, second] = by;
    let mut values: Values = Measure::ALL.map(|measure| {
        let each = cuts.iter().zip(first_takes).enumerate().map(|(place, (cuts, takes))| {
            let by = if *takes { first } else { second };
            let value = by.get(place)?.get(measure.place()).copied().flatten()?;
            Some(value * cuts / all)
        });
        each.sum()
    });
    if let Some(Some(time)) = values.get_mut(Measure::Time.place()) {
        *time += swap_s_per_cut;
    }
    values
}
