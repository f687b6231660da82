//! Figures of the yard's setups as they stand there, and of logs before them: for whoever shows more than the bench.
//! Computed when first asked for, kept until the yard changes.

use super::{Document, Figures, Log, LogFigures};
use barpoise_core::person::Person;
use barpoise_core::{Fault, Yard};
use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;
use std::sync::Arc;

/// A log before a setup, and its figures or why there are none.
type LogOf = Result<Rc<LogFigures>, String>;

/// What was computed so far.
#[derive(Debug, Default)]
pub(super) struct Shown {
    yard: Option<Arc<Yard>>,
    setups: HashMap<String, Rc<Figures>>,
    logs: Vec<(String, Log, Person, LogOf)>,
}

impl Document {
    /// The figures of one of the yard's setups; `None` where there is none of that name.
    pub fn setup_figures(&self, name: &str) -> Option<Rc<Figures>> {
        let setup = self.yard.setup(name)?;
        let mut shown = self.shown_of_this_yard();
        let kept = shown.setups.entry(name.to_owned());
        Some(Rc::clone(kept.or_insert_with(|| Rc::new(Figures::of_setup(&self.yard, setup)))))
    }

    /// A log before one of the yard's setups in a person's hands; `None` where there is none of that name.
    ///
    /// # Errors
    /// Inside: one line where a number of the log is out of its range.
    pub fn log_before(&self, name: &str, log: &Log, person: &Person) -> Option<LogOf> {
        let figures = self.setup_figures(name)?;
        let mut shown = self.shown_of_this_yard();
        let known = shown
            .logs
            .iter()
            .find(|(of, before, hands, _)| of == name && before == log && hands == person)
            .map(|(.., known)| known.clone());
        Some(known.unwrap_or_else(|| {
            let found = LogFigures::new(log, person, &figures);
            let found = found.map(Rc::new).map_err(|fault: Fault| fault.message);
            shown.logs.push((name.to_owned(), log.clone(), *person, found.clone()));
            found
        }))
    }

    fn shown_of_this_yard(&self) -> std::cell::RefMut<'_, Shown> {
        let mut shown: std::cell::RefMut<'_, Shown> = RefCell::borrow_mut(&self.shown);
        if !shown.yard.as_ref().is_some_and(|yard| Arc::ptr_eq(yard, &self.yard)) {
            *shown = Shown { yard: Some(Arc::clone(&self.yard)), ..Shown::default() };
        }
        shown
    }
}
