//! The powerhead: the silhouette that the model has, with what is only drawn on it.

use super::{mm, through};
use crate::draw::strokes::{Dash, Label, Pen, Scene, Side};
use crate::draw::theme::Ink;
use barpoise_core::saw::{
    HeadFit, HeadPart, OutlineStep,
    OutlineStep::{Close, Curve, Line, Move},
};
use barpoise_core::{Outline, Powerhead, Setup, Tank};
use kurbo::{BezPath, Circle, Point, Rect, Shape, Vec2};

type Step = OutlineStep<(f64, f64)>;

/// A path of steps that already lie on a head.
fn path(steps: &[OutlineStep<barpoise_core::geometry::Point>]) -> BezPath {
    let mut path = BezPath::new();
    for step in steps {
        match *step {
            Move(p) => path.move_to(mm(p)),
            Line(p) => path.line_to(mm(p)),
            Curve(a, b, p) => path.curve_to(mm(a), mm(b), mm(p)),
            Close => path.close_path(),
        }
    }
    path
}

/// A part of the silhouette that drawing and model share, on a head.
fn part(head: &Powerhead, part: HeadPart) -> BezPath {
    path(&part.generic_on(head))
}

/// What is drawn on the silhouette and no part of it: steps on the generic head, mm.
fn drawn_on(head: &Powerhead, steps: &[Step]) -> BezPath {
    path(&HeadFit::new(head).placed(steps))
}

const TOP_COVER: &[Step] = &[
    Move((-194.0, 62.0)),
    Curve((-168.0, 84.0), (-146.0, 118.0), (-112.0, 122.0)),
    Curve((-84.0, 125.0), (-62.0, 124.0), (-42.0, 122.0)),
    Curve((-14.0, 114.0), (4.0, 100.0), (20.0, 92.0)),
    Line((10.0, 60.0)),
    Curve((-60.0, 58.0), (-140.0, 58.0), (-194.0, 62.0)),
    Close,
];

const CLUTCH_COVER: &[Step] = &[
    Move((-96.0, -6.0)),
    Curve((-94.0, 34.0), (-72.0, 54.0), (-36.0, 54.0)),
    Line((104.0, 50.0)),
    Curve((124.0, 48.0), (HeadFit::BODY_FRONT, 40.0), (HeadFit::BODY_FRONT, 28.0)),
    Line((HeadFit::BODY_FRONT, -56.0)),
    Line((-50.0, -54.0)),
    Curve((-80.0, -52.0), (-96.0, -34.0), (-96.0, -6.0)),
    Close,
];

const TRIGGER: &[Step] = &[
    Move((-268.0, 50.0)),
    Curve((-272.0, 36.0), (-282.0, 26.0), (-278.0, 18.0)),
    Curve((-274.0, 12.0), (-268.0, 10.0), (-264.0, 6.0)),
];

const FINS: &[Step] = &[
    Move((-58.0, 92.0)),
    Line((-42.0, 68.0)),
    Move((-74.0, 96.0)),
    Line((-56.0, 68.0)),
    Move((-90.0, 98.0)),
    Line((-70.0, 68.0)),
];

const LINE: Pen = Pen::solid(Ink::Line, 1.4);
const THIN: Pen = Pen::solid(Ink::Line, 1.0);

/// What lies behind the bar: handles, guard and body, in the saw frame.
pub fn head_under(scene: &mut Scene, head: &Powerhead) {
    scene.fill(part(head, HeadPart::Guard), Ink::Steel);
    let handle = part(head, HeadPart::RearHandle);
    scene.fill(handle.clone(), Ink::Body);
    scene.stroke(handle, LINE);
    scene.stroke(drawn_on(head, TRIGGER), Pen::solid(Ink::Line, 2.0));
    let body = body(head);
    scene.fill(body.clone(), Ink::Body);
    scene.stroke(body, LINE);
}

fn body(head: &Powerhead) -> BezPath {
    match head.outline() {
        Outline::Generic => part(head, HeadPart::Body),
        Outline::Own(polygon) => {
            let mut path = through(polygon.corners().iter().map(|corner| mm(*corner)));
            path.close_path();
            path
        }
    }
}

