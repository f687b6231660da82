//! Whether a person can stand to a setting: handles in the ground or out of arm's reach, spikes above the shoulder,
//! the nose coming out on their own side.

use super::bar::CuttingBar;
use super::edge::unit;
use super::job::LogJob;
use super::setting::{Setting, pivot};
use super::stand::Side;
use crate::fault::Fault;
use crate::geometry::Point;
use crate::units::Length;

/// Shoulder of a standing operator above the ground, and in front of the bark when leaning over the log, m (common
/// practice, no source).
const SHOULDER_HEIGHT_M: f64 = 1.4;
const SHOULDER_OUT_M: f64 = 0.25;
/// How far a straight arm and a lean bring a hand from the shoulder, m (common practice, no source).
const ARM_AND_LEAN_M: f64 = 1.1;
/// The swing is looked at in this many places.
const LOOKS: u32 = 90;

/// What a setting asks of the person who stands to it. All zero and false where it asks nothing out of the way.
///
/// The plan is made from the bark and the swing limits alone; this says where a person would have to stop it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Posture {
    /// Deepest the rear handle would go below the ground, m.
    pub handle_into_ground_m: f64,
    /// Farthest the rear handle would go beyond the arm's reach from where the operator stands, m.
    pub handle_beyond_reach_m: f64,
    /// How far the spikes or the rear handle are above the operator's shoulder, m, at most.
    pub above_shoulder_m: f64,
    /// True where the nose comes out of the log, above the ground, on the operator's own side.
    pub nose_on_own_side: bool,
}

impl Posture {
    /// True where nothing speaks against it.
    pub fn is_clear(&self) -> bool {
        *self == Self::default()
    }
}

/// What a setting asks of the person, the rear handle lying `handle_behind` behind the spikes.
///
/// # Errors
/// A setting that is none for this job.
pub fn posture(
    job: &LogJob,
    bar: &CuttingBar,
    setting: &Setting,
    handle_behind: Length,
) -> Result<Posture, Fault> {
    setting.check(job)?;
    let section = job.section();
    let (spikes, straight_in) = pivot(job, setting);
    let ground_m = section.ground_y_m();
    let outward = if setting.side() == Side::Near { -1.0 } else { 1.0 };
    let half_m = 0.5 * section.width().as_m();
    let shoulder = Point::new(outward * (half_m + SHOULDER_OUT_M), ground_m + SHOULDER_HEIGHT_M);
    let turn = setting.to().as_rad() - setting.from().as_rad();
    let mut posture = Posture { above_shoulder_m: (spikes.y - shoulder.y).max(0.0), ..Posture::default() };
    for look in 0..=LOOKS {
        let along = unit(straight_in + setting.from().as_rad() + turn * f64::from(look) / f64::from(LOOKS));
        let handle = spikes - handle_behind.as_m() * along;
        let tip = spikes + bar.reach().as_m() * along;
        posture.handle_into_ground_m = posture.handle_into_ground_m.max(ground_m - handle.y);
        let beyond_m = (handle - shoulder).norm() - ARM_AND_LEAN_M;
        posture.handle_beyond_reach_m = posture.handle_beyond_reach_m.max(beyond_m);
        posture.above_shoulder_m = posture.above_shoulder_m.max(handle.y - shoulder.y);
        let bark_m = section.bark_at(tip.y.atan2(tip.x)).coords.norm();
        let out = tip.coords.norm() > bark_m + bar.nose_radius().as_m() && tip.y > ground_m;
        posture.nose_on_own_side |= out && outward * tip.x > 0.0;
    }
    Ok(posture)
}

#[cfg(test)]
mod tests {
    use super::super::{LogSection, Stand, SwingLimits};
    use super::*;
    use crate::units::Angle;
    use approx::assert_relative_eq;

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    fn asked(diameter: f64, clearance: f64, bark: f64, swing: f64) -> Posture {
        let section = LogSection::round(mm(diameter), mm(clearance)).unwrap();
        let limit = Angle::from_deg(swing);
        let job = LogJob::new(section, Stand::OneSide).with_swing(SwingLimits::new(limit, limit).unwrap());
        let bar = CuttingBar::new(mm(450.0), mm(50.0), mm(40.0)).unwrap();
        let setting = Setting::full(&job, Angle::from_deg(bark), Side::Near).unwrap();
        posture(&job, &bar, &setting, mm(480.0)).unwrap()
    }

    #[test]
    fn a_log_at_the_hip_from_the_near_side_asks_nothing() {
        let posture = asked(400.0, 600.0, 180.0, 45.0);
        assert!(posture.is_clear(), "{posture:?}");
    }

    #[test]
    fn a_low_setting_with_the_bar_pointing_up_buries_the_handle() {
        // Spikes level with the middle, 430 mm up; the bar 75° up: the handle lies 480 · sin 75° below.
        let posture = asked(560.0, 150.0, 180.0, 75.0);
        let expected = 0.48 * 75.0_f64.to_radians().sin() - 0.43;
        assert_relative_eq!(posture.handle_into_ground_m, expected, max_relative = 1e-9);
    }

    #[test]
    fn over_the_top_to_the_far_side_is_out_of_reach() {
        let posture = asked(560.0, 150.0, 60.0, 75.0);
        assert!(posture.handle_beyond_reach_m > 0.2, "{posture:?}");
        assert!(asked(560.0, 150.0, 150.0, 45.0).handle_beyond_reach_m.abs() < 1e-12);
    }

    #[test]
    fn a_log_held_high_is_above_the_shoulder_by_its_height() {
        let posture = asked(300.0, 1500.0, 180.0, 45.0);
        // The handle swings 480 · sin 45° above the spikes, which are 1.65 m up.
        let expected = 1.65 + 0.48 * 45.0_f64.to_radians().sin() - SHOULDER_HEIGHT_M;
        assert_relative_eq!(posture.above_shoulder_m, expected, max_relative = 1e-9);
    }
}
