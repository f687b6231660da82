//! The form: what was measured on what, what it reads, and how surely.

use super::sketch::sketch_ui;
use crate::desk::document::Document;
use crate::desk::edit::{Edit, Edits, WeighInEdit};
use crate::desk::format;
use crate::desk::forms::reading::{Entry, Judgement, MeasureKind};
use crate::desk::words::weigh_in as words;
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::{Choice, MeasureField, at_right, caption, pick_list};
use barpoise_core::measure_text::{read_angle, read_share};
use barpoise_core::ranges::{DRIVE_LINKS, HELD_PITCH};
use barpoise_core::record::ReadingFile;
use barpoise_core::units::Angle;
use barpoise_core::weigh_in::Measured;
use egui::{Align, ComboBox, Id, Key, Layout, RichText, TextEdit, Ui, WidgetInfo};

/// Width of a pick and of a typed field, in points.
const PICK: f32 = 186.0;
const FIELD: f32 = 110.0;

/// Shows the form.
pub(super) fn form_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    let title = match view.entry.editing {
        Some(index) => format!("Reading {}", index + 1),
        None => "New reading".to_owned(),
    };
    ui.label(RichText::new(title).font(theme::strong(size::STRONG)));
    kind_ui(ui, view);
    sketch_ui(ui, document, view);
    ui.label(RichText::new(view.entry.how(document)).color(view.paper.color(Ink::Soft)));
    ui.add_space(4.0);
    subject_ui(ui, document, view);
    let Some(measured) = view.entry.measured(document) else {
        ui.colored_label(view.paper.color(Ink::Warn), "This setup cannot be put together with these levels.");
        return;
    };
    let entered = value_ui(ui, &measured, view);
    give_or_take_ui(ui, &measured, view);
    ui.add_space(4.0);
    answer_ui(ui, document, view, edits, entered);
}

fn kind_ui(ui: &mut Ui, view: &mut ViewState) {
    let names = MeasureKind::ALL.iter().map(|kind| (kind.name().to_owned(), *kind));
    let kind = view.entry.kind;
    if let Some(kind) = pick_ui(ui, view, "Measured", kind.name(), names, |other| *other == kind) {
        let entry = &mut view.entry;
        entry.kind = kind;
        entry.cleared();
    }
}

/// What it was measured on.
fn subject_ui(ui: &mut Ui, document: &Document, view: &mut ViewState) {
    let yard = document.yard();
    let Some(setup) = view.entry.setup(document) else { return };
    match view.entry.kind {
        MeasureKind::Bar => {
            let shown = view.entry.bar.clone().unwrap_or_else(|| setup.bar().name().to_owned());
            let names = yard.bars().iter().map(|bar| (bar.name().to_owned(), bar.name().to_owned()));
            if let Some(bar) = pick_ui(ui, view, "Bar", &shown, names, |name| *name == shown) {
                view.entry.bar = Some(bar);
            }
        }
        MeasureKind::Loop => {
            let shown = view.entry.chain.clone().unwrap_or_else(|| setup.chain().name().to_owned());
            let names = yard.chains().iter().map(|chain| (chain.name().to_owned(), chain.name().to_owned()));
            if let Some(chain) = pick_ui(ui, view, "Chain", &shown, names, |name| *name == shown) {
                view.entry.chain = Some(chain);
            }
            links_ui(ui, view, setup.links().order().unwrap_or_default());
        }
        _ => {
            let names = yard.setups().iter().map(|other| (other.name().to_owned(), other.name().to_owned()));
            if let Some(name) = pick_ui(ui, view, "Setup", setup.name(), names, |name| name == setup.name()) {
                view.entry.setup = Some(name);
                // Another setup has levels of its own.
                view.entry.fuel = None;
                view.entry.oil = None;
            }
            levels_ui(ui, view, setup.fuel_fill(), setup.oil_fill());
            if view.entry.kind.is_at_grip() {
                pitch_ui(ui, view);
            }
        }
    }
}

