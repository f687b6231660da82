//! The body of a person as links, heights, masses and centres.

use super::survey::Segment;
use super::who::{Person, Survey};
use crate::geometry::{Point, Vector};

/// Share of the straight arm that still counts as reach: nobody works with locked elbows (*our guess*).
pub(super) const USABLE_ARM: f64 = 0.97;
/// The most an elbow bends, from straight, degrees (usual clinical figure, from memory).
pub(super) const ELBOW_BEND_DEG: f64 = 142.0;
/// Height of the hip when kneeling on one knee, share of the stature (*our guess*).
pub(super) const KNEELING_HIP: f64 = 0.263;
/// The ankle ahead of the heel, share of the foot's length (*our guess*).
pub(super) const ANKLE_ON_FOOT: f64 = 0.25;
/// Width of the head, share of the stature (*our guess*).
pub(super) const HEAD_WIDTH: f64 = 0.11;

/// How far the rear and the front hand work from the shoulder's own plane, sideways, m (*our guess*): the rear hand
/// before its own shoulder, the front hand across the body.
pub const REAR_ASIDE_M: f64 = 0.05;
/// See [`REAR_ASIDE_M`].
pub const FRONT_ASIDE_M: f64 = 0.20;

/// A hand on the saw.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Hand {
    /// The left one, on the front handle.
    Front,
    /// The right one, on the rear handle.
    Rear,
}

impl Hand {
    /// The word for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Rear => "rear",
        }
    }

    /// How far aside of its shoulder it works, m.
    pub const fn aside_m(self) -> f64 {
        match self {
            Self::Front => FRONT_ASIDE_M,
            Self::Rear => REAR_ASIDE_M,
        }
    }
}

/// A segment's mass in kg and its centre from the upper end, as a share of its length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SegmentMass {
    /// Mass, kg; one side where there are two.
    pub mass_kg: f64,
    /// Centre from the upper end, share of the length.
    pub centre: f64,
}

/// A body. Lengths in m, masses in kg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    /// Stature.
    pub stature_m: f64,
    /// Shoulder to elbow.
    pub upper_arm_m: f64,
    /// Elbow to the middle of the grip.
    pub forearm_m: f64,
    shortest_arm_m: f64,
    /// Hip to shoulder.
    pub trunk_m: f64,
    /// Hip to knee.
    pub thigh_m: f64,
    /// Knee to ankle.
    pub shank_m: f64,
    /// Height of the shoulder, standing upright.
    pub shoulder_height_m: f64,
    /// Height of the hip, standing upright.
    pub hip_height_m: f64,
    /// Height of the hip, kneeling on one knee.
    pub kneeling_hip_m: f64,
    /// Height of the knee joint.
    pub knee_height_m: f64,
    /// Height of the ankle joint.
    pub ankle_height_m: f64,
    /// Height of the eye, standing upright.
    pub eye_height_m: f64,
    /// From the shoulder to the middle of the head.
    pub neck_m: f64,
    /// Half the width of the head.
    pub head_radius_m: f64,
    /// Half the depth of the chest.
    pub half_chest_m: f64,
    /// From the ankle forward to the ball of the foot.
    pub ankle_to_ball_m: f64,
    /// From the ankle forward to the toes.
    pub ankle_to_toe_m: f64,
    /// From the ankle back to the heel.
    pub ankle_to_heel_m: f64,
    /// Whole body mass.
    pub mass_kg: f64,
    /// Head and neck.
    pub head_kg: f64,
    /// Trunk, its centre from the shoulder.
    pub trunk: SegmentMass,
    /// One upper arm.
    pub upper_arm: SegmentMass,
    /// One forearm, its centre from the elbow as a share of [`Self::forearm_m`].
    pub forearm: SegmentMass,
    /// One hand, at the grip.
    pub hand_kg: f64,
    /// One thigh.
    pub thigh: SegmentMass,
    /// One shank.
    pub shank: SegmentMass,
    /// One foot, its centre from the heel.
    pub foot: SegmentMass,
}

