//! Where the nose is through a setting: in the wood, in an open kerf, or out of the far side, in sight or not.

use super::bar::CuttingBar;
use super::carry::WorkPhase;
use super::cover::all_taken;
use super::job::LogJob;
use super::pose::run_share;
use super::setting::{Setting, Taken, pivot};
use crate::fault::Fault;
use crate::geometry::{Point, Vector};
use crate::section::{Edge, Region, Side, unit};

/// Longest line drawn to find where the nose comes into sight, m; longer than any log and bar together.
const FAR_M: f64 = 20.0;
/// A phase in which the tip goes less far than this is none, m.
const SHORTEST_PHASE_M: f64 = 1e-6;
/// Places looked at within a phase to find how far the nose is in or out at most.
const LOOKS: u32 = 24;

/// Where the nose tip is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoseState {
    /// In wood no setting before has cut.
    Buried {
        /// How far it stays short of the far bark, along the bar, at most, m.
        most_m: f64,
    },
    /// Inside the log, where a setting before has cut.
    OpenKerf,
    /// Out of the log.
    Out {
        /// How far past the bark, along the bar, at most, m.
        most_m: f64,
        /// Out of the operator's sight: behind the log, among branches, or below the ground.
        hidden: bool,
    },
}

/// One stretch of a setting through which the nose stays in the same state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NosePhase {
    /// Share of the setting's run at which it starts, 0…1 (see [`super::pose()`]).
    pub from: f64,
    /// Share of the setting's run at which it ends.
    pub to: f64,
    /// How far the bar turns in it, rad.
    pub angle_rad: f64,
    /// How far the tip goes in it, m.
    pub way_m: f64,
    /// Where the nose is.
    pub state: NoseState,
}

/// The nose through one setting: laying on, swing and running off.
#[derive(Clone, Debug, PartialEq)]
pub struct Nose {
    /// The phases in order.
    pub phases: Vec<NosePhase>,
    /// Farthest out past the bark, along the bar, m; 0 where it never comes out.
    pub out_max_m: f64,
    /// Farthest short of the far bark while in uncut wood, m; 0 where it never is.
    pub buried_max_m: f64,
    /// Angle of the swing with the nose out of the log, rad.
    pub out_rad: f64,
    /// Way of the nose tip out of the log, m.
    pub out_travel_m: f64,
    /// Way of the nose tip out of the log and out of sight, m.
    pub hidden_travel_m: f64,
    /// Deepest the tip goes below the ground, m; 0 where it never does.
    pub into_ground_m: f64,
}

impl Nose {
    /// True where the nose is ever out and out of sight.
    pub fn is_hidden(&self) -> bool {
        self.hidden_travel_m > 0.0
    }
}

/// The nose through `setting`, after the settings `earlier` have been cut.
///
/// The nose is hidden where it is out of the log and the log stands between it and the operator's eye (standing, half a
/// metre from the bark: our guess), or among branches, or below the ground.
///
/// # Errors
/// A setting that is none for this job.
pub fn nose(job: &LogJob, bar: &CuttingBar, earlier: &[Setting], setting: &Setting) -> Result<Nose, Fault> {
    earlier.iter().chain([setting]).try_for_each(|setting| setting.check(job))?;
    Ok(nose_after(job, bar, &all_taken(job, bar, earlier), setting))
}

