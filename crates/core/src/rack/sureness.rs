//! How surely the scores of setups are told apart: from how surely the numbers of the yard are known.
//!
//! By linear propagation with every correlation (JCGM 100:2008, 5.2.2): a score follows the figures of its saw, those the
//! numbers of the yard, and two setups of one head follow the same numbers, so that their difference is surer than either.
//! A score follows its figures by the difference that one standard uncertainty of each makes (5.1.3, note 2), with the wood
//! planned anew: steps, such as a log that is only just reached, count as they fall within that. What stands for the
//! work itself (how hard the wood is, times, scales) is the same for all and leaves them as they are.

use super::choose::{Choice, Preferences};
use super::contender::{Contender, Progress};
use super::log_cut::LogCut;
use super::measure::{Measure, Values};
use super::otherwise::OtherMeans;
use super::over_wood::{cuts_at, over_each, over_wood_with, workplaces};
use super::pairs::{Pair, together};
use super::rates::WorkRates;
use super::sawing::Sawing;
use super::shopping::Buyable;
use super::worth::Scales;
use crate::fault::Fault;
use crate::geometry::Vector;
use crate::saw::{Setup, Solved};
use crate::units::STANDARD_GRAVITY_M_S2;
use crate::weigh_in::{COVERAGE, Knowledge, LinearForm, SawFigure, Spread};
use crate::yard::{Wood, Yard};
use nalgebra::DVector;
use std::ops::ControlFlow;

/// Values of a setup, over the wood and for each kind of log.
#[derive(Clone, Debug, PartialEq)]
struct Moved {
    values: Values,
    by_kind: Vec<Values>,
}

impl Moved {
    fn of(contender: &Contender) -> Self {
        Self { values: contender.values, by_kind: contender.by_kind.clone() }
    }

    /// With one measure more by this much.
    fn with_more(&self, measure: Measure, more: f64) -> Self {
        let mut moved = self.clone();
        for values in moved.by_kind.iter_mut().chain([&mut moved.values]) {
            if let Some(Some(value)) = values.get_mut(measure.place()) {
                *value = (*value + more).max(0.0);
            }
        }
        moved
    }
}

/// What becomes of a setup's values where one of its figures is less and where it is more.
#[derive(Clone, Debug, PartialEq)]
struct Swing {
    figure: SawFigure,
    less: Moved,
    more: Moved,
    /// How far apart the two are in the figure.
    between: f64,
}

/// How surely the setups of a yard over a wood are told apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Sureness {
    knowledge: Knowledge,
    /// For each setup: how its figures follow the numbers known, and what they move.
    each: Vec<(Vec<Option<LinearForm>>, Vec<Swing>)>,
}

impl Sureness {
    /// For setups of a yard that have been through a wood, both in the same order. `told` hears of every setup and may stop
    /// the work: then there is no answer.
    pub fn new(
        yard: &Yard,
        setups: &[Setup],
        contenders: &[Contender],
        wood: &Wood,
        rates: &WorkRates,
        told: &mut dyn FnMut(Progress) -> ControlFlow<()>,
    ) -> Option<Self> {
        let knowledge = Knowledge::of(yard, setups);
        let means = OtherMeans::new(setups, wood, rates).unwrap_or_default();
        let one = |(setup, contender): (&Setup, &Contender)| {
            let forms = knowledge.forms(setup, None);
            let steps: Vec<f64> = forms
                .iter()
                .map(|form| form.as_ref().map_or(0.0, |form| knowledge.uncertainty_of(form)))
                .collect();
            let at = At { setup, solved: &contender.solved, wood, rates, means: &means };
            // What cannot go to work at all has no score to be unsure of.
            let swings = swings(&at, &Moved::of(contender), &steps).unwrap_or_default();
            (forms, swings)
        };
        let pairs: Vec<(&Setup, &Contender)> = setups.iter().zip(contenders).collect();
        let mut each = Vec::with_capacity(setups.len());
        // Every plan is made anew several times: as many setups at once as the machine has cores.
        for some in pairs.chunks(std::thread::available_parallelism().map_or(1, usize::from)) {
            if told(Progress { done: each.len(), all: setups.len() }).is_break() {
                return None;
            }
            each.extend(std::thread::scope(|scope| {
                let working: Vec<_> = some.iter().map(|pair| scope.spawn(|| one(*pair))).collect();
                // A thread that failed leaves its setup as surely known as can be.
                working.into_iter().map(|one| one.join().unwrap_or_default()).collect::<Vec<_>>()
            }));
        }
        Some(Self { knowledge, each })
    }

