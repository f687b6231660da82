//! The fields of a chain.

use super::field::{
    Field,
    Section::{Measured, Rare, Read, Weighed},
};
use super::unit::FieldUnit as Unit;
use barpoise_core::ranges;

pub(super) const FIELDS: &[Field] = &[
    Field::text(Read, "name", "Name", "Your own name for it."),
    Field::number(
        Read,
        "pitch_in",
        "Pitch",
        Unit::PitchIn,
        &ranges::PITCH,
        "Half the span of three rivets in a row.",
    ),
    Field::number(
        Read,
        "gauge_mm",
        "Gauge",
        Unit::CaliperMm,
        &ranges::GAUGE,
        "Thickness of the drive links; it must be the groove's.",
    ),
    Field::pick(Read, "sequence", "Sequence", "How many ties lie between the cutters."),
    Field::number(
        Weighed,
        "mass_per_drive_link_g",
        "Mass per drive link",
        Unit::G,
        &ranges::LINK_MASS,
        "A whole loop on the scale, divided by its drive links.",
    ),
    Field::number(
        Measured,
        "cutter_height_mm",
        "Cutter height",
        Unit::CaliperMm,
        &ranges::CUTTER_HEIGHT,
        "Top of a cutter above the middle of the rivets.",
    ),
    Field::number(
        Measured,
        "rail_to_rivet_mm",
        "Rail to rivets",
        Unit::CaliperMm,
        &ranges::RAIL_TO_RIVET,
        "Middle of the rivets above the bar's rail.",
    ),
    Field::optional(
        Rare,
        "mass_uncertainty_g",
        "Give or take, mass",
        Unit::G,
        &ranges::LINK_UNCERTAINTY,
        "One standard deviation of the mass per link. Left empty, a common one.",
    ),
    Field::text(Rare, "note", "Note", "Where the numbers come from."),
];
