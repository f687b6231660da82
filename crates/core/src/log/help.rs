//! What would help where a log cannot be cut whole: each computed by planning again.

use super::bar::CuttingBar;
use super::cover::{all_taken, cover_of};
use super::job::{Bind, LogJob};
use super::plan::plan;
use super::setting::{Setting, regions};
use super::stand::Stand;
use super::workplace::Workplace;
use crate::geometry::Point;
use crate::person::SawBody;
use crate::section::{Edge, LogSection, Region, cut_out};
use crate::units::Length;
use std::f64::consts::PI;

/// Heights tried above the one the log has, m: with a bar, a wedge or a hook nobody lifts it higher (our guess).
pub(super) const RAISED_BY_M: [f64; 8] = [0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.6];
/// Reaches tried above the bar's own, m, about as bars come (common practice).
pub(super) const LONGER_BY_M: [f64; 8] = [0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5];

/// What would cut a log whole that cannot be cut whole as it lies.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Help {
    /// True where working from both sides does it.
    pub other_side: bool,
    /// The least height of the underside above the ground, of some tried, at which it can be done.
    pub raise_to: Option<Length>,
    /// True where the log can be rolled half over after the first part, and the rest is then cut.
    pub roll: bool,
    /// True where it could be done kneeling, by a person who does not kneel.
    pub kneel: bool,
    /// The shortest reach, of some tried, that does it.
    pub longer_reach: Option<Length>,
}

impl Help {
    /// True where nothing that was tried does it.
    pub fn is_none(&self) -> bool {
        *self == Self::default()
    }
}

/// What would help where these settings, as the plan has them, leave wood. Some twenty plans are made to find out.
pub fn help(job: &LogJob, bar: &CuttingBar, saw: &SawBody, settings: &[Setting]) -> Help {
    if cover_of(job, &all_taken(job, bar, settings)).left.is_empty() {
        return Help::default();
    }
    let whole = |job: &LogJob, bar: &CuttingBar| plan(job, bar, &Workplace::new(job, saw)).is_whole();
    let own = Workplace::new(job, saw);
    Help {
        other_side: job.stand() == Stand::OneSide && whole(&job.from_stand(Stand::BothSides), bar),
        raise_to: RAISED_BY_M.into_iter().find_map(|by_m| {
            let section = job.section();
            let clearance = section.clearance() + Length::from_m(by_m);
            let raised = LogSection::oval(section.width(), section.height(), clearance).ok()?;
            whole(&job.with_section(raised), bar).then_some(clearance)
        }),
        roll: rolls(job, bar, settings),
        kneel: !job.person().can_kneel()
            && whole(&job.clone().with_person(job.person().with_kneeling(true)), bar),
        longer_reach: LONGER_BY_M.into_iter().find_map(|by_m| {
            let reach = bar.reach() + Length::from_m(by_m);
            let longer = bar.with_reach(reach).ok()?;
            plan(job, &longer, &own).is_whole().then_some(reach)
        }),
    }
}

/// True where the same cut made again, with the log rolled half over, takes what it left. A log that is pressed together is
/// held at its ends and is not rolled.
fn rolls(job: &LogJob, bar: &CuttingBar, settings: &[Setting]) -> bool {
    if job.bind() != Bind::None || settings.is_empty() {
        return false;
    }
    let taken = all_taken(job, bar, settings);
    let first = regions(&taken);
    // A section of two diameters is the same after half a turn, so the second cut is the first, turned.
    let turned: Vec<HalfTurned<'_>> = first.iter().map(|region| HalfTurned::new(*region)).collect();
    let both: Vec<&dyn Region> =
        first.iter().copied().chain(turned.iter().map(|region| region as &dyn Region)).collect();
    cut_out(&[job.section()], &both).is_empty()
}

/// A region turned by half about the middle of the section.
struct HalfTurned<'a> {
    region: &'a dyn Region,
    edges: Vec<Edge>,
}

impl<'a> HalfTurned<'a> {
    fn new(region: &'a dyn Region) -> Self {
        let turned = |edge: &Edge| match edge {
            Edge::Line(_) => Edge::line(-edge.start(), -edge.end()),
            Edge::Arc(arc) => Edge::arc(-arc.centre(), arc.radius_m(), arc.from_rad() + PI, arc.sweep_rad()),
        };
        Self { region, edges: region.edges().iter().map(turned).collect() }
    }
}

impl Region for HalfTurned<'_> {
    fn edges(&self) -> &[Edge] {
        &self.edges
    }

    fn outside_m(&self, point: Point) -> f64 {
        self.region.outside_m(-point)
    }
}
