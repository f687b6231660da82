//! Where the hip may be for a posture to work: reach, feet and balance as intervals of one number.
//!
//! A posture is rigid from hip to head, and the hip moves along the ground. Where it must be for a hand to get to its
//! grip is then where a line meets a ring; the feet and the weight over them are linear in the places of hip and feet,
//! and the feet go out by taking every lower bound against every upper one. So a posture is tested by intersecting
//! intervals of the hip's place, and nothing is searched.

use super::body::{Body, Hand};
use super::ground::Ground;
use super::held::Held;
use super::posture::{Barrier, Posture};
use super::saw_body::SawBody;
use crate::geometry::{Point, Vector};

/// A bound that moves with the moment of saw and hands: `at + per_moment × moment`.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Bound {
    at: f64,
    per_moment: f64,
}

impl Bound {
    fn with(self, moment: f64) -> f64 {
        self.at + self.per_moment * moment
    }
}

/// What balance asks of the hip in one posture, and of the feet then.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Balance {
    /// Hip at least here, or the weight is before feet that stand as near as they may.
    forward: Bound,
    /// Hip at least here, or the weight is behind feet as far out as the hip lets them be.
    backward: Bound,
    /// Hip at most here, or the weight of the saw pulls forward from feet as near as the hip lets them be.
    pulled: Bound,
    whole_kg: f64,
    feet_kg: f64,
}

impl Balance {
    pub(super) fn of(posture: &Posture, body: &Body, saw_kg: f64) -> Self {
        let (constant, on_hip, on_feet) = posture.moment;
        let whole_kg = body.mass_kg + saw_kg;
        // Moment about the feet: how fast it falls as they move out.
        let feet_kg = whole_kg - on_feet;
        let (ahead, behind) = (whole_kg * posture.base_m.0, whole_kg * posture.base_m.1);
        let (least, most) = posture.over_feet_m;
        let spare_kg = feet_kg - on_hip;
        Self {
            forward: Bound {
                at: (posture.feet_min_m * feet_kg - constant - ahead) / on_hip,
                per_moment: -1.0 / on_hip,
            },
            backward: Bound {
                at: (constant - behind + least * feet_kg) / spare_kg,
                per_moment: 1.0 / spare_kg,
            },
            pulled: Bound { at: (constant + ahead + most * feet_kg) / spare_kg, per_moment: 1.0 / spare_kg },
            whole_kg,
            feet_kg,
        }
    }
}

/// What saw and hands ask of the body.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ask {
    pub(super) front: Point,
    pub(super) rear: Point,
    pub(super) top_m: f64,
    /// Moment of the saw and of the arms' share at the grips about the log's middle, kg·m.
    moment: f64,
}

/// What does not change from look to look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Arms {
    front_squared: (f64, f64),
    rear_squared: (f64, f64),
    /// Share of one arm's mass at its grip, kg.
    at_grip_kg: f64,
    saw_kg: f64,
    saw_centre: Point,
}

impl Arms {
    pub(super) fn of(body: &Body, saw: &SawBody) -> Self {
        let squared = |hand: Hand| {
            let (least, most) = body.reach_m(hand);
            (least * least, most * most)
        };
        let arm = body.arm();
        Self {
            front_squared: squared(Hand::Front),
            rear_squared: squared(Hand::Rear),
            at_grip_kg: arm.mass_kg * arm.centre,
            saw_kg: saw.mass_kg(),
            saw_centre: saw.centre(),
        }
    }

    pub(super) fn ask(&self, held: &Held) -> Ask {
        let saw_x = held.at(self.saw_centre).x;
        let moment = self.at_grip_kg * (held.front.x + held.rear.x) + self.saw_kg * saw_x;
        Ask { front: held.front, rear: held.rear, top_m: held.top_m(), moment }
    }

    pub(super) const fn squared(&self, hand: Hand) -> (f64, f64) {
        match hand {
            Hand::Front => self.front_squared,
            Hand::Rear => self.rear_squared,
        }
    }
}

/// Where the hip may be for one hand.
#[derive(Clone, Copy, Debug)]
pub(super) struct HandWindow {
    pub(super) from: f64,
    pub(super) to: f64,
    /// Too near in between; empty where the first is not below the second.
    pub(super) hole: (f64, f64),
    /// Nearer than this the hand is behind the body.
    pub(super) behind: f64,
    /// Squared distance of the grip from the line on which the shoulder moves, m².
    pub(super) off_squared: f64,
}

