//! The biggest log a bar cuts, and the shortest bar that cuts a log, if only reach counted: no person, no powerhead, no
//! ground. What a person can do with it is for the plan to say.

use super::bar::CuttingBar;
use super::candidates::samples;
use super::gaps;
use super::job::LogJob;
use super::stand::BarkArc;
use crate::section::{LogSection, Side, limits};
use crate::units::{Angle, Length};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// Spacing of the spikes along the bark where no closed form holds.
const STEP: Angle = Angle::from_deg(1.0);
/// Halvings of a range of lengths: 3 m leave less than a hundredth of a millimetre.
const HALVINGS: u32 = 19;

/// The bark on an operator's own half of the log, as far as an arc of theirs holds it.
fn own_half(arc: &BarkArc) -> Option<BarkArc> {
    let middle = if arc.side() == Side::Near { PI } else { 0.0 };
    let turns = ((0.5 * (arc.from_rad() + arc.to_rad()) - middle) / TAU).round() * TAU;
    let from = arc.from_rad().max(middle + turns - FRAC_PI_2);
    let to = arc.to_rad().min(middle + turns + FRAC_PI_2);
    BarkArc::new(Angle::from_rad(from), Angle::from_rad(to), arc.side()).ok()
}

fn own_halves(job: &LogJob) -> Vec<BarkArc> {
    job.bark().iter().filter_map(own_half).collect()
}

/// True where a bar turned about every place of the operators' own halves of the bark takes the whole section.
///
/// For round logs: where the middle is within reach and the widest piece of bark out of reach is no wider than
/// `4 asin(R / D)`. Elsewhere spikes every degree are asked about some two hundred places of the section.
pub fn can_cut(job: &LogJob, bar: &CuttingBar) -> bool {
    let reach_m = bar.reach().as_m();
    if let Some(diameter) = job.section().round_diameter() {
        return gaps::widest_gap_rad(reach_m, diameter.as_m())
            .is_some_and(|widest| gaps::largest_unreachable_rad(&own_halves(job)) <= widest);
    }
    let mut spikes = Vec::with_capacity(400);
    for arc in own_halves(job) {
        let pieces = (arc.span_rad() / STEP.as_rad()).ceil().max(1.0);
        let mut piece = 0.0;
        while piece <= pieces {
            spikes.push(job.section().bark_at(arc.from_rad() + arc.span_rad() * piece / pieces));
            piece += 1.0;
        }
    }
    samples(job).iter().all(|sample| spikes.iter().any(|place| (sample - place).norm() <= reach_m))
}

/// Diameter of the biggest round log with `2 β` of bark out of reach and no swing limit acting:
/// `D = R / max(½, sin(β / 2))`.
///
/// From one side with half-span `α` of reachable bark `β = π − α`, which gives `R / cos(α / 2)`; with bark to spike on all
/// round, `2 R`: the middle must be within reach.
fn closed_form(reach: Length, unreachable_rad: f64) -> Length {
    Length::from_m(reach.as_m() / (0.25 * unreachable_rad).sin().max(0.5))
}

/// Diameter of the biggest log of the section's proportions that this bar cuts from the reachable bark, no more than
/// 3000 mm; `None` where it cuts not even a log of 30 mm.
///
/// For an oval, its larger diameter. Round logs have the closed form `R / max(½, sin(β / 2))`, `2 β` the widest piece of
/// bark that is on nobody's own half. For ovals a bisection to 0.01 mm, the bark within reach kept in degrees.
pub fn biggest_log(job: &LogJob, bar: &CuttingBar) -> Option<Length> {
    let section = job.section();
    let larger = section.width().max(section.height());
    let scaled = |diameter: Length| -> Option<LogJob> {
        let scale = diameter / larger;
        let log =
            LogSection::oval(section.width() * scale, section.height() * scale, section.clearance()).ok()?;
        Some(LogJob::new(log, job.stand()).with_bark(job.bark().to_vec()).with_swing(job.swing()))
    };
    if section.round_diameter().is_some() {
        return Some(closed_form(bar.reach(), gaps::largest_unreachable_rad(&own_halves(job))));
    }
    let smaller = section.width().min(section.height());
    // A hair more, so that rounding does not make the smaller diameter too small.
    let least = Length::from_mm(limits::LOG_DIAMETER.min) * (larger / smaller) * (1.0 + 1e-12);
    largest_that(least, Length::from_mm(limits::LOG_DIAMETER.max), |diameter| {
        scaled(diameter).is_some_and(|job| can_cut(&job, bar))
    })
}

