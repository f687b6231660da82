//! Where the operator stands, what that lets the spikes reach, and what the log does to the cut.

use super::limits::{self, checked};
use super::section::LogSection;
use crate::fault::Fault;
use crate::geometry::Point;
use crate::units::Angle;
use std::f64::consts::{PI, TAU};

/// Uppermost bark reached from the near side, counter-clockwise from the far side (common practice, no source).
const OVER_THE_TOP_RAD: f64 = PI / 3.0;
/// Lowest bark reached from the near side of a log that lies high enough (common practice, no source).
const BELOW_THE_BELLY_RAD: f64 = 220.0 / 180.0 * PI;
/// Room a powerhead needs between the spikes and the ground, m (common practice, no source).
const POWERHEAD_ROOM_M: f64 = 0.1;
/// Eye of a standing operator above the ground and in front of the bark, m (common practice, no source).
const EYE_HEIGHT_M: f64 = 1.6;
const EYE_DISTANCE_M: f64 = 0.5;
/// How far past an arc's end a place on the bark still counts as on it, rad; far below what a hand can set.
const ARC_MARGIN_RAD: f64 = 1e-9;

/// A side of the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Side {
    /// −x, where the operator stands first.
    Near,
    /// +x.
    Far,
}

/// Where the operator may stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Stand {
    /// On the near side only.
    OneSide,
    /// On the near side, then on the far side.
    BothSides,
    /// All round the log, the underside as far as the ground leaves room.
    WalkRound,
}

/// A piece of bark the spikes can reach from one side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BarkArc {
    from_rad: f64,
    to_rad: f64,
    side: Side,
}

impl BarkArc {
    /// Bark from `from` counter-clockwise to `to`; both counter-clockwise from +x, the far side. The ends may
    /// pass a full turn (−40° … 120°).
    ///
    /// # Errors
    /// An end outside −360…720°, ends the wrong way round, or more than a full turn.
    pub fn new(from: Angle, to: Angle, side: Side) -> Result<Self, Fault> {
        checked("bark.from", &limits::BARK_ANGLE, from.as_deg())?;
        checked("bark.to", &limits::BARK_ANGLE, to.as_deg())?;
        let span = to.as_rad() - from.as_rad();
        if !(0.0..=TAU).contains(&span) {
            let message = format!(
                "bark from {:.1}° to {:.1}° must run counter-clockwise by 0…360°",
                from.as_deg(),
                to.as_deg()
            );
            return Err(Fault {
                path: "bark.to".to_owned(),
                message,
            });
        }
        Ok(Self {
            from_rad: from.as_rad(),
            to_rad: to.as_rad(),
            side,
        })
    }

    /// Where it starts, counter-clockwise from +x, rad.
    pub const fn from_rad(&self) -> f64 {
        self.from_rad
    }

    /// Where it ends, counter-clockwise from +x, rad; never before the start.
    pub const fn to_rad(&self) -> f64 {
        self.to_rad
    }

    /// How much bark, rad.
    pub fn span_rad(&self) -> f64 {
        self.to_rad - self.from_rad
    }

    /// Where the operator stands to reach it.
    pub const fn side(&self) -> Side {
        self.side
    }

    /// True where the arc holds a place on the bark.
    pub fn holds(&self, bark_rad: f64) -> bool {
        self.offset_rad(bark_rad) <= self.span_rad() + ARC_MARGIN_RAD
    }

    /// The place on this arc nearest to a place on the bark, along the bark.
    pub fn nearest_rad(&self, bark_rad: f64) -> f64 {
        let offset = self.offset_rad(bark_rad);
        if offset <= self.span_rad() {
            return self.from_rad + offset;
        }
        if offset - self.span_rad() <= TAU - offset {
            self.to_rad
        } else {
            self.from_rad
        }
    }

    fn offset_rad(&self, bark_rad: f64) -> f64 {
        let offset = (bark_rad - self.from_rad).rem_euclid(TAU);
        if offset > TAU - ARC_MARGIN_RAD {
            0.0
        } else {
            offset
        }
    }

    /// Longer by the same at both ends, at most once round.
    pub(super) fn longer(&self, by_rad: f64) -> Self {
        let by = by_rad.min(0.5 * (TAU - self.span_rad()));
        Self {
            from_rad: self.from_rad - by,
            to_rad: self.to_rad + by,
            side: self.side,
        }
    }
}

impl Stand {
    /// The words for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::OneSide => "one side",
            Self::BothSides => "both sides",
            Self::WalkRound => "walk round",
        }
    }

    /// Bark within reach by default (common practice, no source): from the near side from 60°, over the top,
    /// down to 220°, but no lower than the powerhead has 100 mm of room above the ground, and always down to the
    /// near side itself; from both sides the same mirrored; walking round, each half of the bark down to where
    /// the ground stops the powerhead.
    pub fn reachable_bark(self, section: &LogSection) -> Vec<BarkArc> {
        let (top, lowest) = match self {
            Self::OneSide | Self::BothSides => (OVER_THE_TOP_RAD, BELOW_THE_BELLY_RAD),
            Self::WalkRound => (0.5 * PI, 1.5 * PI),
        };
        let near = BarkArc {
            from_rad: top,
            to_rad: lowest_with_room(section, lowest),
            side: Side::Near,
        };
        let far = BarkArc {
            from_rad: PI - near.to_rad,
            to_rad: PI - near.from_rad,
            side: Side::Far,
        };
        match self {
            Self::OneSide => vec![near],
            Self::BothSides | Self::WalkRound => vec![near, far],
        }
    }
}

