//! The log that is cut and where one stands to it: options of the commands that show one cut.

use super::CliError;
use super::args::within;
use crate::desk::document::Log;
use barpoise_core::Fault;
use barpoise_core::log::{BarkArc, Bind, Side, Stand, SwingLimits, Tangle, limits};
use barpoise_core::measure_text::read_angle;
use barpoise_core::units::{Angle, Length};
use clap::{Args as ClapArgs, ValueEnum};

/// How a log of a diameter lies.
#[derive(Clone, Debug, ClapArgs)]
pub(super) struct LogArgs {
    /// Upright diameter of an oval log; the other one is across
    #[arg(long, value_name = "LENGTH", value_parser = super::args::diameter, allow_hyphen_values = true)]
    oval: Option<Length>,
    /// Where the operator stands
    #[arg(long, value_enum, default_value_t = Standing::OneSide)]
    stand: Standing,
    /// Height of the log's underside above the ground
    #[arg(long, value_name = "LENGTH", value_parser = clearance, allow_hyphen_values = true, default_value = "150mm")]
    above_ground: Length,
    /// Side on which branches hide the nose
    #[arg(long, value_enum, default_value_t = Tangled::Far)]
    tangle: Tangled,
    /// Side of the log that is pressed together
    #[arg(long, value_enum, default_value_t = Bound::None)]
    bind: Bound,
    /// Most that the bar swings about the spikes from straight in, nose up and nose down, 45 to 90 degrees
    #[arg(long, value_name = "UP,DOWN", value_parser = swing, default_value = "75,75")]
    swing: SwingLimits,
    /// Bark that may be used, counter-clockwise from the far side in degrees, such as 80,230; may be given more
    /// than once; the side that an arc lies on is the one it is cut from [default: what goes with the stand]
    #[arg(long, value_name = "FROM,TO", value_parser = bark, allow_hyphen_values = true)]
    bark: Vec<BarkArc>,
}

impl LogArgs {
    /// The log of this diameter.
    ///
    /// # Errors
    /// An oval that is longer than twice its width, and bark on a side where nobody stands.
    pub(super) fn log(&self, diameter: Length) -> Result<Log, CliError> {
        let stand = self.stand.stand();
        if stand == Stand::OneSide && self.bark.iter().any(|arc| arc.side() == Side::Far) {
            return Err(CliError::Cut("this bark lies on the far side, and nobody stands there".to_owned()));
        }
        let bark = (!self.bark.is_empty()).then(|| self.bark.clone());
        Log::round(diameter, stand)
            .and_then(|log| log.lying(self.oval, self.above_ground))
            .and_then(|log| log.within(bark, self.swing))
            .and_then(|log| log.among(self.tangle.tangle(), self.bind.bind()))
            .map_err(|fault| CliError::Cut(fault.message))
    }
}

/// Where the operator stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Standing {
    /// On the near side only
    OneSide,
    /// On the near side, then on the far side
    BothSides,
    /// All round the log
    WalkRound,
}

impl Standing {
    pub(super) const fn stand(self) -> Stand {
        match self {
            Self::OneSide => Stand::OneSide,
            Self::BothSides => Stand::BothSides,
            Self::WalkRound => Stand::WalkRound,
        }
    }
}

/// Where branches stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Tangled {
    /// Clear ground all round
    None,
    /// On the near side
    Near,
    /// On the far side
    Far,
}

impl Tangled {
    const fn tangle(self) -> Tangle {
        match self {
            Self::None => Tangle::None,
            Self::Near => Tangle::Near,
            Self::Far => Tangle::Far,
        }
    }
}

/// Where the log is pressed together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Bound {
    /// Neither
    None,
    /// The top: a log resting on both ends
    Top,
    /// The underside: a log that overhangs its rest
    Bottom,
}

impl Bound {
    const fn bind(self) -> Bind {
        match self {
            Self::None => Bind::None,
            Self::Top => Bind::Top,
            Self::Bottom => Bind::Bottom,
        }
    }
}

fn clearance(text: &str) -> Result<Length, String> {
    within(text, &limits::CLEARANCE)
}

fn two_angles(text: &str) -> Result<(Angle, Angle), String> {
    let (first, second) =
        text.split_once(',').ok_or_else(|| "two angles with a comma between them".to_owned())?;
    let read = |text: &str| read_angle(text).map_err(|error| error.to_string());
    Ok((read(first)?, read(second)?))
}

fn swing(text: &str) -> Result<SwingLimits, String> {
    let (upward, downward) = two_angles(text)?;
    SwingLimits::new(upward, downward).map_err(|fault| fault.message)
}

fn bark(text: &str) -> Result<BarkArc, String> {
    let (from, to) = two_angles(text)?;
    let middle_deg = (0.5 * (from.as_deg() + to.as_deg())).rem_euclid(360.0);
    let side = if (90.0..=270.0).contains(&middle_deg) { Side::Near } else { Side::Far };
    BarkArc::new(from, to, side).map_err(|fault: Fault| fault.message)
}
