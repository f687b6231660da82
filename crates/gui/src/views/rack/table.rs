//! Every setup over the wood, one row each: silhouettes to one scale, figures, and the reasons of what is out.

use super::silhouette::Room;
use crate::document::{BarChoice, Chosen, Document, RackFigures};
use crate::edit::{Edit, Edits, RackEdit};
use crate::format;
use crate::rack_view::RackColumn;
use crate::rack_words as words;
use crate::theme::{self, Ink, Paper, size};
use crate::view_state::ViewState;
use crate::weigh_in_words::capitalised;
use barpoise_core::rack::{Broken, Contender};
use egui::text::{LayoutJob, TextWrapping};
use egui::{
    Align2, Checkbox, Color32, ComboBox, Id, Painter, Pos2, Rect, RichText, Role, ScrollArea, Sense, Shape,
    Stroke, TextEdit, Ui, Vec2, WidgetInfo,
};

const HEAD: f32 = 46.0;
const ROW: f32 = 42.0;
/// A row of a setup that is out has a line for its reasons.
const REASONS: f32 = 22.0;
const PIN: f32 = 38.0;
/// Width of the silhouettes, where the table is wide and where it is narrow, in points.
const SILHOUETTE: (f32, f32) = (168.0, 96.0);
const NAME: f32 = 142.0;
const WIDE_TABLE: f32 = 640.0;
const CELL_PAD: f32 = 8.0;

/// A place in the order from 1, and whether none beats it; `None` for a setup that is out.
pub(super) type Standing = Option<(usize, bool)>;

/// A setup in the table.
struct Row<'a> {
    contender: &'a Contender,
    place: Standing,
    reasons: &'a [Broken],
    pinned: bool,
}

impl Row<'_> {
    fn name(&self) -> &str {
        &self.contender.solved.setup
    }

    /// `1st, goes on`.
    fn standing(&self) -> String {
        match self.place {
            Some((1, _)) => "1st, goes on".to_owned(),
            Some((place, true)) => format!("{}, unbeaten", format::place(place)),
            Some((place, false)) => format::place(place),
            None => "out".to_owned(),
        }
    }

    fn height(&self) -> f32 {
        if self.reasons.is_empty() { ROW } else { ROW + REASONS }
    }

    fn spoken(&self, view: &ViewState) -> String {
        let cells = RackColumn::ALL
            .map(|column| format!("{} {}", column.head().0, column.text(view.units, self.contender)));
        let reasons = if self.reasons.is_empty() {
            String::new()
        } else {
            format!(", {}", words::reasons(view.units, self.reasons))
        };
        format!("{}, {}{reasons}, {}", self.name(), self.standing(), cells.join(", "))
    }
}

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
    ScrollArea::both().id_salt(id).auto_shrink(false).show(ui, |ui| {
        scrolled_ui(ui, document, view, edits, &rows);
    });
}

fn heading_ui(ui: &mut Ui, document: &Document, view: &mut ViewState) {
    let paper = view.paper;
    ui.horizontal(|ui| {
        let wood = document.rack_wood().map_or_else(|| "no wood".to_owned(), |wood| wood.name().to_owned());
        ui.label(RichText::new(format!("Setups over {wood}")).font(theme::strong(size::STRONG)));
        if let Some(progress) = document.rack_progress() {
            let text = format!("{} of {} …", progress.done, progress.all);
            ui.label(RichText::new(text).color(paper.color(Ink::Soft)));
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let field = TextEdit::singleline(&mut view.rack.filter)
                .id(Id::unique("rack filter"))
                .hint_text("part of a name")
                .desired_width(128.0)
                .char_limit(40);
            let response = ui.add(field);
            let text = view.rack.filter.clone();
            response.widget_info(|| WidgetInfo {
                label: Some("Filter by name".to_owned()),
                ..WidgetInfo::text_edit(true, "", &text, "")
            });
            let shown = view.rack.head.clone().unwrap_or_else(|| "all heads".to_owned());
            let combo = ComboBox::from_id_salt("rack head").width(110.0).truncate().selected_text(shown);
            let list = combo.show_ui(ui, |ui| {
                ui.selectable_value(&mut view.rack.head, None, "all heads");
                for head in document.yard().powerheads() {
                    let name = head.name().to_owned();
                    ui.selectable_value(&mut view.rack.head, Some(name.clone()), name);
                }
            });
            let chosen = view.rack.head.clone().unwrap_or_else(|| "all heads".to_owned());
            list.response.widget_info(|| WidgetInfo {
                label: Some(format!("Filter by head: {chosen}")),
                ..WidgetInfo::new(Role::ComboBox)
            });
        });
    });
}

