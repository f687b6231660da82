//! The one owner of the yard, of what is on the bench, of the figures, and of the undo history.

mod bench;
mod beside;
mod disk;
mod figures;
mod history;
mod log;
mod log_figures;
mod parts;
mod person;
mod rack;
mod rack_work;
mod shown;
mod weigh_in;
mod wishes;

pub use bench::{BarChoice, Bench, HANG_LIMIT};
pub use disk::Work;
pub use figures::{CurvePoint, Figures, RackBar};
pub use log::Log;
pub use log_figures::{LogFigures, RackAnswer, RackRow};
pub use parts::{duplicate_name, users_words, yard_after};
pub(crate) use rack::new_wood;
pub use rack::{FIRST_LIMITS, LIMITS, Rack};
pub use rack_work::{Chosen, RackFigures};
pub use weigh_in::{LearntBar, SetupLearnt, WeighInFigures};
pub use wishes::Wishes;

use crate::desk::edit::{Edit, Gesture};
use barpoise_core::Yard;
use barpoise_core::file::{Contents, FileError};
use barpoise_core::rack::{Progress, Wood};
use barpoise_core::weigh_in::Choice;
use history::{History, Snapshot};
use rack_work::RackWork;
use shown::Shown;
use std::cell::{OnceCell, RefCell};
use std::path::PathBuf;
use std::sync::Arc;

/// A yard on the bench, with everything computed from it.
#[derive(Debug)]
pub struct Document {
    yard: Arc<Yard>,
    saved: Option<Arc<Yard>>,
    path: Option<PathBuf>,
    /// What stood in the file when it was last read or written here.
    seen: Option<Contents>,
    /// The file is no longer there.
    gone: bool,
    bench: Bench,
    figures: Figures,
    log: Log,
    log_figures: OnceCell<Option<LogFigures>>,
    choice: Choice,
    weigh_in: OnceCell<WeighInFigures>,
    rack: Rack,
    rack_work: RackWork,
    shown: RefCell<Shown>,
    history: History,
    refusal: Option<Refusal>,
}

/// Why the last edit was not taken; it stands beside the field until the next edit is.
#[derive(Clone, Debug, PartialEq)]
pub struct Refusal {
    /// The edit that was refused.
    pub edit: Edit,
    /// The reason, one line.
    pub reason: String,
}

/// Why a yard could not be put on the bench.
#[derive(Debug)]
pub enum OpenError {
    /// The file was refused.
    File(FileError),
    /// The yard has nothing that can be set up.
    NoSetup,
}

impl std::fmt::Display for OpenError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::File(error) => error.fmt(f),
            Self::NoSetup => write!(f, "the yard has no setup to put on the bench"),
        }
    }
}

impl std::error::Error for OpenError {}

impl Document {
    /// The demo yard, embedded in the program.
    ///
    /// # Errors
    /// Never in a build whose tests pass; the demo is checked like any yard.
    pub fn demo() -> Result<Self, OpenError> {
        Self::of(barpoise_core::file::demo().map_err(OpenError::File)?)
    }

    /// A new yard, which is in no file yet.
    ///
    /// # Errors
    /// Where it has no setup.
    pub fn new_yard(yard: Yard) -> Result<Self, OpenError> {
        Ok(Self { saved: None, ..Self::of(yard)? })
    }

    fn of(yard: Yard) -> Result<Self, OpenError> {
        let first = yard.setups().first().ok_or(OpenError::NoSetup)?;
        let bench = Bench::of(first.clone());
        let yard = Arc::new(yard);
        let figures = Figures::new(&yard, &bench);
        Ok(Self {
            saved: Some(Arc::clone(&yard)),
            yard,
            path: None,
            seen: None,
            gone: false,
            bench,
            figures,
            log: Log::default(),
            log_figures: OnceCell::new(),
            choice: Choice::default(),
            weigh_in: OnceCell::new(),
            rack: Rack::default(),
            rack_work: RackWork::default(),
            shown: RefCell::default(),
            history: History::default(),
            refusal: None,
        })
    }

    /// The yard.
    pub fn yard(&self) -> &Yard {
        &self.yard
    }

    /// The yard, to tell later whether it is still the same.
    pub const fn shared_yard(&self) -> &Arc<Yard> {
        &self.yard
    }

    /// What is on the bench.
    pub const fn bench(&self) -> &Bench {
        &self.bench
    }

