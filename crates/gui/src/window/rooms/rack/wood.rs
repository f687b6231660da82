//! The wood ahead: which one, its diameters, how it lies and how hard it is.

use super::{histogram, paste, said::read_percent, section_ui, slider_ui};
use crate::desk::document::{Document, new_wood};
use crate::desk::edit::{Edit, Edits, RackEdit};
use crate::desk::format;
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::{Choice, MeasureField, at_right, gesture_of, pick_list};
use barpoise_core::log::limits;
use barpoise_core::measure_text::{read_in, read_length};
use barpoise_core::rack::Wood;
use barpoise_core::record::{StandFile, WoodFile};
use barpoise_core::units::Length;
use egui::{ComboBox, Id, RichText, Role, Ui, WidgetInfo};

const NUMBER: f32 = 50.0;
const TEXT: f32 = 150.0;

/// Shows the wood.
pub(super) fn wood_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    pick_ui(ui, document, view, edits);
    let Some(wood) = document.rack_wood() else { return };
    if !wood.note().is_empty() {
        ui.label(RichText::new(wood.note()).color(view.paper.color(Ink::Soft)));
    }
    histogram::histogram_ui(ui, view, edits, wood);
    ways_ui(ui, document, view, edits, wood);
    hardness_ui(ui, document, view, edits, wood);
    paste::paste_ui(ui, view, edits, wood);
}

fn pick_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    let woods = document.yard().woods();
    let now = document.rack_wood().map(Wood::name);
    let text = RichText::new(now.unwrap_or("no wood")).font(theme::strong(size::STRONG));
    let combo = ComboBox::from_id_salt("rack wood").width(ui.available_width() - 8.0).truncate();
    let lines = woods.iter().map(|wood| Choice::new(wood.name(), now == Some(wood.name())));
    let (list, picked) = pick_list(ui, combo.selected_text(text), lines);
    if let Some(wood) = picked.and_then(|index| woods.get(index)) {
        view.rack.diameter = None;
        edits.ask(Edit::Rack(RackEdit::PickWood(wood.name().to_owned())));
    }
    let spoken = format!("Wood: {}", now.unwrap_or("none"));
    list.widget_info(|| WidgetInfo { label: Some(spoken.clone()), ..WidgetInfo::new(Role::ComboBox) });
    ui.horizontal(|ui| {
        let mut asked = None;
        if ui.button("Add").on_hover_text("A new wood to begin with").clicked() {
            asked = Some(RackEdit::AddWood(new_wood(document.yard())));
        }
        if let Some(name) = now {
            if ui.button("Duplicate").clicked() {
                asked = Some(RackEdit::DuplicateWood(name.to_owned()));
            }
            if ui.button("Delete").clicked() {
                asked = Some(RackEdit::DeleteWood(name.to_owned()));
            }
        }
        if let Some(edit) = asked {
            view.rack.diameter = None;
            edits.ask(Edit::Rack(edit));
        }
    });
    let refusal = document.refusal().filter(|refusal| matches!(refusal.edit, Edit::Rack(_)));
    if let Some(refusal) = refusal {
        ui.colored_label(view.paper.color(Ink::Warn), &refusal.reason);
    }
}

/// The wood as the file has it, to be changed.
fn file_of<'a>(document: &'a Document, wood: &Wood) -> Option<&'a WoodFile> {
    document.yard().file().woods.iter().find(|file| file.name == wood.name())
}

