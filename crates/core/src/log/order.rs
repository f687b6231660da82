//! The order a sawyer would take settings in, and the way each goes.

use super::bar::CuttingBar;
use super::danger::is_plunge;
use super::job::LogJob;
use super::setting::{Setting, Taken, regions};
use crate::section::Side;

/// How far along the bark above the level of the middle, from the side it is worked from, rad, −π…π.
pub(super) fn above_level_rad(setting: &Setting) -> f64 {
    use std::f64::consts::{PI, TAU};
    let from_far = (setting.bark_rad + PI).rem_euclid(TAU) - PI;
    match setting.side {
        Side::Near => (PI - setting.bark_rad + PI).rem_euclid(TAU) - PI,
        Side::Far => from_far,
    }
}

/// Which ways the bar may go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ways {
    /// Down, the saw's underside leading; back up only out of a kerf that others have opened, and only where the way down
    /// would start in the wood.
    DownFirst,
    /// Down only.
    Down,
    /// Up only, from below.
    Up,
}

/// Settings, all of them going down, put in an order in which each begins beside the wood or in an open kerf: over the top
/// first, then down the side, one side finished before the operator walks round (common practice, no source); one that
/// cannot begin at its upper end runs back up from its lower one. `None` where there is no such order: no plan begins with
/// a plunge.
pub(super) fn in_order(
    job: &LogJob,
    bar: &CuttingBar,
    earlier: &[Taken],
    mut waiting: Vec<Setting>,
    ways: Ways,
) -> Option<Vec<Setting>> {
    let from_the_top = |setting: &Setting| (setting.side == Side::Far, -above_level_rad(setting));
    waiting.sort_by(|a, b| {
        let (a, b) = (from_the_top(a), from_the_top(b));
        let above = if ways == Ways::Up { b.1.total_cmp(&a.1) } else { a.1.total_cmp(&b.1) };
        a.0.cmp(&b.0).then(above)
    });
    let mut taken = earlier.to_vec();
    let mut ordered = Vec::with_capacity(waiting.len());
    while let Some(first) = waiting.first() {
        let side = first.side;
        let begins = |setting: &Setting| {
            let laid = Taken::start_of(job, bar, setting);
            !is_plunge(job, bar, &regions(&taken), &regions(std::slice::from_ref(&laid)), setting)
        };
        let one = |rises: bool| {
            waiting.iter().enumerate().filter(|(_, setting)| setting.side == side).find_map(
                |(index, setting)| {
                    let setting = if rises { setting.reversed() } else { *setting };
                    begins(&setting).then_some((index, setting))
                },
            )
        };
        let (index, setting) = match ways {
            Ways::Down => one(false),
            Ways::Up => one(true),
            Ways::DownFirst => {
                one(false).or_else(|| one(true).filter(|(_, up)| begins_in_kerf(job, bar, &taken, up)))
            }
        }?;
        taken.push(Taken::new(job, bar, &setting));
        ordered.push(setting);
        waiting.remove(index);
    }
    Some(ordered)
}

/// True where a setting begins in what others have cut, not from outside the log.
fn begins_in_kerf(job: &LogJob, bar: &CuttingBar, taken: &[Taken], setting: &Setting) -> bool {
    let laid = Taken::start_of(job, bar, setting);
    // With nothing cut before, it would begin in the wood.
    !taken.is_empty() && is_plunge(job, bar, &[], &regions(std::slice::from_ref(&laid)), setting)
}
