//! How to take a log apart so that this saw in these hands can do it: whole if that can be done, else the best part.

use super::bar::CuttingBar;
use super::candidates::{Candidate, Marks, May, candidates, samples, union};
use super::cover::{Cover, all_taken, area_of_m2, cover_of};
use super::danger::HalfPlane;
use super::job::{Bind, LogJob};
use super::nose::hidden_travel_m;
use super::order::{Ways, in_order};
use super::pose::moment;
use super::relief::{Pressed, deeper};
use super::search::{MOST_SETTINGS, each_set};
use super::setting::{Kind, Place, Setting, Taken, place_at, regions};
use super::trim::{Trim, trimmed};
use super::workplace::{Workplace, moments, nose_may};
use crate::geometry::{Point, Vector};
use crate::section::{NOTHING_LEFT_M2, Outline, Region, Side, cut_out};
use crate::units::Angle;

/// Spacing of the places on the bark a plan may use.
const STEP: Angle = Angle::from_deg(5.0);
/// Sets of settings that are trimmed and compared.
const COMPARED: usize = 5;
/// How often what the likeliest sets left is asked for from the next.
const MOST_ROUNDS: u32 = 6;
/// Hidden travel is compared in steps of this, m: nobody sets the saw again for less (our guess).
pub(super) const HIDDEN_STEP_M: f64 = 0.1;
/// Nobody sets the saw more often than this above the fewest to keep the nose in sight (our guess).
pub(super) const MOST_MORE: u32 = 2;
/// Effort is compared in steps of this, as a posture's cost: the square of 10° of bend (our guess).
pub(super) const EFFORT_STEP: f64 = 0.03;
/// What each change of motion within a setting counts, as a posture's cost (our guess): a plain cut is better than one in
/// three moves.
pub(super) const MOTION_COST: f64 = 0.05;
/// A setting in which the nose goes less far than this is none, m.
const SHORTEST_WAY_M: f64 = 0.005;
/// Fewer samples than this are not worth a setting: a hundredth of the section.
const WORTH: u32 = 2;
/// Settings tried for each step of a part plan.
const TRIED: usize = 12;

/// How to take a log apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The settings in the order to work them.
    pub settings: Vec<Setting>,
    /// How many of them, the first ones, relieve the side that is pressed together.
    pub relief: usize,
    /// What they cut together.
    pub cover: Cover,
    /// True where it is proven that no fewer settings can do it: for single settings, and where nothing can be done. For
    /// others a plan is the best among many thousands of sets, but not all there are.
    pub proven_fewest: bool,
}

impl Plan {
    /// True where the settings cut the whole section.
    pub fn is_whole(&self) -> bool {
        self.cover.left.is_empty()
    }
}

/// How to take a log apart with every place of the saw one that can be held.
///
/// In this order: the whole section; one setting where one does it; least way of the nose out of the log and out of sight, in steps of 100 mm; fewest
/// settings; none that runs back up; least of the nose out of sight; least way of the nose. Where the whole cannot be done,
/// the few settings that cut most. Settings are chosen among places 5° apart on the bark.
///
/// Where wood is pressed together the cut is in two: a third of the height from that side, then the rest from the
/// other; a log too thin for that is cut from the other side alone.
pub fn plan(job: &LogJob, bar: &CuttingBar, workplace: &Workplace) -> Plan {
    let may = |side: Side, at: Place| nose_may(job, bar, side, at);
    let Some(pressed) = Pressed::of(job) else {
        let part = Search::new(job, bar, workplace, &may, None, Vec::new(), Ways::DownFirst).best();
        return told(job, bar, part.settings, 0);
    };
    let (relief_ways, finish_ways) = match job.bind() {
        Bind::Bottom => (Ways::Up, Ways::Down),
        _ => (Ways::Down, Ways::Up),
    };
    if Pressed::is_too_thin(job, bar) {
        let through = Search::new(job, bar, workplace, &may, None, Vec::new(), finish_ways).best();
        if through.is_whole {
            return told(job, bar, through.settings, 0);
        }
    }
    // As deep as it should be; where that leads to nothing whole, deeper.
    let mut best_part: Option<Plan> = None;
    for more_m in deeper(bar) {
        let relieving = |side: Side, at: Place| pressed.holds(job, bar, more_m, at) && may(side, at);
        let zone = Some(pressed.zone());
        let relief = Search::new(job, bar, workplace, &relieving, zone, Vec::new(), relief_ways).best();
        let mut settings = relief.settings;
        let relief_count = settings.len();
        if relief.is_whole {
            let earlier = all_taken(job, bar, &settings);
            settings
                .extend(Search::new(job, bar, workplace, &may, None, earlier, finish_ways).best().settings);
        }
        let plan = told(job, bar, settings, relief_count);
        if plan.is_whole() {
            return plan;
        }
        let covers = |plan: &Plan| plan.cover.covered_fraction;
        if best_part.as_ref().is_none_or(|other| covers(&plan) > covers(other)) {
            best_part = Some(plan);
        }
    }
    best_part.unwrap_or_else(|| told(job, bar, Vec::new(), 0))
}

