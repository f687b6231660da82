//! The wood ahead and what is wanted of a setup for it.

use crate::desk::edit::RackEdit;
use barpoise_core::rack::{
    Anchors, Limit, LogCount, Measure, Otherwise, Preferences, Scales, Thresholds, Wood, WorkRates,
};
use barpoise_core::record::{DiameterFile, HardnessFile, PartFile, PartId, PartKind, WoodFile, YARD_VERSION};
use barpoise_core::{Assumption, Size, Yard, ranges};
use std::sync::Arc;

/// The measures that a limit can be put on.
pub const LIMITS: [Measure; 4] = [Measure::FrontHand, Measure::Hang, Measure::Weight, Measure::NoseOut];
/// Two diameters nearer than this are the same, mm.
const SAME_DIAMETER_MM: f64 = 0.5;

/// A limit, which may be out of force.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Mark {
    limit: Limit,
    in_force: bool,
}

/// Which wood, what is wanted, and which setups are held against each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Rack {
    wood: Option<String>,
    marks: [Mark; LIMITS.len()],
    must_suit: bool,
    thresholds: Thresholds,
    rates: WorkRates,
    scales: Scales,
    pinned: Vec<String>,
    laid: [Option<String>; 2],
}

impl Default for Rack {
    fn default() -> Self {
        let Preferences { must_suit, scales, .. } = Preferences::default();
        let mark = |measure| Mark { limit: Limit { measure, bound: first_bound(measure) }, in_force: false };
        Self {
            wood: None,
            marks: LIMITS.map(mark),
            must_suit,
            thresholds: Thresholds::default(),
            rates: WorkRates::default(),
            scales,
            pinned: Vec::new(),
            laid: [None, None],
        }
    }
}

/// Where a limit stands until it is moved, out of force: *our guess*.
const FIRST_WEIGHT_KG: f64 = 8.0;
const FIRST_HANG_RAD: f64 = 25.0_f64.to_radians();
const FIRST_NOSE_OUT_M: f64 = 0.4;
const FIRST_FRONT_HAND_N: f64 = 100.0;

/// Limits to begin with.
pub const FIRST_LIMITS: [Assumption; 4] = [
    Assumption::guess("a limit of the weight begins at", Size::Mass(FIRST_WEIGHT_KG)),
    Assumption::guess("a limit of the hang begins at", Size::Angle(FIRST_HANG_RAD)),
    Assumption::guess("a limit of the nose out among branches begins at", Size::Length(FIRST_NOSE_OUT_M)),
    Assumption::guess("a limit of the front hand begins at", Size::In(FIRST_FRONT_HAND_N, "N")),
];

const fn first_bound(measure: Measure) -> f64 {
    match measure {
        Measure::Weight => FIRST_WEIGHT_KG,
        Measure::Hang => FIRST_HANG_RAD,
        Measure::NoseOut => FIRST_NOSE_OUT_M,
        _ => FIRST_FRONT_HAND_N,
    }
}

impl Rack {
    /// Name of the picked wood; without one it is the yard's first.
    pub fn wood(&self) -> Option<&str> {
        self.wood.as_deref()
    }

    /// What is wanted, with the limits that are in force.
    pub fn preferences(&self) -> Preferences {
        Preferences {
            limits: self.marks.iter().filter(|mark| mark.in_force).map(|mark| mark.limit).collect(),
            must_suit: self.must_suit,
            scales: self.scales,
        }
    }

    /// A limit and whether it is in force.
    pub fn limit(&self, measure: Measure) -> Option<(Limit, bool)> {
        let mark = self.marks.iter().find(|mark| mark.limit.measure == measure)?;
        Some((mark.limit, mark.in_force))
    }

    /// Whether a setup that does not suit itself is refused.
    pub const fn must_suit(&self) -> bool {
        self.must_suit
    }

    /// What suits what.
    pub const fn thresholds(&self) -> &Thresholds {
        &self.thresholds
    }

    /// What the work takes beside the wood.
    pub const fn rates(&self) -> &WorkRates {
        &self.rates
    }

    /// How much a measure counts.
    pub fn weight(&self, measure: Measure) -> f64 {
        self.scales.weight(measure)
    }

    /// Where a measure's scale begins and ends.
    pub fn anchors(&self, measure: Measure) -> Anchors {
        self.scales.anchors(measure)
    }

