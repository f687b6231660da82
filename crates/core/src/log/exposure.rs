//! How long, and how far, the nose's upper quadrant is out of the log among branches that hide it or can catch it.

use super::bar::CuttingBar;
use super::job::LogJob;
use super::setting::{Moment, Place, Setting, Taken, place_at, upward_sense};
use crate::section::{Region, unit};
use crate::units::{Area, Length};
use std::f64::consts::FRAC_PI_2;

/// Places of the saw that are looked at in each stretch of a setting: laying on, swing, running off.
const LOOKS: u32 = 64;
/// Places along the bar that are asked whether they are cut already, where other settings came before.
const ALONG: u32 = 48;
/// Places of the quadrant that are asked whether they are among branches, from the tip to the top of the nose.
const QUADRANT_RAD: [f64; 4] = [0.0, FRAC_PI_2 / 3.0, 2.0 * FRAC_PI_2 / 3.0, FRAC_PI_2];

/// How the nose's upper quadrant is exposed to branches through a cut.
///
/// Time goes with the section: what is cut meanwhile, over the saw's rate, is how long. Motion through air takes none.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Exposure {
    cut_m2: f64,
    out_m3: f64,
    farthest_m: f64,
}

impl Exposure {
    /// Section that is cut while any of the quadrant is out of the log and among branches.
    pub const fn cut(&self) -> Area {
        Area::from_m2(self.cut_m2)
    }

    /// How far the tip is past the far bark meanwhile, along the bar: the mean over that time; `None` where it never is.
    pub fn mean_out(&self) -> Option<Length> {
        (self.cut_m2 > 0.0).then(|| Length::from_m(self.out_m3 / self.cut_m2))
    }

    /// The farthest that the tip is past the far bark with the quadrant among branches while the saw cuts.
    pub const fn farthest_out(&self) -> Length {
        Length::from_m(self.farthest_m)
    }
}

/// The exposure of a whole cut: of every setting in turn, all that is laid on and runs off included. Wood that a setting
/// before has taken is cut in no time.
///
/// The wood a bar takes meanwhile is what its centreline sweeps; its width is left out.
pub fn exposure(job: &LogJob, bar: &CuttingBar, settings: &[Setting]) -> Exposure {
    let mut sum = Exposure::default();
    let mut earlier: Vec<Taken> = Vec::with_capacity(settings.len());
    for setting in settings {
        for step in steps(setting) {
            let at = place_at(job, setting, step.moment);
            if !is_among_branches(job, bar, setting, at) {
                continue;
            }
            let out_m = past_bark_m(job, bar, at);
            let cut_m2 = step.cut_m2(wood_along(job, bar, &earlier, at).as_slice());
            sum.cut_m2 += cut_m2;
            sum.out_m3 += cut_m2 * out_m;
            if cut_m2 > 0.0 {
                sum.farthest_m = sum.farthest_m.max(out_m);
            }
        }
        earlier.push(Taken::new(job, bar, setting));
    }
    sum
}

/// The section that each setting's centreline sweeps, wood that settings before took left out, m².
pub(crate) fn swept_m2(job: &LogJob, bar: &CuttingBar, settings: &[Setting]) -> Vec<f64> {
    let mut earlier: Vec<Taken> = Vec::with_capacity(settings.len());
    let mut swept = Vec::with_capacity(settings.len());
    for setting in settings {
        let of =
            |step: Step| step.cut_m2(&wood_along(job, bar, &earlier, place_at(job, setting, step.moment)));
        swept.push(steps(setting).map(of).sum());
        earlier.push(Taken::new(job, bar, setting));
    }
    swept
}

/// A small piece of a setting's way: its middle, and how far the bar goes in it, aside in m or turning in rad.
struct Step {
    moment: Moment,
    way: f64,
}

