//! The log section as a drawing: wood, bark, ground, tangle, cuts, and the saw before it.

use super::{bar, chain, head};
use crate::draw::strokes::{Dash, Pen, Scene};
use crate::draw::theme::Ink;
use barpoise_core::Setup;
use barpoise_core::geometry::Point as Metres;
use barpoise_core::log::{Edge, LogJob, Outline, Pose, Tangle};
use barpoise_core::units::{Angle, Length};
use kurbo::{Affine, Arc, BezPath, Line, ParamCurve, Point, Rect, Shape, Vec2};

/// Rings drawn in the wood, as shares of the section.
const RINGS: [f64; 5] = [0.16, 0.34, 0.52, 0.70, 0.87];
/// How far the tangle reaches from the bark, mm, and how many branches it has.
const TANGLE_DEPTH_MM: f64 = 300.0;
const BRANCHES: u32 = 44;

/// A point of the section in millimetres.
pub fn section_mm(point: Metres) -> Point {
    super::mm(point)
}

/// A closed outline of lines and arcs as a path; arcs stay arcs.
fn outline_path(edges: &[Edge]) -> BezPath {
    let mut path = BezPath::new();
    for (index, edge) in edges.iter().enumerate() {
        if index == 0 {
            path.move_to(section_mm(edge.start()));
        }
        match edge {
            Edge::Line(_) => path.line_to(section_mm(edge.end())),
            Edge::Arc(arc) => {
                let radius = Length::from_m(arc.radius_m()).as_mm();
                let centre = section_mm(arc.centre());
                let arc = Arc::new(centre, (radius, radius), arc.from_rad(), arc.sweep_rad(), 0.0);
                for element in arc.append_iter(0.05) {
                    path.push(element);
                }
            }
        }
    }
    path.close_path();
    path
}

/// Several outlines, holes included, as one path.
fn outlines_path(outlines: &[Outline]) -> BezPath {
    let mut path = BezPath::new();
    for outline in outlines {
        path.extend(outline_path(outline.edges()));
    }
    path
}

/// The wood with its rings, without its bark.
pub fn wood(scene: &mut Scene, job: &LogJob) {
    let outline = outline_path(job.section().outline());
    scene.fill(outline.clone(), Ink::Wood);
    for ring in RINGS {
        scene.stroke(Affine::scale(ring) * outline.clone(), Pen::solid(Ink::Ring, 1.0));
    }
}

/// The bark, over what is cut.
pub fn bark(scene: &mut Scene, job: &LogJob) {
    scene.stroke(outline_path(job.section().outline()), Pen::solid(Ink::Bark, 5.0));
}

/// Wood that is gone; neighbouring settings take different shades.
pub fn cut(scene: &mut Scene, outlines: &[Outline], setting: usize) {
    let ink = if setting.is_multiple_of(2) { Ink::OursPale } else { Ink::OursMid };
    let path = outlines_path(outlines);
    scene.wash(path.clone(), ink, 0.9);
    hatch(scene, &path, setting);
    scene.stroke(path, Pen::solid(Ink::OursMid, 1.0));
}

/// Lines across what is cut, so that it is told from wood in grey as well; the next setting's run the other way.
fn hatch(scene: &mut Scene, path: &BezPath, setting: usize) {
    const EVERY_PT: f64 = 9.0;
    const MOST: u32 = 400;
    let lean = if setting.is_multiple_of(2) { 1.0 } else { -1.0 };
    let along = Vec2::new(1.0, lean).normalize();
    let across = Vec2::new(-along.y, along.x);
    let extent = path.bounding_box();
    let (middle, half) = (extent.center(), 0.5 * extent.size().to_vec2().hypot());
    let every = scene.pt(EVERY_PT);
    let mut line_at = |offset: f64| {
        let foot = middle + across * offset;
        let line = Line::new(foot - along * half, foot + along * half);
        let meets = path.segments().flat_map(|segment| segment.intersect_line(line));
        let mut meets: Vec<f64> = meets.map(|meet| meet.line_t).collect();
        meets.sort_by(f64::total_cmp);
        for pair in meets.chunks_exact(2) {
            let [from, to] = pair else { continue };
            scene.line(line.eval(*from), line.eval(*to), Pen::solid(Ink::OursMid, 0.8));
        }
    };
    for step in 0..MOST {
        let offset = every * f64::from(step);
        if offset > half {
            break;
        }
        line_at(offset);
        if step > 0 {
            line_at(-offset);
        }
    }
}

