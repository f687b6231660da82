//! The person in the yard, as they stand in its file.

use super::yard::is_default;
use serde::{Deserialize, Serialize};

/// The person who cuts. Where a yard has none, an average man stands there, and whatever follows says so.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PersonFile {
    /// Free text.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Stature, barefoot.
    pub stature_mm: f64,
    /// Where the other measures come from.
    pub survey: SurveyFile,
    /// Share of people of that survey who are weaker, 1 to 99.
    #[serde(default = "middling", skip_serializing_if = "is_middling")]
    pub strength_percentile: f64,
    /// True where kneeling on one knee is a posture for this person.
    #[serde(default = "kneels", skip_serializing_if = "Clone::clone")]
    pub can_kneel: bool,
    /// Slope of the ground across the log, positive where it rises from the near to the far side.
    #[serde(default, skip_serializing_if = "is_default")]
    pub slope_deg: f64,
}

/// Where a person's measures come from.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum SurveyFile {
    /// Means of the survey's men, stretched to the stature.
    Men,
    /// Means of the survey's women, stretched to the stature.
    Women,
    /// Own mass and, where measured, own lengths.
    Own {
        /// The survey for the rest.
        of: PeopleFile,
        /// Body mass.
        mass_kg: f64,
        /// A straight arm from the shoulder joint to the middle of a grip.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        arm_mm: Option<f64>,
        /// A leg from the floor to the hip joint, barefoot.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        leg_mm: Option<f64>,
    },
}

/// Whose means stand in for what is not a person's own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum PeopleFile {
    /// Men.
    Men,
    /// Women.
    Women,
}

/// Half of people are weaker.
const MIDDLING: f64 = 50.0;

const fn middling() -> f64 {
    MIDDLING
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "as serde calls it")]
fn is_middling(percentile: &f64) -> bool {
    percentile.to_bits() == MIDDLING.to_bits()
}

const fn kneels() -> bool {
    true
}
