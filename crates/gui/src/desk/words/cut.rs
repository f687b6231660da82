//! A cut in the words a sawyer would say, for the window and the command line.

use crate::desk::document::Step;
use crate::desk::format::{self, Units};
use barpoise_core::log::{
    LogJob, NosePhase, NoseState, PLUNGE_RULE, Setting, SettingPlace, Shortfall, SwingStart, Touches,
    underside_leads,
};
use barpoise_core::units::{Angle, Length};

/// Something said of a setting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sentence {
    /// What is said.
    pub text: String,
    /// True where it is about danger.
    pub danger: bool,
}

impl Sentence {
    fn calm(text: impl Into<String>) -> Self {
        Self { text: text.into(), danger: false }
    }

    fn danger(text: impl Into<String>) -> Self {
        Self { text: text.into(), danger: true }
    }
}

/// `Near side: spikes at 180°, swing 146° down`.
pub fn heading(setting: &Setting) -> String {
    let place = SettingPlace::of(setting).words(setting.side());
    let mut letters = place.chars();
    let place: String =
        letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default();
    let way = if underside_leads(setting) { "down" } else { "up" };
    let bark = Angle::from_deg(setting.bark().as_deg().rem_euclid(360.0));
    let (bark, swing) = (format::whole_angle(bark), format::whole_angle(setting.swing()));
    format!("{place}: spikes at {bark}, swing {swing} {way}")
}

/// What a sawyer would say of a setting, in the order of the work.
pub fn sentences(job: &LogJob, units: Units, setting: &Setting, step: &Step) -> Vec<Sentence> {
    let mut said = Vec::new();
    match step.start {
        SwingStart::TouchDown { .. } => {
            said.push(Sentence::calm("Lay the bar on the bark and in, then set the spikes."));
        }
        SwingStart::Plunge => said.push(Sentence::danger(PLUNGE_RULE)),
        SwingStart::Free => {}
    }
    said.push(nose(units, step));
    for contact in &step.contacts {
        let what = match contact.touches {
            Touches::UncutWood => "uncut wood",
            Touches::Tangle => "the tangle",
        };
        let share = |at_rad| format::percent(share_of_swing(setting, at_rad));
        let (from, to) = (share(contact.from_rad), share(contact.to_rad));
        said.push(Sentence::danger(format!(
            "Danger quadrant touches {what} from {from} to {to} of the swing."
        )));
    }
    said.push(Sentence::calm(if setting.stand_off() > Length::ZERO {
        "Held off the spikes: your hands carry weight and pull-in."
    } else if setting.slides_off(job) {
        "The log carries the saw; your hands take it for the last slide."
    } else {
        "The log carries the saw."
    }));
    said.extend(posture(units, step).into_iter().map(Sentence::danger));
    said
}

/// What speaks against standing to a setting: the plan knows bark and swing limits, not the person.
pub fn posture(units: Units, step: &Step) -> Vec<String> {
    let length = |metres: f64| units.length(Length::from_m(metres));
    let posture = &step.posture;
    let mut said = Vec::new();
    if step.nose.into_ground_m > 0.0 {
        said.push(format!("The nose would go {} into the ground.", length(step.nose.into_ground_m)));
    }
    if posture.handle_into_ground_m > 0.0 {
        said.push(format!(
            "The rear handle would be {} in the ground: stop short of that.",
            length(posture.handle_into_ground_m)
        ));
    }
    if posture.handle_beyond_reach_m > 0.0 {
        said.push(format!(
            "The rear handle goes {} beyond your arm's reach.",
            length(posture.handle_beyond_reach_m)
        ));
    }
    if posture.above_shoulder_m > 0.0 {
        said.push(format!("Spikes or handle {} above shoulder height.", length(posture.above_shoulder_m)));
    }
    if posture.nose_on_own_side {
        said.push("The nose comes out on your own side: stand clear of the plane of the bar.".to_owned());
    }
    said
}

fn is_hidden(phase: &NosePhase) -> bool {
    matches!(phase.state, NoseState::Out { hidden: true, .. })
}

fn share_of_swing(setting: &Setting, at_rad: f64) -> f64 {
    let turn = (setting.to() - setting.from()).as_rad();
    if turn == 0.0 { 0.0 } else { (at_rad - setting.from().as_rad()) / turn }
}

fn nose(units: Units, step: &Step) -> Sentence {
    let nose = &step.nose;
    let (out, buried) = (Length::from_m(nose.out_max_m), Length::from_m(nose.buried_max_m));
    if out > Length::ZERO {
        let hidden_rad: f64 =
            nose.phases.iter().filter(|phase| is_hidden(phase)).map(NosePhase::angle_rad).sum();
        let hidden = Angle::from_rad(hidden_rad);
        let sight =
            match (nose.is_hidden(), (nose.out_rad - hidden_rad).abs() < Angle::from_deg(1.0).as_rad()) {
                (false, _) => "in sight".to_owned(),
                (true, true) => "hidden".to_owned(),
                (true, false) => format!("hidden for {} of it", format::whole_angle(hidden)),
            };
        let angle = format::whole_angle(Angle::from_rad(nose.out_rad));
        let out = units.length(out);
        return Sentence::danger(format!(
            "Nose out of the log up to {out}, through {angle} of the swing, {sight}."
        ));
    }
    let open = nose.phases.iter().any(|phase| phase.state == NoseState::OpenKerf);
    let short = format!("up to {} short of the far bark", units.length(buried));
    Sentence::calm(match (buried > Length::ZERO, open) {
        (true, true) => format!("Nose buried, {short}, then in the open kerf."),
        (true, false) => format!("Nose buried, {short}."),
        (false, _) => "Nose in the open kerf.".to_owned(),
    })
}

/// What would take the log apart after all.
pub fn shortfall(shortfall: &Shortfall, units: Units) -> String {
    let mut ways = Vec::new();
    if let Some(reach) = shortfall.shortest_reach {
        ways.push(format!("a reach of {}", units.length(reach)));
    }
    if shortfall.walk_round {
        ways.push("walking round the log".to_owned());
    }
    if let Some(bark) = shortfall.more_bark {
        ways.push(format!("{} more bark within reach", format::whole_angle(bark)));
    }
    match ways.as_slice() {
        [] => "Nothing within range would do it from here.".to_owned(),
        ways => format!("What would do it: {}.", ways.join(", or ")),
    }
}
