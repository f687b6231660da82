//! What to buy: a bar that the rack does not have, in a length that exists, and loops for the setups there are.

use super::choose::{Broken, Choice, Preferences, broken};
use super::contender::{Contender, Progress};
use super::fit::{Check, CheckKind, Thresholds, Verdict, fit_of};
use super::otherwise::OtherMeans;
use super::rates::WorkRates;
use super::sureness::Sureness;
use crate::saw::{BarFamily, Chain, CutterSequence, Links, Origin, Setup, solve};
use crate::units::Length;
use crate::yard::{Wood, Yard};
use std::ops::ControlFlow;

/// Lengths in which bars are sold, marked in inches: the whole even ones (*common practice, no source*).
pub const MARKED_IN: [f64; 14] =
    [10.0, 12.0, 14.0, 16.0, 18.0, 20.0, 22.0, 24.0, 26.0, 28.0, 30.0, 32.0, 34.0, 36.0];
/// A bar this near to a marked length has it (our guess).
pub(super) const SAME_LENGTH: Length = Length::from_mm(6.0);

/// A bar that could be bought, made up on a head of the yard.
#[derive(Clone, Debug, PartialEq)]
pub struct Buyable {
    /// A setup of the yard with its head, chain and construction.
    pub like: String,
    /// Its length as it is marked.
    pub marked: Length,
    /// The saw with the bar made up.
    pub setup: Setup,
    /// What it does with the wood.
    pub contender: Contender,
    /// Which bars of the yard it comes of.
    pub(super) origin: Origin,
}

impl Buyable {
    /// The loop to order for it; `None` where no whole count closes at this length.
    pub const fn links(&self) -> Option<u32> {
        self.contender.solved.links.order()
    }
}

/// Every bar of a marked length that exists and is not on the rack, no longer than the head is meant for, on each head with
/// each of its chains and constructions, put through a wood. `told` hears of every bar before it is looked at, and may stop the work: then there is no answer.
pub fn buyable(
    yard: &Yard,
    wood: &Wood,
    rates: &WorkRates,
    thresholds: &Thresholds,
    told: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Option<Vec<Buyable>> {
    let mut families: Vec<&Setup> = Vec::new();
    for setup in yard.setups() {
        if !families.iter().any(|other| same_family(other, setup)) {
            families.push(setup);
        }
    }
    let means = OtherMeans::new(yard.setups(), wood, rates).unwrap_or_default();
    let all = families.len() * MARKED_IN.len();
    let (mut found, mut done) = (Vec::new(), 0);
    for like in families {
        let family = BarFamily::new(like, yard.bars());
        for inches in MARKED_IN {
            if told(Progress { done, all }).is_break() {
                return None;
            }
            done += 1;
            let marked = Length::from_in(inches);
            if yard.setups().iter().any(|setup| same_family(setup, like) && has_length(setup, marked)) {
                continue;
            }
            let Some(setup) = family.marked(marked) else { continue };
            if is_beyond_the_head(&setup, thresholds) {
                continue;
            }
            let contender = Contender::of(&setup, wood, rates, thresholds, &means);
            let origin = family.origin(setup.bar().overall_length(), setup.bar().mass());
            found.push(Buyable { like: like.name().to_owned(), marked, setup, contender, origin });
        }
    }
    Some(found)
}

/// True for a bar longer than its head is meant for, by what suits: nobody buys one.
fn is_beyond_the_head(setup: &Setup, thresholds: &Thresholds) -> bool {
    let fit = fit_of(setup, &solve(setup), thresholds);
    let beyond = |check: &Check| check.kind == CheckKind::LongestBar && check.verdict == Verdict::DoesNot;
    fit.checks().iter().any(beyond)
}

fn has_length(setup: &Setup, marked: Length) -> bool {
    let off = setup.bar().marked_length() - marked;
    off.max(-off) <= SAME_LENGTH
}

fn same_family(a: &Setup, b: &Setup) -> bool {
    a.powerhead().name() == b.powerhead().name()
        && a.chain().name() == b.chain().name()
        && a.bar().mount() == b.bar().mount()
        && std::mem::discriminant(&a.bar().construction()) == std::mem::discriminant(&b.bar().construction())
}

/// The best bar to buy of a family, and what it brings.
#[derive(Clone, Debug, PartialEq)]
pub struct Purchase {
    /// Its place among the buyable bars.
    pub place: usize,
    /// What the wood is worth with it.
    pub score: f64,
    /// How much more than with the best on the rack; `None` where nothing on the rack is admitted.
    pub gain: Option<f64>,
    /// By how much that is unsure; `None` where nobody asked or nothing is admitted.
    pub doubt: Option<f64>,
    /// Why it would be refused; empty where it would not.
    pub broken: Vec<Broken>,
}

/// Of each family the bar that is worth most by what is wanted, the best first, those that would be refused after all
/// others.
pub fn purchases(
    bars: &[Buyable],
    contenders: &[Contender],
    choice: &Choice,
    preferences: &Preferences,
    sureness: Option<&Sureness>,
) -> Vec<Purchase> {
    let on_rack =
        choice.order.first().filter(|first| first.index < contenders.len()).map(|first| first.score);
    let mut best: Vec<Purchase> = Vec::new();
    for (place, bar) in bars.iter().enumerate() {
        let broken = broken(&bar.contender, preferences);
        let score = preferences.scales.score(&bar.contender.values).score;
        let one = Purchase { place, score, gain: on_rack.map(|best| score - best), doubt: None, broken };
        let like = |other: &Purchase| bars.get(other.place).is_some_and(|other| other.like == bar.like);
        match best.iter_mut().find(|other| like(other)) {
            Some(other) if is_before(&one, other) => *other = one,
            Some(_) => {}
            None => best.push(one),
        }
    }
    for one in &mut best {
        one.doubt = sureness
            .zip(bars.get(one.place))
            .and_then(|(sureness, bar)| sureness.of_purchase(bar, contenders, preferences, choice));
    }
    best.sort_by(|a, b| {
        a.broken.is_empty().cmp(&b.broken.is_empty()).reverse().then(b.score.total_cmp(&a.score))
    });
    best
}

fn is_before(a: &Purchase, b: &Purchase) -> bool {
    (a.broken.is_empty(), a.score) > (b.broken.is_empty(), b.score)
}

/// A loop to order.
#[derive(Clone, Debug, PartialEq)]
pub struct LoopOrder {
    /// The setups it is for.
    pub setups: Vec<String>,
    /// Name of the chain in the yard.
    pub chain: String,
    /// Pitch.
    pub pitch: Length,
    /// Gauge.
    pub gauge: Length,
    /// Drive links.
    pub links: u32,
    /// Which links carry cutters.
    pub sequence: CutterSequence,
}

/// One line for each kind of loop that the yard's setups run, in their order; setups that share one stand together.
pub fn loops_to_order(yard: &Yard) -> Vec<LoopOrder> {
    let mut orders: Vec<LoopOrder> = Vec::new();
    for setup in yard.setups() {
        let (chain, Links::Whole(links)) = (setup.chain(), setup.links()) else { continue };
        match orders.iter_mut().find(|order| order.chain == chain.name() && order.links == links) {
            Some(order) => order.setups.push(setup.name().to_owned()),
            None => orders.push(order(setup, chain, links)),
        }
    }
    orders
}

fn order(setup: &Setup, chain: &Chain, links: u32) -> LoopOrder {
    LoopOrder {
        setups: vec![setup.name().to_owned()],
        chain: chain.name().to_owned(),
        pitch: chain.pitch(),
        gauge: chain.gauge(),
        links,
        sequence: chain.sequence(),
    }
}