/// The shortest reach with which a bar of this width cuts the section; `None` where none in range does.
///
/// Round logs: `R = D · max(½, sin(β / 2))`. Ovals: a bisection to 0.01 mm.
pub fn shortest_reach(job: &LogJob, bar: &CuttingBar) -> Option<Length> {
    if let Some(diameter) = job.section().round_diameter() {
        let share = (0.25 * gaps::largest_unreachable_rad(&own_halves(job))).sin().max(0.5);
        let closed = diameter * share;
        if bar.with_reach(closed).is_ok() {
            return Some(closed);
        }
    }
    let least = Length::from_mm(limits::REACH.min).max(bar.half_width() * 3.0);
    let most = Length::from_mm(limits::REACH.max);
    let enough = |reach: Length| bar.with_reach(reach).is_ok_and(|bar| can_cut(job, &bar));
    if !enough(most) {
        return None;
    }
    if enough(least) {
        return Some(least);
    }
    let (mut short, mut long) = (least, most);
    for _ in 0..HALVINGS {
        let middle = (short + long) * 0.5;
        if enough(middle) {
            long = middle;
        } else {
            short = middle;
        }
    }
    Some(long)
}

/// The largest length of a range that still does, by halving; `None` where not even the least does.
fn largest_that(least: Length, most: Length, does: impl Fn(Length) -> bool) -> Option<Length> {
    if !does(least) {
        return None;
    }
    if does(most) {
        return Some(most);
    }
    let (mut good, mut bad) = (least, most);
    for _ in 0..HALVINGS {
        let middle = (good + bad) * 0.5;
        if does(middle) {
            good = middle;
        } else {
            bad = middle;
        }
    }
    Some(good)
}

#[cfg(test)]
mod tests {
    use super::super::{Setting, Stand, SwingLimits, cover};
    use super::*;
    use proptest::prelude::*;

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    fn deg(value: f64) -> Angle {
        Angle::from_deg(value)
    }

    fn bar(reach_mm: f64) -> CuttingBar {
        CuttingBar::new(mm(reach_mm), mm(45.0), mm(36.0)).unwrap()
    }

    fn round(diameter_mm: f64, stand: Stand) -> LogJob {
        LogJob::new(LogSection::round(mm(diameter_mm), mm(600.0)).unwrap(), stand)
    }

    fn one_arc(diameter_mm: f64, half_span_deg: f64) -> LogJob {
        let arc = BarkArc::new(deg(180.0 - half_span_deg), deg(180.0 + half_span_deg), Side::Near).unwrap();
        round(diameter_mm, Stand::OneSide).with_bark(vec![arc])
    }

    #[test]
    fn the_biggest_log_from_one_side_has_its_closed_form() {
        // D = R / cos(α/2) up to an operator's own half, α = 90°.
        for half_span in [10.0_f64, 45.0, 80.0, 90.0, 100.0, 180.0] {
            let expected = 0.452 / (0.5 * half_span.min(90.0).to_radians()).cos();
            let found = biggest_log(&one_arc(500.0, half_span), &bar(452.0)).unwrap();
            approx::assert_relative_eq!(found.as_m(), expected, epsilon = 1e-12);
        }
        let found = biggest_log(&round(500.0, Stand::OneSide), &bar(452.0)).unwrap();
        approx::assert_relative_eq!(found.as_m(), 0.452 * 2.0_f64.sqrt(), epsilon = 1e-12);
        // From both sides all bark is on somebody's own half, and the middle comes to be just within reach: D = 2R.
        for stand in [Stand::BothSides, Stand::WalkRound] {
            let found = biggest_log(&round(500.0, stand), &bar(452.0)).unwrap();
            approx::assert_relative_eq!(found.as_m(), 0.904, epsilon = 1e-12);
        }
    }

