//! The choice as a colleague would say it: three sentences, and the numbers on request.

use super::{CUTS_TOLD, bound_by, fit, from_shown, listed, over_wood, short_value, value};
use crate::desk::format::{self, Units};
use barpoise_core::Yard;
use barpoise_core::person::hold::Place;
use barpoise_core::rack::{
    Better, Change, CheckKind, Choice, Contender, Measure, Otherwise, OverWood, Preferences, Thresholds,
    Turn, Verdict, Wood, WorkRates, heads_that_suit,
};
use barpoise_core::units::{Angle, Force, Length, Mass};

/// Two values nearer than this share are told as the same.
const SAME: f64 = 0.005;
/// Differences told in one sentence, most weighty first.
const MOST_TOLD: usize = 2;
/// A nose that is out among branches for less than this of a cut is not watched, s.
const NEVER_S: f64 = 0.05;

/// All that is needed to tell of a choice.
#[derive(Clone, Copy, Debug)]
pub struct Told<'a> {
    /// Units.
    pub units: Units,
    /// The yard whose heads may be named.
    pub yard: &'a Yard,
    /// The wood.
    pub wood: &'a Wood,
    /// Every setup.
    pub contenders: &'a [Contender],
    /// The outcome.
    pub choice: &'a Choice,
    /// What is wanted.
    pub preferences: &'a Preferences,
    /// What suits what.
    pub thresholds: &'a Thresholds,
    /// What work takes.
    pub rates: &'a WorkRates,
}

