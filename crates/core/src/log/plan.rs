//! The fewest settings that cut a log, and what would do it where none can.

use super::bar::CuttingBar;
use super::biggest::can_cut;
use super::candidates::{Candidate, FullSwing, Marks, all, candidates, samples, union};
use super::cover::{Cover, cover_of};
use super::gaps;
use super::job::LogJob;
use super::nose::hidden_travel_m;
use super::order::in_order;
use super::region::NOTHING_LEFT_M2;
use super::search::{MOST_SETTINGS, each_set, greedy};
use super::setting::{CutShape, Setting};
use super::shortfall::{Shortfall, shortfall};
use super::trim::{place_inside, trimmed};
use crate::geometry::Point;
use crate::units::Angle;
use std::cell::OnceCell;
use std::f64::consts::{PI, TAU};

/// Spacing of the places on the bark a plan may use.
const STEP: Angle = Angle::from_deg(5.0);
/// Spacing where an oval or a tight swing limit leaves open whether fewer would do.
const FINE_STEP: Angle = Angle::from_deg(1.0);
/// Sets of places whose swings are trimmed and compared.
const COMPARED: usize = 4;
/// Most settings looked for every degree.
const MOST_FINE: usize = 3;
/// How often what the likeliest sets left is asked for from the next.
const MOST_ROUNDS: u32 = 32;
/// Hidden travel is compared to this, m: nobody sees less.
const HIDDEN_STEP_M: f64 = 1e-3;

/// How to take a log apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The settings in the order to work them.
    pub settings: Vec<Setting>,
    /// What they cut together.
    pub cover: Cover,
    /// True where it is proven that no fewer settings anywhere on the reachable bark cut the whole section: for round logs
    /// whose swing limits leave no sliver behind, and for single settings. For others, up to three settings are looked for
    /// every degree and more every 5°: the fourth or a later one may be one too many.
    pub proven_fewest: bool,
    /// What would do it, where the log cannot be cut whole; `None` where it can.
    pub shortfall: Option<Shortfall>,
}

impl Plan {
    /// True where the settings cut the whole section.
    pub const fn is_whole(&self) -> bool {
        self.shortfall.is_none()
    }
}

/// The fewest settings that cut the whole section; among those the set with the least travel of the nose out of sight,
/// then the least swing. Where the section cannot be cut whole, the best few settings and what would do it.
///
/// Settings are chosen among places 5° apart on the bark, the ends of the reachable arcs, and the places a tight plan
/// must use; the likeliest sets have their swings trimmed to whole degrees and are compared. Every plan said to be whole
/// has been cut by [`super::cover`].
pub fn plan(job: &LogJob, bar: &CuttingBar) -> Plan {
    let planner = Planner::new(job, bar);
    planner.whole().unwrap_or_else(|| planner.best_part())
}

/// True where some plan cuts the whole section.
pub(super) fn has_whole_plan(job: &LogJob, bar: &CuttingBar) -> bool {
    can_cut(job, bar)
        && (gaps::closed_form_diameter_m(job, bar).is_some() || Planner::new(job, bar).whole().is_some())
}

struct Planner<'a> {
    job: &'a LogJob,
    bar: &'a CuttingBar,
    samples: Vec<Point>,
    places: Vec<Candidate>,
    closed_form: Option<f64>,
}

/// A set of places with what it is likely to cost.
struct Likely {
    hidden_m: f64,
    off_level_rad: f64,
    set: Vec<usize>,
}

impl<'a> Planner<'a> {
    fn new(job: &'a LogJob, bar: &'a CuttingBar) -> Self {
        let samples = samples(job);
        let places = candidates(job, bar, &samples, STEP);
        Self { job, bar, samples, places, closed_form: gaps::closed_form_diameter_m(job, bar) }
    }

    fn cover(&self, settings: &[Setting]) -> Cover {
        let shapes: Vec<_> = settings.iter().map(|s| CutShape::new(self.job, self.bar, s)).collect();
        cover_of(self.job, &shapes)
    }

    /// The best plan with the fewest settings that cuts everything.
    fn whole(&self) -> Option<Plan> {
        if !can_cut(self.job, self.bar) {
            return None;
        }
        let every = all(&self.samples);
        let fine = OnceCell::new();
        (1..=MOST_SETTINGS).find_map(|count| {
            let settings = self.best_of(count, &self.places, every).or_else(|| {
                if self.closed_form.is_some() || count > MOST_FINE {
                    return None;
                }
                let fine = fine.get_or_init(|| candidates(self.job, self.bar, &self.samples, FINE_STEP));
                self.best_of(count, fine, every)
            })?;
            let settings = in_order(self.job, self.bar, settings);
            let cover = self.cover(&settings);
            let proven_fewest = count == 1 || self.closed_form.is_some();
            Some(Plan { settings, cover, proven_fewest, shortfall: None })
        })
    }

    /// The few settings that cut most where none cut everything.
    fn best_part(&self) -> Plan {
        let best = greedy(&self.places, union(&self.places));
        let whole: Vec<_> =
            best.iter().map(|place| Setting::unchecked_full(self.job, place.bark_rad, place.side)).collect();
        let least_m2 = self.cover(&whole).left_area_m2 + NOTHING_LEFT_M2;
        let settings = trimmed(self.job, self.bar, &self.samples, &best, least_m2).unwrap_or(whole);
        let settings = in_order(self.job, self.bar, settings);
        let cover = self.cover(&settings);
        let shortfall = (cover.left_area_m2 > 0.0).then(|| shortfall(self.job, self.bar));
        Plan { settings, cover, proven_fewest: false, shortfall }
    }

