//! The window's frame: head, cautions, the open room, and the keys that work everywhere.

mod asking;
mod asking_path;
mod cautions;
mod disk;
mod leaving;
mod making;
mod menus;
mod recent_menu;
mod recovering;
mod run;
mod saving;
mod sheet_of_keys;
mod sheet_of_sources;
mod taking;
mod teaching;

use crate::desk::document::Document;
use crate::desk::edit::Edits;
use crate::desk::words::excerpt::{Line, excerpt};
use crate::draw::theme::{self, Ink, Paper, size};
use crate::window::files::Files;
use crate::window::rooms::bench::bench_ui;
use crate::window::rooms::log::log_ui;
use crate::window::rooms::parts::{PartsAsk, parts_ui};
use crate::window::rooms::rack::rack_ui;
use crate::window::rooms::teach::{projector_ui, teach_ui};
use crate::window::rooms::weigh_in::weigh_in_ui;
use crate::window::view_state::{Room, ViewState};
use crate::window::widgets::{
    at_right, go_to_main_pane, go_to_pane, long_label, middle_label, pane, scrolled,
};
use barpoise_core::file::{Contents, FileError};
use egui::accesskit::Live;
use egui::text::{LayoutJob, TextFormat};
use egui::{
    CentralPanel, Frame, Id, Margin, Panel, RichText, Role, ScrollArea, Stroke, StrokeKind, Ui, WidgetInfo,
};
use std::path::{Path, PathBuf};

/// A room of a drawing and a column that is smaller than this, in points, is scrolled both ways.
const LEAST_STACKED_ROOM: egui::Vec2 = egui::vec2(400.0, 120.0);
/// A room smaller than this, in points, is scrolled rather than squeezed.
const LEAST_ROOM: egui::Vec2 = egui::vec2(800.0, 330.0);
/// The same for a room of three columns.
const LEAST_WIDE_ROOM: egui::Vec2 = egui::vec2(1020.0, 540.0);
/// A head narrower than this, in points, leaves the yard's name out.
const WIDE_HEAD: f32 = 860.0;
/// The yard's name takes no more than this of it.
const WIDEST_NAME: f32 = 170.0;
/// A head narrower than this, in points, has the rooms in a row of their own.
const NARROW_HEAD: f32 = 620.0;
/// And one narrower than this leaves the program's name to the window's title.
const NARROWEST_HEAD: f32 = 430.0;
/// A room that is opened has found the sizes of its panes after so many passes.
const SETTLED: u8 = 2;
/// What is told over the room takes no more than this share of the window's height; the rest of it scrolls.
const NOTICE_SHARE: f32 = 0.3;
const STORED_VIEW: &str = "view";
/// How often that is written where it has changed.
const KEPT_EVERY: std::time::Duration = std::time::Duration::from_millis(2000);
/// The name under which the system keeps the program's own folder.
pub(super) const OWN_FOLDER: &str = "barpoise";

/// The program in a window.
#[derive(Debug)]
pub struct App {
    document: Document,
    view: ViewState,
    notice: Option<Notice>,
    files: Files,
    edits: Edits,
    /// The room to go to once this pass is drawn.
    go_to: Option<Room>,
    /// The keyboard goes into the room once it has been drawn so many times more.
    into_room: u8,
    /// The keyboard goes to the next pane, or back to the one before.
    to_pane: Option<bool>,
    /// The sheet of keys is open.
    keys_shown: bool,
    /// The sheet of where the numbers come from is open.
    sources_shown: bool,
    /// Something was changed in this pass.
    changed: bool,
    paper_set: Option<Paper>,
}

/// What stands over the room until it is closed.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Notice {
    head: &'static str,
    text: String,
    ink: Ink,
    /// Saving elsewhere would help.
    save_as_helps: bool,
    /// The file that it is about, where reading it again may go better.
    again: Option<Again>,
}

