//! What a value is worth: a fixed scale for each measure, in its own unit, between two anchors.
//!
//! A worth hangs on the value and its anchors alone, so who else is on the rack changes none.

use super::measure::{Better, Measure, Values};
use crate::fault::Fault;

/// The most that a measure counts.
pub const MOST_WEIGHT: f64 = 10.0;

/// The two ends of a measure's scale, in its unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Anchors {
    fine: f64,
    bad: f64,
}

impl Anchors {
    /// From `fine` on a value is no burden, worth 1; from `bad` on it is as bad as it gets, worth 0; straight between.
    ///
    /// # Errors
    /// Ends that are no numbers from nothing up, or that lie the wrong way round or together.
    pub fn new(measure: Measure, fine: f64, bad: f64) -> Result<Self, Fault> {
        let refused = |message: String| Err(Fault { path: format!("anchors.{}", measure.words()), message });
        if !(fine.is_finite() && bad.is_finite() && fine >= 0.0 && bad >= 0.0) {
            return refused("an end of a scale is a number from nothing up".to_owned());
        }
        match measure.better() {
            Better::Less if fine >= bad => {
                refused(format!("what is no burden, {fine}, lies below what is as bad as it gets, {bad}"))
            }
            Better::More if fine <= bad => {
                refused(format!("what is no burden, {fine}, lies above what is as bad as it gets, {bad}"))
            }
            _ => Ok(Self { fine, bad }),
        }
    }

    /// From here on it is no burden.
    pub const fn fine(&self) -> f64 {
        self.fine
    }

    /// From here on it is as bad as it gets.
    pub const fn bad(&self) -> f64 {
        self.bad
    }

    /// Size of the scale.
    pub fn span(&self) -> f64 {
        (self.fine - self.bad).abs()
    }

    /// What a value is worth on the endless scale: below 0 and above 1 as well.
    fn endless(&self, value: f64) -> f64 {
        (value - self.bad) / (self.fine - self.bad)
    }

    /// What a value is worth, 0 to 1.
    pub fn worth(&self, value: f64) -> f64 {
        self.endless(value).clamp(0.0, 1.0)
    }
}

impl Measure {
    /// Where its scale begins and ends until it is moved: *our guess* of how a sawyer would put it. The ends
    /// lie outside what the saws of the trade come to, so that a difference between two of them always tells.
    pub const fn common_anchors(self) -> Anchors {
        /// 60° of hang.
        const STEEP_RAD: f64 = 60.0_f64.to_radians();
        let (fine, bad) = match self {
            // All of it; none.
            Self::Done | Self::OneSetting => (1.0, 0.0),
            // Never; half a minute in every cut, a thick log in branches all through.
            Self::TangleTime => (0.0, 30.0),
            // A hand's width; as long as the longest bar.
            Self::NoseOut => (0.1, 0.9),
            // One to a cut; four.
            Self::Lifts => (1.0, 4.0),
            // Nothing; half of what the arms can, in one cut.
            Self::Effort => (0.0, 0.5),
            // Ten seconds a cut; two minutes.
            Self::Time => (10.0, 120.0),
            // 5 kg in the hand, which an average arm holds level for minutes; 15 kg, which it holds for seconds.
            Self::FrontHand => (49.033_25, 147.099_75),
            // The lightest saw that cuts a log; the heaviest powerhead with the longest bar.
            Self::Weight => (4.0, 14.0),
            // Level; so steep that the nose must be lifted into every cut.
            Self::Hang => (0.0, STEEP_RAD),
            // Nothing; ten litres in 100 cuts.
            Self::Fuel => (0.0, 100.0),
        };
        Anchors { fine, bad }
    }

