//! Keeping unsaved work safe while the window lives, and offering what lost windows left.

use super::asking::opens_now;
use super::{App, Notice};
use crate::desk::document::Document;
use crate::desk::format::age;
use crate::desk::recovery::{Keeper, Left, Record, folder_in, keep_on_signal, left_in};
use crate::draw::theme::{self, Ink, size};
use crate::window::files::{Leave, Recent};
use crate::window::widgets::{long_label, scrolled};
use egui::{Context, Frame, Id, Margin, Modal, RichText, ScrollArea, Ui};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::SystemTime;

/// Width and greatest height of the offer, in points.
const OFFER_WIDTH: f32 = 560.0;
const OFFER_HEIGHT: f32 = 360.0;
const NOT_SAFE: &str = "Unsaved work is not kept safe";

impl App {
    /// Keeps recent yards and unsaved work in the program's own folder, and offers what lost windows left there.
    pub fn keep_in(&mut self, own: &Path, ctx: &Context) {
        self.files.own = Some(own.to_owned());
        self.files.recent = Recent::kept_in(own);
        if let Some(path) = self.document.path() {
            self.files.recent.add(path);
        }
        let folder = folder_in(own);
        let wake = ctx.clone();
        match Keeper::begin(&folder, move || wake.request_repaint()) {
            Ok(keeper) => self.files.keeper = Some(keeper),
            Err(error) => {
                let said = format!("{}: {error}; save often", folder.display());
                self.notice = Some(Notice::warning(NOT_SAFE, said));
            }
        }
        self.files.left = left_in(&folder);
        let wake = ctx.clone();
        // Without it the work is kept some seconds old.
        let _ = keep_on_signal(Arc::clone(&self.files.told_to_end), move || wake.request_repaint());
    }

    /// Hands unsaved work on to be kept safe.
    pub(super) fn keep_safe(&mut self) {
        let Some(keeper) = &mut self.files.keeper else { return };
        keeper.tend(self.document.unsaved_work());
        match keeper.trouble() {
            Some(Some(trouble)) => {
                self.notice = Some(Notice::warning(NOT_SAFE, format!("{trouble}; save often")));
            }
            // What was said of it is no longer so.
            Some(None) => self.notice = self.notice.take().filter(|notice| notice.head != NOT_SAFE),
            None => {}
        }
    }

    /// Keeps unsaved work safe at once.
    pub fn keep_safe_now(&self) {
        if let Some(keeper) = &self.files.keeper {
            keeper.keep_now();
        }
    }

    /// The window ends. Work that is neither saved nor given up stays safe.
    pub fn end(&mut self) {
        let given_up = self.files.closing || !self.document.unsaved();
        if let Some(keeper) = &mut self.files.keeper {
            if given_up { keeper.close() } else { keeper.keep_now() }
        }
    }

    /// Offers again what was put off, or says that there is nothing.
    pub(super) fn offer_left(&mut self) {
        self.files.left = self.files.own.as_deref().map(folder_in).map_or_else(Vec::new, |own| left_in(&own));
        if self.files.left.is_empty() {
            let said = "no window was lost with unsaved work".to_owned();
            self.notice = Some(Notice::good("Nothing to restore", said));
        }
    }

    /// The offer, over the window.
    pub(super) fn left_ui(&mut self, ui: &Ui) {
        if self.files.left.is_empty() || self.files.asked.is_some() {
            return;
        }
        let mut wish = None;
        let mut later = false;
        let frame = Frame::window(ui.style()).inner_margin(Margin::same(18));
        let modal = Modal::new(Id::unique("left")).frame(frame).show(ui.ctx(), |ui| {
            ui.set_max_width(OFFER_WIDTH);
            let head = RichText::new("A window was lost with unsaved work");
            ui.label(head.font(theme::strong(size::TITLE)));
            let mut opens = opens_now(ui, Id::unique("left offered"));
            scrolled(ScrollArea::vertical().max_height(OFFER_HEIGHT), ui, |ui| {
                for left in &self.files.left {
                    ui.separator();
                    wish = self.one_left_ui(ui, left, opens).or(wish.take());
                    opens &= left.record().is_err();
                }
            });
            ui.separator();
            let words = "Nothing is lost by waiting; Yard, Recover unsaved work… asks again.";
            ui.label(RichText::new(words).color(self.view.paper.color(Ink::Soft)));
            later = ui.button("Later").clicked();
        });
        if later || modal.should_close() {
            // Other windows may offer it again.
            self.files.left.clear();
            self.files.throwing_away = None;
        }
        if let Some(wish) = wish {
            self.grant(wish, ui.ctx());
        }
    }

