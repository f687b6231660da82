//! The upper quadrant of the nose: where it meets uncut wood or branches, and how a swing may start.

use super::bar::CuttingBar;
use super::cover::{all_taken, area_of_m2};
use super::job::LogJob;
use super::pose::{moment, stretches};
use super::setting::{Moment, Place, Setting, Taken, place_at, regions, upward_sense};
use crate::fault::Fault;
use crate::geometry::{Point, Vector};
use crate::section::{Edge, Region, fresh, is_empty, unit};
use crate::units::Angle;
use std::f64::consts::{FRAC_PI_2, PI};

/// The swing is looked at every so far, rad; a slide every so far, m.
const STEP_RAD: f64 = 1.0 / 180.0 * std::f64::consts::PI;
const STEP_M: f64 = 0.01;
/// Nose angles looked at, degrees: 0 is the tip, 90 the top of the nose. Closer to the tip than 15° the chain
/// runs along the end of its own kerf in every swing.
const NOSE_ANGLES_DEG: [f64; 6] = [15.0, 30.0, 45.0, 60.0, 75.0, 90.0];
/// How far ahead of the cutters something counts as touched, m: less than the thickness of a chip.
const TOUCH_M: f64 = 0.5e-3;

/// What the upper quadrant of the nose meets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Touches {
    /// Wood no cut has reached yet.
    UncutWood,
    /// Branches beside the log.
    Tangle,
}

/// A stretch of a setting in which the upper quadrant of the nose touches something.
///
/// The quadrant runs from the tip on the centreline up to the top of the nose circle (NWCG S-212 glossary; ISO
/// 6531:2017, 3.1.6).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DangerContact {
    /// Share of the setting's run at which it starts, 0…1; to within 1° of swing or 10 mm of slide.
    pub from: f64,
    /// Share of the setting's run at which it ends.
    pub to: f64,
    /// What it touches.
    pub touches: Touches,
}

/// How the bar comes to where its swing starts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SwingStart {
    /// Nothing is cut before the swing: beside the log or in an open kerf.
    Free,
    /// The bar is laid on the bark and carried in sideways.
    TouchDown {
        /// Area that goes before the spikes bite, m².
        area_m2: f64,
    },
    /// Wood stands on every side: the nose has to go in first. Start with the lower quadrant of the nose only, and
    /// turn the bar in once the kerf holds it.
    Plunge,
}

/// Words that go with a plunge.
pub const PLUNGE_RULE: &str =
    "Start a plunge with the lower quadrant of the nose only, never with the upper one.";

/// Where in the run of `setting` the upper quadrant of the nose touches uncut wood or branches, after `earlier` have been
/// cut. Looked at every degree of the swing and every 10 mm of a slide, and at six places of the quadrant from 15° above
/// the tip to its top.
///
/// # Errors
/// A setting that is none for this job.
pub fn danger_contacts(
    job: &LogJob,
    bar: &CuttingBar,
    earlier: &[Setting],
    setting: &Setting,
) -> Result<Vec<DangerContact>, Fault> {
    earlier.iter().chain([setting]).try_for_each(|setting| setting.check(job))?;
    let cut = all_taken(job, bar, earlier);
    let mut contacts = Vec::new();
    let mut open: [Option<DangerContact>; 2] = [None, None];
    for at in looks(setting) {
        let (_, moment) = moment(setting, at);
        let own = Taken::until(job, bar, setting, moment);
        // Being laid on, only what lies behind the bar is open.
        let still_to_go_m = if let Moment::LayOn(way_m) = moment { Some(way_m) } else { None };
        let met = touched(job, bar, &cut, &own, setting, place_at(job, setting, moment), still_to_go_m);
        for ((open, met), touches) in open.iter_mut().zip(met).zip([Touches::UncutWood, Touches::Tangle]) {
            match (open.as_mut(), met) {
                (Some(contact), true) => contact.to = at,
                (None, true) => *open = Some(DangerContact { from: at, to: at, touches }),
                (Some(_), false) => contacts.extend(open.take()),
                (None, false) => {}
            }
        }
    }
    contacts.extend(open.into_iter().flatten());
    Ok(contacts)
}

