//! Plans as laws: what every one of them must hold, whatever the log, the saw and the person.

use super::*;
use crate::file;
use crate::geometry::{Point, Vector};
use crate::log::order::above_level_rad;
use crate::log::relief_depth;
use crate::person::{Person, SawBody, Standing, Survey};
use crate::saw::solve;
use crate::section::Outline;
use crate::units::{Angle, Length};
use proptest::prelude::*;
use std::f64::consts::PI;

/// Hidden way of the nose is compared in steps of this, m.
const HIDDEN_STEP_M: f64 = 0.1;
/// What two ways of working the same place out may differ by, m: bark as a polygon of so many corners.
const BARK_M: f64 = 1e-5;
const BARK_CORNERS: u32 = 3600;

/// A log, a bar and the saw it is on.
#[derive(Clone, Debug)]
struct Case {
    job: LogJob,
    bar: CuttingBar,
    saw: SawBody,
}

impl Case {
    fn workplace(&self) -> Workplace {
        Workplace::new(&self.job, &self.saw)
    }

    fn plan(&self) -> Plan {
        plan(&self.job, &self.bar, &self.workplace())
    }

    fn with_job(&self, job: LogJob) -> Self {
        Self { job, ..self.clone() }
    }

    fn with_person(&self, person: Person) -> Self {
        self.with_job(self.job.clone().with_person(person))
    }

    fn hidden_m(&self, settings: &[Setting]) -> f64 {
        settings.iter().map(|s| nose(&self.job, &self.bar, &[], s).unwrap().hidden_travel_m).sum()
    }

    /// Hidden way in steps: what comes first in the order of preference.
    fn steps(&self, settings: &[Setting]) -> f64 {
        (self.hidden_m(settings) / HIDDEN_STEP_M).round()
    }
}

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

fn deg(value: f64) -> Angle {
    Angle::from_deg(value)
}

/// A setup of the demo yard before a log so many times as wide as its reach.
fn case(setup: usize, share: f64, oval: f64, clearance_mm: f64, stand: Stand) -> Case {
    let yard = file::demo().unwrap();
    let setup = &yard.setups()[setup % yard.setups().len()];
    let bar = cutting_bar(setup).unwrap();
    let width = bar.reach() * share;
    let section = LogSection::oval(width, width * oval, mm(clearance_mm)).unwrap();
    Case { job: LogJob::new(section, stand), bar, saw: saw_body(setup, &solve(setup)) }
}

fn bittern(reach_share: f64, clearance_mm: f64, stand: Stand) -> Case {
    let yard = file::demo().unwrap();
    let index = yard.setups().iter().position(|s| s.name() == "Bittern B18").unwrap();
    case(index, reach_share, 1.0, clearance_mm, stand)
}

fn a_stand() -> impl Strategy<Value = Stand> {
    prop_oneof![Just(Stand::OneSide), Just(Stand::BothSides), Just(Stand::WalkRound)]
}

fn a_tangle() -> impl Strategy<Value = Tangle> {
    prop_oneof![Just(Tangle::None), Just(Tangle::Far), Just(Tangle::Near)]
}

prop_compose! {
    fn a_person()(
        stature in 1500.0_f64..1950.0, men in any::<bool>(), kneels in any::<bool>(),
        slope in prop_oneof![Just(0.0), -10.0_f64..10.0]
    ) -> Person {
        let survey = if men { Survey::Men } else { Survey::Women };
        Person::new(mm(stature), survey).unwrap().with_kneeling(kneels).with_slope(deg(slope)).unwrap()
    }
}

prop_compose! {
    /// Three in four logs are round.
    fn a_case_from(stands: BoxedStrategy<Stand>)(
        setup in 0_usize..64, share in 0.15_f64..1.9, oval in 0.8_f64..1.25, is_oval in prop::bool::weighted(0.25),
        clearance in 0.0_f64..800.0, stand in stands, tangle in a_tangle(), person in a_person()
    ) -> Case {
        let case = case(setup, share, if is_oval { oval } else { 1.0 }, clearance, stand);
        case.with_job(case.job.clone().with_tangle(tangle).with_person(person))
    }
}

