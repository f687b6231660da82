//! A guide bar: its outline, what it weighs, and where its mass sits.

use crate::fault::{Checker, Fault};
use crate::geometry::{AreaProperties, Point, Polygon, Vector};
use crate::ranges;
use crate::record::{BarFile, ConstructionFile, NoseFile};
use crate::saw::mass::MassPart;
use crate::units::{Length, Mass};
use std::f64::consts::{FRAC_PI_2, PI};

/// Density of steel, kg/m³: EN 1991-1-1, table A.4, has 77.0–78.5 kN/m³, of which this is the lower end.
pub(in crate::saw) const STEEL_KG_M3: f64 = 7850.0;

/// The outline is sampled at this many steps per taper and per quarter of the nose: the area is then within
/// 0.1 % of the smooth outline.
const TAPER_STEPS: u32 = 12;
const NOSE_QUARTER_STEPS: u32 = 8;
/// Length of the tail taper and of the nose taper, each as a multiple of the change in half width, at most
/// a third of the bar: our guess, drawn from the look of a common bar; it moves the mass by less than 1 %.
pub(in crate::saw) const TAPER_SLOPE: f64 = 8.0;

/// A guide bar plate, laid in its own frame: x to the nose along the centreline with the nose circle's centre
/// at 0, y up.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    name: String,
    mount: String,
    marked_length: Length,
    shape: BarShape,
    gauge: Length,
    construction: Construction,
    nose: Nose,
    marked_drive_links: u32,
    weighed_mass: Option<Mass>,
    nose_place: Length,
    outline: Polygon,
    area: AreaProperties,
    mass: Mass,
}

/// The dimensions a bar's outline and mass are made from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct BarShape {
    pub(crate) overall_m: f64,
    pub(crate) tail_behind_studs_m: f64,
    pub(crate) tail_width_m: f64,
    pub(crate) body_width_m: f64,
    pub(crate) nose_radius_m: f64,
    pub(crate) thickness_m: f64,
    pub(crate) groove_depth_m: f64,
}

impl BarShape {
    /// The shape a fraction `t` of the way to another (0 this one, 1 the other; beyond extrapolates).
    pub(crate) fn lerp(&self, other: &Self, t: f64) -> Self {
        let mix = |a: f64, b: f64| a + (b - a) * t;
        Self {
            overall_m: mix(self.overall_m, other.overall_m),
            tail_behind_studs_m: mix(self.tail_behind_studs_m, other.tail_behind_studs_m),
            tail_width_m: mix(self.tail_width_m, other.tail_width_m),
            body_width_m: mix(self.body_width_m, other.body_width_m),
            nose_radius_m: mix(self.nose_radius_m, other.nose_radius_m),
            thickness_m: mix(self.thickness_m, other.thickness_m),
            groove_depth_m: mix(self.groove_depth_m, other.groove_depth_m),
        }
    }

    /// Tail end to nose centre, m.
    pub(crate) fn tail_to_nose_centre_m(&self) -> f64 {
        self.overall_m - self.nose_radius_m
    }
}

/// How a bar plate is built, with the share of a solid plate's mass that it keeps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Construction {
    /// One plate.
    Solid,
    /// Three sheets welded together.
    Laminated(f64),
    /// A plate with pockets or a lighter filling.
    Lightened(f64),
}

impl Construction {
    /// Share of a solid plate's mass, 1 for a solid one.
    pub const fn share(self) -> f64 {
        match self {
            Self::Solid => 1.0,
            Self::Laminated(share) | Self::Lightened(share) => share,
        }
    }

    /// The trade's word for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Solid => "solid",
            Self::Laminated(_) => "laminated",
            Self::Lightened(_) => "lightweight",
        }
    }

    /// True where both are built the same way, whatever their shares.
    pub(crate) fn same_kind(self, other: Self) -> bool {
        std::mem::discriminant(&self) == std::mem::discriminant(&other)
    }
}

/// What is in the nose of a bar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Nose {
    /// No moving parts; takes any pitch.
    Solid,
    /// A sprocket of this pitch.
    Sprocket(Length),
}

