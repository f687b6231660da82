//! Where the bar is at a moment of a cut, and what is cut by then: for drawing and for running through it.

use super::bar::CuttingBar;
use super::carry::WorkPhase;
use super::cover::all_taken;
use super::danger::HalfPlane;
use super::job::LogJob;
use super::setting::{Kind, Moment, Sector, Setting, Taken, place_at, regions, upward_sense};
use crate::fault::Fault;
use crate::geometry::Point;
use crate::section::{Outline, Region, cut_out, fresh, unit};
use std::f64::consts::FRAC_PI_2;

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

/// A metre aside counts as so much of a swing in the run through a setting, rad: at half a metre of reach the tip goes as
/// far.
const RAD_PER_M: f64 = 2.0;
/// A setting's longest stretch never leaves the others less than this share of the run, where there are any.
const LEAST_SHARE: f64 = 0.08;

/// The shares of a setting's run that go to its laying on, its swing and its running off; they make one.
pub(super) fn stretches(setting: &Setting) -> [f64; 3] {
    let lengths = [RAD_PER_M * setting.lay_on_m, setting.swing().as_rad(), RAD_PER_M * setting.run_off_m];
    let whole: f64 = lengths.iter().sum();
    let shares = lengths.map(|length| if length > 0.0 { (length / whole).max(LEAST_SHARE) } else { 0.0 });
    let sum: f64 = shares.iter().sum();
    if sum > 0.0 { shares.map(|share| share / sum) } else { [0.0, 1.0, 0.0] }
}

/// Where a share of a setting's run lies: in the laying on, the swing or the running off, and how far.
pub(super) fn moment(setting: &Setting, share: f64) -> (WorkPhase, Moment) {
    let [on, swing, off] = stretches(setting);
    let share = share.clamp(0.0, 1.0);
    if share < on {
        return (WorkPhase::TouchDown, Moment::LayOn((1.0 - share / on) * setting.lay_on_m));
    }
    if share <= on + swing && swing > 0.0 {
        let done = (share - on) / swing;
        let at_rad = setting.from_rad + done * (setting.to_rad - setting.from_rad);
        return (WorkPhase::Swing, Moment::Swing(at_rad));
    }
    if off > 0.0 {
        let done = ((share - on - swing) / off).clamp(0.0, 1.0);
        return (WorkPhase::LastSlide, Moment::RunOff(done * setting.run_off_m));
    }
    (WorkPhase::TouchDown, Moment::LayOn(0.0))
}

/// The share of a setting's run at a share of one of its stretches.
pub(super) fn run_share(setting: &Setting, phase: WorkPhase, done: f64) -> f64 {
    let [on, swing, off] = stretches(setting);
    match phase {
        WorkPhase::TouchDown => done * on,
        WorkPhase::Swing => on + done * swing,
        WorkPhase::LastSlide | WorkPhase::PullBack => on + swing + done * off,
    }
}

