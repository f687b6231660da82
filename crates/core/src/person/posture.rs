//! The postures a person takes beside a log: how the legs are held, how far the trunk is bent, and how near to the log
//! each lets the hips come.

use super::bark::Bark;
use super::body::Body;
use super::ground::Ground;
use crate::geometry::{Point, Vector};
use std::f64::consts::PI;

/// Room between the bark and legs or knees, m (*our guess*).
pub(super) const KNEE_ROOM_M: f64 = 0.050;
/// Half the distance between the feet along the cut, one foot ahead of the other, m (*our guess*).
pub(super) const HALF_STAGGER_M: f64 = 0.12;
/// A boot is so high over its toes, m (*our guess*).
pub(super) const BOOT_HEIGHT_M: f64 = 0.10;
/// The weight stays so far within the ends of the feet, m: standing, and kneeling (*our guess*).
pub(super) const STANDING_MARGIN_M: f64 = 0.05;
pub(super) const KNEELING_MARGIN_M: f64 = 0.20;
/// Kneeling, the thigh above the knee on the ground leans so far either way, m at the hip (*our guess*).
pub(super) const KNEELING_LEAN_M: f64 = 0.06;
/// Trunk from upright, forward positive: from, to when standing, to when kneeling, and step, degrees.
const BEND_FROM_DEG: i32 = -10;
const BEND_TO_DEG: i32 = 70;
const KNEELING_BEND_TO_DEG: i32 = 60;
const BEND_STEP_DEG: usize = 5;
/// Share of the trunk's bend that the neck keeps: it looks at the work (*our guess*).
pub(super) const NECK_SHARE: f64 = 0.5;
/// From beside the log to well clear of it, m.
const FAR_M: f64 = 4.0;
/// The place from which the body is clear of the log is found so well, m.
const CLEAR_WITHIN_M: f64 = 1e-7;

/// How the legs are held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Legs {
    /// Standing, .97 of the legs' length.
    Straight,
    /// Knees soft, .93.
    Soft,
    /// Knees bent, .80.
    Bent,
    /// Crouching, .62.
    Crouching,
    /// Kneeling on one knee.
    Kneeling,
}

impl Legs {
    pub(super) const ALL: [Self; 5] =
        [Self::Straight, Self::Soft, Self::Bent, Self::Crouching, Self::Kneeling];

    /// Share of the legs' length between hip and ankle; `None` kneeling.
    pub const fn share(self) -> Option<f64> {
        match self {
            Self::Straight => Some(0.97),
            Self::Soft => Some(0.93),
            Self::Bent => Some(0.80),
            Self::Crouching => Some(0.62),
            Self::Kneeling => None,
        }
    }

    /// What it costs beside standing straight, in the scale of a bend in rad² (*our guess*).
    pub const fn cost(self) -> f64 {
        match self {
            Self::Straight => 0.0,
            Self::Soft => 0.3,
            Self::Bent => 1.2,
            Self::Crouching => 2.0,
            Self::Kneeling => 1.0,
        }
    }

    /// The words for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Straight => "standing",
            Self::Soft => "standing, knees soft",
            Self::Bent => "standing, knees bent",
            Self::Crouching => "crouching",
            Self::Kneeling => "kneeling",
        }
    }

    /// Height of the hip above the ground, m.
    pub(super) fn hip_m(self, body: &Body) -> f64 {
        self.share().map_or(body.kneeling_hip_m, |share| body.ankle_height_m + share * body.leg_m())
    }

    /// How far the hip may be outward of the middle between the feet, m, from and to; `None` where no leg is long enough
    /// on this slope.
    ///
    /// Standing, neither leg gets longer than it is: with the hip at height `up` over an ankle's height and the ankle `d`
    /// outward of it on ground that rises by `rise` a metre, d² + (up − rise·d)² ≤ leg².
    fn hip_over_feet_m(self, body: &Body, rise: f64) -> Option<(f64, f64)> {
        let Some(share) = self.share() else {
            return Some((HALF_STAGGER_M - KNEELING_LEAN_M, HALF_STAGGER_M + KNEELING_LEAN_M));
        };
        let (leg, up) = (body.leg_m(), share * body.leg_m());
        let slant = 1.0 + rise * rise;
        let half = ((rise * up).powi(2) - slant * (up * up - leg * leg)).max(0.0).sqrt();
        let (nearest, farthest) = ((rise * up - half) / slant, (rise * up + half) / slant);
        let (from, to) = (HALF_STAGGER_M - farthest, -HALF_STAGGER_M - nearest);
        (from <= to).then_some((from, to))
    }

    /// How far the weight may be ahead of the middle between the feet, towards the log, and behind it, m.
    fn base_m(self, body: &Body) -> (f64, f64) {
        let ahead = HALF_STAGGER_M + body.ankle_to_ball_m;
        match self.share() {
            Some(_) => (ahead - STANDING_MARGIN_M, HALF_STAGGER_M + body.ankle_to_heel_m - STANDING_MARGIN_M),
            None => (ahead - KNEELING_MARGIN_M, HALF_STAGGER_M + body.shank_m - KNEELING_MARGIN_M),
        }
    }
}

