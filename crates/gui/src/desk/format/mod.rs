//! The only place where a number becomes text.

mod age;
mod shorten;
#[cfg(test)]
mod tests;
mod uncertain;
mod units;

pub use age::age;
pub use shorten::{middle, short_name};
pub use uncertain::{
    angle_with, grams_with, hang_with, seconds_with, signed_deviations, times_of_deviation,
    uncertainty_of_angle,
};
pub use units::{Dimension, ForceUnit, LengthUnit, MassUnit, Units};

use barpoise_core::units::{Angle, Length};
use uncertain::decimals_of;

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

/// `1.5 mm` or `.058 in`: gauge.
pub fn gauge(units: Units, gauge: Length) -> String {
    match units.length {
        LengthUnit::Mm => format!("{} mm", number(gauge.as_mm(), 1)),
        LengthUnit::In => format!("{} in", number(gauge.as_in(), 3).trim_start_matches('0')),
    }
}

/// `0.12 mm` or `.005 in`: a chip's thickness.
pub fn fine_length(units: Units, length: Length) -> String {
    match units.length {
        LengthUnit::Mm => format!("{} mm", number(length.as_mm(), 2)),
        LengthUnit::In => format!("{} in", number(length.as_in(), 3).trim_start_matches('0')),
    }
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

/// `45 s`, `4.1 min`, `2.3 h`: a time that some work takes.
pub fn work_time(seconds: f64) -> String {
    const MINUTE_S: f64 = 60.0;
    let minutes = seconds / MINUTE_S;
    if seconds < 99.5 {
        format!("{} s", number(seconds, 0))
    } else if minutes < 99.5 {
        format!("{} min", number(minutes, usize::from(minutes < 9.95)))
    } else {
        format!("{} h", number(minutes / MINUTE_S, 1))
    }
}

/// `2.6 L`.
pub fn litres(litres: f64) -> String {
    format!("{} L", number(litres, 1))
}

/// `2.9 %`, `34 %`: a share of which tenths tell where it is small.
pub fn fine_percent(share: f64) -> String {
    let percent = 100.0 * share;
    format!("{}\u{a0}%", number(percent, usize::from(percent < 9.95)))
}

/// `28 cm²/s`, for a rate in m²/s.
pub fn cutting_rate(m2_s: f64) -> String {
    format!("{} cm²/s", number(m2_s * 1e4, 0))
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

/// `× 1.07 … 1.80`, or `× 1.18` where both ends read the same.
pub fn times_between(least: f64, most: f64) -> String {
    let (from, to) = (number(least, 2), number(most, 2));
    if from == to { format!("× {from}") } else { format!("× {from} … {to}") }
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
