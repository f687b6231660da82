//! Every setup over the wood, one row each: silhouettes to one scale, figures, and the reasons of what is out.

use super::heads::{head_id, heads_ui};
use super::row::{Row, row_ui, rows};
use super::silhouette::Room;
use crate::desk::document::Document;
use crate::desk::edit::Edits;
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::{RackColumn, ViewState};
use crate::window::widgets::{Choice, at_right, middle_label, pick_list, scrolled_under};
use egui::{
    ComboBox, Id, Pos2, Rect, RichText, Role, ScrollArea, Sense, TextEdit, Ui, UiBuilder, Vec2, WidgetInfo,
};

pub(super) const HEAD: f32 = 46.0;
pub(super) const PIN: f32 = 38.0;
/// Width of the silhouettes, where the table is wide and where it is narrow, in points.
const SILHOUETTE: (f32, f32) = (168.0, 96.0);
const NAME: f32 = 162.0;
const WIDE_TABLE: f32 = 640.0;
pub(super) const CELL_PAD: f32 = 8.0;

/// Height that shows all of it, in points.
pub(super) fn height(document: &Document, view: &ViewState) -> f32 {
    /// The heading, the scroll bar and the room about them.
    const AROUND: f32 = 74.0;
    let rows = document
        .rack_figures()
        .zip(document.chosen())
        .map_or(0.0, |(figures, chosen)| rows(document, view, figures, chosen).iter().map(Row::height).sum());
    AROUND + HEAD + rows
}

/// Shows the table.
pub(super) fn table_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    heading_ui(ui, document, view);
    let soft = view.paper.color(Ink::Soft);
    if document.rack_wood().is_none() {
        ui.label(RichText::new("This yard has no wood yet. Add one to choose a setup for it.").color(soft));
        return;
    }
    let Some((figures, chosen)) = document.rack_figures().zip(document.chosen()) else {
        ui.label(RichText::new("The setups are being put through the wood.").color(soft));
        return;
    };
    let rows = rows(document, view, figures, chosen);
    if figures.is_old {
        ui.set_opacity(0.5);
    }
    if rows.is_empty() {
        ui.label(RichText::new("No setup has that in its name.").color(soft));
    }
    let id = Id::unique("rack table");
    scrolled_under(ScrollArea::both().id_salt(id).auto_shrink(false), ui, |ui| {
        let grid = scrolled_ui(ui, document, view, edits, &rows);
        move |widget| grid.covered(widget)
    });
}

/// Progress and filters beside the heading take so much, in points; and the heading at least so much.
const FILTERS: f32 = 330.0;
const LEAST_TITLE: f32 = 120.0;

fn heading_ui(ui: &mut Ui, document: &Document, view: &mut ViewState) {
    let paper = view.paper;
    ui.horizontal(|ui| {
        let wood = document.rack_wood().map_or_else(|| "no wood".to_owned(), |wood| wood.name().to_owned());
        let (font, ink) = (theme::strong(size::STRONG), paper.color(Ink::Line));
        let wide = (ui.available_width() - FILTERS).max(LEAST_TITLE);
        middle_label(ui, &format!("Setups over {wood}"), &font, ink, wide);
        if let Some(progress) = document.rack_progress() {
            let text = format!("{} of {} …", progress.done, progress.all);
            ui.label(RichText::new(text).color(paper.color(Ink::Soft)));
        }
        at_right(ui, Id::unique("rack filters at right"), |ui| {
            ui.checkbox(&mut view.rack.all_columns, "All columns");
            let sort = view.rack.sort;
            if sort != RackColumn::Order && !RackColumn::shown(view.rack.all_columns).contains(&sort) {
                (view.rack.sort, view.rack.backwards) = (RackColumn::Order, false);
            }
            let shown = view.rack.head.clone().unwrap_or_else(|| "all heads".to_owned());
            let combo = ComboBox::from_id_salt("rack head").width(96.0).truncate().selected_text(shown);
            let names = || {
                let heads = document.yard().powerheads().iter().map(|head| Some(head.name()));
                std::iter::once(None).chain(heads)
            };
            let now = view.rack.head.as_deref();
            let lines = names().map(|name| Choice::new(name.unwrap_or("all heads"), name == now));
            let (list, picked) = pick_list(ui, combo, lines.collect::<Vec<_>>());
            if let Some(head) = picked.and_then(|index| names().nth(index)) {
                view.rack.head = head.map(str::to_owned);
            }
            let chosen = view.rack.head.clone().unwrap_or_else(|| "all heads".to_owned());
            list.widget_info(|| WidgetInfo {
                label: Some(format!("Filter by head: {chosen}")),
                ..WidgetInfo::new(Role::ComboBox)
            });
            let field = TextEdit::singleline(&mut view.rack.filter)
                .id(Id::unique("rack filter"))
                .hint_text("by name")
                .desired_width(104.0)
                .char_limit(40);
            let response = ui.add(field);
            let text = view.rack.filter.clone();
            response.widget_info(|| WidgetInfo {
                label: Some("Filter by name".to_owned()),
                ..WidgetInfo::text_edit(true, "", &text, "")
            });
        });
    });
}

