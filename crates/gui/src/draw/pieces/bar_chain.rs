//! The guide bar with its true outline and the chain with its true link pitch.

use super::{mm, through};
use crate::draw::strokes::{Pen, Scene};
use crate::draw::theme::Ink;
use barpoise_core::{Bar, Chain, CutterSequence, Setup};
use kurbo::{BezPath, Circle, Point, Rect, Shape, Vec2};

/// The bar plate with its groove line, nose sprocket and mounting slot, in the saw frame.
pub fn bar(scene: &mut Scene, setup: &Setup) {
    plate(scene, setup.bar(), mm(setup.nose_centre()));
}

/// A plate by itself, its nose circle's centre at a point.
pub fn plate(scene: &mut Scene, bar: &Bar, nose: Point) {
    let outline = outline_at(bar, nose);
    scene.fill(outline.clone(), Ink::Plate);
    scene.stroke(outline, Pen::solid(Ink::Steel, 1.2));
    let radius = bar.nose_radius().as_mm();
    scene.stroke(Circle::new(nose, 0.28 * radius).to_path(0.05), Pen::solid(Ink::Steel, 1.0));
    for rivet in [0.0, 1.0, 2.0, 3.0] {
        let at = nose + 0.62 * radius * Vec2::from_angle(std::f64::consts::FRAC_PI_4 * (2.0 * rivet + 1.0));
        scene.fill(Circle::new(at, 0.06 * radius).to_path(0.05), Ink::Steel);
    }
}

/// The bar's outline with a pen of one's own, on a wash of its ink.
pub fn outlined_bar(scene: &mut Scene, setup: &Setup, pen: Pen, opacity: f32) {
    let outline = bar_outline(setup);
    scene.wash(outline.clone(), pen.ink, opacity);
    scene.stroke(outline, pen);
}

/// The outline of the plate in the saw frame, mm.
pub(super) fn bar_outline(setup: &Setup) -> BezPath {
    outline_at(setup.bar(), mm(setup.nose_centre()))
}

fn outline_at(bar: &Bar, nose: Point) -> BezPath {
    let nose = nose.to_vec2();
    let mut path = through(bar.outline().corners().iter().map(|corner| mm(*corner) + nose));
    path.close_path();
    path
}

/// The chain round the rails: its band, a rivet for each pitch, and the cutters where the sequence has them.
///
/// The links are laid from the tip of the nose both ways at the true pitch; what the rails' belly adds to the
/// straight belt of the model closes under the clutch cover.
pub fn chain(scene: &mut Scene, setup: &Setup) {
    let path = ChainPath::new(setup);
    let chain = setup.chain();
    let pitch = chain.pitch().as_mm();
    let height = 0.9 * pitch;
    scene.fill(path.band(0.5 * height), Ink::Steel);
    let mut rivets = Vec::new();
    let mut cutters = BezPath::new();
    let half = 0.5 * path.length();
    let mut step = 0_u32;
    loop {
        let from_tip = f64::from(step) * pitch;
        if from_tip > half {
            break;
        }
        for side in [1.0, -1.0] {
            if step == 0 && side < 0.0 {
                continue;
            }
            let (at, along) = path.at(half + side * from_tip);
            rivets.push(at);
            if carries_cutter(chain.sequence(), step) {
                cutter(&mut cutters, at, along, pitch, chain.cutter_height().as_mm());
            }
        }
        step += 1;
    }
    scene.fill(cutters, Ink::Steel);
    scene.dots(rivets, 0.13 * pitch, Ink::OnSteel);
}

/// A straight run of so many pitches of a chain from a point on its rivet line, lying on a rail.
pub fn chain_run(scene: &mut Scene, chain: &Chain, from: Point, pitches: u32) {
    let pitch = chain.pitch().as_mm();
    let along = Vec2::new(1.0, 0.0);
    let (mut cutters, mut rivets) = (BezPath::new(), Vec::new());
    let end = from + along * (f64::from(pitches) * pitch);
    let half = 0.45 * pitch;
    let band = Rect::new(from.x - half, from.y - half, end.x + half, end.y + half);
    scene.fill(band.to_rounded_rect(half).to_path(0.05), Ink::Steel);
    for step in 0..=pitches {
        let at = from + along * (f64::from(step) * pitch);
        rivets.push(at);
        if carries_cutter(chain.sequence(), step) && step > 0 {
            cutter(&mut cutters, at, along, pitch, chain.cutter_height().as_mm());
        }
    }
    scene.fill(cutters, Ink::Steel);
    scene.dots(rivets, 0.13 * pitch, Ink::OnSteel);
}

fn carries_cutter(sequence: CutterSequence, step: u32) -> bool {
    match sequence {
        CutterSequence::FullComplement => step.is_multiple_of(4),
        CutterSequence::SemiSkip => matches!(step % 10, 0 | 4),
        CutterSequence::FullSkip => step.is_multiple_of(6),
    }
}

