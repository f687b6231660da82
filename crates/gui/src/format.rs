//! The only place where a number becomes text.

use barpoise_core::Hands;
use barpoise_core::units::{Angle, Force, Inertia, Length, Mass, Speed, Torque};

const INCHES_PER_FOOT: f64 = 12.0;

/// How lengths are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum LengthUnit {
    /// Millimetres.
    #[default]
    Mm,
    /// Inches.
    In,
}

/// How masses are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum MassUnit {
    /// Kilograms.
    #[default]
    Kg,
    /// Pounds.
    Lb,
}

/// How forces are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum ForceUnit {
    /// Newtons.
    #[default]
    N,
    /// Kilograms force: what a luggage scale shows.
    Kgf,
    /// Pounds force.
    Lbf,
}

/// The person's choice of units.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct Units {
    /// Lengths.
    pub length: LengthUnit,
    /// Masses.
    pub mass: MassUnit,
    /// Forces.
    pub force: ForceUnit,
}

/// What kind of value a number is, for values that come with an uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dimension {
    /// In kilograms or pounds.
    Mass,
    /// In grams, whatever the units: the mass of one drive link.
    LinkMass,
    /// In millimetres or inches.
    Length,
    /// In degrees.
    Angle,
    /// In seconds.
    Time,
    /// In newtons, kilograms force or pounds force.
    Force,
    /// In N·m or lbf·ft.
    Torque,
    /// In kg·m² or lb·ft².
    Inertia,
}

/// A number as other programs read it; what rounds to nothing has no sign.
pub fn plain(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(digits) if digits.chars().all(|c| matches!(c, '0' | '.')) => digits.to_owned(),
        _ => text,
    }
}

/// A number as people read it: with a real minus.
fn number(value: f64, decimals: usize) -> String {
    plain(value, decimals).replace('-', "−")
}

fn signed(value: f64, decimals: usize) -> String {
    let text = number(value, decimals);
    if text.starts_with('−') || value == 0.0 { text } else { format!("+{text}") }
}

impl Units {
    /// The unit in which values of a kind are shown, its SI value, and the decimals where nothing is known of how
    /// sure a value is.
    fn shown(self, dimension: Dimension) -> (&'static str, f64, usize) {
        let pounds = self.mass == MassUnit::Lb;
        match dimension {
            Dimension::Mass if pounds => ("lb", Mass::from_lb(1.0).as_kg(), 1),
            Dimension::Mass => ("kg", 1.0, 2),
            Dimension::LinkMass => ("g", Mass::from_g(1.0).as_kg(), 2),
            Dimension::Length if self.length == LengthUnit::In => ("in", Length::from_in(1.0).as_m(), 1),
            Dimension::Length => ("mm", Length::from_mm(1.0).as_m(), 0),
            Dimension::Angle => ("°", Angle::from_deg(1.0).as_rad(), 1),
            Dimension::Time => ("s", 1.0, 2),
            Dimension::Force => {
                let newtons = match self.force {
                    ForceUnit::N => 1.0,
                    ForceUnit::Kgf => Force::from_kgf(1.0).as_n(),
                    ForceUnit::Lbf => Force::from_lbf(1.0).as_n(),
                };
                (self.force_unit(), newtons, self.force_decimals())
            }
            Dimension::Torque if self.force == ForceUnit::Lbf => {
                ("lbf·ft", Torque::from_lbf_ft(1.0).as_n_m(), 1)
            }
            Dimension::Torque => ("N·m", 1.0, 1),
            Dimension::Inertia if pounds => ("lb·ft²", Inertia::from_lb_ft2(1.0).as_kg_m2(), 1),
            Dimension::Inertia => ("kg·m²", 1.0, 2),
        }
    }

    /// `20.4 ± 0.7°`: an SI value and its standard uncertainty, in decimals that follow the uncertainty.
    pub fn known(self, dimension: Dimension, value: f64, uncertainty: f64) -> String {
        let (unit, si, fallback) = self.shown(dimension);
        let decimals = decimals_or(uncertainty / si, fallback);
        let text = format!("{} ± {}", number(value / si, decimals), number(uncertainty / si, decimals));
        with_unit(&text, unit)
    }