    /// By how much the difference of two setups' scores is unsure: with [`COVERAGE`], as wide as what stands behind a ± .
    pub fn of_difference(&self, a: usize, b: usize, scales: &Scales) -> Option<f64> {
        Some(between(&self.slope(a, scales)?, &self.slope(b, scales)?))
    }

    fn nothing(&self) -> LinearForm {
        LinearForm { by_known: DVector::zeros(self.knowledge.values().len()), by_own: [0.0; 2] }
    }

    /// How the score of a setup follows the numbers known.
    pub(super) fn slope(&self, index: usize, scales: &Scales) -> Option<Spread> {
        let slope = self.slope_of(index, &|moved| scales.score(&moved.values).score)?;
        Some(self.knowledge.spread_of(slope))
    }

    fn slope_of(&self, index: usize, score: &dyn Fn(&Moved) -> f64) -> Option<LinearForm> {
        let (forms, swings) = self.each.get(index)?;
        Some(self.slope_by(forms, swings, score))
    }

    fn slope_by(
        &self,
        forms: &[Option<LinearForm>],
        swings: &[Swing],
        score: &dyn Fn(&Moved) -> f64,
    ) -> LinearForm {
        let mut slope = self.nothing();
        for swing in swings {
            if let Some(Some(form)) = forms.get(swing.figure as usize) {
                slope.add(form, (score(&swing.more) - score(&swing.less)) / swing.between);
            }
        }
        slope
    }

    /// The same of what two saws together are worth against the best alone.
    pub(super) fn of_pair(
        &self,
        pair: &Pair,
        cuts: &[f64],
        contenders: &[Contender],
        scales: &Scales,
        choice: &Choice,
    ) -> Option<f64> {
        let [first, second] = pair.setups;
        let (thick, thin) = (&contenders.get(first)?.by_kind, &contenders.get(second)?.by_kind);
        let score = |by: [&[Values]; 2]| {
            scales.score(&together(by, &pair.first_takes, cuts, pair.swap_s_per_cut)).score
        };
        let mut slope = self.slope_of(first, &|moved| score([&moved.by_kind, thin]))?;
        slope.add(&self.slope_of(second, &|moved| score([thick, &moved.by_kind]))?, 1.0);
        Some(between(&self.knowledge.spread_of(slope), &self.slope(choice.winner()?, scales)?))
    }

    /// The same of a bar to buy against the best on the rack. What its figures move is taken over from the setup that it
    /// is made up like; how unsure they are is its own.
    pub(super) fn of_purchase(
        &self,
        bar: &Buyable,
        contenders: &[Contender],
        preferences: &Preferences,
        choice: &Choice,
    ) -> Option<f64> {
        let like = contenders.iter().position(|one| one.solved.setup == bar.like)?;
        let (_, swings) = self.each.get(like)?;
        let forms = self.knowledge.forms(&bar.setup, Some(&bar.origin));
        let scales = &preferences.scales;
        let slope = self.slope_by(&forms, swings, &|moved| scales.score(&moved.values).score);
        Some(between(&self.knowledge.spread_of(slope), &self.slope(choice.winner()?, scales)?))
    }
}

