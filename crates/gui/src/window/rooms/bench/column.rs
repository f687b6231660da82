//! The column of figures: picks, gauge, figures, comparison.

use crate::desk::document::Document;
use crate::desk::edit::Edits;
use crate::desk::format::{self, Dimension};
use crate::desk::sources::Topic;
use crate::desk::words::hold;
use crate::draw::theme::{self, Ink, size};
use crate::window::rooms::picks::{compare_pick_ui, picks_ui};
use crate::window::rooms::sources::sources_fold_ui;
use crate::window::view_state::ViewState;
use crate::window::widgets::{Sense, caption, change_row, figure_row};
use barpoise_core::units::Angle;
use barpoise_core::{Feel, HangError, Links, Longest, Solved};
use egui::{Align, Layout, RichText, Role, Ui, WidgetInfo};

/// Shows the column.
pub(super) fn column_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    picks_ui(ui, document, view, edits);
    ui.add_space(8.0);
    gauge_ui(ui, document, view);
    ui.add_space(4.0);
    compare_ui(ui, document, view, edits);
    ui.add_space(4.0);
    ui.scope(|ui| figures_ui(ui, document, view));
    sources_fold_ui(ui, view, &Topic::BENCH);
}

fn gauge_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let solved = document.figures().solved();
    let limit = document.bench().hang_limit();
    let paper = view.paper;
    ui.horizontal(|ui| {
        caption(ui, paper, "Tip-heaviness");
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let (words, ink) = match solved.hang {
                Ok(hang) => (Feel::of(hang).words(), if hang > limit { Ink::Warn } else { Ink::Line }),
                Err(_) => ("no hang", Ink::Warn),
            };
            ui.label(RichText::new(words).font(theme::strong(size::STRONG)).color(paper.color(ink)));
        });
    });
    let band = document.figures().bands().hang;
    let text = match solved.hang {
        Ok(hang) => match band {
            Some(band) => format::hang_with(hang, band),
            None => format!("hangs {}", format::hang(hang)),
        },
        Err(error) => error.to_string(),
    };
    let read = ui.label(RichText::new(&text).font(theme::strong(size::FIGURE)));
    read.widget_info(|| WidgetInfo {
        value: solved.hang.ok().map(Angle::as_deg),
        ..WidgetInfo::labeled(Role::Meter, true, meter_words(solved.hang, &text))
    });
    ui.label(RichText::new(limit_words(document, view)).color(paper.color(Ink::Soft)));
}

/// The gauge's reading for who cannot see it.
fn meter_words(hang: Result<Angle, HangError>, text: &str) -> String {
    let feel = hang.map_or_else(|_| String::new(), |hang| format!(", {}", Feel::of(hang).words()));
    format!("Tip-heaviness, hang in degrees nose down: {text}{feel}")
}

/// What the limit mark allows, in one sentence.
fn limit_words(document: &Document, view: &ViewState) -> String {
    let limit = format::whole_angle(document.bench().hang_limit());
    let within = document.figures().longest_within_hang();
    let rack = match (&within.rack_within, &within.rack_beyond) {
        (Some(bar), Some(next)) => format!("; on the rack {}, not {}", bar.name(), next.name()),
        (Some(bar), None) => format!("; on the rack up to {}", bar.name()),
        (None, Some(_)) => "; none on the rack".to_owned(),
        (None, None) => String::new(),
    };
    match within.longest {
        Longest::Any => format!("Your limit of {limit} holds for any length{rack}."),
        Longest::None => format!("No bar of this family stays within your limit of {limit}."),
        Longest::Length(length) => {
            let marked = document.figures().family().at(length).map(|setup| setup.bar().marked_length());
            let overall = format!("{} overall", view.units.length(length));
            let bar = marked.map_or_else(
                |_| format!("a bar of {overall}"),
                |marked| format!("about a {} bar, {overall}", format::marked_length(marked)),
            );
            format!("Your limit of {limit} allows {bar}{rack}.")
        }
    }
}

