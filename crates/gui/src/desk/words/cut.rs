//! A cut in the words a sawyer would say, for window, command line and paper.

use crate::desk::format::{self, Units};
use barpoise_core::log::{
    Bind, CUTTING_ENERGY_MARK, Cut, DEFAULT_KERF, DEFAULT_SPECIFIC_ENERGY_J_CM3, Help, KERF_MARK, Kind,
    LogJob, NosePhase, NoseState, PHASE_TIMES_MARK, PLUNGE_RULE, PhaseTimes, RELIEF_SHARE, Setting, Side,
    Step, SwingStart, Touches, Trouble, clock_hour,
};
use barpoise_core::person::Bearing;
use barpoise_core::units::{Angle, Length};
use barpoise_core::{DRIVE_EFFICIENCY, DRIVE_EFFICIENCY_MARK};

/// Something said of a setting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sentence {
    /// What is said.
    pub text: String,
    /// True where it is about danger.
    pub danger: bool,
    /// True for what a sheet of paper leaves out: who carries, and what a hold costs.
    pub detail: bool,
}

impl Sentence {
    fn calm(text: impl Into<String>) -> Self {
        Self { text: text.into(), danger: false, detail: false }
    }

    fn detail(text: impl Into<String>) -> Self {
        Self { text: text.into(), danger: false, detail: true }
    }

    fn danger(text: impl Into<String>) -> Self {
        Self { text: text.into(), danger: true, detail: false }
    }
}

/// `Spikes at 10 o'clock, near side: swing 41° down, then let it run down`, or `Sink, bar level, near side`.
pub fn heading(job: &LogJob, setting: &Setting) -> String {
    let side = side_words(setting.side());
    let way = if setting.rises() { "up" } else { "down" };
    match setting.kind() {
        Kind::Sink => {
            let verb = if setting.rises() { "Press up" } else { "Sink" };
            format!("{verb}, {}, {side}, spikes at {}", slope_words(job, setting), clock(setting.bark()))
        }
        Kind::Pivot => {
            let swing = format::whole_angle(setting.swing());
            let then = if setting.slides_off() { format!(", then let it run {way}") } else { String::new() };
            format!("Spikes at {}, {side}: swing {swing} {way}{then}", clock(setting.bark()))
        }
    }
}

/// `10 o'clock`: 12 is the top, 9 the near side, 3 the far one.
pub fn clock(bark: Angle) -> String {
    format!("{} o'clock", clock_hour(bark))
}

const fn side_words(side: Side) -> &'static str {
    match side {
        Side::Near => "near side",
        Side::Far => "far side",
    }
}

/// How a bar that is held lies: `bar level`, `nose 20° down`.
fn slope_words(job: &LogJob, setting: &Setting) -> String {
    const LEVEL: Angle = Angle::from_deg(3.0);
    let direction = job.section().straight_in_rad(setting.bark().as_rad()) + setting.from().as_rad();
    let up = Angle::from_rad(direction.sin().asin());
    if up.as_rad().abs() < LEVEL.as_rad() {
        "bar level".to_owned()
    } else if up.as_rad() > 0.0 {
        format!("nose {} up", format::whole_angle(up))
    } else {
        format!("nose {} down", format::whole_angle(Angle::from_rad(-up.as_rad())))
    }
}