impl HandWindow {
    /// `None` where the grip is farther from the shoulder's line than the arm is long.
    #[inline]
    pub(super) fn of(posture: &Posture, ground: &Ground, grip: Point, squared: (f64, f64)) -> Option<Self> {
        let window = Self::anyway(posture, ground, grip, squared);
        (window.off_squared <= squared.1).then_some(window)
    }

    /// The same where the hand does not get there: then the window is the one place nearest to it.
    #[inline]
    pub(super) fn anyway(posture: &Posture, ground: &Ground, grip: Point, squared: (f64, f64)) -> Self {
        let rise = ground.rise();
        // Shoulder from grip with the hip at x: (x − across, rise · x + over).
        let across = grip.x - posture.shoulder.x;
        let over = ground.under_m() + posture.shoulder.y - grip.y;
        let slant = 1.0 + rise * rise;
        let middle = (across - rise * over) / slant;
        let off_squared = across * across + over * over - slant * middle * middle;
        let half = |squared: f64| ((squared - off_squared).max(0.0) / slant).sqrt();
        let outer = half(squared.1);
        let hole = if squared.0 > off_squared {
            let inner = half(squared.0);
            (middle - inner, middle + inner)
        } else {
            (middle, middle)
        };
        let behind = across.min((across - posture.behind * over) / (1.0 + posture.behind * rise));
        Self { from: middle - outer, to: middle + outer, hole, behind, off_squared }
    }
}

/// The widest stretch of hip places in which a posture works, m outward; `None` where it does not.
#[inline]
pub(super) fn hips(
    posture: &Posture,
    balance: &Balance,
    arms: &Arms,
    ground: &Ground,
    ask: &Ask,
) -> Option<(f64, f64)> {
    if ask.top_m > posture.top_m {
        return None;
    }
    let front = HandWindow::of(posture, ground, ask.front, arms.front_squared)?;
    let rear = HandWindow::of(posture, ground, ask.rear, arms.rear_squared)?;
    let from = front.from.max(rear.from).max(front.behind).max(rear.behind);
    let from = from.max(posture.hip_min_m).max(posture.feet_min_m + posture.over_feet_m.0);
    let from = from.max(balance.forward.with(ask.moment)).max(balance.backward.with(ask.moment));
    let to = front.to.min(rear.to).min(balance.pulled.with(ask.moment));
    if from > to {
        return None;
    }
    widest_outside(from, to, [front.hole, rear.hole])
}

/// The widest piece of an interval outside both holes.
fn widest_outside(from: f64, to: f64, holes: [(f64, f64); 2]) -> Option<(f64, f64)> {
    let [a, b] = holes;
    let solid = |hole: (f64, f64)| hole.0 < hole.1 && hole.1 > from && hole.0 < to;
    if !solid(a) && !solid(b) {
        return Some((from, to));
    }
    // Pieces before, between and after the holes, taken in order.
    let (first, second) = if a.0 <= b.0 { (a, b) } else { (b, a) };
    let clip = |low: f64, high: f64| (low.max(from), high.min(to));
    let pieces = match (solid(first), solid(second)) {
        (true, true) => [clip(from, first.0), clip(first.1, second.0), clip(first.1.max(second.1), to)],
        (true, false) => [clip(from, first.0), clip(first.1, to), (1.0, 0.0)],
        _ => [clip(from, second.0), clip(second.1, to), (1.0, 0.0)],
    };
    pieces.into_iter().filter(|(low, high)| low <= high).max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))
}

/// Where the middle between the feet may be with the hip at a place, m outward.
pub(super) fn feet(posture: &Posture, balance: &Balance, ask: &Ask, hip_m: f64) -> (f64, f64) {
    let moment = posture.moment.0 + ask.moment + posture.moment.1 * hip_m;
    let furthest_back = (moment - balance.whole_kg * posture.base_m.1) / balance.feet_kg;
    let furthest_out = (moment + balance.whole_kg * posture.base_m.0) / balance.feet_kg;
    (
        posture.feet_min_m.max(hip_m - posture.over_feet_m.1).max(furthest_back),
        (hip_m - posture.over_feet_m.0).min(furthest_out),
    )
}

/// Where the weight is straight above the middle between the feet, m outward.
pub(super) fn feet_under_weight(posture: &Posture, balance: &Balance, ask: &Ask, hip_m: f64) -> f64 {
    (posture.moment.0 + ask.moment + posture.moment.1 * hip_m) / balance.feet_kg
}

