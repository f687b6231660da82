//! A scene on the screen: the one place where millimetres with y up become points with y down.

use super::{Dash, Item, Label, Scene, Side};
use crate::theme::{self, Paper};
use egui::epaint::{Mesh, PathShape, Vertex};
use egui::{Align2, Color32, Pos2, Rect, Shape, Stroke};
use kurbo::{Affine, BezPath, PathEl, Point};
use lyon_tessellation::{
    BuffersBuilder, FillOptions, FillRule, FillTessellator, FillVertex, VertexBuffers, math::point,
    path::Path,
};

/// Curves are broken into chords that stay this close to them, in points.
const FLATNESS_PT: f64 = 0.12;
/// Room between a label and its point, in points.
const LABEL_GAP_PT: f32 = 6.0;
/// Width of the line that smooths the edge of a concave fill, in points.
const EDGE_PT: f32 = 1.0;

/// Where a drawing lies on the screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Canvas {
    rect: Rect,
    points_per_mm: f64,
    /// The drawing's point at the left top corner of `rect`, mm.
    left_top: Point,
}

impl Canvas {
    /// Fits a rectangle of the drawing (mm, y up) into one of the screen, centred, at one scale.
    pub fn fit(rect: Rect, world: kurbo::Rect) -> Self {
        let (width, height) = (f64::from(rect.width().max(1.0)), f64::from(rect.height().max(1.0)));
        let points_per_mm = (width / world.width().max(1.0)).min(height / world.height().max(1.0));
        let spare_x = 0.5 * (width / points_per_mm - world.width());
        let spare_y = 0.5 * (height / points_per_mm - world.height());
        Self { rect, points_per_mm, left_top: Point::new(world.x0 - spare_x, world.y1 + spare_y) }
    }

    /// The place and scale of a drawing from one pass to the next: kept while something on it is dragged, so that
    /// what is grabbed stays under the pointer, and fitted anew otherwise.
    pub fn held(ui: &egui::Ui, id: egui::Id, rect: Rect, dragging: bool, fit: impl FnOnce() -> Self) -> Self {
        let kept = ui.data(|data| data.get_temp::<Self>(id)).filter(|kept| dragging && kept.rect == rect);
        let canvas = kept.unwrap_or_else(|| fit().within(rect));
        ui.data_mut(|data| data.insert_temp(id, canvas));
        canvas
    }

    /// The same place and scale, seen through another rectangle of the screen.
    #[must_use]
    pub fn within(self, rect: Rect) -> Self {
        Self { left_top: self.to_world(rect.min), rect, ..self }
    }

    /// Points for each millimetre.
    pub const fn points_per_mm(&self) -> f64 {
        self.points_per_mm
    }

    /// The screen's rectangle.
    pub const fn rect(&self) -> Rect {
        self.rect
    }

    /// A point of the drawing on the screen.
    #[expect(clippy::cast_possible_truncation, reason = "the screen is f32 by egui's choice")]
    pub fn to_screen(&self, world: Point) -> Pos2 {
        let x = (world.x - self.left_top.x) * self.points_per_mm;
        let y = (self.left_top.y - world.y) * self.points_per_mm;
        self.rect.min + egui::vec2(x as f32, y as f32)
    }

    /// A length of the drawing on the screen, points.
    #[expect(clippy::cast_possible_truncation, reason = "the screen is f32 by egui's choice")]
    pub fn points(&self, mm: f64) -> f32 {
        (mm * self.points_per_mm) as f32
    }

    /// A point of the screen in the drawing, mm.
    pub fn to_world(&self, screen: Pos2) -> Point {
        let offset = screen - self.rect.min;
        Point::new(
            self.left_top.x + f64::from(offset.x) / self.points_per_mm,
            self.left_top.y - f64::from(offset.y) / self.points_per_mm,
        )
    }

