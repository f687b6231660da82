//! What a saw in a person's hands does with one log of a mix.

use super::effort::{Carried, Effort, effort};
use super::rates::WorkRates;
use super::sawing::Sawing;
use crate::fault::Fault;
use crate::log::{LogJob, Plan, Setting, Stand, Workplace, exposure, plan, swept_m2};
use crate::units::{Area, Length};
use crate::yard::Wood;

/// How a log comes apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Doing {
    /// With the spikes set once.
    OneSetting,
    /// From one side, with the spikes set again.
    Resetting,
    /// Only from both sides.
    BothSides,
    /// Not at all.
    Cannot,
}

impl Doing {
    /// True where the sawyer may stand as this takes.
    pub const fn is_done(self, stand: Stand) -> bool {
        match self {
            Self::OneSetting | Self::Resetting => true,
            Self::BothSides => !matches!(stand, Stand::OneSide),
            Self::Cannot => false,
        }
    }
}

/// How a saw in a person's hands cuts one log.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LogCut {
    /// How it comes apart.
    pub doing: Doing,
    /// Settings of the plan, each a lift to the bark; none where the log cannot be cut.
    pub settings: u32,
    /// Time in the wood at full power, s.
    pub cutting_s: f64,
    /// Time to touch down, slide off and pull back, s.
    pub moving_s: f64,
    /// Time with the nose's upper quadrant out of the log among branches, s.
    pub tangle_s: f64,
    /// How far the tip is out past the far bark in that time: the mean; 0 where it never is.
    pub out_mean: Length,
    /// The farthest in that time; 0 where it never is.
    pub out_farthest: Length,
    /// Time in the wood in which the saw is pressed up from below, s.
    pub pressed_up_s: f64,
    /// Force times time of the weight in the hands, N·s.
    pub hands_n_s: f64,
    /// What it takes of the person; `None` where a hold has no cost that is known.
    pub effort: Option<Effort>,
    /// The same with the saw held through all of the cut as well, off the log.
    pub lifted: Option<Effort>,
}

impl LogCut {
    /// Nothing is done.
    pub const CANNOT: Self = Self {
        doing: Doing::Cannot,
        settings: 0,
        cutting_s: 0.0,
        moving_s: 0.0,
        tangle_s: 0.0,
        out_mean: Length::ZERO,
        out_farthest: Length::ZERO,
        pressed_up_s: 0.0,
        hands_n_s: 0.0,
        effort: None,
        lifted: None,
    };
}

/// How a saw cuts a log of this diameter, by plans every place of which the person can hold: from one side if that does,
/// else from both, else not at all. Where the wood leaves room to walk round, the underside counts as well.
///
/// # Errors
/// A diameter out of range.
pub fn log_cut(
    wood: &Wood,
    sawing: &Sawing,
    rates: &WorkRates,
    diameter: Length,
    tangled: bool,
) -> Result<LogCut, Fault> {
    let workplace = workplace(wood, sawing, diameter)?;
    log_cut_at(wood, sawing, rates, &workplace, diameter, tangled)
}

/// Where the person can hold this saw about logs of a diameter, whichever side they stand on and whatever stands behind.
///
/// # Errors
/// A diameter out of range.
pub(super) fn workplace(wood: &Wood, sawing: &Sawing, diameter: Length) -> Result<Workplace, Fault> {
    let job = wood.job(diameter, Stand::BothSides, false)?;
    Ok(Workplace::new(&job, &sawing.body))
}

/// The same at a workplace that is known.
pub(super) fn log_cut_at(
    wood: &Wood,
    sawing: &Sawing,
    rates: &WorkRates,
    workplace: &Workplace,
    diameter: Length,
    tangled: bool,
) -> Result<LogCut, Fault> {
    let job = wood.job(diameter, Stand::OneSide, tangled)?;
    let from_one_side = plan(&job, &sawing.bar, workplace);
    if from_one_side.is_whole() {
        let doing = if from_one_side.settings.len() == 1 { Doing::OneSetting } else { Doing::Resetting };
        return Ok(of(doing, &job, sawing, rates, workplace, &from_one_side));
    }
    let all = if wood.stand() == Stand::WalkRound { Stand::WalkRound } else { Stand::BothSides };
    let job = job.from_stand(all);
    let from_both = plan(&job, &sawing.bar, workplace);
    if from_both.is_whole() {
        return Ok(of(Doing::BothSides, &job, sawing, rates, workplace, &from_both));
    }
    Ok(LogCut::CANNOT)
}

fn of(
    doing: Doing,
    job: &LogJob,
    sawing: &Sawing,
    rates: &WorkRates,
    workplace: &Workplace,
    plan: &Plan,
) -> LogCut {
    let (bar, settings) = (&sawing.bar, plan.settings.as_slice());
    let cutting_s = sawing.saw.time_s(job.section().area());
    // Each setting has its part of the time; what the bar's own width takes goes with the rest.
    let swept = swept_m2(job, bar, settings);
    let all_m2: f64 = swept.iter().sum();
    let seconds = |m2: f64| if all_m2 > 0.0 { cutting_s * m2 / all_m2 } else { 0.0 };
    let times = &rates.times;
    let (mut holds, mut through) = (Vec::new(), Vec::new());
    let (mut moving_s, mut pressed_up_s) = (0.0, 0.0);
    for (place, (setting, m2)) in settings.iter().zip(swept).enumerate() {
        let pull_back_s = if place + 1 < settings.len() { times.pull_back_s() } else { 0.0 };
        let off_s = times.last_slide_s() + pull_back_s;
        let mut hold = |share, seconds| holds.push((*setting, Carried { share, seconds }));
        hold(0.0, times.touch_down_s());
        hold(1.0, off_s);
        moving_s += times.touch_down_s() + off_s;
        let cut = Carried { share: 0.5, seconds: seconds(m2) };
        if setting.rises() {
            pressed_up_s += cut.seconds;
            holds.push((*setting, cut));
        } else {
            through.push((*setting, cut));
        }
    }
    let of_holds = |holds: &[(Setting, Carried)]| effort(job, bar, workplace, holds);
    let carried = of_holds(&holds);
    let lifted = carried.zip(of_holds(&through)).map(|(mut both, through)| {
        both.add(&through, 1.0);
        both
    });
    let exposed = exposure(job, bar, settings);
    LogCut {
        doing,
        settings: u32::try_from(settings.len()).unwrap_or(u32::MAX),
        cutting_s,
        moving_s,
        tangle_s: sawing.saw.time_s(exposed.cut()),
        out_mean: exposed.mean_out().unwrap_or(Length::ZERO),
        out_farthest: exposed.farthest_out(),
        pressed_up_s,
        hands_n_s: (moving_s + pressed_up_s) * sawing.saw.weight().as_n(),
        effort: carried,
        lifted,
    }
}

/// The section of a log of a mix.
pub(super) fn section(diameter: Length) -> Area {
    Area::from_m2(std::f64::consts::FRAC_PI_4 * diameter.as_m().powi(2))
}
