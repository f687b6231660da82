//! What the cut asks of the saw: rate and time, cutters in the wood, feed, and how hard the log pulls.

use crate::fault::Fault;
use crate::mark::Mark;
use crate::section::{checked, limits};
use crate::units::{Area, Force, Length, Power, Speed};

/// Energy to turn wood into chips, J/cm³, where nothing better is known. With our kerf it lies between the cutting alone and
/// the whole of J. For. Sci. 2025, 71(2):72–85.
pub const DEFAULT_SPECIFIC_ENERGY_J_CM3: f64 = 60.0;
/// Where that comes from.
pub const CUTTING_ENERGY_MARK: Mark = Mark::OurGuess;
/// Kerf where nothing better is known.
pub const DEFAULT_KERF: Length = Length::from_mm(7.5);
/// Where that comes from.
pub const KERF_MARK: Mark = Mark::OurGuess;

const J_M3_PER_J_CM3: f64 = 1e6;

/// A saw as it works in the wood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CuttingSaw {
    weight: Force,
    power: Power,
    drive_efficiency: f64,
    chain_speed: Speed,
    kerf: Length,
    cutter_spacing: Length,
    specific_energy_j_m3: f64,
}

/// The figures a [`CuttingSaw`] is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SawFigures {
    /// Weight of the whole saw with bar, chain and what is in the tanks.
    pub weight: Force,
    /// Engine power.
    pub power: Power,
    /// Share of the power that arrives at the chain, 0.1…1.
    pub drive_efficiency: f64,
    /// Speed of the chain in the cut.
    pub chain_speed: Speed,
    /// Width of the kerf.
    pub kerf: Length,
    /// Spacing of the cutters along the chain, either side counted.
    pub cutter_spacing: Length,
    /// Energy to turn a volume of wood into chips, J/cm³.
    pub specific_energy_j_cm3: f64,
}

impl CuttingSaw {
    /// Checks the figures.
    ///
    /// # Errors
    /// The first figure out of its range.
    pub fn new(figures: &SawFigures) -> Result<Self, Fault> {
        checked("weight", &limits::SAW_WEIGHT, figures.weight.as_n())?;
        checked("power", &limits::SAW_POWER, figures.power.as_w())?;
        checked("drive_efficiency", &limits::DRIVE_EFFICIENCY, figures.drive_efficiency)?;
        checked("chain_speed", &limits::CHAIN_SPEED, figures.chain_speed.as_m_s())?;
        checked("kerf", &limits::KERF, figures.kerf.as_mm())?;
        checked("cutter_spacing", &limits::CUTTER_SPACING, figures.cutter_spacing.as_mm())?;
        checked("specific_energy", &limits::SPECIFIC_ENERGY, figures.specific_energy_j_cm3)?;
        Ok(Self {
            weight: figures.weight,
            power: figures.power,
            drive_efficiency: figures.drive_efficiency,
            chain_speed: figures.chain_speed,
            kerf: figures.kerf,
            cutter_spacing: figures.cutter_spacing,
            specific_energy_j_m3: figures.specific_energy_j_cm3 * J_M3_PER_J_CM3,
        })
    }

    /// Weight of the whole saw.
    pub const fn weight(&self) -> Force {
        self.weight
    }

    /// Power at the chain.
    pub fn chain_power(&self) -> Power {
        self.power * self.drive_efficiency
    }

    /// The most the chain can pull the saw into the wood: power × drive efficiency / chain speed. The log takes it
    /// when the spikes are set, the arms take it when they are not.
    pub fn pull_in(&self) -> Force {
        Force::from_n(self.chain_power().as_w() / self.chain_speed.as_m_s())
    }

    /// Section cut in a second, m²/s: power at the chain / (kerf × specific cutting energy).
    pub fn rate_m2_s(&self) -> f64 {
        self.chain_power().as_w() / (self.kerf.as_m() * self.specific_energy_j_m3)
    }

