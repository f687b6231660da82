//! One setting of the spikes: the way the bar goes, and the wood it takes.

use super::bar::CuttingBar;
use super::job::LogJob;
use super::slide::{SHORTEST_M, Slide, Swept};
use crate::fault::Fault;
use crate::geometry::{Point, Vector};
use crate::section::{Edge, Region, Side, checked, limits, unit};
use crate::units::{Angle, Length};
use std::f64::consts::{FRAC_PI_2, PI};

/// A swing this close to a limit is at it, rad.
const AT_LIMIT_RAD: f64 = 1e-9;
/// A swing shorter than this is none, rad: nobody can tell it from a bar held at one angle.
pub(super) const SHORTEST_SWING_RAD: f64 = 2.0 / 180.0 * PI;

/// What the hands do in a setting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// The bar, held at one angle, is let through the wood sideways; the spikes slide along the bark.
    Sink,
    /// The bar turns about the set spikes, with what is laid on before and run off after.
    Pivot,
}

/// One setting: from where the bar is laid on until it is taken away.
///
/// The spikes come to the bark at one place and the bar swings there from one direction to another. Directions are those
/// of the bar from straight into the wood (square to the bark), counter-clockwise positive. Before the swing the bar may
/// be *laid on*: held at its first direction it is let into the wood sideways, from so far off, until the spikes bite.
/// After the swing it may *run off*: held at its last direction it goes on sideways so far, its spikes sliding along the
/// bark. A *sink* is a setting without a swing. What a setting takes is the sweep of the bar's centreline and of its
/// whole width at every place where it stands still.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    pub(super) bark_rad: f64,
    pub(super) side: Side,
    pub(super) from_rad: f64,
    pub(super) to_rad: f64,
    pub(super) lay_on_m: f64,
    pub(super) run_off_m: f64,
    /// True where the saw's upper side leads: from below, or back up.
    pub(super) rises: bool,
}

impl Setting {
    /// Spikes in the bark at `bark`, worked from `side`, swinging `from` … `to` with nothing laid on or run off.
    ///
    /// # Errors
    /// Bark outside what the person allows, or a swing beyond the job's limits.
    pub fn new(job: &LogJob, bark: Angle, side: Side, from: Angle, to: Angle) -> Result<Self, Fault> {
        let turn = to.as_rad() - from.as_rad();
        let setting = Self {
            bark_rad: bark.as_rad(),
            side,
            from_rad: from.as_rad(),
            to_rad: to.as_rad(),
            lay_on_m: 0.0,
            run_off_m: 0.0,
            rises: turn * upward_sense(side) > 0.0,
        };
        setting.check(job)?;
        Ok(setting)
    }

    /// A bar held at one direction and let through the wood from `lay_on` before the spikes' place to `run_off` past it:
    /// downward, or upward from below.
    ///
    /// # Errors
    /// As [`Self::new`], and a way outside 0…3500 mm.
    pub fn sink(
        job: &LogJob,
        bark: Angle,
        side: Side,
        direction: Angle,
        ways: (Length, Length),
        rises: bool,
    ) -> Result<Self, Fault> {
        let setting = Self { rises, ..Self::new(job, bark, side, direction, direction)? };
        setting.with_ways(job, ways.0, ways.1)
    }

    /// The whole swing the limits allow, downward with the saw's underside leading, nothing laid on or run off.
    ///
    /// # Errors
    /// Bark outside what the person allows.
    pub fn full(job: &LogJob, bark: Angle, side: Side) -> Result<Self, Fault> {
        let (low, high) = job.swing().from_side(side);
        let (from_rad, to_rad) = if side == Side::Near { (high, low) } else { (low, high) };
        Self::new(job, bark, side, Angle::from_rad(from_rad), Angle::from_rad(to_rad))
    }

