//! The column: the saw and the log, the plan in words, who carries it, the other bars.

use super::job::job_ui;
use super::steps::steps_ui;
use crate::desk::document::{Document, LogFigures, RackRow};
use crate::desk::edit::{Edit, Edits, LogEdit};
use crate::desk::format;
use crate::desk::sources::Topic;
use crate::desk::words::cut::{POSE_IS_GEOMETRY, help as help_words, left_words, rate_sources};
use crate::desk::words::kickback as kickback_words;
use crate::draw::theme::{self, Ink, size};
use crate::window::rooms::picks::{compare_pick_ui, short_picks_ui};
use crate::window::rooms::sources::sources_fold_ui;
use crate::window::view_state::ViewState;
use crate::window::widgets::{Sense, caption, figure_row, whole};
use barpoise_core::log::{Carrier, Cut, KickbackRatios};
use barpoise_core::units::{Angle, Force, Length};
use egui::{Align, Layout, RichText, Ui};

/// Shows the column.
pub(super) fn column_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    short_picks_ui(ui, document, view, edits);
    job_ui(ui, document, view, edits);
    let Some(figures) = document.log_figures() else { return };
    ui.add_space(8.0);
    match figures.cut() {
        Ok(cut) => {
            verdict_ui(ui, figures, cut, view, edits);
            steps_ui(ui, document, figures.job(), cut, view, edits);
            ui.add_space(6.0);
            ui.scope(|ui| carry_ui(ui, document, figures, cut, view));
        }
        Err(reason) => {
            ui.colored_label(view.paper.color(Ink::Warn), format!("This bar cannot cut here: {reason}"));
        }
    }
    ui.add_space(10.0);
    ui.scope(|ui| rack_ui(ui, document, figures, view, edits));
    ui.add_space(10.0);
    compare_pick_ui(ui, document, view, edits);
    if let Some(kickback) = figures.kickback() {
        ui.scope(|ui| kickback_ui(ui, document, kickback, view));
    }
    sources_fold_ui(ui, view, &Topic::LOG);
}

fn verdict_ui(ui: &mut Ui, figures: &LogFigures, cut: &Cut, view: &ViewState, edits: &mut Edits) {
    let paper = view.paper;
    let (whole, doable) = (cut.is_whole(), cut.is_doable());
    let head = match (cut.is_own, whole) {
        (true, _) => "Your own settings",
        (false, true) => "Goes through in",
        (false, false) => "Does not go through: the best part",
    };
    caption(ui, paper, head);
    ui.horizontal(|ui| {
        let count = cut.settings.len();
        let noun = if count == 1 { "setting" } else { "settings" };
        ui.label(RichText::new(format!("{count} {noun}")).font(theme::strong(size::FIGURE)));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let ink = if whole && doable { Ink::Ours } else { Ink::Warn };
            let share = format::share_of_section(cut.cover.covered_fraction);
            ui.label(
                RichText::new(format!("{share} of the section"))
                    .font(theme::strong(size::BODY))
                    .color(paper.color(ink)),
            );
        });
    });
    let mut warn = |text: String| ui.label(RichText::new(text).color(paper.color(Ink::Warn)));
    if !doable {
        warn("A person like this cannot do all of it: see the red lines.".to_owned());
    }
    if let Some(left) = left_words(cut) {
        warn(left);
    }
    if !ui.input(|input| input.pointer.any_down()) {
        if let Some(help) = figures.help() {
            let text = help_words(&help, view.units);
            ui.label(RichText::new(text).color(paper.color(Ink::Warn)));
        } else if figures.help_is_coming() {
            ui.label(RichText::new("Looking for what would cut the rest …").color(paper.color(Ink::Soft)));
            ui.ctx().request_repaint_after(std::time::Duration::from_millis(50));
        }
    }
    if whole && !cut.is_own && !cut.proven_fewest {
        let text = "Not proven to be the fewest.";
        ui.label(RichText::new(text).color(paper.color(Ink::Soft)));
    }
    ui.label(RichText::new(POSE_IS_GEOMETRY).color(paper.color(Ink::Soft)));
    ui.horizontal(|ui| {
        if ui.button("Add a setting").clicked() {
            edits.ask(Edit::Log(LogEdit::AddSetting));
        }
        if cut.is_own && ui.button("Plan again").clicked() {
            edits.ask(Edit::Log(LogEdit::PlanAgain));
        }
    });
}

