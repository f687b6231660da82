//! What is on the bench: a setup that may have left the yard's own, a limit, and what it is compared with.

use crate::edit::Edit;
use barpoise_core::ranges::{self, MADE_UP_LENGTH};
use barpoise_core::units::{Angle, Length};
use barpoise_core::{BarFamily, Setup, SetupError, Yard};
use std::sync::Arc;

/// The lift-by-handle limit of 30° is from memory, unverified; the person moves it.
const DEFAULT_HANG_LIMIT: Angle = Angle::from_deg(30.0);
/// A made-up length this close to a rack bar of the family is that bar.
const SAME_BAR: Length = Length::from_mm(0.05);

/// What is on the bench. A bench that exists solves.
#[derive(Clone, Debug, PartialEq)]
pub struct Bench {
    base: Setup,
    bar: BarChoice,
    hang_limit: Angle,
    compared: Option<String>,
}

/// Which bar is on, beside the base setup's own.
#[derive(Clone, Debug, PartialEq)]
pub enum BarChoice {
    /// The base setup's own bar.
    Own,
    /// Another rack bar of the same family.
    Rack(String),
    /// A bar of this overall length.
    MadeUp(Length),
}

impl Bench {
    pub(super) fn of(base: Setup) -> Self {
        Self { base, bar: BarChoice::Own, hang_limit: DEFAULT_HANG_LIMIT, compared: None }
    }

    /// The setup whose head, chain, fills and bar family are on the bench.
    pub const fn base(&self) -> &Setup {
        &self.base
    }

    /// Which bar is on.
    pub const fn bar(&self) -> &BarChoice {
        &self.bar
    }

    /// The person's limit on the hang angle, nose down positive.
    pub const fn hang_limit(&self) -> Angle {
        self.hang_limit
    }

    /// The yard's setup it is compared with.
    pub fn compared(&self) -> Option<&str> {
        self.compared.as_deref()
    }

    /// The saw as it stands on the bench, its own bar or another.
    pub(super) fn setup(&self, family: &BarFamily) -> Result<Setup, SetupError> {
        match &self.bar {
            BarChoice::Own => Ok(self.base.clone()),
            BarChoice::Rack(name) => match family.bars().find(|bar| bar.name() == name) {
                Some(bar) => self.base.with_bar(Arc::clone(bar)),
                None => Ok(self.base.clone()),
            },
            BarChoice::MadeUp(length) => family.at(*length),
        }
    }

    /// The bench after an edit.
    pub(super) fn changed(&self, edit: &Edit, yard: &Yard, family: &BarFamily) -> Result<Self, String> {
        let mut next = self.clone();
        match edit {
            Edit::PickSetup(name) => {
                next.base = yard.setup(name).ok_or_else(|| missing("setup", name))?.clone();
                next.bar = BarChoice::Own;
            }
            Edit::PickPowerhead(name) => next.pick(yard, Some(name), None, None)?,
            Edit::PickBar(name) => next.pick(yard, None, Some(name), None)?,
            Edit::PickChain(name) => next.pick(yard, None, None, Some(name))?,
            Edit::BarLength(length) => next.bar = self.choice_at(*length, family),
            Edit::SnapToBar(name) => next.bar = self.choice_of(name),
            Edit::FuelFill(fill) => next.base = self.filled(clamped_fill(*fill), self.base.oil_fill())?,
            Edit::OilFill(fill) => next.base = self.filled(self.base.fuel_fill(), clamped_fill(*fill))?,
            Edit::HangLimit(limit) => {
                let (low, high) =
                    (Angle::from_deg(ranges::HANG_LIMIT.min), Angle::from_deg(ranges::HANG_LIMIT.max));
                next.hang_limit = limit.clamp(low, high);
            }
            Edit::CompareWith(name) => next.compared.clone_from(name),
            Edit::Log(_) | Edit::Undo | Edit::Redo => {}
        }
        Ok(next)
    }

    fn filled(&self, fuel: f64, oil: f64) -> Result<Setup, String> {
        self.base.with_fills(fuel, oil).map_err(|error| error.to_string())
    }

    fn choice_of(&self, name: &str) -> BarChoice {
        if name == self.base.bar().name() { BarChoice::Own } else { BarChoice::Rack(name.to_owned()) }
    }

    fn choice_at(&self, length: Length, family: &BarFamily) -> BarChoice {
        let (shortest, longest) = (Length::from_mm(MADE_UP_LENGTH.min), Length::from_mm(MADE_UP_LENGTH.max));
        let length = length.clamp(shortest, longest);
        family
            .bars()
            .find(|bar| (bar.overall_length() - length).abs() < SAME_BAR)
            .map_or(BarChoice::MadeUp(length), |bar| self.choice_of(bar.name()))
    }

    /// Puts other parts of the yard on; what is not named stays, and so do the fills and extras.
    fn pick(
        &mut self,
        yard: &Yard,
        powerhead: Option<&str>,
        bar: Option<&str>,
        chain: Option<&str>,
    ) -> Result<(), String> {
        let base = &self.base;
        let head = find(yard.powerheads(), powerhead, base.powerhead(), "powerhead", |item| item.name())?;
        let bar = find(yard.bars(), bar, base.bar(), "bar", |item| item.name())?;
        let chain = find(yard.chains(), chain, base.chain(), "chain", |item| item.name())?;
        let name = format!("{} · {} · {}", head.name(), bar.name(), chain.name());
        // The yard's own setup of these parts keeps its name and its loop.
        let own = yard.setups().iter().find(|setup| {
            setup.powerhead().name() == head.name()
                && setup.bar().name() == bar.name()
                && setup.chain().name() == chain.name()
        });
        self.base = match own {
            Some(own) => own.with_fills(base.fuel_fill(), base.oil_fill()),
            None => Setup::new(name, head, bar, chain, None, base.fittings()),
        }
        .map_err(|error| error.to_string())?;
        self.bar = BarChoice::Own;
        Ok(())
    }
}

fn clamped_fill(fill: f64) -> f64 {
    fill.clamp(ranges::FILL.min, ranges::FILL.max)
}

fn missing(kind: &str, name: &str) -> String {
    format!("the yard has no {kind} named `{name}`")
}

fn find<T>(
    items: &[Arc<T>],
    name: Option<&str>,
    current: &Arc<T>,
    kind: &str,
    name_of: impl Fn(&T) -> &str,
) -> Result<Arc<T>, String> {
    match name {
        None => Ok(Arc::clone(current)),
        Some(name) => {
            items.iter().find(|item| name_of(item) == name).cloned().ok_or_else(|| missing(kind, name))
        }
    }
}
