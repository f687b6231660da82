//! Bars that are not on the rack: any length, of the same family as one that is.

use super::parts::{Bar, BarShape, Setup, SetupError};
use crate::ranges::MADE_UP_LENGTH;
use crate::units::{Length, Mass};
use std::sync::Arc;

/// Rack bars nearer in length than this count as one length.
const SAME_LENGTH_M: f64 = 1e-3;

/// The bars of one family on one head and chain, from which bars of any length are made up.
///
/// A family shares construction and mount, and runs this chain on this head. Its *width law* is what the rack says: between
/// two bars every dimension runs straight from one to the other, beyond the ends the dimensions of the end
/// bar hold. At a rack bar's own length the made-up bar is that bar.
#[derive(Clone, Debug)]
pub struct BarFamily {
    like: Setup,
    members: Vec<Member>,
}

/// A rack bar on this head, with all that a made-up bar interpolates.
#[derive(Clone, Debug)]
struct Member {
    bar: Arc<Bar>,
    shape: BarShape,
    marked_m: f64,
    share: f64,
    weighed_share: f64,
    tensioner_out_m: f64,
    nose_place_m: f64,
}

/// Where what is known of a made-up bar comes from.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Origin {
    /// Rack bars that it lies between, or the one that it goes on from.
    pub(crate) bars: Vec<OriginBar>,
    /// What lies between it and the nearest of them in mass: plate that no bar of the rack has.
    pub(crate) unweighed: Mass,
    /// How much longer or shorter it is than the bar that it goes on from; none between two.
    pub(crate) beyond: Length,
}

/// One of them.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct OriginBar {
    /// Its name.
    pub(crate) name: String,
    /// Derivative of the made-up bar's mass by this one's.
    pub(crate) by_mass: f64,
    /// Derivative of the place of the made-up bar's nose by that of this one's.
    pub(crate) by_nose: f64,
}

impl OriginBar {
    /// A bar of the rack: it comes of itself alone.
    pub(crate) fn itself(name: &str) -> Self {
        Self { name: name.to_owned(), by_mass: 1.0, by_nose: 1.0 }
    }
}

impl Member {
    fn new(setup: &Setup) -> Self {
        let bar = setup.bar();
        Self {
            bar: Arc::clone(bar),
            shape: *bar.shape(),
            marked_m: bar.marked_length().as_m(),
            share: bar.construction().share(),
            weighed_share: bar.mass() / bar.geometric_mass(),
            tensioner_out_m: setup.tensioner_out().as_m(),
            nose_place_m: bar.nose_place().as_m(),
        }
    }

    fn lerp(&self, other: &Self, t: f64) -> Self {
        let mix = |a: f64, b: f64| a + (b - a) * t;
        Self {
            bar: Arc::clone(&self.bar),
            shape: self.shape.lerp(&other.shape, t),
            marked_m: mix(self.marked_m, other.marked_m),
            share: mix(self.share, other.share),
            weighed_share: mix(self.weighed_share, other.weighed_share),
            tensioner_out_m: mix(self.tensioner_out_m, other.tensioner_out_m),
            nose_place_m: mix(self.nose_place_m, other.nose_place_m),
        }
    }

    fn stretched_to(&self, overall_m: f64) -> Self {
        let growth_m = overall_m - self.shape.overall_m;
        Self {
            shape: BarShape { overall_m, ..self.shape },
            marked_m: self.marked_m + growth_m,
            ..self.clone()
        }
    }
}

impl BarFamily {
    /// The family of a setup's bar among the bars of the rack. Bars that do not go on this head and chain are
    /// left out; the setup's own bar and loop are always in.
    pub fn new(like: &Setup, rack: &[Arc<Bar>]) -> Self {
        let mut members = vec![Member::new(like)];
        for bar in rack.iter().filter(|bar| same_family(bar, like.bar())) {
            let taken = members
                .iter()
                .any(|member| (member.shape.overall_m - bar.overall_length().as_m()).abs() < SAME_LENGTH_M);
            if let (false, Ok(setup)) = (taken, like.with_bar(Arc::clone(bar))) {
                members.push(Member::new(&setup));
            }
        }
        members.sort_by(|a, b| a.shape.overall_m.total_cmp(&b.shape.overall_m));
        Self { like: like.clone(), members }
    }

    /// The rack bars of the family, shortest first.
    pub fn bars(&self) -> impl Iterator<Item = &Arc<Bar>> {
        self.members.iter().map(|member| &member.bar)
    }

    /// The setup with one of the family's rack bars, at its own count of links.
    pub(crate) fn rack_setup(&self, bar: &Arc<Bar>) -> Result<Setup, SetupError> {
        if bar == self.like.bar() { Ok(self.like.clone()) } else { self.like.with_bar(Arc::clone(bar)) }
    }

    /// The shortest and the longest bar that can be made up.
    pub const fn span() -> (Length, Length) {
        (Length::from_mm(MADE_UP_LENGTH.min), Length::from_mm(MADE_UP_LENGTH.max))
    }

