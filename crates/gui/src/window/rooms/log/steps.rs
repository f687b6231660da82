//! The plan in the words a sawyer would say: one card for each setting.

use super::job::length_row;
use super::run::at_work;
use crate::desk::document::Document;
use crate::desk::edit::{Edit, Edits, LogEdit};
use crate::desk::words::cut::{heading, sentences};
use crate::draw::pictures::run_at;
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use barpoise_core::log::{Cut, Kind, LogJob, limits};
use egui::{Align2, Frame, Margin, RichText, Sense, Stroke, Ui, Vec2};

/// The cards; a click runs the cut to that setting. The one at work can be changed by hand.
pub(super) fn steps_ui(
    ui: &mut Ui,
    document: &Document,
    job: &LogJob,
    cut: &Cut,
    view: &mut ViewState,
    edits: &mut Edits,
) {
    let now = at_work(document, view).map(|(index, _)| index);
    for index in 0..cut.settings.len() {
        card_ui(ui, job, cut, view, index, now == Some(index));
        if now == Some(index) {
            by_hand_ui(ui, view, cut, index, edits);
        }
    }
}

/// What the person can do to the setting at work.
fn by_hand_ui(ui: &mut Ui, view: &ViewState, cut: &Cut, index: usize, edits: &mut Edits) {
    let Some(setting) = cut.settings.get(index) else { return };
    let number = index + 1;
    let mut ask = |change| edits.ask(Edit::Log(change));
    ui.horizontal_wrapped(|ui| {
        for (words, kind) in [("Sink", Kind::Sink), ("Pivot", Kind::Pivot)] {
            let chosen = setting.kind() == kind;
            let response = ui.selectable_label(chosen, words);
            let spoken = format!("Setting {number}: {words}");
            response
                .widget_info(|| egui::WidgetInfo::selected(egui::Role::RadioButton, true, chosen, &spoken));
            if response.clicked() && !chosen {
                ask(LogEdit::SettingKind { index, kind });
            }
        }
        let mut press = |words: &str, enabled: bool| {
            let response = ui.add_enabled(enabled, egui::Button::new(words));
            let spoken = format!("Setting {number}: {words}");
            response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, enabled, &spoken));
            response.clicked()
        };
        if press("Turn round", true) {
            ask(LogEdit::TurnSetting(index));
        }
        if press("Earlier", index > 0) {
            ask(LogEdit::SettingEarlier(index));
        }
        if press("Remove", true) {
            ask(LogEdit::RemoveSetting(index));
        }
    });
    for (name, lay_on, way) in
        [("Laid on from", true, setting.lay_on()), ("Runs off by", false, setting.run_off())]
    {
        let name = format!("Setting {number}: {name}");
        if let Some(way) = length_row(ui, view, &name, way, &limits::SLIDE_WAY) {
            ask(LogEdit::Way { index, lay_on, way });
        }
    }
}

fn card_ui(ui: &mut Ui, job: &LogJob, cut: &Cut, view: &mut ViewState, index: usize, on: bool) {
    let Some(setting) = cut.settings.get(index) else { return };
    let paper = view.paper;
    let fill = if on { paper.color(Ink::OursPale) } else { paper.color(Ink::Sheet) };
    let card = Frame::new().fill(fill).corner_radius(4.0).inner_margin(Margin::symmetric(6, 4));
    let response = card.show(ui, |ui| {
        ui.horizontal_top(|ui| {
            number_ui(ui, view, index, on);
            ui.vertical(|ui| {
                ui.spacing_mut().item_spacing.y = 2.0;
                let head = heading(job, setting);
                ui.add(egui::Label::new(RichText::new(head).font(theme::strong(size::BODY))).wrap());
                for sentence in sentences(job, view.units, cut, index) {
                    let ink = if sentence.danger { Ink::Danger } else { Ink::Soft };
                    ui.add(egui::Label::new(RichText::new(sentence.text).color(paper.color(ink))).wrap());
                }
            });
        });
        ui.set_min_width(ui.available_width());
    });
    let id = egui::Id::unique(("log card", index));
    let click = ui.interact(response.response.rect, id, Sense::click());
    let name = format!("Go to setting {}", index + 1);
    click.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &name));
    if click.has_focus() {
        let edge = Stroke::new(2.0, paper.color(Ink::Line));
        ui.painter().rect_stroke(response.response.rect, 4.0, edge, egui::StrokeKind::Inside);
    }
    if click.clicked() {
        view.cut_run = run_at(index) + 0.5;
        view.cut_plays = false;
    }
}

fn number_ui(ui: &mut Ui, view: &ViewState, index: usize, on: bool) {
    let (rect, _) = ui.allocate_exact_size(Vec2::splat(26.0), Sense::hover());
    let ours = view.paper.color(Ink::Ours);
    let (fill, ink) =
        if on { (ours, view.paper.color(Ink::Sheet)) } else { (view.paper.color(Ink::Sheet), ours) };
    ui.painter().circle(rect.center(), 12.0, fill, Stroke::new(2.0, ours));
    let text = (index + 1).to_string();
    ui.painter().text(rect.center(), Align2::CENTER_CENTER, text, theme::strong(size::BODY), ink);
}
