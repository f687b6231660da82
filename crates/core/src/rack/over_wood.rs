//! One setup over a whole mix of wood.

use super::log_cut::{Doing, LogCut, log_cut};
use crate::fault::Fault;
use crate::log::{DEFAULT_KERF, PhaseTimes, Stand, cutting_bar};
use crate::saw::{DRIVE_EFFICIENCY, Setup, Solved, pull_in_force};
use crate::units::{Area, Length, Volume};
use crate::yard::Wood;
use std::f64::consts::FRAC_PI_4;

const J_PER_KWH: f64 = 3.6e6;
const J_M3_PER_J_CM3: f64 = 1e6;
const S_PER_MIN: f64 = 60.0;

/// What the work takes beside the wood itself; every one is *common practice, no source*, and the person's to change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WorkRates {
    /// Width of the kerf.
    pub kerf: Length,
    /// Share of the engine's power that arrives at the chain.
    pub drive_efficiency: f64,
    /// Times to touch down, slide off and pull back.
    pub times: PhaseTimes,
    /// Fuel for the work of the engine at full power, g/kWh.
    pub fuel_g_per_kwh: f64,
    /// Fuel while the saw idles from setting to setting, mL/min.
    pub idle_ml_per_min: f64,
}

impl Default for WorkRates {
    fn default() -> Self {
        Self {
            kerf: DEFAULT_KERF,
            drive_efficiency: DRIVE_EFFICIENCY,
            times: PhaseTimes::default(),
            fuel_g_per_kwh: 450.0,
            idle_ml_per_min: 5.0,
        }
    }
}

/// What a setup does with a mix. Shares are of all cuts, and the four of them make one; what follows holds for the
/// cuts that are done, from where the sawyer may stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OverWood {
    /// Share of the cuts done with the spikes set once.
    pub one_setting: f64,
    /// Share done from one side by setting again.
    pub resetting: f64,
    /// Share that needs both sides.
    pub both_sides: f64,
    /// Share that cannot be cut.
    pub cannot: f64,
    /// Share done from where the sawyer may stand.
    pub done: f64,
    /// Section cut through.
    pub area: Area,
    /// Way of the nose out of sight, for each cut done, the mean.
    pub hidden_per_cut: Length,
    /// Lifts to the bark for each cut done, the mean.
    pub lifts_per_cut: f64,
    /// Force times time in the hands for each cut done, the mean, N·s.
    pub hands_newton_seconds_per_cut: f64,
    /// Time in the wood at full power over the mix, s.
    pub cutting_s: f64,
    /// Time to touch down, slide off and pull back over the mix, s.
    pub resetting_s: f64,
    /// Fuel for the mix.
    pub fuel: Volume,
    /// Bar oil for the mix.
    pub oil: Volume,
}

impl OverWood {
    /// A quantity for each square metre of section done; `None` where nothing is.
    pub fn per_m2(&self, quantity: f64) -> Option<f64> {
        (self.area.as_m2() > 0.0).then(|| quantity / self.area.as_m2())
    }
}

/// Puts a setup through a mix by the full plan of every diameter.
///
/// # Errors
/// A bar too short past the spikes to cut with.
pub fn over_wood(setup: &Setup, solved: &Solved, wood: &Wood, rates: &WorkRates) -> Result<OverWood, Fault> {
    let bar = cutting_bar(setup)?;
    over_wood_with(setup, solved, wood, rates, |diameter, tangled| log_cut(wood, &bar, diameter, tangled))
}

/// The same with each log's cut from elsewhere, such as a [`super::ReachTable`].
///
/// # Errors
/// Whatever the cuts' source refuses.
pub fn over_wood_with(
    setup: &Setup,
    solved: &Solved,
    wood: &Wood,
    rates: &WorkRates,
    cut_of: impl Fn(Length, bool) -> Result<LogCut, Fault>,
) -> Result<OverWood, Fault> {
    let saw = Saw::new(setup, solved, wood, rates);
    let mut sums = Sums::default();
    let lifted = wood.lifted_share();
    for log in wood.logs() {
        let (cuts, area_m2) = (f64::from(log.cuts), FRAC_PI_4 * log.diameter.as_m().powi(2));
        for (tangled, share) in [(true, wood.tangled_share()), (false, 1.0 - wood.tangled_share())] {
            if share <= 0.0 {
                continue;
            }
            let (cut, count) = (cut_of(log.diameter, tangled)?, cuts * share);
            sums.sort(cut.doing, count);
            if !is_done(cut.doing, wood.stand()) {
                continue;
            }
            let settings = f64::from(cut.settings);
            sums.done += count;
            sums.area_m2 += count * area_m2;
            sums.hidden_m += count * cut.hidden.as_m();
            sums.lifts += count * settings;
            let swing_s = area_m2 / saw.rate_m2_s;
            sums.hands += count * (saw.hands(&cut, rates) + lifted * saw.lifted_more(&cut, rates, swing_s));
            let around_s = settings * (rates.times.touch_down_s() + rates.times.last_slide_s());
            sums.resetting_s += count * (around_s + (settings - 1.0) * rates.times.pull_back_s());
        }
    }
    Ok(sums.told(&saw, wood.cuts()))
}

