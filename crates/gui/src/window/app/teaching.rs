//! What the room *Teach* asks of the window: lessons from files, and handouts, drawings and tables as files.

use super::{App, Notice};
use crate::desk::figures_table::TableForm;
use crate::desk::lesson::SheetDrawing;
use crate::desk::today::today;
use crate::draw::output::Form;
use crate::draw::pictures::Sketch;
use crate::draw::sheet::{Handout, LessonSheet};
use crate::draw::theme::Paper;
use crate::window::files::{Question, TeachFile};
use crate::window::rooms::teach::TeachAsk;
use crate::window::view_state::Room;
use barpoise_core::file::{Sort, write_whole};
use barpoise_core::{Setup, solve};
use std::path::Path;

/// A drawing's size in a file, points, and pixels of an image for each.
const DRAWING: egui::Vec2 = egui::vec2(1600.0, 1000.0);
const PIXELS: f32 = 2.0;
/// A lesson's file is looked at so often.
const LOOK_AGAIN: std::time::Duration = std::time::Duration::from_secs(1);

impl App {
    /// Has the lesson read, and its parts played, before the room is shown.
    pub(super) fn tend_lesson(&mut self, ctx: &egui::Context) {
        if self.view.room == Room::Teach && self.view.teach.path.is_some() {
            // Nobody tells the window when an editor beside it saves.
            ctx.request_repaint_after(LOOK_AGAIN);
            match self.view.teach.read_again() {
                Ok(false) => {}
                Ok(true) => self.notice = None,
                Err(error) => self.notice = Some(Notice::warning("Lesson not read again", error.to_string())),
            }
        }
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
            TeachAsk::Write => return self.view.teach.write(true),
            TeachAsk::EndWriting => return self.end_writing(),
            TeachAsk::SaveDraft => match self.view.teach.path.clone() {
                Some(path) => return self.save_lesson(&path),
                None => TeachFile::SaveLesson,
            },
            TeachAsk::OpenLesson => TeachFile::OpenLesson,
            TeachAsk::SaveLesson => TeachFile::SaveLesson,
            TeachAsk::SaveHandout => TeachFile::Handout,
            TeachAsk::SaveLessonSheet => TeachFile::LessonSheet,
            TeachAsk::SaveDrawing => TeachFile::Drawing,
            TeachAsk::SaveTable => TeachFile::Table,
            TeachAsk::SaveGuesses => TeachFile::Guesses,
            TeachAsk::SaveMoving => TeachFile::Moving,
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
            Err(error) => self.notice = Some(Notice::not_opened("Lesson not opened", path, &error)),
        }
    }

    /// Reads or writes a file at a path that was typed; where something stands there that would be written over, asks first.
    pub(super) fn take_typed_teach_path(&mut self, file: TeachFile, path: &Path, ctx: &egui::Context) {
        if file == TeachFile::OpenLesson || !path.exists() {
            return self.take_teach_path(file, path, ctx);
        }
        match another_kind(path) {
            Some(reason) => self.notice = Some(Notice::warning("Not saved", reason)),
            None => self.files.asked = Some(Question::WriteOut { file, path: path.to_owned() }),
        }
    }

    /// Reads or writes a file of the room *Teach*, and says what became of it. Whether something may be written over was
    /// asked before.
    pub(super) fn take_teach_path(&mut self, file: TeachFile, path: &Path, ctx: &egui::Context) {
        if file != TeachFile::OpenLesson
            && let Some(reason) = another_kind(path)
        {
            self.notice = Some(Notice::warning("Not saved", reason));
            return;
        }
        let bytes = match file {
            TeachFile::OpenLesson => return self.open_lesson(path),
            TeachFile::Moving => return self.make_moving(path, ctx),
            TeachFile::SaveLesson => self.lesson_bytes(),
            TeachFile::Handout => self.handout_bytes(path),
            TeachFile::LessonSheet => self.lesson_sheet_bytes(path),
            TeachFile::Drawing => self.drawing_bytes(path),
            TeachFile::Table => self.table_bytes(path),
            TeachFile::Guesses => self.guesses_bytes(path),
        };
        let shown = path.display();
        let written =
            bytes.and_then(|bytes| write_whole(path, &bytes).map_err(|error| format!("{shown}: {error}")));
        self.notice = Some(match written {
            Ok(_) if file == TeachFile::SaveLesson && self.view.teach.draft.is_some() => {
                // The copy is the lesson's file from now on.
                let step = self.view.teach.step;
                let opened = self.view.teach.open(path);
                self.view.teach.write(opened.is_ok());
                self.view.teach.step = step;
                Notice::good("Saved", shown.to_string())
            }
            Ok(_) if file == TeachFile::SaveLesson => {
                let said = format!("{shown}. Change it with any text editor, then open it here");
                Notice::good("Saved", said)
            }
            Ok(_) => Notice::good("Saved", shown.to_string()),
            Err(reason) => Notice::warning("Not saved", reason),
        });
    }

    /// Ends writing; what is in no file yet runs on in the window, and that is said.
    fn end_writing(&mut self) {
        let unsaved = self.view.teach.draft.as_ref().is_some_and(|draft| draft.is_changed());
        self.view.teach.write(false);
        if unsaved {
            let said = "what you wrote runs in this window and is in no file; the menu Lesson saves it";
            self.notice = Some(Notice::warning("Not saved", said.to_owned()));
        }
    }

    /// Writes the lesson into its own file, where that still holds what was read.
    fn save_lesson(&mut self, path: &Path) {
        let shown = path.display();
        let text = match &self.view.teach.draft {
            Some(draft) => draft.text(),
            None => return,
        };
        let written = text.and_then(|text| {
            let as_read = std::fs::read_to_string(path).ok();
            let read = self.view.teach.draft.as_ref().map(|draft| draft.read());
            if as_read.is_some() && as_read.as_deref() != read {
                return Err(format!(
                    "{shown} has been changed by another program; save a copy, or open it again"
                ));
            }
            write_whole(path, text.as_bytes()).map_err(|error| format!("{shown}: {error}"))?;
            Ok(text)
        });
        self.notice = Some(match written {
            Ok(text) => {
                if let Some(draft) = &mut self.view.teach.draft {
                    draft.saved(text);
                }
                Notice::good("Saved", shown.to_string())
            }
            Err(reason) => Notice::warning("Not saved", reason),
        });
    }

    /// The lesson as it was read, its comments with it; with what was written on it.
    fn lesson_bytes(&self) -> Result<Vec<u8>, String> {
        if let Some(draft) = &self.view.teach.draft {
            return draft.text().map(String::into_bytes);
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
            author: &sheet.author,
        };
        let made = handout.sheet().map_err(|error| error.to_string())?;
        made.written(form).map_err(|error| error.to_string())
    }

    fn lesson_sheet_bytes(&self, path: &Path) -> Result<Vec<u8>, String> {
        let form = Form::of(path)?;
        let teach = &self.view.teach;
        let lesson = teach.lesson.as_ref().ok_or("there is no lesson")?;
        let steps = teach.staged(&self.document);
        let sheet = LessonSheet {
            name: lesson.name(),
            steps: &steps,
            record: &teach.record,
            size: teach.sheet.size,
            units: self.view.units,
            date: &today(),
            author: &teach.sheet.author,
        };
        let made = sheet.sheet().map_err(|error| error.to_string())?;
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

    fn guesses_bytes(&self, path: &Path) -> Result<Vec<u8>, String> {
        match TableForm::of(path)? {
            TableForm::Csv => self.view.teach.record.csv().map(String::into_bytes),
            TableForm::Json => Err(format!("{}: guesses go out as .csv", path.display())),
        }
    }
}

/// Why a file that stands there is not written over, even where that is asked for: it, or what a link leads to, is of
/// another kind than its new name says.
fn another_kind(path: &Path) -> Option<String> {
    let there = path.canonicalize().ok()?;
    let ending = |path: &Path| path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    let shown = path.display();
    if there.is_dir() {
        return Some(format!("{shown} is a folder"));
    }
    if Sort::in_file(&there).is_ok_and(|sort| sort == Sort::Yard) {
        return Some(format!("{shown} holds a yard; choose another name"));
    }
    let same = ending(path) == ending(&there);
    (!same).then(|| format!("{shown} leads to {}, a file of another kind", there.display()))
}