/// What lies in front of the bar: covers, studs, spikes and the front handle, in the saw frame.
pub fn covers(scene: &mut Scene, head: &Powerhead) {
    for cover in [TOP_COVER, CLUTCH_COVER] {
        let path = drawn_on(head, cover);
        scene.fill(path.clone(), Ink::Cover);
        scene.stroke(path, LINE);
    }
    scene.stroke(drawn_on(head, FINS), THIN);
    scene.fill(part(head, HeadPart::Spikes), Ink::Steel);
    studs(scene, head);
    scene.stroke(
        Circle::new(Point::ORIGIN, head.sprocket_radius().as_mm()).to_path(0.05),
        Pen::solid(Ink::Line, 1.0).with_dash(Dash::Dashed),
    );
    let handle = part(head, HeadPart::FrontHandle);
    scene.fill(handle.clone(), Ink::Body);
    scene.stroke(handle, LINE);
}

fn studs(scene: &mut Scene, head: &Powerhead) {
    const STUD_GAP: f64 = 15.0;
    for side in [-1.0, 1.0] {
        let at = Point::new(head.stud().as_mm() + side * STUD_GAP, 0.0);
        scene.fill(nut(at), Ink::Body);
        scene.stroke(nut(at), THIN);
    }
}

fn nut(at: Point) -> BezPath {
    const RADIUS: f64 = 8.0;
    let corner = |turn: u32| at + RADIUS * Vec2::from_angle(f64::from(turn) * std::f64::consts::FRAC_PI_3);
    let mut path = through((0..6).map(corner));
    path.close_path();
    path
}

/// What the drawn head covers, saw frame.
pub fn head_extent(head: &Powerhead) -> Rect {
    [HeadPart::RearHandle, HeadPart::FrontHandle, HeadPart::Guard, HeadPart::Spikes]
        .into_iter()
        .fold(body(head).bounding_box(), |all, other| all.union(part(head, other).bounding_box()))
}

/// Where a point of the generic head, mm, lies on this one, saw frame.
pub fn on_head(head: &Powerhead, generic: (f64, f64)) -> Point {
    mm(HeadFit::new(head).place(generic))
}

/// The guard before the front hand, the lever of the chain brake, with a pen of one's own.
pub fn guard(scene: &mut Scene, head: &Powerhead, pen: Pen) {
    let guard = part(head, HeadPart::Guard);
    scene.wash(guard.clone(), pen.ink, 0.3);
    scene.stroke(guard, pen);
}

/// The outlines alone with a pen of one's own, on a wash of its ink.
pub fn outlined_head(scene: &mut Scene, head: &Powerhead, pen: Pen, opacity: f32) {
    for part in [part(head, HeadPart::RearHandle), body(head), part(head, HeadPart::FrontHandle)] {
        scene.wash(part.clone(), pen.ink, opacity);
        scene.stroke(part, pen);
    }
    scene.stroke(part(head, HeadPart::Spikes), pen);
}

/// The whole saw where it is small: handles, body, bar and spikes.
pub fn silhouette(scene: &mut Scene, setup: &Setup) {
    let head = setup.powerhead();
    let outline = super::bar_chain::bar_outline(setup);
    scene.stroke(outline.clone(), Pen::solid(Ink::Steel, 3.0));
    scene.fill(outline, Ink::Plate);
    for part in [part(head, HeadPart::RearHandle), body(head), part(head, HeadPart::FrontHandle)] {
        scene.fill(part.clone(), Ink::Cover);
        scene.stroke(part, Pen::solid(Ink::Line, 1.0));
    }
    scene.fill(part(head, HeadPart::Spikes), Ink::Steel);
}

