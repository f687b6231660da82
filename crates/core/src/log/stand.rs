//! Where the operator stands and what bark the spikes reach from there.

use crate::fault::Fault;
use crate::section::{Side, checked, limits};
use crate::units::Angle;
use std::f64::consts::{PI, TAU};

/// Bark that the near side may use: from 20° above the far side over the top and down to 20° past straight below (our
/// guess; no pose comes near its ends).
pub(super) const FARTHEST_OVER_RAD: f64 = 20.0 / 180.0 * PI;
pub(super) const LOWEST_UNDER_RAD: f64 = 290.0 / 180.0 * PI;
/// How far past an arc's end a place on the bark still counts as on it, rad; far below what a hand can set.
const ARC_MARGIN_RAD: f64 = 1e-9;

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
            return Err(Fault { path: "bark.to".to_owned(), message });
        }
        Ok(Self { from_rad: from.as_rad(), to_rad: to.as_rad(), side })
    }

    /// From one bark angle counter-clockwise to another, rad.
    pub(super) fn between((from_rad, to_rad): (f64, f64), side: Side) -> Option<Self> {
        Self::new(Angle::from_rad(from_rad), Angle::from_rad(to_rad), side).ok()
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
        if offset - self.span_rad() <= TAU - offset { self.to_rad } else { self.from_rad }
    }

    fn offset_rad(&self, bark_rad: f64) -> f64 {
        let offset = (bark_rad - self.from_rad).rem_euclid(TAU);
        if offset > TAU - ARC_MARGIN_RAD { 0.0 } else { offset }
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

    /// Bark the spikes may be set in by default: all of it but what lies so far round that the bar would point at the
    /// operator. What of it can be held is for the pose to say.
    pub fn reachable_bark(self) -> Vec<BarkArc> {
        let near = BarkArc { from_rad: FARTHEST_OVER_RAD, to_rad: LOWEST_UNDER_RAD, side: Side::Near };
        let far = BarkArc { from_rad: PI - near.to_rad, to_rad: PI - near.from_rad, side: Side::Far };
        match self {
            Self::OneSide => vec![near],
            Self::BothSides | Self::WalkRound => vec![near, far],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn the_two_sides_mirror_each_other_and_hold_all_bark_but_what_faces_away() {
        let both = Stand::BothSides.reachable_bark();
        assert_eq!(Stand::WalkRound.reachable_bark(), both);
        assert_eq!(Stand::OneSide.reachable_bark(), both[..1]);
        let (near, far) = (both[0], both[1]);
        assert_relative_eq!(near.span_rad(), far.span_rad(), epsilon = 1e-12);
        for degrees in 0..360 {
            let bark = f64::from(degrees).to_radians() + 1e-3;
            assert_eq!(near.holds(bark), far.holds(PI - bark), "{degrees}");
            // Nobody needs the middle of the bark that is farthest from them: the other one stands there.
            assert!(near.holds(bark) || far.holds(bark), "{degrees}");
        }
        assert!(near.holds(PI) && near.holds(0.5 * PI) && near.holds(1.5 * PI) && !near.holds(0.0));
    }

    #[test]
    fn bark_out_of_range_is_refused() {
        let deg = Angle::from_deg;
        assert!(BarkArc::new(deg(200.0), deg(100.0), Side::Near).is_err());
        assert!(BarkArc::new(deg(-10.0), deg(400.0), Side::Near).is_err());
        assert!(BarkArc::new(deg(f64::NAN), deg(100.0), Side::Near).is_err());
    }
}
