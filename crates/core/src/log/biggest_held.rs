//! The biggest round log that a person with this saw takes apart, found by planning: beside it the biggest by reach alone
//! ([`super::biggest_log`]) says what the bar could do in nobody's hands.

use super::bar::CuttingBar;
use super::biggest::biggest_log;
use super::job::LogJob;
use super::plan::plan;
use super::stand::Stand;
use super::workplace::Workplace;
use crate::person::SawBody;
use crate::section::LogSection;
use crate::units::Length;

/// Diameters are tried from what the reach allows down, every so far, m.
const STEP_M: f64 = 0.04;
/// The diameter is known so well, m.
const WITHIN_M: f64 = 0.005;

/// The biggest round logs that a person takes apart, lying as high as this one, with its tangle and its bind.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BiggestHeld {
    /// From one side; `None` where not even a log as thin as the bar is wide.
    pub one_side: Option<Length>,
    /// From both sides.
    pub both_sides: Option<Length>,
}

/// The biggest logs for the person and the saw of a job, to 5 mm, rounded down.
///
/// Between two logs that can be cut whole there may be one that cannot: the biggest is the one that is told, and of a
/// thicker one not found it is known only that no diameter every 40 mm above can be done. Some thirty plans are made.
pub fn biggest_held(job: &LogJob, bar: &CuttingBar, saw: &SawBody) -> BiggestHeld {
    let of = |stand: Stand| {
        let is_whole = |diameter_m: f64| {
            let diameter = Length::from_m(diameter_m);
            let section = LogSection::round(diameter, job.section().clearance()).ok()?;
            let job = job.from_stand(stand).with_section(section);
            Some(plan(&job, bar, &Workplace::new(&job, saw)).is_whole())
        };
        let is_whole = |diameter_m: f64| is_whole(diameter_m) == Some(true);
        let section = LogSection::round(job.section().width(), job.section().clearance()).ok()?;
        let by_reach = biggest_log(&LogJob::new(section, stand).with_swing(job.swing()), bar)?;
        let thinnest_m = 2.0 * bar.half_width().as_m();
        let down = std::iter::successors(Some(by_reach.as_m()), |diameter_m| Some(diameter_m - STEP_M));
        let whole_m = down.take_while(|diameter_m| *diameter_m >= thinnest_m).find(|m| is_whole(*m))?;
        let (mut whole_m, mut left_m) = (whole_m, (whole_m + STEP_M).min(by_reach.as_m()));
        while left_m - whole_m > WITHIN_M {
            let middle_m = 0.5 * (whole_m + left_m);
            if is_whole(middle_m) {
                whole_m = middle_m;
            } else {
                left_m = middle_m;
            }
        }
        Some(Length::from_m(whole_m))
    };
    BiggestHeld { one_side: of(Stand::OneSide), both_sides: of(Stand::BothSides) }
}
