//! The person who holds the saw.

use super::hold::People;
use super::ranges::{self, checked};
use super::survey::{MEN, Measures};
use crate::fault::Fault;
use crate::units::{Angle, Length, Mass};

/// Where a person's measures come from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Survey {
    /// Means of the survey's men, stretched to the stature.
    Men,
    /// Means of the survey's women, stretched to the stature.
    Women,
    /// A person's own mass and, where measured, own lengths; the rest from a survey.
    Own {
        /// The survey for what is not given.
        people: People,
        /// Body mass.
        mass: Mass,
        /// A straight arm from the shoulder joint to the middle of a grip.
        arm: Option<Length>,
        /// A leg from the floor to the hip joint, barefoot.
        leg: Option<Length>,
    },
}

/// A person: stature, measures, strength, whether they kneel, and the slope they stand on.
///
/// The default is the mean of the survey's men on level ground: an average, not anybody.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Person {
    stature_m: f64,
    survey: Survey,
    strength_percentile: f64,
    can_kneel: bool,
    slope_rad: f64,
}

impl Person {
    /// A person of a stature, of middling strength, who can kneel, on level ground.
    ///
    /// # Errors
    /// A stature outside 1300…2200 mm, or an own mass or length out of its range.
    pub fn new(stature: Length, survey: Survey) -> Result<Self, Fault> {
        let stature_m = Length::from_mm(checked("stature", &ranges::STATURE, stature.as_mm())?).as_m();
        if let Survey::Own { mass, arm, leg, .. } = survey {
            checked("survey.mass", &ranges::BODY_MASS, mass.as_kg())?;
            for (path, range, length) in
                [("survey.arm", &ranges::ARM, arm), ("survey.leg", &ranges::LEG, leg)]
            {
                if let Some(length) = length {
                    checked(path, range, length.as_mm())?;
                }
            }
        }
        Ok(Self { stature_m, survey, strength_percentile: 50.0, can_kneel: true, slope_rad: 0.0 })
    }

    /// The same with another strength: the share of people of the survey, in per cent, who are weaker.
    ///
    /// # Errors
    /// A percentile outside 1…99 %.
    pub fn with_strength_percentile(mut self, percentile: f64) -> Result<Self, Fault> {
        self.strength_percentile = checked("strength_percentile", &ranges::STRENGTH_PERCENTILE, percentile)?;
        Ok(self)
    }

    /// The same with or without kneeling.
    #[must_use]
    pub const fn with_kneeling(mut self, can_kneel: bool) -> Self {
        self.can_kneel = can_kneel;
        self
    }

    /// The same on a slope across the log: positive where the ground rises from the near to the far side.
    ///
    /// # Errors
    /// A slope outside −25…25°.
    pub fn with_slope(mut self, slope: Angle) -> Result<Self, Fault> {
        self.slope_rad = Angle::from_deg(checked("slope", &ranges::SLOPE, slope.as_deg())?).as_rad();
        Ok(self)
    }

    /// Stature, barefoot.
    pub const fn stature(&self) -> Length {
        Length::from_m(self.stature_m)
    }

    /// Where the measures come from.
    pub const fn survey(&self) -> Survey {
        self.survey
    }

    /// The survey behind everything that is not the person's own.
    pub const fn people(&self) -> People {
        match self.survey {
            Survey::Men => People::Men,
            Survey::Women => People::Women,
            Survey::Own { people, .. } => people,
        }
    }

    /// Means of that survey.
    pub const fn measures(&self) -> &'static Measures {
        self.people().measures()
    }

    /// Body mass: a person's own, or the survey's mean for a body of the same build, so with the square of the
    /// stature (*our guess*).
    pub fn mass(&self) -> Mass {
        match self.survey {
            Survey::Own { mass, .. } => mass,
            Survey::Men | Survey::Women => {
                let mean = self.measures();
                Mass::from_kg(mean.mass_kg * (self.stature_m / mean.stature_m).powi(2))
            }
        }
    }

    /// Share of people of the survey who are weaker, in per cent.
    pub const fn strength_percentile(&self) -> f64 {
        self.strength_percentile
    }

    /// True where kneeling on one knee is a posture for this person.
    pub const fn can_kneel(&self) -> bool {
        self.can_kneel
    }

    /// Slope across the log, positive where the ground rises from the near to the far side.
    pub const fn slope(&self) -> Angle {
        Angle::from_rad(self.slope_rad)
    }

    /// True for the mean of a survey: an average, not anybody.
    pub fn is_average(&self) -> bool {
        let mean = self.measures();
        !matches!(self.survey, Survey::Own { .. })
            && (self.stature_m - mean.stature_m).abs() < 1e-6
            && (self.strength_percentile - 50.0).abs() < 1e-9
    }

    /// Who this is, such as "an average man, 1756 mm, 85.5 kg: the mean of a survey, not you".
    pub fn words(&self) -> String {
        let size = format!("{:.0} mm, {:.1} kg", self.stature_m * 1e3, self.mass().as_kg());
        let person = self.people().person();
        match self.survey {
            Survey::Own { .. } => format!("own measures, {size}; the rest of an average {person}"),
            _ if self.is_average() => format!("an average {person}, {size}: the mean of a survey, not you"),
            _ => format!("a {person} of average build, {size}"),
        }
    }
}

impl Default for Person {
    fn default() -> Self {
        Self {
            stature_m: MEN.stature_m,
            survey: Survey::Men,
            strength_percentile: 50.0,
            can_kneel: true,
            slope_rad: 0.0,
        }
    }
}