/// The bar at a share of a setting's run, 0 at its start and 1 at its end; shares beyond stop there.
///
/// # Errors
/// A setting that is none for this job, or a share that is no number.
pub fn pose(job: &LogJob, bar: &CuttingBar, setting: &Setting, share: f64) -> Result<Pose, Fault> {
    setting.check(job)?;
    check_share(share)?;
    let (phase, moment) = moment(setting, share);
    let place = place_at(job, setting, moment);
    let along = unit(place.direction_rad);
    let straight_in = job.section().straight_in_rad(setting.bark_rad);
    Ok(Pose {
        pivot: place.spikes,
        direction_rad: place.direction_rad,
        swing_rad: place.direction_rad - straight_in,
        tip: place.spikes + bar.reach().as_m() * along,
        nose_centre: place.spikes + bar.nose_centre_m() * along,
        upper_sense: upward_sense(setting.side),
        phase,
        spikes_set: phase == WorkPhase::Swing && setting.kind() == Kind::Pivot,
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
    let earlier = all_taken(job, bar, earlier);
    let earlier = regions(&earlier);
    let (_, moment) = moment(setting, share);
    let taken = Taken::until(job, bar, setting, moment);
    let parts = regions(std::slice::from_ref(&taken));
    let section: &dyn Region = job.section();
    let Moment::LayOn(way_m) = moment else {
        return Ok(fresh(&[section], &parts, &earlier));
    };
    // Being laid on: what lies behind the centreline, and the bar where it stands.
    let place = place_at(job, setting, moment);
    let pivot = job.section().bark_at(setting.bark_rad);
    let outward = unit(place.direction_rad - setting.sense() * FRAC_PI_2);
    let reached = HalfPlane::new(pivot + way_m * outward, outward);
    let standing = Sector::standing(bar, place);
    let mut cut = cut_out(&[section, &standing], &earlier);
    let mut taken = earlier;
    taken.push(&standing);
    cut.extend(fresh(&[section, &reached], &parts, &taken));
    Ok(cut)
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

    fn with_ways(job: &LogJob, bark: f64, lay_on_mm: f64, run_off_mm: f64) -> Setting {
        full(job, bark).with_ways(job, Length::from_mm(lay_on_mm), Length::from_mm(run_off_mm)).unwrap()
    }

    #[test]
    fn a_run_goes_from_laying_on_through_the_swing_to_running_off() {
        let job = job(560.0);
        let setting = with_ways(&job, 180.0, 90.0, 90.0);
        let at = |share: f64| pose(&job, &bar(), &setting, share).unwrap();
        assert_eq!(
            [0.0, 0.5, 1.0].map(|s| at(s).phase),
            [WorkPhase::TouchDown, WorkPhase::Swing, WorkPhase::LastSlide]
        );
        assert_relative_eq!(at(0.5).pivot, Point::new(-0.28, 0.0), epsilon = 1e-12);
        assert_relative_eq!(at(0.5).tip, Point::new(0.172, 0.0), epsilon = 1e-12);
        assert!(at(0.5).spikes_set && !at(0.0).spikes_set && !at(1.0).spikes_set);
        assert_relative_eq!(at(-3.0).tip, at(0.0).tip, epsilon = 1e-15);
        // Laid on from above, 90 mm away; running off below, 90 mm away.
        for (share, sense) in [(0.0, 1.0), (1.0, -1.0)] {
            let square = unit(at(share).direction_rad + sense * FRAC_PI_2);
            let aside = (at(share).pivot - Point::new(-0.28, 0.0)).dot(&square);
            assert_relative_eq!(aside, 0.09, epsilon = 1e-12);
        }
        assert!(pose(&job, &bar(), &setting, f64::NAN).is_err());
    }

    #[test]
    fn a_bare_swing_is_a_swing_from_its_first_moment_to_its_last() {
        let job = job(560.0);
        for share in [0.0, 0.3, 1.0] {
            let at = pose(&job, &bar(), &full(&job, 180.0), share).unwrap();
            assert_eq!(at.phase, WorkPhase::Swing);
            assert_relative_eq!(at.swing_rad.to_degrees(), 75.0 - 150.0 * share, epsilon = 1e-9);
        }
    }

    #[test]
    fn a_sink_holds_its_direction_and_never_sets_its_spikes() {
        let job = job(560.0);
        let (mm, deg) = (Length::from_mm, Angle::from_deg);
        let sink =
            Setting::sink(&job, deg(170.0), Side::Near, deg(10.0), (mm(300.0), mm(250.0)), false).unwrap();
        let at = |share: f64| pose(&job, &bar(), &sink, share).unwrap();
        for share in [0.0, 0.2, 0.6, 1.0] {
            assert_relative_eq!(at(share).direction_rad, 0.0_f64, epsilon = 1e-12);
            assert!(!at(share).spikes_set);
        }
        // It goes straight down as far as it is laid on and runs off, the spikes never in the wood.
        assert_relative_eq!(at(0.0).tip.y - at(1.0).tip.y, 0.55, epsilon = 1e-12);
        assert!((0..=100).all(|i| at(f64::from(i) / 100.0).pivot.coords.norm() > 0.28 - 1e-9));
    }

    proptest! {
        #[test]
        fn law_the_bar_never_jumps(
            bark in 21.0_f64..289.0, from in -75.0_f64..75.0, to in -75.0_f64..75.0, lay_on in 0.0_f64..600.0,
            run_off in 0.0_f64..600.0
        ) {
            let job = job(560.0);
            let deg = Angle::from_deg;
            let setting = Setting::new(&job, deg(bark), Side::Near, deg(from), deg(to)).unwrap();
            let setting =
                setting.with_ways(&job, Length::from_mm(lay_on), Length::from_mm(run_off)).unwrap();
            let steps = 2000;
            let tips: Vec<_> = (0..=steps)
                .map(|i| pose(&job, &bar(), &setting, f64::from(i) / f64::from(steps)).unwrap().tip)
                .collect();
            // Spikes that follow the bark under a bar 75° from straight in go as far along it as 1/cos 75° of the way
            // aside; no stretch has less than an eighteenth of the run.
            let longest = (0.6 / 75.0_f64.to_radians().cos()).max(0.452 * 150.0_f64.to_radians());
            let most = longest * 18.0 / f64::from(steps);
            prop_assert!(tips.windows(2).all(|pair| (pair[1] - pair[0]).norm() < most));
        }

        #[test]
        fn law_a_cut_only_grows_and_ends_as_the_whole(
            diameter in 150.0_f64..1000.0, first in 65.0_f64..179.0, second in 21.0_f64..289.0, a in 0.0_f64..1.0,
            b in 0.0_f64..1.0, lay_on in 0.0_f64..400.0, run_off in 0.0_f64..400.0, rises in any::<bool>()
        ) {
            let job = job(diameter);
            let (earlier, setting) = (full(&job, first), with_ways(&job, second, lay_on, run_off));
            let setting = if rises { setting.reversed() } else { setting };
            let area = |share: f64| {
                area_of_m2(&cut_so_far(&job, &bar(), &[earlier], &setting, share).unwrap())
            };
            prop_assert!(area(a.min(b)) <= area(a.max(b)) + 1e-7, "{} {}", area(a.min(b)), area(a.max(b)));
            let whole = area_of_m2(&new_cuts(&job, &bar(), &[earlier, setting]).unwrap()[1]);
            prop_assert!((area(1.0) - whole).abs() < 1e-9, "{} {whole}", area(1.0));
        }
    }
}