/// What keeps a person from coming nearer to the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Barrier {
    /// Feet and knees against the log.
    Feet,
    /// Thighs and hips against the log.
    Legs,
    /// The trunk against the log.
    Trunk,
    /// The head against the log.
    Head,
    /// Any nearer they would fall forward.
    Balance,
    /// Any nearer the other hand would be behind the body or out of its reach.
    OtherHand,
    /// The grip is too high or too low for the shoulder, however near.
    Height,
}

/// A posture beside one log, everything that does not depend on the saw. Operator's frame: +x outward from the log,
/// +y up; places are those of the hip, or counted from the ground straight below it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Posture {
    pub(super) legs: Legs,
    pub(super) bend_rad: f64,
    pub(super) cost: f64,
    pub(super) hip_m: f64,
    /// From the ground below the hip.
    pub(super) shoulder: Vector,
    /// From the ground below the hip.
    pub(super) head: Vector,
    /// Neither spikes nor grips above this, m.
    pub(super) top_m: f64,
    /// Middle between the feet at least so far out, m.
    pub(super) feet_min_m: f64,
    /// Hip at least so far out, m, and what keeps it there.
    pub(super) hip_min_m: f64,
    pub(super) hip_barrier: Barrier,
    /// Hip outward of the middle between the feet, from and to, m.
    pub(super) over_feet_m: (f64, f64),
    /// How far the weight may be ahead of that middle and behind it, m.
    pub(super) base_m: (f64, f64),
    /// Moment of the body about the log's middle: constant, for each m of the hip, for each m of the feet; kg·m, kg.
    pub(super) moment: (f64, f64, f64),
    /// Steepness of the line from the shoulder, behind which no hand goes: m outward for each m down.
    pub(super) behind: f64,
    /// How far the hip goes for each metre that the shoulder's line is off that line, the ground rising with it.
    pub(super) per_behind: f64,
}

/// The shoulder moves back by so much from hanging along the trunk, degrees (usual clinical figure, from memory), and
/// from hanging straight down no more than so much, which keeps the test simple (*our guess*).
pub(super) const SHOULDER_BACK_DEG: f64 = 50.0;
pub(super) const HAND_BACK_DEG: f64 = 60.0;

/// Every posture of a body beside a log, the least laborious first.
pub(super) fn postures(body: &Body, can_kneel: bool, bark: &Bark, ground: &Ground) -> Vec<Posture> {
    let mut all = Vec::with_capacity(96);
    for legs in Legs::ALL {
        let last = if legs == Legs::Kneeling { KNEELING_BEND_TO_DEG } else { BEND_TO_DEG };
        if legs == Legs::Kneeling && !can_kneel {
            continue;
        }
        let Some(over_feet_m) = legs.hip_over_feet_m(body, ground.rise()) else { continue };
        let room = LegRoom::of(legs, body, bark, ground, over_feet_m);
        for degrees in (BEND_FROM_DEG..=last).step_by(BEND_STEP_DEG) {
            all.push(posture(body, legs, f64::from(degrees).to_radians(), &room, bark, ground));
        }
    }
    all.sort_by(|a, b| a.cost.total_cmp(&b.cost).then(b.bend_rad.total_cmp(&a.bend_rad)));
    all
}

