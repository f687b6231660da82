//! What an apprentice guesses before the figure is shown.

use crate::desk::format::{self, Units};
use barpoise_core::Solved;
use barpoise_core::lesson::Guessed;
use barpoise_core::units::{Angle, Force, Length, Mass};

/// A guess. Its value is in SI: rad nose down, m past the spikes, kg, or N.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guess {
    /// What is guessed.
    pub of: Guessed,
    /// The guess.
    pub value: f64,
    /// It was moved from where it stood at first.
    pub moved: bool,
    /// It is made: the true figure may be shown.
    pub told: bool,
}

/// What a guess can be, in SI, and its steps by keys.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GuessScale {
    /// Least.
    pub from: f64,
    /// Most.
    pub to: f64,
    /// An arrow key.
    pub step: f64,
    /// An arrow key with Shift.
    pub large_step: f64,
    /// Between two marks of the beam.
    pub mark: f64,
}

/// The mark of the tip can be slid so far ahead of the front hand, mm.
const TIP_SCALE_MM: f64 = 1200.0;

/// How far the tip lies ahead of the front grip, m.
fn tip_ahead(solved: &Solved) -> f64 {
    solved.nose.tip_x().as_m() - solved.front_grip().x
}

impl GuessScale {
    /// The scale of a figure, in round steps of the units in use.
    pub fn of(guessed: Guessed, solved: &Solved, units: Units) -> Self {
        let mm = |mm| Length::from_mm(mm).as_m();
        let (from, to, step, large_step, mark) = match guessed {
            Guessed::Hang => {
                let deg = |deg| Angle::from_deg(deg).as_rad();
                (deg(-15.0), deg(60.0), deg(1.0), deg(5.0), deg(15.0))
            }
            // The mark runs from the tail of the plate to the tip.
            Guessed::Reach => (mm(20.0), solved.nose.tip_x().as_m() - mm(20.0), mm(5.0), mm(50.0), mm(100.0)),
            // From the front hand to far beyond any bar, so that the scale gives nothing away.
            Guessed::Tip => {
                let ahead = tip_ahead(solved);
                let to = if ahead < mm(TIP_SCALE_MM) - mm(50.0) { mm(TIP_SCALE_MM) } else { 1.5 * ahead };
                (0.0, to, mm(5.0), mm(50.0), mm(100.0))
            }
            Guessed::Weight => {
                let unit = units.mass_from()(1.0).as_kg();
                let most = (15.0 / unit / 2.0).ceil() * 2.0;
                (0.0, most * unit, 0.1 * unit, unit, if most > 20.0 { 4.0 } else { 1.0 } * unit)
            }
            Guessed::FrontHand => {
                let unit = units.force_from()(1.0).as_n();
                let mark = if unit > 1.0 { 5.0 } else { 20.0 };
                let most = (200.0 / unit / mark).ceil() * mark;
                (0.0, most * unit, mark * unit / 20.0, mark * unit / 4.0, mark * unit)
            }
        };
        Self { from, to, step, large_step, mark }
    }

    /// A value brought within.
    pub fn within(&self, value: f64) -> f64 {
        value.clamp(self.from, self.to)
    }
}

impl Guess {
    /// A guess that nobody has made yet, where it gives nothing away.
    pub fn open(of: Guessed, scale: &GuessScale) -> Self {
        let value = match of {
            Guessed::Hang => 0.0,
            Guessed::Reach => scale.to,
            Guessed::Weight | Guessed::FrontHand | Guessed::Tip => scale.from,
        };
        Self { of, value, moved: false, told: false }
    }

    /// The true figure; `None` where the saw has none.
    pub fn truth(of: Guessed, solved: &Solved) -> Option<f64> {
        match of {
            Guessed::Hang => solved.hang.ok().map(Angle::as_rad),
            Guessed::Reach => Some(solved.reach.as_m()),
            Guessed::Tip => Some(tip_ahead(solved)),
            Guessed::Weight => Some(solved.ready_mass().as_kg()),
            Guessed::FrontHand => solved.hands.ok().map(|hands| hands.front.as_n()),
        }
    }

    /// A value of its kind as people read it.
    pub fn shown(of: Guessed, value: f64, units: Units) -> String {
        match of {
            Guessed::Hang => format::hang(Angle::from_rad(value)),
            Guessed::Reach | Guessed::Tip => units.length(Length::from_m(value)),
            Guessed::Weight => units.mass(Mass::from_kg(value)),
            Guessed::FrontHand => units.force(Force::from_n(value)),
        }
    }

    /// What a screen reader calls it, with the unit of [`Self::spoken`].
    pub fn name(of: Guessed, units: Units) -> String {
        match of {
            Guessed::Hang => "Your guess of the hang in degrees nose down".to_owned(),
            Guessed::Reach => format!("Your guess of the reach in {}", units.length_unit()),
            Guessed::Tip => {
                format!("Your guess of the tip ahead of the front hand in {}", units.length_unit())
            }
            Guessed::Weight => format!("Your guess of the weight in {}", units.mass_unit()),
            Guessed::FrontHand => format!("Your guess of the front hand's load in {}", units.force_unit()),
        }
    }

    /// Its value in the unit of its name.
    pub fn spoken(of: Guessed, value: f64, units: Units) -> f64 {
        match of {
            Guessed::Hang => Angle::from_rad(value).as_deg(),
            Guessed::Reach | Guessed::Tip => units.length_value(Length::from_m(value)),
            Guessed::Weight => units.mass_value(Mass::from_kg(value)),
            Guessed::FrontHand => units.force_value(Force::from_n(value)),
        }
    }

    /// The value that a screen reader set in that unit.
    pub fn from_spoken(of: Guessed, spoken: f64, units: Units) -> f64 {
        match of {
            Guessed::Hang => Angle::from_deg(spoken).as_rad(),
            Guessed::Reach | Guessed::Tip => {
                let length: fn(f64) -> Length = units.length_from();
                length(spoken).as_m()
            }
            Guessed::Weight => units.mass_from()(spoken).as_kg(),
            Guessed::FrontHand => units.force_from()(spoken).as_n(),
        }
    }

    /// Moves the guess; once the figure is told it stays.
    pub fn move_to(&mut self, value: f64, scale: &GuessScale) {
        if !self.told && value.is_finite() {
            self.value = scale.within(value);
            self.moved = true;
        }
    }
}