pub(super) fn nose_after(job: &LogJob, bar: &CuttingBar, earlier: &[Taken], setting: &Setting) -> Nose {
    let sight = SightLines::new(job, setting.side);
    let mut phases: Vec<NosePhase> = Vec::new();
    let mut into_ground_m = 0.0_f64;
    for piece in pieces(job, bar, setting) {
        let mut shares = piece.changes(job, &sight);
        for edge in earlier.iter().flat_map(Taken::parts).flat_map(Region::edges) {
            piece.edge.add_meetings(edge, &mut shares);
        }
        shares.sort_unstable_by(f64::total_cmp);
        let mut from = 0.0;
        for to in shares {
            let way_m = (to - from) * piece.edge.length_m();
            if way_m < SHORTEST_PHASE_M {
                continue;
            }
            let next = NosePhase {
                from: piece.run_share(setting, from),
                to: piece.run_share(setting, to),
                angle_rad: (to - from) * piece.turn_rad.abs(),
                way_m,
                state: piece.state(job, earlier, setting.side, from, to),
            };
            match phases.last_mut() {
                Some(last) if same_kind(&last.state, &next.state) => last.go_on(&next),
                _ => phases.push(next),
            }
            from = to;
        }
        into_ground_m = into_ground_m.max(piece.ground_depth_m(job));
    }
    summed(phases, into_ground_m)
}

/// Way of the tip out of the log and out of sight in a setting, m; the log taken as uncut.
pub(crate) fn hidden_travel_m(job: &LogJob, bar: &CuttingBar, setting: &Setting) -> f64 {
    let sight = SightLines::new(job, setting.side);
    let mut hidden_m = 0.0;
    for piece in pieces(job, bar, setting) {
        let mut shares = piece.changes(job, &sight);
        shares.sort_unstable_by(f64::total_cmp);
        let mut from = 0.0;
        for to in shares {
            let tip = piece.edge.point_at(0.5 * (from + to));
            if job.section().outside_m(tip) > 0.0 && is_hidden(job, setting.side, tip) {
                hidden_m += (to - from) * piece.edge.length_m();
            }
            from = to;
        }
    }
    hidden_m
}

fn summed(phases: Vec<NosePhase>, into_ground_m: f64) -> Nose {
    let mut nose = Nose {
        phases,
        out_max_m: 0.0,
        buried_max_m: 0.0,
        out_rad: 0.0,
        out_travel_m: 0.0,
        hidden_travel_m: 0.0,
        into_ground_m,
    };
    for phase in &nose.phases {
        match phase.state {
            NoseState::Buried { most_m } => nose.buried_max_m = nose.buried_max_m.max(most_m),
            NoseState::OpenKerf => {}
            NoseState::Out { most_m, hidden } => {
                nose.out_max_m = nose.out_max_m.max(most_m);
                nose.out_rad += phase.angle_rad;
                nose.out_travel_m += phase.way_m;
                nose.hidden_travel_m += if hidden { phase.way_m } else { 0.0 };
            }
        }
    }
    nose
}

impl NosePhase {
    fn go_on(&mut self, next: &Self) {
        self.to = next.to;
        self.angle_rad += next.angle_rad;
        self.way_m += next.way_m;
        self.state = deeper(self.state, next.state);
    }
}

fn same_kind(a: &NoseState, b: &NoseState) -> bool {
    match (a, b) {
        (NoseState::Buried { .. }, NoseState::Buried { .. }) => true,
        (NoseState::OpenKerf, NoseState::OpenKerf) => true,
        (NoseState::Out { hidden: a, .. }, NoseState::Out { hidden: b, .. }) => a == b,
        _ => false,
    }
}

fn deeper(a: NoseState, b: NoseState) -> NoseState {
    match (a, b) {
        (NoseState::Buried { most_m: a }, NoseState::Buried { most_m: b }) => {
            NoseState::Buried { most_m: a.max(b) }
        }
        (NoseState::Out { most_m: a, hidden }, NoseState::Out { most_m: b, .. }) => {
            NoseState::Out { most_m: a.max(b), hidden }
        }
        _ => a,
    }
}

/// True for a place off the wood that the operator cannot see or that the nose must not touch unseen.
fn is_hidden(job: &LogJob, side: Side, place: Point) -> bool {
    if job.in_tangle(place) || place.y < job.ground_m(place.x) {
        return true;
    }
    let eye = job.eye(side);
    let to_place = place - eye;
    let distance_m = to_place.norm();
    job.section()
        .meetings_m(eye, to_place / distance_m)
        .is_some_and(|(first, _)| first > 0.0 && first < distance_m)
}