fn levels_ui(ui: &mut Ui, view: &mut ViewState, fuel: f64, oil: f64) {
    row_ui(ui, view, "Fuel · oil", |ui, view| {
        let mut field = |name, fill| {
            let id = Id::unique(("weigh-in field", name));
            MeasureField { id, name, shown: format::percent(fill), width: 58.0 }
                .show(ui, view.paper, read_level)
                .1
        };
        let (fuel, oil) = (field("Fuel level in percent", fuel), field("Oil level in percent", oil));
        view.entry.oil = oil.or(view.entry.oil);
        view.entry.fuel = fuel.or(view.entry.fuel);
    });
}

/// A level as a share, or as a plain number of percent.
fn read_level(text: &str) -> Result<f64, String> {
    let share = read_share(text).map_err(|error| error.to_string())?;
    let share = if share > 1.0 && !text.contains('%') { share / 100.0 } else { share };
    if (0.0..=1.0).contains(&share) { Ok(share) } else { Err("0 % to 100 %".to_owned()) }
}

fn links_ui(ui: &mut Ui, view: &mut ViewState, own: u32) {
    row_ui(ui, view, "Drive links", |ui, view| {
        let shown = view.entry.links.unwrap_or(own);
        let read = |text: &str| {
            let count = text.trim().parse::<u32>().map_err(|_| "a whole count".to_owned())?;
            DRIVE_LINKS.refusal(f64::from(count)).map_or(Ok(count), Err)
        };
        let field = MeasureField {
            id: Id::unique("weigh-in links"),
            name: "Drive links of the loop",
            shown: shown.to_string(),
            width: 52.0,
        };
        if let (_, Some(links)) = field.show(ui, view.paper, read) {
            view.entry.links = Some(links);
        }
    });
}

fn pitch_ui(ui: &mut Ui, view: &mut ViewState) {
    row_ui(ui, view, "Held, nose down positive", |ui, view| {
        let read = |text: &str| {
            let pitch = read_angle(text).map_err(|error| error.to_string())?;
            HELD_PITCH.refusal(pitch.as_deg()).map_or(Ok(pitch), Err)
        };
        let field = MeasureField {
            id: Id::unique("weigh-in pitch"),
            name: "Held pitch in degrees, nose down positive",
            shown: format::whole_angle(Angle::ZERO - view.entry.nose_up),
            width: 52.0,
        };
        if let (_, Some(nose_down)) = field.show(ui, view.paper, read) {
            view.entry.nose_up = Angle::ZERO - nose_down;
        }
    });
}

/// The value as it is typed; true where Enter was pressed in it.
fn value_ui(ui: &mut Ui, measured: &Measured, view: &mut ViewState) -> bool {
    let unit = view.units.unit_name(words::dimension(measured));
    let name = format!("{} in {unit}", words::capitalised(words::measure(measured)));
    let example = match words::dimension(measured) {
        format::Dimension::Angle => "such as 21.5°".to_owned(),
        _ => format!("with its unit, {unit}"),
    };
    row_ui(ui, view, "It reads", |ui, view| {
        let field = TextEdit::singleline(&mut view.entry.value)
            .id(Id::unique("weigh-in value"))
            .hint_text(example)
            .desired_width(FIELD + 40.0)
            .char_limit(40);
        let response = ui.add(field);
        spoken(&response, &name, &view.entry.value);
        response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter))
    })
}

fn give_or_take_ui(ui: &mut Ui, measured: &Measured, view: &mut ViewState) {
    let common = measured.common_uncertainty();
    let common = words::value_alone(view.units, measured, common, common);
    let unit = view.units.unit_name(words::dimension(measured));
    let name = format!("Give or take in {unit}");
    row_ui(ui, view, "Give or take", |ui, view| {
        let field = TextEdit::singleline(&mut view.entry.uncertainty)
            .id(Id::unique("weigh-in give or take"))
            .hint_text(common.clone())
            .desired_width(FIELD)
            .char_limit(40);
        ui.label("±");
        let response = ui.add(field).on_hover_text(
            "One standard deviation: two readings in three lie this close to the truth. Left empty, the common one.",
        );
        spoken(&response, &name, &view.entry.uncertainty);
    });
    let note = format!("Left empty it is {common}: common practice, no source.");
    ui.label(RichText::new(note).color(view.paper.color(Ink::Soft)));
}