    /// The best set of exactly `count` settings that cuts everything.
    fn best_of(&self, count: usize, places: &[Candidate], every: Marks) -> Option<Vec<Setting>> {
        if self.closed_form.is_some_and(|diameter| count < self.least(diameter)) {
            return None;
        }
        let hidden: Vec<OnceCell<f64>> = vec![OnceCell::new(); places.len()];
        let hidden_m = |index: usize| -> f64 {
            let known = hidden.get(index).zip(places.get(index));
            known.map_or(0.0, |(known, place)| *known.get_or_init(|| self.likely_hidden_m(place)))
        };
        let (mut places, mut target, mut next) = (places.to_vec(), every, self.samples.len());
        for _ in 0..MOST_ROUNDS {
            let mut likely: Vec<Likely> = Vec::with_capacity(COMPARED + 1);
            each_set(count, &places, target, &mut |set| {
                let hidden_m = set.iter().map(|i| hidden_m(*i)).sum();
                let off_level_rad = set.iter().filter_map(|i| places.get(*i)).map(off_level_rad).sum();
                let one = Likely { hidden_m, off_level_rad, set: set.to_vec() };
                self.keep(one, &places, &mut likely);
            });
            if likely.is_empty() {
                return None;
            }
            let sets: Vec<Vec<Candidate>> = likely
                .iter()
                .map(|one| one.set.iter().filter_map(|i| places.get(*i)).copied().collect())
                .collect();
            let best = sets
                .iter()
                .filter_map(|set| trimmed(self.job, self.bar, &self.samples, set, 0.0))
                .map(|settings| (self.cost(&settings), settings))
                .min_by(|(a, _), (b, _)| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
            if let Some((_, settings)) = best {
                return Some(settings);
            }
            // The samples missed something every one of these leaves: ask for it from the next.
            for set in &sets {
                self.learn(set, &mut places, &mut target, &mut next);
            }
        }
        None
    }

    /// Makes places that a set of whole swings leaves samples of their own, numbered from `next`.
    fn learn(&self, set: &[Candidate], places: &mut [Candidate], target: &mut Marks, next: &mut usize) {
        let whole: Vec<_> =
            set.iter().map(|p| Setting::unchecked_full(self.job, p.bark_rad, p.side)).collect();
        for left in self.cover(&whole).left.iter().filter_map(place_inside) {
            if *next >= Marks::ROOM {
                return;
            }
            target.set(*next);
            for place in places.iter_mut() {
                if FullSwing::new(self.job, self.bar, place.bark_rad, place.side).takes(left) {
                    place.marks.set(*next);
                }
            }
            *next += 1;
        }
    }

    /// Keeps a set among the likeliest if it is one of them, covers by the gaps, and is not there yet.
    fn keep(&self, mut one: Likely, places: &[Candidate], likely: &mut Vec<Likely>) {
        let before = |a: &Likely, b: &Likely| {
            a.hidden_m.total_cmp(&b.hidden_m).then(a.off_level_rad.total_cmp(&b.off_level_rad)).is_lt()
        };
        let at = likely.iter().position(|other| before(&one, other)).unwrap_or(likely.len());
        if at >= COMPARED || !self.gaps_close(&one.set, places) {
            return;
        }
        one.set.sort_unstable();
        if likely.iter().any(|other| other.set == one.set) {
            return;
        }
        likely.insert(at, one);
        likely.truncate(COMPARED);
    }

    fn gaps_close(&self, set: &[usize], places: &[Candidate]) -> bool {
        let Some(diameter) = self.closed_form else {
            return true;
        };
        let Some(widest) = gaps::widest_gap_rad(self.bar.reach().as_m(), diameter) else {
            return false;
        };
        gaps::largest_gap_rad(set.iter().filter_map(|i| places.get(*i)).map(|p| p.bark_rad)) <= widest
    }

    /// No fewer settings close the round of a log of this diameter.
    fn least(&self, diameter_m: f64) -> usize {
        let gap = gaps::widest_gap_rad(self.bar.reach().as_m(), diameter_m).unwrap_or(TAU);
        (1..MOST_SETTINGS)
            .find(|count| f64::from(u8::try_from(*count).unwrap_or(u8::MAX)) * gap >= TAU)
            .unwrap_or(MOST_SETTINGS)
    }

    /// Hidden travel with the swing a place needs on its own: until the sliver beyond is no wider than the bar.
    fn likely_hidden_m(&self, place: &Candidate) -> f64 {
        let radius_m = 0.5 * self.job.section().width().max(self.job.section().height()).as_m();
        let end = (1.0 - self.bar.nose_radius().as_m() / radius_m).clamp(0.0, 1.0).asin();
        let (low, high) = self.job.swing().from_side(place.side);
        let full = Setting::unchecked_full(self.job, place.bark_rad, place.side);
        let setting = Setting { from_rad: high.min(end), to_rad: low.max(-end), ..full };
        hidden_travel_m(self.job, self.bar, &setting)
    }

    /// Hidden travel to the millimetre and swing, rad.
    fn cost(&self, settings: &[Setting]) -> (f64, f64) {
        let hidden: f64 = settings.iter().map(|s| hidden_travel_m(self.job, self.bar, s)).sum();
        let swing = settings.iter().map(|s| s.swing().as_rad()).sum();
        ((hidden / HIDDEN_STEP_M).round(), swing)
    }
}

/// How far a place is along the bark from level with the middle, rad.
fn off_level_rad(place: &Candidate) -> f64 {
    let turn = place.bark_rad.rem_euclid(PI);
    turn.min(PI - turn)
}
