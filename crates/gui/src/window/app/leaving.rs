//! Leaving the yard in the window for another, and asking before anything unsaved is lost.

use super::{App, Notice};
use crate::desk::document::{Document, OpenError, Work};
use crate::desk::forms::parts::Picked;
use crate::desk::forms::reading::Entry;
use crate::window::files::{Given, Leave, OnDisk, Question};
use crate::window::view_state::Room;
use barpoise_core::Yard;
use barpoise_core::record::{PartId, PartKind};
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
            Err(OpenError::File(error)) => self.notice = Some(Notice::not_opened("Not opened", path, &error)),
            Err(error) => self.notice = Some(Notice::warning("Not opened", error.to_string())),
        }
    }

    /// Opens whatever was given, as what it is: a lesson, a photograph of a head, kept work of a lost window, and all else as
    /// a yard. What cannot be opened is told in the window.
    pub fn open_given(&mut self, path: &Path, ctx: &Context) {
        match Given::of(path) {
            Given::Lesson => {
                self.view.room = Room::Teach;
                self.open_lesson(path);
            }
            Given::Photograph => self.open_photograph_of_bench(path, ctx),
            Given::Kept(work) => self.open_kept(path, work),
            Given::Yard => self.open(path),
        }
    }

    /// A photograph of the head on the bench, in its form.
    fn open_photograph_of_bench(&mut self, path: &Path, ctx: &Context) {
        let name = self.document.bench().base().powerhead().name().to_owned();
        let heads = &self.document.yard().file().powerheads;
        let place = heads.iter().position(|head| head.name == name).unwrap_or_default();
        self.view.room = Room::Parts;
        self.view.parts.picked = Some(Picked::Part(PartId { kind: PartKind::Powerhead, name }, place));
        self.open_photograph(path, ctx);
    }

    /// Goes on with work that a lost window had kept; its file stays.
    fn open_kept(&mut self, path: &Path, work: Work) {
        match Document::restored(work) {
            Ok(document) => {
                self.put_in(document);
                let said = format!("{} as it was kept in {}", self.document.yard().name(), path.display());
                self.notice = Some(Notice::good("Restored", said));
            }
            Err(error) => self.notice = Some(Notice::warning("Not opened", error.to_string())),
        }
    }

    /// Reads a refused file again where another program has changed it since.
    pub(super) fn tend_refused(&mut self, on_disk: OnDisk, ctx: &Context) {
        let refused = self.notice.as_ref().and_then(|notice| notice.again.clone());
        if let (Some(again), OnDisk::Changed(_)) = (refused, on_disk) {
            self.open_given(&again.path, ctx);
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
            Leave::Open(path) => self.open_given(&path, ctx),
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
