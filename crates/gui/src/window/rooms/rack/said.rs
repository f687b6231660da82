//! The choice in sentences, what would turn it, how the setup on the bench suits itself, and what to buy.

use super::section_ui;
use crate::desk::document::Document;
use crate::desk::edit::{Edit, Edits, RackEdit};
use crate::desk::format;
use crate::desk::words::rack as words;
use crate::desk::words::weigh_in::capitalised;
use crate::draw::theme::{self, Ink, Paper, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::MeasureField;
use barpoise_core::measure_text::read_share;
use barpoise_core::rack::Verdict;
use egui::{Align, Id, Layout, RichText, Ui};

/// Turns that are told; the rest would be a list for its own sake.
const TURNS: usize = 8;

/// Who goes on and why.
pub(super) fn choice_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let paper = view.paper;
    let Some((figures, chosen)) = document.rack_figures().zip(document.chosen()) else {
        return;
    };
    let preferences = document.rack().preferences();
    let said = words::choice(view.units, &figures.wood, &figures.contenders, &chosen.choice, &preferences);
    ui.scope(|ui| {
        if figures.is_old {
            ui.set_opacity(0.5);
        }
        for (place, sentence) in said.into_iter().enumerate() {
            let text = RichText::new(sentence);
            let found = chosen.choice.winner().is_some();
            ui.label(match place {
                0 if found => text.font(theme::strong(size::STRONG)).color(paper.color(Ink::Ours)),
                0 => text.font(theme::strong(size::STRONG)).color(paper.color(Ink::Warn)),
                _ => text,
            });
        }
    });
}

/// What would make another win.
pub(super) fn turns_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let Some((figures, chosen)) = document.rack_figures().zip(document.chosen()) else { return };
    section_ui(ui, view.paper, "What would turn it");
    if chosen.turns.is_empty() {
        soft(ui, view.paper, "No single weight or limit would.");
    }
    for turn in chosen.turns.iter().take(TURNS) {
        ui.label(words::turn(view.units, turn, &figures.contenders));
    }
}

/// How the setup on the bench suits itself: number, verdict, threshold and where that comes from.
pub(super) fn suits_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let Some(figures) = document.rack_figures() else { return };
    let name = document.bench().base().name();
    let Some(one) = figures.contenders.iter().find(|one| one.solved.setup == name) else { return };
    section_ui(ui, view.paper, &format!("How {name} suits itself"));
    for check in one.fit.checks() {
        let ink = match check.verdict {
            Verdict::Suits => Ink::Line,
            Verdict::Marginal | Verdict::DoesNot => Ink::Warn,
        };
        ui.horizontal(|ui| {
            ui.label(capitalised(check.kind.words()));
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let verdict = RichText::new(check.verdict.words()).font(theme::strong(size::BODY));
                ui.label(verdict.color(view.paper.color(ink)));
            });
        });
        let value = words::check_value(view.units, check.kind, check.value);
        let threshold = words::check_threshold(view.units, check);
        soft(ui, view.paper, &format!("{}. {threshold}", capitalised(&value)));
    }
}

/// Bars that the rack lacks for this wood, and the loops of its setups.
pub(super) fn shopping_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let Some((figures, chosen)) = document.rack_figures().zip(document.chosen()) else { return };
    section_ui(ui, view.paper, "Bars for this wood");
    ui.horizontal(|ui| {
        ui.label(RichText::new("Cuts done in one setting").color(view.paper.color(Ink::Soft)));
        let share = document.rack().wanted_share();
        let field = MeasureField {
            id: Id::unique("rack wanted share"),
            name: "Cuts that a bar should do in one setting, in percent",
            shown: format::percent(share),
            width: 56.0,
        };
        if let (_, Some(share)) = field.show(ui, view.paper, read_percent) {
            edits.ask(Edit::Rack(RackEdit::WantedShare(share)));
        }
    });
    let share = document.rack().wanted_share();
    match &chosen.missing {
        None => soft(ui, view.paper, "Bars of other lengths are being looked at."),
        Some(bars) if bars.is_empty() => soft(ui, view.paper, &words::none_missing(share)),
        Some(bars) => {
            for bar in bars {
                ui.label(words::missing(view.units, bar, share));
            }
        }
    }
    section_ui(ui, view.paper, "Loops to order");
    for order in &figures.loops {
        ui.label(words::loop_order(order));
    }
}

/// A share, or a plain number of percent.
pub(super) fn read_percent(text: &str) -> Result<f64, String> {
    let share = read_share(text).map_err(|error| error.to_string())?;
    let share = if share > 1.0 && !text.contains('%') { share / 100.0 } else { share };
    if (0.0..=1.0).contains(&share) { Ok(share) } else { Err("0 % to 100 %".to_owned()) }
}

fn soft(ui: &mut Ui, paper: Paper, text: &str) {
    ui.label(RichText::new(text).color(paper.color(Ink::Soft)));
}
