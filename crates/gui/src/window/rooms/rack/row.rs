//! One setup in the table: its silhouette, how it stands, its figures, and why it is out.

use super::silhouette::Room;
use super::table::{CELL_PAD, Grid, PIN};
use crate::desk::document::{BarChoice, Chosen, Document, RackFigures};
use crate::desk::edit::{Edit, Edits, RackEdit};
use crate::desk::format;
use crate::desk::words::rack as words;
use crate::desk::words::weigh_in::capitalised;
use crate::draw::theme::{self, Ink, Paper, size};
use crate::window::view_state::{RackColumn, ViewState};
use crate::window::widgets::middle_of;
use barpoise_core::rack::{Broken, Contender};
use egui::text::{LayoutJob, TextWrapping};
use egui::{
    Align2, Checkbox, Color32, Id, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo,
};

const ROW: f32 = 42.0;
/// A row of a setup that is out has a line for its reasons.
const REASONS: f32 = 22.0;

/// A place in the order from 1, and whether none beats it; `None` for a setup that is out.
pub(super) type Standing = Option<(usize, bool)>;

/// A setup in the table.
pub(super) struct Row<'a> {
    pub(super) contender: &'a Contender,
    place: Standing,
    /// The place of the one above with which it lies even.
    even_with: Option<usize>,
    reasons: &'a [Broken],
    pinned: bool,
}

impl Row<'_> {
    pub(super) fn name(&self) -> &str {
        &self.contender.solved.setup
    }

    /// `1st, goes on`.
    fn standing(&self) -> String {
        match self.place {
            Some((1, _)) => "1st, goes on".to_owned(),
            Some((place, unbeaten)) => match (self.even_with, unbeaten) {
                (Some(other), _) => format!("{}, even with {}", format::place(place), format::place(other)),
                (None, true) => format!("{}, worth a look", format::place(place)),
                (None, false) => format::place(place),
            },
            None => "out".to_owned(),
        }
    }

    pub(super) fn height(&self) -> f32 {
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

/// The rows that are not filtered out: what is kept on top first, what is out last.
pub(super) fn rows<'a>(
    document: &Document,
    view: &ViewState,
    figures: &'a RackFigures,
    chosen: &'a Chosen,
) -> Vec<Row<'a>> {
    let admitted = chosen.choice.order.iter().enumerate().map(|(place, ranked)| {
        let standing = Some((place + 1, ranked.unbeaten == Some(true)));
        let even_with = (ranked.place < place + 1).then_some(ranked.place);
        (ranked.index, standing, even_with, &[][..])
    });
    let refused =
        chosen.choice.refused.iter().map(|(index, reasons)| (*index, None, None, reasons.as_slice()));
    let wanted = view.rack.filter.trim().to_lowercase();
    let mut rows: Vec<Row<'a>> = admitted
        .chain(refused)
        .filter_map(|(index, place, even_with, reasons)| {
            let contender = figures.contenders.get(index)?;
            let name = &contender.solved.setup;
            let pinned = document.rack().is_pinned(name);
            Some(Row { contender, place, even_with, reasons, pinned })
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

#[expect(clippy::too_many_arguments, reason = "a row of a table that lays itself out")]
pub(super) fn row_ui(
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
    let name_at = left + PIN + grid.silhouette + 8.0;
    name_ui(&painter, paper, row, Pos2::new(name_at, line), left + grid.frozen - name_at - CELL_PAD);
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

fn name_ui(painter: &Painter, paper: Paper, row: &Row<'_>, at: Pos2, width: f32) {
    let (ink, strong) = (paper.color(Ink::Line), theme::strong(size::BODY));
    let name = middle_of(painter, row.name(), &strong, width);
    painter.text(at - Vec2::new(0.0, 9.5), Align2::LEFT_CENTER, name, strong, ink);
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
