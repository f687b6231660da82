//! The columns of the table: heads, cells, and what each is sorted by.

use crate::desk::format::{self, Units};
use crate::desk::words::rack as words;
use crate::window::view_state::RackColumn;
use barpoise_core::rack::{Contender, Measure, OverWood, Verdict};

impl RackColumn {
    /// Every column with figures, in the order in which they stand.
    pub(super) const ALL: [Self; 13] = [
        Self::OneSetting,
        Self::Done,
        Self::FrontHand,
        Self::Hang,
        Self::Weight,
        Self::HiddenNose,
        Self::HandWork,
        Self::Lifts,
        Self::Reach,
        Self::Time,
        Self::Fuel,
        Self::Oil,
        Self::Suits,
    ];

    /// The two lines of its head.
    pub(super) const fn head(self) -> (&'static str, &'static str) {
        match self {
            Self::Order => ("Setup", "by the choice"),
            Self::OneSetting => ("One", "setting"),
            Self::Done => ("Done", "at all"),
            Self::FrontHand => ("Front", "hand"),
            Self::Hang => ("Hang", ""),
            Self::Weight => ("Weight", "ready"),
            Self::HiddenNose => ("Nose unseen", "in 100 cuts"),
            Self::HandWork => ("By hand", "in 100 cuts"),
            Self::Lifts => ("Lifts", "in 100 cuts"),
            Self::Reach => ("Reach", ""),
            Self::Time => ("Time", ""),
            Self::Fuel => ("Fuel", ""),
            Self::Oil => ("Oil", ""),
            Self::Suits => ("Suits", ""),
        }
    }

    /// What it holds, in full.
    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::Order => "order of the choice",
            Self::OneSetting => "share done in one setting",
            Self::Done => "share done from where you may stand",
            Self::FrontHand => "load in the front hand, saw level",
            Self::Hang => "hang from the front grip",
            Self::Weight => "weight ready to work",
            Self::HiddenNose => "way of the nose out of sight in 100 cuts",
            Self::HandWork => "force × time in the hands in 100 cuts",
            Self::Lifts => "lifts to the bark in 100 cuts",
            Self::Reach => "reach past the spikes",
            Self::Time => "time for a square metre of section",
            Self::Fuel => "fuel for a square metre of section",
            Self::Oil => "bar oil for a square metre of section",
            Self::Suits => "how head, bar and chain suit each other",
        }
    }

    /// Where a figure comes from beside the setup and the wood; nothing where from nowhere else.
    pub(super) const fn source(self) -> &'static str {
        match self {
            Self::HandWork | Self::Time | Self::Fuel | Self::Oil => {
                "\nKerf, times of a setting and fuel for the work are common practice, no source."
            }
            Self::Suits => "\nMost thresholds are our guess: pick a row to see each.",
            _ => "",
        }
    }

    /// Its width in points.
    pub(super) const fn width(self) -> f32 {
        match self {
            Self::OneSetting | Self::Done | Self::Hang => 66.0,
            Self::FrontHand => 76.0,
            Self::HiddenNose => 104.0,
            Self::HandWork | Self::Lifts => 96.0,
            Self::Reach | Self::Weight | Self::Time => 80.0,
            Self::Suits => 116.0,
            Self::Order | Self::Fuel | Self::Oil => 88.0,
        }
    }

    const fn measure(self) -> Option<Measure> {
        match self {
            Self::OneSetting => Some(Measure::OneSetting),
            Self::Done => Some(Measure::Done),
            Self::FrontHand => Some(Measure::FrontHand),
            Self::Hang => Some(Measure::Hang),
            Self::Weight => Some(Measure::Weight),
            Self::HiddenNose => Some(Measure::HiddenNose),
            Self::HandWork => Some(Measure::HandWork),
            Self::Time => Some(Measure::Time),
            Self::Fuel => Some(Measure::Fuel),
            Self::Order | Self::Lifts | Self::Reach | Self::Oil | Self::Suits => None,
        }
    }

    /// True where the most stands on top first.
    pub(super) const fn most_first(self) -> bool {
        matches!(self, Self::OneSetting | Self::Done | Self::Reach)
    }

    /// What the rows are sorted by; the order of the choice is not known here.
    pub(super) fn value(self, one: &Contender) -> Option<f64> {
        if let Some(measure) = self.measure() {
            return one.value(measure);
        }
        let over = one.over.as_ref().ok();
        match self {
            Self::Lifts => over.filter(|over| over.done > 0.0).map(|over| over.lifts_per_cut),
            Self::Reach => Some(one.solved.reach.as_m()),
            Self::Oil => over.and_then(oil),
            Self::Suits => Some(match one.fit.verdict() {
                Verdict::Suits => 0.0,
                Verdict::Marginal => 1.0,
                Verdict::DoesNot => 2.0,
            }),
            _ => None,
        }
    }

    /// What stands in the cell.
    pub(super) fn text(self, units: Units, one: &Contender) -> String {
        let Some(value) = self.value(one) else { return "–".to_owned() };
        match (self.measure(), self) {
            (Some(measure), _) => words::short_value(units, measure, value),
            (None, Self::Lifts) => format::count(value * words::CUTS_TOLD),
            (None, Self::Reach) => units.length(one.solved.reach),
            (None, Self::Oil) => format::fluid_per_area(value),
            _ => one.fit.verdict().words().to_owned(),
        }
    }
}

fn oil(over: &OverWood) -> Option<f64> {
    over.per_m2(over.oil.as_l() * 1e3)
}
