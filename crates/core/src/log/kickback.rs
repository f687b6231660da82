//! Two setups compared by what a snagged chain does to them. A comparison, never a rating.

use crate::cautions::KICKBACK_CAUTION;
use crate::fault::Fault;
use crate::geometry::{Point, Vector};
use crate::saw::MassPart;
use crate::section::{checked, limits};
use crate::units::{Angle, Length, Mass, Speed};

/// What the planar impact needs to know of a setup.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ImpactSetup {
    saw: MassPart,
    nose_centre: Point,
    nose_radius_m: f64,
    chain_side_kg: f64,
    chain_speed_m_s: f64,
}

impl ImpactSetup {
    /// The saw's mass, centroid and inertia; its nose circle over the cutters, in the same frame; what moves with the
    /// chain (links, and the drum if the clutch holds); the chain's speed.
    ///
    /// # Errors
    /// A mass, inertia, radius or speed that is not a positive finite number.
    pub fn new(
        saw: MassPart,
        nose_centre: Point,
        nose_radius: Length,
        chain_side: Mass,
        chain_speed: Speed,
    ) -> Result<Self, Fault> {
        let figures = [
            ("saw.mass", saw.mass_kg),
            ("saw.inertia", saw.inertia_kg_m2),
            ("nose_radius", nose_radius.as_m()),
            ("chain_side", chain_side.as_kg()),
            ("chain_speed", chain_speed.as_m_s()),
        ];
        for (path, value) in figures {
            if !(value > 0.0 && value.is_finite()) {
                let message = format!("{path} {value} is not above 0");
                return Err(Fault { path: path.to_owned(), message });
            }
        }
        let places = [saw.centroid.x, saw.centroid.y, nose_centre.x, nose_centre.y];
        if places.iter().any(|place| !place.is_finite()) {
            let message = "centroid and nose must lie somewhere".to_owned();
            return Err(Fault { path: "nose_centre".to_owned(), message });
        }
        Ok(Self {
            saw,
            nose_centre,
            nose_radius_m: nose_radius.as_m(),
            chain_side_kg: chain_side.as_kg(),
            chain_speed_m_s: chain_speed.as_m_s(),
        })
    }

    /// The impulse that brings the chain to rest on the saw, and what it leaves the saw with.
    fn impact(&self, contact_rad: f64) -> Impact {
        let (sin, cos) = contact_rad.sin_cos();
        let contact = self.nose_centre + self.nose_radius_m * Vector::new(cos, sin);
        let push = Vector::new(-sin, cos);
        let lever_m = (contact - self.saw.centroid).perp(&push);
        let felt_kg = 1.0 / (1.0 / self.saw.mass_kg + lever_m * lever_m / self.saw.inertia_kg_m2);
        let impulse_n_s =
            self.chain_speed_m_s * self.chain_side_kg * felt_kg / (self.chain_side_kg + felt_kg);
        let rate_rad_s = impulse_n_s * lever_m / self.saw.inertia_kg_m2;
        let to_nose = self.nose_centre - self.saw.centroid;
        let nose = impulse_n_s / self.saw.mass_kg * push + rate_rad_s * Vector::new(-to_nose.y, to_nose.x);
        Impact {
            energy_j: impulse_n_s * impulse_n_s / (2.0 * felt_kg),
            rate_rad_s,
            nose_speed_m_s: nose.norm(),
        }
    }
}

#[derive(Clone, Copy, Debug)]
struct Impact {
    energy_j: f64,
    rate_rad_s: f64,
    nose_speed_m_s: f64,
}

/// A second setup over a first: ratios only.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KickbackRatios {
    /// Where the nose is touched: 0 at the tip, 90° at the top of the nose.
    pub contact: Angle,
    /// Energy into the saw.
    pub energy: f64,
    /// Pitch rate.
    pub pitch_rate: f64,
    /// Speed of the nose centre.
    pub nose_speed: f64,
    /// The words that go with every comparison.
    pub sentence: &'static str,
}

