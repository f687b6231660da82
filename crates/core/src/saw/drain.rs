//! How the figures move as the tanks empty.

use super::parts::{Setup, SetupError};
use super::solve::{Solved, solve};
use crate::mark::Mark;

/// Oil used for each volume of fuel: 81 mL to 202 mL.
pub const OIL_PER_FUEL: f64 = 0.4;
/// Where that comes from.
pub const OIL_PER_FUEL_MARK: Mark = Mark::Published("Sustainability 2023, 15(3):2795");

/// One moment of a tank's work.
#[derive(Clone, Debug, PartialEq)]
pub struct DrainPoint {
    /// Fuel, 0 empty to 1 full.
    pub fuel_fill: f64,
    /// Bar oil, 0 empty to 1 full.
    pub oil_fill: f64,
    /// The figures then.
    pub solved: Solved,
}

/// The path from a setup's fills until the fuel is gone, in `steps` even steps of fuel. Oil goes at
/// `oil_per_fuel` (volume of oil for each volume of fuel) and stops at empty.
///
/// # Errors
/// [`SetupError`] only if a fill leaves 0…1, which a finite ratio of zero or more never does.
pub fn drain_down(setup: &Setup, oil_per_fuel: f64, steps: u32) -> Result<Vec<DrainPoint>, SetupError> {
    let head = setup.powerhead();
    let oil_drop_per_fuel_fill = oil_per_fuel * (head.fuel_tank().capacity() / head.oil_tank().capacity());
    (0..=steps)
        .map(|step| {
            let left = 1.0 - f64::from(step) / f64::from(steps.max(1));
            let fuel_fill = setup.fuel_fill() * left;
            let used = setup.fuel_fill() - fuel_fill;
            let oil_left = setup.oil_fill() - used * oil_drop_per_fuel_fill;
            // Not `max`, which would make an empty tank of NaN.
            let oil_fill = if oil_left < 0.0 { 0.0 } else { oil_left };
            let solved = solve(&setup.with_fills(fuel_fill, oil_fill)?);
            Ok(DrainPoint { fuel_fill, oil_fill, solved })
        })
        .collect()
}
