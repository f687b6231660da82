//! What a yard's readings teach, in words or as JSON; written back where asked.

use super::args::WeighIn as Asked;
use super::{CliError, say_link, sources, units_of};
use crate::desk::cautioned::{self, Cautioned};
use crate::desk::format::{self, Units};
use crate::desk::sources::Topic;
use crate::desk::today::today;
use crate::desk::words::weigh_in as words;
use barpoise_core::file::{Contents, Over, save_yard_over};
use barpoise_core::units::Angle;
use barpoise_core::weigh_in::{
    Bands, Choice, CountChance, Counted, DRAW_SEED, DRAWS, DrawCheck, Drawn, Fit, FittedReading, Knowledge,
    Learnt, NextReading, Part, Unknown, applied, draw, fit, has_news, next_readings,
};
use barpoise_core::{Setup, Solved, Yard, solve};
use serde::Serialize;
use std::fmt::Write;
use std::io;
use std::path::PathBuf;

/// Readings to take next that are named for each head.
const NEXT: usize = 3;

/// A fit for other programs, in SI units; weights are in kg, as a scale shows them.
#[derive(Debug, Serialize)]
struct Report<'a> {
    yard: &'a str,
    applied: bool,
    chi_square: f64,
    freedom: usize,
    probability: Option<f64>,
    /// Combinations of the numbers that the readings know better than the yard did.
    settled: usize,
    /// Place of the reading that does not go with the rest, from 1.
    disagreeing_reading: Option<usize>,
    readings: Vec<ReadingRow>,
    learnt: Vec<LearntRow<'a>>,
    /// Loops that nobody counted.
    links: Vec<LinksRow<'a>>,
    /// In the order of `learnt`.
    correlations: Vec<Vec<f64>>,
    /// Numbers that the readings do not tell apart, by their place in `learnt` from 1.
    mixed: Vec<Vec<usize>>,
    next: Vec<NextRow>,
    predictions: Vec<PredictionRow<'a>>,
    draws: u32,
}

#[derive(Debug, Serialize)]
struct ReadingRow {
    /// Place in the yard's list, from 1.
    reading: usize,
    measured: String,
    unit: &'static str,
    value: f64,
    uncertainty: f64,
    expected_before: f64,
    expected: f64,
    by_others: Option<f64>,
    by_others_uncertainty: Option<f64>,
    standardised: Option<f64>,
    /// The number, by its place in `learnt` from 1, that took up most of what was read otherwise than expected before.
    mostly: Option<usize>,
}

#[derive(Debug, Serialize)]
struct LearntRow<'a> {
    of: &'a str,
    number: &'static str,
    unit: &'static str,
    prior: f64,
    prior_uncertainty: f64,
    before: f64,
    value: f64,
    uncertainty: f64,
    from_readings: f64,
}

/// What the readings say of a loop that nobody counted.
#[derive(Debug, Serialize)]
struct LinksRow<'a> {
    bar: &'a str,
    proposed: u32,
    /// Counts with their chance before and after the readings, 0 to 1.
    chances: Vec<ChanceRow>,
}

#[derive(Debug, Serialize)]
struct ChanceRow {
    drive_links: u32,
    before: f64,
    now: f64,
}

#[derive(Debug, Serialize)]
struct NextRow {
    measured: String,
    hang_uncertainty_now_rad: f64,
    hang_uncertainty_then_rad: f64,
}

#[derive(Debug, Serialize)]
struct PredictionRow<'a> {
    setup: &'a str,
    ready_mass_kg: f64,
    ready_mass_uncertainty_kg: Option<f64>,
    hang_rad: Option<f64>,
    hang_uncertainty_rad: Option<f64>,
    /// Standard deviation of the hang over the draws.
    hang_deviation_drawn_rad: f64,
    front_hand_n: Option<f64>,
    front_hand_uncertainty_n: Option<f64>,
    reach_m: f64,
    reach_uncertainty_m: Option<f64>,
}

/// A fit with all that follows from it.
struct Taught {
    fit: Fit,
    after: Yard,
    next: Vec<NextReading>,
    predictions: Vec<Prediction>,
}

