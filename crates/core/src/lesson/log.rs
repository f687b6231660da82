//! The log of a step: how wide it is, how it lies, who cuts it and with which settings.

use super::log_file::{BindFile, LiesFile, SettingFile, TangleFile, WayFile};
use super::mirror::ViewFile;
use super::role::Role;
use crate::fault::{Checker, Fault, Range};
use crate::log::limits::{BARK_ANGLE, CLEARANCE, LOG_DIAMETER, OVAL_RATIO, SLIDE_WAY, SWING_LIMIT};
use crate::log::{Bind, MOST_SETTINGS, OwnSetting, Side, Stand, Tangle, Way};
use crate::person::Person;
use crate::record::{PersonFile, StandFile};
use crate::units::{Angle, Length};

/// A log so many times as wide as the bar reaches.
const REACHES: Range = Range::new("log's diameter over the reach", "", 0.2, 4.0);
const HEIGHT_OVER_WIDTH: Range =
    Range::new("log's height over its width", "", 1.0 / OVAL_RATIO.max, OVAL_RATIO.max);
/// A bar never turns farther from straight in.
const DIRECTION: Range = Range::new("direction from straight in", "°", -SWING_LIMIT.max, SWING_LIMIT.max);

/// A log before a setup, and how it is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct LogShown {
    /// How wide it is.
    pub width: LogWidth,
    /// Where the person stands.
    pub stand: Stand,
    /// Upright diameter over the one across.
    pub height_over_width: f64,
    /// Height of the underside above the ground.
    pub clearance: Length,
    /// Where branches stand.
    pub tangle: Tangle,
    /// Where the wood binds.
    pub bind: Bind,
    /// Who cuts it; `None` for the person of the yard.
    pub person: Option<Person>,
    /// Settings in the place of the plan's; none where the plan cuts.
    pub settings: Vec<OwnSetting>,
    /// The cut runs as soon as the step is shown and nothing is asked any more.
    pub runs: bool,
}

/// How wide a step's log is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LogWidth {
    /// Its diameter.
    Is(Length),
    /// Made to a saw.
    Reaches {
        /// So many times the reach past the spikes.
        times: f64,
        /// Whose; `None` for the step's own setup.
        of: Option<Role>,
    },
}

impl LogWidth {
    /// The diameter before a saw of this reach.
    pub fn for_reach(self, reach: Length) -> Length {
        match self {
            Self::Is(width) => width,
            Self::Reaches { times, .. } => reach * times,
        }
    }
}

impl LogShown {
    /// Upright diameter of a log so wide; `None` for a round one.
    pub fn height(&self, width: Length) -> Option<Length> {
        const ROUND: f64 = 1e-9;
        ((self.height_over_width - 1.0).abs() > ROUND).then(|| width * self.height_over_width)
    }

    /// Checks the log of a step; any other view is a log of no width.
    pub(super) fn checked(step: &mut Checker, file: &ViewFile) -> Self {
        let plain = LiesFile::default();
        let (width, stand, lies, person, settings, runs) = match file {
            ViewFile::Log { diameter_mm, reaches, reach_of, stand, lies, person, settings, runs } => {
                let lies = lies.as_ref().unwrap_or(&plain);
                let width = log_width(step, *diameter_mm, *reaches, *reach_of);
                (width, *stand, lies, person.as_deref(), settings.as_slice(), *runs)
            }
            _ => (LogWidth::Is(Length::ZERO), StandFile::default(), &plain, None, [].as_slice(), false),
        };
        let height_over_width =
            step.number("view.lies.height_over_width", &HEIGHT_OVER_WIDTH, lies.height_over_width);
        let clearance = step.number("view.lies.above_ground_mm", &CLEARANCE, lies.above_ground_mm);
        Self {
            width,
            stand: stand.into(),
            height_over_width,
            clearance: Length::from_mm(clearance),
            tangle: lies.tangle.into(),
            bind: lies.bind.into(),
            person: person.and_then(|person| checked_person(step, person)),
            settings: checked_settings(step, settings),
            runs,
        }
    }
}

