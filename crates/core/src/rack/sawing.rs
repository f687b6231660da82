//! A setup as it goes through a wood: its bar, its body in the hands, and what it cuts and burns in a second.

use super::rates::WorkRates;
use crate::fault::Fault;
use crate::geometry::Vector;
use crate::log::{CuttingBar, CuttingSaw, SawFigures, cutting_bar, saw_body};
use crate::person::SawBody;
use crate::saw::{Setup, Solved};
use crate::units::{Force, Length, Mass};
use crate::yard::Wood;

const J_PER_KWH: f64 = 3.6e6;
const S_PER_MIN: f64 = 60.0;

/// A setup at work in a wood.
#[derive(Clone, Debug)]
pub struct Sawing {
    pub(super) bar: CuttingBar,
    pub(super) saw: CuttingSaw,
    pub(super) body: SawBody,
}

/// Fuel and oil, m³/s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Burns {
    pub(super) fuel_m3_s: f64,
    pub(super) idle_m3_s: f64,
    pub(super) oil_m3_s: f64,
}

impl Sawing {
    /// A setup in a wood.
    ///
    /// # Errors
    /// A bar too short past the spikes to cut with, or a figure out of the range that makes sense in the wood.
    pub fn new(setup: &Setup, solved: &Solved, wood: &Wood, rates: &WorkRates) -> Result<Self, Fault> {
        Ok(Self {
            bar: cutting_bar(setup)?,
            saw: saw_in(setup, solved.weight(), solved, wood, rates)?,
            body: saw_body(setup, solved),
        })
    }

    /// The same saw with more reach.
    pub(super) fn with_reach_more(&self, more_m: f64) -> Result<Self, Fault> {
        let bar = self.bar.with_reach(self.bar.reach() + Length::from_m(more_m))?;
        Ok(Self { bar, ..self.clone() })
    }

    /// The same setup's saw with more mass, and its centre of gravity elsewhere, in the hands.
    pub(super) fn with_body_more(
        &self,
        setup: &Setup,
        solved: &Solved,
        work: (&Wood, &WorkRates),
        more_kg: f64,
        centre_by: Vector,
    ) -> Result<Self, Fault> {
        let mass = Mass::from_kg(self.body.mass_kg() + more_kg);
        Ok(Self {
            bar: self.bar,
            saw: saw_in(setup, Force::from_kgf(mass.as_kg()), solved, work.0, work.1)?,
            body: self.body.clone().with_saw(mass, self.body.centre() + centre_by),
        })
    }

    /// The bar past the spikes.
    pub const fn bar(&self) -> &CuttingBar {
        &self.bar
    }
}

/// A saw as it cuts in a wood.
fn saw_in(
    setup: &Setup,
    weight: Force,
    solved: &Solved,
    wood: &Wood,
    rates: &WorkRates,
) -> Result<CuttingSaw, Fault> {
    CuttingSaw::new(&SawFigures {
        weight,
        power: setup.powerhead().power(),
        drive_efficiency: rates.drive_efficiency,
        chain_speed: solved.chain_speed,
        kerf: rates.kerf,
        cutter_spacing: setup.chain().cutter_spacing(),
        specific_energy_j_cm3: wood.hardness().energy_j_cm3,
    })
}

impl Burns {
    pub(super) fn new(setup: &Setup, rates: &WorkRates) -> Self {
        let head = setup.powerhead();
        let full = head.fuel_tank().fluid(1.0).mass_kg;
        let density_kg_m3 = full / head.fuel_tank().capacity().as_m3();
        let fuel_kg_s = head.power().as_w() / J_PER_KWH * rates.fuel_g_per_kwh / 1e3;
        let per_minute = |ml: f64| ml * 1e-6 / S_PER_MIN;
        // The pump turns with the engine.
        let pump_ml_per_min = head.pump_ml_per_min() * head.power_rpm() / head.pump_rpm();
        Self {
            fuel_m3_s: fuel_kg_s / density_kg_m3,
            idle_m3_s: per_minute(rates.idle_ml_per_min),
            oil_m3_s: per_minute(pump_ml_per_min),
        }
    }
}
