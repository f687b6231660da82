//! A setup as it goes to work: what the log and the impact model need to know of it.

use super::{CuttingBar, CuttingSaw, DEFAULT_KERF, DEFAULT_SPECIFIC_ENERGY_J_CM3, ImpactSetup, SawFigures};
use crate::fault::Fault;
use crate::saw::{DRIVE_EFFICIENCY, Setup, Solved};

/// The part of the bar past the spikes, with its chain: reach, half the width over the cutters, nose radius over
/// the cutters.
///
/// # Errors
/// A bar too short past the spikes, or too wide for its reach, to cut with.
pub fn cutting_bar(setup: &Setup) -> Result<CuttingBar, Fault> {
    let nose = setup.nose_zone();
    let chain = setup.chain();
    let half_width = setup.bar().body_width() * 0.5 + chain.rail_to_rivet() + chain.cutter_height();
    CuttingBar::new(setup.reach(), half_width.max(nose.radius), nose.radius)
}

/// The saw as it cuts at full power, with the kerf and the specific cutting energy that hold where nothing better is
/// known.
///
/// # Errors
/// A figure outside the range that makes sense in the wood.
pub fn cutting_saw(setup: &Setup, solved: &Solved) -> Result<CuttingSaw, Fault> {
    CuttingSaw::new(&SawFigures {
        weight: solved.weight(),
        power: setup.powerhead().power(),
        drive_efficiency: DRIVE_EFFICIENCY,
        chain_speed: solved.chain_speed,
        kerf: DEFAULT_KERF,
        cutter_spacing: setup.chain().cutter_spacing(),
        specific_energy_j_cm3: DEFAULT_SPECIFIC_ENERGY_J_CM3,
    })
}

/// The saw for the planar impact of a snagged chain.
///
/// # Errors
/// A mass, inertia, radius or speed that is not positive.
pub fn impact_setup(setup: &Setup, solved: &Solved) -> Result<ImpactSetup, Fault> {
    ImpactSetup::new(
        solved.saw,
        solved.front_grip(),
        (solved.nose.centre, solved.nose.radius),
        setup.chain_mass(),
        solved.chain_speed,
    )
}
