//! How far off a proposed number may be.
//!
//! What was only proposed is known by what it was inferred from: a mass from the power, places from the mass. Each
//! step adds its own scatter to that of the step before, in quadrature, so that a number inferred farther is less
//! sure. All are standard uncertainties.

use super::bar::Drive;
use super::blank::PITCH_IN;
use super::note::noted;
use crate::mark::Mark;
use crate::record::{BarFile, ChainFile, NoseFile, PartKind, PowerheadFile, Quantity};
use crate::units::Length;
use crate::yard::Yard;
use std::f64::consts::FRAC_PI_2;

/// Where the scatters below come from: no survey of saws was found.
pub const DOUBT_MARK: Mark = Mark::OurGuess;

/// Dry masses of heads of one power, as a share: half a kilogram on a head of 4.7 kW.
pub(super) const MASS_AT_POWER: f64 = 0.075;
/// What a power that nobody read adds to that: a guess may be a size too small or too big.
pub(super) const POWER_UNREAD: f64 = 0.15;
/// What a power read off the engine's size adds.
pub(super) const POWER_BY_SIZE: f64 = 0.08;
/// Places on heads of one mass differ by so much, m: the centre of gravity, the spike line, a tank.
pub(super) const CENTROID_M: f64 = 0.020;
pub(super) const SPIKE_LINE_M: f64 = 0.015;
pub(super) const TANK_M: f64 = 0.025;
pub(super) const GRIP_M: f64 = 0.015;
/// What a tank holds and what that weighs, as a share.
pub(super) const FLUID: f64 = 0.15;
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
pub(crate) const PLATE_LENGTH: f64 = 0.03;
pub(super) const PLATE_WIDTH: f64 = 0.05;
pub(super) const PLATE_THICKNESS: f64 = 0.06;
pub(super) const PLATE_SHARE: f64 = 0.10;
/// A chain in use is stretched by 0 to 2 % of its length, most of them little: evenly falling from new to worn out that
/// is 0.8 % root mean square (2 % over √6). A nose stands out by as much of its distance from the sprocket.
pub(super) const STRETCH: f64 = 0.02 / 2.449_489_742_783_178;
/// Drive links of the loops that are made for one length of bar.
pub(super) const LINKS_SCATTER: f64 = 1.5;
/// Counts that are thought of to either side of a proposed one.
pub(super) const LINKS_ASIDE: i32 = 4;
/// What a proposed number beside the count adds to where a nose lies: teeth of a drive sprocket, one more or fewer; the
/// radius of a nose; the height of the rivets over the rail and of the cutters over the rivets.
pub(super) const TEETH: f64 = 0.5;
pub(super) const NOSE_RADIUS: f64 = 0.10;
pub(super) const RIVETS_M: f64 = 0.001;
pub(super) const CUTTERS_M: f64 = 0.001;

/// The standard uncertainty of a head's number, SI; `None` where it is the person's own, or is no head's.
pub fn head_doubt(head: &PowerheadFile, quantity: Quantity) -> Option<f64> {
    let proposed = |path: &str| noted(PartKind::Powerhead, &head.note, path);
    let of_power = match (proposed("power_kw"), head.engine_size_cm3) {
        (true, None) => POWER_UNREAD,
        (true, Some(_)) => POWER_BY_SIZE,
        (false, _) => 0.0,
    };
    let of_mass = if proposed("dry_mass_kg") { MASS_AT_POWER.hypot(of_power) } else { 0.0 };
    let place = |path: &str, at_mm: f64, own_m: f64| {
        let by_size = LENGTH_BY_MASS * of_mass * at_mm.abs() * 1e-3;
        proposed(path).then_some(own_m.hypot(by_size))
    };
    let fluid =
        |path: &str, capacity_l: f64| proposed(path).then_some(FLUID.hypot(of_mass) * capacity_l * 1e-3);
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
        Quantity::FrontGripX => place("front_grip.x_mm", head.front_grip.x_mm, GRIP_M),
        Quantity::FrontGripY => place("front_grip.y_mm", head.front_grip.y_mm, GRIP_M),
        Quantity::RearGripX => place("rear_grip.x_mm", head.rear_grip.x_mm, GRIP_M),
        Quantity::RearGripY => place("rear_grip.y_mm", head.rear_grip.y_mm, GRIP_M),
        Quantity::FuelCapacity => fluid("fuel_tank.capacity_l", head.fuel_tank.capacity_l),
        Quantity::OilCapacity => fluid("oil_tank.capacity_l", head.oil_tank.capacity_l),
        Quantity::FuelTankX => place("fuel_tank.corner.x_mm", head.fuel_tank.corner.x_mm, TANK_M),
        Quantity::FuelTankY => place("fuel_tank.corner.y_mm", head.fuel_tank.corner.y_mm, TANK_M),
        Quantity::OilTankX => place("oil_tank.corner.x_mm", head.oil_tank.corner.x_mm, TANK_M),
        Quantity::OilTankY => place("oil_tank.corner.y_mm", head.oil_tank.corner.y_mm, TANK_M),
        Quantity::LinkMass | Quantity::BarMass | Quantity::NosePlace => None,
    }
}

