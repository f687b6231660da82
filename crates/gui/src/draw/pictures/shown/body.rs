//! What several drawings share: the whole saw, a stem end on, a stub of a nose, a person in a pose.

use crate::draw::pieces::{self, mm};
use crate::draw::strokes::{Pen, Scene};
use crate::draw::theme::Ink;
use barpoise_core::geometry::{Point as Metres, Vector};
use barpoise_core::person::{ArmPose, Body, Hand, LegPose, Legs, Stance};
use barpoise_core::{NoseZone, Setup};
use kurbo::{Affine, Arc, BezPath, Circle, Point, Rect, Shape, Vec2};
use std::f64::consts::{FRAC_PI_2, PI};

/// Rings drawn in the wood, as shares of its radius.
const RINGS: [f64; 4] = [0.2, 0.42, 0.64, 0.84];
/// Over and under a bar's middle what its chain takes, mm.
const HALF_BAR_MM: f64 = 60.0;
/// Half a step between the feet, over the length of a leg.
const HALF_STEP: f64 = 0.16;

/// What the level saw covers, mm.
pub(super) fn saw_extent(setup: &Setup) -> Rect {
    let tip = setup.nose_zone().tip_x().as_mm();
    pieces::head_extent(setup.powerhead()).union(Rect::new(0.0, -HALF_BAR_MM, tip, HALF_BAR_MM))
}

/// The saw with its kickback zone.
pub(super) fn whole_saw(scene: &mut Scene, setup: &Setup, by: Affine) {
    bare_saw(scene, setup, by);
    let mut zone = Scene::new(1.0 / scene.pt(1.0));
    pieces::kickback_zone(&mut zone, &setup.nose_zone());
    scene.add(zone, by);
}

/// The saw without it.
pub(super) fn bare_saw(scene: &mut Scene, setup: &Setup, by: Affine) {
    let mut saw = Scene::new(1.0 / scene.pt(1.0));
    pieces::head_under(&mut saw, setup.powerhead());
    pieces::bar(&mut saw, setup);
    pieces::chain(&mut saw, setup);
    pieces::covers(&mut saw, setup.powerhead());
    scene.add(saw, by);
}

/// A stem end on; where something of it is cut, from a height on upwards (1) or downwards (-1).
pub(super) fn stem(scene: &mut Scene, centre: Point, radius: f64, cut: Option<(f64, f64)>) {
    let outline = Circle::new(centre, radius).to_path(0.05);
    scene.fill(outline.clone(), Ink::Wood);
    for ring in RINGS {
        scene.stroke(Circle::new(centre, ring * radius).to_path(0.05), Pen::solid(Ink::Ring, 1.0));
    }
    if let Some((toward, y)) = cut {
        let part = segment(centre, radius, y, toward);
        scene.wash(part.clone(), Ink::OursPale, 0.9);
        scene.stroke(part, Pen::solid(Ink::OursMid, 1.0));
    }
    scene.stroke(outline, Pen::solid(Ink::Bark, 5.0));
}

/// The part of a disc beyond a level line.
fn segment(centre: Point, radius: f64, y: f64, toward: f64) -> BezPath {
    let height = ((y - centre.y) / radius).clamp(-1.0, 1.0);
    let half = (toward * height).acos();
    let from = toward * FRAC_PI_2 - half;
    let mut path = BezPath::new();
    path.move_to(centre + radius * Vec2::from_angle(from));
    for element in Arc::new(centre, (radius, radius), from, 2.0 * half, 0.0).append_iter(0.05) {
        path.push(element);
    }
    path.close_path();
    path
}

/// The outline of a bar's front end from its upper side round the nose to its lower one, open at the back: `half` on
/// either side of the middle, `back` behind the nose's centre.
pub(super) fn nose_outline(centre: Point, half: f64, back: f64) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(centre + Vec2::new(-back, half));
    path.line_to(centre + Vec2::new(0.0, half));
    for element in Arc::new(centre, (half, half), FRAC_PI_2, -PI, 0.0).append_iter(0.05) {
        path.push(element);
    }
    path.line_to(centre + Vec2::new(-back, -half));
    path
}

