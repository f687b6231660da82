//! The person at the cut as a jointed figure: limbs as capsules about their joints, one arm behind the saw and one
//! before it, and the part that fails where it fails.
//!
//! The joints are those of a stance, the lengths those of the body; only the widths are drawn by guess.

use super::log::section_mm;
use crate::draw::strokes::{Dash, Label, Pen, Scene, Side as Beside};
use crate::draw::theme::Ink;
use barpoise_core::geometry::Point as Metres;
use barpoise_core::log::Side;
use barpoise_core::person::{ArmPose, Body, Hand, LegPose, Stance, WhyNot};
use kurbo::{Arc, BezPath, Circle, Point, Rect, Shape, Vec2};
use std::f64::consts::PI;

/// Widths of the limbs at the joints they run from and to, hip to shoulder for the trunk, over the stature (our guess). A knee on the ground is as high
/// as the thigh is thick there.
const UPPER_ARM: (f64, f64) = (0.055, 0.045);
const FOREARM: (f64, f64) = (0.045, 0.038);
const THIGH: (f64, f64) = (0.09, 0.06);
const SHANK: (f64, f64) = (0.06, 0.045);
const TRUNK: (f64, f64) = (0.125, 0.145);
const NECK: (f64, f64) = (0.06, 0.06);
/// Height of a boot over the stature, and of a fist round its grip (our guess).
const BOOT: f64 = 0.04;
const FIST: f64 = 0.05;
/// How much of the hand's colour lies on a limb, and on the helmet.
const TINT: f32 = 0.16;
const HELMET_TINT: f32 = 0.3;
/// The helmet's brim stands out so far before the head, over its radius.
const BRIM: f64 = 1.45;
const GHOST: f32 = 0.25;
const LINE: Pen = Pen::solid(Ink::Hand, 1.3);
const GHOST_LINE: Pen = Pen::solid(Ink::Ghost, 1.2);
/// Ring round what fails, in points.
const RING_PT: f64 = 11.0;

/// A part of the figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limb {
    /// Shoulder to elbow.
    UpperArm(Hand),
    /// Elbow to the grip.
    Forearm(Hand),
    /// Hip to knee, of the leg nearer to the log where true.
    Thigh(bool),
    /// Knee to ankle.
    Shank(bool),
    /// Heel to toes, along the ground.
    Boot(bool),
    /// Hip to shoulder.
    Trunk,
    /// Shoulder to head.
    Neck,
}

/// A limb as it is drawn: a capsule between two joints, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Capsule {
    /// Which one.
    pub limb: Limb,
    /// Its upper joint.
    pub from: Point,
    /// Its lower one.
    pub to: Point,
    /// Its width at either.
    pub widths: (f64, f64),
}

impl Capsule {
    /// Its outline: round ends, and straight lines that touch both.
    pub fn path(&self) -> BezPath {
        const TOLERANCE_MM: f64 = 0.2;
        let (upper, lower) = self.radii();
        let along = self.to - self.from;
        let length = along.hypot();
        if length <= (upper - lower).abs() + 1e-6 {
            let (centre, radius) = if upper > lower { (self.from, upper) } else { (self.to, lower) };
            return Circle::new(centre, radius).to_path(TOLERANCE_MM);
        }
        // The lines lean with the taper.
        let lean = ((upper - lower) / length).asin();
        let across = along.atan2() + 0.5 * PI;
        let mut path = BezPath::new();
        for (centre, radius, start, sweep) in [
            (self.from, upper, across - lean, PI + 2.0 * lean),
            (self.to, lower, across + PI + lean, PI - 2.0 * lean),
        ] {
            let at = centre + radius * Vec2::from_angle(start);
            if path.is_empty() {
                path.move_to(at)
            } else {
                path.line_to(at)
            }
            for element in Arc::new(centre, (radius, radius), start, sweep, 0.0).append_iter(TOLERANCE_MM) {
                path.push(element);
            }
        }
        path.close_path();
        path
    }

    fn radii(&self) -> (f64, f64) {
        (0.5 * self.widths.0, 0.5 * self.widths.1)
    }

    fn extent(&self) -> Rect {
        let (upper, lower) = self.radii();
        let about = |at: Point, radius: f64| Circle::new(at, radius).bounding_box();
        about(self.from, upper).union(about(self.to, lower))
    }
}

/// A person in a stance, on their side of the log; everything in the frame of the log, mm.
#[derive(Clone, Copy, Debug)]
pub struct Figure<'a> {
    /// How they stand.
    pub stance: &'a Stance,
    /// Their body.
    pub body: &'a Body,
    /// Where they stand. Near, we see their right side, far, their left: the arm on that side is before the saw.
    pub side: Side,
}

