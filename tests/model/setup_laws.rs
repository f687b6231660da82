//! What must hold of whole setups, made-up bars, inverse answers and emptying tanks, whatever the figures are.

use barpoise_checks::bench_yard::{self, RACK, checked, rack_file};
use barpoise_checks::{Within, assert_close};
use barpoise_core::units::{Angle, Force, Length, Mass};
use barpoise_core::{
    BarFamily, Links, Longest, OIL_PER_FUEL, Setup, SetupError, Solved, Yard, drain_down, longest_within,
    solve,
};
use proptest::prelude::*;
use std::sync::Arc;

/// A made-up bar goes a few roundings round about to the same dimensions; figures follow to some 1e-13 of
/// themselves, the small differences among them (hang, rear hand) to a few digits less.
const SAME_BAR: f64 = 1e-9;

fn named<'a>(yard: &'a Yard, name: &str) -> &'a Setup {
    match yard.setup(name) {
        Some(setup) => setup,
        None => unreachable!("no setup {name}"),
    }
}

fn family() -> BarFamily {
    let yard = checked(rack_file());
    BarFamily::new(named(&yard, "20"), yard.bars())
}

fn made_up(family: &BarFamily, overall_mm: f64) -> Solved {
    match family.at(Length::from_mm(overall_mm)) {
        Ok(setup) => solve(&setup),
        Err(error) => unreachable!("{overall_mm} mm: {error}"),
    }
}

/// Every figure that a setup has, in SI.
fn figures(solved: &Solved) -> Vec<(&'static str, f64)> {
    let hang = solved.hang.map_or(f64::NAN, Angle::as_rad);
    let held = |pitch_deg| {
        let hands = solved.hands_at(Angle::from_deg(pitch_deg));
        hands.map_or((f64::NAN, f64::NAN), |hands| (hands.front.as_n(), hands.rear.as_n()))
    };
    let level = solved.hands.map_or((f64::NAN, f64::NAN), |hands| (hands.front.as_n(), hands.rear.as_n()));
    let (nose_up, nose_down) = (held(20.0), held(-20.0));
    let masses = &solved.masses;
    vec![
        ("powerhead, kg", masses.powerhead.as_kg()),
        ("bar, kg", masses.bar.as_kg()),
        ("chain, kg", masses.chain.as_kg()),
        ("fuel, kg", masses.fuel.as_kg()),
        ("oil, kg", masses.oil.as_kg()),
        ("fluids, kg", masses.fluids().as_kg()),
        ("extras, kg", masses.extras.as_kg()),
        ("ready, kg", solved.ready_mass().as_kg()),
        ("weight, N", solved.weight().as_n()),
        ("centroid x, m", solved.saw.centroid.x),
        ("centroid y, m", solved.saw.centroid.y),
        ("inertia, kg·m²", solved.saw.inertia_kg_m2),
        ("hang, rad", hang),
        ("front hand level, N", level.0),
        ("rear hand level, N", level.1),
        ("front hand nose up, N", nose_up.0),
        ("rear hand nose up, N", nose_up.1),
        ("front hand nose down, N", nose_down.0),
        ("rear hand nose down, N", nose_down.1),
        ("front-hand ratio", solved.front_hand_ratio().unwrap_or(f64::NAN)),
        ("nose moment, N·m", solved.nose_moment.as_n_m()),
        ("swing inertia, kg·m²", solved.swing_inertia.as_kg_m2()),
        ("loop, m", solved.loop_length.as_m()),
        ("centre distance, m", solved.centre_distance.as_m()),
        ("links", solved.links.exact()),
        ("tensioner out, m", solved.tensioner_out.as_m()),
        ("nose x, m", solved.nose.centre.x),
        ("nose y, m", solved.nose.centre.y),
        ("nose radius, m", solved.nose.radius.as_m()),
        ("reach, m", solved.reach.as_m()),
        ("chain speed, m/s", solved.chain_speed.as_m_s()),
        ("pull-in, N", solved.pull_in.map_or(f64::NAN, Force::as_n)),
        ("chain energy, J", solved.chain_energy_j),
    ]
}

fn assert_same_figures(what: &str, ours: &Solved, direct: &Solved) {
    for ((name, ours), (_, direct)) in figures(ours).into_iter().zip(figures(direct)) {
        assert_close(format_args!("{what}: {name}"), ours, direct, Within::Relative(SAME_BAR));
    }
}

