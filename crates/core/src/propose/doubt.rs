//! How far off a proposed number may be.
//!
//! What was only proposed is known by what it was inferred from: a mass from the power, places from the mass. Each
//! step adds its own scatter to that of the step before, in quadrature, so that a number inferred farther is less
//! sure. All are standard uncertainties.

use super::note::noted;
use crate::mark::Mark;
use crate::record::{BarFile, ChainFile, PartKind, PowerheadFile, Quantity};

/// Where the scatters below come from: no survey of saws was found.
pub const DOUBT_MARK: Mark = Mark::OurGuess;

/// Dry masses of heads of one power, as a share: half a kilogram on a head of 4.7 kW.
pub(super) const MASS_AT_POWER: f64 = 0.075;
/// What a power that nobody read adds to that: a guess may be a size too small or too big.
pub(super) const POWER_UNREAD: f64 = 0.15;
/// Places on heads of one mass differ by so much, m: the centre of gravity, the spike line, a tank.
pub(super) const CENTROID_M: f64 = 0.020;
pub(super) const SPIKE_LINE_M: f64 = 0.015;
pub(super) const TANK_M: f64 = 0.025;
/// The spread of the mass about its centre, as a share.
pub(super) const GYRATION: f64 = 0.20;
/// Lengths go with the cube root of the mass, so a share of the mass moves them by a third of it.
pub(super) const LENGTH_BY_MASS: f64 = 1.0 / 3.0;
/// Links of one pitch and gauge, as a share; and what a gauge and a pitch that nobody read add.
pub(super) const LINK: f64 = 0.10;
pub(super) const LINK_UNREAD: f64 = 0.15;
/// A plate by its outline, as a share, and what each proposed number of it adds: its length, its width, its
/// thickness, and how much of a solid plate is left.
pub(super) const PLATE: f64 = 0.06;
pub(super) const PLATE_LENGTH: f64 = 0.03;
pub(super) const PLATE_WIDTH: f64 = 0.05;
pub(super) const PLATE_THICKNESS: f64 = 0.06;
pub(super) const PLATE_SHARE: f64 = 0.10;

/// The standard uncertainty of a head's number, SI; `None` where it is the person's own, or is no head's.
pub fn head_doubt(head: &PowerheadFile, quantity: Quantity) -> Option<f64> {
    let proposed = |path: &str| noted(PartKind::Powerhead, &head.note, path);
    let of_power = if proposed("power_kw") { POWER_UNREAD } else { 0.0 };
    let of_mass = if proposed("dry_mass_kg") { MASS_AT_POWER.hypot(of_power) } else { 0.0 };
    let place = |path: &str, at_mm: f64, own_m: f64| {
        let by_size = LENGTH_BY_MASS * of_mass * at_mm.abs() * 1e-3;
        proposed(path).then_some(own_m.hypot(by_size))
    };
    match quantity {
        Quantity::DryMass => (of_mass > 0.0).then_some(of_mass * head.dry_mass_kg),
        Quantity::CentroidX => place("centroid.x_mm", head.centroid.x_mm, CENTROID_M),
        Quantity::CentroidY => place("centroid.y_mm", head.centroid.y_mm, CENTROID_M),
        Quantity::RadiusOfGyration => {
            let crate::record::InertiaFile::RadiusOfGyration { radius_mm } = head.inertia else {
                return None;
            };
            place("inertia.radius_mm", radius_mm, GYRATION * radius_mm * 1e-3)
        }
        Quantity::SpikeLine => place("spike_line_mm", head.spike_line_mm, SPIKE_LINE_M),
        Quantity::FuelTankX => place("fuel_tank.corner.x_mm", head.fuel_tank.corner.x_mm, TANK_M),
        Quantity::FuelTankY => place("fuel_tank.corner.y_mm", head.fuel_tank.corner.y_mm, TANK_M),
        Quantity::OilTankX => place("oil_tank.corner.x_mm", head.oil_tank.corner.x_mm, TANK_M),
        Quantity::OilTankY => place("oil_tank.corner.y_mm", head.oil_tank.corner.y_mm, TANK_M),
        Quantity::LinkMass | Quantity::BarMass => None,
    }
}

