//! Who carries the saw: the log while the spikes are set, the hands while they are not.

use super::bar::CuttingBar;
use super::cover::{area_of_m2, new_cuts};
use super::job::LogJob;
use super::limits::{self, checked};
use super::rate::CuttingSaw;
use super::setting::Setting;
use crate::fault::Fault;
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

impl Default for PhaseTimes {
    /// 2 s to touch down, 1 s to slide off, 3 s to pull back (common practice, no source).
    fn default() -> Self {
        Self {
            touch_down_s: 2.0,
            last_slide_s: 1.0,
            pull_back_s: 3.0,
        }
    }
}

/// Who carries the saw through these settings.
///
/// A swing takes the time its new wood takes at the saw's cutting rate, wood of touch-down and slide included. A
/// setting held off the bark is carried by the hands through its swing as well.
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
    let cuts = new_cuts(job, bar, settings)?;
    let (weight_n, pull_in_n) = (saw.weight().as_n(), saw.pull_in().as_n());
    let mut phases = Vec::with_capacity(4 * settings.len());
    for (index, (setting, new)) in settings.iter().zip(&cuts).enumerate() {
        let held_off = setting.stand_off_m > 0.0;
        let cutting_n = |cuts: bool| weight_n + if cuts { pull_in_n } else { 0.0 };
        let mut add = |phase, carrier, seconds, hands_n| {
            phases.push(PhaseLoad {
                setting: index,
                phase,
                carrier,
                seconds,
                hands_n,
            });
        };
        add(
            WorkPhase::TouchDown,
            Carrier::Hands,
            times.touch_down_s,
            cutting_n(held_off || setting.touches_down(job)),
        );
        let swing_s = saw.time_s(Area::from_m2(area_of_m2(new)));
        if held_off {
            add(WorkPhase::Swing, Carrier::Hands, swing_s, cutting_n(true));
        } else {
            add(WorkPhase::Swing, Carrier::Log, swing_s, 0.0);
        }
        add(
            WorkPhase::LastSlide,
            Carrier::Hands,
            times.last_slide_s,
            cutting_n(held_off || setting.slides_off(job)),
        );
        if index + 1 < settings.len() {
            add(WorkPhase::PullBack, Carrier::Hands, times.pull_back_s, weight_n);
        }
    }
    let hands_newton_seconds = phases.iter().map(|phase| phase.hands_n * phase.seconds).sum();
    Ok(Carry {
        phases,
        lifts: settings.len(),
        hands_newton_seconds,
        hold_back_n: saw.pull_in().as_n(),
    })
}