fn ways_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits, wood: &Wood) {
    section_ui(ui, view.paper, "How it lies");
    let Some(file) = file_of(document, wood) else { return };
    let changed = |file: WoodFile| Edit::Rack(RackEdit::ChangeWood(wood.name().to_owned(), file));
    for (name, share, set) in [
        (
            "In brush",
            file.tangled_share,
            (|file, share| file.tangled_share = share) as fn(&mut WoodFile, f64),
        ),
        ("Held up", file.lifted_share, |file, share| file.lifted_share = share),
    ] {
        if let Some((share, gesture)) = share_row(ui, view, name, share) {
            let mut file = file.clone();
            set(&mut file, share);
            edits.ask_in(changed(file), gesture);
        }
    }
    ui.label(RichText::new("You may stand on").color(view.paper.color(Ink::Soft)));
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        let stands = [
            ("one side", StandFile::OneSide),
            ("both sides", StandFile::BothSides),
            ("all round", StandFile::WalkRound),
        ];
        for (words, stand) in stands {
            let chosen = file.stand == stand;
            let response = ui.selectable_label(chosen, words);
            let spoken = format!("Stand: {words}");
            response.widget_info(|| WidgetInfo::selected(Role::RadioButton, true, chosen, &spoken));
            if response.clicked() && !chosen {
                edits.ask(changed(WoodFile { stand, ..file.clone() }));
            }
        }
    });
    row_ui(ui, view, "Above ground", |ui| {
        let units = view.units;
        let read = |text: &str| {
            let length = read_length(text, units.length_from()).map_err(|error| error.to_string())?;
            limits::CLEARANCE.refusal(length.as_mm()).map_or(Ok(length), Err)
        };
        let field = MeasureField {
            id: Id::unique("rack above ground"),
            name: "Height of the logs above ground",
            shown: units.length(Length::from_mm(file.above_ground_mm)),
            width: 76.0,
        };
        if let (_, Some(length)) = field.show(ui, view.paper, read) {
            let above_ground_mm = format::tidy(length.as_mm());
            edits.ask(changed(WoodFile { above_ground_mm, ..file.clone() }));
        }
    });
}

fn hardness_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits, wood: &Wood) {
    section_ui(ui, view.paper, "Name and hardness");
    let Some(file) = file_of(document, wood) else { return };
    let changed = |file: WoodFile| Edit::Rack(RackEdit::ChangeWood(wood.name().to_owned(), file));
    let text = |ui: &mut Ui, name: &'static str, spoken: &'static str, shown: &str| {
        row_ui(ui, view, name, |ui| {
            let id = Id::unique(("rack wood field", name));
            let field = MeasureField { id, name: spoken, shown: shown.to_owned(), width: TEXT };
            field
                .show(ui, view.paper, |text| {
                    let text = text.trim();
                    if text.is_empty() { Err("a name is not empty".to_owned()) } else { Ok(text.to_owned()) }
                })
                .1
        })
    };
    if let Some(name) = text(ui, "Name", "Name of the wood", &file.name) {
        edits.ask(changed(WoodFile { name, ..file.clone() }));
    }
    let mut hardness = file.hardness.clone();
    if let Some(name) = text(ui, "Wood", "What wood, in what state", &file.hardness.name) {
        hardness.name = name;
    }
    row_ui(ui, view, "To cut it", |ui| {
        let field = MeasureField {
            id: Id::unique("rack hardness"),
            name: "Energy to cut the wood, in J/cm³",
            shown: format::cutting_energy(file.hardness.cutting_energy_j_per_cm3),
            width: 90.0,
        };
        let read = |text: &str| {
            let energy = read_in(text, "J/cm³").map_err(|error| error.to_string())?;
            limits::SPECIFIC_ENERGY.refusal(energy).map_or(Ok(energy), Err)
        };
        if let (_, Some(energy)) = field.show(ui, view.paper, read) {
            hardness.cutting_energy_j_per_cm3 = energy;
        }
    });
    if let Some(source) = text(ui, "Known from", "Where that number comes from", &file.hardness.source) {
        hardness.source = source;
    }
    if hardness != file.hardness {
        edits.ask(changed(WoodFile { hardness, ..file.clone() }));
    }
}

/// A share as a slider and a number.
fn share_row(
    ui: &mut Ui,
    view: &ViewState,
    name: &str,
    share: f64,
) -> Option<(f64, crate::desk::edit::Gesture)> {
    row_ui(ui, view, name, |ui| {
        let spoken = format!("{name}, percent of the cuts");
        let field = MeasureField {
            id: Id::unique(("rack share", name)),
            name: &spoken,
            shown: format::percent(share),
            width: NUMBER,
        };
        let mut shown = share * 100.0;
        let slider = slider_ui(ui, view, &spoken, &mut shown, 100.0, 1.0);
        let typed = field.show(ui, view.paper, read_percent).1;
        if slider.changed() {
            return Some((format::tidy(shown / 100.0), gesture_of(ui, &slider)));
        }
        typed.map(|share| (share, crate::desk::edit::Gesture::Single))
    })
}

fn row_ui<T>(ui: &mut Ui, view: &ViewState, name: &str, control: impl FnOnce(&mut Ui) -> T) -> T {
    ui.horizontal(|ui| {
        ui.label(RichText::new(name).color(view.paper.color(Ink::Soft)));
        at_right(ui, Id::unique(("wood at right", name)), control)
    })
    .inner
}
