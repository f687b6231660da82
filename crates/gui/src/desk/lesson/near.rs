//! How near a guess must come: as good as right, or close.

use barpoise_core::lesson::Guessed;
use barpoise_core::units::{Angle, Length};
use barpoise_core::{Assumption, Size};

/// A guess nearer than the first is as good as right, nearer than the second close: our guess.
const HANG: (Angle, Angle) = (Angle::from_deg(2.0), Angle::from_deg(6.0));
const REACH: (Length, Length) = (Length::from_mm(15.0), Length::from_mm(50.0));
/// The same as shares of the figure.
const WEIGHT: (f64, f64) = (0.03, 0.12);
const FRONT_HAND: (f64, f64) = (0.05, 0.15);

/// From where on a guess is called good, and close.
pub const GUESS_ASSUMPTIONS: [Assumption; 8] = [
    Assumption::guess("a hang as good as measured within", Size::Angle(HANG.0.as_rad())),
    Assumption::guess("a hang close within", Size::Angle(HANG.1.as_rad())),
    Assumption::guess(
        "a reach or the place of a tip as good as measured within",
        Size::Length(REACH.0.as_m()),
    ),
    Assumption::guess("a reach or the place of a tip close within", Size::Length(REACH.1.as_m())),
    Assumption::guess("a weight as good as measured within", Size::Share(WEIGHT.0)),
    Assumption::guess("a weight close within", Size::Share(WEIGHT.1)),
    Assumption::guess("a hand's load as good as measured within", Size::Share(FRONT_HAND.0)),
    Assumption::guess("a hand's load close within", Size::Share(FRONT_HAND.1)),
];

/// Both in the unit of what is guessed, SI.
pub(super) fn near(guessed: Guessed, truth: f64) -> (f64, f64) {
    let share = |(right, close): (f64, f64)| (right * truth.abs(), close * truth.abs());
    match guessed {
        Guessed::Hang => (HANG.0.as_rad(), HANG.1.as_rad()),
        Guessed::Reach | Guessed::Tip => (REACH.0.as_m(), REACH.1.as_m()),
        Guessed::Weight => share(WEIGHT),
        Guessed::FrontHand => share(FRONT_HAND),
    }
}