impl Step {
    /// What the centreline sweeps of pieces of wood along it, from and to so far past the spikes, m.
    fn cut_m2(&self, wood: &[(f64, f64)]) -> f64 {
        let by_way: f64 = match self.moment {
            Moment::Swing(_) => wood.iter().map(|(from, to)| 0.5 * (to * to - from * from)).sum(),
            Moment::LayOn(_) | Moment::RunOff(_) => wood.iter().map(|(from, to)| to - from).sum(),
        };
        by_way * self.way
    }
}

fn steps(setting: &Setting) -> impl Iterator<Item = Step> + use<> {
    let Setting { from_rad, to_rad, lay_on_m, run_off_m, .. } = *setting;
    let shares = |whole: f64| {
        let some = if whole > 0.0 { LOOKS } else { 0 };
        (0..some).map(|look| (f64::from(look) + 0.5) / f64::from(LOOKS))
    };
    let each = |whole: f64| whole / f64::from(LOOKS);
    let turn = to_rad - from_rad;
    let (on, swing, off) = (each(lay_on_m), each(turn.abs()), each(run_off_m));
    let laid =
        shares(lay_on_m).map(move |share| Step { moment: Moment::LayOn((1.0 - share) * lay_on_m), way: on });
    let turned = shares(turn.abs())
        .map(move |share| Step { moment: Moment::Swing(from_rad + share * turn), way: swing });
    let run =
        shares(run_off_m).map(move |share| Step { moment: Moment::RunOff(share * run_off_m), way: off });
    laid.chain(turned).chain(run)
}

/// Wood along the bar's centreline that nothing before has taken, as pieces from and to so far past the spikes, m.
fn wood_along(job: &LogJob, bar: &CuttingBar, earlier: &[Taken], at: Place) -> Vec<(f64, f64)> {
    let along = unit(at.direction_rad);
    let Some((first, last)) = job.section().meetings_m(at.spikes, along) else { return Vec::new() };
    let (from_m, to_m) = (first.max(0.0), last.min(bar.reach().as_m()));
    if to_m <= from_m {
        return Vec::new();
    }
    if earlier.is_empty() {
        return vec![(from_m, to_m)];
    }
    let piece_m = (to_m - from_m) / f64::from(ALONG);
    (0..ALONG)
        .map(|piece| from_m + f64::from(piece) * piece_m)
        .filter(|start_m| {
            let middle = at.spikes + (start_m + 0.5 * piece_m) * along;
            earlier.iter().all(|taken| taken.outside_m(middle) > 0.0)
        })
        .map(|start_m| (start_m, start_m + piece_m))
        .collect()
}

fn is_among_branches(job: &LogJob, bar: &CuttingBar, setting: &Setting, at: Place) -> bool {
    let along = unit(at.direction_rad);
    let upper = unit(at.direction_rad + upward_sense(setting.side) * FRAC_PI_2);
    let (nose, radius_m) = (at.spikes + bar.nose_centre_m() * along, bar.nose_radius().as_m());
    QUADRANT_RAD.iter().any(|angle| {
        let place = nose + radius_m * (angle.cos() * along + angle.sin() * upper);
        job.section().outside_m(place) > 0.0 && job.in_tangle(place)
    })
}