/// The front end of a bar with its chain, the centre of its nose at the origin, broken off so many radii behind.
pub(super) fn nose_stub(scene: &mut Scene, zone: &NoseZone, radii: f64, by: Affine) {
    /// Height of the chain over the radius of the nose with it.
    const CHAIN: f64 = 0.2;
    let radius = zone.radius.as_mm();
    let outline = |r: f64| {
        let mut path = nose_outline(Point::ORIGIN, r, radii * radius);
        // Broken off.
        path.line_to(Point::new((-radii - 0.18) * radius, -0.35 * r));
        path.line_to(Point::new((-radii + 0.18) * radius, 0.3 * r));
        path.close_path();
        path
    };
    let mut stub = Scene::new(1.0 / scene.pt(1.0));
    stub.fill(outline(radius), Ink::Steel);
    stub.fill(outline((1.0 - CHAIN) * radius), Ink::Plate);
    let at = |angle: f64| Point::ORIGIN + (1.0 - 0.5 * CHAIN) * radius * Vec2::from_angle(angle);
    let mut rivets: Vec<Point> = (0..=8_u8).map(|i| at(FRAC_PI_2 - f64::from(i) * PI / 8.0)).collect();
    let step = radius * PI / 8.0;
    let mut x = -step;
    while x > -radii * radius {
        rivets.extend([1.0, -1.0].map(|side| Point::new(x, side * (1.0 - 0.5 * CHAIN) * radius)));
        x -= step;
    }
    stub.dots(rivets, 0.035 * radius, Ink::OnSteel);
    let here = NoseZone { centre: Metres::origin(), ..*zone };
    pieces::kickback_zone(&mut stub, &here);
    scene.add(stub, by);
}

/// A person facing +x with straight legs, their hands on two grips; a hand out of reach points at its grip. m.
pub(super) fn posed(body: &Body, shoulder: Metres, bend_rad: f64, front: Metres, rear: Metres) -> Stance {
    let up = Vector::new(bend_rad.sin(), bend_rad.cos());
    let hip = shoulder - up * body.trunk_m;
    let half = HALF_STEP * body.leg_m();
    Stance {
        legs: Legs::Straight,
        bend_rad,
        cost: 0.0,
        hip,
        shoulder,
        head: shoulder + up * body.neck_m,
        front_arm: arm(body, shoulder, front, Hand::Front),
        rear_arm: arm(body, shoulder, rear, Hand::Rear),
        front_leg: leg(body, hip, half),
        rear_leg: leg(body, hip, -half),
        feet: Metres::new(hip.x, 0.0),
        feet_play_m: (0.0, 0.0),
    }
}

fn leg(body: &Body, hip: Metres, ahead_m: f64) -> LegPose {
    let ankle = Metres::new(hip.x + ahead_m, body.ankle_height_m);
    let knee = hip + (ankle - hip) * (body.thigh_m / (body.thigh_m + body.shank_m));
    LegPose { knee, ankle, toe: Metres::new(ankle.x + body.ankle_to_toe_m, 0.0) }
}

/// Shoulder, elbow below the line to the hand, hand.
fn arm(body: &Body, shoulder: Metres, grip: Metres, hand: Hand) -> ArmPose {
    let (a, b) = (body.upper_arm_m, body.forearm_m);
    let to = grip - shoulder;
    let far = to.norm();
    let reached = far.clamp((a - b).abs(), a + b);
    let along = (a * a - b * b + reached * reached) / (2.0 * reached);
    let aside = (a * a - along * along).max(0.0).sqrt();
    let toward = to / far.max(1e-9);
    // Forward is +x: to the right of the way to the hand is down.
    let elbow = shoulder + toward * along + Vector::new(toward.y, -toward.x) * aside;
    let bend = ((a * a + b * b - reached * reached) / (2.0 * a * b)).clamp(-1.0, 1.0).acos();
    ArmPose {
        shoulder,
        elbow,
        hand: shoulder + toward * reached,
        elbow_bend_rad: PI - bend,
        upper_arm_rad: (elbow.x - shoulder.x).atan2(shoulder.y - elbow.y),
        aside_m: hand.aside_m(),
        reaches: far <= a + b,
    }
}

/// From the saw frame to a drawing in which the front grip lies at a point and the bar is turned up by an angle.
pub(super) fn held_at(setup: &Setup, grip: Point, pitch_rad: f64) -> Affine {
    let front = mm(setup.powerhead().front_grip());
    Affine::translate(grip.to_vec2()) * Affine::rotate(pitch_rad) * Affine::translate(-front.to_vec2())
}
