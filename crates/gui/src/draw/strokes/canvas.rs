//! Where a drawing lies: the one place where millimetres with y up become points with y down.

use super::Scene;
use egui::{Pos2, Rect};
use kurbo::{Affine, Point};

/// Where a drawing lies on the screen or on a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Canvas {
    rect: Rect,
    points_per_mm: f64,
    /// The drawing's point at the left top corner of `rect`, mm.
    left_top: Point,
    /// Texts, lines and arrowheads are so many times their size.
    enlarged: f32,
}

impl Canvas {
    /// Fits a rectangle of the drawing (mm, y up) into one of the screen, centred, at one scale.
    pub fn fit(rect: Rect, world: kurbo::Rect) -> Self {
        let (width, height) = (f64::from(rect.width().max(1.0)), f64::from(rect.height().max(1.0)));
        let points_per_mm = (width / world.width().max(1.0)).min(height / world.height().max(1.0));
        let spare_x = 0.5 * (width / points_per_mm - world.width());
        let spare_y = 0.5 * (height / points_per_mm - world.height());
        let left_top = Point::new(world.x0 - spare_x, world.y1 + spare_y);
        Self { rect, points_per_mm, left_top, enlarged: 1.0 }
    }

    /// Fits a drawing with texts and lines so many times their size, whose rectangle depends on them: `extent` says it
    /// for so many millimetres of the drawing in a point of theirs.
    ///
    /// Texts keep their size whatever the scale, so the room they need in millimetres is known only once the scale is:
    /// a few rounds bring it within a point.
    pub fn fit_with_texts(rect: Rect, enlarged: f32, extent: impl Fn(f64) -> kurbo::Rect) -> Self {
        const FIRST_MM_PER_PT: f64 = 1.5;
        const MORE_ROUNDS: u32 = 2;
        (0..MORE_ROUNDS).fold(Self::fit(rect, extent(FIRST_MM_PER_PT)).enlarged(enlarged), |canvas, _| {
            Self::fit(rect, extent(canvas.scene().pt(1.0))).enlarged(enlarged)
        })
    }

    /// A rectangle with the drawing's origin in a point of it, at a scale of so many points for each millimetre.
    pub fn at(rect: Rect, origin: Pos2, points_per_mm: f64) -> Self {
        let offset = rect.min - origin;
        let left_top = Point::new(f64::from(offset.x) / points_per_mm, -f64::from(offset.y) / points_per_mm);
        Self { rect, points_per_mm, left_top, enlarged: 1.0 }
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

    /// The same place and scale with texts, lines and arrowheads so many times their size.
    #[must_use]
    pub fn enlarged(self, times: f32) -> Self {
        Self { enlarged: times, ..self }
    }

    /// So many times their size texts and lines are drawn.
    pub const fn enlargement(&self) -> f32 {
        self.enlarged
    }

    /// An empty drawing for this place: a point of it is a point here, enlarged.
    pub fn scene(&self) -> Scene {
        Scene::new(self.points_per_mm / f64::from(self.enlarged))
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

    /// From the drawing, mm, to the screen, points.
    pub fn affine(&self) -> Affine {
        let origin = Affine::translate((f64::from(self.rect.min.x), f64::from(self.rect.min.y)));
        let scale = Affine::scale_non_uniform(self.points_per_mm, -self.points_per_mm);
        origin * scale * Affine::translate((-self.left_top.x, -self.left_top.y))
    }

    /// A text of this size, in points, beside a point of the drawing: moved in from the edge rather than cut.
    pub fn place(&self, label: &super::Label, text: egui::Vec2) -> Rect {
        use super::Side;
        use egui::Align2;
        let gap = super::LABEL_GAP_PT * self.enlarged;
        let (align, offset) = match label.side {
            Side::Middle => (Align2::CENTER_CENTER, egui::Vec2::ZERO),
            Side::Above => (Align2::CENTER_BOTTOM, egui::vec2(0.0, -gap)),
            Side::Below => (Align2::CENTER_TOP, egui::vec2(0.0, gap)),
            Side::Left => (Align2::RIGHT_CENTER, egui::vec2(-gap, 0.0)),
            Side::Right => (Align2::LEFT_CENTER, egui::vec2(gap, 0.0)),
        };
        let place = align.anchor_size(self.to_screen(label.at) + offset, text);
        let room = self.rect.shrink(2.0);
        let shift = egui::vec2(
            (room.left() - place.left()).max(0.0) - (place.right() - room.right()).max(0.0),
            (room.top() - place.top()).max(0.0) - (place.bottom() - room.bottom()).max(0.0),
        );
        place.translate(shift)
    }
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

    #[test]
    fn a_drawing_at_a_scale_has_its_origin_where_it_was_put() {
        let rect = Rect::from_min_size(Pos2::new(20.0, 10.0), egui::vec2(300.0, 200.0));
        let canvas = Canvas::at(rect, Pos2::new(120.0, 60.0), 0.5);
        assert_eq!(canvas.to_screen(Point::ORIGIN), Pos2::new(120.0, 60.0));
        assert_eq!(canvas.to_screen(Point::new(100.0, 40.0)), Pos2::new(170.0, 40.0));
    }
}
