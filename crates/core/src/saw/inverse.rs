//! Questions the other way round: the longest bar that keeps a figure within a limit.

use super::made_up::BarFamily;
use super::parts::Bar;
use super::solve::{Solved, solve};
use crate::units::Length;
use std::sync::Arc;

/// The search looks for a crossing in steps of this length before it closes in.
const STEP_M: f64 = 0.01;
/// Bisections per crossing: 10 mm / 2^40 is far below any rounding.
const BISECTIONS: u32 = 40;

/// The longest bar within a limit.
#[derive(Clone, Debug, PartialEq)]
pub enum Longest {
    /// Even the longest bar that can be made up is within it.
    Any,
    /// Not even the shortest is.
    None,
    /// Bars up to this overall length are.
    Length(Length),
}

/// An answer with its neighbours on the rack.
#[derive(Clone, Debug, PartialEq)]
pub struct LongestWithin {
    /// The longest made-up bar.
    pub longest: Longest,
    /// The longest rack bar of the family that is no longer than that.
    pub rack_within: Option<Arc<Bar>>,
    /// The next longer one on the rack.
    pub rack_beyond: Option<Arc<Bar>>,
}

/// The longest bar of a family whose figures are within what is wanted, by the same model as everything else.
pub fn longest_within(family: &BarFamily, within: impl Fn(&Solved) -> bool) -> LongestWithin {
    let holds =
        |overall_m: f64| family.at(Length::from_m(overall_m)).is_ok_and(|setup| within(&solve(&setup)));
    let (shortest, most) = BarFamily::span();
    let longest = longest_where(shortest.as_m(), most.as_m(), holds);
    let reaches = |bar: &&Arc<Bar>| {
        let overall = bar.overall_length();
        if overall < shortest || overall > most {
            // The search did not go there: such a bar answers for itself.
            return family.rack_setup(bar).is_ok_and(|setup| within(&solve(&setup)));
        }
        match longest {
            Longest::Any => true,
            Longest::None => false,
            // A rack bar that lies exactly on the limit is within it.
            Longest::Length(length) => overall.as_m() <= length.as_m() + 1e-9,
        }
    };
    let rack_within = family.bars().filter(reaches).last().cloned();
    let rack_beyond = family.bars().find(|bar| !reaches(bar)).cloned();
    LongestWithin { longest, rack_within, rack_beyond }
}

/// The largest value of `low..=high` where `holds` is true: stepped down from the top, then bisected.
fn longest_where(low: f64, high: f64, holds: impl Fn(f64) -> bool) -> Longest {
    if holds(high) {
        return Longest::Any;
    }
    let mut above = high;
    while above > low {
        let below = (above - STEP_M).max(low);
        if holds(below) {
            let (mut inside, mut outside) = (below, above);
            for _ in 0..BISECTIONS {
                let middle = 0.5 * (inside + outside);
                if holds(middle) { inside = middle } else { outside = middle }
            }
            return Longest::Length(Length::from_m(inside));
        }
        above = below;
    }
    Longest::None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_crossing_wins() {
        // True up to 0.3, false to 0.5, true again to 0.7.
        let answer = longest_where(0.2, 1.1, |x| x <= 0.3 || (0.5..=0.7).contains(&x));
        let Longest::Length(length) = answer else { panic!("{answer:?}") };
        assert!((length.as_m() - 0.7).abs() < 1e-10, "{length:?}");
    }

    #[test]
    fn all_and_none_are_said_as_such() {
        assert_eq!(longest_where(0.2, 1.1, |_| true), Longest::Any);
        assert_eq!(longest_where(0.2, 1.1, |_| false), Longest::None);
    }
}