fn rows<'a>(
    document: &Document,
    view: &ViewState,
    figures: &'a RackFigures,
    chosen: &'a Chosen,
) -> Vec<Row<'a>> {
    let admitted = chosen
        .choice
        .order
        .iter()
        .enumerate()
        .map(|(place, ranked)| (ranked.index, Some((place + 1, ranked.unbeaten)), &[][..]));
    let refused = chosen.choice.refused.iter().map(|(index, reasons)| (*index, None, reasons.as_slice()));
    let wanted = view.rack.filter.trim().to_lowercase();
    let mut rows: Vec<Row<'a>> = admitted
        .chain(refused)
        .filter_map(|(index, place, reasons)| {
            let contender = figures.contenders.get(index)?;
            let name = &contender.solved.setup;
            let pinned = document.rack().is_pinned(name);
            Some(Row { contender, place, reasons, pinned })
        })
        .filter(|row| row.name().to_lowercase().contains(&wanted))
        .filter(|row| {
            let Some(head) = &view.rack.head else { return true };
            document.yard().setup(row.name()).is_some_and(|setup| setup.powerhead().name() == head)
        })
        .collect();
    let column = view.rack.sort;
    let turned = column.most_first() != view.rack.backwards;
    let key = |row: &Row<'_>| match column {
        RackColumn::Order => row.place.map(|(place, _)| f64::from(u32::try_from(place).unwrap_or(u32::MAX))),
        _ => column.value(row.contender),
    };
    rows.sort_by(|a, b| {
        let by_value = match (key(a), key(b)) {
            (Some(a), Some(b)) if turned => b.total_cmp(&a),
            (Some(a), Some(b)) => a.total_cmp(&b),
            (a, b) => a.is_none().cmp(&b.is_none()),
        };
        b.pinned.cmp(&a.pinned).then(a.place.is_none().cmp(&b.place.is_none())).then(by_value)
    });
    rows
}

/// The lines that the table is laid out along.
struct Grid {
    /// The whole table.
    rect: Rect,
    /// What of it is in sight.
    seen: Rect,
    silhouette: f32,
    frozen: f32,
}

impl Grid {
    /// Each column with its span across.
    fn columns(&self) -> impl Iterator<Item = (RackColumn, egui::Rangef)> + use<> {
        let mut left = self.rect.left() + self.frozen;
        RackColumn::ALL.into_iter().map(move |column| {
            let span = egui::Rangef::new(left, left + column.width());
            left = span.max;
            (column, span)
        })
    }
}

fn scrolled_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits, rows: &[Row<'_>]) {
    let seen = ui.clip_rect();
    let silhouette = if seen.width() >= WIDE_TABLE { SILHOUETTE.0 } else { SILHOUETTE.1 };
    let frozen = PIN + silhouette + NAME;
    let figures: f32 = RackColumn::ALL.iter().map(|column| column.width()).sum();
    let height: f32 = HEAD + rows.iter().map(Row::height).sum::<f32>();
    let wide = (frozen + figures).max(seen.width() - 2.0);
    let (rect, _) = ui.allocate_exact_size(Vec2::new(wide, height), Sense::hover());
    let grid = Grid { rect, seen, silhouette, frozen };
    let room = Room::of(rows.iter().filter_map(|row| document.yard().setup(row.name())));
    let mut top = rect.top() + HEAD;
    for row in rows {
        let place = Rect::from_min_size(Pos2::new(rect.left(), top), Vec2::new(wide, row.height()));
        row_ui(ui, document, view, edits, &grid, row, place, room);
        top = place.bottom();
    }
    head_ui(ui, view, &grid);
}

