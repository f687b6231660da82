//! A powerhead: dry mass, tanks, grips, and where bar and wood meet it.

use super::{Tank, check_point};
use crate::fault::{Checker, Fault};
use crate::geometry::{Point, Polygon};
use crate::ranges;
use crate::record::{InertiaFile, OutlineFile, PowerheadFile};
use crate::saw::loop_path::sprocket_pitch_radius;
use crate::saw::mass::MassPart;
use crate::units::{Length, Mass, Power};

/// The hands must be at least this far apart along the saw, or the loads in them mean nothing.
const LEAST_GRIP_SPAN_M: f64 = 0.05;

/// A powerhead.
#[derive(Clone, Debug, PartialEq)]
pub struct Powerhead {
    name: String,
    mount: String,
    dry: MassPart,
    fuel_tank: Tank,
    oil_tank: Tank,
    front_grip: Point,
    rear_grip: Point,
    spike_line: Length,
    stud: Length,
    tensioner_travel: Length,
    sprocket: Sprocket,
    outline: Outline,
    power: Power,
    power_rpm: f64,
    pump_ml_per_min: f64,
    pump_rpm: f64,
    longest_bar: Option<Length>,
}

/// A drive sprocket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sprocket {
    /// Teeth or rim pockets.
    pub teeth: u32,
    /// Half the span of three consecutive rivets of the chain it drives.
    pub pitch: Length,
}

/// Where the drawing of a head comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum Outline {
    /// The generic silhouette, scaled to the head's grips and spike line.
    Generic,
    /// The owner's own outline of the body, saw frame, m.
    Own(Polygon),
}

impl Powerhead {
    /// Checks a mirror; `index` is its place in the yard's list.
    ///
    /// # Errors
    /// Every field out of its range, hands too close together, a spike line behind the studs, or an outline
    /// of fewer than three corners.
    pub fn new(file: &PowerheadFile, index: usize) -> Result<Self, Vec<Fault>> {
        let mut check = Checker::new(format!("powerheads[{index}]"), format!("powerhead {}", file.name));
        check.name("name", &file.name);
        check.name("mount", &file.mount);
        let dry_mass = Mass::from_kg(check.number("dry_mass_kg", &ranges::DRY_MASS, file.dry_mass_kg));
        let centroid = check_point(&mut check, "centroid", file.centroid);
        let dry =
            MassPart { mass_kg: dry_mass.as_kg(), centroid, inertia_kg_m2: dry_inertia(&mut check, file) };
        let front_grip = check_point(&mut check, "front_grip", file.front_grip);
        let rear_grip = check_point(&mut check, "rear_grip", file.rear_grip);
        if check.is_clean() && front_grip.x - rear_grip.x < LEAST_GRIP_SPAN_M {
            check.fault(
                "rear_grip.x_mm",
                format_args!(
                    "rear grip at {} mm is not at least {} mm behind the front grip at {} mm",
                    file.rear_grip.x_mm,
                    Length::from_m(LEAST_GRIP_SPAN_M).as_mm(),
                    file.front_grip.x_mm
                ),
            );
        }
        let spike_line =
            Length::from_mm(check.number("spike_line_mm", &ranges::SPIKE_LINE, file.spike_line_mm));
        let stud = Length::from_mm(check.number("stud_mm", &ranges::STUD, file.stud_mm));
        if check.is_clean() && spike_line <= stud {
            check.fault(
                "spike_line_mm",
                format_args!(
                    "spike line {} mm is not ahead of the studs at {} mm",
                    file.spike_line_mm, file.stud_mm
                ),
            );
        }
        if let Some(size) = file.engine_size_cm3 {
            check.number("engine_size_cm3", &ranges::ENGINE_SIZE, size);
        }
        let unsure = file.standard_uncertainty;
        for (field, range, stated) in [
            ("dry_mass_kg", &ranges::WEIGHT_UNCERTAINTY, unsure.dry_mass_kg),
            ("centroid_mm", &ranges::LENGTH_UNCERTAINTY, unsure.centroid_mm),
            ("radius_of_gyration_mm", &ranges::LENGTH_UNCERTAINTY, unsure.radius_of_gyration_mm),
            ("spike_line_mm", &ranges::LENGTH_UNCERTAINTY, unsure.spike_line_mm),
            ("tanks_mm", &ranges::LENGTH_UNCERTAINTY, unsure.tanks_mm),
            ("grips_mm", &ranges::LENGTH_UNCERTAINTY, unsure.grips_mm),
        ] {
            if let Some(stated) = stated {
                check.number(&format!("standard_uncertainty.{field}"), range, stated);
            }
        }
        if let Some(photograph) = &file.photograph {
            crate::photograph::check(&mut check, photograph);
        }
        let head = Self {
            name: file.name.clone(),
            mount: file.mount.clone(),
            dry,
            fuel_tank: Tank::checked(&mut check, "fuel_tank", &file.fuel_tank),
            oil_tank: Tank::checked(&mut check, "oil_tank", &file.oil_tank),
            front_grip,
            rear_grip,
            spike_line,
            stud,
            tensioner_travel: Length::from_mm(check.number(
                "tensioner_travel_mm",
                &ranges::TENSIONER_TRAVEL,
                file.tensioner_travel_mm,
            )),
            sprocket: checked_sprocket(&mut check, file),
            outline: checked_outline(&mut check, &file.outline),
            power: Power::from_kw(check.number("power_kw", &ranges::POWER, file.power_kw)),
            power_rpm: check.number("power_rpm", &ranges::ENGINE_SPEED, file.power_rpm),
            pump_ml_per_min: check.number("pump_ml_per_min", &ranges::PUMP_FLOW, file.pump_ml_per_min),
            pump_rpm: check.number("pump_rpm", &ranges::ENGINE_SPEED, file.pump_rpm),
            longest_bar: file.longest_bar_in.map(|inches| {
                Length::from_in(check.number("longest_bar_in", &ranges::MARKED_LENGTH, inches))
            }),
        };
        check.finish(head)
    }

