//! A log as it lies: its section, the bark within reach, how far the bar swings, branches and bind.

use super::stand::{BarkArc, Stand};
use crate::fault::Fault;
use crate::geometry::Point;
use crate::person::{Body, Person};
use crate::section::{LogSection, Side, checked, limits, unit};
use crate::units::{Angle, Length};
use std::f64::consts::TAU;

/// How far in front of the bark the eye of the standing operator is, m (our guess).
const EYE_DISTANCE_M: f64 = 0.5;

/// How far the bar turns about the spikes from straight into the wood, until powerhead or handles meet the bark.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SwingLimits {
    upward_rad: f64,
    downward_rad: f64,
}

impl SwingLimits {
    /// `upward` towards the saw's upper side (the nose rises, seen with the saw level), `downward` the other way.
    ///
    /// # Errors
    /// A limit outside 45…90°.
    pub fn new(upward: Angle, downward: Angle) -> Result<Self, Fault> {
        checked("swing.upward", &limits::SWING_LIMIT, upward.as_deg())?;
        checked("swing.downward", &limits::SWING_LIMIT, downward.as_deg())?;
        Ok(Self { upward_rad: upward.as_rad(), downward_rad: downward.as_rad() })
    }

    /// Limit towards the saw's upper side.
    pub const fn upward(&self) -> Angle {
        Angle::from_rad(self.upward_rad)
    }

    /// Limit towards the saw's underside.
    pub const fn downward(&self) -> Angle {
        Angle::from_rad(self.downward_rad)
    }

    /// Lowest and highest direction from straight in, counter-clockwise positive, rad. Seen from the far side
    /// the saw is mirrored.
    pub fn from_side(&self, side: Side) -> (f64, f64) {
        match side {
            Side::Near => (-self.downward_rad, self.upward_rad),
            Side::Far => (-self.upward_rad, self.downward_rad),
        }
    }
}

impl Default for SwingLimits {
    /// 75° either way (common practice, no source).
    fn default() -> Self {
        let limit_rad = 75.0_f64.to_radians();
        Self { upward_rad: limit_rad, downward_rad: limit_rad }
    }
}

/// How far branches stand above the log's top by default, m (our guess: knee-high limb wood).
const TANGLE_ABOVE_M: f64 = 0.4;

/// Where branches and brush stand against the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Tangle {
    /// Clear ground all round.
    None,
    /// On the far side, x > 0.
    Far,
    /// On the near side, x < 0.
    Near,
}

/// Where the log is pressed together and will pinch the bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Bind {
    /// Neither.
    None,
    /// The top is pressed together: a log resting on both its ends.
    Top,
    /// The underside is pressed together: a log that overhangs its rest.
    Bottom,
}

/// A log as it lies, and where the operator may stand to cut it.
#[derive(Clone, Debug, PartialEq)]
pub struct LogJob {
    section: LogSection,
    stand: Stand,
    bark: Vec<BarkArc>,
    swing: SwingLimits,
    tangle: Tangle,
    tangle_above_m: f64,
    bind: Bind,
    person: Person,
}

impl LogJob {
    /// A log with the bark, swing and clear ground that go with a stand by default.
    pub fn new(section: LogSection, stand: Stand) -> Self {
        let bark = stand.reachable_bark();
        Self {
            section,
            stand,
            bark,
            swing: SwingLimits::default(),
            tangle: Tangle::None,
            tangle_above_m: TANGLE_ABOVE_M,
            bind: Bind::None,
            person: Person::default(),
        }
    }

    /// The same with other reachable bark; an empty list keeps what it has.
    #[must_use]
    pub fn with_bark(mut self, bark: Vec<BarkArc>) -> Self {
        if !bark.is_empty() {
            self.bark = bark;
        }
        self
    }

    /// The same log from another stand, with the bark that goes with it.
    #[must_use]
    pub fn from_stand(&self, stand: Stand) -> Self {
        Self { stand, bark: stand.reachable_bark(), ..self.clone() }
    }

    /// The same before another section.
    #[must_use]
    pub fn with_section(&self, section: LogSection) -> Self {
        Self { section, ..self.clone() }
    }

    /// The same with other swing limits.
    #[must_use]
    pub const fn with_swing(mut self, swing: SwingLimits) -> Self {
        self.swing = swing;
        self
    }

    /// The same with a tangle.
    #[must_use]
    pub const fn with_tangle(mut self, tangle: Tangle) -> Self {
        self.tangle = tangle;
        self
    }

    /// The same with branches that stand so far above the log's top, 400 mm where nothing is said (our guess).
    ///
    /// # Errors
    /// A height outside 0…3000 mm.
    pub fn with_tangle_above(mut self, above: Length) -> Result<Self, Fault> {
        self.tangle_above_m =
            Length::from_mm(checked("tangle_above", &limits::CLEARANCE, above.as_mm())?).as_m();
        Ok(self)
    }

    /// The same with a bind.
    #[must_use]
    pub const fn with_bind(mut self, bind: Bind) -> Self {
        self.bind = bind;
        self
    }