fn told(job: &LogJob, bar: &CuttingBar, settings: Vec<Setting>, relief: usize) -> Plan {
    let cover = cover_of(job, &all_taken(job, bar, &settings));
    let proven_fewest = settings.len() <= 1;
    Plan { settings, relief, cover, proven_fewest }
}

/// A search for the settings that cut a section, or a part of it, after others have cut.
struct Search<'a> {
    job: &'a LogJob,
    bar: &'a CuttingBar,
    workplace: &'a Workplace,
    may: May<'a>,
    zone: Option<&'a HalfPlane>,
    earlier: Vec<Taken>,
    ways: Ways,
    samples: Vec<Point>,
    target: Marks,
    places: Vec<Candidate>,
    hidden_m: Vec<f64>,
}

/// What a search came to.
struct Found {
    settings: Vec<Setting>,
    is_whole: bool,
}

/// A set of settings with what it is likely to cost.
struct Likely {
    far: usize,
    hidden_m: f64,
    way_m: f64,
    set: Vec<usize>,
}

/// What a plan costs, in the order of preference.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Cost {
    /// Steps of hidden way of the nose.
    hidden_steps: f64,
    settings: usize,
    /// Settings from the far side: the operator has to walk round.
    far: usize,
    rising: usize,
    /// What holding the saw costs, in steps that nobody feels.
    effort_steps: f64,
    hidden_mm: f64,
    way_um: f64,
}

impl Cost {
    fn is_before(&self, other: &Self) -> bool {
        self.hidden_steps
            .total_cmp(&other.hidden_steps)
            .then(self.settings.cmp(&other.settings))
            .then(self.far.cmp(&other.far))
            .then(self.rising.cmp(&other.rising))
            .then(self.effort_steps.total_cmp(&other.effort_steps))
            .then(self.hidden_mm.total_cmp(&other.hidden_mm))
            .then(self.way_um.total_cmp(&other.way_um))
            .is_lt()
    }
}

impl<'a> Search<'a> {
    fn new(
        job: &'a LogJob,
        bar: &'a CuttingBar,
        workplace: &'a Workplace,
        may: May<'a>,
        zone: Option<&'a HalfPlane>,
        earlier: Vec<Taken>,
        ways: Ways,
    ) -> Self {
        let samples = samples(job);
        let mut places = candidates(job, bar, workplace, &samples, STEP, may);
        places.retain(|place| way_m(bar, &place.setting) >= SHORTEST_WAY_M);
        let hidden_m: Vec<f64> =
            places.iter().map(|place| hidden_travel_m(job, bar, &place.setting)).collect();
        let mut target = Marks::default();
        for (index, place) in samples.iter().enumerate() {
            let in_zone = zone.is_none_or(|zone| zone.outside_m(*place) < 0.0);
            if in_zone && !earlier.iter().any(|taken| taken.outside_m(*place) <= 0.0) {
                target.set(index);
            }
        }
        Self { job, bar, workplace, may, zone, earlier, ways, samples, target, places, hidden_m }
    }

    fn best(mut self) -> Found {
        if self.target.is_empty() {
            return Found { settings: Vec::new(), is_whole: true };
        }
        let found = self.whole();
        let is_whole = found.is_some();
        let settings = found.unwrap_or_else(|| self.best_part());
        // Settings are chosen by a quick test that never counts more than is true: together they may take what one of them
        // was chosen for.
        let settings = self.without_idle(settings);
        let is_whole = is_whole || self.left(&settings).is_empty();
        Found { settings, is_whole }
    }

    /// What is left of the zone after these.
    fn left(&self, settings: &[Setting]) -> Vec<Outline> {
        let taken = all_taken(self.job, self.bar, settings);
        let mut cut = regions(&self.earlier);
        cut.extend(regions(&taken));
        match self.zone {
            None => cut_out(&[self.job.section()], &cut),
            Some(zone) => cut_out(&[self.job.section(), zone], &cut),
        }
    }

