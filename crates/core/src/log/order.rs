//! The order a sawyer would take settings in, and the way each swing goes.

use super::bar::CuttingBar;
use super::danger::starts_in_wood;
use super::job::{Bind, LogJob};
use super::setting::Setting;
use super::stand::Side;
use crate::units::Angle;

/// Where on the bark a setting is, in the words of the trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SettingPlace {
    /// Level with the middle, within 35°.
    Beside,
    /// Higher up, or over the top.
    OverTheTop,
    /// Lower down.
    Low,
}

/// Within this of level counts as beside the log, rad.
const BESIDE_RAD: f64 = 35.0 / 180.0 * std::f64::consts::PI;

impl SettingPlace {
    /// Where a setting is, seen from the side it is worked from.
    pub fn of(setting: &Setting) -> Self {
        let above = above_level_rad(setting);
        if above.abs() <= BESIDE_RAD {
            Self::Beside
        } else if above > 0.0 {
            Self::OverTheTop
        } else {
            Self::Low
        }
    }

    /// Words for it: with the side, "near side", "over the top from the near side", "low on the near side".
    pub const fn words(self, side: Side) -> &'static str {
        match (self, side) {
            (Self::Beside, Side::Near) => "near side",
            (Self::OverTheTop, Side::Near) => "over the top from the near side",
            (Self::Low, Side::Near) => "low on the near side",
            (Self::Beside, Side::Far) => "far side",
            (Self::OverTheTop, Side::Far) => "over the top from the far side",
            (Self::Low, Side::Far) => "low on the far side",
        }
    }
}

/// How far along the bark above the level of the middle, from the side it is worked from, rad, −π…π.
fn above_level_rad(setting: &Setting) -> f64 {
    use std::f64::consts::{PI, TAU};
    let from_far = (setting.bark_rad + PI).rem_euclid(TAU) - PI;
    match setting.side {
        Side::Near => (PI - setting.bark_rad + PI).rem_euclid(TAU) - PI,
        Side::Far => from_far,
    }
}

/// Puts settings in order and turns their swings the right way (common practice, no source).
///
/// One side is finished before the operator walks round, and a swing that would start in the wood waits for another to
/// open its start. Without a bind: beside the log first, then over the top, then
/// low. With a bind, the side that is pressed together first: from the top down for a top bind; from the bottom up, the
/// bar's upper side leading, for a bottom bind.
pub(super) fn in_order(job: &LogJob, bar: &CuttingBar, mut settings: Vec<Setting>) -> Vec<Setting> {
    let place = |setting: &Setting| {
        let above = above_level_rad(setting);
        match (job.bind(), SettingPlace::of(setting)) {
            (Bind::Top, _) => -above,
            (Bind::Bottom, _) => above,
            (Bind::None, SettingPlace::Beside) => above.abs(),
            (Bind::None, SettingPlace::OverTheTop) => 10.0 + above,
            (Bind::None, SettingPlace::Low) => 20.0 - above,
        }
    };
    settings.sort_by(|a, b| {
        let side = |s: &Setting| s.side == Side::Far;
        side(a).cmp(&side(b)).then_with(|| place(a).total_cmp(&place(b)))
    });
    settings.iter_mut().for_each(|setting| *setting = turned(setting, job.bind() == Bind::Bottom));
    without_plunges(job, bar, settings)
}

/// The same order, but a setting whose swing would start in the wood waits for one on its side that opens it.
fn without_plunges(job: &LogJob, bar: &CuttingBar, mut waiting: Vec<Setting>) -> Vec<Setting> {
    let mut ordered = Vec::with_capacity(waiting.len());
    while let Some(first) = waiting.first() {
        let side = first.side;
        let open = waiting
            .iter()
            .position(|setting| setting.side == side && !starts_in_wood(job, bar, &ordered, setting))
            .unwrap_or(0);
        ordered.push(waiting.remove(open));
    }
    ordered
}

/// The swing downward, or upward.
fn turned(setting: &Setting, upward: bool) -> Setting {
    let (low, high) = (setting.from_rad.min(setting.to_rad), setting.from_rad.max(setting.to_rad));
    let falls = (setting.side == Side::Near) != upward;
    let (from_rad, to_rad) = if falls { (high, low) } else { (low, high) };
    Setting { from_rad, to_rad, ..*setting }
}

/// How far above the level of the middle a setting is along the bark, seen from the side it is worked from.
pub fn above_level(setting: &Setting) -> Angle {
    Angle::from_rad(above_level_rad(setting))
}