struct Prediction {
    solved: Solved,
    bands: Bands,
    drawn: Drawn,
}

/// What the readings of the yard teach; with `--apply`, the yard is written back, and `applied` says where.
pub(super) fn weigh_in(
    yard: &Yard,
    seen: Contents,
    asked: &Asked,
    applied: &mut Option<PathBuf>,
    err: &mut dyn io::Write,
) -> Result<String, CliError> {
    let taught = taught(yard)?;
    if asked.apply && !asked.even_so && words::contradicts(Ok::<_, ()>(&taught.fit)) {
        let off = taught.fit.disagreement.as_ref();
        let named =
            off.and_then(|off| Some(words::disagreement(off, yard.readings().get(off.index)?.measured())));
        return Err(CliError::WeighIn(format!(
            "the readings contradict each other or what was known (--even-so applies them). {}",
            named.unwrap_or_default()
        )));
    }
    if asked.apply && !has_news(yard, &taught.after) {
        return Ok("What these readings teach stands in the yard already; nothing was written.\n".to_owned());
    }
    // Nothing is written unless everything before it went well, and nothing is told as applied unless written.
    let saved = if asked.apply {
        // Only over what was read: another program may have changed it since.
        let saved = save_yard_over(&taught.after, &asked.file, Over::Only(seen));
        let saved = saved.map_err(|error| CliError::Save(error.to_string()))?;
        say_link(err, &asked.file, &saved.path);
        *applied = Some(saved.path.clone());
        Some(saved)
    } else {
        None
    };
    if asked.json {
        let report = Cautioned::new(report(yard, &taught, asked.apply));
        let text =
            serde_json::to_string_pretty(&report).map_err(|error| CliError::Form(error.to_string()))?;
        return Ok(text + "\n");
    }
    let mut text = told(yard, &taught, units_of(asked.units), asked.statistics);
    if let Some(saved) = saved {
        text.push_str(&format!("\nApplied and written to {}.\n", saved.path.display()));
        if let Some(copy) = saved.copy {
            text.push_str(&format!("{copy}.\n"));
        }
    }
    Ok(text)
}

fn taught(yard: &Yard) -> Result<Taught, CliError> {
    let fit = fit(yard, &Choice::Automatic).map_err(|error| CliError::WeighIn(error.to_string()))?;
    let after = applied(yard, &fit, &today()).map_err(|faults| {
        let reasons: Vec<_> = faults.iter().map(|fault| fault.message.as_str()).collect();
        CliError::WeighIn(format!("the fitted numbers make no yard: {}", reasons.join("; ")))
    })?;
    let mut heads: Vec<&str> = fit
        .learnt
        .iter()
        .filter(|learnt| learnt.unknown.quantity.part() == Part::Powerhead)
        .map(|learnt| &*learnt.unknown.of)
        .collect();
    heads.dedup();
    let (mut next, mut predictions) = (Vec::new(), Vec::new());
    for head in heads {
        next.extend(next_readings(&after, head, NEXT));
        let setups: Vec<&Setup> =
            after.setups().iter().filter(|setup| setup.powerhead().name() == head).collect();
        let knowledge = Knowledge::of(&after, setups.iter().copied());
        let drawn = draw(&knowledge, &setups, DRAWS, DRAW_SEED);
        predictions.extend(setups.iter().zip(drawn).map(|(setup, drawn)| Prediction {
            solved: solve(setup),
            bands: knowledge.bands(setup),
            drawn,
        }));
    }
    Ok(Taught { fit, after, next, predictions })
}

