//! How a saw is measured: cords, scales, blocks and an edge about the saw to scale.

use super::{bar, chain, covers, dimension, head_under, mm, outlined_bar, outlined_head};
use crate::desk::forms::reading::MeasureKind;
use crate::draw::strokes::{Dash, Label, Pen, Scene, Side};
use crate::draw::theme::Ink;
use barpoise_core::units::{Angle, Force};
use barpoise_core::{Setup, solve};
use kurbo::{Affine, Arc, BezPath, Point, Rect, Shape, Vec2};

/// Lengths of cords, sizes of scales and blocks, in points: they keep their size whatever the saw's.
const CORD_PT: f64 = 20.0;
const SCALE_PT: (f64, f64) = (15.0, 24.0);
const BLOCK_PT: f64 = 15.0;
/// How far the swing is drawn to either side.
const SWING: Angle = Angle::from_deg(9.0);
/// The underside of the body in the saw frame, mm.
const UNDERSIDE_MM: f64 = -88.0;

const GHOST: Pen = Pen::solid(Ink::Ghost, 1.4);
const GHOST_WASH: f32 = 0.25;
const TOOL: Pen = Pen::solid(Ink::Ours, 2.0);

/// The drawing of a measure, and what of it must be in sight, mm.
pub fn measure_scene(setup: &Setup, kind: MeasureKind, nose_up: Angle, points_per_mm: f64) -> (Scene, Rect) {
    let mut scene = Scene::new(points_per_mm);
    let extent = match kind {
        MeasureKind::Bar | MeasureKind::Loop => part_alone(&mut scene, setup, kind == MeasureKind::Bar),
        _ => on_saw(&mut scene, setup, kind, nose_up),
    };
    (scene, extent)
}

fn saw(points_per_mm: f64, setup: &Setup) -> Scene {
    let mut scene = Scene::new(points_per_mm);
    head_under(&mut scene, setup.powerhead());
    bar(&mut scene, setup);
    chain(&mut scene, setup);
    covers(&mut scene, setup.powerhead());
    scene
}

/// What the saw covers in its own frame, mm.
fn corners(setup: &Setup) -> [Point; 4] {
    let (rear, front) = (mm(setup.powerhead().rear_grip()), mm(setup.powerhead().front_grip()));
    let tip = setup.nose_zone().tip_x().as_mm();
    [
        Point::new(rear.x - 105.0, rear.y - 150.0),
        Point::new(rear.x - 60.0, rear.y + 40.0),
        Point::new(front.x + 80.0, front.y + 48.0),
        Point::new(tip, -45.0),
    ]
}

