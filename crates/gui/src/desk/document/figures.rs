//! Everything computed from the bench, computed once for each change.

use super::{BarChoice, Bench};
use barpoise_core::person::{Bearing, BearingError, held_level};
use barpoise_core::units::{Force, Length};
use barpoise_core::weigh_in::{Bands, Knowledge};
use barpoise_core::{
    BarFamily, LongestWithin, OIL_PER_FUEL, Setup, Solved, Yard, drain_down, longest_within, solve,
};

/// Points on each curve over the bar length, so that a kink at a rack bar is drawn within a pixel.
const CURVE_POINTS: u32 = 120;

/// The figures of the saw on the bench and of its family of bars.
#[derive(Debug)]
pub struct Figures {
    setup: Setup,
    solved: Solved,
    level: Result<Bearing, BearingError>,
    family: BarFamily,
    rack: Vec<RackBar>,
    curve: Vec<CurvePoint>,
    longest_within_hang: LongestWithin,
    fuel_out: Option<Solved>,
    compared: Option<(Setup, Solved)>,
    knowledge: Knowledge,
    bands: Bands,
}

/// A bar of the family on the head that is on the bench.
#[derive(Clone, Debug)]
pub struct RackBar {
    /// The bar's name.
    pub name: String,
    /// Tail end to nose end.
    pub overall: Length,
    /// The saw with it on.
    pub setup: Setup,
    /// Its figures.
    pub solved: Solved,
}

/// One point of the curves over bar length.
#[derive(Clone, Debug)]
pub struct CurvePoint {
    /// Tail end to nose end.
    pub overall: Length,
    /// The figures of the bar made up to that length.
    pub solved: Solved,
    /// Their uncertainty, once anything is known of it.
    pub bands: Option<Bands>,
}

impl Figures {
    pub(super) fn new(yard: &Yard, bench: &Bench) -> Self {
        let base = bench.base();
        let family = BarFamily::new(base, yard.bars());
        let setup = bench.setup(&family).unwrap_or_else(|_| base.clone());
        let rack = rack(base, &family);
        let known = Knowledge::of(yard, rack.iter().map(|bar| &bar.setup).chain([base]));
        let solved = solve(&setup);
        Self {
            level: held_level(yard.person(), &solved),
            solved,
            curve: curve(&family, CURVE_POINTS, Some(&known)),
            bands: bands(&known, &setup, bench, &family),
            knowledge: known,
            rack,
            longest_within_hang: longest_within(&family, |solved| solved.hangs_within(bench.hang_limit())),
            fuel_out: fuel_out(&setup),
            compared: compared(yard, bench),
            setup,
            family,
        }
    }

    /// The figures of one of a yard's setups as it stands there, on no bench.
    pub fn of_setup(yard: &Yard, setup: &Setup) -> Self {
        Self::new(yard, &Bench::of(setup.clone()))
    }

    /// Recomputes what the change from `old` to `new` touches.
    pub(super) fn update(&mut self, yard: &Yard, old: &Bench, new: &Bench) {
        if old.base() != new.base() {
            *self = Self::new(yard, new);
            return;
        }
        if old.bar() != new.bar() {
            self.setup = new.setup(&self.family).unwrap_or_else(|_| new.base().clone());
            self.solved = solve(&self.setup);
            self.fuel_out = fuel_out(&self.setup);
            self.bands = bands(&self.knowledge, &self.setup, new, &self.family);
        }
        // Cheap, and the person may have changed alone.
        self.level = held_level(yard.person(), &self.solved);
        if old.hang_limit() != new.hang_limit() {
            self.longest_within_hang =
                longest_within(&self.family, |solved| solved.hangs_within(new.hang_limit()));
        }
        if old.compared() != new.compared() {
            self.compared = compared(yard, new);
        }
    }

    /// The saw as it stands on the bench.
    pub const fn setup(&self) -> &Setup {
        &self.setup
    }

    /// Its figures.
    pub const fn solved(&self) -> &Solved {
        &self.solved
    }

