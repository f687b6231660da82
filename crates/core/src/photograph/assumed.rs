//! What is taken of a photograph that nobody is asked for, each with its mark.

use crate::assumption::{Assumption, Size, known};
use crate::mark::Mark;
use crate::record::{Landmark, PhotographFile, SquareUpFile};
use crate::units::Length;

/// A length and its standard uncertainty, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Depth {
    /// Behind the bar's plane, seen from the camera.
    pub behind_mm: f64,
    /// Standard uncertainty.
    pub uncertainty_mm: f64,
}

impl Depth {
    const fn new(behind_mm: f64, uncertainty_mm: f64) -> Self {
        Self { behind_mm, uncertainty_mm }
    }
}

/// Standard uncertainty of a lens's bend, as the share by which the picture's corner is moved: as sure as if any bend of up
/// to one percent either way were as likely as any other.
pub const LENS_BEND: f64 = 0.005_773_502_691_896_258;
/// Standard uncertainty of how squarely a camera looks at a plane by eye, about either axis, rad: two degrees.
pub const TILT_RAD: f64 = 0.034_906_585_039_886_59;
/// Standard uncertainty of either side of a sheet, mm.
pub const SHEET_SIDE_MM: f64 = 0.5;
/// Standard deviation of where in its pixel a point lies: a pixel over the root of twelve.
pub const PIXEL: f64 = 0.288_675_134_594_812_9;
/// How far grips lie behind the bar where nobody says it: the middle of a head some 200 mm wide.
pub const GRIPS_BEHIND: Depth = Depth::new(70.0, 20.0);
/// What stands in the fields of a new photograph until a person says it: the camera's distance and its ±, mm, and how near
/// to its place a mark is set.
const CAMERA_DISTANCE: (f64, f64) = (2000.0, 100.0);
const MARKING_PX: f64 = 2.0;
/// Where all of these come from.
pub const MARK: Mark = Mark::OurGuess;

/// A photograph of this width and height, pixels, before anything is marked on it.
pub const fn begun(path: String, [width_px, height_px]: [u32; 2]) -> PhotographFile {
    PhotographFile {
        path,
        width_px,
        height_px,
        square_up: SquareUpFile::A4,
        camera_distance_mm: CAMERA_DISTANCE.0,
        camera_distance_uncertainty_mm: CAMERA_DISTANCE.1,
        grips_behind_mm: GRIPS_BEHIND.behind_mm,
        grips_behind_uncertainty_mm: GRIPS_BEHIND.uncertainty_mm,
        marking_px: MARKING_PX,
        marks: Vec::new(),
    }
}

/// How far a landmark lies behind the bar's plane; a grip's is asked.
pub const fn depth(landmark: Landmark, grips: Depth) -> Depth {
    match landmark {
        Landmark::FrontGrip | Landmark::RearGrip => grips,
        Landmark::KnownPoints | Landmark::SheetCorners | Landmark::BarLine => Depth::new(0.0, 0.0),
        Landmark::Sprocket => Depth::new(0.0, 5.0),
        Landmark::SpikeTips => Depth::new(20.0, 15.0),
        Landmark::FuelTank | Landmark::OilTank => Depth::new(70.0, 30.0),
        Landmark::Outline => Depth::new(60.0, 30.0),
    }
}

const fn taken(what: &'static str, size: Size) -> Assumption {
    known(what, size, MARK)
}

/// A length written in millimetres, in the model's metres.
const fn mm(mm: f64) -> Size {
    Size::Length(Length::from_mm(mm).as_m())
}

const fn behind(what: &'static str, landmark: Landmark) -> Assumption {
    taken(what, mm(depth(landmark, GRIPS_BEHIND).behind_mm))
}

/// Everything whose effect a user sees in what a photograph tells.
pub const PHOTOGRAPH_ASSUMPTIONS: [Assumption; 9] = [
    taken("± of a lens's bend, share of the picture's corner", Size::Share(LENS_BEND)),
    taken("± of how squarely a camera looks", Size::Angle(TILT_RAD)),
    taken("± of either side of a sheet", mm(SHEET_SIDE_MM)),
    taken("± of a point in its pixel", Size::In(PIXEL, "px")),
    behind("grips behind the bar where nobody says it", Landmark::FrontGrip),
    taken("± of that", mm(GRIPS_BEHIND.uncertainty_mm)),
    behind("tips of the spikes behind the bar", Landmark::SpikeTips),
    behind("tanks behind the bar", Landmark::FuelTank),
    behind("the outline behind the bar", Landmark::Outline),
];
