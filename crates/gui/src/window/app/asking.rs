//! Questions over the window, before anything unsaved or unseen is lost.

use super::App;
use crate::draw::theme::{self, size};
use crate::window::files::{Leave, Question, TeachFile};
use crate::window::widgets::long_label;
use barpoise_core::file::{Contents, Over};
use egui::{Frame, Id, Margin, Modal, RichText, Ui};
use std::path::Path;

/// Width of a question, in points.
const WIDTH: f32 = 520.0;

/// A question's answers: what is said first is what a person most likely wants.
pub(super) fn ask<T: Clone>(
    ui: &Ui,
    head: &str,
    lines: &[String],
    answers: &[(&str, T)],
) -> (Option<T>, bool) {
    let mut chosen = None;
    let frame = Frame::window(ui.style()).inner_margin(Margin::same(18));
    let modal = Modal::new(Id::unique("question")).frame(frame).show(ui.ctx(), |ui| {
        ui.set_max_width(WIDTH);
        ui.label(RichText::new(head).font(theme::strong(size::STRONG)));
        for line in lines {
            long_label(ui, line);
        }
        ui.add_space(8.0);
        let opens = opens_now(ui, Id::unique("question asked"));
        ui.horizontal_wrapped(|ui| {
            for (place, (name, answer)) in answers.iter().enumerate() {
                let mut text = RichText::new(*name);
                if place == 0 {
                    text = text.font(theme::strong(size::BODY));
                }
                let button = ui.button(text);
                if opens && place == 0 {
                    button.request_focus();
                }
                if button.clicked() {
                    chosen = Some(answer.clone());
                }
            }
            if ui.button("Cancel").clicked() {
                ui.close();
            }
        });
    });
    let closes = modal.should_close();
    (chosen, closes)
}

/// True in the first pass in which something is shown: then what Enter should do takes the focus.
pub(super) fn opens_now(ui: &Ui, id: Id) -> bool {
    let pass = ui.ctx().cumulative_pass_nr();
    let last = ui.data_mut(|data| {
        let last = data.get_temp::<u64>(id);
        data.insert_temp(id, pass);
        last
    });
    last.is_none_or(|last| pass > last + 1)
}

impl App {
    /// Asks what stands to be asked.
    pub(super) fn ask_first_ui(&mut self, ui: &Ui) {
        let Some(question) = self.files.asked.clone() else { return };
        let closed = match &question {
            Question::SaveFirst(leave) => self.ask_to_save_first(ui, leave),
            Question::WriteOver { path, there, own } => self.ask_to_write_over(ui, path, *there, *own),
            Question::WriteOut { file, path } => self.ask_to_write_out(ui, *file, path),
            Question::Revert => self.ask_to_revert(ui),
        };
        // An answer may have led to another question.
        if closed && self.files.asked.as_ref() == Some(&question) {
            self.files.asked = None;
        }
    }

    fn ask_to_save_first(&mut self, ui: &Ui, leave: &Leave) -> bool {
        let mut lines = Vec::new();
        let name = self.document.yard().name();
        if self.document.unsaved() {
            lines.push(format!("{name} has parts, readings or numbers that are in no file yet."));
        }
        if let Some(words) = self.view.parts.waiting_words() {
            lines.push(format!("{words}, in the room Parts; they cannot be saved before they go together."));
        }
        match ask(ui, "Save the yard first?", &lines, &[("Save", true), ("Discard", false)]) {
            (Some(true), _) => {
                self.files.asked = None;
                self.files.after_save = Some(leave.clone());
                self.save(ui);
                true
            }
            (Some(false), _) => {
                self.files.asked = None;
                self.go(leave.clone(), ui.ctx());
                true
            }
            (None, closed) => closed,
        }
    }

    fn ask_to_write_over(&mut self, ui: &Ui, path: &Path, there: Option<Contents>, own: bool) -> bool {
        #[derive(Clone, Copy)]
        enum Answer {
            Beside,
            Theirs,
            Over,
        }
        let shown = path.display();
        let (chosen, closed) = if own {
            let lines = [
                format!("{shown} no longer holds what was read from it: another program has changed it."),
                "Reading it takes your work out of the window; undo brings it back.".to_owned(),
            ];
            let answers = [
                ("Save mine beside it", Answer::Beside),
                ("Read theirs", Answer::Theirs),
                ("Write mine over it", Answer::Over),
            ];
            ask(ui, "The file has changed", &lines, &answers)
        } else {
            let lines = [format!("{shown} holds something else.")];
            let answers = [("Save mine beside it", Answer::Beside), ("Write mine over it", Answer::Over)];
            ask(ui, "There is a file of this name already", &lines, &answers)
        };
        if chosen.is_some() {
            self.files.asked = None;
        }
        match chosen {
            Some(Answer::Beside) => self.save_beside(path, ui.ctx()),
            Some(Answer::Theirs) => {
                self.files.after_save = None;
                self.revert_now();
            }
            // Only over what stood there while it was asked.
            Some(Answer::Over) => self.save_over(path, there.map_or(Over::Nothing, Over::Only), ui.ctx()),
            None if closed => self.files.after_save = None,
            None => {}
        }
        chosen.is_some() || closed
    }

    fn ask_to_write_out(&mut self, ui: &Ui, file: TeachFile, path: &Path) -> bool {
        let lines = [format!("{} would be written over, and what stands in it is gone.", path.display())];
        let (chosen, closed) =
            ask(ui, "There is a file of this name already", &lines, &[("Write over it", ())]);
        if chosen.is_some() {
            self.files.asked = None;
            self.take_teach_path(file, path, ui.ctx());
        }
        chosen.is_some() || closed
    }

    fn ask_to_revert(&mut self, ui: &Ui) -> bool {
        let name = self.document.yard().name();
        let mut lines = Vec::new();
        if self.document.unsaved() {
            lines.push(match self.document.path() {
                Some(path) => {
                    format!("{name} as it stands in {}. Undo brings your work back.", path.display())
                }
                None => format!("{name} as it was when it was opened. Undo brings your work back."),
            });
        }
        if let Some(words) = self.view.parts.waiting_words() {
            lines.push(format!("{words}, in the room Parts; undo does not bring them back."));
        }
        let (chosen, closed) = ask(ui, "Revert to the file?", &lines, &[("Revert", ())]);
        if chosen.is_some() {
            self.files.asked = None;
            self.revert_now();
        }
        chosen.is_some() || closed
    }
}