/// How near the legs come to the log.
struct LegRoom {
    feet_min_m: f64,
    hip_min_m: f64,
    over_feet_m: (f64, f64),
}

impl LegRoom {
    fn of(legs: Legs, body: &Body, bark: &Bark, ground: &Ground, over_feet_m: (f64, f64)) -> Self {
        // Kneeling, the knee of the front leg is above the hip.
        let up_to_m = match legs {
            Legs::Kneeling => legs.hip_m(body).max(body.knee_height_m),
            _ => legs.hip_m(body),
        };
        let beside_legs = farthest_out_m(bark, ground, up_to_m) + KNEE_ROOM_M;
        let before_toes = farthest_out_m(bark, ground, BOOT_HEIGHT_M) + body.ankle_to_toe_m;
        // On the operator's side of the log, even where it hangs above their hips.
        let front_foot_m = beside_legs.max(before_toes).max(0.0);
        Self { feet_min_m: front_foot_m + HALF_STAGGER_M, hip_min_m: beside_legs.max(0.0), over_feet_m }
    }
}

/// How far out the bark comes at most at heights above the ground up to `up_to_m`; minus infinity where it hangs higher.
fn farthest_out_m(bark: &Bark, ground: &Ground, up_to_m: f64) -> f64 {
    let above_m = |rad: f64| {
        let p = bark.towards(rad);
        p.y - ground.height_m(p.x) - up_to_m
    };
    // From the place nearest to the ground round to the widest one, the bark only rises and comes out.
    let (mut low, mut high) = (-PI, 0.0);
    for _ in 0..40 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if above_m(a) < above_m(b) { high = b } else { low = a }
    }
    let (mut inside, mut outside) = (0.5 * (low + high), 0.0);
    if above_m(inside) > 0.0 {
        return f64::NEG_INFINITY;
    }
    if above_m(outside) <= 0.0 {
        return bark.towards(outside).x;
    }
    for _ in 0..40 {
        let middle = 0.5 * (inside + outside);
        if above_m(middle) <= 0.0 { inside = middle } else { outside = middle }
    }
    bark.towards(inside).x
}

fn posture(body: &Body, legs: Legs, bend_rad: f64, room: &LegRoom, bark: &Bark, ground: &Ground) -> Posture {
    let hip_m = legs.hip_m(body);
    let (sin, cos) = bend_rad.sin_cos();
    let trunk = Vector::new(-body.trunk_m * sin, body.trunk_m * cos);
    let (neck_sin, neck_cos) = (NECK_SHARE * bend_rad).sin_cos();
    let hip = Vector::new(0.0, hip_m);
    let shoulder = hip + trunk;
    let head = shoulder + body.neck_m * Vector::new(-neck_sin, neck_cos);
    let clear =
        |piece: (Vector, Vector), room_m: f64| clear_from_m(bark, ground, room.hip_min_m, piece, room_m);
    let (hip_min_m, hip_barrier) = [
        (room.hip_min_m, Barrier::Legs),
        (clear((hip, trunk), body.half_chest_m), Barrier::Trunk),
        (clear((head, Vector::zeros()), body.head_radius_m), Barrier::Head),
    ]
    .into_iter()
    .fold((f64::NEG_INFINITY, Barrier::Legs), |most, next| if next.0 > most.0 { next } else { most });
    let upright_m = if legs == Legs::Kneeling { hip_m + body.trunk_m } else { body.shoulder_height_m };
    let back_rad = (SHOULDER_BACK_DEG.to_radians() + bend_rad).clamp(0.0, HAND_BACK_DEG.to_radians());
    let behind = back_rad.tan();
    Posture {
        legs,
        bend_rad,
        cost: bend_rad * bend_rad + legs.cost(),
        hip_m,
        shoulder,
        head,
        top_m: ground.height_m(room.feet_min_m) + upright_m,
        feet_min_m: room.feet_min_m,
        hip_min_m,
        hip_barrier,
        over_feet_m: room.over_feet_m,
        base_m: legs.base_m(body),
        moment: moment(body, shoulder.x, head.x),
        behind,
        per_behind: 1.0 / (1.0 + behind * ground.rise()),
    }
}