fn report<'a>(yard: &'a Yard, taught: &'a Taught, applied: bool) -> Report<'a> {
    let fit = &taught.fit;
    let places = 0..fit.learnt.len();
    Report {
        yard: yard.name(),
        applied,
        chi_square: fit.chi_square,
        freedom: fit.freedom,
        probability: fit.probability,
        settled: fit.settled,
        disagreeing_reading: fit.disagreement.map(|disagreement| disagreement.index + 1),
        readings: fit.readings.iter().filter_map(|fitted| reading_row(yard, fitted)).collect(),
        learnt: fit.learnt.iter().map(learnt_row).collect(),
        links: fit.counts.iter().map(links_row).collect(),
        correlations: places
            .clone()
            .map(|row| places.clone().map(|column| fit.correlation(row, column)).collect())
            .collect(),
        mixed: fit
            .mixed
            .iter()
            .map(|mixed| {
                let place =
                    |unknown: &Unknown| fit.learnt.iter().position(|learnt| learnt.unknown == *unknown);
                mixed.unknowns.iter().filter_map(place).map(|place| place + 1).collect()
            })
            .collect(),
        next: taught
            .next
            .iter()
            .map(|next| NextRow {
                measured: words::measure_of(&next.measured),
                hang_uncertainty_now_rad: next.hang_now.as_rad(),
                hang_uncertainty_then_rad: next.hang_then.as_rad(),
            })
            .collect(),
        predictions: taught.predictions.iter().map(prediction_row).collect(),
        draws: DRAWS,
    }
}

fn reading_row(yard: &Yard, fitted: &FittedReading) -> Option<ReadingRow> {
    let measured = yard.readings().get(fitted.index)?.measured();
    let FittedReading {
        index,
        read: (value, uncertainty),
        expected_before,
        expected,
        by_others,
        standardised,
        mostly,
    } = *fitted;
    Some(ReadingRow {
        reading: index + 1,
        measured: words::measure_of(measured),
        unit: words::si_unit(measured),
        value,
        uncertainty,
        expected_before,
        expected,
        by_others: by_others.map(|(value, _)| value),
        by_others_uncertainty: by_others.map(|(_, uncertainty)| uncertainty),
        standardised,
        mostly: mostly.map(|(place, _)| place + 1),
    })
}

fn links_row(count: &Counted) -> LinksRow<'_> {
    let row = |chance: &CountChance| ChanceRow {
        drive_links: chance.links,
        before: chance.before,
        now: chance.now,
    };
    LinksRow { bar: &count.bar, proposed: count.proposed, chances: count.chances.iter().map(row).collect() }
}

fn learnt_row(learnt: &Learnt) -> LearntRow<'_> {
    let quantity = learnt.unknown.quantity;
    LearntRow {
        of: &learnt.unknown.of,
        number: quantity.words(),
        unit: quantity.si_unit(),
        prior: learnt.prior.value,
        prior_uncertainty: learnt.prior.uncertainty,
        before: learnt.before,
        value: learnt.value,
        uncertainty: learnt.uncertainty,
        from_readings: learnt.from_readings(),
    }
}

fn prediction_row(prediction: &Prediction) -> PredictionRow<'_> {
    let Prediction { solved, bands, drawn } = prediction;
    PredictionRow {
        setup: &solved.setup,
        ready_mass_kg: solved.ready_mass().as_kg(),
        ready_mass_uncertainty_kg: bands.ready_mass.map(|mass| mass.as_kg()),
        hang_rad: solved.hang.ok().map(Angle::as_rad),
        hang_uncertainty_rad: bands.hang.map(Angle::as_rad),
        hang_deviation_drawn_rad: drawn.hang.1.as_rad(),
        front_hand_n: solved.hands.ok().map(|hands| hands.front.as_n()),
        front_hand_uncertainty_n: bands.front_hand.map(|force| force.as_n()),
        reach_m: solved.reach.as_m(),
        reach_uncertainty_m: bands.reach.map(|reach| reach.as_m()),
    }
}

