//! Round logs in closed form: what the gaps between places on the bark say about the cover.
//!
//! A full swing about a place on the bark takes everything within reach of it, as long as the slivers beyond the
//! swing limits are no deeper than touch-down and last slide take. Then a round log of diameter `D` is covered by
//! settings exactly where its middle is within reach, `D ≤ 2R`, and no two neighbours on the bark are farther apart
//! than twice the angle whose chord is the reach, `4 asin(R / D)`. (Each place of the section belongs to its nearest
//! setting; in such a wedge the farthest place is the middle of the section or the bark half-way to the neighbour,
//! because distance is convex.)

use super::bar::CuttingBar;
use super::job::LogJob;
use super::stand::BarkArc;
use std::f64::consts::TAU;

/// Gaps are compared with this margin, rad: rounding, nothing else.
const MARGIN_RAD: f64 = 1e-12;

/// Diameter of a round log whose swing limits leave no sliver behind; `None` where closed forms do not hold.
pub(super) fn closed_form_diameter_m(job: &LogJob, bar: &CuttingBar) -> Option<f64> {
    let diameter_m = job.section().round_diameter()?.as_m();
    let limits = job.swing();
    let tightest = limits.upward().min(limits.downward()).as_rad();
    let sliver_m = 0.5 * diameter_m * (1.0 - tightest.sin());
    (sliver_m <= bar.slide_depth_m()).then_some(diameter_m)
}

/// Largest gap on the bark between neighbouring settings that still covers a round log; `None` where its middle is
/// out of reach.
pub(super) fn widest_gap_rad(reach_m: f64, diameter_m: f64) -> Option<f64> {
    (diameter_m <= 2.0 * reach_m * (1.0 + MARGIN_RAD))
        .then(|| 4.0 * (reach_m / diameter_m).min(1.0).asin() + MARGIN_RAD)
}

/// Largest gap between neighbours among places on the bark; a full turn for a single one.
pub(super) fn largest_gap_rad(places_rad: impl Iterator<Item = f64>) -> f64 {
    let mut places: Vec<f64> = places_rad.map(|place| place.rem_euclid(TAU)).collect();
    places.sort_unstable_by(f64::total_cmp);
    let Some((first, last)) = places.first().zip(places.last()) else {
        return TAU;
    };
    let across = TAU - (last - first);
    places.iter().zip(places.iter().skip(1)).map(|(a, b)| b - a).fold(across, f64::max)
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

    #[test]
    fn gaps_between_places_close_the_round() {
        let gap = largest_gap_rad([10.0_f64, 350.0, 200.0].iter().map(|d| d.to_radians()));
        assert_relative_eq!(gap.to_degrees(), 190.0, epsilon = 1e-9);
        assert_relative_eq!(largest_gap_rad([1.0].into_iter()), TAU, epsilon = 1e-12);
    }
}
