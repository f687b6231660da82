//! Standing to one side of one log with one saw: what can be held, and how.

use super::bark::Bark;
use super::body::Body;
use super::ground::Ground;
use super::held::Held;
use super::posture::{Legs, Posture, postures};
use super::reach::{
    Arms, Ask, Balance, Decisive, Lack, Miss, feet, feet_under_weight, hips, miss, shortage_m, shoulder_at,
};
use super::saw_body::SawBody;
use super::stance::{Joints, Stance};
use super::who::Person;
use super::why_not::WhyNot;
use crate::geometry::Point;
use crate::section::{LogSection, Side};
use std::f64::consts::PI;

/// A posture and what balance asks in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Choice {
    pub(super) posture: Posture,
    pub(super) balance: Balance,
}

/// One person on one side of one log with one head: everything that does not depend on where the saw is held.
///
/// Places and directions are those of the log's frame: +x the far side, +y up; a direction of the bar is counted
/// counter-clockwise from +x. For an operator on the far side everything is mirrored inside.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    section: LogSection,
    side: Side,
    bark: Bark,
    pub(super) ground: Ground,
    body: Body,
    saw: SawBody,
    pub(super) arms: Arms,
    pub(super) choices: Vec<Choice>,
    /// What decides of each of them.
    pub(super) decisive: Vec<Decisive>,
    /// Highest that spikes and grips may be in any posture, m.
    top_m: f64,
}

impl Standing {
    /// A person with a saw on one side of a log.
    pub fn new(section: &LogSection, side: Side, saw: &SawBody, person: &Person) -> Self {
        let bark = Bark::of(section);
        let outward_rad = match side {
            Side::Near => -person.slope().as_rad(),
            Side::Far => person.slope().as_rad(),
        };
        let ground = Ground::below(&bark, section.clearance().as_m(), outward_rad);
        let body = Body::of(person);
        let choices: Vec<Choice> = postures(&body, person.can_kneel(), &bark, &ground)
            .into_iter()
            .map(|posture| Choice { balance: Balance::of(&posture, &body, saw.mass_kg()), posture })
            .collect();
        let decisive =
            choices.iter().map(|choice| Decisive::of(&choice.posture, &choice.balance, &ground)).collect();
        let top_m = choices.iter().map(|choice| choice.posture.top_m).fold(f64::NEG_INFINITY, f64::max);
        Self {
            section: section.clone(),
            side,
            bark,
            ground,
            arms: Arms::of(&body, saw),
            body,
            saw: saw.clone(),
            choices,
            decisive,
            top_m,
        }
    }

    /// The log.
    pub const fn section(&self) -> &LogSection {
        &self.section
    }

    /// The side the person stands on.
    pub const fn side(&self) -> Side {
        self.side
    }

    /// The person's body.
    pub const fn body(&self) -> &Body {
        &self.body
    }

    /// The saw's body.
    pub const fn saw(&self) -> &SawBody {
        &self.saw
    }

    /// Height of the ground at a place across the log, m.
    pub fn ground_m(&self, x_m: f64) -> f64 {
        self.ground.height_m(self.flip(Point::new(x_m, 0.0)).x)
    }

    /// Highest that spikes and grips may be: the shoulder of the person standing upright as near as the feet have room,
    /// m.
    pub const fn top_m(&self) -> f64 {
        self.top_m
    }

    /// Between the frame of the log and the operator's own.
    pub(super) fn flip(&self, p: Point) -> Point {
        match self.side {
            Side::Near => Point::new(-p.x, p.y),
            Side::Far => p,
        }
    }

    pub(super) fn held(&self, spikes: Point, direction_rad: f64) -> Held {
        let direction_rad = match self.side {
            Side::Near => PI - direction_rad,
            Side::Far => direction_rad,
        };
        Held::new(&self.saw, self.flip(spikes), direction_rad)
    }

    /// How the person holds the saw with its spikes at a place, on the bark or off it, and its bar in a direction,
    /// counter-clockwise from +x, rad: the least laborious posture that works.
    ///
    /// The tests, cheapest first:
    /// 1. both grips 60 mm off the ground and the hand's room off the bark; the head's outline in neither; spikes and
    ///    grips no higher than the shoulder of the person upright (kneeling, when they kneel);
    /// 2. for each posture in the order of its cost: both hands get to their grips, no hand behind the body; feet, legs,
    ///    trunk and head clear of the log on the operator's side; the weight of body and saw over the feet.
    ///
    /// # Errors
    /// What stands against it: of bark and ground the worst, of the postures what the nearest of them lacks.
    pub fn look(&self, spikes: Point, direction_rad: f64) -> Result<Stance, WhyNot> {
        if !(spikes.x.is_finite() && spikes.y.is_finite() && direction_rad.is_finite()) {
            return Err(WhyNot::NoNumber);
        }
        let held = self.held(spikes, direction_rad);
        if !held.is_clear(&self.saw, &self.bark, &self.ground)
            && let Some(why) = held.fault(&self.saw, &self.bark, &self.ground)
        {
            return Err(self.why_in_log(why));
        }
        let ask = self.arms.ask(&held);
        for (choice, decisive) in self.choices.iter().zip(&self.decisive) {
            if let Some((from, to)) = hips(decisive, &self.arms, &self.ground, &ask) {
                return Ok(self.stance(choice, &ask, 0.5 * (from + to)));
            }
        }
        Err(self.nearest_miss(&held, &ask).map_or(WhyNot::NoNumber, |(_, why)| why))
    }

    /// True where [`Self::look`] finds a stance.
    pub fn can(&self, spikes: Point, direction_rad: f64) -> bool {
        self.can_from(spikes, direction_rad, &mut 0)
    }