    fn one_left_ui(&self, ui: &mut Ui, left: &Left, takes_focus: bool) -> Option<Wish> {
        let file = left.file().to_owned();
        let record = match left.record() {
            Ok(record) => record,
            Err(reason) => {
                let paper = self.view.paper;
                ui.label(RichText::new("Kept work that cannot be read").color(paper.color(Ink::Warn)));
                long_label(ui, &format!("{reason}. The file stays as {}.", file.display()));
                return None;
            }
        };
        let name = record.work.yard.name();
        ui.label(RichText::new(name).font(theme::strong(size::STRONG)));
        let of = match &record.work.path {
            Some(path) => format!("Changes of {}", path.display()),
            None => "In no file yet".to_owned(),
        };
        let aged = SystemTime::now().duration_since(record.kept).map_or_else(|_| "just now".to_owned(), age);
        long_label(ui, &format!("{of}, kept {aged}."));
        let mut wish = None;
        if self.files.throwing_away.as_ref() == Some(&file) {
            ui.horizontal_wrapped(|ui| {
                ui.label("Throw it away for good?");
                if ui.button("Throw away for good").clicked() {
                    wish = Some(Wish::ThrowAway(file.clone()));
                }
                if ui.button("No").clicked() {
                    wish = Some(Wish::AskToThrowAway(None));
                }
            });
            return wish;
        }
        ui.horizontal_wrapped(|ui| {
            let restore = RichText::new("Restore").font(theme::strong(size::BODY));
            let restore = ui.button(restore).on_hover_text(format!("Goes on with {name}, unsaved"));
            if takes_focus {
                restore.request_focus();
            }
            if restore.clicked() {
                wish = Some(Wish::Restore(file.clone()));
            }
            if let Some(path) = &record.work.path
                && ui.button("Open the saved file").on_hover_text("The kept work stays for later").clicked()
            {
                wish = Some(Wish::OpenSaved(path.clone()));
            }
            if ui.button("Throw away…").clicked() {
                wish = Some(Wish::AskToThrowAway(Some(file)));
            }
        });
        wish
    }

    fn grant(&mut self, wish: Wish, ctx: &Context) {
        match wish {
            Wish::Restore(file) => self.leave(Leave::Restore(file), ctx),
            Wish::OpenSaved(path) => {
                self.files.left.clear();
                self.leave(Leave::Open(path), ctx);
            }
            Wish::AskToThrowAway(file) => self.files.throwing_away = file,
            Wish::ThrowAway(file) => {
                self.files.throwing_away = None;
                if let Some(Err(error)) = self.take_left(&file).map(Left::remove) {
                    let said = format!("{}: {error}", file.display());
                    self.notice = Some(Notice::warning("Not thrown away", said));
                }
            }
        }
    }

    fn take_left(&mut self, file: &Path) -> Option<Left> {
        let place = self.files.left.iter().position(|left| left.file() == file)?;
        Some(self.files.left.remove(place))
    }

    /// Goes on with work that was left. It is removed there only once it is kept safe here.
    pub(super) fn restore(&mut self, file: &Path) {
        let Some(left) = self.take_left(file) else { return };
        let Ok(Record { work, kept }) = left.record().cloned() else { return };
        match Document::restored(work) {
            Ok(document) => {
                let aged = SystemTime::now().duration_since(kept).map_or_else(|_| "just now".to_owned(), age);
                let said = format!("{}, kept {aged}; it is in no file yet", document.yard().name());
                self.put_in(document);
                self.notice = Some(Notice::good("Restored", said));
                self.look_at_disk();
            }
            Err(error) => {
                self.notice = Some(Notice::warning("Not restored", format!("{}: {error}", file.display())));
                return;
            }
        }
        let is_safe = self.files.keeper.as_mut().is_some_and(|keeper| {
            keeper.tend(self.document.unsaved_work());
            keeper.keep_now();
            keeper.file().is_file()
        });
        if is_safe {
            // What stays is offered once more, which loses nothing.
            let _ = left.remove();
        }
        // The next question waits until this yard is dealt with.
        self.files.left.clear();
    }
}

/// What a person wants done with work that was left.
enum Wish {
    Restore(PathBuf),
    OpenSaved(PathBuf),
    AskToThrowAway(Option<PathBuf>),
    ThrowAway(PathBuf),
}
