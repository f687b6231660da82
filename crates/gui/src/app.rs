//! The window's frame: head, cautions, the open room, and the keys that work everywhere.

use crate::document::Document;
use crate::edit::{Edit, Edits};
use crate::format::{ForceUnit, LengthUnit, MassUnit};
use crate::theme::{self, Ink, Paper, size};
use crate::view_state::{Room, ViewState};
use crate::views::bench::bench_ui;
use crate::views::log::log_ui;
use barpoise_core::{CAUTIONS, KICKBACK_CAUTION};
use egui::text::{LayoutJob, TextFormat};
use egui::{
    Align, CentralPanel, Frame, Key, KeyboardShortcut, Layout, Margin, Modifiers, Panel, RichText,
    ScrollArea, Stroke, Ui,
};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};

const UNDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Z);
const REDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
const REDO_TOO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Y);
const OPEN: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::O);
const RELOAD: KeyboardShortcut = KeyboardShortcut::new(Modifiers::NONE, Key::F5);
/// A room smaller than this, in points, is scrolled rather than squeezed.
const LEAST_ROOM: egui::Vec2 = egui::vec2(800.0, 330.0);
/// A head narrower than this, in points, leaves the yard's name out.
const WIDE_HEAD: f32 = 760.0;
const STORED_VIEW: &str = "view";

/// The program in a window.
#[derive(Debug)]
pub struct App {
    document: Document,
    view: ViewState,
    edits: Edits,
    notice: Option<String>,
    dialog: Option<Receiver<Option<PathBuf>>>,
    path_field: Option<String>,
    path_field_opened: bool,
    paper_set: Option<Paper>,
}

impl App {
    /// An app on a document, with the default view.
    pub fn new(document: Document) -> Self {
        Self::with_view(document, ViewState::default())
    }

    /// An app on a document, seen in a given way.
    pub fn with_view(document: Document, view: ViewState) -> Self {
        Self {
            document,
            view,
            edits: Edits::default(),
            notice: None,
            dialog: None,
            path_field: None,
            path_field_opened: false,
            paper_set: None,
        }
    }

    /// The app of the real window: fonts installed, the view as it was left.
    pub fn start(creation: &eframe::CreationContext<'_>, document: Document) -> Self {
        theme::install(&creation.egui_ctx);
        let view: ViewState =
            creation.storage.and_then(|storage| eframe::get_value(storage, STORED_VIEW)).unwrap_or_default();
        if let Some(zoom) = view.zoom {
            creation.egui_ctx.set_zoom_factor(zoom);
        }
        Self::with_view(document, view)
    }

    /// The document on show.
    pub const fn document(&self) -> &Document {
        &self.document
    }

    /// How it is seen.
    pub const fn view(&self) -> &ViewState {
        &self.view
    }

    /// What stands in the notice over the room, if anything does.
    pub fn notice(&self) -> Option<&str> {
        self.notice.as_deref()
    }

    /// Opens a yard; one that is refused leaves the last good yard on the bench and says why.
    pub fn open(&mut self, path: &Path) {
        match Document::open(path) {
            Ok(document) => {
                self.document = document;
                self.notice = None;
            }
            Err(error) => self.notice = Some(error.to_string()),
        }
    }

    /// One pass of the whole window: draw, then apply what was asked.
    pub fn show(&mut self, ui: &mut Ui) {
        if self.paper_set != Some(self.view.paper) {
            theme::set_paper(ui.ctx(), self.view.paper);
            self.paper_set = Some(self.view.paper);
        }
        self.view.zoom = Some(ui.ctx().zoom_factor());
        self.take_files(ui);
        self.keys(ui);
        let head =
            Frame::new().fill(self.view.paper.color(Ink::Paper)).inner_margin(Margin::symmetric(16, 8));
        Panel::top("head").resizable(false).frame(head).show(ui, |ui| self.head_ui(ui));
        Panel::bottom("cautions")
            .resizable(false)
            .frame(head)
            .show(ui, |ui| cautions_ui(ui, self.view.paper));
        self.notice_ui(ui);
        CentralPanel::no_frame().show(ui, |ui| self.room_ui(ui));
        for (edit, gesture) in self.edits.take() {
            self.document.apply(edit, gesture);
            ui.ctx().request_repaint();
        }
    }

