//! A photograph of a powerhead as the yard keeps it: where the picture lies, and what was marked on it.

use super::yard::is_default;
use serde::{Deserialize, Serialize};

/// A photograph of a head, sprocket side to the camera, and its marks. The picture itself stays in its own file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PhotographFile {
    /// Where the picture lies, seen from the yard's folder.
    pub path: String,
    /// Width of the picture turned upright, pixels.
    pub width_px: u32,
    /// Height of the picture turned upright, pixels.
    pub height_px: u32,
    /// By what the view is squared up.
    pub square_up: SquareUpFile,
    /// From the lens to the bar's plane, where the middle of the picture is.
    pub camera_distance_mm: f64,
    /// Standard uncertainty of that.
    pub camera_distance_uncertainty_mm: f64,
    /// How far the middle of the grips lies behind the bar's plane, seen from the camera.
    pub grips_behind_mm: f64,
    /// Standard uncertainty of that.
    pub grips_behind_uncertainty_mm: f64,
    /// Standard uncertainty of a mark, pixels along either side.
    pub marking_px: f64,
    /// What was marked.
    #[serde(default, skip_serializing_if = "is_default")]
    pub marks: Vec<MarksFile>,
}

/// By what a view is squared up.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum SquareUpFile {
    /// Two marks of known distance in the bar's plane; the camera looks square at it.
    Distance {
        /// How far they are apart.
        apart_mm: f64,
        /// Standard uncertainty of that.
        uncertainty_mm: f64,
    },
    /// Four corners of a sheet in the bar's plane, in turn round the sheet.
    Sheet {
        /// The long side.
        long_mm: f64,
        /// The short side.
        short_mm: f64,
    },
}

/// All points of one landmark.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MarksFile {
    /// What is marked.
    pub of: Landmark,
    /// Where, in turn.
    pub at: Vec<PixelFile>,
}

/// A point of a picture: from its upper left corner, right and down.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PixelFile {
    /// To the right, pixels.
    pub x_px: f64,
    /// Down, pixels.
    pub y_px: f64,
}

/// What is marked on a photograph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Landmark {
    /// Two points of known distance.
    KnownPoints,
    /// The corners of a known sheet.
    SheetCorners,
    /// The drive sprocket's centre.
    Sprocket,
    /// Two points on the middle of the bar.
    BarLine,
    /// The tips of the spikes.
    SpikeTips,
    /// Where the front hand lifts.
    FrontGrip,
    /// Where the rear hand holds.
    RearGrip,
    /// Round the fuel tank.
    FuelTank,
    /// Round the oil tank.
    OilTank,
    /// Round the body.
    Outline,
}

impl PhotographFile {
    /// The points of a landmark; none where it is not marked.
    pub fn marks_of(&self, landmark: Landmark) -> &[PixelFile] {
        self.marks.iter().find(|marks| marks.of == landmark).map_or(&[], |marks| &marks.at)
    }

    /// Puts the points of a landmark, in the landmarks' own order; none take it out.
    pub fn set_marks(&mut self, landmark: Landmark, at: Vec<PixelFile>) {
        self.marks.retain(|marks| marks.of != landmark);
        if !at.is_empty() {
            let place = self.marks.iter().position(|marks| marks.of > landmark).unwrap_or(self.marks.len());
            self.marks.insert(place, MarksFile { of: landmark, at });
        }
    }
}
