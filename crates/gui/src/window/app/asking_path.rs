//! Asking for a path: the system's dialog, and a field where there is none.

use super::{App, Notice};
use crate::draw::theme::{self, Ink};
use crate::window::files::{Purpose, TeachFile, typed_path};
use crate::window::widgets::middle_label;
use egui::{Key, Ui};
use std::path::Path;
use std::sync::mpsc::channel;

impl App {
    /// Asks for a yard to open.
    pub(super) fn ask_to_open(&mut self, ui: &Ui) {
        self.ask_for_path(ui, Purpose::Open);
    }

    /// Asks where to save the yard.
    pub(super) fn ask_to_save(&mut self, ui: &Ui) {
        self.ask_for_path(ui, Purpose::SaveAs);
    }

    /// Asks for a file of the room *Teach*.
    pub(super) fn ask_for_teach_path(&mut self, ui: &Ui, file: TeachFile) {
        self.ask_for_path(ui, Purpose::Teach(file));
    }

    /// Asks for a photograph of the head whose form is open.
    pub(super) fn ask_for_photograph(&mut self, ui: &Ui) {
        self.ask_for_path(ui, Purpose::Photograph);
    }

    /// The system's dialog on a thread of its own, with a path field beside it where there is none.
    fn ask_for_path(&mut self, ui: &Ui, purpose: Purpose) {
        if self.files.field.as_ref().is_none_or(|(asked, _)| *asked != purpose) {
            let text = match (purpose, self.document.path()) {
                (Purpose::SaveAs, Some(path)) => path.display().to_string(),
                _ => String::new(),
            };
            self.files.field = Some((purpose, text));
            self.files.field_opened = true;
        }
        if self.files.dialog.is_some() {
            return;
        }
        let (send, receive) = channel();
        let ctx = ui.ctx().clone();
        let name = self
            .document
            .path()
            .and_then(Path::file_name)
            .map_or_else(|| "my.yard.ron".to_owned(), |name| name.to_string_lossy().into_owned());
        let work = move || {
            let (kind, endings): (_, &[_]) = match purpose {
                Purpose::Open | Purpose::SaveAs => ("Yard", &["ron"]),
                Purpose::Teach(file) => file.filter(),
                Purpose::Photograph => ("Photograph", &["jpg", "jpeg", "png", "webp"]),
            };
            let dialog = rfd::FileDialog::new().add_filter(kind, endings);
            let offered = match purpose {
                Purpose::Open | Purpose::Photograph => None,
                Purpose::SaveAs => Some(name),
                Purpose::Teach(file) => file.offered().map(str::to_owned),
            };
            let chosen = match offered {
                None => dialog.pick_file(),
                Some(name) => dialog.set_file_name(name).save_file(),
            };
            // The window may be closed by now; then nobody waits for the answer.
            let _ = send.send(chosen);
            ctx.request_repaint();
        };
        match std::thread::Builder::new().name("file dialog".to_owned()).spawn(work) {
            Ok(_) => self.files.dialog = Some((purpose, receive)),
            Err(error) => {
                let said = format!("no file dialog: {error}; type the path instead");
                self.notice = Some(Notice::warning("No dialog", said));
            }
        }
    }

    /// The field that takes a path where the system has no dialog.
    pub(super) fn path_field_ui(&mut self, ui: &mut Ui) {
        let Some((purpose, mut text)) = self.files.field.take() else { return };
        let (name, button) = match purpose {
            Purpose::Open => ("Path of a yard file", "Open"),
            Purpose::SaveAs => ("Save as, path of a yard file", "Save"),
            Purpose::Teach(file) => file.words(),
            Purpose::Photograph => ("Path of a photograph, .jpg, .png or .webp", "Open"),
        };
        let mut keep = true;
        ui.horizontal(|ui| {
            let label = ui.label(name);
            let field =
                ui.add(egui::TextEdit::singleline(&mut text).desired_width(420.0)).labelled_by(label.id);
            if std::mem::take(&mut self.files.field_opened) {
                field.request_focus();
            }
            let entered = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
            if (ui.button(button).clicked() || entered) && !text.trim().is_empty() {
                self.take_path(purpose, &typed_path(&text, purpose), ui);
                keep = false;
            }
            let given_up = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Escape));
            if ui.button("Cancel").clicked() || given_up {
                self.files.after_save = None;
                keep = false;
            }
        });
        if keep && !text.trim().is_empty() {
            let meant = typed_path(&text, purpose);
            let (font, soft) = (theme::body(), self.view.paper.color(Ink::Soft));
            let wide = ui.available_width();
            middle_label(ui, &meant.display().to_string(), &font, soft, wide);
        }
        if keep {
            self.files.field = Some((purpose, text));
        }
    }
}
