//! The powerhead: a generic silhouette stretched to the head's own grips and spike line.

use super::mm;
use crate::draw::strokes::{Dash, Label, Pen, Scene, Side};
use crate::draw::theme::Ink;
use barpoise_core::{Outline, Powerhead, Setup, Tank};
use kurbo::{BezPath, Circle, Point, Rect, Shape, Vec2};

/// The head for which the silhouette was drawn, mm: grips and spike line.
const REAR_GRIP: Point = Point::new(-323.0, 60.0);
const FRONT_GRIP: Point = Point::new(-5.0, 165.0);
const SPIKE_LINE: f64 = 183.0;
/// The body's front edge behind the spike line.
const BODY_FRONT: f64 = 137.0;

/// Where a point of the generic silhouette lies on a head: straight between the landmarks, unit scale beyond.
struct Fit {
    rear: Point,
    front: Point,
    spike_line: f64,
}

impl Fit {
    fn new(head: &Powerhead) -> Self {
        Self {
            rear: mm(head.rear_grip()),
            front: mm(head.front_grip()),
            spike_line: head.spike_line().as_mm(),
        }
    }

    fn place(&self, p: Point) -> Point {
        let between = |value: f64, from: (f64, f64), to: (f64, f64)| {
            to.0 + (value - from.0) * (to.1 - to.0) / (from.1 - from.0)
        };
        let x = if p.x <= REAR_GRIP.x {
            p.x - REAR_GRIP.x + self.rear.x
        } else if p.x <= FRONT_GRIP.x {
            between(p.x, (REAR_GRIP.x, FRONT_GRIP.x), (self.rear.x, self.front.x))
        } else {
            between(p.x, (FRONT_GRIP.x, SPIKE_LINE), (self.front.x, self.spike_line))
        };
        let tall = self.front.y / FRONT_GRIP.y;
        // The rear handle follows its grip; its lift fades out towards the body.
        let lift = (self.rear.y - REAR_GRIP.y * tall)
            * between(p.x, (-215.0, REAR_GRIP.x), (0.0, 1.0)).clamp(0.0, 1.0);
        Point::new(x, p.y * tall + lift)
    }

    /// A path through the given steps, every point put in its place on this head.
    fn path(&self, steps: &[Step]) -> BezPath {
        let at = |p: (f64, f64)| self.place(Point::new(p.0, p.1));
        let mut path = BezPath::new();
        for step in steps {
            match *step {
                Step::Move(p) => path.move_to(at(p)),
                Step::Line(p) => path.line_to(at(p)),
                Step::Curve(a, b, p) => path.curve_to(at(a), at(b), at(p)),
                Step::Close => path.close_path(),
            }
        }
        path
    }
}

/// One step of an outline in the generic head's frame, mm.
#[derive(Clone, Copy)]
enum Step {
    Move((f64, f64)),
    Line((f64, f64)),
    Curve((f64, f64), (f64, f64), (f64, f64)),
    Close,
}

use Step::{Close, Curve, Line, Move};

const REAR_HANDLE: &[Step] = &[
    Move((-205.0, 78.0)),
    Curve((-260.0, 84.0), (-330.0, 82.0), (-372.0, 40.0)),
    Curve((-412.0, 2.0), (-422.0, -40.0), (-414.0, -66.0)),
    Curve((-408.0, -84.0), (-392.0, -86.0), (-372.0, -86.0)),
    Line((-200.0, -84.0)),
    Line((-200.0, -58.0)),
    Curve((-240.0, -60.0), (-300.0, -62.0), (-352.0, -62.0)),
    Curve((-374.0, -62.0), (-380.0, -48.0), (-370.0, -24.0)),
    Curve((-350.0, 16.0), (-320.0, 46.0), (-286.0, 50.0)),
    Curve((-256.0, 54.0), (-226.0, 54.0), (-200.0, 52.0)),
    Close,
];

