//! The generic silhouette of a powerhead, stretched to a head's own grips and spike line.
//!
//! The one outline that drawing and model share. Its shape is invented: a rear handle with its loop, a body, a front
//! handle, a hand guard and spikes, of no maker's form.

use super::{Outline, Powerhead};
use crate::geometry::{Point, Polygon};

/// The head for which the silhouette was drawn, mm: grips and spike line.
const REAR_GRIP: (f64, f64) = (-323.0, 60.0);
const FRONT_GRIP: (f64, f64) = (-5.0, 165.0);
const SPIKE_LINE: f64 = 183.0;
/// Chords a curve is made of where the silhouette is taken as a polygon: within 2 mm of the curve.
const CHORDS: u32 = 4;

/// One step of an outline; points in the generic head's frame, mm, or on a head, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OutlineStep<P> {
    /// Starts at a point.
    Move(P),
    /// A straight line to a point.
    Line(P),
    /// A cubic curve: two control points, and where it ends.
    Curve(P, P, P),
    /// Back to the start.
    Close,
}

use OutlineStep::{Close, Curve, Line, Move};

type Step = OutlineStep<(f64, f64)>;

/// A part of the silhouette.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HeadPart {
    /// The rear handle with its loop.
    RearHandle,
    /// Engine and covers.
    Body,
    /// The tube of the front handle.
    FrontHandle,
    /// The guard before the front hand, which is also the lever of the chain brake.
    Guard,
    /// The spikes.
    Spikes,
}

impl HeadPart {
    /// Every part, from the back.
    pub const ALL: [Self; 5] = [Self::RearHandle, Self::Body, Self::FrontHandle, Self::Guard, Self::Spikes];

    const fn steps(self) -> &'static [Step] {
        match self {
            Self::RearHandle => REAR_HANDLE,
            Self::Body => BODY,
            Self::FrontHandle => FRONT_HANDLE,
            Self::Guard => GUARD,
            Self::Spikes => SPIKES,
        }
    }

    /// The part's outline on a head: steps in the saw frame, m. The generic form, also where the owner drew a body.
    pub fn generic_on(self, head: &Powerhead) -> Vec<OutlineStep<Point>> {
        HeadFit::new(head).placed(self.steps())
    }

    /// The part as a polygon in the saw frame, m: the owner's own outline where this is the body and one is given,
    /// else the generic form with its curves as chords.
    pub fn polygon_on(self, head: &Powerhead) -> Polygon {
        if let (Self::Body, Outline::Own(own)) = (self, head.outline()) {
            return own.clone();
        }
        let mut corners: Vec<Point> = Vec::new();
        for step in self.generic_on(head) {
            match step {
                Move(p) | Line(p) => corners.push(p),
                Curve(a, b, end) => {
                    let start = corners.last().copied().unwrap_or(end);
                    corners.extend(
                        (1..=CHORDS).map(|i| cubic(start, a, b, end, f64::from(i) / f64::from(CHORDS))),
                    );
                }
                Close => {}
            }
        }
        // A curve that ends where the outline began closes it.
        if corners.len() > 1
            && corners.first().zip(corners.last()).is_some_and(|(a, b)| (a - b).norm() < 1e-9)
        {
            corners.pop();
        }
        Polygon::new(corners)
    }
}

/// How deep the teeth of the spikes stand out before the generic body on this head, m.
pub fn tooth_depth_m(head: &Powerhead) -> f64 {
    head.spike_line().as_m() - HeadFit::new(head).place((HeadFit::BODY_FRONT, 0.0)).x
}

fn cubic(start: Point, a: Point, b: Point, end: Point, t: f64) -> Point {
    let s = 1.0 - t;
    Point::from(
        s * s * s * start.coords
            + 3.0 * s * s * t * a.coords
            + 3.0 * s * t * t * b.coords
            + t * t * t * end.coords,
    )
}

/// Where a point of the generic silhouette lies on a head: straight between the landmarks, unit scale beyond.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeadFit {
    rear: Point,
    front: Point,
    spike_line_m: f64,
}

impl HeadFit {
    /// The front edge of the generic body, mm ahead of the sprocket; it lies behind the spike line.
    pub const BODY_FRONT: f64 = 137.0;

    /// The fit of a head's grips and spike line.
    pub const fn new(head: &Powerhead) -> Self {
        Self { rear: head.rear_grip(), front: head.front_grip(), spike_line_m: head.spike_line().as_m() }
    }

    /// An outline drawn on the generic head, mm, as it lies on this one, saw frame, m.
    pub fn placed(&self, steps: &[OutlineStep<(f64, f64)>]) -> Vec<OutlineStep<Point>> {
        let at = |p| self.place(p);
        steps
            .iter()
            .map(|step| match *step {
                Move(p) => Move(at(p)),
                Line(p) => Line(at(p)),
                Curve(a, b, p) => Curve(at(a), at(b), at(p)),
                Close => Close,
            })
            .collect()
    }

