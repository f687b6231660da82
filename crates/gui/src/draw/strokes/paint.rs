//! A scene painted on the screen.

use super::{Canvas, DASH_DOT_PT, DASHED_PT, Dash, Item, Label, PATCH_CORNER_PT, PATCH_PT, Scene};
use crate::draw::theme::{self, Paper};
use egui::epaint::{Mesh, PathShape, Vertex};
use egui::{Color32, Pos2, Shape, Stroke};
use kurbo::{Affine, BezPath, PathEl, Point};
use lyon_tessellation::{
    BuffersBuilder, FillOptions, FillRule, FillTessellator, FillVertex, VertexBuffers, math::point,
    path::Path,
};

/// Curves are broken into chords that stay this close to them, in points.
const FLATNESS_PT: f64 = 0.12;
/// Width of the line that smooths the edge of a concave fill, in points.
const EDGE_PT: f32 = 1.0;

/// Paints a drawing, bottom item first.
pub fn paint(scene: &Scene, canvas: &Canvas, painter: &egui::Painter, paper: Paper) {
    let affine = canvas.affine();
    let mut fills = FillTessellator::new();
    for item in scene.items() {
        match item {
            Item::Fill { path, ink, opacity } => {
                let color = paper.color(*ink).gamma_multiply(*opacity);
                fill(&mut fills, &flatten(path, affine), color, *opacity >= 1.0, painter);
            }
            Item::Stroke { path, pen } => {
                let stroke = Stroke::new(pen.width * canvas.enlargement(), paper.color(pen.ink));
                for line in flatten(path, affine) {
                    painter.extend(stroked(line, stroke, pen.dash, canvas.enlargement()));
                }
            }
            Item::Dots { centres, radius, ink } => {
                let (radius, color) = (canvas.points(*radius), paper.color(*ink));
                painter.extend(
                    centres.iter().map(|at| Shape::circle_filled(canvas.to_screen(*at), radius, color)),
                );
            }
            Item::Text(label) => text(label, canvas, painter, paper),
        }
    }
}

/// A flattened subpath in screen points.
struct Line {
    points: Vec<Pos2>,
    closed: bool,
}

#[expect(clippy::cast_possible_truncation, reason = "the screen is f32 by egui's choice")]
fn flatten(path: &BezPath, affine: Affine) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    let to_pos = |p: Point| Pos2::new(p.x as f32, p.y as f32);
    kurbo::flatten(path.iter().map(|element| affine * element), FLATNESS_PT, |element| match element {
        PathEl::MoveTo(p) => lines.push(Line { points: vec![to_pos(p)], closed: false }),
        PathEl::ClosePath => {
            if let Some(line) = lines.last_mut() {
                line.closed = true;
            }
        }
        PathEl::LineTo(p) | PathEl::QuadTo(_, p) | PathEl::CurveTo(_, _, p) => {
            if let Some(line) = lines.last_mut() {
                line.points.push(to_pos(p));
            }
        }
    });
    lines
}

fn fill(
    tessellator: &mut FillTessellator,
    lines: &[Line],
    color: Color32,
    smooth: bool,
    painter: &egui::Painter,
) {
    let mut builder = Path::builder();
    for line in lines {
        let mut points = line.points.iter().map(|p| point(p.x, p.y));
        let Some(first) = points.next() else { continue };
        builder.begin(first);
        for next in points {
            builder.line_to(next);
        }
        builder.end(true);
    }
    let mut buffers: VertexBuffers<Vertex, u32> = VertexBuffers::new();
    let options = FillOptions::tolerance(0.1).with_fill_rule(FillRule::EvenOdd);
    let mut output = BuffersBuilder::new(&mut buffers, |vertex: FillVertex<'_>| {
        let p = vertex.position();
        Vertex { pos: Pos2::new(p.x, p.y), uv: egui::epaint::WHITE_UV, color }
    });
    // A path that cannot be tessellated (a coordinate beyond f32) leaves no fill; its outline still shows.
    if tessellator.tessellate_path(&builder.build(), &options, &mut output).is_ok() {
        let mesh = Mesh {
            indices: buffers.indices,
            vertices: buffers.vertices,
            texture_id: egui::TextureId::default(),
        };
        painter.add(Shape::mesh(mesh));
    }
    if smooth {
        let edge = Stroke::new(EDGE_PT, color);
        for line in lines.iter().filter(|line| line.points.len() > 2) {
            painter.add(PathShape::closed_line(line.points.clone(), edge));
        }
    }
}

fn stroked(line: Line, stroke: Stroke, dash: Dash, enlarged: f32) -> Vec<Shape> {
    let Line { mut points, closed } = line;
    if dash == Dash::None {
        return vec![if closed { Shape::closed_line(points, stroke) } else { Shape::line(points, stroke) }];
    }
    if let (true, Some(first)) = (closed, points.first().copied()) {
        points.push(first);
    }
    match dash {
        Dash::Dashed => {
            let [dash, gap] = DASHED_PT.map(|pt| pt * enlarged);
            Shape::dashed_line(&points, stroke, dash, gap)
        }
        _ => {
            let [dash, gap, dot, after] = DASH_DOT_PT.map(|pt| pt * enlarged);
            Shape::dashed_line_with_offset(&points, stroke, &[dash, dot], &[gap, after], 0.0)
        }
    }
}

fn text(label: &Label, canvas: &Canvas, painter: &egui::Painter, paper: Paper) {
    let size = label.size * canvas.enlargement();
    let font = if label.strong { theme::strong(size) } else { theme::plain(size) };
    let galley = painter.layout_no_wrap(label.text.clone(), font, paper.color(label.ink));
    let place = canvas.place(label, galley.size());
    if label.on_patch {
        let around = PATCH_PT * canvas.enlargement();
        painter.rect_filled(place.expand2(around), PATCH_CORNER_PT, paper.color(theme::Ink::Paper));
    }
    painter.galley(place.min, galley, paper.color(label.ink));
}