/// By how much the difference of two scores is unsure, with [`COVERAGE`].
pub(super) fn between(a: &Spread, b: &Spread) -> f64 {
    COVERAGE * a.of_difference(b)
}

/// A setup in a wood.
struct At<'a> {
    setup: &'a Setup,
    solved: &'a Solved,
    wood: &'a Wood,
    rates: &'a WorkRates,
    means: &'a OtherMeans,
}

impl At<'_> {
    fn over(&self, cuts: &[LogCut]) -> Result<Moved, Fault> {
        let over = over_wood_with(self.setup, self.wood, self.rates, self.means, cuts.iter().map(Ok))?;
        let values = |over| Measure::ALL.map(|measure| measure.value(self.solved, over));
        let each = over_each(self.setup, self.wood, self.rates, self.means, cuts);
        Ok(Moved { values: values(&over), by_kind: each.iter().map(values).collect() })
    }
}

/// What each figure moves by one standard uncertainty, `steps` of them in the order of [`SawFigure::ALL`].
fn swings(at: &At<'_>, base: &Moved, steps: &[f64]) -> Result<Vec<Swing>, Fault> {
    let sawing = Sawing::new(at.setup, at.solved, at.wood, at.rates)?;
    let places = workplaces(&sawing, at.wood)?;
    let mut found = Vec::new();
    for (figure, step) in SawFigure::ALL.into_iter().zip(steps.iter().copied()) {
        if step <= 0.0 {
            continue;
        }
        let of_saw = |measure, less: f64, more: f64| Swing {
            figure,
            less: base.with_more(measure, less),
            more: base.with_more(measure, more),
            between: 2.0 * step,
        };
        let reach =
            |more: f64| at.over(&cuts_at(&sawing.with_reach_more(more)?, &places, at.wood, at.rates)?);
        let body = |more_kg: f64, by: Vector| {
            let moved = sawing.with_body_more(at.setup, at.solved, (at.wood, at.rates), more_kg, by)?;
            at.over(&cuts_at(&moved, &workplaces(&moved, at.wood)?, at.wood, at.rates)?)
        };
        // A saw that cannot go to work with so much less or more is left as it is on that side.
        let of_wood = |moved: &dyn Fn(f64) -> Result<Moved, Fault>| {
            let (less, more) = (moved(-step), moved(step));
            let sides = f64::from(u8::from(less.is_ok()) + u8::from(more.is_ok()));
            let or_base = |side: Result<Moved, Fault>| side.unwrap_or_else(|_| base.clone());
            Swing { figure, less: or_base(less), more: or_base(more), between: sides.max(1.0) * step }
        };
        // Weight in the hands bears on the work with hardly a step: one side is enough.
        let of_hands = |moved: &dyn Fn(f64) -> Result<Moved, Fault>| {
            let (less, more) = match moved(step) {
                Ok(more) => (base.clone(), more),
                Err(_) => (moved(-step).unwrap_or_else(|_| base.clone()), base.clone()),
            };
            Swing { figure, less, more, between: step }
        };
        match figure {
            SawFigure::Reach => found.push(of_wood(&reach)),
            SawFigure::Mass => {
                found.push(of_hands(&|more| body(more, Vector::zeros())));
                found.push(of_saw(Measure::Weight, -step, step));
            }
            SawFigure::Ahead => found.push(of_hands(&|more| body(0.0, Vector::new(more, 0.0)))),
            SawFigure::Height => found.push(of_hands(&|more| body(0.0, Vector::new(0.0, more)))),
            SawFigure::Hang => {
                // Its size is what counts, whichever way it hangs.
                let way = at.solved.hang.as_ref().map_or(0.0, |hang| hang.as_rad().signum());
                found.push(of_saw(Measure::Hang, -step * way, step * way));
            }
            SawFigure::FrontHand => {
                let newton = step * STANDARD_GRAVITY_M_S2;
                found.push(of_saw(Measure::FrontHand, -newton, newton));
            }
        }
    }
    Ok(found)
}