fn figures_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let figures = document.figures();
    let (solved, setup, units, paper) = (figures.solved(), figures.setup(), view.units, view.paper);
    let mut row = |name: &str, value: &str, sense| figure_row(ui, paper, name, value, sense);
    let bands = figures.bands();
    let weight = match bands.ready_mass {
        Some(band) => units.mass_with(solved.ready_mass(), band),
        None => units.mass(solved.ready_mass()),
    };
    row("Ready weight", &weight, Sense::Plain);
    let held = format::whole_angle(view.held_pitch().abs());
    match view.held_pitch().as_deg() {
        pitch if pitch >= 0.5 => row("Held nose up, loads straight up and down", &held, Sense::Plain),
        pitch if pitch <= -0.5 => row("Held nose down, loads straight up and down", &held, Sense::Plain),
        _ => {}
    }
    match solved.hands_at(view.held_pitch()) {
        Ok(hands) => {
            let ratio = format::ratio(hands.front / solved.weight());
            // The bands are those of the level saw.
            let level = Some(bands).filter(|_| view.held_pitch().as_deg().abs() < 0.5);
            let hand = |load, band: Option<_>| match band {
                Some(band) => units.known_hand(load, band),
                None => units.hand(load),
            };
            let front = hand(hands.front, level.and_then(|bands| bands.front_hand));
            if level.is_some() {
                row("Pull at the front handle", &front, Sense::Plain);
                row("That is, of the weight", &format!("{ratio} ×"), Sense::Plain);
            } else {
                row("Pull at the front handle", &format!("{front} · {ratio} × weight"), Sense::Plain);
            }
            row("Rear hand", &hand(hands.rear, level.and_then(|bands| bands.rear_hand)), Sense::Plain);
        }
        Err(error) => row("Hands", &error.to_string(), Sense::Warn),
    }
    row(hold::LEVEL, &hold::level_time(figures.level()), Sense::Plain);
    let moment = match bands.nose_moment {
        Some(band) => units.known(Dimension::Torque, solved.nose_moment.as_n_m(), band.as_n_m()),
        None => units.torque(solved.nose_moment),
    };
    row("Moment at front grip, level", &moment, Sense::Plain);
    let reach = match bands.reach {
        Some(band) => units.length_with(solved.reach, band),
        None => both_lengths(solved),
    };
    row("Reach past spikes", &reach, Sense::Plain);
    let inertia = match bands.swing_inertia {
        Some(band) => units.known(Dimension::Inertia, solved.swing_inertia.as_kg_m2(), band.as_kg_m2()),
        None => units.inertia(solved.swing_inertia),
    };
    row("Swing inertia at grip", &inertia, Sense::Plain);
    let chain = setup.chain();
    let loop_words = format!(
        "{} · {} · {}",
        links(solved.links),
        format::pitch(chain.pitch()),
        format::gauge(units, chain.gauge())
    );
    row(
        "Chain to order",
        &loop_words,
        if solved.links.order().is_none() { Sense::Warn } else { Sense::Plain },
    );
    let masses = &solved.masses;
    row(
        "Bar · chain · fluids",
        &[masses.bar, masses.chain, masses.fluids()].map(|mass| units.mass(mass)).join(" · "),
        Sense::Plain,
    );
    if let Some(empty) = figures.fuel_out() {
        let hang =
            empty.hang.map_or_else(|_| "no hang".to_owned(), |hang| format!("hangs {}", format::angle(hang)));
        row("When the fuel is out", &format!("{} · {hang}", units.mass(empty.ready_mass())), Sense::Plain);
    }
    row("Chain speed at full power", &units.speed(solved.chain_speed), Sense::Plain);
    if let Some(longest) = setup.powerhead().longest_bar() {
        let beyond = solved.beyond_longest_bar.is_some();
        let words = if beyond { "beyond it, out" } else { "within it" };
        let sense = if beyond { Sense::Warn } else { Sense::Plain };
        row("Longest bar for this head", &format!("{} · {words}", format::marked_length(longest)), sense);
    }
    let held = ui.label(RichText::new(hold::level_line(figures.level())).color(paper.color(Ink::Soft)));
    held.on_hover_text(hold::level_sources(units));
    let how = format!("That is {}; a comparison, measured on other people.", hold::level_how(units));
    ui.label(RichText::new(how).color(paper.color(Ink::Soft)));
    let note = "± is one standard uncertainty: from the weigh-in, the yard's file, or as common for what was read \
                off; wide where a number is only proposed. Bands are 95 %.";
    ui.label(RichText::new(note).color(paper.color(Ink::Soft)));
}

fn both_lengths(solved: &Solved) -> String {
    use crate::desk::format::{LengthUnit, Units};
    let unit = |length| Units { length, ..Units::default() }.length(solved.reach);
    format!("{} · {}", unit(LengthUnit::Mm), unit(LengthUnit::In))
}

fn links(links: Links) -> String {
    match links.order() {
        Some(count) => format!("{count} links"),
        None => "no whole count closes".to_owned(),
    }
}

fn compare_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    compare_pick_ui(ui, document, view, edits);
    let figures = document.figures();
    let (Some(other), now) = (figures.compared(), figures.solved()) else {
        return;
    };
    let (units, paper) = (view.units, view.paper);
    let same = format!("{} against it, both with fuel and oil as here", figures.setup().name());
    ui.label(RichText::new(same).color(paper.color(Ink::Soft)));
    change_row(ui, paper, "Weight", &units.mass_change(now.ready_mass() - other.ready_mass()));
    change_row(ui, paper, "Reach", &units.length_change(now.reach - other.reach));
    let hang = match (now.hang, other.hang) {
        (Ok(now), Ok(other)) => format::angle_change(now - other),
        _ => "one has no hang".to_owned(),
    };
    change_row(ui, paper, "Hang", &hang);
    if let (Ok(now), Ok(other)) = (now.hands_at(view.held_pitch()), other.hands_at(view.held_pitch())) {
        change_row(ui, paper, "Front hand", &units.force_change(now.front - other.front));
    }
    change_row(ui, paper, "Swing inertia", &format::percent_change(now.swing_inertia / other.swing_inertia));
    change_row(
        ui,
        paper,
        "Energy of the running chain",
        &format::percent_change(now.chain_energy_j / other.chain_energy_j),
    );
}
