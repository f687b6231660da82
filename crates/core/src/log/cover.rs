//! How much of the section a list of settings cuts, and what is left.

use super::bar::CuttingBar;
use super::job::LogJob;
use super::setting::{Setting, Taken, regions};
use crate::fault::Fault;
use crate::section::{Outline, cut_out, fresh};

/// What a list of settings does to a section.
#[derive(Clone, Debug, PartialEq)]
pub struct Cover {
    /// Share of the section's area that is cut, 0…1; exactly 1 where nothing is left.
    pub covered_fraction: f64,
    /// Area left, m²; exactly 0 where no piece of 0.01 mm² or more is left.
    pub left_area_m2: f64,
    /// Outlines of what is left; wood lies to the left of the way, so holes run clockwise.
    pub left: Vec<Outline>,
}

/// Cuts the section with these settings, in any order: the union of what each takes, not sampled.
///
/// Places within 1e-12 m are one place; a piece under 1e-8 m² (0.01 mm²) counts as nothing.
///
/// # Errors
/// A setting that is none for this job.
pub fn cover(job: &LogJob, bar: &CuttingBar, settings: &[Setting]) -> Result<Cover, Fault> {
    settings.iter().try_for_each(|setting| setting.check(job))?;
    Ok(cover_of(job, &all_taken(job, bar, settings)))
}

/// What each setting takes that none before it took: outlines to shade, one list for each setting.
///
/// # Errors
/// A setting that is none for this job.
pub fn new_cuts(job: &LogJob, bar: &CuttingBar, settings: &[Setting]) -> Result<Vec<Vec<Outline>>, Fault> {
    settings.iter().try_for_each(|setting| setting.check(job))?;
    let taken = all_taken(job, bar, settings);
    Ok(taken
        .iter()
        .enumerate()
        .map(|(own, one)| {
            let earlier = regions(taken.get(..own).unwrap_or_default());
            fresh(&[job.section()], &regions(std::slice::from_ref(one)), &earlier)
        })
        .collect())
}

pub(super) fn all_taken(job: &LogJob, bar: &CuttingBar, settings: &[Setting]) -> Vec<Taken> {
    settings.iter().map(|setting| Taken::new(job, bar, setting)).collect()
}

pub(super) fn cover_of(job: &LogJob, taken: &[Taken]) -> Cover {
    let left = cut_out(&[job.section()], &regions(taken));
    let section_m2 = job.section().area().as_m2();
    let left_area_m2 = if left.is_empty() {
        0.0
    } else {
        left.iter().map(Outline::area_m2).sum::<f64>().clamp(0.0, section_m2)
    };
    Cover { covered_fraction: 1.0 - left_area_m2 / section_m2, left_area_m2, left }
}

/// Area of outlines with their holes, m².
pub(super) fn area_of_m2(outlines: &[Outline]) -> f64 {
    outlines.iter().map(Outline::area_m2).sum::<f64>().max(0.0)
}

#[cfg(test)]
mod tests {
    use super::super::{BarkArc, LogSection, Side, Stand, SwingLimits};
    use super::*;
    use crate::geometry::{Point, Vector};
    use crate::section::Region;
    use crate::units::{Angle, Length};
    use proptest::prelude::*;
    use std::f64::consts::PI;

    /// Exact areas against each other: a few roundings of 1e-16 m² and edges told apart at 1e-12 m.
    const EXACT_M2: f64 = 1e-9;

    fn bar(reach_mm: f64, half_width_mm: f64, nose_mm: f64) -> CuttingBar {
        let mm = Length::from_mm;
        CuttingBar::new(mm(reach_mm), mm(half_width_mm), mm(nose_mm)).unwrap()
    }