    /// The same, laid on from so far off and running off so far.
    ///
    /// # Errors
    /// A way outside 0…3500 mm, or a setting that is none for this job.
    pub fn with_ways(mut self, job: &LogJob, lay_on: Length, run_off: Length) -> Result<Self, Fault> {
        self.lay_on_m = lay_on.as_m();
        self.run_off_m = run_off.as_m();
        self.check(job)?;
        Ok(self)
    }

    /// The same with other ends of the swing; the way it goes follows from them.
    ///
    /// # Errors
    /// A swing beyond the job's limits.
    pub fn with_swing(&self, job: &LogJob, from: Angle, to: Angle) -> Result<Self, Fault> {
        let turn = to.as_rad() - from.as_rad();
        let rises =
            if turn.abs() < SHORTEST_SWING_RAD { self.rises } else { turn * upward_sense(self.side) > 0.0 };
        let setting = Self { from_rad: from.as_rad(), to_rad: to.as_rad(), rises, ..*self };
        setting.check(job)?;
        Ok(setting)
    }

    /// The nearest setting that a job allows: its spikes on the bark within reach, its swing within the limits.
    #[must_use]
    pub fn brought_within(&self, job: &LogJob) -> Self {
        let (low, high) = job.swing().from_side(self.side);
        let arcs = job.bark().iter();
        let here = arcs.clone().find(|arc| arc.side() == self.side).or_else(|| job.bark().first());
        let (bark_rad, side) =
            here.map_or((self.bark_rad, self.side), |arc| (arc.nearest_rad(self.bark_rad), arc.side()));
        Self {
            bark_rad,
            side,
            from_rad: self.from_rad.clamp(low, high),
            to_rad: self.to_rad.clamp(low, high),
            ..*self
        }
    }

    /// The same with its spikes at another place on the bark. What is laid on and runs off is as much as there is wood.
    ///
    /// # Errors
    /// Bark outside what the person allows.
    pub fn moved_to(&self, job: &LogJob, bar: &CuttingBar, bark: Angle, side: Side) -> Result<Self, Fault> {
        // From the other side the same swing is its mirror image.
        let sense = if side == self.side { 1.0 } else { -1.0 };
        let moved = Self {
            bark_rad: bark.as_rad(),
            side,
            from_rad: sense * self.from_rad,
            to_rad: sense * self.to_rad,
            ..*self
        };
        moved.check(job)?;
        Ok(moved.as_long_as_wood(job, bar))
    }

    /// The same as a sink at its first direction, or as a pivot that starts there and swings by 45° or to the limit.
    ///
    /// # Errors
    /// As [`Self::check`].
    pub fn of_kind(&self, job: &LogJob, bar: &CuttingBar, kind: Kind) -> Result<Self, Fault> {
        const A_SWING_RAD: f64 = PI / 4.0;
        if self.kind() == kind {
            return Ok(*self);
        }
        let setting = match kind {
            Kind::Sink => Self { to_rad: self.from_rad, lay_on_m: 1e-3, run_off_m: 1e-3, ..*self },
            Kind::Pivot => {
                let (low, high) = job.swing().from_side(self.side);
                let to_rad = (self.from_rad + self.sense() * A_SWING_RAD).clamp(low, high);
                Self { to_rad, run_off_m: 0.0, ..*self }
            }
        };
        setting.check(job)?;
        Ok(setting.as_long_as_wood(job, bar))
    }

    /// The same, what it lays on and runs off as long as there is wood, where it does so at all.
    #[must_use]
    pub fn as_long_as_wood(&self, job: &LogJob, bar: &CuttingBar) -> Self {
        let (spikes, straight_in) = pivot(job, self);
        let wood_m = |swing_rad: f64, away_sense: f64| {
            let away_rad = straight_in + swing_rad + away_sense * FRAC_PI_2;
            let outermost = job.section().bark_at(job.section().bark_facing(away_rad));
            ((outermost - spikes).dot(&unit(away_rad)) - 0.5 * bar.nose_radius().as_m()).max(0.0)
        };
        let sense = self.sense();
        Self {
            lay_on_m: if self.touches_down() { wood_m(self.from_rad, -sense) } else { 0.0 },
            run_off_m: if self.slides_off() { wood_m(self.to_rad, sense) } else { 0.0 },
            ..*self
        }
    }

