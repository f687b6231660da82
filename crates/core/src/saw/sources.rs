//! Where each number comes from that a setup's figures are computed with, beside the yard's own.

use super::balance::Feel;
use super::drain::{OIL_PER_FUEL, OIL_PER_FUEL_MARK};
use super::drive::{DRIVE_EFFICIENCY, DRIVE_EFFICIENCY_MARK};
use super::parts::{STEEL_KG_M3, TAPER_SLOPE};
use crate::assumption::{Assumption, Size, guess, known};
use crate::mark::Mark;

const fn edge(what: &'static str, edge: (Feel, f64)) -> Assumption {
    known(what, Size::Angle(edge.1.to_radians()), Feel::MARK)
}

/// Everything whose effect a user sees in the figures of a setup.
pub const SAW_ASSUMPTIONS: [Assumption; 8] = {
    let [tail, level, slightly, nose] = Feel::EDGES_DEG;
    [
        edge("the word tail-heavy up to a hang of", tail),
        edge("hangs level up to", level),
        edge("slightly nose-heavy up to", slightly),
        edge("nose-heavy up to, and very nose-heavy beyond", nose),
        known(
            "share of the engine's power at the chain",
            Size::Share(DRIVE_EFFICIENCY),
            DRIVE_EFFICIENCY_MARK,
        ),
        known("oil used for each volume of fuel", Size::In(OIL_PER_FUEL, ""), OIL_PER_FUEL_MARK),
        known(
            "density of a bar that nobody weighed",
            Size::In(STEEL_KG_M3, "kg/m³"),
            Mark::Published("EN 1991-1-1, table A.4: 77.0–78.5 kN/m³"),
        ),
        guess("tapers of a bar's outline, length over half the change in width", Size::In(TAPER_SLOPE, "")),
    ]
};
