//! What is known of a number before any reading.

use crate::mark::Mark;
use crate::propose::{LoopRound, head_doubt, link_doubt, nose_doubt, plate_doubt};
use crate::record::{
    HeadUncertaintyFile, InertiaFile, LearntFile, Part, PointFile, PowerheadFile, Quantity, Unknown,
    WeighInFile,
};
use crate::yard::Yard;

/// A value and its standard uncertainty, SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prior {
    /// The value.
    pub value: f64,
    /// Its standard uncertainty.
    pub uncertainty: f64,
}

/// Where the uncertainties come from that are assumed of what a person read off or typed.
///
/// A catalogue's dry mass is good to 150 g, a centroid found with a cord to 12 mm, a radius of gyration guessed
/// from the length to 15 %, a spike line by tape to 4 mm, a grip where a hand lifts to 5 mm, a tank's place by eye to
/// 15 mm, what it holds and what that weighs to 3 %.
pub const ASSUMED_MARK: Mark = Mark::OurGuess;
const DRY_MASS_KG: f64 = 0.15;
const CENTROID_M: f64 = 0.012;
const RADIUS_OF_GYRATION_SHARE: f64 = 0.15;
const SPIKE_LINE_M: f64 = 0.004;
const TANK_M: f64 = 0.015;
const GRIP_M: f64 = 0.005;
const FLUID_SHARE: f64 = 0.03;
/// A chain's mass off a table: 4 %.
const LINK_MASS_SHARE: f64 = 0.04;
/// A bar from its outline alone: 6 %; off a scale: 20 g.
pub(super) const BAR_GEOMETRY_SHARE: f64 = 0.06;
const BAR_WEIGHED_KG: f64 = 0.02;

/// A learnt number whose value still stands in the yard as the weigh-in wrote it.
#[derive(Clone, Copy, Debug)]
pub(super) struct InForce<'a> {
    pub(super) weigh_in: &'a WeighInFile,
    /// Place of the weigh-in in the yard's list, and of the number in the weigh-in.
    pub(super) place: (usize, usize),
    pub(super) learnt: &'a LearntFile,
}

/// The newest weigh-in that taught this number, if its value was neither put back nor changed by hand since.
pub(super) fn in_force<'a>(yard: &'a Yard, unknown: &Unknown) -> Option<InForce<'a>> {
    let now = file_value(yard, unknown)?;
    yard.file()
        .weigh_ins
        .iter()
        .enumerate()
        .rev()
        .filter(|(_, weigh_in)| !weigh_in.put_back)
        .find_map(|(index, weigh_in)| {
            let (row, learnt) = weigh_in
                .learnt
                .iter()
                .enumerate()
                .find(|(_, learnt)| learnt.what == unknown.quantity && learnt.of == *unknown.of)?;
            Some(InForce { weigh_in, place: (index, row), learnt })
        })
        .filter(|found| found.learnt.value.to_bits() == now.to_bits())
}

/// What is known of a number without its readings: where a weigh-in taught it, what was known before that, so that
/// no reading ever counts twice. `None` where the yard has no such part.
pub(super) fn prior(yard: &Yard, unknown: &Unknown) -> Option<Prior> {
    let si = unknown.quantity.si_per_file_unit();
    if let Some(found) = in_force(yard, unknown) {
        let LearntFile { prior, prior_uncertainty, .. } = *found.learnt;
        return Some(Prior { value: prior * si, uncertainty: prior_uncertainty * si });
    }
    let value = value(yard, unknown)?;
    Some(Prior { value, uncertainty: stated_uncertainty(yard, unknown)? })
}

/// The value that the yard has now, SI.
pub(super) fn value(yard: &Yard, unknown: &Unknown) -> Option<f64> {
    let of = &*unknown.of;
    if unknown.quantity.part() == Part::Bar {
        let bar = yard.bars().iter().find(|bar| bar.name() == of)?;
        let nose = unknown.quantity == Quantity::NosePlace;
        return Some(if nose { bar.nose_place().as_m() } else { bar.mass().as_kg() });
    }
    if unknown.quantity == Quantity::RadiusOfGyration {
        let dry = yard.powerheads().iter().find(|head| head.name() == of)?.dry();
        return Some((dry.inertia_kg_m2 / dry.mass_kg).sqrt());
    }
    file_value(yard, unknown).map(|value| value * unknown.quantity.si_per_file_unit())
}

