//! Where the bar is at a moment of a cut, and what is cut by then: for drawing and for running through it.

use super::bar::CuttingBar;
use super::carry::WorkPhase;
use super::danger::{HalfPlane, upper_sense};
use super::edge::unit;
use super::job::LogJob;
use super::region::{Outline, Region, cut_out};
use super::setting::{CutShape, Setting, Strips, pivot};
use crate::fault::Fault;
use crate::geometry::Point;
use std::f64::consts::FRAC_PI_2;

/// Share of a setting's run given to the touch-down, and to the last slide, where there is one.
const SLIDE_SHARE: f64 = 0.12;

/// The bar at a moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// Where the spike line crosses the bar's centreline, m.
    pub pivot: Point,
    /// Where the bar points, counter-clockwise from +x, rad.
    pub direction_rad: f64,
    /// Swing angle from straight in, rad.
    pub swing_rad: f64,
    /// Nose tip, m.
    pub tip: Point,
    /// Middle of the nose circle, m.
    pub nose_centre: Point,
    /// Sense in which the saw's upper side lies from the bar: +1 counter-clockwise, −1 clockwise. The danger quadrant
    /// runs from the tip by 90° in this sense.
    pub upper_sense: f64,
    /// What is going on.
    pub phase: WorkPhase,
    /// True where the spikes are in the bark.
    pub spikes_set: bool,
}

/// A moment of a run: in the touch-down, the swing or the last slide, how far along, 0…1.
#[derive(Clone, Copy)]
enum Moment {
    TouchDown(f64),
    Swing(f64),
    LastSlide(f64),
}

impl Moment {
    fn of(job: &LogJob, setting: &Setting, share: f64) -> Self {
        let down = if setting.touches_down(job) { SLIDE_SHARE } else { 0.0 };
        let off = if setting.slides_off(job) { SLIDE_SHARE } else { 0.0 };
        let share = share.clamp(0.0, 1.0);
        if share < down {
            Self::TouchDown(share / down)
        } else if share > 1.0 - off {
            Self::LastSlide((share - (1.0 - off)) / off)
        } else {
            Self::Swing((share - down) / (1.0 - down - off))
        }
    }
}

/// The bar at a share of a setting's run, 0 at its start and 1 at its end; shares beyond stop there.
///
/// In the touch-down and the last slide the bar is carried sideways, its nose kept within the reach of the spikes'
/// place.
///
/// # Errors
/// A setting that is none for this job, or a share that is no number.
pub fn pose(job: &LogJob, bar: &CuttingBar, setting: &Setting, share: f64) -> Result<Pose, Fault> {
    setting.check(job)?;
    check_share(share)?;
    let (spikes, straight_in) = pivot(job, setting);
    let (phase, swing_rad, aside_m, aside_sense) = match Moment::of(job, setting, share) {
        Moment::TouchDown(done) => {
            (WorkPhase::TouchDown, setting.from_rad, (1.0 - done) * bar.slide_depth_m(), -setting.sense())
        }
        Moment::Swing(done) => {
            (WorkPhase::Swing, setting.from_rad + done * (setting.to_rad - setting.from_rad), 0.0, 0.0)
        }
        Moment::LastSlide(done) => {
            (WorkPhase::LastSlide, setting.to_rad, done * bar.slide_depth_m(), setting.sense())
        }
    };
    let direction_rad = straight_in + swing_rad;
    let reach_m = bar.reach().as_m();
    let back_m = reach_m - (reach_m * reach_m - aside_m * aside_m).max(0.0).sqrt();
    let along = unit(direction_rad);
    let pivot = spikes + aside_m * unit(direction_rad + aside_sense * FRAC_PI_2) - back_m * along;
    Ok(Pose {
        pivot,
        direction_rad,
        swing_rad,
        tip: pivot + reach_m * along,
        nose_centre: pivot + bar.nose_centre_m() * along,
        upper_sense: upper_sense(setting.side),
        phase,
        spikes_set: phase == WorkPhase::Swing && setting.stand_off_m <= 0.0,
    })
}