    #[test]
    fn the_closed_form_of_the_biggest_log_is_where_exact_cuts_stop_covering() {
        // No formula here: whole half turns every two degrees, the ends among them, and the diameter at which they first
        // leave wood.
        let bar = bar(452.0);
        let half_turn = SwingLimits::new(deg(90.0), deg(90.0)).unwrap();
        for half_span in [30.0_f64, 80.0] {
            let leaves = |diameter_m: f64| {
                let job = one_arc(diameter_m * 1e3, half_span).with_swing(half_turn);
                let settings: Vec<_> = (0..=40)
                    .map(|i| 180.0 - half_span + f64::from(i) * half_span / 20.0)
                    .map(|bark| Setting::full(&job, deg(bark), Side::Near).unwrap())
                    .collect();
                cover(&job, &bar, &settings).unwrap().left_area_m2 > 0.0
            };
            let (mut whole, mut left) = (0.4, 0.9);
            while left - whole > 1e-6 {
                let middle = 0.5 * (whole + left);
                if leaves(middle) {
                    left = middle;
                } else {
                    whole = middle;
                }
            }
            let closed = biggest_log(&one_arc(500.0, half_span), &bar).unwrap();
            // What is left past the closed form is a lens that grows from nothing: 0.01 mm² of it is 0.1 mm of diameter.
            approx::assert_relative_eq!(closed.as_m(), whole, epsilon = 1e-4);
        }
    }

    proptest! {
        #[test]
        fn law_the_biggest_log_can_be_cut_and_a_bigger_one_cannot(
            half_span in 20.0_f64..175.0, reach in 250.0_f64..900.0
        ) {
            let bar = bar(reach);
            let biggest = biggest_log(&one_arc(500.0, half_span), &bar).unwrap();
            let job = |scale: f64| one_arc(biggest.as_mm() * scale, half_span);
            prop_assert!(can_cut(&job(0.9999), &bar) && !can_cut(&job(1.0001), &bar));
            let shortest = shortest_reach(&job(1.0), &bar).unwrap();
            prop_assert!((shortest.as_mm() - reach).abs() < 1e-6, "{shortest:?}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(16))]

        #[test]
        fn law_ovals_are_halved_to_where_they_can_just_be_cut(
            ratio in 0.6_f64..1.6, reach in 250.0_f64..900.0,
            stand in prop_oneof![Just(Stand::OneSide), Just(Stand::BothSides)]
        ) {
            let bar = bar(reach);
            let oval = |larger: Length| {
                let section = LogSection::oval(
                    larger * (1.0 / ratio.max(1.0)),
                    larger * (ratio / ratio.max(1.0)),
                    mm(600.0),
                );
                LogJob::new(section.unwrap(), stand)
            };
            let biggest = biggest_log(&oval(mm(500.0)), &bar).unwrap();
            prop_assert!(can_cut(&oval(biggest), &bar) && !can_cut(&oval(biggest + mm(0.1)), &bar));
            let shortest = shortest_reach(&oval(biggest), &bar).unwrap();
            prop_assert!((shortest - bar.reach()).as_mm().abs() < 0.2, "{shortest:?}");
            // Never less than half the smaller diameter, never more than the larger.
            prop_assert!(shortest * 2.0 >= biggest * ratio.min(1.0 / ratio) - mm(0.1) && shortest <= biggest);
        }
    }
}
