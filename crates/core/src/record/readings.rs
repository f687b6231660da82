//! Readings and what was learnt from them, as they stand in a yard file.

use super::quantity::Quantity;
use super::yard::is_default;
use serde::{Deserialize, Serialize};

/// One reading.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReadingFile {
    /// What was measured, with its standard uncertainty.
    pub measured: MeasuredFile,
    /// Name of the setup it was measured on; left out for a bar or a loop alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub setup: Option<String>,
    /// Fuel, 0 empty to 1 full, where it was not the setup's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fuel_fill: Option<f64>,
    /// Bar oil, 0 empty to 1 full, where it was not the setup's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub oil_fill: Option<f64>,
    /// Free text.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Kept but not used.
    #[serde(default, skip_serializing_if = "is_default")]
    pub left_out: bool,
}

impl ReadingFile {
    /// A reading at the levels of its setup, in use, without a note; of a bar or a loop alone where no setup is named.
    pub const fn new(measured: MeasuredFile, setup: Option<String>) -> Self {
        Self { measured, setup, fuel_fill: None, oil_fill: None, note: String::new(), left_out: false }
    }
}

/// What a reading measures, and how surely. Weights are what a scale shows.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum MeasuredFile {
    /// The saw as it stands, on one scale.
    Total {
        /// Weight.
        weight_kg: f64,
        /// Standard uncertainty.
        uncertainty_kg: f64,
    },
    /// The scale lifts the front grip, the rear grip rests on a support.
    FrontGrip {
        /// Weight.
        weight_kg: f64,
        /// Standard uncertainty.
        uncertainty_kg: f64,
        /// Angle at which the saw is held, nose up positive; 0 level.
        #[serde(default, skip_serializing_if = "is_default")]
        nose_up_deg: f64,
    },
    /// The scale lifts the rear grip, the front grip rests on a support.
    RearGrip {
        /// Weight.
        weight_kg: f64,
        /// Standard uncertainty.
        uncertainty_kg: f64,
        /// Angle at which the saw is held, nose up positive; 0 level.
        #[serde(default, skip_serializing_if = "is_default")]
        nose_up_deg: f64,
    },
    /// Hang angle from the front grip.
    Hang {
        /// Angle, nose down positive.
        nose_down_deg: f64,
        /// Standard uncertainty.
        uncertainty_deg: f64,
    },
    /// Where the saw balances level on an edge.
    BalancePoint {
        /// From the spike line, towards the nose positive.
        past_spikes_mm: f64,
        /// Standard uncertainty.
        uncertainty_mm: f64,
    },
    /// Reach from the spike line to the cutters at the nose.
    Reach {
        /// Length.
        past_spikes_mm: f64,
        /// Standard uncertainty.
        uncertainty_mm: f64,
    },
    /// Period of a small swing, there and back, hung from the front grip.
    SwingPeriod {
        /// Period.
        period_s: f64,
        /// Standard uncertainty.
        uncertainty_s: f64,
    },
    /// A bar by itself.
    Bar {
        /// Name of the bar.
        bar: String,
        /// Weight.
        weight_kg: f64,
        /// Standard uncertainty.
        uncertainty_kg: f64,
    },
    /// A loop of chain by itself.
    Loop {
        /// Name of the chain.
        chain: String,
        /// Drive links.
        drive_links: u32,
        /// Weight.
        weight_kg: f64,
        /// Standard uncertainty.
        uncertainty_kg: f64,
    },
}

/// What one weigh-in taught.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WeighInFile {
    /// The day, such as 2026-11-25.
    pub date: String,
    /// The values were put back since.
    #[serde(default, skip_serializing_if = "is_default")]
    pub put_back: bool,
    /// What was learnt.
    pub learnt: Vec<LearntFile>,
    /// Correlations of those values, below the diagonal of their matrix, row by row: second with first, third with
    /// first, third with second, and so on.
    pub correlations: Vec<f64>,
}

/// One learnt number, in the unit of its name.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LearntFile {
    /// Which number.
    pub what: Quantity,
    /// Name of the powerhead, bar or chain.
    pub of: String,
    /// What stood in the yard before; left out for a bar that had no mass of its own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub before: Option<f64>,
    /// What was known without any reading.
    pub prior: f64,
    /// Its standard uncertainty.
    pub prior_uncertainty: f64,
    /// What the readings made of it.
    pub value: f64,
    /// Its standard uncertainty.
    pub uncertainty: f64,
}