impl Bar {
    /// Checks a mirror; `index` is its place in the yard's list.
    ///
    /// # Errors
    /// Every field out of its range, and dimensions that make no bar: a nose wider than the body, a groove
    /// wider than the plate or deeper than its nose, a plate shorter than its widths.
    pub fn new(file: &BarFile, index: usize) -> Result<Self, Vec<Fault>> {
        let mut check = Checker::new(format!("bars[{index}]"), format!("bar {}", file.name));
        check.name("name", &file.name);
        check.name("mount", &file.mount);
        check.number("marked_length_in", &ranges::MARKED_LENGTH, file.marked_length_in);
        let gauge = Length::from_mm(check.number("gauge_mm", &ranges::GAUGE, file.gauge_mm));
        let shape = checked_shape(&mut check, file);
        let construction = checked_construction(&mut check, file.construction);
        let nose = match file.nose {
            NoseFile::Solid => Nose::Solid,
            NoseFile::Sprocket { pitch_in } => {
                Nose::Sprocket(Length::from_in(check.number("nose.pitch_in", &ranges::PITCH, pitch_in)))
            }
        };
        check.number("marked_drive_links", &ranges::DRIVE_LINKS, f64::from(file.marked_drive_links));
        let weighed_mass = file
            .weighed_mass_kg
            .map(|kg| Mass::from_kg(check.number("weighed_mass_kg", &ranges::BAR_MASS, kg)));
        if let Some(stated) = file.mass_uncertainty_kg {
            check.number("mass_uncertainty_kg", &ranges::WEIGHT_UNCERTAINTY, stated);
        }
        let nose_place = file.nose_place_mm.map_or(Length::ZERO, |mm| {
            Length::from_mm(check.number("nose_place_mm", &ranges::NOSE_PLACE, mm))
        });
        let outline = outline(&shape);
        let Some(area) = outline.properties().filter(|_| check.is_clean()) else {
            if check.is_clean() {
                check.fault("", "the outline encloses no area");
            }
            return check.finish(()).and(Err(Vec::new()));
        };
        let mass = weighed_mass.unwrap_or_else(|| plate_mass(&shape, &outline, &area, gauge, construction));
        Ok(Self {
            name: file.name.clone(),
            mount: file.mount.clone(),
            marked_length: Length::from_in(file.marked_length_in),
            shape,
            gauge,
            construction,
            nose,
            marked_drive_links: file.marked_drive_links,
            weighed_mass,
            nose_place,
            outline,
            area,
            mass,
        })
    }

    /// A bar between or beyond those on the rack: `like` in another shape. `share` is the construction share,
    /// `weighed_share` the mass over that of the geometry (1 where the rack's bars were not weighed), `nose_place` as
    /// [`Self::nose_place`].
    pub(crate) fn made_up(
        like: &Self,
        marked: Length,
        shape: BarShape,
        (share, weighed_share): (f64, f64),
        nose_place: Length,
    ) -> Option<Self> {
        let construction = match like.construction {
            Construction::Solid => Construction::Solid,
            Construction::Laminated(_) => Construction::Laminated(share),
            Construction::Lightened(_) => Construction::Lightened(share),
        };
        let outline = outline(&shape);
        let area = outline.properties()?;
        let mass = plate_mass(&shape, &outline, &area, like.gauge, construction) * weighed_share;
        Some(Self {
            name: format!("trial bar {:.0} mm", Length::from_m(shape.overall_m).as_mm()),
            mount: like.mount.clone(),
            marked_length: marked,
            shape,
            gauge: like.gauge,
            construction,
            nose: like.nose,
            marked_drive_links: like.marked_drive_links,
            weighed_mass: None,
            nose_place,
            outline,
            area,
            mass,
        })
    }

    /// Unique name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Name of the mount.
    pub fn mount(&self) -> &str {
        &self.mount
    }

    /// Length as stamped on the bar.
    pub const fn marked_length(&self) -> Length {
        self.marked_length
    }