    fn all_round(diameter_mm: f64, limit_deg: f64) -> LogJob {
        let section = LogSection::round(Length::from_mm(diameter_mm), Length::from_mm(400.0)).unwrap();
        let limit = Angle::from_deg(limit_deg);
        let whole = |side| BarkArc::new(Angle::from_deg(0.0), Angle::from_deg(360.0), side).unwrap();
        LogJob::new(section, Stand::WalkRound)
            .with_bark(vec![whole(Side::Near), whole(Side::Far)])
            .with_swing(SwingLimits::new(limit, limit).unwrap())
    }

    fn setting(job: &LogJob, bark: f64, from: f64, to: f64) -> Setting {
        let deg = Angle::from_deg;
        Setting::new(job, deg(bark), Side::Near, deg(from), deg(to)).unwrap()
    }

    fn left_m2(job: &LogJob, bar: &CuttingBar, settings: &[Setting]) -> f64 {
        cover(job, bar, settings).unwrap().left_area_m2
    }

    #[test]
    fn a_full_swing_through_a_right_angle_takes_the_lens_of_two_circles() {
        // Lens of two circles, r = R = d: MathWorld, Circle-Circle Intersection: 1.2283696986087568 r².
        let job = all_round(1000.0, 90.0);
        let taken = 0.25 * PI - left_m2(&job, &bar(500.0, 40.0, 30.0), &[setting(&job, 180.0, 90.0, -90.0)]);
        approx::assert_relative_eq!(taken, 0.25 * 1.228_369_698_608_756_8, epsilon = EXACT_M2);
    }

    #[test]
    fn the_lens_of_unequal_circles_agrees_as_well() {
        // MathWorld, Circle-Circle Intersection: r = 1, R = 2, d = 2 gives 1.40306643968573875. The circle about
        // the spikes has its centre on the bark, so d = R: section radius 2, reach 1 (scaled to 0.5 m and 0.25 m).
        let job = all_round(1000.0, 90.0);
        let taken = 0.25 * PI - left_m2(&job, &bar(250.0, 30.0, 20.0), &[setting(&job, 33.0, 90.0, -90.0)]);
        approx::assert_relative_eq!(taken, 0.0625 * 1.403_066_439_685_738_7, epsilon = EXACT_M2);
    }

    #[test]
    fn a_thin_log_is_one_setting_and_exactly_all_of_it() {
        // With a sink, and with a swing that is laid on and runs off where its limits stop it.
        let (mm, deg) = (Length::from_mm, Angle::from_deg);
        for diameter in [31.0, 120.0, 300.0, 449.0, 452.0] {
            for limit in [45.0, 60.0, 75.0, 89.0, 90.0] {
                let job = all_round(diameter, limit);
                let half = mm(0.5 * diameter);
                let held = if diameter < 449.0 { 0.1 * limit } else { 0.0 };
                let sink =
                    Setting::sink(&job, deg(180.0), Side::Near, deg(held), (half, half), false).unwrap();
                let swing =
                    setting(&job, 180.0, limit, -limit).with_ways(&job, mm(140.0), mm(140.0)).unwrap();
                for one in [sink, swing] {
                    let one = cover(&job, &bar(452.0, 45.0, 36.0), &[one]).unwrap();
                    assert!(
                        one.covered_fraction >= 1.0 && one.left_area_m2 <= 0.0 && one.left.is_empty(),
                        "{diameter} {limit}: {one:?}"
                    );
                }
            }
        }
    }

    #[test]
    fn no_setting_leaves_the_whole_log() {
        let job = all_round(600.0, 75.0);
        let none = cover(&job, &bar(452.0, 45.0, 36.0), &[]).unwrap();
        assert!(none.covered_fraction.abs() < 1e-13);
        approx::assert_relative_eq!(none.left_area_m2, PI * 0.09, max_relative = 1e-13);
    }

    #[test]
    fn a_swing_beyond_the_limit_is_refused_with_the_range() {
        let job = all_round(600.0, 75.0);
        let deg = Angle::from_deg;
        let fault = Setting::new(&job, deg(180.0), Side::Near, deg(80.0), deg(0.0)).unwrap_err();
        assert!(fault.message.contains("-75…75°"), "{fault}");
        assert!(Setting::new(&job, deg(180.0), Side::Near, deg(f64::NAN), deg(0.0)).is_err());
    }