/// A file that was refused.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Again {
    path: PathBuf,
    /// What stood in it; `None` where that cannot be told.
    seen: Option<Contents>,
    /// Its lines round the faults.
    around: Vec<Line>,
}

impl Notice {
    /// Something that went wrong.
    const fn warning(head: &'static str, text: String) -> Self {
        Self { head, text, ink: Ink::Warn, save_as_helps: false, again: None }
    }

    /// A file that was not opened: its faults with the lines round them, and reading it again once they are mended.
    fn not_opened(head: &'static str, path: &Path, error: &FileError) -> Self {
        let seen = Contents::in_file(path).ok().flatten();
        let text = seen.and_then(|_| std::fs::read_to_string(path).ok()).unwrap_or_default();
        let around = excerpt(&text, error.faults());
        let again = Again { path: path.to_owned(), seen, around };
        Self { again: Some(again), ..Self::warning(head, error.to_string()) }
    }

    /// Something that went well.
    const fn good(head: &'static str, text: String) -> Self {
        Self { head, text, ink: Ink::Ours, save_as_helps: false, again: None }
    }

    /// The yard was not saved where it should be; elsewhere it may be.
    const fn not_saved(text: String) -> Self {
        Self { head: "Not saved", text, ink: Ink::Warn, save_as_helps: true, again: None }
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
            go_to: None,
            into_room: 0,
            to_pane: None,
            keys_shown: false,
            sources_shown: false,
            changed: false,
            paper_set: None,
        }
    }

    /// The app of the real window: fonts installed, the view as it was left.
    pub fn start(creation: &eframe::CreationContext<'_>, document: Document) -> Self {
        theme::install(&creation.egui_ctx);
        let stored = creation.storage.and_then(|storage| eframe::get_value(storage, STORED_VIEW));
        let view: ViewState =
            stored.unwrap_or_else(|| ViewState { hints_shown: true, ..ViewState::default() });
        if let Some(zoom) = view.zoom {
            creation.egui_ctx.set_zoom_factor(zoom);
        }
        let mut document = document;
        if let Some(wishes) = &view.wishes {
            document.take_up(wishes);
        }
        let mut app = Self::with_view(document, view);
        if let Some(own) = eframe::storage_dir(OWN_FOLDER) {
            app.keep_in(&own, &creation.egui_ctx);
        }
        app
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
        // A lit wall is white; who works in the dark keeps it.
        let light = self.view.paper != Paper::Dark;
        let paper = if projects && light { Paper::Projector } else { self.view.paper };
        if self.paper_set != Some(paper) {
            theme::set_paper(ui.ctx(), paper);
            self.paper_set = Some(paper);
        }
        self.view.zoom = Some(ui.ctx().zoom_factor());
        self.take_files(ui);
        self.watch_disk(ui);
        self.tend_rack(ui);
        self.tend_lesson(ui.ctx());
        self.tend_making();
        self.keys(ui);
        if projects {
            projector_ui(ui, &self.document, &mut self.view);
            self.ask_first_ui(ui);
            self.title(ui);
            return;
        }
        let strip = |high| {
            Frame::new().fill(self.view.paper.color(Ink::Paper)).inner_margin(Margin::symmetric(16, high))
        };
        let (head, foot) = (strip(8), strip(cautions::MARGIN));
        let room = self.view.room;
        Panel::top("head").resizable(false).frame(head).show(ui, |ui| {
            pane(ui);
            self.head_ui(ui);
        });
        // The room that is left is drawn once more, so that a field which the click left takes its value.
        let next_room = std::mem::replace(&mut self.view.room, room);
        let by_key = self.go_to.is_some();
        let next_room = self.go_to.take().unwrap_or(next_room);
        Panel::bottom("cautions").resizable(false).frame(foot).show(ui, |ui| {
            pane(ui);
            cautions::cautions_ui(ui, &mut self.view);
        });
        self.notice_ui(ui);
        CentralPanel::no_frame().show(ui, |ui| self.room_ui(ui));
        if self.into_room > 0 {
            self.into_room -= 1;
            if self.into_room == 0 {
                go_to_main_pane(ui.ctx());
            }
            ui.ctx().request_repaint();
        }
        if let Some(forward) = self.to_pane.take() {
            go_to_pane(ui.ctx(), forward);
        }
        if next_room != room {
            self.view.room = next_room;
            self.into_room = if by_key { SETTLED } else { 0 };
            ui.ctx().request_repaint();
        }
        self.ask_first_ui(ui);
        self.left_ui(ui);
        self.keys_ui(ui);
        self.sources_ui(ui);
        self.drop_ui(ui);
        self.apply_edits(ui);
        self.keep_safe();
        self.title(ui);
    }

    /// Applies what was asked.
    fn apply_edits(&mut self, ui: &Ui) {
        for (edit, gesture) in self.edits.take() {
            self.document.apply(edit, gesture);
            ui.ctx().request_repaint();
            self.changed = true;
        }
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
        scrolled(ScrollArea::both().auto_shrink(false), ui, |ui| {
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
            Room::Parts => match parts_ui(ui, &self.document, &mut self.view, &mut self.edits) {
                Some(PartsAsk::NewYard) => self.make_new_yard(ui.ctx()),
                Some(PartsAsk::Photograph) => self.ask_for_photograph(ui),
                Some(PartsAsk::Kept(path)) => self.open_photograph(&path, ui.ctx()),
                None => {}
            },
            Room::Teach => {
                if let Some(ask) = teach_ui(ui, &self.document, &mut self.view) {
                    self.do_teach(ui, ask);
                }
            }
        }
    }

    fn head_ui(&mut self, ui: &mut Ui) {
        let paper = self.view.paper;
        let row = ui.horizontal(|ui| {
            if ui.available_width() > NARROWEST_HEAD {
                ui.label(RichText::new("Barpoise").font(theme::strong(size::TITLE)));
            }
            let is_wide = ui.available_width() > WIDE_HEAD;
            if is_wide {
                let (name, soft) = (self.document.yard().name(), paper.color(Ink::Soft));
                middle_label(ui, name, &theme::body(), soft, WIDEST_NAME)
                    .on_hover_text(self.document.yard().note());
            }
            let is_low = ui.available_width() < NARROW_HEAD;
            if !is_low {
                ui.add_space(24.0);
                self.rooms_ui(ui);
            }
            at_right(ui, Id::unique("right of head"), |ui| {
                if self.document.unsaved() {
                    ui.label(RichText::new("unsaved").color(paper.color(Ink::Warn)));
                }
                self.menus_ui(ui, is_wide);
            });
            is_low
        });
        if row.inner {
            ui.horizontal(|ui| self.rooms_ui(ui));
        }
    }

    fn rooms_ui(&mut self, ui: &mut Ui) {
        for room in Room::ALL {
            room_ui(ui, &mut self.view, room);
        }
    }

    fn notice_ui(&mut self, ui: &mut Ui) {
        let paper = self.view.paper;
        let strip = Frame::new().fill(paper.color(Ink::Sheet)).inner_margin(Margin::symmetric(16, 6));
        if let Some(notice) = self.notice.clone() {
            Panel::top("notice").resizable(false).frame(strip).show(ui, |ui| {
                // What can be done stands first, so that it is in reach however much there is to tell.
                ui.horizontal_wrapped(|ui| {
                    ui.label(
                        RichText::new(notice.head)
                            .font(theme::strong(size::BODY))
                            .color(paper.color(notice.ink)),
                    );
                    if let Some(again) = &notice.again {
                        let hint = "It is read again by itself when another program changes it";
                        if ui.button("Read it again").on_hover_text(hint).clicked() {
                            self.open_given(&again.path, ui.ctx());
                        }
                        if ui.button("Open another…").clicked() {
                            self.ask_to_open(ui);
                        }
                    }
                    if notice.save_as_helps && ui.button("Save as…").clicked() {
                        self.ask_to_save(ui);
                    }
                    if ui.button("Close").clicked() {
                        self.notice = None;
                    }
                });
                let high = NOTICE_SHARE * ui.ctx().content_rect().height();
                scrolled(ScrollArea::vertical().max_height(high).min_scrolled_height(high), ui, |ui| {
                    let told = long_label(ui, &notice.text);
                    ui.ctx().accesskit_node_builder(told.id, |node| {
                        node.set_role(Role::Status);
                        node.set_live(Live::Polite);
                        node.set_label(notice.text.as_str());
                    });
                    notice.again.iter().for_each(|again| around_ui(ui, paper, &again.around));
                });
            });
        }
        if self.tells_of_disk() {
            Panel::top("disk").resizable(false).frame(strip).show(ui, |ui| self.disk_ui(ui));
        }
        if self.files.asks_path() {
            Panel::top("path").resizable(false).frame(strip).show(ui, |ui| self.path_field_ui(ui));
        }
    }
}

