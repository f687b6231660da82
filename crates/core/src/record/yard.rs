//! The yard as it stands in a file: plain fields with their unit in the name, nothing checked yet.
//!
//! [`crate::Yard::new`] checks a mirror and keeps it, so that writing a yard gives back what was read.

use super::{PersonFile, PhotographFile, ReadingFile, WeighInFile, WoodFile};
use serde::{Deserialize, Serialize};

/// The version of the file that this program writes. Version 2 adds readings, uncertainties,
/// weigh-ins, woods and a person.
pub const YARD_VERSION: u32 = 2;
/// The oldest version that this program reads; every file of version 1 is also one of version 2.
pub const OLDEST_YARD_VERSION: u32 = 1;

/// What stands at its default is not written.
pub(super) fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

/// A whole yard: what hangs on the rack and how it is put together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct YardFile {
    /// [`OLDEST_YARD_VERSION`] to [`YARD_VERSION`].
    pub version: u32,
    /// Name of the yard.
    pub name: String,
    /// Where the numbers come from.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The person who cuts; an average man where there is none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub person: Option<PersonFile>,
    /// Powerheads.
    pub powerheads: Vec<PowerheadFile>,
    /// Guide bars.
    pub bars: Vec<BarFile>,
    /// Saw chains by type; a loop is made to any count of links.
    pub chains: Vec<ChainFile>,
    /// Setups: what is fitted together.
    pub setups: Vec<SetupFile>,
    /// What was measured on these saws.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub readings: Vec<ReadingFile>,
    /// What was learnt from readings, oldest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub weigh_ins: Vec<WeighInFile>,
    /// The wood ahead.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub woods: Vec<WoodFile>,
}

/// A point of the saw frame: origin at the drive sprocket's centre, x to the nose, y up to the front handle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PointFile {
    /// Along the bar, to the nose, mm.
    pub x_mm: f64,
    /// Up towards the front handle, mm.
    pub y_mm: f64,
}

/// A powerhead.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PowerheadFile {
    /// Unique name.
    pub name: String,
    /// Free text.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Name of the bar mount; a bar fits where its mount has the same name.
    pub mount: String,
    /// Mass without bar, chain, fuel and oil.
    pub dry_mass_kg: f64,
    /// Centroid of the dry mass.
    pub centroid: PointFile,
    /// How the dry mass resists turning about its centroid.
    pub inertia: InertiaFile,
    /// Fuel tank.
    pub fuel_tank: TankFile,
    /// Bar oil tank.
    pub oil_tank: TankFile,
    /// Middle of the front handle where the hand lifts.
    pub front_grip: PointFile,
    /// Middle of the rear handle's grip.
    pub rear_grip: PointFile,
    /// Front of the spikes, ahead of the sprocket centre.
    pub spike_line_mm: f64,
    /// Bar studs, ahead of the sprocket centre.
    pub stud_mm: f64,
    /// How far the tensioner moves the bar from fully back.
    pub tensioner_travel_mm: f64,
    /// Drive sprocket.
    pub sprocket: SprocketFile,
    /// Outline of the body from the side: what is drawn, and what meets bark and ground.
    #[serde(default, skip_serializing_if = "is_default")]
    pub outline: OutlineFile,
    /// What the engine displaces: what its power is proposed from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub engine_size_cm3: Option<f64>,
    /// Engine power.
    pub power_kw: f64,
    /// Engine speed at that power.
    pub power_rpm: f64,
    /// Flow of the oil pump.
    pub pump_ml_per_min: f64,
    /// Engine speed at that flow.
    pub pump_rpm: f64,
    /// Longest bar the head is meant for, as marked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub longest_bar_in: Option<f64>,
    /// How sure the numbers above are.
    #[serde(default, skip_serializing_if = "is_default")]
    pub standard_uncertainty: HeadUncertaintyFile,
    /// A photograph that numbers above were measured on, and its marks.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub photograph: Option<PhotographFile>,
}

/// Standard uncertainties of a powerhead's numbers; where one is left out, a common one is assumed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HeadUncertaintyFile {
    /// Of the dry mass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dry_mass_kg: Option<f64>,
    /// Of either coordinate of the centroid.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub centroid_mm: Option<f64>,
    /// Of the radius of gyration.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radius_of_gyration_mm: Option<f64>,
    /// Of the spike line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spike_line_mm: Option<f64>,
    /// Of either coordinate of either tank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tanks_mm: Option<f64>,
    /// Of either coordinate of either grip.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grips_mm: Option<f64>,
}

/// Inertia of the dry powerhead about its centroid.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum InertiaFile {
    /// As a radius of gyration.
    RadiusOfGyration {
        /// Radius, mm.
        radius_mm: f64,
    },
    /// As a moment of inertia.
    Moment {
        /// Moment, kg·m².
        moment_kg_m2: f64,
    },
}