/// Wood that no setting takes.
pub fn left(scene: &mut Scene, outlines: &[Outline]) {
    scene.stroke(outlines_path(outlines), Pen::solid(Ink::Warn, 2.5).with_dash(Dash::Dashed));
}

/// The ground, hatched, between two places.
pub fn ground(scene: &mut Scene, job: &LogJob, from_mm: f64, to_mm: f64) {
    const EVERY_PT: f64 = 18.0;
    let at = |x_mm| Point::new(x_mm, ground_mm(job, x_mm));
    scene.line(at(from_mm), at(to_mm), Pen::solid(Ink::Bark, 1.5));
    let (step, depth) = (scene.pt(EVERY_PT), scene.pt(7.0));
    let mut x = from_mm + step;
    while x < to_mm {
        scene.line(at(x), at(x) - Vec2::new(depth, depth), Pen::solid(Ink::Ring, 1.0));
        x += step;
    }
}

/// Height of the ground at a place across the log, mm: it slopes as the person stands on it.
pub fn ground_mm(job: &LogJob, x_mm: f64) -> f64 {
    Length::from_m(job.ground_m(Length::from_mm(x_mm).as_m())).as_mm()
}

/// Branches on the tangled side, laid out the same way every time.
pub fn tangle(scene: &mut Scene, job: &LogJob) {
    let side = match job.tangle() {
        Tangle::None => return,
        Tangle::Far => 1.0,
        Tangle::Near => -1.0,
    };
    let section = job.section();
    let edge = 0.5 * section.width().as_mm();
    let top = Length::from_m(section.top_y_m()).as_mm();
    // A small fixed sequence: the drawing must not flicker, nor differ between two screens.
    let mut seed: u32 = 0x2545_f491;
    let mut next = || {
        seed ^= seed << 13;
        seed ^= seed >> 17;
        seed ^= seed << 5;
        f64::from(seed) / f64::from(u32::MAX)
    };
    for _ in 0..BRANCHES {
        let x = side * (edge + 25.0 + TANGLE_DEPTH_MM * next());
        let bottom = ground_mm(job, x);
        let at = Point::new(x, bottom + (top - bottom) * (0.04 + 0.92 * next()));
        let half = Vec2::from_angle(std::f64::consts::PI * next()) * (18.0 + 40.0 * next());
        let width = if next() > 0.7 { 3.5 } else { 1.5 };
        scene.line(at - half, at + half, Pen::solid(Ink::Branch, width));
    }
}

/// The whole saw at a moment of the cut: where its handles go decides whether a person can stand to it.
pub fn saw_at(scene: &mut Scene, setup: &Setup, pose: &Pose) {
    let mut saw = Scene::new(1.0 / scene.pt(1.0));
    head::head_under(&mut saw, setup.powerhead());
    bar(&mut saw, setup);
    chain(&mut saw, setup);
    head::covers(&mut saw, setup.powerhead());
    super::kickback_zone(&mut saw, &setup.nose_zone());
    scene.add(saw, section_from_saw(setup, pose));
}

/// What the saw covers at a moment of the cut, mm.
pub fn saw_extent(setup: &Setup, pose: &Pose) -> Rect {
    let head = head::head_extent(setup.powerhead());
    let (tip, half) = (setup.nose_zone().tip_x().as_mm(), setup.nose_zone().radius.as_mm());
    let bar = Rect::new(head.x0, -half, tip, half);
    section_from_saw(setup, pose).transform_rect_bbox(head.union(bar))
}

/// From the saw frame (mm) to the section (mm): the spike line on the centreline comes to the pivot; from the far side
/// the saw is seen from its other face.
pub fn section_from_saw(setup: &Setup, pose: &Pose) -> Affine {
    let spikes = setup.powerhead().spike_line().as_mm();
    let face = Affine::scale_non_uniform(1.0, pose.upper_sense.signum());
    Affine::translate(section_mm(pose.pivot).to_vec2())
        * Affine::rotate(pose.direction_rad)
        * face
        * Affine::translate((-spikes, 0.0))
}

