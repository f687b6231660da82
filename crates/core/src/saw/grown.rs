//! A bar that grows from one setup's to the next's, as far as the model has such bars.

use super::parts::{Bar, Setup};
use crate::saw::BarFamily;
use crate::units::Length;
use std::sync::Arc;

/// A saw somewhere between setups in a row.
#[derive(Clone, Debug, PartialEq)]
pub enum Grown {
    /// One of the setups itself.
    Own {
        /// Which, from 0.
        index: usize,
        /// True between two setups that no bar of one family joins: the nearer of them stands for it.
        swapped: bool,
    },
    /// A made-up bar of the family of both.
    MadeUp(Box<Setup>),
}

/// The saw at a place in a row of setups: 0 is the first, 1 the second, 1.5 half way from the second to the third.
///
/// Where head, chain, tanks and extras are the same and both bars are of one family, the bar between them is made up, as
/// [`BarFamily`] does it. Else nothing lies between: the nearer of the two stands there. `None` for no setups.
pub fn grown(setups: &[&Setup], rack: &[Arc<Bar>], at: f64) -> Option<Grown> {
    let last = setups.len().checked_sub(1)?;
    let at = if at.is_finite() { at.clamp(0.0, f64::from(u32::try_from(last).ok()?)) } else { 0.0 };
    let (index, share) = (0..=last)
        .rev()
        .map(|index| (index, at - u32::try_from(index).map_or(0.0, f64::from)))
        .find(|(_, share)| *share >= 0.0)?;
    let Some((from, to)) = setups.get(index).zip(setups.get(index + 1)).filter(|_| share > 0.0) else {
        return Some(Grown::Own { index, swapped: false });
    };
    let made_up = joined(from, to, rack).and_then(|family| {
        let (short, long) = (from.bar().overall_length(), to.bar().overall_length());
        family.at(between(short, long, share)).ok()
    });
    Some(match made_up {
        Some(setup) => Grown::MadeUp(Box::new(setup)),
        None => Grown::Own { index: if share < 0.5 { index } else { index + 1 }, swapped: true },
    })
}

/// Fills are typed by hand: to the last digit or not at all.
fn same_fill(a: f64, b: f64) -> bool {
    (a - b).abs() <= f64::EPSILON
}

fn between(from: Length, to: Length, share: f64) -> Length {
    from + (to - from) * share
}

/// The family of both bars, where nothing but the bar sets the setups apart.
fn joined(from: &Setup, to: &Setup, rack: &[Arc<Bar>]) -> Option<BarFamily> {
    let same = from.powerhead() == to.powerhead()
        && from.chain() == to.chain()
        && same_fill(from.fuel_fill(), to.fuel_fill())
        && same_fill(from.oil_fill(), to.oil_fill())
        && from.extras() == to.extras();
    let family = same.then(|| BarFamily::new(from, rack))?;
    let joins = family.bars().any(|bar| bar.name() == to.bar().name());
    joins.then_some(family)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;
    use crate::saw::solve;

    #[test]
    fn the_bar_grows_evenly_between_two_of_a_family_and_is_theirs_at_the_ends() {
        let yard = demo().unwrap();
        let row: Vec<&Setup> = ["Bittern B14", "Bittern B18", "Bittern B24"]
            .iter()
            .map(|name| yard.setup(name).unwrap())
            .collect();
        assert_eq!(grown(&row, yard.bars(), 0.0), Some(Grown::Own { index: 0, swapped: false }));
        assert_eq!(grown(&row, yard.bars(), 2.0), Some(Grown::Own { index: 2, swapped: false }));
        let mut last = solve(row[0]);
        for tenth in 1..20_u32 {
            let at = f64::from(tenth) / 10.0;
            let now = match grown(&row, yard.bars(), at).unwrap() {
                Grown::MadeUp(setup) => solve(&setup),
                Grown::Own { index, swapped } => {
                    assert!(!swapped && tenth == 10, "{tenth}");
                    solve(row[index])
                }
            };
            assert!(now.reach > last.reach && now.ready_mass() > last.ready_mass(), "at {at}");
            last = now;
        }
    }

    #[test]
    fn near_an_end_the_grown_saw_is_nearly_the_setup() {
        let yard = demo().unwrap();
        let row: Vec<&Setup> =
            ["Bittern B18", "Bittern B24"].iter().map(|name| yard.setup(name).unwrap()).collect();
        for (at, index) in [(1e-6, 0), (1.0 - 1e-6, 1)] {
            let Some(Grown::MadeUp(setup)) = grown(&row, yard.bars(), at) else { panic!("made up at {at}") };
            let (near, own) = (solve(&setup), solve(row[index]));
            let apart = (near.reach - own.reach).abs().as_mm();
            assert!(apart < 0.5, "{apart} mm of reach at {at}: less than half a link's worth");
            assert!((near.ready_mass().as_kg() - own.ready_mass().as_kg()).abs() < 0.005);
        }
    }

    #[test]
    fn between_different_chains_nothing_is_made_up() {
        let yard = demo().unwrap();
        let row: Vec<&Setup> =
            ["Bittern B24", "Bittern B30"].iter().map(|name| yard.setup(name).unwrap()).collect();
        assert_ne!(row[0].chain(), row[1].chain());
        assert_eq!(grown(&row, yard.bars(), 0.4), Some(Grown::Own { index: 0, swapped: true }));
        assert_eq!(grown(&row, yard.bars(), 0.6), Some(Grown::Own { index: 1, swapped: true }));
        assert_eq!(grown(&[], yard.bars(), 0.6), None);
        assert_eq!(grown(&row, yard.bars(), f64::NAN), Some(Grown::Own { index: 0, swapped: false }));
    }
}