    /// A point of the generic head, mm, as it lies on this one, saw frame, m.
    pub fn place(&self, (x, y): (f64, f64)) -> Point {
        let between = |value: f64, from: (f64, f64), to: (f64, f64)| {
            to.0 + (value - from.0) * (to.1 - to.0) / (from.1 - from.0)
        };
        let (rear, front) = (self.rear * 1e3, self.front * 1e3);
        let at_x = if x <= REAR_GRIP.0 {
            x - REAR_GRIP.0 + rear.x
        } else if x <= FRONT_GRIP.0 {
            between(x, (REAR_GRIP.0, FRONT_GRIP.0), (rear.x, front.x))
        } else {
            between(x, (FRONT_GRIP.0, SPIKE_LINE), (front.x, self.spike_line_m * 1e3))
        };
        let tall = front.y / FRONT_GRIP.1;
        // The rear handle follows its grip; its lift fades out towards the body.
        let fade = between(x, (-215.0, REAR_GRIP.0), (0.0, 1.0)).clamp(0.0, 1.0);
        Point::new(at_x, y * tall + (rear.y - REAR_GRIP.1 * tall) * fade) * 1e-3
    }
}

const REAR_HANDLE: &[Step] = &[
    Move((-205.0, 78.0)),
    Curve((-260.0, 84.0), (-330.0, 82.0), (-372.0, 40.0)),
    Curve((-412.0, 2.0), (-422.0, -40.0), (-414.0, -66.0)),
    Curve((-408.0, -84.0), (-392.0, -86.0), (-372.0, -86.0)),
    Line((-200.0, -84.0)),
    Line((-200.0, -58.0)),
    Curve((-240.0, -60.0), (-300.0, -62.0), (-352.0, -62.0)),
    Curve((-374.0, -62.0), (-380.0, -48.0), (-370.0, -24.0)),
    Curve((-350.0, 16.0), (-320.0, 46.0), (-286.0, 50.0)),
    Curve((-256.0, 54.0), (-226.0, 54.0), (-200.0, 52.0)),
    Close,
];

const BODY: &[Step] = &[
    Move((-212.0, -70.0)),
    Line((-216.0, 16.0)),
    Curve((-214.0, 44.0), (-202.0, 60.0), (-188.0, 72.0)),
    Curve((-160.0, 92.0), (-142.0, 122.0), (-112.0, 126.0)),
    Curve((-84.0, 129.0), (-62.0, 128.0), (-40.0, 126.0)),
    Curve((-18.0, 122.0), (0.0, 108.0), (18.0, 100.0)),
    Curve((60.0, 90.0), (100.0, 84.0), (118.0, 66.0)),
    Curve((132.0, 54.0), (HeadFit::BODY_FRONT, 46.0), (HeadFit::BODY_FRONT, 36.0)),
    Line((HeadFit::BODY_FRONT, -66.0)),
    Curve((HeadFit::BODY_FRONT, -78.0), (130.0, -85.0), (118.0, -85.0)),
    Line((-196.0, -85.0)),
    Curve((-206.0, -85.0), (-212.0, -80.0), (-212.0, -70.0)),
    Close,
];

const SPIKES: &[Step] = &[
    Move((132.0, 40.0)),
    Line((150.0, 36.0)),
    Line((SPIKE_LINE, 25.0)),
    Line((162.0, 14.0)),
    Line((164.0, 8.0)),
    Line((SPIKE_LINE, -4.0)),
    Line((162.0, -15.0)),
    Line((164.0, -21.0)),
    Line((SPIKE_LINE, -33.0)),
    Line((150.0, -46.0)),
    Line((132.0, -50.0)),
    Close,
];

const GUARD: &[Step] = &[
    Move((44.0, 92.0)),
    Line((58.0, 88.0)),
    Curve((72.0, 108.0), (86.0, 118.0), (88.0, 146.0)),
    Curve((90.0, 170.0), (86.0, 190.0), (78.0, 208.0)),
    Curve((75.0, 213.0), (69.0, 211.0), (70.0, 205.0)),
    Curve((76.0, 184.0), (78.0, 168.0), (75.0, 148.0)),
    Curve((72.0, 122.0), (58.0, 110.0), (44.0, 92.0)),
    Close,
];

const FRONT_HANDLE: &[Step] = &[
    Move((-50.0, 58.0)),
    Line((-37.0, 54.0)),
    Curve((-30.0, 90.0), (-20.0, 130.0), (3.0, 157.0)),
    Curve((10.0, 166.0), (2.0, 178.0), (-8.0, 175.0)),
    Curve((-22.0, 168.0), (-40.0, 110.0), (-50.0, 58.0)),
    Close,
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;

    #[test]
    fn the_silhouette_meets_every_heads_landmarks() {
        for head in demo().unwrap().powerheads() {
            let fit = HeadFit::new(head);
            let near = |a: Point, b: Point| assert!((a - b).norm() < 1e-12, "{}: {a:?} {b:?}", head.name());
            near(fit.place(FRONT_GRIP), head.front_grip());
            near(fit.place(REAR_GRIP), head.rear_grip());
            let spikes = HeadPart::Spikes.polygon_on(head);
            let tip = spikes.corners().iter().fold(f64::NEG_INFINITY, |tip, corner| tip.max(corner.x));
            assert!((tip - head.spike_line().as_m()).abs() < 1e-9, "{}: spikes at {tip}", head.name());
        }
    }
}
