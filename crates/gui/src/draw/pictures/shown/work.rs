//! The brake tested, the log carrying the saw or the arms, and what is looked at before work.

use super::ShownPicture;
use super::body::{bare_saw, held_at, posed, saw_extent, stem, whole_saw};
use super::panel::Panel;
use crate::desk::words::hold;
use crate::draw::pieces::figure::Figure;
use crate::draw::pieces::{self, mm};
use crate::draw::strokes::{Dash, Label, Pen, Scene, Side, text_width};
use crate::draw::theme::{Ink, size};
use barpoise_core::geometry::Point as Metres;
use barpoise_core::log::Side as LogSide;
use barpoise_core::person::{Body, LEVEL_AHEAD_M};
use barpoise_core::units::Force;
use barpoise_core::{Powerhead, Setup};
use kurbo::{Affine, Point, Rect, Shape, Vec2};

/// The saw, and nothing told: not even where the kickback zone is.
pub(super) fn saw_alone(setup: &Setup) -> Panel<'_> {
    Panel::new("", saw_extent(setup), move |scene| bare_saw(scene, setup, Affine::IDENTITY))
}

/// Length of an arrow of no figure, mm.
const ARROW_MM: f64 = 120.0;
/// The nose is let drop from so far up, rad, onto a stump so wide and so high, mm.
const RAISED: f64 = 0.22;
const STUMP: (f64, f64) = (300.0, 260.0);
const GHOST: f32 = 0.05;

pub(super) fn brake_tests(setup: &Setup) -> Vec<Panel<'_>> {
    let saw = saw_extent(setup);
    let grip = mm(setup.powerhead().front_grip());
    let tip = setup.nose_zone().tip_x().as_mm();
    let high = grip.y + (tip - grip.x) * RAISED.sin() + 60.0;
    let extent = Rect::new(saw.x0, -STUMP.1 - 60.0, saw.x1, saw.y1.max(high).max(300.0));
    vec![
        Panel::new(
            "By hand: both hands on the handles, the wrist pushes the guard forward",
            extent,
            move |scene| by_hand(scene, setup),
        ),
        Panel::new(
            "By the drop of the nose, chain stopped, saw in both hands: as the manual says",
            extent,
            move |scene| by_drop(scene, setup),
        ),
    ]
}

fn by_hand(scene: &mut Scene, setup: &Setup) {
    let head = setup.powerhead();
    whole_saw(scene, setup, Affine::IDENTITY);
    pieces::guard(scene, head, Pen::solid(Ink::Ours, 2.6));
    let top = pieces::on_head(head, (92.0, 196.0));
    pieces::arrow(scene, top, top + Vec2::new(ARROW_MM, 0.0), Ink::Ours);
    let at = top + Vec2::new(ARROW_MM, 0.0);
    scene.label(Label::new(at, Side::Right, "guard", Ink::Ours).strong().on_patch());
    for grip in [head.front_grip(), head.rear_grip()] {
        pieces::grip_mark(scene, mm(grip));
    }
}

fn by_drop(scene: &mut Scene, setup: &Setup) {
    let head = setup.powerhead();
    let zone = setup.nose_zone();
    let centre = mm(zone.centre);
    let stump = Rect::new(
        centre.x - 0.7 * STUMP.0,
        -zone.radius.as_mm() - STUMP.1,
        centre.x + 0.3 * STUMP.0,
        -zone.radius.as_mm(),
    );
    scene.fill(stump.to_path(0.1), Ink::Wood);
    scene.stroke(stump.to_path(0.1), Pen::solid(Ink::Bark, 4.0));
    let mut ghost = Scene::new(1.0 / scene.pt(1.0));
    pieces::outlined_bar(&mut ghost, setup, Pen::solid(Ink::Soft, 1.6).with_dash(Dash::Dashed), GHOST);
    scene.add(ghost, Affine::IDENTITY);
    let grip = mm(head.front_grip());
    let up = held_at(setup, grip, RAISED);
    whole_saw(scene, setup, up);
    let from = up * centre - grip;
    let far = from.hypot() + 1.6 * zone.radius.as_mm();
    pieces::turn_arrow(scene, grip, far, from.atan2(), -0.85 * RAISED, Ink::Ours);
    for hand in [head.front_grip(), head.rear_grip()] {
        pieces::grip_mark(scene, up * mm(hand));
    }
}