const BODY: &[Step] = &[
    Move((-212.0, -70.0)),
    Line((-216.0, 16.0)),
    Curve((-214.0, 44.0), (-202.0, 60.0), (-188.0, 72.0)),
    Curve((-160.0, 92.0), (-142.0, 122.0), (-112.0, 126.0)),
    Curve((-84.0, 129.0), (-62.0, 128.0), (-40.0, 126.0)),
    Curve((-18.0, 122.0), (0.0, 108.0), (18.0, 100.0)),
    Curve((60.0, 90.0), (100.0, 84.0), (118.0, 66.0)),
    Curve((132.0, 54.0), (BODY_FRONT, 46.0), (BODY_FRONT, 36.0)),
    Line((BODY_FRONT, -66.0)),
    Curve((BODY_FRONT, -78.0), (130.0, -85.0), (118.0, -85.0)),
    Line((-196.0, -85.0)),
    Curve((-206.0, -85.0), (-212.0, -80.0), (-212.0, -70.0)),
    Close,
];

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
    Curve((124.0, 48.0), (BODY_FRONT, 40.0), (BODY_FRONT, 28.0)),
    Line((BODY_FRONT, -56.0)),
    Line((-50.0, -54.0)),
    Curve((-80.0, -52.0), (-96.0, -34.0), (-96.0, -6.0)),
    Close,
];

const SPIKES: &[Step] = &[
    Move((132.0, 40.0)),
    Line((150.0, 36.0)),
    Line((SPIKE_LINE, 25.0)),
    Line((162.0, 14.0)),
    Line((164.0, 8.0)),
    Line((SPIKE_LINE, -4.0)),
    Line((162.0, -15.0)),
    Line((164.0, -21.0)),
    Line((SPIKE_LINE, -33.0)),
    Line((150.0, -46.0)),
    Line((132.0, -50.0)),
    Close,
];

const GUARD: &[Step] = &[
    Move((44.0, 92.0)),
    Line((58.0, 88.0)),
    Curve((72.0, 108.0), (86.0, 118.0), (88.0, 146.0)),
    Curve((90.0, 170.0), (86.0, 190.0), (78.0, 208.0)),
    Curve((75.0, 213.0), (69.0, 211.0), (70.0, 205.0)),
    Curve((76.0, 184.0), (78.0, 168.0), (75.0, 148.0)),
    Curve((72.0, 122.0), (58.0, 110.0), (44.0, 92.0)),
    Close,
];

const FRONT_HANDLE: &[Step] = &[
    Move((-50.0, 58.0)),
    Line((-37.0, 54.0)),
    Curve((-30.0, 90.0), (-20.0, 130.0), (3.0, 157.0)),
    Curve((10.0, 166.0), (2.0, 178.0), (-8.0, 175.0)),
    Curve((-22.0, 168.0), (-40.0, 110.0), (-50.0, 58.0)),
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
    let fit = Fit::new(head);
    scene.fill(fit.path(GUARD), Ink::Steel);
    let handle = fit.path(REAR_HANDLE);
    scene.fill(handle.clone(), Ink::Body);
    scene.stroke(handle, LINE);
    scene.stroke(fit.path(TRIGGER), Pen::solid(Ink::Line, 2.0));
    let body = body(head, &fit);
    scene.fill(body.clone(), Ink::Body);
    scene.stroke(body, LINE);
}

fn body(head: &Powerhead, fit: &Fit) -> BezPath {
    match head.outline() {
        Outline::Generic => fit.path(BODY),
        Outline::Own(polygon) => {
            let mut path = BezPath::new();
            for (index, corner) in polygon.corners().iter().enumerate() {
                if index == 0 { path.move_to(mm(*corner)) } else { path.line_to(mm(*corner)) }
            }
            path.close_path();
            path
        }
    }
}

