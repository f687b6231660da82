//! Leaving the yard in the window for another, and asking before anything unsaved is lost.

use super::{App, Notice};
use crate::desk::document::Document;
use crate::desk::forms::reading::Entry;
use crate::desk::lesson::is_lesson;
use crate::window::files::{Leave, Question};
use crate::window::view_state::Room;
use barpoise_core::Yard;
use egui::{Context, Ui, ViewportCommand};
use std::path::Path;

impl App {
    /// Opens a yard; one that is refused leaves the last good yard on the bench and says why.
    pub fn open(&mut self, path: &Path) {
        match Document::open(path) {
            Ok(document) => {
                if let Some(path) = document.path() {
                    self.files.recent.add(path);
                }
                self.put_in(document);
            }
            Err(error) => self.notice = Some(Notice::not_opened(path, error.to_string())),
        }
    }

    /// Opens whatever was given at the start: a lesson as a lesson, all else as a yard. What cannot be opened is told in the
    /// window, over the demo.
    pub fn open_given(&mut self, path: &Path) {
        if is_lesson(path) {
            self.view.room = Room::Teach;
            self.open_lesson(path);
        } else {
            self.open(path);
        }
    }

    pub(super) fn put_in(&mut self, document: Document) {
        self.document = document;
        self.notice = None;
        self.forget_typed();
    }

    /// What was being typed belonged to another yard.
    pub(super) fn forget_typed(&mut self) {
        self.view.entry = Entry::default();
        self.view.parts = self.view.parts.emptied();
    }

    /// The demo again.
    pub(super) fn open_demo(&mut self, ctx: &Context) {
        self.leave(Leave::Demo, ctx);
    }

    /// The page on which a new yard is made; the yard in the window stays until it is.
    pub(super) fn begin_new_yard(&mut self) {
        self.view.room = Room::Parts;
        self.view.parts.new_yard.get_or_insert_default();
        self.view.parts.name_next = true;
    }

    /// Goes on with the yard of that page.
    pub(super) fn make_new_yard(&mut self, ctx: &Context) {
        let made = self.view.parts.new_yard.as_ref().map(|new| std::sync::Arc::clone(new.made()));
        if let Some(Ok(yard)) = made.as_deref() {
            self.leave(Leave::New(Box::new(yard.file().clone())), ctx);
        }
    }

    /// Leaves the yard in the window: at once where nothing is lost, else asks first.
    pub(super) fn leave(&mut self, leave: Leave, ctx: &Context) {
        if self.would_lose() {
            self.files.asked = Some(Question::SaveFirst(leave));
        } else {
            self.go(leave, ctx);
        }
    }

    /// True where something would be lost: the yard is in no file, or a change of a part waits.
    pub(super) fn would_lose(&self) -> bool {
        self.document.unsaved() || !self.view.parts.waiting.is_empty()
    }

    pub(super) fn go(&mut self, leave: Leave, ctx: &Context) {
        match leave {
            Leave::Open(path) => self.open(&path),
            Leave::Demo => match Document::demo() {
                Ok(document) => self.put_in(document),
                Err(error) => self.notice = Some(Notice::warning("Not opened", error.to_string())),
            },
            Leave::New(file) => {
                let made = Yard::new(*file).ok().and_then(|yard| Document::new_yard(yard).ok());
                match made {
                    Some(document) => self.put_in(document),
                    None => {
                        let said = "the yard is not complete".to_owned();
                        self.notice = Some(Notice::warning("Not made", said));
                    }
                }
            }
            Leave::Restore(file) => self.restore(&file),
            Leave::Close => {
                self.files.closing = true;
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
        }
    }

    /// The window's title, with a mark while the yard is unsaved.
    pub(super) fn title(&mut self, ui: &Ui) {
        let mark = if self.document.unsaved() { " (unsaved)" } else { "" };
        let title = format!("{}{mark} · Barpoise", self.document.yard().name());
        if self.files.title.as_ref() != Some(&title) {
            ui.ctx().send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.files.title = Some(title);
        }
    }
}
