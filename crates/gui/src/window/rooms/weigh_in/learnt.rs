//! What the readings taught: the numbers, how they go together, what is still open, what to read next.

use crate::desk::document::{Document, WeighInFigures};
use crate::desk::edit::{Edit, Edits, WeighInEdit};
use crate::desk::format;
use crate::desk::today::today;
use crate::desk::words::weigh_in as words;
use crate::draw::theme::{self, Ink, Paper, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::{at_right, caption};
use barpoise_core::weigh_in::{Choice, Fit, Learnt, Part, Unknown};
use egui::{Align, Id, Layout, RichText, Role, Sense, Ui, WidgetInfo};
use std::collections::HashSet;
use std::ops::Range;

/// The bar that says how much comes from the readings, in points.
const SHARE_BAR: egui::Vec2 = egui::vec2(44.0, 8.0);

/// A number of which the readings tell less than this is listed on request.
const HARDLY: f64 = 0.05;

/// Height of a line of values, in points.
const VALUE_ROW: f32 = 18.0;

/// Shows the column.
pub(super) fn learnt_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    let weigh_in = document.weigh_in();
    ui.label(RichText::new("What the readings teach").font(theme::strong(size::STRONG)));
    match weigh_in.fit() {
        Ok(fit) => agreement_ui(ui, document, view, fit),
        Err(_) if document.yard().readings().is_empty() => {
            ui.label("Nothing yet: every number is what the yard's file says, give or take what is common.");
        }
        Err(reason) => {
            ui.label(words::cannot_fit(view.units, reason));
        }
    }
    if !document.yard().readings().is_empty() || weigh_in.in_force().is_some() {
        apply_ui(ui, document, view, edits);
    }
    if let Ok(fit) = weigh_in.fit() {
        counts_ui(ui, document, view, edits, fit);
    }
    ui.add_space(6.0);
    next_ui(ui, document, view, "What to read next", 0..1);
    ui.add_space(6.0);
    numbers_ui(ui, document, view, edits);
    if let Ok(fit) = weigh_in.fit() {
        ui.add_space(6.0);
        open_ui(ui, view.paper, fit);
    }
    ui.add_space(6.0);
    next_ui(ui, document, view, "What else would help", 1..usize::MAX);
    check_ui(ui, document, view);
}

fn agreement_ui(ui: &mut Ui, document: &Document, view: &ViewState, fit: &Fit) {
    let ink = if words::is_doubtful(fit) { Ink::Warn } else { Ink::Line };
    let said = ui.colored_label(view.paper.color(ink), words::agreement(fit));
    if let Some(numbers) = words::agreement_in_numbers(fit) {
        said.on_hover_text(&numbers);
        egui::CollapsingHeader::new("In the numbers of statistics").id_salt("statistics").show(ui, |ui| {
            ui.label(numbers);
        });
    }
    let off =
        fit.disagreement.as_ref().and_then(|off| Some((off, document.yard().readings().get(off.index)?)));
    if let Some((off, reading)) = off {
        ui.colored_label(view.paper.color(Ink::Warn), words::disagreement(off, reading.measured()));
    }
    for fitted in &fit.readings {
        let measured = document.yard().readings().get(fitted.index).map(|reading| reading.measured());
        if let Some(said) = measured.and_then(|measured| words::moved(view.units, fit, fitted, measured)) {
            ui.label(said);
        }
    }
    ui.label(RichText::new(words::settled(fit)).color(view.paper.color(Ink::Soft)));
}

/// What the readings say of loops that nobody counted, with a button for each count that fits.
fn counts_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits, fit: &Fit) {
    for count in &fit.counts {
        ui.add_space(6.0);
        caption(ui, view.paper, "To count");
        ui.label(words::links(count));
        ui.horizontal_wrapped(|ui| {
            for links in words::counts_to_pick(count) {
                let button = ui.button(format!("{links} links"));
                let name = format!("The loop on {} has {links} links", count.bar);
                button.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
                if button.on_hover_text(&name).clicked() {
                    let bar = count.bar.clone();
                    edits.ask(Edit::WeighIn(WeighInEdit::CountLinks { bar, links }));
                }
            }
        });
        let refused = document.refusal().filter(|refusal| {
            matches!(&refusal.edit, Edit::WeighIn(WeighInEdit::CountLinks { bar, .. }) if *bar == count.bar)
        });
        if let Some(refusal) = refused {
            ui.colored_label(view.paper.color(Ink::Warn), &refusal.reason);
        }
    }
}