/// Shares of a setting's run to look at, both ends among them.
pub(super) fn looks(setting: &Setting) -> Vec<f64> {
    let [on, swing, off] = stretches(setting);
    let count = |length: f64, step: f64| (length / step).ceil();
    let mut shares = Vec::with_capacity(200);
    let mut from = 0.0;
    for (share, count) in [
        (on, count(setting.lay_on_m, STEP_M)),
        (swing, count(setting.swing().as_rad(), STEP_RAD)),
        (off, count(setting.run_off_m, STEP_M)),
    ] {
        let mut step = 0.0;
        while step < count {
            shares.push(from + share * step / count);
            step += 1.0;
        }
        from += share;
    }
    shares.push(1.0);
    shares
}

/// What the quadrant touches where a setting stands now: uncut wood, tangle.
fn touched(
    job: &LogJob,
    bar: &CuttingBar,
    cut: &[Taken],
    own: &Taken,
    setting: &Setting,
    at: Place,
    still_to_go_m: Option<f64>,
) -> [bool; 2] {
    let outward = unit(at.direction_rad - setting.sense() * FRAC_PI_2);
    let is_ahead = |place: Point| {
        let v = place - at.spikes;
        let aside_m = v.dot(&outward);
        still_to_go_m.is_some()
            && aside_m < 0.0
            && bar.outside_m(v.dot(&unit(at.direction_rad)), aside_m) > 0.0
    };
    let mut met = [false, false];
    for place in quadrant(bar, setting, at) {
        let off_the_log = job.section().outside_m(place) > 0.0;
        let own_takes = own.outside_m(place) <= 0.0 && !is_ahead(place);
        let uncut = !off_the_log && !own_takes && cut.iter().all(|taken| taken.outside_m(place) > 0.0);
        met = [met[0] || uncut, met[1] || (off_the_log && job.in_tangle(place))];
    }
    met
}

/// Places just ahead of the upper quadrant of the nose.
fn quadrant<'a>(bar: &'a CuttingBar, setting: &Setting, at: Place) -> impl Iterator<Item = Point> + 'a {
    let nose = at.spikes + bar.nose_centre_m() * unit(at.direction_rad);
    let up = upward_sense(setting.side);
    NOSE_ANGLES_DEG.iter().map(move |degrees| {
        let angle = at.direction_rad + up * Angle::from_deg(*degrees).as_rad();
        nose + (bar.nose_radius().as_m() + TOUCH_M) * unit(angle)
    })
}

/// How the bar comes to the start of the swing of `setting`, after `earlier` have been cut. It comes from the side the
/// swing turns away from.
///
/// # Errors
/// A setting that is none for this job.
pub fn swing_start(
    job: &LogJob,
    bar: &CuttingBar,
    earlier: &[Setting],
    setting: &Setting,
) -> Result<SwingStart, Fault> {
    earlier.iter().chain([setting]).try_for_each(|setting| setting.check(job))?;
    let cut = all_taken(job, bar, earlier);
    Ok(start_after(job, bar, &cut, setting))
}

/// The same for settings known to be of this job.
pub(super) fn start_after(
    job: &LogJob,
    bar: &CuttingBar,
    earlier: &[Taken],
    setting: &Setting,
) -> SwingStart {
    let laid = Taken::start_of(job, bar, setting);
    let earlier = regions(earlier);
    let laid = regions(std::slice::from_ref(&laid));
    if is_plunge(job, bar, &earlier, &laid, setting) {
        return SwingStart::Plunge;
    }
    let area_m2 = area_of_m2(&fresh(&[job.section()], &laid, &earlier));
    if area_m2 > 0.0 { SwingStart::TouchDown { area_m2 } } else { SwingStart::Free }
}

/// True where uncut wood within reach stands behind the bar's first place, on the side it comes from.
pub(super) fn is_plunge(
    job: &LogJob,
    bar: &CuttingBar,
    cut: &[&dyn Region],
    laid: &[&dyn Region],
    setting: &Setting,
) -> bool {
    let at = place_at(job, setting, Moment::LayOn(setting.lay_on_m));
    let behind = HalfPlane::new(at.spikes, unit(at.direction_rad - FRAC_PI_2 * setting.sense()));
    // Beside the bar: what lies ahead of the middle of the nose is not behind it.
    let within = Disc::new(at.spikes, bar.nose_centre_m());
    let mut taken = cut.to_vec();
    taken.extend(laid);
    !is_empty(&[job.section(), &behind, &within], &taken)
}

