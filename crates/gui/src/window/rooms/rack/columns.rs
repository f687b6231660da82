//! The columns of the table: heads, cells, and what each is sorted by.

use crate::desk::format::{self, Units};
use crate::desk::words::rack as words;
use crate::window::view_state::RackColumn;
use barpoise_core::rack::{Contender, Measure, Verdict};

impl RackColumn {
    /// Every column with figures, in the order in which they stand.
    pub(super) const ALL: [Self; 14] = [
        Self::Done,
        Self::FrontHand,
        Self::Weight,
        Self::TangleTime,
        Self::NoseOut,
        Self::Lifts,
        Self::Effort,
        Self::Time,
        Self::Hang,
        Self::OneSetting,
        Self::Reach,
        Self::Fuel,
        Self::Oil,
        Self::Suits,
    ];

    /// The four that matter most.
    pub(super) const FEW: [Self; 4] = [Self::Done, Self::FrontHand, Self::Weight, Self::TangleTime];

    /// Those that are shown.
    pub(super) const fn shown(all: bool) -> &'static [Self] {
        if all { &Self::ALL } else { &Self::FEW }
    }

    /// The two lines of its head.
    pub(super) const fn head(self) -> (&'static str, &'static str) {
        match self {
            Self::Order => ("Setup", "by the choice"),
            Self::OneSetting => ("One", "setting"),
            Self::Done => ("Can", "finish"),
            Self::FrontHand => ("Front", "hand"),
            Self::Hang => ("Hang", ""),
            Self::Weight => ("Weight", "ready"),
            Self::TangleTime => ("In branches", "in 100 cuts"),
            Self::NoseOut => ("Nose out", "at most"),
            Self::Effort => ("Holding", "of the arms"),
            Self::Lifts => ("Lifts", "in 100 cuts"),
            Self::Reach => ("Reach", ""),
            Self::Time => ("Time", "in 100 cuts"),
            Self::Fuel => ("Fuel", "in 100 cuts"),
            Self::Oil => ("Oil", "in 100 cuts"),
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
            Self::TangleTime => "time with the nose out among branches in 100 cuts",
            Self::NoseOut => "how far the nose is out among branches, the mean of each cut's farthest",
            Self::Effort => "share of the arms' holding time that a cut takes",
            Self::Lifts => "lifts to the bark in 100 cuts",
            Self::Reach => "reach past the spikes",
            Self::Time => "time in 100 cuts",
            Self::Fuel => "fuel in 100 cuts",
            Self::Oil => "bar oil in 100 cuts",
            Self::Suits => "how head, bar and chain suit each other",
        }
    }

    /// Where a figure comes from beside the setup and the wood; nothing where from nowhere else.
    pub(super) const fn source(self) -> &'static str {
        match self {
            Self::Effort => {
                "\nHolding times are published, for an average body: the sources stand on the bench."
            }
            Self::TangleTime | Self::NoseOut => "\nThat branches stand 400 mm above the log is our guess.",
            Self::Time | Self::Fuel | Self::Oil => {
                "\nKerf, times of a setting and fuel for the work are our guess."
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
            Self::TangleTime => 104.0,
            Self::Lifts | Self::Effort | Self::Time => 96.0,
            Self::Reach | Self::Weight | Self::NoseOut => 80.0,
            Self::Suits => 116.0,
            Self::Order => 88.0,
            Self::Fuel | Self::Oil => 96.0,
        }
    }

    const fn measure(self) -> Option<Measure> {
        match self {
            Self::OneSetting => Some(Measure::OneSetting),
            Self::Done => Some(Measure::Done),
            Self::FrontHand => Some(Measure::FrontHand),
            Self::Hang => Some(Measure::Hang),
            Self::Weight => Some(Measure::Weight),
            Self::TangleTime => Some(Measure::TangleTime),
            Self::NoseOut => Some(Measure::NoseOut),
            Self::Effort => Some(Measure::Effort),
            Self::Lifts => Some(Measure::Lifts),
            Self::Time => Some(Measure::Time),
            Self::Fuel => Some(Measure::Fuel),
            Self::Order | Self::Reach | Self::Oil | Self::Suits => None,
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
            Self::Reach => Some(one.solved.reach.as_m()),
            Self::Oil => over.map(|over| over.oil.as_l() / over.cuts),
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
            (None, Self::Reach) => units.length(one.solved.reach),
            (None, Self::Oil) => format::litres(value * words::CUTS_TOLD),
            _ => one.fit.verdict().words().to_owned(),
        }
    }
}
