//! Doing what a command asks, by key or from a menu.

use super::App;
use crate::desk::edit::Edit;
use crate::desk::format::{ForceUnit, LengthUnit, MassUnit, Units};
use crate::draw::theme::Paper;
use crate::window::commands::Command;
use crate::window::files::TeachFile;
use egui::gui_zoom::{zoom_in, zoom_out};
use egui::{Event, KeyboardShortcut, Ui, ViewportCommand};

impl App {
    /// Takes the keys of all commands. While something is asked over the window, none works but zoom.
    pub(super) fn keys(&mut self, ui: &Ui) {
        // Else the library's own keys, which no menu shows, would work as well.
        ui.ctx().options_mut(|options| options.zoom_with_keyboard = false);
        let asks = self.files.asks_first();
        let mut keys: Vec<_> = Command::all()
            .flat_map(|command| command.keys().into_iter().map(move |keys| (keys, command)))
            .filter(|(_, command)| !asks || command.only_looks())
            .collect();
        // What is pressed with Shift first: the same without it would take both.
        keys.sort_by_key(|(keys, _)| !keys.modifiers.shift);
        // Presses that come together are done one by one, in their order.
        let mut pressed = Vec::new();
        ui.input_mut(|input| {
            input.events.retain(|event| {
                let command = meant(event, &keys);
                pressed.extend(command);
                command.is_none()
            });
        });
        for command in pressed {
            if self.can(command) {
                self.run(command, ui);
                // What the next one can do depends on it.
                if matches!(command, Command::Undo | Command::Redo) {
                    self.apply_edits(ui);
                }
            }
        }
    }

    /// True where a command would do something.
    pub(super) fn can(&self, command: Command) -> bool {
        match command {
            Command::Undo => self.document.undo_step().is_some(),
            Command::Redo => self.document.redo_step().is_some(),
            Command::Revert => self.document.can_revert(),
            _ => true,
        }
    }

    /// Does what it asks.
    pub(super) fn run(&mut self, command: Command, ui: &Ui) {
        match command {
            Command::NewYard => self.begin_new_yard(),
            Command::Open => self.ask_to_open(ui),
            Command::Save => self.save(ui),
            Command::SaveAs => self.ask_to_save(ui),
            Command::MovingPicture => self.ask_for_teach_path(ui, TeachFile::Moving),
            Command::Revert => self.revert(),
            Command::Demo => self.open_demo(ui.ctx()),
            Command::Left => self.offer_left(),
            Command::Close => ui.ctx().send_viewport_cmd(ViewportCommand::Close),
            Command::Undo => self.edits.ask(Edit::Undo),
            Command::Redo => self.edits.ask(Edit::Redo),
            Command::Go(room) => {
                self.go_to = Some(room);
                self.into_room = u8::from(self.view.room == room);
            }
            Command::NextPane => self.to_pane = Some(true),
            Command::LastPane => self.to_pane = Some(false),
            Command::Units => self.view.units = other_units(self.view.units),
            Command::Paper => {
                self.view.paper = match self.view.paper {
                    Paper::Light => Paper::Dark,
                    Paper::Dark | Paper::Print | Paper::Projector => Paper::Light,
                }
            }
            Command::ZoomIn => zoom_in(ui.ctx()),
            Command::ZoomOut => zoom_out(ui.ctx()),
            Command::ZoomOff => ui.ctx().set_zoom_factor(1.0),
            Command::Keys => self.keys_shown = !self.keys_shown,
            Command::Sources => self.sources_shown = !self.sources_shown,
        }
        ui.ctx().request_repaint();
    }
}

/// The command that a press means: the first whose keys match.
fn meant(event: &Event, keys: &[(KeyboardShortcut, Command)]) -> Option<Command> {
    let Event::Key { key, pressed: true, modifiers, .. } = event else { return None };
    let fits = |of: &KeyboardShortcut| of.logical_key == *key && modifiers.matches_logically(of.modifiers);
    keys.iter().find(|(of, _)| fits(of)).map(|(_, command)| *command)
}

fn other_units(units: Units) -> Units {
    match units.length {
        LengthUnit::Mm => Units { length: LengthUnit::In, mass: MassUnit::Lb, force: ForceUnit::Lbf },
        LengthUnit::In => Units { length: LengthUnit::Mm, mass: MassUnit::Kg, force: ForceUnit::Kgf },
    }
}
