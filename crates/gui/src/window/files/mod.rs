//! What the window knows of yard files: what is asked, awaited, watched, kept safe and offered. What is done with that is
//! in `app`.

mod given;
mod recent;
mod teach_file;
mod typed_path;
mod watch;

use crate::desk::recovery::{Keeper, Left};
use barpoise_core::file::Contents;
use barpoise_core::record::YardFile;
pub(in crate::window) use given::Given;
pub(in crate::window) use recent::Recent;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::sync::mpsc::Receiver;
pub(in crate::window) use teach_file::TeachFile;
pub(in crate::window) use typed_path::typed_path;
pub(in crate::window) use watch::{OnDisk, Target, Watch};

/// What is done with the yard in the window once it is safe or given up.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::window) enum Leave {
    Open(PathBuf),
    Demo,
    New(Box<YardFile>),
    Restore(PathBuf),
    Close,
}

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::window) enum Question {
    /// Whether to save first.
    SaveFirst(Leave),
    /// Whether to write over something that was not seen.
    WriteOver {
        path: PathBuf,
        /// What stands there while it is asked.
        there: Option<Contents>,
        /// The yard's own file, changed by another program; else another file of that name.
        own: bool,
    },
    /// Whether to write a sheet, a drawing, a table or a lesson over a file that stands there.
    WriteOut { file: TeachFile, path: PathBuf },
    /// Whether to go back to the file.
    Revert,
}

/// What a path is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::window) enum Purpose {
    Open,
    SaveAs,
    Teach(TeachFile),
    /// A photograph of the head whose form is open.
    Photograph,
}

/// A moving picture that is being drawn, and where it goes.
#[derive(Debug)]
pub(in crate::window) struct Making {
    pub(in crate::window) path: PathBuf,
    pub(in crate::window) made: Receiver<Result<Vec<u8>, String>>,
}

/// The state of all that.
#[derive(Debug, Default)]
pub(in crate::window) struct Files {
    /// The program's own folder, for recent yards and work that is kept safe.
    pub(in crate::window) own: Option<PathBuf>,
    pub(in crate::window) dialog: Option<(Purpose, Receiver<Option<PathBuf>>)>,
    pub(in crate::window) field: Option<(Purpose, String)>,
    pub(in crate::window) field_opened: bool,
    pub(in crate::window) asked: Option<Question>,
    pub(in crate::window) after_save: Option<Leave>,
    pub(in crate::window) closing: bool,
    /// The system has told the program to end: nothing is asked any more, unsaved work stays kept.
    pub(in crate::window) told_to_end: Arc<AtomicBool>,
    pub(in crate::window) title: Option<String>,
    pub(in crate::window) recent: Recent,
    pub(in crate::window) watch: Option<Watch>,
    pub(in crate::window) watched: Option<Target>,
    pub(in crate::window) on_disk: OnDisk,
    /// What of the file on disk the person will not be told again.
    pub(in crate::window) put_off: OnDisk,
    pub(in crate::window) keeper: Option<Keeper>,
    /// Work that lost windows left, while it is offered.
    pub(in crate::window) left: Vec<Left>,
    pub(in crate::window) throwing_away: Option<PathBuf>,
    pub(in crate::window) making: Option<Making>,
}

impl Files {
    /// True while something is asked over the window.
    pub(in crate::window) const fn asks_first(&self) -> bool {
        self.asked.is_some() || !self.left.is_empty()
    }

    /// True while a path is asked for.
    pub(in crate::window) const fn asks_path(&self) -> bool {
        self.field.is_some()
    }
}