/// A tank as a rectangle in the saw frame.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TankFile {
    /// Rear lower corner.
    pub corner: PointFile,
    /// Size along the bar.
    pub width_mm: f64,
    /// Size upward.
    pub height_mm: f64,
    /// What it holds.
    pub capacity_l: f64,
    /// Density of what is filled in.
    pub density_kg_per_l: f64,
}

/// A drive sprocket.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SprocketFile {
    /// Teeth or rim pockets.
    pub teeth: u32,
    /// Pitch.
    pub pitch_in: f64,
}

/// Where a powerhead's silhouette comes from.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum OutlineFile {
    /// The generic silhouette, scaled to this head's grips and spike line.
    #[default]
    Generic,
    /// Corners of the body, in order.
    Corners(Vec<PointFile>),
}

/// A guide bar.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BarFile {
    /// Unique name.
    pub name: String,
    /// Free text.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Name of the mount.
    pub mount: String,
    /// Length as stamped on the bar.
    pub marked_length_in: f64,
    /// Plate from tail end to nose end.
    pub overall_length_mm: f64,
    /// Tail end behind the studs with the bar pushed fully back.
    pub tail_behind_studs_mm: f64,
    /// Width at the tail.
    pub tail_width_mm: f64,
    /// Width of the body.
    pub body_width_mm: f64,
    /// Radius of the plate's nose.
    pub nose_radius_mm: f64,
    /// Thickness of the plate.
    pub thickness_mm: f64,
    /// Width of the groove.
    pub gauge_mm: f64,
    /// Depth of the groove.
    pub groove_depth_mm: f64,
    /// How the plate is built.
    pub construction: ConstructionFile,
    /// What is in the nose.
    pub nose: NoseFile,
    /// Drive links stamped on the bar.
    pub marked_drive_links: u32,
    /// Mass off a scale; wins over the geometry.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weighed_mass_kg: Option<f64>,
    /// Standard uncertainty of the bar's mass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass_uncertainty_kg: Option<f64>,
    /// How far the nose lies ahead of where a new loop of its count puts it: a chain stretches. Left out, it lies there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nose_place_mm: Option<f64>,
}

/// How a bar plate is built, and the share of a solid plate's mass that it keeps.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum ConstructionFile {
    /// One plate.
    Solid,
    /// Three sheets welded together.
    Laminated {
        /// Share of the solid mass.
        share: f64,
    },
    /// A plate with pockets or a lighter filling.
    Lightened {
        /// Share of the solid mass.
        share: f64,
    },
}

/// The nose of a bar.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum NoseFile {
    /// A hard nose without moving parts; takes any pitch.
    Solid,
    /// A sprocket of this pitch.
    Sprocket {
        /// Pitch.
        pitch_in: f64,
    },
}

/// A type of saw chain.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChainFile {
    /// Unique name.
    pub name: String,
    /// Free text.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Pitch.
    pub pitch_in: f64,
    /// Thickness of the drive links where they run in the groove.
    pub gauge_mm: f64,
    /// Mass of chain for each drive link, cutters and ties included.
    pub mass_per_drive_link_g: f64,
    /// Which links carry cutters.
    pub sequence: SequenceFile,
    /// Top of the cutters above the rivet line.
    pub cutter_height_mm: f64,
    /// Rivet line above the bar rail.
    pub rail_to_rivet_mm: f64,
    /// Standard uncertainty of the mass for each drive link.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass_uncertainty_g: Option<f64>,
}

/// Which links of a chain carry cutters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum SequenceFile {
    /// A cutter on every second tie pair.
    FullComplement,
    /// One and two ties between cutters in turn.
    SemiSkip,
    /// Two ties between cutters.
    FullSkip,
}

/// A setup: a powerhead, a bar, a chain and what is in the tanks.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SetupFile {
    /// Unique name.
    pub name: String,
    /// Free text.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Name of the powerhead.
    pub powerhead: String,
    /// Name of the bar.
    pub bar: String,
    /// Name of the chain.
    pub chain: String,
    /// Drive links of the loop; the bar's marked count where this is left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drive_links: Option<u32>,
    /// Fuel, 0 empty to 1 full.
    pub fuel_fill: f64,
    /// Bar oil, 0 empty to 1 full.
    pub oil_fill: f64,
    /// What else is fitted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub extras: Vec<ExtraFile>,
}

/// A fitted extra, taken as a point mass.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ExtraFile {
    /// What it is.
    pub name: String,
    /// Its mass.
    pub mass_kg: f64,
    /// Where it sits.
    pub at: PointFile,
}
