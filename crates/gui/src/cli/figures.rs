//! The figures of a yard's setups, as JSON, CSV or a table.

use super::args::Figures;
use super::{CliError, table};
use barpoise_core::{Setup, Solved, Yard, solve};
use serde::Serialize;

/// One setup's figures for other programs. Each name ends in its SI unit; `None` where a figure does not exist.
#[derive(Debug, Serialize)]
struct Row<'a> {
    setup: &'a str,
    ready_mass_kg: f64,
    centroid_x_m: f64,
    centroid_y_m: f64,
    /// About the centroid.
    inertia_kg_m2: f64,
    /// Nose down positive.
    hang_rad: Option<f64>,
    front_hand_n: Option<f64>,
    rear_hand_n: Option<f64>,
    front_hand_ratio: Option<f64>,
    nose_moment_n_m: f64,
    swing_inertia_kg_m2: f64,
    reach_m: f64,
    nose_tip_x_m: f64,
    drive_links: Option<u32>,
    loop_length_m: f64,
    centre_distance_m: f64,
    bar_mass_kg: f64,
    chain_mass_kg: f64,
    fluids_mass_kg: f64,
}

impl<'a> Row<'a> {
    fn new(solved: &'a Solved) -> Self {
        let hands = solved.hands.ok();
        Self {
            setup: &solved.setup,
            ready_mass_kg: solved.ready_mass().as_kg(),
            centroid_x_m: solved.saw.centroid.x,
            centroid_y_m: solved.saw.centroid.y,
            inertia_kg_m2: solved.saw.inertia_kg_m2,
            hang_rad: solved.hang.ok().map(|hang| hang.as_rad()),
            front_hand_n: hands.map(|hands| hands.front.as_n()),
            rear_hand_n: hands.map(|hands| hands.rear.as_n()),
            front_hand_ratio: solved.front_hand_ratio().ok(),
            nose_moment_n_m: solved.nose_moment.as_n_m(),
            swing_inertia_kg_m2: solved.swing_inertia.as_kg_m2(),
            reach_m: solved.reach.as_m(),
            nose_tip_x_m: solved.nose.tip_x().as_m(),
            drive_links: solved.links.order(),
            loop_length_m: solved.loop_length.as_m(),
            centre_distance_m: solved.centre_distance.as_m(),
            bar_mass_kg: solved.masses.bar.as_kg(),
            chain_mass_kg: solved.masses.chain.as_kg(),
            fluids_mass_kg: solved.masses.fluids().as_kg(),
        }
    }
}

/// The figures that were asked for, in the form that was asked for.
pub(super) fn figures(yard: &Yard, asked: &Figures) -> Result<String, CliError> {
    let solved = chosen(yard, asked.setup.as_deref())?;
    if asked.json {
        json(&solved)
    } else if asked.csv {
        csv(&solved)
    } else {
        Ok(table::table(yard.name(), &solved, asked.units))
    }
}

fn chosen(yard: &Yard, name: Option<&str>) -> Result<Vec<Solved>, CliError> {
    let Some(name) = name else {
        return Ok(yard.setups().iter().map(solve).collect());
    };
    setup_named(yard, name).map(|setup| vec![solve(setup)])
}

/// The setup of this name, or an error that names those there are.
pub(super) fn setup_named<'a>(yard: &'a Yard, name: &str) -> Result<&'a Setup, CliError> {
    yard.setup(name).ok_or_else(|| CliError::UnknownSetup {
        name: name.to_owned(),
        yard: yard.name().to_owned(),
        known: yard.setups().iter().map(|setup| setup.name().to_owned()).collect(),
    })
}

fn json(solved: &[Solved]) -> Result<String, CliError> {
    let rows: Vec<Row> = solved.iter().map(Row::new).collect();
    let text = serde_json::to_string_pretty(&rows).map_err(|error| CliError::Form(error.to_string()))?;
    Ok(text + "\n")
}

fn csv(solved: &[Solved]) -> Result<String, CliError> {
    let form = |error: &dyn std::fmt::Display| CliError::Form(error.to_string());
    let mut writer = csv::Writer::from_writer(Vec::new());
    for solved in solved {
        writer.serialize(Row::new(solved)).map_err(|error| form(&error))?;
    }
    let bytes = writer.into_inner().map_err(|error| form(&error))?;
    String::from_utf8(bytes).map_err(|error| form(&error))
}