    /// Everything computed from it.
    pub const fn figures(&self) -> &Figures {
        &self.figures
    }

    /// The log before the saw.
    pub const fn log(&self) -> &Log {
        &self.log
    }

    /// Everything computed of the log; computed when first asked for after a change.
    pub fn log_figures(&self) -> Option<&LogFigures> {
        // The log is checked by every edit, so there is always a job.
        self.log_figures
            .get_or_init(|| LogFigures::new(&self.log, self.yard.person(), &self.figures).ok())
            .as_ref()
    }

    /// Which numbers the readings may change.
    pub const fn choice(&self) -> &Choice {
        &self.choice
    }

    /// What the readings teach; computed when first asked for after a change.
    pub fn weigh_in(&self) -> &WeighInFigures {
        self.weigh_in.get_or_init(|| WeighInFigures::new(&self.yard, &self.choice))
    }

    /// What is wanted of a setup for the wood ahead.
    pub const fn rack(&self) -> &Rack {
        &self.rack
    }

    /// The wood that the setups are put through; `None` in a yard without one.
    pub fn rack_wood(&self) -> Option<&Wood> {
        let woods = self.yard.woods();
        let named = self.rack.wood().and_then(|name| woods.iter().find(|wood| wood.name() == name));
        named.or_else(|| woods.first())
    }

    /// The setups over the wood as they were last computed; `None` before they first are.
    pub const fn rack_figures(&self) -> Option<&RackFigures> {
        self.rack_work.figures()
    }

    /// How far the setups over the wood are computed; `None` where nothing is under way.
    pub const fn rack_progress(&self) -> Option<Progress> {
        self.rack_work.progress()
    }

    /// Which of the setups goes on and why.
    pub fn chosen(&self) -> Option<&Chosen> {
        self.rack_work.chosen(&self.rack)
    }

    /// Takes in what was computed of the setups over the wood beside the window, and has it begun anew where wood or
    /// yard changed. `wake` is called from there whenever something has arrived.
    pub fn tend_rack(&mut self, wake: impl Fn() + Send + 'static) {
        let wood = self.rack_wood().cloned();
        self.rack_work.tend(&self.yard, wood, &self.rack, wake);
    }

    /// The same, and waits until all of it is there.
    pub fn wait_for_rack(&mut self) {
        self.tend_rack(|| ());
        self.rack_work.wait();
    }

    /// Why the last edit was refused, if it was.
    pub const fn refusal(&self) -> Option<&Refusal> {
        self.refusal.as_ref()
    }

