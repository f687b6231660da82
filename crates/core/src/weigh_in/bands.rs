//! The uncertainty of a setup's figures.

use super::knowledge::Knowledge;
use super::prior::BAR_GEOMETRY_SHARE;
use super::saw_model::{BAR_MASS, Figure, SawModel};
use crate::saw::{BarFamily, Setup};
use crate::units::{Angle, Force, Inertia, Length, Mass, STANDARD_GRAVITY_M_S2, Torque};
use crate::yard::SawMeasure;

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
        self.bands_with(setup, &[(setup.bar().name(), 1.0)], Mass::ZERO)
    }

    /// The uncertainty of the figures of a bar that a family makes up to this overall length. Its mass follows
    /// those of the rack's bars it lies between; what it has more or less plate than the nearer of them is only as
    /// sure as a bar known by its outline.
    pub fn bands_made_up(&self, setup: &Setup, family: &BarFamily, overall: Length) -> Bands {
        let origin = family.mass_origin(overall, setup.bar().mass());
        let slopes: Vec<_> = origin.slopes.iter().map(|(name, slope)| (name.as_str(), *slope)).collect();
        self.bands_with(setup, &slopes, origin.unweighed * BAR_GEOMETRY_SHARE)
    }

    fn bands_with(&self, setup: &Setup, bar: &[(&str, f64)], own: Mass) -> Bands {
        let model = SawModel::new(setup);
        let along = |figure| {
            let (_, gradient) = model.figure(figure, model.values())?;
            let known = self.uncertainty_along(&self.spread(setup, bar, &gradient));
            Some(known.hypot(gradient[BAR_MASS] * own.as_kg()))
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