    /// Plate from tail end to nose end.
    pub const fn overall_length(&self) -> Length {
        Length::from_m(self.shape.overall_m)
    }

    /// Width of the body.
    pub const fn body_width(&self) -> Length {
        Length::from_m(self.shape.body_width_m)
    }

    /// Radius of the plate's nose.
    pub const fn nose_radius(&self) -> Length {
        Length::from_m(self.shape.nose_radius_m)
    }

    /// Thickness of the plate.
    pub const fn thickness(&self) -> Length {
        Length::from_m(self.shape.thickness_m)
    }

    /// Width of the groove.
    pub const fn gauge(&self) -> Length {
        self.gauge
    }

    /// How the plate is built.
    pub const fn construction(&self) -> Construction {
        self.construction
    }

    /// What is in the nose.
    pub const fn nose(&self) -> Nose {
        self.nose
    }

    /// Drive links stamped on the bar.
    pub const fn marked_drive_links(&self) -> u32 {
        self.marked_drive_links
    }

    /// Mass off the scale, where there is one.
    pub const fn weighed_mass(&self) -> Option<Mass> {
        self.weighed_mass
    }

    /// How far the nose lies ahead of where a new loop of its count puts it: chains stretch.
    pub const fn nose_place(&self) -> Length {
        self.nose_place
    }

    pub(crate) const fn shape(&self) -> &BarShape {
        &self.shape
    }

    /// The plate's outline in its own frame (nose circle's centre at the origin), m.
    pub const fn outline(&self) -> &Polygon {
        &self.outline
    }

    /// What the bar weighs: off the scale where it was weighed, else from its geometry.
    pub const fn mass(&self) -> Mass {
        self.mass
    }

    /// What the geometry alone gives: area × thickness × density × (1 − groove share) × construction share.
    pub fn geometric_mass(&self) -> Mass {
        plate_mass(&self.shape, &self.outline, &self.area, self.gauge, self.construction)
    }

    /// The bar as a part of a saw, its nose circle's centre at `nose_centre` of the saw frame.
    pub fn part(&self, nose_centre: Point) -> MassPart {
        MassPart::plate(self.mass, &self.area).moved(nose_centre.coords)
    }

    /// The distances from the sprocket centre at which a head can hold this bar's nose centre: with the bar
    /// pushed fully back, and with the tensioner run fully out.
    pub fn nose_centre_span(&self, stud: Length, travel: Length) -> (Length, Length) {
        let back = stud + Length::from_m(self.shape.tail_to_nose_centre_m() - self.shape.tail_behind_studs_m);
        (back, back + travel)
    }
}

fn checked_shape(check: &mut Checker, file: &BarFile) -> BarShape {
    let mut metres = |field: &str, range, value| Length::from_mm(check.number(field, range, value)).as_m();
    let shape = BarShape {
        overall_m: metres("overall_length_mm", &ranges::OVERALL_LENGTH, file.overall_length_mm),
        tail_behind_studs_m: metres(
            "tail_behind_studs_mm",
            &ranges::TAIL_BEHIND_STUDS,
            file.tail_behind_studs_mm,
        ),
        tail_width_m: metres("tail_width_mm", &ranges::BAR_WIDTH, file.tail_width_mm),
        body_width_m: metres("body_width_mm", &ranges::BAR_WIDTH, file.body_width_mm),
        nose_radius_m: metres("nose_radius_mm", &ranges::NOSE_RADIUS, file.nose_radius_mm),
        thickness_m: metres("thickness_mm", &ranges::BAR_THICKNESS, file.thickness_mm),
        groove_depth_m: metres("groove_depth_mm", &ranges::GROOVE_DEPTH, file.groove_depth_mm),
    };
    // A value that is out of range is reported once, not again for what follows from it.
    if !check.is_clean() {
        return shape;
    }
    if 2.0 * file.nose_radius_mm > file.body_width_mm {
        check.fault(
            "nose_radius_mm",
            format_args!(
                "a nose radius of {} mm is wider than the body: at most half of {} mm",
                file.nose_radius_mm, file.body_width_mm
            ),
        );
    }
    if file.tail_width_mm > file.body_width_mm {
        check.fault(
            "tail_width_mm",
            format_args!(
                "a tail width of {} mm is wider than the body of {} mm",
                file.tail_width_mm, file.body_width_mm
            ),
        );
    }
    if file.groove_depth_mm >= file.nose_radius_mm {
        check.fault(
            "groove_depth_mm",
            format_args!(
                "a groove of {} mm is not shallower than the nose radius of {} mm",
                file.groove_depth_mm, file.nose_radius_mm
            ),
        );
    }
    if file.gauge_mm >= file.thickness_mm {
        check.fault(
            "gauge_mm",
            format_args!(
                "a groove of {} mm is not narrower than the plate of {} mm",
                file.gauge_mm, file.thickness_mm
            ),
        );
    }
    if file.overall_length_mm < 1.5 * file.body_width_mm + file.tail_behind_studs_mm {
        check.fault(
            "overall_length_mm",
            format_args!(
                "an overall length of {} mm is too short for a body {} mm wide",
                file.overall_length_mm, file.body_width_mm
            ),
        );
    }
    shape
}

