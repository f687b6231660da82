//! The bar carried sideways at a held direction: its spikes run down along the bark, or straight down past it.
//!
//! Before a pivot the bar is *laid on* and let in sideways until the spikes bite; after it the saw may *run off*, its
//! spikes running on along the bark. A log thinner than the reach needs nothing else: the bar sinks through it.
//!
//! The spikes stay as near the wood as the bark allows on the way from the pivot's place: where the bark bulges towards
//! the operator they follow it, and past its widest place they go on straight, square to the bar. What the centreline
//! sweeps is the slide's region; the bar's own width is taken at both its ends only, so that no wood is counted that
//! stays.

use crate::geometry::{Point, Vector};
use crate::section::{Edge, LogSection, Region, unit};
use std::f64::consts::PI;

/// How far a slide's region reaches back behind the spikes, m: far enough not to end on the bark (our guess).
pub(super) const BEHIND_M: f64 = 0.03;
/// A way shorter than this is none, m.
pub(super) const SHORTEST_M: f64 = 1e-9;

/// The way of the spikes from the pivot's place, sideways at a held direction.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slide {
    spikes: Point,
    bark_rad: f64,
    along: Vector,
    away: Vector,
    /// How far the spikes follow the bark before it recedes, m along `away`; 0 where it recedes at once.
    bulge_m: f64,
    widest: Point,
    widest_rad: f64,
}

impl Slide {
    /// From spikes at `bark_rad` with the bar pointing to `direction_rad`, towards the unit vector `away`, square to it.
    pub(super) fn new(section: &LogSection, bark_rad: f64, direction_rad: f64, away: Vector) -> Self {
        let spikes = section.bark_at(bark_rad);
        let widest_rad = section.bark_facing(direction_rad + PI);
        let widest = section.bark_at(widest_rad);
        let bulge_m = (widest - spikes).dot(&away).max(0.0);
        Self { spikes, bark_rad, along: unit(direction_rad), away, bulge_m, widest, widest_rad }
    }

    /// How far along the way the bark bulges, m; 0 where it recedes at once.
    pub(super) const fn bulge_m(&self) -> f64 {
        self.bulge_m
    }

    /// Where the spikes are after so much of the way, m along `away`.
    pub(super) fn spikes_at(&self, section: &LogSection, way_m: f64) -> Point {
        if way_m <= 0.0 || self.bulge_m <= 0.0 {
            return self.spikes + way_m.max(0.0) * self.away;
        }
        if way_m >= self.bulge_m {
            return self.widest + (way_m - self.bulge_m) * self.away;
        }
        let aside = self.spikes + way_m * self.away;
        let on_bark_m = section.entry_m(aside, self.along).unwrap_or(0.0);
        aside + on_bark_m * self.along
    }

    /// The regions that a bar of this reach sweeps over so much of the way: along the bark, then straight.
    pub(super) fn regions(&self, section: &LogSection, reach_m: f64, way_m: f64) -> Vec<Swept> {
        let mut regions = Vec::with_capacity(2);
        let on_bark_m = way_m.min(self.bulge_m);
        if on_bark_m > SHORTEST_M {
            regions.push(Swept::Along(AlongBark::new(section, self, reach_m, on_bark_m)));
        }
        if way_m - on_bark_m > SHORTEST_M {
            let from = if self.bulge_m > 0.0 { self.widest } else { self.spikes };
            let to = from + (way_m - on_bark_m) * self.away;
            regions.push(Swept::Straight(Straight::new(from, to, self.along, reach_m)));
        }
        regions
    }

    /// The way of a point `ahead_m` past the spikes over so much of the way, as pieces of lines and arcs in order.
    pub(super) fn way_of(&self, section: &LogSection, ahead_m: f64, way_m: f64) -> Vec<Edge> {
        let shift = ahead_m * self.along;
        let mut pieces = Vec::with_capacity(4);
        let on_bark_m = way_m.min(self.bulge_m);
        if on_bark_m > SHORTEST_M {
            let end = self.spikes_at(section, on_bark_m);
            let (from_rad, to_rad) = self.ordered(end.y.atan2(end.x));
            let mut arcs: Vec<Edge> =
                section.bark_between(from_rad, to_rad).iter().map(|edge| shifted(edge, shift)).collect();
            if self.runs_clockwise() {
                arcs.reverse();
                arcs.iter_mut().for_each(|edge| *edge = edge.reversed());
            }
            pieces.extend(arcs);
        }
        if way_m - on_bark_m > SHORTEST_M {
            let from = if self.bulge_m > 0.0 { self.widest } else { self.spikes } + shift;
            pieces.push(Edge::line(from, from + (way_m - on_bark_m) * self.away));
        }
        pieces
    }

    fn runs_clockwise(&self) -> bool {
        turn(self.bark_rad, self.widest_rad) < 0.0
    }

