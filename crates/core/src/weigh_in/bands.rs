//! The uncertainty of a setup's figures.

use super::knowledge::Knowledge;
use super::reading::SawMeasure;
use super::saw_model::{Figure, SawModel};
use crate::made_up::BarFamily;
use crate::parts::Setup;
use crate::units::{Angle, Force, Inertia, Length, Mass, STANDARD_GRAVITY_M_S2, Torque};

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
        self.bands_with(setup, &[(setup.bar().name(), 1.0)])
    }

    /// The uncertainty of the figures of a bar that a family makes up to this overall length: its mass follows
    /// those of the rack's bars it lies between.
    pub fn bands_made_up(&self, setup: &Setup, family: &BarFamily, overall: Length) -> Bands {
        let weights = family.mass_weights(overall, setup.bar().mass());
        let weights: Vec<_> = weights.iter().map(|(name, weight)| (name.as_str(), *weight)).collect();
        self.bands_with(setup, &weights)
    }

    fn bands_with(&self, setup: &Setup, bar: &[(&str, f64)]) -> Bands {
        let model = SawModel::new(setup);
        let along = |figure| {
            let (_, gradient) = model.figure(figure, model.values())?;
            Some(self.uncertainty_along(&self.spread(setup, bar, &gradient)))
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
