//! What a bar does with one log of a mix.

use crate::fault::Fault;
use crate::log::{CuttingBar, LogJob, Plan, Stand, Workplace, hidden_travel_m, plan};
use crate::units::Length;
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

/// How a bar cuts one log; nothing of it depends on the saw's weight or power.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LogCut {
    /// How it comes apart.
    pub doing: Doing,
    /// Settings of the plan; none where the log cannot be cut.
    pub settings: u32,
    /// Settings in which the chain already cuts while the saw is laid on.
    pub touching: u32,
    /// Settings in which it still cuts while the saw slides off.
    pub sliding: u32,
    /// Way of the nose out of the log and out of sight.
    pub hidden: Length,
}

impl LogCut {
    /// Nothing is done.
    pub const CANNOT: Self =
        Self { doing: Doing::Cannot, settings: 0, touching: 0, sliding: 0, hidden: Length::ZERO };

    fn of(doing: Doing, job: &LogJob, bar: &CuttingBar, plan: &Plan) -> Self {
        let count = |holds: &dyn Fn(usize) -> bool| {
            u32::try_from((0..plan.settings.len()).filter(|index| holds(*index)).count()).unwrap_or(u32::MAX)
        };
        let setting = |index: usize| plan.settings.get(index);
        Self {
            doing,
            settings: count(&|_| true),
            touching: count(&|index| setting(index).is_some_and(|setting| setting.touches_down())),
            sliding: count(&|index| setting(index).is_some_and(|setting| setting.slides_off())),
            hidden: Length::from_m(
                plan.settings.iter().map(|setting| hidden_travel_m(job, bar, setting)).sum(),
            ),
        }
    }
}

/// How a bar cuts a log of this diameter, by the full plan: from one side if that does, else from both, else not at all.
/// Where the wood leaves room to walk round, the underside counts as well.
///
/// # Errors
/// A diameter out of range.
pub fn log_cut(wood: &Wood, bar: &CuttingBar, diameter: Length, tangled: bool) -> Result<LogCut, Fault> {
    let job = wood.job(diameter, Stand::OneSide, tangled)?;
    let from_one_side = plan(&job, bar, &Workplace::free());
    if from_one_side.is_whole() {
        let doing = if from_one_side.settings.len() == 1 { Doing::OneSetting } else { Doing::Resetting };
        return Ok(LogCut::of(doing, &job, bar, &from_one_side));
    }
    let all = if wood.stand() == Stand::WalkRound { Stand::WalkRound } else { Stand::BothSides };
    let job = wood.job(diameter, all, tangled)?;
    let from_both = plan(&job, bar, &Workplace::free());
    if from_both.is_whole() {
        return Ok(LogCut::of(Doing::BothSides, &job, bar, &from_both));
    }
    Ok(LogCut::CANNOT)
}
