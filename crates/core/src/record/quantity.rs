//! The numbers of a yard that readings can teach.

use crate::fault::Range;
use crate::ranges;
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// Which number of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Quantity {
    /// Mass of a powerhead without bar, chain, fuel and oil.
    #[serde(rename = "dry_mass_kg")]
    DryMass,
    /// Its centroid along the bar.
    #[serde(rename = "centroid_x_mm")]
    CentroidX,
    /// Its centroid up towards the front handle.
    #[serde(rename = "centroid_y_mm")]
    CentroidY,
    /// How its mass is spread about the centroid.
    #[serde(rename = "radius_of_gyration_mm")]
    RadiusOfGyration,
    /// Its spike line ahead of the sprocket centre.
    #[serde(rename = "spike_line_mm")]
    SpikeLine,
    /// Its front grip along the bar.
    #[serde(rename = "front_grip_x_mm")]
    FrontGripX,
    /// Its front grip up.
    #[serde(rename = "front_grip_y_mm")]
    FrontGripY,
    /// Its rear grip along the bar.
    #[serde(rename = "rear_grip_x_mm")]
    RearGripX,
    /// Its rear grip up.
    #[serde(rename = "rear_grip_y_mm")]
    RearGripY,
    /// Rear end of its fuel tank.
    #[serde(rename = "fuel_tank_x_mm")]
    FuelTankX,
    /// Bottom of its fuel tank.
    #[serde(rename = "fuel_tank_y_mm")]
    FuelTankY,
    /// What its fuel tank holds.
    #[serde(rename = "fuel_tank_l")]
    FuelCapacity,
    /// Rear end of its oil tank.
    #[serde(rename = "oil_tank_x_mm")]
    OilTankX,
    /// Bottom of its oil tank.
    #[serde(rename = "oil_tank_y_mm")]
    OilTankY,
    /// What its oil tank holds.
    #[serde(rename = "oil_tank_l")]
    OilCapacity,
    /// Mass of a chain for each drive link.
    #[serde(rename = "mass_per_drive_link_g")]
    LinkMass,
    /// Mass of a bar.
    #[serde(rename = "bar_mass_kg")]
    BarMass,
    /// How far the nose of a bar lies ahead of where a new loop of its count puts it.
    #[serde(rename = "nose_place_mm")]
    NosePlace,
}

/// How many kinds of number there are.
pub(crate) const COUNT: usize = 18;

/// Which list of the yard a part stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Powerheads.
    Powerhead,
    /// Chains.
    Chain,
    /// Guide bars.
    Bar,
}

impl Quantity {
    /// Every one, in the order in which they are told.
    pub const ALL: [Self; COUNT] = [
        Self::DryMass,
        Self::CentroidX,
        Self::CentroidY,
        Self::RadiusOfGyration,
        Self::SpikeLine,
        Self::FrontGripX,
        Self::FrontGripY,
        Self::RearGripX,
        Self::RearGripY,
        Self::FuelTankX,
        Self::FuelTankY,
        Self::FuelCapacity,
        Self::OilTankX,
        Self::OilTankY,
        Self::OilCapacity,
        Self::LinkMass,
        Self::BarMass,
        Self::NosePlace,
    ];

    /// The part that has it.
    pub const fn part(self) -> Part {
        match self {
            Self::LinkMass => Part::Chain,
            Self::BarMass | Self::NosePlace => Part::Bar,
            _ => Part::Powerhead,
        }
    }

    /// Its SI unit.
    pub const fn si_unit(self) -> &'static str {
        match self {
            Self::DryMass | Self::LinkMass | Self::BarMass => "kg",
            Self::FuelCapacity | Self::OilCapacity => "m³",
            _ => "m",
        }
    }

    /// The allowed range, in the unit in which a yard file writes it.
    pub const fn range(self) -> &'static Range {
        match self {
            Self::DryMass => &ranges::DRY_MASS,
            Self::RadiusOfGyration => &ranges::RADIUS_OF_GYRATION,
            Self::SpikeLine => &ranges::SPIKE_LINE,
            Self::LinkMass => &ranges::LINK_MASS,
            Self::BarMass => &ranges::BAR_MASS,
            Self::FuelCapacity | Self::OilCapacity => &ranges::TANK_CAPACITY,
            Self::NosePlace => &ranges::NOSE_PLACE,
            _ => &ranges::COORDINATE,
        }
    }

    /// The SI value of one of the file's units: kg, mm, g or l.
    pub const fn si_per_file_unit(self) -> f64 {
        match self {
            Self::DryMass | Self::BarMass => 1.0,
            _ => 1e-3,
        }
    }

    /// Its name.
    pub const fn words(self) -> &'static str {
        match self {
            Self::DryMass => "dry mass",
            Self::CentroidX => "lengthwise centre of gravity",
            Self::CentroidY => "height of the centre of gravity",
            Self::RadiusOfGyration => "radius of gyration",
            Self::SpikeLine => "spike line",
            Self::FrontGripX => "lengthwise place of the front grip",
            Self::FrontGripY => "height of the front grip",
            Self::RearGripX => "lengthwise place of the rear grip",
            Self::RearGripY => "height of the rear grip",
            Self::FuelTankX => "lengthwise place of the fuel tank",
            Self::FuelTankY => "height of the fuel tank",
            Self::FuelCapacity => "capacity of the fuel tank",
            Self::OilTankX => "lengthwise place of the oil tank",
            Self::OilTankY => "height of the oil tank",
            Self::OilCapacity => "capacity of the oil tank",
            Self::LinkMass => "mass per drive link",
            Self::BarMass => "bar mass",
            Self::NosePlace => "place of the nose",
        }
    }
}

/// One number of one part of the yard.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Unknown {
    /// Name of the part.
    pub of: Arc<str>,
    /// Which of its numbers.
    pub quantity: Quantity,
}

impl Unknown {
    /// A number of a part.
    pub fn new(of: &str, quantity: Quantity) -> Self {
        Self { of: of.into(), quantity }
    }
}
