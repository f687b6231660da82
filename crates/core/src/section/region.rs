//! Unions and differences of regions whose outlines are lines and arcs, exactly.
//!
//! Every edge is split where it meets another outline; each part is kept or dropped by where its middle lies.
//! Nothing is sampled: the area of what is kept follows from its edges alone (Green's theorem).
//!
//! Tolerance: two places within 1e-12 m are one place, so that outlines that touch or run along each other are
//! told apart by which side their wood lies on. A closed piece under 1e-8 m² (0.01 mm²) counts as nothing.

use super::edge::{Edge, SAME_PLACE_M};
use crate::geometry::Point;

/// A piece smaller than this is nothing, m².
pub const NOTHING_LEFT_M2: f64 = 1e-8;
/// Parts of edges shorter than this bound nothing, m.
const SHORTEST_PART_M: f64 = 1e-11;
/// Ends closer than this are one corner when an outline is put together, m.
const CORNER_M: f64 = 1e-9;
/// Ends closer than this belong together, m: where outlines touch, parts too short or too close to another outline to be
/// told from it are missing between them. A straight line takes their place.
const BRIDGE_M: f64 = 1e-5;
/// How far beside an edge to look for the side another region's wood lies on, m.
const LOOK_ASIDE_M: f64 = 1e-7;

/// A closed region, its outline walked counter-clockwise.
pub(crate) trait Region {
    /// The outline.
    fn edges(&self) -> &[Edge];
    /// Positive outside, negative inside, zero on the outline; near the outline, the distance to it in m.
    fn outside_m(&self, point: Point) -> f64;
}

/// A closed outline of lines and arcs.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    edges: Vec<Edge>,
}

impl Outline {
    /// The edges in order, each starting where the one before ends (within 1e-9 m). Wood lies to the left of the way: an
    /// outline is counter-clockwise, a hole clockwise.
    pub fn edges(&self) -> &[Edge] {
        &self.edges
    }

    /// Enclosed area, m²; negative for a hole.
    pub fn area_m2(&self) -> f64 {
        self.edges.iter().map(Edge::area_term_m2).sum()
    }
}

/// Where the middle of an edge lies with respect to another region.
enum Lies {
    Inside,
    Outside,
    /// On the outline, wood on the same side.
    Along,
    /// On the outline, wood on the other side.
    Against,
}

fn lies(edge: &Edge, region: &dyn Region) -> Lies {
    let middle = edge.point_at(0.5);
    let outside = region.outside_m(middle);
    if outside > SAME_PLACE_M {
        return Lies::Outside;
    }
    if outside < -SAME_PLACE_M {
        return Lies::Inside;
    }
    let aside = LOOK_ASIDE_M * edge.left_at_middle();
    if region.outside_m(middle + aside) < region.outside_m(middle - aside) {
        Lies::Along
    } else {
        Lies::Against
    }
}

/// Which regions take part in a cut-out, in the order that settles ties.
struct CutOut<'a> {
    inside: &'a [&'a dyn Region],
    outside: &'a [&'a dyn Region],
}

