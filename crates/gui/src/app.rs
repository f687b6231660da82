//! The window's frame: head, cautions, the open room, and the keys that work everywhere.

use crate::app_files::Files;
use crate::document::Document;
use crate::edit::{Edit, Edits};
use crate::format::{ForceUnit, LengthUnit, MassUnit};
use crate::theme::{self, Ink, Paper, size};
use crate::view_state::{Room, ViewState};
use crate::views::bench::bench_ui;
use crate::views::log::log_ui;
use crate::views::parts::parts_ui;
use crate::views::rack::rack_ui;
use crate::views::teach::{projector_ui, teach_ui};
use crate::views::weigh_in::weigh_in_ui;
use barpoise_core::{CAUTIONS, KICKBACK_CAUTION};
use egui::text::{LayoutJob, TextFormat};
use egui::{
    Align, CentralPanel, Frame, Key, KeyboardShortcut, Layout, Margin, Modifiers, Panel, RichText,
    ScrollArea, Stroke, Ui,
};

const UNDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Z);
const REDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
const REDO_TOO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Y);
const NEW: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::N);
const OPEN: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::O);
const SAVE: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::S);
const RELOAD: KeyboardShortcut = KeyboardShortcut::new(Modifiers::NONE, Key::F5);
/// A room smaller than this, in points, is scrolled rather than squeezed.
const LEAST_ROOM: egui::Vec2 = egui::vec2(800.0, 330.0);
/// The same for a room of three columns.
const LEAST_WIDE_ROOM: egui::Vec2 = egui::vec2(1020.0, 540.0);
/// A head narrower than this, in points, leaves the yard's name out.
const WIDE_HEAD: f32 = 860.0;
const STORED_VIEW: &str = "view";

/// The program in a window.
#[derive(Debug)]
pub struct App {
    pub(crate) document: Document,
    pub(crate) view: ViewState,
    pub(crate) notice: Option<Notice>,
    pub(crate) files: Files,
    edits: Edits,
    paper_set: Option<Paper>,
}

/// What stands over the room until it is closed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Notice {
    head: &'static str,
    text: String,
    ink: Ink,
}

impl Notice {
    /// Something that went wrong.
    pub(crate) const fn warning(head: &'static str, text: String) -> Self {
        Self { head, text, ink: Ink::Warn }
    }

    /// Something that went well.
    pub(crate) const fn good(head: &'static str, text: String) -> Self {
        Self { head, text, ink: Ink::Ours }
    }
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
            files: Files::default(),
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

    /// The same, to look at it another way.
    pub const fn view_mut(&mut self) -> &mut ViewState {
        &mut self.view
    }

    /// What stands in the notice over the room, if anything does.
    pub fn notice(&self) -> Option<&str> {
        self.notice.as_ref().map(|notice| notice.text.as_str())
    }

    /// One pass of the whole window: draw, then apply what was asked.
    pub fn show(&mut self, ui: &mut Ui) {
        let projects = self.view.room == Room::Teach && self.view.teach.projected;
        let paper = if projects { Paper::Projector } else { self.view.paper };
        if self.paper_set != Some(paper) {
            theme::set_paper(ui.ctx(), paper);
            self.paper_set = Some(paper);
        }
        self.view.zoom = Some(ui.ctx().zoom_factor());
        self.take_files(ui);
        self.tend_rack(ui);
        self.tend_lesson();
        self.keys(ui);
        if projects {
            projector_ui(ui, &self.document, &mut self.view);
            self.ask_first_ui(ui);
            self.title(ui);
            return;
        }
        let head =
            Frame::new().fill(self.view.paper.color(Ink::Paper)).inner_margin(Margin::symmetric(16, 8));
        let room = self.view.room;
        Panel::top("head").resizable(false).frame(head).show(ui, |ui| self.head_ui(ui));
        // The room that is left is drawn once more, so that a field which the click left takes its value.
        let next_room = std::mem::replace(&mut self.view.room, room);
        Panel::bottom("cautions")
            .resizable(false)
            .frame(head)
            .show(ui, |ui| cautions_ui(ui, self.view.paper));
        self.notice_ui(ui);
        CentralPanel::no_frame().show(ui, |ui| self.room_ui(ui));
        if next_room != room {
            self.view.room = next_room;
            ui.ctx().request_repaint();
        }
        self.ask_first_ui(ui);
        for (edit, gesture) in self.edits.take() {
            self.document.apply(edit, gesture);
            ui.ctx().request_repaint();
        }
        self.title(ui);
    }