    /// Time to cut an area at full power, s.
    pub fn time_s(&self, area: Area) -> f64 {
        area.as_m2() / self.rate_m2_s()
    }

    /// Cutters in the wood at once where the bar lies in this much of it.
    pub fn cutters_in_wood(&self, wood: Length) -> f64 {
        wood / self.cutter_spacing
    }

    /// How deep each cutter bites at full power where the bar lies in this much wood: the bar advances by rate / wood,
    /// and as far as that in the time from one cutter to the next. `None` for no wood.
    pub fn feed_per_cutter(&self, wood: Length) -> Option<Length> {
        let feed_m_s = self.rate_m2_s() / wood.as_m();
        let feed = Length::from_m(feed_m_s * self.cutter_spacing.as_m() / self.chain_speed.as_m_s());
        (wood > Length::ZERO && feed.is_finite()).then_some(feed)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn figures() -> SawFigures {
        SawFigures {
            weight: Force::from_n(70.0),
            power: Power::from_kw(4.0),
            drive_efficiency: 0.9,
            chain_speed: Speed::from_m_s(20.0),
            kerf: DEFAULT_KERF,
            cutter_spacing: Length::from_mm(38.1),
            specific_energy_j_cm3: DEFAULT_SPECIFIC_ENERGY_J_CM3,
        }
    }

    #[test]
    fn the_default_energy_meets_the_published_rate_within_a_factor_of_two() {
        // J. For. Sci. 2025, 71(2):72–85: an electric rig, 77.8 W·s/cm² at 27.9 cm²/s, 46 % of it cutting.
        let drawn = Power::from_w(77.8 * 27.9);
        let rig = CuttingSaw::new(&SawFigures { power: drawn, drive_efficiency: 0.46, ..figures() }).unwrap();
        let rate_cm2_s = Area::from_m2(rig.rate_m2_s()).as_cm2();
        assert!((0.5..2.0).contains(&(rate_cm2_s / 27.9)), "{rate_cm2_s}");
    }

    #[test]
    fn pull_in_is_power_over_speed() {
        let saw = CuttingSaw::new(&figures()).unwrap();
        assert_relative_eq!(saw.pull_in().as_n(), 180.0, max_relative = 1e-14);
    }

    #[test]
    fn cutters_carry_away_what_the_rate_says() {
        // Chips: every cutter takes feed × kerf × wood, and v / spacing cutters pass in a second.
        let saw = CuttingSaw::new(&figures()).unwrap();
        let wood = Length::from_mm(400.0);
        let feed = saw.feed_per_cutter(wood).unwrap();
        let passes = saw.chain_speed.as_m_s() / saw.cutter_spacing.as_m();
        assert_relative_eq!(feed.as_m() * wood.as_m() * passes, saw.rate_m2_s(), max_relative = 1e-13);
        assert_relative_eq!(saw.cutters_in_wood(wood), 400.0 / 38.1, max_relative = 1e-13);
        assert_eq!(saw.feed_per_cutter(Length::ZERO), None);
    }

    #[test]
    fn law_twice_the_wood_takes_twice_the_time() {
        let saw = CuttingSaw::new(&figures()).unwrap();
        let (one, two) = (saw.time_s(Area::from_m2(0.1)), saw.time_s(Area::from_m2(0.2)));
        assert_relative_eq!(two, 2.0 * one, max_relative = 1e-14);
    }

    #[test]
    fn figures_out_of_range_are_refused() {
        for bad in [
            SawFigures { drive_efficiency: 0.0, ..figures() },
            SawFigures { chain_speed: Speed::from_m_s(f64::NAN), ..figures() },
            SawFigures { kerf: Length::ZERO, ..figures() },
            SawFigures { specific_energy_j_cm3: -60.0, ..figures() },
        ] {
            assert!(CuttingSaw::new(&bad).unwrap_err().message.contains("is outside"));
        }
    }
}
