//! Where the nose is through a swing: in the wood, in an open kerf, or out of the far side, in sight or not.

use super::bar::CuttingBar;
use super::edge::{Edge, unit};
use super::job::LogJob;
use super::region::Region;
use super::setting::{CutShape, Setting, pivot};
use super::stand::Side;
use crate::fault::Fault;
use crate::geometry::{Point, Vector};

/// Longest line drawn to find where the nose comes into sight, m; longer than any log and bar together.
const FAR_M: f64 = 20.0;
/// A phase shorter than this is none, rad.
const SHORTEST_PHASE_RAD: f64 = 1e-6;
/// Directions looked at within a phase to find how far the nose is in or out at most.
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

/// One stretch of a swing through which the nose stays in the same state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NosePhase {
    /// Swing angle at which it starts, from straight in, rad.
    pub from_rad: f64,
    /// Swing angle at which it ends, rad.
    pub to_rad: f64,
    /// Where the nose is.
    pub state: NoseState,
}

impl NosePhase {
    /// How far the bar turns in this phase, rad.
    pub fn angle_rad(&self) -> f64 {
        (self.to_rad - self.from_rad).abs()
    }
}

/// The nose through one setting's swing.
#[derive(Clone, Debug, PartialEq)]
pub struct Nose {
    /// The phases in order of the swing.
    pub phases: Vec<NosePhase>,
    /// Farthest out past the bark, along the bar, m; 0 where it never comes out.
    pub out_max_m: f64,
    /// Farthest short of the far bark while in uncut wood, m; 0 where it never is.
    pub buried_max_m: f64,
    /// Angle of the swing with the nose out of the log, rad.
    pub out_rad: f64,
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

/// The nose through the swing of `setting`, after the settings `earlier` have been cut.
///
/// The nose is hidden where it is out of the log and the log stands between it and the operator's eye (1.6 m above
/// the ground, 0.5 m from the bark: common practice, no source), or among branches, or below the ground.
///
/// # Errors
/// A setting that is none for this job.
pub fn nose(job: &LogJob, bar: &CuttingBar, earlier: &[Setting], setting: &Setting) -> Result<Nose, Fault> {
    earlier.iter().chain([setting]).try_for_each(|setting| setting.check(job))?;
    let shapes: Vec<_> = earlier.iter().map(|setting| CutShape::new(job, bar, setting)).collect();
    Ok(nose_after(job, bar, &shapes, setting))
}

pub(super) fn nose_after(job: &LogJob, bar: &CuttingBar, earlier: &[CutShape], setting: &Setting) -> Nose {
    let path = TipPath::new(job, bar, setting);
    let mut shares = path.changes(job, setting.side);
    for edge in earlier.iter().flat_map(Region::edges) {
        path.arc.add_meetings(edge, &mut shares);
    }
    shares.sort_unstable_by(f64::total_cmp);
    let mut phases: Vec<NosePhase> = Vec::new();
    let mut from = 0.0;
    for to in shares {
        if (to - from) * path.turn_rad.abs() < SHORTEST_PHASE_RAD {
            continue;
        }
        let state = path.state(job, earlier, setting.side, from, to);
        match phases.last_mut() {
            Some(last) if same_kind(&last.state, &state) => {
                last.to_rad = path.swing_at(to);
                last.state = deeper(last.state, state);
            }
            _ => phases.push(NosePhase { from_rad: path.swing_at(from), to_rad: path.swing_at(to), state }),
        }
        from = to;
    }
    summed(job, &path, phases)
}

/// Way of the tip out of the log and out of sight in a swing, m; the log taken as uncut.
pub(crate) fn hidden_travel_m(job: &LogJob, bar: &CuttingBar, setting: &Setting) -> f64 {
    let path = TipPath::new(job, bar, setting);
    let mut shares = path.changes(job, setting.side);
    shares.sort_unstable_by(f64::total_cmp);
    let (mut from, mut hidden) = (0.0, 0.0);
    for to in shares {
        let tip = path.arc.point_at(0.5 * (from + to));
        if job.section().outside_m(tip) > 0.0 && is_hidden(job, setting.side, tip) {
            hidden += to - from;
        }
        from = to;
    }
    hidden * path.arc.length_m()
}

fn summed(job: &LogJob, path: &TipPath, phases: Vec<NosePhase>) -> Nose {
    let (mut out_max_m, mut buried_max_m, mut out_rad, mut hidden_rad) = (0.0_f64, 0.0_f64, 0.0, 0.0);
    for phase in &phases {
        match phase.state {
            NoseState::Buried { most_m } => buried_max_m = buried_max_m.max(most_m),
            NoseState::OpenKerf => {}
            NoseState::Out { most_m, hidden } => {
                out_max_m = out_max_m.max(most_m);
                out_rad += phase.angle_rad();
                hidden_rad += if hidden { phase.angle_rad() } else { 0.0 };
            }
        }
    }
    let lowest = path.lowest_y_m();
    Nose {
        phases,
        out_max_m,
        buried_max_m,
        out_rad,
        hidden_travel_m: hidden_rad * path.reach_m,
        into_ground_m: (job.section().ground_y_m() - lowest).max(0.0),
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
    if job.in_tangle(place) || place.y < job.section().ground_y_m() {
        return true;
    }
    let sight = Edge::line(job.eye(side), place);
    let mut meetings = Vec::with_capacity(4);
    job.section().edges().iter().for_each(|edge| sight.add_meetings(edge, &mut meetings));
    !meetings.is_empty()
}

/// The way of the nose tip through a swing.
struct TipPath {
    pivot: Point,
    reach_m: f64,
    straight_in_rad: f64,
    from_rad: f64,
    turn_rad: f64,
    arc: Edge,
}

impl TipPath {
    fn new(job: &LogJob, bar: &CuttingBar, setting: &Setting) -> Self {
        let (pivot, straight_in_rad) = pivot(job, setting);
        let reach_m = bar.reach().as_m();
        let turn_rad = setting.to_rad - setting.from_rad;
        let arc = Edge::arc(pivot, reach_m, straight_in_rad + setting.from_rad, turn_rad);
        Self { pivot, reach_m, straight_in_rad, from_rad: setting.from_rad, turn_rad, arc }
    }

    fn swing_at(&self, share: f64) -> f64 {
        self.from_rad + share * self.turn_rad
    }

    /// Shares of the way at which the tip passes the bark, comes into sight or goes out of it; both ends included.
    fn changes(&self, job: &LogJob, side: Side) -> Vec<f64> {
        let mut shares = vec![0.0, 1.0];
        for edge in job.section().edges() {
            self.arc.add_meetings(edge, &mut shares);
        }
        let (top, ground) = (job.section().top_y_m(), job.section().ground_y_m());
        for y in [top, ground] {
            self.arc.add_meetings(&Edge::line(Point::new(-FAR_M, y), Point::new(FAR_M, y)), &mut shares);
        }
        self.arc.add_meetings(&Edge::line(Point::new(0.0, -FAR_M), Point::new(0.0, FAR_M)), &mut shares);
        for edge in sight_lines(job, side) {
            self.arc.add_meetings(&edge, &mut shares);
        }
        shares
    }

    fn state(&self, job: &LogJob, earlier: &[CutShape], side: Side, from: f64, to: f64) -> NoseState {
        let tip = self.arc.point_at(0.5 * (from + to));
        if job.section().outside_m(tip) > 0.0 {
            NoseState::Out { most_m: self.most_m(job, from, to, 1.0), hidden: is_hidden(job, side, tip) }
        } else if earlier.iter().any(|shape| shape.outside_m(tip) < 0.0) {
            NoseState::OpenKerf
        } else {
            NoseState::Buried { most_m: self.most_m(job, from, to, -1.0) }
        }
    }

    /// Most of `sense × (tip past the bark)` between two shares of the way, m, straight in looked at as well.
    fn most_m(&self, job: &LogJob, from: f64, to: f64, sense: f64) -> f64 {
        let straight_in = -self.from_rad / self.turn_rad;
        let looks = (0..=LOOKS).map(|look| from + f64::from(look) / f64::from(LOOKS) * (to - from));
        let straight_in = (straight_in > from && straight_in < to).then_some(straight_in);
        looks
            .chain(straight_in)
            .map(|share| {
                let direction = self.straight_in_rad + self.swing_at(share);
                // A bar that points past the log has no wood along it.
                sense * (self.reach_m - job.section().exit_m(self.pivot, direction).unwrap_or(0.0))
            })
            .fold(0.0, f64::max)
    }

    fn lowest_y_m(&self) -> f64 {
        (0..=LOOKS)
            .map(|look| self.arc.point_at(f64::from(look) / f64::from(LOOKS)).y)
            .fold(f64::INFINITY, f64::min)
    }
}

/// The lines of sight that graze the bark, from the eye past the log.
fn sight_lines(job: &LogJob, side: Side) -> Vec<Edge> {
    let eye = job.eye(side);
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
        assert_relative_eq!(buried.from_rad, passes, epsilon = 1e-9);
        assert_relative_eq!(buried.to_rad, -passes, epsilon = 1e-9);
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

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn law_hidden_travel_is_what_small_steps_add_up_to(
            diameter in 100.0_f64..800.0, clearance in 0.0_f64..800.0, bark in 65.0_f64..179.0,
            from in -75.0_f64..75.0, to in -75.0_f64..75.0,
            tangle in prop_oneof![Just(Tangle::None), Just(Tangle::Far), Just(Tangle::Near)]
        ) {
            let job = job(diameter, clearance, tangle);
            let setting = swing(&job, bark, from, to);
            let found = nose(&job, &bar(), &[], &setting).unwrap().hidden_travel_m;
            let quick = hidden_travel_m(&job, &bar(), &setting);
            prop_assert!((found - quick).abs() < 1e-5, "{found} {quick}");
            let radius = 0.5e-3 * diameter;
            let ground = -radius - 1e-3 * clearance;
            let eye = Vector::new(-radius - 0.5, ground + 1.6);
            let steps = 20_000;
            let step = 0.452 * (to - from).to_radians().abs() / f64::from(steps);
            let hidden = (0..steps).filter(|i| {
                let share = (f64::from(*i) + 0.5) / f64::from(steps);
                let angle = (bark + 180.0 + from + share * (to - from)).to_radians();
                let tip = radius * unit(bark.to_radians()) + 0.452 * unit(angle);
                let sight = tip - eye;
                let nearest = (-eye.dot(&sight) / sight.norm_squared()).clamp(0.0, 1.0);
                let blocked = (eye + nearest * sight).norm() < radius;
                let beside = match tangle {
                    Tangle::None => false,
                    Tangle::Far => tip.x > 0.0,
                    Tangle::Near => tip.x < 0.0,
                };
                tip.norm() > radius && (blocked || tip.y < ground || (beside && tip.y < radius))
            });
            let stepped = hidden.count() as f64 * step;
            // Each of a few changes is found to one step.
            prop_assert!((found - stepped).abs() < 8.0 * step + 1e-6, "{found} {stepped}");
        }
    }
}
