//! What the readings teach, computed once for each change and only when someone looks.

use super::figures::{CurvePoint, RackBar, curve, rack};
use crate::desk::edit::WeighInEdit;
use barpoise_core::record::YARD_VERSION;
use barpoise_core::units::Length;
use barpoise_core::weigh_in::{
    Bands, CannotFit, Choice, DRAW_SEED, DRAWS, DrawCheck, Fit, Knowledge, NextReading, Unknown, applied,
    draw, fit, has_news, links_counted, newest_weigh_in, next_readings, put_back, readable,
};
use barpoise_core::{BarFamily, Setup, Solved, Yard};
use std::cell::OnceCell;
use std::sync::Arc;

/// Points on each curve of this room.
const CURVE_POINTS: u32 = 60;
/// Readings that are proposed.
const PROPOSED: usize = 3;
/// Any valid day: figures of a yard do not depend on it.
const ANY_DAY: &str = "2000-01-01";
/// What the yard's readings teach.
#[derive(Debug)]
pub struct WeighInFigures {
    fit: Result<Fit, CannotFit>,
    refusal: Option<String>,
    readable: Vec<Unknown>,
    before: Arc<Yard>,
    after: Arc<Yard>,
    has_news: bool,
    in_force: Option<String>,
    setups: Vec<OnceCell<SetupLearnt>>,
}

/// What they teach of one setup's family of bars.
#[derive(Debug)]
pub struct SetupLearnt {
    /// The curves without any reading.
    pub before: Vec<CurvePoint>,
    /// The curves with them, and their bands.
    pub after: Vec<CurvePoint>,
    /// The rack's bars with them.
    pub rack: Vec<LearntBar>,
    /// What to read next, best first.
    pub next: Vec<NextReading>,
    knowledge: Knowledge,
    check: OnceCell<DrawCheck>,
}

/// A bar of the rack with what the readings teach.
#[derive(Debug)]
pub struct LearntBar {
    /// The bar on its head.
    pub bar: RackBar,
    /// How sure its figures are.
    pub bands: Bands,
}

impl WeighInFigures {
    pub(super) fn new(yard: &Arc<Yard>, choice: &Choice) -> Self {
        let fit = fit(yard, choice);
        let (after, refusal) = match fit.as_ref().map(|fit| applied(yard, fit, ANY_DAY)) {
            Ok(Ok(after)) => (Arc::new(after), None),
            Ok(Err(faults)) => (Arc::clone(yard), Some(first_of(faults))),
            Err(_) => (Arc::clone(yard), None),
        };
        Self {
            has_news: fit.is_ok() && refusal.is_none() && has_news(yard, &after),
            readable: readable(yard),
            before: unweighed(yard),
            setups: after.setups().iter().map(|_| OnceCell::new()).collect(),
            in_force: newest_weigh_in(yard).map(|weigh_in| weigh_in.date.clone()),
            fit,
            refusal,
            after,
        }
    }

    /// The fit.
    ///
    /// # Errors
    /// Why there is none.
    pub const fn fit(&self) -> Result<&Fit, &CannotFit> {
        self.fit.as_ref()
    }

    /// Why the fitted numbers make no yard, where they do not.
    pub fn refusal(&self) -> Option<&str> {
        self.refusal.as_deref()
    }

    /// The numbers that the readings notice.
    pub fn readable(&self) -> &[Unknown] {
        &self.readable
    }

    /// The yard as it would be without any reading.
    pub fn before(&self) -> &Yard {
        &self.before
    }

    /// The yard with what the readings teach.
    pub fn after(&self) -> &Yard {
        &self.after
    }

    /// True where applying would change the yard.
    pub const fn has_news(&self) -> bool {
        self.has_news
    }

    /// The day of the weigh-in that is in force.
    pub fn in_force(&self) -> Option<&str> {
        self.in_force.as_deref()
    }

    /// What the readings teach of a setup, computed when first asked for.
    pub fn of_setup(&self, name: &str) -> Option<&SetupLearnt> {
        let place = self.after.setups().iter().position(|setup| setup.name() == name)?;
        let setup = self.after.setups().get(place)?;
        let cell = self.setups.get(place)?;
        Some(cell.get_or_init(|| SetupLearnt::new(&self.before, &self.after, setup)))
    }
}

