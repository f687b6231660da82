//! Parts to begin with, before anything is read off them.

use super::{Drive, mark_proposed, propose_bar, propose_chain, propose_powerhead};
use crate::record::{
    BarFile, ChainFile, ConstructionFile, HeadUncertaintyFile, InertiaFile, NoseFile, OutlineFile, PartFile,
    PointFile, PowerheadFile, SequenceFile, SprocketFile, TankFile,
};

const MOUNT: &str = "common slot";
pub(super) const TEETH: u32 = 7;
pub(super) const PITCH_IN: f64 = 0.375;
pub(super) const POWER_KW: f64 = 3.5;
pub(super) const STAMP_IN: f64 = 16.0;
/// From this pitch on, in, the wider of the common gauges, mm.
pub(super) const WIDE_FROM_IN: f64 = 0.35;
pub(super) const GAUGES_MM: (f64, f64) = (1.3, 1.5);

/// The common gauge of a pitch, mm.
fn gauge_mm(pitch_in: f64) -> f64 {
    if pitch_in < WIDE_FROM_IN { GAUGES_MM.0 } else { GAUGES_MM.1 }
}

/// A head of a common size.
pub fn common_powerhead(name: &str) -> PartFile {
    let nowhere = PointFile { x_mm: 0.0, y_mm: 0.0 };
    let tank =
        TankFile { corner: nowhere, width_mm: 0.0, height_mm: 0.0, capacity_l: 0.0, density_kg_per_l: 0.0 };
    let mut part = PartFile::Powerhead(Box::new(PowerheadFile {
        name: name.to_owned(),
        note: String::new(),
        mount: MOUNT.to_owned(),
        dry_mass_kg: 0.0,
        centroid: nowhere,
        inertia: InertiaFile::RadiusOfGyration { radius_mm: 0.0 },
        fuel_tank: tank,
        oil_tank: tank,
        front_grip: nowhere,
        rear_grip: nowhere,
        spike_line_mm: 0.0,
        stud_mm: 0.0,
        tensioner_travel_mm: 0.0,
        sprocket: SprocketFile { teeth: TEETH, pitch_in: PITCH_IN },
        outline: OutlineFile::Generic,
        engine_size_cm3: None,
        power_kw: POWER_KW,
        power_rpm: 0.0,
        pump_ml_per_min: 0.0,
        pump_rpm: 0.0,
        longest_bar_in: None,
        photograph: None,
        standard_uncertainty: HeadUncertaintyFile::default(),
    }));
    mark_proposed(&mut part, None);
    if let PartFile::Powerhead(head) = &mut part {
        propose_powerhead(head);
    }
    part
}

/// A bar of a common length for a mount and a drive.
pub fn common_bar(name: &str, mount: &str, drive: &Drive) -> PartFile {
    let mut part = PartFile::Bar(Box::new(BarFile {
        name: name.to_owned(),
        note: String::new(),
        mount: mount.to_owned(),
        marked_length_in: STAMP_IN,
        overall_length_mm: 0.0,
        tail_behind_studs_mm: 0.0,
        tail_width_mm: 0.0,
        body_width_mm: 0.0,
        nose_radius_mm: 0.0,
        thickness_mm: 0.0,
        gauge_mm: gauge_mm(drive.pitch_in),
        groove_depth_mm: 0.0,
        construction: ConstructionFile::Solid,
        nose: NoseFile::Sprocket { pitch_in: drive.pitch_in },
        marked_drive_links: 0,
        weighed_mass_kg: None,
        mass_uncertainty_kg: None,
        nose_place_mm: None,
    }));
    mark_proposed(&mut part, None);
    if let PartFile::Bar(bar) = &mut part {
        propose_bar(bar, drive);
    }
    part
}

/// A chain of a common kind of a pitch.
pub fn common_chain(name: &str, pitch_in: f64) -> PartFile {
    let mut part = PartFile::Chain(Box::new(ChainFile {
        name: name.to_owned(),
        note: String::new(),
        pitch_in,
        gauge_mm: gauge_mm(pitch_in),
        mass_per_drive_link_g: 0.0,
        sequence: SequenceFile::FullComplement,
        cutter_height_mm: 0.0,
        rail_to_rivet_mm: 0.0,
        mass_uncertainty_g: None,
    }));
    mark_proposed(&mut part, None);
    if let PartFile::Chain(chain) = &mut part {
        propose_chain(chain);
    }
    part
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::{SetupFile, YARD_VERSION, YardFile};
    use crate::yard::Yard;

    #[test]
    fn common_parts_make_a_yard() {
        let mut file = YardFile {
            version: YARD_VERSION,
            name: "New".to_owned(),
            note: String::new(),
            person: None,
            powerheads: Vec::new(),
            bars: Vec::new(),
            chains: Vec::new(),
            setups: vec![SetupFile {
                name: "Head bar".to_owned(),
                note: String::new(),
                powerhead: "Head".to_owned(),
                bar: "Bar".to_owned(),
                chain: "Chain".to_owned(),
                drive_links: None,
                fuel_fill: 1.0,
                oil_fill: 1.0,
                extras: Vec::new(),
            }],
            readings: Vec::new(),
            weigh_ins: Vec::new(),
            woods: Vec::new(),
        };
        let head = common_powerhead("Head");
        let PartFile::Powerhead(file_of_head) = &head else { unreachable!() };
        let drive = Drive::of(file_of_head, None);
        let bar = common_bar("Bar", &file_of_head.mount, &drive);
        let chain = common_chain("Chain", drive.pitch_in);
        for part in [head, bar, chain] {
            file.add_part(part);
        }
        Yard::new(file).unwrap();
    }
}