    /// `20.4°`: the value alone, in the decimals that go with its uncertainty.
    pub fn known_value(self, dimension: Dimension, value: f64, uncertainty: f64) -> String {
        let (unit, si, fallback) = self.shown(dimension);
        with_unit(&number(value / si, decimals_or(uncertainty / si, fallback)), unit)
    }

    /// The unit's name.
    pub fn unit_name(self, dimension: Dimension) -> &'static str {
        self.shown(dimension).0
    }

    /// An SI value in the shown unit, for an axis.
    pub fn axis_value(self, dimension: Dimension, value: f64) -> f64 {
        value / self.shown(dimension).1
    }

    /// `109 ± 2 N up`.
    pub fn known_hand(self, load: Force, uncertainty: Force) -> String {
        let way = if load < Force::ZERO { "down" } else { "up" };
        format!("{} {way}", self.known(Dimension::Force, load.abs().as_n(), uncertainty.as_n()))
    }

    /// `566 mm` or `22.3 in`.
    pub fn length(self, length: Length) -> String {
        format!("{} {}", self.length_number(length), self.length_unit())
    }

    /// The same with its sign.
    pub fn length_change(self, length: Length) -> String {
        match self.length {
            LengthUnit::Mm => format!("{} mm", signed(length.as_mm(), 0)),
            LengthUnit::In => format!("{} in", signed(length.as_in(), 1)),
        }
    }

    /// `12.4 m` or `40.7 ft`: a way of many cuts.
    pub fn way(self, length: Length) -> String {
        format!("{} {}", number(self.way_value(length), 1), self.way_unit())
    }

    /// `m` or `ft`.
    pub const fn way_unit(self) -> &'static str {
        match self.length {
            LengthUnit::Mm => "m",
            LengthUnit::In => "ft",
        }
    }

    /// The way in the shown unit, for an axis.
    pub const fn way_value(self, length: Length) -> f64 {
        match self.length {
            LengthUnit::Mm => length.as_m(),
            LengthUnit::In => length.as_in() / INCHES_PER_FOOT,
        }
    }

    /// A way from a value in the shown unit.
    pub fn way_from(self) -> fn(f64) -> Length {
        match self.length {
            LengthUnit::Mm => Length::from_m,
            LengthUnit::In => |feet| Length::from_in(feet * INCHES_PER_FOOT),
        }
    }

    /// The number alone, for a field that names its unit elsewhere.
    pub fn length_number(self, length: Length) -> String {
        match self.length {
            LengthUnit::Mm => number(length.as_mm(), 0),
            LengthUnit::In => number(length.as_in(), 1),
        }
    }

    /// The value in the shown unit, for an axis.
    pub const fn length_value(self, length: Length) -> f64 {
        match self.length {
            LengthUnit::Mm => length.as_mm(),
            LengthUnit::In => length.as_in(),
        }
    }

    /// A length from a value in the shown unit.
    pub const fn length_from(self) -> fn(f64) -> Length {
        match self.length {
            LengthUnit::Mm => Length::from_mm,
            LengthUnit::In => Length::from_in,
        }
    }

    /// `millimetres` or `inches`.
    pub const fn length_unit_in_full(self) -> &'static str {
        match self.length {
            LengthUnit::Mm => "millimetres",
            LengthUnit::In => "inches",
        }
    }

    /// `mm` or `in`.
    pub const fn length_unit(self) -> &'static str {
        match self.length {
            LengthUnit::Mm => "mm",
            LengthUnit::In => "in",
        }
    }

    /// `8.62 kg` or `19.00 lb`.
    pub fn mass(self, mass: Mass) -> String {
        match self.mass {
            MassUnit::Kg => format!("{} kg", number(mass.as_kg(), 2)),
            MassUnit::Lb => format!("{} lb", number(mass.as_lb(), 1)),
        }
    }

    /// The same with its sign.
    pub fn mass_change(self, mass: Mass) -> String {
        match self.mass {
            MassUnit::Kg => format!("{} kg", signed(mass.as_kg(), 2)),
            MassUnit::Lb => format!("{} lb", signed(mass.as_lb(), 1)),
        }
    }

    /// The value in the shown unit, for an axis.
    pub const fn mass_value(self, mass: Mass) -> f64 {
        match self.mass {
            MassUnit::Kg => mass.as_kg(),
            MassUnit::Lb => mass.as_lb(),
        }
    }

    /// A mass from a value in the shown unit.
    pub const fn mass_from(self) -> fn(f64) -> Mass {
        match self.mass {
            MassUnit::Kg => Mass::from_kg,
            MassUnit::Lb => Mass::from_lb,
        }
    }

    /// `kg` or `lb`.
    pub const fn mass_unit(self) -> &'static str {
        match self.mass {
            MassUnit::Kg => "kg",
            MassUnit::Lb => "lb",
        }
    }

    /// The value in the shown unit, for an axis.
    pub const fn force_value(self, force: Force) -> f64 {
        match self.force {
            ForceUnit::N => force.as_n(),
            ForceUnit::Kgf => force.as_kgf(),
            ForceUnit::Lbf => force.as_lbf(),
        }
    }

    /// A force from a value in the shown unit.
    pub const fn force_from(self) -> fn(f64) -> Force {
        match self.force {
            ForceUnit::N => Force::from_n,
            ForceUnit::Kgf => Force::from_kgf,
            ForceUnit::Lbf => Force::from_lbf,
        }
    }

    /// `N`, `kgf` or `lbf`.
    pub const fn force_unit(self) -> &'static str {
        match self.force {
            ForceUnit::N => "N",
            ForceUnit::Kgf => "kgf",
            ForceUnit::Lbf => "lbf",
        }
    }

    const fn force_decimals(self) -> usize {
        match self.force {
            ForceUnit::N => 0,
            ForceUnit::Kgf | ForceUnit::Lbf => 1,
        }
    }

    /// `109 N`, `11.1 kgf` or `24.5 lbf`, without a sense.
    pub fn force(self, force: Force) -> String {
        format!("{} {}", number(self.force_value(force), self.force_decimals()), self.force_unit())
    }

    /// The same with its sign.
    pub fn force_change(self, force: Force) -> String {
        format!("{} {}", signed(self.force_value(force), self.force_decimals()), self.force_unit())
    }

    /// `109 N up`, `17 N down`.
    pub fn hand(self, load: Force) -> String {
        let shown = self.force(load.abs());
        if number(self.force_value(load), self.force_decimals()).trim_matches(['0', '.']).is_empty() {
            return format!("{shown}, rests");
        }
        format!("{shown} {}", if load < Force::ZERO { "down" } else { "up" })
    }

    /// Both hands in one phrase for a screen reader.
    pub fn hands(self, hands: Hands) -> String {
        format!("front hand {}, rear hand {}", self.hand(hands.front), self.hand(hands.rear))
    }

    /// `22.2 m/s`; in ft/s where lengths are inches.
    pub fn speed(self, speed: Speed) -> String {
        match self.length {
            LengthUnit::Mm => format!("{} m/s", number(speed.as_m_s(), 1)),
            LengthUnit::In => {
                let feet = Length::from_m(speed.as_m_s()).as_in() / INCHES_PER_FOOT;
                format!("{} ft/s", number(feet, 0))
            }
        }
    }

    /// `12.3 N·m`; in lbf·ft where forces are pounds.
    pub fn torque(self, torque: Torque) -> String {
        match self.force {
            ForceUnit::N | ForceUnit::Kgf => format!("{} N·m", number(torque.as_n_m(), 1)),
            ForceUnit::Lbf => format!("{} lbf·ft", number(torque.as_lbf_ft(), 1)),
        }
    }

    /// `0.81 kg·m²`; in lb·ft² where masses are pounds.
    pub fn inertia(self, inertia: Inertia) -> String {
        match self.mass {
            MassUnit::Kg => format!("{} kg·m²", number(inertia.as_kg_m2(), 2)),
            MassUnit::Lb => format!("{} lb·ft²", number(inertia.as_lb_ft2(), 1)),
        }
    }
}

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

