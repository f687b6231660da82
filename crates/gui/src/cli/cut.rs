//! How a setup takes a log apart, in words, as JSON or as CSV.

use super::args::{Bound, Cut as Asked, Standing, Tangled};
use super::{CliError, figures::setup_named, units_of};
use crate::desk::document::{Cut, Step};
use crate::desk::format;
use crate::desk::words::cut::{heading, sentences};
use barpoise_core::log::{Bind, LogJob, LogSection, Setting, Stand, Tangle};
use barpoise_core::units::Length;
use barpoise_core::{CAUTIONS, KICKBACK_CAUTION, Setup, Yard, solve};
use serde::Serialize;

/// A cut for other programs, in SI units.
#[derive(Debug, Serialize)]
struct CutRow<'a> {
    setup: &'a str,
    diameter_m: f64,
    reach_m: f64,
    covered_fraction: f64,
    settings: Vec<SettingRow>,
    biggest_one_side_m: Option<f64>,
    biggest_both_sides_m: Option<f64>,
    pull_in_force_n: f64,
    left_area_m2: f64,
}

/// One setting. Angles are those of the core: bark counter-clockwise from the far side, swings from straight in.
#[derive(Debug, Serialize)]
struct SettingRow {
    bark_rad: f64,
    swing_from_rad: f64,
    swing_to_rad: f64,
    nose_out_max_m: f64,
    nose_buried_max_m: f64,
    hidden: bool,
    carried_by: &'static str,
}

/// One setting on a line of its own, with what holds for the whole cut.
#[derive(Debug, Serialize)]
struct CsvRow<'a> {
    setup: &'a str,
    diameter_m: f64,
    reach_m: f64,
    covered_fraction: f64,
    biggest_one_side_m: Option<f64>,
    biggest_both_sides_m: Option<f64>,
    pull_in_force_n: f64,
    left_area_m2: f64,
    setting: usize,
    bark_rad: f64,
    swing_from_rad: f64,
    swing_to_rad: f64,
    nose_out_max_m: f64,
    nose_buried_max_m: f64,
    hidden: bool,
    carried_by: &'static str,
}

/// The cut that was asked for, in the form that was asked for.
pub(super) fn cut(yard: &Yard, asked: &Asked) -> Result<String, CliError> {
    let setup = setup_named(yard, &asked.setup)?;
    let solved = solve(setup);
    let job = job(asked).map_err(CliError::Cut)?;
    let cut = Cut::new(&job, None, setup, &solved).map_err(|fault| CliError::Cut(fault.message))?;
    let row = row(setup, asked.diameter, &cut);
    if asked.json {
        let text = serde_json::to_string_pretty(&row).map_err(|error| CliError::Form(error.to_string()))?;
        Ok(text + "\n")
    } else if asked.csv {
        csv(&row)
    } else {
        Ok(words(setup, &job, asked, &cut))
    }
}

fn job(asked: &Asked) -> Result<LogJob, String> {
    let section = LogSection::round(asked.diameter, asked.above_ground).map_err(|fault| fault.message)?;
    let stand = match asked.stand {
        Standing::OneSide => Stand::OneSide,
        Standing::BothSides => Stand::BothSides,
        Standing::WalkRound => Stand::WalkRound,
    };
    let tangle = match asked.tangle {
        Tangled::None => Tangle::None,
        Tangled::Near => Tangle::Near,
        Tangled::Far => Tangle::Far,
    };
    let bind = match asked.bind {
        Bound::None => Bind::None,
        Bound::Top => Bind::Top,
        Bound::Bottom => Bind::Bottom,
    };
    Ok(LogJob::new(section, stand).with_tangle(tangle).with_bind(bind))
}

