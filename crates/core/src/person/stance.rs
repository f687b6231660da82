//! A person as they stand to a hold: every joint, for drawing and for what it costs.

use super::bark::Bark;
use super::body::{Body, Hand};
use super::ground::Ground;
use super::posture::{HALF_STAGGER_M, KNEE_ROOM_M, Legs, Posture};
use super::reach::shoulder_at;
use crate::geometry::{Point, Vector};

/// One arm, seen from the side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ArmPose {
    /// Shoulder, m.
    pub shoulder: Point,
    /// Elbow, m; below the line from shoulder to hand.
    pub elbow: Point,
    /// Hand, m: on its grip where it gets there.
    pub hand: Point,
    /// Bend of the elbow, 0 for a straight arm, rad.
    pub elbow_bend_rad: f64,
    /// Upper arm from hanging straight down, towards the log positive, rad.
    pub upper_arm_rad: f64,
    /// How far the hand works aside of its shoulder, m.
    pub aside_m: f64,
    /// True where the hand is on its grip.
    pub reaches: bool,
}

/// One leg, seen from the side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LegPose {
    /// Knee, m.
    pub knee: Point,
    /// Ankle, m.
    pub ankle: Point,
    /// Toes, m.
    pub toe: Point,
}

/// A posture in which a person can hold the saw. Places in the frame of the log, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stance {
    /// How the legs are held.
    pub legs: Legs,
    /// Trunk from upright, towards the log positive, rad.
    pub bend_rad: f64,
    /// What the posture costs: the bend squared, in rad², plus what the legs add (*our guess*).
    pub cost: f64,
    /// Hip.
    pub hip: Point,
    /// Shoulder.
    pub shoulder: Point,
    /// Middle of the head.
    pub head: Point,
    /// Left arm, on the front handle.
    pub front_arm: ArmPose,
    /// Right arm, on the rear handle.
    pub rear_arm: ArmPose,
    /// The leg that stands nearer to the log.
    pub front_leg: LegPose,
    /// The other; kneeling, the one whose knee is on the ground.
    pub rear_leg: LegPose,
    /// Middle between the feet, on the ground.
    pub feet: Point,
    /// How far towards the log and away from it the feet could be with the hip where it is, m from [`Self::feet`].
    pub feet_play_m: (f64, f64),
}

impl Stance {
    /// The pose in words, such as "kneeling, bent 20°".
    pub fn words(&self) -> String {
        let degrees = self.bend_rad.to_degrees();
        if degrees.abs() < 0.5 {
            format!("{}, upright", self.legs.words())
        } else if degrees < 0.0 {
            format!("{}, leaning back {:.0}°", self.legs.words(), -degrees)
        } else {
            format!("{}, bent {degrees:.0}°", self.legs.words())
        }
    }

    /// The same seen from the other side.
    pub(super) fn mirrored(&self) -> Self {
        let flip = |p: Point| Point::new(-p.x, p.y);
        let arm = |arm: ArmPose| ArmPose {
            shoulder: flip(arm.shoulder),
            elbow: flip(arm.elbow),
            hand: flip(arm.hand),
            ..arm
        };
        let leg = |leg: LegPose| LegPose { knee: flip(leg.knee), ankle: flip(leg.ankle), toe: flip(leg.toe) };
        Self {
            hip: flip(self.hip),
            shoulder: flip(self.shoulder),
            head: flip(self.head),
            front_arm: arm(self.front_arm),
            rear_arm: arm(self.rear_arm),
            front_leg: leg(self.front_leg),
            rear_leg: leg(self.rear_leg),
            feet: flip(self.feet),
            ..*self
        }
    }
}

/// Draws up the joints of a posture; operator's frame, +x outward from the log.
pub(super) struct Joints<'a> {
    pub(super) body: &'a Body,
    pub(super) bark: &'a Bark,
    pub(super) ground: &'a Ground,
}

