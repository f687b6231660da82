//! The measure of a part that is being typed, lit up on its drawing.

use super::mm;
use crate::desk::forms::parts::PartShown;
use crate::draw::strokes::{Pen, Scene};
use crate::draw::theme::Ink;
use barpoise_core::geometry::Point as SawPoint;
use barpoise_core::{Bar, Chain, Powerhead, Tank};
use kurbo::{Circle, Point, Rect, Shape, Vec2};

const LINE: Pen = Pen::solid(Ink::Ours, 4.0);
/// Half the length of the stroke across each end of a measure, and the radius of a ring round a point, in points.
const END_PT: f64 = 7.0;
const RING_PT: f64 = 12.0;

/// Draws what a field measures, by its path in the part; false where it is nothing that can be shown.
pub fn lit(scene: &mut Scene, shown: &PartShown, path: &str) -> bool {
    match shown {
        PartShown::Powerhead(head) => head_lit(scene, head, path),
        PartShown::Bar(bar) => bar_lit(scene, bar, path),
        PartShown::Chain(chain) => chain_lit(scene, chain, path),
        PartShown::Setup(_) => false,
    }
}

fn head_lit(scene: &mut Scene, head: &Powerhead, path: &str) -> bool {
    let (of, what) = path.rsplit_once('.').unwrap_or((path, ""));
    match (of, what) {
        ("spike_line_mm", _) => measure(scene, Point::ORIGIN, Point::new(head.spike_line().as_mm(), 0.0)),
        ("stud_mm", _) => measure(scene, Point::ORIGIN, Point::new(head.stud().as_mm(), 0.0)),
        ("front_grip", axis) => coordinate(scene, head.front_grip(), axis),
        ("rear_grip", axis) => coordinate(scene, head.rear_grip(), axis),
        ("centroid", axis) => coordinate(scene, head.dry().centroid, axis),
        ("sprocket", _) => ring(scene, Point::ORIGIN, head.sprocket_radius().as_mm()),
        ("fuel_tank" | "fuel_tank.corner", side) => tank(scene, head.fuel_tank(), side),
        ("oil_tank" | "oil_tank.corner", side) => tank(scene, head.oil_tank(), side),
        _ => return false,
    }
    true
}

fn bar_lit(scene: &mut Scene, bar: &Bar, path: &str) -> bool {
    let radius = bar.nose_radius().as_mm();
    let tail = radius - bar.overall_length().as_mm();
    let upright = |x: f64, half: f64| (Point::new(x, -half), Point::new(x, half));
    let (from, to) = match path {
        "overall_length_mm" => (Point::new(tail, 0.0), Point::new(radius, 0.0)),
        "body_width_mm" => upright(0.5 * (tail + radius), 0.5 * bar.body_width().as_mm()),
        "tail_width_mm" => {
            let corners = bar.outline().corners().iter().map(|corner| mm(*corner));
            let behind =
                corners.fold(Point::new(f64::MAX, 0.0), |last, at| if at.x < last.x { at } else { last });
            upright(behind.x, behind.y.abs())
        }
        "nose_radius_mm" => (Point::ORIGIN, Point::ORIGIN + radius * Vec2::from_angle(0.6)),
        _ => return false,
    };
    measure(scene, from, to);
    true
}

fn chain_lit(scene: &mut Scene, chain: &Chain, path: &str) -> bool {
    let pitch = chain.pitch().as_mm();
    let (from, to) = match path {
        "pitch_in" => (Point::new(2.0 * pitch, 0.0), Point::new(4.0 * pitch, 0.0)),
        "rail_to_rivet_mm" => {
            let x = 3.0 * pitch;
            (Point::new(x, -chain.rail_to_rivet().as_mm()), Point::new(x, 0.0))
        }
        "cutter_height_mm" => {
            let x = 4.0 * pitch;
            (Point::new(x, 0.0), Point::new(x, chain.cutter_height().as_mm()))
        }
        _ => return false,
    };
    measure(scene, from, to);
    true
}

/// How far a point lies along the bar from the sprocket's centre, or up from the bar's line.
fn coordinate(scene: &mut Scene, at: SawPoint, axis: &str) {
    let at = mm(at);
    let foot = if axis == "x_mm" { Point::new(0.0, at.y) } else { Point::new(at.x, 0.0) };
    measure(scene, foot, at);
    let around = scene.pt(RING_PT);
    ring(scene, at, around);
}

fn tank(scene: &mut Scene, tank: &Tank, side: &str) {
    let corner = mm(tank.corner());
    let size = tank.size() * 1e3;
    let far = corner + Vec2::new(size.x, size.y);
    match side {
        "x_mm" => measure(scene, Point::new(0.0, corner.y), corner),
        "y_mm" => measure(scene, Point::new(corner.x, 0.0), corner),
        "width_mm" => measure(scene, corner, Point::new(far.x, corner.y)),
        "height_mm" => measure(scene, corner, Point::new(corner.x, far.y)),
        _ => scene.stroke(Rect::from_points(corner, far).to_path(0.1), LINE),
    }
}

/// A line from one end to the other with a stroke across each.
fn measure(scene: &mut Scene, from: Point, to: Point) {
    scene.line(from, to, LINE);
    let along = to - from;
    if along.hypot() > 0.0 {
        let across = Vec2::new(-along.y, along.x).normalize() * scene.pt(END_PT);
        for end in [from, to] {
            scene.line(end - across, end + across, LINE);
        }
    }
}

fn ring(scene: &mut Scene, at: Point, radius: f64) {
    scene.stroke(Circle::new(at, radius).to_path(0.05), LINE);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::strokes::Item;
    use barpoise_core::file::demo;

    /// The longest stroke that lights a field up, mm.
    fn longest(shown: &PartShown, path: &str) -> f64 {
        let mut scene = Scene::new(1.0);
        assert!(lit(&mut scene, shown, path), "{path} is shown nowhere");
        let lines = scene.items().iter().filter_map(|item| match item {
            Item::Stroke { path, .. } => Some(path.perimeter(1e-3)),
            _ => None,
        });
        lines.fold(0.0, f64::max)
    }

    #[test]
    fn what_lights_up_is_as_long_as_what_is_typed() {
        let yard = demo().unwrap();
        let bar = yard.bars().first().unwrap();
        let shown = PartShown::Bar(Box::new((**bar).clone()));
        for (path, long) in [
            ("overall_length_mm", bar.overall_length()),
            ("body_width_mm", bar.body_width()),
            ("nose_radius_mm", bar.nose_radius()),
        ] {
            assert!((longest(&shown, path) - long.as_mm()).abs() < 1e-6, "{path}");
        }
    }

    #[test]
    fn a_field_that_is_nowhere_to_be_seen_lights_nothing() {
        let yard = demo().unwrap();
        let bar = yard.bars().first().unwrap();
        let mut scene = Scene::new(1.0);
        assert!(!lit(&mut scene, &PartShown::Bar(Box::new((**bar).clone())), "weighed_mass_kg"));
        assert!(scene.items().is_empty());
    }
}
