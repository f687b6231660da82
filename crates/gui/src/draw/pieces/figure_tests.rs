//! The figure against the body and the stance it is drawn from.

use super::*;
use crate::draw::strokes::Item;
use barpoise_core::file::demo;
use barpoise_core::log::LogSection;
use barpoise_core::person::{Person, SawBody, Standing};
use barpoise_core::units::Length;

/// Before a log of 560 mm, so far above the ground, with the demo's first head.
fn standing(side: Side, above_mm: f64) -> Standing {
    let section = LogSection::round(Length::from_mm(560.0), Length::from_mm(above_mm)).unwrap();
    let yard = demo().unwrap();
    Standing::new(&section, side, &SawBody::of(&yard.powerheads()[0]), &Person::default())
}

/// The spikes at a height, straight beside the bark, and the bar level and into the log.
fn place(side: Side, up_m: f64) -> (Metres, f64) {
    match side {
        Side::Near => (Metres::new(-0.30, up_m), 0.0),
        Side::Far => (Metres::new(0.30, up_m), PI),
    }
}

/// Stances from both sides, low and high, standing and kneeling.
fn stances() -> Vec<(Standing, Stance)> {
    let mut found = Vec::new();
    for side in [Side::Near, Side::Far] {
        for above_mm in [0.0, 150.0, 400.0] {
            for up_m in [-0.1, 0.0, 0.1, 0.25] {
                let standing = standing(side, above_mm);
                let (spikes, direction_rad) = place(side, up_m);
                if let Ok(stance) = standing.look(spikes, direction_rad) {
                    found.push((standing, stance));
                }
            }
        }
    }
    assert!(found.len() > 12, "{} stances", found.len());
    found
}

fn figure<'a>((standing, stance): &'a (Standing, Stance)) -> Figure<'a> {
    Figure { stance, body: standing.body(), side: standing.side() }
}

fn length(figure: &Figure<'_>, limb: Limb) -> f64 {
    let limbs = figure.limbs();
    let found: Vec<_> = limbs.iter().filter(|capsule| capsule.limb == limb).collect();
    assert_eq!(found.len(), 1, "{limb:?} is drawn once");
    (found[0].to - found[0].from).hypot()
}

#[test]
fn limbs_are_as_long_as_the_body_s() {
    const WITHIN_MM: f64 = 1e-6;
    for pair in &stances() {
        let (figure, body) = (figure(pair), pair.0.body());
        let near = |drawn: f64, true_m: f64, what: &str| {
            let apart = (drawn - true_m * 1e3).abs();
            assert!(apart < WITHIN_MM, "{what}: drawn {drawn} mm, the body has {true_m} m");
        };
        near(length(&figure, Limb::Trunk), body.trunk_m, "trunk");
        near(length(&figure, Limb::Neck), body.neck_m, "neck");
        // Seen from the side: a hand works aside of its shoulder, and each link has its share of that.
        for hand in [Hand::Front, Hand::Rear] {
            let (upper, fore) = (length(&figure, Limb::UpperArm(hand)), length(&figure, Limb::Forearm(hand)));
            let aside = ((body.upper_arm_m * 1e3).powi(2) - upper * upper).max(0.0).sqrt();
            let rest = hand.aside_m() * 1e3 - aside;
            assert!((0.0..=hand.aside_m() * 1e3 + WITHIN_MM).contains(&aside), "{hand:?}: {aside}");
            let whole = fore.hypot(rest);
            assert!((whole - body.forearm_m * 1e3).abs() < 1e-4, "{hand:?}: forearm {whole} mm in space");
        }
        // A knee turned aside looks shorter; never longer than it is.
        for front in [true, false] {
            let (thigh, shank) = (length(&figure, Limb::Thigh(front)), length(&figure, Limb::Shank(front)));
            assert!(thigh <= body.thigh_m * 1e3 + WITHIN_MM, "thigh {thigh}");
            assert!(shank <= body.shank_m * 1e3 + WITHIN_MM, "shank {shank}");
        }
    }
}

#[test]
fn the_figure_holds_the_saw_and_stands_on_the_ground() {
    for pair in &stances() {
        let (standing, stance) = pair;
        let figure = figure(pair);
        for hand in [Hand::Front, Hand::Rear] {
            let grip = section_mm(figure.arm_pose(hand).hand);
            let limbs = figure.limbs();
            let fore = limbs.iter().find(|capsule| capsule.limb == Limb::Forearm(hand)).unwrap();
            assert!((fore.to - grip).hypot() < 1e-9 && figure.arm_pose(hand).reaches);
        }
        let ground = standing.ground_m(stance.feet.x) * 1e3;
        assert!((figure.extent().y0 - ground).abs() < 1.0, "{} and {ground}", figure.extent().y0);
    }
}

#[test]
fn the_extent_holds_every_outline() {
    for pair in &stances() {
        let figure = figure(pair);
        let extent = figure.extent().inflate(0.5, 0.5);
        let mut scene = Scene::new(1.0);
        figure.behind_saw(&mut scene);
        figure.before_saw(&mut scene);
        for item in scene.items() {
            if let Item::Fill { path, .. } = item {
                let outline = path.bounding_box();
                assert!(extent.union(outline) == extent, "{outline:?} outside {extent:?}");
            }
        }
    }
}