/// The lines that the table is laid out along.
pub(super) struct Grid {
    /// The whole table.
    pub(super) rect: Rect,
    /// What of it is in sight.
    pub(super) seen: Rect,
    pub(super) silhouette: f32,
    pub(super) frozen: f32,
    columns: &'static [RackColumn],
}

impl Grid {
    /// Each column with its span across.
    pub(super) fn columns(&self) -> impl Iterator<Item = (RackColumn, egui::Rangef)> + use<> {
        let mut left = self.rect.left() + self.frozen;
        self.columns.iter().map(move |&column| {
            let span = egui::Rangef::new(left, left + column.width());
            left = span.max;
            (column, span)
        })
    }

    /// How much of the width and the height in sight is covered for a widget: for heads of figures by what stands at
    /// the left, for rows by the heads.
    fn covered(&self, widget: Id) -> Vec2 {
        if widget == head_id(RackColumn::Order) {
            Vec2::ZERO
        } else if self.columns.iter().any(|column| widget == head_id(*column)) {
            Vec2::new(self.frozen, 0.0)
        } else {
            Vec2::new(0.0, HEAD)
        }
    }
}

fn scrolled_ui(
    ui: &mut Ui,
    document: &Document,
    view: &mut ViewState,
    edits: &mut Edits,
    rows: &[Row<'_>],
) -> Grid {
    let seen = ui.clip_rect();
    let silhouette = if seen.width() >= WIDE_TABLE { SILHOUETTE.0 } else { SILHOUETTE.1 };
    let frozen = PIN + silhouette + NAME;
    let columns = RackColumn::shown(view.rack.all_columns);
    let figures: f32 = columns.iter().map(|column| column.width()).sum();
    let height: f32 = HEAD + rows.iter().map(Row::height).sum::<f32>();
    let wide = (frozen + figures).max(seen.width() - 2.0);
    let (rect, _) = ui.allocate_exact_size(Vec2::new(wide, height), Sense::hover());
    let grid = Grid { rect, seen, silhouette, frozen, columns };
    let room = Room::of(rows.iter().filter_map(|row| document.yard().setup(row.name())));
    // Heads first, for that is how Tab goes; the rows then keep out from under them.
    let bottom = heads_ui(ui, view, &grid);
    let mut below = ui.new_child(UiBuilder::new().max_rect(rect));
    below.shrink_clip_rect(seen.with_min_y(bottom));
    let mut top = rect.top() + HEAD;
    for row in rows {
        let place = Rect::from_min_size(Pos2::new(rect.left(), top), Vec2::new(wide, row.height()));
        row_ui(&mut below, document, view, edits, &grid, row, place, room);
        top = place.bottom();
    }
    grid
}