fn spoken(response: &egui::Response, name: &str, value: &str) {
    response.widget_info(|| WidgetInfo {
        label: Some(name.to_owned()),
        ..WidgetInfo::text_edit(true, "", value, "")
    });
}

/// What is wrong with it, and the buttons.
fn answer_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits, entered: bool) {
    let warn = view.paper.color(Ink::Warn);
    let added = match view.entry.judge(document, view.units) {
        Judgement::Empty => buttons_ui(ui, view, "", None),
        Judgement::Refused(why) => {
            ui.colored_label(warn, why);
            buttons_ui(ui, view, "", None)
        }
        Judgement::FarOff { said, mended, reading } => {
            ui.colored_label(warn, said);
            if let Some(mended) = mended
                && ui.button(format!("Take {mended}")).clicked()
            {
                view.entry.value = mended;
            }
            let tail = if reading.is_some() { " all the same" } else { "" };
            buttons_ui(ui, view, tail, reading)
        }
        Judgement::Good(reading) => {
            let by_enter = entered.then(|| reading.clone());
            buttons_ui(ui, view, "", Some(reading)).or(by_enter)
        }
    };
    if let Some(reading) = added {
        edits.ask(Edit::WeighIn(match view.entry.editing {
            Some(index) => WeighInEdit::ChangeReading(index, reading),
            None => WeighInEdit::AddReading(reading),
        }));
        view.entry.cleared();
    }
    let refusal = document.refusal().filter(|refusal| {
        matches!(refusal.edit, Edit::WeighIn(WeighInEdit::AddReading(_) | WeighInEdit::ChangeReading(..)))
    });
    if let Some(refusal) = refusal {
        ui.colored_label(warn, &refusal.reason);
    }
}

/// Add or change, and a way out of changing. Gives the reading once it is asked for.
fn buttons_ui(
    ui: &mut Ui,
    view: &mut ViewState,
    tail: &str,
    reading: Option<ReadingFile>,
) -> Option<ReadingFile> {
    let what = if view.entry.editing.is_some() { "Change reading" } else { "Add reading" };
    ui.horizontal(|ui| {
        let text = RichText::new(format!("{what}{tail}")).font(theme::strong(size::BODY));
        let pressed = ui.add_enabled(reading.is_some(), egui::Button::new(text)).clicked();
        if view.entry.editing.is_some() && ui.button("Cancel").clicked() {
            view.entry = Entry { kind: view.entry.kind, setup: view.entry.setup.clone(), ..Entry::default() };
        }
        reading.filter(|_| pressed)
    })
    .inner
}

/// A name on the left, its control on the right.
fn row_ui<T>(
    ui: &mut Ui,
    view: &mut ViewState,
    name: &str,
    control: impl FnOnce(&mut Ui, &mut ViewState) -> T,
) -> T {
    ui.horizontal(|ui| {
        caption(ui, view.paper, name);
        at_right(ui, Id::unique(("weigh-in at right", name)), |ui| control(ui, view))
    })
    .inner
}

fn pick_ui<T>(
    ui: &mut Ui,
    view: &ViewState,
    name: &str,
    shown: &str,
    choices: impl Iterator<Item = (String, T)>,
    is_chosen: impl Fn(&T) -> bool,
) -> Option<T> {
    let mut picked = None;
    ui.horizontal(|ui| {
        let label = ui.label(RichText::new(name).color(view.paper.color(Ink::Soft)));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let combo = ComboBox::from_id_salt(("weigh-in pick", name))
                .width(PICK)
                .height(420.0)
                .truncate()
                .selected_text(RichText::new(shown).font(theme::strong(size::BODY)));
            let mut choices: Vec<(String, T)> = choices.collect();
            let lines = choices.iter().map(|(text, value)| Choice::new(text.clone(), is_chosen(value)));
            let (list, index) = pick_list(ui, combo, lines);
            picked = index.filter(|index| *index < choices.len()).map(|index| choices.swap_remove(index).1);
            list.labelled_by(label.id);
        });
    });
    picked
}
