//! What is on the bench: a setup that may have left the yard's own, a limit, and what it is compared with.

use crate::desk::edit::Edit;
use barpoise_core::ranges::{self, MADE_UP_LENGTH};
use barpoise_core::record::{PartFile, PartId, PartKind};
use barpoise_core::units::{Angle, Length};
use barpoise_core::{Assumption, BarFamily, Mark, Setup, SetupError, Size, Yard};
use std::sync::Arc;

/// The lift-by-handle limit of 30° is from memory, unverified; the person moves it.
const DEFAULT_HANG_LIMIT: Angle = Angle::from_deg(30.0);
/// Where the flag of the gauge stands until it is moved.
pub const HANG_LIMIT: [Assumption; 1] = [Assumption {
    what: "the limit of the hang until you move it, lifted by the handle",
    size: Size::Angle(DEFAULT_HANG_LIMIT.as_rad()),
    mark: Mark::FromMemory("ISO 8334:2007"),
}];
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
            Edit::Log(_)
            | Edit::WeighIn(_)
            | Edit::Rack(_)
            | Edit::Parts(_)
            | Edit::Person(_)
            | Edit::Undo
            | Edit::Redo => {}
        }
        Ok(next)
    }

    /// The same bench in a yard whose numbers changed: head, bar and chain by their names with the fills as they
    /// stand, the bar that is on, the limit, and what it is compared with. Where the setup can no longer be put
    /// together, the yard's first setup of the same head is on, or its first; `None` where it has none.
    pub(super) fn rebased(&self, yard: &Yard) -> Option<Self> {
        self.rebased_as(yard, &self.names(&[]))
    }

    /// The same after a person changed parts: what is on goes by its new names, and where the yard's own fills of
    /// the setup were changed, they are on the bench.
    pub(super) fn rebased_after(
        &self,
        old: &Yard,
        yard: &Yard,
        changes: &[(PartId, PartFile)],
    ) -> Option<Self> {
        let mut next = self.clone();
        if let BarChoice::Rack(name) = &mut next.bar {
            *name = new_name(changes, PartKind::Bar, name);
        }
        next.compared = next.compared.as_deref().map(|name| new_name(changes, PartKind::Setup, name));
        let mut names = self.names(changes);
        let fills =
            |yard: &Yard, name: &str| yard.setup(name).map(|setup| (setup.fuel_fill(), setup.oil_fill()));
        let (was, is) = (fills(old, self.base.name()), fills(yard, &names.setup));
        if let Some(is) = is.filter(|_| was != is) {
            names.fills = is;
        }
        next.rebased_as(yard, &names)
    }

    fn rebased_as(&self, yard: &Yard, names: &BaseNames) -> Option<Self> {
        let kept = self.base_in(yard, names);
        let base = kept.clone().or_else(|| {
            let same_head = |setup: &&Setup| setup.powerhead().name() == names.powerhead;
            yard.setups().iter().find(same_head).or_else(|| yard.setups().first()).cloned()
        })?;
        let bar = match &self.bar {
            _ if kept.is_none() => BarChoice::Own,
            BarChoice::Rack(name) => {
                let bar = yard.bars().iter().find(|bar| bar.name() == name);
                let goes_on = bar.is_some_and(|bar| base.with_bar(Arc::clone(bar)).is_ok());
                if goes_on { self.bar.clone() } else { BarChoice::Own }
            }
            BarChoice::Own | BarChoice::MadeUp(_) => self.bar.clone(),
        };
        let compared = self.compared.clone().filter(|name| yard.setup(name).is_some());
        Some(Self { base, bar, hang_limit: self.hang_limit, compared })
    }

    /// What the base is put together of, by the names it has after changes.
    fn names(&self, changes: &[(PartId, PartFile)]) -> BaseNames {
        let base = &self.base;
        let powerhead = new_name(changes, PartKind::Powerhead, base.powerhead().name());
        let bar = new_name(changes, PartKind::Bar, base.bar().name());
        let chain = new_name(changes, PartKind::Chain, base.chain().name());
        let picked = picked_name(base.powerhead().name(), base.bar().name(), base.chain().name());
        let setup = if base.name() == picked {
            picked_name(&powerhead, &bar, &chain)
        } else {
            new_name(changes, PartKind::Setup, base.name())
        };
        BaseNames { setup, powerhead, bar, chain, fills: (base.fuel_fill(), base.oil_fill()) }
    }

    /// The base setup put together anew from a yard's parts.
    fn base_in(&self, yard: &Yard, names: &BaseNames) -> Option<Setup> {
        let (fuel, oil) = names.fills;
        if let Some(own) = yard.setup(&names.setup) {
            return own.with_fills(fuel, oil).ok();
        }
        let head = named(yard.powerheads(), &names.powerhead, |item| item.name())?;
        let bar = named(yard.bars(), &names.bar, |item| item.name())?;
        let chain = named(yard.chains(), &names.chain, |item| item.name())?;
        Setup::new(names.setup.clone(), head, bar, chain, None, self.base.fittings()).ok()
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
        let name = picked_name(head.name(), bar.name(), chain.name());
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

/// What the base of a bench is put together of, by name, and how full its tanks are.
struct BaseNames {
    setup: String,
    powerhead: String,
    bar: String,
    chain: String,
    fills: (f64, f64),
}

/// The name of what was picked part by part and is no setup of the yard.
fn picked_name(head: &str, bar: &str, chain: &str) -> String {
    format!("{head} · {bar} · {chain}")
}

/// The name that a part has after changes.
fn new_name(changes: &[(PartId, PartFile)], kind: PartKind, name: &str) -> String {
    let change = changes.iter().find(|(id, _)| id.kind == kind && id.name == name);
    change.map_or(name, |(_, part)| part.name()).to_owned()
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
        Some(name) => named(items, name, name_of).ok_or_else(|| missing(kind, name)),
    }
}

