//! Where the left thumb and the left arm must be.

use super::body::{held_at, nose_outline, posed, saw_extent, whole_saw};
use super::panel::Panel;
use crate::draw::pieces::figure::{Capsule, Figure, Limb};
use crate::draw::pieces::{self, mm};
use crate::draw::strokes::{Dash, Label, Pen, Scene, Side};
use crate::draw::theme::Ink;
use barpoise_core::Setup;
use barpoise_core::geometry::{Point as Metres, Vector};
use barpoise_core::log::Side as LogSide;
use barpoise_core::person::{Body, Hand, Person};
use kurbo::{Arc, BezPath, Circle, Point, Rect, Shape, Vec2};

/// The handle's tube, fingers and thumb, radii in mm: a hand drawn by guess.
const TUBE: f64 = 14.0;
const FINGER: f64 = 10.0;
/// How much of the hand's colour lies on the thumb.
const TINT: f32 = 0.3;

pub(super) fn thumb() -> Vec<Panel<'static>> {
    let extent = Rect::new(-136.0, -58.0, 96.0, 92.0);
    vec![
        Panel::new("Thumb under the handle: the hand is a closed ring", extent, |scene| hand(scene, true))
            .right(),
        Panel::new("Thumb beside the fingers: the handle can leave the hand", extent, |scene| {
            hand(scene, false)
        })
        .wrong(),
    ]
}

/// A left hand on the front handle, seen along its tube from the left.
fn hand(scene: &mut Scene, under: bool) {
    let deg = f64::to_radians;
    let wrist = Point::ORIGIN + Vec2::from_angle(deg(140.0)) * (TUBE + 24.0);
    let around = TUBE + FINGER;
    let (limb, elbow) = (Limb::Forearm(Hand::Front), wrist + Vec2::new(-74.0, 34.0));
    let forearm = Capsule { limb, from: elbow, to: wrist, widths: (36.0, 36.0) };
    // Forearm, palm and the four fingers over the top and round the front are one outline.
    let hand = [
        forearm.path(),
        curled(around + 2.0, FINGER + 3.0, deg(176.0), deg(-70.0)),
        curled(around, FINGER, deg(130.0), deg(-188.0)),
    ];
    for part in &hand {
        scene.stroke(part.clone(), Pen::solid(Ink::Hand, 3.2));
    }
    for part in hand {
        scene.fill(part, Ink::Sheet);
    }
    // The thumb: round the other way to meet them, or along with them.
    let (thumb, named, side) = if under {
        let thumb = curled(around - 0.5, FINGER - 0.5, deg(160.0), deg(112.0));
        (thumb, Point::ORIGIN + (around + FINGER) * Vec2::from_angle(deg(222.0)), Side::Left)
    } else {
        let thumb = curled(around + 1.9 * FINGER, FINGER - 1.0, deg(146.0), deg(-84.0));
        (thumb, Point::ORIGIN + (around + 2.9 * FINGER) * Vec2::from_angle(deg(80.0)), Side::Above)
    };
    scene.fill(thumb.clone(), Ink::Sheet);
    scene.wash(thumb.clone(), Ink::Hand, TINT);
    scene.stroke(thumb, Pen::solid(Ink::Hand, 1.6));
    scene.label(Label::new(named, side, "thumb", Ink::Hand).strong());
    let fingers = Point::ORIGIN + (around + FINGER) * Vec2::from_angle(deg(-8.0));
    scene.label(Label::new(fingers, Side::Right, "fingers", Ink::Hand).strong());
    let tube = Circle::new(Point::ORIGIN, TUBE);
    scene.fill(tube.to_path(0.02), Ink::Body);
    scene.stroke(tube.to_path(0.02), Pen::solid(Ink::Line, 1.6));
    if !under {
        let from = Point::new(-4.0, -TUBE - 4.0);
        pieces::arrow(scene, from, from + Vec2::new(-34.0, -30.0), Ink::Danger);
    }
}