/// How far a saw's silhouette stretches behind its spikes and ahead of them, mm.
pub fn about_spikes(setup: &Setup) -> (f64, f64) {
    const BEHIND_GRIP_MM: f64 = 100.0;
    const AHEAD_OF_NOSE_MM: f64 = 10.0;
    let (head, path) = (setup.powerhead(), setup.path());
    let spikes = head.spike_line().as_mm();
    let tip = (path.centre_distance() + path.nose_radius()).as_mm();
    (spikes - mm(head.rear_grip()).x + BEHIND_GRIP_MM, tip - spikes + AHEAD_OF_NOSE_MM)
}

/// A tank, its rectangle dashed and the fluid filled to its level, in the saw frame.
pub fn tank(scene: &mut Scene, tank: &Tank, fill: f64, ink: Ink) {
    let corner = mm(tank.corner());
    let size = tank.size() * 1e3;
    let whole = Rect::new(corner.x, corner.y, corner.x + size.x, corner.y + size.y);
    let fluid = Rect { y1: tank_level_mm(tank, fill), ..whole };
    if fill > 0.0 {
        scene.fill(fluid.to_path(0.1), ink);
        scene.line(
            Point::new(fluid.x0, fluid.y1),
            Point::new(fluid.x1, fluid.y1),
            Pen::solid(Ink::Line, 1.4),
        );
    }
    scene.stroke(whole.to_path(0.1), Pen::solid(Ink::Line, 1.0).with_dash(Dash::Dashed));
}

/// The tank's name, on the drawing beside its rear edge.
pub fn tank_label(scene: &mut Scene, tank: &Tank, name: &str) {
    let corner = mm(tank.corner());
    let at = Point::new(corner.x, corner.y + tank.size().y * 500.0);
    scene.label(Label::new(at, Side::Right, name, Ink::Line));
}

/// Height of the fluid's surface in the saw frame, mm.
pub fn tank_level_mm(tank: &Tank, fill: f64) -> f64 {
    mm(tank.corner()).y + tank.size().y * 1e3 * fill
}

#[cfg(test)]
mod tests {
    use super::*;
    use barpoise_core::file::demo;
    use barpoise_core::geometry::Polygon;
    use barpoise_core::person::SawBody;

    /// A drawn curve stands so far from the chords that the model takes it for, mm.
    const CHORD_MM: f64 = 2.0;

    /// Farthest of a polygon's corners and of the middles of its edges from a path, mm.
    fn farthest_off(path: &BezPath, polygon: &Polygon, spikes_mm: f64) -> f64 {
        use kurbo::ParamCurveNearest;
        let off = |p: barpoise_core::geometry::Point| {
            let p = mm(p) + Vec2::new(spikes_mm, 0.0);
            path.segments()
                .map(|segment| segment.nearest(p, 1e-6).distance_sq)
                .fold(f64::INFINITY, f64::min)
                .sqrt()
        };
        polygon.edges().flat_map(|(a, b)| [off(a), off(a + 0.5 * (b - a))]).fold(0.0, f64::max)
    }

    #[test]
    fn what_is_drawn_is_what_the_model_holds_against_wood_and_ground() {
        let yard = demo().unwrap();
        let mut own = yard.file().clone();
        let corner = |x_mm, y_mm| barpoise_core::record::PointFile { x_mm, y_mm };
        own.powerheads[0].outline = barpoise_core::record::OutlineFile::Corners(vec![
            corner(-220.0, -90.0),
            corner(140.0, -90.0),
            corner(120.0, 60.0),
            corner(-200.0, 110.0),
        ]);
        let own = barpoise_core::Yard::new(own).unwrap();
        for head in yard.powerheads().iter().chain(own.powerheads().first()) {
            let model = SawBody::of(head);
            let drawn = [body(head), part(head, HeadPart::RearHandle), part(head, HeadPart::FrontHandle)];
            assert_eq!(model.outline().count(), drawn.len());
            for (path, polygon) in drawn.iter().zip(model.outline()) {
                let off = farthest_off(path, polygon, head.spike_line().as_mm());
                assert!(off < CHORD_MM, "{}: {off} mm", head.name());
            }
            assert_eq!(model.is_proposed(), matches!(head.outline(), Outline::Generic));
        }
    }
}
