//! Why a person cannot hold the saw so, in numbers, places and words.

use super::body::Hand;
use super::posture::Barrier;
use crate::geometry::Point;

/// What stands against a hold, by how much, and where. Places in the frame of the log, m.
///
/// Of what meets bark or ground it is the worst; of the postures it is what the nearest of them lacks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WhyNot {
    /// A hand has no room before the bark.
    HandInBark {
        /// The hand.
        hand: Hand,
        /// Room that is missing, m.
        by_m: f64,
        /// The grip off the bark, m; negative in the wood.
        outside_m: f64,
        /// The grip.
        at: Point,
    },
    /// A hand has no room above the ground.
    HandInGround {
        /// The hand.
        hand: Hand,
        /// Room that is missing, m.
        by_m: f64,
        /// The grip above the ground, m; negative in the ground.
        above_m: f64,
        /// The grip.
        at: Point,
    },
    /// The powerhead is in the wood.
    HeadInBark {
        /// How deep, m.
        by_m: f64,
        /// Where it is deepest.
        at: Point,
    },
    /// The powerhead is in the ground.
    HeadInGround {
        /// How deep, m.
        by_m: f64,
        /// Where it is deepest.
        at: Point,
    },
    /// Spikes or a grip are above the shoulder of the person standing, or kneeling, upright.
    AboveShoulder {
        /// By how much, m.
        by_m: f64,
        /// The highest of spikes and grips.
        at: Point,
        /// True where the shoulder is that of the person kneeling.
        kneeling: bool,
    },
    /// A hand does not get to its grip.
    ArmTooShort {
        /// The hand.
        hand: Hand,
        /// What is missing, m.
        by_m: f64,
        /// The grip.
        at: Point,
        /// The shoulder.
        shoulder: Point,
        /// What keeps the person from coming nearer.
        barrier: Barrier,
    },
    /// A grip is so near its shoulder that the elbow cannot bend as far.
    ArmCramped {
        /// The hand.
        hand: Hand,
        /// How much farther away the shoulder would have to be, m.
        by_m: f64,
        /// The grip.
        at: Point,
    },
    /// A grip is behind the body.
    HandBehind {
        /// The hand.
        hand: Hand,
        /// How far, m.
        by_m: f64,
        /// The grip.
        at: Point,
    },
    /// The weight of body and saw comes before the feet.
    FallsForward {
        /// How much nearer to the feet the hips would have to be, m.
        by_m: f64,
        /// The hip.
        at: Point,
    },
    /// No such place or direction: a number that is none.
    NoNumber,
}

impl WhyNot {
    /// How much is missing, m.
    pub const fn by_m(&self) -> f64 {
        match *self {
            Self::HandInBark { by_m, .. }
            | Self::HandInGround { by_m, .. }
            | Self::HeadInBark { by_m, .. }
            | Self::HeadInGround { by_m, .. }
            | Self::AboveShoulder { by_m, .. }
            | Self::ArmTooShort { by_m, .. }
            | Self::ArmCramped { by_m, .. }
            | Self::HandBehind { by_m, .. }
            | Self::FallsForward { by_m, .. } => by_m,
            Self::NoNumber => f64::INFINITY,
        }
    }

    /// Where, in the frame of the log, m.
    pub const fn at(&self) -> Option<Point> {
        match *self {
            Self::HandInBark { at, .. }
            | Self::HandInGround { at, .. }
            | Self::HeadInBark { at, .. }
            | Self::HeadInGround { at, .. }
            | Self::AboveShoulder { at, .. }
            | Self::ArmTooShort { at, .. }
            | Self::ArmCramped { at, .. }
            | Self::HandBehind { at, .. }
            | Self::FallsForward { at, .. } => Some(at),
            Self::NoNumber => None,
        }
    }

    /// True where it is the saw that has no room, whoever holds it.
    pub const fn is_saw(&self) -> bool {
        matches!(
            self,
            Self::HandInBark { .. }
                | Self::HandInGround { .. }
                | Self::HeadInBark { .. }
                | Self::HeadInGround { .. }
        )
    }