/// A finger bent about the tube: a band round the origin with round ends, angles in rad.
fn curled(middle: f64, half: f64, from: f64, sweep: f64) -> BezPath {
    let end = from + sweep;
    let sense = sweep.signum();
    let mut path = BezPath::new();
    let (outer, inner) = (middle + half, middle - half);
    path.move_to(Point::ORIGIN + outer * Vec2::from_angle(from));
    let tip = |angle: f64| Point::ORIGIN + middle * Vec2::from_angle(angle);
    let arcs = [
        Arc::new(Point::ORIGIN, (outer, outer), from, sweep, 0.0),
        Arc::new(tip(end), (half, half), end, sense * std::f64::consts::PI, 0.0),
        Arc::new(Point::ORIGIN, (inner, inner), end, -sweep, 0.0),
        Arc::new(tip(from), (half, half), from + std::f64::consts::PI, sense * std::f64::consts::PI, 0.0),
    ];
    for arc in arcs {
        for element in arc.append_iter(0.02) {
            path.push(element);
        }
    }
    path.close_path();
    path
}

/// How far the front hand is from the shoulder, over the straight arm.
const STRAIGHT: f64 = 0.985;
const BENT: f64 = 0.66;
/// The arm points so far below level, and the trunk is bent so far, rad.
const BELOW: f64 = 0.75;
const LEANING: f64 = 0.2;
/// The stem before the nose: from so far behind the tip to so far ahead of it, mm.
const STEM: (f64, f64) = (190.0, 130.0);

pub(super) fn left_arm<'a>(setup: &'a Setup, person: &Person) -> Vec<Panel<'a>> {
    let body = Body::of(person);
    let saw = saw_extent(setup);
    let top = body.stature_m * 1e3 + 60.0;
    let grip = grip_at(&body, STRAIGHT);
    let front = mm(setup.powerhead().front_grip());
    let x1 = grip.x + saw.x1 - front.x + STEM.1 + 30.0;
    let extent = Rect::new(-380.0, -30.0, x1, top);
    vec![
        Panel::new("The nose out of sight: left arm straight", extent, move |scene| {
            reaching(scene, setup, &body, STRAIGHT);
        })
        .right(),
        Panel::new("The nose out of sight, and the left arm bent", extent, move |scene| {
            reaching(scene, setup, &body, BENT);
        })
        .wrong(),
    ]
}

fn shoulder(body: &Body) -> Metres {
    Metres::new(0.0, body.shoulder_height_m - (1.0 - LEANING.cos()) * body.trunk_m)
}

/// Where the front hand is with so much of the arm stretched out, mm.
fn grip_at(body: &Body, stretched: f64) -> Point {
    let far = stretched * (body.upper_arm_m + body.forearm_m);
    mm(shoulder(body) + Vector::new(BELOW.cos(), -BELOW.sin()) * far)
}

fn reaching(scene: &mut Scene, setup: &Setup, body: &Body, stretched: f64) {
    let grip = grip_at(body, stretched);
    let place = held_at(setup, grip, 0.0);
    let rear = place * mm(setup.powerhead().rear_grip());
    let metres = |p: Point| Metres::new(p.x * 1e-3, p.y * 1e-3);
    let stance = posed(body, shoulder(body), LEANING, metres(grip), metres(rear));
    let figure = Figure { stance: &stance, body, side: LogSide::Near };
    let ground = Pen::solid(Ink::Bark, 1.5);
    let tip = place * Point::new(setup.nose_zone().tip_x().as_mm(), 0.0);
    scene.line(Point::new(-360.0, 0.0), Point::new(tip.x + STEM.1 + 20.0, 0.0), ground);
    figure.behind_saw(scene);
    whole_saw(scene, setup, place);
    figure.before_saw(scene);
    // The stem stands before the nose.
    let stem = Rect::new(tip.x - STEM.0, 0.0, tip.x + STEM.1, grip.y + 330.0);
    scene.fill(stem.to_path(0.1), Ink::Wood);
    for x in [stem.x0, stem.x1] {
        scene.line(Point::new(x, stem.y0), Point::new(x, stem.y1), Pen::solid(Ink::Bark, 5.0));
    }
    let zone = setup.nose_zone();
    let dashed = Pen::solid(Ink::Danger, 1.8).with_dash(Dash::Dashed);
    let centre = mm(zone.centre);
    let r = zone.radius.as_mm();
    let back = (STEM.0 - r).max(0.0);
    let outline = nose_outline(centre, r, back);
    scene.stroke(place * outline, dashed);
}