impl Told<'_> {
    fn winner(&self) -> Option<&Contender> {
        self.contenders.get(self.choice.winner()?)
    }

    /// Three sentences: what goes on and what it leaves, what it is better at than the next, what to watch.
    pub fn sentences(&self) -> Vec<String> {
        let Some(winner) = self.winner() else {
            if self.choice.nothing_counts && !self.choice.order.is_empty() {
                return vec![
                    format!(
                        "Every weight is 0: nothing puts one setup before another for {}.",
                        self.wood.name()
                    ),
                    "Give what matters to you a weight above 0.".to_owned(),
                ];
            }
            return vec![
                format!("No setup of this yard keeps what is wanted for {}.", self.wood.name()),
                "Each one's reasons stand beside it.".to_owned(),
            ];
        };
        let next = self.choice.order.get(1).and_then(|next| self.contenders.get(next.index));
        let is_even = self.choice.order.get(1).is_some_and(|next| next.place == 1);
        let second = next.map_or_else(
            || "No other setup keeps what is wanted.".to_owned(),
            |next| self.against(winner, next, is_even),
        );
        vec![self.goes_on(winner), second, self.watch(winner)]
    }

    /// `Bittern B24 goes on for Poplar butts; 12 % of the cuts it does only from the other side, after a walk round.`
    fn goes_on(&self, winner: &Contender) -> String {
        let (name, wood) = (&winner.solved.setup, self.wood.name());
        let undone = winner.over.as_ref().map_or(0.0, |over| 1.0 - over.done);
        if undone <= 0.0 {
            return format!("{name} goes on for {wood}.");
        }
        let left = winner.over.as_ref().map_or(0.0, |over| over.left);
        let share = format::share(undone);
        let mut said =
            format!("{name} goes on for {wood}; {share} of the cuts it does not do from where you may stand");
        if left < undone {
            let by = match &self.rates.otherwise {
                Otherwise::OtherSide => "go from the other side after a walk round".to_owned(),
                Otherwise::OtherSaw(other) => format!("go to {other}"),
                Otherwise::LeftLying => "go by other means".to_owned(),
            };
            said.push_str(&format!(", {} {by}", if left > 0.0 { "some of which" } else { "which" }));
        }
        if left > 0.0 {
            said.push_str(&format!(", {} of all stays lying", format::share(left)));
        }
        said.push('.');
        said
    }

    /// One setup against another in what counts:
    /// `Against Bittern B30 it carries 18 N less in the front hand, but takes 4.0 min more in 100 cuts.`
    pub fn against(&self, one: &Contender, other: &Contender, even: bool) -> String {
        let (mut better, mut worse) = (Vec::new(), Vec::new());
        let scales = &self.preferences.scales;
        for measure in Measure::ALL {
            let (Some(a), Some(b)) = (one.value(measure), other.value(measure)) else { continue };
            let looks_same = short_value(self.units, measure, a) == short_value(self.units, measure, b);
            // What is left undone is told whatever it counts.
            let counts = scales.weight(measure) > 0.0 || measure == Measure::Done;
            if looks_same || (a - b).abs() < SAME * a.abs().max(b.abs()) || !counts {
                continue;
            }
            let anchors = scales.anchors(measure);
            let weighty = if measure == Measure::Done {
                f64::INFINITY
            } else {
                scales.weight(measure) * (anchors.worth(a) - anchors.worth(b)).abs()
            };
            let is_better = match measure.better() {
                Better::More => a > b,
                Better::Less => a < b,
            };
            let phrase = (weighty, difference(self.units, measure, a, b));
            if is_better { better.push(phrase) } else { worse.push(phrase) }
        }
        let told = |mut phrases: Vec<(f64, String)>| {
            phrases.sort_by(|a, b| b.0.total_cmp(&a.0));
            listed(phrases.into_iter().take(MOST_TOLD).map(|(_, phrase)| phrase).collect())
        };
        let name = &other.solved.setup;
        let what = match (better.is_empty(), worse.is_empty()) {
            (true, true) => "is the same in everything that counts".to_owned(),
            (false, true) => told(better),
            (true, false) => told(worse),
            (false, false) => format!("{}, but {}", told(better), told(worse)),
        };
        if even {
            format!("{name} lies even with it: the first {what}.")
        } else {
            format!("Against {name} it {what}.")
        }
    }

    /// What to watch: the nose, the hardest hold, and what hardly suits.
    fn watch(&self, winner: &Contender) -> String {
        let mut said = Vec::new();
        if let Ok(over) = &winner.over {
            if over.tangle_s_per_cut > NEVER_S {
                said.push(format!(
                    "the nose, up to {} out among branches, {} in {CUTS_TOLD} cuts",
                    self.units.length(over.out_worst),
                    format::work_time(over.tangle_s_per_cut * CUTS_TOLD)
                ));
            } else {
                said.push("the nose, wherever you cannot see it".to_owned());
            }
            said.extend(self.hardest_hold(over));
        }
        said.extend(self.hardly_suits(winner));
        format!("Watch {}.", listed_apart(said))
    }

    fn hardest_hold(&self, over: &OverWood) -> Option<String> {
        let effort = over.effort?;
        let whose = barpoise_core::person::hold::Strength::new(
            self.wood.person().people(),
            self.wood.person().strength_percentile(),
        )
        .ok()?
        .words();
        let share = format::percent(effort.worst_share);
        (effort.worst_share > 0.5).then(|| {
            let beyond = if effort.worst_share >= 1.0 { ", more than can be held" } else { "" };
            format!("the hardest hold, {share} of {whose} in an arm{beyond}")
        })
    }

    fn hardly_suits(&self, winner: &Contender) -> Option<String> {
        if winner.fit.verdict() == Verdict::Suits {
            return None;
        }
        let mut said = format!("head and bar: {}", fit(winner));
        let setup = self.yard.setup(&winner.solved.setup)?;
        for check in winner.fit.checks().iter().filter(|check| check.verdict != Verdict::Suits) {
            if !matches!(check.kind, CheckKind::Power | CheckKind::Oil) {
                continue;
            }
            let heads =
                heads_that_suit(self.yard.setups(), setup, &winner.solved, check.kind, self.thresholds);
            let what = bound_by(check.kind, winner.marked);
            said.push_str(&match heads.first() {
                Some(head) => format!(" ({head} would do for {what})"),
                None => format!(" (no head of the yard would do for {what})"),
            });
        }
        Some(said)
    }

    /// What is exchanged for what, in plain units: `1 kg in the front hand counts as much as 4 lifts in 100 cuts.`
    pub fn trade_offs(&self) -> Vec<String> {
        let other = self.reference(None);
        Measure::ALL
            .into_iter()
            .filter(|measure| Some(*measure) != other)
            .filter_map(|measure| {
                let said = self.exchange(measure, other?, self.preferences)?;
                Some(format!("{} counts as much as {said}.", one_of(self.units, measure)))
            })
            .collect()
    }

    /// What everything else is told in: lifts where they count, else time, else whatever counts.
    fn reference(&self, not: Option<Measure>) -> Option<Measure> {
        [Measure::Lifts, Measure::Time]
            .into_iter()
            .chain(Measure::ALL)
            .filter(|measure| Some(*measure) != not)
            .find(|measure| self.preferences.scales.weight(*measure) > 0.0)
    }

    /// How much of another measure counts as much as one unit of this.
    fn exchange(&self, measure: Measure, other: Measure, preferences: &Preferences) -> Option<String> {
        let each = unit_of(self.units, measure) * preferences.scales.trade(measure, other)?;
        Some(much_of(self.units, other, each))
    }

    /// What a change does, as another exchange:
    /// `If 1 kg in the front hand counted as 9 lifts in 100 cuts, not 4, Bittern B14 would go on.`
    pub fn turn(&self, turn: &Turn) -> String {
        let name = self.contenders.get(turn.winner).map_or("another", |one| one.solved.setup.as_str());
        match turn.change {
            Change::Weight { measure, from, to } => {
                let Some(other) = self.reference(Some(measure)) else {
                    return format!("If {} counted more or less, {name} would go on.", measure.words());
                };
                let at = |weight: f64| {
                    let mut changed = self.preferences.clone();
                    changed.scales.set_weight(measure, weight);
                    self.exchange(measure, other, &changed)
                };
                let one = one_of(self.units, measure);
                let now = at(from).unwrap_or_else(|| "nothing".to_owned());
                match at(to) {
                    Some(then) => format!("If {one} counted as {then}, now {now}, {name} would go on."),
                    None => format!("If {} did not count at all, {name} would go on.", measure.words()),
                }
            }
            Change::Limit { measure, from, to } => {
                let way = match measure.better() {
                    Better::More => "down to",
                    Better::Less => "up to",
                };
                format!(
                    "With {} allowed {way} {}, now {}, {name} would go on.",
                    measure.words(),
                    value(self.units, measure, to),
                    value(self.units, measure, from)
                )
            }
        }
    }

    /// The numbers of a setup: how it takes the wood apart, each measure, a day of it, and how it suits itself.
    pub fn numbers(&self, one: &Contender) -> Vec<String> {
        let Ok(over) = &one.over else { return Vec::new() };
        // What a cut takes is known where one is made; what leaving all of them counts is no figure of the saw.
        let of_cuts = [Measure::TangleTime, Measure::NoseOut, Measure::Lifts, Measure::Effort, Measure::Fuel];
        let is_known = |measure| over.makes_cuts() || !of_cuts.contains(&measure);
        let values: Vec<String> = Measure::ALL
            .into_iter()
            .filter(|measure| !matches!(measure, Measure::OneSetting | Measure::Done))
            .map(|measure| {
                format!(
                    "{} {}",
                    measure.words(),
                    super::value_or_none(
                        self.units,
                        measure,
                        one.value(measure).filter(|_| is_known(measure))
                    )
                )
            })
            .collect();
        let mut said = vec![over_wood(over), values.join(", ")];
        said.extend(self.day(over));
        said.push(fit(one));
        said
    }

    /// `A day of 4.0 h: about 275 cuts, 358 lifts; the front hand's shoulder holds most, 0.9 min of rest asked for.`
    pub fn day(&self, over: &OverWood) -> Option<String> {
        let (effort, cuts) = (over.effort.filter(|_| over.makes_cuts())?, over.cuts_in_a_day(self.rates)?);
        let (place, _): (Place, f64) = effort.most_used();
        Some(format!(
            "a day of {} (our guess): about {} such cuts, {} lifts, the {} holds most, at worst {} of its strength and {} \
             of the back's; rest between holds {} (Rohmert, from memory; none below a fifth of the strength)",
            format::work_time(self.rates.day_s),
            format::count(cuts),
            format::count(cuts * over.lifts_per_cut),
            place.words(),
            format::percent(effort.worst_share),
            format::percent(effort.worst_back),
            format::work_time(cuts * effort.rest_s)
        ))
    }
}