    /// One line, lengths in millimetres.
    pub fn words(&self) -> String {
        self.words_with(&|metres| format!("{:.0} mm", metres * 1e3))
    }

    /// One line, lengths as `length` writes them from metres.
    pub fn words_with(&self, length: &dyn Fn(f64) -> String) -> String {
        match *self {
            Self::HandInBark { hand, by_m, outside_m, .. } => {
                if outside_m < 0.0 {
                    format!("{} hand {} in the wood", hand.words(), length(-outside_m))
                } else {
                    format!("{} hand {} too near the bark", hand.words(), length(by_m))
                }
            }
            Self::HandInGround { hand, by_m, above_m, .. } => {
                if above_m < 0.0 {
                    format!("{} handle {} in the ground", hand.words(), length(-above_m))
                } else {
                    format!("{} hand {} too near the ground", hand.words(), length(by_m))
                }
            }
            Self::HeadInBark { by_m, .. } => format!("powerhead {} in the wood", length(by_m)),
            Self::HeadInGround { by_m, .. } => format!("powerhead {} in the ground", length(by_m)),
            Self::AboveShoulder { by_m, kneeling: false, .. } => {
                format!("{} above the shoulder", length(by_m))
            }
            Self::AboveShoulder { by_m, .. } => format!("kneeling, {} above the shoulder", length(by_m)),
            Self::ArmTooShort { hand, by_m, barrier, .. } => {
                let held = match barrier {
                    Barrier::Feet => "no room for the feet any nearer",
                    Barrier::Legs => "legs against the log",
                    Barrier::Trunk => "trunk against the log",
                    Barrier::Head => "head against the log",
                    Barrier::Balance => "any nearer they would fall forward",
                    Barrier::OtherHand => "the other hand holds them back",
                    Barrier::Height => "the grip is too low or too high",
                };
                format!("{} arm {} too short: {held}", hand.words(), length(by_m))
            }
            Self::ArmCramped { hand, by_m, .. } => {
                format!("{} hand {} too near its shoulder", hand.words(), length(by_m))
            }
            Self::HandBehind { hand, by_m, .. } => {
                format!("{} hand {} behind the body", hand.words(), length(by_m))
            }
            Self::FallsForward { by_m, .. } => {
                format!("would fall forward: the weight {} before the feet", length(by_m))
            }
            Self::NoNumber => "no such place".to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_say_what_lacks_and_by_how_much() {
        let at = Point::origin();
        let (hand, by_m) = (Hand::Front, 0.032);
        let said = |why: WhyNot| why.words();
        assert_eq!(
            said(WhyNot::HandInBark { hand, by_m, outside_m: 0.018, at }),
            "front hand 32 mm too near the bark"
        );
        assert_eq!(
            said(WhyNot::HandInBark { hand, by_m: 0.07, outside_m: -0.02, at }),
            "front hand 20 mm in the wood"
        );
        assert_eq!(
            said(WhyNot::HandInGround { hand: Hand::Rear, by_m: 0.2, above_m: -0.14, at }),
            "rear handle 140 mm in the ground"
        );
        assert_eq!(said(WhyNot::HeadInBark { by_m, at }), "powerhead 32 mm in the wood");
        assert_eq!(
            said(WhyNot::AboveShoulder { by_m, at, kneeling: true }),
            "kneeling, 32 mm above the shoulder"
        );
        let short = WhyNot::ArmTooShort { hand, by_m, at, shoulder: at, barrier: Barrier::Trunk };
        assert_eq!(said(short), "front arm 32 mm too short: trunk against the log");
        assert_eq!(
            short.words_with(&|metres| format!("{:.2} in", metres / 0.0254)).matches("1.26 in").count(),
            1
        );
        assert_eq!(short.at(), Some(at));
        assert!(!short.is_saw() && WhyNot::HeadInGround { by_m, at }.is_saw());
        assert!(WhyNot::NoNumber.at().is_none() && WhyNot::NoNumber.by_m().is_infinite());
    }
}