impl Figure<'_> {
    /// The pose for a reader that does not see it, such as "operator kneeling, bent 20°".
    pub fn words(&self) -> String {
        format!("operator {}", self.stance.words())
    }

    /// The arm that the saw hides.
    const fn hidden_hand(&self) -> Hand {
        match self.side {
            Side::Near => Hand::Front,
            Side::Far => Hand::Rear,
        }
    }

    const fn seen_hand(&self) -> Hand {
        match self.side {
            Side::Near => Hand::Rear,
            Side::Far => Hand::Front,
        }
    }

    const fn arm_pose(&self, hand: Hand) -> &ArmPose {
        match hand {
            Hand::Front => &self.stance.front_arm,
            Hand::Rear => &self.stance.rear_arm,
        }
    }

    fn capsule(&self, limb: Limb, from: Metres, to: Metres, (upper, lower): (f64, f64)) -> Capsule {
        let stature = self.body.stature_m * 1e3;
        let widths = (upper * stature, lower * stature);
        Capsule { limb, from: section_mm(from), to: section_mm(to), widths }
    }

    fn arm(&self, hand: Hand) -> [Capsule; 2] {
        let pose = self.arm_pose(hand);
        [
            self.capsule(Limb::UpperArm(hand), pose.shoulder, pose.elbow, UPPER_ARM),
            self.capsule(Limb::Forearm(hand), pose.elbow, pose.hand, FOREARM),
        ]
    }

    fn leg(&self, front: bool) -> [Capsule; 3] {
        let leg = if front { &self.stance.front_leg } else { &self.stance.rear_leg };
        let (heel, toe) = self.sole(leg);
        [
            Capsule {
                from: heel,
                to: toe,
                ..self.capsule(Limb::Boot(front), leg.ankle, leg.toe, (BOOT, BOOT))
            },
            self.capsule(Limb::Shank(front), leg.knee, leg.ankle, SHANK),
            self.capsule(Limb::Thigh(front), self.stance.hip, leg.knee, THIGH),
        ]
    }

    /// Middles of heel and toes of a boot that stands on the ground; of one that stands on its toes, ankle and toes.
    fn sole(&self, leg: &LegPose) -> (Point, Point) {
        let (ankle, toe) = (section_mm(leg.ankle), section_mm(leg.toe));
        let half = 0.5 * BOOT * self.body.stature_m * 1e3;
        let under = ankle - Vec2::new(0.0, self.body.ankle_height_m * 1e3);
        let ahead = toe - under;
        let raised = Vec2::new(0.0, half);
        if ahead.hypot() < half {
            return (ankle, toe + raised);
        }
        let along = ahead.normalize();
        let heel = under - along * (self.body.ankle_to_heel_m * 1e3 - half).max(0.0);
        (heel + raised, toe - along * half + raised)
    }

    /// Every limb, from the back: what the saw hides first.
    pub fn limbs(&self) -> Vec<Capsule> {
        let mut limbs = self.behind();
        limbs.extend(self.arm(self.seen_hand()));
        limbs
    }

    fn behind(&self) -> Vec<Capsule> {
        let Stance { hip, shoulder, head, .. } = *self.stance;
        let mut limbs = self.arm(self.hidden_hand()).to_vec();
        // The leg on the far side of the body is the one of the hidden arm: left leg ahead, right leg behind.
        limbs.extend(self.leg(self.hidden_hand() == Hand::Front));
        limbs.extend(self.leg(self.seen_hand() == Hand::Front));
        limbs.push(self.capsule(Limb::Neck, shoulder, head, NECK));
        limbs.push(self.capsule(Limb::Trunk, hip, shoulder, TRUNK));
        limbs
    }

    fn head(&self) -> Circle {
        Circle::new(section_mm(self.stance.head), self.body.head_radius_m * 1e3)
    }

    fn fist(&self, hand: Hand) -> Circle {
        Circle::new(section_mm(self.arm_pose(hand).hand), 0.5 * FIST * self.body.stature_m * 1e3)
    }

    /// What lies behind the saw: one arm, legs, trunk and head.
    pub fn behind_saw(&self, scene: &mut Scene) {
        solid(scene, self.fist(self.hidden_hand()).to_path(0.2));
        for capsule in self.behind() {
            solid(scene, capsule.path());
        }
        solid(scene, self.head().to_path(0.2));
        self.helmet(scene);
    }

    /// The upper half of the head, with a brim where the eyes look: which way the person faces.
    fn helmet(&self, scene: &mut Scene) {
        let head = self.head();
        let up = (head.center - section_mm(self.stance.shoulder)).normalize();
        let ahead = if self.side == Side::Near { -up.turn_90() } else { up.turn_90() };
        let start = (-ahead).atan2();
        let sweep = if self.side == Side::Near { -PI } else { PI };
        let mut path = BezPath::new();
        path.move_to(head.center - head.radius * ahead);
        let radii = (head.radius, head.radius);
        for element in Arc::new(head.center, radii, start, sweep, 0.0).append_iter(0.2) {
            path.push(element);
        }
        path.close_path();
        scene.wash(path.clone(), Ink::Hand, HELMET_TINT);
        scene.stroke(path, LINE);
        let brim = head.center + head.radius * BRIM * ahead;
        scene.line(head.center, brim, Pen::solid(Ink::Hand, 2.4));
    }

    /// What lies before the saw: the other arm.
    pub fn before_saw(&self, scene: &mut Scene) {
        solid(scene, self.fist(self.seen_hand()).to_path(0.2));
        for capsule in self.arm(self.seen_hand()) {
            solid(scene, capsule.path());
        }
    }

    /// The whole figure as a faint ghost.
    pub fn ghost(&self, scene: &mut Scene) {
        let limbs = self.limbs();
        let paths = limbs.iter().map(Capsule::path).chain([self.head().to_path(0.2)]);
        for path in paths {
            scene.wash(path.clone(), Ink::Ghost, GHOST);
            scene.stroke(path, GHOST_LINE);
        }
    }

    /// Where it is, mm.
    pub fn extent(&self) -> Rect {
        let round = [self.head(), self.fist(Hand::Front), self.fist(Hand::Rear)];
        let round = round.iter().map(Shape::bounding_box);
        let limbs = self.limbs();
        let all = limbs.iter().map(Capsule::extent).chain(round).reduce(|all, part| all.union(part));
        all.unwrap_or_default()
    }

    /// What fails, where it fails: the limb in the danger colour, what is missing dashed, a ring and the words.
    pub fn trouble(&self, scene: &mut Scene, why: &WhyNot, words: &str) {
        let hand = match *why {
            WhyNot::HandInBark { hand, .. }
            | WhyNot::HandInGround { hand, .. }
            | WhyNot::ArmTooShort { hand, .. }
            | WhyNot::ArmCramped { hand, .. }
            | WhyNot::HandBehind { hand, .. } => Some(hand),
            _ => None,
        };
        if let Some(hand) = hand {
            for capsule in self.arm(hand) {
                fails(scene, capsule.path());
            }
        }
        match *why {
            WhyNot::ArmTooShort { hand, at, .. } => {
                let pen = Pen::solid(Ink::Danger, 2.4).with_dash(Dash::Dashed);
                scene.line(section_mm(self.arm_pose(hand).hand), section_mm(at), pen);
            }
            WhyNot::AboveShoulder { at, by_m, .. } => {
                // The height of the shoulder, dashed, from the body to what is above it.
                let level = Metres::new(at.x, at.y - by_m);
                let pen = Pen::solid(Ink::Danger, 1.6).with_dash(Dash::Dashed);
                scene.line(section_mm(Metres::new(self.stance.shoulder.x, level.y)), section_mm(level), pen);
                scene.line(section_mm(level), section_mm(at), Pen::solid(Ink::Danger, 2.4));
            }
            WhyNot::FallsForward { .. } => {
                let trunk = self.behind().into_iter().find(|capsule| capsule.limb == Limb::Trunk);
                if let Some(trunk) = trunk {
                    fails(scene, trunk.path());
                }
            }
            _ => {}
        }
        if let Some(at) = why.at() {
            trouble_mark(scene, section_mm(at), words, self.side);
        }
    }
}

/// A ring in the danger colour round what fails, and its words beside it, on the side away from the person.
pub fn trouble_mark(scene: &mut Scene, at: Point, words: &str, side: Side) {
    let ring = Circle::new(at, scene.pt(RING_PT)).to_path(0.05);
    scene.stroke(ring, Pen::solid(Ink::Danger, 2.4));
    let out = scene.pt(RING_PT);
    let (at, beside) = match side {
        Side::Near => (at + Vec2::new(out, 0.0), Beside::Right),
        Side::Far => (at - Vec2::new(out, 0.0), Beside::Left),
    };
    scene.label(Label::new(at, beside, words, Ink::Danger).strong().on_patch());
}

fn solid(scene: &mut Scene, path: BezPath) {
    scene.fill(path.clone(), Ink::Sheet);
    scene.wash(path.clone(), Ink::Hand, TINT);
    scene.stroke(path, LINE);
}

fn fails(scene: &mut Scene, path: BezPath) {
    scene.wash(path.clone(), Ink::DangerPale, 0.8);
    scene.stroke(path, Pen::solid(Ink::Danger, 2.0));
}

#[cfg(test)]
#[path = "figure_tests.rs"]
mod tests;
