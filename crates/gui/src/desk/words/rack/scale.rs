//! The scale of a measure in the units in which it is shown and typed.

use super::{CUTS_TOLD, ML_PER_L, value};
use crate::desk::format::Units;
use barpoise_core::measure_text::{
    MeasureError, read_angle, read_force, read_in, read_length, read_mass, read_share,
};
use barpoise_core::rack::{Anchors, Better, Measure};
use barpoise_core::units::{Angle, Force, Length, Mass};

const S_PER_MIN: f64 = 60.0;
const PERCENT: f64 = 100.0;

/// The unit in which a value of a measure is typed.
pub fn unit(units: Units, measure: Measure) -> &'static str {
    match measure {
        Measure::Done | Measure::OneSetting | Measure::Effort => "%",
        Measure::TangleTime | Measure::Time => "min",
        Measure::NoseOut => units.length_unit(),
        Measure::Lifts => "",
        Measure::FrontHand => units.force_unit(),
        Measure::Weight => units.mass_unit(),
        Measure::Hang => "degrees",
        Measure::Fuel => "L",
    }
}

/// A value in that unit; times, lifts and fuel for 100 cuts.
pub fn shown(units: Units, measure: Measure, value: f64) -> f64 {
    match measure {
        Measure::Done | Measure::OneSetting | Measure::Effort => value * PERCENT,
        Measure::TangleTime | Measure::Time => value * CUTS_TOLD / S_PER_MIN,
        Measure::NoseOut => units.length_value(Length::from_m(value)),
        Measure::Lifts => value * CUTS_TOLD,
        Measure::FrontHand => units.force_value(Force::from_n(value)),
        Measure::Weight => units.mass_value(Mass::from_kg(value)),
        Measure::Hang => Angle::from_rad(value).as_deg(),
        Measure::Fuel => value * CUTS_TOLD / ML_PER_L,
    }
}

/// A value from one in that unit.
pub fn from_shown(units: Units, measure: Measure, shown: f64) -> f64 {
    match measure {
        Measure::Done | Measure::OneSetting | Measure::Effort => shown / PERCENT,
        Measure::TangleTime | Measure::Time => shown * S_PER_MIN / CUTS_TOLD,
        Measure::NoseOut => units.length_from()(shown).as_m(),
        Measure::Lifts => shown / CUTS_TOLD,
        Measure::FrontHand => units.force_from()(shown).as_n(),
        Measure::Weight => units.mass_from()(shown).as_kg(),
        Measure::Hang => Angle::from_deg(shown).as_rad(),
        Measure::Fuel => shown * ML_PER_L / CUTS_TOLD,
    }
}

/// Reads a value as it is typed: a plain number is in the shown unit.
///
/// # Errors
/// What is wrong with it, in words.
pub fn read(units: Units, measure: Measure, text: &str) -> Result<f64, String> {
    let told = |error: MeasureError| error.to_string();
    let value = match measure {
        Measure::Weight => read_mass(text, units.mass_from()).map_err(told)?.as_kg(),
        Measure::Hang => read_angle(text).map_err(told)?.as_rad(),
        Measure::FrontHand => read_force(text, units.force_from()).map_err(told)?.as_n(),
        Measure::NoseOut => read_length(text, units.length_from()).map_err(told)?.as_m(),
        Measure::Done | Measure::OneSetting | Measure::Effort => {
            let share = read_share(text).map_err(told)?;
            if text.contains('%') { share } else { share / PERCENT }
        }
        Measure::TangleTime | Measure::Time | Measure::Lifts | Measure::Fuel => {
            from_shown(units, measure, read_in(text, unit(units, measure)).map_err(told)?)
        }
    };
    if value < 0.0 { Err("a bound is a number from nothing up".to_owned()) } else { Ok(value) }
}

/// The two ends of a scale: `49 N is no burden, 147 N as bad as it gets`.
pub fn anchors(units: Units, measure: Measure, anchors: &Anchors) -> String {
    let said = |end| value(units, measure, end);
    format!("{} is no burden, {} as bad as it gets", said(anchors.fine()), said(anchors.bad()))
}

/// The ends of a measure's scale as typed.
///
/// # Errors
/// One line for the person, in the units shown: where the ends lie, and where they belong.
pub fn ends(units: Units, measure: Measure, fine: f64, bad: f64) -> Result<Anchors, String> {
    Anchors::new(measure, fine, bad).map_err(|_| {
        let way = if measure.better() == Better::Less { "below" } else { "above" };
        let [fine, bad] = [fine, bad].map(|end| value(units, measure, end));
        format!(
            "what is no burden, {fine}, must be from nothing up and {way} what is as bad as it gets, {bad}"
        )
    })
}
