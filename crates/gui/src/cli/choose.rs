//! Which setup goes on for a wood: in words, as JSON or as CSV.

use super::args::Choose as Asked;
use super::{CliError, sources, units_of};
use crate::desk::cautioned::{self, Cautioned};
use crate::desk::format::{self, Units};
use crate::desk::sources::Topic;
use crate::desk::words::rack as words;
use barpoise_core::Yard;
use barpoise_core::rack::{
    Choice, Contender, Otherwise, Preferences, Sureness, Thresholds, WorkRates, buyable, choose as chosen,
    contenders, pairs, purchases, sensitivity,
};
use serde::Serialize;
use std::fmt::Write;
use std::ops::ControlFlow;

/// Figures of one setup over a wood, in SI units; `None` where there is no figure.
#[derive(Debug, Serialize)]
struct Row<'a> {
    setup: &'a str,
    /// 1 for the one that goes on; `None` for one that is refused, and for all where nothing counts.
    rank: Option<usize>,
    /// The rank of the best setup that it lies even with, its own where it lies even with none before it.
    place: Option<usize>,
    score: Option<f64>,
    unbeaten: Option<bool>,
    done: Option<f64>,
    left_lying: Option<f64>,
    one_setting: Option<f64>,
    resetting: Option<f64>,
    both_sides: Option<f64>,
    cannot: Option<f64>,
    nose_in_branches_per_100_cuts_s: Option<f64>,
    nose_out_mean_m: Option<f64>,
    nose_out_farthest_mean_m: Option<f64>,
    nose_out_worst_m: Option<f64>,
    lifts_per_100_cuts: Option<f64>,
    hands_per_100_cuts_n_s: Option<f64>,
    holding_used_per_cut: Option<f64>,
    worst_arm_share: Option<f64>,
    worst_back_share: Option<f64>,
    rest_per_100_cuts_s: Option<f64>,
    cuts_in_a_day: Option<f64>,
    time_per_100_cuts_s: Option<f64>,
    cutting_s: Option<f64>,
    resetting_s: Option<f64>,
    otherwise_s: Option<f64>,
    fuel_m3: Option<f64>,
    oil_m3: Option<f64>,
    ready_mass_kg: f64,
    hang_rad: Option<f64>,
    front_hand_n: Option<f64>,
    reach_m: f64,
    suits: &'static str,
    binds: String,
    /// Why it is refused; empty where it is not.
    refused: String,
}

