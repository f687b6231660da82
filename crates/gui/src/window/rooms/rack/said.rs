//! The choice in sentences, what would turn it, how the setup on the bench suits itself, and what to buy.

use super::section_ui;
use super::silhouette::Room as SilhouetteRoom;
use crate::desk::document::{Chosen, Document, RackFigures};
use crate::desk::words::rack as words;
use crate::desk::words::weigh_in::capitalised;
use crate::draw::theme::{self, Ink, Paper, size};
use crate::window::view_state::ViewState;
use barpoise_core::measure_text::read_share;
use barpoise_core::rack::{Preferences, Verdict};
use egui::{Align, Label, Layout, RichText, Role, Sense, Ui, Vec2, WidgetInfo};

/// Turns that are told; the rest would be a list for its own sake.
const TURNS: usize = 8;

/// Size of the picture of the saw that goes on, in points.
const WINNER: Vec2 = Vec2::new(190.0, 60.0);
/// Narrower than this, in points, there is no room for it.
const WITH_PICTURE: f32 = 420.0;

/// Who goes on: as a picture and a sentence.
pub(super) fn winner_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let paper = view.paper;
    let Some((figures, chosen)) = document.rack_figures().zip(document.chosen()) else {
        let words =
            if document.rack_wood().is_some() { "Being put through the wood." } else { "No wood yet." };
        soft(ui, paper, words);
        return;
    };
    let preferences = document.rack().preferences();
    let said = told(document, view, figures, chosen, &preferences).sentences();
    let winner = chosen.choice.winner().and_then(|index| figures.contenders.get(index));
    let setup = winner.and_then(|one| document.yard().setup(&one.solved.setup));
    ui.scope(|ui| {
        if figures.is_old {
            ui.set_opacity(0.5);
        }
        ui.horizontal(|ui| {
            if let Some(setup) = setup.filter(|_| ui.available_width() >= WITH_PICTURE) {
                let (rect, picture) = ui.allocate_exact_size(WINNER, Sense::hover());
                let name = format!("{} to scale", setup.name());
                picture.widget_info(|| WidgetInfo::labeled(Role::Image, true, &name));
                SilhouetteRoom::of(std::iter::once(setup)).paint(setup, &ui.painter_at(rect), rect, paper);
                ui.add_space(8.0);
            }
            let ink = if setup.is_some() { Ink::Ours } else { Ink::Warn };
            if let Some(first) = said.into_iter().next() {
                let text = RichText::new(first).font(theme::strong(size::STRONG)).color(paper.color(ink));
                ui.add(Label::new(text).wrap());
            }
        });
    });
}

/// Why it goes on.
pub(super) fn why_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let Some((figures, chosen)) = document.rack_figures().zip(document.chosen()) else {
        return;
    };
    let preferences = document.rack().preferences();
    let said = told(document, view, figures, chosen, &preferences).sentences();
    ui.scope(|ui| {
        if figures.is_old {
            ui.set_opacity(0.5);
        }
        for sentence in said.into_iter().skip(1) {
            ui.label(sentence);
        }
    });
}

/// What would make another win.
pub(super) fn turns_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let Some((figures, chosen)) = document.rack_figures().zip(document.chosen()) else { return };
    let preferences = document.rack().preferences();
    let told = told(document, view, figures, chosen, &preferences);
    section_ui(ui, view.paper, "What is exchanged for what");
    for sentence in told.trade_offs() {
        ui.label(sentence);
    }
    section_ui(ui, view.paper, "What would change it");
    if chosen.turns.is_empty() {
        soft(ui, view.paper, "No single weight or limit would.");
    }
    for turn in chosen.turns.iter().take(TURNS) {
        ui.label(told.turn(turn));
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

/// The numbers behind the choice, folded away until they are asked for.
pub(super) fn numbers_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let Some((figures, chosen)) = document.rack_figures().zip(document.chosen()) else { return };
    let Some(winner) = chosen.choice.winner().and_then(|index| figures.contenders.get(index)) else { return };
    let preferences = document.rack().preferences();
    let told = told(document, view, figures, chosen, &preferences);
    ui.collapsing("The numbers", |ui| {
        for line in told.numbers(winner) {
            ui.label(capitalised(&line));
        }
        ui.label(RichText::new(words::HOLDS_COMPARE).color(view.paper.color(Ink::Soft)));
    });
}

/// Two saws together, bars to buy, and the loops of the setups there are.
pub(super) fn shopping_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let Some((figures, chosen)) = document.rack_figures().zip(document.chosen()) else { return };
    let preferences = document.rack().preferences();
    let told = told(document, view, figures, chosen, &preferences);
    section_ui(ui, view.paper, "Two saws");
    ui.label(words::pair(&told, chosen.pair.as_ref()));
    section_ui(ui, view.paper, "Bars to buy for this wood");
    match (&figures.buyable, &chosen.purchases) {
        (Some(bars), Some(purchases)) => {
            if purchases.is_empty() {
                soft(ui, view.paper, words::nothing_to_buy());
            }
            for said in purchases.iter().filter_map(|one| words::buy(&told, bars, one)) {
                ui.label(said);
            }
            soft(ui, view.paper, words::LENGTHS_SOLD);
        }
        _ => soft(ui, view.paper, "Bars of other lengths are being looked at."),
    }
    section_ui(ui, view.paper, "Loops to order");
    for order in &figures.loops {
        ui.label(words::loop_order(view.units, order));
    }
}

fn told<'a>(
    document: &'a Document,
    view: &ViewState,
    figures: &'a RackFigures,
    chosen: &'a Chosen,
    preferences: &'a Preferences,
) -> words::Told<'a> {
    words::Told {
        units: view.units,
        yard: document.yard(),
        wood: &figures.wood,
        contenders: &figures.contenders,
        choice: &chosen.choice,
        preferences,
        thresholds: document.rack().thresholds(),
        rates: document.rack().rates(),
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