    /// True for a setup that stays on top of the table.
    pub fn is_pinned(&self, setup: &str) -> bool {
        self.pinned.iter().any(|name| name == setup)
    }

    /// The setups picked to lie over each other; `None` for the one that goes on and the next after it.
    pub const fn laid(&self) -> &[Option<String>; 2] {
        &self.laid
    }

    /// The same wishes under the names that setups have after changes.
    pub(super) fn renamed(&self, changes: &[(PartId, PartFile)]) -> Self {
        let now = |name: &String| {
            let change = changes.iter().find(|(id, _)| id.kind == PartKind::Setup && id.name == *name);
            change.map_or_else(|| name.clone(), |(_, part)| part.name().clone())
        };
        let otherwise = match &self.rates.otherwise {
            Otherwise::OtherSaw(name) => Otherwise::OtherSaw(now(name)),
            same => same.clone(),
        };
        Self {
            rates: WorkRates { otherwise, ..self.rates.clone() },
            pinned: self.pinned.iter().map(now).collect(),
            laid: self.laid.each_ref().map(|name| name.as_ref().map(now)),
            ..self.clone()
        }
    }

    /// The yard and the wishes after an edit; `wood` is the one that is gone through now.
    pub(super) fn changed(
        &self,
        yard: &Arc<Yard>,
        wood: Option<&Wood>,
        edit: &RackEdit,
    ) -> Result<(Arc<Yard>, Self), String> {
        let mut rack = self.clone();
        let mut woods = yard.file().woods.clone();
        match edit {
            RackEdit::PickWood(name) => {
                find(&mut woods, name)?;
                rack.wood = Some(name.clone());
            }
            RackEdit::AddWood(file) => {
                rack.wood = Some(file.name.clone());
                woods.push(file.clone());
            }
            RackEdit::DuplicateWood(name) => {
                let place = place(&woods, name)?;
                let copy = find(&mut woods, name)?.clone();
                let copy = WoodFile { name: free_name(yard, &copy.name), ..copy };
                rack.wood = Some(copy.name.clone());
                woods.insert(place + 1, copy);
            }
            RackEdit::DeleteWood(name) => {
                let place = place(&woods, name)?;
                woods.remove(place);
                let next = woods.get(place).or_else(|| woods.last());
                rack.wood = next.map(|next| next.name.clone());
            }
            RackEdit::ChangeWood(name, file) => {
                *find(&mut woods, name)? = file.clone();
                if wood.is_some_and(|wood| wood.name() == name) {
                    rack.wood = Some(file.name.clone());
                }
            }
            RackEdit::SetCuts { wood, place, cuts } => {
                let log = find(&mut woods, wood)?.diameters.get_mut(*place).ok_or_else(no_diameter)?;
                log.cuts = *cuts;
            }
            RackEdit::AddDiameter { wood, log } => add(&mut find(&mut woods, wood)?.diameters, *log),
            RackEdit::RemoveDiameter { wood, place } => {
                let wood = find(&mut woods, wood)?;
                if *place >= wood.diameters.len() {
                    return Err(no_diameter());
                }
                wood.diameters.remove(*place);
            }
            RackEdit::ReplaceDiameters { wood, logs } => {
                let mut diameters = Vec::new();
                logs.iter().for_each(|log| add(&mut diameters, *log));
                find(&mut woods, wood)?.diameters = diameters;
            }
            RackEdit::Limit(limit) => {
                if !(limit.bound.is_finite() && limit.bound >= 0.0) {
                    return Err("a limit is a number from nothing up".to_owned());
                }
                rack.mark(limit.measure, |mark| *mark = Mark { limit: *limit, in_force: true });
            }
            RackEdit::LimitInForce(measure, on) => rack.mark(*measure, |mark| mark.in_force = *on),
            RackEdit::MustSuit(must) => rack.must_suit = *must,
            RackEdit::Threshold(kind, threshold) => {
                for value in [threshold.suits, threshold.marginal] {
                    ranges::THRESHOLD.refusal(value).map_or(Ok(()), Err)?;
                }
                let in_order = (threshold.suits >= threshold.marginal) == kind.wants_more();
                let equal = (threshold.suits - threshold.marginal).abs() <= 0.0;
                if !in_order && !equal {
                    let way = if kind.wants_more() { "below" } else { "above" };
                    return Err(format!("what is marginal lies {way} what suits"));
                }
                rack.thresholds = rack.thresholds.with(*kind, *threshold);
            }
            RackEdit::Rates(rates) => rack.rates = rates.clone(),
            RackEdit::Weigh(measure, weight) => rack.scales.set_weight(*measure, *weight),
            RackEdit::Anchor(measure, anchors) => rack.scales.set_anchors(*measure, *anchors),
            RackEdit::Pin(setup, on) => {
                rack.pinned.retain(|name| name != setup);
                if *on {
                    rack.pinned.push(setup.clone());
                }
            }
            RackEdit::Lay { second, setup } => {
                let [first, other] = &mut rack.laid;
                *(if *second { other } else { first }) = setup.clone();
            }
        }
        Ok((with_woods(yard, woods)?, rack))
    }