/// What a bar's loop lies round.
#[derive(Clone, Copy, Debug)]
pub struct LoopRound<'a> {
    head: Option<&'a PowerheadFile>,
    chain: Option<&'a ChainFile>,
}

impl<'a> LoopRound<'a> {
    /// Of the first setup that has this bar.
    pub fn of(yard: &'a Yard, bar: &str) -> Self {
        let file = yard.file();
        let setup = file.setups.iter().find(|setup| setup.bar == bar);
        Self {
            head: setup.and_then(|setup| file.powerheads.iter().find(|head| head.name == setup.powerhead)),
            chain: setup.and_then(|setup| file.chains.iter().find(|chain| chain.name == setup.chain)),
        }
    }

    /// The drive that the loop runs on; `None` where no setup has the bar.
    pub fn drive(&self) -> Option<Drive> {
        self.head.map(|head| Drive::of(head, self.chain))
    }
}

/// How far a nose may lie from where its loop's count puts it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NoseDoubt {
    /// Standard uncertainty of what runs evenly: stretch, and proposed numbers of nose, sprocket and chain, m.
    pub even_m: f64,
    /// By how much one more link moves the nose, m, where the count is only proposed.
    pub link_m: Option<f64>,
}

impl NoseDoubt {
    /// Counts beside the proposed one, each with how likely it is before any reading; only that one, where it was read.
    pub fn counts(&self) -> Vec<(i32, f64)> {
        if self.link_m.is_none() {
            return vec![(0, 1.0)];
        }
        let weight = |aside: i32| (-0.5 * (f64::from(aside) / LINKS_SCATTER).powi(2)).exp();
        let all: f64 = (-LINKS_ASIDE..=LINKS_ASIDE).map(weight).sum();
        (-LINKS_ASIDE..=LINKS_ASIDE).map(|aside| (aside, weight(aside) / all)).collect()
    }

    /// The standard uncertainty of both together, m.
    pub fn uncertainty(&self) -> f64 {
        let link_m = self.link_m.unwrap_or(0.0);
        let by_count: f64 =
            self.counts().iter().map(|(aside, chance)| chance * (f64::from(*aside) * link_m).powi(2)).sum();
        (self.even_m.powi(2) + by_count).sqrt()
    }
}

/// How far the nose of a bar may lie from where its loop's count puts it.
pub fn nose_doubt(bar: &BarFile, round: &LoopRound<'_>) -> NoseDoubt {
    let pitch_in = round.chain.map(|chain| chain.pitch_in).or(match bar.nose {
        NoseFile::Sprocket { pitch_in } => Some(pitch_in),
        NoseFile::Solid => None,
    });
    let pitch_m = Length::from_in(pitch_in.unwrap_or(PITCH_IN)).as_m();
    let of_bar = |path: &str| noted(PartKind::Bar, &bar.note, path);
    let of_head = |path: &str| round.head.is_some_and(|head| noted(PartKind::Powerhead, &head.note, path));
    let of_chain = |path: &str| round.chain.is_some_and(|chain| noted(PartKind::Chain, &chain.note, path));
    let when = |doubted: bool, moves_m: f64| if doubted { moves_m * moves_m } else { 0.0 };
    // A loop is about twice as long as its bar: links × pitch is half of it.
    let half_loop_m = f64::from(bar.marked_drive_links) * pitch_m;
    let sum = (STRETCH * half_loop_m).powi(2)
        + when(of_head("sprocket.teeth"), TEETH * pitch_m)
        // A wider nose takes up chain by half its circumference and reaches farther by its radius.
        + when(of_bar("nose_radius_mm"), (FRAC_PI_2 - 1.0) * NOSE_RADIUS * bar.nose_radius_mm * 1e-3)
        + when(of_chain("rail_to_rivet_mm"), RIVETS_M)
        + when(of_chain("cutter_height_mm"), CUTTERS_M);
    NoseDoubt { even_m: sum.sqrt(), link_m: of_bar("marked_drive_links").then_some(pitch_m) }
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
