//! Everything computed of the log, once for each change of log or saw, and only when someone looks.

use super::beside::Beside;
use super::{Figures, Log};
use barpoise_core::log::{
    BiggestHeld, Cut, DEFAULT_CONTACT, Help, KickbackRatios, LogJob, Setting, Workplace, biggest_held,
    compare_kickback, help, nose, plan,
};
use barpoise_core::person::Person;
use barpoise_core::units::Length;
use barpoise_core::{Fault, Setup, Solved, cutting_bar, impact_setup};
use std::sync::Arc;

/// The log and the saw on the bench before it.
#[derive(Debug)]
pub struct LogFigures {
    job: LogJob,
    cut: Result<Cut, String>,
    help: Beside<Help>,
    biggest: Beside<BiggestHeld>,
    rows: Vec<RackRow>,
    kickback: Option<KickbackRatios>,
}

/// Another bar of the rack before the same log.
#[derive(Debug)]
pub struct RackRow {
    /// The bar's name.
    pub name: String,
    /// What it does, or why it cannot.
    pub answer: Result<RackAnswer, String>,
}

/// What a bar of the rack does with the log.
#[derive(Debug)]
pub struct RackAnswer {
    /// Settings of its plan.
    pub settings: usize,
    /// Share of the section cut.
    pub covered: f64,
    /// Farthest the nose comes out of the far side.
    pub nose_out: Length,
    /// True where it is out and out of sight.
    pub hidden: bool,
}

impl LogFigures {
    /// What there is to know of a log before a saw in this person's hands.
    ///
    /// # Errors
    /// Where a number of the log is out of its range.
    pub fn new(log: &Log, person: &Person, figures: &Figures) -> Result<Self, Fault> {
        let job = log.job(person)?;
        let own = log
            .own_settings()
            .map(|own| own.iter().map(|setting| setting.brought_within(&job)).collect::<Vec<Setting>>());
        let cut =
            Cut::new(&job, own.as_deref(), figures.setup(), figures.solved()).map_err(|fault| fault.message);
        let rows = figures
            .rack()
            .iter()
            .map(|bar| {
                // The bars of one family share their head, so what can be held as well.
                let workplace = cut.as_ref().map(|cut| &cut.workplace).map_err(Clone::clone);
                let answer = workplace.and_then(|workplace| rack_answer(&job, &bar.setup, workplace));
                RackRow { name: bar.name.clone(), answer }
            })
            .collect();
        let kickback =
            figures.compared_setup().and_then(|other| kickback(figures.setup(), figures.solved(), other));
        Ok(Self { job, cut, help: Beside::default(), biggest: Beside::default(), rows, kickback })
    }

    /// The log as it lies.
    pub const fn job(&self) -> &LogJob {
        &self.job
    }

    /// The cut, or why this bar cannot cut at all.
    ///
    /// # Errors
    /// One line for the person.
    pub fn cut(&self) -> Result<&Cut, &str> {
        self.cut.as_ref().map_err(String::as_str)
    }

    /// What would help where the plan leaves wood: worked out beside the window, once somebody asks. `None` where nothing is
    /// asked for, or not known yet.
    pub fn help(&self) -> Option<Help> {
        let cut = self.cut.as_ref().ok().filter(|cut| !cut.is_own && !cut.is_whole())?;
        let (job, bar, saw) = (self.job.clone(), cut.bar, Arc::clone(&cut.saw_body));
        let settings = cut.settings.clone();
        self.help.known(move || help(&job, &bar, &saw, &settings))
    }

    /// True while help is being worked out.
    pub fn help_is_coming(&self) -> bool {
        self.help.is_coming()
    }

    /// The biggest logs for this person: worked out beside the window, once somebody asks; `None` while it is not known.
    pub fn biggest_held(&self) -> Option<BiggestHeld> {
        let cut = self.cut.as_ref().ok()?;
        let (job, bar, saw) = (self.job.clone(), cut.bar, Arc::clone(&cut.saw_body));
        self.biggest.known(move || biggest_held(&job, &bar, &saw))
    }

    /// True once somebody has asked for them.
    pub fn biggest_is_asked(&self) -> bool {
        self.biggest.is_asked()
    }

    /// The settings that stand now.
    pub fn settings(&self) -> &[Setting] {
        self.cut.as_ref().map_or(&[], |cut| &cut.settings)
    }

    /// The rack's bars before the same log.
    pub fn rows(&self) -> &[RackRow] {
        &self.rows
    }

    /// This setup against the one it is compared with, as ratios.
    pub const fn kickback(&self) -> Option<&KickbackRatios> {
        self.kickback.as_ref()
    }
}

fn rack_answer(job: &LogJob, setup: &Setup, workplace: &Workplace) -> Result<RackAnswer, String> {
    let answer = || -> Result<RackAnswer, Fault> {
        let bar = cutting_bar(setup)?;
        let plan = plan(job, &bar, workplace);
        let (mut out_m, mut hidden) = (0.0_f64, false);
        for (index, setting) in plan.settings.iter().enumerate() {
            let earlier = plan.settings.get(..index).unwrap_or_default();
            let nose = nose(job, &bar, earlier, setting)?;
            out_m = out_m.max(nose.out_max_m);
            hidden |= nose.is_hidden();
        }
        Ok(RackAnswer {
            settings: plan.settings.len(),
            covered: plan.cover.covered_fraction,
            nose_out: Length::from_m(out_m),
            hidden,
        })
    };
    answer().map_err(|fault| fault.message)
}

fn kickback(setup: &Setup, solved: &Solved, other: &Setup) -> Option<KickbackRatios> {
    let this = impact_setup(setup, solved).ok()?;
    let other = impact_setup(other, &barpoise_core::solve(other)).ok()?;
    compare_kickback(&other, &this, DEFAULT_CONTACT).ok()
}