/// The decimals that go with an uncertainty; where there is none, `fallback`.
fn decimals_or(uncertainty: f64, fallback: usize) -> usize {
    if uncertainty > 0.0 { decimals_of(uncertainty) } else { fallback }
}

fn with_unit(text: &str, unit: &str) -> String {
    if unit == "°" { format!("{text}°") } else { format!("{text} {unit}") }
}

/// A value without the last digits of rounding that a change of units leaves.
pub fn tidy(value: f64) -> f64 {
    format!("{value:.12e}").parse().unwrap_or(value)
}

/// A number as a person typed it: as many digits as it has.
pub fn as_typed(value: f64, unit: &str) -> String {
    with_unit(&axis(value), unit)
}

/// `4.6 mm`, `429 mm`: up to so many decimals, none that are nothing; no unit for a count.
pub fn trimmed(value: f64, decimals: usize, unit: &str) -> String {
    let text = number(value, decimals);
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if unit.is_empty() { text.to_owned() } else { with_unit(text, unit) }
}

/// `21.5°`.
pub fn angle(angle: Angle) -> String {
    format!("{}°", number(angle.as_deg(), 1))
}

/// `+3.5°`.
pub fn angle_change(angle: Angle) -> String {
    format!("{}°", signed(angle.as_deg(), 1))
}