#[test]
fn law_at_a_rack_bars_length_the_made_up_bar_is_that_bar() {
    let yard = checked(rack_file());
    for like in RACK {
        let family = BarFamily::new(named(&yard, like), yard.bars());
        for name in RACK {
            let rack = named(&yard, name);
            let made = family.at(rack.bar().overall_length()).unwrap();
            assert_same_figures(&format!("{name} from {like}"), &solve(&made), &solve(rack));
            assert_eq!(made.links().order(), rack.links().order(), "{name} from {like}: loop to order");
        }
    }
}

#[test]
fn law_a_setup_keeps_the_loop_it_was_given() {
    // One link more than stamped, the tensioner further out: the family goes through it all the same.
    let mut file = rack_file();
    let setup = file.setups.iter_mut().find(|setup| setup.bar == "20").unwrap();
    setup.drive_links = Some(73);
    let yard = checked(file);
    let rack = named(&yard, "20");
    assert_eq!(rack.links(), Links::Whole(73));
    let family = BarFamily::new(rack, yard.bars());
    let made = family.at(rack.bar().overall_length()).unwrap();
    assert_same_figures("one link more", &solve(&made), &solve(rack));
}

#[test]
fn a_family_is_one_mount_and_one_construction_by_length() {
    let family = family();
    let names: Vec<_> = family.bars().map(|bar| bar.name().to_owned()).collect();
    assert_eq!(names, RACK);
    let yard = checked(rack_file());
    let laminated = BarFamily::new(named(&yard, "laminated"), yard.bars());
    let names: Vec<_> = laminated.bars().map(|bar| bar.name().to_owned()).collect();
    assert_eq!(names, ["laminated"]);
}

#[test]
fn law_no_figure_jumps_along_the_made_up_length() {
    /// Steps of a tenth of a millimetre; a jump of any size would show against the slope.
    const PER_MM: u32 = 10;
    /// The most that each figure moves for a millimetre. A millimetre of the heaviest plate here and its chain is
    /// 4 g, twice that where the bars also grow wider from one to the next; the others follow from it at arms of
    /// up to 1.2 m. The nose moves with the length, but for a few hundredths where tensioners and noses differ.
    const MOST_PER_MM: [(&str, f64); 9] = [
        ("ready, kg", 0.008),
        ("centroid x, m", 0.000_6),
        ("inertia, kg·m²", 0.008),
        ("hang, rad", 0.003),
        ("front hand level, N", 0.3),
        ("swing inertia, kg·m²", 0.009),
        ("links", 0.115),
        ("reach, m", 0.001_1),
        ("nose x, m", 0.001_1),
    ];
    // One bar off the scale among bars that were not weighed: what the scale says fades in and out.
    let mut partly_weighed = rack_file();
    partly_weighed.bars[0].weighed_mass_kg = Some(1.7);
    for yard in [checked(rack_file()), checked(partly_weighed)] {
        let family = BarFamily::new(named(&yard, "20"), yard.bars());
        let (shortest, longest) = BarFamily::span();
        let mut before: Option<Vec<(&str, f64)>> = None;
        let mut overall_mm = shortest.as_mm();
        while overall_mm <= longest.as_mm() {
            let now = figures(&made_up(&family, overall_mm));
            if let Some(before) = &before {
                for (name, most) in MOST_PER_MM {
                    let value = |all: &[(&str, f64)]| all.iter().find(|(other, _)| *other == name).unwrap().1;
                    let moved = value(&now) - value(before);
                    assert!(
                        moved.abs() <= most / f64::from(PER_MM),
                        "{name} moves by {moved} just before {overall_mm} mm"
                    );
                }
            }
            before = Some(now);
            overall_mm += 1.0 / f64::from(PER_MM);
        }
    }
}

proptest! {
    #[test]
    fn law_a_longer_bar_weighs_more_and_reaches_further(short_mm in 200.0..1099.0_f64, more_mm in 0.01..900.0_f64) {
        let long_mm = (short_mm + more_mm).min(1100.0);
        let family = family();
        let (short, long) = (made_up(&family, short_mm), made_up(&family, long_mm));
        prop_assert!(long.ready_mass() > short.ready_mass(), "{long_mm} mm is lighter than {short_mm} mm");
        prop_assert!(long.masses.chain > short.masses.chain);
        prop_assert!(long.reach > short.reach);
        prop_assert!(long.swing_inertia > short.swing_inertia);
    }

    #[test]
    fn law_the_length_for_a_nose_tip_puts_it_there(overall_mm in 200.0..1100.0_f64) {
        let family = family();
        let tip = made_up(&family, overall_mm).nose.tip_x();
        let back = family.overall_with_tip_at(tip).as_mm();
        // A nanometre, as the core states it.
        assert_close("overall, mm", back, overall_mm, Within::Absolute(1e-6));
    }

    #[test]
    fn law_an_inverse_answer_is_the_last_bar_within_the_limit(limit in limit()) {
        assert_last_within(limit);
    }
}