    /// The same with the person who cuts it, and the slope they stand on.
    #[must_use]
    pub const fn with_person(mut self, person: Person) -> Self {
        self.person = person;
        self
    }

    /// Who cuts it.
    pub const fn person(&self) -> &Person {
        &self.person
    }

    /// The section.
    pub const fn section(&self) -> &LogSection {
        &self.section
    }

    /// Where the operator may stand.
    pub const fn stand(&self) -> Stand {
        self.stand
    }

    /// Bark within reach, at least one arc.
    pub fn bark(&self) -> &[BarkArc] {
        &self.bark
    }

    /// Swing limits.
    pub const fn swing(&self) -> SwingLimits {
        self.swing
    }

    /// The tangle.
    pub const fn tangle(&self) -> Tangle {
        self.tangle
    }

    /// The bind.
    pub const fn bind(&self) -> Bind {
        self.bind
    }

    /// The reachable place nearest to a place on the bark and the side it is reached from: for a handle that
    /// is dragged along the bark.
    pub fn nearest_bark(&self, bark: Angle) -> Option<(Angle, Side)> {
        let place = bark.as_rad();
        let away = |at: f64| {
            let turn = (at - place).rem_euclid(TAU);
            turn.min(TAU - turn)
        };
        self.bark
            .iter()
            .map(|arc| (arc.nearest_rad(place), arc.side()))
            .min_by(|a, b| away(a.0).total_cmp(&away(b.0)))
            .map(|(rad, side)| (Angle::from_rad(rad), side))
    }

    /// Where the operator's eye is: standing, half a metre from the bark, m.
    pub(super) fn eye(&self, side: Side) -> Point {
        let x = 0.5 * self.section.width().as_m() + EYE_DISTANCE_M;
        let x = if side == Side::Near { -x } else { x };
        Point::new(x, self.ground_m(x) + Body::of(&self.person).eye_height_m)
    }

    /// Height of the ground at a place across the log, in the frame of the section, m. The log's clearance is measured
    /// square to it, so that a log that lies on a slope touches it.
    pub fn ground_m(&self, x_m: f64) -> f64 {
        let slope_rad = self.person.slope().as_rad();
        let down_rad = slope_rad - std::f64::consts::FRAC_PI_2;
        let lowest = self.section.bark_at(self.section.bark_facing(down_rad));
        let below_m = lowest.coords.dot(&unit(down_rad)) + self.section.clearance().as_m();
        x_m * slope_rad.tan() - below_m / slope_rad.cos()
    }

    /// How high the branches stand, in the frame of the section, m.
    pub(super) fn tangle_top_y_m(&self) -> f64 {
        self.section.top_y_m() + self.tangle_above_m
    }

    /// True for a place off the wood among the branches.
    pub(super) fn in_tangle(&self, place: Point) -> bool {
        let beside = match self.tangle {
            Tangle::None => false,
            Tangle::Far => place.x > 0.0,
            Tangle::Near => place.x < 0.0,
        };
        beside && place.y < self.tangle_top_y_m()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Length;
    use approx::assert_relative_eq;

    fn log(diameter_mm: f64, clearance_mm: f64) -> LogSection {
        LogSection::round(Length::from_mm(diameter_mm), Length::from_mm(clearance_mm)).unwrap()
    }

    #[test]
    fn a_dragged_place_stops_at_the_end_of_the_arc() {
        let job = LogJob::new(log(560.0, 400.0), Stand::OneSide);
        let (place, side) = job.nearest_bark(Angle::from_deg(10.0)).unwrap();
        assert_relative_eq!(place.as_deg(), 20.0, epsilon = 1e-9);
        assert_eq!(side, Side::Near);
        let (place, _) = job.nearest_bark(Angle::from_deg(-170.0)).unwrap();
        assert_relative_eq!(place.as_deg(), 190.0, epsilon = 1e-9);
        let (place, _) = job.nearest_bark(Angle::from_deg(300.0)).unwrap();
        assert_relative_eq!(place.as_deg(), 290.0, epsilon = 1e-9);
    }

    #[test]
    fn a_log_that_lies_on_a_slope_touches_it() {
        let slope = Angle::from_deg(12.0);
        let person = Person::default().with_slope(slope).unwrap();
        for clearance_mm in [0.0, 250.0] {
            let job = LogJob::new(log(600.0, clearance_mm), Stand::OneSide).with_person(person);
            // The distance from the middle to a line y = x tan α + c is |c| cos α.
            let away = -job.ground_m(0.0) * slope.as_rad().cos();
            assert_relative_eq!(away, 0.3 + 1e-3 * clearance_mm, epsilon = 1e-12);
            assert_relative_eq!(job.ground_m(1.0) - job.ground_m(0.0), slope.as_rad().tan(), epsilon = 1e-12);
        }
    }

    #[test]
    fn limits_out_of_range_are_refused() {
        let deg = Angle::from_deg;
        assert!(SwingLimits::new(deg(44.0), deg(75.0)).unwrap_err().message.contains("45…90 °"));
        assert!(SwingLimits::new(deg(75.0), deg(f64::INFINITY)).is_err());
    }
}
