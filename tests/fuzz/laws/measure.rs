//! A typed measure is finite and reads back as it is written, or is refused in one line.

use super::{is_one_line, same};
use barpoise_core::measure_text::{
    MeasureError, read_angle, read_force, read_in, read_length, read_mass, read_power_kw, read_share,
    read_time_s, read_volume_l,
};
use barpoise_core::units::{Angle, Force, Length, Mass};

/// Holds the law to a text, read as each measure there is.
pub fn holds(text: &str) {
    let length = |text: &str| read_length(text, Length::from_mm).map(Length::as_m);
    one(text, "m", length);
    one(text, "\"", |text| read_length(text, Length::from_in).map(Length::as_in));
    one(text, "kg", |text| read_mass(text, Mass::from_lb).map(Mass::as_kg));
    one(text, "N", |text| read_force(text, Force::from_kgf).map(Force::as_n));
    one(text, "rad", |text| read_angle(text).map(Angle::as_rad));
    one(text, "s", read_time_s);
    one(text, "", read_share);
    one(text, "L", read_volume_l);
    one(text, "kW", read_power_kw);
    one(text, "mL/min", |text| read_in(text, "mL/min"));
    one(text, "", |text| read_in(text, ""));
}

fn one(text: &str, unit: &'static str, read: impl Fn(&str) -> Result<f64, MeasureError>) {
    match read(text) {
        Ok(value) => {
            assert!(value.is_finite(), "{text:?} is {value}");
            let written = format!("{value} {unit}");
            let back = read(&written);
            assert!(
                back.as_ref().is_ok_and(|back| same(*back, value)),
                "{text:?} is {value} {unit}, written {written:?}, read as {back:?}"
            );
        }
        Err(error) => is_one_line(&error.to_string()),
    }
}
