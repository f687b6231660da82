//! Reading what a person types: a number and a unit.

use crate::fault::clipped;
use crate::units::{Angle, Force, Length, Mass};
use std::fmt;

/// Why a typed measure was not understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum MeasureError {
    /// There is no number in it.
    NoNumber(String),
    /// The unit is not one of those that fit.
    UnknownUnit {
        /// What was typed.
        unit: String,
        /// The units that would be taken.
        known: &'static str,
    },
    /// The number is not a number, or too large to reckon with in any unit.
    NotFinite(String),
}

impl fmt::Display for MeasureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoNumber(text) if text.is_empty() => write!(f, "a number is missing"),
            Self::NoNumber(text) => write!(f, "`{text}` is not a number with a unit"),
            Self::UnknownUnit { unit, known } => write!(f, "the unit `{unit}` is not one of {known}"),
            Self::NotFinite(text) => write!(f, "`{text}` is not a finite number"),
        }
    }
}

impl std::error::Error for MeasureError {}

/// Longest text that an error repeats.
const SHOWN: usize = 40;

fn shown(text: &str) -> String {
    clipped(text, SHOWN)
}

/// The fractions that have a letter of their own.
const LETTERS: [(char, &str); 11] = [
    ('½', "1/2"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
    ('⅙', "1/6"),
    ('⅚', "5/6"),
];

/// `12½` and `12-1/2` as `12 1/2`: a fraction that belongs to the whole before it stands after a blank.
fn with_fractions_apart(text: &str) -> String {
    let mut apart = String::with_capacity(text.len() + 4);
    let mut rest = text.chars().peekable();
    let mut after_digit = false;
    while let Some(letter) = rest.next() {
        match LETTERS.iter().find(|(other, _)| *other == letter) {
            Some((_, fraction)) => {
                apart.push_str(if after_digit { " " } else { "" });
                apart.push_str(fraction);
                after_digit = false;
            }
            // A dash between two digits joins a whole and its fraction; a lone one is a sign.
            None if letter == '-' && after_digit && rest.peek().is_some_and(char::is_ascii_digit) => {
                apart.push(' ');
                after_digit = false;
            }
            None => {
                apart.push(letter);
                after_digit = letter.is_ascii_digit();
            }
        }
    }
    apart
}

/// Splits `12,5 cm`, `3/8 in`, `1 3/8 in`, `12-1/2 in`, `12½ in`, `-4°` into a number and a unit in lower case.
///
/// A comma or a point separates decimals; thousands are not separated.
fn number_and_unit(typed: &str) -> Result<(f64, String), MeasureError> {
    let typed = typed.trim();
    let apart = with_fractions_apart(typed);
    let text = apart.as_str();
    let refuse = || MeasureError::NoNumber(shown(typed));
    let split = text.find(|c: char| !(c.is_ascii_digit() || "+-−.,/ ".contains(c))).unwrap_or(text.len());
    let (digits, unit) = text.split_at(split);
    let digits = digits.trim().replace(',', ".").replace('−', "-");
    let mut words = digits.split_whitespace();
    let value = match (words.next(), words.next(), words.next()) {
        (Some(one), None, None) => fraction(one),
        (Some(whole), Some(part), None) if part.contains('/') => match (whole.parse::<f64>(), fraction(part))
        {
            (Ok(whole), Some(part)) if whole >= 0.0 && part >= 0.0 => Some(whole + part),
            _ => None,
        },
        _ => None,
    };
    let value = value.ok_or_else(refuse)?;
    if value.is_finite() {
        Ok((value, unit.trim().to_lowercase()))
    } else {
        Err(MeasureError::NotFinite(shown(typed)))
    }
}

/// A number without a unit, blanks round the stroke of its fraction or not: `6.3 / 2`.
pub(crate) fn plain_number(text: &str) -> Option<f64> {
    let close: Vec<&str> = text.split('/').map(str::trim).collect();
    number_and_unit(&close.join("/")).ok().filter(|(_, unit)| unit.is_empty()).map(|(value, _)| value)
}

fn fraction(text: &str) -> Option<f64> {
    match text.split_once('/') {
        None => text.parse().ok(),
        Some((top, bottom)) => Some(top.parse::<f64>().ok()? / bottom.parse::<f64>().ok()?),
    }
}

/// Reads a number, gives it to its unit, and refuses what overflows there; `finest` is the measure in the smallest unit
/// in which it is shown.
fn measure<T: Copy>(
    text: &str,
    known: &'static str,
    of: impl Fn(&str, f64) -> Option<T>,
    finest: impl Fn(T) -> f64,
) -> Result<T, MeasureError> {
    let (value, unit) = number_and_unit(text)?;
    let measure = of(&unit, value).ok_or_else(|| MeasureError::UnknownUnit { unit: shown(&unit), known })?;
    if finest(measure).is_finite() { Ok(measure) } else { Err(MeasureError::NotFinite(shown(text.trim()))) }
}

/// The inches in `5'6"`, `5' 6 1/2"` or `5 ft`: feet, and inches where they follow.
fn feet_and_inches(text: &str) -> Option<Result<f64, MeasureError>> {
    let text = text.trim();
    let (feet, rest) = text.split_once(['\'', '′']).or_else(|| text.split_once("ft"))?;
    let number = |part: &str| number_and_unit(part);
    let inches = match rest.trim().trim_end_matches(['"', '″']).trim_end_matches("in").trim() {
        "" => Ok((0.0, String::new())),
        inches => number(inches),
    };
    Some(match (number(feet), inches) {
        (Ok((feet, none)), Ok((inches, other))) if none.is_empty() && other.is_empty() && inches >= 0.0 => {
            Ok(12.0 * feet + inches)
        }
        _ => Err(MeasureError::NoNumber(shown(text))),
    })
}

/// Reads a length: mm, cm, m, in (or ″), feet and inches; `plain` takes a number that has no unit.
///
/// # Errors
/// Where there is no number, the unit is none of these, or the value is not finite.
///
/// ```
/// use barpoise_core::{measure_text::read_length, units::Length};
/// assert_eq!(read_length("12,5 cm", Length::from_mm), Ok(Length::from_cm(12.5)));
/// assert_eq!(read_length("3/8 in", Length::from_mm), Ok(Length::from_in(0.375)));
/// assert_eq!(read_length("12-1/2 in", Length::from_mm), Ok(Length::from_in(12.5)));
/// assert_eq!(read_length("12½ in", Length::from_mm), Ok(Length::from_in(12.5)));
/// assert_eq!(read_length("5'6\"", Length::from_mm), Ok(Length::from_in(66.0)));
/// assert_eq!(read_length("560", Length::from_mm), Ok(Length::from_mm(560.0)));
/// ```
pub fn read_length(text: &str, plain: fn(f64) -> Length) -> Result<Length, MeasureError> {
    if let Some(inches) = feet_and_inches(text) {
        let length = Length::from_in(inches?);
        return if length.as_mm().is_finite() {
            Ok(length)
        } else {
            Err(MeasureError::NotFinite(shown(text.trim())))
        };
    }
    measure(
        text,
        "mm, cm, m, in, ft",
        |unit, value| match unit {
            "" => Some(plain(value)),
            "mm" => Some(Length::from_mm(value)),
            "cm" => Some(Length::from_cm(value)),
            "m" => Some(Length::from_m(value)),
            "in" | "″" | "\"" | "inch" | "inches" => Some(Length::from_in(value)),
            _ => None,
        },
        Length::as_mm,
    )
}

/// Reads a mass: kg, g, lb.
///
/// # Errors
/// As [`read_length`].
pub fn read_mass(text: &str, plain: fn(f64) -> Mass) -> Result<Mass, MeasureError> {
    measure(
        text,
        "kg, g, lb",
        |unit, value| match unit {
            "" => Some(plain(value)),
            "kg" => Some(Mass::from_kg(value)),
            "g" => Some(Mass::from_g(value)),
            "lb" | "lbs" => Some(Mass::from_lb(value)),
            _ => None,
        },
        Mass::as_g,
    )
}

/// Reads a force: kg and lb as a scale shows a load, N; kgf and lbf are the same two.
///
/// # Errors
/// As [`read_length`].
pub fn read_force(text: &str, plain: fn(f64) -> Force) -> Result<Force, MeasureError> {
    measure(
        text,
        "kg, lb, N",
        |unit, value| match unit {
            "" => Some(plain(value)),
            "n" => Some(Force::from_n(value)),
            "kg" | "kgf" => Some(Force::from_kgf(value)),
            "lb" | "lbs" | "lbf" => Some(Force::from_lbf(value)),
            _ => None,
        },
        Force::as_n,
    )
}

/// Reads an angle: degrees (°, deg) or rad; a plain number is degrees.
///
/// # Errors
/// As [`read_length`].
pub fn read_angle(text: &str) -> Result<Angle, MeasureError> {
    measure(
        text,
        "°, deg, rad",
        |unit, value| match unit {
            "" | "°" | "deg" | "degrees" => Some(Angle::from_deg(value)),
            "rad" => Some(Angle::from_rad(value)),
            _ => None,
        },
        Angle::as_deg,
    )
}

/// Reads a time in seconds: s, ms; a plain number is seconds.
///
/// # Errors
/// As [`read_length`].
pub fn read_time_s(text: &str) -> Result<f64, MeasureError> {
    measure(
        text,
        "s, ms",
        |unit, value| match unit {
            "" | "s" | "sec" => Some(value),
            "ms" => Some(value / 1e3),
            _ => None,
        },
        |value| value,
    )
}

/// Reads a share: `40 %` or `0.4`.
///
/// # Errors
/// As [`read_length`].
pub fn read_share(text: &str) -> Result<f64, MeasureError> {
    measure(
        text,
        "%",
        |unit, value| match unit {
            "" => Some(value),
            "%" => Some(value / 100.0),
            _ => None,
        },
        |value| value,
    )
}

/// Reads a volume in litres: L, mL, cm³; a plain number is litres.
///
/// # Errors
/// As [`read_length`].
pub fn read_volume_l(text: &str) -> Result<f64, MeasureError> {
    measure(
        text,
        "L, mL, cm³",
        |unit, value| match unit {
            "" | "l" => Some(value),
            "ml" | "cm³" | "cm3" | "cc" => Some(value / 1e3),
            _ => None,
        },
        |value| value,
    )
}

/// Reads a power in kilowatts: kW, W, hp (745.7 W), PS (735.5 W); a plain number is kilowatts.
///
/// # Errors
/// As [`read_length`].
pub fn read_power_kw(text: &str) -> Result<f64, MeasureError> {
    // The mechanical horsepower of 550 ft·lbf/s and the metric one of 75 kgf·m/s, NIST SP 811, appendix B.
    const KW_PER_HP: f64 = 0.745_699_9;
    const KW_PER_PS: f64 = 0.735_498_75;
    measure(
        text,
        "kW, W, hp, PS",
        |unit, value| match unit {
            "" | "kw" => Some(value),
            "w" => Some(value / 1e3),
            "hp" => Some(value * KW_PER_HP),
            "ps" => Some(value * KW_PER_PS),
            _ => None,
        },
        |value| value,
    )
}

/// Reads what an engine displaces in cm³: cm³, cc, in³, L; a plain number is cm³.
///
/// # Errors
/// As [`read_length`].
pub fn read_engine_size_cm3(text: &str) -> Result<f64, MeasureError> {
    const CM3_PER_IN3: f64 = 2.54 * 2.54 * 2.54;
    measure(
        text,
        "cm³, cc, in³, L",
        |unit, value| match unit {
            "" | "cm³" | "cm3" | "cc" | "ccm" => Some(value),
            "in³" | "in3" | "cu in" => Some(value * CM3_PER_IN3),
            "l" => Some(value * 1e3),
            _ => None,
        },
        |value| value,
    )
}

/// Reads a number that is only written in one unit, which may be left out.
///
/// # Errors
/// As [`read_length`].
pub fn read_in(text: &str, unit: &'static str) -> Result<f64, MeasureError> {
    let (value, typed) = number_and_unit(text)?;
    if typed.is_empty() || typed == unit.to_lowercase() {
        Ok(value)
    } else {
        let known = if unit.is_empty() { "none: a plain number" } else { unit };
        Err(MeasureError::UnknownUnit { unit: shown(&typed), known })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn mm(text: &str) -> f64 {
        read_length(text, Length::from_mm).unwrap().as_mm()
    }

    #[test]
    fn people_type_lengths_in_many_ways() {
        assert_relative_eq!(mm("560mm"), 560.0);
        assert_relative_eq!(mm(" 12,5 cm "), 125.0);
        assert_relative_eq!(mm("0.56 m"), 560.0, max_relative = 1e-15);
        assert_relative_eq!(mm("1 3/8 in"), 34.925, max_relative = 1e-15);
        assert_relative_eq!(mm("24\""), 609.6, max_relative = 1e-15);
        assert_relative_eq!(mm("−5"), -5.0);
    }

    #[test]
    fn fractions_and_feet_as_they_are_written_at_the_bench() {
        for (text, inches) in [
            ("12½ in", 12.5),
            ("½ in", 0.5),
            ("12-1/2 in", 12.5),
            ("12 1/2\"", 12.5),
            ("5'6\"", 66.0),
            ("5' 6 1/2\"", 66.5),
            ("5′", 60.0),
            ("5 ft 6 in", 66.0),
            ("7⅞in", 7.875),
        ] {
            let read = read_length(text, Length::from_mm).map(|length| length.as_in());
            assert!(read.as_ref().is_ok_and(|read| (read - inches).abs() < 1e-12), "{text}: {read:?}");
        }
        for text in ["5'6", "5'x", "'6\"", "5' -2\"", "12--1/2 in", "12½½ in", "3-4 mm", "½½"] {
            let read = read_length(text, Length::from_mm);
            let is_five_six = text == "5'6" && read == Ok(Length::from_in(66.0));
            assert!(read.is_err() || is_five_six, "{text}: {read:?}");
        }
        assert_eq!(
            read_length("-1/2 in", Length::from_mm),
            Ok(Length::from_in(-0.5)),
            "a lone dash is a sign"
        );
        assert_eq!(read_force("10 kg", Force::from_n), Ok(Force::from_kgf(10.0)), "as it is shown");
        assert_eq!(read_force("22 lb", Force::from_n), Ok(Force::from_lbf(22.0)));
    }

    #[test]
    fn what_is_no_measure_says_so() {
        assert_eq!(read_length("", Length::from_mm), Err(MeasureError::NoNumber(String::new())));
        assert!(read_length("abc", Length::from_mm).is_err());
        assert!(read_length("1/0 mm", Length::from_mm).is_err());
        assert!(read_length("5 kg", Length::from_mm).unwrap_err().to_string().contains("mm, cm, m, in"));
        assert!(read_length("1 2 3", Length::from_mm).is_err());
        assert!(read_length("nan", Length::from_mm).is_err());
        assert!(read_length("1e400", Length::from_mm).is_err());
    }

    #[test]
    fn a_number_that_its_unit_makes_infinite_is_refused() {
        let huge = "9".repeat(308);
        assert!(read_length(&huge, Length::from_mm).is_ok());
        for refused in [
            read_length(&format!("{huge} m"), Length::from_mm).map(Length::as_mm),
            read_force(&format!("{huge} kgf"), Force::from_n).map(Force::as_n),
            read_angle(&format!("{huge} rad")).map(Angle::as_deg),
            read_mass(&huge, Mass::from_kg).map(Mass::as_g),
        ] {
            assert!(matches!(refused, Err(MeasureError::NotFinite(_))), "{refused:?}");
        }
    }

    #[test]
    fn what_is_repeated_of_a_text_stays_on_one_line() {
        let said = read_length("12\n\u{7}mm\tx", Length::from_mm).unwrap_err().to_string();
        assert!(!said.chars().any(char::is_control), "{said:?}");
    }

    #[test]
    fn other_measures_read_their_units() {
        assert_relative_eq!(read_angle("20deg").unwrap().as_deg(), 20.0, max_relative = 1e-15);
        assert_relative_eq!(
            read_mass("2 lb", Mass::from_kg).unwrap().as_kg(),
            0.907_184_74,
            max_relative = 1e-15
        );
        assert_relative_eq!(read_force("10", Force::from_kgf).unwrap().as_n(), 98.0665, max_relative = 1e-15);
        assert_relative_eq!(read_time_s("1,12 s").unwrap(), 1.12, max_relative = 1e-15);
        assert_relative_eq!(read_time_s("950 ms").unwrap(), 0.95, max_relative = 1e-15);
        assert!(read_time_s("1 kg").unwrap_err().to_string().contains("s, ms"));
        assert_relative_eq!(read_share("40 %").unwrap(), 0.4, max_relative = 1e-15);
        assert_relative_eq!(read_volume_l("480 ml").unwrap(), 0.48, max_relative = 1e-15);
        assert_relative_eq!(read_power_kw("4,5 hp").unwrap(), 3.355_65, max_relative = 1e-6);
        assert_relative_eq!(read_in("19 mL/min", "mL/min").unwrap(), 19.0);
        assert!(read_in("19 kg", "mL/min").unwrap_err().to_string().contains("mL/min"));
    }

    proptest! {
        #[test]
        fn law_any_text_gives_a_measure_or_an_error(text in ".*") {
            if let Ok(length) = read_length(&text, Length::from_mm) {
                prop_assert!(length.is_finite());
            }
            let _ = (read_angle(&text), read_share(&text));
        }
    }
}
