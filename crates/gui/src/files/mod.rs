//! Yard files in the window: opening, saving, and asking before anything unsaved is lost.

mod asking;
mod disk;
mod path;
mod recent;
mod recent_menu;
mod recovering;
mod saving;
mod taking;
mod watch;

use crate::app::{App, Notice};
use crate::document::Document;
use crate::recovery::{Keeper, Left};
use crate::view_state::Room;
use asking::Question;
use barpoise_core::Yard;
use barpoise_core::file::YardFile;
use egui::{Context, Ui, ViewportCommand};
use path::Purpose;
use recent::Recent;
use std::path::{Path, PathBuf};
use std::sync::mpsc::Receiver;
use watch::{OnDisk, Target, Watch};

/// What is done with the yard in the window once it is safe or given up.
#[derive(Clone, Debug, PartialEq)]
enum Leave {
    Open(PathBuf),
    Demo,
    New(Box<YardFile>),
    Restore(PathBuf),
    Close,
}

/// The state of all that.
#[derive(Debug, Default)]
pub(crate) struct Files {
    /// The program's own folder, for recent yards and work that is kept safe.
    own: Option<PathBuf>,
    dialog: Option<(Purpose, Receiver<Option<PathBuf>>)>,
    field: Option<(Purpose, String)>,
    field_opened: bool,
    asked: Option<Question>,
    after_save: Option<Leave>,
    closing: bool,
    title: Option<String>,
    recent: Recent,
    watch: Option<Watch>,
    watched: Option<Target>,
    on_disk: OnDisk,
    /// What of the file on disk the person will not be told again.
    put_off: OnDisk,
    keeper: Option<Keeper>,
    /// Work that lost windows left, while it is offered.
    left: Vec<Left>,
    throwing_away: Option<PathBuf>,
}

impl Files {
    /// True while something is asked over the window.
    pub(crate) const fn asks_first(&self) -> bool {
        self.asked.is_some() || !self.left.is_empty()
    }

    /// True while a path is asked for.
    pub(crate) const fn asks_path(&self) -> bool {
        self.field.is_some()
    }
}

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
            Err(error) => self.notice = Some(Notice::warning("Not opened", error.to_string())),
        }
    }

    fn put_in(&mut self, document: Document) {
        self.document = document;
        self.notice = None;
        self.forget_typed();
    }

    /// What was being typed belonged to another yard.
    fn forget_typed(&mut self) {
        self.view.entry = crate::weigh_in_entry::Entry::default();
        self.view.parts = self.view.parts.emptied();
    }

    /// The demo again.
    pub(crate) fn open_demo(&mut self, ctx: &Context) {
        self.leave(Leave::Demo, ctx);
    }

    /// The page on which a new yard is made; the yard in the window stays until it is.
    pub(crate) fn begin_new_yard(&mut self) {
        self.view.room = Room::Parts;
        self.view.parts.new_yard.get_or_insert_default();
        self.view.parts.name_next = true;
    }

    /// Goes on with the yard of that page.
    pub(crate) fn make_new_yard(&mut self, ctx: &Context) {
        if let Some(new) = &self.view.parts.new_yard {
            self.leave(Leave::New(Box::new(new.file())), ctx);
        }
    }

    /// Leaves the yard in the window: at once where nothing is lost, else asks first.
    fn leave(&mut self, leave: Leave, ctx: &Context) {
        if self.would_lose() {
            self.files.asked = Some(Question::SaveFirst(leave));
        } else {
            self.go(leave, ctx);
        }
    }

    /// True where something would be lost: the yard is in no file, or a change of a part waits.
    fn would_lose(&self) -> bool {
        self.document.unsaved() || !self.view.parts.waiting.is_empty()
    }

    fn go(&mut self, leave: Leave, ctx: &Context) {
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
    pub(crate) fn title(&mut self, ui: &Ui) {
        let mark = if self.document.unsaved() { " (unsaved)" } else { "" };
        let title = format!("{}{mark} · Barpoise", self.document.yard().name());
        if self.files.title.as_ref() != Some(&title) {
            ui.ctx().send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.files.title = Some(title);
        }
    }
}