    fn affine(&self) -> Affine {
        let origin = Affine::translate((f64::from(self.rect.min.x), f64::from(self.rect.min.y)));
        let scale = Affine::scale_non_uniform(self.points_per_mm, -self.points_per_mm);
        origin * scale * Affine::translate((-self.left_top.x, -self.left_top.y))
    }
}

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
                let stroke = Stroke::new(pen.width, paper.color(pen.ink));
                for line in flatten(path, affine) {
                    painter.extend(stroked(line, stroke, pen.dash));
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

fn stroked(line: Line, stroke: Stroke, dash: Dash) -> Vec<Shape> {
    let Line { mut points, closed } = line;
    if dash == Dash::None {
        return vec![if closed { Shape::closed_line(points, stroke) } else { Shape::line(points, stroke) }];
    }
    if let (true, Some(first)) = (closed, points.first().copied()) {
        points.push(first);
    }
    match dash {
        Dash::Dashed => Shape::dashed_line(&points, stroke, 6.0, 4.0),
        _ => Shape::dashed_line_with_offset(&points, stroke, &[14.0, 2.5], &[4.0, 4.0], 0.0),
    }
}

fn text(label: &Label, canvas: &Canvas, painter: &egui::Painter, paper: Paper) {
    let at = canvas.to_screen(label.at);
    let gap = LABEL_GAP_PT;
    let (align, offset) = match label.side {
        Side::Middle => (Align2::CENTER_CENTER, egui::Vec2::ZERO),
        Side::Above => (Align2::CENTER_BOTTOM, egui::vec2(0.0, -gap)),
        Side::Below => (Align2::CENTER_TOP, egui::vec2(0.0, gap)),
        Side::Left => (Align2::RIGHT_CENTER, egui::vec2(-gap, 0.0)),
        Side::Right => (Align2::LEFT_CENTER, egui::vec2(gap, 0.0)),
    };
    let font = if label.strong { theme::strong(theme::size::BODY) } else { theme::body() };
    let galley = painter.layout_no_wrap(label.text.clone(), font, paper.color(label.ink));
    let place = align.anchor_size(at + offset, galley.size());
    // A label near the edge moves in rather than being cut.
    let room = canvas.rect().shrink(2.0);
    let shift = egui::vec2(
        (room.left() - place.left()).max(0.0) - (place.right() - room.right()).max(0.0),
        (room.top() - place.top()).max(0.0) - (place.bottom() - room.bottom()).max(0.0),
    );
    let place = place.translate(shift);
    if label.on_patch {
        painter.rect_filled(place.expand2(egui::vec2(4.0, 1.0)), 2.0, paper.color(theme::Ink::Paper));
    }
    painter.galley(place.min, galley, paper.color(label.ink));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_fit_keeps_the_whole_drawing_and_its_shape() {
        let rect = Rect::from_min_size(Pos2::new(100.0, 50.0), egui::vec2(800.0, 400.0));
        let world = kurbo::Rect::new(-400.0, -300.0, 1200.0, 250.0);
        let canvas = Canvas::fit(rect, world);
        for corner in [(world.x0, world.y0), (world.x1, world.y1)] {
            let on_screen = canvas.to_screen(Point::new(corner.0, corner.1));
            assert!(rect.expand(0.01).contains(on_screen), "{on_screen:?}");
        }
        let up = canvas.to_screen(Point::new(0.0, 100.0)) - canvas.to_screen(Point::ORIGIN);
        let along = canvas.to_screen(Point::new(100.0, 0.0)) - canvas.to_screen(Point::ORIGIN);
        assert!((up.length() - along.length()).abs() < 1e-3);
        assert!(up.y < 0.0, "y is up in the drawing");
    }

    #[test]
    fn the_screen_and_back_is_the_same_point() {
        let rect = Rect::from_min_size(Pos2::ZERO, egui::vec2(900.0, 500.0));
        let canvas = Canvas::fit(rect, kurbo::Rect::new(-400.0, -300.0, 1200.0, 250.0));
        let world = Point::new(612.5, -33.0);
        let back = canvas.to_world(canvas.to_screen(world));
        assert!((back - world).hypot() < 1e-3, "{back:?}");
    }
}