fn a_case() -> impl Strategy<Value = Case> {
    a_case_from(a_stand().boxed())
}

fn a_bind() -> impl Strategy<Value = Bind> {
    prop_oneof![3 => Just(Bind::None), 1 => Just(Bind::Top), 1 => Just(Bind::Bottom)]
}

/// Places of the spikes and directions of the bar through a setting, every degree and every 10 mm from each stretch's
/// beginning, worked out from the words of the model alone.
fn looks(job: &LogJob, s: &Setting) -> Vec<(Point, f64)> {
    let section = job.section();
    let pivot = section.bark_at(s.bark().as_rad());
    let straight_in = section.straight_in_rad(s.bark().as_rad());
    let upward = if s.side() == Side::Near { 1.0 } else { -1.0 };
    let sense = if s.rises() { upward } else { -upward };
    let bark: Vec<Point> = corners(section);
    let slide = |swing: f64, sense: f64, way: f64| -> Vec<(Point, f64)> {
        let direction = straight_in + swing;
        let along = Vector::new(direction.cos(), direction.sin());
        let away = sense * Vector::new(-direction.sin(), direction.cos());
        every(0.01, way)
            .into_iter()
            .map(|way| {
                // The spikes stand back as far as the farthest bark passed so far.
                let passed = bark.iter().map(|place| place - pivot);
                let passed = passed.filter(|v| (0.0..=way).contains(&v.dot(&away)));
                let back = passed.map(|v| -v.dot(&along)).fold(0.0, f64::max);
                (pivot + way * away - back * along, direction)
            })
            .collect()
    };
    let (from, to) = (s.from().as_rad(), s.to().as_rad());
    let mut looks = slide(from, -sense, s.lay_on().as_m());
    looks.reverse();
    let swing = every(1.0_f64.to_radians(), (to - from).abs());
    looks.extend(swing.into_iter().map(|turned| (pivot, straight_in + from + turned.copysign(to - from))));
    looks.extend(slide(to, sense, s.run_off().as_m()));
    looks
}

/// From 0 in steps, and the end.
fn every(step: f64, end: f64) -> Vec<f64> {
    let mut found = Vec::new();
    let mut at = 0.0;
    while at < end {
        found.push(at);
        at += step;
    }
    found.push(end);
    found
}

fn corners(section: &LogSection) -> Vec<Point> {
    let turn = |i: u32| 2.0 * PI * f64::from(i) / f64::from(BARK_CORNERS);
    (0..BARK_CORNERS).map(|i| section.bark_at(turn(i))).collect()
}

