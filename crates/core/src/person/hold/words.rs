//! What is said of a hold, in plain sentences.

use super::back::DiscLine;
use super::cost::{BackCost, HoldCost, JointCost, Place};
use super::strength::{People, Strength};
use super::time::{Endures, HoldingTime};

const S_PER_MIN: f64 = 60.0;
/// A percentile this near the middle is an average person.
const AVERAGE_WITHIN: f64 = 0.5;

impl People {
    const fn people(self) -> &'static str {
        match self {
            Self::Men => "men",
            Self::Women => "women",
        }
    }
}

impl Strength {
    /// Whose strength it is, as in *38 % of …*.
    pub fn words(&self) -> String {
        let (one, percentile) = (self.people().person(), self.percentile());
        if (percentile - 50.0).abs() < AVERAGE_WITHIN {
            format!("an average {one}'s strength")
        } else {
            format!("the strength of a {one} stronger than {percentile:.0} in 100 {}", self.people().people())
        }
    }
}

impl Place {
    /// The place, in plain words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::FrontShoulder => "front hand's shoulder",
            Self::FrontElbow => "front hand's elbow",
            Self::RearShoulder => "rear hand's shoulder",
            Self::RearElbow => "rear hand's elbow",
            Self::Back => "back",
        }
    }

    /// The part of the body alone.
    pub const fn part(self) -> &'static str {
        match self {
            Self::FrontShoulder | Self::RearShoulder => "shoulder",
            Self::FrontElbow | Self::RearElbow => "elbow",
            Self::Back => "back",
        }
    }
}

impl DiscLine {
    /// Where the force on the disc lies.
    pub const fn words(self) -> &'static str {
        match self {
            Self::UnderDesign => "disc under the design line of 3400 N",
            Self::OverDesign => "disc over the design line of 3400 N, under the upper line of 6400 N",
            Self::OverUpper => "disc over the upper line of 6400 N",
        }
    }
}

/// A length of time as a person says it: to 5 seconds under a minute, to half minutes up to five, to minutes up to ten,
/// to five minutes beyond. Number and unit.
fn spoken(seconds: f64) -> (String, &'static str) {
    let to = |step: f64| (seconds / step).round() * step;
    let under_a_minute = to(5.0);
    if under_a_minute < S_PER_MIN {
        return (format!("{:.0}", under_a_minute.max(5.0)), "seconds");
    }
    let minutes = match seconds / S_PER_MIN {
        few if few < 5.0 => to(0.5 * S_PER_MIN),
        some if some < 10.0 => to(S_PER_MIN),
        _ => to(5.0 * S_PER_MIN),
    } / S_PER_MIN;
    let whole = minutes.floor();
    let half = if minutes - whole > 0.25 { "½" } else { "" };
    let unit = if minutes > 1.25 { "minutes" } else { "minute" };
    (format!("{whole:.0}{half}"), unit)
}

/// A length of time as a person says it, such as *about 1½ minutes*.
pub fn about(seconds: f64) -> String {
    let (number, unit) = spoken(seconds);
    format!("about {number} {unit}")
}

/// The time of a hold with its band, such as *about 1½ minutes, half of people 1 to 2*.
fn time_words(endures: &Endures) -> String {
    let mut said = about(endures.seconds);
    let kind = |unit: &str| unit.starts_with("minute");
    match endures.half {
        Some((low, high)) => {
            let ((low, low_unit), (high, high_unit)) = (spoken(low), spoken(high));
            let own_kind = kind(spoken(endures.seconds).1);
            if kind(low_unit) == own_kind && kind(high_unit) == own_kind {
                said.push_str(&format!(", half of people {low} to {high}"));
            } else if kind(low_unit) == kind(high_unit) {
                said.push_str(&format!(", half of people {low} to {high} {high_unit}"));
            } else {
                said.push_str(&format!(", half of people {low} {low_unit} to {high} {high_unit}"));
            }
        }
        None => said.push_str(", how people differ is not given"),
    }
    said
}

impl HoldingTime {
    /// How long, with its band, or why there is no time.
    pub fn words(&self) -> String {
        match self {
            Self::Lasts(endures) => time_words(endures),
            Self::NotTheEnd => "not what ends the hold".to_owned(),
            Self::BeyondStrength => "more than this strength".to_owned(),
        }
    }
}

fn percent(share: f64) -> String {
    let percent = 100.0 * share;
    if percent > 0.0 && percent < 0.5 { "under 1 %".to_owned() } else { format!("{percent:.0} %") }
}

/// What one joint of an arm holds, such as *shoulder 38 % of an average man's strength, about 1½ minutes, half of people
/// 1 to 2*. `named` is what the joint is called.
pub fn arm_words(named: &str, cost: &JointCost, strength: &Strength) -> String {
    match &cost.holding {
        Some(holding) => {
            format!("{named} {} of {}, {}", percent(holding.share), strength.words(), holding.time.words())
        }
        None if cost.is_slight() => format!("{named} holds next to nothing"),
        None => {
            format!("{named} works the other way, down or back: no strength is known to hold that against")
        }
    }
}

/// What the back holds: its share of strength, the force on the disc against the published lines, and whether the bend
/// or the saw costs more.
pub fn back_words(cost: &BackCost, strength: &Strength) -> String {
    let mut said = match cost.share {
        Some(share) if share >= 1.0 => {
            format!("back {} of {}, more than this strength", percent(share), strength.words())
        }
        Some(share) => format!("back {} of {}", percent(share), strength.words()),
        None => "back leans away from the load, and no strength is known to hold that against".to_owned(),
    };
    if !cost.measured && cost.share.is_some() {
        said.push_str(" (measured from 20 to 60° of bend only)");
    }
    said.push_str(", ");
    said.push_str(DiscLine::of(cost.load.compression).words());
    if let Some((body, saw)) = cost.load.body_and_saw() {
        said.push_str(&format!("; {} of it is the bent body, {} the saw", percent(body), percent(saw)));
        if body > saw {
            said.push_str(": the bend costs more than the saw");
        }
    }
    said.push_str("; no time is given for a back");
    said
}

/// What ends the hold first, in the manner of [`arm_words`].
pub fn ends_first_words(cost: &HoldCost, strength: &Strength) -> String {
    match cost.ends_first() {
        Some((Place::Back, _)) => back_words(&cost.back, strength),
        Some((place, holding)) => {
            let (share, whose, time) = (percent(holding.share), strength.words(), holding.time.words());
            format!("{} {share} of {whose}, {time}", place.part())
        }
        None => "neither shoulder nor elbow ends this hold".to_owned(),
    }
}

/// A line for each joint of the arms and one for the back.
pub fn hold_words(cost: &HoldCost, strength: &Strength) -> Vec<String> {
    let arms = Place::ARMS
        .into_iter()
        .filter_map(|place| cost.joint(place).map(|joint| arm_words(place.words(), joint, strength)));
    arms.chain([back_words(&cost.back, strength)]).collect()
}

#[cfg(test)]
#[path = "words_tests.rs"]
mod tests;
