//! What setups are compared by.

use super::over_wood::OverWood;
use crate::saw::Solved;

/// Something that a setup has more or less of over a mix of wood.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Measure {
    /// Share of the cuts done with the spikes set once.
    OneSetting,
    /// Share of the cuts done from where the sawyer may stand.
    Done,
    /// Way of the nose out of sight for each cut, m.
    HiddenNose,
    /// Force times time in the hands for each cut, N·s.
    HandWork,
    /// Time for each square metre of section, cutting and setting, s/m².
    Time,
    /// Fuel for each square metre of section, mL/m².
    Fuel,
    /// Weight ready to work, kg.
    Weight,
    /// Size of the hang angle, rad.
    Hang,
    /// Load in the front hand with the saw level, N.
    FrontHand,
}

/// Which way is better.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// More.
    More,
    /// Less.
    Less,
}

/// One value for each measure, in the order of [`Measure::ALL`]; `None` where there is none.
pub type Values = [Option<f64>; Measure::ALL.len()];

impl Measure {
    /// Every one, in the order in which they are told.
    pub const ALL: [Self; 9] = [
        Self::OneSetting,
        Self::Done,
        Self::HiddenNose,
        Self::HandWork,
        Self::Time,
        Self::Fuel,
        Self::Weight,
        Self::Hang,
        Self::FrontHand,
    ];

    /// Which way is better.
    pub const fn better(self) -> Better {
        match self {
            Self::OneSetting | Self::Done => Better::More,
            _ => Better::Less,
        }
    }

    /// Its place in [`Measure::ALL`].
    pub const fn place(self) -> usize {
        self as usize
    }

    /// Its name.
    pub const fn words(self) -> &'static str {
        match self {
            Self::OneSetting => "done in one setting",
            Self::Done => "done at all",
            Self::HiddenNose => "nose out of sight",
            Self::HandWork => "force × time by hand",
            Self::Time => "time",
            Self::Fuel => "fuel",
            Self::Weight => "weight",
            Self::Hang => "hang",
            Self::FrontHand => "front hand",
        }
    }

    /// Its value.
    pub(super) fn value(self, solved: &Solved, over: &OverWood) -> Option<f64> {
        let done = over.done > 0.0;
        match self {
            Self::OneSetting => Some(over.one_setting),
            Self::Done => Some(over.done),
            Self::HiddenNose => done.then(|| over.hidden_per_cut.as_m()),
            Self::HandWork => done.then_some(over.hands_newton_seconds_per_cut),
            Self::Time => over.per_m2(over.cutting_s + over.resetting_s),
            Self::Fuel => over.per_m2(over.fuel.as_l() * 1e3),
            Self::Weight => Some(solved.ready_mass().as_kg()),
            Self::Hang => solved.hang.ok().map(|hang| hang.as_rad().abs()),
            Self::FrontHand => solved.hands.ok().map(|hands| hands.front.as_n()),
        }
    }

    /// The value turned so that less is better.
    pub(super) fn cost(self, value: f64) -> f64 {
        match self.better() {
            Better::More => -value,
            Better::Less => value,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_measure_stands_at_its_place() {
        for (place, measure) in Measure::ALL.into_iter().enumerate() {
            assert_eq!(measure.place(), place);
        }
    }
}
