//! Writing what was learnt into a yard, and putting the old numbers back.

use super::fit::Fit;
use super::prior::file_value;
use crate::fault::Fault;
use crate::record::{
    InertiaFile, LearntFile, Part, PowerheadFile, Quantity, Unknown, WeighInFile, YARD_VERSION, YardFile,
};
use crate::yard::Yard;

/// A value is written to this many digits of its uncertainty: more mean nothing, fewer would show.
const DIGITS_OF_UNCERTAINTY: i32 = 3;
const MOST_DECIMALS: i32 = 12;
const CORRELATION_DECIMALS: i32 = 6;

/// The yard with a fit's values written into it, and the weigh-in of this date noted with what stood there before.
///
/// # Errors
/// Where the fitted numbers do not make a yard, such as a spike line behind the studs.
pub fn applied(yard: &Yard, fit: &Fit, date: &str) -> Result<Yard, Vec<Fault>> {
    let mut file = yard.file().clone();
    let learnt: Vec<LearntFile> = fit.learnt.iter().map(|learnt| written(yard, learnt)).collect();
    for entry in &learnt {
        if entry.what == Quantity::DryMass {
            keep_radius_of_gyration(yard, &mut file, &entry.of);
        }
    }
    for entry in &learnt {
        set(&mut file, &entry.of, entry.what, Some(entry.value));
    }
    let correlations = (0..learnt.len())
        .flat_map(|row| (0..row).map(move |column| (row, column)))
        .map(|(row, column)| rounded(fit.correlation(row, column), CORRELATION_DECIMALS))
        .collect();
    file.weigh_ins.push(WeighInFile { date: date.to_owned(), put_back: false, learnt, correlations });
    file.version = YARD_VERSION;
    Yard::new(file)
}

/// The yard as it was before its newest weigh-in that was not put back; `None` where there is none. Numbers that
/// were changed by hand since stay as they are.
///
/// # Errors
/// Where the old numbers do not make a yard with what was changed since.
pub fn put_back(yard: &Yard) -> Result<Option<Yard>, Vec<Fault>> {
    let mut file = yard.file().clone();
    let Some(newest) = file.weigh_ins.iter_mut().rev().find(|weigh_in| !weigh_in.put_back) else {
        return Ok(None);
    };
    newest.put_back = true;
    let learnt = newest.learnt.clone();
    for entry in &learnt {
        let unknown = Unknown::new(&entry.of, entry.what);
        if file_value(yard, &unknown).is_some_and(|now| now.to_bits() == entry.value.to_bits()) {
            set(&mut file, &entry.of, entry.what, entry.before);
        }
    }
    Yard::new(file).map(Some)
}

/// The newest weigh-in that was not put back.
pub fn newest_weigh_in(yard: &Yard) -> Option<&WeighInFile> {
    yard.file().weigh_ins.iter().rev().find(|weigh_in| !weigh_in.put_back)
}

/// True where the numbers of a yard or how sure they are differ between `now` and `then`.
pub fn has_news(now: &Yard, then: &Yard) -> bool {
    let learnt = |yard: &Yard| -> Vec<LearntFile> {
        newest_weigh_in(yard).map_or_else(Vec::new, |weigh_in| {
            // What stood there before is no part of what is known.
            weigh_in.learnt.iter().map(|learnt| LearntFile { before: None, ..learnt.clone() }).collect()
        })
    };
    let (now_file, then_file) = (now.file(), then.file());
    now_file.powerheads != then_file.powerheads
        || now_file.bars != then_file.bars
        || now_file.chains != then_file.chains
        || learnt(now) != learnt(then)
}

/// A head of another mass keeps its radius of gyration, as the fit assumes: a moment written out would not follow.
fn keep_radius_of_gyration(yard: &Yard, file: &mut YardFile, of: &str) {
    let radius = file_value(yard, &Unknown::new(of, Quantity::RadiusOfGyration));
    if let (Some(head), Some(radius)) = (file.powerheads.iter_mut().find(|head| head.name == of), radius)
        && matches!(head.inertia, InertiaFile::Moment { .. })
    {
        set_head(head, Quantity::RadiusOfGyration, tidy(radius));
    }
}