impl Joints<'_> {
    pub(super) fn stance(
        &self,
        posture: &Posture,
        grips: [Point; 2],
        hip_m: f64,
        feet_m: f64,
        play_m: (f64, f64),
    ) -> Stance {
        let below = Point::new(hip_m, self.ground.height_m(hip_m));
        let hip = below + Vector::new(0.0, posture.hip_m);
        let shoulder = shoulder_at(posture, self.ground, hip_m);
        let [front, rear] = grips;
        let (front_leg, rear_leg) = self.legs(posture.legs, hip, feet_m);
        Stance {
            legs: posture.legs,
            bend_rad: posture.bend_rad,
            cost: posture.cost,
            hip,
            shoulder,
            head: below + posture.head,
            front_arm: self.arm(shoulder, front, Hand::Front),
            rear_arm: self.arm(shoulder, rear, Hand::Rear),
            front_leg,
            rear_leg,
            feet: Point::new(feet_m, self.ground.height_m(feet_m)),
            feet_play_m: (feet_m - play_m.0, play_m.1 - feet_m),
        }
    }

    fn arm(&self, shoulder: Point, grip: Point, hand: Hand) -> ArmPose {
        let to = grip - shoulder;
        let aside_m = hand.aside_m();
        if let Some(angles) = self.body.arm_to(-to.x, to.y, aside_m) {
            return ArmPose {
                shoulder,
                elbow: shoulder + Vector::new(-angles.elbow.x, angles.elbow.y),
                hand: grip,
                elbow_bend_rad: angles.elbow_bend_rad,
                upper_arm_rad: angles.upper_arm_rad,
                aside_m,
                reaches: true,
            };
        }
        // Straight towards the grip, and short of it.
        let towards = to / to.norm().max(1e-9);
        ArmPose {
            shoulder,
            elbow: shoulder + self.body.upper_arm_m * towards,
            hand: shoulder + (self.body.upper_arm_m + self.body.forearm_m) * towards,
            elbow_bend_rad: 0.0,
            upper_arm_rad: (-to.x).atan2(-to.y),
            aside_m,
            reaches: false,
        }
    }

    fn legs(&self, legs: Legs, hip: Point, feet_m: f64) -> (LegPose, LegPose) {
        let ankle = |out_m: f64| Point::new(out_m, self.ground.height_m(out_m) + self.body.ankle_height_m);
        let front = self.leg(hip, ankle(feet_m - HALF_STAGGER_M));
        if legs != Legs::Kneeling {
            return (front, self.leg(hip, ankle(feet_m + HALF_STAGGER_M)));
        }
        // Where the thigh leans, the knee comes a little off the ground rather than that the thigh grows.
        let knee_m = feet_m + HALF_STAGGER_M;
        let down_m = (self.body.thigh_m.powi(2) - (knee_m - hip.x).powi(2)).max(0.0).sqrt();
        let knee = Point::new(knee_m, hip.y - down_m);
        let toes_m = knee_m + self.body.shank_m;
        let ankle_m = self.ground.height_m(toes_m) + self.body.ankle_height_m;
        let behind_m = knee_m + (self.body.shank_m.powi(2) - (knee.y - ankle_m).powi(2)).max(0.0).sqrt();
        let toe = Point::new(behind_m, self.ground.height_m(behind_m));
        let rear = LegPose { knee, ankle: Point::new(behind_m, ankle_m), toe };
        (front, rear)
    }

    /// A leg from hip to ankle, the knee towards the log; where it would come too near the bark the knee is turned
    /// aside, and seen from the side the leg looks straighter.
    fn leg(&self, hip: Point, ankle: Point) -> LegPose {
        let (thigh, shank) = (self.body.thigh_m, self.body.shank_m);
        let down = ankle - hip;
        let span = down.norm().max(1e-9);
        let on_line = if span >= thigh + shank {
            thigh / (thigh + shank)
        } else {
            ((thigh * thigh - shank * shank + span * span) / (2.0 * span * span)).clamp(0.0, 1.0)
        };
        let foot = hip + on_line * down;
        let forward_m = (thigh * thigh - (on_line * span).powi(2)).max(0.0).sqrt();
        let forward_m = if span >= thigh + shank { 0.0 } else { forward_m };
        // Towards the log, square to the line from hip to ankle.
        let square = Vector::new(down.y, -down.x) / span;
        let forward = if square.x > 0.0 { -square } else { square };
        let mut share = 1.0;
        while share > 0.0 && self.bark.outside_m(foot + share * forward_m * forward) < KNEE_ROOM_M {
            share -= 0.125;
        }
        LegPose {
            knee: foot + f64::max(share, 0.0) * forward_m * forward,
            ankle,
            toe: Point::new(
                ankle.x - self.body.ankle_to_toe_m,
                self.ground.height_m(ankle.x - self.body.ankle_to_toe_m),
            ),
        }
    }
}