/// True where the sawyer may stand as this takes.
const fn is_done(doing: Doing, stand: Stand) -> bool {
    match doing {
        Doing::OneSetting | Doing::Resetting => true,
        Doing::BothSides => !matches!(stand, Stand::OneSide),
        Doing::Cannot => false,
    }
}

/// The saw in the wood.
struct Saw {
    weight_n: f64,
    pull_in_n: f64,
    rate_m2_s: f64,
    fuel_m3_s: f64,
    idle_m3_s: f64,
    oil_m3_s: f64,
}

impl Saw {
    fn new(setup: &Setup, solved: &Solved, wood: &Wood, rates: &WorkRates) -> Self {
        let head = setup.powerhead();
        let chain_w = head.power().as_w() * rates.drive_efficiency;
        let energy_j_m3 = wood.hardness().energy_j_cm3 * J_M3_PER_J_CM3;
        let full = head.fuel_tank().fluid(1.0).mass_kg;
        let density_kg_m3 = full / head.fuel_tank().capacity().as_m3();
        let fuel_kg_s = head.power().as_w() / J_PER_KWH * rates.fuel_g_per_kwh / 1e3;
        let per_minute = |ml: f64| ml * 1e-6 / S_PER_MIN;
        // The pump turns with the engine.
        let pump_ml_per_min = head.pump_ml_per_min() * head.power_rpm() / head.pump_rpm();
        Self {
            weight_n: solved.weight().as_n(),
            pull_in_n: pull_in_force(head.power(), rates.drive_efficiency, solved.chain_speed)
                .map_or(0.0, |force| force.as_n()),
            rate_m2_s: chain_w / (rates.kerf.as_m() * energy_j_m3),
            fuel_m3_s: fuel_kg_s / density_kg_m3,
            idle_m3_s: per_minute(rates.idle_ml_per_min),
            oil_m3_s: per_minute(pump_ml_per_min),
        }
    }

    /// Force times time in the hands where the log carries the swing: as [`crate::log::carry`].
    fn hands(&self, cut: &LogCut, rates: &WorkRates) -> f64 {
        let settings = f64::from(cut.settings);
        let laid_on = settings * self.weight_n + f64::from(cut.touching) * self.pull_in_n;
        let taken_off = settings * self.weight_n + f64::from(cut.sliding) * self.pull_in_n;
        laid_on * rates.times.touch_down_s()
            + taken_off * rates.times.last_slide_s()
            + (settings - 1.0).max(0.0) * self.weight_n * rates.times.pull_back_s()
    }

    /// What comes on top where the saw is held through the swing: its weight and the pull-in all along.
    fn lifted_more(&self, cut: &LogCut, rates: &WorkRates, swing_s: f64) -> f64 {
        let quiet_s = f64::from(cut.settings - cut.touching) * rates.times.touch_down_s()
            + f64::from(cut.settings - cut.sliding) * rates.times.last_slide_s();
        (self.weight_n + self.pull_in_n) * swing_s + self.pull_in_n * quiet_s
    }
}

#[derive(Default)]
struct Sums {
    one: f64,
    again: f64,
    both: f64,
    cannot: f64,
    done: f64,
    area_m2: f64,
    hidden_m: f64,
    lifts: f64,
    hands: f64,
    resetting_s: f64,
}

impl Sums {
    fn sort(&mut self, doing: Doing, count: f64) {
        match doing {
            Doing::OneSetting => self.one += count,
            Doing::Resetting => self.again += count,
            Doing::BothSides => self.both += count,
            Doing::Cannot => self.cannot += count,
        }
    }

    fn told(&self, saw: &Saw, cuts: f64) -> OverWood {
        let per_cut = |sum: f64| if self.done > 0.0 { sum / self.done } else { 0.0 };
        let cutting_s = self.area_m2 / saw.rate_m2_s;
        OverWood {
            one_setting: self.one / cuts,
            resetting: self.again / cuts,
            both_sides: self.both / cuts,
            cannot: self.cannot / cuts,
            done: self.done / cuts,
            area: Area::from_m2(self.area_m2),
            hidden_per_cut: Length::from_m(per_cut(self.hidden_m)),
            lifts_per_cut: per_cut(self.lifts),
            hands_newton_seconds_per_cut: per_cut(self.hands),
            cutting_s,
            resetting_s: self.resetting_s,
            fuel: Volume::from_m3(cutting_s * saw.fuel_m3_s + self.resetting_s * saw.idle_m3_s),
            oil: Volume::from_m3(cutting_s * saw.oil_m3_s),
        }
    }
}