    /// Unique name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Name of the bar mount.
    pub fn mount(&self) -> &str {
        &self.mount
    }

    /// Mass, centroid and inertia without bar, chain, fuel and oil.
    pub const fn dry(&self) -> MassPart {
        self.dry
    }

    /// Fuel tank.
    pub const fn fuel_tank(&self) -> &Tank {
        &self.fuel_tank
    }

    /// Bar oil tank.
    pub const fn oil_tank(&self) -> &Tank {
        &self.oil_tank
    }

    /// Where the front hand lifts, saw frame, m.
    pub const fn front_grip(&self) -> Point {
        self.front_grip
    }

    /// Where the rear hand holds, saw frame, m.
    pub const fn rear_grip(&self) -> Point {
        self.rear_grip
    }

    /// Front of the spikes ahead of the sprocket centre.
    pub const fn spike_line(&self) -> Length {
        self.spike_line
    }

    /// Bar studs ahead of the sprocket centre.
    pub const fn stud(&self) -> Length {
        self.stud
    }

    /// How far the tensioner moves the bar from fully back.
    pub const fn tensioner_travel(&self) -> Length {
        self.tensioner_travel
    }

    /// Drive sprocket.
    pub const fn sprocket(&self) -> Sprocket {
        self.sprocket
    }

    /// Rivet-line radius of the drive sprocket.
    pub fn sprocket_radius(&self) -> Length {
        sprocket_pitch_radius(self.sprocket.teeth, self.sprocket.pitch)
    }

    /// Silhouette for the drawing.
    pub const fn outline(&self) -> &Outline {
        &self.outline
    }

    /// Engine power.
    pub const fn power(&self) -> Power {
        self.power
    }

    /// Engine speed at that power, 1/min.
    pub const fn power_rpm(&self) -> f64 {
        self.power_rpm
    }

    /// Flow of the oil pump, mL/min, at [`Self::pump_rpm`].
    pub const fn pump_ml_per_min(&self) -> f64 {
        self.pump_ml_per_min
    }

    /// Engine speed of the pump figure, 1/min.
    pub const fn pump_rpm(&self) -> f64 {
        self.pump_rpm
    }

    /// Longest bar the head is meant for, as marked.
    pub const fn longest_bar(&self) -> Option<Length> {
        self.longest_bar
    }
}

fn dry_inertia(check: &mut Checker, file: &PowerheadFile) -> f64 {
    match file.inertia {
        InertiaFile::RadiusOfGyration { radius_mm } => {
            let radius_mm = check.number("inertia.radius_mm", &ranges::RADIUS_OF_GYRATION, radius_mm);
            file.dry_mass_kg * Length::from_mm(radius_mm).as_m().powi(2)
        }
        InertiaFile::Moment { moment_kg_m2 } => {
            check.number("inertia.moment_kg_m2", &ranges::HEAD_INERTIA, moment_kg_m2)
        }
    }
}

fn checked_sprocket(check: &mut Checker, file: &PowerheadFile) -> Sprocket {
    check.number("sprocket.teeth", &ranges::TEETH, f64::from(file.sprocket.teeth));
    Sprocket {
        teeth: file.sprocket.teeth,
        pitch: Length::from_in(check.number("sprocket.pitch_in", &ranges::PITCH, file.sprocket.pitch_in)),
    }
}

fn checked_outline(check: &mut Checker, file: &OutlineFile) -> Outline {
    const CORNERS: std::ops::RangeInclusive<usize> = 3..=400;
    let OutlineFile::Corners(corners) = file else {
        return Outline::Generic;
    };
    if !CORNERS.contains(&corners.len()) {
        check.fault(
            "outline",
            format_args!(
                "an outline of {} corners is outside {}…{} corners",
                corners.len(),
                CORNERS.start(),
                CORNERS.end()
            ),
        );
    }
    let points = corners
        .iter()
        .enumerate()
        .map(|(i, corner)| check_point(check, &format!("outline[{i}]"), *corner))
        .collect();
    Outline::Own(Polygon::new(points))
}