    #[test]
    fn a_bar_let_level_through_a_log_takes_the_segment_its_nose_cuts_off() {
        // Circular segment of height h in a circle of radius r (MathWorld, Circular Segment):
        // r² acos((r − h)/r) − (r − h) √(2 r h − h²). The nose goes straight down h = reach from the near side.
        let (r, h) = (0.3_f64, 0.452_f64);
        let segment = r * r * ((r - h) / r).acos() - (r - h) * (2.0 * r * h - h * h).sqrt();
        let job = all_round(600.0, 75.0);
        let ways = (Length::from_mm(350.0), Length::from_mm(350.0));
        for rises in [false, true] {
            let deg = Angle::from_deg;
            let sink = Setting::sink(&job, deg(180.0), Side::Near, deg(0.0), ways, rises).unwrap();
            let taken = PI * r * r - left_m2(&job, &bar(452.0, 45.0, 36.0), &[sink]);
            approx::assert_relative_eq!(taken, segment, epsilon = EXACT_M2);
        }
    }

    #[test]
    fn spikes_that_follow_the_bark_keep_the_whole_reach_in_the_wood() {
        // The bar held level, its spikes on the near bark all the way from 60° above the middle to it: each level line of
        // wood there is longer than the reach, so what the centreline takes is reach × height, log or no log.
        let (r, reach) = (0.5_f64, 0.3_f64);
        let job = all_round(1000.0, 75.0);
        let bar = bar(300.0, 20.0, 20.0);
        let deg = Angle::from_deg;
        let run_off = Length::from_m(r * 60.0_f64.to_radians().sin());
        let slide =
            Setting::sink(&job, deg(120.0), Side::Near, deg(60.0), (Length::ZERO, run_off), false).unwrap();
        let taken = PI * r * r - left_m2(&job, &bar, &[slide]);
        let swept = reach * run_off.as_m();
        // Besides, half the width of a bar with round ends above its first place and below its last; of the first,
        // what lies off the bark that slopes away 30° from level is the wedge at its root and no more.
        let half_bar = 20e-3 * (reach - 20e-3) + 0.25 * PI * 20e-3 * 20e-3;
        let root = 0.25 * PI * 20e-3 * 20e-3;
        let (least, most) = (swept + 2.0 * half_bar - 20e-3 * 20e-3, swept + 2.0 * (half_bar + root));
        assert!(taken > least && taken < most, "{taken} {least} {most}");
    }

    #[test]
    fn a_way_out_of_range_is_refused() {
        let job = all_round(600.0, 75.0);
        let bare = setting(&job, 180.0, 10.0, -10.0);
        for way in [-1.0, 3501.0, f64::NAN] {
            let way = Length::from_mm(way);
            let fault = bare.with_ways(&job, way, Length::ZERO).unwrap_err();
            assert!(fault.path == "setting.lay_on" && fault.message.contains("0…3500 mm"), "{fault}");
            assert_eq!(bare.with_ways(&job, Length::ZERO, way).unwrap_err().path, "setting.run_off");
        }
    }

    /// Where a setting is, and how it goes.
    #[derive(Clone, Copy, Debug)]
    struct Way {
        bark: f64,
        from: f64,
        to: f64,
        lay_on: f64,
        run_off: f64,
    }

    impl Way {
        fn setting(&self, job: &LogJob) -> Setting {
            let mm = Length::from_mm;
            setting(job, self.bark, self.from, self.to)
                .with_ways(job, mm(self.lay_on), mm(self.run_off))
                .unwrap()
        }

        const fn mirrored(&self) -> Self {
            Self { bark: 360.0 - self.bark, from: -self.from, to: -self.to, ..*self }
        }

        fn scaled(&self, scale: f64) -> Self {
            Self { lay_on: scale * self.lay_on, run_off: scale * self.run_off, ..*self }
        }
    }

