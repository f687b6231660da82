//! The menus of the window's head.

use super::App;
use crate::desk::format::{ForceUnit, LengthUnit, MassUnit};
use crate::draw::theme::Paper;
use crate::window::commands::{Command, Menu};
use crate::window::widgets::scrolled;
use egui::containers::menu::{MenuConfig, SubMenuButton};
use egui::{Button, PopupCloseBehavior, ScrollArea, Ui};

const ZOOMS: [f32; 6] = [0.8, 1.0, 1.25, 1.5, 2.0, 2.5];

impl App {
    /// All of them, in reading order, and undo and redo at hand where there is room for them.
    pub(super) fn menus_ui(&mut self, ui: &mut Ui, is_wide: bool) {
        for menu in Menu::ALL {
            let title = match menu {
                Menu::View => self.view_title(ui),
                _ => menu.name().to_owned(),
            };
            let shown = ui.menu_button(title, |ui| whole_in_window(ui, |ui| self.menu_ui(ui, menu)));
            let response = shown.response;
            if menu == Menu::Edit && is_wide {
                self.steps_ui(ui);
            }
            if menu == Menu::View {
                response.on_hover_text("Rooms, units, paper, zoom, keys");
            }
        }
    }

    fn steps_ui(&mut self, ui: &mut Ui) {
        for command in [Command::Undo, Command::Redo] {
            let button = ui.add_enabled(self.can(command), Button::new(command.name()));
            let keys = command.keys().first().map(|keys| ui.ctx().format_shortcut(keys)).unwrap_or_default();
            if button.on_hover_text(format!("{} ({keys})", self.name_now(command))).clicked() {
                self.run(command, ui);
            }
        }
    }

    fn menu_ui(&mut self, ui: &mut Ui, menu: Menu) {
        if menu == Menu::View {
            ui.menu_button("Units, paper and zoom", |ui| whole_in_window(ui, |ui| self.looks_ui(ui)));
            ui.separator();
        }
        for command in Command::all().filter(|command| command.menu() == menu) {
            if matches!(command, Command::Revert | Command::Close | Command::Units | Command::Keys) {
                ui.separator();
            }
            self.command_ui(ui, command);
            if command == Command::Open {
                // It stays open while names are taken off the list.
                let stays = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
                SubMenuButton::new("Recent yards").config(stays).ui(ui, |ui| self.recent_menu_ui(ui));
            }
        }
    }

    fn command_ui(&mut self, ui: &mut Ui, command: Command) {
        let name = self.name_now(command);
        let mut button = Button::new(name);
        if let Some(keys) = command.keys().first() {
            button = button.shortcut_text(ui.ctx().format_shortcut(keys));
        }
        if let Command::Go(room) = command {
            button = button.selected(self.view.room == room);
        }
        if ui.add_enabled(self.can(command), button).clicked() {
            self.run(command, ui);
            ui.close();
        }
    }

    /// The command's name with what it would do now.
    fn name_now(&self, command: Command) -> String {
        let step = |name: &str, step: Option<&str>| match step {
            Some(step) => format!("{name} {step}"),
            None => name.to_owned(),
        };
        match command {
            Command::Undo => step(command.name(), self.document.undo_step()),
            Command::Redo => step(command.name(), self.document.redo_step()),
            Command::Save if self.document.path().is_none() => "Save…".to_owned(),
            Command::Revert if self.document.unsaved() => "Revert to the file…".to_owned(),
            _ => command.name().to_owned(),
        }
    }

    fn view_title(&self, ui: &Ui) -> String {
        let units = &self.view.units;
        let paper = match self.view.paper {
            Paper::Light | Paper::Print | Paper::Projector => "light",
            Paper::Dark => "dark",
        };
        let zoom = ui.ctx().zoom_factor() * 100.0;
        let (length, mass, force) = (units.length_unit(), units.mass_unit(), units.force_unit());
        let loads = if force == mass { String::new() } else { format!(" · {force}") };
        format!("{length} · {mass}{loads}   {paper}   {zoom:.0} %")
    }

    fn looks_ui(&mut self, ui: &mut Ui) {
        let zoom = ui.ctx().zoom_factor();
        let units = &mut self.view.units;
        ui.label("Lengths");
        ui.radio_value(&mut units.length, LengthUnit::Mm, "millimetres");
        ui.radio_value(&mut units.length, LengthUnit::In, "inches");
        ui.separator();
        ui.label("Weights");
        ui.radio_value(&mut units.mass, MassUnit::Kg, "kilograms");
        ui.radio_value(&mut units.mass, MassUnit::Lb, "pounds");
        ui.separator();
        ui.label("Hand loads");
        ui.radio_value(&mut units.force, ForceUnit::N, "loads in newtons");
        ui.radio_value(&mut units.force, ForceUnit::Kgf, "loads in kilograms");
        ui.radio_value(&mut units.force, ForceUnit::Lbf, "loads in pounds");
        ui.separator();
        ui.label("Paper");
        ui.radio_value(&mut self.view.paper, Paper::Light, "light");
        ui.radio_value(&mut self.view.paper, Paper::Dark, "dark");
        ui.separator();
        ui.label("Zoom");
        for step in ZOOMS {
            if ui.radio((zoom - step).abs() < 0.01, format!("{:.0} %", step * 100.0)).clicked() {
                ui.ctx().set_zoom_factor(step);
            }
        }
        ui.separator();
        ui.checkbox(&mut self.view.less_motion, "Less motion")
            .on_hover_text("Bars that grow go on by steps, not by themselves");
    }
}

/// A menu that is higher than what the window has for it scrolls.
fn whole_in_window(ui: &mut Ui, contents: impl FnOnce(&mut Ui)) {
    /// Frame and shadow of a menu, and the row that it hangs from, in points.
    const AROUND: f32 = 56.0;
    let high = ui.ctx().content_rect().height() - AROUND;
    scrolled(ScrollArea::vertical().max_height(high), ui, contents);
}
