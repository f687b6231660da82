//! One part by itself, to scale, with the measures that its form asks for.

use super::{
    bar, centre_of_gravity, chain, chain_run, covers, dimension, grip_mark, head_extent, head_under, mm,
    plate, tank,
};
use crate::desk::format::{self, Units};
use crate::desk::forms::parts::PartShown;
use crate::draw::strokes::{Dash, Label, Pen, Scene, Side};
use crate::draw::theme::Ink;
use barpoise_core::{Bar, Chain, Powerhead, Setup};
use kurbo::{Point, Rect, Shape, Vec2};

/// How far dimension lines stand off, and what their texts need, in points.
const OFF_PT: f64 = 26.0;
const TEXT_PT: f64 = 18.0;
/// A dimension shorter than this has its text outside, which needs so much, in points.
const SHORT_PT: f64 = 120.0;
const OUTSIDE_PT: f64 = 92.0;
/// Links of the run of chain that is drawn.
const RUN: u32 = 13;

/// The drawing and what it covers, mm.
pub fn part_scene(shown: &PartShown, units: Units, points_per_mm: f64) -> (Scene, Rect) {
    let mut scene = Scene::new(points_per_mm);
    let extent = match shown {
        PartShown::Powerhead(head) => head_scene(&mut scene, head, units),
        PartShown::Bar(bar) => bar_scene(&mut scene, bar, units),
        PartShown::Chain(chain) => chain_scene(&mut scene, chain),
        PartShown::Setup(setup) => setup_scene(&mut scene, setup, units),
    };
    (scene, extent)
}

fn head_scene(scene: &mut Scene, head: &Powerhead, units: Units) -> Rect {
    let extent = head_extent(head);
    head_under(scene, head);
    covers(scene, head);
    tank(scene, head.fuel_tank(), 1.0, Ink::Fuel);
    tank(scene, head.oil_tank(), 1.0, Ink::Oil);
    let axis = Pen::solid(Ink::Ours, 1.2).with_dash(Dash::DashDot);
    let (top, bottom) = (extent.y1 + scene.pt(6.0), extent.y0 - scene.pt(OFF_PT));
    scene.line(Point::new(extent.x0, 0.0), Point::new(extent.x1 + scene.pt(10.0), 0.0), axis);
    scene.line(Point::new(0.0, bottom), Point::new(0.0, top), axis);
    for (tank, name) in [(head.fuel_tank(), "fuel"), (head.oil_tank(), "oil")] {
        let middle = mm(tank.corner()) + 500.0 * Vec2::new(tank.size().x, tank.size().y);
        text(scene, middle, Side::Middle, name, false);
    }
    for grip in [head.front_grip(), head.rear_grip()] {
        grip_mark(scene, mm(grip));
    }
    centre_of_gravity(scene, mm(head.dry().centroid));
    let spikes = Point::new(head.spike_line().as_mm(), extent.y0);
    let off = scene.pt(OFF_PT);
    dimension(scene, Point::new(0.0, extent.y0), spikes, off, &units.length(head.spike_line()), Ink::Line);
    let right = (extent.x1 + scene.pt(10.0)).max(spikes.x + outside(scene, spikes.x));
    Rect::new(extent.x0, extent.y0 - scene.pt(OFF_PT + TEXT_PT), right, top)
}

fn bar_scene(scene: &mut Scene, bar: &Bar, units: Units) -> Rect {
    plate(scene, bar, Point::ORIGIN);
    let (radius, half) = (bar.nose_radius().as_mm(), 0.5 * bar.body_width().as_mm());
    let tail = radius - bar.overall_length().as_mm();
    let off = scene.pt(OFF_PT);
    let (from, to) = (Point::new(tail, -half), Point::new(radius, -half));
    dimension(scene, from, to, off, &units.length(bar.overall_length()), Ink::Line);
    let words =
        format!("{} wide, nose radius {}", units.length(bar.body_width()), units.length(bar.nose_radius()));
    let above = Point::new(0.5 * (tail + radius), half + scene.pt(4.0));
    text(scene, above, Side::Above, &words, false);
    Rect::new(tail, -half - off - scene.pt(TEXT_PT), radius, half + scene.pt(TEXT_PT + 14.0))
        .inflate(scene.pt(8.0), 0.0)
}

fn chain_scene(scene: &mut Scene, chain: &Chain) -> Rect {
    let pitch = chain.pitch().as_mm();
    let (lift, length) = (chain.rail_to_rivet().as_mm(), f64::from(RUN) * pitch);
    let rail = Rect::new(-pitch, -lift - 1.2 * pitch, length + pitch, -lift);
    scene.fill(rail.to_path(0.1), Ink::Plate);
    scene.line(Point::new(rail.x0, rail.y1), Point::new(rail.x1, rail.y1), Pen::solid(Ink::Steel, 1.2));
    chain_run(scene, chain, Point::ORIGIN, RUN);
    let (from, to) = (Point::new(2.0 * pitch, rail.y0), Point::new(4.0 * pitch, rail.y0));
    let words = format!("{} twice", format::pitch(chain.pitch()));
    dimension(scene, from, to, scene.pt(OFF_PT), &words, Ink::Line);
    let top = chain.cutter_height().as_mm() + pitch;
    Rect::new(rail.x0, rail.y0 - scene.pt(OFF_PT + TEXT_PT), rail.x1, top)
}

fn setup_scene(scene: &mut Scene, setup: &Setup, units: Units) -> Rect {
    let head = setup.powerhead();
    let extent = head_extent(head);
    head_under(scene, head);
    bar(scene, setup);
    chain(scene, setup);
    covers(scene, head);
    for grip in [head.front_grip(), head.rear_grip()] {
        grip_mark(scene, mm(grip));
    }
    let (spikes, tip) = (head.spike_line().as_mm(), setup.nose_zone().tip_x().as_mm());
    let reach = setup.reach();
    let low = extent.y0;
    dimension(
        scene,
        Point::new(spikes, low),
        Point::new(tip, low),
        scene.pt(OFF_PT),
        &units.length(reach),
        Ink::Line,
    );
    let right = extent.x1.max(tip + outside(scene, tip - spikes));
    Rect::new(extent.x0, low - scene.pt(OFF_PT + TEXT_PT), right, extent.y1)
}

/// What a dimension of this length needs beyond its far end, mm: where it is too short for its text, that lies
/// outside.
fn outside(scene: &Scene, length: f64) -> f64 {
    if length < scene.pt(SHORT_PT) { scene.pt(OUTSIDE_PT) } else { 0.0 }
}

fn text(scene: &mut Scene, at: Point, side: Side, words: &str, strong: bool) {
    let label = Label::new(at, side, words, Ink::Line).on_patch();
    scene.label(if strong { label.strong() } else { label });
}