fn on_saw(scene: &mut Scene, setup: &Setup, kind: MeasureKind, nose_up: Angle) -> Rect {
    let head = setup.powerhead();
    let (front, rear) = (mm(head.front_grip()), mm(head.rear_grip()));
    let solved = solve(setup);
    let hang = solved.hang.unwrap_or(Angle::ZERO);
    let hangs = matches!(kind, MeasureKind::Hang | MeasureKind::Total | MeasureKind::SwingPeriod);
    let turn = if hangs {
        -hang
    } else if kind.is_at_grip() {
        nose_up
    } else {
        Angle::ZERO
    };
    let place = Affine::rotate_about(turn.as_rad(), front);
    let pt = scene.pt(1.0);
    if kind == MeasureKind::SwingPeriod {
        for side in [-1.0, 1.0] {
            let mut ghost = Scene::new(1.0 / pt);
            outlined_bar(&mut ghost, setup, GHOST, GHOST_WASH);
            outlined_head(&mut ghost, head, GHOST, GHOST_WASH);
            scene.add(ghost, Affine::rotate_about(turn.as_rad() + side * SWING.as_rad(), front));
        }
    }
    scene.add(saw(1.0 / pt, setup), place);
    let mut extent = corners(setup)
        .iter()
        .fold(Rect::from_points(front, front), |rect, corner| rect.union_pt(place * *corner));
    let tip = Point::new(solved.nose.tip_x().as_mm(), 0.0);
    match kind {
        MeasureKind::Hang => {
            cord(scene, front, &mut extent);
            angle_mark(scene, front, tip, hang, &mut extent);
        }
        MeasureKind::Total => spring_scale(scene, front, &mut extent),
        MeasureKind::SwingPeriod => {
            cord(scene, front, &mut extent);
            for side in [-1.0, 1.0] {
                let swung = Affine::rotate_about(turn.as_rad() + side * SWING.as_rad(), front);
                extent = extent.union_pt(swung * (tip + Vec2::new(0.0, side * 40.0)));
            }
        }
        MeasureKind::FrontGrip => {
            spring_scale(scene, front, &mut extent);
            let tips = solved.hands_at(nose_up).is_ok_and(|hands| hands.rear < Force::ZERO);
            if tips {
                ledge(scene, place * (rear + Vec2::new(0.0, 22.0)), &mut extent);
            } else {
                block(scene, place * (rear - Vec2::new(0.0, 14.0)), "block", &mut extent);
            }
        }
        MeasureKind::RearGrip => {
            spring_scale(scene, place * rear, &mut extent);
            cord(scene, front, &mut extent);
        }
        MeasureKind::BalancePoint => {
            let centre = mm(solved.saw.centroid);
            block(scene, Point::new(centre.x, UNDERSIDE_MM), "edge", &mut extent);
            let spikes = Point::new(head.spike_line().as_mm(), UNDERSIDE_MM);
            let edge = Point::new(centre.x, UNDERSIDE_MM);
            let y = BLOCK_PT * 2.6 * pt;
            dimension(scene, edge, spikes, y, "", Ink::Line);
            extent = extent.union_pt(Point::new(centre.x, UNDERSIDE_MM - y - 10.0 * pt));
        }
        MeasureKind::Reach => {
            let spikes = Point::new(head.spike_line().as_mm(), -50.0);
            dimension(scene, spikes, Point::new(tip.x, -50.0), 30.0 * pt, "tape", Ink::Line);
            extent = extent.union_pt(Point::new(tip.x, -50.0 - 42.0 * pt));
        }
        MeasureKind::Bar | MeasureKind::Loop => {}
    }
    extent
}

/// A cord up from a grip.
fn cord(scene: &mut Scene, grip: Point, extent: &mut Rect) {
    let top = grip + Vec2::new(0.0, 1.6 * CORD_PT * scene.pt(1.0));
    scene.line(grip, top, TOOL);
    ceiling(scene, top);
    *extent = extent.union_pt(top + Vec2::new(0.0, scene.pt(8.0)));
}

/// A hook's beam: a hatched line.
fn ceiling(scene: &mut Scene, at: Point) {
    let half = scene.pt(20.0);
    scene.line(at - Vec2::new(half, 0.0), at + Vec2::new(half, 0.0), Pen::solid(Ink::Line, 2.0));
    for step in -2..=2 {
        let from = at + Vec2::new(f64::from(step) * scene.pt(8.0), 0.0);
        scene.line(from, from + Vec2::new(scene.pt(5.0), scene.pt(6.0)), Pen::solid(Ink::Line, 1.0));
    }
}

/// A spring scale on a cord over a grip.
fn spring_scale(scene: &mut Scene, grip: Point, extent: &mut Rect) {
    let pt = scene.pt(1.0);
    let (half, tall) = (0.5 * SCALE_PT.0 * pt, SCALE_PT.1 * pt);
    let bottom = grip + Vec2::new(0.0, 0.7 * CORD_PT * pt);
    scene.line(grip, bottom, TOOL);
    let body =
        Rect::new(bottom.x - half, bottom.y, bottom.x + half, bottom.y + tall).to_rounded_rect(3.0 * pt);
    scene.fill(body.to_path(0.1 * pt), Ink::Sheet);
    scene.stroke(body.to_path(0.1 * pt), TOOL);
    // Its scale, and the pointer.
    for mark in 1..5 {
        let y = bottom.y + tall * f64::from(mark) / 5.0;
        let from = Point::new(bottom.x - 0.5 * half, y);
        scene.line(from, Point::new(bottom.x + 0.1 * half, y), Pen::solid(Ink::Line, 1.0));
    }
    let top = bottom + Vec2::new(0.0, tall);
    let hook = top + Vec2::new(0.0, 0.5 * CORD_PT * pt);
    scene.line(top, hook, TOOL);
    ceiling(scene, hook);
    scene.label(label(Point::new(bottom.x + half, bottom.y + 0.5 * tall), Side::Right, "scale"));
    *extent = extent.union_pt(hook + Vec2::new(0.0, 8.0 * pt));
}