/// The report for people.
fn told(yard: &Yard, taught: &Taught, units: Units, statistics: bool) -> String {
    let fit = &taught.fit;
    let mut text = format!(
        "{}: {} taught {}\n",
        yard.name(),
        words::counted(fit.readings.len(), "reading"),
        words::counted(fit.learnt.len(), "number")
    );
    // Writing to a text cannot fail.
    let _ = writeln!(text, "± is one standard uncertainty; two of them to either side hold 95 %.\n");
    let rows: Vec<[String; 4]> = fit
        .readings
        .iter()
        .filter_map(|fitted| {
            let reading = yard.readings().get(fitted.index)?;
            let others = fitted.by_others.map_or_else(
                || "nothing".to_owned(),
                |(value, uncertainty)| words::value(units, reading.measured(), value, uncertainty),
            );
            Some([
                format!("{}. {}", fitted.index + 1, words::measure_of(reading.measured())),
                words::read(units, reading),
                others,
                words::off(fitted),
            ])
        })
        .collect();
    table(&mut text, ["Reading", "read", "the others say", "off"], &rows);
    let _ = writeln!(text, "\n{}", words::agreement(fit));
    if let Some(numbers) = words::agreement_in_numbers(fit).filter(|_| statistics) {
        let _ = writeln!(text, "{numbers}");
    }
    for fitted in &fit.readings {
        let measured = yard.readings().get(fitted.index).map(|reading| reading.measured());
        if let Some(said) = measured.and_then(|measured| words::moved(units, fit, fitted, measured)) {
            let _ = writeln!(text, "{said}");
        }
    }
    for count in &fit.counts {
        let _ = writeln!(text, "{}", words::links(count));
    }
    if let Some(found) = &fit.disagreement
        && let Some(reading) = yard.readings().get(found.index)
    {
        let _ = writeln!(text, "{}", words::disagreement(found, reading.measured()));
    }
    let rows: Vec<[String; 4]> = fit
        .learnt
        .iter()
        .map(|learnt| {
            let (before, after) = words::learnt(units, learnt);
            let name = words::capitalised(&words::unknown(&learnt.unknown));
            [name, before, after, format::percent(learnt.from_readings())]
        })
        .collect();
    text.push('\n');
    table(&mut text, ["Number", "known before", "now", "from readings"], &rows);
    for mixed in &fit.mixed {
        let _ = writeln!(text, "\n{}", words::mixed(mixed));
    }
    predictions(&mut text, &taught.predictions, units);
    if !taught.next.is_empty() {
        let _ = writeln!(text, "\nWhat to measure next");
        for next in &taught.next {
            let _ = writeln!(text, "  {}", words::next(next));
        }
    }
    let _ = write!(text, "\n{}", sources::lines(units, &[Topic::Reading]));
    let _ = writeln!(text, "\n{}", cautioned::lines().trim_end());
    text
}

fn predictions(text: &mut String, predictions: &[Prediction], units: Units) {
    let none = || "none".to_owned();
    let rows: Vec<[String; 4]> = predictions
        .iter()
        .map(|Prediction { solved, bands, .. }| {
            let mass = bands.ready_mass.map(|band| units.mass_with(solved.ready_mass(), band));
            let hang = solved.hang.ok().zip(bands.hang).map(|(hang, band)| format::hang_with(hang, band));
            let front = solved.hands.ok().zip(bands.front_hand);
            let front = front.map(|(hands, band)| units.force_with(hands.front, band));
            [
                solved.setup.clone(),
                mass.unwrap_or_else(none),
                hang.unwrap_or_else(none),
                front.unwrap_or_else(none),
            ]
        })
        .collect();
    text.push('\n');
    table(text, ["Setup", "ready", "hangs", "front hand"], &rows);
    let check = DrawCheck::of(predictions.iter().map(|prediction| (&prediction.bands, &prediction.drawn)));
    let _ = writeln!(text, "{}", words::draws(check));
    if let Some(said) = words::no_hang(check) {
        let _ = writeln!(text, "{said}");
    }
}

/// Columns as wide as their widest entry, the first to the left and the others to the right.
fn table(text: &mut String, heads: [&str; 4], rows: &[[String; 4]]) {
    let width = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column)).map(|cell| cell.chars().count());
        cells.chain(heads.get(column).map(|head| head.chars().count())).max().unwrap_or(0)
    };
    let widths = [width(0), width(1), width(2), width(3)];
    let mut line = |cells: [&str; 4]| {
        let [first, second, third, last] = cells;
        let [a, b, c, d] = widths;
        let _ = writeln!(text, "{first:<a$}  {second:>b$}  {third:>c$}  {last:>d$}");
    };
    line(heads);
    for [first, second, third, last] in rows {
        line([first, second, third, last]);
    }
}
