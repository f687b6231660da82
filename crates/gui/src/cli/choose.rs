//! Which setup goes on for a wood: in words, as JSON or as CSV.

use super::args::Choose as Asked;
use super::{CliError, units_of};
use crate::desk::format::{self, Units};
use crate::desk::words::rack as words;
use barpoise_core::rack::{
    Choice, Contender, Measure, Preferences, Thresholds, Wanted, Wood, WorkRates, choose as chosen,
    contenders, missing_bars, sensitivity,
};
use barpoise_core::{CAUTIONS, KICKBACK_CAUTION, Yard};
use serde::Serialize;
use std::fmt::Write;
use std::ops::ControlFlow;

/// Figures of one setup over a wood, in SI units; `None` where there is no figure.
#[derive(Debug, Serialize)]
struct Row<'a> {
    setup: &'a str,
    /// 1 for the one that goes on; `None` for one that is refused.
    rank: Option<usize>,
    score: Option<f64>,
    unbeaten: bool,
    one_setting: Option<f64>,
    resetting: Option<f64>,
    both_sides: Option<f64>,
    cannot: Option<f64>,
    done: Option<f64>,
    hidden_nose_per_100_cuts_m: Option<f64>,
    lifts_per_100_cuts: Option<f64>,
    hands_per_100_cuts_n_s: Option<f64>,
    cutting_s: Option<f64>,
    resetting_s: Option<f64>,
    fuel_m3: Option<f64>,
    oil_m3: Option<f64>,
    ready_mass_kg: f64,
    hang_rad: Option<f64>,
    front_hand_n: Option<f64>,
    reach_m: f64,
    suits: &'static str,
    /// Why it is refused; empty where it is not.
    refused: String,
}

