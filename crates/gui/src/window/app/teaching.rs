//! What the room *Teach* asks of the window: lessons from files, and handouts, drawings and tables as files.

use super::{App, Notice};
use crate::desk::figures_table::TableForm;
use crate::desk::lesson::SheetDrawing;
use crate::desk::today::today;
use crate::draw::output::Form;
use crate::draw::pictures::Sketch;
use crate::draw::sheet::Handout;
use crate::draw::theme::Paper;
use crate::window::files::TeachFile;
use crate::window::rooms::teach::TeachAsk;
use crate::window::view_state::Room;
use barpoise_core::file::write_whole;
use barpoise_core::{Setup, solve};
use std::path::Path;

/// A drawing's size in a file, points, and pixels of an image for each.
const DRAWING: egui::Vec2 = egui::vec2(1600.0, 1000.0);
const PIXELS: f32 = 2.0;

impl App {
    /// Has the lesson read, and its parts played, before the room is shown.
    pub(super) fn tend_lesson(&mut self) {
        if self.view.room == Room::Teach
            && let Err(error) = self.view.teach.prepare()
        {
            let said = format!("{error}. The built-in lesson is shown instead");
            self.notice = Some(Notice::warning("Lesson not opened", said));
        }
        if self.view.room == Room::Teach {
            self.view.teach.play(&self.document);
        }
    }

    /// Does what the room asked, or asks for a path first.
    pub(super) fn do_teach(&mut self, ui: &egui::Ui, ask: TeachAsk) {
        let file = match ask {
            TeachAsk::BuiltIn => {
                if let Err(error) = self.view.teach.open_built_in() {
                    self.notice = Some(Notice::warning("Lesson not opened", error.to_string()));
                }
                return;
            }
            TeachAsk::OpenLesson => TeachFile::OpenLesson,
            TeachAsk::SaveLesson => TeachFile::SaveLesson,
            TeachAsk::SaveHandout => TeachFile::Handout,
            TeachAsk::SaveDrawing => TeachFile::Drawing,
            TeachAsk::SaveTable => TeachFile::Table,
        };
        self.ask_for_teach_path(ui, file);
    }

    /// Goes on with a lesson; one that is refused leaves the last good one and says why.
    pub fn open_lesson(&mut self, path: &Path) {
        match self.view.teach.open(path) {
            Ok(()) => {
                self.view.room = Room::Teach;
                self.notice = None;
            }
            Err(error) => self.notice = Some(Notice::warning("Lesson not opened", error.to_string())),
        }
    }

    /// Reads or writes a file of the room *Teach*, and says what became of it.
    pub(super) fn take_teach_path(&mut self, file: TeachFile, path: &Path) {
        let bytes = match file {
            TeachFile::OpenLesson => return self.open_lesson(path),
            TeachFile::SaveLesson => self.lesson_bytes(path),
            TeachFile::Handout => self.handout_bytes(path),
            TeachFile::Drawing => self.drawing_bytes(path),
            TeachFile::Table => self.table_bytes(path),
        };
        let shown = path.display();
        let written =
            bytes.and_then(|bytes| write_whole(path, &bytes).map_err(|error| format!("{shown}: {error}")));
        self.notice = Some(match written {
            Ok(_) if file == TeachFile::SaveLesson => {
                let said = format!("{shown}. Change it with any text editor, then open it here");
                Notice::good("Saved", said)
            }
            Ok(_) => Notice::good("Saved", shown.to_string()),
            Err(reason) => Notice::warning("Not saved", reason),
        });
    }

    /// The lesson as it was read, its comments with it. Nothing that stands there is written over.
    fn lesson_bytes(&self, path: &Path) -> Result<Vec<u8>, String> {
        if path.exists() {
            return Err(format!(
                "{}: there is a file of this name; a copy needs one of its own",
                path.display()
            ));
        }
        let lesson = self.view.teach.lesson.as_ref().ok_or("there is no lesson to save")?;
        Ok(lesson.text().as_bytes().to_vec())
    }

    fn sheet_setups(&self) -> Vec<&Setup> {
        let left_out = &self.view.teach.sheet.left_out;
        self.document.yard().setups().iter().filter(|setup| !left_out.contains(setup.name())).collect()
    }

    fn handout_bytes(&self, path: &Path) -> Result<Vec<u8>, String> {
        let form = Form::of(path)?;
        let sheet = &self.view.teach.sheet;
        let handout = Handout {
            yard: self.document.yard(),
            setups: self.sheet_setups(),
            log: sheet.with_log.then(|| self.document.log()),
            size: sheet.size,
            units: self.view.units,
            date: &today(),
        };
        let made = handout.sheet().map_err(|error| error.to_string())?;
        made.written(form).map_err(|error| error.to_string())
    }

    fn drawing_bytes(&self, path: &Path) -> Result<Vec<u8>, String> {
        let form = Form::of(path)?;
        let (yard, units) = (self.document.yard(), self.view.units);
        let setup = self.document.figures().setup();
        let setups = self.sheet_setups();
        let sketch = match self.view.teach.sheet.drawing {
            SheetDrawing::Bench => Sketch::bench(yard, setup, units),
            SheetDrawing::Log => {
                Sketch::log(yard, setup, self.document.log(), units).map_err(|fault| fault.message)?
            }
            SheetDrawing::Rack if setups.is_empty() => return Err("no setup is ticked".to_owned()),
            SheetDrawing::Rack => Sketch::rack(&setups, units),
        };
        // A page is for paper, an image for a screen.
        let paper = if form == Form::Pdf { Paper::Print } else { self.view.paper };
        sketch.drawn(DRAWING, paper).written(form, PIXELS).map_err(|error| error.to_string())
    }

    fn table_bytes(&self, path: &Path) -> Result<Vec<u8>, String> {
        let form = TableForm::of(path)?;
        let yard = self.document.yard();
        let solved: Vec<_> = yard.setups().iter().map(solve).collect();
        form.text(&solved, yard.person()).map(String::into_bytes)
    }
}
