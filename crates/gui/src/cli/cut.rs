//! How a setup takes a log apart, in words, as JSON or as CSV.

use super::args::Cut as Asked;
use super::{CliError, figures::setup_named, sources, units_of};

use crate::desk::cautioned;
use crate::desk::format;
use crate::desk::format::Units;
use crate::desk::sources::Topic;
use crate::desk::words::cut::{POSE_IS_GEOMETRY, heading, help, left_words, sentences, trouble_words};
use crate::desk::words::limits::beyond_longest_bar;
use barpoise_core::geometry::Point;
use barpoise_core::log::{Cut, Kind, LogJob, Setting, Side, Step, Touches, clock_hour};
use barpoise_core::person::Stance;
use barpoise_core::units::Length;
use barpoise_core::{Setup, Yard, solve};
use serde::Serialize;

/// A cut for other programs, in SI units.
#[derive(Debug, Serialize)]
struct CutRow<'a> {
    setup: &'a str,
    person: String,
    diameter_m: f64,
    reach_m: f64,
    beyond_longest_bar: bool,
    whole: bool,
    doable: bool,
    covered_fraction: f64,
    left_area_m2: f64,
    proven_fewest: bool,
    relief_settings: usize,
    relief_depth_m: Option<f64>,
    settings: Vec<SettingRow>,
    help: Option<HelpRow>,
    biggest_one_side_by_reach_m: Option<f64>,
    biggest_both_sides_by_reach_m: Option<f64>,
    biggest_one_side_m: Option<f64>,
    biggest_both_sides_m: Option<f64>,
    pull_in_force_n: f64,
    cautions: Vec<&'static str>,
}

/// What would cut the rest.
#[derive(Debug, Serialize)]
struct HelpRow {
    other_side: bool,
    raise_to_m: Option<f64>,
    roll: bool,
    kneel: bool,
    longer_reach_m: Option<f64>,
}

/// One setting. Angles are those of the core: bark counter-clockwise from the far side, swings from straight in. Places are
/// in the section's frame, from the middle of the log, +x the far side, +y up.
#[derive(Clone, Debug, Serialize)]
struct SettingRow {
    side: &'static str,
    kind: &'static str,
    rises: bool,
    bark_rad: f64,
    clock: u32,
    swing_from_rad: f64,
    swing_to_rad: f64,
    lay_on_m: f64,
    run_off_m: f64,
    doable: bool,
    why_not: Option<String>,
    pose_at_start: Option<String>,
    pose_at_end: Option<String>,
    front_grip_x_m: Option<f64>,
    front_grip_y_m: Option<f64>,
    rear_grip_x_m: Option<f64>,
    rear_grip_y_m: Option<f64>,
    nose_out_max_m: f64,
    nose_buried_max_m: f64,
    nose_hidden_way_m: f64,
    hidden: bool,
    danger_touches_wood: bool,
    danger_touches_tangle: bool,
    carried_by: &'static str,
}

/// One setting on a line of its own, with what holds for the whole cut.
#[derive(Debug, Serialize)]
struct CsvRow<'a> {
    setup: &'a str,
    person: &'a str,
    diameter_m: f64,
    reach_m: f64,
    beyond_longest_bar: bool,
    whole: bool,
    doable_all: bool,
    covered_fraction: f64,
    left_area_m2: f64,
    proven_fewest: bool,
    relief_settings: usize,
    relief_depth_m: Option<f64>,
    biggest_one_side_by_reach_m: Option<f64>,
    biggest_both_sides_by_reach_m: Option<f64>,
    biggest_one_side_m: Option<f64>,
    biggest_both_sides_m: Option<f64>,
    pull_in_force_n: f64,
    setting: usize,
    side: &'static str,
    kind: &'static str,
    rises: bool,
    bark_rad: f64,
    clock: u32,
    swing_from_rad: f64,
    swing_to_rad: f64,
    lay_on_m: f64,
    run_off_m: f64,
    doable: bool,
    why_not: Option<String>,
    pose_at_start: Option<String>,
    pose_at_end: Option<String>,
    front_grip_x_m: Option<f64>,
    front_grip_y_m: Option<f64>,
    rear_grip_x_m: Option<f64>,
    rear_grip_y_m: Option<f64>,
    nose_out_max_m: f64,
    nose_buried_max_m: f64,
    nose_hidden_way_m: f64,
    hidden: bool,
    danger_touches_wood: bool,
    danger_touches_tangle: bool,
    carried_by: &'static str,
}