/// The log's radius where it carries the saw, over the reach.
const LOG: f64 = 0.34;
/// Room behind the person, mm.
const BEHIND_MM: f64 = 420.0;

pub(super) fn who_carries<'a>(picture: &ShownPicture<'a>) -> Vec<Panel<'a>> {
    let ShownPicture { figures, units, measured, .. } = *picture;
    let body = Body::of(picture.person);
    let setup = figures.setup();
    let (grip, _) = level_grips(setup, &body);
    let saw = saw_extent(setup);
    let x1 = grip.x + saw.x1 - mm(setup.powerhead().front_grip()).x + 30.0;
    let extent = Rect::new(-BEHIND_MM, -30.0, x1, body.stature_m * 1e3 + 60.0);
    let carried = if measured {
        format!("Off the spikes the arms carry it. Held level: {}", hold::level_said(figures.level()))
    } else {
        "Off the spikes the arms carry it".to_owned()
    };
    let hands = figures.solved().hands.ok().filter(|_| measured);
    vec![
        Panel::new("Spikes set: the log carries the saw", extent, move |scene| {
            held(scene, setup, &body, true);
        })
        .right(),
        Panel::new(carried, extent, move |scene| {
            held(scene, setup, &body, false);
            let (front, rear) = level_grips(setup, &body);
            if let Some(hands) = hands {
                load(scene, front, hands.front, &units.hand(hands.front));
                load(scene, rear, hands.rear, &units.hand(hands.rear));
            }
        }),
    ]
}

/// The grips of the saw held level at working height, as [`barpoise_core::person::held_level`] has it, mm.
fn level_grips(setup: &Setup, body: &Body) -> (Point, Point) {
    let front = Point::new(LEVEL_AHEAD_M * 1e3, (body.shoulder_height_m - body.upper_arm_m) * 1e3);
    (front, held_at(setup, front, 0.0) * mm(setup.powerhead().rear_grip()))
}

fn held(scene: &mut Scene, setup: &Setup, body: &Body, on_log: bool) {
    let (front, rear) = level_grips(setup, body);
    let place = held_at(setup, front, 0.0);
    let metres = |p: Point| Metres::new(p.x * 1e-3, p.y * 1e-3);
    let shoulder = Metres::new(0.0, body.shoulder_height_m);
    let stance = posed(body, shoulder, 0.0, metres(front), metres(rear));
    let figure = Figure { stance: &stance, body, side: LogSide::Near };
    let tip = (place * Point::new(setup.nose_zone().tip_x().as_mm(), 0.0)).x;
    scene.line(Point::new(-BEHIND_MM, 0.0), Point::new(tip, 0.0), Pen::solid(Ink::Bark, 1.5));
    let spikes = place * Point::new(setup.powerhead().spike_line().as_mm(), 0.0);
    if on_log {
        let radius = LOG * setup.reach().as_mm();
        let centre = spikes + Vec2::new(radius, -0.2 * radius);
        let block = Rect::new(centre.x - 0.5 * radius, 0.0, centre.x + 0.5 * radius, centre.y - 0.9 * radius);
        scene.fill(block.to_path(0.1), Ink::Branch);
        stem(scene, centre, radius, Some((1.0, spikes.y - 0.5 * setup.bar().body_width().as_mm())));
    }
    figure.behind_saw(scene);
    whole_saw(scene, setup, place);
    figure.before_saw(scene);
    if on_log {
        let at = spikes - Vec2::new(0.0, scene.pt(8.0));
        pieces::arrow(scene, at - Vec2::new(0.0, ARROW_MM), at, Ink::Ours);
        let label = Label::new(at - Vec2::new(0.0, ARROW_MM), Side::Left, "log", Ink::Ours);
        scene.label(label.strong().on_patch());
    }
}

/// What a hand lifts, or holds down.
fn load(scene: &mut Scene, grip: Point, force: Force, words: &str) {
    let long = force.as_n() * crate::draw::pictures::HAND_MM_PER_N;
    let gap = scene.pt(10.0) * long.signum();
    let from = grip + Vec2::new(0.0, gap);
    let tip = from + Vec2::new(0.0, long);
    pieces::arrow(scene, from, tip, Ink::Hand);
    let (at, side) = if long > 0.0 { (from.midpoint(tip), Side::Right) } else { (tip, Side::Below) };
    scene.label(Label::new(at, side, words, Ink::Hand).strong().on_patch());
}

