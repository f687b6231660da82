//! One setting of the spikes and the wood it takes.

use super::bar::CuttingBar;
use super::edge::{Edge, unit};
use super::job::LogJob;
use super::limits::{self, checked};
use super::region::Region;
use super::stand::Side;
use crate::fault::Fault;
use crate::geometry::{Point, Vector};
use crate::units::{Angle, Length};
use std::f64::consts::{FRAC_PI_2, PI};

/// A swing this close to a limit is at it, rad.
const AT_LIMIT_RAD: f64 = 1e-9;

/// One setting: where the spikes bite and between which directions the bar swings about them.
///
/// Directions are those of the bar from straight into the wood (square to the bark), counter-clockwise
/// positive; the swing runs from `from` to `to`.
///
/// What goes in a setting is the sweep of the bar's whole width about the spikes, and at a swing limit the
/// sliver beyond it, which the spikes cannot take: in the *touch-down*, when the hands lay the bar on the bark
/// and carry it sideways into the wood before the spikes bite, or in the *last slide*, when they let the saw
/// slide off sideways after the swing. Both take a strip as deep as [`CuttingBar::slide_depth`] along the bar, no
/// farther from the spikes than its reach. A swing that stays short of a limit takes no strip there, only the
/// bar's width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    pub(super) bark_rad: f64,
    pub(super) side: Side,
    pub(super) from_rad: f64,
    pub(super) to_rad: f64,
    pub(super) stand_off_m: f64,
}

impl Setting {
    /// Spikes in the bark at `bark`, worked from `side`, swinging `from` … `to`.
    ///
    /// # Errors
    /// Bark that cannot be reached from that side, or a swing beyond the job's limits.
    pub fn new(job: &LogJob, bark: Angle, side: Side, from: Angle, to: Angle) -> Result<Self, Fault> {
        let setting = Self {
            bark_rad: bark.as_rad(),
            side,
            from_rad: from.as_rad(),
            to_rad: to.as_rad(),
            stand_off_m: 0.0,
        };
        setting.check(job)?;
        Ok(setting)
    }

    /// The whole swing the limits allow, downward with the saw's underside leading.
    ///
    /// # Errors
    /// Bark that cannot be reached from that side.
    pub fn full(job: &LogJob, bark: Angle, side: Side) -> Result<Self, Fault> {
        let setting = Self::unchecked_full(job, bark.as_rad(), side);
        setting.check(job)?;
        Ok(setting)
    }

    pub(super) fn unchecked_full(job: &LogJob, bark_rad: f64, side: Side) -> Self {
        let (low, high) = job.swing().from_side(side);
        let (from_rad, to_rad) = if side == Side::Near { (high, low) } else { (low, high) };
        Self { bark_rad, side, from_rad, to_rad, stand_off_m: 0.0 }
    }

    /// The same with the spikes held off the bark, straight out, so that a bar longer than the log keeps its
    /// nose in: the hands carry it.
    ///
    /// # Errors
    /// A distance outside 0…1700 mm.
    pub fn held_off(mut self, by: Length) -> Result<Self, Fault> {
        self.stand_off_m = Length::from_mm(checked("held_off", &limits::STAND_OFF, by.as_mm())?).as_m();
        Ok(self)
    }

    /// Says what is wrong with a setting for a job, for instance after the job has changed.
    ///
    /// # Errors
    /// As [`Self::new`].
    pub fn check(&self, job: &LogJob) -> Result<(), Fault> {
        let degrees = |rad: f64| Angle::from_rad(rad).as_deg();
        checked("setting.bark", &limits::BARK_ANGLE, degrees(self.bark_rad))?;
        if !job.bark().iter().any(|arc| arc.side() == self.side && arc.holds(self.bark_rad)) {
            let arcs: Vec<String> = job
                .bark()
                .iter()
                .map(|arc| format!("{:.1}…{:.1}°", degrees(arc.from_rad()), degrees(arc.to_rad())))
                .collect();
            let message = format!(
                "spikes at {:.1}° are off the bark within reach, {}",
                degrees(self.bark_rad),
                arcs.join(" and ")
            );
            return Err(Fault { path: "setting.bark".to_owned(), message });
        }
        let (low, high) = job.swing().from_side(self.side);
        for (path, rad) in [("setting.from", self.from_rad), ("setting.to", self.to_rad)] {
            if !(rad >= low - AT_LIMIT_RAD && rad <= high + AT_LIMIT_RAD) {
                let message = format!(
                    "swing to {:.1}° from straight in is outside {:.0}…{:.0}°",
                    degrees(rad),
                    degrees(low),
                    degrees(high)
                );
                return Err(Fault { path: path.to_owned(), message });
            }
        }
        Ok(())
    }

