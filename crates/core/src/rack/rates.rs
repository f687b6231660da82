//! What the work takes beside the wood: what setting costs, and what becomes of cuts that a saw cannot do.

use crate::log::{DEFAULT_KERF, PhaseTimes};
use crate::mark::Mark;
use crate::saw::DRIVE_EFFICIENCY;
use crate::units::Length;

/// How a cut is done that a saw does not do from where the sawyer may stand.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub enum Otherwise {
    /// The same saw, after a walk round to the other side; what does not go from both sides is left lying.
    #[default]
    OtherSide,
    /// Another saw of the yard, by its name, after a walk to fetch it; what it does not do either is left lying.
    OtherSaw(String),
    /// It is left lying, for another day and other means.
    LeftLying,
}

/// What the work takes beside the wood itself. Numbers are *our guess* ([`RATES_MARK`]), and the
/// person's to change.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkRates {
    /// Width of the kerf.
    pub kerf: Length,
    /// Share of the engine's power that arrives at the chain.
    pub drive_efficiency: f64,
    /// Times to touch down, slide off and pull back.
    pub times: PhaseTimes,
    /// Fuel for the work of the engine at full power, g/kWh.
    pub fuel_g_per_kwh: f64,
    /// Fuel while the saw idles from setting to setting, mL/min.
    pub idle_ml_per_min: f64,
    /// What becomes of cuts that are not done.
    pub otherwise: Otherwise,
    /// To walk round to the other side and back, s.
    pub walk_round_s: f64,
    /// To fetch another saw and bring it back, s.
    pub fetch_s: f64,
    /// What a cut that is left lying costs later on, s.
    pub left_lying_s: f64,
    /// To change the bar and the chain of one head, s.
    pub swap_bar_s: f64,
    /// How often in 100 cuts bars are changed where two of them share a head: the wood comes in lots.
    pub swaps_per_100: f64,
    /// Work in a day with the saw in the hands or between two cuts, s.
    pub day_s: f64,
}

/// Where the rates come from until they are changed.
pub const RATES_MARK: Mark = Mark::OurGuess;

const MINUTE_S: f64 = 60.0;

impl WorkRates {
    /// The rates until they are changed.
    pub const COMMON: Self = Self {
        kerf: DEFAULT_KERF,
        drive_efficiency: DRIVE_EFFICIENCY,
        times: PhaseTimes::COMMON,
        fuel_g_per_kwh: 450.0,
        idle_ml_per_min: 5.0,
        otherwise: Otherwise::OtherSide,
        walk_round_s: 2.0 * MINUTE_S,
        fetch_s: 3.0 * MINUTE_S,
        left_lying_s: 10.0 * MINUTE_S,
        swap_bar_s: 5.0 * MINUTE_S,
        swaps_per_100: 10.0,
        day_s: 240.0 * MINUTE_S,
    };
}

impl Default for WorkRates {
    fn default() -> Self {
        Self::COMMON
    }
}
