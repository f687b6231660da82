//! Where each number comes from that setups are put through a wood with and chosen by.

use super::fit::Thresholds;
use super::rates::{RATES_MARK, WorkRates};
use super::shopping::{MARKED_IN, SAME_LENGTH};
use crate::assumption::{Assumption, Size, guess, known, practice};
use crate::mark::Mark;
use crate::units::Length;
use crate::weigh_in::COVERAGE;

const RATES: WorkRates = WorkRates::COMMON;
const SUITS: Thresholds = Thresholds::COMMON;

/// The shortest and the longest bar that is sold.
const SOLD: (Length, Length) = {
    let [shortest, .., longest] = MARKED_IN;
    (Length::from_in(shortest), Length::from_in(longest))
};

const fn rate(what: &'static str, size: Size) -> Assumption {
    known(what, size, RATES_MARK)
}

const fn threshold(what: &'static str, value: f64, unit: &'static str) -> Assumption {
    known(what, Size::In(value, unit), Thresholds::MARK)
}

/// Everything whose effect a user sees in a choice, beside how a cut is planned and a saw is held.
pub const CHOICE_ASSUMPTIONS: [Assumption; 25] = [
    guess("ends of the scales, from no burden to as bad as it gets", Size::Many),
    guess("how much each measure counts", Size::Many),
    known(
        "scores are even within so many standard uncertainties of their difference",
        Size::In(COVERAGE, ""),
        Mark::FromMemory("JCGM 100:2008, table G.1: 95 % of a normal distribution"),
    ),
    rate("fuel for the work of the engine", Size::In(RATES.fuel_g_per_kwh, "g/kWh")),
    rate("fuel while it idles", Size::In(RATES.idle_ml_per_min, "mL/min")),
    rate("walk round to the other side and back", Size::Time(RATES.walk_round_s)),
    rate("fetch another saw and bring it back", Size::Time(RATES.fetch_s)),
    rate("what a cut left lying costs later", Size::Time(RATES.left_lying_s)),
    rate("change bar and chain of a head", Size::Time(RATES.swap_bar_s)),
    rate("changes of the bar in 100 cuts", Size::In(RATES.swaps_per_100, "")),
    rate("a day with the saw in the hands or between two cuts", Size::Time(RATES.day_s)),
    guess("more than the strength is held as all of it, by so much less", Size::Many),
    threshold("power for the bar suits from", SUITS.power.suits, "kW/m"),
    threshold("and is marginal from", SUITS.power.marginal, "kW/m"),
    threshold("a chain is fast enough from", SUITS.slow_chain.suits, "m/s"),
    threshold("fast enough, marginally, from", SUITS.slow_chain.marginal, "m/s"),
    threshold("a chain is slow enough up to", SUITS.fast_chain.suits, "m/s"),
    threshold("slow enough, marginally, up to", SUITS.fast_chain.marginal, "m/s"),
    threshold("oil for the bar suits from", SUITS.oil.suits, "mL/(min·m)"),
    threshold("oil is marginal from", SUITS.oil.marginal, "mL/(min·m)"),
    known(
        "the tensioner suits with as much left, share of its travel",
        Size::Share(SUITS.tensioner.suits),
        Thresholds::MARK,
    ),
    known("the tensioner is marginal with", Size::Share(SUITS.tensioner.marginal), Thresholds::MARK),
    practice("bars are sold in even inches from", Size::Length(SOLD.0.as_m())),
    practice("bars are sold up to", Size::Length(SOLD.1.as_m())),
    guess("a bar counts as one of these within", Size::Length(SAME_LENGTH.as_m())),
];
