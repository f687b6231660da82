//! How head, bar and chain suit each other.

use crate::mark::Mark;
use crate::saw::{Setup, Solved};
use crate::units::Length;

/// How well something suits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// It suits.
    Suits,
    /// It does, with an eye on it.
    Marginal,
    /// It does not.
    DoesNot,
}

impl Verdict {
    /// The word for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Suits => "suits",
            Self::Marginal => "marginal",
            Self::DoesNot => "does not suit",
        }
    }
}

/// What is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum CheckKind {
    /// Engine power for each metre of bar past the spikes, kW/m.
    Power,
    /// Chain speed at the engine speed of full power, m/s: too slow.
    SlowChain,
    /// Chain speed at the engine speed of full power, m/s: too fast.
    FastChain,
    /// Oil at that engine speed for each metre of marked bar length, mL/(min·m).
    Oil,
    /// Marked bar length over the longest the head is meant for.
    LongestBar,
    /// How much of the tensioner's travel is left to take up wear, 0 to 1.
    Tensioner,
}

impl CheckKind {
    /// Every one, in the order in which they are told.
    pub const ALL: [Self; 6] =
        [Self::Power, Self::SlowChain, Self::FastChain, Self::Oil, Self::LongestBar, Self::Tensioner];

    /// What is looked at, in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Power => "power for the bar",
            Self::SlowChain => "chain speed, at least",
            Self::FastChain => "chain speed, at most",
            Self::Oil => "oil for the bar",
            Self::LongestBar => "longest bar of the head",
            Self::Tensioner => "tensioner left to tighten",
        }
    }

    /// True where more is better.
    pub const fn wants_more(self) -> bool {
        matches!(self, Self::Power | Self::SlowChain | Self::Oil | Self::Tensioner)
    }
}

/// From where on something suits, and from where on it is marginal; beyond that it does not suit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Threshold {
    /// It suits from here on.
    pub suits: f64,
    /// It is marginal from here on.
    pub marginal: f64,
}

/// Every threshold, in the unit of its [`CheckKind`]. All but the head's longest bar, which the yard states, are *our
/// guess*, and the person's to change. The longest bar is a limit: beyond it nothing is marginal, and who goes beyond it
/// lifts the threshold knowingly.
///
/// The oil threshold grows with the bar, for a longer bar has more rail to wet; nothing in the model says how much a
/// metre of rail wants.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thresholds {
    /// kW/m past the spikes.
    pub power: Threshold,
    /// m/s at least.
    pub slow_chain: Threshold,
    /// m/s at most.
    pub fast_chain: Threshold,
    /// mL/(min·m) of marked length.
    pub oil: Threshold,
    /// Marked length over the head's longest.
    pub longest_bar: Threshold,
    /// Share of the travel left.
    pub tensioner: Threshold,
}

impl Default for Thresholds {
    fn default() -> Self {
        Self::COMMON
    }
}

impl Thresholds {
    /// The thresholds until they are changed.
    pub const COMMON: Self = Self {
        power: Threshold { suits: 6.0, marginal: 4.5 },
        slow_chain: Threshold { suits: 17.0, marginal: 13.0 },
        fast_chain: Threshold { suits: 28.0, marginal: 32.0 },
        oil: Threshold { suits: 21.0, marginal: 15.0 },
        longest_bar: Threshold { suits: 1.0, marginal: 1.0 },
        tensioner: Threshold { suits: 0.25, marginal: 0.05 },
    };
    /// Where they come from, but for the longest bar, which the yard states.
    pub const MARK: Mark = Mark::OurGuess;

    /// The same with another threshold of a check.
    #[must_use]
    pub const fn with(mut self, kind: CheckKind, threshold: Threshold) -> Self {
        match kind {
            CheckKind::Power => self.power = threshold,
            CheckKind::SlowChain => self.slow_chain = threshold,
            CheckKind::FastChain => self.fast_chain = threshold,
            CheckKind::Oil => self.oil = threshold,
            CheckKind::LongestBar => self.longest_bar = threshold,
            CheckKind::Tensioner => self.tensioner = threshold,
        }
        self
    }

