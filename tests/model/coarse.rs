//! A plain search for cuts of one or two settings on a coarse grid, to hold a plan against: places every 15° of bark, bars
//! held and swings ended every 15°, slides whole, half or not at all. It knows nothing of how plans are made: only what a
//! person can hold, the rules for the nose written out anew, and what a list of settings leaves.
#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "helpers of tests, outside a test function"
)]

use barpoise_core::geometry::{Point, Vector};
use barpoise_core::log::{
    BarkArc, CuttingBar, LogJob, LogSection, Setting, Side, SwingStart, Workplace, cover, nose, swing_start,
};
use barpoise_core::person::Standing;
use barpoise_core::units::{Angle, Length};
use std::f64::consts::{FRAC_PI_2, PI};

/// Spacing of places and of bar angles, degrees.
const COARSE_DEG: i32 = 15;
/// Largest angle from straight in that is a whole number of steps, degrees.
const MOST_DEG: i32 = 75;
/// Hidden way of the nose is compared in steps of this, m.
const HIDDEN_STEP_M: f64 = 0.1;
/// Slides are looked at every so far, m.
const SLIDE_M: f64 = 0.01;
/// Sets that take every sample and are then cut exactly, at most.
const MOST_CUT: u32 = 4_000;

const WORDS: usize = 8;
type Marks = [u64; WORDS];

/// Whether the saw is set again, hidden way in steps, and settings: in the order in which plans are compared.
pub type Cost = (bool, i64, usize);

fn cost_of(hidden_m: f64, count: usize) -> Cost {
    (count > 1, (hidden_m / HIDDEN_STEP_M).round() as i64, count)
}

/// What a list of settings costs, in the order in which plans are compared.
pub fn cost(job: &LogJob, bar: &CuttingBar, settings: &[Setting]) -> Cost {
    let hidden: f64 = settings.iter().map(|s| nose(job, bar, &[], s).unwrap().hidden_travel_m).sum();
    cost_of(hidden, settings.len())
}

/// What the search came to.
#[derive(Debug)]
pub enum Tried {
    /// Nothing on the grid is better.
    NothingBetter,
    /// This is.
    Better(Cost, Vec<Setting>),
    /// Too many sets to cut them all.
    GaveUp,
}

/// A doable cut of one or two settings that takes the whole log and costs less; any, where nothing is offered.
pub fn better_than(job: &LogJob, bar: &CuttingBar, workplace: &Workplace, offered: Option<Cost>) -> Tried {
    // No cut of the grid is better than one setting with the nose in sight.
    if offered.is_some_and(|cost| cost <= (false, 0, 1)) {
        return Tried::NothingBetter;
    }
    let grid = Grid::new(job);
    let found = candidates(job, bar, workplace, &grid);
    let is_better =
        |hidden: f64, count: usize| offered.is_none_or(|offered| cost_of(hidden, count) < offered);
    let mut cut = 0;
    for one in found.iter().filter(|one| is_better(one.hidden_m, 1) && grid.left(&[one]).is_none()) {
        if let Some(settings) = worked(job, bar, &[one.setting]) {
            return Tried::Better(cost(job, bar, &settings), settings);
        }
    }
    for (index, one) in found.iter().enumerate() {
        // One of the two takes the first sample; the other what is left.
        let Some(missing) = grid.left(&[one]) else { continue };
        for other in found.iter().skip(index + 1).filter(|other| has(&other.marks, missing)) {
            if !is_better(one.hidden_m + other.hidden_m, 2) || grid.left(&[one, other]).is_some() {
                continue;
            }
            cut += 1;
            if cut > MOST_CUT {
                return Tried::GaveUp;
            }
            if let Some(settings) = worked(job, bar, &[one.setting, other.setting]) {
                return Tried::Better(cost(job, bar, &settings), settings);
            }
        }
    }
    Tried::NothingBetter
}

/// The settings in an order and in directions in which none starts with a plunge, where they take everything.
fn worked(job: &LogJob, bar: &CuttingBar, set: &[Setting]) -> Option<Vec<Setting>> {
    if cover(job, bar, set).unwrap().left_area_m2 > 0.0 {
        return None;
    }
    let starts = |settings: &[Setting]| {
        (0..settings.len())
            .all(|i| swing_start(job, bar, &settings[..i], &settings[i]).unwrap() != SwingStart::Plunge)
    };
    let ways = |s: &Setting| [*s, s.reversed()];
    match set {
        [one] => ways(one).into_iter().map(|one| vec![one]).find(|set| starts(set)),
        [one, other] => [(one, other), (other, one)]
            .into_iter()
            .flat_map(|(a, b)| ways(a).into_iter().flat_map(move |a| ways(b).map(|b| vec![a, b])))
            .find(|set| starts(set)),
        _ => None,
    }
}

struct Candidate {
    setting: Setting,
    marks: Marks,
    hidden_m: f64,
}

fn has(marks: &Marks, sample: usize) -> bool {
    marks[sample / 64] >> (sample % 64) & 1 == 1
}

/// Sample places of a section, most of them on its bark.
struct Grid {
    places: Vec<Point>,
    corners: Vec<Point>,
}

