//! Values with their standard uncertainty: as many decimals as that is worth.

use super::{Units, number, signed};
use barpoise_core::units::{Angle, Force, Length, Mass};

impl Units {
    /// `9.05 ± 0.05 kg`: a mass with its standard uncertainty.
    pub fn mass_with(self, mass: Mass, uncertainty: Mass) -> String {
        let (value, uncertainty) = (self.mass_value(mass), self.mass_value(uncertainty));
        format!("{} {}", number_with(value, uncertainty), self.mass_unit())
    }

    /// `498 ± 4 mm`.
    pub fn length_with(self, length: Length, uncertainty: Length) -> String {
        let (value, uncertainty) = (self.length_value(length), self.length_value(uncertainty));
        format!("{} {}", number_with(value, uncertainty), self.length_unit())
    }

    /// `105 ± 2 N`.
    pub fn force_with(self, force: Force, uncertainty: Force) -> String {
        let (value, uncertainty) = (self.force_value(force), self.force_value(uncertainty));
        format!("{} {}", number_with(value, uncertainty), self.force_unit())
    }
}

/// Decimals for a value of this standard uncertainty: two digits of it where it begins with 1 or 2, else one
/// (JCGM 100:2008, 7.2.6 has at most two digits as a rule).
pub(super) fn decimals_of(uncertainty: f64) -> usize {
    const MOST: i32 = 6;
    if !uncertainty.is_finite() || uncertainty <= 0.0 {
        return 2;
    }
    #[expect(clippy::cast_possible_truncation, reason = "a logarithm of a float is small")]
    let magnitude = uncertainty.log10().floor() as i32;
    let leading = uncertainty / 10_f64.powi(magnitude);
    // What the rounding makes of it counts: 0.299 is written 0.3, and 0.098 is written 0.10.
    let digits = i32::from(!(2.95..9.5).contains(&leading));
    let magnitude = if leading >= 9.5 { magnitude + 1 } else { magnitude };
    usize::try_from((digits - magnitude).clamp(0, MOST)).unwrap_or(0)
}

/// `20.4 ± 0.7`: as many decimals as the standard uncertainty is worth.
pub(super) fn number_with(value: f64, uncertainty: f64) -> String {
    let decimals = decimals_of(uncertainty);
    format!("{} ± {}", number(value, decimals), number(uncertainty, decimals))
}

/// `20.4 ± 0.7°`: an angle with its standard uncertainty.
pub fn angle_with(angle: Angle, uncertainty: Angle) -> String {
    format!("{}°", number_with(angle.as_deg(), uncertainty.as_deg()))
}

/// `20.4 ± 0.7° nose down`.
pub fn hang_with(hang: Angle, uncertainty: Angle) -> String {
    let side = if hang < Angle::ZERO { "nose up" } else { "nose down" };
    format!("{} {side}", angle_with(hang.abs(), uncertainty))
}

/// `0.7°`: a standard uncertainty of an angle by itself.
pub fn uncertainty_of_angle(uncertainty: Angle) -> String {
    let degrees = uncertainty.as_deg();
    format!("{}°", number(degrees, decimals_of(degrees)))
}

/// `1.42 ± 0.02 s`.
pub fn seconds_with(seconds: f64, uncertainty: f64) -> String {
    format!("{} s", number_with(seconds, uncertainty))
}

/// `5.2 ± 0.2 g`, whatever the units: mass for each drive link.
pub fn grams_with(mass: Mass, uncertainty: Mass) -> String {
    format!("{} g", number_with(mass.as_g(), uncertainty.as_g()))
}

/// `+1.2`: standard deviations with their sign.
pub fn signed_deviations(times: f64) -> String {
    signed(times, 1)
}

/// `3.4`: how many standard deviations.
pub fn times_of_deviation(times: f64) -> String {
    number(times, 1)
}
