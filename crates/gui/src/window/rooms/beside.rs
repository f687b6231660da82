//! A drawing and a column of figures: side by side where the room is wide, one under the other where it is not, so that
//! the drawing never gets smaller because letters grow.

use crate::draw::theme::{Ink, Paper};
use crate::window::widgets::{main_pane, pane, scrolled};
use egui::{CentralPanel, Frame, Margin, Panel, Rect, ScrollArea, Ui, Vec2};

/// A room narrower than this, in points, has its column under the drawing.
const WIDE: f32 = 1240.0;
/// The column's share of a wide room, and its width at least and at most, in points: a share, so that the drawing's width
/// on the glass stays as it is whatever the size of the letters.
const COLUMN_SHARE: f32 = 0.3125;
const COLUMN: (f32, f32) = (384.0, 600.0);
/// The drawing has this share of the window's height, and in a narrow room more, for it has no column beside it to show.
const DRAWING_SHARE: f32 = 0.62;
const STACKED_SHARE: f32 = 0.75;
/// A drawing is never smaller than this, in points.
const LEAST_DRAWING: Vec2 = Vec2::new(640.0, 380.0);
/// Under a drawing the column's lines are no longer than this, in points: name and value belong together.
const LINES: f32 = 620.0;

/// How a room of a drawing and a column is laid out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Beside {
    room: Vec2,
    window: Vec2,
}

impl Beside {
    /// The layout of a room.
    pub(crate) fn of(ui: &Ui) -> Self {
        Self { room: ui.available_size(), window: ui.ctx().content_rect().size() }
    }

    /// The column stands beside the drawing.
    pub(crate) fn is_wide(&self) -> bool {
        self.room.x >= WIDE
    }

    /// The height left in a wide room once the drawing and what stands under it, so high, have theirs, in points.
    pub(crate) fn spare_height(&self, under: f32) -> f32 {
        self.room.y - under - DRAWING_SHARE * self.window.y
    }

    /// The column at the right of a wide room, at least so wide.
    pub(crate) fn column_ui(&self, ui: &mut Ui, paper: Paper, least: f32, contents: impl FnOnce(&mut Ui)) {
        let width = (COLUMN_SHARE * self.room.x).clamp(COLUMN.0.max(least), COLUMN.1);
        let column = Panel::right("column").exact_size(width).resizable(false).frame(sheet(paper));
        column.show(ui, |ui| {
            pane(ui);
            scrolled(ScrollArea::vertical().auto_shrink(false), ui, contents);
        });
    }

    /// The drawing, in what is left of a wide room.
    pub(crate) fn drawing_ui(ui: &mut Ui, paper: Paper, contents: impl FnOnce(&mut Ui)) {
        let drawing = Frame::new().fill(paper.color(Ink::Paper));
        CentralPanel::no_frame().frame(drawing).show(ui, |ui| {
            main_pane(ui);
            contents(ui);
        });
    }

    /// A narrow room, which scrolls: what is put into it goes one under the other.
    pub(crate) fn stacked_ui(ui: &mut Ui, paper: Paper, contents: impl FnOnce(&mut Ui)) {
        ui.painter().rect_filled(ui.max_rect(), 0.0, paper.color(Ink::Paper));
        scrolled(ScrollArea::vertical().auto_shrink(false), ui, |ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            contents(ui);
        });
    }

    /// The drawing in a narrow room. Where its words would crowd it, it is larger than the room and scrolls.
    pub(crate) fn stacked_drawing_ui(&self, ui: &mut Ui, contents: impl FnOnce(&mut Ui)) {
        let size = Vec2::new(ui.available_width(), STACKED_SHARE * self.window.y).max(LEAST_DRAWING);
        scrolled(ScrollArea::horizontal().auto_shrink(false).max_height(size.y), ui, |ui| {
            let (rect, _) = ui.allocate_exact_size(size, egui::Sense::hover());
            inside(ui, rect, contents);
        });
    }

    /// Controls or figures in a narrow room.
    pub(crate) fn stacked_part_ui(ui: &mut Ui, paper: Paper, contents: impl FnOnce(&mut Ui)) {
        let spacing = ui.ctx().global_style().spacing.item_spacing;
        sheet(paper).show(ui, |ui| {
            ui.spacing_mut().item_spacing = spacing;
            ui.set_min_width(ui.available_width());
            ui.vertical(|ui| {
                ui.set_max_width(LINES.min(ui.available_width()));
                contents(ui);
            });
        });
    }
}

fn inside(ui: &mut Ui, rect: Rect, contents: impl FnOnce(&mut Ui)) {
    let mut room = ui.new_child(egui::UiBuilder::new().max_rect(rect));
    main_pane(&room);
    contents(&mut room);
}

fn sheet(paper: Paper) -> Frame {
    Frame::new().fill(paper.color(Ink::Sheet)).inner_margin(Margin::symmetric(16, 10))
}