#[test]
fn a_capsule_is_a_bar_with_round_ends() {
    let (from, to) = (Point::new(10.0, -20.0), Point::new(-50.0, 60.0));
    let capsule = Capsule { limb: Limb::Trunk, from, to, widths: (30.0, 30.0) };
    let area = 30.0 * 100.0 + PI * 15.0 * 15.0;
    assert!((capsule.path().area().abs() / area - 1.0).abs() < 2e-3, "{}", capsule.path().area());
    // Tapered: the kite between the touching lines and both ends' remaining sectors, 100 apart, radii 20 and 10.
    let taper = Capsule { widths: (40.0, 20.0), ..capsule };
    let lean = 0.1_f64.asin();
    let straight = (100.0_f64.powi(2) - 10.0_f64.powi(2)).sqrt();
    let area = straight * (20.0 + 10.0) + (0.5 * PI + lean) * 400.0 + (0.5 * PI - lean) * 100.0;
    assert!((taper.path().area().abs() / area - 1.0).abs() < 2e-3, "{} {area}", taper.path().area());
    let dot = Capsule { to: from, ..capsule };
    assert!((dot.path().area().abs() / (PI * 225.0) - 1.0).abs() < 2e-3);
}

#[test]
fn the_arm_on_the_side_we_see_is_before_the_saw() {
    for (side, hidden, seen) in [(Side::Near, Hand::Front, Hand::Rear), (Side::Far, Hand::Rear, Hand::Front)]
    {
        let all = stances();
        let pair = all.iter().find(|(standing, _)| standing.side() == side).unwrap();
        let limbs = figure(pair).limbs();
        assert_eq!(limbs.first().unwrap().limb, Limb::UpperArm(hidden));
        assert_eq!(limbs.last().unwrap().limb, Limb::Forearm(seen));
    }
}

#[test]
fn law_the_far_side_shows_the_near_one_mirrored() {
    let pair_on = |side| {
        let standing = standing(side, 300.0);
        let (spikes, direction_rad) = place(side, 0.1);
        let stance = standing.look(spikes, direction_rad).unwrap();
        (standing, stance)
    };
    let (near, far) = (pair_on(Side::Near), pair_on(Side::Far));
    let (near, far) = (figure(&near), figure(&far));
    assert_eq!(near.words(), far.words());
    for capsule in near.limbs() {
        let other = far.limbs().into_iter().find(|other| other.limb == capsule.limb).unwrap();
        for (a, b) in [(capsule.from, other.from), (capsule.to, other.to)] {
            assert!((a - Point::new(-b.x, b.y)).hypot() < 1e-6, "{:?}: {a:?} {b:?}", capsule.limb);
        }
    }
}

#[test]
fn the_pose_is_said_in_words() {
    let all = stances();
    let kneels = all.iter().find(|(_, stance)| stance.words().starts_with("kneeling")).unwrap();
    assert!(figure(kneels).words().starts_with("operator kneeling, "), "{}", figure(kneels).words());
}

#[test]
fn what_fails_is_ringed_where_it_fails_in_the_danger_colour() {
    let mut kinds = std::collections::BTreeSet::new();
    for side in [Side::Near, Side::Far] {
        let standing = standing(side, 150.0);
        for (out_m, up_m, pitch) in fails() {
            let (x, direction_rad) = if side == Side::Near { (-out_m, pitch) } else { (out_m, PI - pitch) };
            let spikes = Metres::new(x, up_m);
            let Err(why) = standing.look(spikes, direction_rad) else { continue };
            kinds.insert(format!("{why:?}").split(' ').next().unwrap().to_owned());
            let stance = standing.nearest_stance(spikes, direction_rad).unwrap();
            let mut scene = Scene::new(1.0);
            let words = why.words();
            let figure = Figure { stance: &stance, body: standing.body(), side };
            figure.trouble(&mut scene, &why, &words);
            let at = section_mm(why.at().unwrap());
            let label = scene.items().iter().find_map(|item| match item {
                Item::Text(label) if label.text == words => Some(label),
                _ => None,
            });
            let label = label.unwrap();
            assert_eq!(label.ink, Ink::Danger);
            let off = (label.at - at).hypot();
            assert!(off <= scene.pt(RING_PT) + 1e-9, "{why:?}: words {off} mm off");
            let ringed = scene.items().iter().any(|item| match item {
                Item::Stroke { path, pen } => {
                    pen.ink == Ink::Danger && (path.bounding_box().center() - at).hypot() < 1e-6
                }
                _ => false,
            });
            assert!(ringed, "{why:?}");
        }
    }
    assert!(kinds.len() >= 5, "only {kinds:?} came up");
}

/// Places of the spikes outward and up from the middle of the log, and pitches, m and rad: all over, many of them bad.
fn fails() -> impl Iterator<Item = (f64, f64, f64)> {
    let outs = [-0.9, -0.6, -0.2, 0.05, 0.3, 0.6];
    let ups = [-0.25, 0.0, 0.3, 0.5, 0.8, 1.3];
    let pitches = [-1.4, -0.6, 0.0, 0.6, 1.2];
    outs.into_iter().flat_map(move |out| {
        ups.into_iter().flat_map(move |up| pitches.into_iter().map(move |pitch| (out, up, pitch)))
    })
}