    /// The same way gone backwards: run back up where it went down.
    #[must_use]
    pub const fn reversed(&self) -> Self {
        Self {
            from_rad: self.to_rad,
            to_rad: self.from_rad,
            lay_on_m: self.run_off_m,
            run_off_m: self.lay_on_m,
            rises: !self.rises,
            ..*self
        }
    }

    /// Says what is wrong with a setting for a job, for instance after the job has changed.
    ///
    /// # Errors
    /// As [`Self::new`].
    pub fn check(&self, job: &LogJob) -> Result<(), Fault> {
        let degrees = |rad: f64| Angle::from_rad(rad).as_deg();
        checked("setting.bark", &limits::BARK_ANGLE, degrees(self.bark_rad))?;
        checked("setting.lay_on", &limits::SLIDE_WAY, Length::from_m(self.lay_on_m).as_mm())?;
        checked("setting.run_off", &limits::SLIDE_WAY, Length::from_m(self.run_off_m).as_mm())?;
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

    /// How far off the bar is laid on, sideways.
    pub const fn lay_on(&self) -> Length {
        Length::from_m(self.lay_on_m)
    }

    /// How far the saw runs off after the swing, sideways.
    pub const fn run_off(&self) -> Length {
        Length::from_m(self.run_off_m)
    }

    /// What the hands do.
    pub fn kind(&self) -> Kind {
        let slides = self.touches_down() || self.slides_off();
        if slides && self.swing().as_rad() < SHORTEST_SWING_RAD { Kind::Sink } else { Kind::Pivot }
    }

    /// How far it swings.
    pub fn swing(&self) -> Angle {
        Angle::from_rad((self.to_rad - self.from_rad).abs())
    }

    /// True where the saw's upper side leads and the chain pushes back at the operator: from below, or back up.
    pub const fn rises(&self) -> bool {
        self.rises
    }

    /// Sense in which the bar turns, and from which side of the bar the wood comes: counter-clockwise (+1) or clockwise
    /// (−1).
    pub(super) const fn sense(&self) -> f64 {
        let up = upward_sense(self.side);
        if self.rises { up } else { -up }
    }

    /// True where the bar is let into the wood sideways before its spikes bite.
    pub fn touches_down(&self) -> bool {
        self.lay_on_m > SHORTEST_M
    }

    /// True where the saw runs off sideways after its swing.
    pub fn slides_off(&self) -> bool {
        self.run_off_m > SHORTEST_M
    }

    /// The way of the spikes while the bar is laid on, from the pivot's place outward.
    pub(super) fn lay_on_slide(&self, job: &LogJob) -> Slide {
        let direction = job.section().straight_in_rad(self.bark_rad) + self.from_rad;
        Slide::new(job.section(), self.bark_rad, direction, unit(direction - self.sense() * FRAC_PI_2))
    }

    /// The way of the spikes while the saw runs off, from the pivot's place on.
    pub(super) fn run_off_slide(&self, job: &LogJob) -> Slide {
        let direction = job.section().straight_in_rad(self.bark_rad) + self.to_rad;
        Slide::new(job.section(), self.bark_rad, direction, unit(direction + self.sense() * FRAC_PI_2))
    }
}

/// Sense of a swing with the saw's upper side leading: counter-clockwise (+1) seen from the near side.
pub(super) const fn upward_sense(side: Side) -> f64 {
    match side {
        Side::Near => 1.0,
        Side::Far => -1.0,
    }
}

/// Where a setting is on its way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Moment {
    /// So far still to go until the spikes bite, m.
    LayOn(f64),
    /// The swing is at this direction from straight in, rad.
    Swing(f64),
    /// So far past the pivot's place, m.
    RunOff(f64),
}