fn apply_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let (weigh_in, paper) = (document.weigh_in(), view.paper);
    let state = match (weigh_in.in_force(), weigh_in.has_news()) {
        (Some(date), false) => Some(format!("In the yard since {date}.")),
        (Some(date), true) => Some(format!("The yard still has the weigh-in of {date}.")),
        (None, true) => Some("Not in the yard yet.".to_owned()),
        (None, false) => None,
    };
    if let Some(state) = state {
        ui.label(RichText::new(state).color(paper.color(Ink::Soft)));
    }
    ui.horizontal(|ui| {
        // What contradicts itself is applied only by a button that says so.
        let name = if words::contradicts(weigh_in.fit()) { "Apply all the same" } else { "Apply" };
        let apply = egui::Button::new(RichText::new(name).font(theme::strong(size::BODY)));
        let apply = ui.add_enabled(weigh_in.has_news(), apply);
        if apply.on_hover_text("Write these numbers into the yard; Bench and Log then use them").clicked() {
            edits.ask(Edit::WeighIn(WeighInEdit::Apply { date: today() }));
        }
        let back = ui.add_enabled(weigh_in.in_force().is_some(), egui::Button::new("Put back"));
        if back
            .on_hover_text("The numbers as they were before the newest weigh-in; the readings stay")
            .clicked()
        {
            edits.ask(Edit::WeighIn(WeighInEdit::PutBack));
        }
    });
    let refused = document.refusal().filter(|refusal| {
        matches!(
            refusal.edit,
            Edit::WeighIn(WeighInEdit::Apply { .. } | WeighInEdit::PutBack | WeighInEdit::Learn(_))
        )
    });
    let reason = refused.map(|refusal| refusal.reason.as_str()).or_else(|| weigh_in.refusal());
    if let Some(reason) = reason {
        ui.colored_label(paper.color(Ink::Warn), reason);
    }
}

/// The numbers with a tick for each that may be learnt, by part.
fn numbers_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let weigh_in = document.weigh_in();
    if weigh_in.readable().is_empty() {
        return;
    }
    let own = matches!(document.choice(), Choice::Chosen(_));
    ui.horizontal(|ui| {
        caption(ui, view.paper, "To learn");
        at_right(ui, Id::unique("to learn at right"), |ui| {
            if ui.selectable_label(!own, "automatic").clicked() && own {
                edits.ask(learn(Choice::Automatic));
            }
            if ui.selectable_label(own, "my own").clicked() && !own {
                edits.ask(learn(Choice::Chosen(picked(document))));
            }
        });
    });
    let learnt = |unknown: &Unknown| weigh_in.fit().ok()?.of(unknown);
    // What the readings hardly touch is listed on request: a grip or a tank, where they tell of the weight.
    let (told, rest): (Vec<&Unknown>, Vec<&Unknown>) = weigh_in
        .readable()
        .iter()
        .partition(|unknown| learnt(unknown).is_none_or(|learnt| learnt.from_readings() >= HARDLY));
    numbers_of(ui, document, view, edits, &told);
    if !rest.is_empty() {
        let name = format!("Hardly touched: {}", words::counted(rest.len(), "number"));
        egui::CollapsingHeader::new(name).id_salt("hardly touched").show(ui, |ui| {
            numbers_of(ui, document, view, edits, &rest);
        });
    }
    let note =
        "± is one standard uncertainty. The bar says how much of what is known comes from the readings.";
    ui.label(RichText::new(note).color(view.paper.color(Ink::Soft)));
}

fn numbers_of(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits, unknowns: &[&Unknown]) {
    let mut last = None;
    for unknown in unknowns {
        if unknown.quantity.part() == Part::Powerhead && last != Some(&unknown.of) {
            ui.label(RichText::new(&*unknown.of).font(theme::strong(size::BODY)));
            last = Some(&unknown.of);
        }
        ui.scope(|ui| number_ui(ui, document, view, edits, unknown));
    }
}

const fn learn(choice: Choice) -> Edit {
    Edit::WeighIn(WeighInEdit::Learn(choice))
}

/// Room for so many letters of what is learnt stands beside its share.
const LETTERS: usize = 34;

/// The numbers that are learnt now.
fn picked(document: &Document) -> HashSet<Unknown> {
    match document.choice() {
        Choice::Chosen(chosen) => chosen.clone(),
        Choice::Automatic => document.weigh_in().readable().iter().cloned().collect(),
    }
}

