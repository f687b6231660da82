//! Saving, and what is done where something else stands in the file's place.

use super::{App, Notice};
use crate::window::files::{OnDisk, Question};
use barpoise_core::file::{Contents, Over};
use egui::{Context, Ui};
use std::path::{Path, PathBuf};

/// Names tried for a yard beside another; more are not looked for.
const MOST_BESIDE: u32 = 999;
const YARD_ENDING: &str = ".yard.ron";

impl App {
    /// Saves to the yard's own file, or asks for one.
    pub(super) fn save(&mut self, ui: &Ui) {
        match self.document.path().map(Path::to_owned) {
            Some(path) => self.save_to(&path, ui.ctx()),
            None => self.ask_to_save(ui),
        }
    }

    /// Saves to a file, which is then the yard's own. Where something stands there that was not seen, asks first.
    pub fn save_to(&mut self, path: &Path, ctx: &Context) {
        let over = if self.is_own(path) {
            self.document.seen().map_or(Over::Nothing, Over::Only)
        } else {
            Over::Nothing
        };
        self.save_over(path, over, ctx);
    }

    /// Saves to a file that was chosen in the system's dialog, which has asked whether it may be written over.
    pub(super) fn save_chosen(&mut self, path: &Path, ctx: &Context) {
        if self.is_own(path) { self.save_to(path, ctx) } else { self.save_over(path, Over::Anything, ctx) }
    }

    fn is_own(&self, path: &Path) -> bool {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        self.document.path() == Some(path.as_path())
    }

    pub(super) fn save_over(&mut self, path: &Path, over: Over, ctx: &Context) {
        let was_gone = self.document.is_gone();
        match self.document.save(path, over) {
            Ok(saved) => {
                let mut said = saved.path.display().to_string();
                if was_gone && self.is_own(path) {
                    said.push_str(", which was gone, stands there again");
                }
                if let Some(copy) = saved.copy {
                    said.push_str(&format!(". {copy}"));
                }
                if let Some(words) = self.view.parts.waiting_words() {
                    said.push_str(&format!(". {words} and are not in it"));
                }
                self.notice = Some(Notice::good("Saved", said));
                self.files.on_disk = OnDisk::AsSeen;
                if let Some(path) = self.document.path() {
                    self.files.recent.add(path);
                }
                if let Some(leave) = self.files.after_save.take() {
                    self.go(leave, ctx);
                }
            }
            Err(error) if error.is_unseen() => match Contents::in_file(path) {
                Ok(there) => {
                    let (path, own) = (path.to_owned(), self.is_own(path));
                    self.files.asked = Some(Question::WriteOver { path, there, own });
                }
                Err(error) => {
                    self.files.after_save = None;
                    self.say_not_saved(format!("{}: {error}", path.display()));
                }
            },
            Err(error) => {
                self.files.after_save = None;
                self.say_not_saved(error.to_string());
            }
        }
    }

    fn say_not_saved(&mut self, reason: String) {
        self.notice = Some(Notice::not_saved(format!("{reason}. Your work is here, unsaved")));
    }

    /// Saves under a free name beside the file, and goes on with that one.
    pub(super) fn save_beside(&mut self, path: &Path, ctx: &Context) {
        match beside(path) {
            Some(path) => self.save_over(&path, Over::Nothing, ctx),
            None => self.say_not_saved(format!("{}: no name beside it is free", path.display())),
        }
    }

    /// Reads the yard's file again, or asks first where that takes work out of the window.
    pub(super) fn revert(&mut self) {
        if self.would_lose() { self.files.asked = Some(Question::Revert) } else { self.revert_now() }
    }

    pub(super) fn revert_now(&mut self) {
        let had_work = self.document.unsaved();
        match self.document.revert() {
            Ok(()) => {
                self.forget_typed();
                self.files.on_disk = OnDisk::AsSeen;
                let what = self.document.path().map_or_else(
                    || self.document.yard().name().to_owned(),
                    |path| path.display().to_string(),
                );
                let undo = if had_work { ". Undo brings back what was in the window" } else { "" };
                self.notice = Some(Notice::good("As in the file", format!("{what}{undo}")));
            }
            Err(error) => self.notice = Some(Notice::warning("Not read", error.to_string())),
        }
    }
}

/// A free name beside a file: `my 2.yard.ron` for `my.yard.ron`.
fn beside(path: &Path) -> Option<PathBuf> {
    let name = path.file_name()?.to_string_lossy().into_owned();
    let ending = if name.ends_with(YARD_ENDING) { YARD_ENDING } else { ".ron" };
    let stem = name.strip_suffix(ending).unwrap_or(&name);
    (2..=MOST_BESIDE)
        .map(|number| path.with_file_name(format!("{stem} {number}{ending}")))
        .find(|path| path.symlink_metadata().is_err())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_beside_is_free_and_keeps_the_ending() {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        assert_eq!(beside(&path("Höfe.yard.ron")), Some(path("Höfe 2.yard.ron")));
        std::fs::write(path("Höfe 2.yard.ron"), "").unwrap();
        assert_eq!(beside(&path("Höfe.yard.ron")), Some(path("Höfe 3.yard.ron")));
        assert_eq!(beside(&path("a.ron")), Some(path("a 2.ron")));
        assert_eq!(beside(&path("a")), Some(path("a 2.ron")));
    }
}
