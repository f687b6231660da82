//! The fields of a setup.

use super::field::{Field, Section::Read};
use super::unit::FieldUnit as Unit;
use barpoise_core::ranges;

pub(super) const FIELDS: &[Field] = &[
    Field::text(Read, "name", "Name", "Your own name for it."),
    Field::pick(Read, "powerhead", "Powerhead", ""),
    Field::pick(Read, "bar", "Bar", "Only bars whose mount goes on the head will do."),
    Field::pick(Read, "chain", "Chain", "Its pitch and gauge must be those of sprocket, nose and groove."),
    Field::pick(
        Read,
        "drive_links",
        "Drive links",
        "Of the loop: those that close within the tensioner's travel.",
    ),
    Field::number(
        Read,
        "fuel_fill",
        "Fuel in the tank",
        Unit::Share,
        &ranges::FILL,
        "0 % empty, 100 % full.",
    ),
    Field::number(Read, "oil_fill", "Oil in the tank", Unit::Share, &ranges::FILL, "0 % empty, 100 % full."),
    Field::text(Read, "note", "Note", "What it is for."),
];