    /// The best plan that cuts everything.
    fn whole(&mut self) -> Option<Vec<Setting>> {
        let mut best: Option<(Cost, Vec<Setting>)> = None;
        let mut most = MOST_SETTINGS;
        let mut count = 1;
        while count <= most {
            if !self.target.without(&union(&self.places)).is_empty() {
                break;
            }
            let to_beat = best.as_ref().map(|(cost, _)| cost.hidden_steps);
            if let Some((cost, settings)) = self.best_of(count, to_beat) {
                if best.is_none() {
                    most = most.min(count + MOST_MORE as usize);
                }
                let in_sight = cost.hidden_steps <= 0.0;
                if best.as_ref().is_none_or(|(other, _)| cost.is_before(other)) {
                    best = Some((cost, settings));
                }
                // Where one setting does it, nobody sets again.
                if in_sight || count == 1 {
                    break;
                }
            }
            count += 1;
        }
        best.map(|(_, settings)| settings)
    }

    /// The best set of at most `count` settings that cuts everything; only sets that are likely to keep the nose in sight
    /// better than `to_beat`, where there is a plan with fewer already.
    fn best_of(&mut self, count: usize, to_beat: Option<f64>) -> Option<(Cost, Vec<Setting>)> {
        for _ in 0..MOST_ROUNDS {
            let mut likely = self.likeliest(count);
            likely.retain(|one| to_beat.is_none_or(|steps| (one.hidden_m / HIDDEN_STEP_M).round() < steps));
            if likely.is_empty() {
                return None;
            }
            let mut missed = Vec::new();
            let mut best: Option<(Cost, Vec<Setting>)> = None;
            for one in &likely {
                let set: Vec<Setting> =
                    one.set.iter().filter_map(|i| self.places.get(*i)).map(|place| place.setting).collect();
                match self.fitted(&set) {
                    Fitted::Whole(cost, settings) => {
                        let is_first = best.as_ref().is_none_or(|(other, _)| cost.is_before(other));
                        if is_first && settings.iter().all(|setting| self.can_do(setting)) {
                            best = Some((cost, settings));
                        }
                    }
                    Fitted::Leaves(left) => missed.extend(left),
                    Fitted::NoOrder => {}
                }
            }
            if best.is_some() {
                return best;
            }
            if missed.is_empty() {
                return None;
            }
            self.learn(&missed);
        }
        None
    }

    /// True where the candidates of a set can be worked one after another, each beginning beside the wood or where others
    /// have cut, as far as samples tell.
    fn has_order(&self, set: &[usize]) -> bool {
        let mut waiting: Vec<&Candidate> = set.iter().filter_map(|i| self.places.get(*i)).collect();
        let mut left = self.target;
        loop {
            let open = |marks: &Marks| left.without(&left.without(marks)).is_empty();
            let next = waiting.iter().position(|place| {
                let (upper, lower) = &place.behind;
                match self.ways {
                    Ways::Down => open(upper),
                    Ways::Up => open(lower),
                    Ways::DownFirst => open(upper) || (!lower.is_empty() && open(lower)),
                }
            });
            let Some(next) = next else { return waiting.is_empty() };
            left = left.without(&waiting.remove(next).marks);
        }
    }

    fn likeliest(&self, count: usize) -> Vec<Likely> {
        let mut likely: Vec<Likely> = Vec::with_capacity(COMPARED + 1);
        each_set(count, &self.places, self.target, &mut |set| {
            if !self.has_order(set) {
                return;
            }
            let places = || set.iter().filter_map(|i| self.places.get(*i));
            let hidden_m = set.iter().filter_map(|i| self.hidden_m.get(*i)).sum();
            let way_m = places().map(|place| way_m(self.bar, &place.setting)).sum();
            let far = places().filter(|place| place.setting.side == Side::Far).count();
            keep(Likely { far, hidden_m, way_m, set: set.to_vec() }, &mut likely);
        });
        likely
    }

    /// A set trimmed and put in order.
    fn fitted(&self, set: &[Setting]) -> Fitted {
        match self.fitted_to(set, Trim::All) {
            // Trimmed each to what the others leave, they may wait for each other: keep where they begin.
            Fitted::NoOrder => self.fitted_to(set, Trim::Swings),
            fitted => fitted,
        }
    }