/// Everything within a distance of a place.
#[derive(Debug)]
struct Disc {
    centre: Point,
    radius_m: f64,
    edges: [Edge; 2],
}

impl Disc {
    fn new(centre: Point, radius_m: f64) -> Self {
        let half = |from_rad| Edge::arc(centre, radius_m, from_rad, PI);
        Self { centre, radius_m, edges: [half(0.0), half(PI)] }
    }
}

impl Region for Disc {
    fn edges(&self) -> &[Edge] {
        &self.edges
    }

    fn outside_m(&self, point: Point) -> f64 {
        (point - self.centre).norm() - self.radius_m
    }
}

/// Everything on one side of a line.
#[derive(Debug)]
pub(super) struct HalfPlane {
    through: Point,
    towards: Vector,
    edges: [Edge; 1],
}

impl HalfPlane {
    /// The side of a line through a point that a unit vector square to the line points to.
    pub(super) fn new(through: Point, towards: Vector) -> Self {
        const FAR_M: f64 = 20.0;
        let along = FAR_M * Vector::new(towards.y, -towards.x);
        Self { through, towards, edges: [Edge::line(through - along, through + along)] }
    }
}

impl Region for HalfPlane {
    fn edges(&self) -> &[Edge] {
        &self.edges
    }

    fn outside_m(&self, point: Point) -> f64 {
        -self.towards.dot(&(point - self.through))
    }
}

#[cfg(test)]
mod tests {
    use super::super::{LogSection, Side, Stand, Tangle};
    use super::*;
    use crate::units::Length;

    fn job(diameter_mm: f64, tangle: Tangle) -> LogJob {
        let mm = Length::from_mm;
        LogJob::new(LogSection::round(mm(diameter_mm), mm(400.0)).unwrap(), Stand::BothSides)
            .with_tangle(tangle)
    }

    fn bar() -> CuttingBar {
        let mm = Length::from_mm;
        CuttingBar::new(mm(452.0), mm(45.0), mm(36.0)).unwrap()
    }

    fn swing(job: &LogJob, side: Side, from: f64, to: f64) -> Setting {
        let deg = Angle::from_deg;
        let bark = if side == Side::Near { 180.0 } else { 0.0 };
        Setting::new(job, deg(bark), side, deg(from), deg(to)).unwrap()
    }

    #[test]
    fn a_swing_with_the_underside_leading_keeps_the_quadrant_in_its_own_kerf() {
        let job = job(560.0, Tangle::None);
        for (side, from) in [(Side::Near, 75.0), (Side::Far, -75.0)] {
            let down = swing(&job, side, from, -from);
            assert!(!down.rises());
            assert_eq!(danger_contacts(&job, &bar(), &[], &down).unwrap(), vec![]);
        }
    }

    #[test]
    fn a_swing_with_the_upper_side_leading_drives_the_quadrant_into_wood() {
        let job = job(560.0, Tangle::None);
        for (side, from) in [(Side::Near, -75.0), (Side::Far, 75.0)] {
            let up = swing(&job, side, from, -from);
            assert!(up.rises());
            let contacts = danger_contacts(&job, &bar(), &[], &up).unwrap();
            assert!(contacts.iter().all(|c| c.touches == Touches::UncutWood) && !contacts.is_empty());
            // From where the nose comes into the wood it stays there past straight in.
            assert!(contacts.iter().any(|c| (c.to - c.from) * 150.0 > 60.0), "{contacts:?}");
            let open = danger_contacts(&job, &bar(), &[up], &up).unwrap();
            assert_eq!(open, vec![]);
        }
    }