impl<'a> Row<'a> {
    fn new(index: usize, contender: &'a Contender, choice: &Choice, units: Units) -> Self {
        let over = contender.over.as_ref().ok();
        let place = choice.order.iter().position(|ranked| ranked.index == index);
        let ranked = place.and_then(|place| choice.order.get(place));
        let per_100 = |per_cut: f64| 100.0 * per_cut;
        let solved = &contender.solved;
        Self {
            setup: &solved.setup,
            rank: place.map(|place| place + 1),
            score: ranked.map(|ranked| ranked.score),
            unbeaten: ranked.is_some_and(|ranked| ranked.unbeaten),
            one_setting: over.map(|over| over.one_setting),
            resetting: over.map(|over| over.resetting),
            both_sides: over.map(|over| over.both_sides),
            cannot: over.map(|over| over.cannot),
            done: over.map(|over| over.done),
            hidden_nose_per_100_cuts_m: over.map(|over| per_100(over.hidden_per_cut.as_m())),
            lifts_per_100_cuts: over.map(|over| per_100(over.lifts_per_cut)),
            hands_per_100_cuts_n_s: over.map(|over| per_100(over.hands_newton_seconds_per_cut)),
            cutting_s: over.map(|over| over.cutting_s),
            resetting_s: over.map(|over| over.resetting_s),
            fuel_m3: over.map(|over| over.fuel.as_m3()),
            oil_m3: over.map(|over| over.oil.as_m3()),
            ready_mass_kg: solved.ready_mass().as_kg(),
            hang_rad: solved.hang.ok().map(|hang| hang.as_rad()),
            front_hand_n: solved.hands.ok().map(|hands| hands.front.as_n()),
            reach_m: solved.reach.as_m(),
            suits: contender.fit.verdict().words(),
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
    let mut preferences =
        Preferences { limits: asked.limit.clone(), must_suit: !asked.unsuited, ..Preferences::default() };
    for (measure, weight) in &asked.weigh {
        preferences.set_weight(*measure, *weight);
    }
    let go_on = &mut |_| ControlFlow::Continue(());
    let found = contenders(yard.setups(), wood, &WorkRates::default(), &Thresholds::default(), go_on)
        .unwrap_or_default();
    let choice = chosen(&found, &preferences);
    let units = units_of(asked.units);
    let rows: Vec<Row> =
        found.iter().enumerate().map(|(index, one)| Row::new(index, one, &choice, units)).collect();
    if asked.json {
        let text = serde_json::to_string_pretty(&rows).map_err(|error| CliError::Form(error.to_string()))?;
        Ok(text + "\n")
    } else if asked.csv {
        csv(&rows)
    } else {
        Ok(told(yard, wood, &found, &choice, &preferences, units))
    }
}

fn reasons(index: usize, choice: &Choice, units: Units) -> Vec<String> {
    let broken = choice.refused.iter().find(|(refused, _)| *refused == index);
    broken.map_or_else(Vec::new, |(_, broken)| {
        broken.iter().map(|broken| words::broken(units, broken)).collect()
    })
}

fn csv(rows: &[Row<'_>]) -> Result<String, CliError> {
    let form = |error: &dyn std::fmt::Display| CliError::Form(error.to_string());
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        writer.serialize(row).map_err(|error| form(&error))?;
    }
    let bytes = writer.into_inner().map_err(|error| form(&error))?;
    String::from_utf8(bytes).map_err(|error| form(&error))
}

/// The report for people.
fn told(
    yard: &Yard,
    wood: &Wood,
    found: &[Contender],
    choice: &Choice,
    preferences: &Preferences,
    units: Units,
) -> String {
    let mut text = format!("{}: {}\n", wood.name(), words::wood(units, wood));
    // Writing to a text cannot fail.
    let _ = writeln!(
        text,
        "{}, {} ({})\n",
        wood.hardness().name,
        format::cutting_energy(wood.hardness().energy_j_cm3),
        wood.hardness().source
    );
    for sentence in words::choice(units, wood, found, choice, preferences) {
        let _ = writeln!(text, "{sentence}");
    }
    for (place, ranked) in choice.order.iter().enumerate() {
        if let Some(one) = found.get(ranked.index) {
            let mark = if ranked.unbeaten { ", unbeaten" } else { "" };
            let score = format::ratio(ranked.score);
            let _ = writeln!(text, "\n{}. {}, score {score}{mark}", place + 1, one.solved.setup);
            figures(&mut text, one, units);
        }
    }
    for (index, broken) in &choice.refused {
        if let Some(one) = found.get(*index) {
            let _ = writeln!(text, "\n{}: {}", one.solved.setup, words::refused(units, broken));
            figures(&mut text, one, units);
        }
    }
    let turns = sensitivity(found, preferences, choice);
    if !turns.is_empty() {
        text.push_str("\nWhat would turn it\n");
        for turn in &turns {
            let _ = writeln!(text, "  {}", words::turn(units, turn, found));
        }
    }
    let wanted = Wanted { limits: preferences.limits.clone(), ..Wanted::default() };
    text.push_str("\nBars for this wood\n");
    let missing = missing_bars(yard, wood, &wanted);
    if missing.is_empty() {
        let _ = writeln!(text, "  {}", words::none_missing(wanted.share));
    }
    for missing in &missing {
        let _ = writeln!(text, "  {}", words::missing(units, missing, wanted.share));
    }
    let _ = writeln!(text, "\n{}\n\n{KICKBACK_CAUTION}\n{}", words::RECKONED_WITH, CAUTIONS.join("\n"));
    text
}

fn figures(text: &mut String, one: &Contender, units: Units) {
    if let Ok(over) = &one.over {
        let _ = writeln!(text, "   {}", words::over_wood(over));
    }
    let values: Vec<String> = Measure::ALL
        .into_iter()
        .filter(|measure| !matches!(measure, Measure::OneSetting | Measure::Done))
        .map(|measure| {
            format!("{} {}", measure.words(), words::value_or_none(units, measure, one.value(measure)))
        })
        .collect();
    let _ = writeln!(text, "   {}", values.join(", "));
    let _ = writeln!(text, "   {}", words::fit(one));
}