/// What a posture lacks.
#[derive(Clone, Copy, Debug)]
pub(super) struct Miss {
    /// How much, m.
    pub(super) by_m: f64,
    /// The hip's place at which it lacks that.
    pub(super) hip_m: f64,
    pub(super) lack: Lack,
}

#[derive(Clone, Copy, Debug)]
pub(super) enum Lack {
    AboveShoulder,
    Arm(Hand, Barrier),
    Cramped(Hand),
    Behind(Hand),
    FallsForward,
}

/// What a posture that does not work lacks.
pub(super) fn miss(posture: &Posture, balance: &Balance, arms: &Arms, ground: &Ground, ask: &Ask) -> Miss {
    let windows = [(Hand::Front, ask.front), (Hand::Rear, ask.rear)]
        .map(|(hand, grip)| (hand, HandWindow::anyway(posture, ground, grip, arms.squared(hand))));
    let lower = [
        (posture.hip_min_m, Low::Barrier(posture.hip_barrier)),
        (posture.feet_min_m + posture.over_feet_m.0, Low::Barrier(Barrier::Feet)),
        (balance.forward.with(ask.moment), Low::Balance),
        (balance.backward.with(ask.moment), Low::Balance),
    ];
    let hands = windows.iter().flat_map(|(hand, w)| [(w.from, Low::Hand), (w.behind, Low::Behind(*hand))]);
    let (from, low) = lower
        .into_iter()
        .chain(hands)
        .fold((f64::NEG_INFINITY, Low::Balance), |most, next| if next.0 > most.0 { next } else { most });
    let pulled = balance.pulled.with(ask.moment);
    let [(_, front), (_, rear)] = windows;
    let (to, high) = [(front.to, Some(Hand::Front)), (rear.to, Some(Hand::Rear)), (pulled, None)]
        .into_iter()
        .fold((f64::INFINITY, None), |least, next| if next.0 < least.0 { next } else { least });
    if ask.top_m > posture.top_m {
        return Miss { by_m: ask.top_m - posture.top_m, hip_m: from, lack: Lack::AboveShoulder };
    }
    // An arm that is too short however near the person comes, or from as near as they can come.
    let short_m = |hand: Hand, grip: Point| {
        let shoulder = Point::new(from, ground.height_m(from)) + posture.shoulder;
        (shoulder - grip).norm() - arms.squared(hand).1.sqrt()
    };
    let barrier = match low {
        Low::Barrier(barrier) => barrier,
        Low::Balance => Barrier::Balance,
        Low::Hand | Low::Behind(_) => Barrier::OtherHand,
    };
    let shortest = [(Hand::Front, ask.front), (Hand::Rear, ask.rear)]
        .map(|(hand, grip)| (short_m(hand, grip), hand))
        .into_iter()
        .fold((f64::NEG_INFINITY, Hand::Front), |most, next| if next.0 > most.0 { next } else { most });
    let off = windows.iter().any(|(hand, w)| w.off_squared > arms.squared(*hand).1);
    if from > to || off {
        let lack = match (high, low) {
            (None, _) if !off => Lack::FallsForward,
            (_, Low::Behind(hand)) if !off && shortest.0 > to - from => Lack::Behind(hand),
            _ => Lack::Arm(shortest.1, barrier),
        };
        let by_m = match lack {
            Lack::Arm(..) => shortest.0.max(0.0),
            _ => from - to,
        };
        return Miss { by_m, hip_m: from, lack };
    }
    // Only the holes are left.
    let (hand, window) = windows
        .into_iter()
        .max_by(|a, b| (a.1.hole.1 - a.1.hole.0).total_cmp(&(b.1.hole.1 - b.1.hole.0)))
        .unwrap_or((Hand::Rear, front));
    let by_m = (window.hole.1 - to).min(from - window.hole.0).abs();
    Miss { by_m, hip_m: to, lack: Lack::Cramped(hand) }
}

/// What sets the lower bound.
#[derive(Clone, Copy, Debug)]
enum Low {
    Barrier(Barrier),
    Balance,
    Hand,
    Behind(Hand),
}

/// The shoulder's place with the hip at a place.
pub(super) fn shoulder_at(posture: &Posture, ground: &Ground, hip_m: f64) -> Point {
    Point::new(hip_m, ground.height_m(hip_m)) + Vector::new(posture.shoulder.x, posture.shoulder.y)
}
