//! The page on which a new yard is made.

use super::form::apply;
use super::row::{Row, field_id, widths};
use super::shown::paint;
use crate::desk::forms::parts::{NEW_YARD_FIELDS, NewYard, PartShown, fields};
use crate::desk::words::weigh_in::capitalised;
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::{MeasureField, focus_to_type_over, is_refused, main_pane, scrolled};
use barpoise_core::measure_text::{read_length, read_mass};
use barpoise_core::record::PartKind;
use barpoise_core::units::{Length, Mass};
use barpoise_core::{Range, ranges};
use egui::{CentralPanel, Id, Panel, RichText, Role, ScrollArea, Sense, Ui, WidgetInfo};

/// The drawing takes this share of the width, within limits in points.
const SHOWN_SHARE: f32 = 0.42;
const SHOWN_WIDTH: (f32, f32) = (280.0, 820.0);
const HEIGHT_SHARE: f32 = 0.6;
/// Height kept for the buttons under the form, in points.
const ANSWER: f32 = 48.0;
/// Longest name, in characters.
const LONGEST_NAME: usize = 80;

/// Shows the page. True where the yard is to be made.
pub(super) fn new_yard_ui(ui: &mut Ui, view: &mut ViewState) -> bool {
    let paper = view.paper;
    let Some(mut new) = view.parts.new_yard.clone() else { return false };
    let yard = std::sync::Arc::clone(new.made());
    let width = (ui.available_width() * SHOWN_SHARE).clamp(SHOWN_WIDTH.0, SHOWN_WIDTH.1);
    let shown = Panel::right("new yard shown").exact_size(width).resizable(false);
    shown.frame(super::ground(paper)).show(ui, |ui| {
        let wide = ui.available_width();
        let (rect, response) = ui.allocate_exact_size(egui::vec2(wide, wide * HEIGHT_SHARE), Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(Role::Image, true, "Drawing of the new saw"));
        if let Some(setup) = yard.as_ref().as_ref().ok().and_then(|yard| yard.setups().first()) {
            paint(ui, view, rect, &PartShown::Setup(Box::new(setup.clone())), None);
        }
        let words = "The saw as these numbers make it. What you did not type is our guess, no source; \
                     the room Parts marks it until you have measured it.";
        ui.add(egui::Label::new(RichText::new(words).color(paper.color(Ink::Soft))).wrap());
    });
    let mut answer = None;
    CentralPanel::no_frame().frame(super::sheet(paper)).show(ui, |ui| {
        main_pane(ui);
        let height = ui.available_height() - ANSWER;
        let scroll = ScrollArea::vertical().id_salt("new yard").auto_shrink(false).max_height(height);
        scrolled(scroll, ui, |ui| {
            ui.label(RichText::new("New yard").font(theme::strong(size::TITLE)));
            let words =
                "The first head, bar and chain by what can be read off them. More is added afterwards.";
            ui.add(egui::Label::new(RichText::new(words).color(paper.color(Ink::Soft))).wrap());
            ui.add_space(6.0);
            name_ui(ui, view, &mut new);
            fields_ui(ui, view, &mut new);
            readings_ui(ui, view, &mut new);
            for fault in yard.as_ref().as_ref().err().into_iter().flatten() {
                let text = RichText::new(capitalised(&fault.message)).color(paper.color(Ink::Warn));
                ui.add(egui::Label::new(text).wrap());
            }
            ui.add_space(12.0);
        });
        ui.separator();
        ui.horizontal(|ui| {
            let text = RichText::new("Make the yard").font(theme::strong(size::BODY));
            let pressed = ui.add_enabled(yard.is_ok(), egui::Button::new(text)).clicked();
            if pressed && new.made().is_ok() && !any_refused(ui, view) {
                answer = Some(true);
            }
            if ui.button("Cancel").clicked() {
                answer = Some(false);
            }
            if any_refused(ui, view) {
                ui.colored_label(paper.color(Ink::Warn), "A value above is refused.");
            }
        });
    });
    if answer == Some(false) {
        view.parts.begun = view.parts.begun.wrapping_add(1);
    }
    view.parts.new_yard = (answer != Some(false)).then_some(new);
    answer == Some(true)
}

/// True while a field of the page stands refused.
fn any_refused(ui: &Ui, view: &ViewState) -> bool {
    let mut parts =
        NEW_YARD_FIELDS.iter().flat_map(|(kind, paths)| paths.iter().map(move |path| (kind, path)));
    is_refused(ui, name_id(view))
        || [TAPE, SCALE].iter().any(|salt| is_refused(ui, reading_id(view, salt)))
        || parts.any(|(kind, path)| is_refused(ui, field_id(&salt(view, *kind), path)))
}

fn salt(view: &ViewState, kind: PartKind) -> String {
    format!("new yard {} {kind:?}", view.parts.begun)
}

fn name_id(view: &ViewState) -> Id {
    Id::unique(("new yard name", view.parts.begun))
}