/// What a setting has taken at a share of its run that none of `earlier` took: outlines to shade.
///
/// # Errors
/// A setting that is none for this job, or a share that is no number.
pub fn cut_so_far(
    job: &LogJob,
    bar: &CuttingBar,
    earlier: &[Setting],
    setting: &Setting,
    share: f64,
) -> Result<Vec<Outline>, Fault> {
    earlier.iter().chain([setting]).try_for_each(|setting| setting.check(job))?;
    check_share(share)?;
    let earlier: Vec<_> = earlier.iter().map(|setting| CutShape::new(job, bar, setting)).collect();
    let earlier: Vec<&dyn Region> = earlier.iter().map(|shape| shape as &dyn Region).collect();
    let whole = Strips::whole(job, bar, setting);
    let cut = match Moment::of(job, setting, share) {
        Moment::TouchDown(done) => {
            let (spikes, straight_in) = pivot(job, setting);
            let outward = unit(straight_in + setting.from_rad - setting.sense() * FRAC_PI_2);
            let front_m = (1.0 - done) * whole.start_m - bar.half_width().as_m();
            let laid = CutShape::start_of(job, bar, setting);
            let reached = HalfPlane::new(spikes + front_m * outward, outward);
            return Ok(cut_out(&[job.section(), &laid, &reached], &earlier));
        }
        Moment::Swing(done) => {
            let to_rad = setting.from_rad + done * (setting.to_rad - setting.from_rad);
            CutShape::turned(job, bar, setting, to_rad, Strips { end_m: 0.0, ..whole })
        }
        Moment::LastSlide(done) => {
            // Until it has slid by its own half width, the bar still covers all it has slid over.
            let slid_m = done * whole.end_m;
            let end_m = if slid_m > bar.half_width().as_m() { slid_m } else { 0.0 };
            CutShape::turned(job, bar, setting, setting.to_rad, Strips { end_m, ..whole })
        }
    };
    Ok(cut_out(&[job.section(), &cut], &earlier))
}

fn check_share(share: f64) -> Result<(), Fault> {
    if share.is_finite() {
        return Ok(());
    }
    Err(Fault { path: "share".to_owned(), message: format!("share of the run {share} is no number") })
}

#[cfg(test)]
mod tests {
    use super::super::cover::{area_of_m2, new_cuts};
    use super::super::{LogSection, Side, Stand};
    use super::*;
    use crate::units::{Angle, Length};
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn job(diameter_mm: f64) -> LogJob {
        let mm = Length::from_mm;
        LogJob::new(LogSection::round(mm(diameter_mm), mm(400.0)).unwrap(), Stand::OneSide)
    }

    fn bar() -> CuttingBar {
        let mm = Length::from_mm;
        CuttingBar::new(mm(452.0), mm(45.0), mm(36.0)).unwrap()
    }

    fn full(job: &LogJob, bark: f64) -> Setting {
        Setting::full(job, Angle::from_deg(bark), Side::Near).unwrap()
    }

    #[test]
    fn a_run_goes_from_touch_down_through_the_swing_to_the_last_slide() {
        let job = job(560.0);
        let at = |share: f64| pose(&job, &bar(), &full(&job, 180.0), share).unwrap();
        assert_eq!(
            [0.0, 0.5, 1.0].map(|s| at(s).phase),
            [WorkPhase::TouchDown, WorkPhase::Swing, WorkPhase::LastSlide]
        );
        assert_relative_eq!(at(0.5).pivot, Point::new(-0.28, 0.0), epsilon = 1e-12);
        assert_relative_eq!(at(0.5).tip, Point::new(0.172, 0.0), epsilon = 1e-12);
        assert!(at(0.5).spikes_set && !at(0.0).spikes_set && !at(1.0).spikes_set);
        assert_relative_eq!(at(-3.0).tip, at(0.0).tip, epsilon = 1e-15);
        // Laid on from above, a fifth of the reach away.
        let aside = (at(0.0).pivot - Point::new(-0.28, 0.0)).dot(&unit(at(0.0).direction_rad + FRAC_PI_2));
        assert_relative_eq!(aside, 0.0904, epsilon = 1e-12);
        assert!(pose(&job, &bar(), &full(&job, 180.0), f64::NAN).is_err());
    }

    #[test]
    fn law_the_bar_never_jumps() {
        let job = job(560.0);
        let setting = full(&job, 150.0);
        let tips: Vec<_> =
            (0..=2000).map(|i| pose(&job, &bar(), &setting, f64::from(i) / 2000.0).unwrap().tip).collect();
        // The swing of 150° at 452 mm in three quarters of the run.
        let fastest = 0.452 * 150.0_f64.to_radians() / 0.75 / 2000.0;
        assert!(tips.windows(2).all(|pair| (pair[1] - pair[0]).norm() < 1.1 * fastest));
    }

    proptest! {
        #[test]
        fn law_a_cut_only_grows_and_ends_as_the_whole(
            diameter in 150.0_f64..1000.0, first in 65.0_f64..179.0, second in 65.0_f64..179.0, a in 0.0_f64..1.0,
            b in 0.0_f64..1.0
        ) {
            let job = job(diameter);
            let (earlier, setting) = (full(&job, first), full(&job, second));
            let area = |share: f64| {
                area_of_m2(&cut_so_far(&job, &bar(), &[earlier], &setting, share).unwrap())
            };
            prop_assert!(area(a.min(b)) <= area(a.max(b)) + 1e-7, "{} {}", area(a.min(b)), area(a.max(b)));
            let whole = area_of_m2(&new_cuts(&job, &bar(), &[earlier, setting]).unwrap()[1]);
            prop_assert!((area(1.0) - whole).abs() < 1e-9, "{} {whole}", area(1.0));
        }
    }
}