/// What a sawyer would say of a setting, in the order of the work.
pub fn sentences(job: &LogJob, units: Units, cut: &Cut, index: usize) -> Vec<Sentence> {
    let (Some(setting), Some(step)) = (cut.settings.get(index), cut.steps.get(index)) else {
        return Vec::new();
    };
    let mut said = Vec::new();
    said.extend(bind_words(job, units, cut, index).map(Sentence::calm));
    if let SwingStart::Plunge = step.start {
        said.push(Sentence::danger(PLUNGE_RULE));
    }
    if setting.rises() {
        said.push(Sentence::danger("The top run cuts and pushes the saw back at you: brace for it."));
    }
    match setting.kind() {
        Kind::Sink => said.push(Sentence::calm(format!(
            "Hold the bar so and let it through, {} in all; the spikes slide along the bark.",
            units.length(setting.lay_on() + setting.run_off())
        ))),
        Kind::Pivot if setting.touches_down() => said.push(Sentence::calm(format!(
            "Lay the bar on and let it in by {} until the spikes bite.",
            units.length(setting.lay_on())
        ))),
        Kind::Pivot => {}
    }
    said.push(nose(units, step));
    for contact in &step.contacts {
        let what = match contact.touches {
            Touches::UncutWood => "uncut wood",
            Touches::Tangle => "the brush",
        };
        let (from, to) = (format::percent(contact.from), format::percent(contact.to));
        let along = if from == to {
            format!("{from} of the way in")
        } else {
            format!("from {from} to {to} of the way")
        };
        said.push(Sentence::danger(format!("Danger quadrant touches {what} {along}.")));
    }
    if !setting.rises() {
        said.push(Sentence::detail("The log carries the saw; your hands take it at the end."));
    }
    said.extend(stance_words(step).map(Sentence::calm));
    let held = [&step.bearing_at_start, &step.bearing_at_end];
    let beyond = held.into_iter().flatten().any(Bearing::is_beyond_strength);
    said.extend(bearing_words(step).map(if beyond { Sentence::danger } else { Sentence::detail }));
    said.extend(trouble_words(units, step).map(Sentence::danger));
    said
}

/// What a setting is for where the wood is pressed together.
fn bind_words(job: &LogJob, units: Units, cut: &Cut, index: usize) -> Option<String> {
    if cut.is_own {
        return None;
    }
    let (pressed, pulled) = match job.bind() {
        Bind::None => return None,
        Bind::Top => ("on top", "from below"),
        Bind::Bottom => ("underneath", "from the top"),
    };
    Some(if index < cut.relief {
        let deep = cut.relief_depth.map_or_else(String::new, |depth| relief_words(job, units, depth));
        format!("Relief {pressed}, where the wood is pressed together: {deep}the kerf closes as you go.")
    } else {
        format!("Finish {pulled}, where the wood is pulled: the kerf opens as you go.")
    })
}

/// How deep the relief goes: `146 mm deep, 36 % of the height, `.
fn relief_words(job: &LogJob, units: Units, depth: Length) -> String {
    /// From this much more than a third on it is said, as a share of the height.
    const MUCH_MORE: f64 = 0.08;
    let share = depth.as_m() / job.section().height().as_m();
    let more = if share > RELIEF_SHARE + MUCH_MORE { " (a third is usual; this bar takes more)" } else { "" };
    format!("{} deep, {} of the height{more}; ", units.length(depth), format::share(share))
}

/// How the person stands to a setting: `You stand: standing, bent 20°; at the end kneeling, upright`.
pub fn stance_words(step: &Step) -> Option<String> {
    let start = step.stance_at_start.as_ref()?.words();
    let end = step.stance_at_end.as_ref().map(barpoise_core::person::Stance::words);
    Some(match end {
        Some(end) if end != start => format!("You work {start}; at the end {end}."),
        _ => format!("You work {start}."),
    })
}

/// What the hold costs while the hands carry: `To lay it on: shoulder 38 % of an average man's strength, about 1½ minutes,
/// half of people 1 to 2`.
pub fn bearing_words(step: &Step) -> Option<String> {
    let (start, end) = (step.bearing_at_start.as_ref(), step.bearing_at_end.as_ref());
    match (start.map(Bearing::words), end.map(Bearing::words)) {
        (Some(start), Some(end)) if start != end => {
            Some(format!("To lay it on: {start}. To take it off: {end}."))
        }
        (Some(words), _) => Some(format!("To lay it on: {words}.")),
        (None, Some(words)) => Some(format!("To take it off: {words}.")),
        (None, None) => None,
    }
}

/// What stands against a setting, and where on its way.
pub fn trouble_words(units: Units, step: &Step) -> Option<String> {
    let (share, trouble) = step.trouble.as_ref()?;
    let what = trouble_said(units, trouble);
    Some(format!("Cannot be done: {what}, {} of the way in.", format::percent(*share)))
}