/// The cut that was asked for, in the form that was asked for.
pub(super) fn cut(yard: &Yard, asked: &Asked) -> Result<String, CliError> {
    let setup = setup_named(yard, &asked.setup)?;
    let solved = solve(setup);
    let log = asked.lying.log(asked.diameter)?;
    let job = log.job(yard.person()).map_err(|fault| CliError::Cut(fault.message))?;
    let cut = Cut::new(&job, None, setup, &solved).map_err(|fault| CliError::Cut(fault.message))?;
    // What would help is worked out by planning again: once, for the form that is asked for.
    let row = || row(setup, &job, asked.diameter, &cut);
    if asked.json {
        let text = serde_json::to_string_pretty(&row()).map_err(|error| CliError::Form(error.to_string()))?;
        Ok(text + "\n")
    } else if asked.csv {
        csv(&row())
    } else {
        Ok(words(setup, &job, asked, &cut))
    }
}

fn row<'a>(setup: &'a Setup, job: &LogJob, diameter: Length, cut: &Cut) -> CutRow<'a> {
    let held = cut.biggest_held(job);
    CutRow {
        setup: setup.name(),
        person: job.person().words(),
        diameter_m: diameter.as_m(),
        reach_m: cut.bar.reach().as_m(),
        beyond_longest_bar: setup.beyond_longest_bar().is_some(),
        whole: cut.is_whole(),
        doable: cut.is_doable(),
        covered_fraction: cut.cover.covered_fraction,
        left_area_m2: cut.cover.left_area_m2,
        proven_fewest: cut.proven_fewest,
        relief_settings: cut.relief,
        relief_depth_m: cut.relief_depth.map(Length::as_m),
        settings: cut
            .settings
            .iter()
            .zip(&cut.steps)
            .map(|(setting, step)| setting_row(setting, step))
            .collect(),
        help: cut.help(job).map(|help| HelpRow {
            other_side: help.other_side,
            raise_to_m: help.raise_to.map(Length::as_m),
            roll: help.roll,
            kneel: help.kneel,
            longer_reach_m: help.longer_reach.map(Length::as_m),
        }),
        biggest_one_side_by_reach_m: cut.biggest_one_side.map(Length::as_m),
        biggest_both_sides_by_reach_m: cut.biggest_both_sides.map(Length::as_m),
        biggest_one_side_m: held.one_side.map(Length::as_m),
        biggest_both_sides_m: held.both_sides.map(Length::as_m),
        pull_in_force_n: cut.saw.pull_in().as_n(),
        cautions: cautioned::cautions().collect(),
    }
}

fn setting_row(setting: &Setting, step: &Step) -> SettingRow {
    let stance = step.stance_at_start.as_ref();
    let grip = |hand: fn(&Stance) -> Point| stance.map(hand);
    let (front, rear) = (grip(|stance| stance.front_arm.hand), grip(|stance| stance.rear_arm.hand));
    let touches = |what| step.contacts.iter().any(|contact| contact.touches == what);
    SettingRow {
        side: if setting.side() == Side::Near { "near" } else { "far" },
        kind: if setting.kind() == Kind::Sink { "sink" } else { "pivot" },
        rises: setting.rises(),
        bark_rad: setting.bark().as_rad(),
        clock: clock_hour(setting.bark()),
        swing_from_rad: setting.from().as_rad(),
        swing_to_rad: setting.to().as_rad(),
        lay_on_m: setting.lay_on().as_m(),
        run_off_m: setting.run_off().as_m(),
        doable: step.is_doable(),
        why_not: trouble_words(Units::default(), step),
        pose_at_start: stance.map(Stance::words),
        pose_at_end: step.stance_at_end.as_ref().map(Stance::words),
        front_grip_x_m: front.map(|at| at.x),
        front_grip_y_m: front.map(|at| at.y),
        rear_grip_x_m: rear.map(|at| at.x),
        rear_grip_y_m: rear.map(|at| at.y),
        nose_out_max_m: step.nose.out_max_m,
        nose_buried_max_m: step.nose.buried_max_m,
        nose_hidden_way_m: step.nose.hidden_travel_m,
        hidden: step.nose.is_hidden(),
        danger_touches_wood: touches(Touches::UncutWood),
        danger_touches_tangle: touches(Touches::Tangle),
        carried_by: if setting.rises() { "hands" } else { "log" },
    }
}

