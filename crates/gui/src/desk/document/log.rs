//! The log before the saw: as it lies, where the person stands, and settings they moved themselves.

use crate::desk::edit::LogEdit;
use barpoise_core::Fault;
use barpoise_core::log::{
    BarkArc, Bind, CuttingBar, LogJob, LogSection, MOST_SETTINGS, Setting, Side, Stand, SwingLimits, Tangle,
    limits,
};
use barpoise_core::person::Person;
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
        Self { width, stand, ..Self::default() }.checked()
    }

    /// The same as an oval so high, where a height is given, and so far above the ground.
    ///
    /// # Errors
    /// Where a number is out of its range, or the oval is longer than one can be.
    pub fn lying(self, height: Option<Length>, clearance: Length) -> Result<Self, Fault> {
        Self { height, clearance, ..self }.checked()
    }

    /// The same with other bark within reach, where any is given, and other swing limits.
    ///
    /// # Errors
    /// As [`Self::lying`].
    pub fn within(self, bark: Option<Vec<BarkArc>>, swing: SwingLimits) -> Result<Self, Fault> {
        Self { bark, swing, ..self }.checked()
    }

    /// The same with branches and bind.
    ///
    /// # Errors
    /// As [`Self::lying`].
    pub fn among(self, tangle: Tangle, bind: Bind) -> Result<Self, Fault> {
        Self { tangle, bind, ..self }.checked()
    }

    /// The same cut with these settings in the place of the plan's.
    #[must_use]
    pub fn cut_by_hand(self, settings: Vec<Setting>) -> Self {
        Self { own_settings: Some(settings), ..self }
    }

    fn checked(self) -> Result<Self, Fault> {
        self.job(&Person::default()).map(|_| self)
    }

    /// The job as the core takes it, with the person who cuts.
    ///
    /// # Errors
    /// Where a number is out of its range.
    pub fn job(&self, person: &Person) -> Result<LogJob, Fault> {
        let section = match self.height {
            None => LogSection::round(self.width, self.clearance)?,
            Some(height) => LogSection::oval(self.width, height, self.clearance)?,
        };
        let job = LogJob::new(section, self.stand)
            .with_swing(self.swing)
            .with_tangle(self.tangle)
            .with_bind(self.bind)
            .with_person(*person);
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

    /// The log after an edit before this person; `shown` are the settings that stand now, `bar` cuts them. Own settings stay as the log
    /// changes: where they no longer go the room says so.
    pub(super) fn changed(
        &self,
        edit: &LogEdit,
        person: &Person,
        shown: &[Setting],
        bar: Option<&CuttingBar>,
    ) -> Result<Self, String> {
        let mut next = self.clone();
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
                next.bark = Some(self.moved_bark(*arc, *far_end, *angle, person)?)
            }
            LogEdit::WholeBark => next.bark = None,
            LogEdit::Swing { upward, downward } => {
                next.swing = SwingLimits::new(*upward, *downward).map_err(|fault| fault.message)?;
            }
            LogEdit::Tangle(tangle) => next.tangle = *tangle,
            LogEdit::Bind(bind) => next.bind = *bind,
            LogEdit::MoveSetting { .. }
            | LogEdit::SwingEnd { .. }
            | LogEdit::Way { .. }
            | LogEdit::AddSetting
            | LogEdit::RemoveSetting(_)
            | LogEdit::SettingEarlier(_)
            | LogEdit::TurnSetting(_)
            | LogEdit::SettingKind { .. } => {
                next.own_settings = Some(self.by_hand(edit, person, shown, bar)?)
            }
            LogEdit::PlanAgain => next.own_settings = None,
        }
        next.job(person).map_err(|fault| fault.message)?;
        Ok(next)
    }

    fn moved_bark(
        &self,
        arc: usize,
        far_end: bool,
        angle: Angle,
        person: &Person,
    ) -> Result<Vec<BarkArc>, String> {
        let job = self.job(person).map_err(|fault| fault.message)?;
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

    /// The settings after one of them was changed by hand.
    fn by_hand(
        &self,
        edit: &LogEdit,
        person: &Person,
        shown: &[Setting],
        bar: Option<&CuttingBar>,
    ) -> Result<Vec<Setting>, String> {
        let job = self.job(person).map_err(|fault| fault.message)?;
        let bar = bar.ok_or_else(|| "this bar cannot cut here".to_owned())?;
        let mut settings = shown.to_vec();
        match *edit {
            LogEdit::AddSetting => {
                if settings.len() >= MOST_SETTINGS {
                    return Err(format!("no more than {MOST_SETTINGS} settings"));
                }
                settings.push(added(&job, bar, shown)?);
            }
            LogEdit::RemoveSetting(index) => {
                if index >= settings.len() {
                    return Err(NO_SUCH_SETTING.to_owned());
                }
                settings.remove(index);
            }
            LogEdit::SettingEarlier(index) => {
                let earlier = index.checked_sub(1).ok_or_else(|| "it is the first already".to_owned())?;
                if index >= settings.len() {
                    return Err(NO_SUCH_SETTING.to_owned());
                }
                settings.swap(earlier, index);
            }
            LogEdit::MoveSetting { index, bark } => {
                let (place, side) =
                    job.nearest_bark(bark).ok_or_else(|| "no bark is within reach".to_owned())?;
                change(&mut settings, index, |setting| setting.moved_to(&job, bar, place, side))?;
            }
            LogEdit::SwingEnd { index, start, angle } => change(&mut settings, index, |setting| {
                let (low, high) = job.swing().from_side(setting.side());
                let angle = angle.clamp(Angle::from_rad(low), Angle::from_rad(high));
                let (from, to) = if start { (angle, setting.to()) } else { (setting.from(), angle) };
                Ok(setting.with_swing(&job, from, to)?.as_long_as_wood(&job, bar))
            })?,
            LogEdit::Way { index, lay_on, way } => change(&mut settings, index, |setting| {
                let way = way.max(Length::ZERO);
                let (on, off) = if lay_on { (way, setting.run_off()) } else { (setting.lay_on(), way) };
                setting.with_ways(&job, on, off)
            })?,
            LogEdit::TurnSetting(index) => change(&mut settings, index, |setting| Ok(setting.reversed()))?,
            LogEdit::SettingKind { index, kind } => {
                change(&mut settings, index, |setting| setting.of_kind(&job, bar, kind))?;
            }
            _ => {}
        }
        Ok(settings)
    }
}