/// One cutter: a top plate that falls off behind its edge, which leads in the chain's direction.
fn cutter(path: &mut BezPath, at: Point, along: Vec2, pitch: f64, height: f64) {
    let out = Vec2::new(-along.y, along.x);
    let corner = |forward: f64, up: f64| at + along * (forward * pitch) + out * up;
    path.move_to(corner(-0.75, 0.0));
    path.line_to(corner(-0.7, 0.75 * height));
    path.line_to(corner(0.1, height));
    path.line_to(corner(0.15, 0.6 * height));
    path.line_to(corner(0.3, 0.25 * height));
    path.line_to(corner(0.55, 0.7 * height));
    path.line_to(corner(0.7, 0.65 * height));
    path.line_to(corner(0.75, 0.0));
    path.close_path();
}

/// The rivet line as drawn: off the sprocket, along the upper rail, round the nose and back.
struct ChainPath {
    points: Vec<Point>,
    along_mm: Vec<f64>,
}

impl ChainPath {
    fn new(setup: &Setup) -> Self {
        let lift = setup.chain().rail_to_rivet().as_mm();
        let nose = mm(setup.nose_centre()).to_vec2();
        // The plate's outline runs counter-clockwise from its lower tail corner; the chain runs the other way.
        let rail: Vec<Point> = setup.bar().outline().corners().iter().rev().map(|c| mm(*c) + nose).collect();
        let mut points = Vec::with_capacity(rail.len() + 2 * SPROCKET_STEPS);
        let radius = setup.path().sprocket_radius().as_mm();
        let arc = |from: f64, to: f64, i: usize| {
            let t = f64::from(u32::try_from(i).unwrap_or(0))
                / f64::from(u32::try_from(SPROCKET_STEPS).unwrap_or(1));
            Point::ORIGIN + radius * Vec2::from_angle(from + (to - from) * t)
        };
        let (back, top, bottom) = (std::f64::consts::PI, 1.9, 2.0 * std::f64::consts::PI - 1.9);
        points.extend((0..=SPROCKET_STEPS).map(|i| arc(back, top, i)));
        points.extend(lifted(&rail, lift));
        points.extend((0..=SPROCKET_STEPS).map(|i| arc(bottom, back, i)));
        let mut along = 0.0;
        let mut last: Option<Point> = None;
        let along_mm = points
            .iter()
            .map(|point| {
                along += last.map_or(0.0, |last| (*point - last).hypot());
                last = Some(*point);
                along
            })
            .collect();
        Self { points, along_mm }
    }

    fn length(&self) -> f64 {
        self.along_mm.last().copied().unwrap_or(0.0)
    }

    /// The point at a distance along the path and the direction of travel there.
    fn at(&self, along: f64) -> (Point, Vec2) {
        let next = self.along_mm.partition_point(|&mark| mark < along).clamp(1, self.points.len().max(2) - 1);
        let pair = self.points.get(next - 1).zip(self.points.get(next));
        let marks = self.along_mm.get(next - 1).zip(self.along_mm.get(next));
        let (Some((a, b)), Some((from, to))) = (pair, marks) else {
            return (Point::ORIGIN, Vec2::new(1.0, 0.0));
        };
        let span = (to - from).max(1e-9);
        (a.lerp(*b, (along - from) / span), (*b - *a) / span)
    }

    /// A closed band of half the given width either side of the path.
    fn band(&self, half: f64) -> BezPath {
        let mut path = BezPath::new();
        for offset in [half, -half] {
            path.extend(through(lifted(&self.points, offset)));
            path.close_path();
        }
        path
    }
}

const SPROCKET_STEPS: usize = 6;

/// A polyline moved to its left by a distance, corner by corner along the mean of the edges' normals.
fn lifted(points: &[Point], by: f64) -> Vec<Point> {
    points
        .iter()
        .enumerate()
        .map(|(index, point)| {
            let before = points.get(index.wrapping_sub(1)).copied().unwrap_or(*point);
            let after = points.get(index + 1).copied().unwrap_or(*point);
            let along = after - before;
            let normal = Vec2::new(-along.y, along.x) / along.hypot().max(1e-9);
            *point + normal * by
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use barpoise_core::file::demo;

    #[test]
    fn rivets_are_drawn_one_pitch_apart() {
        let yard = demo().unwrap();
        for setup in yard.setups() {
            let path = ChainPath::new(setup);
            let pitch = setup.chain().pitch().as_mm();
            let on_the_rail = 0.5 * path.length() - 12.0 * pitch;
            let (a, _) = path.at(on_the_rail);
            let (b, _) = path.at(on_the_rail - pitch);
            let apart = (a - b).hypot();
            assert!((apart - pitch).abs() < 0.01 * pitch, "{}: {apart} for {pitch}", setup.name());
        }
    }

    #[test]
    fn the_drawn_nose_is_where_the_model_has_it() {
        let yard = demo().unwrap();
        for setup in yard.setups() {
            let path = ChainPath::new(setup);
            let tip = path.points.iter().fold(f64::MIN, |far, p| far.max(p.x));
            let model = (setup.path().centre_distance() + setup.path().nose_radius()).as_mm();
            assert!((tip - model).abs() < 0.05, "{}: drawn {tip}, model {model}", setup.name());
        }
    }

    #[test]
    fn the_drawn_loop_is_the_models_but_for_the_belly() {
        let yard = demo().unwrap();
        for setup in yard.setups() {
            let drawn = ChainPath::new(setup).length();
            let model = setup.path().length().as_mm();
            assert!((drawn / model - 1.0).abs() < 0.02, "{}: drawn {drawn}, model {model}", setup.name());
        }
    }
}