/// A thing to look at: its name, where it lies on the generic head, mm, and whether its name stands over the saw.
const CONTROLS: [(&str, (f64, f64), bool); 4] = [
    ("throttle lock", (-262.0, 76.0), true),
    ("stop switch", (-196.0, 92.0), true),
    ("guard: chain brake", (80.0, 190.0), true),
    ("chain catcher", (96.0, -58.0), false),
];
/// Height of a line of names, and between two names in it, in points.
const LINE_PT: f64 = 20.0;
const APART_PT: f64 = 10.0;
/// Between the saw and the edges of the drawing, mm: room for names at any scale.
const NAMES_MM: f64 = 165.0;

pub(super) fn controls(setup: &Setup) -> Vec<Panel<'_>> {
    let saw = saw_extent(setup);
    let extent = Rect::new(saw.x0 - 20.0, saw.y0 - NAMES_MM, saw.x1 + 20.0, saw.y1 + NAMES_MM);
    let words = "Before work, as the manual says. Makers place them otherwise: find them on yours";
    vec![Panel::new(words, extent, move |scene| {
        whole_saw(scene, setup, Affine::IDENTITY);
        named(scene, setup, &saw);
    })]
}

fn named(scene: &mut Scene, setup: &Setup, saw: &Rect) {
    let head: &Powerhead = setup.powerhead();
    let tank = head.oil_tank();
    let oil = mm(tank.corner()) + 500.0 * Vec2::new(tank.size().x, tank.size().y);
    let middle = 0.55 * mm(setup.nose_zone().centre).x + 80.0;
    let under = Point::new(middle, -0.5 * setup.bar().body_width().as_mm() - 8.0);
    let on_head = CONTROLS.iter().map(|(name, at, over)| (*name, pieces::on_head(head, *at), *over));
    let others = [("bar oil", oil, false), ("chain: sharp, its tension", under, false)];
    let things: Vec<(&str, Point, bool)> = on_head.chain(others).collect();
    for over in [true, false] {
        let mut side: Vec<(&str, Point)> =
            things.iter().filter(|thing| thing.2 == over).map(|thing| (thing.0, thing.1)).collect();
        side.sort_by(|a, b| a.1.x.total_cmp(&b.1.x));
        let (edge, up) = if over { (saw.y1, 1.0) } else { (saw.y0, -1.0) };
        for (name, at, beside, line) in lines(scene, &side) {
            let end = Point::new(at.x, edge + up * scene.pt(LINE_PT * (f64::from(line) + 1.0)));
            scene.line(at, end, Pen::solid(Ink::Ours, 1.6));
            scene.dots(vec![at], scene.pt(4.0), Ink::Ours);
            let beside = beside.unwrap_or(if over { Side::Above } else { Side::Below });
            scene.label(Label::new(end, beside, name, Ink::Ours).strong().on_patch());
        }
    }
}

/// Names from the left with their side of the thread and their line from the saw: the first and the last stand outward,
/// those between over their thread, each in the nearest line in which it meets no name and no thread to one beyond.
fn lines<'a>(scene: &Scene, things: &[(&'a str, Point)]) -> Vec<(&'a str, Point, Option<Side>, u8)> {
    const MOST: u8 = 6;
    let mut placed: Vec<(f64, f64, f64, u8)> = Vec::new();
    let mut found = Vec::with_capacity(things.len());
    for (index, (name, at)) in things.iter().enumerate() {
        let wide = scene.pt(f64::from(text_width(name, size::BODY, true)) + APART_PT);
        let (beside, left) = if index == 0 {
            (Some(Side::Left), wide)
        } else if index + 1 == things.len() {
            (Some(Side::Right), 0.0)
        } else {
            (None, 0.5 * wide)
        };
        let (from, to) = (at.x - left, at.x - left + wide);
        let within = |x: f64, from: f64, to: f64| x > from && x < to;
        let free = |line: &u8| {
            placed.iter().all(|(x, other_from, other_to, there)| match there.cmp(line) {
                std::cmp::Ordering::Equal => from >= *other_to || to <= *other_from,
                std::cmp::Ordering::Less => !within(at.x, *other_from, *other_to),
                std::cmp::Ordering::Greater => !within(*x, from, to),
            })
        };
        let line = (0..MOST).find(free).unwrap_or(MOST);
        placed.push((at.x, from, to, line));
        found.push((*name, *at, beside, line));
    }
    found
}