/// A piece of the way of the nose tip: a line or an arc.
struct Piece {
    stretch: WorkPhase,
    /// Shares of the stretch at its ends.
    from: f64,
    to: f64,
    edge: Edge,
    spikes: Point,
    /// Direction at its start, and how far the bar turns along it.
    direction_rad: f64,
    turn_rad: f64,
    reach_m: f64,
    /// Where along it the bar points straight in, if anywhere.
    straight_in: Option<f64>,
}

/// The way of the nose tip through a setting.
fn pieces(job: &LogJob, bar: &CuttingBar, setting: &Setting) -> Vec<Piece> {
    let reach_m = bar.reach().as_m();
    let (spikes, straight_in_rad) = pivot(job, setting);
    let mut pieces = Vec::with_capacity(5);
    let held = |stretch, direction_rad: f64, edges: Vec<Edge>, pieces: &mut Vec<Piece>| {
        let whole_m: f64 = edges.iter().map(Edge::length_m).sum();
        let mut from_m = 0.0;
        for edge in edges {
            let to_m = from_m + edge.length_m();
            let (from, to) = (from_m / whole_m, to_m / whole_m);
            pieces.push(Piece {
                stretch,
                from,
                to,
                edge,
                spikes,
                direction_rad,
                turn_rad: 0.0,
                reach_m,
                straight_in: None,
            });
            from_m = to_m;
        }
    };
    if setting.touches_down() {
        let mut edges = setting.lay_on_slide(job).way_of(job.section(), reach_m, setting.lay_on_m);
        edges.reverse();
        edges.iter_mut().for_each(|edge| *edge = edge.reversed());
        held(WorkPhase::TouchDown, straight_in_rad + setting.from_rad, edges, &mut pieces);
    }
    let turn_rad = setting.to_rad - setting.from_rad;
    if turn_rad.abs() * reach_m >= SHORTEST_PHASE_M {
        let direction_rad = straight_in_rad + setting.from_rad;
        pieces.push(Piece {
            stretch: WorkPhase::Swing,
            from: 0.0,
            to: 1.0,
            edge: Edge::arc(spikes, reach_m, direction_rad, turn_rad),
            spikes,
            direction_rad,
            turn_rad,
            reach_m,
            straight_in: Some(-setting.from_rad / turn_rad).filter(|share| *share > 0.0 && *share < 1.0),
        });
    }
    if setting.slides_off() {
        let edges = setting.run_off_slide(job).way_of(job.section(), reach_m, setting.run_off_m);
        held(WorkPhase::LastSlide, straight_in_rad + setting.to_rad, edges, &mut pieces);
    }
    pieces
}

impl Piece {
    fn run_share(&self, setting: &Setting, share: f64) -> f64 {
        run_share(setting, self.stretch, self.from + share * (self.to - self.from))
    }

    /// Shares of the way at which the tip passes the bark, comes into sight or goes out of it; both ends included.
    fn changes(&self, job: &LogJob, sight: &SightLines) -> Vec<f64> {
        let mut shares = vec![0.0, 1.0];
        for edge in job.section().edges().iter().chain(&sight.lines) {
            self.edge.add_meetings(edge, &mut shares);
        }
        shares
    }

    fn state(&self, job: &LogJob, earlier: &[Taken], side: Side, from: f64, to: f64) -> NoseState {
        let tip = self.edge.point_at(0.5 * (from + to));
        if job.section().outside_m(tip) > 0.0 {
            NoseState::Out { most_m: self.most_m(job, from, to, 1.0), hidden: is_hidden(job, side, tip) }
        } else if earlier.iter().any(|taken| taken.outside_m(tip) < 0.0) {
            NoseState::OpenKerf
        } else {
            NoseState::Buried { most_m: self.most_m(job, from, to, -1.0) }
        }
    }

