//! The list of readings: what each says, and how it goes with the others.

use crate::desk::document::Document;
use crate::desk::edit::{Edit, Edits, WeighInEdit};
use crate::desk::format;
use crate::desk::forms::reading::Entry;
use crate::desk::words::weigh_in as words;
use crate::draw::theme::{self, Ink, Paper, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::{at_right, scrolled};
use barpoise_core::weigh_in::{Fit, FittedReading, Knowledge, Reading};
use egui::{Align, Button, Id, Layout, Response, RichText, Role, ScrollArea, Sense, Stroke, Ui, WidgetInfo};

/// The bar of a residual: its size in points, and how many standard deviations reach its end.
const BAR: egui::Vec2 = egui::vec2(110.0, 16.0);
const BAR_END: f64 = 4.0;
const SHORT_BAR: egui::Vec2 = egui::vec2(56.0, 16.0);
/// Room for its number beside it, in points.
const NUMBER: f32 = 52.0;
/// What stands under a reading's name is set in by this much, in points.
const INDENT: f32 = 18.0;

/// Narrower than this, in points, a reading's name and its controls take two lines.
const ONE_LINE: f32 = 460.0;
/// What the controls take of one line, in points.
const CONTROLS: f32 = 250.0;

/// Shows the list.
pub(super) fn readings_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    let readings = document.yard().readings();
    let count = match readings.len() {
        0 => "No readings yet".to_owned(),
        count => words::counted(count, "reading"),
    };
    ui.label(RichText::new(count).font(theme::strong(size::STRONG)));
    if readings.is_empty() {
        empty_ui(ui, view.paper);
        return;
    }
    if let Some(refusal) = document.refusal().filter(|refusal| {
        matches!(refusal.edit, Edit::WeighIn(WeighInEdit::RemoveReading(_) | WeighInEdit::LeaveOut(..)))
    }) {
        ui.colored_label(view.paper.color(Ink::Warn), &refusal.reason);
    }
    scrolled(ScrollArea::vertical().auto_shrink(false), ui, |ui| {
        for (index, reading) in readings.iter().enumerate() {
            reading_ui(ui, document, view, edits, index, reading);
        }
    });
}

/// What to do first.
fn empty_ui(ui: &mut Ui, paper: Paper) {
    ui.label(
        "The figures of this yard come from its file. A luggage scale, a phone and a tape say what your own saw does.",
    );
    ui.label(
        RichText::new(
            "Take the hang angle first: hang the saw by the front handle from a cord, lay the phone along the bar, \
             and type what it shows on the left. A second one on a bar of another length teaches most.",
        )
        .color(paper.color(Ink::Soft)),
    );
}

fn reading_ui(
    ui: &mut Ui,
    document: &Document,
    view: &mut ViewState,
    edits: &mut Edits,
    index: usize,
    reading: &Reading,
) {
    let paper = view.paper;
    let fit = document.weigh_in().fit().ok();
    let fitted = fit.and_then(|fit| fit.readings.iter().find(|fitted| fitted.index == index));
    let off = fit.and_then(|fit| fit.disagreement.as_ref()).is_some_and(|off| off.index == index);
    let narrow = ui.available_width() < ONE_LINE;
    if narrow {
        name_ui(ui, paper, index, reading, ui.available_width());
    }
    ui.horizontal(|ui| {
        match fitted {
            Some(fitted) if narrow => residual_ui(ui, paper, fitted, off, SHORT_BAR),
            _ if narrow => {}
            _ => name_ui(ui, paper, index, reading, ui.available_width() - CONTROLS),
        }
        at_right(ui, Id::unique(("reading at right", index)), |ui| {
            controls_ui(ui, document, view, edits, index, reading);
        });
    });
    let spacing = ui.spacing().clone();
    ui.spacing_mut().interact_size.y = BAR.y + 2.0;
    ui.spacing_mut().item_spacing.y = 3.0;
    ui.horizontal(|ui| {
        ui.add_space(if narrow { 0.0 } else { INDENT });
        let text = read_and_expected(document, view, index, reading);
        ui.label(RichText::new(text).color(paper.color(Ink::Soft)));
        if let (Some(fitted), false) = (fitted, narrow) {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                residual_ui(ui, paper, fitted, off, BAR);
            });
        }
    });
    if let Some(said) = fit.and_then(|fit| disagreement(fit, index)) {
        ui.horizontal_wrapped(|ui| {
            ui.add_space(if narrow { 0.0 } else { INDENT });
            ui.colored_label(paper.color(Ink::Warn), said);
        });
    }
    *ui.spacing_mut() = spacing;
    let (rule, _) = ui.allocate_exact_size(egui::vec2(ui.available_width(), 1.0), Sense::hover());
    ui.painter().hline(rule.x_range(), rule.center().y, Stroke::new(1.0, paper.color(Ink::Rule)));
}