    /// The threshold of a check.
    pub const fn of(&self, kind: CheckKind) -> Threshold {
        match kind {
            CheckKind::Power => self.power,
            CheckKind::SlowChain => self.slow_chain,
            CheckKind::FastChain => self.fast_chain,
            CheckKind::Oil => self.oil,
            CheckKind::LongestBar => self.longest_bar,
            CheckKind::Tensioner => self.tensioner,
        }
    }
}

/// One thing that was looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Check {
    /// What.
    pub kind: CheckKind,
    /// Its value, in the unit of the kind.
    pub value: f64,
    /// What it was held against.
    pub threshold: Threshold,
    /// The verdict.
    pub verdict: Verdict,
}

/// How a setup suits itself. Mount, pitch, gauge and a loop that closes are not here: a setup that exists has them.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    checks: Vec<Check>,
}

impl Fit {
    /// Everything that was looked at. A longest bar that the yard does not state is left out.
    pub fn checks(&self) -> &[Check] {
        &self.checks
    }

    /// The same values held against other thresholds.
    #[must_use]
    pub fn judged(&self, thresholds: &Thresholds) -> Self {
        let again = |check: &Check| {
            let threshold = thresholds.of(check.kind);
            Check { threshold, verdict: verdict(check.kind, check.value, threshold), ..*check }
        };
        Self { checks: self.checks.iter().map(again).collect() }
    }

    /// The worst verdict.
    pub fn verdict(&self) -> Verdict {
        self.checks.iter().map(|check| check.verdict).max().unwrap_or(Verdict::Suits)
    }
}

/// How a setup suits itself.
pub fn fit_of(setup: &Setup, solved: &Solved, thresholds: &Thresholds) -> Fit {
    let head = setup.powerhead();
    let reach_m = solved.reach.max(Length::from_mm(1.0)).as_m();
    let marked_m = setup.bar().marked_length().as_m();
    let pump = pump_at_power(setup);
    let value = |kind| match kind {
        CheckKind::Power => Some(head.power().as_kw() / reach_m),
        CheckKind::SlowChain | CheckKind::FastChain => Some(solved.chain_speed.as_m_s()),
        CheckKind::Oil => Some(pump / marked_m),
        CheckKind::LongestBar => head.longest_bar().map(|longest| marked_m / longest.as_m()),
        CheckKind::Tensioner => Some(1.0 - solved.tensioner_out / head.tensioner_travel()),
    };
    let checks = CheckKind::ALL
        .into_iter()
        .filter_map(|kind| Some((kind, value(kind)?)))
        .map(|(kind, value)| {
            let threshold = thresholds.of(kind);
            Check { kind, value, threshold, verdict: verdict(kind, value, threshold) }
        })
        .collect();
    Fit { checks }
}

/// Names of other heads of these setups that would suit the bar of a setup in power or oil, in their order; none for other
/// checks.
pub fn heads_that_suit(
    setups: &[Setup],
    setup: &Setup,
    solved: &Solved,
    kind: CheckKind,
    thresholds: &Thresholds,
) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for other in setups {
        let head = other.powerhead();
        let value = match kind {
            CheckKind::Power => head.power().as_kw() / solved.reach.max(Length::from_mm(1.0)).as_m(),
            CheckKind::Oil => pump_at_power(other) / setup.bar().marked_length().as_m(),
            _ => return Vec::new(),
        };
        let suits = verdict(kind, value, thresholds.of(kind)) == Verdict::Suits;
        let name = head.name();
        if suits && name != setup.powerhead().name() && !names.iter().any(|known| known == name) {
            names.push(name.to_owned());
        }
    }
    names
}

/// What the pump gives at the speed of full power, mL/min: it turns with the engine.
fn pump_at_power(setup: &Setup) -> f64 {
    let head = setup.powerhead();
    head.pump_ml_per_min() * head.power_rpm() / head.pump_rpm()
}

fn verdict(kind: CheckKind, value: f64, threshold: Threshold) -> Verdict {
    // A length that is stamped in inches comes back with a last digit of rounding.
    const ROUNDING: f64 = 1e-9;
    let reaches = |bound: f64| {
        if kind.wants_more() { value >= bound - ROUNDING } else { value <= bound + ROUNDING }
    };
    if reaches(threshold.suits) {
        Verdict::Suits
    } else if reaches(threshold.marginal) {
        Verdict::Marginal
    } else {
        Verdict::DoesNot
    }
}
