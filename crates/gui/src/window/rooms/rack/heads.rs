//! The heads of the table.

use super::table::{CELL_PAD, Grid, HEAD, PIN};
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::{RackColumn, ViewState};
use egui::{
    Align2, Color32, Id, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, UiBuilder, Vec2, WidgetInfo,
};

/// The heads, which stay on top; a click sorts by one, another turns it round. Returns where they end below.
pub(super) fn heads_ui(ui: &mut Ui, view: &mut ViewState, grid: &Grid) -> f32 {
    let top = grid.seen.top().max(grid.rect.top());
    let line = |left: f32, right: f32| Rect::from_min_max(Pos2::new(left, top), Pos2::new(right, top + HEAD));
    let strip = line(grid.seen.left(), grid.seen.right());
    ui.painter().rect_filled(strip, 0.0, view.paper.color(Ink::Paper));
    let frozen = line(grid.seen.left(), grid.seen.left() + grid.frozen);
    sort_ui(ui, view, RackColumn::Order, frozen.with_min_x(frozen.left() + PIN + grid.silhouette));
    let soft = view.paper.color(Ink::Soft);
    let pin = Pos2::new(frozen.left() + 0.5 * PIN, frozen.center().y);
    for (text, down) in [("On", -9.0), ("top", 9.0)] {
        let at = pin + Vec2::new(0.0, down);
        ui.painter().text(at, Align2::CENTER_CENTER, text, theme::body(), soft);
    }
    let mut figures = ui.new_child(UiBuilder::new().max_rect(strip));
    figures.shrink_clip_rect(strip.with_min_x(frozen.right()));
    for (column, span) in grid.columns() {
        sort_ui(&mut figures, view, column, line(span.min, span.max));
    }
    ui.painter().hline(strip.x_range(), strip.bottom(), Stroke::new(1.5, soft));
    strip.bottom()
}

/// The head of a column.
pub(super) fn head_id(column: RackColumn) -> Id {
    Id::unique(("rack head", column))
}

fn sort_ui(ui: &mut Ui, view: &mut ViewState, column: RackColumn, rect: Rect) {
    let paper = view.paper;
    let on = view.rack.sort == column;
    let response = ui.interact(rect, head_id(column), Sense::click());
    let way = match (on, column.most_first() != view.rack.backwards) {
        (false, _) => "",
        (true, true) => ", most first",
        (true, false) => ", least first",
    };
    response
        .widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Sort by {}{way}", column.name())));
    if response.clicked() {
        view.rack.backwards = on && !view.rack.backwards;
        view.rack.sort = column;
    }
    let ink = paper.color(if on { Ink::Ours } else { Ink::Soft });
    let font = if on { theme::strong(size::BODY) } else { theme::body() };
    let (first, second) = column.head();
    let (x, align) = if column == RackColumn::Order {
        (rect.left() + CELL_PAD, Align2::LEFT_CENTER)
    } else {
        (rect.right() - CELL_PAD, Align2::RIGHT_CENTER)
    };
    let middle = rect.center().y;
    let (upper, lower) =
        if second.is_empty() { (middle + 9.0, middle) } else { (middle - 9.0, middle + 9.0) };
    let drawn = ui.painter().text(Pos2::new(x, upper), align, first, font.clone(), ink);
    if !second.is_empty() {
        ui.painter().text(Pos2::new(x, lower), align, second, font, ink);
    }
    if on {
        let down = column.most_first() != view.rack.backwards;
        let side = if column == RackColumn::Order { drawn.right() + 10.0 } else { drawn.left() - 10.0 };
        arrow(ui.painter(), Pos2::new(side, upper), down, ink);
    }
    if response.hovered() || response.has_focus() {
        let ring = Stroke::new(if response.has_focus() { 2.0 } else { 1.0 }, paper.color(Ink::Line));
        ui.painter().rect_stroke(rect.shrink(2.0), 2.0, ring, egui::StrokeKind::Inside);
    }
    response.on_hover_text(format!("Sort by {}{}", column.name(), column.source()));
}

fn arrow(painter: &Painter, at: Pos2, down: bool, ink: Color32) {
    let tip = if down { 4.0 } else { -4.0 };
    let corners = vec![at + Vec2::new(-4.5, -tip), at + Vec2::new(4.5, -tip), at + Vec2::new(0.0, tip)];
    painter.add(Shape::convex_polygon(corners, ink, Stroke::NONE));
}