fn log_width(step: &mut Checker, mm: Option<f64>, reaches: Option<f64>, of: Option<Role>) -> LogWidth {
    match (mm, reaches) {
        (Some(mm), None) => {
            if of.is_some() {
                step.fault("view.reach_of", "reach_of goes with reaches, not with diameter_mm");
            }
            LogWidth::Is(Length::from_mm(step.number("view.diameter_mm", &LOG_DIAMETER, mm)))
        }
        (None, Some(times)) => {
            if of == Some(Role::EachBar) {
                step.fault("view.reach_of", "a log is made to one bar; EachBar is several");
            }
            LogWidth::Reaches { times: step.number("view.reaches", &REACHES, times), of }
        }
        (None, None) => {
            step.fault("view", "a log needs diameter_mm, or reaches: so many times the reach of the bar");
            LogWidth::Is(Length::ZERO)
        }
        (Some(_), Some(_)) => {
            step.fault("view.reaches", "a log has diameter_mm or reaches, not both");
            LogWidth::Is(Length::ZERO)
        }
    }
}

fn checked_person(step: &mut Checker, file: &PersonFile) -> Option<Person> {
    let told = |faults: Vec<Fault>| {
        for Fault { path, message } in faults {
            step.fault(&format!("view.{path}"), message);
        }
    };
    Person::try_from(file).map_err(told).ok()
}

fn checked_settings(step: &mut Checker, files: &[SettingFile]) -> Vec<OwnSetting> {
    if files.len() > MOST_SETTINGS {
        let many = files.len();
        step.fault(
            "view.settings",
            format_args!("a cut takes at most {MOST_SETTINGS} settings, here are {many}"),
        );
    }
    let mut settings = Vec::with_capacity(files.len());
    for (index, file) in files.iter().enumerate() {
        let mut number =
            |field, range, value| step.number(&format!("view.settings[{index}].{field}"), range, value);
        for (field, way) in [("lay_on", file.lay_on), ("run_off", file.run_off)] {
            if let WayFile::Mm(mm) = way {
                number(field, &SLIDE_WAY, mm);
            }
        }
        number("bark_deg", &BARK_ANGLE, file.bark_deg);
        number("from_deg", &DIRECTION, file.from_deg);
        number("to_deg", &DIRECTION, file.to_deg);
        settings.push(file.own());
    }
    settings
}

impl SettingFile {
    /// The setting, unchecked: brought to a log it is one that the log allows.
    pub fn own(&self) -> OwnSetting {
        let way = |way| match way {
            WayFile::None => Way::None,
            WayFile::Wood => Way::Wood,
            WayFile::Mm(mm) => Way::Is(Length::from_mm(mm)),
        };
        OwnSetting {
            bark: Angle::from_deg(self.bark_deg),
            side: if self.from_far_side { Side::Far } else { Side::Near },
            from: Angle::from_deg(self.from_deg),
            to: Angle::from_deg(self.to_deg),
            lay_on: way(self.lay_on),
            run_off: way(self.run_off),
            rises: self.from_below,
        }
    }

    /// As a file writes this setting.
    pub fn of(setting: &OwnSetting) -> Self {
        let degrees = |angle: Angle| tidy(angle.as_deg());
        let way = |way| match way {
            Way::None => WayFile::None,
            Way::Wood => WayFile::Wood,
            Way::Is(length) => WayFile::Mm(tidy(length.as_mm())),
        };
        let (from_deg, to_deg) = (degrees(setting.from), degrees(setting.to));
        Self {
            bark_deg: degrees(setting.bark),
            from_far_side: setting.side == Side::Far,
            from_deg,
            to_deg,
            lay_on: way(setting.lay_on),
            run_off: way(setting.run_off),
            // Two directions say it themselves.
            from_below: setting.rises && from_deg.total_cmp(&to_deg).is_eq(),
        }
    }
}