/// What a nose does that it must not, written out anew: out of the log on the operator's own side above ground, or more
/// than 20 mm deep in the ground.
fn nose_is_wrong(
    case: &Case,
    bark: &[Point],
    standing: &Standing,
    side: Side,
    at: (Point, f64),
) -> Option<String> {
    let (spikes, direction) = at;
    let along = Vector::new(direction.cos(), direction.sin());
    let (reach, radius) = (case.bar.reach().as_m(), case.bar.nose_radius().as_m());
    let (tip, centre) = (spikes + reach * along, spikes + (reach - radius) * along);
    let deep = standing.ground_m(centre.x) - (centre.y - radius);
    if deep > 0.02 + BARK_M {
        return Some(format!("{deep} m in the ground at {centre}"));
    }
    let own = if side == Side::Near { tip.x < 0.0 } else { tip.x > 0.0 };
    if !own || tip.y <= standing.ground_m(tip.x) {
        return None;
    }
    let towards = case.job.section().bark_at(tip.y.atan2(tip.x));
    let is_out = tip.coords.norm() > towards.coords.norm();
    let off = bark.iter().map(|place| (place - tip).norm()).fold(f64::INFINITY, f64::min);
    (is_out && off > radius + BARK_M).then(|| format!("out on the own side by {off} m at {tip}"))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn law_every_place_of_every_plan_can_be_taken(case in a_case(), bind in a_bind()) {
        let case = case.with_job(case.job.clone().with_bind(bind));
        let (workplace, plan) = (case.workplace(), case.plan());
        let bark = corners(case.job.section());
        for setting in &plan.settings {
            prop_assert!(workplace.can_do(&case.job, &case.bar, setting), "{setting:?}");
            prop_assert_eq!(workplace.trouble(&case.job, &case.bar, setting), None);
            let standing = workplace.standing(setting.side()).unwrap();
            for at in looks(&case.job, setting) {
                let stance = standing.look(at.0, at.1);
                prop_assert!(stance.is_ok(), "{:?} {} {} {:?}", stance, at.0, at.1, setting);
                let wrong = nose_is_wrong(&case, &bark, standing, setting.side(), at);
                prop_assert!(wrong.is_none(), "{:?} {setting:?}", wrong);
            }
        }
    }

    #[test]
    fn law_a_plan_says_what_it_leaves_and_has_no_empty_or_impossible_step(case in a_case(), bind in a_bind()) {
        let case = case.with_job(case.job.clone().with_bind(bind));
        let plan = case.plan();
        let again = cover(&case.job, &case.bar, &plan.settings).unwrap();
        prop_assert_eq!(plan.is_whole(), again.left_area_m2 <= 0.0 && again.covered_fraction >= 1.0);
        prop_assert_eq!(&again, &plan.cover);
        prop_assert!(plan.relief <= plan.settings.len());
        prop_assert!(bind != Bind::None || plan.relief == 0);
        for (index, setting) in plan.settings.iter().enumerate() {
            let earlier = &plan.settings[..index];
            let start = swing_start(&case.job, &case.bar, earlier, setting).unwrap();
            prop_assert!(start != SwingStart::Plunge, "{index} {plan:?}");
            let way: f64 =
                nose(&case.job, &case.bar, earlier, setting).unwrap().phases.iter().map(|phase| phase.way_m).sum();
            prop_assert!(way >= 0.004, "{index} {way} {plan:?}");
            let cuts: f64 = new_cuts(&case.job, &case.bar, &plan.settings[..=index]).unwrap()[index]
                .iter()
                .map(Outline::area_m2)
                .sum();
            prop_assert!(cuts > 0.0, "{index} cuts nothing {plan:?}");
        }
    }
}

#[test]
fn a_bar_that_can_only_stand_still_is_no_setting() {
    // A pole thinner than the bar is wide, 20 mm off the ground: where it can be held at all, a fifth of a degree is all
    // that can be swung.
    let section = LogSection::oval(mm(45.359_263), mm(47.072_455), mm(20.165_636)).unwrap();
    for setup in 0..8 {
        for stature in [1500.0, 1700.0, 1950.0] {
            for kneels in [false, true] {
                let person = Person::new(mm(stature), Survey::Women).unwrap().with_kneeling(kneels);
                let case = case(setup, 0.5, 1.0, 0.0, Stand::OneSide);
                let case = case.with_job(case.job.with_section(section.clone()).with_person(person));
                for setting in case.plan().settings {
                    let way = nose(&case.job, &case.bar, &[], &setting).unwrap().phases;
                    assert!(way.iter().map(|phase| phase.way_m).sum::<f64>() > 0.004, "{setting:?}");
                }
            }
        }
    }
}

