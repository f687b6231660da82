//! What is said of what to buy, and of two saws together.

use super::choice::Told;
use super::{listed, reasons};
use crate::desk::format::{self, Units};
use crate::desk::words::weigh_in::counted;
use barpoise_core::rack::{Buyable, LoopOrder, Pair, Purchase, kinds};

/// A bar to buy: its marked length, its loop, and what it brings over the best on the rack.
pub fn buy(told: &Told<'_>, bars: &[Buyable], purchase: &Purchase) -> Option<String> {
    let bar = bars.get(purchase.place)?;
    let head = &bar.contender.head;
    let links = bar.links().map_or_else(
        || "no whole loop closes at just that length".to_owned(),
        |links| format!("loop of {}", counted(usize::try_from(links).unwrap_or(usize::MAX), "drive link")),
    );
    let what = format!("{} bar on {head} as on {}, {links}", format::marked_length(bar.marked), bar.like);
    if !purchase.broken.is_empty() {
        return Some(format!("{what}: out, {}.", reasons(told.units, &purchase.broken)));
    }
    let best = told.choice.winner().and_then(|index| told.contenders.get(index));
    let doubt = purchase.doubt.unwrap_or(0.0);
    Some(match (purchase.gain, best) {
        (Some(gain), Some(best)) if gain > doubt => {
            format!("{what}, would go on instead. {}", told.against(&bar.contender, best, false))
        }
        (Some(gain), Some(best)) if gain >= -doubt => {
            format!("{what}, would be even with {}.", best.solved.setup)
        }
        (Some(_), Some(best)) => format!("{what}: brings nothing over {}.", best.solved.setup),
        _ => format!("{what}, would go on: nothing on the rack is admitted."),
    })
}

/// Where no bar of a marked length can be made up.
pub const fn nothing_to_buy() -> &'static str {
    "Every bar of a length that is sold is on the rack already."
}

/// Two saws for the wood, how they divide it, and what swapping bars costs.
pub fn pair(told: &Told<'_>, pair: Option<&Pair>) -> String {
    let best = told.choice.order.first();
    let name = |index: usize| told.contenders.get(index).map(|one| one.solved.setup.clone());
    let Some((best, alone)) = best.and_then(|best| Some((best, name(best.index)?))) else {
        return "No setup is admitted, and so no pair.".to_owned();
    };
    let gain = |pair: &&Pair| pair.score - best.score > pair.doubt.unwrap_or(0.0);
    let named = |pair: &Pair| Some((name(pair.setups[0])?, name(pair.setups[1])?));
    let Some((pair, (thick, thin))) = pair.filter(gain).and_then(|pair| Some((pair, named(pair)?))) else {
        return format!("No two saws serve this wood better than {alone} alone.");
    };
    let swap = if pair.swaps {
        format!(
            " They share a head: swapping bars costs {} in 100 cuts, which is in it.",
            format::work_time(pair.swap_s_per_cut * super::CUTS_TOLD)
        )
    } else {
        " Both saws have to come along, which is not counted.".to_owned()
    };
    format!(
        "{thick} for {} and {thin} for the rest serve better than {alone} alone: {} of the cuts and {}, worth {} against {}.{swap}",
        thicker(told, pair),
        format::share(pair.share_of_first),
        format::share(1.0 - pair.share_of_first),
        format::ratio(pair.score),
        format::ratio(best.score)
    )
}

/// `everything from 560 mm up`, or the diameters where they do not part at one.
fn thicker(told: &Told<'_>, pair: &Pair) -> String {
    let all: Vec<_> = kinds(told.wood).zip(&pair.first_takes).collect();
    let takes =
        |first: bool| all.iter().filter(move |(_, takes)| **takes == first).map(|(kind, _)| kind.diameter);
    let thinnest = takes(true).reduce(barpoise_core::units::Length::min);
    let thickest_other = takes(false).reduce(barpoise_core::units::Length::max);
    match (thinnest, thickest_other) {
        (Some(from), Some(below)) if from > below => {
            format!("everything from {} up", told.units.length(from))
        }
        _ => {
            let mut sizes: Vec<String> = takes(true).map(|diameter| told.units.length(diameter)).collect();
            sizes.dedup();
            listed(sizes)
        }
    }
}

/// A loop to order: `84 drive links, 3/8 in, 1.5 mm, full complement (3/8 full), for Bittern B24`.
pub fn loop_order(units: Units, order: &LoopOrder) -> String {
    format!(
        "{}, {}, {}, {} ({}), for {}",
        counted(usize::try_from(order.links).unwrap_or(usize::MAX), "drive link"),
        format::pitch(order.pitch),
        format::gauge(units, order.gauge),
        order.sequence.words(),
        order.chain,
        order.setups.join(", ")
    )
}