    /// Where the spikes bite, counter-clockwise from the far side.
    pub const fn bark(&self) -> Angle {
        Angle::from_rad(self.bark_rad)
    }

    /// Where the operator stands.
    pub const fn side(&self) -> Side {
        self.side
    }

    /// Direction at the start, from straight in.
    pub const fn from(&self) -> Angle {
        Angle::from_rad(self.from_rad)
    }

    /// Direction at the end, from straight in.
    pub const fn to(&self) -> Angle {
        Angle::from_rad(self.to_rad)
    }

    /// How far the spikes are held off the bark.
    pub const fn stand_off(&self) -> Length {
        Length::from_m(self.stand_off_m)
    }

    /// How far it swings.
    pub fn swing(&self) -> Angle {
        Angle::from_rad((self.to_rad - self.from_rad).abs())
    }

    /// Counter-clockwise (+1) or clockwise (−1); 0 for no swing at all.
    pub(super) fn sense(&self) -> f64 {
        let turn = self.to_rad - self.from_rad;
        if turn == 0.0 { 0.0 } else { turn.signum() }
    }

    /// True where the swing starts at the limit on its side: the touch-down takes the sliver beyond.
    pub fn touches_down(&self, job: &LogJob) -> bool {
        let (low, high) = job.swing().from_side(self.side);
        let limit = if self.from_rad >= self.to_rad { high } else { low };
        is_at(self.from_rad, limit)
    }

    /// True where the swing ends at the limit on its side: the last slide takes the sliver beyond.
    pub fn slides_off(&self, job: &LogJob) -> bool {
        let (low, high) = job.swing().from_side(self.side);
        let limit = if self.from_rad >= self.to_rad { low } else { high };
        is_at(self.to_rad, limit)
    }

    /// The same setting stopped at a direction.
    pub(super) fn until(&self, to_rad: f64) -> Self {
        Self { to_rad, ..*self }
    }
}

/// A limit square to the bark leaves no sliver, so nothing to lay on or slide off.
fn is_at(rad: f64, limit_rad: f64) -> bool {
    (rad - limit_rad).abs() <= AT_LIMIT_RAD && limit_rad.abs() < FRAC_PI_2 - AT_LIMIT_RAD
}

/// How much of a touch-down or last slide is part of a cut: its depth, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Strips {
    /// Beyond the start.
    pub(super) start_m: f64,
    /// Beyond the end.
    pub(super) end_m: f64,
}

impl Strips {
    pub(super) fn whole(job: &LogJob, bar: &CuttingBar, setting: &Setting) -> Self {
        let depth = bar.slide_depth_m();
        Self {
            start_m: if setting.touches_down(job) { depth } else { 0.0 },
            end_m: if setting.slides_off(job) { depth } else { 0.0 },
        }
    }
}

/// The wood one setting takes, log or no log: a region with one outline.
#[derive(Clone, Debug)]
pub(super) struct CutShape {
    bar: CuttingBar,
    pivot: Point,
    low: Vector,
    high: Vector,
    low_strip_m: f64,
    high_strip_m: f64,
    edges: Vec<Edge>,
}

impl CutShape {
    pub(super) fn new(job: &LogJob, bar: &CuttingBar, setting: &Setting) -> Self {
        Self::with_strips(job, bar, setting, Strips::whole(job, bar, setting))
    }

    /// What goes before the swing: the bar's place at the start, with the touch-down where there is one.
    pub(super) fn start_of(job: &LogJob, bar: &CuttingBar, setting: &Setting) -> Self {
        let strips = Strips { end_m: 0.0, ..Strips::whole(job, bar, setting) };
        Self::turned(job, bar, setting, setting.from_rad, strips)
    }

    /// The cut of a setting stopped at a direction.
    pub(super) fn turned(
        job: &LogJob,
        bar: &CuttingBar,
        setting: &Setting,
        to_rad: f64,
        strips: Strips,
    ) -> Self {
        Self::built(job, bar, &setting.until(to_rad), setting.from_rad >= setting.to_rad, strips)
    }

    pub(super) fn with_strips(job: &LogJob, bar: &CuttingBar, setting: &Setting, strips: Strips) -> Self {
        Self::built(job, bar, setting, setting.from_rad >= setting.to_rad, strips)
    }