fn named<T>(items: &[Arc<T>], name: &str, name_of: impl Fn(&T) -> &str) -> Option<Arc<T>> {
    items.iter().find(|item| name_of(item) == name).cloned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use barpoise_core::file::demo;

    fn yard_with(change: impl FnOnce(&mut barpoise_core::record::YardFile)) -> Yard {
        let mut file = demo().unwrap().file().clone();
        // Readings of setups that go would hold them.
        file.readings.clear();
        change(&mut file);
        Yard::new(file).unwrap()
    }

    #[test]
    fn a_rebased_bench_keeps_all_but_the_numbers() {
        let yard = demo().unwrap();
        let mut bench = Bench::of(yard.setup("Bittern B24").unwrap().with_fills(0.3, 0.7).unwrap());
        bench.bar = BarChoice::Rack("B18".to_owned());
        bench.compared = Some("Bittern B14".to_owned());
        bench.hang_limit = Angle::from_deg(20.0);
        let heavier = yard_with(|file| file.powerheads[0].dry_mass_kg += 0.4);
        let rebased = bench.rebased(&heavier).unwrap();
        assert_eq!((rebased.base.fuel_fill(), rebased.base.oil_fill()), (0.3, 0.7));
        assert_eq!((&rebased.bar, &rebased.compared), (&bench.bar, &bench.compared));
        assert_eq!(rebased.hang_limit, bench.hang_limit);
        let gained = rebased.base.powerhead().dry().mass_kg - bench.base.powerhead().dry().mass_kg;
        assert!((gained - 0.4).abs() < 1e-12);
        assert_eq!(bench.rebased(&yard), Some(bench), "the same yard changes nothing");
    }

    #[test]
    fn a_setup_that_is_gone_falls_back_to_its_head_or_to_the_first() {
        let yard = demo().unwrap();
        let mut bench = Bench::of(yard.setup("Wren B18").unwrap().clone());
        bench.compared = Some("Bittern B14".to_owned());
        // Gone by name only: the parts are still there and make it again.
        let renamed = yard_with(|file| file.setups.retain(|setup| setup.name != "Wren B18"));
        assert_eq!(bench.rebased(&renamed).unwrap().base.bar().name(), "B18 narrow");
        let no_bar = yard_with(|file| {
            file.setups.retain(|setup| setup.name != "Wren B18" && setup.name != "Bittern B14");
            file.bars.retain(|bar| bar.name != "B18 narrow");
        });
        let rebased = bench.rebased(&no_bar).unwrap();
        assert_eq!((rebased.base.name(), rebased.compared), ("Wren B14", None));
        let no_head = yard_with(|file| {
            file.setups.retain(|setup| setup.powerhead != "Wren");
            file.powerheads.retain(|head| head.name != "Wren");
        });
        assert_eq!(bench.rebased(&no_head).unwrap().base.name(), "Bittern B24");
    }
}