/// To a tenth: nobody sets spikes nearer.
fn tidy(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

impl From<TangleFile> for Tangle {
    fn from(file: TangleFile) -> Self {
        match file {
            TangleFile::None => Self::None,
            TangleFile::Near => Self::Near,
            TangleFile::Far => Self::Far,
        }
    }
}

impl From<Tangle> for TangleFile {
    fn from(tangle: Tangle) -> Self {
        match tangle {
            Tangle::None => Self::None,
            Tangle::Near => Self::Near,
            Tangle::Far => Self::Far,
        }
    }
}

impl From<BindFile> for Bind {
    fn from(file: BindFile) -> Self {
        match file {
            BindFile::None => Self::None,
            BindFile::Top => Self::Top,
            BindFile::Bottom => Self::Bottom,
        }
    }
}

impl From<Bind> for BindFile {
    fn from(bind: Bind) -> Self {
        match bind {
            Bind::None => Self::None,
            Bind::Top => Self::Top,
            Bind::Bottom => Self::Bottom,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::{Lesson, View, parse_lesson};

    fn read(log: &str) -> Result<Lesson, String> {
        let text = format!(
            "(version: 4, name: \"x\", steps: [(heading: \"x\", caption: \"x\", roles: [OnBench], view: Log({log}))])"
        );
        parse_lesson(&text, "my.lesson.ron").map_err(|error| error.to_string())
    }

    #[test]
    fn a_log_is_read_as_it_lies_with_who_cuts_it_and_how() {
        let lesson = read(
            "diameter_mm: 500, lies: (height_over_width: 0.8, above_ground_mm: 400, tangle: Near, bind: Top), \
             person: (stature_mm: 1640, survey: Women), runs: true, \
             settings: [(bark_deg: 170, from_deg: 30, to_deg: -40, lay_on: Wood, run_off: Mm(40))]",
        )
        .unwrap();
        let View::Log(log) = &lesson.steps()[0].view else { panic!() };
        assert_eq!(log.height(Length::from_mm(500.0)), Some(Length::from_mm(400.0)));
        assert_eq!((log.clearance, log.tangle, log.bind), (Length::from_mm(400.0), Tangle::Near, Bind::Top));
        assert_eq!(log.person.map(|person| person.stature().as_mm().round()), Some(1640.0));
        let [setting] = log.settings.as_slice() else { panic!() };
        assert_eq!((setting.lay_on, setting.run_off), (Way::Wood, Way::Is(Length::from_mm(40.0))));
        assert!(log.runs && setting.side == Side::Near);
        let again = SettingFile::of(setting);
        assert_eq!((again.bark_deg, again.from_deg, again.to_deg), (170.0, 30.0, -40.0));
    }

    #[test]
    fn each_number_out_of_its_range_is_told_at_its_place() {
        let said = read(
            "diameter_mm: 500, lies: (height_over_width: 3, above_ground_mm: -4), person: (stature_mm: 900, survey: Men), \
             settings: [(bark_deg: 170, from_deg: 100, to_deg: 0, lay_on: Mm(9000))]",
        )
        .unwrap_err();
        for (field, range) in [
            ("view.lies.height_over_width", "0.5"),
            ("view.lies.above_ground_mm", "0…3000"),
            ("view.person.stature_mm", "1300…2200"),
            ("view.settings[0].from_deg", "-90…90"),
            ("view.settings[0].lay_on", "0…3500"),
        ] {
            let line = said.lines().find(|line| line.contains(&format!("steps[0].{field}: ")));
            let line = line.unwrap_or_else(|| panic!("{field}: {said}"));
            assert!(line.starts_with("my.lesson.ron:1:") && line.contains(range), "{line}");
        }
        let many = "(bark_deg: 170, from_deg: 0, to_deg: -40),".repeat(MOST_SETTINGS + 1);
        let said = read(&format!("diameter_mm: 500, settings: [{many}]")).unwrap_err();
        assert!(said.contains("at most 12 settings, here are 13"), "{said}");
    }

    #[test]
    fn an_older_version_has_none_of_it() {
        let text = "(version: 3, name: \"x\", steps: [(heading: \"x\", caption: \"x\", roles: [OnBench], \
                    view: Log(diameter_mm: 500, runs: true))])";
        let said = parse_lesson(text, "x").unwrap_err().to_string();
        assert!(said.contains("version 3 has no runs (write version: 4)"), "{said}");
    }
}