/// A figure and the most that is wanted of it.
#[derive(Clone, Copy, Debug)]
enum Limit {
    Hang(Angle),
    FrontHand(Force),
    ReadyMass(Mass),
}

impl Limit {
    fn holds(self, solved: &Solved) -> bool {
        match self {
            Self::Hang(limit) => solved.hangs_within(limit),
            Self::FrontHand(limit) => solved.hands.is_ok_and(|hands| hands.front <= limit),
            Self::ReadyMass(limit) => solved.ready_mass() <= limit,
        }
    }
}

fn limit() -> impl Strategy<Value = Limit> {
    prop_oneof![
        (-10.0..50.0_f64).prop_map(|deg| Limit::Hang(Angle::from_deg(deg))),
        (70.0..150.0_f64).prop_map(|n| Limit::FrontHand(Force::from_n(n))),
        (7.0..11.0_f64).prop_map(|kg| Limit::ReadyMass(Mass::from_kg(kg))),
    ]
}

/// The answer holds where it stands and no longer a tenth of a millimetre beyond, by the forward model; and so do
/// the rack's bars on either side, each solved as its own setup.
fn assert_last_within(limit: Limit) {
    const BEYOND_MM: f64 = 0.1;
    let yard = checked(rack_file());
    let family = BarFamily::new(named(&yard, "20"), yard.bars());
    let (shortest, longest) = BarFamily::span();
    let holds_at = |overall_mm| limit.holds(&made_up(&family, overall_mm));
    let answer = longest_within(&family, |solved| limit.holds(solved));
    let last_mm = match answer.longest {
        Longest::Any => {
            assert!(holds_at(longest.as_mm()), "{limit:?} does not hold everywhere");
            f64::INFINITY
        }
        Longest::None => {
            let mut overall_mm = shortest.as_mm();
            while overall_mm <= longest.as_mm() {
                assert!(!holds_at(overall_mm), "{limit:?} holds at {overall_mm} mm after all");
                overall_mm += 5.0;
            }
            f64::NEG_INFINITY
        }
        Longest::Length(length) => {
            let last_mm = length.as_mm();
            // The answer itself: through millimetres and back it can come out a last digit longer.
            let own = family.at(length).map(|setup| solve(&setup));
            assert!(
                own.is_ok_and(|own| limit.holds(&own)),
                "{limit:?} does not hold at its own answer, {last_mm} mm"
            );
            assert!(!holds_at(last_mm + BEYOND_MM), "{limit:?} still holds beyond its answer, {last_mm} mm");
            last_mm
        }
    };
    let mut within: Vec<&Setup> = RACK.iter().map(|name| named(&yard, name)).collect();
    let beyond =
        within.split_off(within.partition_point(|bar| bar.bar().overall_length().as_mm() <= last_mm));
    let names = |bar: Option<&Arc<barpoise_core::Bar>>| bar.map(|bar| bar.name().to_owned());
    assert_eq!(names(answer.rack_within.as_ref()), names(within.last().map(|setup| setup.bar())));
    assert_eq!(names(answer.rack_beyond.as_ref()), names(beyond.first().map(|setup| setup.bar())));
    for setup in within {
        assert!(limit.holds(&solve(setup)), "{limit:?} fails on the rack's {}", setup.name());
    }
    for setup in beyond {
        assert!(!limit.holds(&solve(setup)), "{limit:?} holds on the rack's {}", setup.name());
    }
}

#[test]
fn a_limit_that_a_rack_bar_just_meets_counts_that_bar_in() {
    let yard = checked(rack_file());
    for (name, next) in [("16", Some("20")), ("20", Some("24")), ("28", None)] {
        let solved = solve(named(&yard, name));
        let family = BarFamily::new(named(&yard, "24"), yard.bars());
        for limit in [
            Limit::Hang(solved.hang.unwrap()),
            Limit::FrontHand(solved.hands.unwrap().front),
            Limit::ReadyMass(solved.ready_mass()),
        ] {
            let answer = longest_within(&family, |solved| limit.holds(solved));
            let names = |bar: &Option<Arc<barpoise_core::Bar>>| bar.as_ref().map(|bar| bar.name().to_owned());
            assert_eq!(names(&answer.rack_within).as_deref(), Some(name), "{limit:?}");
            assert_eq!(names(&answer.rack_beyond).as_deref(), next, "{limit:?}");
        }
    }
}

