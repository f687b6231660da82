//! The log before the saw: as it lies, where the person stands, and settings they moved themselves.

use crate::desk::edit::LogEdit;
use barpoise_core::Fault;
use barpoise_core::log::{
    BarkArc, Bind, LogJob, LogSection, Setting, Stand, SwingLimits, Tangle, limits, underside_leads,
};
use barpoise_core::units::{Angle, Length};

/// A log of the demo's kind: a windthrown shelter-belt poplar, a hand above the ground.
const FIRST_DIAMETER: Length = Length::from_mm(560.0);
const FIRST_CLEARANCE: Length = Length::from_mm(150.0);
/// A dragged end of the bark within reach keeps at least this much of it.
const LEAST_BARK: Angle = Angle::from_deg(5.0);

/// The log and the person's own settings. A log that exists makes a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Log {
    width: Length,
    height: Option<Length>,
    clearance: Length,
    stand: Stand,
    bark: Option<Vec<BarkArc>>,
    swing: SwingLimits,
    tangle: Tangle,
    bind: Bind,
    own_settings: Option<Vec<Setting>>,
}

impl Default for Log {
    fn default() -> Self {
        Self {
            width: FIRST_DIAMETER,
            height: None,
            clearance: FIRST_CLEARANCE,
            stand: Stand::OneSide,
            bark: None,
            swing: SwingLimits::default(),
            tangle: Tangle::Far,
            bind: Bind::None,
            own_settings: None,
        }
    }
}

impl Log {
    /// A round log of this diameter, cut from this stand, else as the first one in the window.
    ///
    /// # Errors
    /// Where the diameter is out of its range.
    pub fn round(width: Length, stand: Stand) -> Result<Self, Fault> {
        let log = Self { width, stand, ..Self::default() };
        log.job().map(|_| log)
    }

    /// The job as the core takes it.
    ///
    /// # Errors
    /// Where a number is out of its range.
    pub fn job(&self) -> Result<LogJob, Fault> {
        let section = match self.height {
            None => LogSection::round(self.width, self.clearance)?,
            Some(height) => LogSection::oval(self.width, height, self.clearance)?,
        };
        let job = LogJob::new(section, self.stand)
            .with_swing(self.swing)
            .with_tangle(self.tangle)
            .with_bind(self.bind);
        Ok(match &self.bark {
            Some(bark) => job.with_bark(bark.clone()),
            None => job,
        })
    }

    /// Diameter across.
    pub const fn width(&self) -> Length {
        self.width
    }

    /// Diameter upright where the log is an oval.
    pub const fn height(&self) -> Option<Length> {
        self.height
    }

    /// Height of the underside above the ground.
    pub const fn clearance(&self) -> Length {
        self.clearance
    }

    /// Where the person stands.
    pub const fn stand(&self) -> Stand {
        self.stand
    }

    /// How far the bar swings about the spikes.
    pub const fn swing(&self) -> SwingLimits {
        self.swing
    }

    /// Where the tangle is.
    pub const fn tangle(&self) -> Tangle {
        self.tangle
    }

    /// Where the wood binds.
    pub const fn bind(&self) -> Bind {
        self.bind
    }

    /// Settings that the person moved; `None` while the plan stands.
    pub fn own_settings(&self) -> Option<&[Setting]> {
        self.own_settings.as_deref()
    }

    /// The log after an edit; `shown` are the settings that stand now.
    pub(super) fn changed(&self, edit: &LogEdit, shown: &[Setting]) -> Result<Self, String> {
        let mut next = self.clone();
        if !matches!(edit, LogEdit::MoveSetting { .. }) {
            next.own_settings = None;
        }
        match edit {
            LogEdit::Diameter(width) => {
                next.width = in_range(*width, &limits::LOG_DIAMETER);
                // An oval keeps its shape as it grows.
                next.height = self
                    .height
                    .map(|height| in_range(height * (next.width / self.width), &limits::LOG_DIAMETER));
            }
            LogEdit::Height(height) => next.height = *height,
            LogEdit::Clearance(clearance) => next.clearance = *clearance,
            LogEdit::Stand(stand) => {
                next.stand = *stand;
                next.bark = None;
            }
            LogEdit::BarkEnd { arc, far_end, angle } => {
                next.bark = Some(self.moved_bark(*arc, *far_end, *angle)?)
            }
            LogEdit::WholeBark => next.bark = None,
            LogEdit::Swing { upward, downward } => {
                next.swing = SwingLimits::new(*upward, *downward).map_err(|fault| fault.message)?;
            }
            LogEdit::Tangle(tangle) => next.tangle = *tangle,
            LogEdit::Bind(bind) => next.bind = *bind,
            LogEdit::MoveSetting { index, bark } => {
                next.own_settings = Some(self.moved(shown, *index, *bark)?)
            }
            LogEdit::PlanAgain => {}
        }
        next.job().map_err(|fault| fault.message)?;
        Ok(next)
    }

    fn moved_bark(&self, arc: usize, far_end: bool, angle: Angle) -> Result<Vec<BarkArc>, String> {
        let job = self.job().map_err(|fault| fault.message)?;
        let mut arcs = job.bark().to_vec();
        let old = arcs.get_mut(arc).ok_or_else(|| "there is no such piece of bark".to_owned())?;
        let (from, to) = (Angle::from_rad(old.from_rad()), Angle::from_rad(old.to_rad()));
        // The angle that is dragged comes from a direction; the turn nearest to the old end is meant.
        let near = |angle: Angle, end: Angle| {
            let turns = ((end - angle).as_deg() / 360.0).round();
            angle + Angle::from_deg(360.0 * turns)
        };
        let (from, to) = if far_end {
            (from, near(angle, to).clamp(from + LEAST_BARK, from + Angle::from_deg(360.0)))
        } else {
            (near(angle, from).clamp(to - Angle::from_deg(360.0), to - LEAST_BARK), to)
        };
        *old = BarkArc::new(from, to, old.side()).map_err(|fault| fault.message)?;
        Ok(arcs)
    }

    fn moved(&self, shown: &[Setting], index: usize, bark: Angle) -> Result<Vec<Setting>, String> {
        let job = self.job().map_err(|fault| fault.message)?;
        let mut settings = shown.to_vec();
        let (place, side) = job.nearest_bark(bark).ok_or_else(|| "no bark is within reach".to_owned())?;
        let setting = settings.get_mut(index).ok_or_else(|| "there is no such setting".to_owned())?;
        let upward = !underside_leads(setting);
        let full = Setting::full(&job, place, side).map_err(|fault| fault.message)?;
        // The bar keeps going the way it went: with the compression underneath, it comes up.
        *setting = if upward {
            Setting::new(&job, place, side, full.to(), full.from()).map_err(|fault| fault.message)?
        } else {
            full
        };
        Ok(settings)
    }
}

fn in_range(length: Length, range: &barpoise_core::Range) -> Length {
    length.clamp(Length::from_mm(range.min), Length::from_mm(range.max))
}