    /// How much it counts until it is moved: *our guess*. What a cut leaves undone counts most, then the
    /// nose out among branches, the load in the hand and what the holds take. How often the spikes are set is in time,
    /// lifts and holds already, so that *in one setting* weighs nothing; fuel and hang are told, and weigh nothing either.
    pub const fn common_weight(self) -> f64 {
        match self {
            Self::Done => 3.0,
            Self::NoseOut | Self::FrontHand | Self::Effort => 2.0,
            Self::TangleTime | Self::Lifts | Self::Time | Self::Weight => 1.0,
            Self::Hang | Self::Fuel | Self::OneSetting => 0.0,
        }
    }
}

/// How much each measure counts and what its values are worth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scales {
    weights: [f64; Measure::ALL.len()],
    anchors: [Anchors; Measure::ALL.len()],
}

impl Default for Scales {
    fn default() -> Self {
        Self {
            weights: Measure::ALL.map(Measure::common_weight),
            anchors: Measure::ALL.map(Measure::common_anchors),
        }
    }
}

/// What a setup's values are worth together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Score {
    /// The mean of the worths by their weights: 1 where all that counts is no burden, 0 where all is as bad as it gets.
    pub score: f64,
    /// The same on scales without ends: it tells setups apart that are beyond the ends alike.
    pub endless: f64,
}

impl Scales {
    /// Nothing counts.
    pub fn nothing() -> Self {
        Self { weights: [0.0; Measure::ALL.len()], ..Self::default() }
    }

    /// How much a measure counts.
    pub fn weight(&self, measure: Measure) -> f64 {
        self.weights.get(measure.place()).copied().unwrap_or(0.0)
    }

    /// Sets how much a measure counts, 0 to [`MOST_WEIGHT`]; beyond is the end, and no number is nothing.
    pub fn set_weight(&mut self, measure: Measure, weight: f64) {
        if let Some(entry) = self.weights.get_mut(measure.place()) {
            *entry = if weight.is_nan() { 0.0 } else { weight.clamp(0.0, MOST_WEIGHT) };
        }
    }

    /// The ends of a measure's scale.
    pub fn anchors(&self, measure: Measure) -> Anchors {
        self.anchors.get(measure.place()).copied().unwrap_or(measure.common_anchors())
    }

    /// Sets the ends of a measure's scale.
    pub fn set_anchors(&mut self, measure: Measure, anchors: Anchors) {
        if let Some(entry) = self.anchors.get_mut(measure.place()) {
            *entry = anchors;
        }
    }

    /// What each value is worth, 0 to 1; no value is worth nothing.
    pub fn worths(&self, values: &Values) -> [f64; Measure::ALL.len()] {
        let mut worths = [0.0; Measure::ALL.len()];
        for ((worth, value), anchors) in worths.iter_mut().zip(values).zip(&self.anchors) {
            *worth = value.map_or(0.0, |value| anchors.worth(value));
        }
        worths
    }

    /// What values are worth together; 0 where nothing counts.
    pub fn score(&self, values: &Values) -> Score {
        /// No value is worse than any.
        const NO_VALUE: f64 = -1e6;
        let (mut score, mut endless, mut all) = (0.0, 0.0, 0.0);
        for ((value, anchors), weight) in values.iter().zip(&self.anchors).zip(self.weights) {
            if weight <= 0.0 {
                continue;
            }
            score += weight * value.map_or(0.0, |value| anchors.worth(value));
            endless += weight * value.map_or(NO_VALUE, |value| anchors.endless(value));
            all += weight;
        }
        if all > 0.0 {
            Score { score: score / all, endless: endless / all }
        } else {
            Score { score: 0.0, endless: 0.0 }
        }
    }

    /// How many units of `other` count as much as one unit of `measure` between the ends of both scales; `None` where
    /// either does not count.
    pub fn trade(&self, measure: Measure, other: Measure) -> Option<f64> {
        let each = |measure: Measure| self.weight(measure) / self.anchors(measure).span();
        let (one, other) = (each(measure), each(other));
        (one > 0.0 && other > 0.0).then(|| one / other)
    }
}