impl Body {
    /// The body of a person.
    pub fn of(person: &Person) -> Self {
        let mean = person.measures();
        let (h, w) = (person.stature().as_m(), person.mass().as_kg());
        let scale = h / mean.stature_m;
        let (arm, leg) = match person.survey() {
            Survey::Own { arm, leg, .. } => (arm, leg),
            Survey::Men | Survey::Women => (None, None),
        };
        // An own length stretches both its links alike.
        let arm_scale = arm.map_or(h, |own| own.as_m() / (mean.upper_arm + mean.forearm_to_grip));
        let leg_scale = leg.map_or(h, |own| own.as_m() / mean.hip);
        let hip_height_m = mean.hip * leg_scale;
        let trunk_m = mean.trunk * h;
        let shoulder_height_m = hip_height_m + trunk_m;
        let part = |segment: Segment| SegmentMass { mass_kg: segment.mass * w, centre: segment.centre };
        let forearm_m = mean.forearm_to_grip * arm_scale;
        Self {
            stature_m: h,
            upper_arm_m: mean.upper_arm * arm_scale,
            forearm_m,
            shortest_arm_m: shortest(mean.upper_arm * h, mean.forearm_to_grip * h),
            trunk_m,
            thigh_m: (mean.hip - mean.knee) * leg_scale,
            shank_m: (mean.knee - mean.ankle) * leg_scale,
            shoulder_height_m,
            hip_height_m,
            kneeling_hip_m: KNEELING_HIP * leg_scale,
            knee_height_m: mean.knee * leg_scale,
            ankle_height_m: mean.ankle * leg_scale,
            eye_height_m: shoulder_height_m + (mean.eye - mean.shoulder) * h,
            neck_m: (mean.eye - mean.shoulder) * h,
            head_radius_m: 0.5 * HEAD_WIDTH * h,
            half_chest_m: 0.5 * mean.chest_depth_m * scale,
            ankle_to_ball_m: (mean.heel_to_ball_m - ANKLE_ON_FOOT * mean.foot_m) * scale,
            ankle_to_toe_m: (1.0 - ANKLE_ON_FOOT) * mean.foot_m * scale,
            ankle_to_heel_m: ANKLE_ON_FOOT * mean.foot_m * scale,
            mass_kg: w,
            head_kg: mean.head_mass * w,
            trunk: part(mean.trunk_segment),
            upper_arm: part(mean.upper_arm_segment),
            forearm: SegmentMass {
                mass_kg: mean.forearm_segment.mass * w,
                centre: mean.forearm_segment.centre * mean.forearm / mean.forearm_to_grip,
            },
            hand_kg: mean.hand_segment.mass * w,
            thigh: part(mean.thigh_segment),
            shank: part(mean.shank_segment),
            foot: part(mean.foot_segment),
        }
    }

    /// Length of the leg from hip to ankle, m.
    pub fn leg_m(&self) -> f64 {
        self.thigh_m + self.shank_m
    }

    /// Farthest a hand works from its shoulder, in space, m.
    pub fn longest_arm_m(&self) -> f64 {
        USABLE_ARM * (self.upper_arm_m + self.forearm_m)
    }

    /// Nearest a hand works to its shoulder, in space, m: the elbow of an arm of the survey bent by 142°. The same for
    /// own arms of any length, so that a longer arm never loses a hold (*our guess*).
    pub const fn shortest_arm_m(&self) -> f64 {
        self.shortest_arm_m
    }

    /// Nearest and farthest of a hand from its shoulder seen from the side, m, where it works aside of it.
    pub fn reach_m(&self, hand: Hand) -> (f64, f64) {
        let seen = |space_m: f64| (space_m.powi(2) - hand.aside_m().powi(2)).max(0.0).sqrt();
        (seen(self.shortest_arm_m()), seen(self.longest_arm_m()))
    }

    /// Mass of one arm with its hand, kg, and its centre as a share of the way from the shoulder to the grip, taken
    /// as if the arm were straight.
    pub fn arm(&self) -> SegmentMass {
        let mass_kg = self.upper_arm.mass_kg + self.forearm.mass_kg + self.hand_kg;
        let moment = self.upper_arm.mass_kg * self.upper_arm.centre * self.upper_arm_m
            + self.forearm.mass_kg * (self.upper_arm_m + self.forearm.centre * self.forearm_m)
            + self.hand_kg * (self.upper_arm_m + self.forearm_m);
        SegmentMass { mass_kg, centre: moment / (mass_kg * (self.upper_arm_m + self.forearm_m)) }
    }

    /// An arm from its shoulder to a grip, the elbow below; `ahead_m` towards the log, `up_m` upward, `aside_m`
    /// sideways. `None` where the hand does not get there.
    pub fn arm_to(&self, ahead_m: f64, up_m: f64, aside_m: f64) -> Option<ArmAngles> {
        let (a, b) = (self.upper_arm_m, self.forearm_m);
        let seen_m = ahead_m.hypot(up_m);
        let space_m = seen_m.hypot(aside_m);
        if !(space_m > (a - b).abs() && space_m <= a + b) {
            return None;
        }
        // Along the line to the grip to the foot of the elbow, and from there across it, in the side view.
        let along_m = (a * a + space_m * space_m - b * b) / (2.0 * space_m);
        let across_m = (a * a - along_m * along_m).max(0.0).sqrt();
        let across =
            if seen_m > 1e-9 { Vector::new(up_m, -ahead_m) / seen_m } else { Vector::new(0.0, -1.0) };
        let elbow = along_m / space_m * Vector::new(ahead_m, up_m) + across_m * across;
        let inside = ((a * a + b * b - space_m * space_m) / (2.0 * a * b)).clamp(-1.0, 1.0).acos();
        Some(ArmAngles {
            elbow_bend_rad: std::f64::consts::PI - inside,
            upper_arm_rad: elbow.x.atan2(-elbow.y),
            elbow: Point::from(elbow),
        })
    }
}

/// From shoulder to grip with the elbow bent as far as it goes, m.
fn shortest(upper_arm_m: f64, forearm_m: f64) -> f64 {
    let between = (180.0 - ELBOW_BEND_DEG).to_radians();
    let squared = upper_arm_m.powi(2) + forearm_m.powi(2) - 2.0 * upper_arm_m * forearm_m * between.cos();
    squared.max(0.0).sqrt()
}

/// The joints of one arm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ArmAngles {
    /// Bend of the elbow, 0 for a straight arm, rad.
    pub elbow_bend_rad: f64,
    /// Upper arm from hanging straight down, forward positive, rad.
    pub upper_arm_rad: f64,
    /// The elbow from the shoulder, seen from the side: x towards the log, y up, m.
    pub elbow: Point,
}
