//! What was measured on many people: statures, heights and masses, and how a body divides.
//!
//! Statures, heights, foot, chest and mass: ANSUR II, C. C. Gordon et al., *2012 Anthropometric Survey of U.S. Army
//! Personnel*, NATICK/TR-15/007, 2014; 4082 men, 1986 women (*published*).
//! Arm links, segment masses and centres: P. de Leva, *Adjustments to Zatsiorsky-Seluyanov's segment inertia
//! parameters*, J. Biomech. 29(9):1223–1230, 1996, table 4 (*published*, read second-hand; the trunk's centre from
//! memory). Link heights over the stature follow from both (*computed*).

use super::hold::People;

/// One segment of the body: its share of the mass, and how far its centre lies from its upper end, as a share of its
/// length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// Share of the body mass, one side where there are two.
    pub mass: f64,
    /// From the upper end, share of the length.
    pub centre: f64,
}

/// Means of a survey. Lengths are shares of the stature, masses of the body mass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measures {
    /// Mean stature, m.
    pub stature_m: f64,
    /// Its standard deviation, m.
    pub stature_sd_m: f64,
    /// Mean acromial height, m: the bony tip of the shoulder, above the joint.
    pub acromial_m: f64,
    /// Mean body mass, kg.
    pub mass_kg: f64,
    /// Length of the foot, m.
    pub foot_m: f64,
    /// Heel to ball of the foot, m.
    pub heel_to_ball_m: f64,
    /// Depth of the chest, m.
    pub chest_depth_m: f64,
    /// Shoulder to elbow, share of the stature.
    pub upper_arm: f64,
    /// Elbow to the middle of the grip, share of the stature.
    pub forearm_to_grip: f64,
    /// Elbow to wrist, share of the stature.
    pub forearm: f64,
    /// Height of the shoulder joint, share of the stature.
    pub shoulder: f64,
    /// Height of the hip joint, share of the stature.
    pub hip: f64,
    /// Height of the knee joint, share of the stature.
    pub knee: f64,
    /// Height of the ankle joint, share of the stature.
    pub ankle: f64,
    /// Height of the eye, share of the stature.
    pub eye: f64,
    /// Shoulder to hip, share of the stature.
    pub trunk: f64,
    /// Upper arm.
    pub upper_arm_segment: Segment,
    /// Forearm.
    pub forearm_segment: Segment,
    /// Hand.
    pub hand_segment: Segment,
    /// Share of the mass of head and neck.
    pub head_mass: f64,
    /// Trunk, its centre from the shoulders.
    pub trunk_segment: Segment,
    /// Thigh.
    pub thigh_segment: Segment,
    /// Shank.
    pub shank_segment: Segment,
    /// Foot, its centre from the heel.
    pub foot_segment: Segment,
}

impl People {
    /// The means of this survey.
    pub const fn measures(self) -> &'static Measures {
        match self {
            Self::Men => &MEN,
            Self::Women => &WOMEN,
        }
    }

    /// The word for one such person.
    pub const fn person(self) -> &'static str {
        match self {
            Self::Men => "man",
            Self::Women => "woman",
        }
    }
}

const fn segment(mass: f64, centre: f64) -> Segment {
    Segment { mass, centre }
}

/// Means of the men.
pub const MEN: Measures = Measures {
    stature_m: 1.7562,
    stature_sd_m: 0.0686,
    acromial_m: 1.4407,
    mass_kg: 85.5,
    foot_m: 0.2712,
    heel_to_ball_m: 0.2009,
    chest_depth_m: 0.2538,
    upper_arm: 0.1618,
    forearm_to_grip: 0.1793,
    forearm: 0.1545,
    shoulder: 0.799,
    hip: 0.513,
    knee: 0.280,
    ankle: 0.0415,
    eye: 0.935,
    trunk: 0.286,
    upper_arm_segment: segment(0.0271, 0.5772),
    forearm_segment: segment(0.0162, 0.4574),
    hand_segment: segment(0.0061, 0.7900),
    head_mass: 0.0694,
    trunk_segment: segment(0.4346, 0.431),
    thigh_segment: segment(0.1416, 0.4095),
    shank_segment: segment(0.0433, 0.4395),
    foot_segment: segment(0.0137, 0.4415),
};

/// Means of the women.
pub const WOMEN: Measures = Measures {
    stature_m: 1.6285,
    stature_sd_m: 0.0642,
    acromial_m: 1.3351,
    mass_kg: 67.8,
    foot_m: 0.2463,
    heel_to_ball_m: 0.1821,
    chest_depth_m: 0.2474,
    upper_arm: 0.1586,
    forearm_to_grip: 0.1748,
    forearm: 0.1523,
    shoulder: 0.799,
    hip: 0.519,
    knee: 0.286,
    ankle: 0.0385,
    eye: 0.933,
    trunk: 0.280,
    upper_arm_segment: segment(0.0255, 0.5754),
    forearm_segment: segment(0.0138, 0.4559),
    hand_segment: segment(0.0056, 0.7474),
    head_mass: 0.0668,
    trunk_segment: segment(0.4257, 0.378),
    thigh_segment: segment(0.1478, 0.3612),
    shank_segment: segment(0.0481, 0.4352),
    foot_segment: segment(0.0129, 0.4014),
};
