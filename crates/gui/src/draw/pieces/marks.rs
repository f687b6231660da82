//! Arrows, dimensions, the plumb line, the centre of gravity, the kickback zone.

use crate::draw::strokes::{Dash, Label, Pen, Scene, Side};
use crate::draw::theme::Ink;
use barpoise_core::NoseZone;
use kurbo::{Arc, BezPath, Circle, Point, Shape, Vec2};
use std::f64::consts::FRAC_PI_2;

/// Length and half width of an arrowhead in points.
const HEAD_PT: (f64, f64) = (10.0, 3.6);
/// A dimension line's stubs reach this far past it, in points.
const STUB_PT: f64 = 6.0;
/// Mean width of a character of the strong body text, in points.
const CHARACTER_PT: f64 = 8.4;
/// Width of the danger arc as a share of the nose's radius.
const ARC_SHARE: f64 = 0.2;
/// Radius of the centre-of-gravity disc in points.
const CENTRE_PT: f64 = 9.0;

fn arrowhead(scene: &mut Scene, tip: Point, direction: Vec2, ink: Ink, scale: f64) {
    let (length, half) = (scene.pt(HEAD_PT.0 * scale), scene.pt(HEAD_PT.1 * scale));
    let back = tip - direction * length;
    let across = Vec2::new(-direction.y, direction.x) * half;
    let mut path = BezPath::new();
    path.move_to(tip);
    path.line_to(back + across);
    path.line_to(back - across);
    path.close_path();
    scene.fill(path, ink);
}

/// A stout arrow from `tail` to `tip`: a force.
pub fn arrow(scene: &mut Scene, tail: Point, tip: Point, ink: Ink) {
    const FORCE_HEAD: f64 = 1.5;
    let along = tip - tail;
    if along.hypot() < scene.pt(1.0) {
        return;
    }
    let direction = along.normalize();
    scene.line(tail, tip - direction * scene.pt(HEAD_PT.0), Pen::solid(ink, 3.0));
    arrowhead(scene, tip, direction, ink, FORCE_HEAD);
}

/// A stout arrow along an arc: something turns. The sweep is counter-clockwise, rad.
pub fn turn_arrow(scene: &mut Scene, centre: Point, radius: f64, from_rad: f64, sweep_rad: f64, ink: Ink) {
    const FORCE_HEAD: f64 = 1.5;
    let tip = centre + radius * Vec2::from_angle(from_rad + sweep_rad);
    // The head lies along the chord of its own length, or it would point out of the arc.
    let head =
        (scene.pt(HEAD_PT.0 * FORCE_HEAD) / radius.max(1e-9)).min(sweep_rad.abs()) * sweep_rad.signum();
    let base = centre + radius * Vec2::from_angle(from_rad + sweep_rad - head);
    let shaft = Arc::new(centre, (radius, radius), from_rad, sweep_rad - 0.6 * head, 0.0);
    scene.stroke(shaft.to_path(0.01), Pen::solid(ink, 3.0));
    if (tip - base).hypot() > 0.0 {
        arrowhead(scene, tip, (tip - base).normalize(), ink, FORCE_HEAD);
    }
}

/// A dimension between two points, drawn parallel to them at `offset_mm` to the right of the way from one to
/// the other, with stubs back to the points and the text in a gap or beside it.
pub fn dimension(scene: &mut Scene, from: Point, to: Point, offset_mm: f64, text: &str, ink: Ink) {
    let along = to - from;
    let length = along.hypot();
    let direction = if length > 0.0 { along / length } else { Vec2::new(1.0, 0.0) };
    let across = Vec2::new(direction.y, -direction.x);
    let (a, b) = (from + across * offset_mm, to + across * offset_mm);
    let pen = Pen::solid(ink, 1.0);
    if offset_mm != 0.0 {
        let stub = across * scene.pt(STUB_PT) * offset_mm.signum();
        scene.line(from, a + stub, pen);
        scene.line(to, b + stub, pen);
    }
    // Room for the text: characters at the body size, on the wide side.
    let characters = f64::from(u32::try_from(text.chars().count()).unwrap_or(u32::MAX));
    let inside = length > scene.pt(characters * CHARACTER_PT + 4.0 * HEAD_PT.0);
    let (at, side) = if inside {
        scene.line(a, b, pen);
        arrowhead(scene, a, -direction, ink, 1.0);
        arrowhead(scene, b, direction, ink, 1.0);
        (a.midpoint(b), Side::Middle)
    } else {
        let out = direction * scene.pt(2.2 * HEAD_PT.0);
        scene.line(a - out, b + out, pen);
        arrowhead(scene, a, direction, ink, 1.0);
        arrowhead(scene, b, -direction, ink, 1.0);
        (b + out, if direction.x < 0.0 { Side::Left } else { Side::Right })
    };
    if !text.is_empty() {
        scene.label(Label::new(at, side, text, ink).strong().on_patch());
    }
}