/// What stands against a place of the saw.
pub fn trouble_said(units: Units, trouble: &Trouble) -> String {
    let length = |metres: f64| units.length(Length::from_m(metres));
    match trouble {
        Trouble::Hold(why) => why.words_with(&length),
        Trouble::NoseOnOwnSide { .. } => "the nose comes out on your own side".to_owned(),
        Trouble::NoseInGround { by_m, .. } => format!("the nose {} in the ground", length(*by_m)),
    }
}

fn is_hidden(phase: &NosePhase) -> bool {
    matches!(phase.state, NoseState::Out { hidden: true, .. })
}

fn nose(units: Units, step: &Step) -> Sentence {
    let nose = &step.nose;
    let (out, buried) = (Length::from_m(nose.out_max_m), Length::from_m(nose.buried_max_m));
    if out > Length::ZERO {
        let hidden_m: f64 =
            nose.phases.iter().filter(|phase| is_hidden(phase)).map(|phase| phase.way_m).sum();
        let sight = if !nose.is_hidden() {
            "in sight".to_owned()
        } else if nose.out_travel_m - hidden_m < 0.01 {
            "out of sight".to_owned()
        } else {
            format!("out of sight for {} of it", units.length(Length::from_m(hidden_m)))
        };
        let way = units.length(Length::from_m(nose.out_travel_m));
        return Sentence::danger(format!(
            "Nose out of the log up to {}, over {way} of its way, {sight}.",
            units.length(out)
        ));
    }
    let open = nose.phases.iter().any(|phase| phase.state == NoseState::OpenKerf);
    let short = format!("up to {} short of the far bark", units.length(buried));
    Sentence::calm(match (buried > Length::ZERO, open) {
        (true, true) => format!("Nose buried, {short}, and in the open kerf."),
        (true, false) => format!("Nose buried, {short}."),
        (false, _) => "Nose in the open kerf.".to_owned(),
    })
}

/// What would take the rest of the log; one line.
pub fn help(help: &Help, units: Units) -> String {
    let mut ways = Vec::new();
    if help.other_side {
        ways.push("working from the other side as well".to_owned());
    }
    if let Some(height) = help.raise_to {
        ways.push(format!("the log raised to {} above the ground", units.length(height)));
    }
    if help.roll {
        ways.push("rolling the log half over and cutting the same again".to_owned());
    }
    if help.kneel {
        ways.push("kneeling".to_owned());
    }
    if let Some(reach) = help.longer_reach {
        ways.push(format!("a bar that reaches {}", units.length(reach)));
    }
    match ways.as_slice() {
        [] => "Nothing that was tried would cut the rest from here.".to_owned(),
        ways => format!("What would cut the rest: {}.", ways.join(", or ")),
    }
}

/// What is left of the section, and why: one line; `None` where nothing is.
pub fn left_words(cut: &Cut) -> Option<String> {
    if cut.is_whole() {
        return None;
    }
    let share = format::share_of_section(1.0 - cut.cover.covered_fraction);
    Some(if cut.settings.is_empty() {
        "No place of the saw that can be held begins a cut here.".to_owned()
    } else {
        format!("{share} is left: no place of the saw that can be held takes it.")
    })
}

/// Said once beside every plan: what a pose that passes means.
pub const POSE_IS_GEOMETRY: &str =
    "Where you stand is geometry of an average body, not advice: no promise that a cut is safe.";

/// What rate, pull-in and times rest on, with the mark of each.
pub fn rate_sources(units: Units) -> String {
    let times = PhaseTimes::default();
    format!(
        "{} of the power at the chain: {}. Kerf {}: {}. {} to cut: {}. Setting {}, taking off {}, pulling back {}: {}.",
        format::percent(DRIVE_EFFICIENCY),
        DRIVE_EFFICIENCY_MARK.words(),
        format::fine_length(units, DEFAULT_KERF),
        KERF_MARK.words(),
        format::cutting_energy(DEFAULT_SPECIFIC_ENERGY_J_CM3),
        CUTTING_ENERGY_MARK.words(),
        format::seconds(times.touch_down_s()),
        format::seconds(times.last_slide_s()),
        format::seconds(times.pull_back_s()),
        PHASE_TIMES_MARK.words(),
    )
}
