//! The list of all parts by kind, with a filter.

use crate::desk::document::Document;
use crate::desk::forms::parts::Picked;
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::scrolled;
use barpoise_core::record::{PartId, PartKind};
use egui::{Align, Id, Layout, RichText, Role, ScrollArea, TextEdit, Ui, WidgetInfo};

/// Shows the list.
pub(super) fn list_ui(ui: &mut Ui, document: &Document, view: &mut ViewState) {
    let field = TextEdit::singleline(&mut view.parts.filter)
        .id(Id::unique("parts filter"))
        .hint_text("Filter by name")
        .desired_width(f32::INFINITY)
        .char_limit(60);
    let response = ui.add(field);
    let value = view.parts.filter.clone();
    response.widget_info(|| WidgetInfo {
        label: Some("Filter by name".to_owned()),
        ..WidgetInfo::text_edit(true, "", &value, "")
    });
    ui.add_space(4.0);
    scrolled(ScrollArea::vertical().auto_shrink(false), ui, |ui| {
        if "person".contains(view.parts.filter.trim().to_lowercase().as_str()) {
            let own = if document.yard().has_person() { "" } else { " · average" };
            if item_ui(ui, view.parts.picked == Some(Picked::Person), &format!("Person{own}")) {
                view.parts.next = Some(Picked::Person);
            }
            ui.add_space(8.0);
        }
        for kind in PartKind::ALL {
            group_ui(ui, document, view, kind);
            ui.add_space(8.0);
        }
    });
}

const fn heading(kind: PartKind) -> &'static str {
    match kind {
        PartKind::Powerhead => "Powerheads",
        PartKind::Bar => "Bars",
        PartKind::Chain => "Chains",
        PartKind::Setup => "Setups",
    }
}

fn group_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, kind: PartKind) {
    ui.horizontal(|ui| {
        ui.label(RichText::new(heading(kind)).font(theme::strong(size::BODY)));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let add = ui.button("Add…");
            let spoken = format!("Add a {}", kind.word());
            add.widget_info(|| WidgetInfo::labeled(Role::Button, true, &spoken));
            if add.on_hover_text(&spoken).clicked() {
                view.parts.begin(document, kind);
            }
        });
    });
    let filter = view.parts.filter.trim().to_lowercase();
    let names = document.yard().file().part_names(kind);
    let mut any = false;
    for name in names.iter().filter(|name| name.to_lowercase().contains(&filter)) {
        any = true;
        let id = PartId::new(kind, *name);
        let on = matches!(&view.parts.picked, Some(Picked::Part(picked, _)) if *picked == id);
        let waits = if view.parts.waits(&id) { " · waits" } else { "" };
        if item_ui(ui, on, &format!("{name}{waits}")) {
            view.parts.next = Some(Picked::Part(id, 0));
        }
    }
    let new = view.parts.new.as_ref().filter(|new| new.part.kind() == kind);
    if let Some(name) = new.map(|new| new.part.name().clone()) {
        let on = view.parts.picked == Some(Picked::New);
        if item_ui(ui, on, &format!("{name} · not added yet")) {
            view.parts.next = Some(Picked::New);
        }
    } else if !any {
        let none = if names.is_empty() { "None yet" } else { "None of that name" };
        ui.label(RichText::new(none).color(view.paper.color(Ink::Soft)));
    }
}

fn item_ui(ui: &mut Ui, on: bool, text: &str) -> bool {
    let font = if on { theme::strong(size::BODY) } else { theme::body() };
    let button = egui::Button::selectable(on, RichText::new(text).font(font)).truncate();
    let width = ui.available_width();
    let response = ui.allocate_ui_with_layout(
        egui::vec2(width, size::HIT),
        Layout::top_down_justified(Align::LEFT),
        |ui| ui.add(button),
    );
    response.inner.clicked()
}
