//! The uncertainty of a setup's figures.

use super::knowledge::Knowledge;
use super::linear_form::LinearForm;
use super::prior::BAR_GEOMETRY_SHARE;
use super::saw_model::{BAR_MASS, Figure, Gradient, NOSE_PLACE, SawModel};
use crate::propose::PLATE_LENGTH;
use crate::record::{Quantity, Unknown};
use crate::saw::{BarFamily, Origin, OriginBar, Setup};
use crate::units::{Angle, Force, Inertia, Length, Mass, STANDARD_GRAVITY_M_S2, Torque};
use crate::yard::SawMeasure;

/// What a made-up bar is unsure of by itself, beside what it has from the rack's bars: standard uncertainties.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Own {
    mass_kg: f64,
    nose_m: f64,
}

impl Own {
    /// How much one standard uncertainty of each moves a figure with this gradient.
    pub(super) fn moving(&self, gradient: &Gradient) -> [f64; 2] {
        [gradient[BAR_MASS] * self.mass_kg, gradient[NOSE_PLACE] * self.nose_m]
    }
}

/// Standard uncertainties of the figures of one setup, by linear propagation (JCGM 100:2008, 5.2). `None` where the
/// figure itself has no value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bands {
    /// Of the weight ready to work.
    pub ready_mass: Option<Mass>,
    /// Of the hang angle.
    pub hang: Option<Angle>,
    /// Of the load in the front hand, the saw level.
    pub front_hand: Option<Force>,
    /// Of the load in the rear hand, the saw level.
    pub rear_hand: Option<Force>,
    /// Of the nose moment.
    pub nose_moment: Option<Torque>,
    /// Of the inertia about the front grip.
    pub swing_inertia: Option<Inertia>,
    /// Of the reach past the spikes.
    pub reach: Option<Length>,
}

impl Knowledge {
    /// The uncertainty of a setup's figures. Its bar is one of the yard's.
    pub fn bands(&self, setup: &Setup) -> Bands {
        self.bands_with(setup, &[OriginBar::itself(setup.bar().name())], Own::default())
    }

    /// The uncertainty of the figures of a bar that a family makes up to this overall length. Its mass and the place
    /// of its nose follow those of the rack's bars it lies between, and between two that are known apart it is no surer
    /// than they are: what the mean of two would gain is added again. What it has more or less plate than the nearer
    /// of them is only as sure as a bar known by its outline, and its nose beyond the last one's as a proposed length.
    pub fn bands_made_up(&self, setup: &Setup, family: &BarFamily, overall: Length) -> Bands {
        let origin = family.origin(overall, setup.bar().mass());
        self.bands_with(setup, &origin.bars, self.own(&origin))
    }

    /// What a bar made up of others is unsure of beside what it has from them.
    pub(super) fn own(&self, origin: &Origin) -> Own {
        // Of variances v in parts p the mean has Σp²v and what lies between them Σpv: (1/p − 1) of (pv)·p is gained.
        let gained = |quantity: Quantity, slope: fn(&OriginBar) -> f64| -> f64 {
            let of = |bar: &OriginBar| {
                let known = self.uncertainty(&Unknown::new(&bar.name, quantity)).unwrap_or(0.0);
                let share = (slope(bar) * known).powi(2);
                // A part of nothing brings nothing.
                if bar.by_nose > 0.0 { share * (1.0 / bar.by_nose - 1.0) } else { 0.0 }
            };
            origin.bars.iter().map(of).sum::<f64>().sqrt()
        };
        Own {
            mass_kg: gained(Quantity::BarMass, |bar| bar.by_mass)
                .hypot(origin.unweighed.as_kg() * BAR_GEOMETRY_SHARE),
            nose_m: gained(Quantity::NosePlace, |bar| bar.by_nose).hypot(origin.beyond.as_m() * PLATE_LENGTH),
        }
    }

    fn bands_with(&self, setup: &Setup, bar: &[OriginBar], own: Own) -> Bands {
        let model = SawModel::new(setup);
        let along = |figure| {
            let (_, gradient) = model.figure(figure, model.values())?;
            let by_known = self.spread(setup, bar, &gradient);
            Some(self.uncertainty_of(&LinearForm { by_known, by_own: own.moving(&gradient) }))
        };
        let measured = |measure| along(Figure::Measured(measure));
        let hand = |measure| measured(measure).map(|kg| Force::from_n(kg * STANDARD_GRAVITY_M_S2));
        let level = Angle::ZERO;
        Bands {
            ready_mass: measured(SawMeasure::Total).map(Mass::from_kg),
            hang: measured(SawMeasure::Hang).map(Angle::from_rad),
            front_hand: hand(SawMeasure::FrontGrip { nose_up: level }),
            rear_hand: hand(SawMeasure::RearGrip { nose_up: level }),
            nose_moment: along(Figure::NoseMoment).map(Torque::from_n_m),
            swing_inertia: along(Figure::SwingInertia).map(Inertia::from_kg_m2),
            reach: measured(SawMeasure::Reach).map(Length::from_m),
        }
    }
}