/// The same of a chain's mass for each link, as a share of it.
pub fn link_doubt(chain: &ChainFile) -> Option<f64> {
    let proposed = |path: &str| noted(PartKind::Chain, &chain.note, path);
    let unread = if proposed("pitch_in") || proposed("gauge_mm") { LINK_UNREAD } else { 0.0 };
    proposed("mass_per_drive_link_g").then_some(LINK.hypot(unread))
}

/// The same of the mass of a bar that nobody weighed, as a share of it: what its outline leaves open, wider with each
/// number of the outline that is proposed.
pub fn plate_doubt(bar: &BarFile) -> f64 {
    let added = |paths: &[&str], share: f64| {
        let any = paths.iter().any(|path| noted(PartKind::Bar, &bar.note, path));
        if any { share * share } else { 0.0 }
    };
    let sum = PLATE * PLATE
        + added(&["overall_length_mm"], PLATE_LENGTH)
        + added(&["body_width_mm", "tail_width_mm", "nose_radius_mm"], PLATE_WIDTH)
        + added(&["thickness_mm"], PLATE_THICKNESS)
        + added(&["construction.share"], PLATE_SHARE);
    sum.sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::propose::{common_bar, common_chain, common_powerhead, propose_powerhead, unmark_proposed};
    use crate::record::PartFile;

    fn head(own: &[&str], power_kw: f64) -> PowerheadFile {
        let mut part = common_powerhead("Own");
        own.iter().for_each(|path| unmark_proposed(&mut part, path));
        let PartFile::Powerhead(mut head) = part else { panic!("a head") };
        head.power_kw = power_kw;
        propose_powerhead(&mut head);
        *head
    }

    /// Half a kilogram, 20 mm and 15 mm, asked of a head of 4.7 kW by those who weighed: common practice, no source.
    #[test]
    fn a_head_known_by_its_power_is_known_to_half_a_kilogram_and_two_centimetres() {
        let head = head(&["power_kw"], 4.7);
        let of = |quantity| head_doubt(&head, quantity).unwrap();
        assert!((0.45..0.55).contains(&of(Quantity::DryMass)), "{}", of(Quantity::DryMass));
        assert!((0.0195..0.0215).contains(&of(Quantity::CentroidX)), "{}", of(Quantity::CentroidX));
        assert!((0.0145..0.0165).contains(&of(Quantity::SpikeLine)), "{}", of(Quantity::SpikeLine));
    }

    #[test]
    fn law_what_is_inferred_farther_is_less_sure_and_what_is_read_is_not_doubted() {
        let (far, near, nearest) =
            (head(&[], 4.7), head(&["power_kw"], 4.7), head(&["power_kw", "dry_mass_kg"], 4.7));
        for quantity in Quantity::ALL.into_iter().filter(|of| of.part() == crate::record::Part::Powerhead) {
            let of = |head: &PowerheadFile| head_doubt(head, quantity);
            assert!(of(&far) > of(&near) && of(&near) > of(&nearest), "{quantity:?}");
        }
        assert_eq!(head_doubt(&nearest, Quantity::DryMass), None);
    }

    #[test]
    fn law_each_number_of_a_bar_or_a_chain_that_is_read_makes_its_mass_surer() {
        let mut part = common_bar("Own", "slot", &crate::propose::Drive::of(&head(&[], 4.0), None));
        let doubt = |part: &PartFile| match part {
            PartFile::Bar(bar) => plate_doubt(bar),
            PartFile::Chain(chain) => link_doubt(chain).unwrap_or(0.0),
            _ => panic!("a bar or a chain"),
        };
        let mut before = doubt(&part);
        for path in ["overall_length_mm", "thickness_mm", "construction.share"] {
            unmark_proposed(&mut part, path);
            assert!(doubt(&part) < before, "{path}");
            before = doubt(&part);
        }
        let mut part = common_chain("Own", 0.375);
        let whole = doubt(&part);
        unmark_proposed(&mut part, "pitch_in");
        unmark_proposed(&mut part, "gauge_mm");
        assert!(doubt(&part) < whole);
        unmark_proposed(&mut part, "mass_per_drive_link_g");
        assert!(doubt(&part) == 0.0);
    }
}