/// Where the spike line crosses the bar's centreline, and where the bar points, counter-clockwise from +x.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    pub(super) spikes: Point,
    pub(super) direction_rad: f64,
}

/// Where the bar is at a moment of a setting.
pub(super) fn place_at(job: &LogJob, setting: &Setting, moment: Moment) -> Place {
    let (spikes, straight_in) = pivot(job, setting);
    match moment {
        Moment::LayOn(way_m) => Place {
            spikes: setting.lay_on_slide(job).spikes_at(job.section(), way_m),
            direction_rad: straight_in + setting.from_rad,
        },
        Moment::Swing(swing_rad) => Place { spikes, direction_rad: straight_in + swing_rad },
        Moment::RunOff(way_m) => Place {
            spikes: setting.run_off_slide(job).spikes_at(job.section(), way_m),
            direction_rad: straight_in + setting.to_rad,
        },
    }
}

/// One piece of the wood a setting takes: a region with one outline.
#[derive(Clone, Debug)]
pub(super) enum Part {
    /// The swing, with the bar's width at both ends; or the bar where it stands.
    Sector(Sector),
    /// What a slide sweeps.
    Swept(Swept),
}

impl Region for Part {
    fn edges(&self) -> &[Edge] {
        match self {
            Self::Sector(sector) => sector.edges(),
            Self::Swept(swept) => swept.edges(),
        }
    }

    fn outside_m(&self, point: Point) -> f64 {
        match self {
            Self::Sector(sector) => sector.outside_m(point),
            Self::Swept(swept) => swept.outside_m(point),
        }
    }
}

/// The wood one setting takes, log or no log: regions that overlap.
#[derive(Clone, Debug)]
pub(super) struct Taken {
    parts: Vec<Part>,
}

impl Taken {
    /// All of a setting.
    pub(super) fn new(job: &LogJob, bar: &CuttingBar, setting: &Setting) -> Self {
        Self::until(job, bar, setting, Moment::RunOff(setting.run_off_m))
    }

    /// What goes before the swing: all that is laid on, and the bar's place at the start.
    pub(super) fn start_of(job: &LogJob, bar: &CuttingBar, setting: &Setting) -> Self {
        Self::until(job, bar, setting, Moment::LayOn(0.0))
    }

    /// What a setting has taken at a moment. Where it is still being laid on, the way to come counts as well: see
    /// [`Self::front`].
    pub(super) fn until(job: &LogJob, bar: &CuttingBar, setting: &Setting, moment: Moment) -> Self {
        let reach_m = bar.reach().as_m();
        let standing = |moment| Part::Sector(Sector::standing(bar, place_at(job, setting, moment)));
        let mut parts = Vec::with_capacity(6);
        let to_rad = match moment {
            Moment::LayOn(_) => setting.from_rad,
            Moment::Swing(at_rad) => at_rad,
            Moment::RunOff(_) => setting.to_rad,
        };
        parts.push(Part::Sector(Sector::new(job, bar, &Setting { to_rad, ..*setting })));
        if setting.touches_down() {
            parts.push(standing(Moment::LayOn(setting.lay_on_m)));
            let slide = setting.lay_on_slide(job);
            parts
                .extend(slide.regions(job.section(), reach_m, setting.lay_on_m).into_iter().map(Part::Swept));
        }
        if let Moment::RunOff(way_m) = moment
            && way_m > SHORTEST_M
        {
            let slide = setting.run_off_slide(job);
            parts.extend(slide.regions(job.section(), reach_m, way_m).into_iter().map(Part::Swept));
            parts.push(standing(Moment::RunOff(way_m)));
        }
        Self { parts }
    }

