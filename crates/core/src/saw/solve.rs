//! The whole chain of figures for one setup.

use super::balance::{Hands, HandsError, HangError, hands, hang_angle, nose_moment, swing_inertia};
use super::drive::{DRIVE_EFFICIENCY, chain_energy_j, chain_speed, pull_in_force};
use super::mass::MassPart;
use super::nose::NoseZone;
use super::parts::{Links, Setup};
use crate::geometry::Point;
use crate::units::{Angle, Force, Inertia, Length, Mass, STANDARD_GRAVITY_M_S2, Speed, Torque};

/// Every figure of a setup. Saw frame: origin at the sprocket centre, x to the nose, y to the front handle.
#[derive(Clone, Debug, PartialEq)]
pub struct Solved {
    /// Name of the setup.
    pub setup: String,
    /// The parts the total is made of.
    pub masses: PartMasses,
    /// The saw ready to work, as one part.
    pub saw: MassPart,
    /// Hang angle from the front grip, nose down positive.
    pub hang: Result<Angle, HangError>,
    /// Hands with the saw held level.
    pub hands: Result<Hands, HandsError>,
    /// Moment of the weight about the front grip, nose down positive.
    pub nose_moment: Torque,
    /// Inertia about the front grip.
    pub swing_inertia: Inertia,
    /// Length of the loop.
    pub loop_length: Length,
    /// Sprocket centre to nose centre.
    pub centre_distance: Length,
    /// Drive links.
    pub links: Links,
    /// How far the tensioner stands out from fully back.
    pub tensioner_out: Length,
    /// The nose and its kickback zone.
    pub nose: NoseZone,
    /// Usable reach: cutters' tip at the nose past the spike line.
    pub reach: Length,
    /// Chain speed at the engine speed of full power, without slip.
    pub chain_speed: Speed,
    /// The most that the chain can pull the saw into the wood at full power.
    pub pull_in: Option<Force>,
    /// The longest bar that the head is meant for, where this one is marked longer: such a setup is out unless the
    /// person lifts that limit knowingly.
    pub beyond_longest_bar: Option<Length>,
    /// Energy of motion of the chain at that speed, J.
    pub chain_energy_j: f64,
    front_grip: Point,
    rear_grip: Point,
}

/// What each part weighs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PartMasses {
    /// Powerhead without bar, chain and fluids.
    pub powerhead: Mass,
    /// Guide bar.
    pub bar: Mass,
    /// Saw chain.
    pub chain: Mass,
    /// Fuel.
    pub fuel: Mass,
    /// Bar oil.
    pub oil: Mass,
    /// Fitted extras.
    pub extras: Mass,
}

impl PartMasses {
    /// Fuel and oil together.
    pub fn fluids(&self) -> Mass {
        self.fuel + self.oil
    }
}

impl Solved {
    /// True where the saw hangs, and its nose no lower than a limit, nose down positive.
    pub fn hangs_within(&self, limit: Angle) -> bool {
        self.hang.is_ok_and(|hang| hang <= limit)
    }

    /// Weight ready to work.
    pub fn ready_mass(&self) -> Mass {
        self.saw.mass()
    }

    /// Weight as a force.
    pub fn weight(&self) -> Force {
        Force::from_n(self.saw.mass_kg * STANDARD_GRAVITY_M_S2)
    }

    /// Front-hand load over weight with the saw level: 1 means that hand carries exactly the saw.
    ///
    /// # Errors
    /// As for the hands.
    pub fn front_hand_ratio(&self) -> Result<f64, HandsError> {
        self.hands.map(|hands| hands.front / self.weight())
    }

    /// Middle of the front hand, saw frame, m.
    pub const fn front_grip(&self) -> Point {
        self.front_grip
    }

    /// Middle of the rear hand, saw frame, m.
    pub const fn rear_grip(&self) -> Point {
        self.rear_grip
    }

    /// Hands with the saw held at a pitch angle, nose up positive.
    ///
    /// # Errors
    /// Where the grips then lie in one plumb line.
    pub fn hands_at(&self, pitch: Angle) -> Result<Hands, HandsError> {
        hands(&self.saw, self.front_grip, self.rear_grip, pitch)
    }
}

/// The parts of a setup in the saw frame: powerhead, bar, fuel, oil, then the chain's four runs, then extras.
pub fn parts(setup: &Setup) -> Vec<MassPart> {
    let head = setup.powerhead();
    let mut parts = vec![
        head.dry(),
        setup.bar().part(setup.nose_centre()),
        head.fuel_tank().fluid(setup.fuel_fill()),
        head.oil_tank().fluid(setup.oil_fill()),
    ];
    let kg_per_m = setup.chain_mass().as_kg() / setup.path().length().as_m();
    parts.extend(setup.path().lines().iter().map(|line| MassPart::line(kg_per_m, line)));
    parts.extend(setup.extras().iter().map(|extra| extra.part));
    parts
}

/// Computes every figure of a setup.
pub fn solve(setup: &Setup) -> Solved {
    let head = setup.powerhead();
    let saw = MassPart::sum(parts(setup).iter().copied());
    let path = setup.path();
    let nose = setup.nose_zone();
    let speed = chain_speed(head.sprocket(), head.power_rpm());
    let chain = setup.chain_mass();
    Solved {
        setup: setup.name().to_owned(),
        masses: PartMasses {
            powerhead: head.dry().mass(),
            bar: setup.bar().mass(),
            chain,
            fuel: head.fuel_tank().fluid(setup.fuel_fill()).mass(),
            oil: head.oil_tank().fluid(setup.oil_fill()).mass(),
            extras: Mass::from_kg(setup.extras().iter().map(|extra| extra.part.mass_kg).sum()),
        },
        saw,
        hang: hang_angle(&saw, head.front_grip()),
        hands: hands(&saw, head.front_grip(), head.rear_grip(), Angle::ZERO),
        nose_moment: nose_moment(&saw, head.front_grip()),
        swing_inertia: swing_inertia(&saw, head.front_grip()),
        loop_length: path.length(),
        centre_distance: path.centre_distance(),
        links: setup.links(),
        tensioner_out: setup.tensioner_out(),
        nose,
        reach: setup.reach(),
        chain_speed: speed,
        pull_in: pull_in_force(head.power(), DRIVE_EFFICIENCY, speed),
        beyond_longest_bar: setup.beyond_longest_bar(),
        chain_energy_j: chain_energy_j(chain, speed),
        front_grip: head.front_grip(),
        rear_grip: head.rear_grip(),
    }
}
