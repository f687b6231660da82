//! What comes to the window from outside: files dropped on it, answers of dialogs, the wish to close it.

use super::{App, Notice};
use crate::draw::theme::{self, Ink, size};
use crate::window::files::{Given, Leave, Purpose, Question};
use crate::window::rooms::parts::open_photograph;
use egui::{Align2, Id, LayerId, Order, Stroke, StrokeKind, Ui, ViewportCommand};
use std::path::{Path, PathBuf};
use std::sync::atomic::Ordering;

/// Space between the window's edge and the frame that says where a file is dropped, in points.
const DROP_MARGIN: f32 = 8.0;

impl App {
    /// What was dropped on the window, chosen in a dialog, or asked by the system.
    pub(super) fn take_files(&mut self, ui: &Ui) {
        let dropped: Vec<PathBuf> =
            ui.input(|input| input.raw.dropped_files.iter().map(|file| file.path().to_owned()).collect());
        if let Some((path, others)) = dropped.split_first()
            && !self.files.asks_first()
        {
            match Given::of(path) {
                Given::Lesson | Given::Photograph => self.open_given(path, ui.ctx()),
                Given::Yard | Given::Kept(_) => self.leave(Leave::Open(path.clone()), ui.ctx()),
            }
            self.say_not_opened(others);
        }
        self.take_answer(ui);
        if self.files.told_to_end.load(Ordering::Relaxed) {
            ui.ctx().send_viewport_cmd(ViewportCommand::Close);
            return;
        }
        let asked = ui.input(|input| input.viewport().close_requested());
        if asked && !self.files.closing && self.would_lose() {
            ui.ctx().send_viewport_cmd(ViewportCommand::CancelClose);
            self.files.asked = Some(Question::SaveFirst(Leave::Close));
        }
    }

    /// A window holds one yard.
    fn say_not_opened(&mut self, others: &[PathBuf]) {
        let name =
            |path: &PathBuf| path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned();
        let names: Vec<String> = others.iter().map(name).collect();
        if !names.is_empty() && self.notice.is_none() {
            let said = format!("a window holds one yard; {} stayed shut", names.join(", "));
            self.notice = Some(Notice::warning("One opened", said));
        }
    }

    fn take_answer(&mut self, ui: &Ui) {
        let answer = self
            .files
            .dialog
            .as_ref()
            .and_then(|(purpose, dialog)| Some((*purpose, dialog.try_recv().ok()?)));
        let Some((purpose, chosen)) = answer else { return };
        self.files.dialog = None;
        if let Some(path) = chosen {
            self.files.field = None;
            match purpose {
                Purpose::Open => self.leave(Leave::Open(path), ui.ctx()),
                Purpose::SaveAs => self.save_chosen(&path, ui.ctx()),
                Purpose::Teach(file) => self.take_teach_path(file, &path, ui.ctx()),
                Purpose::Photograph => self.open_photograph(&path, ui.ctx()),
            }
        }
    }

    /// A path that was typed.
    pub(super) fn take_path(&mut self, purpose: Purpose, path: &Path, ui: &Ui) {
        match purpose {
            Purpose::Open => self.leave(Leave::Open(path.to_owned()), ui.ctx()),
            Purpose::SaveAs => self.save_to(path, ui.ctx()),
            Purpose::Teach(file) => self.take_typed_teach_path(file, path, ui.ctx()),
            Purpose::Photograph => self.open_photograph(path, ui.ctx()),
        }
    }

    /// Reads a photograph of the head whose form is open.
    pub(super) fn open_photograph(&mut self, path: &Path, ctx: &egui::Context) {
        open_photograph(&self.document, &mut self.view, path, ctx);
    }

    /// A frame over the window while a file is held over it.
    pub(super) fn drop_ui(&self, ui: &Ui) {
        if ui.input(|input| input.raw.hovered_files.is_empty()) {
            return;
        }
        let paper = self.view.paper;
        let painter = ui.ctx().layer_painter(LayerId::new(Order::Foreground, Id::unique("drop")));
        let rect = ui.ctx().content_rect().shrink(DROP_MARGIN);
        let veil = paper.color(Ink::Paper).gamma_multiply(0.85);
        painter.rect(rect, 6.0, veil, Stroke::new(3.0, paper.color(Ink::Ours)), StrokeKind::Inside);
        let font = theme::strong(size::TITLE);
        let words = "Let go to open the yard";
        painter.text(rect.center(), Align2::CENTER_CENTER, words, font, paper.color(Ink::Line));
    }
}