    /// Most of `sense × (tip past the bark)` between two shares of the way, m, straight in looked at as well.
    fn most_m(&self, job: &LogJob, from: f64, to: f64, sense: f64) -> f64 {
        let looks = (0..=LOOKS).map(|look| from + f64::from(look) / f64::from(LOOKS) * (to - from));
        let straight_in = self.straight_in.filter(|share| *share > from && *share < to);
        looks
            .chain(straight_in)
            .map(|share| {
                let along = unit(self.direction_rad + share * self.turn_rad);
                let tip = self.edge.point_at(share);
                let spikes =
                    if self.stretch == WorkPhase::Swing { self.spikes } else { tip - self.reach_m * along };
                // A bar that points past the log has no wood along it.
                let bark_m = job.section().meetings_m(spikes, along).map_or(0.0, |(_, last)| last.max(0.0));
                sense * (self.reach_m - bark_m)
            })
            .fold(0.0, f64::max)
    }

    fn ground_depth_m(&self, job: &LogJob) -> f64 {
        (0..=LOOKS)
            .map(|look| self.edge.point_at(f64::from(look) / f64::from(LOOKS)))
            .map(|tip| job.ground_m(tip.x) - tip.y)
            .fold(0.0, f64::max)
    }
}

/// Lines at which the nose may come into sight or go out of it: the lines of sight that graze the bark, the ground, and
/// where branches begin.
struct SightLines {
    lines: Vec<Edge>,
}

impl SightLines {
    fn new(job: &LogJob, side: Side) -> Self {
        let across = |height_m: &dyn Fn(f64) -> f64| {
            Edge::line(Point::new(-FAR_M, height_m(-FAR_M)), Point::new(FAR_M, height_m(FAR_M)))
        };
        let mut lines = vec![across(&|_| job.tangle_top_y_m()), across(&|x_m| job.ground_m(x_m))];
        lines.push(Edge::line(Point::new(0.0, -FAR_M), Point::new(0.0, FAR_M)));
        lines.extend(grazing(job, job.eye(side)));
        Self { lines }
    }
}