    #[test]
    fn a_nose_among_branches_touches_them() {
        let job = job(300.0, Tangle::Far);
        let contacts = danger_contacts(&job, &bar(), &[], &swing(&job, Side::Near, 30.0, -30.0)).unwrap();
        assert!(contacts.iter().any(|c| c.touches == Touches::Tangle), "{contacts:?}");
        let clear = super::tests::job(300.0, Tangle::None);
        let contacts = danger_contacts(&clear, &bar(), &[], &swing(&clear, Side::Near, 30.0, -30.0)).unwrap();
        assert!(contacts.iter().all(|c| c.touches != Touches::Tangle), "{contacts:?}");
    }

    #[test]
    fn a_swing_that_starts_in_the_wood_is_a_plunge_until_a_cut_has_opened_it() {
        let job = job(800.0, Tangle::None);
        let inner = swing(&job, Side::Near, 10.0, -30.0);
        assert_eq!(swing_start(&job, &bar(), &[], &inner).unwrap(), SwingStart::Plunge);
        let opens = swing(&job, Side::Near, 75.0, 5.0);
        assert_eq!(swing_start(&job, &bar(), &[opens], &inner).unwrap(), SwingStart::Free);
        let SwingStart::TouchDown { area_m2 } = swing_start(&job, &bar(), &[], &opens).unwrap() else {
            panic!("laid on the bark")
        };
        // At 75° the bar's half width and the sliver beyond, less what lies off the bark.
        assert!(area_m2 > 0.0 && area_m2 < 0.452 * 0.09, "{area_m2}");
    }

    /// The bar held level at the near side, let down from so far above the middle to so far below it.
    fn sink(job: &LogJob, above_mm: f64, below_mm: f64, rises: bool) -> Setting {
        let (mm, deg) = (Length::from_mm, Angle::from_deg);
        Setting::sink(job, deg(180.0), Side::Near, deg(0.0), (mm(above_mm), mm(below_mm)), rises).unwrap()
    }

    #[test]
    fn a_bar_laid_on_from_outside_the_log_never_plunges_and_one_laid_on_from_inside_does() {
        let job = job(300.0, Tangle::None);
        // The bar's half width takes a sliver that thin; what stands above it is in its way.
        for (above_mm, begins) in [(200.0, true), (150.0, true), (130.0, true), (60.0, false), (0.0, false)] {
            for rises in [false, true] {
                let start = swing_start(&job, &bar(), &[], &sink(&job, above_mm, 200.0, rises)).unwrap();
                assert_eq!(start != SwingStart::Plunge, begins, "{above_mm} {rises} {start:?}");
            }
        }
        // Half the disc goes before the spikes are at their place, and the half of the bar that is under it then.
        let SwingStart::TouchDown { area_m2 } =
            swing_start(&job, &bar(), &[], &sink(&job, 200.0, 0.0, false)).unwrap()
        else {
            panic!("laid on the bark")
        };
        let half_disc = 0.5 * PI * 0.15 * 0.15;
        assert!(area_m2 > half_disc && area_m2 < half_disc + 0.3 * 0.045, "{area_m2}");
    }

    #[test]
    fn a_sink_keeps_the_quadrant_in_its_own_kerf_and_from_below_drives_it_into_wood() {
        let job = job(600.0, Tangle::None);
        let down = sink(&job, 350.0, 350.0, false);
        assert_eq!(danger_contacts(&job, &bar(), &[], &down).unwrap(), vec![]);
        let up = sink(&job, 350.0, 350.0, true);
        let contacts = danger_contacts(&job, &bar(), &[], &up).unwrap();
        assert!(!contacts.is_empty() && contacts.iter().all(|c| c.touches == Touches::UncutWood));
        // From where the nose comes into the wood, 452 − 36 mm from the spikes, until it leaves it.
        let half_chord = (0.3_f64.powi(2) - (0.452_f64 - 0.036 - 0.3).powi(2)).sqrt();
        let share = |way_m: f64| (0.35 + way_m) / 0.7;
        let (first, last) = (contacts[0].from, contacts[contacts.len() - 1].to);
        assert!((first - share(-half_chord)).abs() < 0.08, "{first} {}", share(-half_chord));
        assert!((last - share(half_chord)).abs() < 0.08, "{last} {}", share(half_chord));
        assert_eq!(danger_contacts(&job, &bar(), &[down], &up).unwrap(), vec![]);
    }
}
