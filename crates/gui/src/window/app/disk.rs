//! What the window says when the yard's file is changed or lost behind its back.

use super::{App, Notice};
use crate::draw::theme::{self, Ink, size};
use crate::window::files::{OnDisk, Target, Watch};
use egui::{Event, RichText, Ui};
use std::path::Path;

impl App {
    /// Follows the yard's file, and takes in what was noticed of it.
    pub(super) fn watch_disk(&mut self, ui: &Ui) {
        let target = self.target();
        if target != self.files.watched {
            self.files.watched.clone_from(&target);
            self.files.on_disk = OnDisk::AsSeen;
            self.files.put_off = OnDisk::AsSeen;
        }
        let Some(target) = target else { return };
        if self.files.watch.is_none() {
            let ctx = ui.ctx().clone();
            // Without it nothing is noticed before saving, which looks for itself.
            self.files.watch = Watch::begin(move || ctx.request_repaint()).ok();
        }
        let Some(watch) = &mut self.files.watch else { return };
        let focused = ui
            .input(|input| input.raw.events.iter().any(|event| matches!(event, Event::WindowFocused(true))));
        watch.follow(&target, focused);
        let Some(on_disk) = watch.news_of(&target) else { return };
        if self.refused().is_some() {
            self.tend_refused(on_disk, ui.ctx())
        } else {
            self.take_on_disk(on_disk)
        }
    }

    /// Looks at the yard's file now, and says what has become of it.
    pub fn look_at_disk(&mut self) {
        if let Some(target) = self.own_target() {
            let on_disk = target.look();
            self.files.watched = Some(target);
            self.take_on_disk(on_disk);
        }
    }

    /// The refused file that is told of, else the yard's own.
    fn target(&self) -> Option<Target> {
        self.refused().or_else(|| self.own_target())
    }

    fn refused(&self) -> Option<Target> {
        let again = self.notice.as_ref()?.again.as_ref()?;
        Some(Target { path: again.path.clone(), seen: again.seen? })
    }

    fn own_target(&self) -> Option<Target> {
        Some(Target { path: self.document.path()?.to_owned(), seen: self.document.seen()? })
    }

    fn take_on_disk(&mut self, on_disk: OnDisk) {
        self.files.on_disk = on_disk;
        self.document.set_gone(on_disk == OnDisk::Gone);
    }

    /// True where there is something to say.
    pub(super) fn tells_of_disk(&self) -> bool {
        self.files.on_disk != OnDisk::AsSeen && self.files.on_disk != self.files.put_off
    }

    /// The strip that says it, with what can be done.
    pub(super) fn disk_ui(&mut self, ui: &mut Ui) {
        let Some(path) = self.document.path().map(Path::to_owned) else { return };
        let paper = self.view.paper;
        let head = |ui: &mut Ui, text: &str| {
            ui.label(RichText::new(text).font(theme::strong(size::BODY)).color(paper.color(Ink::Warn)));
        };
        let shown = path.display();
        ui.horizontal_wrapped(|ui| match self.files.on_disk {
            OnDisk::AsSeen => {}
            OnDisk::Changed(there) => {
                head(ui, "Changed on disk");
                ui.label(format!("another program has changed {shown}"));
                if ui
                    .button("Read it again")
                    .on_hover_text("Undo brings back what is in the window")
                    .clicked()
                {
                    self.revert();
                }
                if ui.button("Keep mine").on_hover_text("Saving then writes over the other").clicked() {
                    self.document.keep_mine(there);
                    self.notice = Some(Notice::good("Kept", "saving writes yours over the other".to_owned()));
                }
                if ui.button("Save mine beside it").clicked() {
                    self.save_beside(&path, ui.ctx());
                }
                if ui.button("Not now").clicked() {
                    self.files.put_off = self.files.on_disk;
                }
            }
            OnDisk::Gone => {
                head(ui, "Gone from disk");
                let folder = path.parent().is_none_or(Path::is_dir);
                let lost = if folder { "is no longer there" } else { "and its folder are no longer there" };
                ui.label(format!("{shown} {lost}; your work is here"));
                if folder && ui.button("Write it again").clicked() {
                    self.save(ui);
                }
                if ui.button("Save as…").clicked() {
                    self.ask_to_save(ui);
                }
                if ui.button("Not now").clicked() {
                    self.files.put_off = self.files.on_disk;
                }
            }
        });
    }
}
