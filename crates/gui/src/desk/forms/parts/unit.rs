//! The units in which a part's numbers are shown and typed; the file's own unit is what the form holds.

use crate::desk::format::{self, LengthUnit, MassUnit, Units};
use barpoise_core::Range;
use barpoise_core::measure_text::{
    MeasureError, read_angle, read_engine_size_cm3, read_in, read_length, read_mass, read_power_kw,
    read_share, read_volume_l,
};
use barpoise_core::units::{Angle, Length, Mass};

/// What a number of a part file is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FieldUnit {
    /// Millimetres, shown in the person's unit of length.
    Mm,
    /// Millimetres, shown as such: what a caliper reads.
    CaliperMm,
    /// Inches, as a bar is stamped.
    StampIn,
    /// Inches, as a pitch is written.
    PitchIn,
    /// Kilograms, shown in the person's unit of mass.
    Kg,
    /// Grams.
    G,
    /// Litres.
    L,
    /// Kilograms per litre.
    KgPerL,
    /// Kilowatts.
    Kw,
    /// Cubic centimetres of an engine.
    Cm3,
    /// Turns a minute.
    Rpm,
    /// Millilitres a minute.
    MlPerMin,
    /// Kilogram square metres.
    KgM2,
    /// A share, shown in percent.
    Share,
    /// Percent, as such.
    Percent,
    /// Degrees.
    Degrees,
    /// A whole count.
    Count,
}

impl FieldUnit {
    /// The unit's name; empty for a count.
    pub const fn name(self, units: Units) -> &'static str {
        match self {
            Self::Mm => units.length_unit(),
            Self::CaliperMm => "mm",
            Self::StampIn | Self::PitchIn => "in",
            Self::Kg => units.mass_unit(),
            Self::G => "g",
            Self::L => "L",
            Self::KgPerL => "kg/L",
            Self::Kw => "kW",
            Self::Cm3 => "cm³",
            Self::Rpm => "1/min",
            Self::MlPerMin => "mL/min",
            Self::KgM2 => "kg·m²",
            Self::Share | Self::Percent => "%",
            Self::Degrees => "°",
            Self::Count => "",
        }
    }

    /// The unit as a name says it aloud.
    pub const fn spoken(self, units: Units) -> &'static str {
        match self {
            Self::Degrees => "degrees",
            Self::Share | Self::Percent => "percent",
            _ => self.name(units),
        }
    }

    /// A value of the file as text.
    pub fn shown(self, units: Units, value: f64) -> String {
        let name = self.name(units);
        match self {
            Self::Mm if units.length == LengthUnit::In => {
                format::trimmed(Length::from_mm(value).as_in(), 2, name)
            }
            Self::PitchIn => format::pitch(Length::from_in(value)),
            Self::Kg if units.mass == MassUnit::Lb => format::trimmed(Mass::from_kg(value).as_lb(), 2, name),
            Self::Share => format::trimmed(value * 100.0, 1, name),
            Self::Degrees => format::angle(Angle::from_deg(value)),
            Self::Rpm | Self::Count => format::trimmed(value, 0, name),
            Self::KgM2 => format::trimmed(value, 4, name),
            _ => format::trimmed(value, 2, name),
        }
    }

    /// A value of the file from text.
    ///
    /// # Errors
    /// What was not understood.
    pub fn read(self, units: Units, text: &str) -> Result<f64, MeasureError> {
        let value = match self {
            Self::Mm => read_length(text, units.length_from())?.as_mm(),
            Self::CaliperMm => caliper_mm(text)?,
            Self::StampIn | Self::PitchIn => read_length(text, Length::from_in)?.as_in(),
            Self::Kg => read_mass(text, units.mass_from())?.as_kg(),
            Self::G => read_mass(text, Mass::from_g)?.as_g(),
            Self::L => read_volume_l(text)?,
            Self::Kw => read_power_kw(text)?,
            Self::Cm3 => read_engine_size_cm3(text)?,
            Self::Rpm => turns_a_minute(text)?,
            Self::KgPerL | Self::MlPerMin | Self::KgM2 | Self::Percent | Self::Count => {
                read_in(text, self.name(units))?
            }
            Self::Degrees => read_angle(text)?.as_deg(),
            Self::Share => {
                let share = read_share(text)?;
                // A plain number is percent, as it is shown; none of these shares is below 1 %.
                if text.contains('%') || share <= 1.0 { share } else { share / 100.0 }
            }
        };
        Ok(format::tidy(value))
    }

    /// The allowed range as text.
    pub fn range(self, units: Units, range: &Range) -> String {
        format!("{} to {}", self.shown(units, range.min), self.shown(units, range.max))
    }
}

/// Turns a minute, which people write in several ways; `1/min` begins like a number itself.
fn turns_a_minute(text: &str) -> Result<f64, MeasureError> {
    let text = text.trim().to_lowercase();
    let number = ["1/min", "/min", "rpm"].iter().find_map(|unit| text.strip_suffix(unit));
    read_in(number.unwrap_or(&text), "")
}

/// A thickness; one in inches is taken to the tenth of a millimetre that the trade calls it, so that 0.058 in is
/// the gauge of 1.5 mm.
fn caliper_mm(text: &str) -> Result<f64, MeasureError> {
    let mm = read_length(text, Length::from_mm)?.as_mm();
    let in_inches = text.contains("in") || text.contains(['"', '″']);
    Ok(if in_inches { (mm * 10.0).round() / 10.0 } else { mm })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_shown_reads_back() {
        let all = [
            (FieldUnit::Mm, 429.0),
            (FieldUnit::CaliperMm, 1.5),
            (FieldUnit::StampIn, 16.0),
            (FieldUnit::PitchIn, 0.375),
            (FieldUnit::PitchIn, 0.325),
            (FieldUnit::Kg, 6.3),
            (FieldUnit::G, 5.2),
            (FieldUnit::L, 0.48),
            (FieldUnit::KgPerL, 0.74),
            (FieldUnit::Kw, 4.3),
            (FieldUnit::Cm3, 70.7),
            (FieldUnit::Rpm, 9500.0),
            (FieldUnit::MlPerMin, 19.0),
            (FieldUnit::KgM2, 0.0123),
            (FieldUnit::Share, 0.94),
            (FieldUnit::Percent, 60.0),
            (FieldUnit::Degrees, -5.5),
            (FieldUnit::Count, 72.0),
        ];
        let units = Units::default();
        for (unit, value) in all {
            let text = unit.shown(units, value);
            assert_eq!(unit.read(units, &text), Ok(value), "{unit:?} {text}");
        }
        assert_eq!(FieldUnit::Share.read(units, "60"), Ok(0.6));
        for text in ["9500", "9500 rpm", "9500/min", "9500 1/min"] {
            assert_eq!(FieldUnit::Rpm.read(units, text), Ok(9500.0), "{text}");
        }
    }

    #[test]
    fn gauges_in_inches_are_the_trades_tenths() {
        for (text, mm) in [("0.050 in", 1.3), (".058\"", 1.5), ("0,063 in", 1.6), ("1,5 mm", 1.5)] {
            assert_eq!(FieldUnit::CaliperMm.read(Units::default(), text), Ok(mm));
        }
    }
}