    fn member_at(&self, overall_m: f64) -> Option<Member> {
        let longer = self.members.iter().position(|member| member.shape.overall_m >= overall_m);
        match longer {
            Some(0) => self.members.first().map(|first| first.stretched_to(overall_m)),
            None => self.members.last().map(|last| last.stretched_to(overall_m)),
            Some(index) => {
                let (short, long) = (self.members.get(index - 1)?, self.members.get(index)?);
                let t = (overall_m - short.shape.overall_m) / (long.shape.overall_m - short.shape.overall_m);
                // From the nearer end, so that at a rack bar's own length nothing is rounded.
                Some(if t < 0.5 { short.lerp(long, t) } else { long.lerp(short, 1.0 - t) })
            }
        }
    }

    /// The setup with a bar of this overall length (tail end to nose end), clamped to
    /// [`BarFamily::span`]. The tensioner stands where the rack's bars have it, so the nose moves evenly with
    /// the length; [`crate::Links::MadeUp`] names the whole count to order.
    ///
    /// # Errors
    /// [`SetupError`] where no bar of that length can be laid on the head.
    pub fn at(&self, overall: Length) -> Result<Setup, SetupError> {
        let (shortest, longest) = Self::span();
        let overall_m = overall.clamp(shortest, longest).as_m();
        let no_bar = || SetupError::Loop(crate::saw::LoopError::DidNotConverge);
        let made = self.member_at(overall_m).ok_or_else(no_bar)?;
        let marked = Length::from_m(made.marked_m);
        let (shares, nose_place) = ((made.share, made.weighed_share), Length::from_m(made.nose_place_m));
        let bar = Bar::made_up(self.like.bar(), marked, made.shape, shares, nose_place).ok_or_else(no_bar)?;
        let (back, _) = bar.nose_centre_span(self.like.powerhead().stud(), Length::ZERO);
        Setup::with_nose_at(&self.like, bar, back + Length::from_m(made.tensioner_out_m))
    }

    /// The setup with the bar that bears this mark; `None` where no bar of that length can be laid on the head.
    pub fn marked(&self, marked: Length) -> Option<Setup> {
        let (mut low, mut high) = Self::span();
        let marks_m = |overall: Length| self.member_at(overall.as_m()).map(|member| member.marked_m);
        if marks_m(low)? > marked.as_m() || marks_m(high)? < marked.as_m() {
            return None;
        }
        for _ in 0..40 {
            let middle = (low + high) * 0.5;
            if marks_m(middle)? < marked.as_m() { low = middle } else { high = middle }
        }
        self.at(high).ok()
    }

    /// How the bar made up to this length follows those of the rack; `mass` is what it weighs.
    pub(crate) fn origin(&self, overall: Length, mass: Mass) -> Origin {
        let (shortest, longest) = Self::span();
        let overall_m = overall.clamp(shortest, longest).as_m();
        let after = self.members.partition_point(|member| member.shape.overall_m < overall_m);
        let short = after.checked_sub(1).and_then(|before| self.members.get(before));
        let pair = match (short, self.members.get(after)) {
            (Some(short), Some(long)) => {
                let t = (overall_m - short.shape.overall_m) / (long.shape.overall_m - short.shape.overall_m);
                vec![(short, 1.0 - t), (long, t)]
            }
            (Some(end), None) | (None, Some(end)) => vec![(end, 1.0)],
            (None, None) => Vec::new(),
        };
        // The made-up mass is its geometry's times the mixed share of mass over geometry.
        let share: f64 = pair.iter().map(|(member, weight)| member.weighed_share * weight).sum();
        let slope = |member: &Member, weight: f64| weight * (mass / member.bar.geometric_mass()) / share;
        let beyond = match pair.as_slice() {
            [(end, _)] => (overall_m - end.shape.overall_m).abs(),
            _ => 0.0,
        };
        Origin {
            bars: pair
                .iter()
                .map(|(member, weight)| OriginBar {
                    name: member.bar.name().to_owned(),
                    by_mass: slope(member, *weight),
                    by_nose: *weight,
                })
                .collect(),
            beyond: Length::from_m(beyond),
            unweighed: pair
                .iter()
                .map(|(member, _)| (mass - member.bar.mass()).abs())
                .min_by(|a, b| a.as_kg().total_cmp(&b.as_kg()))
                .unwrap_or(mass),
        }
    }

    /// The overall length whose nose tip lies at `tip_x` of the saw frame, found on the family's own law to
    /// within a nanometre and clamped to [`BarFamily::span`]. NaN stays NaN.
    pub fn overall_with_tip_at(&self, tip_x: Length) -> Length {
        if tip_x.as_m().is_nan() {
            return tip_x;
        }
        let tip_of =
            |overall: Length| self.at(overall).map(|setup| setup.nose_zone().tip_x()).unwrap_or(Length::ZERO);
        let (mut low, mut high) = Self::span();
        for _ in 0..40 {
            let middle = (low + high) * 0.5;
            if tip_of(middle) < tip_x { low = middle } else { high = middle }
        }
        (low + high) * 0.5
    }
}

fn same_family(a: &Bar, b: &Bar) -> bool {
    a.construction().same_kind(b.construction()) && a.mount() == b.mount()
}