/// The lowest bark on the near side with room for the powerhead, between 180° and `lowest`.
fn lowest_with_room(section: &LogSection, lowest_rad: f64) -> f64 {
    let floor = section.ground_y_m() + POWERHEAD_ROOM_M;
    if section.bark_at(lowest_rad).y >= floor {
        return lowest_rad;
    }
    let (mut room, mut none) = (PI, lowest_rad);
    // Halving 90° thirty times leaves 1e-9 rad.
    for _ in 0..30 {
        let middle = 0.5 * (room + none);
        if section.bark_at(middle).y >= floor {
            room = middle;
        } else {
            none = middle;
        }
    }
    room
}

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
        Ok(Self {
            upward_rad: upward.as_rad(),
            downward_rad: downward.as_rad(),
        })
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
        Self {
            upward_rad: limit_rad,
            downward_rad: limit_rad,
        }
    }
}

/// Where branches and brush stand against the log, as high as its top.
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
    bind: Bind,
}

impl LogJob {
    /// A log with the bark, swing and clear ground that go with a stand by default.
    pub fn new(section: LogSection, stand: Stand) -> Self {
        let bark = stand.reachable_bark(&section);
        Self {
            section,
            stand,
            bark,
            swing: SwingLimits::default(),
            tangle: Tangle::None,
            bind: Bind::None,
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

    /// The same with a bind.
    #[must_use]
    pub const fn with_bind(mut self, bind: Bind) -> Self {
        self.bind = bind;
        self
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
            .map(|arc| (arc.nearest_rad(place), arc.side))
            .min_by(|a, b| away(a.0).total_cmp(&away(b.0)))
            .map(|(rad, side)| (Angle::from_rad(rad), side))
    }

    /// Where the operator's eye is: standing, half a metre from the bark, m.
    pub(super) fn eye(&self, side: Side) -> Point {
        let x = 0.5 * self.section.width().as_m() + EYE_DISTANCE_M;
        let y = self.section.ground_y_m() + EYE_HEIGHT_M;
        Point::new(if side == Side::Near { -x } else { x }, y)
    }

    /// True for a place off the wood among the branches.
    pub(super) fn in_tangle(&self, place: Point) -> bool {
        let beside = match self.tangle {
            Tangle::None => false,
            Tangle::Far => place.x > 0.0,
            Tangle::Near => place.x < 0.0,
        };
        beside && place.y < self.section.top_y_m()
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
    fn the_ground_stops_the_powerhead_low_on_the_near_side() {
        let high = Stand::OneSide.reachable_bark(&log(560.0, 400.0));
        assert_relative_eq!(high[0].to_rad(), 220.0_f64.to_radians(), epsilon = 1e-12);
        let low = Stand::OneSide.reachable_bark(&log(400.0, 0.0));
        // 100 mm of room on a 400 mm log: half its radius below the middle, 30° below the near side.
        assert_relative_eq!(low[0].to_rad(), 210.0_f64.to_radians(), epsilon = 1e-8);
        let twig = Stand::OneSide.reachable_bark(&log(60.0, 0.0));
        assert_relative_eq!(twig[0].to_rad(), PI, epsilon = 1e-8);
    }

    #[test]
    fn walking_round_a_high_log_reaches_all_of_it() {
        let bark = Stand::WalkRound.reachable_bark(&log(800.0, 500.0));
        assert_relative_eq!(
            bark.iter().map(BarkArc::span_rad).sum::<f64>(),
            TAU,
            epsilon = 1e-12
        );
    }

    #[test]
    fn a_dragged_place_stops_at_the_end_of_the_arc() {
        let job = LogJob::new(log(560.0, 400.0), Stand::OneSide);
        let (place, side) = job.nearest_bark(Angle::from_deg(20.0)).unwrap();
        assert_relative_eq!(place.as_deg(), 60.0, epsilon = 1e-9);
        assert_eq!(side, Side::Near);
        let (place, _) = job.nearest_bark(Angle::from_deg(-170.0)).unwrap();
        assert_relative_eq!(place.as_deg(), 190.0, epsilon = 1e-9);
        let (place, _) = job.nearest_bark(Angle::from_deg(300.0)).unwrap();
        assert_relative_eq!(place.as_deg(), 220.0, epsilon = 1e-9);
    }

    #[test]
    fn bark_and_limits_out_of_range_are_refused() {
        let deg = Angle::from_deg;
        assert!(BarkArc::new(deg(200.0), deg(100.0), Side::Near).is_err());
        assert!(BarkArc::new(deg(-10.0), deg(400.0), Side::Near).is_err());
        assert!(BarkArc::new(deg(f64::NAN), deg(100.0), Side::Near).is_err());
        assert!(
            SwingLimits::new(deg(44.0), deg(75.0))
                .unwrap_err()
                .message
                .contains("45…90 °")
        );
        assert!(SwingLimits::new(deg(75.0), deg(f64::INFINITY)).is_err());
    }
}