/// The same log, saw and person seen in a mirror.
fn mirrored(case: &Case) -> Case {
    let arc = |arc: &BarkArc| {
        let side = if arc.side() == Side::Near { Side::Far } else { Side::Near };
        BarkArc::new(Angle::from_rad(PI - arc.to_rad()), Angle::from_rad(PI - arc.from_rad()), side).unwrap()
    };
    let person = *case.job.person();
    let person = person.with_slope(Angle::from_rad(-person.slope().as_rad())).unwrap();
    let tangle = match case.job.tangle() {
        Tangle::None => Tangle::None,
        Tangle::Far => Tangle::Near,
        Tangle::Near => Tangle::Far,
    };
    let bark = case.job.bark().iter().map(arc).collect();
    case.with_job(case.job.clone().with_bark(bark).with_person(person).with_tangle(tangle))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn law_a_mirrored_log_has_a_mirrored_plan(
        case in a_case_from(Just(Stand::OneSide).boxed()), bind in a_bind()
    ) {
        let case = case.with_job(case.job.clone().with_bind(bind));
        let mirror = mirrored(&case);
        let (plan, image) = (case.plan(), mirror.plan());
        prop_assert_eq!(plan.settings.len(), image.settings.len(), "{:?} {:?}", plan, image);
        let (hidden, hidden_image) = (case.hidden_m(&plan.settings), mirror.hidden_m(&image.settings));
        // What a first trim leaves is gone round the other way in the mirror, and the next trim may ask for other places
        // of it, of an oval or of a log cut in two parts: the same plan, its ends some millimetres or degrees apart. Plans
        // are not compared closer.
        let is_plain = bind == Bind::None && case.job.section().round_diameter().is_some();
        let most = if is_plain { 1e-6 } else { 0.5 * HIDDEN_STEP_M };
        prop_assert!((hidden - hidden_image).abs() < most, "{hidden} {hidden_image} {plan:?} {image:?}");
        let (left, left_image) = (plan.cover.left_area_m2, image.cover.left_area_m2);
        prop_assert!((left - left_image).abs() < 1e-8, "{left} {left_image} {plan:?} {image:?}");
        for (setting, image) in plan.settings.iter().zip(&image.settings) {
            let is_image = setting.rises() == image.rises() && setting.side() != image.side();
            prop_assert!(is_image, "{plan:?} {image:?}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn law_wider_limits_never_make_a_whole_plan_less_than_whole(
        case in a_case(), a in 45.0_f64..90.0, b in 45.0_f64..90.0
    ) {
        let within = |limit: f64| {
            let limits = SwingLimits::new(deg(limit), deg(limit)).unwrap();
            case.with_job(case.job.clone().with_swing(limits)).plan()
        };
        let (tight, wide) = (within(a.min(b)), within(a.max(b)));
        prop_assert!(wide.is_whole() || !tight.is_whole(), "{tight:?} {wide:?}");
    }

    #[test]
    fn law_a_taller_person_cuts_whole_on_high_bark_what_a_shorter_one_does(
        case in a_case(), clearance in 800.0_f64..1200.0, more in 10.0_f64..250.0
    ) {
        let section = case.job.section();
        let high = LogSection::oval(section.width(), section.height(), mm(clearance)).unwrap();
        let case = case.with_job(case.job.with_section(high));
        let short = *case.job.person();
        let tall = Person::new(short.stature() + mm(more), short.survey()).unwrap();
        let tall = tall.with_kneeling(short.can_kneel()).with_slope(short.slope()).unwrap();
        let (short, tall) = (case.plan(), case.with_person(tall).plan());
        prop_assert!(tall.is_whole() || !short.is_whole(), "{short:?} {tall:?}");
    }

    #[test]
    fn law_what_is_pressed_together_is_relieved_from_there_and_finished_from_the_other_side(
        case in a_case(), is_top in any::<bool>()
    ) {
        // Common practice, no source: relief first on the pressed side, then through from the pulled one.
        let bind = if is_top { Bind::Top } else { Bind::Bottom };
        let case = case.with_job(case.job.clone().with_bind(bind));
        let plan = case.plan();
        let (section, reach) = (case.job.section(), case.bar.reach().as_m());
        // A third and the bar's whole width may be all there is of a log thinner than three widths.
        let is_thick = section.height() > case.bar.half_width() * 6.0;
        // Half the bar's width is all that a log thinner than three of its halves gives to a relief.
        let is_thin = section.height() < case.bar.half_width() * 3.0;
        prop_assert!(!plan.is_whole() || plan.relief > 0 || is_thin, "{plan:?}");
        prop_assert!(!plan.is_whole() || !is_thick || plan.relief < plan.settings.len(), "{plan:?}");
        for (index, setting) in plan.settings.iter().enumerate() {
            let relieves = index < plan.relief;
            prop_assert!(setting.rises() == (relieves != is_top), "{index} {plan:?}");
            // A third of the height, and half the bar's width and its nose: no wood along either edge lies deeper.
            let nose = case.bar.nose_radius().as_m();
            let most = section.height().as_m() / 3.0 + case.bar.half_width().as_m() + nose;
            for (spikes, direction) in looks(&case.job, setting).into_iter().filter(|_| relieves) {
                for i in 0..=101 {
                    let along = Vector::new(direction.cos(), direction.sin());
                    let edge = Vector::new(-along.y, along.x) * if i % 2 == 0 { nose } else { -nose };
                    let place = spikes + edge + f64::from(i / 2) / 50.0 * reach * along;
                    let in_wood = place.coords.norm() < section.bark_at(place.y.atan2(place.x)).coords.norm();
                    let deep = section.top_y_m() + if is_top { -place.y } else { place.y };
                    prop_assert!(!in_wood || deep < most + 2e-3, "{index} {deep} {most} {plan:?}");
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    #[test]
    fn law_what_is_said_to_help_does(case in a_case(), bind in a_bind()) {
        let case = case.with_job(case.job.clone().with_bind(bind));
        let found = case.plan();
        let help = help(&case.job, &case.bar, &case.saw, &found.settings);
        prop_assert!(!found.is_whole() || help.is_none());
        let section = case.job.section();
        if help.other_side {
            prop_assert!(case.with_job(case.job.from_stand(Stand::BothSides)).plan().is_whole());
            prop_assert!(case.job.stand() == Stand::OneSide);
        }
        if let Some(clearance) = help.raise_to {
            prop_assert!(clearance > section.clearance());
            let raised = LogSection::oval(section.width(), section.height(), clearance).unwrap();
            prop_assert!(case.with_job(case.job.with_section(raised)).plan().is_whole());
        }
        if help.kneel {
            prop_assert!(!case.job.person().can_kneel());
            prop_assert!(case.with_person(case.job.person().with_kneeling(true)).plan().is_whole());
        }
        if let Some(reach) = help.longer_reach {
            prop_assert!(reach > case.bar.reach());
            let longer = Case { bar: case.bar.with_reach(reach).unwrap(), ..case.clone() };
            prop_assert!(longer.plan().is_whole());
        }
        if help.roll {
            // Every place the cut leaves lies, half a turn on, where the same cut takes it.
            prop_assert!(case.job.bind() == Bind::None);
            let left = &found.cover.left;
            for edge in left.iter().flat_map(Outline::edges) {
                let turned = -edge.point_at(0.5);
                let inside = left.iter().any(|outline| winds_round(outline, turned));
                prop_assert!(!inside, "{turned} is left twice");
            }
        }
    }
}

/// True where an outline, as a polygon of pieces of its edges, goes round a place.
fn winds_round(outline: &Outline, place: Point) -> bool {
    let pieces =
        |edge: &Edge| -> Vec<Point> { (0..16).map(|i| edge.point_at(f64::from(i) / 16.0)).collect() };
    let corners: Vec<Point> = outline.edges().iter().flat_map(pieces).collect();
    let turn: f64 = corners
        .iter()
        .zip(corners.iter().cycle().skip(1))
        .map(|(a, b)| {
            let (a, b) = (a - place, b - place);
            a.perp(&b).atan2(a.dot(&b))
        })
        .sum();
    turn > PI
}

/// Hidden steps of the level sink that hides the nose least, every 5° of bark, of those that can be held and take all.
fn level_sink(case: &Case) -> Option<f64> {
    let workplace = case.workplace();
    let half = case.job.section().height() * 0.5;
    let mut least: Option<f64> = None;
    for arc in case.job.bark() {
        for place in (-360..=360).step_by(5).map(|place| deg(f64::from(place))) {
            let level = if arc.side() == Side::Near { 0.0 } else { PI };
            let held = level - case.job.section().straight_in_rad(place.as_rad());
            let held = Angle::from_rad((held + PI).rem_euclid(2.0 * PI) - PI);
            let y = case.job.section().bark_at(place.as_rad()).y;
            let ways = (half - Length::from_m(y), half + Length::from_m(y));
            let Ok(sink) = Setting::sink(&case.job, place, arc.side(), held, ways, false) else { continue };
            let whole = cover(&case.job, &case.bar, &[sink]).unwrap().left_area_m2 <= 0.0;
            if whole && workplace.can_do(&case.job, &case.bar, &sink) {
                let steps = case.steps(&[sink]);
                least = Some(least.map_or(steps, |least| least.min(steps)));
            }
        }
    }
    least
}

#[test]
fn a_log_thinner_than_the_reach_is_one_setting_and_a_sink_unless_that_hides_the_nose_more() {
    for setup in 0..8 {
        for share in [0.2, 0.5, 0.8, 0.97] {
            for tangle in [Tangle::None, Tangle::Far] {
                let case = case(setup, share, 1.0, 400.0, Stand::OneSide);
                let case = case.with_job(case.job.clone().with_tangle(tangle));
                let plan = case.plan();
                assert!(plan.is_whole() && plan.settings.len() == 1 && plan.proven_fewest, "{plan:?}");
                let is_sink = plan.settings[0].kind() == Kind::Sink;
                let steps = case.steps(&plan.settings);
                assert!(
                    is_sink || level_sink(&case).is_none_or(|sink| sink > steps),
                    "{setup} {share} {steps} {:?} {plan:?}",
                    level_sink(&case)
                );
            }
        }
    }
}

#[test]
fn the_relief_is_about_a_third_wherever_the_bar_can_stop_there() {
    // Common practice, no source. Every setup of the yard before logs of 0.3 to 1.3 of its reach.
    let yard = file::demo().unwrap();
    let (mut whole, mut unbound, mut shares) = (0, 0, Vec::new());
    for setup in yard.setups() {
        let bar = crate::log::cutting_bar(setup).unwrap();
        let case = |share: f64, bind| {
            let section = LogSection::round(bar.reach() * share, mm(400.0)).unwrap();
            let job = LogJob::new(section, Stand::BothSides).with_bind(bind);
            Case { job, bar, saw: crate::log::saw_body(setup, &solve(setup)) }
        };
        for share in [0.3, 0.5, 0.7, 0.9, 1.1, 1.3] {
            unbound += 2 * usize::from(case(share, Bind::None).plan().is_whole());
            for bind in [Bind::Top, Bind::Bottom] {
                let case = case(share, bind);
                let plan = case.plan();
                if !plan.is_whole() {
                    continue;
                }
                whole += 1;
                if plan.relief == 0 {
                    assert!(case.job.section().height() < bar.half_width() * 3.0, "{case:?}");
                    continue;
                }
                let depth = relief_depth(&case.job, &bar, &plan.settings[..plan.relief]).unwrap();
                let height = case.job.section().height();
                // The same by places all over the section.
                let taken = crate::log::cover::all_taken(&case.job, &bar, &plan.settings[..plan.relief]);
                let r = 0.5 * height.as_m();
                let grid =
                    |steps: u32| (0..=steps).map(move |i| r * (2.0 * f64::from(i) / f64::from(steps) - 1.0));
                let deepest = grid(40)
                    .flat_map(|x| grid(200).map(move |y| Point::new(x, y)))
                    .filter(|at| at.coords.norm() < r && taken.iter().any(|taken| taken.outside_m(*at) < 0.0))
                    .map(|at| r - if bind == Bind::Top { at.y } else { -at.y })
                    .fold(0.0, f64::max);
                assert!(
                    (depth.as_m() - deepest).abs() < 0.005 + 0.02 * r,
                    "{depth:?} {deepest} {r} {:?}",
                    &plan.settings[..plan.relief]
                );
                // A bar that is set with its middle on the bark takes half its width at least.
                if height > bar.half_width() * 6.0 {
                    shares.push(depth.as_m() / height.as_m());
                }
            }
        }
    }
    shares.sort_by(f64::total_cmp);
    let (middle, most) = (shares[shares.len() / 2], shares[shares.len() - 1]);
    println!("relief of {} cuts: half at most {middle:.3} of the height, all {most:.3}", shares.len());
    assert!(shares[0] > 0.32, "{}", shares[0]);
    assert!(middle < 0.38, "{middle}");
    assert!(most < 0.45, "{most}");
    assert!(whole * 20 > unbound * 19, "{whole} of {unbound}");
}

#[test]
fn a_log_of_1_2_times_the_reach_comes_apart_from_one_side_over_the_top_and_then_down_the_near_side() {
    // Common practice, no source: set high, cut the far side, pull back, set nearer, let it run down the near side.
    let case = bittern(1.2, 400.0, Stand::OneSide);
    let plan = case.plan();
    assert!(plan.is_whole() && plan.settings.len() == 2, "{plan:?}");
    let above: Vec<_> = plan.settings.iter().map(|set| above_level_rad(set).to_degrees()).collect();
    assert!(above[0] > 35.0 && above[1] < 35.0, "{above:?} {plan:?}");
    assert!(!plan.settings[1].rises(), "{plan:?}");
}

#[test]
fn nothing_can_be_done_by_nobody_tall_enough_and_the_plan_says_so() {
    let case = bittern(0.8, 2500.0, Stand::BothSides);
    let plan = case.plan();
    assert!(plan.settings.is_empty() && !plan.is_whole(), "{plan:?}");
    assert!(plan.cover.covered_fraction.abs() < 1e-12);
    // Lower is no help that is looked for, and a longer bar is none.
    let help = help(&case.job, &case.bar, &case.saw, &plan.settings);
    assert!(help.is_none(), "{help:?}");
}

#[test]
fn the_biggest_log_for_a_person_is_whole_and_no_log_40_mm_up_from_it_is() {
    for (stand, clearance) in [(Stand::OneSide, 400.0), (Stand::BothSides, 150.0)] {
        let case = bittern(1.0, clearance, stand);
        let of = |held: crate::log::BiggestHeld| match stand {
            Stand::OneSide => held.one_side.unwrap(),
            _ => held.both_sides.unwrap(),
        };
        let held = of(crate::log::biggest_held(&case.job, &case.bar, &case.saw));
        let of_width = |width: Length| {
            let section = LogSection::round(width, mm(clearance)).unwrap();
            case.with_job(case.job.from_stand(stand).with_section(section)).plan()
        };
        assert!(of_width(held).is_whole(), "{held:?}");
        let by_reach = crate::log::biggest_log(&case.job, &case.bar).unwrap();
        assert!(held <= by_reach, "{held:?} {by_reach:?}");
        if by_reach - held > mm(5.0) {
            assert!(!of_width(held + mm(5.0)).is_whole(), "{held:?}");
            let mut more = held + mm(45.0);
            while more < by_reach {
                assert!(!of_width(more).is_whole(), "{held:?}, and {more:?} too");
                more = more + mm(40.0);
            }
        }
    }
}