/// A block whose edge carries something.
fn block(scene: &mut Scene, edge: Point, name: &str, extent: &mut Rect) {
    let pt = scene.pt(1.0);
    let (half, tall) = (0.7 * BLOCK_PT * pt, BLOCK_PT * 1.3 * pt);
    let mut path = BezPath::new();
    path.move_to(edge);
    path.line_to(edge + Vec2::new(half, -tall));
    path.line_to(edge + Vec2::new(-half, -tall));
    path.close_path();
    scene.fill(path.clone(), Ink::OursPale);
    scene.stroke(path, TOOL);
    let under = edge + Vec2::new(0.0, -tall);
    scene.line(
        under - Vec2::new(2.0 * half, 0.0),
        under + Vec2::new(2.0 * half, 0.0),
        Pen::solid(Ink::Line, 2.0),
    );
    scene.label(label(under + Vec2::new(-half, 0.45 * tall), Side::Left, name));
    *extent = extent.union_pt(under - Vec2::new(0.0, 6.0 * pt));
}

/// An edge that holds something down.
fn ledge(scene: &mut Scene, edge: Point, extent: &mut Rect) {
    let pt = scene.pt(1.0);
    let (half, tall) = (0.7 * BLOCK_PT * pt, BLOCK_PT * 1.3 * pt);
    let mut path = BezPath::new();
    path.move_to(edge);
    path.line_to(edge + Vec2::new(half, tall));
    path.line_to(edge + Vec2::new(-half, tall));
    path.close_path();
    scene.fill(path.clone(), Ink::OursPale);
    scene.stroke(path, TOOL);
    let over = edge + Vec2::new(0.0, tall);
    ceiling(scene, over);
    // Beside the beam, clear of the head's cover.
    scene.label(label(over + Vec2::new(20.0 * pt, 2.0 * pt), Side::Right, "ledge"));
    *extent = extent.union_pt(over + Vec2::new(0.0, 8.0 * pt));
}

/// The angle between level and the bar, and a phone lying on it.
fn angle_mark(scene: &mut Scene, pivot: Point, tip: Point, hang: Angle, extent: &mut Rect) {
    let turn = Affine::rotate_about(-hang.as_rad(), pivot);
    let (from, to) = (turn * Point::ORIGIN, turn * tip);
    let reach = (to - from).hypot();
    let level = from + Vec2::new(reach, 0.0);
    scene.line(from, level, Pen::solid(Ink::Ours, 1.5).with_dash(Dash::DashDot));
    let arc = Arc::new(from, (0.9 * reach, 0.9 * reach), 0.0, -hang.as_rad(), 0.0);
    scene.stroke(arc.to_path(0.5), TOOL);
    // Beyond the level line, clear of a bar that hangs nearly level.
    scene.label(label(level, Side::Right, "angle"));
    *extent = extent.union_pt(level + Vec2::new(scene.pt(56.0), 0.0));
    // The phone lies along the bar's upper edge.
    let phone = Rect::new(0.45 * tip.x, 44.0, 0.45 * tip.x + 150.0, 44.0 + scene.pt(4.0)).to_path(0.1);
    scene.fill(turn * phone, Ink::Ours);
}

/// A bar or a loop on a kitchen scale.
fn part_alone(scene: &mut Scene, setup: &Setup, is_bar: bool) -> Rect {
    if is_bar {
        bar(scene, setup)
    } else {
        chain(scene, setup)
    }
    let (tail, tip) = (-60.0, setup.nose_zone().tip_x().as_mm());
    let middle = if is_bar { setup.bar().part(setup.nose_centre()).centroid.x * 1e3 } else { 0.5 * tip };
    let pt = scene.pt(1.0);
    let top = -48.0;
    let (half, tall) = (46.0 * pt, 20.0 * pt);
    let pan = Rect::new(middle - 1.25 * half, top - 5.0 * pt, middle + 1.25 * half, top);
    let body = Rect::new(middle - half, top - 5.0 * pt - tall, middle + half, top - 5.0 * pt);
    for rect in [body, pan] {
        scene.fill(rect.to_path(0.1), Ink::Sheet);
        scene.stroke(rect.to_path(0.1), TOOL);
    }
    scene.label(label(body.center(), Side::Middle, "scale"));
    Rect::new(tail, body.y0 - 6.0 * pt, tip + 10.0, 60.0)
}

fn label(at: Point, side: Side, text: &str) -> Label {
    Label::new(at, side, text, Ink::Ours)
}