    /// What it costs the yard's person to hold it level.
    ///
    /// # Errors
    /// Why that has no figure.
    pub const fn level(&self) -> Result<&Bearing, &BearingError> {
        self.level.as_ref()
    }

    /// Their standard uncertainties, whatever they come from.
    pub const fn bands(&self) -> &Bands {
        &self.bands
    }

    /// The family of bars the nose is dragged along.
    pub const fn family(&self) -> &BarFamily {
        &self.family
    }

    /// The rack's bars of that family on this head, shortest first.
    pub fn rack(&self) -> &[RackBar] {
        &self.rack
    }

    /// The figures over the bar length, shortest first.
    pub fn curve(&self) -> &[CurvePoint] {
        &self.curve
    }

    /// The longest bar whose hang stays within the person's limit.
    pub const fn longest_within_hang(&self) -> &LongestWithin {
        &self.longest_within_hang
    }

    /// The figures when the fuel is out, oil used with it.
    pub const fn fuel_out(&self) -> Option<&Solved> {
        self.fuel_out.as_ref()
    }

    /// The figures of the setup it is compared with.
    pub fn compared(&self) -> Option<&Solved> {
        self.compared.as_ref().map(|(_, solved)| solved)
    }

    /// The setup it is compared with.
    pub fn compared_setup(&self) -> Option<&Setup> {
        self.compared.as_ref().map(|(setup, _)| setup)
    }

    /// The rack bar that is on, if one of the family is.
    pub fn current_rack_bar(&self) -> Option<&RackBar> {
        self.rack.iter().find(|bar| bar.name == self.setup.bar().name())
    }

    /// The heaviest front-hand load on the curve, for axis and arrow scales.
    pub fn most_front_hand(&self) -> Force {
        self.curve
            .iter()
            .filter_map(|point| point.solved.hands.ok())
            .fold(Force::ZERO, |most, hands| most.max(hands.front.abs()))
    }
}

fn bands(known: &Knowledge, setup: &Setup, bench: &Bench, family: &BarFamily) -> Bands {
    match bench.bar() {
        BarChoice::MadeUp(length) => known.bands_made_up(setup, family, *length),
        BarChoice::Own | BarChoice::Rack(_) => known.bands(setup),
    }
}

pub(super) fn rack(base: &Setup, family: &BarFamily) -> Vec<RackBar> {
    family
        .bars()
        .filter_map(|bar| {
            let own = bar.name() == base.bar().name();
            let setup = if own { base.clone() } else { base.with_bar(bar.clone()).ok()? };
            let solved = solve(&setup);
            Some(RackBar { name: bar.name().to_owned(), overall: bar.overall_length(), setup, solved })
        })
        .collect()
}

pub(super) fn curve(family: &BarFamily, points: u32, known: Option<&Knowledge>) -> Vec<CurvePoint> {
    let (shortest, longest) = BarFamily::span();
    (0..=points)
        .filter_map(|i| {
            let overall = shortest + (longest - shortest) * (f64::from(i) / f64::from(points));
            let setup = family.at(overall).ok()?;
            let bands = known.map(|known| known.bands_made_up(&setup, family, overall));
            Some(CurvePoint { overall, solved: solve(&setup), bands })
        })
        .collect()
}

/// The end of the way down is all that is shown: one step leads there.
fn fuel_out(setup: &Setup) -> Option<Solved> {
    drain_down(setup, OIL_PER_FUEL, 1).ok()?.pop().map(|end| end.solved)
}

/// The other setup with its tanks as full as those on the bench, so that nothing but the saws differs.
fn compared(yard: &Yard, bench: &Bench) -> Option<(Setup, Solved)> {
    let (other, base) = (bench.compared().and_then(|name| yard.setup(name))?, bench.base());
    let filled = other.with_fills(base.fuel_fill(), base.oil_fill()).unwrap_or_else(|_| other.clone());
    let solved = solve(&filled);
    Some((filled, solved))
}