/// The lines of sight that graze the bark, from the eye past the log.
fn grazing(job: &LogJob, eye: Point) -> Vec<Edge> {
    let mut lines = Vec::with_capacity(2);
    for edge in job.section().edges() {
        let Edge::Arc(arc) = edge else { continue };
        let to_eye = eye - arc.centre();
        let cosine = arc.radius_m() / to_eye.norm();
        if cosine >= 1.0 {
            continue;
        }
        let (towards, half) = (to_eye.y.atan2(to_eye.x), cosine.acos());
        for angle in [towards + half, towards - half] {
            let graze = arc.centre() + arc.radius_m() * unit(angle);
            if job.section().outside_m(graze) < 1e-9 {
                let along: Vector = (graze - eye).normalize();
                lines.push(Edge::line(graze, graze + FAR_M * along));
            }
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::super::{LogSection, Stand, Tangle};
    use super::*;
    use crate::units::{Angle, Length};
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn job(diameter_mm: f64, clearance_mm: f64, tangle: Tangle) -> LogJob {
        let mm = Length::from_mm;
        LogJob::new(LogSection::round(mm(diameter_mm), mm(clearance_mm)).unwrap(), Stand::OneSide)
            .with_tangle(tangle)
    }

    fn bar() -> CuttingBar {
        let mm = Length::from_mm;
        CuttingBar::new(mm(452.0), mm(45.0), mm(36.0)).unwrap()
    }

    fn swing(job: &LogJob, bark: f64, from: f64, to: f64) -> Setting {
        let deg = Angle::from_deg;
        Setting::new(job, deg(bark), Side::Near, deg(from), deg(to)).unwrap()
    }

    #[test]
    fn chords_say_how_far_the_nose_is_in_and_out() {
        // The wood along the bar is the chord 560 cos δ; the tip passes the bark at cos δ = 452/560.
        let job = job(560.0, 400.0, Tangle::None);
        let nose = nose(&job, &bar(), &[], &swing(&job, 180.0, 75.0, -75.0)).unwrap();
        assert_relative_eq!(nose.buried_max_m, 0.108, epsilon = 1e-12);
        let at_limit = 0.452 - 0.56 * 75.0_f64.to_radians().cos();
        assert_relative_eq!(nose.out_max_m, at_limit, epsilon = 1e-12);
        let passes = (452.0_f64 / 560.0).acos();
        assert_relative_eq!(nose.out_rad, 2.0 * (75.0_f64.to_radians() - passes), epsilon = 1e-9);
        let buried = nose.phases.iter().find(|p| matches!(p.state, NoseState::Buried { .. })).unwrap();
        // Nothing is laid on and nothing runs off: shares of the run are shares of the swing.
        let swing_at = |share: f64| (75.0 - 150.0 * share).to_radians();
        assert_relative_eq!(swing_at(buried.from), passes, epsilon = 1e-9);
        assert_relative_eq!(swing_at(buried.to), -passes, epsilon = 1e-9);
    }

    #[test]
    fn an_earlier_cut_turns_buried_into_open_kerf() {
        let job = job(560.0, 400.0, Tangle::None);
        let one = swing(&job, 180.0, 75.0, -75.0);
        let again = nose(&job, &bar(), &[one], &swing(&job, 180.0, 20.0, -20.0)).unwrap();
        // The tip runs along the end of its own earlier kerf: neither deeper nor out.
        assert!(again.phases.iter().all(|p| !matches!(p.state, NoseState::Out { .. })));
        let other = nose(&job, &bar(), &[one], &swing(&job, 100.0, -20.0, -30.0)).unwrap();
        assert!(matches!(other.phases[0].state, NoseState::OpenKerf), "{other:?}");
    }

    #[test]
    fn branches_hide_what_clear_ground_shows() {
        // A thin log: the nose sticks out level with the middle, and the eye looks down over the log.
        let clear = job(300.0, 0.0, Tangle::None);
        let level = |job: &LogJob| nose(job, &bar(), &[], &swing(job, 180.0, 5.0, -5.0)).unwrap();
        assert!(!level(&clear).is_hidden());
        let tangled = job(300.0, 0.0, Tangle::Far);
        assert_relative_eq!(level(&tangled).hidden_travel_m, 0.452 * 10.0_f64.to_radians(), epsilon = 1e-9);
    }

    #[test]
    fn the_nose_in_the_dirt_is_hidden_and_measured() {
        let low = job(300.0, 0.0, Tangle::None);
        let nose = nose(&low, &bar(), &[], &swing(&low, 90.0, 0.0, -10.0)).unwrap();
        assert_relative_eq!(nose.into_ground_m, 0.152, epsilon = 1e-6);
        assert!(nose.is_hidden());
    }

    /// Where the spikes are on the way of a slide about round wood, from the words alone: they keep as near the wood as it
    /// allows, along the bark to its widest place and then straight on.
    fn slid(radius: f64, bark: f64, direction: f64, away: Vector, way: f64) -> Vector {
        let along = unit(direction);
        let pivot = radius * unit(bark);
        let (ahead, aside) = (pivot.dot(&along), pivot.dot(&away));
        let now = aside + way;
        let back =
            if aside >= 0.0 { ahead } else { -(radius * radius - now.min(0.0).powi(2)).max(0.0).sqrt() };
        back * along + now * away
    }

    #[test]
    fn a_sink_through_a_thin_log_shows_the_nose_all_the_way_down_to_the_bark() {
        // Level through 300 mm with 452 mm of reach, 200 mm above the middle to 200 mm below: never in the wood.
        let mm = Length::from_mm;
        let sink = |tangle| {
            let job = job(300.0, 800.0, tangle);
            let ways = (mm(200.0), mm(200.0));
            let setting =
                Setting::sink(&job, Angle::from_deg(180.0), Side::Near, Angle::from_deg(0.0), ways, false)
                    .unwrap();
            nose(&job, &bar(), &[], &setting).unwrap()
        };
        let clear = sink(Tangle::None);
        assert_relative_eq!(clear.out_travel_m, 0.4, epsilon = 1e-9);
        assert_relative_eq!(clear.out_rad, 0.0, epsilon = 1e-12);
        assert_relative_eq!(clear.buried_max_m, 0.0, epsilon = 1e-12);
        // 302 mm from the middle at its own height; the bar that is past the log has no wood along it.
        assert_relative_eq!(clear.out_max_m, 0.452, epsilon = 1e-9);
        assert_relative_eq!(sink(Tangle::Far).hidden_travel_m, 0.4, epsilon = 1e-9);
    }

    prop_compose! {
        fn a_way()(way in 0.0_f64..600.0, is_none in any::<bool>()) -> f64 {
            if is_none { 0.0 } else { way }
        }
    }

    proptest! {
        #![proptest_config(crate::few_cases::few_cases(64))]

        #[test]
        fn law_hidden_travel_is_what_small_steps_add_up_to(
            diameter in 100.0_f64..800.0, clearance in 0.0_f64..800.0, bark in 21.0_f64..289.0,
            from in -75.0_f64..75.0, to in -75.0_f64..75.0, lay_on in a_way(), run_off in a_way(),
            tangle in prop_oneof![Just(Tangle::None), Just(Tangle::Far), Just(Tangle::Near)]
        ) {
            let job = job(diameter, clearance, tangle);
            let mm = Length::from_mm;
            let setting = swing(&job, bark, from, to).with_ways(&job, mm(lay_on), mm(run_off)).unwrap();
            let found = nose(&job, &bar(), &[], &setting).unwrap().hidden_travel_m;
            let quick = hidden_travel_m(&job, &bar(), &setting);
            prop_assert!((found - quick).abs() < 1e-5, "{found} {quick}");
            let radius = 0.5e-3 * diameter;
            let ground = -radius - 1e-3 * clearance;
            // The average man's eye, half a metre from the bark.
            let eye = Vector::new(-radius - 0.5, ground + 0.935 * 1.756);
            let is_hidden = |tip: Vector| {
                let sight = tip - eye;
                let nearest = (-eye.dot(&sight) / sight.norm_squared()).clamp(0.0, 1.0);
                let blocked = (eye + nearest * sight).norm() < radius;
                let beside = match tangle {
                    Tangle::None => false,
                    Tangle::Far => tip.x > 0.0,
                    Tangle::Near => tip.x < 0.0,
                };
                tip.norm() > radius && (blocked || tip.y < ground || (beside && tip.y < radius + 0.4))
            };
            let bark = bark.to_radians();
            let straight_in = bark + std::f64::consts::PI;
            let sense = (to - from).signum();
            let tip = |share: f64, stretch: u8| {
                let at = [from, from + share * (to - from), to][usize::from(stretch)].to_radians();
                let away = |sense: f64| unit(straight_in + at + sense * std::f64::consts::FRAC_PI_2);
                let spikes = match stretch {
                    0 => slid(radius, bark, straight_in + at, away(-sense), 1e-3 * lay_on * (1.0 - share)),
                    1 => radius * unit(bark),
                    _ => slid(radius, bark, straight_in + at, away(sense), 1e-3 * run_off * share),
                };
                spikes + 0.452 * unit(straight_in + at)
            };
            let (mut stepped, mut longest) = (0.0, 0.0_f64);
            for stretch in 0..3 {
                let steps = 8_000;
                let tips: Vec<_> = (0..=steps).map(|i| tip(f64::from(i) / f64::from(steps), stretch)).collect();
                for pair in tips.windows(2) {
                    let step = (pair[1] - pair[0]).norm();
                    longest = longest.max(step);
                    stepped += if is_hidden(0.5 * (pair[0] + pair[1])) { step } else { 0.0 };
                }
            }
            // Each of a few changes is found to one step.
            prop_assert!((found - stepped).abs() < 12.0 * longest + 1e-6, "{found} {stepped}");
        }
    }
}