/// `30°`, for limits and pitch angles that a person sets in whole degrees.
pub fn whole_angle(angle: Angle) -> String {
    format!("{}°", number(angle.as_deg(), 0))
}

/// `21.5° nose down`, `3.0° nose up`, `level`.
pub fn hang(hang: Angle) -> String {
    let shown = angle(hang.abs());
    if shown == "0.0°" {
        "level".to_owned()
    } else if hang < Angle::ZERO {
        format!("{shown} nose up")
    } else {
        format!("{shown} nose down")
    }
}

/// `1.19`.
pub fn ratio(value: f64) -> String {
    number(value, 2)
}

/// `+40 %`.
pub fn percent_change(ratio: f64) -> String {
    format!("{} %", signed((ratio - 1.0) * 100.0, 0))
}

/// `75 %`.
pub fn percent(share: f64) -> String {
    format!("{}\u{a0}%", number(share * 100.0, 0))
}

/// `24 in`, `13.5 in`: a bar's stamp is in inches whatever the units.
pub fn marked_length(length: Length) -> String {
    let inches = length.as_in();
    let decimals = usize::from((inches - inches.round()).abs() > 0.05);
    format!("{} in", number(inches, decimals))
}

/// `3/8 in`, `.325 in`: pitch as the trade writes it.
pub fn pitch(pitch: Length) -> String {
    const EIGHTHS: f64 = 8.0;
    let eighths = pitch.as_in() * EIGHTHS;
    if (eighths - eighths.round()).abs() < 1e-6 {
        let (mut top, mut bottom) = (eighths.round(), EIGHTHS);
        while top % 2.0 == 0.0 && bottom > 1.0 {
            (top, bottom) = (top / 2.0, bottom / 2.0);
        }
        return format!("{top:.0}/{bottom:.0} in");
    }
    format!("{} in", number(pitch.as_in(), 3).trim_start_matches('0'))
}

/// `1.5 mm`: gauge.
pub fn gauge(gauge: Length) -> String {
    format!("{} mm", number(gauge.as_mm(), 1))
}

/// `0.12 mm`, whatever the units: a chip's thickness.
pub fn fine_length(length: Length) -> String {
    format!("{} mm", number(length.as_mm(), 2))
}

