//! The relief: where wood is pressed together a straight cut from there closes on the bar, so that side is cut a third deep
//! first and the rest from the other side (*common practice, no source*).

use super::bar::CuttingBar;
use super::danger::HalfPlane;
use super::job::{Bind, LogJob};
use super::setting::{Place, Setting, place_at};
use super::workplace::moments;
use crate::geometry::{Point, Vector};
use crate::section::{LogSection, Region, unit};
use crate::units::Length;
use std::f64::consts::FRAC_PI_2;

/// How deep the relief is, as a share of the height (*common practice, no source*).
pub const RELIEF_SHARE: f64 = 1.0 / 3.0;
/// How much deeper it may come, m: twice the steps on which slides end.
const MORE_M: f64 = 0.01;

/// How much deeper than it should be a relief may come, m: tried in order, until the whole log comes apart. The bar is set
/// with its middle on the bark, so that of a thin log it takes half its width at least.
pub(super) fn deeper(bar: &CuttingBar) -> [f64; 3] {
    let width_m = bar.half_width().as_m() + bar.nose_radius().as_m();
    [MORE_M, 0.5 * width_m, width_m]
}

/// The part of a section that is pressed together and relieved first.
pub(super) struct Pressed {
    zone: HalfPlane,
}

impl Pressed {
    /// The third on the side that is pressed together; `None` where none is.
    pub(super) fn of(job: &LogJob) -> Option<Self> {
        let line_m = job.section().top_y_m() - RELIEF_SHARE * job.section().height().as_m();
        let zone = match job.bind() {
            Bind::None => return None,
            Bind::Top => HalfPlane::new(Point::new(0.0, line_m), Vector::y()),
            Bind::Bottom => HalfPlane::new(Point::new(0.0, -line_m), -Vector::y()),
        };
        Some(Self { zone })
    }

    pub(super) const fn zone(&self) -> &HalfPlane {
        &self.zone
    }

    /// True where a bar that is set with its middle on the bark cannot stop within the third: such a log is taken from the
    /// other side, where its wood is pulled, in one go.
    pub(super) fn is_too_thin(job: &LogJob, bar: &CuttingBar) -> bool {
        job.section().height() * RELIEF_SHARE < bar.half_width()
    }

    /// True where the wood along both edges of the bar, as wide as its nose, lies in it, or no farther beyond than so much.
    pub(super) fn holds(&self, job: &LogJob, bar: &CuttingBar, more_m: f64, at: Place) -> bool {
        let along = unit(at.direction_rad);
        let aside = bar.nose_radius().as_m() * unit(at.direction_rad + FRAC_PI_2);
        [at.spikes + aside, at.spikes - aside].into_iter().all(|edge| {
            in_wood(job.section(), edge, edge + bar.reach().as_m() * along)
                .is_none_or(|ends| ends.into_iter().all(|end| self.zone.outside_m(end) <= more_m))
        })
    }
}

/// The piece of a line that lies in the wood.
fn in_wood(section: &LogSection, from: Point, to: Point) -> Option<[Point; 2]> {
    let (along, length_m) = ((to - from).normalize(), (to - from).norm());
    let (first, last) = section.meetings_m(from, along)?;
    let (first, last) = (first.max(0.0), last.min(length_m));
    (first < last).then(|| [from + first * along, from + last * along])
}

/// How deep settings come into the wood from the side that is pressed together; `None` where none is, or they take none.
///
/// Looked at every degree of a swing and every 10 mm of a slide, and known to a millimetre or two.
pub fn relief_depth(job: &LogJob, bar: &CuttingBar, settings: &[Setting]) -> Option<Length> {
    let pressed_side = match job.bind() {
        Bind::None => return None,
        Bind::Top => Vector::y(),
        Bind::Bottom => -Vector::y(),
    };
    let section = job.section();
    let far_end = Point::from(-section.top_y_m() * pressed_side);
    let deepest = settings
        .iter()
        .flat_map(|setting| moments(setting).map(move |moment| place_at(job, setting, moment)))
        .flat_map(|at| {
            let (along, aside) = (unit(at.direction_rad), unit(at.direction_rad + FRAC_PI_2));
            let nose = at.spikes + bar.nose_centre_m() * along;
            let edges = [1.0, -1.0].into_iter().filter_map(move |side| {
                let (wide, narrow) = (side * bar.half_width().as_m(), side * bar.nose_radius().as_m());
                in_wood(section, at.spikes + wide * aside, nose + narrow * aside)
            });
            let round = nose - bar.nose_radius().as_m() * pressed_side;
            let v = far_end - at.spikes;
            let takes_all = bar.outside_m(v.dot(&along), v.dot(&aside)) < 0.0;
            edges
                .flatten()
                .chain((section.outside_m(round) < 0.0).then_some(round))
                .chain(takes_all.then_some(far_end))
        })
        .map(|place| section.top_y_m() - place.coords.dot(&pressed_side))
        .reduce(f64::max)?;
    Some(Length::from_m(deepest))
}
