//! The menu of recent yards.

use super::App;
use crate::draw::theme::Ink;
use crate::window::files::Leave;
use egui::{Button, RichText, Ui};
use std::path::{Path, PathBuf};

impl App {
    /// The yards that were open last; those that are gone are marked and can be taken off the list.
    pub(super) fn recent_menu_ui(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        let pass = ctx.cumulative_pass_nr();
        self.files.recent.look(pass, move || ctx.request_repaint());
        let list: Vec<PathBuf> = self.files.recent.list().to_vec();
        if list.is_empty() {
            ui.add_enabled(false, Button::new("None yet"));
            return;
        }
        let soft = self.view.paper.color(Ink::Soft);
        for path in &list {
            let (name, folder) =
                (file_name(path), path.parent().unwrap_or(Path::new("")).display().to_string());
            if self.files.recent.is_gone(path) {
                ui.horizontal(|ui| {
                    let gone = Button::new(RichText::new(format!("{name} (gone)")).color(soft));
                    ui.add_enabled(false, gone.right_text(RichText::new(&folder).color(soft)));
                    let take_off = ui.button("Take off the list").on_hover_text(path.display().to_string());
                    if take_off.clicked() {
                        self.files.recent.remove(path);
                    }
                });
                continue;
            }
            let button = Button::new(&name).right_text(RichText::new(&folder).color(soft));
            if ui.add(button).on_hover_text(path.display().to_string()).clicked() {
                self.leave(Leave::Open(path.clone()), ui.ctx());
                ui.close();
            }
        }
        ui.separator();
        if ui.button("Empty the list").clicked() {
            self.files.recent.clear();
            ui.close();
        }
    }
}

fn file_name(path: &Path) -> String {
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}