    /// `falling` says which end of the swing is its start: it cannot be told from a swing of no angle.
    fn built(job: &LogJob, bar: &CuttingBar, setting: &Setting, falling: bool, strips: Strips) -> Self {
        let (pivot, straight_in) = pivot(job, setting);
        let (low_rad, high_rad) = (
            straight_in + setting.from_rad.min(setting.to_rad),
            straight_in + setting.from_rad.max(setting.to_rad),
        );
        let (low_strip_m, high_strip_m) =
            if falling { (strips.end_m, strips.start_m) } else { (strips.start_m, strips.end_m) };
        let mut shape = Self {
            bar: *bar,
            pivot,
            low: unit(low_rad),
            high: unit(high_rad),
            low_strip_m,
            high_strip_m,
            edges: Vec::new(),
        };
        shape.edges = shape.outline(low_rad, high_rad);
        shape
    }

    fn outline(&self, low_rad: f64, high_rad: f64) -> Vec<Edge> {
        let (reach, root) = (self.bar.reach().as_m(), self.bar.half_width().as_m());
        let taper = self.bar.taper_rad();
        let spread = |strip_m: f64| (strip_m / reach).min(1.0).asin();
        let mut edges = Vec::with_capacity(10);
        let (from, to) = (low_rad - spread(self.low_strip_m), high_rad + spread(self.high_strip_m));
        edges.push(Edge::arc(self.pivot, reach, from, to - from));
        let root_from = if self.high_strip_m > 0.0 {
            let out = unit(high_rad + FRAC_PI_2);
            let corner = self.pivot + self.high_strip_m * out;
            let tip = self.pivot + reach * unit(to);
            edges.push(Edge::line(tip, corner));
            add_line(&mut edges, corner, self.pivot + root * out);
            high_rad + FRAC_PI_2
        } else {
            let turn = FRAC_PI_2 - taper;
            let (nose, out) = (self.nose_centre(self.high), unit(high_rad + turn));
            edges.push(Edge::arc(nose, self.bar.nose_radius().as_m(), high_rad, turn));
            edges.push(Edge::line(nose + self.bar.nose_radius().as_m() * out, self.pivot + root * out));
            high_rad + turn
        };
        let root_to = low_rad - FRAC_PI_2 + if self.low_strip_m > 0.0 { 0.0 } else { taper } + 2.0 * PI;
        if root_to - root_from > 1e-12 {
            edges.push(Edge::arc(self.pivot, root, root_from, root_to - root_from));
        }
        if self.low_strip_m > 0.0 {
            let out = unit(low_rad - FRAC_PI_2);
            let corner = self.pivot + self.low_strip_m * out;
            add_line(&mut edges, self.pivot + root * out, corner);
            edges.push(Edge::line(corner, self.pivot + reach * unit(from)));
        } else {
            let turn = FRAC_PI_2 - taper;
            let (nose, out) = (self.nose_centre(self.low), unit(low_rad - turn));
            edges.push(Edge::line(self.pivot + root * out, nose + self.bar.nose_radius().as_m() * out));
            edges.push(Edge::arc(nose, self.bar.nose_radius().as_m(), low_rad - turn, turn));
        }
        edges
    }

    fn nose_centre(&self, direction: Vector) -> Point {
        self.pivot + self.bar.nose_centre_m() * direction
    }
}

fn add_line(edges: &mut Vec<Edge>, from: Point, to: Point) {
    if (to - from).norm() > 1e-12 {
        edges.push(Edge::line(from, to));
    }
}

/// Where the bar turns, and the direction straight into the wood there.
pub(super) fn pivot(job: &LogJob, setting: &Setting) -> (Point, f64) {
    let straight_in = job.section().straight_in_rad(setting.bark_rad);
    (job.section().bark_at(setting.bark_rad) - setting.stand_off_m * unit(straight_in), straight_in)
}

impl Region for CutShape {
    fn edges(&self) -> &[Edge] {
        &self.edges
    }

    fn outside_m(&self, point: Point) -> f64 {
        let v = point - self.pivot;
        let beyond_m = v.norm() - self.bar.reach().as_m();
        let past_high_m = self.high.perp(&v);
        let past_low_m = v.perp(&self.low);
        let (along_high_m, along_low_m) = (self.high.dot(&v), self.low.dot(&v));
        let sector = beyond_m.max(past_high_m).max(past_low_m);
        let strip = |depth_m: f64, along_m: f64, past_m: f64| {
            if depth_m > 0.0 {
                beyond_m.max(-along_m).max(-past_m).max(past_m - depth_m)
            } else {
                f64::INFINITY
            }
        };
        sector
            .min(self.bar.outside_m(along_high_m, past_high_m))
            .min(self.bar.outside_m(along_low_m, past_low_m))
            .min(strip(self.high_strip_m, along_high_m, past_high_m))
            .min(strip(self.low_strip_m, along_low_m, past_low_m))
    }
}
