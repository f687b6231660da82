//! What setups are compared by.

use super::over_wood::OverWood;
use crate::saw::Solved;

/// Something that a setup has more or less of over a mix of wood. All are over all cuts of the wood; see [`OverWood`].
///
/// A cut that is left lying is as bad as it gets in everything that cutting it would cost, by the scales as they are until
/// they are moved: otherwise the saw that leaves the hard cuts would look better for it. Its time is what leaving it is said
/// to cost ([`super::WorkRates::left_lying_s`]).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Measure {
    /// Share of the cuts done by this saw from where the sawyer may stand.
    Done,
    /// Time with the nose's upper quadrant out of the log among branches, for each cut, s.
    TangleTime,
    /// How far the nose is out of the log among branches: the farthest in each cut, the mean, m.
    NoseOut,
    /// Lifts to the bark for each cut.
    Lifts,
    /// Share of the holding time of the arms that a cut uses.
    Effort,
    /// Time for each cut, s: in the wood, setting, and by other means.
    Time,
    /// Load in the front hand with the saw level, N.
    FrontHand,
    /// Weight ready to work, kg.
    Weight,
    /// Size of the hang angle, rad.
    Hang,
    /// Fuel for each cut, mL.
    Fuel,
    /// Share of the cuts done with the spikes set once.
    OneSetting,
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
    pub const ALL: [Self; 11] = [
        Self::Done,
        Self::TangleTime,
        Self::NoseOut,
        Self::Lifts,
        Self::Effort,
        Self::Time,
        Self::FrontHand,
        Self::Weight,
        Self::Hang,
        Self::Fuel,
        Self::OneSetting,
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
            Self::Done => "can finish",
            Self::TangleTime => "nose in branches",
            Self::NoseOut => "nose out",
            Self::Lifts => "lifts",
            Self::Effort => "holding",
            Self::Time => "time",
            Self::FrontHand => "front hand",
            Self::Weight => "weight",
            Self::Hang => "hang",
            Self::Fuel => "fuel",
            Self::OneSetting => "done in one setting",
        }
    }

    /// Its value.
    pub(super) fn value(self, solved: &Solved, over: &OverWood) -> Option<f64> {
        match self {
            Self::Done => Some(over.done),
            Self::TangleTime => Some(over.tangle_s_per_cut + self.of_left(over)),
            Self::NoseOut => Some(over.out_per_cut.as_m() + self.of_left(over)),
            Self::Lifts => Some(over.lifts_per_cut + self.of_left(over)),
            Self::Effort => over.used_per_cut.map(|used| used + self.of_left(over)),
            Self::Time => Some(over.time_s_per_cut()),
            Self::FrontHand => solved.hands.ok().map(|hands| hands.front.as_n()),
            Self::Weight => Some(solved.ready_mass().as_kg()),
            Self::Hang => solved.hang.ok().map(|hang| hang.as_rad().abs()),
            Self::Fuel => Some(over.fuel.as_l() * 1e3 / over.cuts + self.of_left(over)),
            Self::OneSetting => Some(over.one_setting),
        }
    }

    /// What the cuts left lying count, for each cut of the wood.
    fn of_left(self, over: &OverWood) -> f64 {
        over.left * self.common_anchors().bad()
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
    fn every_measure_stands_at_its_place() {
        for (place, measure) in Measure::ALL.into_iter().enumerate() {
            assert_eq!(measure.place(), place, "{measure:?}");
        }
    }
}