fn csv(row: &CutRow<'_>) -> Result<String, CliError> {
    let lines = row.settings.iter().cloned().enumerate().map(|(index, setting)| CsvRow {
        setup: row.setup,
        person: &row.person,
        diameter_m: row.diameter_m,
        reach_m: row.reach_m,
        beyond_longest_bar: row.beyond_longest_bar,
        whole: row.whole,
        doable_all: row.doable,
        covered_fraction: row.covered_fraction,
        left_area_m2: row.left_area_m2,
        proven_fewest: row.proven_fewest,
        relief_settings: row.relief_settings,
        relief_depth_m: row.relief_depth_m,
        biggest_one_side_by_reach_m: row.biggest_one_side_by_reach_m,
        biggest_both_sides_by_reach_m: row.biggest_both_sides_by_reach_m,
        biggest_one_side_m: row.biggest_one_side_m,
        biggest_both_sides_m: row.biggest_both_sides_m,
        pull_in_force_n: row.pull_in_force_n,
        setting: index + 1,
        side: setting.side,
        kind: setting.kind,
        rises: setting.rises,
        bark_rad: setting.bark_rad,
        clock: setting.clock,
        swing_from_rad: setting.swing_from_rad,
        swing_to_rad: setting.swing_to_rad,
        lay_on_m: setting.lay_on_m,
        run_off_m: setting.run_off_m,
        doable: setting.doable,
        why_not: setting.why_not,
        pose_at_start: setting.pose_at_start,
        pose_at_end: setting.pose_at_end,
        front_grip_x_m: setting.front_grip_x_m,
        front_grip_y_m: setting.front_grip_y_m,
        rear_grip_x_m: setting.rear_grip_x_m,
        rear_grip_y_m: setting.rear_grip_y_m,
        nose_out_max_m: setting.nose_out_max_m,
        nose_buried_max_m: setting.nose_buried_max_m,
        nose_hidden_way_m: setting.nose_hidden_way_m,
        hidden: setting.hidden,
        danger_touches_wood: setting.danger_touches_wood,
        danger_touches_tangle: setting.danger_touches_tangle,
        carried_by: setting.carried_by,
    });
    cautioned::csv(lines).map_err(CliError::Form)
}

fn words(setup: &Setup, job: &LogJob, asked: &Asked, cut: &Cut) -> String {
    let units = units_of(asked.units);
    let share = format::share_of_section(cut.cover.covered_fraction);
    let count = cut.settings.len();
    let noun = if count == 1 { "setting" } else { "settings" };
    let proven = if cut.is_whole() && !cut.proven_fewest { ", not proven to be the fewest" } else { "" };
    let mut text = format!(
        "{}, reach past spikes {}, log {}\nIn the hands of {}\n{count} {noun}, {share} of the section{proven}\n",
        setup.name(),
        units.length(cut.bar.reach()),
        units.length(asked.diameter),
        job.person().words(),
    );
    if let Some(beyond) = beyond_longest_bar(setup.beyond_longest_bar()) {
        text.push_str(&format!("{}: {beyond}\n", setup.name()));
    }
    for (index, setting) in cut.settings.iter().enumerate() {
        text.push_str(&format!("\n{}. {}\n", index + 1, heading(job, setting)));
        for sentence in sentences(job, units, cut, index) {
            text.push_str(&format!("   {}\n", sentence.text));
        }
    }
    let rest = left_words(cut).into_iter().chain(cut.help(job).map(|found| help(&found, units)));
    for line in rest.chain([POSE_IS_GEOMETRY.to_owned()]) {
        text.push_str(&format!("\n{line}\n"));
    }
    let biggest =
        |length: Option<Length>| length.map_or_else(|| "none".to_owned(), |length| units.length(length));
    let held = cut.biggest_held(job);
    text.push_str(&format!(
        "\nThe biggest log for this person, lying so, from one side {}, from both sides {}\n\
         By reach alone {} and {}\nPull-in at full power at most {}\n\n{}\n{}",
        biggest(held.one_side),
        biggest(held.both_sides),
        biggest(cut.biggest_one_side),
        biggest(cut.biggest_both_sides),
        units.force(cut.saw.pull_in()),
        sources::lines(units, &[Topic::Cut, Topic::Pose, Topic::Hold]),
        cautioned::lines()
    ));
    text
}
