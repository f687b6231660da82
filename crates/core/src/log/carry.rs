//! Who carries the saw: the log while the spikes are set, the hands while they are not.

use super::bar::CuttingBar;
use super::cover::{all_taken, area_of_m2};
use super::job::LogJob;
use super::rate::CuttingSaw;
use super::setting::{Moment, Setting, Taken, regions};
use crate::fault::Fault;
use crate::mark::Mark;
use crate::section::{checked, fresh, limits};
use crate::units::Area;

/// Who takes weight and pull-in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Carrier {
    /// The spikes are set: the log takes both.
    Log,
    /// The hands take what there is.
    Hands,
}

/// What happens in a stretch of the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WorkPhase {
    /// The saw is brought to the bark and laid on, until the spikes bite.
    TouchDown,
    /// The bar swings through the wood.
    Swing,
    /// The saw slides off the spikes, or is taken off them.
    LastSlide,
    /// The saw is pulled back and carried to the next setting.
    PullBack,
}

/// One stretch of the work and what the hands hold in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PhaseLoad {
    /// Which setting it belongs to, counted from 0.
    pub setting: usize,
    /// What happens.
    pub phase: WorkPhase,
    /// Who takes weight and pull-in.
    pub carrier: Carrier,
    /// How long, s.
    pub seconds: f64,
    /// What the hands hold, at most, N: nothing while the log carries, else the weight and, where the chain cuts, the
    /// most it can pull in. Sizes are added whatever their directions: an upper bound.
    pub hands_n: f64,
}

/// Who carries what through a whole cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Carry {
    /// Every stretch in order.
    pub phases: Vec<PhaseLoad>,
    /// How often the saw is lifted to the bark.
    pub lifts: usize,
    /// Sum of force and time in the hands, N·s.
    pub hands_newton_seconds: f64,
    /// The most the chain pulls on hands that hold the saw off the bark, N: power × drive efficiency / chain speed.
    pub hold_back_n: f64,
}

/// How long the stretches take that no cutting rate decides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PhaseTimes {
    touch_down_s: f64,
    last_slide_s: f64,
    pull_back_s: f64,
}

impl PhaseTimes {
    /// Times of touch-down, last slide and pull-back, s.
    ///
    /// # Errors
    /// A time outside 0…600 s.
    pub fn new(touch_down_s: f64, last_slide_s: f64, pull_back_s: f64) -> Result<Self, Fault> {
        Ok(Self {
            touch_down_s: checked("times.touch_down", &limits::PHASE_TIME, touch_down_s)?,
            last_slide_s: checked("times.last_slide", &limits::PHASE_TIME, last_slide_s)?,
            pull_back_s: checked("times.pull_back", &limits::PHASE_TIME, pull_back_s)?,
        })
    }
}

impl PhaseTimes {
    /// Time to touch down, s.
    pub const fn touch_down_s(&self) -> f64 {
        self.touch_down_s
    }

    /// Time to slide off, s.
    pub const fn last_slide_s(&self) -> f64 {
        self.last_slide_s
    }

    /// Time to pull back and carry to the next setting, s.
    pub const fn pull_back_s(&self) -> f64 {
        self.pull_back_s
    }
}

/// Where the times come from until they are one's own.
pub const PHASE_TIMES_MARK: Mark = Mark::OurGuess;

impl PhaseTimes {
    /// 2 s to touch down, 1 s to slide off, 3 s to pull back ([`PHASE_TIMES_MARK`]).
    pub const COMMON: Self = Self { touch_down_s: 2.0, last_slide_s: 1.0, pull_back_s: 3.0 };
}

impl Default for PhaseTimes {
    fn default() -> Self {
        Self::COMMON
    }
}

/// Who carries the saw through these settings.
///
/// Every stretch takes the time its new wood takes at the saw's cutting rate. While the bar goes down it rests on the wood
/// under it, in a sink as in a swing: the log carries, the hands steer. What they carry is the saw on its way to the bark
/// and off it; and all of it, pull of the chain included, where it is pressed up from below.
///
/// # Errors
/// A setting that is none for this job.
pub fn carry(
    job: &LogJob,
    bar: &CuttingBar,
    saw: &CuttingSaw,
    settings: &[Setting],
    times: &PhaseTimes,
) -> Result<Carry, Fault> {
    settings.iter().try_for_each(|setting| setting.check(job))?;
    let taken = all_taken(job, bar, settings);
    let (weight_n, pull_in_n) = (saw.weight().as_n(), saw.pull_in().as_n());
    let mut phases = Vec::with_capacity(6 * settings.len());
    for (index, setting) in settings.iter().enumerate() {
        let earlier = regions(taken.get(..index).unwrap_or_default());
        let after = |moment| {
            let until = Taken::until(job, bar, setting, moment);
            area_of_m2(&fresh(&[job.section()], &regions(std::slice::from_ref(&until)), &earlier))
        };
        let laid_on_m2 = after(Moment::LayOn(0.0));
        let swung_m2 = after(Moment::Swing(setting.to_rad)).max(laid_on_m2);
        let whole_m2 = after(Moment::RunOff(setting.run_off_m)).max(swung_m2);
        let mut add = |phase, carrier, seconds, hands_n| {
            if seconds > 0.0 {
                phases.push(PhaseLoad { setting: index, phase, carrier, seconds, hands_n });
            }
        };
        // Pressed up from below, nothing of the saw rests on the wood, and the chain pushes back.
        let (carrier, held_n) =
            if setting.rises() { (Carrier::Hands, weight_n + pull_in_n) } else { (Carrier::Log, 0.0) };
        let seconds = |area_m2: f64| saw.time_s(Area::from_m2(area_m2));
        add(WorkPhase::TouchDown, Carrier::Hands, times.touch_down_s, weight_n);
        add(WorkPhase::TouchDown, carrier, seconds(laid_on_m2), held_n);
        add(WorkPhase::Swing, carrier, seconds(swung_m2 - laid_on_m2), held_n);
        add(WorkPhase::LastSlide, carrier, seconds(whole_m2 - swung_m2), held_n);
        add(WorkPhase::LastSlide, Carrier::Hands, times.last_slide_s, weight_n);
        if index + 1 < settings.len() {
            add(WorkPhase::PullBack, Carrier::Hands, times.pull_back_s, weight_n);
        }
    }
    let hands_newton_seconds = phases.iter().map(|phase| phase.hands_n * phase.seconds).sum();
    Ok(Carry { phases, lifts: settings.len(), hands_newton_seconds, hold_back_n: saw.pull_in().as_n() })
}

