//! What the window painted, as the painter got it.

use barpoise::window::app::App;
use egui::epaint::Shape;
use egui::{Pos2, Rect};
use egui_kittest::Harness;

/// The shapes of the last pass, bottom first, each with what it is clipped to; lists are taken apart.
pub fn shapes(harness: &Harness<'_, App>) -> Vec<(Rect, Shape)> {
    let mut flat = Vec::new();
    let painted = harness.output().shapes.iter().rev();
    let mut left: Vec<(Rect, Shape)> = painted.map(|shape| (shape.clip_rect, shape.shape.clone())).collect();
    while let Some((clip, shape)) = left.pop() {
        match shape {
            Shape::Vec(shapes) => left.extend(shapes.into_iter().rev().map(|shape| (clip, shape))),
            shape => flat.push((clip, shape)),
        }
    }
    flat
}

/// Every point that was painted through.
pub fn every_point(harness: &Harness<'_, App>) -> Vec<Pos2> {
    let mut points = Vec::new();
    for (_, shape) in shapes(harness) {
        match shape {
            Shape::Noop | Shape::Vec(_) | Shape::Callback(_) => {}
            Shape::Circle(circle) => points.extend([circle.center, Pos2::new(circle.radius, 0.0)]),
            Shape::Ellipse(ellipse) => points.extend([ellipse.center, ellipse.radius.to_pos2()]),
            Shape::LineSegment { points: ends, .. } => points.extend(ends),
            Shape::Path(path) => points.extend(path.points),
            Shape::Rect(rect) => points.extend([rect.rect.min, rect.rect.max]),
            Shape::Text(text) => points.push(text.pos),
            Shape::Mesh(mesh) => points.extend(mesh.vertices.iter().map(|vertex| vertex.pos)),
            Shape::QuadraticBezier(curve) => points.extend(curve.points),
            Shape::CubicBezier(curve) => points.extend(curve.points),
            Shape::Band(band) => {
                points.extend(
                    band.points.iter().flat_map(|at| [Pos2::new(at.x, at.y.min), Pos2::new(at.x, at.y.max)]),
                );
            }
        }
    }
    points
}
