//! What is said of setups over a wood: why one goes on, why another is out, what would turn it, what to buy.

use crate::desk::format::{self, Units};
use crate::desk::words::weigh_in::{capitalised, counted};
use barpoise_core::log::Stand;
use barpoise_core::rack::{
    Better, Broken, Change, Check, CheckKind, Choice, Contender, Limit, LoopOrder, Measure, Missing,
    OverWood, Preferences, Turn, Verdict, Wood,
};
use barpoise_core::units::{Angle, Force, Length, Mass};

/// Cuts that ways and loads of the hands are told for.
pub const CUTS_TOLD: f64 = 100.0;
/// Two values nearer than this share are told as the same.
const SAME: f64 = 0.005;
/// Differences told in one sentence, most weighty first.
const MOST_TOLD: usize = 3;

/// A value of a measure with its unit: `97 %`, `12.4 m in 100 cuts`, `109 N`.
pub fn value(units: Units, measure: Measure, value: f64) -> String {
    match measure {
        Measure::HiddenNose | Measure::HandWork => {
            format!("{} in {CUTS_TOLD} cuts", short_value(units, measure, value))
        }
        _ => short_value(units, measure, value),
    }
}

/// The same for a table whose head says for how many cuts it is.
pub fn short_value(units: Units, measure: Measure, value: f64) -> String {
    match measure {
        Measure::OneSetting | Measure::Done => format::share(value),
        Measure::HiddenNose => units.way(Length::from_m(value * CUTS_TOLD)),
        Measure::HandWork => format::kilonewton_seconds(value * CUTS_TOLD),
        Measure::Time => format::time_per_area(value),
        Measure::Fuel => format::fluid_per_area(value),
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
pub const RECKONED_WITH: &str = "Fuel for the work done and times to set the saw are common practice, no source; the \
    thresholds of what suits what, but for the head's longest bar, are our guess.";

/// Where the threshold of a check comes from.
pub const fn check_source(kind: CheckKind) -> &'static str {
    match kind {
        CheckKind::LongestBar => "the head's longest bar stands in the yard; the tenth over it is our guess",
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
    let way = if suits >= marginal { "from" } else { "up to" };
    format!("Suits {way} {}, marginal {way} {}; {}.", shown(suits), shown(marginal), check_source(check.kind))
}

/// The verdict over all checks: `suits`, or what does not: `marginal, oil for the bar`.
pub fn fit(contender: &Contender) -> String {
    let verdict = contender.fit.verdict();
    if verdict == Verdict::Suits {
        return verdict.words().to_owned();
    }
    let worst: Vec<&str> = contender
        .fit
        .checks()
        .iter()
        .filter(|check| check.verdict == verdict)
        .map(|check| check.kind.words())
        .collect();
    format!("{}, {}", verdict.words(), worst.join(", "))
}

/// Where one stands: `from one side`.
pub const fn stand(stand: Stand) -> &'static str {
    match stand {
        Stand::OneSide => "one side",
        Stand::BothSides => "both sides",
        Stand::WalkRound => "walk round",
    }
}

/// The wood in one line: `40 cuts of 420 mm to 740 mm, 70 % in tangle, 5 % lifted, from one side`.
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
        "{} cuts of {sizes}, {} in tangle, {} lifted, {from}",
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

/// What is done in one setting: `Bittern B24 does all but 3 % of this wood in one setting.`
pub fn done(contender: &Contender) -> String {
    let name = &contender.solved.setup;
    let Ok(over) = &contender.over else { return format!("{name} cannot go to work.") };
    let one = over.one_setting;
    let what = if one >= 1.0 {
        "does all of this wood in one setting".to_owned()
    } else if one <= 0.0 {
        "does none of this wood in one setting".to_owned()
    } else if one >= 0.5 {
        format!("does all but {} of this wood in one setting", format::share(1.0 - one))
    } else {
        format!("does {} of this wood in one setting", format::share(one))
    };
    if over.done >= 1.0 && one < 1.0 {
        format!("{name} {what}, and the rest by setting again.")
    } else if over.done < 1.0 {
        format!("{name} {what}; {} cannot be done from where you may stand.", format::share(1.0 - over.done))
    } else {
        format!("{name} {what}.")
    }
}

/// One setup against another in what counts:
/// `Against Bittern B30 it carries 22 % less in the front hand, but does 3 % less in one setting.`
pub fn against(units: Units, one: &Contender, other: &Contender, preferences: &Preferences) -> String {
    let (mut better, mut worse) = (Vec::new(), Vec::new());
    for measure in Measure::ALL {
        let (Some(a), Some(b)) = (one.value(measure), other.value(measure)) else { continue };
        let scale = a.abs().max(b.abs());
        let looks_same = short_value(units, measure, a) == short_value(units, measure, b);
        // What is left undone is told whatever it counts: the other measures are of the cuts that are done.
        let counts = preferences.weight(measure) > 0.0 || measure == Measure::Done;
        let shows = measure != Measure::HiddenNose
            || units.way(Length::from_m((a - b).abs() * CUTS_TOLD)) != units.way(Length::ZERO);
        if looks_same || (a - b).abs() < SAME * scale || !counts || !shows {
            continue;
        }
        let weighty = if measure == Measure::Done {
            f64::INFINITY
        } else {
            preferences.weight(measure) * (a - b).abs() / scale
        };
        let is_better = match measure.better() {
            Better::More => a > b,
            Better::Less => a < b,
        };
        let phrase = (weighty, difference(units, measure, a, b));
        if is_better { better.push(phrase) } else { worse.push(phrase) }
    }
    let told = |mut phrases: Vec<(f64, String)>| {
        phrases.sort_by(|a, b| b.0.total_cmp(&a.0));
        listed(phrases.into_iter().take(MOST_TOLD).map(|(_, phrase)| phrase).collect())
    };
    let name = &other.solved.setup;
    match (better.is_empty(), worse.is_empty()) {
        (true, true) => format!("Against {name} it is the same in everything that counts."),
        (false, true) => format!("Against {name} it {}.", told(better)),
        (true, false) => format!("Against {name} it {}.", told(worse)),
        (false, false) => format!("Against {name} it {}, but {}.", told(better), told(worse)),
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

/// How `a` differs from `b` in a measure, as the rest of a sentence.
fn difference(units: Units, measure: Measure, a: f64, b: f64) -> String {
    let way = if a < b { "less" } else { "more" };
    let apart = (a - b).abs();
    let ratio = if b.abs() > 0.0 { format::apart(a / b) } else { value(units, measure, apart) };
    match measure {
        Measure::OneSetting => {
            format!("does {} of it in one setting against {}", format::share(a), format::share(b))
        }
        Measure::Done => format!("does {} of it at all against {}", format::share(a), format::share(b)),
        Measure::HiddenNose => {
            let apart = units.way(Length::from_m(apart * CUTS_TOLD));
            format!("has the nose out of sight for {apart} {way} in {CUTS_TOLD} of the cuts it does")
        }
        Measure::HandWork => format!("asks {ratio} {way} force × time of the hands"),
        Measure::Time => format!("takes {ratio} {way} time"),
        Measure::Fuel => format!("burns {ratio} {way} fuel"),
        Measure::Weight => format!("weighs {} {way}", units.mass(Mass::from_kg(apart))),
        Measure::Hang => {
            let way = if a < b { "flatter" } else { "steeper" };
            format!("hangs {} {way}", format::angle(Angle::from_rad(apart)))
        }
        Measure::FrontHand => format!("carries {ratio} {way} in the front hand"),
    }
}

/// The choice: who goes on and why, against the next in the order.
pub fn choice(
    units: Units,
    wood: &Wood,
    contenders: &[Contender],
    choice: &Choice,
    preferences: &Preferences,
) -> Vec<String> {
    let Some(winner) = choice.winner().and_then(|index| contenders.get(index)) else {
        return vec![
            format!("No setup of this yard keeps what is wanted for {}.", wood.name()),
            "Each one's reasons stand beside it.".to_owned(),
        ];
    };
    let left = winner.over.as_ref().map_or(0.0, |over| 1.0 - over.done);
    let but = if left > 0.0 { format!(", but leaves {} of it", format::share(left)) } else { String::new() };
    let mut said = vec![format!("{} goes on for {}{but}.", winner.solved.setup, wood.name()), done(winner)];
    if winner.fit.verdict() != Verdict::Suits {
        said.push(format!("{} is {}.", winner.solved.setup, fit(winner)));
    }
    match choice.order.get(1).and_then(|next| contenders.get(next.index)) {
        Some(next) => said.push(against(units, winner, next, preferences)),
        None => said.push("No other setup keeps what is wanted.".to_owned()),
    }
    if choice.order.first().is_some_and(|first| !first.unbeaten) {
        said.push("Another is at least as good in everything that counts.".to_owned());
    }
    said
}

/// What a change does: `If time counted 2.4 or more (now 0), Bittern B30 would go on.`
pub fn turn(units: Units, turn: &Turn, contenders: &[Contender]) -> String {
    let name = contenders.get(turn.winner).map_or("another", |one| one.solved.setup.as_str());
    match turn.change {
        Change::Weight { measure, from, to } => {
            let way = if to > from { "more" } else { "less" };
            format!(
                "If {} counted {} or {way}, now {}, {name} would go on.",
                measure.words(),
                format::weight_of_choice(to),
                format::weight_of_choice(from)
            )
        }
        Change::Limit { measure, from, to } => {
            let way = match measure.better() {
                Better::More => "down to",
                Better::Less => "up to",
            };
            format!(
                "With {} allowed {way} {}, now {}, {name} would go on.",
                measure.words(),
                value(units, measure, to),
                value(units, measure, from)
            )
        }
    }
}

/// A bar to buy: how long, on which head, what it does, how the saw would be, and which limits it would not keep.
pub fn missing(units: Units, missing: &Missing, share: f64) -> String {
    let head = missing.setup.powerhead().name();
    let length = units.length(missing.overall());
    let what = format!("{} of the cuts in one setting", format::percent(share));
    if let Some(bar) = &missing.on_the_rack {
        return format!(
            "{head} as on {} does {what} with {bar} of the rack; {length} would be enough.",
            missing.like
        );
    }
    let links = missing.links().map_or_else(
        || "no whole loop closes at just that length".to_owned(),
        |links| format!("loop of {}", counted(usize::try_from(links).unwrap_or(usize::MAX), "drive link")),
    );
    let mut said = format!(
        "{head} as on {} with a bar of {length} or longer does {what}; {links}, {} ready, {}.",
        missing.like,
        units.mass(missing.solved.ready_mass()),
        missing
            .solved
            .hang
            .map_or_else(|error| error.to_string(), |hang| format!("hangs {}", format::hang(hang)))
    );
    if !missing.broken.is_empty() {
        let limits: Vec<String> = missing.broken.iter().map(|kept| limit(units, kept)).collect();
        said.push_str(&format!(" It would not keep {}.", limits.join(", ")));
    }
    let unsuited: Vec<&str> = missing
        .fit
        .checks()
        .iter()
        .filter(|check| check.verdict == Verdict::DoesNot)
        .map(|check| check.kind.words())
        .collect();
    if !unsuited.is_empty() {
        said.push_str(&format!(" It would not suit, {}.", unsuited.join(", ")));
    }
    said
}

/// Where no bar that can be made up does it.
pub fn none_missing(share: f64) -> String {
    format!("No bar up to the longest does {} of these cuts in one setting.", format::percent(share))
}

/// A loop to order: `84 drive links, 3/8 in, 1.5 mm, full complement (3/8 full), for Bittern B24`.
pub fn loop_order(order: &LoopOrder) -> String {
    format!(
        "{}, {}, {}, {} ({}), for {}",
        counted(usize::try_from(order.links).unwrap_or(usize::MAX), "drive link"),
        format::pitch(order.pitch),
        format::gauge(order.gauge),
        order.sequence.words(),
        order.chain,
        order.setups.join(", ")
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use barpoise_core::file::demo;
    use barpoise_core::rack::{
        Thresholds, Wanted, WorkRates, choose, contenders, loops_to_order, missing_bars, sensitivity,
    };
    use std::ops::ControlFlow;

    fn found(wood: &Wood) -> Vec<Contender> {
        let go_on = &mut |_| ControlFlow::Continue(());
        let yard = demo().unwrap();
        contenders(yard.setups(), wood, &WorkRates::default(), &Thresholds::default(), go_on).unwrap()
    }

    #[test]
    fn every_wood_of_the_demo_gets_whole_sentences() {
        let (yard, units) = (demo().unwrap(), Units::default());
        for wood in yard.woods() {
            let found = found(wood);
            let bound = Limit { measure: Measure::FrontHand, bound: 100.0 };
            let preferences = Preferences { limits: vec![bound], ..Preferences::default() };
            let chosen = choose(&found, &preferences);
            let mut said = choice(units, wood, &found, &chosen, &preferences);
            said.extend(
                sensitivity(&found, &preferences, &chosen).iter().map(|one| turn(units, one, &found)),
            );
            let wanted = Wanted { limits: vec![bound], ..Wanted::default() };
            let bars = missing_bars(&yard, wood, &wanted);
            said.extend(bars.iter().map(|one| missing(units, one, wanted.share)));
            assert!(said.len() > 3);
            for sentence in &said {
                assert!(sentence.ends_with('.') && !sentence.contains("NaN"), "{sentence}");
                assert!(!sentence.contains("  ") && !sentence.contains("inf"), "{sentence}");
            }
            for (_, reasons) in &chosen.refused {
                assert!(refused(units, reasons).starts_with("out, "));
            }
        }
        let order = loop_order(&loops_to_order(&yard)[0]);
        assert!(order.contains(" drive links, 3/8 in, 1.5 mm, "), "{order}");
    }

    #[test]
    fn thresholds_say_where_they_come_from() {
        let (yard, units) = (demo().unwrap(), Units::default());
        for one in found(&yard.woods()[0]) {
            for looked_at in one.fit.checks() {
                let said = check(units, looked_at);
                assert!(said.contains("our guess") && said.contains(looked_at.verdict.words()), "{said}");
            }
        }
    }

    #[test]
    fn reasons_read_as_a_person_says_them() {
        let units = Units::default();
        let limit = Limit { measure: Measure::FrontHand, bound: 109.0 };
        let said = broken(units, &Broken::Limit { limit, value: Some(131.2) });
        assert_eq!(said, "front hand 131 N, wanted at most 109 N");
        assert_eq!(broken(units, &Broken::DoesNotSuit(CheckKind::Oil)), "oil for the bar does not suit");
        assert_eq!(value(units, Measure::HiddenNose, 0.124), "12.4 m in 100 cuts");
    }
}