fn carry_ui(ui: &mut Ui, document: &Document, figures: &LogFigures, cut: &Cut, view: &ViewState) {
    let (paper, units, solved) = (view.paper, view.units, document.figures().solved());
    caption(ui, paper, "Who carries it");
    let mut row = |name: &str, value: &str| figure_row(ui, paper, name, value, Sense::Plain);
    row("Lifts to the bark", &cut.carry.lifts.to_string());
    row("Force × time by hand", &units.load_time(cut.carry.hands_newton_seconds));
    let held: f64 = cut.carry.phases.iter().filter(|p| p.carrier == Carrier::Hands).map(|p| p.seconds).sum();
    row("Time held up, off the log", &format::seconds(held));
    row("Pull-in at full power, at most", &units.force(Force::from_n(cut.carry.hold_back_n)));
    let held_off = solved.weight() + Force::from_n(cut.carry.hold_back_n);
    row("By hand, if held off the spikes", &format!("up to {}", units.force(held_off)));
    let rate = format::cutting_rate(cut.saw.rate_m2_s());
    row("Cutting rate · time in the cut", &format!("{rate} · {}", format::seconds(cut.cutting_s)));
    let reach = solved.reach;
    let deepest = reach.min(document.log().width());
    let in_wood = format::count(cut.saw.cutters_in_wood(deepest));
    row("Cutters in the wood, at most", &in_wood);
    if let Some(feed) = cut.saw.feed_per_cutter(deepest) {
        row("Feed for each cutter there", &format::fine_length(units, feed));
    }
    row("Reach past spikes", &units.length(reach));
    let biggest =
        |length: Option<Length>| length.map_or_else(|| "none".to_owned(), |length| units.length(length));
    biggest_held_ui(ui, figures, view);
    let mut row = |name: &str, value: &str| figure_row(ui, paper, name, value, Sense::Plain);
    row("Biggest log by reach alone, one side", &biggest(cut.biggest_one_side));
    row("Biggest log by reach alone, both sides", &biggest(cut.biggest_both_sides));
    row("Shortest reach, by reach alone", &biggest(cut.shortest_reach));
    ui.label(RichText::new(rate_sources(units)).color(paper.color(Ink::Soft)))
        .on_hover_text(barpoise_core::Mark::LEGEND);
}

/// The biggest logs for this person, once they are asked for: some thirty plans are made to find them.
fn biggest_held_ui(ui: &mut Ui, figures: &LogFigures, view: &ViewState) {
    const NAMES: [&str; 2] =
        ["Biggest log for this person, one side", "Biggest log for this person, both sides"];
    if !figures.biggest_is_asked() && !ui.button("Find the biggest log for this person").clicked() {
        return;
    }
    let held = figures.biggest_held();
    let shown =
        |length: Option<Length>| length.map_or_else(|| "none".to_owned(), |length| view.units.length(length));
    let values = match held {
        Some(held) => [shown(held.one_side), shown(held.both_sides)],
        None => ["…".to_owned(), "…".to_owned()],
    };
    if held.is_none() {
        ui.ctx().request_repaint_after(std::time::Duration::from_millis(50));
    }
    for (name, value) in NAMES.into_iter().zip(values) {
        figure_row(ui, view.paper, name, &value, Sense::Plain);
    }
}

fn rack_ui(ui: &mut Ui, document: &Document, figures: &LogFigures, view: &ViewState, edits: &mut Edits) {
    caption(ui, view.paper, "Same log, this family on the rack: settings and nose");
    let current = document.figures().current_rack_bar().map(|bar| bar.name.as_str());
    for row in figures.rows() {
        row_ui(ui, row, current == Some(row.name.as_str()), view, edits);
    }
}

fn row_ui(ui: &mut Ui, row: &RackRow, on: bool, view: &ViewState, edits: &mut Edits) {
    let paper = view.paper;
    ui.horizontal(|ui| {
        let short = format::short_name(&row.name);
        let name = RichText::new(&short).font(theme::strong(size::BODY));
        let button = ui.add(egui::Button::selectable(on, name));
        if whole(button, egui::Role::Button, &row.name, short != row.name).clicked() {
            edits.ask(Edit::SnapToBar(row.name.clone()));
        }
        let (words, nose, ink) = match &row.answer {
            Ok(answer) => {
                let share = format::share_of_section(answer.covered);
                let words = match (answer.covered >= 1.0, answer.settings) {
                    (true, 1) => "1 setting".to_owned(),
                    (true, count) => format!("{count} settings"),
                    (false, _) => format!("no, cuts {share}"),
                };
                let out = answer.nose_out > Length::from_mm(0.5);
                let sight = if answer.hidden { ", hidden" } else { "" };
                let nose = if out {
                    format!("out {}{sight}", view.units.length(answer.nose_out))
                } else {
                    "stays in".to_owned()
                };
                (words, nose, if answer.hidden { Ink::Danger } else { Ink::Line })
            }
            Err(reason) => (reason.clone(), String::new(), Ink::Warn),
        };
        ui.label(words);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ui.label(RichText::new(nose).color(paper.color(ink)));
        });
    });
}

fn kickback_ui(ui: &mut Ui, document: &Document, kickback: &KickbackRatios, view: &ViewState) {
    let paper = view.paper;
    let other = document.bench().compared().unwrap_or("the other setup");
    let contact: Angle = kickback.contact;
    caption(
        ui,
        paper,
        &format!("A snagged chain, this over {other}, contact at {}", format::whole_angle(contact)),
    );
    for (name, ratio) in kickback_words::rows(kickback) {
        figure_row(ui, paper, name, &ratio, Sense::Plain);
    }
    for sentence in std::iter::once(kickback.sentence).chain(kickback.no_less_danger()) {
        ui.label(RichText::new(sentence).color(paper.color(Ink::Danger)));
    }
    ui.label(RichText::new(kickback_words::rests_on(view.units)).color(paper.color(Ink::Soft)));
}
