//! Diameters pasted as text: a list as people write it, or a table. Each line that is not understood is told.

use super::section_ui;
use crate::desk::edit::{Edit, Edits, RackEdit};
use crate::draw::theme::Ink;
use crate::window::view_state::{Pasted, ViewState};
use barpoise_core::rack::{Column, DiameterFault, LogCount, Wood, read_csv, read_diameters};
use barpoise_core::units::Length;
use egui::{Id, RichText, TextEdit, Ui};

/// Faults that are told one by one.
const FAULTS: usize = 6;
const LONGEST: usize = 100_000;

/// Shows the field and its buttons.
pub(super) fn paste_ui(ui: &mut Ui, view: &mut ViewState, edits: &mut Edits, wood: &Wood) {
    let title = section_ui(ui, view.paper, "Paste diameters");
    let soft = view.paper.color(Ink::Soft);
    let pasted = &mut view.rack.pasted;
    let hint = if pasted.is_table { "tree,diameter,cuts\n1,310,4" } else { "300 mm x 4\n12 in x 5\n280 310" };
    let field = TextEdit::multiline(&mut pasted.text)
        .id(Id::unique("rack paste"))
        .hint_text(hint)
        .desired_rows(3)
        .desired_width(f32::INFINITY)
        .char_limit(LONGEST);
    let response = ui.add(field).labelled_by(title.id);
    if response.changed() {
        pasted.faults.clear();
    }
    ui.checkbox(&mut pasted.is_table, "It is a table");
    if pasted.is_table {
        column_ui(ui, "Column of diameters", &mut pasted.diameters);
        column_ui(ui, "Column of cuts", &mut pasted.counts);
    }
    ui.horizontal_wrapped(|ui| {
        let has_text = !pasted.text.trim().is_empty();
        let take = ui.add_enabled(has_text, egui::Button::new("Take these diameters"));
        if take.clicked() {
            match read(pasted, view.units.length_from()) {
                Ok(logs) => {
                    let wood = wood.name().to_owned();
                    edits.ask(Edit::Rack(RackEdit::ReplaceDiameters { wood, logs }));
                    view.rack.diameter = None;
                    *pasted = Pasted { text: String::new(), faults: Vec::new(), ..pasted.clone() };
                }
                Err(faults) => pasted.faults = faults.iter().map(ToString::to_string).collect(),
            }
        }
    });
    let warn = view.paper.color(Ink::Warn);
    for fault in pasted.faults.iter().take(FAULTS) {
        ui.label(RichText::new(fault).color(warn));
    }
    if let Some(more) = pasted.faults.len().checked_sub(FAULTS).filter(|more| *more > 0) {
        ui.label(RichText::new(format!("and {more} more lines")).color(warn));
    }
    let plain = format!("A number without a unit is in {}.", view.units.length_unit_in_full());
    ui.label(RichText::new(plain).color(soft));
}

fn column_ui(ui: &mut Ui, name: &str, text: &mut String) {
    ui.horizontal(|ui| {
        let label = ui.label(name);
        let field =
            TextEdit::singleline(text).hint_text("name or number").desired_width(110.0).char_limit(60);
        ui.add(field).labelled_by(label.id);
    });
}

fn read(pasted: &Pasted, plain: fn(f64) -> Length) -> Result<Vec<LogCount>, Vec<DiameterFault>> {
    if !pasted.is_table {
        return read_diameters(&pasted.text, plain);
    }
    let column = |text: &str| match text.trim() {
        "" => None,
        text => Some(text.parse().map_or_else(|_| Column::Named(text.to_owned()), Column::Place)),
    };
    let first = column(&pasted.diameters).unwrap_or(Column::Place(1));
    read_csv(&pasted.text, &first, column(&pasted.counts).as_ref(), plain)
}