    fn fitted_to(&self, set: &[Setting], trim: Trim) -> Fitted {
        let mut samples = self.samples.clone();
        let asked = self.samples.len();
        for _ in 0..MOST_ROUNDS {
            let target = |index: usize| index >= asked || self.target.has(index);
            let settings: Vec<Setting> =
                trimmed(self.job, self.bar, &samples, set, &target, trim).into_iter().flatten().collect();
            if settings.iter().any(|setting| way_m(self.bar, setting) < SHORTEST_WAY_M) {
                return Fitted::NoOrder;
            }
            let left = self.left(&settings);
            if left.is_empty() {
                return match in_order(self.job, self.bar, &self.earlier, settings, self.ways) {
                    Some(settings) => Fitted::Whole(self.cost(&settings), settings),
                    None => Fitted::NoOrder,
                };
            }
            samples.extend(left.iter().flat_map(places_in));
        }
        let left = self.left(set);
        if left.is_empty() {
            return match in_order(self.job, self.bar, &self.earlier, set.to_vec(), self.ways) {
                Some(settings) => Fitted::Whole(self.cost(&settings), settings),
                None => Fitted::NoOrder,
            };
        }
        Fitted::Leaves(left.iter().filter_map(place_inside).collect())
    }

    /// Asks for these places as well.
    fn learn(&mut self, missed: &[Point]) {
        use super::candidates::Quick;
        for place in missed {
            let index = self.samples.len();
            if index >= Marks::ROOM {
                return;
            }
            self.samples.push(*place);
            self.target.set(index);
            for candidate in &mut self.places {
                if Quick::new(self.job, self.bar, &candidate.setting).takes(self.job, *place) {
                    candidate.marks.set(index);
                }
            }
        }
    }

    /// The few settings that cut most where none cut everything: one after another the one that takes most of what is left
    /// among those that can begin.
    fn best_part(&self) -> Vec<Setting> {
        let mut chosen: Vec<Setting> = Vec::new();
        let mut left = self.target;
        while chosen.len() < MOST_SETTINGS {
            let mut gains: Vec<(u32, &Candidate)> = self
                .places
                .iter()
                .map(|place| (left.count() - left.without(&place.marks).count(), place))
                .filter(|(gain, _)| *gain >= WORTH)
                .collect();
            gains.sort_by_key(|(gain, place)| (std::cmp::Reverse(*gain), place.setting.side == Side::Far));
            let next = gains.into_iter().take(TRIED).find_map(|(_, place)| {
                if !self.can_do(&place.setting) {
                    return None;
                }
                let with: Vec<Setting> = chosen.iter().map(fallen).chain([place.setting]).collect();
                in_order(self.job, self.bar, &self.earlier, with, self.ways).map(|ordered| (place, ordered))
            });
            let Some((place, ordered)) = next else { break };
            left = left.without(&place.marks);
            chosen = ordered;
        }
        // What these take, each no longer than needed.
        let target = self.target.without(&left);
        let in_target = |index: usize| target.has(index);
        let falling: Vec<Setting> = chosen.iter().map(fallen).collect();
        let shorter: Vec<Setting> =
            trimmed(self.job, self.bar, &self.samples, &falling, &in_target, Trim::All)
                .into_iter()
                .flatten()
                .collect();
        let is_junk = |setting: &Setting| way_m(self.bar, setting) < SHORTEST_WAY_M;
        in_order(self.job, self.bar, &self.earlier, shorter, self.ways)
            .filter(|settings| settings.iter().all(|setting| !is_junk(setting) && self.can_do(setting)))
            .unwrap_or(chosen)
    }

    /// True where every place of a setting can be taken, looked at as closely as whoever tests a plan does: candidates are
    /// looked at more coarsely, and trimming moves the places looked at.
    fn can_do(&self, setting: &Setting) -> bool {
        moments(setting).all(|moment| {
            let at = place_at(self.job, setting, moment);
            (self.may)(setting.side, at) && self.workplace.holds(setting.side, at)
        })
    }

    /// The same settings but those without which no more is left.
    fn without_idle(&self, mut settings: Vec<Setting>) -> Vec<Setting> {
        let left_m2 = |settings: &[Setting]| area_of_m2(&self.left(settings));
        for index in (0..settings.len()).rev() {
            let mut fewer = settings.clone();
            fewer.remove(index);
            if left_m2(&fewer) > left_m2(&settings) + NOTHING_LEFT_M2 {
                continue;
            }
            let falling = fewer.iter().map(fallen).collect();
            if let Some(ordered) = in_order(self.job, self.bar, &self.earlier, falling, self.ways) {
                settings = ordered;
            }
        }
        settings
    }