impl SetupLearnt {
    fn new(before: &Yard, after: &Yard, setup: &Setup) -> Self {
        let family = BarFamily::new(setup, after.bars());
        let rack = rack(setup, &family);
        let knowledge = Knowledge::of(after, rack.iter().map(|bar| &bar.setup));
        let before = before
            .setup(setup.name())
            .map_or_else(Vec::new, |setup| curve(&BarFamily::new(setup, before.bars()), CURVE_POINTS, None));
        Self {
            before,
            after: curve(&family, CURVE_POINTS, Some(&knowledge)),
            next: next_readings(after, setup.powerhead().name(), PROPOSED),
            rack: rack.into_iter().map(|bar| LearntBar { bands: knowledge.bands(&bar.setup), bar }).collect(),
            knowledge,
            check: OnceCell::new(),
        }
    }

    /// The bar of this name on its head, and its figures.
    pub fn bar(&self, name: &str) -> Option<(Length, &Solved)> {
        let found = self.rack.iter().find(|learnt| learnt.bar.name == name)?;
        Some((found.bar.overall, &found.bar.solved))
    }

    /// The bands against draws; some hundredths of a second when first asked for.
    pub fn check(&self) -> DrawCheck {
        *self.check.get_or_init(|| {
            let setups: Vec<&Setup> = self.rack.iter().map(|learnt| &learnt.bar.setup).collect();
            let drawn = draw(&self.knowledge, &setups, DRAWS, DRAW_SEED);
            DrawCheck::of(self.rack.iter().map(|learnt| &learnt.bands).zip(&drawn))
        })
    }
}

/// The yard with every weigh-in put back.
fn unweighed(yard: &Arc<Yard>) -> Arc<Yard> {
    let mut before = Arc::clone(yard);
    // Each pass puts one weigh-in back, so there are no more passes than weigh-ins.
    while let Ok(Some(earlier)) = put_back(&before) {
        before = Arc::new(earlier);
    }
    before
}

/// The yard and the choice after an edit.
pub(super) fn changed(
    yard: &Arc<Yard>,
    choice: &Choice,
    figures: &WeighInFigures,
    edit: &WeighInEdit,
) -> Result<(Arc<Yard>, Choice), String> {
    let gone = || "there is no such reading".to_owned();
    let mut file = yard.file().clone();
    let next = match edit {
        WeighInEdit::Learn(choice) => return Ok((Arc::clone(yard), choice.clone())),
        WeighInEdit::Apply { date } => {
            let fit = figures.fit().map_err(ToString::to_string)?;
            applied(yard, fit, date)
        }
        WeighInEdit::PutBack => {
            put_back(yard).and_then(|found| found.map_or_else(|| Yard::new(yard.file().clone()), Ok))
        }
        WeighInEdit::CountLinks { bar, links } => links_counted(yard, bar, *links),
        WeighInEdit::AddReading(reading) => {
            file.readings.push(reading.clone());
            file.version = YARD_VERSION;
            Yard::new(file)
        }
        WeighInEdit::ChangeReading(index, reading) => {
            *file.readings.get_mut(*index).ok_or_else(gone)? = reading.clone();
            Yard::new(file)
        }
        WeighInEdit::RemoveReading(index) => {
            if *index >= file.readings.len() {
                return Err(gone());
            }
            file.readings.remove(*index);
            Yard::new(file)
        }
        WeighInEdit::LeaveOut(index, left_out) => {
            file.readings.get_mut(*index).ok_or_else(gone)?.left_out = *left_out;
            Yard::new(file)
        }
    };
    let next = next.map_err(first_of)?;
    let next = if next.file() == yard.file() { Arc::clone(yard) } else { Arc::new(next) };
    Ok((next, choice.clone()))
}

fn first_of(faults: Vec<barpoise_core::Fault>) -> String {
    faults.into_iter().next().map_or_else(String::new, |fault| fault.message)
}