impl Grid {
    fn new(job: &LogJob) -> Self {
        let section = job.section();
        let turn = |i: i32, of: i32| 2.0 * PI * f64::from(i) / f64::from(of);
        let ring = |share: f64, of: i32| {
            (0..of).map(move |i| Point::from(share * section.bark_at(turn(i, of)).coords))
        };
        let places = ring(0.9999, 240).chain(ring(0.8, 120)).chain(ring(0.5, 80)).chain(ring(0.2, 40));
        Self {
            places: places.collect(),
            corners: (0..3600).map(|i| section.bark_at(turn(i, 3600))).collect(),
        }
    }

    fn marks(&self, takes: impl Fn(Point) -> bool) -> Marks {
        let mut marks = [0; WORDS];
        for (index, place) in self.places.iter().enumerate() {
            if takes(*place) {
                marks[index / 64] |= 1 << (index % 64);
            }
        }
        marks
    }

    /// A sample that none of these takes.
    fn left(&self, set: &[&Candidate]) -> Option<usize> {
        let all = set.iter().fold([0; WORDS], |all, one| or(&all, &one.marks));
        (0..self.places.len()).step_by(64).find_map(|from| {
            let left = !all[from / 64];
            let index = from + left.trailing_zeros() as usize;
            (left != 0 && index < self.places.len()).then_some(index)
        })
    }
}

fn or(a: &Marks, b: &Marks) -> Marks {
    std::array::from_fn(|i| a[i] | b[i])
}

/// A place of the grid on one side's bark.
struct Spikes<'a> {
    job: &'a LogJob,
    bar: &'a CuttingBar,
    standing: &'a Standing,
    side: Side,
    bark: Angle,
    pivot: Point,
    straight_in: f64,
    grid: &'a Grid,
}

/// A bar at a place, held at one angle: its marks where it stands, and the slides before and after it.
struct Held {
    degrees: i32,
    marks: Marks,
    /// Upward and downward: length, m, and marks.
    up: Vec<(f64, Marks)>,
    down: Vec<(f64, Marks)>,
}

impl Spikes<'_> {
    /// Whether the bar may be at a place: held, and its nose neither out on the operator's own side nor in the ground.
    fn may(&self, spikes: Point, direction: f64) -> bool {
        let along = Vector::new(direction.cos(), direction.sin());
        let radius = self.bar.nose_radius().as_m();
        let tip = spikes + self.bar.reach().as_m() * along;
        let centre = tip - radius * along;
        let ground = |x: f64| self.standing.ground_m(x);
        if ground(centre.x) - (centre.y - radius) > 0.02 {
            return false;
        }
        let own = if self.side == Side::Near { tip.x < 0.0 } else { tip.x > 0.0 };
        if own && tip.y > ground(tip.x) && off_bark(self.job.section(), &self.grid.corners, tip) > radius {
            return false;
        }
        self.standing.can(spikes, direction)
    }

    fn direction(&self, degrees: i32) -> f64 {
        self.straight_in + f64::from(degrees).to_radians()
    }

    fn holds(&self, degrees: i32) -> bool {
        self.may(self.pivot, self.direction(degrees))
    }

    fn held(&self, degrees: i32) -> Held {
        let direction = self.direction(degrees);
        let upward = if self.side == Side::Near { 1.0 } else { -1.0 };
        let along = Vector::new(direction.cos(), direction.sin());
        let bar = |place: Point, spikes: Point| {
            let v = place - spikes;
            in_bar(self.bar, v.dot(&along), v.perp(&along))
        };
        let slides = |sense: f64| {
            let away = unit(direction + sense * FRAC_PI_2);
            let wood = self.grid.corners.iter().map(|q| (q - self.pivot).dot(&away)).fold(0.0, f64::max);
            // Where the spikes are at each step, as far as it can be held and there is wood.
            let backs = self.backs(along, away, wood);
            let count = backs.iter().zip(0..).take_while(|(back, i)| {
                let way = (f64::from(*i) * SLIDE_M).min(wood);
                self.may(self.pivot + way * away - **back * along, direction)
            });
            let most = (count.count() as f64 - 1.0).max(0.0) * SLIDE_M;
            let most = most.min(wood);
            [most, 0.5 * most]
                .into_iter()
                .filter(|way| *way > 0.0)
                .map(|way| {
                    let back = |way: f64| backs[(way / SLIDE_M) as usize];
                    let marks = self.grid.marks(|place| {
                        let v = place - self.pivot;
                        let aside = v.dot(&away);
                        let sweeps = (0.0..=way).contains(&aside)
                            && v.dot(&along) + back(aside) <= self.bar.reach().as_m();
                        sweeps || bar(place, self.pivot + way * away - back(way) * along)
                    });
                    (way, marks)
                })
                .collect()
        };
        let marks = self.grid.marks(|place| bar(place, self.pivot));
        Held { degrees, marks, up: slides(upward), down: slides(-upward) }
    }

    /// How far back the spikes stand every so far: as far as the farthest bark passed.
    fn backs(&self, along: Vector, away: Vector, wood: f64) -> Vec<f64> {
        let mut backs = vec![0.0_f64; (wood / SLIDE_M) as usize + 2];
        for corner in &self.grid.corners {
            let v = corner - self.pivot;
            let aside = v.dot(&away);
            if aside >= 0.0 {
                let slot = ((aside / SLIDE_M).ceil() as usize).min(backs.len() - 1);
                backs[slot] = backs[slot].max(-v.dot(&along));
            }
        }
        for i in 1..backs.len() {
            backs[i] = backs[i].max(backs[i - 1]);
        }
        backs
    }

    fn sector(&self, low: i32, high: i32) -> Marks {
        let (low, high) = (unit(self.direction(low)), unit(self.direction(high)));
        self.grid.marks(|place| {
            let v = place - self.pivot;
            v.norm() <= self.bar.reach().as_m() && low.perp(&v) >= 0.0 && v.perp(&high) >= 0.0
        })
    }
}