    prop_compose! {
        fn a_way()(
            bark in 0.0_f64..360.0, a in -75.0_f64..75.0, b in -75.0_f64..75.0, ends in 0..4, lay_on in 0.0_f64..600.0,
            run_off in 0.0_f64..600.0, slides in 0..4
        ) -> Way {
            let (from, to) = match ends {
                0 => (75.0, b),
                1 => (a, -75.0),
                2 => (75.0, -75.0),
                _ => (a, b),
            };
            let lay_on = if slides % 2 == 0 { 0.0 } else { lay_on };
            let run_off = if slides < 2 { 0.0 } else { run_off };
            Way { bark, from, to, lay_on, run_off }
        }
    }

    proptest! {
        #[test]
        fn law_a_mirrored_cut_leaves_as_much(
            diameter in 200.0_f64..1400.0, ways in prop::collection::vec(a_way(), 1..4)
        ) {
            let job = all_round(diameter, 75.0);
            let bar = bar(452.0, 45.0, 36.0);
            let direct: Vec<_> = ways.iter().map(|way| way.setting(&job)).collect();
            let mirrored: Vec<_> = ways.iter().map(|way| way.mirrored().setting(&job)).collect();
            let (direct, mirrored) = (left_m2(&job, &bar, &direct), left_m2(&job, &bar, &mirrored));
            prop_assert!((direct - mirrored).abs() < EXACT_M2, "{direct} {mirrored}");
        }

        #[test]
        fn law_the_same_way_backwards_cuts_the_same(
            diameter in 200.0_f64..1400.0, ways in prop::collection::vec(a_way(), 1..4)
        ) {
            let job = all_round(diameter, 75.0);
            let bar = bar(452.0, 45.0, 36.0);
            let there: Vec<_> = ways.iter().map(|way| way.setting(&job)).collect();
            let back: Vec<_> = there.iter().map(Setting::reversed).collect();
            let (there, back) = (left_m2(&job, &bar, &there), left_m2(&job, &bar, &back));
            prop_assert!((there - back).abs() < EXACT_M2, "{there} {back}");
        }

        #[test]
        fn law_a_larger_world_is_the_same_picture(scale in 0.8_f64..2.0, ways in prop::collection::vec(a_way(), 1..4)) {
            let small = all_round(560.0, 75.0);
            let large = all_round(560.0 * scale, 75.0);
            let share = |job: &LogJob, bar: &CuttingBar, scale: f64| {
                let settings: Vec<_> = ways.iter().map(|way| way.scaled(scale).setting(job)).collect();
                cover(job, bar, &settings).unwrap().covered_fraction
            };
            let a = share(&small, &bar(452.0, 45.0, 36.0), 1.0);
            let b = share(&large, &bar(452.0 * scale, 45.0 * scale, 36.0 * scale), scale);
            // A piece of 0.01 mm² counts in the larger world and not in the smaller: 4·10⁻⁸ of it, a few at most.
            prop_assert!((a - b).abs() < 2e-7, "{a} {b}");
        }

        #[test]
        fn law_a_sweep_split_in_two_cuts_the_same(
            diameter in 200.0_f64..1400.0, way in a_way(), share in 0.001_f64..0.999
        ) {
            let job = all_round(diameter, 75.0);
            let bar = bar(452.0, 45.0, 36.0);
            let middle = way.from + share * (way.to - way.from);
            let whole = left_m2(&job, &bar, &[way.setting(&job)]);
            let first = Way { to: middle, run_off: 0.0, ..way };
            let second = Way { from: middle, lay_on: 0.0, ..way };
            let halves = left_m2(&job, &bar, &[first.setting(&job), second.setting(&job)]);
            prop_assert!((whole - halves).abs() < EXACT_M2, "{whole} {halves}");
        }

        #[test]
        fn law_a_longer_way_never_leaves_more(
            diameter in 200.0_f64..1400.0, way in a_way(), on in 0.0_f64..200.0, off in 0.0_f64..200.0
        ) {
            let job = all_round(diameter, 75.0);
            let bar = bar(452.0, 45.0, 36.0);
            let longer = Way { lay_on: way.lay_on + on, run_off: way.run_off + off, ..way };
            let (short, long) =
                (left_m2(&job, &bar, &[way.setting(&job), longer.setting(&job)]), left_m2(&job, &bar, &[longer.setting(&job)]));
            // The bar's width at the end of the shorter way is all that the longer one need not take again.
            let widths = 4.0 * 0.045 * 0.452;
            prop_assert!(short <= long + EXACT_M2 && long - short < widths, "{short} {long}");
        }

        #[test]
        fn law_saying_it_twice_cuts_no_more(diameter in 200.0_f64..1400.0, way in a_way()) {
            let job = all_round(diameter, 75.0);
            let bar = bar(452.0, 45.0, 36.0);
            let one = way.setting(&job);
            let (once, twice) = (left_m2(&job, &bar, &[one]), left_m2(&job, &bar, &[one, one]));
            prop_assert!((once - twice).abs() < EXACT_M2, "{once} {twice}");
        }

        #[test]
        fn law_new_cuts_and_what_is_left_make_the_log(
            diameter in 200.0_f64..1400.0, ways in prop::collection::vec(a_way(), 1..5)
        ) {
            let job = all_round(diameter, 75.0);
            let bar = bar(452.0, 45.0, 36.0);
            let settings: Vec<_> = ways.iter().map(|way| way.setting(&job)).collect();
            let cut: f64 = new_cuts(&job, &bar, &settings).unwrap().iter().map(|new| area_of_m2(new)).sum();
            let whole = job.section().area().as_m2();
            let sum = cut + left_m2(&job, &bar, &settings);
            prop_assert!((sum - whole).abs() < 1e-7, "{sum} {whole}");
        }

    }