    /// The open room; where the window is too small for it at this zoom, it scrolls.
    fn room_ui(&mut self, ui: &mut Ui) {
        let size = ui.available_size();
        let needed = size.max(LEAST_ROOM);
        if needed == size {
            self.open_room_ui(ui);
            return;
        }
        ui.painter().rect_filled(ui.max_rect(), 0.0, self.view.paper.color(Ink::Paper));
        ScrollArea::both().auto_shrink(false).show(ui, |ui| {
            let (rect, _) = ui.allocate_exact_size(needed, egui::Sense::hover());
            let mut room = ui.new_child(egui::UiBuilder::new().max_rect(rect));
            self.open_room_ui(&mut room);
        });
    }

    fn open_room_ui(&mut self, ui: &mut Ui) {
        match self.view.room {
            Room::Bench => bench_ui(ui, &self.document, &mut self.view, &mut self.edits),
            Room::Log => log_ui(ui, &self.document, &mut self.view, &mut self.edits),
        }
    }

    fn take_files(&mut self, ui: &Ui) {
        let dropped = ui.input(|input| input.raw.dropped_files.first().map(|file| file.path().to_owned()));
        let chosen = self.dialog.as_ref().and_then(|dialog| dialog.try_recv().ok());
        if chosen.is_some() {
            self.dialog = None;
        }
        if let Some(path) = dropped.or(chosen.flatten()) {
            self.open(&path);
        }
    }

    fn keys(&mut self, ui: &Ui) {
        let pressed = |shortcut: &KeyboardShortcut| ui.input_mut(|input| input.consume_shortcut(shortcut));
        if pressed(&REDO) || pressed(&REDO_TOO) {
            self.edits.ask(Edit::Redo);
        }
        if pressed(&UNDO) {
            self.edits.ask(Edit::Undo);
        }
        if pressed(&OPEN) {
            self.ask_for_file(ui);
        }
        if pressed(&RELOAD) {
            self.reload();
        }
    }

    fn reload(&mut self) {
        if let Some(path) = self.document.path().map(Path::to_owned) {
            self.open(&path);
        }
    }

    /// The system's dialog on a thread of its own, with a path field beside it where there is none.
    fn ask_for_file(&mut self, ui: &Ui) {
        self.path_field.get_or_insert_default();
        self.path_field_opened = true;
        if self.dialog.is_some() {
            return;
        }
        let (send, receive) = channel();
        let ctx = ui.ctx().clone();
        let work = move || {
            let chosen = rfd::FileDialog::new().add_filter("Yard", &["ron"]).pick_file();
            // The window may be closed by now; then nobody waits for the answer.
            let _ = send.send(chosen);
            ctx.request_repaint();
        };
        match std::thread::Builder::new().name("open dialog".to_owned()).spawn(work) {
            Ok(_) => self.dialog = Some(receive),
            Err(error) => self.notice = Some(format!("no file dialog: {error}; type the path instead")),
        }
    }