/// `a; b; and c`.
fn listed_apart(mut parts: Vec<String>) -> String {
    match parts.pop() {
        None => "what you always watch".to_owned(),
        Some(last) if parts.is_empty() => last,
        Some(last) => format!("{}; and {last}", parts.join("; ")),
    }
}

/// What one unit of a measure is where it is exchanged, in its own unit.
fn unit_of(units: Units, measure: Measure) -> f64 {
    let shown = match measure {
        Measure::NoseOut if units.length_unit() == "mm" => 100.0,
        Measure::Hang => 10.0,
        Measure::FrontHand if units.force_unit() == "N" => 10.0,
        _ => 1.0,
    };
    from_shown(units, measure, shown)
}

/// That unit in words.
fn one_of(units: Units, measure: Measure) -> String {
    let unit = unit_of(units, measure);
    match measure {
        Measure::Done => format!("1 cut in {CUTS_TOLD} not done"),
        Measure::OneSetting => format!("1 cut in {CUTS_TOLD} not done in one setting"),
        Measure::TangleTime => format!("1 min with the nose in branches in {CUTS_TOLD} cuts"),
        Measure::NoseOut => format!("{} of nose out among branches", units.length(Length::from_m(unit))),
        Measure::Lifts => format!("1 lift in {CUTS_TOLD} cuts"),
        Measure::Effort => "1 % of what the arms can hold, each cut".to_owned(),
        Measure::Time => format!("1 min in {CUTS_TOLD} cuts"),
        Measure::FrontHand => format!("{} in the front hand", units.force(Force::from_n(unit))),
        Measure::Weight => format!("{} of weight", units.mass(Mass::from_kg(unit))),
        Measure::Hang => format!("{} of hang", format::angle(Angle::from_rad(unit))),
        Measure::Fuel => format!("1 L of fuel in {CUTS_TOLD} cuts"),
    }
}