impl<'a> Row<'a> {
    fn new(index: usize, contender: &'a Contender, choice: &Choice, rates: &WorkRates, units: Units) -> Self {
        let over = contender.over.as_ref().ok();
        let rank = choice.order.iter().position(|ranked| ranked.index == index);
        let rank = rank.filter(|_| !choice.nothing_counts);
        let ranked = rank.and_then(|rank| choice.order.get(rank));
        let per_100 = |per_cut: f64| 100.0 * per_cut;
        // A saw that leaves all of the wood lying has no figures of a cut: 0 would make it the best.
        let cut = over.filter(|over| over.makes_cuts());
        let effort = cut.and_then(|over| over.effort);
        let solved = &contender.solved;
        // Without any time in it there is nothing that is far out.
        let exposed = over.filter(|over| over.tangle_s_per_cut > 0.0);
        Self {
            setup: &solved.setup,
            rank: rank.map(|rank| rank + 1),
            place: ranked.map(|ranked| ranked.place),
            score: ranked.map(|ranked| ranked.score),
            unbeaten: ranked.and_then(|ranked| ranked.unbeaten),
            done: over.map(|over| over.done),
            left_lying: over.map(|over| over.left),
            one_setting: over.map(|over| over.one_setting),
            resetting: over.map(|over| over.resetting),
            both_sides: over.map(|over| over.both_sides),
            cannot: over.map(|over| over.cannot),
            nose_in_branches_per_100_cuts_s: cut.map(|over| per_100(over.tangle_s_per_cut)),
            nose_out_mean_m: cut.and_then(|over| over.out_mean).map(|out| out.as_m()),
            nose_out_farthest_mean_m: exposed.map(|over| over.out_per_cut.as_m()),
            nose_out_worst_m: exposed.map(|over| over.out_worst.as_m()),
            lifts_per_100_cuts: cut.map(|over| per_100(over.lifts_per_cut)),
            hands_per_100_cuts_n_s: cut.map(|over| per_100(over.hands_newton_seconds_per_cut)),
            holding_used_per_cut: cut.and_then(|over| over.used_per_cut),
            worst_arm_share: effort.map(|effort| effort.worst_share),
            worst_back_share: effort.map(|effort| effort.worst_back),
            rest_per_100_cuts_s: effort.map(|effort| per_100(effort.rest_s)),
            cuts_in_a_day: over.and_then(|over| over.cuts_in_a_day(rates)),
            time_per_100_cuts_s: over.map(|over| per_100(over.time_s_per_cut())),
            cutting_s: cut.map(|over| over.cutting_s),
            resetting_s: cut.map(|over| over.resetting_s),
            otherwise_s: over.map(|over| over.otherwise_s),
            fuel_m3: cut.map(|over| over.fuel.as_m3()),
            oil_m3: cut.map(|over| over.oil.as_m3()),
            ready_mass_kg: solved.ready_mass().as_kg(),
            hang_rad: solved.hang.ok().map(|hang| hang.as_rad()),
            front_hand_n: solved.hands.ok().map(|hands| hands.front.as_n()),
            reach_m: solved.reach.as_m(),
            suits: contender.fit.verdict().words(),
            binds: words::fit(contender),
            refused: reasons(index, choice, units).join("; "),
        }
    }
}

/// The choice that was asked for, in the form that was asked for.
pub(super) fn choose(yard: &Yard, asked: &Asked) -> Result<String, CliError> {
    let wood = yard.wood(&asked.wood).ok_or_else(|| CliError::UnknownWood {
        name: asked.wood.clone(),
        yard: yard.name().to_owned(),
        known: yard.woods().iter().map(|wood| wood.name().to_owned()).collect(),
    })?;
    if let Otherwise::OtherSaw(name) = &asked.undone
        && yard.setup(name).is_none()
    {
        return Err(CliError::UnknownSetup {
            name: name.clone(),
            yard: yard.name().to_owned(),
            known: yard.setups().iter().map(|setup| setup.name().to_owned()).collect(),
        });
    }
    let mut preferences =
        Preferences { limits: asked.limit.clone(), must_suit: !asked.unsuited, ..Preferences::default() };
    for (measure, weight) in &asked.weigh {
        preferences.scales.set_weight(*measure, *weight);
    }
    for (measure, anchors) in &asked.scale {
        preferences.scales.set_anchors(*measure, *anchors);
    }
    let rates = WorkRates { otherwise: asked.undone.clone(), ..WorkRates::default() };
    let thresholds = Thresholds::default();
    let go_on = &mut |_| ControlFlow::Continue(());
    let found = contenders(yard.setups(), wood, &rates, &thresholds, go_on).unwrap_or_default();
    let mut choice = chosen(&found, &preferences);
    let sureness = Sureness::new(yard, yard.setups(), &found, wood, &rates, go_on);
    if let Some(sureness) = &sureness {
        choice = choice.told_apart(sureness, &preferences);
    }
    let units = units_of(asked.units);
    let told = words::Told {
        units,
        yard,
        wood,
        contenders: &found,
        choice: &choice,
        preferences: &preferences,
        thresholds: &thresholds,
        rates: &rates,
    };
    let rows = found.iter().enumerate().map(|(index, one)| Row::new(index, one, &choice, &rates, units));
    if asked.json {
        let rows: Vec<_> = rows.map(Cautioned::new).collect();
        let text = serde_json::to_string_pretty(&rows).map_err(|error| CliError::Form(error.to_string()))?;
        Ok(text + "\n")
    } else if asked.csv {
        cautioned::csv(rows).map_err(CliError::Form)
    } else {
        Ok(report(&told, sureness.as_ref(), asked.numbers))
    }
}