fn checked_construction(check: &mut Checker, file: ConstructionFile) -> Construction {
    let mut share = |value| check.number("construction.share", &ranges::CONSTRUCTION_SHARE, value);
    match file {
        ConstructionFile::Solid => Construction::Solid,
        ConstructionFile::Laminated { share: value } => Construction::Laminated(share(value)),
        ConstructionFile::Lightened { share: value } => Construction::Lightened(share(value)),
    }
}

/// Area × thickness × density × (1 − groove share) × construction share. The groove runs round the whole
/// plate but its tail end, so its share is depth × gauge × rail length over the plate's volume.
fn plate_mass(
    shape: &BarShape,
    outline: &Polygon,
    area: &AreaProperties,
    gauge: Length,
    construction: Construction,
) -> Mass {
    let rail_m = outline.perimeter_m() - shape.tail_width_m;
    let groove_m3 = rail_m * shape.groove_depth_m * gauge.as_m();
    let plate_m3 = area.area_m2 * shape.thickness_m;
    let groove_share = groove_m3 / plate_m3;
    Mass::from_kg(plate_m3 * STEEL_KG_M3 * (1.0 - groove_share) * construction.share())
}

/// The outline, counter-clockwise from the lower tail corner: lower rail, nose, upper rail.
fn outline(shape: &BarShape) -> Polygon {
    let tail_x = -shape.tail_to_nose_centre_m();
    let (tail_half, body_half, nose) =
        (0.5 * shape.tail_width_m, 0.5 * shape.body_width_m, shape.nose_radius_m);
    let longest_taper = shape.tail_to_nose_centre_m() / 3.0;
    let tail_taper = (TAPER_SLOPE * (body_half - tail_half)).min(longest_taper);
    let nose_taper = (TAPER_SLOPE * (body_half - nose)).min(longest_taper);
    let smooth = |t: f64| 0.5 - 0.5 * (PI * t).cos();
    let steps = || (0..=TAPER_STEPS).map(|i| f64::from(i) / f64::from(TAPER_STEPS));
    let mut lower: Vec<Point> = steps()
        .map(|t| Point::new(tail_x + t * tail_taper, -(tail_half + (body_half - tail_half) * smooth(t))))
        .collect();
    lower.extend(
        steps().map(|t| Point::new(-nose_taper * (1.0 - t), -(body_half + (nose - body_half) * smooth(t)))),
    );
    lower.dedup();
    lower.extend((1..NOSE_QUARTER_STEPS).map(|i| {
        let angle = FRAC_PI_2 * (f64::from(i) / f64::from(NOSE_QUARTER_STEPS) - 1.0);
        Point::from(nose * Vector::new(angle.cos(), angle.sin()))
    }));
    let upper: Vec<Point> = lower.iter().rev().map(|p| Point::new(p.x, -p.y)).collect();
    lower.push(Point::new(nose, 0.0));
    lower.extend(upper);
    Polygon::new(lower)
}