/// Moment of all of the body but the share of the arms that hangs on the grips: constant, for each m of the hip, for
/// each m of the feet. Thighs and shanks lie on the line from hip to ankle.
fn moment(body: &Body, shoulder_x: f64, head_x: f64) -> (f64, f64, f64) {
    let arm = body.arm();
    let arms_on_shoulder_kg = 2.0 * arm.mass_kg * (1.0 - arm.centre);
    let knee_share = body.thigh_m / body.leg_m();
    let thigh_share = body.thigh.centre * knee_share;
    let shank_share = knee_share + body.shank.centre * (1.0 - knee_share);
    let (thighs, shanks, feet) =
        (2.0 * body.thigh.mass_kg, 2.0 * body.shank.mass_kg, 2.0 * body.foot.mass_kg);
    let foot_length = body.ankle_to_heel_m + body.ankle_to_toe_m;
    let foot_ahead_m = body.foot.centre * foot_length - body.ankle_to_heel_m;
    let constant = body.head_kg * head_x
        + body.trunk.mass_kg * (1.0 - body.trunk.centre) * shoulder_x
        + arms_on_shoulder_kg * shoulder_x
        - feet * foot_ahead_m;
    let on_feet = thighs * thigh_share + shanks * shank_share + feet;
    let on_hip = body.head_kg
        + body.trunk.mass_kg
        + arms_on_shoulder_kg
        + thighs * (1.0 - thigh_share)
        + shanks * (1.0 - shank_share);
    (constant, on_hip, on_feet)
}

/// How far out the hip must be at least, beyond `from_m`, for a piece of the body to stay `room_m` off the bark; minus
/// infinity where it does so from there on. The piece is given from the ground below the hip and moves with it along the
/// ground.
fn clear_from_m(bark: &Bark, ground: &Ground, from_m: f64, piece: (Vector, Vector), room_m: f64) -> f64 {
    let short_m = |out_m: f64| {
        let start = Point::new(out_m, ground.height_m(out_m)) + piece.0;
        bark.nearest_on(start, piece.1).0 - room_m
    };
    // The distance is convex in the place: from its least outward it only grows.
    let mut blocked = from_m;
    if short_m(from_m) >= 0.0 {
        if short_m(from_m + 1e-6) >= short_m(from_m) {
            return f64::NEG_INFINITY;
        }
        let (mut low, mut high) = (from_m, from_m + FAR_M);
        for _ in 0..60 {
            let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
            if short_m(a) < short_m(b) { high = b } else { low = a }
        }
        blocked = 0.5 * (low + high);
        if short_m(blocked) >= 0.0 {
            return f64::NEG_INFINITY;
        }
    }
    root(&short_m, blocked, blocked + FAR_M)
}

/// Where a function that is negative at `low` and positive at `high` is zero, from the positive side, to
/// [`CLEAR_WITHIN_M`] of its value or its place: false position, the weight of an end that stays halved.
fn root(f: &dyn Fn(f64) -> f64, low: f64, high: f64) -> f64 {
    let (mut low, mut high) = (low, high);
    let (mut low_weight, mut high_weight) = (f(low), f(high));
    let mut last_was_low = None;
    for _ in 0..200 {
        // Never stuck at an end.
        let share = (low_weight / (low_weight - high_weight)).clamp(0.01, 0.99);
        let at = low + share * (high - low);
        let value = f(at);
        if value < 0.0 {
            (low, low_weight) = (at, value);
            high_weight *= if last_was_low == Some(true) { 0.5 } else { 1.0 };
        } else {
            (high, high_weight) = (at, value);
            low_weight *= if last_was_low == Some(false) { 0.5 } else { 1.0 };
            if value <= CLEAR_WITHIN_M {
                break;
            }
        }
        if high - low <= CLEAR_WITHIN_M {
            break;
        }
        last_was_low = Some(value < 0.0);
    }
    high
}