fn reasons(index: usize, choice: &Choice, units: Units) -> Vec<String> {
    let broken = choice.refused.iter().find(|(refused, _)| *refused == index);
    broken.map_or_else(Vec::new, |(_, broken)| {
        broken.iter().map(|broken| words::broken(units, broken)).collect()
    })
}

/// The report for people: the choice as it is said, what is exchanged for what, two saws, what to buy; the numbers of every
/// setup where they are asked for.
fn report(told: &words::Told<'_>, sureness: Option<&Sureness>, numbers: bool) -> String {
    let (wood, units) = (told.wood, told.units);
    let mut text = format!("{}: {}\n", wood.name(), words::wood(units, wood));
    // Writing to a text cannot fail.
    let _ = writeln!(
        text,
        "{}, {} ({})\n",
        wood.hardness().name,
        format::cutting_energy(wood.hardness().energy_j_cm3),
        wood.hardness().source
    );
    for sentence in told.sentences() {
        let _ = writeln!(text, "{sentence}");
    }
    text.push('\n');
    for (rank, ranked) in told.choice.order.iter().enumerate() {
        if let Some(one) = told.contenders.get(ranked.index) {
            let look = if ranked.unbeaten == Some(true) { ", worth a look" } else { "" };
            let even = if ranked.place <= rank {
                format!(", even with {}", format::place(ranked.place))
            } else {
                String::new()
            };
            let (setup, score) = (&one.solved.setup, format::ratio(ranked.score));
            // Where nothing counts, nothing has a place or a worth.
            let _ = if told.choice.nothing_counts {
                writeln!(text, "{setup}{look}")
            } else {
                writeln!(text, "{}. {setup}, worth {score}{even}{look}", rank + 1)
            };
            figures(&mut text, told, one, numbers);
        }
    }
    for (index, broken) in &told.choice.refused {
        if let Some(one) = told.contenders.get(*index) {
            let _ = writeln!(text, "{}: {}", one.solved.setup, words::refused(units, broken));
            figures(&mut text, told, one, numbers);
        }
    }
    section(&mut text, "What is exchanged for what", told.trade_offs());
    let turns = sensitivity(told.contenders, told.preferences, told.choice);
    section(&mut text, "What would change it", turns.iter().map(|turn| told.turn(turn)).collect());
    let pairs = pairs(told.contenders, wood, told.rates, told.preferences, told.choice, sureness);
    section(&mut text, "Two saws", vec![words::pair(told, pairs.first())]);
    let go_on = &mut |_| ControlFlow::Continue(());
    let bars = buyable(told.yard, wood, told.rates, told.thresholds, go_on).unwrap_or_default();
    let all = purchases(&bars, told.contenders, told.choice, told.preferences, sureness);
    let mut lines: Vec<String> = all.iter().filter_map(|one| words::buy(told, &bars, one)).collect();
    if lines.is_empty() {
        lines.push(words::nothing_to_buy().to_owned());
    }
    lines.push(words::LENGTHS_SOLD.to_owned());
    section(&mut text, "Bars to buy for this wood", lines);
    let _ = writeln!(
        text,
        "\n{} {}\n\n{}\n{}",
        words::RECKONED_WITH,
        words::HOLDS_COMPARE,
        sources::lines(told.units, &Topic::RACK),
        cautioned::lines().trim_end()
    );
    text
}

fn section(text: &mut String, title: &str, lines: Vec<String>) {
    if lines.is_empty() {
        return;
    }
    let _ = writeln!(text, "\n{title}");
    for line in lines {
        let _ = writeln!(text, "  {line}");
    }
}

fn figures(text: &mut String, told: &words::Told<'_>, one: &Contender, numbers: bool) {
    if numbers {
        for line in told.numbers(one) {
            let _ = writeln!(text, "   {line}");
        }
    }
}