/// How far the tip is past the far bark along the bar, m; a bar that points past the log is out with all its reach.
fn past_bark_m(job: &LogJob, bar: &CuttingBar, at: Place) -> f64 {
    let bark_m = job.section().meetings_m(at.spikes, unit(at.direction_rad)).map_or(0.0, |(_, last)| last);
    (bar.reach().as_m() - bark_m.max(0.0)).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::super::{LogSection, Side, Stand, Tangle};
    use super::*;
    use crate::units::Angle;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn job(diameter_mm: f64) -> LogJob {
        let mm = Length::from_mm;
        LogJob::new(LogSection::round(mm(diameter_mm), mm(600.0)).unwrap(), Stand::OneSide)
            .with_tangle(Tangle::Far)
            .with_tangle_above(mm(3000.0))
            .unwrap()
    }

    fn bar(reach_mm: f64) -> CuttingBar {
        let mm = Length::from_mm;
        CuttingBar::new(mm(reach_mm), mm(45.0), mm(36.0)).unwrap()
    }

    fn sink(job: &LogJob, above_mm: f64, below_mm: f64) -> Setting {
        let (mm, deg) = (Length::from_mm, Angle::from_deg);
        let ways = (mm(above_mm), mm(below_mm));
        Setting::sink(job, deg(180.0), Side::Near, deg(0.0), ways, false).unwrap()
    }

    #[test]
    fn a_level_sink_is_out_by_the_reach_less_the_chord_through_all_of_the_log() {
        // With the spikes at −r, the tip of a reach R is out by R − r − √(r² − y²) at the height y, and 2·√(r² − y²) of
        // wood is cut there: the mean is R − r − 8r/3π, most is R − r at the top and the bottom.
        let job = job(200.0);
        let found = exposure(&job, &bar(400.0), &[sink(&job, 100.0, 100.0)]);
        assert_relative_eq!(found.cut().as_m2(), std::f64::consts::PI * 0.01, max_relative = 1e-3);
        let mean_m = 0.4 - 0.1 - 0.8 / (3.0 * std::f64::consts::PI);
        assert_relative_eq!(found.mean_out().unwrap().as_m(), mean_m, max_relative = 1e-3);
        assert_relative_eq!(found.farthest_out().as_m(), 0.3, epsilon = 0.02);
    }

    #[test]
    fn nothing_is_exposed_in_clear_ground_or_with_the_nose_in_the_wood() {
        let clear = job(200.0).with_tangle(Tangle::None);
        assert_eq!(exposure(&clear, &bar(400.0), &[sink(&clear, 100.0, 100.0)]), Exposure::default());
        let thick = job(900.0);
        let deep = exposure(&thick, &bar(400.0), &[sink(&thick, 10.0, 10.0)]);
        assert_eq!(deep, Exposure::default());
        assert_eq!(exposure(&thick, &bar(400.0), &[]).mean_out(), None);
    }

    proptest! {
        #[test]
        fn law_for_the_same_move_a_longer_bar_is_never_less_exposed(
            diameter in 80.0_f64..700.0, reach in 200.0_f64..800.0, longer in 1.0_f64..400.0,
            from in 0.0_f64..40.0, swing in 0.0_f64..60.0, on in 0.0_f64..400.0, off in 0.0_f64..400.0
        ) {
            let job = job(diameter);
            let (mm, deg) = (Length::from_mm, Angle::from_deg);
            let setting = Setting::new(&job, deg(170.0), Side::Near, deg(from), deg(from - swing)).unwrap();
            let setting = setting.with_ways(&job, mm(on), mm(off)).unwrap();
            let short = exposure(&job, &bar(reach), &[setting]);
            let long = exposure(&job, &bar(reach + longer), &[setting]);
            prop_assert!(long.cut_m2 >= short.cut_m2, "{short:?} {long:?}");
            prop_assert!(long.out_m3 >= short.out_m3 && long.farthest_m >= short.farthest_m);
        }

        #[test]
        fn law_what_a_whole_cut_sweeps_is_about_the_section(diameter in 100.0_f64..380.0) {
            let job = job(diameter);
            let settings = [sink(&job, 0.5 * diameter, 0.5 * diameter)];
            let swept: f64 = swept_m2(&job, &bar(400.0), &settings).iter().sum();
            prop_assert!((swept / job.section().area().as_m2() - 1.0).abs() < 2e-3, "{swept}");
        }

        #[test]
        fn law_the_same_setting_again_is_done_in_no_time(diameter in 100.0_f64..380.0) {
            let job = job(diameter);
            let one = sink(&job, 0.5 * diameter, 0.5 * diameter);
            let (once, twice) = (exposure(&job, &bar(400.0), &[one]), exposure(&job, &bar(400.0), &[one, one]));
            prop_assert!((once.cut_m2 - twice.cut_m2).abs() <= 1e-3 * once.cut_m2, "{once:?} {twice:?}");
        }
    }
}
