//! A yard built in code: one invented powerhead, bars that take a stated count of 3/8 in links, one
//! chain. Dimensions are plausible and from memory, unverified; no saw was measured for them.

use barpoise_core::record::{
    BarFile, ChainFile, ConstructionFile, HeadUncertaintyFile, InertiaFile, NoseFile, OutlineFile, PointFile,
    PowerheadFile, SequenceFile, SetupFile, SprocketFile, TankFile, YARD_VERSION, YardFile,
};
use barpoise_core::units::Length;
use barpoise_core::{LoopPath, Yard, loop_length, sprocket_pitch_radius};

/// Pitch of everything in this yard.
pub const PITCH_IN: f64 = 0.375;
/// Teeth of the drive sprocket.
pub const TEETH: u32 = 7;
/// Rivet line above the rail: from memory, unverified.
pub const RAIL_TO_RIVET_MM: f64 = 5.0;
/// Top of the cutters above the rivet line: from memory, unverified.
pub const CUTTER_HEIGHT_MM: f64 = 9.0;
/// Radius of the plate's nose; with the rail to rivet line it makes the rivet circle of an eleven-tooth nose
/// sprocket of 3/8 in, 33.3 mm. The tooth count is from memory.
pub const NOSE_RADIUS_MM: f64 = 28.3;
/// Fuel mix: petrol with two parts in a hundred of oil.
pub const FUEL_KG_PER_L: f64 = 0.745;
/// Bar oil: from memory, unverified.
pub const OIL_KG_PER_L: f64 = 0.88;

/// A point of the saw frame, mm.
pub const fn at(x_mm: f64, y_mm: f64) -> PointFile {
    PointFile { x_mm, y_mm }
}

/// The powerhead, with its spike line this far ahead of the sprocket centre.
pub fn head(spike_line_mm: f64) -> PowerheadFile {
    PowerheadFile {
        name: "head".into(),
        note: String::new(),
        mount: "wide slot".into(),
        dry_mass_kg: 6.1,
        centroid: at(-33.0, 15.0),
        inertia: InertiaFile::RadiusOfGyration { radius_mm: 120.0 },
        fuel_tank: TankFile {
            corner: at(-240.0, -60.0),
            width_mm: 140.0,
            height_mm: 70.0,
            capacity_l: 0.8,
            density_kg_per_l: FUEL_KG_PER_L,
        },
        oil_tank: TankFile {
            corner: at(-20.0, -65.0),
            width_mm: 110.0,
            height_mm: 50.0,
            capacity_l: 0.4,
            density_kg_per_l: OIL_KG_PER_L,
        },
        front_grip: at(0.0, 145.0),
        rear_grip: at(-300.0, 35.0),
        spike_line_mm,
        stud_mm: 75.0,
        tensioner_travel_mm: 18.0,
        sprocket: SprocketFile { teeth: TEETH, pitch_in: PITCH_IN },
        outline: OutlineFile::Generic,
        engine_size_cm3: None,
        power_kw: 4.4,
        power_rpm: 9500.0,
        pump_ml_per_min: 18.0,
        pump_rpm: 9500.0,
        longest_bar_in: Some(28.0),
        photograph: None,
        standard_uncertainty: HeadUncertaintyFile::default(),
    }
}

/// A solid bar that takes this count of links with the tensioner `tensioner_out_mm` from fully back.
///
/// # Panics
/// For a count whose loop cannot be laid at all.
pub fn bar(name: &str, marked_length_in: f64, links: u32, tensioner_out_mm: f64) -> BarFile {
    const TAIL_BEHIND_STUDS_MM: f64 = 38.0;
    let distance_mm = tight_distance_mm(NOSE_RADIUS_MM, links);
    BarFile {
        name: name.into(),
        note: String::new(),
        mount: "wide slot".into(),
        marked_length_in,
        overall_length_mm: distance_mm - tensioner_out_mm - head(200.0).stud_mm
            + TAIL_BEHIND_STUDS_MM
            + NOSE_RADIUS_MM,
        tail_behind_studs_mm: TAIL_BEHIND_STUDS_MM,
        tail_width_mm: 46.0,
        body_width_mm: 64.0,
        nose_radius_mm: NOSE_RADIUS_MM,
        thickness_mm: 4.8,
        gauge_mm: 1.6,
        groove_depth_mm: 7.0,
        construction: ConstructionFile::Solid,
        nose: NoseFile::Sprocket { pitch_in: PITCH_IN },
        marked_drive_links: links,
        weighed_mass_kg: None,
        mass_uncertainty_kg: None,
        nose_place_mm: None,
    }
}