/// How far a centre of gravity lies ahead of the plumb line at `plumb_x`: a dimension at height `y`, its text
/// on the rear side, where there is room.
pub fn offset_dimension(scene: &mut Scene, centre: Point, plumb_x: f64, y: f64, text: &str) {
    let (front, rear) = if centre.x > plumb_x { (centre.x, plumb_x) } else { (plumb_x, centre.x) };
    let drop = centre.y - y;
    let pen = Pen::solid(Ink::Line, 1.0);
    scene.line(centre, Point::new(centre.x, y - scene.pt(STUB_PT)), pen);
    if front - rear < scene.pt(1.0) || drop <= 0.0 {
        return;
    }
    dimension(scene, Point::new(front, y), Point::new(rear, y), 0.0, text, Ink::Line);
}

/// The ring where a hand holds.
pub fn grip_mark(scene: &mut Scene, at: Point) {
    let ring = Circle::new(at, scene.pt(5.0)).to_path(0.01);
    scene.fill(ring.clone(), Ink::Sheet);
    scene.stroke(ring, Pen::solid(Ink::Ours, 2.5));
}

/// The quartered disc.
pub fn centre_of_gravity(scene: &mut Scene, at: Point) {
    let radius = scene.pt(CENTRE_PT);
    scene.fill(Circle::new(at, radius).to_path(0.01), Ink::Paper);
    for start in [0.0, 2.0 * FRAC_PI_2] {
        let mut wedge = BezPath::new();
        wedge.move_to(at);
        wedge.line_to(at + radius * Vec2::from_angle(start));
        for element in Arc::new(at, (radius, radius), start, FRAC_PI_2, 0.0).append_iter(0.01) {
            wedge.push(element);
        }
        wedge.close_path();
        scene.fill(wedge, Ink::Line);
    }
    scene.stroke(Circle::new(at, radius).to_path(0.01), Pen::solid(Ink::Line, 1.5));
}

/// The plumb line down through a grip.
pub fn plumb_line(scene: &mut Scene, top: Point, bottom_y: f64) {
    let pen = Pen::solid(Ink::Ours, 1.5).with_dash(Dash::DashDot);
    let bottom = Point::new(top.x, bottom_y);
    scene.line(top, bottom, pen);
    // The bob: a small kite whose point ends the line.
    let (half, tall) = (scene.pt(4.0), scene.pt(14.0));
    let mut bob = BezPath::new();
    bob.move_to(bottom);
    bob.line_to(bottom + Vec2::new(half, 0.65 * tall));
    bob.line_to(bottom + Vec2::new(0.0, tall));
    bob.line_to(bottom + Vec2::new(-half, 0.65 * tall));
    bob.close_path();
    scene.fill(bob, Ink::Ours);
}

/// Lines across the quadrant between straight ahead and straight up, so that it reads without its colour.
fn hatch(scene: &mut Scene, centre: Point, radius: f64) {
    const EVERY_PT: f64 = 5.0;
    if radius < scene.pt(2.0 * EVERY_PT) {
        return;
    }
    let pen = Pen::solid(Ink::Danger, 1.0);
    let mut sum = scene.pt(EVERY_PT);
    // The line x + y = sum meets the quadrant's edges, or beyond them its arc.
    while sum < radius * 2.0_f64.sqrt() {
        let (x, y) = if sum <= radius {
            (sum, 0.0)
        } else {
            let half = 0.5 * (2.0 * radius * radius - sum * sum).max(0.0).sqrt();
            (0.5 * sum + half, 0.5 * sum - half)
        };
        scene.line(centre + Vec2::new(x, y), centre + Vec2::new(y, x), pen);
        sum += scene.pt(EVERY_PT);
    }
}

/// The kickback zone on the upper quadrant of the nose, in the saw frame: the true quarter disc, hatched in
/// the danger colour, with its arc drawn just outside the cutters.
pub fn kickback_zone(scene: &mut Scene, zone: &NoseZone) {
    let centre = super::mm(zone.centre);
    let radius = zone.radius.as_mm();
    let span = (NoseZone::TO - NoseZone::FROM).as_rad();
    let start = NoseZone::FROM.as_rad();
    let quarter = |radius: f64| Arc::new(centre, (radius, radius), start, span, 0.0);
    let mut wedge = BezPath::new();
    wedge.move_to(centre);
    wedge.line_to(centre + radius * Vec2::from_angle(start));
    for element in quarter(radius).append_iter(0.01) {
        wedge.push(element);
    }
    wedge.close_path();
    scene.wash(wedge.clone(), Ink::Danger, 0.28);
    hatch(scene, centre, radius);
    scene.stroke(wedge, Pen::solid(Ink::Danger, 1.0));
    // On a small drawing a thinner line, not to look larger than the zone is.
    let width = (ARC_SHARE * radius / scene.pt(1.0)).clamp(1.5, 4.0);
    let outside = radius + scene.pt(0.5 + 0.5 * width);
    #[expect(clippy::cast_possible_truncation, reason = "clamped just above")]
    scene.stroke(quarter(outside).to_path(0.01), Pen::solid(Ink::Danger, width as f32));
}