impl CutOut<'_> {
    /// True where a part of the outline of `inside[own]` bounds the cut-out.
    fn keeps_inside(&self, own: usize, part: &Edge) -> bool {
        let others = self.inside.iter().enumerate().filter(|(other, _)| *other != own);
        others.into_iter().all(|(other, region)| match lies(part, *region) {
            Lies::Inside => true,
            Lies::Along => own < other,
            Lies::Outside | Lies::Against => false,
        }) && self.outside.iter().all(|region| matches!(lies(part, *region), Lies::Outside | Lies::Against))
    }

    /// True where a part of the outline of `outside[own]` bounds the cut-out.
    fn keeps_outside(&self, own: usize, part: &Edge) -> bool {
        self.inside.iter().all(|region| matches!(lies(part, *region), Lies::Inside))
            && self.outside.iter().enumerate().filter(|(other, _)| *other != own).all(|(other, region)| {
                match lies(part, *region) {
                    Lies::Outside => true,
                    Lies::Along => own < other,
                    Lies::Inside | Lies::Against => false,
                }
            })
    }

    fn regions(&self) -> impl Iterator<Item = &dyn Region> {
        self.inside.iter().chain(self.outside).copied()
    }

    /// Hands every bounding part to `found`, which may stop the walk by answering false.
    fn walk(&self, mut found: impl FnMut(Edge) -> bool) {
        let mut shares = Vec::with_capacity(16);
        for (index, region) in self.regions().enumerate() {
            for edge in region.edges() {
                shares.clear();
                shares.extend([0.0, 1.0]);
                for (other, other_region) in self.regions().enumerate() {
                    if other != index {
                        other_region.edges().iter().for_each(|e| edge.add_meetings(e, &mut shares));
                    }
                }
                shares.sort_unstable_by(f64::total_cmp);
                let shortest = SHORTEST_PART_M / edge.length_m();
                let mut from = 0.0;
                for to in shares.iter().copied() {
                    if to - from < shortest {
                        continue;
                    }
                    let part = edge.part(from, to);
                    from = to;
                    let own = index.checked_sub(self.inside.len());
                    let kept = match own {
                        None => self.keeps_inside(index, &part).then_some(part),
                        Some(own) => self.keeps_outside(own, &part).then(|| part.reversed()),
                    };
                    if let Some(kept) = kept
                        && !found(kept)
                    {
                        return;
                    }
                }
            }
        }
    }
}

/// The outlines of what lies inside all of `inside` and outside all of `outside`.
pub(crate) fn cut_out(inside: &[&dyn Region], outside: &[&dyn Region]) -> Vec<Outline> {
    let mut parts = Vec::new();
    CutOut { inside, outside }.walk(|part| {
        parts.push(part);
        true
    });
    joined(parts)
}

/// The outlines of what lies inside all of `base` and in one of `parts`, outside all of `earlier`: one list, whose
/// pieces share no wood.
pub(crate) fn fresh(base: &[&dyn Region], parts: &[&dyn Region], earlier: &[&dyn Region]) -> Vec<Outline> {
    let mut taken = earlier.to_vec();
    let mut outlines = Vec::new();
    for part in parts {
        let mut inside = base.to_vec();
        inside.push(*part);
        outlines.extend(cut_out(&inside, &taken));
        taken.push(*part);
    }
    outlines
}

/// True where nothing lies inside all of `inside` and outside all of `outside`; stops at the first sign of
/// wood, so a sliver that [`cut_out`] would count as nothing may answer false.
pub(crate) fn is_empty(inside: &[&dyn Region], outside: &[&dyn Region]) -> bool {
    const PLAIN_WOOD_M: f64 = 1e-3;
    let mut slivers = Vec::new();
    let mut plain = false;
    CutOut { inside, outside }.walk(|part| {
        plain = part.length_m() > PLAIN_WOOD_M;
        slivers.push(part);
        !plain
    });
    !plain && joined(slivers).is_empty()
}

/// Puts parts together end to start. Loops that enclose nothing are dropped.
fn joined(mut parts: Vec<Edge>) -> Vec<Outline> {
    let mut outlines = Vec::new();
    while let Some(first) = parts.pop() {
        let mut edges = vec![first];
        let mut end = first.end();
        loop {
            let home_m = (first.start() - end).norm();
            let next = parts
                .iter()
                .enumerate()
                .map(|(i, part)| (i, (part.start() - end).norm()))
                .min_by(|a, b| a.1.total_cmp(&b.1))
                .filter(|(_, gap_m)| *gap_m < home_m && *gap_m <= BRIDGE_M)
                .map(|(i, _)| parts.swap_remove(i));
            let to = next.map_or(first.start(), |part| part.start());
            if (to - end).norm() > CORNER_M {
                edges.push(Edge::line(end, to));
            }
            let Some(next) = next else { break };
            end = next.end();
            edges.push(next);
        }
        let outline = Outline { edges };
        if outline.area_m2().abs() > NOTHING_LEFT_M2 {
            outlines.push(outline);
        }
    }
    outlines
}
