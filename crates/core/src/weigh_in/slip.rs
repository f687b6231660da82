//! A reading that is far off: which slip of the pen would explain it.

use super::fit::{expected_of, placed};
use super::knowledge::Knowledge;
use crate::units::{Length, Mass};
use crate::yard::{Measured, SawMeasure, Yard};

/// A reading is far off beyond this many standard deviations of what is expected.
const FAR_OFF: f64 = 4.0;
/// A slip explains it where the mended value is at most this many off, and much nearer than what was typed.
const EXPLAINED: f64 = 6.0;
const MUCH_NEARER: f64 = 4.0;
/// A value outside its allowed range was certainly a slip: there a mended value may be this many off, for one's own
/// saw need not be as the yard has it.
const EXPLAINED_IMPOSSIBLE: f64 = 10.0;

/// What may have gone wrong with a value; the mended value is SI, weights in kg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Slip {
    /// The decimal point stands one place off.
    DecimalPoint(f64),
    /// Pounds were typed as kilograms.
    Pounds(f64),
    /// Kilograms were typed as pounds.
    Kilograms(f64),
    /// Inches were typed as millimetres.
    Inches(f64),
    /// The two ways of counting were mixed up: nose up and nose down, ahead of the spikes and behind them.
    Sign(f64),
    /// Far off, and no common slip explains it.
    Unexplained,
}

impl Slip {
    /// Looks at a value as it was typed, before or after its range is checked. `None` where it is not far off or
    /// nothing is known to compare it with.
    pub fn of(yard: &Yard, measured: &Measured, value: f64, uncertainty: f64) -> Option<Self> {
        let (expected, own) = Knowledge::expected(yard, measured)?;
        let scatter = uncertainty.hypot(own);
        let off = |value: f64| (value - expected).abs() / scatter;
        if off(value) <= FAR_OFF {
            return None;
        }
        let kg_per_lb = Mass::from_lb(1.0).as_kg();
        let mut mended = vec![Self::DecimalPoint(value / 10.0), Self::DecimalPoint(value * 10.0)];
        match measured {
            Measured::Saw { measure: SawMeasure::Hang, .. } => mended.push(Self::Sign(-value)),
            Measured::Saw { measure: measure @ (SawMeasure::BalancePoint | SawMeasure::Reach), .. } => {
                mended.push(Self::Inches(value * 1e3 * Length::from_in(1.0).as_m()));
                if *measure == SawMeasure::BalancePoint {
                    mended.push(Self::Sign(-value));
                }
            }
            Measured::Saw { measure: SawMeasure::SwingPeriod, .. } => {}
            _ => mended.extend([Self::Pounds(value * kg_per_lb), Self::Kilograms(value / kg_per_lb)]),
        }
        let holds = |value: f64| measured.range().holds(value / measured.si_per_file_unit());
        let most = if holds(value) { EXPLAINED } else { EXPLAINED_IMPOSSIBLE };
        let best = mended
            .into_iter()
            .filter_map(|slip| Some((slip, slip.mended().filter(|mended| holds(*mended))?)))
            .map(|(slip, mended)| (slip, off(mended)))
            .filter(|(_, mended)| *mended <= most && *mended * MUCH_NEARER <= off(value))
            .min_by(|(_, a), (_, b)| a.total_cmp(b));
        Some(best.map_or(Self::Unexplained, |(slip, _)| slip))
    }

    /// The value that was probably meant, SI.
    pub const fn mended(self) -> Option<f64> {
        match self {
            Self::DecimalPoint(value)
            | Self::Pounds(value)
            | Self::Kilograms(value)
            | Self::Inches(value)
            | Self::Sign(value) => Some(value),
            Self::Unexplained => None,
        }
    }
}

impl Knowledge {
    /// What a measure is expected to be in this yard and the standard uncertainty of that, SI.
    pub fn expected(yard: &Yard, measured: &Measured) -> Option<(f64, f64)> {
        let knowledge = Self::of_unknowns(yard, measured.unknowns());
        let (value, slopes) = expected_of(measured, &placed(knowledge.unknowns()), knowledge.values())?;
        Some((value, knowledge.uncertainty_along(&slopes)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;

    #[test]
    fn a_value_that_cannot_be_is_mended_even_to_a_saw_unlike_the_yards() {
        let yard = demo().unwrap();
        let setup = Box::new(yard.setup("Bittern B24").unwrap().clone());
        let measured = Measured::Saw { setup, measure: SawMeasure::Total };
        // The demo's saw weighs 9.17 kg: 7.6 kg is seven standard deviations off, but 76 kg is none at all.
        assert_eq!(Slip::of(&yard, &measured, 76.0, 0.05), Some(Slip::DecimalPoint(7.6)));
        assert_eq!(Slip::of(&yard, &measured, 7.6, 0.05), Some(Slip::Unexplained));
        assert_eq!(Slip::of(&yard, &measured, 9.0, 0.05), None);
        assert_eq!(Slip::of(&yard, &measured, 500.0, 0.05), Some(Slip::Unexplained));
    }
}