fn unit(angle: f64) -> Vector {
    Vector::new(angle.cos(), angle.sin())
}

/// How far a place is outside the bark, m; nothing inside.
fn off_bark(section: &LogSection, corners: &[Point], place: Point) -> f64 {
    let towards = section.bark_at(place.y.atan2(place.x));
    if place.coords.norm() <= towards.coords.norm() {
        return 0.0;
    }
    corners.iter().map(|corner| (corner - place).norm()).fold(f64::INFINITY, f64::min)
}

/// Within the bar: its half width falls evenly from the spikes to the nose, round at both ends.
fn in_bar(bar: &CuttingBar, along: f64, across: f64) -> bool {
    let (root, nose) = (bar.half_width().as_m(), bar.nose_radius().as_m());
    let length = bar.reach().as_m() - nose;
    if across.abs() > root || along < -root || along > bar.reach().as_m() {
        return false;
    }
    (0..=100).any(|i| {
        let t = f64::from(i) / 100.0;
        (along - t * length).hypot(across) <= root + t * (nose - root)
    })
}

fn places(arc: &BarkArc) -> impl Iterator<Item = Angle> {
    let step = f64::from(COARSE_DEG).to_radians();
    let (first, last) = ((arc.from_rad() / step).ceil() as i32, (arc.to_rad() / step).floor() as i32);
    (first..=last).map(move |i| Angle::from_rad(f64::from(i) * step))
}

/// Every cut of the grid, downward.
fn candidates(job: &LogJob, bar: &CuttingBar, workplace: &Workplace, grid: &Grid) -> Vec<Candidate> {
    let mut found = Vec::new();
    for arc in job.bark() {
        let side = arc.side();
        let standing = workplace.standing(side).unwrap();
        for bark in places(arc) {
            let pivot = job.section().bark_at(bark.as_rad());
            let straight_in = job.section().straight_in_rad(bark.as_rad());
            let spikes = Spikes { job, bar, standing, side, bark, pivot, straight_in, grid };
            let limits = job.swing().from_side(side);
            let within = |degrees: i32| (limits.0..=limits.1).contains(&f64::from(degrees).to_radians());
            let can: Vec<bool> =
                (-MOST_DEG..=MOST_DEG).map(|degrees| within(degrees) && spikes.holds(degrees)).collect();
            let at = |degrees: i32| can[(degrees + MOST_DEG) as usize];
            let held: Vec<Held> = (-MOST_DEG..=MOST_DEG)
                .step_by(COARSE_DEG as usize)
                .filter(|degrees| at(*degrees))
                .map(|degrees| spikes.held(degrees))
                .collect();
            for (index, low) in held.iter().enumerate() {
                for high in &held[index..] {
                    if (low.degrees..=high.degrees).all(at) {
                        add(&spikes, low, high, &mut found);
                    }
                }
            }
        }
    }
    found
}

fn add(spikes: &Spikes<'_>, low: &Held, high: &Held, found: &mut Vec<Candidate>) {
    let (first, last) = if spikes.side == Side::Near { (high, low) } else { (low, high) };
    let swing = or(&or(&low.marks, &high.marks), &spikes.sector(low.degrees, high.degrees));
    let none = [(0.0, [0; WORDS])];
    let deg = |degrees: i32| Angle::from_deg(f64::from(degrees));
    for (lay_on, laid) in first.up.iter().chain(&none) {
        for (run_off, run) in last.down.iter().chain(&none) {
            let ways = (Length::from_m(*lay_on), Length::from_m(*run_off));
            let (job, side, bark) = (spikes.job, spikes.side, spikes.bark);
            let setting = if low.degrees == high.degrees {
                if lay_on + run_off <= 0.0 {
                    continue;
                }
                Setting::sink(job, bark, side, deg(first.degrees), ways, false)
            } else {
                Setting::new(job, bark, side, deg(first.degrees), deg(last.degrees))
                    .and_then(|swing| swing.with_ways(job, ways.0, ways.1))
            };
            let setting = setting.unwrap();
            let hidden_m = nose(job, spikes.bar, &[], &setting).unwrap().hidden_travel_m;
            found.push(Candidate { setting, marks: or(&swing, &or(laid, run)), hidden_m });
        }
    }
}