    proptest! {
        #![proptest_config(crate::few_cases::few_cases(64))]

        #[test]
        fn law_the_share_is_what_a_count_of_random_places_finds(
            width in 300.0_f64..1000.0, ratio in 0.6_f64..1.6,
            ways in prop::collection::vec(a_way(), 1..5), seed in 1_u64..u64::MAX
        ) {
            let mm = Length::from_mm;
            let round = all_round(300.0, 75.0);
            let section = LogSection::oval(mm(width), mm(width * ratio), mm(400.0)).unwrap();
            let job = LogJob::new(section, Stand::WalkRound).with_bark(round.bark().to_vec());
            let bar = bar(452.0, 45.0, 36.0);
            let settings: Vec<_> = ways.iter().map(|way| way.setting(&job)).collect();
            let exact = cover(&job, &bar, &settings).unwrap().covered_fraction;
            let (counted, tries) = count(&job, &bar, &settings, seed);
            // Five standard deviations of a count, and one place in a thousand for the corners of the share.
            let room = 5.0 * (exact * (1.0 - exact) / tries).sqrt() + 1e-3;
            prop_assert!((exact - counted).abs() < room, "{exact} {counted} ± {room}");
        }
    }

    /// Throws places at the section and asks of each, with plain trigonometry of its own, whether a setting takes it.
    fn count(job: &LogJob, bar: &CuttingBar, settings: &[Setting], seed: u64) -> (f64, f64) {
        let mut state = seed;
        let mut next = || {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            (state >> 11) as f64 / (1_u64 << 53) as f64
        };
        let (w, h) = (job.section().width().as_m(), job.section().height().as_m());
        let bark: Vec<Point> = (0..7200).map(|i| job.section().bark_at(f64::from(i) * PI / 3600.0)).collect();
        let slides: Vec<[Slid; 2]> = settings.iter().map(|s| Slid::both(job, &bark, s)).collect();
        let (mut tries, mut hits) = (0.0, 0.0);
        for _ in 0..8_000 {
            let place = Point::new((next() - 0.5) * w, (next() - 0.5) * h);
            if job.section().outside_m(place) > 0.0 {
                continue;
            }
            tries += 1.0;
            let by_slide = |slides: &[Slid; 2]| slides.iter().any(|slide| slide.takes(bar, place));
            if settings.iter().any(|s| swings_through(job, bar, s, place)) || slides.iter().any(by_slide) {
                hits += 1.0;
            }
        }
        (hits / tries, tries)
    }

