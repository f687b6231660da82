//! The choice: limits first, then what none beats, then one order by stated weights.

use super::contender::Contender;
use super::fit::{CheckKind, Verdict};
use super::measure::{Better, Measure};
use super::pareto::pareto;

/// A bound that a setup must keep: at most where less is better, at least where more is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// What is bounded.
    pub measure: Measure,
    /// The bound, in the measure's unit.
    pub bound: f64,
}

impl Limit {
    /// True where a value keeps it; no value keeps none.
    pub fn is_kept_by(&self, value: Option<f64>) -> bool {
        value.is_some_and(|value| match self.measure.better() {
            Better::More => value >= self.bound,
            Better::Less => value <= self.bound,
        })
    }
}

/// The most that a measure counts.
pub const MOST_WEIGHT: f64 = 10.0;

/// What the sawyer wants.
#[derive(Clone, Debug, PartialEq)]
pub struct Preferences {
    /// Bounds that must be kept.
    pub limits: Vec<Limit>,
    /// True where a setup that does not suit itself is refused.
    pub must_suit: bool,
    /// How much each measure counts, 0 or more, in the order of [`Measure::ALL`].
    pub weights: [f64; Measure::ALL.len()],
}

impl Default for Preferences {
    /// Wood done in one setting counts most, then wood done at all and the load in the front hand; a hidden nose, work
    /// by hand and weight count as well. A choice to begin with: *common practice, no source*.
    fn default() -> Self {
        let weights = Measure::ALL.map(|measure| match measure {
            Measure::OneSetting => 3.0,
            Measure::Done | Measure::FrontHand => 2.0,
            Measure::HiddenNose | Measure::HandWork | Measure::Weight => 1.0,
            Measure::Time | Measure::Fuel | Measure::Hang => 0.0,
        });
        Self { limits: Vec::new(), must_suit: true, weights }
    }
}

impl Preferences {
    /// How much a measure counts.
    pub fn weight(&self, measure: Measure) -> f64 {
        self.weights.get(measure.place()).copied().unwrap_or(0.0)
    }

    /// Sets how much a measure counts, 0 to [`MOST_WEIGHT`]; beyond is the end.
    pub fn set_weight(&mut self, measure: Measure, weight: f64) {
        if let Some(entry) = self.weights.get_mut(measure.place()) {
            *entry = weight.clamp(0.0, MOST_WEIGHT);
        }
    }
}

/// Why a setup is out.
#[derive(Clone, Debug, PartialEq)]
pub enum Broken {
    /// It does not keep a limit.
    Limit {
        /// The limit.
        limit: Limit,
        /// What it has instead.
        value: Option<f64>,
    },
    /// It does not suit itself.
    DoesNotSuit(CheckKind),
    /// It does none of the wood from where the sawyer may stand.
    NoneDone,
    /// It cannot go to work; the reason.
    NoWork(String),
}

/// A setup in the order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ranked {
    /// Its place in the list that was handed in.
    pub index: usize,
    /// 1 where it is the best of all in everything that counts, 0 where it is the worst in all of it.
    pub score: f64,
    /// True where no admitted setup is at least as good in everything that counts and better in something.
    pub unbeaten: bool,
}

/// The outcome.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// The admitted setups, best first; equals in the order of the list.
    pub order: Vec<Ranked>,
    /// The others, with every reason.
    pub refused: Vec<(usize, Vec<Broken>)>,
}

impl Choice {
    /// The place in the list of the one that goes on.
    pub fn winner(&self) -> Option<usize> {
        self.order.first().map(|ranked| ranked.index)
    }
}

/// Chooses among setups.
///
/// The score is the mean, by the weights, of every measure brought to 0 for the worst and 1 for the best of all setups
/// that can go to work, so that a limit takes setups out and changes the score of none. A measure in which they are all
/// the same counts 1 for each, and a missing value counts 0.
pub fn choose(contenders: &[Contender], preferences: &Preferences) -> Choice {
    let (mut admitted, mut refused) = (Vec::new(), Vec::new());
    for (index, contender) in contenders.iter().enumerate() {
        let broken = broken(contender, preferences);
        if broken.is_empty() {
            admitted.push(index);
        } else {
            refused.push((index, broken));
        }
    }
    let scored = scores(contenders, &admitted, preferences);
    let costs: Vec<[f64; Measure::ALL.len()]> = admitted
        .iter()
        .filter_map(|index| contenders.get(*index))
        .map(|one| costs(one, preferences))
        .collect();
    let unbeaten = pareto(&costs);
    let mut order: Vec<Ranked> = admitted
        .iter()
        .zip(scored)
        .zip(unbeaten)
        .map(|((index, score), unbeaten)| Ranked { index: *index, score, unbeaten })
        .collect();
    order.sort_by(|a, b| b.score.total_cmp(&a.score).then(a.index.cmp(&b.index)));
    Choice { order, refused }
}

fn broken(contender: &Contender, preferences: &Preferences) -> Vec<Broken> {
    if let Err(fault) = &contender.over {
        return vec![Broken::NoWork(fault.message.clone())];
    }
    if contender.over.as_ref().is_ok_and(|over| over.done <= 0.0) {
        return vec![Broken::NoneDone];
    }
    let limits = preferences.limits.iter().filter_map(|limit| {
        let value = contender.value(limit.measure);
        (!limit.is_kept_by(value)).then_some(Broken::Limit { limit: *limit, value })
    });
    let unsuited = contender
        .fit
        .checks()
        .iter()
        .filter(|check| preferences.must_suit && check.verdict == Verdict::DoesNot)
        .map(|check| Broken::DoesNotSuit(check.kind));
    limits.chain(unsuited).collect()
}

/// What counts, turned so that less is better; what does not count is the same for all.
fn costs(contender: &Contender, preferences: &Preferences) -> [f64; Measure::ALL.len()] {
    Measure::ALL.map(|measure| {
        if preferences.weight(measure) > 0.0 {
            contender.value(measure).map_or(f64::INFINITY, |value| measure.cost(value))
        } else {
            0.0
        }
    })
}

/// Every measure of the admitted setups, 0 for the worst and 1 for the best of all that can go to work.
pub(super) fn normalised(contenders: &[Contender], admitted: &[usize]) -> Vec<[f64; Measure::ALL.len()]> {
    let of = |index: &usize, measure: Measure| {
        contenders.get(*index).and_then(|one| one.value(measure)).map(|value| measure.cost(value))
    };
    let spans = Measure::ALL.map(|measure| {
        contenders
            .iter()
            .filter(|one| one.over.is_ok())
            .filter_map(|one| one.value(measure).map(|value| measure.cost(value)))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), cost| (least.min(cost), most.max(cost)))
    });
    admitted
        .iter()
        .map(|index| {
            let mut row = [0.0; Measure::ALL.len()];
            for ((entry, measure), (least, most)) in row.iter_mut().zip(Measure::ALL).zip(spans) {
                *entry = match of(index, measure) {
                    None => 0.0,
                    Some(_) if most <= least => 1.0,
                    Some(cost) => (most - cost) / (most - least),
                };
            }
            row
        })
        .collect()
}

fn scores(contenders: &[Contender], admitted: &[usize], preferences: &Preferences) -> Vec<f64> {
    let all: f64 = preferences.weights.iter().sum();
    normalised(contenders, admitted)
        .iter()
        .map(|row| {
            let sum: f64 = row.iter().zip(preferences.weights).map(|(part, weight)| part * weight).sum();
            if all > 0.0 { sum / all } else { 0.0 }
        })
        .collect()
}
