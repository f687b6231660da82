//! The log as it lies: diameter, height, where one stands, tangle and bind.

use super::person::person_ui;
use crate::desk::document::Document;
use crate::desk::edit::{Edit, Edits, LogEdit};
use crate::desk::format;
use crate::draw::theme::Ink;
use crate::window::view_state::ViewState;
use crate::window::widgets::{MeasureField, at_right};
use barpoise_core::Range;
use barpoise_core::log::{Bind, Stand, Tangle, limits};
use barpoise_core::measure_text::{read_angle, read_length};
use barpoise_core::units::Length;
use egui::{Align, Id, Layout, RichText, Ui};

/// The rows of the log.
pub(super) fn job_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let log = document.log();
    let mut oval = log.height().is_some();
    let tick = |ui: &mut Ui| drop(ui.checkbox(&mut oval, "Oval"));
    if let Some(width) = length_row_with(ui, view, "Log diameter", log.width(), &limits::LOG_DIAMETER, tick) {
        edits.ask(Edit::Log(LogEdit::Diameter(width)));
    }
    if oval != log.height().is_some() {
        edits.ask(Edit::Log(LogEdit::Height(oval.then(|| log.width()))));
    }
    if let Some(height) = log.height()
        && let Some(height) = length_row(ui, view, "Upright diameter", height, &limits::LOG_DIAMETER)
    {
        edits.ask(Edit::Log(LogEdit::Height(Some(height))));
    }
    if let Some(clearance) = length_row(ui, view, "Above ground", log.clearance(), &limits::CLEARANCE) {
        edits.ask(Edit::Log(LogEdit::Clearance(clearance)));
    }
    swing_ui(ui, document, view, edits);
    let stands =
        [("one side", Stand::OneSide), ("both sides", Stand::BothSides), ("walk round", Stand::WalkRound)];
    choice_row(ui, view, "Stand", &stands, log.stand(), |stand| edits.ask(Edit::Log(LogEdit::Stand(stand))));
    let tangles = [("none", Tangle::None), ("near side", Tangle::Near), ("far side", Tangle::Far)];
    choice_row(ui, view, "Brush", &tangles, log.tangle(), |tangle| {
        edits.ask(Edit::Log(LogEdit::Tangle(tangle)))
    });
    let binds = [("none", Bind::None), ("top bind", Bind::Top), ("bottom bind", Bind::Bottom)];
    choice_row(ui, view, "Bind", &binds, log.bind(), |bind| edits.ask(Edit::Log(LogEdit::Bind(bind))));
    person_ui(ui, document, view, edits);
    if let Some(refusal) = document.refusal().filter(|refusal| matches!(refusal.edit, Edit::Log(_))) {
        ui.colored_label(view.paper.color(Ink::Warn), &refusal.reason);
    }
}

/// How far head and handles let the bar swing about the spikes.
fn swing_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let swing = document.log().swing();
    let read = |text: &str| {
        let angle = read_angle(text).map_err(|error| error.to_string())?;
        limits::SWING_LIMIT.refusal(angle.as_deg()).map_or(Ok(angle), Err)
    };
    ui.horizontal(|ui| {
        ui.label(RichText::new("Swing up · down").color(view.paper.color(Ink::Soft))).on_hover_text(
            "How far the bar turns about the spikes from straight in, until head or handles meet the bark",
        );
        at_right(ui, Id::unique("log swing at right"), |ui| {
            let mut field = |name, angle| {
                let id = Id::unique(("log field", name));
                MeasureField { id, name, shown: format::whole_angle(angle), width: 44.0 }
                    .show(ui, view.paper, read)
                    .1
            };
            let (up, down) = (
                field("Swing limit, nose up", swing.upward()),
                field("Swing limit, nose down", swing.downward()),
            );
            if down.is_some() || up.is_some() {
                let (upward, downward) = (up.unwrap_or(swing.upward()), down.unwrap_or(swing.downward()));
                edits.ask(Edit::Log(LogEdit::Swing { upward, downward }));
            }
        });
    });
}

pub(super) fn length_row(
    ui: &mut Ui,
    view: &ViewState,
    name: &str,
    shown: Length,
    range: &Range,
) -> Option<Length> {
    length_row_with(ui, view, name, shown, range, |_| ())
}

/// The same with something between name and field.
fn length_row_with(
    ui: &mut Ui,
    view: &ViewState,
    name: &str,
    shown: Length,
    range: &Range,
    between: impl FnOnce(&mut Ui),
) -> Option<Length> {
    let units = view.units;
    let read = |text: &str| {
        let length = read_length(text, units.length_from()).map_err(|error| error.to_string())?;
        match range.refusal(length.as_mm()) {
            None => Ok(length),
            Some(_) => {
                let ends = (Length::from_mm(range.min), Length::from_mm(range.max));
                Err(format!("{} to {}", units.length(ends.0), units.length(ends.1)))
            }
        }
    };
    ui.horizontal(|ui| {
        ui.label(RichText::new(name).color(view.paper.color(Ink::Soft)));
        between(ui);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let field = MeasureField {
                id: Id::unique(("log field", name)),
                name,
                shown: units.length(shown),
                width: 84.0,
            };
            field.show(ui, view.paper, read).1
        })
        .inner
    })
    .inner
}

fn choice_row<T: PartialEq + Copy>(
    ui: &mut Ui,
    view: &ViewState,
    name: &str,
    choices: &[(&str, T)],
    current: T,
    mut pick: impl FnMut(T),
) {
    ui.horizontal(|ui| {
        ui.label(RichText::new(name).color(view.paper.color(Ink::Soft)));
        at_right(ui, Id::unique(("log choice at right", name)), |ui| {
            for (words, value) in choices {
                let chosen = *value == current;
                let response = ui.selectable_label(chosen, *words);
                let spoken = format!("{name}: {words}");
                response.widget_info(|| {
                    egui::WidgetInfo::selected(egui::Role::RadioButton, true, chosen, &spoken)
                });
                if response.clicked() && !chosen {
                    pick(*value);
                }
            }
        });
    });
}
