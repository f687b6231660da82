//! The part of a bar that cuts: what lies past the spikes.

use crate::fault::Fault;
use crate::geometry::Vector;
use crate::section::{checked, limits};
use crate::units::Length;

/// A bar with its chain as it cuts: the hull of a circle of half the bar's width about the spikes and the nose
/// circle at the far end. Every length takes the cutters in.
///
/// The bar does not end at the spikes: rails and chain run on behind them into the powerhead, and the half circle
/// about the spikes stands for the last of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CuttingBar {
    reach_m: f64,
    half_width_m: f64,
    nose_radius_m: f64,
}

impl CuttingBar {
    /// `reach` from the spike line to the nose tip, `half_width` of bar and chain at the widest, `nose_radius`.
    ///
    /// # Errors
    /// A length out of its range, a nose wider than the bar, or a bar wider than two thirds of its reach.
    pub fn new(reach: Length, half_width: Length, nose_radius: Length) -> Result<Self, Fault> {
        checked("reach", &limits::REACH, reach.as_mm())?;
        checked("half_width", &limits::BAR_HALF_WIDTH, half_width.as_mm())?;
        checked("nose_radius", &limits::OUTER_NOSE_RADIUS, nose_radius.as_mm())?;
        if nose_radius > half_width {
            let message = format!(
                "nose radius {} mm is larger than half the bar's width, {} mm",
                nose_radius.as_mm(),
                half_width.as_mm()
            );
            return Err(Fault { path: "nose_radius".to_owned(), message });
        }
        if half_width * 3.0 > reach {
            let message = format!(
                "half width {} mm is more than a third of the reach, {} mm",
                half_width.as_mm(),
                reach.as_mm()
            );
            return Err(Fault { path: "half_width".to_owned(), message });
        }
        Ok(Self { reach_m: reach.as_m(), half_width_m: half_width.as_m(), nose_radius_m: nose_radius.as_m() })
    }

    /// The same bar with another reach.
    ///
    /// # Errors
    /// As [`Self::new`].
    pub fn with_reach(&self, reach: Length) -> Result<Self, Fault> {
        Self::new(reach, self.half_width(), self.nose_radius())
    }

    /// From the spike line to the nose tip.
    pub const fn reach(&self) -> Length {
        Length::from_m(self.reach_m)
    }

    /// Half the width of bar and chain.
    pub const fn half_width(&self) -> Length {
        Length::from_m(self.half_width_m)
    }

    /// Radius of the nose over the cutters.
    pub const fn nose_radius(&self) -> Length {
        Length::from_m(self.nose_radius_m)
    }

    /// From the spike line to the middle of the nose circle, m.
    pub(super) fn nose_centre_m(&self) -> f64 {
        self.reach_m - self.nose_radius_m
    }

    /// Angle by which each rail leans towards the centreline from the spikes to the nose, rad.
    pub(super) fn taper_rad(&self) -> f64 {
        ((self.half_width_m - self.nose_radius_m) / self.nose_centre_m()).asin()
    }

    /// Distance outside the bar, m, negative inside; `along_m` from the spikes on the centreline, `across_m`
    /// off it to either side (hull of two circles).
    pub(super) fn outside_m(&self, along_m: f64, across_m: f64) -> f64 {
        let across = across_m.abs();
        let length = self.nose_centre_m();
        let lean = (self.half_width_m - self.nose_radius_m) / length;
        let level = (1.0 - lean * lean).sqrt();
        let foot = level * along_m - lean * across;
        if foot < 0.0 {
            Vector::new(along_m, across).norm() - self.half_width_m
        } else if foot > level * length {
            Vector::new(along_m - length, across).norm() - self.nose_radius_m
        } else {
            level * across + lean * along_m - self.half_width_m
        }
    }

    /// Half the angle under which the bar covers a circle of this radius about the spikes, rad; π inside the
    /// root circle, `None` beyond the tip. It falls steadily from root to tip.
    pub(super) fn half_angle_rad(&self, radius_m: f64) -> Option<f64> {
        use std::f64::consts::{FRAC_PI_2, PI};
        if radius_m <= self.half_width_m {
            return Some(PI);
        }
        if radius_m > self.reach_m {
            return None;
        }
        let (length, nose) = (self.nose_centre_m(), self.nose_radius_m);
        let taper = self.taper_rad();
        let rail_end_m = (length + nose * taper.sin()).hypot(nose * taper.cos());
        if radius_m <= rail_end_m {
            Some(FRAC_PI_2 - taper - (self.half_width_m / radius_m).min(1.0).acos())
        } else {
            let cosine = (radius_m * radius_m + length * length - nose * nose) / (2.0 * radius_m * length);
            Some(cosine.clamp(-1.0, 1.0).acos())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn bar(reach: f64, half_width: f64, nose: f64) -> Result<CuttingBar, Fault> {
        CuttingBar::new(Length::from_mm(reach), Length::from_mm(half_width), Length::from_mm(nose))
    }

    #[test]
    fn bars_that_cannot_be_are_refused_with_the_reason() {
        assert!(bar(0.0, 45.0, 35.0).unwrap_err().message.contains("120…1700 mm"));
        assert!(bar(f64::NAN, 45.0, 35.0).is_err());
        assert!(bar(450.0, 45.0, 46.0).unwrap_err().message.contains("larger than half"));
        assert!(bar(130.0, 45.0, 35.0).unwrap_err().message.contains("a third of the reach"));
    }

    proptest! {
        #[test]
        fn law_half_angle_marks_where_the_bar_ends(share in 0.01_f64..1.0, w in 20.0_f64..60.0, n in 0.3_f64..1.0) {
            let bar = bar(452.0, w, w * n).unwrap();
            let radius = bar.half_width_m + share * (bar.reach_m - bar.half_width_m);
            let half = bar.half_angle_rad(radius).unwrap();
            let outside = bar.outside_m(radius * half.cos(), radius * half.sin());
            prop_assert!(outside.abs() < 1e-9, "{outside}");
            let within = bar.outside_m(radius * (0.9 * half).cos(), radius * (0.9 * half).sin());
            prop_assert!(within <= 1e-12, "{within}");
        }
    }
}