/// The lines of a file round its faults, each with its number.
fn around_ui(ui: &mut Ui, paper: Paper, lines: &[Line]) {
    let mut last = None;
    for line in lines {
        if last.is_some_and(|last| line.number > last + 1) {
            ui.add_space(4.0);
        }
        last = Some(line.number);
        let mut job = LayoutJob::default();
        let mut say = |text: &str, ink, font| {
            job.append(text, 0.0, TextFormat::simple(font, paper.color(ink)));
        };
        say(&format!("{}   ", line.number), Ink::Soft, theme::body());
        say(&line.before, Ink::Line, theme::body());
        say(&line.faulty, Ink::Danger, theme::strong(size::BODY));
        say(&line.after, Ink::Line, theme::body());
        ui.add(egui::Label::new(job).extend());
    }
}

fn room_ui(ui: &mut Ui, view: &mut ViewState, room: Room) {
    let on = view.room == room;
    let ink = if on { Ink::Line } else { Ink::Soft };
    let font = if on { theme::strong(size::STRONG) } else { theme::body() };
    let text = RichText::new(room.name()).font(font).color(view.paper.color(ink));
    let tab = ui.add(egui::Button::new(text).frame(false).selected(on));
    tab.widget_info(|| WidgetInfo::selected(Role::Tab, true, on, room.name()));
    if on {
        let rect = tab.rect;
        ui.painter().hline(
            rect.x_range(),
            rect.bottom() + 2.0,
            Stroke::new(3.0, view.paper.color(Ink::Ours)),
        );
    }
    if tab.has_focus() {
        let stroke = Stroke::new(2.0, view.paper.color(Ink::Line));
        ui.painter().rect_stroke(tab.rect, 4.0, stroke, StrokeKind::Outside);
    }
    if tab.clicked() {
        view.room = room;
    }
}

impl eframe::App for App {
    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.show(ui);
        if std::mem::take(&mut self.changed) {
            // So that it is kept even where nothing is touched any more.
            ui.ctx().request_repaint_after(KEPT_EVERY);
        }
    }

    fn save(&mut self, storage: &mut dyn eframe::Storage) {
        self.view.wishes = Some(self.document.wishes());
        eframe::set_value(storage, STORED_VIEW, &self.view);
    }

    fn auto_save_interval(&self) -> std::time::Duration {
        KEPT_EVERY
    }

    fn on_exit(&mut self, _gl: Option<&eframe::glow::Context>) {
        self.end();
    }
}

/// The size below which a room is scrolled.
const fn least_size(room: Room) -> egui::Vec2 {
    match room {
        Room::Bench | Room::Log => LEAST_STACKED_ROOM,
        Room::WeighIn => LEAST_WIDE_ROOM,
        _ => LEAST_ROOM,
    }
}