/// So much of a measure in words: `4 lifts in 100 cuts`.
fn much_of(units: Units, measure: Measure, amount: f64) -> String {
    let shown = format::two_digits(super::shown(units, measure, amount));
    match measure {
        Measure::Done => format!("{shown} cuts in {CUTS_TOLD} not done"),
        Measure::OneSetting => format!("{shown} cuts in {CUTS_TOLD} not done in one setting"),
        Measure::TangleTime => format!("{shown} min with the nose in branches in {CUTS_TOLD} cuts"),
        Measure::Lifts => format!("{shown} lifts in {CUTS_TOLD} cuts"),
        Measure::Effort => format!("{shown} % of what the arms can hold, each cut"),
        Measure::Time => format!("{shown} min in {CUTS_TOLD} cuts"),
        Measure::Fuel => format!("{shown} L of fuel in {CUTS_TOLD} cuts"),
        measure => format!("{shown} {} of {}", super::unit(units, measure), measure.words()),
    }
}

/// How `a` differs from `b` in a measure, as the rest of a sentence.
fn difference(units: Units, measure: Measure, a: f64, b: f64) -> String {
    let way = if a < b { "less" } else { "more" };
    let apart = value(units, measure, (a - b).abs());
    match measure {
        Measure::OneSetting => {
            format!("does {} of it in one setting against {}", format::share(a), format::share(b))
        }
        Measure::Done => {
            format!("does {} of it from where you may stand against {}", format::share(a), format::share(b))
        }
        Measure::TangleTime => format!("has the nose among branches for {apart} {way}"),
        Measure::NoseOut => {
            let way = if a < b { "less far" } else { "farther" };
            format!("has the nose {apart} {way} out among branches")
        }
        Measure::Lifts => {
            let way = if a < b { "fewer" } else { "more" };
            format!("asks for {} lifts {way} in {CUTS_TOLD} cuts", short_value(units, measure, (a - b).abs()))
        }
        Measure::Effort => {
            let way = if a < b { "less" } else { "more" };
            format!("takes {} {way} of what the arms can hold", short_value(units, measure, (a - b).abs()))
        }
        Measure::Time => format!("takes {apart} {way}"),
        Measure::Fuel => format!("burns {apart} {way}"),
        Measure::Weight => format!("weighs {apart} {way}"),
        Measure::Hang => {
            let way = if a < b { "flatter" } else { "steeper" };
            format!("hangs {apart} {way}")
        }
        Measure::FrontHand => format!("carries {apart} {way} in the front hand"),
    }
}
