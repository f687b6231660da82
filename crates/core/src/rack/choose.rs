//! The choice: limits first, then one order by what everything is worth.

use super::contender::Contender;
use super::fit::{CheckKind, Verdict};
use super::measure::{Better, Measure};
use super::pareto::pareto;
use super::sureness::{Sureness, between};
use super::worth::Scales;

/// Of more setups than this it is not asked which are unbeaten.
const MOST_HELD: usize = 2_000;

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

/// What the sawyer wants.
#[derive(Clone, Debug, PartialEq)]
pub struct Preferences {
    /// Bounds that must be kept.
    pub limits: Vec<Limit>,
    /// True where a setup that does not suit itself is refused.
    pub must_suit: bool,
    /// How much each measure counts and what its values are worth.
    pub scales: Scales,
}

impl Default for Preferences {
    /// No limits, setups that suit themselves, and the common scales.
    fn default() -> Self {
        Self { limits: Vec::new(), must_suit: true, scales: Scales::default() }
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
    /// 1 where all that counts is no burden, 0 where all of it is as bad as it gets.
    pub score: f64,
    /// The place in the order, from 1, of the best setup that it is not told apart from; its own where each before it is
    /// surely better. By [`choose`] alone only equal scores are not told apart; [`Choice::told_apart`] knows more.
    pub place: usize,
    /// True where no admitted setup is at least as good in everything that counts and better in something; `None` where
    /// there are too many to ask.
    pub unbeaten: Option<bool>,
}

/// The outcome.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// The admitted setups, best first; equals in the order of the list.
    pub order: Vec<Ranked>,
    /// The others, with every reason.
    pub refused: Vec<(usize, Vec<Broken>)>,
    /// True where no measure counts: then the order says nothing.
    pub nothing_counts: bool,
}

impl Choice {
    /// The place in the list of the one that goes on; `None` where none is admitted, or several are and nothing counts.
    pub fn winner(&self) -> Option<usize> {
        let alike = self.nothing_counts && self.order.len() > 1;
        self.order.first().map(|ranked| ranked.index).filter(|_| !alike)
    }

    /// The same order, with the places that setups share whose scores differ by no more than their difference is unsure by
    /// ([`Sureness::of_difference`]). Which of two lies even with a third need not be the nearer one: two bars of one
    /// head are told apart by less than two heads.
    #[must_use]
    pub fn told_apart(mut self, sureness: &Sureness, preferences: &Preferences) -> Self {
        let slopes: Vec<_> =
            self.order.iter().map(|ranked| sureness.slope(ranked.index, &preferences.scales)).collect();
        let scores: Vec<f64> = self.order.iter().map(|ranked| ranked.score).collect();
        for (at, ranked) in self.order.iter_mut().enumerate() {
            let own = slopes.get(at).and_then(Option::as_ref);
            let even = scores.iter().zip(&slopes).take(at).position(|(score, slope)| {
                let doubt = slope.as_ref().zip(own).map(|(one, own)| between(one, own));
                score - ranked.score <= doubt.unwrap_or(0.0)
            });
            ranked.place = even.unwrap_or(at) + 1;
        }
        self
    }
}

/// Chooses among setups by what their values are worth ([`Scales::score`]). Each score is a setup's own: taking one off the
/// rack changes the order of no others. Setups whose worths are all the same are told apart by their values beyond the ends
/// of the scales.
pub fn choose(contenders: &[Contender], preferences: &Preferences) -> Choice {
    let (mut scored, mut refused) = (Vec::new(), Vec::new());
    for (index, contender) in contenders.iter().enumerate() {
        let broken = broken(contender, preferences);
        if broken.is_empty() {
            scored.push((index, preferences.scales.score(&contender.values)));
        } else {
            refused.push((index, broken));
        }
    }
    scored.sort_by(|(i, a), (j, b)| {
        b.score.total_cmp(&a.score).then(b.endless.total_cmp(&a.endless)).then(i.cmp(j))
    });
    let unbeaten = (scored.len() <= MOST_HELD).then(|| {
        let found = scored.iter().filter_map(|(index, _)| contenders.get(*index));
        pareto(&found.map(|one| costs(one, preferences)).collect::<Vec<_>>())
    });
    let (mut place, mut leads) = (1, f64::INFINITY);
    let mut order = Vec::with_capacity(scored.len());
    for (before, (index, score)) in scored.into_iter().enumerate() {
        if leads > score.score {
            (place, leads) = (before + 1, score.score);
        }
        let unbeaten = unbeaten.as_ref().and_then(|all| all.get(before).copied());
        order.push(Ranked { index, score: score.score, place, unbeaten });
    }
    let nothing_counts = !Measure::ALL.iter().any(|measure| preferences.scales.weight(*measure) > 0.0);
    Choice { order, refused, nothing_counts }
}

/// Every reason why a setup is out.
pub(super) fn broken(contender: &Contender, preferences: &Preferences) -> Vec<Broken> {
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
        if preferences.scales.weight(measure) > 0.0 {
            contender.value(measure).map_or(f64::INFINITY, |value| measure.cost(value))
        } else {
            0.0
        }
    })
}
