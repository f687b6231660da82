//! How the figures of a saw follow the numbers of the yard, for whoever carries the yard's doubt further.

use super::knowledge::Knowledge;
use super::saw_model::{Figure, SawModel};
use crate::saw::{Origin, OriginBar, Setup};
use crate::units::Angle;
use crate::yard::SawMeasure;
use nalgebra::DVector;

/// Something that follows the numbers of a yard in a straight line.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct LinearForm {
    /// Its derivatives by the numbers that are known, in the order of [`Knowledge::unknowns`].
    pub(crate) by_known: DVector<f64>,
    /// How much it moves with one standard uncertainty of what a made-up bar is unsure of by itself: its mass, and the
    /// place of its nose.
    pub(crate) by_own: [f64; 2],
}

impl LinearForm {
    /// Adds another, so many times.
    pub(crate) fn add(&mut self, other: &Self, times: f64) {
        self.by_known.axpy(times, &other.by_known, 1.0);
        for (own, more) in self.by_own.iter_mut().zip(other.by_own) {
            *own += times * more;
        }
    }
}

/// A form with what it takes to hold it against many others.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Spread {
    by_known: DVector<f64>,
    /// The covariance of what is known, times that.
    by_covariance: DVector<f64>,
    variance: f64,
}

impl Spread {
    /// The standard uncertainty of the difference of two forms: what moves both alike moves it not at all. What made-up
    /// bars are unsure of by themselves is each one's own.
    pub(crate) fn of_difference(&self, other: &Self) -> f64 {
        let together = self.by_known.dot(&other.by_covariance);
        (self.variance + other.variance - 2.0 * together).max(0.0).sqrt()
    }
}

/// What a choice looks at in a saw by itself, and what moves it about a wood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum SawFigure {
    /// Reach past the spikes, m.
    Reach,
    /// Mass ready to work, kg.
    Mass,
    /// Place of the centre of gravity ahead of the spikes, m.
    Ahead,
    /// Its height, m.
    Height,
    /// Hang angle, rad.
    Hang,
    /// Load in the front hand with the saw level, kg.
    FrontHand,
}

impl SawFigure {
    pub(crate) const ALL: [Self; 6] =
        [Self::Reach, Self::Mass, Self::Ahead, Self::Height, Self::Hang, Self::FrontHand];

    const fn figure(self) -> Figure {
        match self {
            Self::Reach => Figure::Measured(SawMeasure::Reach),
            Self::Mass => Figure::Measured(SawMeasure::Total),
            Self::Ahead => Figure::Measured(SawMeasure::BalancePoint),
            Self::Height => Figure::CentreHeight,
            Self::Hang => Figure::Measured(SawMeasure::Hang),
            Self::FrontHand => Figure::Measured(SawMeasure::FrontGrip { nose_up: Angle::ZERO }),
        }
    }
}

impl Knowledge {
    /// How each figure of a setup follows the numbers known, in the order of [`SawFigure::ALL`]; `None` for a figure without
    /// a value. `origin` says of a made-up bar which bars it comes of; without one it is a bar of the yard.
    pub(crate) fn forms(&self, setup: &Setup, origin: Option<&Origin>) -> Vec<Option<LinearForm>> {
        let model = SawModel::new(setup);
        let own = origin.map(|origin| self.own(origin)).unwrap_or_default();
        let itself = [OriginBar::itself(setup.bar().name())];
        let bars = origin.map_or(itself.as_slice(), |origin| origin.bars.as_slice());
        let form = |figure: SawFigure| {
            let (_, gradient) = model.figure(figure.figure(), model.values())?;
            Some(LinearForm { by_known: self.spread(setup, bars, &gradient), by_own: own.moving(&gradient) })
        };
        SawFigure::ALL.into_iter().map(form).collect()
    }

    /// The standard uncertainty of a form, SI.
    pub(crate) fn uncertainty_of(&self, form: &LinearForm) -> f64 {
        let [mass, nose] = form.by_own;
        self.uncertainty_along(&form.by_known).hypot(mass.hypot(nose))
    }

    /// How a form spreads.
    pub(crate) fn spread_of(&self, form: LinearForm) -> Spread {
        let by_covariance = self.spread_along(&form.by_known);
        let own: f64 = form.by_own.iter().map(|own| own * own).sum();
        let variance = form.by_known.dot(&by_covariance) + own;
        Spread { by_known: form.by_known, by_covariance, variance }
    }
}