/// `21.4 ± 1.0°, the others say 21.3 ± 0.6°`.
fn read_and_expected(document: &Document, view: &ViewState, index: usize, reading: &Reading) -> String {
    let weigh_in = document.weigh_in();
    let fitted = weigh_in.fit().ok().and_then(|fit| fit.readings.iter().find(|fitted| fitted.index == index));
    let others = match fitted {
        Some(fitted) => fitted.by_others,
        None => {
            let after = weigh_in.after();
            after.readings().get(index).and_then(|reading| Knowledge::expected(after, reading.measured()))
        }
    };
    let read = words::read(view.units, reading);
    match others {
        Some((value, uncertainty)) => {
            let said = words::value(view.units, reading.measured(), value, uncertainty);
            format!("{read}, the others say {said}")
        }
        None => read,
    }
}

fn name_ui(ui: &mut Ui, paper: Paper, index: usize, reading: &Reading, width: f32) {
    let ink = if reading.left_out() { Ink::Soft } else { Ink::Line };
    let name = format!("{} · {}", index + 1, words::measure_of(reading.measured()));
    ui.scope(|ui| {
        ui.set_max_width(width);
        let text = RichText::new(name).font(theme::strong(size::BODY)).color(paper.color(ink));
        let label = ui.add(egui::Label::new(text).truncate());
        if let Some(levels) = words::levels(reading.measured()) {
            label.on_hover_text(levels);
        }
    });
}

/// Leave out, change, remove: from the right.
fn controls_ui(
    ui: &mut Ui,
    document: &Document,
    view: &mut ViewState,
    edits: &mut Edits,
    index: usize,
    reading: &Reading,
) {
    let number = index + 1;
    let mut left_out = reading.left_out();
    let tick = ui.checkbox(&mut left_out, "left out");
    tick.widget_info(|| {
        WidgetInfo::selected(Role::CheckBox, true, left_out, format!("Reading {number} left out"))
    });
    if tick.changed() {
        edits.ask(Edit::WeighIn(WeighInEdit::LeaveOut(index, left_out)));
    }
    if named(ui.add(Button::new("Change")), &format!("Change reading {number}")).clicked()
        && let Some(entry) = Entry::of_reading(document, index)
    {
        view.entry = entry;
    }
    if named(ui.add(Button::new("Remove")), &format!("Remove reading {number}")).clicked() {
        edits.ask(Edit::WeighIn(WeighInEdit::RemoveReading(index)));
        // The places in the list move: what was being changed may be another reading now.
        view.entry.editing = None;
    }
}

fn named(response: Response, name: &str) -> Response {
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, name));
    response
}

/// What is said of the reading that does not go with the rest.
fn disagreement(fit: &Fit, index: usize) -> Option<String> {
    let off = fit.disagreement.as_ref().filter(|off| off.index == index)?;
    Some(words::disagreement_here(off))
}

/// How far a reading lies from what is expected: a bar from a centre line, and the number.
fn residual_ui(ui: &mut Ui, paper: Paper, fitted: &FittedReading, disagrees: bool, size: egui::Vec2) {
    let number = fitted.standardised.map(format::signed_deviations);
    let shown = number.as_deref().unwrap_or("follows");
    let ink = if disagrees { Ink::Warn } else { Ink::Line };
    let text = RichText::new(shown).font(theme::strong(theme::size::BODY)).color(paper.color(ink));
    // One width for every number keeps the bars under each other.
    ui.allocate_ui_with_layout(egui::vec2(NUMBER, BAR.y), Layout::right_to_left(Align::Center), |ui| {
        ui.set_min_width(NUMBER);
        ui.label(text);
    });
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let spoken = format!("Reading {} in standard deviations: {}", fitted.index + 1, words::off(fitted));
    response.widget_info(|| WidgetInfo::labeled(Role::Meter, true, &spoken));
    let painter = ui.painter();
    let middle = rect.center();
    #[expect(clippy::cast_possible_truncation, reason = "the screen is f32 by egui's choice")]
    let x_at = |off: f64| middle.x + 0.5 * rect.width() * (off / BAR_END).clamp(-1.0, 1.0) as f32;
    let rule = Stroke::new(1.0, paper.color(Ink::Rule));
    painter.hline(rect.x_range(), middle.y, rule);
    for tick in [-2.0, 2.0] {
        painter.vline(x_at(tick), rect.y_range().shrink(4.0), rule);
    }
    if let Some(off) = fitted.standardised {
        let fill = if disagrees { Ink::Warn } else { Ink::Ours };
        let bar = egui::Rect::from_x_y_ranges(
            x_at(off.min(0.0))..=x_at(off.max(0.0)),
            middle.y - 4.0..=middle.y + 4.0,
        );
        painter.rect_filled(bar, 0.0, paper.color(fill));
    }
    painter.vline(middle.x, rect.y_range(), Stroke::new(1.5, paper.color(Ink::Line)));
    response.on_hover_text(
        "Read less what the others say, in standard deviations of both together; the ticks stand at two.",
    );
}
