//! Figures of the yard's setups as they stand there, and of logs before them: for whoever shows more than the bench.
//! Computed when first asked for, kept until the yard changes.

use super::{Document, Figures, Log, LogFigures};
use barpoise_core::Yard;
use barpoise_core::log::Stand;
use barpoise_core::units::Length;
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
    logs: Vec<(String, Length, Stand, LogOf)>,
}

impl Document {
    /// The figures of one of the yard's setups; `None` where there is none of that name.
    pub fn setup_figures(&self, name: &str) -> Option<Rc<Figures>> {
        let setup = self.yard.setup(name)?;
        let mut shown = self.shown_of_this_yard();
        let kept = shown.setups.entry(name.to_owned());
        Some(Rc::clone(kept.or_insert_with(|| Rc::new(Figures::of_setup(&self.yard, setup)))))
    }

    /// A round log before one of the yard's setups; `None` where there is none of that name.
    ///
    /// # Errors
    /// Inside: one line where a number of the log is out of its range.
    pub fn log_before(&self, name: &str, diameter: Length, stand: Stand) -> Option<LogOf> {
        let figures = self.setup_figures(name)?;
        let mut shown = self.shown_of_this_yard();
        let known = shown
            .logs
            .iter()
            .find(|(of, wide, from, _)| of == name && *wide == diameter && *from == stand)
            .map(|(.., log)| log.clone());
        Some(known.unwrap_or_else(|| {
            let log = Log::round(diameter, stand)
                .and_then(|log| LogFigures::new(&log, self.yard.person(), &figures));
            let log = log.map(Rc::new).map_err(|fault| fault.message);
            shown.logs.push((name.to_owned(), diameter, stand, log.clone()));
            log
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
