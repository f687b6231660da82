//! Figures of setups for other programs, as JSON or CSV. Each name ends in its SI unit.

use crate::desk::cautioned::{self, Cautioned};
use barpoise_core::Solved;
use barpoise_core::person::{Person, held_level};
use serde::Serialize;
use std::path::Path;

/// One setup's figures; `None` where a figure does not exist.
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
    /// What ends holding the saw level; none where nothing known does.
    level_hold_ends: Option<&'static str>,
    /// Of the person's strength there.
    level_hold_share: Option<f64>,
    /// How long on average; none beyond the strength.
    level_hold_s: Option<f64>,
    /// Half of people let go between these.
    level_hold_half_from_s: Option<f64>,
    level_hold_half_to_s: Option<f64>,
    /// Marked longer than the head is meant for: out, unless it is lifted knowingly.
    beyond_longest_bar: bool,
}

impl<'a> Row<'a> {
    fn new(solved: &'a Solved, person: &Person) -> Self {
        let hands = solved.hands.ok();
        let ends = held_level(person, solved).ok().and_then(|level| level.cost.ends_first());
        let lasts = ends.and_then(|(_, holding)| holding.time.lasts());
        let half = lasts.and_then(|lasts| lasts.half);
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
            level_hold_ends: ends.map(|(place, _)| place.words()),
            level_hold_share: ends.map(|(_, holding)| holding.share),
            level_hold_s: lasts.map(|lasts| lasts.seconds),
            level_hold_half_from_s: half.map(|(from, _)| from),
            level_hold_half_to_s: half.map(|(_, to)| to),
            beyond_longest_bar: solved.beyond_longest_bar.is_some(),
        }
    }
}

/// The form of a table's file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TableForm {
    /// For programs that read JSON.
    Json,
    /// For spreadsheets.
    Csv,
}

impl TableForm {
    /// The form that a file's name asks for by its ending.
    ///
    /// # Errors
    /// One line that names the endings there are.
    pub fn of(path: &Path) -> Result<Self, String> {
        const ENDINGS: &str = "a table's file ends in .csv or .json";
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        match ending.as_deref() {
            Some("json") => Ok(Self::Json),
            Some("csv") => Ok(Self::Csv),
            Some(other) => Err(format!("{}: no form goes by .{other}; {ENDINGS}", path.display())),
            None => Err(format!("{}: the name says no form; {ENDINGS}", path.display())),
        }
    }

    /// The figures in this form, held level by a person.
    ///
    /// # Errors
    /// Where the writer fails.
    pub fn text(self, solved: &[Solved], person: &Person) -> Result<String, String> {
        match self {
            Self::Json => {
                let rows: Vec<_> =
                    solved.iter().map(|solved| Cautioned::new(Row::new(solved, person))).collect();
                let text = serde_json::to_string_pretty(&rows).map_err(|error| error.to_string())?;
                Ok(text + "\n")
            }
            Self::Csv => cautioned::csv(solved.iter().map(|solved| Row::new(solved, person))),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ending_says_the_form() {
        assert_eq!(TableForm::of(Path::new("a.CSV")), Ok(TableForm::Csv));
        assert_eq!(TableForm::of(Path::new("a.b.json")), Ok(TableForm::Json));
        for name in ["a.xlsx", "csv"] {
            assert!(TableForm::of(Path::new(name)).unwrap_err().ends_with("ends in .csv or .json"), "{name}");
        }
    }
}