/// The contact angle where none is chosen: half-way up the quadrant.
pub const DEFAULT_CONTACT: Angle = Angle::from_deg(45.0);

/// Compares a second setup with a first by the planar impact of a snagged chain, both free in the hands.
///
/// The chain side (mass `m`, speed `v`) comes to rest on the saw at the contact; impulse direction `(−sin φ, cos φ)`,
/// lever arm `b` about the centroid, `1/M = 1/mass + b²/I`: impulse `J = v·m·M / (m + M)`, energy into the saw
/// `J²/2M`, pitch rate `J·b/I`, nose speed from both.
///
/// # Errors
/// A contact angle outside 0…90°, or a contact in line with the first saw's centroid, which turns it not at all.
pub fn compare_kickback(
    first: &ImpactSetup,
    second: &ImpactSetup,
    contact: Angle,
) -> Result<KickbackRatios, Fault> {
    checked("contact", &limits::CONTACT_ANGLE, contact.as_deg())?;
    let (a, b) = (first.impact(contact.as_rad()), second.impact(contact.as_rad()));
    let ratios = KickbackRatios {
        contact,
        energy: b.energy_j / a.energy_j,
        pitch_rate: b.rate_rad_s / a.rate_rad_s,
        nose_speed: b.nose_speed_m_s / a.nose_speed_m_s,
        sentence: KICKBACK_CAUTION,
    };
    if [ratios.energy, ratios.pitch_rate, ratios.nose_speed].iter().all(|ratio| ratio.is_finite()) {
        return Ok(ratios);
    }
    let message = format!("a contact at {:.0}° does not turn the first saw: no ratio", contact.as_deg());
    Err(Fault { path: "contact".to_owned(), message })
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn setup(reach_m: f64) -> ImpactSetup {
        let saw = MassPart { mass_kg: 7.0, centroid: Point::new(0.02, 0.03), inertia_kg_m2: 0.2 };
        ImpactSetup::new(
            saw,
            Point::new(reach_m, 0.0),
            Length::from_mm(36.0),
            Mass::from_kg(0.35),
            Speed::from_m_s(20.0),
        )
        .unwrap()
    }

    /// Chain and saw as two bodies joined by a stiff slipping spring, stepped through time until the chain rests on the
    /// saw: no closed form of the impact in it.
    fn stepped(setup: &ImpactSetup, contact_rad: f64) -> Impact {
        let (sin, cos) = contact_rad.sin_cos();
        let contact = setup.nose_centre + setup.nose_radius_m * Vector::new(cos, sin);
        let push = Vector::new(-sin, cos);
        let arm = contact - setup.saw.centroid;
        let (mut chain_m_s, mut saw_m_s, mut turn_rad_s) = (setup.chain_speed_m_s, Vector::zeros(), 0.0);
        let (force_n, step_s) = (20_000.0, 1e-9);
        let mut steps = 0_u32;
        loop {
            let at_contact = saw_m_s + turn_rad_s * Vector::new(-arm.y, arm.x);
            // The chain runs against the push on the saw: it slips until both meet at the contact.
            if chain_m_s - at_contact.dot(&push) <= 0.0 {
                break;
            }
            chain_m_s -= force_n / setup.chain_side_kg * step_s;
            saw_m_s += force_n / setup.saw.mass_kg * step_s * push;
            turn_rad_s += force_n * arm.perp(&push) / setup.saw.inertia_kg_m2 * step_s;
            steps += 1;
            assert!(steps < 2_000_000, "the chain never came to rest");
        }
        let to_nose = setup.nose_centre - setup.saw.centroid;
        Impact {
            energy_j: 0.5 * setup.saw.mass_kg * saw_m_s.norm_squared()
                + 0.5 * setup.saw.inertia_kg_m2 * turn_rad_s * turn_rad_s,
            rate_rad_s: turn_rad_s,
            nose_speed_m_s: (saw_m_s + turn_rad_s * Vector::new(-to_nose.y, to_nose.x)).norm(),
        }
    }

    #[test]
    fn the_impact_is_what_time_steps_arrive_at() {
        for reach_m in [0.4, 0.55, 0.8] {
            for contact in [0.0_f64, 20.0, 45.0, 90.0] {
                let (exact, stepped) = (
                    setup(reach_m).impact(contact.to_radians()),
                    stepped(&setup(reach_m), contact.to_radians()),
                );
                // One step more or less of some 300 000.
                assert_relative_eq!(exact.energy_j, stepped.energy_j, max_relative = 1e-4);
                assert_relative_eq!(exact.rate_rad_s, stepped.rate_rad_s, max_relative = 1e-4);
                assert_relative_eq!(exact.nose_speed_m_s, stepped.nose_speed_m_s, max_relative = 1e-4);
            }
        }
    }

    #[test]
    fn a_petrol_saw_pitches_as_fast_as_measured_ones() {
        // Arnold & Parmigiani 2015, Forest Prod. J. 65:232–238: typically above 1000 °/s.
        // An invented 7 kg saw at full speed, the clutch holding, so that the drum turns on with the chain.
        let saw = MassPart { mass_kg: 7.0, centroid: Point::new(0.02, 0.03), inertia_kg_m2: 0.16 };
        let at_full_speed = ImpactSetup { saw, chain_side_kg: 0.6, chain_speed_m_s: 25.0, ..setup(0.5) };
        let rate = Angle::from_rad(at_full_speed.impact(DEFAULT_CONTACT.as_rad()).rate_rad_s);
        assert!(rate.as_deg() > 1000.0, "{rate:?}");
    }

    #[test]
    fn law_a_setup_compares_as_one_with_itself_and_inversely_with_another() {
        let same = compare_kickback(&setup(0.5), &setup(0.5), DEFAULT_CONTACT).unwrap();
        assert_relative_eq!(same.energy, 1.0, max_relative = 1e-14);
        let there = compare_kickback(&setup(0.5), &setup(0.7), DEFAULT_CONTACT).unwrap();
        let back = compare_kickback(&setup(0.7), &setup(0.5), DEFAULT_CONTACT).unwrap();
        assert_relative_eq!(there.energy * back.energy, 1.0, max_relative = 1e-13);
        assert_relative_eq!(there.nose_speed * back.nose_speed, 1.0, max_relative = 1e-13);
        assert_eq!(there.sentence, KICKBACK_CAUTION);
    }

    #[test]
    fn law_twice_the_speed_is_four_times_the_energy() {
        let slow = setup(0.5);
        let fast = ImpactSetup { chain_speed_m_s: 2.0 * slow.chain_speed_m_s, ..slow };
        let ratios = compare_kickback(&slow, &fast, DEFAULT_CONTACT).unwrap();
        assert_relative_eq!(ratios.energy, 4.0, max_relative = 1e-13);
        assert_relative_eq!(ratios.pitch_rate, 2.0, max_relative = 1e-13);
    }

    #[test]
    fn what_is_no_setup_is_refused() {
        let good = setup(0.5);
        let with = |saw: MassPart, speed: f64| {
            ImpactSetup::new(
                saw,
                good.nose_centre,
                Length::from_mm(36.0),
                Mass::from_kg(0.3),
                Speed::from_m_s(speed),
            )
        };
        assert!(with(MassPart::NOTHING, 20.0).is_err());
        assert!(with(good.saw, 0.0).is_err());
        assert!(with(good.saw, f64::NAN).is_err());
        assert!(compare_kickback(&good, &good, Angle::from_deg(91.0)).unwrap_err().message.contains("0…90"));
        assert!(compare_kickback(&good, &good, Angle::from_deg(f64::NAN)).is_err());
    }
}
