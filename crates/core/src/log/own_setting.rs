//! A setting as it is written down, apart from any log: brought to one when that log lies there.

use super::bar::CuttingBar;
use super::job::LogJob;
use super::setting::{SHORTEST_SWING_RAD, Setting, upward_sense};
use super::slide::SHORTEST_M;
use crate::section::Side;
use crate::units::{Angle, Length};

/// Nobody sets a saw more often in one cut.
pub const MOST_SETTINGS: usize = 12;
/// A way that ends this near to where the wood ends goes as far as there is wood, m.
const WHOLE_WAY_M: f64 = 1e-3;

/// A way of the bar sideways.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Way {
    /// None.
    None,
    /// As far as there is wood, whatever the log.
    Wood,
    /// So far.
    Is(Length),
}

/// A setting that somebody made, for this log or for another like it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OwnSetting {
    /// Where the spikes bite, counter-clockwise from the far side.
    pub bark: Angle,
    /// Where the operator stands.
    pub side: Side,
    /// Direction of the bar at the start, from straight in, counter-clockwise.
    pub from: Angle,
    /// Direction at the end.
    pub to: Angle,
    /// How far off the bar is laid on, sideways.
    pub lay_on: Way,
    /// How far the saw runs off after the swing, sideways.
    pub run_off: Way,
    /// The saw's upper side leads where the bar is held at one direction; a swing says it by its two.
    pub rises: bool,
}

impl OwnSetting {
    /// A setting of a log, written down.
    pub fn of(setting: &Setting, job: &LogJob, bar: &CuttingBar) -> Self {
        let whole = setting.as_long_as_wood(job, bar);
        let way = |is: Length, whole: Length| {
            if is.as_m() <= SHORTEST_M {
                Way::None
            } else if (is - whole).abs().as_m() < WHOLE_WAY_M {
                Way::Wood
            } else {
                Way::Is(is)
            }
        };
        Self {
            bark: setting.bark(),
            side: setting.side(),
            from: setting.from(),
            to: setting.to(),
            lay_on: way(setting.lay_on(), whole.lay_on()),
            run_off: way(setting.run_off(), whole.run_off()),
            rises: setting.rises(),
        }
    }

    /// The nearest setting that a log allows: its spikes on the bark within reach, its swing within the limits.
    pub fn on(&self, job: &LogJob, bar: &CuttingBar) -> Setting {
        let begun = |way: Way| match way {
            Way::None => 0.0,
            Way::Wood => 2.0 * SHORTEST_M,
            Way::Is(length) => length.as_m(),
        };
        let turn = self.to.as_rad() - self.from.as_rad();
        let rises =
            if turn.abs() < SHORTEST_SWING_RAD { self.rises } else { turn * upward_sense(self.side) > 0.0 };
        let setting = Setting {
            bark_rad: self.bark.as_rad(),
            side: self.side,
            from_rad: self.from.as_rad(),
            to_rad: self.to.as_rad(),
            lay_on_m: begun(self.lay_on),
            run_off_m: begun(self.run_off),
            rises,
        }
        .brought_within(job);
        let whole = setting.as_long_as_wood(job, bar);
        Setting {
            lay_on_m: if self.lay_on == Way::Wood { whole.lay_on_m } else { setting.lay_on_m },
            run_off_m: if self.run_off == Way::Wood { whole.run_off_m } else { setting.run_off_m },
            ..setting
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;
    use crate::log::{LogSection, Stand, Workplace, cutting_bar, plan, saw_body};
    use crate::solve;

    /// The demo's B18 and a job of this width.
    fn job(mm: f64) -> LogJob {
        let section = LogSection::round(Length::from_mm(mm), Length::from_mm(150.0)).unwrap();
        LogJob::new(section, Stand::OneSide)
    }

    #[test]
    fn a_plan_written_down_and_put_on_the_same_log_is_that_plan() {
        let yard = demo().unwrap();
        for setup in yard.setups() {
            let bar = cutting_bar(setup).unwrap();
            let body = saw_body(setup, &solve(setup));
            let job = job(560.0);
            let workplace = Workplace::new(&job, &body);
            let settings = plan(&job, &bar, &workplace).settings;
            assert!(!settings.is_empty(), "{}", setup.name());
            for setting in settings {
                let again = OwnSetting::of(&setting, &job, &bar).on(&job, &bar);
                assert_eq!((again.bark(), again.side()), (setting.bark(), setting.side()));
                assert_eq!((again.from(), again.to()), (setting.from(), setting.to()));
                assert!((again.lay_on() - setting.lay_on()).abs().as_m() < WHOLE_WAY_M);
                assert!((again.run_off() - setting.run_off()).abs().as_m() < WHOLE_WAY_M);
                assert_eq!(again.rises(), setting.rises());
            }
        }
    }

    #[test]
    fn on_a_log_twice_as_wide_it_is_laid_on_from_outside_the_wood_again() {
        let yard = demo().unwrap();
        let bar = cutting_bar(&yard.setups()[0]).unwrap();
        let own = OwnSetting {
            bark: Angle::from_deg(180.0),
            side: Side::Near,
            from: Angle::from_deg(20.0),
            to: Angle::from_deg(-30.0),
            lay_on: Way::Wood,
            run_off: Way::None,
            rises: false,
        };
        let [narrow, wide] = [400.0, 800.0].map(|mm| own.on(&job(mm), &bar));
        assert!(wide.lay_on() > narrow.lay_on() * 1.5, "{:?} {:?}", wide.lay_on(), narrow.lay_on());
        assert_eq!(wide.run_off(), Length::ZERO);
        assert!(!wide.rises(), "nose down from 20 degrees");
        wide.check(&job(800.0)).unwrap();
        let off = OwnSetting { from: Angle::from_deg(89.0), bark: Angle::from_deg(0.0), ..own };
        off.on(&job(400.0), &bar).check(&job(400.0)).unwrap();
    }
}
