//! Cuts by another saw of the yard, for those that a saw does not do.

use super::log_cut::LogCut;
use super::over_wood::cuts_of;
use super::rates::{Otherwise, WorkRates};
use super::sawing::Burns;
use crate::fault::Fault;
use crate::saw::{Setup, solve};
use crate::yard::Wood;

/// What the other saw does with a wood, where another saw is what undone cuts are left to.
///
/// It is the yard's saw of that name whoever else is on the rack, so that no setup's figures hang on which others it is
/// held against.
#[derive(Clone, Debug, Default)]
pub struct OtherMeans {
    cuts: Vec<Option<LogCut>>,
    burns: Option<Burns>,
}

impl OtherMeans {
    /// The saw that the rates name, among these; none where they name none or it is not there.
    ///
    /// # Errors
    /// A bar too short past the spikes to cut with.
    pub fn new(setups: &[Setup], wood: &Wood, rates: &WorkRates) -> Result<Self, Fault> {
        let Otherwise::OtherSaw(name) = &rates.otherwise else { return Ok(Self::default()) };
        let Some(setup) = setups.iter().find(|setup| setup.name() == name) else {
            return Ok(Self::default());
        };
        let cuts = cuts_of(setup, &solve(setup), wood, rates)?;
        let done = |cut: LogCut| cut.doing.is_done(wood.stand()).then_some(cut);
        Ok(Self { cuts: cuts.into_iter().map(done).collect(), burns: Some(Burns::new(setup, rates)) })
    }

    /// The other saw's cut of the wood's kind of logs at this place.
    pub(super) fn cut(&self, place: usize) -> Option<(&LogCut, &Burns)> {
        self.cuts.get(place)?.as_ref().zip(self.burns.as_ref())
    }
}
