//! A setup before a log: the plan or the person's own settings, and everything there is to know of each.

use super::at_work::{cutting_bar, cutting_saw};
use super::bar::CuttingBar;
use super::biggest::{biggest_log, shortest_reach};
use super::biggest_held::{BiggestHeld, biggest_held};
use super::carry::{Carry, PhaseTimes, carry};
use super::cover::{Cover, cover, new_cuts};
use super::danger::{DangerContact, SwingStart, danger_contacts, swing_start};
use super::help::{Help, help};
use super::job::LogJob;
use super::nose::{Nose, nose};
use super::plan::plan;
use super::pose::pose;
use super::rate::CuttingSaw;
use super::relief::relief_depth;
use super::setting::Setting;
use super::stand::Stand;
use super::workplace::{Trouble, Workplace};
use crate::fault::Fault;
use crate::person::{Bearing, SawBody, Stance};
use crate::saw::{Setup, Solved};
use crate::section::{LogSection, Outline};
use crate::units::{Area, Length};
use std::sync::Arc;

/// How a saw takes a log apart.
#[derive(Debug)]
pub struct Cut {
    /// The bar past the spikes.
    pub bar: CuttingBar,
    /// The saw in the wood.
    pub saw: CuttingSaw,
    /// The outline and weight of the saw that is held.
    pub saw_body: Arc<SawBody>,
    /// Who holds the saw, and where it can be held.
    pub workplace: Workplace,
    /// The settings in the order to work them.
    pub settings: Vec<Setting>,
    /// How many of them, the first ones, relieve the side that is pressed together.
    pub relief: usize,
    /// How deep these come from that side.
    pub relief_depth: Option<Length>,
    /// True where the settings are the person's own.
    pub is_own: bool,
    /// True where it is proven that no fewer settings would do; never said of own settings.
    pub proven_fewest: bool,
    /// What they cut and leave.
    pub cover: Cover,
    /// One for each setting.
    pub steps: Vec<Step>,
    /// Who carries the saw.
    pub carry: Carry,
    /// Time in the cut at full power, s.
    pub cutting_s: f64,
    /// Biggest log from one side if only reach counted.
    pub biggest_one_side: Option<Length>,
    /// Biggest log from both sides if only reach counted.
    pub biggest_both_sides: Option<Length>,
    /// Shortest reach that cuts this log if only reach counted.
    pub shortest_reach: Option<Length>,
}

/// One setting's nose and danger, and how a person stands to it.
#[derive(Debug)]
pub struct Step {
    /// Where the nose is.
    pub nose: Nose,
    /// Where the upper quadrant touches something.
    pub contacts: Vec<DangerContact>,
    /// How it starts.
    pub start: SwingStart,
    /// How the person stands where it starts; `None` where they cannot.
    pub stance_at_start: Option<Stance>,
    /// How the person stands where it ends.
    pub stance_at_end: Option<Stance>,
    /// What it costs to hold the saw where it is laid on, nothing of it on the log; `None` where it cannot be held or the
    /// grips lie in one plumb line.
    pub bearing_at_start: Option<Bearing>,
    /// What it costs to hold it where it is taken off.
    pub bearing_at_end: Option<Bearing>,
    /// What first stands against it on its way, and at which share of its run; `None` where all of it can be done.
    pub trouble: Option<(f64, Trouble)>,
    /// The wood that no setting before took.
    pub cuts: Vec<Outline>,
}

impl Step {
    /// True where every place of the setting can be held.
    pub const fn is_doable(&self) -> bool {
        self.trouble.is_none()
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
        let saw_body = Arc::new(saw_body(setup, solved));
        let workplace = Workplace::new(job, &saw_body);
        let (settings, relief, cover, proven_fewest) = match own {
            Some(own) => (own.to_vec(), 0, cover(job, &bar, own)?, false),
            None => {
                let plan = plan(job, &bar, &workplace);
                (plan.settings, plan.relief, plan.cover, plan.proven_fewest)
            }
        };
        let cuts = new_cuts(job, &bar, &settings)?;
        let mut steps = Vec::with_capacity(settings.len());
        for (index, (setting, cuts)) in settings.iter().zip(cuts).enumerate() {
            let earlier = settings.get(..index).unwrap_or_default();
            let stance = |share| workplace.hold(job, &bar, setting, share).ok().flatten();
            let bearing = |stance: &Option<Stance>, share| {
                let direction_rad = pose(job, &bar, setting, share).ok()?.direction_rad;
                let standing = workplace.standing(setting.side())?;
                standing.bearing(job.person(), stance.as_ref()?, direction_rad).ok()
            };
            let (at_start, at_end) = (stance(0.0), stance(1.0));
            steps.push(Step {
                nose: nose(job, &bar, earlier, setting)?,
                contacts: danger_contacts(job, &bar, earlier, setting)?,
                start: swing_start(job, &bar, earlier, setting)?,
                bearing_at_start: bearing(&at_start, 0.0),
                bearing_at_end: bearing(&at_end, 1.0),
                stance_at_start: at_start,
                stance_at_end: at_end,
                trouble: workplace.trouble(job, &bar, setting),
                cuts,
            });
        }
        let cut_m2 = job.section().area().as_m2() - cover.left_area_m2;
        let biggest = |stand| {
            // Of round logs, at the height that goes with this one.
            let section = LogSection::round(job.section().width(), job.section().clearance()).ok()?;
            biggest_log(&LogJob::new(section, stand).with_swing(job.swing()), &bar)
        };
        Ok(Self {
            carry: carry(job, &bar, &saw, &settings, &PhaseTimes::default())?,
            cutting_s: saw.time_s(Area::from_m2(cut_m2)),
            biggest_one_side: biggest(Stand::OneSide),
            biggest_both_sides: biggest(Stand::BothSides),
            shortest_reach: shortest_reach(job, &bar),
            is_own: own.is_some(),
            proven_fewest,
            saw_body,
            workplace,
            bar,
            saw,
            relief_depth: relief_depth(job, &bar, settings.get(..relief).unwrap_or_default()),
            relief,
            settings,
            cover,
            steps,
        })
    }

    /// True where nothing of the section is left.
    pub fn is_whole(&self) -> bool {
        self.cover.left.is_empty()
    }

    /// What would help where the plan leaves wood; nothing is asked for own settings.
    pub fn help(&self, job: &LogJob) -> Option<Help> {
        let saw = self.saw_body.as_ref();
        (!self.is_own && !self.is_whole()).then(|| help(job, &self.bar, saw, &self.settings))
    }

    /// The biggest logs that this person takes apart with this saw, lying as this one does.
    pub fn biggest_held(&self, job: &LogJob) -> BiggestHeld {
        biggest_held(job, &self.bar, &self.saw_body)
    }

    /// True where a person can stand to all of it.
    pub fn is_doable(&self) -> bool {
        self.steps.iter().all(Step::is_doable)
    }
}

/// The body of a setup's head, with the weight and the centre of the whole saw.
pub fn saw_body(setup: &Setup, solved: &Solved) -> SawBody {
    let head = setup.powerhead();
    let centre = solved.saw.centroid - crate::geometry::Vector::new(head.spike_line().as_m(), 0.0);
    SawBody::of(head).with_saw(crate::units::Mass::from_kg(solved.saw.mass_kg), centre)
}