    fn cost(&self, settings: &[Setting]) -> Cost {
        let hidden_m: f64 = settings.iter().map(|s| hidden_travel_m(self.job, self.bar, s)).sum();
        let rising = if self.ways == Ways::Up { 0 } else { settings.iter().filter(|s| s.rises()).count() };
        Cost {
            hidden_steps: (hidden_m / HIDDEN_STEP_M).round(),
            settings: settings.len(),
            far: settings.iter().filter(|s| s.side == Side::Far).count(),
            rising,
            effort_steps: (settings.iter().map(|s| self.effort(s)).sum::<f64>() / EFFORT_STEP).round(),
            hidden_mm: (hidden_m * 1e3).round(),
            way_um: micrometres(settings.iter().map(|s| way_m(self.bar, s)).sum()),
        }
    }

    /// What holding the saw costs the body through a setting: the mean over it, and what its bar's slope makes of a sink,
    /// which is easiest level.
    fn effort(&self, setting: &Setting) -> f64 {
        let looks = [0.0, 0.25, 0.5, 0.75, 1.0];
        let body: f64 = looks
            .into_iter()
            .map(|share| {
                let (_, moment) = moment(setting, share);
                self.workplace.effort(setting.side, place_at(self.job, setting, moment)) / 5.0
            })
            .sum();
        let slope_rad = match setting.kind() {
            Kind::Pivot => 0.0,
            Kind::Sink => {
                let direction = self.job.section().straight_in_rad(setting.bark_rad) + setting.from_rad;
                direction.sin().abs().asin()
            }
        };
        let motions = [setting.touches_down(), setting.kind() == Kind::Pivot, setting.slides_off()];
        let motions = motions.into_iter().filter(|one| *one).count();
        body + slope_rad * slope_rad + MOTION_COST * f64::from(u8::try_from(motions).unwrap_or(u8::MAX))
    }
}

/// What becomes of a set of settings.
enum Fitted {
    /// It cuts everything.
    Whole(Cost, Vec<Setting>),
    /// It leaves wood about these places.
    Leaves(Vec<Point>),
    /// Some of them would begin in the wood.
    NoOrder,
}

/// The same going down, as a search deals with them.
fn fallen(setting: &Setting) -> Setting {
    if setting.rises() { setting.reversed() } else { *setting }
}

/// Ways as they are compared: rounding must not decide between equals, or a mirrored log has another plan.
pub(super) fn micrometres(way_m: f64) -> f64 {
    (way_m * 1e6).round()
}

/// How far the nose goes in a setting, m.
fn way_m(bar: &CuttingBar, setting: &Setting) -> f64 {
    setting.lay_on_m + bar.reach().as_m() * setting.swing().as_rad() + setting.run_off_m
}

/// Keeps a set among the likeliest if it is one of them and not there yet.
fn keep(mut one: Likely, likely: &mut Vec<Likely>) {
    let steps = |one: &Likely| (one.hidden_m / HIDDEN_STEP_M).round();
    let way_um = |one: &Likely| micrometres(one.way_m);
    let ahead = |a: &Likely, b: &Likely| {
        steps(a).total_cmp(&steps(b)).then(a.far.cmp(&b.far)).then(way_um(a).total_cmp(&way_um(b))).is_lt()
    };
    let at = likely.iter().position(|other| ahead(&one, other)).unwrap_or(likely.len());
    if at >= COMPARED {
        return;
    }
    one.set.sort_unstable();
    if likely.iter().any(|other| other.set == one.set) {
        return;
    }
    likely.insert(at, one);
    likely.truncate(COMPARED);
}

/// Places a little inside an outline, beside each of its corners and the middles of its edges.
fn places_in(outline: &Outline) -> Vec<Point> {
    const INWARD: f64 = 0.02;
    let places: Vec<Point> =
        outline.edges().iter().flat_map(|edge| [edge.start(), edge.point_at(0.5)]).collect();
    let mut middle = Vector::zeros();
    let mut count = 0.0;
    for place in &places {
        middle += place.coords;
        count += 1.0;
    }
    places.into_iter().map(|place| place + INWARD * (middle / count - place.coords)).collect()
}

/// A place just inside an outline, beside the middle of its longest edge.
fn place_inside(outline: &Outline) -> Option<Point> {
    const INWARD: f64 = 1e-3;
    let longest = outline.edges().iter().max_by(|a, b| a.length_m().total_cmp(&b.length_m()))?;
    Some(longest.point_at(0.5) + INWARD * longest.length_m() * longest.left_at_middle())
}
