//! Round logs in closed form: what the gaps between places on the bark say about the cover.
//!
//! A bar turned about a place on the bark, if nothing stopped it, takes everything within reach of it. Then a round log of
//! diameter `D` is covered by
//! settings exactly where its middle is within reach, `D ≤ 2R`, and no two neighbours on the bark are farther apart
//! than twice the angle whose chord is the reach, `4 asin(R / D)`. (Each place of the section belongs to its nearest
//! setting; in such a wedge the farthest place is the middle of the section or the bark half-way to the neighbour,
//! because distance is convex.)

use super::stand::BarkArc;
use std::f64::consts::TAU;

/// Gaps are compared with this margin, rad: rounding, nothing else.
const MARGIN_RAD: f64 = 1e-12;

/// Largest gap on the bark between neighbouring settings that still covers a round log; `None` where its middle is
/// out of reach.
pub(super) fn widest_gap_rad(reach_m: f64, diameter_m: f64) -> Option<f64> {
    (diameter_m <= 2.0 * reach_m * (1.0 + MARGIN_RAD))
        .then(|| 4.0 * (reach_m / diameter_m).min(1.0).asin() + MARGIN_RAD)
}

/// Largest piece of bark between neighbouring arcs that cannot be reached; 0 where all can be.
pub(super) fn largest_unreachable_rad(arcs: &[BarkArc]) -> f64 {
    let mut spans: Vec<(f64, f64)> = arcs
        .iter()
        .map(|arc| {
            let from = arc.from_rad().rem_euclid(TAU);
            (from, from + arc.span_rad())
        })
        .collect();
    spans.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    let Some(first) = spans.first().copied() else {
        return TAU;
    };
    // What an arc reaches past a full turn counts at the beginning of the round as well.
    let mut reached = spans.iter().map(|span| span.1 - TAU).fold(first.0, f64::max);
    let mut gap = 0.0_f64;
    for (from, to) in spans.iter().copied().chain([(first.0 + TAU, first.1 + TAU)]) {
        gap = gap.max(from - reached);
        reached = reached.max(to);
    }
    gap.max(0.0)
}

#[cfg(test)]
mod tests {
    use super::super::{BarkArc, Side};
    use super::*;
    use crate::units::Angle;
    use approx::assert_relative_eq;

    fn unreachable(arcs: &[(f64, f64)]) -> f64 {
        let arcs: Vec<_> = arcs
            .iter()
            .map(|(a, b)| BarkArc::new(Angle::from_deg(*a), Angle::from_deg(*b), Side::Near).unwrap())
            .collect();
        largest_unreachable_rad(&arcs).to_degrees()
    }

    #[test]
    fn gaps_between_arcs_are_found_across_the_turn() {
        assert_relative_eq!(unreachable(&[(60.0, 220.0)]), 200.0, epsilon = 1e-9);
        assert_relative_eq!(unreachable(&[(60.0, 220.0), (-40.0, 120.0)]), 100.0, epsilon = 1e-9);
        assert_relative_eq!(unreachable(&[(90.0, 270.0), (-90.0, 90.0)]), 0.0, epsilon = 1e-9);
        assert_relative_eq!(
            unreachable(&[(0.0, 10.0), (350.0, 355.0), (100.0, 300.0)]),
            90.0,
            epsilon = 1e-9
        );
        assert_relative_eq!(unreachable(&[(180.0, 180.0)]), 360.0, epsilon = 1e-9);
    }
}