/// The bark within reach: a dashed arc outside it, from one angle to another (counter-clockwise from the far side).
pub fn reachable(scene: &mut Scene, job: &LogJob, from_rad: f64, to_rad: f64, outside_mm: f64) {
    const STEPS: u32 = 48;
    let mut path = BezPath::new();
    for step in 0..=STEPS {
        let at = beside_bark(
            job,
            Angle::from_rad(from_rad + (to_rad - from_rad) * f64::from(step) / f64::from(STEPS)),
            outside_mm,
        );
        if step == 0 { path.move_to(at) } else { path.line_to(at) }
    }
    scene.stroke(path, Pen::solid(Ink::Ours, 1.8).with_dash(Dash::Dashed));
}

/// A place outside the bark at an angle, mm.
pub fn beside_bark(job: &LogJob, bark: Angle, outside_mm: f64) -> Point {
    let at = section_mm(job.section().bark_at(bark.as_rad()));
    at - outside_mm * Vec2::from_angle(job.section().straight_in_rad(bark.as_rad()))
}

/// The nose's way through a swing: in ink inside the log, in the danger colour outside.
pub fn nose_path(scene: &mut Scene, job: &LogJob, tips: &[Metres]) {
    let inside = |tip: &Metres| tip.coords.norm() <= job.section().bark_at(tip.y.atan2(tip.x)).coords.norm();
    for pair in tips.windows(2) {
        let [a, b] = pair else { continue };
        let pen =
            if inside(a) && inside(b) { Pen::solid(Ink::Line, 1.6) } else { Pen::solid(Ink::Danger, 2.4) };
        scene.line(section_mm(*a), section_mm(*b), pen);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use barpoise_core::cutting_bar;
    use barpoise_core::file::demo;
    use barpoise_core::log::{LogSection, Setting, Side, Stand, pose};
    use barpoise_core::person::{Person, SawBody, Standing};
    use kurbo::Shape;

    fn job() -> LogJob {
        let section = LogSection::round(Length::from_mm(560.0), Length::from_mm(150.0)).unwrap();
        LogJob::new(section, Stand::BothSides)
    }

    #[test]
    fn the_drawn_section_has_the_true_area() {
        let job = job();
        let drawn = outline_path(job.section().outline()).area().abs();
        let truth = job.section().area().as_cm2() * 100.0;
        assert!((drawn / truth - 1.0).abs() < 1e-4, "{drawn} {truth}");
    }

    #[test]
    fn the_drawn_ground_slopes_as_the_person_stands_on_it() {
        let yard = demo().unwrap();
        let saw = SawBody::of(yard.powerheads().first().unwrap());
        for (slope_deg, tan) in [(-25.0, -0.466_307_7), (0.0, 0.0), (10.0, 0.176_327)] {
            let person = Person::default().with_slope(Angle::from_deg(slope_deg)).unwrap();
            let job = job().with_person(person);
            let rise = ground_mm(&job, 1000.0) - ground_mm(&job, 0.0);
            // Tangents out of a table.
            assert!((rise - 1000.0 * tan).abs() < 1e-2, "{slope_deg}°: {rise}");
            for side in [Side::Near, Side::Far] {
                let standing = Standing::new(job.section(), side, &saw, &person);
                for x_mm in [-900.0, -300.0, 0.0, 450.0] {
                    let (drawn, stood) = (ground_mm(&job, x_mm), standing.ground_m(x_mm / 1e3) * 1e3);
                    assert!((drawn - stood).abs() < 1e-6, "{slope_deg}° {side:?} {x_mm}: {drawn} {stood}");
                }
            }
        }
    }

    #[test]
    fn the_drawn_nose_is_where_the_cut_has_it_from_either_side() {
        let (job, yard) = (job(), demo().unwrap());
        let setup = yard.setups().first().unwrap();
        let bar = cutting_bar(setup).unwrap();
        for (bark, side) in [(180.0, Side::Near), (0.0, Side::Far)] {
            let setting = Setting::full(&job, Angle::from_deg(bark), side).unwrap();
            let pose = pose(&job, &bar, &setting, 0.4).unwrap();
            let tip = Point::new(setup.nose_zone().tip_x().as_mm(), 0.0);
            let drawn = section_from_saw(setup, &pose) * tip;
            let truth = section_mm(pose.tip);
            assert!((drawn - truth).hypot() < 1e-6, "{drawn:?} {truth:?}");
        }
    }
}