fn row<'a>(setup: &'a Setup, diameter: Length, cut: &Cut) -> CutRow<'a> {
    CutRow {
        setup: setup.name(),
        diameter_m: diameter.as_m(),
        reach_m: cut.bar.reach().as_m(),
        covered_fraction: cut.cover.covered_fraction,
        settings: cut
            .settings
            .iter()
            .zip(&cut.steps)
            .map(|(setting, step)| setting_row(setting, step))
            .collect(),
        biggest_one_side_m: cut.biggest_one_side.map(Length::as_m),
        biggest_both_sides_m: cut.biggest_both_sides.map(Length::as_m),
        pull_in_force_n: cut.saw.pull_in().as_n(),
        left_area_m2: cut.cover.left_area_m2,
    }
}

fn setting_row(setting: &Setting, step: &Step) -> SettingRow {
    SettingRow {
        bark_rad: setting.bark().as_rad(),
        swing_from_rad: setting.from().as_rad(),
        swing_to_rad: setting.to().as_rad(),
        nose_out_max_m: step.nose.out_max_m,
        nose_buried_max_m: step.nose.buried_max_m,
        hidden: step.nose.is_hidden(),
        carried_by: if setting.stand_off() > Length::ZERO { "hands" } else { "log" },
    }
}

fn csv(row: &CutRow<'_>) -> Result<String, CliError> {
    let form = |error: &dyn std::fmt::Display| CliError::Form(error.to_string());
    let mut writer = csv::Writer::from_writer(Vec::new());
    for (index, setting) in row.settings.iter().enumerate() {
        let line = CsvRow {
            setup: row.setup,
            diameter_m: row.diameter_m,
            reach_m: row.reach_m,
            covered_fraction: row.covered_fraction,
            biggest_one_side_m: row.biggest_one_side_m,
            biggest_both_sides_m: row.biggest_both_sides_m,
            pull_in_force_n: row.pull_in_force_n,
            left_area_m2: row.left_area_m2,
            setting: index + 1,
            bark_rad: setting.bark_rad,
            swing_from_rad: setting.swing_from_rad,
            swing_to_rad: setting.swing_to_rad,
            nose_out_max_m: setting.nose_out_max_m,
            nose_buried_max_m: setting.nose_buried_max_m,
            hidden: setting.hidden,
            carried_by: setting.carried_by,
        };
        writer.serialize(line).map_err(|error| form(&error))?;
    }
    let bytes = writer.into_inner().map_err(|error| form(&error))?;
    String::from_utf8(bytes).map_err(|error| form(&error))
}

fn words(setup: &Setup, job: &LogJob, asked: &Asked, cut: &Cut) -> String {
    let units = units_of(asked.units);
    let share = format::share_of_section(cut.cover.covered_fraction);
    let count = cut.settings.len();
    let noun = if count == 1 { "spike setting" } else { "spike settings" };
    let mut text = format!(
        "{}, reach past spikes {}, log {}\n{count} {noun}, {share} of the section\n",
        setup.name(),
        units.length(cut.bar.reach()),
        units.length(asked.diameter)
    );
    for (index, (setting, step)) in cut.settings.iter().zip(&cut.steps).enumerate() {
        text.push_str(&format!("\n{}. {}\n", index + 1, heading(setting)));
        for sentence in sentences(job, units, setting, step) {
            text.push_str(&format!("   {}\n", sentence.text));
        }
    }
    if let Some(shortfall) = &cut.shortfall {
        text.push_str(&format!("\n{}\n", crate::desk::words::cut::shortfall(shortfall, units)));
    }
    let biggest =
        |length: Option<Length>| length.map_or_else(|| "none".to_owned(), |length| units.length(length));
    text.push_str(&format!(
        "\nBiggest log from one side {}, from both sides {}\nPull-in at full power at most {}\n\n{KICKBACK_CAUTION}\n",
        biggest(cut.biggest_one_side),
        biggest(cut.biggest_both_sides),
        units.force(cut.saw.pull_in())
    ));
    for caution in CAUTIONS {
        text.push_str(caution);
        text.push('\n');
    }
    text
}