    /// The pieces.
    pub(super) fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// Positive outside all pieces, negative inside one.
    pub(super) fn outside_m(&self, point: Point) -> f64 {
        self.parts.iter().map(|part| part.outside_m(point)).fold(f64::INFINITY, f64::min)
    }
}

/// All pieces of several settings, as regions.
pub(super) fn regions(taken: &[Taken]) -> Vec<&dyn Region> {
    taken.iter().flat_map(|one| one.parts().iter().map(|part| part as &dyn Region)).collect()
}

/// The sweep of the bar about its spikes, its whole width at both ends.
#[derive(Clone, Debug)]
pub(super) struct Sector {
    bar: CuttingBar,
    pivot: Point,
    low: Vector,
    high: Vector,
    edges: Vec<Edge>,
}

impl Sector {
    fn new(job: &LogJob, bar: &CuttingBar, setting: &Setting) -> Self {
        let (pivot, straight_in) = pivot(job, setting);
        let (low, high) = (setting.from_rad.min(setting.to_rad), setting.from_rad.max(setting.to_rad));
        Self::built(bar, pivot, straight_in + low, straight_in + high)
    }

    /// The bar where it stands.
    pub(super) fn standing(bar: &CuttingBar, place: Place) -> Self {
        Self::built(bar, place.spikes, place.direction_rad, place.direction_rad)
    }

    fn built(bar: &CuttingBar, pivot: Point, low_rad: f64, high_rad: f64) -> Self {
        let mut sector =
            Self { bar: *bar, pivot, low: unit(low_rad), high: unit(high_rad), edges: Vec::new() };
        sector.edges = sector.outline(low_rad, high_rad);
        sector
    }

    fn outline(&self, low_rad: f64, high_rad: f64) -> Vec<Edge> {
        let (reach, root) = (self.bar.reach().as_m(), self.bar.half_width().as_m());
        let nose_m = self.bar.nose_radius().as_m();
        let turn = FRAC_PI_2 - self.bar.taper_rad();
        let mut edges = Vec::with_capacity(6);
        if high_rad > low_rad {
            edges.push(Edge::arc(self.pivot, reach, low_rad, high_rad - low_rad));
        }
        let (nose, out) = (self.nose_centre(self.high), unit(high_rad + turn));
        edges.push(Edge::arc(nose, nose_m, high_rad, turn));
        edges.push(Edge::line(nose + nose_m * out, self.pivot + root * out));
        let (root_from, root_to) = (high_rad + turn, low_rad - turn + 2.0 * PI);
        if root_to - root_from > 1e-12 {
            edges.push(Edge::arc(self.pivot, root, root_from, root_to - root_from));
        }
        let (nose, out) = (self.nose_centre(self.low), unit(low_rad - turn));
        edges.push(Edge::line(self.pivot + root * out, nose + nose_m * out));
        edges.push(Edge::arc(nose, nose_m, low_rad - turn, turn));
        edges
    }

    fn nose_centre(&self, direction: Vector) -> Point {
        self.pivot + self.bar.nose_centre_m() * direction
    }
}

impl Region for Sector {
    fn edges(&self) -> &[Edge] {
        &self.edges
    }

    fn outside_m(&self, point: Point) -> f64 {
        let v = point - self.pivot;
        let beyond_m = v.norm() - self.bar.reach().as_m();
        let past_high_m = self.high.perp(&v);
        let past_low_m = v.perp(&self.low);
        let (along_high_m, along_low_m) = (self.high.dot(&v), self.low.dot(&v));
        beyond_m
            .max(past_high_m)
            .max(past_low_m)
            .min(self.bar.outside_m(along_high_m, past_high_m))
            .min(self.bar.outside_m(along_low_m, past_low_m))
    }
}

/// Where the bar turns, and the direction straight into the wood there.
pub(super) fn pivot(job: &LogJob, setting: &Setting) -> (Point, f64) {
    (job.section().bark_at(setting.bark_rad), job.section().straight_in_rad(setting.bark_rad))
}