const NO_SUCH_SETTING: &str = "there is no such setting";

fn change(
    settings: &mut [Setting],
    index: usize,
    change: impl FnOnce(&Setting) -> Result<Setting, Fault>,
) -> Result<(), String> {
    let setting = settings.get_mut(index).ok_or_else(|| NO_SUCH_SETTING.to_owned())?;
    *setting = change(setting).map_err(|fault| fault.message)?;
    Ok(())
}

/// A setting more: a level sink where the bark comes nearest, from the side of the last one.
fn added(job: &LogJob, bar: &CuttingBar, shown: &[Setting]) -> Result<Setting, String> {
    let side = shown.last().map_or(Side::Near, Setting::side);
    let bark = if side == Side::Near { Angle::from_deg(180.0) } else { Angle::ZERO };
    let (place, side) = job.nearest_bark(bark).ok_or_else(|| "no bark is within reach".to_owned())?;
    let ways = (Length::from_mm(1.0), Length::from_mm(1.0));
    let sink = Setting::sink(job, place, side, Angle::ZERO, ways, false).map_err(|fault| fault.message)?;
    Ok(sink.as_long_as_wood(job, bar))
}

fn in_range(length: Length, range: &barpoise_core::Range) -> Length {
    length.clamp(Length::from_mm(range.min), Length::from_mm(range.max))
}