#[expect(clippy::too_many_arguments, reason = "a row of a table that lays itself out")]
fn row_ui(
    ui: &mut Ui,
    document: &Document,
    view: &ViewState,
    edits: &mut Edits,
    grid: &Grid,
    row: &Row<'_>,
    place: Rect,
    room: Room,
) {
    let paper = view.paper;
    let bench = document.bench();
    let selected = bench.base().name() == row.name() && *bench.bar() == BarChoice::Own;
    let id = Id::unique(("rack row", row.name()));
    // What is scrolled out of sight sideways is no part of what can be clicked.
    let in_sight = place.with_min_x(grid.seen.left()).with_max_x(grid.seen.right());
    let response = ui.interact(in_sight, id, Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::Row, true, selected, row.spoken(view)));
    if response.gained_focus() {
        ui.scroll_to_rect(in_sight, None);
    }
    if response.clicked() {
        edits.ask(Edit::PickSetup(row.name().to_owned()));
    }
    let ground = if selected || response.hovered() { Ink::OursPale } else { Ink::Paper };
    let painter = ui.painter().clone();
    painter.rect_filled(place, 0.0, paper.color(ground));
    let line = place.top() + 0.5 * ROW;
    for (column, span) in grid.columns() {
        let text = column.text(view.units, row.contender);
        let ink = if row.place.is_some() { Ink::Line } else { Ink::Soft };
        let at = Pos2::new(span.max - CELL_PAD, line);
        painter.text(at, Align2::RIGHT_CENTER, text, theme::body(), paper.color(ink));
    }
    let rule = Stroke::new(1.0, paper.color(Ink::Rule));
    painter.hline(place.x_range(), place.bottom(), rule);
    let left = grid.seen.left();
    let frozen = Rect::from_min_size(Pos2::new(left, place.top()), Vec2::new(grid.frozen, ROW));
    painter.rect_filled(frozen.shrink2(Vec2::new(0.0, 0.5)), 0.0, paper.color(ground));
    if let Some(setup) = document.yard().setup(row.name()) {
        let small = Rect::from_min_size(
            Pos2::new(left + PIN, place.top() + 2.0),
            Vec2::new(grid.silhouette, ROW - 4.0),
        );
        room.paint(setup, &painter, small, paper);
    }
    name_ui(&painter, paper, row, Pos2::new(left + PIN + grid.silhouette + 8.0, line));
    if !row.reasons.is_empty() {
        let text = capitalised(&words::reasons(view.units, row.reasons));
        let mut job = LayoutJob::simple_singleline(text, theme::body(), paper.color(Ink::Warn));
        job.wrap = TextWrapping::truncate_at_width(grid.seen.width() - PIN - CELL_PAD);
        let galley = painter.layout_job(job);
        let at = Pos2::new(left + PIN, place.top() + ROW + 0.4 * REASONS - 0.5 * galley.size().y);
        painter.galley(at, galley, paper.color(Ink::Warn));
    }
    painter.vline(frozen.right(), frozen.y_range(), rule);
    pin_ui(ui, edits, row, Pos2::new(left + 0.5 * PIN, line));
    if response.has_focus() {
        let ring = place.intersect(grid.seen).shrink(2.0);
        painter.rect_stroke(ring, 2.0, Stroke::new(2.0, paper.color(Ink::Line)), egui::StrokeKind::Inside);
    }
    if !row.reasons.is_empty() {
        let reasons = row.reasons.iter().map(|reason| words::broken(view.units, reason));
        response.on_hover_text(format!("Out\n{}", reasons.collect::<Vec<_>>().join("\n")));
    }
}

fn name_ui(painter: &Painter, paper: Paper, row: &Row<'_>, at: Pos2) {
    let ink = paper.color(Ink::Line);
    painter.text(at - Vec2::new(0.0, 9.5), Align2::LEFT_CENTER, row.name(), theme::strong(size::BODY), ink);
    let (ink, indent) = match row.place {
        Some((1, _) | (_, true)) => (Ink::Ours, 16.0),
        Some((_, false)) => (Ink::Soft, 0.0),
        None => (Ink::Warn, 16.0),
    };
    let under = at + Vec2::new(0.0, 9.5);
    mark(painter, under + Vec2::new(6.0, 0.0), row.place, paper.color(ink), paper.color(Ink::Paper));
    let font = if matches!(row.place, Some((1, _))) { theme::strong(size::BODY) } else { theme::body() };
    painter.text(under + Vec2::new(indent, 0.0), Align2::LEFT_CENTER, row.standing(), font, paper.color(ink));
}