/// The number as the yard file has it; `None` where it has none, as for a bar that was never weighed.
pub(super) fn file_value(yard: &Yard, unknown: &Unknown) -> Option<f64> {
    let file = yard.file();
    let of = &*unknown.of;
    match unknown.quantity.part() {
        Part::Bar => {
            let bar = file.bars.iter().find(|bar| bar.name == of)?;
            if unknown.quantity == Quantity::NosePlace { bar.nose_place_mm } else { bar.weighed_mass_kg }
        }
        Part::Chain => Some(file.chains.iter().find(|chain| chain.name == of)?.mass_per_drive_link_g),
        Part::Powerhead => {
            let head = file.powerheads.iter().find(|head| head.name == of)?;
            head_value(head, unknown.quantity)
        }
    }
}

fn head_value(head: &PowerheadFile, quantity: Quantity) -> Option<f64> {
    let PointFile { x_mm, y_mm } = head.centroid;
    Some(match quantity {
        Quantity::DryMass => head.dry_mass_kg,
        Quantity::CentroidX => x_mm,
        Quantity::CentroidY => y_mm,
        Quantity::RadiusOfGyration => match head.inertia {
            InertiaFile::RadiusOfGyration { radius_mm } => radius_mm,
            InertiaFile::Moment { moment_kg_m2 } => {
                (moment_kg_m2 / head.dry_mass_kg).sqrt() / quantity.si_per_file_unit()
            }
        },
        Quantity::SpikeLine => head.spike_line_mm,
        Quantity::FrontGripX => head.front_grip.x_mm,
        Quantity::FrontGripY => head.front_grip.y_mm,
        Quantity::RearGripX => head.rear_grip.x_mm,
        Quantity::RearGripY => head.rear_grip.y_mm,
        Quantity::FuelTankX => head.fuel_tank.corner.x_mm,
        Quantity::FuelTankY => head.fuel_tank.corner.y_mm,
        Quantity::FuelCapacity => head.fuel_tank.capacity_l,
        Quantity::OilTankX => head.oil_tank.corner.x_mm,
        Quantity::OilTankY => head.oil_tank.corner.y_mm,
        Quantity::OilCapacity => head.oil_tank.capacity_l,
        Quantity::LinkMass | Quantity::BarMass | Quantity::NosePlace => return None,
    })
}

/// True where the yard states an uncertainty of this head.
pub(super) fn head_is_stated(yard: &Yard, head: &str) -> bool {
    let found = yard.file().powerheads.iter().find(|file| file.name == head);
    found.is_some_and(|file| file.standard_uncertainty != HeadUncertaintyFile::default())
}

/// The standard uncertainty that the yard states, or the common one, SI.
fn stated_uncertainty(yard: &Yard, unknown: &Unknown) -> Option<f64> {
    let file = yard.file();
    let of = &*unknown.of;
    let si = |stated: f64| stated * unknown.quantity.si_per_file_unit();
    let now = value(yard, unknown)?;
    match unknown.quantity.part() {
        Part::Bar => {
            let bar = file.bars.iter().find(|bar| bar.name == of)?;
            if unknown.quantity == Quantity::NosePlace {
                return Some(nose_doubt(bar, &LoopRound::of(yard, of)).uncertainty());
            }
            let common = if bar.weighed_mass_kg.is_some() { BAR_WEIGHED_KG } else { plate_doubt(bar) * now };
            Some(bar.mass_uncertainty_kg.map_or(common, si))
        }
        Part::Chain => {
            let chain = file.chains.iter().find(|chain| chain.name == of)?;
            let share = link_doubt(chain).unwrap_or(LINK_MASS_SHARE);
            Some(chain.mass_uncertainty_g.map_or(share * now, si))
        }
        Part::Powerhead => {
            let head = file.powerheads.iter().find(|head| head.name == of)?;
            let stated = head.standard_uncertainty;
            let (stated, read) = match unknown.quantity {
                Quantity::DryMass => (stated.dry_mass_kg, DRY_MASS_KG),
                Quantity::CentroidX | Quantity::CentroidY => (stated.centroid_mm, CENTROID_M),
                Quantity::RadiusOfGyration => (stated.radius_of_gyration_mm, RADIUS_OF_GYRATION_SHARE * now),
                Quantity::SpikeLine => (stated.spike_line_mm, SPIKE_LINE_M),
                Quantity::FuelCapacity | Quantity::OilCapacity => (None, FLUID_SHARE * now),
                Quantity::FrontGripX | Quantity::FrontGripY | Quantity::RearGripX | Quantity::RearGripY => {
                    (stated.grips_mm, GRIP_M)
                }
                _ => (stated.tanks_mm, TANK_M),
            };
            // What is stated was measured; what was only proposed is as sure as what it was inferred from.
            let common = head_doubt(head, unknown.quantity).unwrap_or(read);
            Some(stated.map_or(common, si))
        }
    }
}