    /// The name of the step that undo would take back.
    pub fn undo_step(&self) -> Option<&'static str> {
        self.history.undo_step()
    }

    /// The name of the step that redo would bring again.
    pub fn redo_step(&self) -> Option<&'static str> {
        self.history.redo_step()
    }

    /// Applies an edit. A refused edit changes nothing but [`Document::refusal`].
    pub fn apply(&mut self, edit: Edit, gesture: Gesture) {
        match &edit {
            Edit::Undo => {
                if let Some(snapshot) = self.history.undo(self.snapshot()) {
                    self.restore(snapshot);
                }
            }
            Edit::Redo => {
                if let Some(snapshot) = self.history.redo(self.snapshot()) {
                    self.restore(snapshot);
                }
            }
            Edit::Log(change) => {
                let figures = self.log_figures();
                let shown = figures.map_or(&[][..], LogFigures::settings);
                let bar = figures.and_then(|figures| figures.cut().ok()).map(|cut| &cut.bar);
                match self.log.changed(change, self.yard.person(), shown, bar) {
                    Ok(log) if log == self.log => self.refusal = None,
                    Ok(log) => {
                        self.history.record(self.snapshot(), edit.step_name(), gesture);
                        self.log = log;
                        self.log_figures = OnceCell::new();
                        self.refusal = None;
                    }
                    Err(reason) => self.refusal = Some(Refusal { edit, reason }),
                }
            }
            Edit::WeighIn(change) => {
                match weigh_in::changed(&self.yard, &self.choice, self.weigh_in(), change) {
                    Ok((yard, choice)) => {
                        let bench = self.bench.rebased(&yard);
                        self.take_yard(yard, choice, bench, edit.step_name(), gesture);
                    }
                    Err(reason) => self.refusal = Some(Refusal { edit, reason }),
                }
            }
            Edit::Parts(change) => match parts::yard_after(&self.yard, change) {
                Ok(yard) if yard.file() == self.yard.file() => self.refusal = None,
                Ok(yard) => {
                    let changes = parts::changes_of(change);
                    let bench = self.bench.rebased_after(&self.yard, &yard, changes);
                    let choice = parts::renamed_choice(&self.choice, changes);
                    let rack = self.rack.renamed(changes);
                    self.take_yard(Arc::new(yard), choice, bench, edit.step_name(), gesture);
                    self.take_wishes(rack);
                }
                Err(faults) => {
                    let reason = faults.into_iter().next().map_or_else(String::new, |fault| fault.message);
                    self.refusal = Some(Refusal { edit, reason });
                }
            },
            Edit::Person(person) => match person::yard_with(&self.yard, person.as_ref()) {
                Ok(None) => self.refusal = None,
                Ok(Some(yard)) => {
                    let bench = self.bench.rebased(&yard);
                    self.take_yard(Arc::new(yard), self.choice.clone(), bench, edit.step_name(), gesture);
                }
                Err(reason) => self.refusal = Some(Refusal { edit, reason }),
            },
            Edit::Rack(change) => match self.rack.changed(&self.yard, self.rack_wood(), change) {
                Ok((yard, rack)) => self.take_rack(yard, rack, &edit, gesture),
                Err(reason) => self.refusal = Some(Refusal { edit, reason }),
            },
            _ => match self.bench.changed(&edit, &self.yard, self.figures.family()) {
                Ok(bench) if bench == self.bench => self.refusal = None,
                Ok(bench) => {
                    self.history.record(self.snapshot(), edit.step_name(), gesture);
                    self.figures.update(&self.yard, &self.bench, &bench);
                    self.bench = bench;
                    self.log_figures = OnceCell::new();
                    self.refusal = None;
                }
                Err(reason) => self.refusal = Some(Refusal { edit, reason }),
            },
        }
    }

    /// Goes on with another yard or choice, and with the bench rebased on it.
    fn take_yard(
        &mut self,
        yard: Arc<Yard>,
        choice: Choice,
        bench: Option<Bench>,
        step: &'static str,
        gesture: Gesture,
    ) {
        self.refusal = None;
        let same_yard = Arc::ptr_eq(&yard, &self.yard);
        if same_yard && choice == self.choice {
            return;
        }
        let Some(bench) = bench else { return };
        self.history.record(self.snapshot(), step, gesture);
        if !same_yard {
            self.figures = Figures::new(&yard, &bench);
            self.bench = bench;
            self.yard = yard;
            self.log_figures = OnceCell::new();
        }
        self.choice = choice;
        self.weigh_in = OnceCell::new();
    }

    /// Goes on with other woods or wishes. Nothing on the bench depends on them.
    fn take_rack(&mut self, yard: Arc<Yard>, rack: Rack, edit: &Edit, gesture: Gesture) {
        self.refusal = None;
        let same_yard = Arc::ptr_eq(&yard, &self.yard);
        if same_yard && rack == self.rack {
            return;
        }
        self.history.record(self.snapshot(), edit.step_name(), gesture);
        if !same_yard {
            self.yard = yard;
            self.weigh_in = OnceCell::new();
        }
        self.take_wishes(rack);
    }

    fn take_wishes(&mut self, rack: Rack) {
        if rack.preferences() != self.rack.preferences() || rack.thresholds() != self.rack.thresholds() {
            self.rack_work.choose_again(rack.thresholds());
        }
        self.rack = rack;
    }

    fn snapshot(&self) -> Snapshot {
        Snapshot {
            bench: self.bench.clone(),
            log: self.log.clone(),
            yard: Arc::clone(&self.yard),
            choice: self.choice.clone(),
            rack: self.rack.clone(),
        }
    }

    fn restore(&mut self, snapshot: Snapshot) {
        if Arc::ptr_eq(&self.yard, &snapshot.yard) {
            self.figures.update(&self.yard, &self.bench, &snapshot.bench);
        } else {
            self.figures = Figures::new(&snapshot.yard, &snapshot.bench);
            self.yard = snapshot.yard;
            self.weigh_in = OnceCell::new();
        }
        if self.choice != snapshot.choice {
            self.choice = snapshot.choice;
            self.weigh_in = OnceCell::new();
        }
        self.take_wishes(snapshot.rack);
        self.bench = snapshot.bench;
        self.log = snapshot.log;
        self.log_figures = OnceCell::new();
        self.refusal = None;
    }
}
