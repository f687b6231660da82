//! The figures of a yard's setups, as JSON, CSV or a table.

use super::args::Figures;
use super::{CliError, table};
use crate::desk::figures_table::TableForm;
use barpoise_core::{Setup, Solved, Yard, solve};

/// The figures that were asked for, in the form that was asked for.
pub(super) fn figures(yard: &Yard, asked: &Figures) -> Result<String, CliError> {
    let solved = chosen(yard, asked.setup.as_deref())?;
    let person = yard.person();
    if asked.json {
        TableForm::Json.text(&solved, person).map_err(CliError::Form)
    } else if asked.csv {
        TableForm::Csv.text(&solved, person).map_err(CliError::Form)
    } else {
        Ok(table::table(yard.name(), &solved, person, asked.units))
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