fn number_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits, unknown: &Unknown) {
    ui.spacing_mut().item_spacing.y = 1.0;
    let weigh_in: &WeighInFigures = document.weigh_in();
    let learnt = weigh_in.fit().ok().and_then(|fit| fit.of(unknown));
    let mut on = picked(document).contains(unknown);
    ui.horizontal(|ui| {
        let name = words::capitalised(&words::unknown(unknown));
        // A head has many numbers under its own heading, a bar or a chain has one.
        let shown = match unknown.quantity.part() {
            Part::Powerhead => words::capitalised(unknown.quantity.words()),
            Part::Bar | Part::Chain => name.clone(),
        };
        let short = format::middle(&shown, LETTERS);
        let tick = ui.checkbox(&mut on, &short);
        let tick = if short == shown { tick } else { tick.on_hover_text(&shown) };
        tick.widget_info(|| WidgetInfo::selected(Role::CheckBox, true, on, format!("Learn {name}")));
        if tick.changed() {
            let mut chosen = picked(document);
            if on {
                chosen.insert(unknown.clone())
            } else {
                chosen.remove(unknown)
            };
            edits.ask(learn(Choice::Chosen(chosen)));
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| match learnt {
            Some(learnt) => share_ui(ui, view.paper, learnt, &name),
            None => {
                ui.label(RichText::new("kept").color(view.paper.color(Ink::Soft)));
            }
        });
    });
    let Some(learnt) = learnt else { return };
    let (before, after) = words::learnt(view.units, learnt);
    let unit = view.units.unit_name(words::quantity_dimension(unknown.quantity));
    let before = before.strip_suffix(unit).map_or(before.as_str(), str::trim_end);
    ui.spacing_mut().interact_size.y = VALUE_ROW;
    ui.horizontal_wrapped(|ui| {
        ui.add_space(16.0);
        ui.label(RichText::new(format!("{before} →")).color(view.paper.color(Ink::Soft)));
        ui.label(RichText::new(after).font(theme::strong(size::BODY)));
    });
}

/// How much of what is known of a number comes from the readings.
fn share_ui(ui: &mut Ui, paper: Paper, learnt: &Learnt, name: &str) {
    let share = learnt.from_readings();
    let (rect, response) = ui.allocate_exact_size(SHARE_BAR, Sense::hover());
    let text = format::percent(share);
    let spoken = format!("{name}, from the readings {text}");
    response.widget_info(|| WidgetInfo::labeled(Role::Meter, true, &spoken));
    #[expect(clippy::cast_possible_truncation, reason = "the screen is f32 by egui's choice")]
    let filled = rect.with_max_x(rect.left() + rect.width() * share as f32);
    ui.painter().rect_filled(rect, 2.0, paper.color(Ink::Rule));
    ui.painter().rect_filled(filled, 2.0, paper.color(Ink::Ours));
    response.on_hover_text(format!("{text} of what is known of it comes from the readings"));
}

/// What the readings leave open.
fn open_ui(ui: &mut Ui, paper: Paper, fit: &Fit) {
    let said: Vec<String> = fit.mixed.iter().map(words::mixed).filter(|said| !said.is_empty()).collect();
    if said.is_empty() {
        return;
    }
    caption(ui, paper, "Still open");
    for sentence in said {
        ui.label(sentence);
    }
}

/// Readings that would help, those of these ranks: each a button that takes it up in the form.
fn next_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, title: &str, ranks: Range<usize>) {
    let Some(setup) = view.entry.setup(document) else { return };
    let Some(learnt) = document.weigh_in().of_setup(setup.name()) else { return };
    let some: Vec<_> = learnt.next.iter().enumerate().filter(|(rank, _)| ranks.contains(rank)).collect();
    if some.is_empty() {
        return;
    }
    caption(ui, view.paper, title);
    for (_, next) in some {
        ui.label(words::next(next));
        let name = words::measure_of(&next.measured);
        let button = ui.button("Take this reading");
        button.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Take reading: {name}")));
        if button.clicked() {
            view.entry.take_up(&next.measured);
        }
    }
}

/// The bands against draws, computed once it is in sight.
fn check_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let Some(setup) = view.entry.setup(document) else { return };
    let Some(learnt) = document.weigh_in().of_setup(setup.name()) else { return };
    ui.add_space(6.0);
    let next = egui::Rect::from_min_size(ui.cursor().min, egui::vec2(1.0, size::HIT));
    if !ui.is_rect_visible(next) {
        ui.add_space(size::HIT);
        return;
    }
    let check = learnt.check();
    let ink = if words::misleads(check) { Ink::Warn } else { Ink::Soft };
    ui.label(RichText::new(words::draws(check)).color(view.paper.color(ink)));
    if let Some(text) = words::no_hang(check) {
        ui.label(RichText::new(text).color(view.paper.color(Ink::Warn)));
    }
}
