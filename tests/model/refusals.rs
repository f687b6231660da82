//! Yards that must be refused, each at the place and with the range or the reason that a person needs.
#![expect(clippy::indexing_slicing, reason = "a helper of a check may stop the check")]

use barpoise_checks::bench_yard::{checked, rack_file};
use barpoise_core::record::YardFile;
use barpoise_core::{Fault, Range, Yard, loop_counts_that_close, ranges};

/// The faults of a yard that must be refused.
fn faults(change: impl FnOnce(&mut YardFile)) -> Vec<Fault> {
    let mut file = rack_file();
    change(&mut file);
    match Yard::new(file) {
        Ok(_) => unreachable!("the yard was taken"),
        Err(faults) => faults,
    }
}

fn assert_fault(faults: &[Fault], path: &str, words: &str) {
    assert!(
        faults.iter().any(|fault| fault.path == path && fault.message.contains(words)),
        "no fault at {path} that says `{words}`: {faults:#?}"
    );
}

type Field = fn(&mut YardFile) -> &mut f64;

/// Numbers of each kind of part and the range that each must name.
const NUMBERS: [(&str, &Range, Field); 17] = [
    ("powerheads[0].dry_mass_kg", &ranges::DRY_MASS, |f| &mut f.powerheads[0].dry_mass_kg),
    ("powerheads[0].front_grip.y_mm", &ranges::COORDINATE, |f| &mut f.powerheads[0].front_grip.y_mm),
    ("powerheads[0].fuel_tank.capacity_l", &ranges::TANK_CAPACITY, |f| {
        &mut f.powerheads[0].fuel_tank.capacity_l
    }),
    ("powerheads[0].oil_tank.density_kg_per_l", &ranges::FLUID_DENSITY, |f| {
        &mut f.powerheads[0].oil_tank.density_kg_per_l
    }),
    ("powerheads[0].spike_line_mm", &ranges::SPIKE_LINE, |f| &mut f.powerheads[0].spike_line_mm),
    ("powerheads[0].sprocket.pitch_in", &ranges::PITCH, |f| &mut f.powerheads[0].sprocket.pitch_in),
    ("powerheads[0].power_rpm", &ranges::ENGINE_SPEED, |f| &mut f.powerheads[0].power_rpm),
    ("bars[0].marked_length_in", &ranges::MARKED_LENGTH, |f| &mut f.bars[0].marked_length_in),
    ("bars[0].overall_length_mm", &ranges::OVERALL_LENGTH, |f| &mut f.bars[0].overall_length_mm),
    ("bars[0].nose_radius_mm", &ranges::NOSE_RADIUS, |f| &mut f.bars[0].nose_radius_mm),
    ("bars[0].thickness_mm", &ranges::BAR_THICKNESS, |f| &mut f.bars[0].thickness_mm),
    ("bars[0].groove_depth_mm", &ranges::GROOVE_DEPTH, |f| &mut f.bars[0].groove_depth_mm),
    ("chains[0].gauge_mm", &ranges::GAUGE, |f| &mut f.chains[0].gauge_mm),
    ("chains[0].mass_per_drive_link_g", &ranges::LINK_MASS, |f| &mut f.chains[0].mass_per_drive_link_g),
    ("chains[0].cutter_height_mm", &ranges::CUTTER_HEIGHT, |f| &mut f.chains[0].cutter_height_mm),
    ("setups[0].fuel_fill", &ranges::FILL, |f| &mut f.setups[0].fuel_fill),
    ("setups[0].oil_fill", &ranges::FILL, |f| &mut f.setups[0].oil_fill),
];

#[test]
fn a_number_out_of_range_is_refused_at_its_place_with_the_range() {
    for (path, range, field) in NUMBERS {
        let outside = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, range.min - 1e-6, range.max + 1e-6];
        for value in outside {
            let found = faults(|file| *field(file) = value);
            let unit = if range.unit.is_empty() { String::new() } else { format!(" {}", range.unit) };
            assert_fault(
                &found,
                path,
                &format!("{value}{unit} is outside {}…{}{unit}", range.min, range.max),
            );
        }
        // A yard that differs by nothing is taken: the fault is the value's.
        let mut file = rack_file();
        let same = *field(&mut file);
        assert!(range.holds(same), "{path}");
        assert!(Yard::new(file).is_ok(), "{path}");
    }
}

#[test]
fn parts_that_do_not_go_together_are_refused_with_the_reason() {
    let wide_nose = faults(|file| file.bars[0].nose_radius_mm = 40.0);
    assert_fault(&wide_nose, "bars[0].nose_radius_mm", "at most half of 66 mm");
    let wrong_gauge = faults(|file| file.chains[0].gauge_mm = 1.5);
    assert_fault(&wrong_gauge, "setups[0].chain", "1.5 mm does not run in the bar's groove of 1.6 mm");
    let wrong_pitch = faults(|file| file.powerheads[0].sprocket.pitch_in = 0.404);
    assert_fault(&wrong_pitch, "setups[0].chain", "does not run on the sprocket's 0.404 in");
    let wrong_mount = faults(|file| file.setups[0].bar = "other mount".into());
    assert_fault(
        &wrong_mount,
        "setups[0].bar",
        "mount `narrow slot` does not go on the head's mount `wide slot`",
    );
    let missing = faults(|file| file.setups[0].bar = "32".into());
    assert_fault(&missing, "setups[0].bar", "there is no bar named `32`");
    let twice = faults(|file| file.bars[1].name = "24".into());
    assert_fault(&twice, "bars[1].name", "`24` is taken");
    let grips = faults(|file| file.powerheads[0].rear_grip.x_mm = 100.0);
    assert_fault(&grips, "powerheads[0].rear_grip.x_mm", "is not at least 50 mm behind the front grip");
    let version = faults(|file| file.version = 3);
    assert_fault(&version, "version", "version 3 is not 1…2");
}

#[test]
fn a_loop_that_does_not_close_names_the_counts_that_would() {
    let short = faults(|file| file.setups[0].drive_links = Some(80));
    assert_fault(&short, "setups[0].drive_links", "84 would");
    // And every count named does close, its neighbours do not.
    let yard = checked(rack_file());
    let setup = yard.setup("24").unwrap();
    let closing = loop_counts_that_close(setup.powerhead(), setup.bar(), setup.chain());
    assert!(!closing.is_empty());
    for count in 16..=260 {
        let mut file = rack_file();
        file.setups[0].drive_links = Some(count);
        assert_eq!(Yard::new(file).is_ok(), closing.contains(&count), "{count} links");
    }
}
