//! What is said of setups over a wood: values and their units, why one is out, what suits what.

mod buy;
mod choice;
mod scale;

use crate::desk::format::{self, Units};
use crate::desk::words::weigh_in::capitalised;
use barpoise_core::log::Stand;
use barpoise_core::rack::{
    Better, Broken, Check, CheckKind, Contender, Limit, Measure, OverWood, Verdict, Wood,
};
use barpoise_core::units::{Angle, Force, Length, Mass};

pub use buy::{buy, loop_order, nothing_to_buy, pair};
pub use choice::Told;
pub use scale::{anchors, ends, from_shown, read, shown, unit};

/// Cuts that times, lifts and fuel are told for.
pub const CUTS_TOLD: f64 = 100.0;
/// Where the lengths of bars to buy come from.
pub const LENGTHS_SOLD: &str = "Bars are looked at in the whole even inches from 10 to 36 in which they are sold: common \
    practice, no source.";
/// What stands beside figures of holds.
pub const HOLDS_COMPARE: &str = "Shares, times and rest compare setups for an average body; they say nothing of anybody's \
    health, and nothing of what is safe.";
/// A litre in millilitres.
const ML_PER_L: f64 = 1e3;

/// A value of a measure with its unit: `97 %`, `4.1 min in 100 cuts`, `109 N`.
pub fn value(units: Units, measure: Measure, value: f64) -> String {
    let short = short_value(units, measure, value);
    match measure {
        Measure::TangleTime | Measure::Time | Measure::Lifts | Measure::Fuel => {
            format!("{short} in {CUTS_TOLD} cuts")
        }
        Measure::Effort => format!("{short} of what the arms can hold, each cut"),
        _ => short,
    }
}

/// The same for a table whose head says for how many cuts it is.
pub fn short_value(units: Units, measure: Measure, value: f64) -> String {
    match measure {
        Measure::OneSetting | Measure::Done => format::share(value),
        Measure::TangleTime | Measure::Time => format::work_time(value * CUTS_TOLD),
        Measure::NoseOut => units.length(Length::from_m(value)),
        Measure::Lifts => format::count(value * CUTS_TOLD),
        Measure::Effort => format::fine_percent(value),
        Measure::Fuel => format::litres(value * CUTS_TOLD / ML_PER_L),
        Measure::Weight => units.mass(Mass::from_kg(value)),
        Measure::Hang => format::angle(Angle::from_rad(value)),
        Measure::FrontHand => units.force(Force::from_n(value)),
    }
}

/// A value, or that there is none.
pub fn value_or_none(units: Units, measure: Measure, found: Option<f64>) -> String {
    found.map_or_else(|| "no value".to_owned(), |found| value(units, measure, found))
}

/// `front hand at most 109 N`.
pub fn limit(units: Units, limit: &Limit) -> String {
    let way = match limit.measure.better() {
        Better::More => "at least",
        Better::Less => "at most",
    };
    format!("{} {way} {}", limit.measure.words(), value(units, limit.measure, limit.bound))
}

/// Why a setup is out: `front hand 131 N, wanted at most 109 N`.
pub fn broken(units: Units, broken: &Broken) -> String {
    match broken {
        Broken::Limit { limit, value: found } => {
            let way = match limit.measure.better() {
                Better::More => "at least",
                Better::Less => "at most",
            };
            format!(
                "{} {}, wanted {way} {}",
                limit.measure.words(),
                value_or_none(units, limit.measure, *found),
                value(units, limit.measure, limit.bound)
            )
        }
        Broken::DoesNotSuit(kind) => format!("{} does not suit", kind.words()),
        Broken::NoneDone => "does none of this wood from where you may stand".to_owned(),
        Broken::NoWork(reason) => format!("cannot go to work, {reason}"),
    }
}

/// Every reason in one line: `front hand 131 N, wanted at most 109 N; power for the bar does not suit`.
pub fn reasons(units: Units, reasons: &[Broken]) -> String {
    let reasons: Vec<String> = reasons.iter().map(|reason| broken(units, reason)).collect();
    reasons.join("; ")
}

/// The same after that it is out: `out, front hand 131 N, wanted at most 109 N`.
pub fn refused(units: Units, broken: &[Broken]) -> String {
    format!("out, {}", reasons(units, broken))
}

/// The unit in which a check's threshold is typed.
pub const fn check_unit(kind: CheckKind) -> &'static str {
    match kind {
        CheckKind::Power => "kW/m",
        CheckKind::SlowChain | CheckKind::FastChain => "m/s",
        CheckKind::Oil => "mL/(min·m)",
        CheckKind::LongestBar => "times it",
        CheckKind::Tensioner => "of its way",
    }
}

/// A value of a check with its unit.
pub fn check_value(units: Units, kind: CheckKind, value: f64) -> String {
    match kind {
        CheckKind::Power => format!("{} past the spikes", format::power_per_length(value * 1e3)),
        CheckKind::SlowChain | CheckKind::FastChain => {
            units.speed(barpoise_core::units::Speed::from_m_s(value))
        }
        CheckKind::Oil => format::pump_per_length(value),
        CheckKind::LongestBar => format!("{} of it", format::percent(value)),
        CheckKind::Tensioner => format!("{} of its way", format::percent(value)),
    }
}

