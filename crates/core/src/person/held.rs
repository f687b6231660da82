//! A saw held somewhere: its grips and its outline against the bark and the ground.

use super::bark::Bark;
use super::body::Hand;
use super::ground::Ground;
use super::saw_body::{Part, SawBody};
use super::why_not::WhyNot;
use crate::geometry::{Point, Vector};

/// Least distance of a grip from the ground, square to it, m (*our guess*).
pub const GRIP_ABOVE_GROUND_M: f64 = 0.060;

/// A saw held with its spikes at a place and its bar in a direction. Operator's frame: +x outward, +y up.
#[derive(Clone, Copy, Debug)]
pub(super) struct Held {
    pub(super) spikes: Point,
    /// Along the bar to the nose.
    along: Vector,
    /// To the saw's upper side.
    upper: Vector,
    pub(super) front: Point,
    pub(super) rear: Point,
}

impl Held {
    /// `direction_rad` counter-clockwise from outward. The operator's right hand is at the rear, so the upper side lies
    /// clockwise of the bar.
    pub(super) fn new(saw: &SawBody, spikes: Point, direction_rad: f64) -> Self {
        let (sin, cos) = direction_rad.sin_cos();
        let (along, upper) = (Vector::new(cos, sin), Vector::new(sin, -cos));
        let at = |p: Point| spikes + p.x * along + p.y * upper;
        Self { spikes, along, upper, front: at(saw.front_grip()), rear: at(saw.rear_grip()) }
    }

    /// A point of the spike frame.
    pub(super) fn at(&self, p: Point) -> Point {
        self.spikes + p.x * self.along + p.y * self.upper
    }

    fn turned(&self, v: Vector) -> Vector {
        v.x * self.along + v.y * self.upper
    }

    /// A point of the operator's frame in the spike frame.
    fn in_saw(&self, p: Point) -> Point {
        let from = p - self.spikes;
        Point::new(from.dot(&self.along), from.dot(&self.upper))
    }

    pub(super) const fn grips(&self) -> [(Hand, Point); 2] {
        [(Hand::Front, self.front), (Hand::Rear, self.rear)]
    }

    /// Highest of spikes and grips, m.
    pub(super) fn top_m(&self) -> f64 {
        self.spikes.y.max(self.front.y).max(self.rear.y)
    }

    /// Lowest place of the outline over the ground, square to it, m.
    fn lowest(&self, saw: &SawBody, ground: &Ground) -> (f64, Point) {
        let (x, y) = (self.along.dot(&ground.up), self.upper.dot(&ground.up));
        let (least, corner) = saw.hull.iter().fold((f64::INFINITY, Point::origin()), |least, corner| {
            let height = corner.x * x + corner.y * y;
            if height < least.0 { (height, *corner) } else { least }
        });
        (ground.above_m(self.spikes) + least, self.at(corner))
    }

    /// True where hands and outline are clear of bark and ground.
    pub(super) fn is_clear(&self, saw: &SawBody, bark: &Bark, ground: &Ground) -> bool {
        self.grips().iter().all(|(_, grip)| {
            ground.above_m(*grip) >= GRIP_ABOVE_GROUND_M && bark.outside_m(*grip) >= saw.hand_room_m()
        }) && self.lowest(saw, ground).0 >= 0.0
            && !saw.parts.iter().any(|part| self.meets(part, bark))
    }

    fn meets(&self, part: &Part, bark: &Bark) -> bool {
        let log = self.in_saw(Point::origin());
        let apart_m = (log - part.middle).norm();
        if apart_m >= bark.outer_m() + part.round_m {
            return false;
        }
        let met = match bark.round_m() {
            Some(radius_m) => {
                part.sides.iter().any(|side| (side.nearest(log) - log).norm_squared() < radius_m * radius_m)
            }
            None => part.sides.iter().any(|side| {
                // No place of the edge is nearer than its middle less half its length: first from the circle round
                // the log, then from the bark.
                let middle = side.start + 0.5 * side.along;
                (middle - log).norm_squared() < (bark.outer_m() + side.half_m).powi(2)
                    && bark.outside_m(self.at(middle)) < side.half_m
                    && bark.nearest_on(self.at(side.start), self.turned(side.along)).0 < 0.0
            }),
        };
        met || (apart_m < part.round_m && holds(part, log))
    }

    /// The worst of what is not clear, or `None`.
    pub(super) fn fault(&self, saw: &SawBody, bark: &Bark, ground: &Ground) -> Option<WhyNot> {
        let mut worst: Option<(f64, WhyNot)> = None;
        let mut note = |by_m: f64, why: WhyNot| {
            if by_m > worst.map_or(0.0, |(most, _)| most) {
                worst = Some((by_m, why));
            }
        };
        for (hand, at) in self.grips() {
            let above_m = ground.above_m(at);
            let by_m = GRIP_ABOVE_GROUND_M - above_m;
            note(by_m, WhyNot::HandInGround { hand, by_m, above_m, at });
            let outside_m = bark.outside_m(at);
            let by_m = saw.hand_room_m() - outside_m;
            note(by_m, WhyNot::HandInBark { hand, by_m, outside_m, at });
        }
        let (lowest_m, at) = self.lowest(saw, ground);
        note(-lowest_m, WhyNot::HeadInGround { by_m: -lowest_m, at });
        let deepest = saw
            .parts
            .iter()
            .map(|part| self.deepest(part, bark))
            .fold((0.0, Point::origin()), |most, next| if next.0 < most.0 { next } else { most });
        note(-deepest.0, WhyNot::HeadInBark { by_m: -deepest.0, at: deepest.1 });
        worst.map(|(_, why)| why)
    }
}

impl Held {
    /// Where a part is deepest in the wood, and how far outside it is there: negative, or 0 where it is clear.
    fn deepest(&self, part: &Part, bark: &Bark) -> (f64, Point) {
        let log = self.in_saw(Point::origin());
        let mut deepest = (0.0, Point::origin());
        if (log - part.middle).norm() >= bark.outer_m() + part.round_m {
            return deepest;
        }
        if let Some(radius_m) = bark.round_m() {
            let mut least = radius_m * radius_m;
            for side in &part.sides {
                let place = side.nearest(log);
                let squared = (place - log).norm_squared();
                if squared < least {
                    (least, deepest.1) = (squared, place);
                }
            }
            deepest = (least.sqrt() - radius_m, self.at(deepest.1));
        } else {
            for side in &part.sides {
                let middle = side.start + 0.5 * side.along;
                // No place of the edge is nearer than its middle less half its length.
                if bark.outside_m(self.at(middle)) - side.half_m < deepest.0 {
                    let (outside_m, at) = bark.nearest_on(self.at(side.start), self.turned(side.along));
                    if outside_m < deepest.0 {
                        deepest = (outside_m, at);
                    }
                }
            }
        }
        // The whole log inside the outline.
        if deepest.0 >= 0.0 && holds(part, log) { (-bark.outer_m(), Point::origin()) } else { deepest }
    }
}

/// True where a part's polygon holds a point: crossings of a line from it to the right.
fn holds(part: &Part, p: Point) -> bool {
    part.polygon.edges().fold(false, |inside, (a, b)| {
        let crosses = (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x);
        inside != crosses
    })
}