/// Sprocket centre to nose centre with a loop of this count drawn tight round a plate nose of this radius.
///
/// # Panics
/// For a count whose loop cannot be laid at all.
pub fn tight_distance_mm(nose_radius_mm: f64, links: u32) -> f64 {
    let pitch = Length::from_in(PITCH_IN);
    let path = LoopPath::with_length(
        sprocket_pitch_radius(TEETH, pitch),
        Length::from_mm(nose_radius_mm + RAIL_TO_RIVET_MM),
        loop_length(pitch, f64::from(links)),
    );
    match path {
        Ok(path) => path.centre_distance().as_mm(),
        Err(error) => unreachable!("{links} links: {error}"),
    }
}

/// The chain.
pub fn chain() -> ChainFile {
    ChainFile {
        name: "chain".into(),
        note: String::new(),
        pitch_in: PITCH_IN,
        gauge_mm: 1.6,
        // From memory, unverified.
        mass_per_drive_link_g: 4.8,
        sequence: SequenceFile::FullComplement,
        cutter_height_mm: CUTTER_HEIGHT_MM,
        rail_to_rivet_mm: RAIL_TO_RIVET_MM,
        mass_uncertainty_g: None,
    }
}

/// A setup of the yard's head and chain with one of its bars, full of fuel and oil, named after the bar.
pub fn setup(bar: &str) -> SetupFile {
    SetupFile {
        name: bar.into(),
        note: String::new(),
        powerhead: "head".into(),
        bar: bar.into(),
        chain: "chain".into(),
        drive_links: None,
        fuel_fill: 1.0,
        oil_fill: 1.0,
        extras: Vec::new(),
    }
}

/// A yard of one head, one chain and these bars, with a setup of each bar.
pub fn yard_file(head: PowerheadFile, bars: Vec<BarFile>) -> YardFile {
    YardFile {
        version: YARD_VERSION,
        name: "bench".into(),
        note: String::new(),
        person: None,
        powerheads: vec![head],
        setups: bars.iter().map(|bar| setup(&bar.name)).collect(),
        bars,
        chains: vec![chain()],
        readings: Vec::new(),
        weigh_ins: Vec::new(),
        woods: Vec::new(),
    }
}

/// The rack's solid bars, shortest first: some 100 mm apart, unlike in width, thickness, nose and tensioner.
pub const RACK: [&str; 4] = ["16", "20", "24", "28"];

/// Four solid bars of one family, a laminated one and one of another mount; a setup of each that goes on the head.
pub fn rack_file() -> YardFile {
    let shaped = |name, marked_in, links, out_mm, body_width_mm, thickness_mm| BarFile {
        body_width_mm,
        thickness_mm,
        ..bar(name, marked_in, links, out_mm)
    };
    let mut bars = vec![
        // Not in order of length, as bars hang on a rack.
        shaped("24", 24.0, 84, 9.0, 66.0, 4.8),
        shaped("16", 16.0, 60, 4.0, 60.0, 4.6),
        narrow_nosed(shaped("20", 20.0, 72, 6.0, 64.0, 4.8)),
        shaped("28", 28.0, 93, 7.5, 68.0, 4.8),
    ];
    bars.push(BarFile {
        construction: ConstructionFile::Laminated { share: 0.8 },
        ..bar("laminated", 20.0, 70, 6.0)
    });
    let mut file = yard_file(head(190.0), bars);
    file.bars.push(BarFile { mount: "narrow slot".into(), ..bar("other mount", 18.0, 68, 6.0) });
    for setup in &mut file.setups {
        (setup.fuel_fill, setup.oil_fill) = (0.9, 0.8);
    }
    file
}

/// The same count of links round a nose 3 mm smaller.
fn narrow_nosed(file: BarFile) -> BarFile {
    let nose_radius_mm = NOSE_RADIUS_MM - 3.0;
    let nose_end = |radius_mm| tight_distance_mm(radius_mm, file.marked_drive_links) + radius_mm;
    BarFile {
        nose_radius_mm,
        overall_length_mm: file.overall_length_mm + nose_end(nose_radius_mm) - nose_end(NOSE_RADIUS_MM),
        ..file
    }
}

/// The checked yard.
///
/// # Panics
/// With every fault, where a mirror is refused.
pub fn checked(file: YardFile) -> Yard {
    match Yard::new(file) {
        Ok(yard) => yard,
        Err(faults) => unreachable!("{faults:#?}"),
    }
}