    /// Work over the wood goes on beside the window while the rack is open.
    fn tend_rack(&mut self, ui: &Ui) {
        if self.view.room == Room::Rack {
            let ctx = ui.ctx().clone();
            self.document.tend_rack(move || ctx.request_repaint());
        }
    }

    /// Waits for all that is computed beside the window.
    pub fn wait(&mut self) {
        self.document.wait_for_rack();
    }

    /// The open room; where the window is too small for it at this zoom, it scrolls.
    fn room_ui(&mut self, ui: &mut Ui) {
        let size = ui.available_size();
        let needed = size.max(least_size(self.view.room));
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
            Room::Rack => rack_ui(ui, &self.document, &mut self.view, &mut self.edits),
            Room::WeighIn => weigh_in_ui(ui, &self.document, &mut self.view, &mut self.edits),
            Room::Parts => {
                if parts_ui(ui, &self.document, &mut self.view, &mut self.edits) {
                    self.make_new_yard(ui.ctx());
                }
            }
            Room::Teach => {
                if let Some(ask) = teach_ui(ui, &self.document, &mut self.view) {
                    self.do_teach(ui, ask);
                }
            }
        }
    }

    fn keys(&mut self, ui: &Ui) {
        if self.files.asks_first() {
            return;
        }
        let pressed = |shortcut: &KeyboardShortcut| ui.input_mut(|input| input.consume_shortcut(shortcut));
        if pressed(&REDO) || pressed(&REDO_TOO) {
            self.edits.ask(Edit::Redo);
        }
        if pressed(&UNDO) {
            self.edits.ask(Edit::Undo);
        }
        if pressed(&NEW) {
            self.begin_new_yard();
        }
        if pressed(&OPEN) {
            self.ask_to_open(ui);
        }
        if pressed(&SAVE) {
            self.save(ui);
        }
        if pressed(&RELOAD) {
            self.reload(ui.ctx());
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
                if self.document.unsaved() {
                    ui.label(RichText::new("unsaved").color(paper.color(Ink::Warn)));
                }
            });
        });
    }

    fn yard_menu_ui(&mut self, ui: &mut Ui) {
        ui.menu_button("Yard", |ui| {
            let keys = |shortcut| ui.ctx().format_shortcut(shortcut);
            let (open_keys, save_keys) = (keys(&OPEN), keys(&SAVE));
            if ui.add(egui::Button::new("New yard…").shortcut_text(keys(&NEW))).clicked() {
                self.begin_new_yard();
                ui.close();
            }
            if ui.add(egui::Button::new("Open…").shortcut_text(open_keys)).clicked() {
                self.ask_to_open(ui);
                ui.close();
            }
            let save = if self.document.path().is_some() { "Save" } else { "Save…" };
            if ui.add(egui::Button::new(save).shortcut_text(save_keys)).clicked() {
                self.save(ui);
                ui.close();
            }
            if ui.button("Save as…").clicked() {
                self.ask_to_save(ui);
                ui.close();
            }
            ui.separator();
            let has_file = self.document.path().is_some();
            let reload = egui::Button::new("Read again from disk").shortcut_text("F5");
            if ui.add_enabled(has_file, reload).clicked() {
                self.reload(ui.ctx());
                ui.close();
            }
            if ui.button("Demo yard").clicked() {
                self.open_demo(ui.ctx());
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
            Paper::Light | Paper::Print | Paper::Projector => "light",
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
            ui.separator();
            ui.checkbox(&mut self.view.less_motion, "Less motion")
                .on_hover_text("Bars that grow go on by steps, not by themselves");
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
                        RichText::new(notice.head)
                            .font(theme::strong(size::BODY))
                            .color(paper.color(notice.ink)),
                    );
                    ui.label(notice.text);
                    if ui.button("Close").clicked() {
                        self.notice = None;
                    }
                });
            });
        }
        if self.files.asks_path() {
            Panel::top("path").resizable(false).frame(strip).show(ui, |ui| self.path_field_ui(ui));
        }
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

/// The size below which a room is scrolled.
const fn least_size(room: Room) -> egui::Vec2 {
    match room {
        Room::WeighIn => LEAST_WIDE_ROOM,
        _ => LEAST_ROOM,
    }
}
