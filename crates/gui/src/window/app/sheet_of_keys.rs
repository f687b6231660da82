//! The sheet of keys: every command, and the keys that belong to the drawings.

use super::App;
use crate::draw::theme::{self, Ink, size};
use crate::window::commands::{Command, Menu};
use egui::{Frame, Grid, Id, Key, Margin, Modal, Modifiers, RichText, ScrollArea, Ui, Vec2};

/// Share of the window that the sheet takes at most.
const MOST_OF_WINDOW: f32 = 0.9;
/// Height of the sheet's head with the frame about it, in points.
const HEAD: f32 = 80.0;
/// Width of what keys do, so that the keys of all groups stand in one line, in points.
const NAME_WIDTH: f32 = 240.0;
/// Narrower than this, in points, the columns stand under each other.
const WIDE: f32 = 1120.0;

/// The keys of whatever has the focus, and of the pointer.
const IN_DRAWINGS: [(&str, &str); 16] = [
    ("Go on to the next thing, and back", "Tab, Shift+Tab"),
    ("Press what has the focus", "Enter or Space"),
    ("Move a handle one step", "Arrow keys"),
    ("Move it ten steps", "Shift+arrow keys"),
    ("Nose to the next rack bar; level or limit to its end", "Page Up, Page Down"),
    ("Drag the nose past rack bars without snapping", "Alt while dragging"),
    ("Run the cut or stop it (Log)", "Space"),
    ("Cut forward and back (Log)", "Arrow keys"),
    ("Next step, or hold a growing bar (Teach)", "Space"),
    ("Run the cut, grow the bar, or hold it (Teach)", "R"),
    ("Step forward and back (Teach)", "Arrow keys, Page Up, Page Down"),
    ("Hide or show the figures (Teach)", "F"),
    ("Project the step, and leave (Teach)", "P, Escape"),
    ("Take a diameter out of the wood (Rack)", "Delete"),
    ("Put a typed value in", "Enter or Tab"),
    ("Give it up, close a menu or a question", "Escape"),
];

impl App {
    /// The sheet, over the window while it is asked for.
    pub(super) fn keys_ui(&mut self, ui: &Ui) {
        if !self.keys_shown {
            return;
        }
        let closed = sheet_ui(ui, "Keys", |ui, room| {
            if room.x < WIDE {
                self.commands_ui(ui);
                self.drawings_ui(ui);
            } else {
                ui.horizontal_top(|ui| {
                    ui.vertical(|ui| self.commands_ui(ui));
                    ui.add_space(24.0);
                    ui.vertical(|ui| self.drawings_ui(ui));
                });
            }
        });
        if closed {
            self.keys_shown = false;
        }
    }

    fn commands_ui(&self, ui: &mut Ui) {
        for menu in Menu::ALL {
            self.heading_ui(ui, menu.name());
            let commands = Command::all().filter(|command| command.menu() == menu);
            self.rows_ui(
                ui,
                menu.name(),
                commands
                    .map(|command| {
                        let keys: Vec<String> =
                            command.keys().iter().map(|keys| ui.ctx().format_shortcut(keys)).collect();
                        (command.name(), keys.join(" or "))
                    })
                    .collect(),
            );
        }
    }

    fn drawings_ui(&self, ui: &mut Ui) {
        self.heading_ui(ui, "In forms and drawings");
        let rows = IN_DRAWINGS.map(|(what, keys)| (what, keys.to_owned()));
        self.rows_ui(ui, "drawings", rows.to_vec());
    }

    fn heading_ui(&self, ui: &mut Ui, text: &str) {
        ui.add_space(6.0);
        let ink = self.view.paper.color(Ink::Ours);
        ui.label(RichText::new(text).font(theme::strong(size::STRONG)).color(ink));
    }

    fn rows_ui(&self, ui: &mut Ui, salt: &str, rows: Vec<(&str, String)>) {
        Grid::new(("keys", salt))
            .num_columns(2)
            .min_col_width(NAME_WIDTH)
            .spacing(Vec2::new(18.0, 2.0))
            .min_row_height(0.0)
            .show(ui, |ui| {
                for (what, keys) in rows {
                    ui.label(what);
                    ui.label(RichText::new(keys).color(self.view.paper.color(Ink::Soft)));
                    ui.end_row();
                }
            });
    }
}

/// A sheet over the window with its title, scrolled where it is larger than that; true where it is to be closed.
pub(super) fn sheet_ui(ui: &Ui, title: &str, contents: impl FnOnce(&mut Ui, Vec2)) -> bool {
    let room = ui.ctx().content_rect().size() * MOST_OF_WINDOW;
    let frame = Frame::window(ui.style()).inner_margin(Margin::same(18));
    let modal = Modal::new(Id::unique(("sheet", title))).frame(frame).show(ui.ctx(), |ui| {
        ui.set_max_size(room);
        ui.horizontal(|ui| {
            ui.label(RichText::new(title).font(theme::strong(size::TITLE)));
            if ui.button("Close").clicked() {
                ui.close();
            }
        });
        ScrollArea::both().max_width(room.x).max_height(room.y - HEAD).show(ui, |ui| {
            scroll_by_keys(ui);
            contents(ui, room);
        });
    });
    modal.should_close()
}

/// There is nothing on the sheet for Tab to go to: the arrows and the page keys scroll it.
fn scroll_by_keys(ui: &Ui) {
    const LINE: f32 = 40.0;
    const PAGE: f32 = 320.0;
    for (key, by) in
        [(Key::ArrowDown, -LINE), (Key::ArrowUp, LINE), (Key::PageDown, -PAGE), (Key::PageUp, PAGE)]
    {
        if ui.input_mut(|input| input.consume_key(Modifiers::NONE, key)) {
            ui.scroll_with_delta(Vec2::new(0.0, by));
        }
    }
}
