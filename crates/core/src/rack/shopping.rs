//! What to buy: a bar that the rack does not have, and loops for the setups there are.

use super::choose::Limit;
use super::contender::Progress;
use super::fit::{Fit, Thresholds, fit_of};
use super::log_cut::{Doing, log_cut};
use super::measure::Measure;
use crate::log::cutting_bar;
use crate::saw::{BarFamily, Chain, CutterSequence, Links, Setup, Solved, solve};
use crate::units::Length;
use crate::yard::{Wood, Yard};
use std::ops::ControlFlow;

/// Halvings of the range of lengths: 900 mm leave less than a millimetre.
const HALVINGS: u32 = 10;

/// What a bar to be bought should do.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// Share of the cuts to be done in one setting, 0 to 1.
    pub share: f64,
    /// Bounds on weight, hang and front hand that it should keep; others are not asked of a bar nobody has.
    pub limits: Vec<Limit>,
    /// What suits what.
    pub thresholds: Thresholds,
}

impl Default for Wanted {
    fn default() -> Self {
        Self { share: 0.95, limits: Vec::new(), thresholds: Thresholds::default() }
    }
}

/// A bar that would do what is wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct Missing {
    /// A setup of the yard with its head, chain and construction.
    pub like: String,
    /// The saw with the bar made up.
    pub setup: Setup,
    /// Its figures.
    pub solved: Solved,
    /// A rack bar of the family that is as long or longer: what is wanted is on the rack already.
    pub on_the_rack: Option<String>,
    /// Limits that it would not keep.
    pub broken: Vec<Limit>,
    /// How it would suit its head and chain.
    pub fit: Fit,
}

impl Missing {
    /// Tail end to nose end.
    pub fn overall(&self) -> Length {
        self.setup.bar().overall_length()
    }

    /// The loop to order for it; `None` where no whole count closes at this length.
    pub const fn links(&self) -> Option<u32> {
        self.solved.links.order()
    }
}

/// For each head with each of its chains and constructions, the shortest bar that does the wanted share of the wood
/// with the spikes set once. Left out where none up to the longest that can be made up does.
pub fn missing_bars(yard: &Yard, wood: &Wood, wanted: &Wanted) -> Vec<Missing> {
    missing_bars_telling(yard, wood, wanted, &mut |_| ControlFlow::Continue(())).unwrap_or_default()
}

/// The same; `told` hears of every family of bars before it is looked at, and may stop the work: then there is no answer.
pub fn missing_bars_telling(
    yard: &Yard,
    wood: &Wood,
    wanted: &Wanted,
    told: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Option<Vec<Missing>> {
    let mut families: Vec<&Setup> = Vec::new();
    for setup in yard.setups() {
        if !families.iter().any(|other| same_family(other, setup)) {
            families.push(setup);
        }
    }
    let Some(diameter) = diameter_for(wood, wanted.share) else { return Some(Vec::new()) };
    let mut found = Vec::new();
    for (done, like) in families.iter().enumerate() {
        if told(Progress { done, all: families.len() }).is_break() {
            return None;
        }
        found.extend(missing(yard, like, wood, diameter, wanted));
    }
    Some(found)
}

fn same_family(a: &Setup, b: &Setup) -> bool {
    a.powerhead().name() == b.powerhead().name()
        && a.chain().name() == b.chain().name()
        && a.bar().mount() == b.bar().mount()
        && std::mem::discriminant(&a.bar().construction()) == std::mem::discriminant(&b.bar().construction())
}

/// The smallest diameter with at least this share of the cuts at or below it: a bar that does it in one setting does the
/// thinner ones as well.
fn diameter_for(wood: &Wood, share: f64) -> Option<Length> {
    let mut logs = wood.logs().to_vec();
    logs.sort_by(|a, b| a.diameter.as_m().total_cmp(&b.diameter.as_m()));
    let needed = share.clamp(0.0, 1.0) * wood.cuts();
    let mut cuts = 0.0;
    logs.iter()
        .find(|log| {
            cuts += f64::from(log.cuts);
            // A share of whole counts, so a rounding must not ask for one more.
            cuts >= needed * (1.0 - 1e-12)
        })
        .map(|log| log.diameter)
}

fn missing(yard: &Yard, like: &Setup, wood: &Wood, diameter: Length, wanted: &Wanted) -> Option<Missing> {
    let family = BarFamily::new(like, yard.bars());
    let tangled = wood.tangled_share() > 0.0;
    let does = |overall: Length| {
        family.at(overall).ok().and_then(|setup| cutting_bar(&setup).ok()).is_some_and(|bar| {
            log_cut(wood, &bar, diameter, tangled).is_ok_and(|cut| cut.doing == Doing::OneSetting)
        })
    };
    let (mut short, mut long) = BarFamily::span();
    if !does(long) {
        return None;
    }
    if does(short) {
        long = short;
    }
    for _ in 0..HALVINGS {
        let middle = (short + long) * 0.5;
        if does(middle) { long = middle } else { short = middle }
    }
    let setup = family.at(long).ok()?;
    let solved = solve(&setup);
    let on_the_rack = family.bars().find(|bar| bar.overall_length() >= long).map(|bar| bar.name().to_owned());
    let broken = limits_broken(&wanted.limits, &solved);
    let fit = fit_of(&setup, &solved, &wanted.thresholds);
    Some(Missing { like: like.name().to_owned(), setup, solved, on_the_rack, broken, fit })
}

/// The bounds on weight, hang and front hand that a saw does not keep; others are not asked of a bar nobody has.
pub fn limits_broken(limits: &[Limit], solved: &Solved) -> Vec<Limit> {
    limits.iter().filter(|limit| breaks(limit, solved)).copied().collect()
}

fn breaks(limit: &Limit, solved: &Solved) -> bool {
    let value = match limit.measure {
        Measure::Weight => Some(solved.ready_mass().as_kg()),
        Measure::Hang => solved.hang.ok().map(|hang| hang.as_rad().abs()),
        Measure::FrontHand => solved.hands.ok().map(|hands| hands.front.as_n()),
        _ => return false,
    };
    !limit.is_kept_by(value)
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