    /// The same, trying the posture that worked last first: where only whether counts, any will do.
    pub(super) fn can_from(&self, spikes: Point, direction_rad: f64, last: &mut usize) -> bool {
        let held = self.held(spikes, direction_rad);
        if held.top_m() > self.top_m || !held.is_clear(&self.saw, &self.bark, &self.ground) {
            return false;
        }
        let ask = self.arms.ask(&held);
        let works = |posture: &Decisive| hips(posture, &self.arms, &self.ground, &ask).is_some();
        if self.decisive.get(*last).is_some_and(works) {
            return true;
        }
        match self.decisive.iter().position(works) {
            Some(first) => {
                *last = first;
                true
            }
            None => false,
        }
    }

    /// The posture that comes nearest to a hold that cannot be taken, for drawing it: an arm that is too short points
    /// straight at its grip. `None` where the hold can be taken or the numbers are none.
    pub fn nearest_stance(&self, spikes: Point, direction_rad: f64) -> Option<Stance> {
        if !(spikes.x.is_finite() && spikes.y.is_finite() && direction_rad.is_finite()) {
            return None;
        }
        let held = self.held(spikes, direction_rad);
        let ask = self.arms.ask(&held);
        let fits = self.choices.iter().zip(&self.decisive).find_map(|(choice, decisive)| {
            hips(decisive, &self.arms, &self.ground, &ask).map(|(from, to)| (choice, 0.5 * (from + to)))
        });
        match fits {
            Some((choice, hip_m)) => (!held.is_clear(&self.saw, &self.bark, &self.ground))
                .then(|| self.stance(choice, &ask, hip_m)),
            None => {
                let ((choice, miss), _) = self.nearest_miss(&held, &ask)?;
                Some(self.stance(choice, &ask, miss.hip_m))
            }
        }
    }

    fn stance(&self, choice: &Choice, ask: &Ask, hip_m: f64) -> Stance {
        let under_m = feet_under_weight(&choice.posture, &choice.balance, ask, hip_m);
        self.stance_over(choice, ask, hip_m, under_m)
    }

    /// The stance with the hip at a place and the feet as near to another as they can be.
    pub(super) fn stance_over(&self, choice: &Choice, ask: &Ask, hip_m: f64, feet_m: f64) -> Stance {
        let (from, to) = feet(&choice.posture, &choice.balance, ask, hip_m);
        let feet_m = feet_m.min(to).max(from);
        let joints = Joints { body: &self.body, bark: &self.bark, ground: &self.ground };
        let stance =
            joints.stance(&choice.posture, [ask.front, ask.rear], hip_m, feet_m, (from, to.max(from)));
        match self.side {
            Side::Near => stance.mirrored(),
            Side::Far => stance,
        }
    }

    fn nearest_miss(&self, held: &Held, ask: &Ask) -> Option<((&Choice, Miss), WhyNot)> {
        let (choice, _) = self
            .choices
            .iter()
            .zip(&self.decisive)
            .map(|(choice, decisive)| (choice, shortage_m(decisive, &self.arms, &self.ground, ask)))
            .fold(None, |least: Option<(&Choice, f64)>, next| match least {
                Some(least) if least.1 <= next.1 => Some(least),
                _ => Some(next),
            })?;
        let miss = miss(&choice.posture, &choice.balance, &self.arms, &self.ground, ask);
        let why = self.why(held, ask, &choice.posture, miss);
        Some(((choice, miss), why))
    }

    fn why(&self, held: &Held, ask: &Ask, posture: &Posture, miss: Miss) -> WhyNot {
        let by_m = miss.by_m;
        let grip = |hand| match hand {
            super::body::Hand::Front => ask.front,
            super::body::Hand::Rear => ask.rear,
        };
        let shoulder = shoulder_at(posture, &self.ground, miss.hip_m);
        self.why_in_log(match miss.lack {
            Lack::AboveShoulder => {
                let highest = [held.spikes, held.front, held.rear]
                    .into_iter()
                    .fold(held.spikes, |top, p| if p.y > top.y { p } else { top });
                WhyNot::AboveShoulder { by_m, at: highest, kneeling: posture.legs == Legs::Kneeling }
            }
            Lack::Arm(hand, barrier) => WhyNot::ArmTooShort { hand, by_m, at: grip(hand), shoulder, barrier },
            Lack::Cramped(hand) => WhyNot::ArmCramped { hand, by_m, at: grip(hand) },
            Lack::Behind(hand) => WhyNot::HandBehind { hand, by_m, at: grip(hand) },
            Lack::FallsForward => {
                let hip_y = self.ground.height_m(miss.hip_m) + posture.hip_m;
                WhyNot::FallsForward { by_m, at: Point::new(miss.hip_m, hip_y) }
            }
        })
    }

    /// Places from the operator's frame into the log's.
    fn why_in_log(&self, why: WhyNot) -> WhyNot {
        let mut why = why;
        match &mut why {
            WhyNot::HandInBark { at, .. }
            | WhyNot::HandInGround { at, .. }
            | WhyNot::HeadInBark { at, .. }
            | WhyNot::HeadInGround { at, .. }
            | WhyNot::AboveShoulder { at, .. }
            | WhyNot::ArmCramped { at, .. }
            | WhyNot::HandBehind { at, .. }
            | WhyNot::FallsForward { at, .. } => *at = self.flip(*at),
            WhyNot::ArmTooShort { at, shoulder, .. } => {
                *at = self.flip(*at);
                *shoulder = self.flip(*shoulder);
            }
            WhyNot::NoNumber => {}
        }
        why
    }
}