#[test]
fn answers_at_the_ends_say_so() {
    let family = family();
    assert_eq!(
        longest_within(&family, |solved| solved.ready_mass() <= Mass::from_kg(100.0)).longest,
        Longest::Any
    );
    let nothing = longest_within(&family, |solved| solved.ready_mass() <= Mass::from_kg(1.0));
    assert_eq!(nothing.longest, Longest::None);
    assert!(nothing.rack_within.is_none());
    assert_eq!(nothing.rack_beyond.unwrap().name(), "16");
}

#[test]
fn rack_bars_beyond_the_made_up_span_answer_for_themselves() {
    let mut file = rack_file();
    let long = bench_yard::bar("48", 48.0, 148, 6.0);
    file.setups.push(bench_yard::setup(&long.name));
    file.bars.push(long);
    for setup in &mut file.setups {
        (setup.fuel_fill, setup.oil_fill) = (1.0, 1.0);
    }
    let yard = checked(file);
    let (_, longest) = BarFamily::span();
    let own = named(&yard, "48");
    assert!(own.bar().overall_length() > longest);
    let own_kg = solve(own).ready_mass().as_kg();
    for like in ["20", "48"] {
        let family = BarFamily::new(named(&yard, like), yard.bars());
        let end_kg = made_up(&family, longest.as_mm()).ready_mass().as_kg();
        // Every bar that can be made up is within; the rack's longest is not.
        let between = Mass::from_kg(0.5 * (end_kg + own_kg));
        let answer = longest_within(&family, |solved| solved.ready_mass() <= between);
        assert_eq!(answer.longest, Longest::Any);
        assert_eq!(answer.rack_within.unwrap().name(), "28", "from {like}");
        assert_eq!(answer.rack_beyond.unwrap().name(), "48", "from {like}");
        // Now it is.
        let all = longest_within(&family, |solved| solved.ready_mass().as_kg() <= own_kg);
        assert_eq!(all.rack_within.unwrap().name(), "48", "from {like}");
        assert!(all.rack_beyond.is_none(), "from {like}");
    }
}

#[test]
fn law_emptying_tanks_end_empty_and_every_point_is_its_own_setup() {
    const STEPS: u32 = 16;
    let yard = checked(rack_file());
    let setup = named(&yard, "24");
    let head = setup.powerhead();
    // More oil for each fuel than the tanks hold: both are empty at the end.
    let dry = 2.0 * head.oil_tank().capacity().as_l() / head.fuel_tank().capacity().as_l();
    for ratio in [0.0, OIL_PER_FUEL, dry] {
        let path = drain_down(setup, ratio, STEPS).unwrap();
        assert_eq!(path.len(), STEPS as usize + 1);
        assert_same_figures("full", &path[0].solved, &solve(setup));
        for point in &path {
            let mut file = rack_file();
            for other in &mut file.setups {
                (other.fuel_fill, other.oil_fill) = (point.fuel_fill, point.oil_fill);
            }
            let direct = checked(file);
            assert_same_figures("draining", &point.solved, &solve(named(&direct, "24")));
            let fuel_used = (setup.fuel_fill() - point.fuel_fill) * head.fuel_tank().capacity().as_l();
            let oil_used = (setup.oil_fill() - point.oil_fill) * head.oil_tank().capacity().as_l();
            let oil_there = setup.oil_fill() * head.oil_tank().capacity().as_l();
            assert_close(
                "oil used, L",
                oil_used,
                (ratio * fuel_used).min(oil_there),
                Within::Absolute(1e-12),
            );
        }
        for pair in path.windows(2) {
            assert!(pair[1].solved.ready_mass() < pair[0].solved.ready_mass());
            // On this head fuel lies far behind the grip and oil close to it.
            assert!(pair[1].solved.hang.unwrap() > pair[0].solved.hang.unwrap());
        }
        let end = path.last().unwrap();
        assert_close("fuel at the end", end.fuel_fill, 0.0, Within::Absolute(0.0));
        let oil_left = 0.8 - ratio * 0.9 * 0.8 / 0.4;
        assert_close("oil at the end", end.oil_fill, oil_left.max(0.0), Within::Absolute(1e-12));
    }
    let end = drain_down(setup, dry, STEPS).unwrap().pop().unwrap().solved;
    let bare = end.masses.powerhead + end.masses.bar + end.masses.chain;
    assert_close("empty, kg", end.ready_mass().as_kg(), bare.as_kg(), Within::Relative(1e-13));
}

