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

/// The larger of two numbers: one instruction, where [`f64::max`] asks after what is no number as well. Holds are asked by
/// the thousand, and of numbers only.
#[inline]
fn larger(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

/// The smaller of two numbers.
#[inline]
fn smaller(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}

/// The few numbers of a posture that decide whether a hold goes with it. They lie close together, for a hold that nobody
/// can take is asked of every posture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Decisive {
    /// Shoulder from the middle of the log with the hip below it, on ground as high as there, m.
    shoulder: Vector,
    behind: f64,
    per_behind: f64,
    top_m: f64,
    /// Hip at least here for legs, trunk, head and feet, m.
    hip_min_m: f64,
    forward: Bound,
    backward: Bound,
    pulled: Bound,
}

impl Decisive {
    pub(super) fn of(posture: &Posture, balance: &Balance, ground: &Ground) -> Self {
        Self {
            shoulder: posture.shoulder + Vector::new(0.0, ground.under_m()),
            behind: posture.behind,
            per_behind: posture.per_behind,
            top_m: posture.top_m,
            hip_min_m: posture.hip_min_m.max(posture.feet_min_m + posture.over_feet_m.0),
            forward: balance.forward,
            backward: balance.backward,
            pulled: balance.pulled,
        }
    }

    /// Hip at least here, whatever the arms: legs, trunk, head, feet and balance.
    #[inline]
    fn lowest_hip_m(&self, moment: f64) -> f64 {
        larger(self.hip_min_m, larger(self.forward.with(moment), self.backward.with(moment)))
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
    /// Longest reach in space, m.
    longest_m: f64,
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
            longest_m: body.longest_arm_m(),
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
struct HandWindow {
    from: f64,
    to: f64,
    /// Too near in between; empty where the first is not below the second.
    hole: (f64, f64),
}

impl HandWindow {
    /// The window of a grip; where the hand does not get there, the one place nearest to it.
    fn new(line: &ShoulderLine, squared: (f64, f64)) -> Self {
        let half = |squared: f64| (larger(squared - line.off_squared, 0.0) * line.per_slant).sqrt();
        let outer = half(squared.1);
        let inner = if squared.0 > line.off_squared { half(squared.0) } else { 0.0 };
        Self {
            from: line.middle - outer,
            to: line.middle + outer,
            hole: (line.middle - inner, line.middle + inner),
        }
    }
}

/// The line on which the shoulder moves with the hip, seen from a grip.
#[derive(Clone, Copy, Debug)]
struct ShoulderLine {
    /// Hip's place with the shoulder nearest to the grip, m.
    middle: f64,
    /// Squared distance of the grip from the line, m².
    off_squared: f64,
    /// Squared way of the shoulder for each squared way of the hip, and one over it.
    slant: f64,
    per_slant: f64,
    /// Hip's place, nearer than which the hand is behind the body, m.
    behind: f64,
}

impl ShoulderLine {
    #[inline]
    fn of(posture: &Decisive, ground: &Ground, grip: Point) -> Self {
        let rise = ground.rise();
        // Shoulder from grip with the hip at x: (x − across, rise · x + over).
        let across = grip.x - posture.shoulder.x;
        let over = posture.shoulder.y - grip.y;
        let (slant, per_slant) = (1.0 + rise * rise, ground.per_slant());
        let middle = (across - rise * over) * per_slant;
        let off_squared = across * across + over * over - slant * middle * middle;
        let behind = smaller(across, (across - posture.behind * over) * posture.per_behind);
        Self { middle, off_squared, slant, per_slant, behind }
    }

    /// Squared distance of the shoulder from the grip with the hip at a place, m².
    #[inline]
    fn squared_at(&self, hip_m: f64) -> f64 {
        self.off_squared + self.slant * (hip_m - self.middle) * (hip_m - self.middle)
    }

    /// True where the shoulder is within reach with the hip at `from` or somewhere outward of it.
    #[inline]
    fn is_near(&self, from: f64, most_squared: f64) -> bool {
        self.squared_at(larger(from, self.middle)) <= most_squared
    }
}

/// Hip places that legs, balance and both hands allow, holes of hands too near their shoulders among them.
#[derive(Clone, Copy, Debug)]
pub(super) struct HipWindow {
    from: f64,
    to: f64,
    holes: [(f64, f64); 2],
}

impl HipWindow {
    #[inline]
    pub(super) fn of(posture: &Decisive, arms: &Arms, ground: &Ground, ask: &Ask) -> Option<Self> {
        if ask.top_m > posture.top_m {
            return None;
        }
        // Most holds that fail fail by one hand, and most postures are asked about holds that fail.
        let front = ShoulderLine::of(posture, ground, ask.front);
        let from = larger(posture.lowest_hip_m(ask.moment), front.behind);
        if !front.is_near(from, arms.front_squared.1) {
            return None;
        }
        let rear = ShoulderLine::of(posture, ground, ask.rear);
        let from = larger(from, rear.behind);
        if !(rear.is_near(from, arms.rear_squared.1) && front.is_near(from, arms.front_squared.1)) {
            return None;
        }
        let front = HandWindow::new(&front, arms.front_squared);
        let rear = HandWindow::new(&rear, arms.rear_squared);
        let from = larger(from, larger(front.from, rear.from));
        let to = smaller(smaller(front.to, rear.to), posture.pulled.with(ask.moment));
        (from <= to).then_some(Self { from, to, holes: [front.hole, rear.hole] })
    }

    /// The same for feet that stand with their middle at `feet_m`.
    pub(super) fn over(self, posture: &Posture, balance: &Balance, ask: &Ask, feet_m: f64) -> Option<Self> {
        if feet_m < posture.feet_min_m {
            return None;
        }
        let (constant, on_hip, _) = posture.moment;
        let hip_for = |ahead_m: f64| {
            (feet_m * balance.feet_kg - balance.whole_kg * ahead_m - constant - ask.moment) / on_hip
        };
        let from = self.from.max(feet_m + posture.over_feet_m.0).max(hip_for(posture.base_m.0));
        let to = self.to.min(feet_m + posture.over_feet_m.1).min(hip_for(-posture.base_m.1));
        (from <= to).then_some(Self { from, to, ..self })
    }

    /// The widest piece outside the holes.
    #[inline]
    pub(super) fn widest(&self) -> Option<(f64, f64)> {
        widest_outside(self.from, self.to, self.holes)
    }
}

/// The widest stretch of hip places in which a posture works, m outward; `None` where it does not.
#[inline]
pub(super) fn hips(posture: &Decisive, arms: &Arms, ground: &Ground, ask: &Ask) -> Option<(f64, f64)> {
    HipWindow::of(posture, arms, ground, ask)?.widest()
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

/// How far a posture is from working, m, told from the arms alone and to first order: for choosing the nearest.
#[inline]
pub(super) fn shortage_m(posture: &Decisive, arms: &Arms, ground: &Ground, ask: &Ask) -> f64 {
    let front = ShoulderLine::of(posture, ground, ask.front);
    let rear = ShoulderLine::of(posture, ground, ask.rear);
    let from = posture.lowest_hip_m(ask.moment).max(front.behind).max(rear.behind);
    let short = |line: &ShoulderLine, (_, most): (f64, f64)| {
        // Squares differ by twice the length times the difference.
        0.5 * (line.squared_at(from.max(line.middle)) - most) / arms.longest_m
    };
    let arm_m = short(&front, arms.front_squared).max(short(&rear, arms.rear_squared));
    arm_m.max(ask.top_m - posture.top_m).max(0.0)
}

/// What a posture that does not work lacks.
pub(super) fn miss(posture: &Posture, balance: &Balance, arms: &Arms, ground: &Ground, ask: &Ask) -> Miss {
    let decisive = Decisive::of(posture, balance, ground);
    let lines = [(Hand::Front, ask.front), (Hand::Rear, ask.rear)]
        .map(|(hand, grip)| (hand, ShoulderLine::of(&decisive, ground, grip)));
    let lower = [
        (posture.hip_min_m, Low::Barrier(posture.hip_barrier)),
        (posture.feet_min_m + posture.over_feet_m.0, Low::Barrier(Barrier::Feet)),
        (balance.forward.with(ask.moment), Low::Barrier(Barrier::Balance)),
        (balance.backward.with(ask.moment), Low::Barrier(Barrier::Balance)),
    ];
    let behind = lines.iter().map(|(hand, line)| (line.behind, Low::Behind(*hand)));
    let (from, low) = lower.into_iter().chain(behind).fold(
        (f64::NEG_INFINITY, Low::Barrier(Barrier::Feet)),
        |most, next| {
            if next.0 > most.0 { next } else { most }
        },
    );
    if ask.top_m > posture.top_m {
        return Miss { by_m: ask.top_m - posture.top_m, hip_m: from, lack: Lack::AboveShoulder };
    }
    // An arm that is too short from as near as the person comes.
    let short = |(hand, line): &(Hand, ShoulderLine)| {
        let hip_m = from.max(line.middle);
        (line.squared_at(hip_m).sqrt() - arms.squared(*hand).1.sqrt(), hip_m, *hand)
    };
    let (by_m, hip_m, hand) = lines
        .iter()
        .map(short)
        .fold((f64::NEG_INFINITY, from, Hand::Front), |most, next| if next.0 > most.0 { next } else { most });
    if by_m > 0.0 {
        let lack = match low {
            Low::Barrier(barrier) if hip_m <= from => Lack::Arm(hand, barrier),
            Low::Behind(other) if hip_m <= from && other == hand => Lack::Behind(hand),
            Low::Behind(_) if hip_m <= from => Lack::Arm(hand, Barrier::OtherHand),
            // Straight below or above the grip, and still too far: the feet stand on the ground.
            Low::Barrier(_) | Low::Behind(_) => Lack::Arm(hand, Barrier::Height),
        };
        return Miss { by_m, hip_m, lack };
    }
    // Each hand alone gets there.
    let windows = lines.map(|(hand, line)| (hand, HandWindow::new(&line, arms.squared(hand))));
    let [(_, front), (_, rear)] = windows;
    let nearest = from.max(front.from).max(rear.from);
    let (to, hand) = if front.to < rear.to { (front.to, Hand::Front) } else { (rear.to, Hand::Rear) };
    if nearest > to {
        return Miss { by_m: nearest - to, hip_m: nearest, lack: Lack::Arm(hand, Barrier::OtherHand) };
    }
    let pulled = balance.pulled.with(ask.moment);
    if nearest > pulled {
        return Miss { by_m: nearest - pulled, hip_m: nearest, lack: Lack::FallsForward };
    }
    let to = to.min(pulled);
    let (hand, window) = windows
        .into_iter()
        .max_by(|a, b| (a.1.hole.1 - a.1.hole.0).total_cmp(&(b.1.hole.1 - b.1.hole.0)))
        .unwrap_or((Hand::Rear, rear));
    let by_m = (window.hole.1 - to).min(nearest - window.hole.0).max(0.0);
    Miss { by_m, hip_m: to, lack: Lack::Cramped(hand) }
}

/// What sets the lower bound.
#[derive(Clone, Copy, Debug)]
enum Low {
    Barrier(Barrier),
    Behind(Hand),
}

/// The shoulder's place with the hip at a place.
pub(super) fn shoulder_at(posture: &Posture, ground: &Ground, hip_m: f64) -> Point {
    Point::new(hip_m, ground.height_m(hip_m)) + Vector::new(posture.shoulder.x, posture.shoulder.y)
}

#[cfg(test)]
mod tests {
    use super::widest_outside;
    use proptest::prelude::*;

    /// The width of a hole: none, or one that the walk below does not step over.
    fn hole() -> impl Strategy<Value = f64> {
        prop_oneof![Just(0.0), 2.0 * STEP..0.8]
    }

    /// Of the walk.
    const STEP: f64 = 1e-3;

    proptest! {
        #[test]
        fn law_the_widest_piece_is_outside_both_holes_and_none_is_wider(
            from in -1.0_f64..1.0, length in 0.0_f64..2.0, a in -1.0_f64..1.0, wide_a in hole(),
            b in -1.0_f64..1.0, wide_b in hole()
        ) {
            let (to, holes) = (from + length, [(a, a + wide_a), (b, b + wide_b)]);
            let free = |x: f64| x >= from && x <= to && holes.iter().all(|(low, high)| x <= *low || x >= *high);
            let found = widest_outside(from, to, holes);
            // A plain walk along the interval.
            let step = STEP;
            let (mut widest, mut run, mut x) = (0.0_f64, 0.0, from);
            while x <= to {
                run = if free(x) { run + step } else { 0.0 };
                widest = widest.max(run);
                x += step;
            }
            match found {
                Some((low, high)) => {
                    prop_assert!(low <= high && free(low) && free(high) && free(0.5 * (low + high)));
                    prop_assert!(high - low > widest - 2.1 * step, "{low}–{high}, walked {widest}");
                }
                None => prop_assert!(widest < 2.1 * step, "walked {widest}"),
            }
        }
    }
}