    /// A slide as a list of small steps: the spikes stand back as far as the farthest bark passed so far.
    struct Slid {
        along: Vector,
        away: Vector,
        pivot: Point,
        way: f64,
        /// How far back the spikes are, every so far.
        back: Vec<f64>,
        step: f64,
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "slots of a list in a test")]
    impl Slid {
        fn both(job: &LogJob, bark: &[Point], s: &Setting) -> [Self; 2] {
            let straight_in = job.section().straight_in_rad(s.bark_rad);
            let sense = if s.to_rad > s.from_rad { 1.0 } else { -1.0 };
            let pivot = job.section().bark_at(s.bark_rad);
            let one = |swing: f64, sense: f64, way: f64| {
                let at = straight_in + swing;
                let along = Vector::new(at.cos(), at.sin());
                let away = sense * Vector::new(-at.sin(), at.cos());
                let count = 600;
                let step = way.max(1e-9) / f64::from(count);
                let mut back = vec![0.0_f64; 601];
                for place in bark {
                    let v = place - pivot;
                    let passed = (v.dot(&away) / step).ceil();
                    if passed >= 0.0 && passed <= f64::from(count) {
                        let slot = passed as usize;
                        back[slot] = back[slot].max(-v.dot(&along));
                    }
                }
                for i in 1..back.len() {
                    back[i] = back[i].max(back[i - 1]);
                }
                Self { along, away, pivot, way, back, step }
            };
            [one(s.from_rad, -sense, s.lay_on_m), one(s.to_rad, sense, s.run_off_m)]
        }

        fn takes(&self, bar: &CuttingBar, place: Point) -> bool {
            if self.way <= 0.0 {
                return false;
            }
            let v = place - self.pivot;
            let (way, along) = (v.dot(&self.away), v.dot(&self.along));
            if (0.0..=self.way).contains(&way) {
                let back = self.back[(way / self.step) as usize];
                return along >= -back - 0.01 && along <= bar.reach().as_m() - back;
            }
            // Off the way: the bar where it comes to stand.
            let back = self.back[self.back.len() - 1];
            in_bar(bar, along + back, way - self.way)
        }
    }

    /// Within the bar: its half width falls evenly from root to nose, round at both ends.
    fn in_bar(bar: &CuttingBar, along: f64, across: f64) -> bool {
        let (root, nose) = (bar.half_width().as_m(), bar.nose_radius().as_m());
        let length = bar.reach().as_m() - nose;
        (0..=400).any(|i| {
            let t = f64::from(i) / 400.0;
            (along - t * length).hypot(across) <= root + t * (nose - root)
        })
    }

    fn swings_through(job: &LogJob, bar: &CuttingBar, s: &Setting, place: Point) -> bool {
        let v = place - job.section().bark_at(s.bark_rad);
        let radius = v.norm();
        let straight_in = job.section().straight_in_rad(s.bark_rad);
        let angle = (v.y.atan2(v.x) - straight_in + PI).rem_euclid(2.0 * PI) - PI;
        let (low, high) = (s.from_rad.min(s.to_rad), s.from_rad.max(s.to_rad));
        if radius > bar.reach().as_m() {
            return false;
        }
        // Off the swing: within the bar's half width of the centreline at one of its ends, taper and nose included.
        let at_end = |end: f64| in_bar(bar, radius * (angle - end).cos(), radius * (angle - end).sin());
        (angle >= low && angle <= high) || at_end(low) || at_end(high)
    }
}