    fn head_ui(&mut self, ui: &mut Ui) {
        let paper = self.view.paper;
        ui.horizontal(|ui| {
            ui.label(RichText::new("Barpoise").font(theme::strong(size::TITLE)));
            if ui.available_width() > WIDE_HEAD {
                ui.label(RichText::new(self.document.yard().name()).color(paper.color(Ink::Soft)))
                    .on_hover_text(self.document.yard().note());
            }
            ui.add_space(24.0);
            for room in Room::ALL {
                room_ui(ui, &mut self.view, room);
            }
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                self.view_menu_ui(ui);
                self.edit_ui(ui);
                self.yard_menu_ui(ui);
            });
        });
    }

    fn yard_menu_ui(&mut self, ui: &mut Ui) {
        ui.menu_button("Yard", |ui| {
            if ui.add(egui::Button::new("Open…").shortcut_text(ui.ctx().format_shortcut(&OPEN))).clicked() {
                self.ask_for_file(ui);
                ui.close();
            }
            let has_file = self.document.path().is_some();
            let reload = egui::Button::new("Read again from disk").shortcut_text("F5");
            if ui.add_enabled(has_file, reload).clicked() {
                self.reload();
                ui.close();
            }
            if ui.button("Demo yard").clicked() {
                match Document::demo() {
                    Ok(document) => self.document = document,
                    Err(error) => self.notice = Some(error.to_string()),
                }
                ui.close();
            }
        });
    }

    fn edit_ui(&mut self, ui: &mut Ui) {
        for (name, step, edit, shortcut) in [
            ("Redo", self.document.redo_step(), Edit::Redo, &REDO),
            ("Undo", self.document.undo_step(), Edit::Undo, &UNDO),
        ] {
            let button = ui.add_enabled(step.is_some(), egui::Button::new(name));
            let hint = format!("{name} {} ({})", step.unwrap_or(""), ui.ctx().format_shortcut(shortcut));
            if button.on_hover_text(hint).clicked() {
                self.edits.ask(edit);
            }
        }
    }

    fn view_menu_ui(&mut self, ui: &mut Ui) {
        const ZOOMS: [f32; 6] = [0.8, 1.0, 1.25, 1.5, 2.0, 2.5];
        let zoom = ui.ctx().zoom_factor();
        let units = &mut self.view.units;
        let paper = match self.view.paper {
            Paper::Light => "light",
            Paper::Dark => "dark",
        };
        let title = format!(
            "{} · {} · {}   {paper}   {:.0} %",
            units.length_unit(),
            units.mass_unit(),
            units.force_unit(),
            zoom * 100.0
        );
        ui.menu_button(title, |ui| {
            ui.label("Lengths");
            ui.radio_value(&mut units.length, LengthUnit::Mm, "millimetres");
            ui.radio_value(&mut units.length, LengthUnit::In, "inches");
            ui.separator();
            ui.label("Weights");
            ui.radio_value(&mut units.mass, MassUnit::Kg, "kilograms");
            ui.radio_value(&mut units.mass, MassUnit::Lb, "pounds");
            ui.separator();
            ui.label("Hand loads");
            ui.radio_value(&mut units.force, ForceUnit::N, "newtons");
            ui.radio_value(&mut units.force, ForceUnit::Kgf, "kilograms force");
            ui.radio_value(&mut units.force, ForceUnit::Lbf, "pounds force");
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
        })
        .response
        .on_hover_text("Units, paper, zoom");
    }

    fn notice_ui(&mut self, ui: &mut Ui) {
        let paper = self.view.paper;
        let strip = Frame::new().fill(paper.color(Ink::Sheet)).inner_margin(Margin::symmetric(16, 6));
        if let Some(notice) = self.notice.clone() {
            Panel::top("notice").resizable(false).frame(strip).show(ui, |ui| {
                ui.horizontal_wrapped(|ui| {
                    ui.label(
                        RichText::new("Not opened")
                            .font(theme::strong(size::BODY))
                            .color(paper.color(Ink::Warn)),
                    );
                    ui.label(notice);
                    if ui.button("Close").clicked() {
                        self.notice = None;
                    }
                });
            });
        }
        if self.path_field.is_some() {
            Panel::top("path").resizable(false).frame(strip).show(ui, |ui| self.path_field_ui(ui));
        }
    }

    fn path_field_ui(&mut self, ui: &mut Ui) {
        let Some(mut text) = self.path_field.take() else {
            return;
        };
        let mut keep = true;
        ui.horizontal(|ui| {
            let label = ui.label("Path of a yard file");
            let field =
                ui.add(egui::TextEdit::singleline(&mut text).desired_width(420.0)).labelled_by(label.id);
            let entered = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
            if (ui.button("Open").clicked() || entered) && !text.trim().is_empty() {
                self.open(Path::new(text.trim()));
                keep = false;
            }
            if ui.button("Cancel").clicked() {
                keep = false;
            }
        });
        self.path_field = keep.then_some(text);
    }
}

fn room_ui(ui: &mut Ui, view: &mut ViewState, room: Room) {
    let on = view.room == room;
    let ink = if on { Ink::Line } else { Ink::Soft };
    let font = if on { theme::strong(size::STRONG) } else { theme::body() };
    let text = RichText::new(room.name()).font(font).color(view.paper.color(ink));
    let tab = ui.add(egui::Button::new(text).frame(false).selected(on));
    if on {
        let rect = tab.rect;
        ui.painter().hline(
            rect.x_range(),
            rect.bottom() + 2.0,
            Stroke::new(3.0, view.paper.color(Ink::Ours)),
        );
    }
    if tab.clicked() {
        view.room = room;
    }
}

/// The cautions, always in sight.
fn cautions_ui(ui: &mut Ui, paper: Paper) {
    let mut job = LayoutJob::default();
    let lead = TextFormat::simple(theme::strong(size::BODY), paper.color(Ink::Danger));
    job.append(KICKBACK_CAUTION, 0.0, lead);
    for caution in CAUTIONS {
        job.append(" ", 0.0, TextFormat::simple(theme::body(), paper.color(Ink::Line)));
        job.append(caution, 0.0, TextFormat::simple(theme::body(), paper.color(Ink::Line)));
    }
    ui.add(egui::Label::new(job).wrap());
}

impl eframe::App for App {
    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.show(ui);
    }

    fn save(&mut self, storage: &mut dyn eframe::Storage) {
        eframe::set_value(storage, STORED_VIEW, &self.view);
    }
}
