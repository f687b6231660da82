//! Lessons from files, and what can be taken out of the room: handout, drawing, table.

use crate::desk::document::Document;
use crate::desk::format::short_name;
use crate::desk::lesson::SheetDrawing;
use crate::desk::page_size::PageSize;
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::whole;
use egui::{CollapsingHeader, Label, RichText, Ui};

/// What the room asks of the window.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TeachAsk {
    /// A lesson from a file.
    OpenLesson,
    /// The lesson that is built in.
    BuiltIn,
    /// The lesson on show as a file to edit.
    SaveLesson,
    /// Fields beside the running step, to write on the lesson.
    Write,
    /// What was written, into the lesson's file.
    SaveDraft,
    /// No more writing.
    EndWriting,
    /// A handout as a file.
    SaveHandout,
    /// What the lesson asks, as a sheet.
    SaveLessonSheet,
    /// A drawing as a file.
    SaveDrawing,
    /// Every setup's figures as a file.
    SaveTable,
    /// Every guess that was kept, as a file.
    SaveGuesses,
    /// A picture that moves as a file.
    SaveMoving,
}

/// The lesson's name, and another in its place.
pub(super) fn lesson_ui(ui: &mut Ui, view: &ViewState) -> Option<TeachAsk> {
    let lesson = view.teach.lesson.as_ref()?;
    let mut asked = None;
    ui.horizontal(|ui| {
        ui.menu_button("Lesson", |ui| {
            for (name, ask) in [
                ("Open a lesson…", TeachAsk::OpenLesson),
                ("Built-in lesson", TeachAsk::BuiltIn),
                ("Write on it", TeachAsk::Write),
                ("Save a copy…", TeachAsk::SaveLesson),
            ] {
                if ui.button(name).clicked() {
                    asked = Some(ask);
                    ui.close();
                }
            }
        });
        let name = RichText::new(lesson.name()).color(view.paper.color(Ink::Soft));
        ui.add(Label::new(name).truncate()).on_hover_text(lesson.note());
    });
    asked
}

/// Handout, drawing and table.
pub(super) fn sheets_ui(ui: &mut Ui, document: &Document, view: &mut ViewState) -> Option<TeachAsk> {
    let mut asked = None;
    let title = RichText::new("Handout, drawing, table").font(theme::strong(size::BODY));
    CollapsingHeader::new(title).id_salt("lesson sheets").show(ui, |ui| {
        let sheet = &mut view.teach.sheet;
        ui.horizontal(|ui| {
            ui.label("Sheet");
            ui.radio_value(&mut sheet.size, PageSize::A4, "A4");
            ui.radio_value(&mut sheet.size, PageSize::Letter, "Letter");
        });
        for setup in document.yard().setups() {
            let mut on = !sheet.left_out.contains(setup.name());
            let short = short_name(setup.name());
            let tick = ui.checkbox(&mut on, &short);
            if whole(tick, egui::Role::CheckBox, setup.name(), short != setup.name()).changed() {
                if on {
                    sheet.left_out.remove(setup.name());
                } else {
                    sheet.left_out.insert(setup.name().to_owned());
                }
            }
        }
        ui.checkbox(&mut sheet.with_log, "With the log of the room Log");
        ui.horizontal(|ui| {
            let label = ui.label("By");
            let field = egui::TextEdit::singleline(&mut sheet.author).desired_width(180.0);
            ui.add(field).labelled_by(label.id).on_hover_text("Printed on the sheet");
        });
        ui.horizontal_wrapped(|ui| {
            if ui.button("Handout…").clicked() {
                asked = Some(TeachAsk::SaveHandout);
            }
            let hint = "What the lesson asks, with blanks or with the guesses that were kept";
            if ui.button("Lesson sheet…").on_hover_text(hint).clicked() {
                asked = Some(TeachAsk::SaveLessonSheet);
            }
        });
        ui.separator();
        ui.horizontal(|ui| {
            ui.radio_value(&mut sheet.drawing, SheetDrawing::Bench, "bench");
            ui.radio_value(&mut sheet.drawing, SheetDrawing::Log, "log");
            ui.radio_value(&mut sheet.drawing, SheetDrawing::Rack, "setups above");
        });
        if ui.button("Save drawing…").clicked() {
            asked = Some(TeachAsk::SaveDrawing);
        }
        let hint = "The bar growing in the hand; in the room Log, from the menu Yard, the cut";
        if ui.button("Moving picture…").on_hover_text(hint).clicked() {
            asked = Some(TeachAsk::SaveMoving);
        }
        ui.separator();
        if ui.button("Save table…").on_hover_text("Every setup's figures, as .csv or .json").clicked() {
            asked = Some(TeachAsk::SaveTable);
        }
    });
    asked
}
