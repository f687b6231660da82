//! What a step shows of the open yard.

use crate::desk::document::{Document, Figures, Log, LogFigures};
use barpoise_core::lesson::{LogShown, Step, View, Whose};
use barpoise_core::person::Person;
use barpoise_core::{Fault, cutting_bar};
use std::rc::Rc;

/// The figures behind a step, as far as the yard has its setups.
#[derive(Debug)]
pub struct Stage {
    setups: Vec<Option<Rc<Figures>>>,
    log: Option<Result<Rc<LogFigures>, String>>,
}

impl Stage {
    /// Looks a step's setups up in a yard.
    pub fn of(step: &Step, document: &Document) -> Self {
        let log = match (&step.view, step.setups.first()) {
            (View::Log(shown), Some(name)) => log_before(document, shown, name),
            _ => None,
        };
        Self { setups: step.setups.iter().map(|name| document.setup_figures(name)).collect(), log }
    }

    /// One of the step's setups; `None` where the yard lacks it.
    pub fn setup(&self, index: usize) -> Option<&Figures> {
        self.setups.get(index)?.as_deref()
    }

    /// The setup that a figure of the caption is of.
    pub fn of_whom(&self, whose: Whose) -> Option<&Figures> {
        match whose {
            Whose::Nth(index) => self.setup(index),
            Whose::Last => self.setups.last()?.as_deref(),
        }
    }

    /// The step's setups that the yard has.
    pub fn setups(&self) -> impl Iterator<Item = &Figures> {
        self.setups.iter().filter_map(Option::as_deref)
    }

    /// Their names.
    pub fn names(&self) -> Vec<String> {
        self.setups().map(|figures| figures.setup().name().to_owned()).collect()
    }

    /// The log, where the step shows one.
    ///
    /// # Errors
    /// Inside: why there are no figures of it.
    pub fn log(&self) -> Option<Result<&LogFigures, &str>> {
        self.log.as_ref().map(|log| log.as_deref().map_err(String::as_str))
    }

    /// True where the yard has everything that the step shows.
    pub fn is_whole(&self) -> bool {
        self.setups.iter().all(Option::is_some)
    }
}

/// A step's log before a setup; `None` where the yard has none of that name.
fn log_before(document: &Document, shown: &LogShown, name: &str) -> Option<Result<Rc<LogFigures>, String>> {
    let figures = document.setup_figures(name)?;
    let person = shown.person.unwrap_or(*document.yard().person());
    match log_of(shown, &figures, &person) {
        Ok(log) => document.log_before(name, &log, &person),
        Err(fault) => Some(Err(fault.message)),
    }
}

/// The log that a step shows, before this saw.
fn log_of(shown: &LogShown, figures: &Figures, person: &Person) -> Result<Log, Fault> {
    let width = shown.width.for_reach(figures.solved().reach);
    let log = Log::round(width, shown.stand)?
        .lying(shown.height(width), shown.clearance)?
        .among(shown.tangle, shown.bind)?;
    if shown.settings.is_empty() {
        return Ok(log);
    }
    let (job, bar) = (log.job(person)?, cutting_bar(figures.setup())?);
    let settings = shown.settings.iter().map(|setting| setting.on(&job, &bar)).collect();
    Ok(log.cut_by_hand(settings))
}