    /// The pivot's place and another on its bark, counter-clockwise.
    fn ordered(&self, other_rad: f64) -> (f64, f64) {
        let turn = turn(self.bark_rad, other_rad);
        (self.bark_rad.min(self.bark_rad + turn), self.bark_rad.max(self.bark_rad + turn))
    }
}

/// From one angle to another the shorter way, −π…π.
fn turn(from_rad: f64, to_rad: f64) -> f64 {
    (to_rad - from_rad + PI).rem_euclid(2.0 * PI) - PI
}

fn shifted(edge: &Edge, by: Vector) -> Edge {
    match edge {
        Edge::Line(_) => Edge::line(edge.start() + by, edge.end() + by),
        Edge::Arc(arc) => Edge::arc(arc.centre() + by, arc.radius_m(), arc.from_rad(), arc.sweep_rad()),
    }
}

/// What the centreline sweeps.
#[derive(Clone, Debug)]
pub(super) enum Swept {
    /// With the spikes following the bark.
    Along(AlongBark),
    /// With the spikes going straight.
    Straight(Straight),
}

impl Region for Swept {
    fn edges(&self) -> &[Edge] {
        match self {
            Self::Along(region) => &region.edges,
            Self::Straight(region) => &region.edges,
        }
    }

    fn outside_m(&self, point: Point) -> f64 {
        match self {
            Self::Along(region) => region.outside_m(point),
            Self::Straight(region) => region.outside_m(point),
        }
    }
}

/// Between a piece of bark and the same piece moved on by the reach.
#[derive(Clone, Debug)]
pub(super) struct AlongBark {
    section: LogSection,
    spikes: Point,
    along: Vector,
    away: Vector,
    reach_m: f64,
    way_m: f64,
    edges: Vec<Edge>,
}

impl AlongBark {
    fn new(section: &LogSection, slide: &Slide, reach_m: f64, way_m: f64) -> Self {
        let end = slide.spikes_at(section, way_m);
        let (low_rad, high_rad) = slide.ordered(end.y.atan2(end.x));
        let bark = section.bark_between(low_rad, high_rad);
        let (ahead, behind) = (reach_m * slide.along, -BEHIND_M * slide.along);
        let (low, high) = (section.bark_at(low_rad), section.bark_at(high_rad));
        let mut edges = Vec::with_capacity(2 * bark.len() + 2);
        edges.push(Edge::line(low + ahead, low + behind));
        edges.extend(bark.iter().map(|edge| shifted(edge, behind)));
        edges.push(Edge::line(high + behind, high + ahead));
        edges.extend(bark.iter().rev().map(|edge| shifted(edge, ahead).reversed()));
        Self {
            section: section.clone(),
            spikes: slide.spikes,
            along: slide.along,
            away: slide.away,
            reach_m,
            way_m,
            edges,
        }
    }

    /// How far a place lies ahead of the bark beside it: positive in the wood's direction. True to the distance near the
    /// bark. No bark of this slide lies farther along than the pivot's place.
    fn ahead_of_bark_m(&self, place: Point) -> f64 {
        let past_m = (place - self.spikes).dot(&self.along);
        if past_m >= 0.0 { past_m } else { -self.section.outside_m(place) }
    }

    fn outside_m(&self, point: Point) -> f64 {
        let way_m = (point - self.spikes).dot(&self.away);
        (-way_m)
            .max(way_m - self.way_m)
            .max(self.ahead_of_bark_m(point - self.reach_m * self.along))
            .max(-self.ahead_of_bark_m(point + BEHIND_M * self.along))
    }
}

/// A rectangle.
#[derive(Clone, Debug)]
pub(super) struct Straight {
    from: Point,
    along: Vector,
    away: Vector,
    reach_m: f64,
    way_m: f64,
    edges: Vec<Edge>,
}

impl Straight {
    fn new(from: Point, to: Point, along: Vector, reach_m: f64) -> Self {
        let way_m = (to - from).norm();
        let away = (to - from) / way_m;
        let (ahead, behind) = (reach_m * along, -BEHIND_M * along);
        let mut corners = [from + ahead, from + behind, to + behind, to + ahead];
        // Counter-clockwise whichever way the slide goes.
        if away.perp(&along) < 0.0 {
            corners.reverse();
        }
        let next = corners.iter().skip(1).chain(corners.first());
        let edges = corners.iter().zip(next).map(|(a, b)| Edge::line(*a, *b)).collect();
        Self { from, along, away, reach_m, way_m, edges }
    }

    fn outside_m(&self, point: Point) -> f64 {
        let v = point - self.from;
        let (way_m, along_m) = (v.dot(&self.away), v.dot(&self.along));
        (-way_m).max(way_m - self.way_m).max(along_m - self.reach_m).max(-BEHIND_M - along_m)
    }
}
