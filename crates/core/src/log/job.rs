//! A log as it lies: its section, the bark within reach, how far the bar swings, branches and bind.

use super::stand::{BarkArc, Stand};
use crate::fault::Fault;
use crate::geometry::Point;
use crate::person::{Body, Person};
use crate::section::{LogSection, Side, checked, limits, unit};
use crate::units::{Angle, Length};
use std::f64::consts::{FRAC_PI_2, TAU};

/// How far in front of the bark the eye of the standing operator is, m (our guess).
pub(super) const EYE_DISTANCE_M: f64 = 0.5;

/// How far the bar turns either way where nothing is said, rad (our guess).
pub(super) const SWING_RAD: f64 = 75.0_f64.to_radians();

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
    fn default() -> Self {
        Self { upward_rad: SWING_RAD, downward_rad: SWING_RAD }
    }
}

/// How far branches stand above the log's top by default, m (our guess: knee-high limb wood).
pub(super) const TANGLE_ABOVE_M: f64 = 0.4;

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
    /// Height of the ground under the middle of the section, m.
    ground_under_m: f64,
}

impl LogJob {
    /// A log with the bark, swing and clear ground that go with a stand by default.
    pub fn new(section: LogSection, stand: Stand) -> Self {
        let bark = stand.reachable_bark();
        let person = Person::default();
        Self {
            ground_under_m: ground_under_m(&section, &person),
            section,
            stand,
            bark,
            swing: SwingLimits::default(),
            tangle: Tangle::None,
            tangle_above_m: TANGLE_ABOVE_M,
            bind: Bind::None,
            person,
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
        Self { ground_under_m: ground_under_m(&section, &self.person), section, ..self.clone() }
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
    pub fn with_person(mut self, person: Person) -> Self {
        self.ground_under_m = ground_under_m(&self.section, &person);
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

    /// Height of the ground at a place across the log, in the frame of the section, m.
    pub fn ground_m(&self, x_m: f64) -> f64 {
        self.ground_under_m + x_m * self.person.slope().as_rad().tan()
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

/// Height of the ground under the middle of a section, m: the bark clears it by the section's clearance, measured square
/// to the slope.
fn ground_under_m(section: &LogSection, person: &Person) -> f64 {
    let slope_rad = person.slope().as_rad();
    let down = unit(slope_rad - FRAC_PI_2);
    let lowest = section.bark_at(section.bark_facing(slope_rad - FRAC_PI_2));
    -(lowest.coords.dot(&down) + section.clearance().as_m()) / slope_rad.cos()
}

#[cfg(test)]
mod tests {
    use super::super::nose::nose;
    use super::super::{CuttingBar, Setting};
    use super::*;
    use crate::file;
    use crate::person::{SawBody, Standing, Survey};
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

    fn on_slope(section: LogSection, degrees: f64) -> LogJob {
        let person = Person::new(Length::from_mm(1756.0), Survey::Men).unwrap();
        let person = person.with_slope(Angle::from_deg(degrees)).unwrap();
        LogJob::new(section, Stand::BothSides).with_person(person)
    }

    #[test]
    fn the_ground_of_a_job_is_the_ground_its_person_stands_on() {
        let saw = SawBody::of(&file::demo().unwrap().powerheads()[0]);
        let mm = Length::from_mm;
        for slope in [-10.0, 0.0, 4.0, 25.0] {
            for section in [log(560.0, 300.0), LogSection::oval(mm(700.0), mm(500.0), mm(0.0)).unwrap()] {
                // Before a person, and before a section.
                let job = on_slope(log(300.0, 0.0), slope).with_section(section.clone());
                assert_eq!(job, on_slope(section.clone(), slope));
                for side in [Side::Near, Side::Far] {
                    let standing = Standing::new(&section, side, &saw, job.person());
                    for x_m in [-0.9, 0.0, 0.3] {
                        assert_relative_eq!(job.ground_m(x_m), standing.ground_m(x_m), epsilon = 1e-12);
                    }
                }
            }
        }
    }

    #[test]
    fn a_log_on_a_slope_lies_on_it() {
        // Round and touching: the foot of the square from its middle to the ground is its radius away.
        let job = on_slope(log(500.0, 0.0), 10.0);
        assert_relative_eq!(job.ground_m(0.0) * 10.0_f64.to_radians().cos(), -0.25, epsilon = 1e-12);
        // A tip that is above level ground under the log is in the ground uphill: 300 mm past the bark on the far side,
        // a little below the middle.
        let (mm, deg) = (Length::from_mm, Angle::from_deg);
        let bar = CuttingBar::new(mm(800.0), mm(45.0), mm(36.0)).unwrap();
        let hidden = |slope: f64| {
            let job = on_slope(log(500.0, 0.0), slope);
            let setting = Setting::new(&job, deg(180.0), Side::Near, deg(-12.0), deg(-14.0)).unwrap();
            let nose = nose(&job, &bar, &[], &setting).unwrap();
            (nose.into_ground_m, nose.out_travel_m, nose.hidden_travel_m)
        };
        let (level, uphill) = (hidden(0.0), hidden(10.0));
        assert_relative_eq!(level.0, 0.0, epsilon = 1e-12);
        let tip = |degrees: f64| {
            let (sin, cos) = degrees.to_radians().sin_cos();
            (0.8 * cos - 0.25, -0.8 * sin)
        };
        let (x, y) = tip(14.0);
        let ground = x * 10.0_f64.to_radians().tan() - 0.25 / 10.0_f64.to_radians().cos();
        assert_relative_eq!(uphill.0, ground - y, epsilon = 1e-9);
        assert!(uphill.0 > 0.01 && uphill.2 > level.2, "{level:?} {uphill:?}");
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