/// What a choice is reckoned with, and where that comes from.
pub const RECKONED_WITH: &str = "Scales, weights, fuel for the work done, times to set the saw, walks, changes of bars, \
    days, how high branches stand and the thresholds of what suits what, but for the head's longest bar, are our guess: \
    yours to change.";

/// Where the threshold of a check comes from.
pub const fn check_source(kind: CheckKind) -> &'static str {
    match kind {
        CheckKind::LongestBar => "a limit, as the yard states it",

        _ => "our guess",
    }
}

/// What was looked at, its number, the verdict, the thresholds and their source:
/// `Oil for the bar 24 mL/min for a metre, suits. It suits from 21 mL/min for a metre, is marginal from 15 …`.
pub fn check(units: Units, check: &Check) -> String {
    let shown = |value| check_value(units, check.kind, value);
    format!(
        "{} {}, {}. {}",
        capitalised(check.kind.words()),
        shown(check.value),
        check.verdict.words(),
        check_threshold(units, check)
    )
}

/// The thresholds of a check alone, with their source.
pub fn check_threshold(units: Units, check: &Check) -> String {
    let shown = |value| match check.kind {
        // What it is measured along is said with the value.
        CheckKind::Power => format::power_per_length(value * 1e3),
        CheckKind::LongestBar | CheckKind::Tensioner => format::percent(value),
        kind => check_value(units, kind, value),
    };
    let (suits, marginal) = (check.threshold.suits, check.threshold.marginal);
    let way = if check.kind.wants_more() { "from" } else { "up to" };
    let (from, to) = (shown(suits), shown(marginal));
    let source = check_source(check.kind);
    if from == to {
        return format!("Suits {way} {from} and no further; {source}.");
    }
    format!("Suits {way} {from}, marginal {way} {to}; {source}.")
}

/// The verdict over all checks, with everything that binds: `suits`, or `marginal, power at 36 in and oil at 36 in`.
pub fn fit(contender: &Contender) -> String {
    let of = |verdict: Verdict| {
        let bound = contender.fit.checks().iter().filter(|check| check.verdict == verdict);
        let said: Vec<String> = bound.map(|check| bound_by(check.kind, contender.marked)).collect();
        (!said.is_empty()).then(|| format!("{}, {}", verdict.words(), listed(said)))
    };
    let said: Vec<String> = [Verdict::DoesNot, Verdict::Marginal].into_iter().filter_map(of).collect();
    if said.is_empty() { Verdict::Suits.words().to_owned() } else { said.join("; ") }
}

/// What binds: `oil at 36 in`.
pub fn bound_by(kind: CheckKind, marked: Length) -> String {
    match kind {
        CheckKind::Power => format!("power at {}", format::marked_length(marked)),
        CheckKind::Oil => format!("oil at {}", format::marked_length(marked)),
        kind => kind.words().to_owned(),
    }
}

/// `a, b and c`.
fn listed(mut parts: Vec<String>) -> String {
    match parts.pop() {
        None => String::new(),
        Some(last) if parts.is_empty() => last,
        Some(last) => format!("{} and {last}", parts.join(", ")),
    }
}

/// Where one stands: `from one side`.
pub const fn stand(stand: Stand) -> &'static str {
    match stand {
        Stand::OneSide => "one side",
        Stand::BothSides => "both sides",
        Stand::WalkRound => "walk round",
    }
}

/// The wood in one line: `40 cuts of 420 mm to 740 mm, 70 % in brush, 5 % held up, off the log, from one side`.
pub fn wood(units: Units, wood: &Wood) -> String {
    let all = wood.logs().iter().map(|log| log.diameter);
    let thin = all.clone().reduce(Length::min).unwrap_or(Length::ZERO);
    let thick = all.reduce(Length::max).unwrap_or(Length::ZERO);
    let from = match wood.stand() {
        Stand::OneSide => "from one side",
        Stand::BothSides => "from both sides",
        Stand::WalkRound => "walking round",
    };
    let sizes = if thin == thick {
        units.length(thin)
    } else {
        format!("{} to {}", units.length(thin), units.length(thick))
    };
    format!(
        "{} cuts of {sizes}, {} in brush, {} held up, off the log, {from}",
        format::count(wood.cuts()),
        format::share(wood.tangled_share()),
        format::share(wood.lifted_share())
    )
}

/// How a setup takes the wood apart: `97 % in one setting, 2 % by setting again, 1 % only from both sides`.
pub fn over_wood(over: &OverWood) -> String {
    let parts = [
        (over.one_setting, "in one setting"),
        (over.resetting, "by setting again"),
        (over.both_sides, "only from both sides"),
        (over.cannot, "not at all"),
    ];
    let told: Vec<String> = parts
        .iter()
        .filter(|(share, _)| *share > 0.0)
        .map(|(share, how)| format!("{} {how}", format::share(*share)))
        .collect();
    told.join(", ")
}

#[cfg(test)]
#[path = "rack/tests.rs"]
mod tests;
