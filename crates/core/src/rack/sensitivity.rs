//! What would have to change for another setup to win.

use super::choose::{Broken, Choice, Preferences, choose};
use super::contender::Contender;
use super::measure::Measure;
use super::worth::MOST_WEIGHT;

/// One change by itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// The weight of a measure.
    Weight {
        /// Which.
        measure: Measure,
        /// What it is.
        from: f64,
        /// From where on another wins.
        to: f64,
    },
    /// A limit that keeps the other out.
    Limit {
        /// Of what.
        measure: Measure,
        /// What it is.
        from: f64,
        /// Where it lets the other in.
        to: f64,
    },
}

/// A change and who wins then.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// What changes.
    pub change: Change,
    /// The new winner's place in the list.
    pub winner: usize,
}

/// For each measure the nearest smaller and the nearest larger weight, up to [`MOST_WEIGHT`], from which on another admitted setup scores as
/// high as the winner, everything else as it is; and for each limit, the setups that it alone keeps out and that would
/// win without it. In the order of [`Measure::ALL`], weights before limits.
pub fn sensitivity(contenders: &[Contender], preferences: &Preferences, choice: &Choice) -> Vec<Turn> {
    let mut turns = weight_turns(contenders, preferences, choice);
    turns.extend(limit_turns(contenders, preferences, choice));
    turns
}

fn weight_turns(contenders: &[Contender], preferences: &Preferences, choice: &Choice) -> Vec<Turn> {
    /// A lead smaller than this is none: both are as good, whatever counts how much.
    const NO_LEAD: f64 = 1e-12;
    let scales = &preferences.scales;
    let rows: Vec<(usize, [f64; Measure::ALL.len()])> = choice
        .order
        .iter()
        .filter_map(|ranked| Some((ranked.index, scales.worths(&contenders.get(ranked.index)?.values))))
        .collect();
    let Some(((_, first), others)) = rows.split_first() else { return Vec::new() };
    let mut turns = Vec::new();
    for measure in Measure::ALL {
        let from = scales.weight(measure);
        let part = |row: &[f64; Measure::ALL.len()]| row.get(measure.place()).copied().unwrap_or(0.0);
        let (mut below, mut above): (Option<Turn>, Option<Turn>) = (None, None);
        for (index, row) in others {
            let each = Measure::ALL.into_iter().zip(first.iter().zip(row));
            let lead: f64 = each.map(|(other, (a, b))| (a - b) * scales.weight(other)).sum();
            let by_weight = part(first) - part(row);
            // The lead is linear in the weight: it is gone at one value, if at all.
            let to = from - lead / by_weight;
            if lead <= NO_LEAD || !(0.0..=MOST_WEIGHT).contains(&to) {
                continue;
            }
            let turn = Turn { change: Change::Weight { measure, from, to }, winner: *index };
            let nearer =
                |kept: &Option<Turn>| kept.is_none_or(|kept| (to - from).abs() < distance(&kept.change));
            if by_weight > 0.0 && nearer(&below) {
                below = Some(turn);
            } else if by_weight < 0.0 && nearer(&above) {
                above = Some(turn);
            }
        }
        turns.extend(below.into_iter().chain(above));
    }
    turns
}

fn distance(change: &Change) -> f64 {
    match change {
        Change::Weight { from, to, .. } | Change::Limit { from, to, .. } => (to - from).abs(),
    }
}

fn limit_turns(contenders: &[Contender], preferences: &Preferences, choice: &Choice) -> Vec<Turn> {
    let mut turns: Vec<Turn> = Vec::new();
    for (index, broken) in &choice.refused {
        let [Broken::Limit { limit, value: Some(value) }] = broken.as_slice() else { continue };
        let mut wider = preferences.clone();
        for other in wider.limits.iter_mut().filter(|other| other.measure == limit.measure) {
            other.bound = *value;
        }
        // Letting one in may let others in that are better still.
        if choose(contenders, &wider).winner() == Some(*index) {
            let change = Change::Limit { measure: limit.measure, from: limit.bound, to: *value };
            let nearer = turns.iter().position(|turn| {
                matches!(turn.change, Change::Limit { measure, .. } if measure == limit.measure)
                    && distance(&turn.change) > distance(&change)
            });
            let turn = Turn { change, winner: *index };
            match nearer {
                Some(place) => {
                    if let Some(entry) = turns.get_mut(place) {
                        *entry = turn;
                    }
                }
                None if turns.iter().any(
                    |kept| matches!(kept.change, Change::Limit { measure, .. } if measure == limit.measure),
                ) => {}
                None => turns.push(turn),
            }
        }
    }
    turns.sort_by_key(|turn| match turn.change {
        Change::Weight { measure, .. } | Change::Limit { measure, .. } => measure.place(),
    });
    turns
}
