//! Everything computed of the log, once for each change of log or saw, and only when someone looks.

use super::{Figures, Log};
use barpoise_core::log::{
    Carry, Cover, CuttingBar, CuttingSaw, DEFAULT_CONTACT, DangerContact, KickbackRatios, LogJob, LogSection,
    Nose, Outline, PhaseTimes, Posture, Setting, Shortfall, Stand, SwingStart, biggest_log, carry,
    compare_kickback, cover, danger_contacts, new_cuts, nose, plan, posture, shortest_reach, swing_start,
};
use barpoise_core::units::{Area, Length};
use barpoise_core::{Fault, Setup, Solved, cutting_bar, cutting_saw, impact_setup};

/// The log and the saw on the bench before it.
#[derive(Debug)]
pub struct LogFigures {
    job: LogJob,
    cut: Result<Cut, String>,
    rows: Vec<RackRow>,
    kickback: Option<KickbackRatios>,
}

/// How the saw on the bench takes the log apart.
#[derive(Debug)]
pub struct Cut {
    /// The bar past the spikes.
    pub bar: CuttingBar,
    /// The saw in the wood.
    pub saw: CuttingSaw,
    /// The settings in the order to work them.
    pub settings: Vec<Setting>,
    /// What they cut and leave.
    pub cover: Cover,
    /// What would do it where the plan cannot.
    pub shortfall: Option<Shortfall>,
    /// One for each setting.
    pub steps: Vec<Step>,
    /// Who carries the saw.
    pub carry: Carry,
    /// Time in the cut at full power, s.
    pub cutting_s: f64,
    /// Biggest log from one side.
    pub biggest_one_side: Option<Length>,
    /// Biggest log from both sides.
    pub biggest_both_sides: Option<Length>,
    /// Shortest reach that cuts this log from the bark within reach.
    pub shortest_reach: Option<Length>,
}

/// One setting's nose and danger.
#[derive(Debug)]
pub struct Step {
    /// Where the nose is.
    pub nose: Nose,
    /// Where the upper quadrant touches something.
    pub contacts: Vec<DangerContact>,
    /// How the swing starts.
    pub start: SwingStart,
    /// What it asks of the person.
    pub posture: Posture,
    /// The wood that no setting before took.
    pub cuts: Vec<Outline>,
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
    /// What there is to know of a log before a saw.
    ///
    /// # Errors
    /// Where a number of the log is out of its range.
    pub fn new(log: &Log, figures: &Figures) -> Result<Self, Fault> {
        let job = log.job()?;
        let own = log.own_settings().filter(|own| own.iter().all(|setting| setting.check(&job).is_ok()));
        let cut = Cut::new(&job, own, figures.setup(), figures.solved()).map_err(|fault| fault.message);
        let rows = figures
            .rack()
            .iter()
            .map(|bar| RackRow { name: bar.name.clone(), answer: rack_answer(&job, &bar.setup) })
            .collect();
        let kickback =
            figures.compared_setup().and_then(|other| kickback(figures.setup(), figures.solved(), other));
        Ok(Self { job, cut, rows, kickback })
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

impl Cut {
    /// Takes a log apart: by these settings, or by the plan where there are none.
    ///
    /// # Errors
    /// A bar that is too short past the spikes to cut with, or a setting that is none for this job.
    pub fn new(job: &LogJob, own: Option<&[Setting]>, setup: &Setup, solved: &Solved) -> Result<Self, Fault> {
        let bar = cutting_bar(setup)?;
        let saw = cutting_saw(setup, solved)?;
        let (settings, cover, shortfall) = match own {
            Some(own) => (own.to_vec(), cover(job, &bar, own)?, None),
            None => {
                let plan = plan(job, &bar);
                (plan.settings, plan.cover, plan.shortfall)
            }
        };
        let cuts = new_cuts(job, &bar, &settings)?;
        let head = setup.powerhead();
        let handle_behind = head.spike_line() - Length::from_m(head.rear_grip().x);
        let mut steps = Vec::with_capacity(settings.len());
        for (index, (setting, cuts)) in settings.iter().zip(cuts).enumerate() {
            let earlier = settings.get(..index).unwrap_or_default();
            steps.push(Step {
                nose: nose(job, &bar, earlier, setting)?,
                contacts: danger_contacts(job, &bar, earlier, setting)?,
                start: swing_start(job, &bar, earlier, setting)?,
                posture: posture(job, &bar, setting, handle_behind)?,
                cuts,
            });
        }
        let cut_m2 = job.section().area().as_m2() - cover.left_area_m2;
        let biggest = |stand| {
            // Of round logs, at the height and with the bark that go with the stand.
            let section = LogSection::round(job.section().width(), job.section().clearance()).ok()?;
            let other = LogJob::new(section, stand).with_swing(job.swing());
            biggest_log(&other, &bar)
        };
        Ok(Self {
            carry: carry(job, &bar, &saw, &settings, &PhaseTimes::default())?,
            cutting_s: saw.time_s(Area::from_m2(cut_m2)),
            biggest_one_side: biggest(Stand::OneSide),
            biggest_both_sides: biggest(Stand::BothSides),
            shortest_reach: shortest_reach(job, &bar),
            bar,
            saw,
            settings,
            cover,
            shortfall,
            steps,
        })
    }
}

fn rack_answer(job: &LogJob, setup: &Setup) -> Result<RackAnswer, String> {
    let answer = || -> Result<RackAnswer, Fault> {
        let bar = cutting_bar(setup)?;
        let plan = plan(job, &bar);
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