fn name_ui(ui: &mut Ui, view: &mut ViewState, new: &mut NewYard) {
    if std::mem::take(&mut view.parts.name_next) {
        focus_to_type_over(ui, name_id(view), new.name());
    }
    let (name_width, width) = widths(ui.available_width());
    ui.horizontal(|ui| {
        label_ui(ui, view, "Name of the yard", name_width);
        let field =
            MeasureField { id: name_id(view), name: "Name of the yard", shown: new.name().to_owned(), width };
        let read = |text: &str| match text.trim() {
            "" => Err("a name must not be empty".to_owned()),
            text => Ok(text.to_owned()),
        };
        if let Some(name) = field.show_up_to(LONGEST_NAME, ui, view.paper, read).1 {
            new.rename(name);
        }
    });
}

/// What a field is called, before it.
fn label_ui(ui: &mut Ui, view: &ViewState, name: &str, width: f32) {
    ui.allocate_ui(egui::vec2(width, size::HIT), |ui| {
        ui.set_min_width(width);
        ui.label(RichText::new(name).color(view.paper.color(Ink::Soft)));
    });
}

/// One reach by tape and one weight, where they are at hand: they tell more of one's own saw than any proposal.
fn readings_ui(ui: &mut Ui, view: &ViewState, new: &mut NewYard) {
    ui.add_space(8.0);
    ui.label(RichText::new("If tape and scale are at hand").font(theme::strong(size::STRONG)));
    let units = view.units;
    let (name_width, width) = widths(ui.available_width());
    let row = |ui: &mut Ui,
               name: &str,
               hint: &str,
               field: MeasureField<'_>,
               read: &dyn Fn(&str) -> Result<f64, String>| {
        ui.horizontal(|ui| {
            label_ui(ui, view, name, name_width);
            let read = |text: &str| match text.trim() {
                "" => Ok(None),
                text => read(text).map(Some),
            };
            let (response, committed) = field.show(ui, view.paper, read);
            response.on_hover_text(hint);
            committed
        })
        .inner
    };
    let (reach_name, weight_name) = ("Reach past the spikes", "Weight ready to work");
    let field = |salt, name, shown| MeasureField { id: reading_id(view, salt), name, shown, width };
    let shown = new.taped_reach().map_or_else(String::new, |reach| units.length(reach));
    let read = |text: &str| {
        let reach = read_length(text, units.length_from()).map_err(|error| error.to_string())?;
        allowed(&ranges::REACH_READING, reach.as_mm(), |mm| units.length(Length::from_mm(mm)))
    };
    let hint = "By tape, from the spikes to the end of the cutters at the nose. May be left empty.";
    if let Some(mm) = row(ui, reach_name, hint, field(TAPE, reach_name, shown), &read) {
        new.tape_reach(mm.map(Length::from_mm));
    }
    let shown = new.ready_weight().map_or_else(String::new, |weight| units.mass(weight));
    let read = |text: &str| {
        let weight = read_mass(text, units.mass_from()).map_err(|error| error.to_string())?;
        allowed(&ranges::TOTAL_READING, weight.as_kg(), |kg| units.mass(Mass::from_kg(kg)))
    };
    let hint = "The saw with this bar on the scale, both tanks full. May be left empty.";
    if let Some(kg) = row(ui, weight_name, hint, field(SCALE, weight_name, shown), &read) {
        new.weigh(kg.map(Mass::from_kg));
    }
}

/// A value within its range, or what would do.
fn allowed(range: &Range, value: f64, shown: impl Fn(f64) -> String) -> Result<f64, String> {
    if range.holds(value) { Ok(value) } else { Err(format!("{} to {}", shown(range.min), shown(range.max))) }
}

const TAPE: &str = "tape";
const SCALE: &str = "scale";

fn reading_id(view: &ViewState, salt: &str) -> Id {
    Id::unique(("new yard reading", view.parts.begun, salt))
}

fn fields_ui(ui: &mut Ui, view: &ViewState, new: &mut NewYard) {
    for (kind, paths) in NEW_YARD_FIELDS {
        ui.add_space(8.0);
        let heading = format!("First {}", kind.word());
        ui.label(RichText::new(heading).font(theme::strong(size::STRONG)));
        for path in *paths {
            let Some(field) = fields(*kind).iter().find(|field| field.path == *path) else { continue };
            let mut field = *field;
            if *path == "name" {
                field.label = match kind {
                    PartKind::Powerhead => "Name of the head",
                    PartKind::Bar => "Name of the bar",
                    PartKind::Chain => "Name of the chain",
                    PartKind::Setup => field.label,
                };
            }
            let salt = salt(view, *kind);
            let row = Row {
                salt: &salt,
                units: view.units,
                paper: view.paper,
                taken: &[],
                offered: &[],
                wrong: &[],
            };
            let part = new.part(*kind).clone();
            if let Some(put) = row.show(ui, &field, &part) {
                new.take(*kind, path, |part| apply(part, path, put));
            }
        }
    }
}