#[test]
fn a_draining_without_a_ratio_is_an_error() {
    let yard = checked(rack_file());
    for ratio in [f64::NAN, f64::INFINITY] {
        let refused = drain_down(named(&yard, "20"), ratio, 4);
        assert!(
            matches!(refused, Err(SetupError::Fill { tank: "oil", .. })),
            "a ratio of {ratio} gave {refused:?}"
        );
    }
}

#[test]
fn law_a_weighed_mass_wins_over_the_geometry() {
    const WEIGHED_KG: f64 = 1.37;
    let drawn_yard = checked(rack_file());
    let mut file = rack_file();
    file.bars.iter_mut().find(|bar| bar.name == "20").unwrap().weighed_mass_kg = Some(WEIGHED_KG);
    let weighed_yard = checked(file);
    let (drawn, weighed) = (named(&drawn_yard, "20"), named(&weighed_yard, "20"));
    let (drawn_kg, weighed_kg) = (drawn.bar().mass().as_kg(), weighed.bar().mass().as_kg());
    assert_close("off the scale, kg", weighed_kg, WEIGHED_KG, Within::Relative(1e-15));
    assert!((drawn_kg - WEIGHED_KG).abs() > 0.05, "the scale must tell something new");
    let (drawn_part, weighed_part) =
        (drawn.bar().part(drawn.nose_centre()), weighed.bar().part(drawn.nose_centre()));
    assert_eq!(weighed_part.centroid, drawn_part.centroid);
    assert_close(
        "inertia, kg·m²",
        weighed_part.inertia_kg_m2 / WEIGHED_KG,
        drawn_part.inertia_kg_m2 / drawn_kg,
        Within::Relative(1e-14),
    );
    assert_close(
        "ready, kg",
        (solve(weighed).ready_mass() - solve(drawn).ready_mass()).as_kg(),
        WEIGHED_KG - drawn_kg,
        Within::Absolute(1e-12),
    );
    // A made-up bar of a weighed rack is off its drawing by as much.
    let made = BarFamily::new(weighed, weighed_yard.bars());
    let at_rack = made.at(weighed.bar().overall_length()).unwrap();
    assert_same_figures("weighed", &solve(&at_rack), &solve(weighed));
}

#[test]
fn a_tooth_more_on_the_sprocket_is_faster_weaker_and_half_a_pitch_shorter() {
    let with_teeth = |teeth| {
        let mut file = rack_file();
        file.powerheads[0].sprocket.teeth = teeth;
        // The shorter bars' tensioners stand too far back to give half a pitch.
        file.setups.retain(|setup| setup.bar == "24");
        solve(named(&checked(file), "24"))
    };
    let (seven, eight) = (with_teeth(7), with_teeth(8));
    let rounding = Within::Relative(1e-12);
    assert_close("speed", eight.chain_speed.as_m_s() / seven.chain_speed.as_m_s(), 8.0 / 7.0, rounding);
    let pull = |solved: &Solved| solved.pull_in.unwrap().as_n();
    assert_close("pull", pull(&eight) / pull(&seven), 7.0 / 8.0, rounding);
    assert_close("energy", eight.chain_energy_j / seven.chain_energy_j, (8.0_f64 / 7.0).powi(2), rounding);
    // A tooth takes one pitch of chain round the half of the sprocket, half of it from either rail. The lean of
    // the rails, a few millimetres in 700, adds some hundredths.
    let shorter = (seven.reach - eight.reach).as_mm();
    assert_close("shorter, mm", shorter, 0.5 * 9.525, Within::Absolute(0.1));
}

#[test]
fn lengths_beyond_the_span_are_its_ends_and_no_length_is_no_bar() {
    let family = family();
    let (shortest, longest) = BarFamily::span();
    assert_same_figures("shorter", &made_up(&family, 0.0), &made_up(&family, shortest.as_mm()));
    assert_same_figures("longer", &made_up(&family, 1e9), &made_up(&family, longest.as_mm()));
    let no_number = Length::from_mm(f64::NAN);
    let made = family.at(no_number);
    assert!(made.is_err(), "no length made {:?}", made.map(|setup| setup.bar().overall_length()));
    let overall = family.overall_with_tip_at(no_number);
    assert!(overall.as_mm().is_nan(), "a tip at no place asks for {overall:?}");
}
