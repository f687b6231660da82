//! Yard files in the window: opening, saving, and asking before anything unsaved is lost.

use crate::app::{App, Notice};
use crate::app_teach::{TeachFile, is_lesson};
use crate::document::Document;
use crate::theme::{self, size};
use crate::view_state::Room;
use barpoise_core::Yard;
use barpoise_core::file::YardFile;
use egui::{Context, Frame, Id, Key, Margin, Modal, RichText, Ui, ViewportCommand};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};

/// What a path is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Purpose {
    Open,
    SaveAs,
    Teach(TeachFile),
}

/// What is done with the yard in the window once it is safe or given up.
#[derive(Clone, Debug, PartialEq)]
enum Leave {
    Open(PathBuf),
    Demo,
    New(Box<YardFile>),
    Close,
}

/// The state of all that.
#[derive(Debug, Default)]
pub(crate) struct Files {
    dialog: Option<(Purpose, Receiver<Option<PathBuf>>)>,
    field: Option<(Purpose, String)>,
    field_opened: bool,
    asked: Option<Leave>,
    after_save: Option<Leave>,
    closing: bool,
    title: Option<String>,
}

impl Files {
    /// True while it is asked whether to save.
    pub(crate) const fn asks_first(&self) -> bool {
        self.asked.is_some()
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
            Ok(document) => self.put_in(document),
            Err(error) => self.notice = Some(Notice::warning("Not opened", error.to_string())),
        }
    }

    fn put_in(&mut self, document: Document) {
        self.document = document;
        self.notice = None;
        // What was being typed belonged to the other yard.
        self.view.entry = crate::weigh_in_entry::Entry::default();
        self.view.parts = self.view.parts.emptied();
    }

    /// What was dropped on the window, chosen in a dialog, or asked by the system.
    pub(crate) fn take_files(&mut self, ui: &Ui) {
        let dropped = ui.input(|input| input.raw.dropped_files.first().map(|file| file.path().to_owned()));
        if let Some(path) = dropped {
            if is_lesson(&path) {
                self.open_lesson(&path);
            } else {
                self.leave(Leave::Open(path), ui.ctx());
            }
        }
        let answer = self
            .files
            .dialog
            .as_ref()
            .and_then(|(purpose, dialog)| Some((*purpose, dialog.try_recv().ok()?)));
        if let Some((purpose, chosen)) = answer {
            self.files.dialog = None;
            if let Some(path) = chosen {
                self.files.field = None;
                self.take_path(purpose, &path, ui.ctx());
            }
        }
        if ui.input(|input| input.viewport().close_requested()) && !self.files.closing && self.would_lose() {
            ui.ctx().send_viewport_cmd(ViewportCommand::CancelClose);
            self.files.asked = Some(Leave::Close);
        }
    }

    fn take_path(&mut self, purpose: Purpose, path: &Path, ctx: &Context) {
        match purpose {
            Purpose::Open => self.leave(Leave::Open(path.to_owned()), ctx),
            Purpose::SaveAs => self.save_to(path, ctx),
            Purpose::Teach(file) => self.take_teach_path(file, path),
        }
    }

    /// Asks for a yard to open.
    pub(crate) fn ask_to_open(&mut self, ui: &Ui) {
        self.ask_for_path(ui, Purpose::Open);
    }

    /// Asks where to save the yard.
    pub(crate) fn ask_to_save(&mut self, ui: &Ui) {
        self.ask_for_path(ui, Purpose::SaveAs);
    }

    /// Asks for a file of the room *Teach*.
    pub(crate) fn ask_for_teach_path(&mut self, ui: &Ui, file: TeachFile) {
        self.ask_for_path(ui, Purpose::Teach(file));
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

    /// The yard's file again.
    pub(crate) fn reload(&mut self, ctx: &Context) {
        if let Some(path) = self.document.path().map(Path::to_owned) {
            self.leave(Leave::Open(path), ctx);
        }
    }

    /// Saves to the yard's own file, or asks for one.
    pub(crate) fn save(&mut self, ui: &Ui) {
        match self.document.path().map(Path::to_owned) {
            Some(path) => self.save_to(&path, ui.ctx()),
            None => self.ask_to_save(ui),
        }
    }

    /// Saves to a file, which is then the yard's own.
    pub fn save_to(&mut self, path: &Path, ctx: &Context) {
        match self.document.save(path) {
            Ok(saved) => {
                let mut said = saved.path.display().to_string();
                if let Some(copy) = saved.copy {
                    let copy = copy.display();
                    said.push_str(&format!(
                        ". Its comments cannot be kept in the new file; the old one stands as {copy}"
                    ));
                }
                if let Some(words) = self.view.parts.waiting_words() {
                    said.push_str(&format!(". {words} and are not in it"));
                }
                self.notice = Some(Notice::good("Saved", said));
                if let Some(leave) = self.files.after_save.take() {
                    self.go(leave, ctx);
                }
            }
            Err(error) => {
                self.files.after_save = None;
                self.notice = Some(Notice::warning("Not saved", error.to_string()));
            }
        }
    }

    /// Leaves the yard in the window: at once where nothing is lost, else asks first.
    fn leave(&mut self, leave: Leave, ctx: &Context) {
        if self.would_lose() { self.files.asked = Some(leave) } else { self.go(leave, ctx) }
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
            Leave::Close => {
                self.files.closing = true;
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
        }
    }

    /// Asks whether to save first.
    pub(crate) fn ask_first_ui(&mut self, ui: &Ui) {
        let Some(leave) = self.files.asked.clone() else { return };
        let mut answered = false;
        let frame = Frame::window(ui.style()).inner_margin(Margin::same(18));
        let modal = Modal::new(Id::unique("unsaved")).frame(frame).show(ui.ctx(), |ui| {
            ui.set_max_width(420.0);
            ui.label(RichText::new("Save the yard first?").font(theme::strong(size::STRONG)));
            let name = self.document.yard().name();
            if self.document.unsaved() {
                ui.label(format!("{name} has parts, readings or numbers that are in no file yet."));
            }
            if let Some(words) = self.view.parts.waiting_words() {
                ui.label(format!(
                    "{words}, in the room Parts; they cannot be saved before they go together."
                ));
            }
            ui.add_space(8.0);
            ui.horizontal(|ui| {
                let text = RichText::new("Save").font(theme::strong(size::BODY));
                if ui.button(text).clicked() {
                    self.files.after_save = Some(leave.clone());
                    self.save(ui);
                    answered = true;
                }
                if ui.button("Discard").clicked() {
                    self.go(leave, ui.ctx());
                    answered = true;
                }
                answered |= ui.button("Cancel").clicked();
            });
        });
        if answered || modal.should_close() {
            self.files.asked = None;
        }
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
            };
            let dialog = rfd::FileDialog::new().add_filter(kind, endings);
            let offered = match purpose {
                Purpose::Open => None,
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
    pub(crate) fn path_field_ui(&mut self, ui: &mut Ui) {
        let Some((purpose, mut text)) = self.files.field.take() else { return };
        let (name, button) = match purpose {
            Purpose::Open => ("Path of a yard file", "Open"),
            Purpose::SaveAs => ("Save as, path of a yard file", "Save"),
            Purpose::Teach(file) => file.words(),
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
                self.take_path(purpose, Path::new(text.trim()), ui.ctx());
                keep = false;
            }
            let given_up = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Escape));
            if ui.button("Cancel").clicked() || given_up {
                self.files.after_save = None;
                keep = false;
            }
        });
        if keep {
            self.files.field = Some((purpose, text));
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