    fn mark(&mut self, measure: Measure, change: impl FnOnce(&mut Mark)) {
        if let Some(mark) = self.marks.iter_mut().find(|mark| mark.limit.measure == measure) {
            change(mark);
        }
    }
}

fn no_diameter() -> String {
    "the wood has no such diameter".to_owned()
}

fn place(woods: &[WoodFile], name: &str) -> Result<usize, String> {
    let place = woods.iter().position(|wood| wood.name == name);
    place.ok_or_else(|| format!("the yard has no wood named `{name}`"))
}

fn find<'a>(woods: &'a mut [WoodFile], name: &str) -> Result<&'a mut WoodFile, String> {
    let place = place(woods, name)?;
    woods.get_mut(place).ok_or_else(no_diameter)
}

/// Adds cuts of a diameter, thin before thick.
fn add(diameters: &mut Vec<DiameterFile>, log: LogCount) {
    let diameter_mm = crate::desk::format::tidy(log.diameter.as_mm());
    let same = diameters.iter_mut().find(|other| (other.diameter_mm - diameter_mm).abs() < SAME_DIAMETER_MM);
    if let Some(same) = same {
        same.cuts = same.cuts.saturating_add(log.cuts);
        return;
    }
    let place = diameters.iter().position(|other| other.diameter_mm > diameter_mm);
    diameters.insert(place.unwrap_or(diameters.len()), DiameterFile { diameter_mm, cuts: log.cuts });
}

fn with_woods(yard: &Arc<Yard>, woods: Vec<WoodFile>) -> Result<Arc<Yard>, String> {
    if woods == yard.file().woods {
        return Ok(Arc::clone(yard));
    }
    let mut file = yard.file().clone();
    file.version = YARD_VERSION;
    file.woods = woods;
    let first = |faults: Vec<barpoise_core::Fault>| faults.into_iter().next().map(|fault| fault.message);
    Yard::new(file).map(Arc::new).map_err(|faults| first(faults).unwrap_or_default())
}

/// A name like this one that no wood of the yard has.
pub(crate) fn free_name(yard: &Yard, like: &str) -> String {
    const LONGEST_STEM: usize = 60;
    let stem = like.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end();
    let stem: String = stem.chars().take(LONGEST_STEM).collect();
    // One more name than there are woods is free.
    let names = (2..=yard.woods().len() + 2).map(|number| format!("{stem} {number}"));
    names.into_iter().find(|name| yard.wood(name).is_none()).unwrap_or(stem)
}

/// A wood to begin with.
pub(crate) fn new_wood(yard: &Yard) -> WoodFile {
    const NAME: &str = "New wood";
    let name = if yard.wood(NAME).is_none() { NAME.to_owned() } else { free_name(yard, NAME) };
    WoodFile {
        name,
        note: String::new(),
        diameters: vec![
            DiameterFile { diameter_mm: 200.0, cuts: 10 },
            DiameterFile { diameter_mm: 300.0, cuts: 10 },
            DiameterFile { diameter_mm: 400.0, cuts: 5 },
        ],
        tangled_share: 0.0,
        lifted_share: 0.0,
        stand: barpoise_core::record::StandFile::OneSide,
        above_ground_mm: 300.0,
        hardness: HardnessFile {
            name: "green wood".to_owned(),
            cutting_energy_j_per_cm3: 60.0,
            source: "our guess".to_owned(),
        },
    }
}