#[cfg(test)]
mod tests {
    use super::super::{DEFAULT_KERF, LogSection, SawFigures, Side, Stand};
    use super::*;
    use crate::units::{Angle, Force, Length, Power, Speed};
    use approx::assert_relative_eq;

    fn saw() -> CuttingSaw {
        CuttingSaw::new(&SawFigures {
            weight: Force::from_n(70.0),
            power: Power::from_kw(4.0),
            drive_efficiency: 0.9,
            chain_speed: Speed::from_m_s(20.0),
            kerf: DEFAULT_KERF,
            cutter_spacing: Length::from_mm(38.1),
            specific_energy_j_cm3: 60.0,
        })
        .unwrap()
    }

    fn thin() -> (LogJob, CuttingBar) {
        let mm = Length::from_mm;
        let job = LogJob::new(LogSection::round(mm(300.0), mm(400.0)).unwrap(), Stand::OneSide);
        (job, CuttingBar::new(mm(452.0), mm(45.0), mm(36.0)).unwrap())
    }

    #[test]
    fn hands_carry_only_before_and_after_the_spikes() {
        let (job, bar) = thin();
        let setting = Setting::full(&job, Angle::from_deg(180.0), Side::Near).unwrap();
        let carry = carry(&job, &bar, &saw(), &[setting], &PhaseTimes::default()).unwrap();
        // 2 s on the way to the bark and 1 s off it, 70 N of weight: no chain pulls there.
        assert_relative_eq!(carry.hands_newton_seconds, 3.0 * 70.0, max_relative = 1e-12);
        assert_eq!(carry.lifts, 1);
        assert_relative_eq!(carry.hold_back_n, 180.0, max_relative = 1e-12);
        let swing = carry.phases.iter().find(|p| p.phase == WorkPhase::Swing).unwrap();
        assert_eq!(swing.carrier, Carrier::Log);
        // The whole section at 3600 W / (7.5 mm · 60 J/cm³) = 80 cm²/s.
        let cutting: f64 = carry.phases.iter().filter(|p| p.carrier == Carrier::Log).map(|p| p.seconds).sum();
        assert_relative_eq!(cutting, std::f64::consts::PI * 0.15 * 0.15 / 0.008, max_relative = 1e-9);
    }

    #[test]
    fn a_saw_pressed_up_from_below_is_carried_through_the_cut_and_the_chain_pushes_back() {
        let (job, bar) = thin();
        let (mm, deg) = (Length::from_mm, Angle::from_deg);
        let sink = |rises| {
            let ways = (mm(200.0), mm(200.0));
            Setting::sink(&job, deg(180.0), Side::Near, deg(0.0), ways, rises).unwrap()
        };
        let pivot = Setting::full(&job, deg(180.0), Side::Near).unwrap();
        let load = |setting: Setting| carry(&job, &bar, &saw(), &[setting], &PhaseTimes::default()).unwrap();
        for (down, up) in [(sink(false), sink(true)), (pivot, pivot.reversed())] {
            let (down, up) = (load(down), load(up));
            let cuts = |carry: &Carry| -> Vec<PhaseLoad> {
                let times = PhaseTimes::default();
                let moved = [times.touch_down_s(), times.last_slide_s()];
                let is_cut = |p: &&PhaseLoad| moved.iter().all(|s| (p.seconds - s).abs() > 1e-9);
                carry.phases.iter().filter(is_cut).copied().collect()
            };
            assert!(cuts(&down).iter().all(|p| p.carrier == Carrier::Log && p.hands_n.abs() < 1e-12));
            for phase in cuts(&up) {
                assert_eq!(phase.carrier, Carrier::Hands);
                assert_relative_eq!(phase.hands_n, 250.0, max_relative = 1e-12);
            }
            // 250 N through the whole section besides what the way to the bark and off it costs.
            let whole_s = std::f64::consts::PI * 0.15 * 0.15 / 0.008;
            assert_relative_eq!(
                up.hands_newton_seconds,
                down.hands_newton_seconds + 250.0 * whole_s,
                max_relative = 1e-9
            );
        }
    }

    #[test]
    fn law_each_more_setting_is_one_more_lift_and_one_more_pull_back() {
        let (job, bar) = thin();
        let setting = |bark: f64| Setting::full(&job, Angle::from_deg(bark), Side::Near).unwrap();
        let settings = [setting(180.0), setting(120.0), setting(70.0)];
        let carry = carry(&job, &bar, &saw(), &settings, &PhaseTimes::default()).unwrap();
        assert_eq!(carry.lifts, 3);
        assert_eq!(carry.phases.iter().filter(|p| p.phase == WorkPhase::PullBack).count(), 2);
    }

    #[test]
    fn times_out_of_range_are_refused() {
        assert!(PhaseTimes::new(-1.0, 1.0, 1.0).unwrap_err().message.contains("0…600 s"));
        assert!(PhaseTimes::new(1.0, f64::NAN, 1.0).is_err());
    }
}