/// A mark of an axis, with as many decimals as its step left it.
pub fn axis(value: f64) -> String {
    format!("{value}").replace('-', "−")
}

/// `15`, for a number of things that need not be whole.
pub fn count(value: f64) -> String {
    number(value, 0)
}

/// `31 s`.
pub fn seconds(seconds: f64) -> String {
    format!("{} s", number(seconds, 0))
}

/// `28 cm²/s`, for a rate in m²/s.
pub fn cutting_rate(m2_s: f64) -> String {
    format!("{} cm²/s", number(m2_s * 1e4, 0))
}

/// `640 N·s`.
pub fn newton_seconds(newton_seconds: f64) -> String {
    format!("{} N·s", number(newton_seconds, 0))
}

/// `61.2 kN·s`, for many cuts together.
pub fn kilonewton_seconds(newton_seconds: f64) -> String {
    format!("{} kN·s", number(newton_seconds / 1e3, 1))
}

/// `1.4`: a mean of things that are counted.
pub fn mean_count(value: f64) -> String {
    number(value, 2)
}

/// `1st`, `2nd`, `11th`.
pub fn place(place: usize) -> String {
    let ending = match (place % 10, place % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    format!("{place}{ending}")
}

/// `× 1.18`.
pub fn times(ratio: f64) -> String {
    format!("× {}", number(ratio, 2))
}

/// `96.4 %`, and `100 %` only for the whole.
pub fn share_of_section(share: f64) -> String {
    if share >= 1.0 {
        "100 %".to_owned()
    } else {
        format!("{} %", number((share * 1000.0).floor() / 10.0, 1))
    }
}

/// `97 %`, where only the whole is `100 %` and only nothing is `0 %`.
pub fn share(share: f64) -> String {
    let whole = (share * 100.0).round();
    if share > 0.0 && whole < 1.0 {
        "under 1\u{a0}%".to_owned()
    } else if share < 1.0 && whole > 99.0 {
        "over 99\u{a0}%".to_owned()
    } else {
        percent(share)
    }
}

/// `7.9 kW/m`, for W/m.
pub fn power_per_length(w_m: f64) -> String {
    format!("{} kW/m", number(w_m / 1e3, 1))
}

/// `22 mL/min for a metre`.
pub fn pump_per_length(ml_min_m: f64) -> String {
    format!("{} mL/min for a metre", number(ml_min_m, 0))
}

/// `118 s/m²`: time for a section.
pub fn time_per_area(s_m2: f64) -> String {
    format!("{} s/m²", number(s_m2, 0))
}

/// `92 mL/m²`: fuel or oil for a section.
pub fn fluid_per_area(ml_m2: f64) -> String {
    format!("{} mL/m²", number(ml_m2, 0))
}

/// `45 J/cm³`: how hard a wood is.
pub fn cutting_energy(j_cm3: f64) -> String {
    format!("{} J/cm³", tidy((j_cm3 * 10.0).round() / 10.0))
}

/// `0.82`, `2.4`, `12`: how much something counts.
pub fn weight_of_choice(weight: f64) -> String {
    let text = number(weight, if weight < 9.995 { 2 } else { 0 });
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// `22 %`: how far apart two values are, as a share, without a sign.
pub fn apart(ratio: f64) -> String {
    percent((ratio - 1.0).abs())
}

/// Decimals for a value of this standard uncertainty: two digits of it where it begins with 1 or 2, else one
/// (JCGM 100:2008, 7.2.6 has at most two digits as a rule).
fn decimals_of(uncertainty: f64) -> usize {
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
fn number_with(value: f64, uncertainty: f64) -> String {
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

/// `10 000`: a large count with its thousands apart.
pub fn thousands(count: u32) -> String {
    let digits = count.to_string();
    let mut text = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            text.push('\u{a0}');
        }
        text.push(digit);
    }
    text
}

/// `0.84`, `12`, `140`: two digits are enough to judge it by.
pub fn two_digits(value: f64) -> String {
    number(value, if value.abs() < 0.995 { 2 } else { usize::from(value.abs() < 9.95) })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zero_has_no_minus_and_negatives_have_a_real_one() {
        assert_eq!(angle(Angle::from_deg(-0.01)), "0.0°");
        assert_eq!(angle(Angle::from_deg(-3.0)), "−3.0°");
        assert_eq!(hang(Angle::from_deg(-3.0)), "3.0° nose up");
        assert_eq!(hang(Angle::from_deg(0.02)), "level");
    }

    #[test]
    fn what_rounds_to_nothing_has_no_sign() {
        assert_eq!(plain(-0.04, 1), "0.0");
        assert_eq!(plain(-0.06, 1), "-0.1");
        assert_eq!(plain(-0.0, 0), "0");
        assert_eq!(plain(12.345, 2), "12.35");
    }

    #[test]
    fn thousands_stand_apart() {
        assert_eq!(thousands(7), "7");
        assert_eq!(thousands(1000), "1\u{a0}000");
        assert_eq!(thousands(1_234_567), "1\u{a0}234\u{a0}567");
    }

    #[test]
    fn decimals_follow_the_uncertainty() {
        let with = |value, uncertainty| number_with(value, uncertainty);
        assert_eq!(with(20.437, 0.7), "20.4 ± 0.7");
        assert_eq!(with(20.437, 0.13), "20.44 ± 0.13");
        assert_eq!(with(20.437, 0.299), "20.4 ± 0.3");
        assert_eq!(with(20.437, 0.098), "20.44 ± 0.10");
        assert_eq!(with(20.437, 0.0996), "20.44 ± 0.10");
        assert_eq!(with(497.6, 4.2), "498 ± 4");
        assert_eq!(with(497.6, 14.2), "498 ± 14");
        assert_eq!(with(-0.2, 9.7), "0 ± 10");
        assert_eq!(with(6.213_4, 0.041), "6.21 ± 0.04");
        assert_eq!(with(1.0, 0.0), "1.00 ± 0.00");
    }

    #[test]
    fn known_values_follow_the_units_and_the_uncertainty() {
        let pounds = Units { length: LengthUnit::In, mass: MassUnit::Lb, force: ForceUnit::Lbf };
        assert_eq!(pounds.known(Dimension::Length, 0.566, 0.005), "22.28 ± 0.20 in");
        assert_eq!(pounds.known_hand(Force::from_lbf(-4.0), Force::from_lbf(0.5)), "4.0 ± 0.5 lbf down");
        let units = Units::default();
        assert_eq!(units.known(Dimension::Angle, 0.356_77, 0.0126), "20.4 ± 0.7°");
        assert_eq!(units.known_value(Dimension::Mass, 8.0998, 0.05), "8.10 kg");
        assert_eq!(units.known_value(Dimension::Length, 0.05, 0.0), "50 mm");
        assert_eq!(as_typed(tidy(8.1 * 1.1 / 1.1), "kg"), "8.1 kg");
    }

    #[test]
    fn pitch_reads_as_the_trade_writes_it() {
        assert_eq!(pitch(Length::from_in(0.375)), "3/8 in");
        assert_eq!(pitch(Length::from_in(0.25)), "1/4 in");
        assert_eq!(pitch(Length::from_in(0.325)), ".325 in");
        assert_eq!(pitch(Length::from_in(0.404)), ".404 in");
    }

    #[test]
    fn units_follow_the_choice() {
        let pounds = Units { length: LengthUnit::In, mass: MassUnit::Lb, force: ForceUnit::Lbf };
        assert_eq!(pounds.length(Length::from_in(22.3)), "22.3 in");
        assert_eq!(pounds.mass(Mass::from_lb(19.0)), "19.0 lb");
        assert_eq!(pounds.hand(Force::from_lbf(-4.0)), "4.0 lbf down");
        assert_eq!(Units::default().hand(Force::from_n(0.2)), "0 N, rests");
    }
}