fn written(yard: &Yard, learnt: &super::Learnt) -> LearntFile {
    let unknown = &learnt.unknown;
    let si = unknown.quantity.si_per_file_unit();
    let decimals = decimals_for(learnt.uncertainty / si);
    LearntFile {
        what: unknown.quantity,
        of: unknown.of.to_string(),
        before: file_value(yard, unknown),
        prior: tidy(learnt.prior.value / si),
        prior_uncertainty: tidy(learnt.prior.uncertainty / si),
        value: rounded(learnt.value / si, decimals),
        uncertainty: rounded(learnt.uncertainty / si, decimals),
    }
}

/// What a file wrote comes back from SI with a last digit of rounding: it is taken off again.
fn tidy(value: f64) -> f64 {
    let significant = format!("{value:.14e}");
    significant.parse().unwrap_or(value)
}

fn decimals_for(uncertainty: f64) -> i32 {
    if !uncertainty.is_finite() || uncertainty <= 0.0 {
        return MOST_DECIMALS;
    }
    // Within a few hundred of zero for any finite number.
    #[expect(clippy::cast_possible_truncation, reason = "a logarithm of a float is small")]
    let magnitude = uncertainty.log10().floor() as i32;
    (DIGITS_OF_UNCERTAINTY - 1 - magnitude).clamp(0, MOST_DECIMALS)
}

/// To this many decimals, as the nearest number that a file writes shortly.
fn rounded(value: f64, decimals: i32) -> f64 {
    // Most pairs of numbers of different heads have nothing to do with each other.
    if value.abs() <= 0.0 {
        return 0.0;
    }
    let decimals = usize::try_from(decimals).unwrap_or(0);
    format!("{value:.decimals$}").parse().unwrap_or(value)
}

/// Sets a number of a part; a bar without a value goes back to its geometry.
fn set(file: &mut YardFile, of: &str, quantity: Quantity, value: Option<f64>) {
    match quantity.part() {
        Part::Bar => {
            if let Some(bar) = file.bars.iter_mut().find(|bar| bar.name == of) {
                let nose = quantity == Quantity::NosePlace;
                *if nose { &mut bar.nose_place_mm } else { &mut bar.weighed_mass_kg } = value;
            }
        }
        Part::Chain => {
            if let (Some(chain), Some(value)) = (file.chains.iter_mut().find(|chain| chain.name == of), value)
            {
                chain.mass_per_drive_link_g = value;
            }
        }
        Part::Powerhead => {
            if let (Some(head), Some(value)) =
                (file.powerheads.iter_mut().find(|head| head.name == of), value)
            {
                set_head(head, quantity, value);
            }
        }
    }
}

fn set_head(head: &mut PowerheadFile, quantity: Quantity, value: f64) {
    match quantity {
        Quantity::DryMass => head.dry_mass_kg = value,
        Quantity::CentroidX => head.centroid.x_mm = value,
        Quantity::CentroidY => head.centroid.y_mm = value,
        Quantity::RadiusOfGyration => head.inertia = InertiaFile::RadiusOfGyration { radius_mm: value },
        Quantity::SpikeLine => head.spike_line_mm = value,
        Quantity::FrontGripX => head.front_grip.x_mm = value,
        Quantity::FrontGripY => head.front_grip.y_mm = value,
        Quantity::RearGripX => head.rear_grip.x_mm = value,
        Quantity::RearGripY => head.rear_grip.y_mm = value,
        Quantity::FuelTankX => head.fuel_tank.corner.x_mm = value,
        Quantity::FuelTankY => head.fuel_tank.corner.y_mm = value,
        Quantity::FuelCapacity => head.fuel_tank.capacity_l = value,
        Quantity::OilTankX => head.oil_tank.corner.x_mm = value,
        Quantity::OilTankY => head.oil_tank.corner.y_mm = value,
        Quantity::OilCapacity => head.oil_tank.capacity_l = value,
        Quantity::LinkMass | Quantity::BarMass | Quantity::NosePlace => {}
    }
}