/// How a setup stands, by shape: a full diamond goes on, an open one is unbeaten, a cross is out.
pub(super) fn mark(painter: &Painter, at: Pos2, place: Standing, ink: Color32, ground: Color32) {
    const RADIUS: f32 = 6.0;
    let pen = Stroke::new(2.0, ink);
    let diamond = |fill| {
        let corners = [(0.0, -RADIUS), (RADIUS, 0.0), (0.0, RADIUS), (-RADIUS, 0.0)];
        let corners = corners.iter().map(|(x, y)| at + Vec2::new(*x, *y)).collect();
        painter.add(Shape::convex_polygon(corners, fill, pen));
    };
    match place {
        Some((1, _)) => diamond(ink),
        Some((_, true)) => diamond(ground),
        Some((_, false)) => {}
        None => {
            let arm = 0.75 * RADIUS;
            for turn in [Vec2::new(arm, arm), Vec2::new(arm, -arm)] {
                painter.line_segment([at - turn, at + turn], pen);
            }
        }
    }
}

fn pin_ui(ui: &mut Ui, edits: &mut Edits, row: &Row<'_>, at: Pos2) {
    let mut on = row.pinned;
    let rect = Rect::from_center_size(at, Vec2::splat(size::HIT));
    let builder = egui::UiBuilder::new().max_rect(rect).id_salt(("rack pin", row.name()));
    let mut child = ui.new_child(builder);
    let response = child.add(Checkbox::without_text(&mut on));
    let name = format!("Keep {} on top", row.name());
    response.widget_info(|| WidgetInfo::selected(Role::CheckBox, true, on, &name));
    let response = response.on_hover_text(name);
    if response.changed() {
        edits.ask(Edit::Rack(RackEdit::Pin(row.name().to_owned(), on)));
    }
}

/// The heads, which stay on top; a click sorts by one, another turns it round.
fn head_ui(ui: &mut Ui, view: &mut ViewState, grid: &Grid) {
    let top = grid.seen.top().max(grid.rect.top());
    let line = |left: f32, right: f32| Rect::from_min_max(Pos2::new(left, top), Pos2::new(right, top + HEAD));
    let strip = line(grid.seen.left(), grid.seen.right());
    ui.painter().rect_filled(strip, 0.0, view.paper.color(Ink::Paper));
    for (column, span) in grid.columns() {
        sort_ui(ui, view, column, line(span.min, span.max));
    }
    let frozen = line(grid.seen.left(), grid.seen.left() + grid.frozen);
    ui.painter().rect_filled(frozen, 0.0, view.paper.color(Ink::Paper));
    sort_ui(ui, view, RackColumn::Order, frozen.with_min_x(frozen.left() + PIN + grid.silhouette));
    let soft = view.paper.color(Ink::Soft);
    let pin = Pos2::new(frozen.left() + 0.5 * PIN, frozen.center().y);
    for (text, down) in [("On", -9.0), ("top", 9.0)] {
        let at = pin + Vec2::new(0.0, down);
        ui.painter().text(at, Align2::CENTER_CENTER, text, theme::body(), soft);
    }
    let rule = Stroke::new(1.5, soft);
    ui.painter().hline(strip.x_range(), strip.bottom(), rule);
}

fn sort_ui(ui: &mut Ui, view: &mut ViewState, column: RackColumn, rect: Rect) {
    let paper = view.paper;
    let on = view.rack.sort == column;
    let response = ui.interact(rect, Id::unique(("rack head", column)), Sense::click());
    let way = match (on, column.most_first() != view.rack.backwards) {
        (false, _) => "",
        (true, true) => ", most first",
        (true, false) => ", least first",
    };
    response
        .widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Sort by {}{way}", column.name())));
    if response.gained_focus() {
        ui.scroll_to_rect(rect, None);
    }
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
    response.on_hover_text(format!("Sort by {}", column.name()));
}

fn arrow(painter: &Painter, at: Pos2, down: bool, ink: Color32) {
    let tip = if down { 4.0 } else { -4.0 };
    let corners = vec![at + Vec2::new(-4.5, -tip), at + Vec2::new(4.5, -tip), at + Vec2::new(0.0, tip)];
    painter.add(Shape::convex_polygon(corners, ink, Stroke::NONE));
}