/// What lies in front of the bar: covers, studs, spikes and the front handle, in the saw frame.
pub fn covers(scene: &mut Scene, head: &Powerhead) {
    let fit = Fit::new(head);
    for cover in [TOP_COVER, CLUTCH_COVER] {
        let path = fit.path(cover);
        scene.fill(path.clone(), Ink::Cover);
        scene.stroke(path, LINE);
    }
    scene.stroke(fit.path(FINS), THIN);
    scene.fill(fit.path(SPIKES), Ink::Steel);
    studs(scene, head);
    scene.stroke(
        Circle::new(Point::ORIGIN, head.sprocket_radius().as_mm()).to_path(0.05),
        Pen::solid(Ink::Line, 1.0).with_dash(Dash::Dashed),
    );
    let handle = fit.path(FRONT_HANDLE);
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
    let mut path = BezPath::new();
    for corner in 0..6_u32 {
        let point = at + RADIUS * Vec2::from_angle(f64::from(corner) * std::f64::consts::FRAC_PI_3);
        if corner == 0 { path.move_to(point) } else { path.line_to(point) }
    }
    path.close_path();
    path
}

/// The front of the head alone, for a drawing in which the rest has no room: clutch cover, studs and spikes.
pub fn stub(scene: &mut Scene, head: &Powerhead) {
    let fit = Fit::new(head);
    let cover = fit.path(CLUTCH_COVER);
    scene.fill(cover.clone(), Ink::Body);
    scene.stroke(cover, LINE);
    scene.fill(fit.path(SPIKES), Ink::Steel);
    studs(scene, head);
}

/// What the drawn head covers, saw frame.
pub fn head_extent(head: &Powerhead) -> Rect {
    let fit = Fit::new(head);
    [REAR_HANDLE, FRONT_HANDLE, GUARD, SPIKES]
        .into_iter()
        .fold(body(head, &fit).bounding_box(), |all, part| all.union(fit.path(part).bounding_box()))
}

/// The outlines that the ghost shows.
pub fn ghost_head(scene: &mut Scene, head: &Powerhead) {
    let fit = Fit::new(head);
    for part in [fit.path(REAR_HANDLE), body(head, &fit), fit.path(FRONT_HANDLE)] {
        scene.wash(part.clone(), Ink::Ghost, 0.25);
        scene.stroke(part, Pen::solid(Ink::Ghost, 1.2));
    }
}

/// The outlines alone with a pen of one's own, on a wash of its ink.
pub fn outlined_head(scene: &mut Scene, head: &Powerhead, pen: Pen, opacity: f32) {
    let fit = Fit::new(head);
    for part in [fit.path(REAR_HANDLE), body(head, &fit), fit.path(FRONT_HANDLE)] {
        scene.wash(part.clone(), pen.ink, opacity);
        scene.stroke(part, pen);
    }
    scene.stroke(fit.path(SPIKES), pen);
}

/// The whole saw where it is small: handles, body, bar and spikes.
pub fn silhouette(scene: &mut Scene, setup: &Setup) {
    let head = setup.powerhead();
    let fit = Fit::new(head);
    let outline = super::bar_chain::bar_outline(setup);
    scene.stroke(outline.clone(), Pen::solid(Ink::Steel, 3.0));
    scene.fill(outline, Ink::Plate);
    for part in [fit.path(REAR_HANDLE), body(head, &fit), fit.path(FRONT_HANDLE)] {
        scene.fill(part.clone(), Ink::Cover);
        scene.stroke(part, Pen::solid(Ink::Line, 1.0));
    }
    scene.fill(fit.path(SPIKES), Ink::Steel);
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

    #[test]
    fn the_silhouette_meets_every_heads_landmarks() {
        for head in demo().unwrap().powerheads() {
            let fit = Fit::new(head);
            let near = |a: Point, b: Point| assert!((a - b).hypot() < 1e-9, "{}: {a:?} {b:?}", head.name());
            near(fit.place(FRONT_GRIP), mm(head.front_grip()));
            near(fit.place(REAR_GRIP), mm(head.rear_grip()));
            let tip = fit.path(SPIKES).bounding_box().x1;
            assert!((tip - head.spike_line().as_mm()).abs() < 1e-6, "{}: spikes at {tip}", head.name());
        }
    }
}
