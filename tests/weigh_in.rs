//! The weigh-in against synthetic saws of known truth, draws, and what practitioners read.

use barpoise_checks::bench_yard;
use barpoise_core::file::{MeasuredFile, ReadingFile};
use barpoise_core::weigh_in::{Choice, applied, fit, next_readings};

fn reading(setup: &str, measured: MeasuredFile) -> ReadingFile {
    ReadingFile {
        measured,
        setup: Some(setup.into()),
        fuel_fill: None,
        oil_fill: None,
        note: String::new(),
        left_out: false,
    }
}

#[test]
fn smoke() {
    let mut file = bench_yard::rack_file();
    file.readings = vec![
        reading("20", MeasuredFile::Total { weight_kg: 8.9, uncertainty_kg: 0.05 }),
        reading("20", MeasuredFile::Hang { nose_down_deg: 12.0, uncertainty_deg: 1.0 }),
        reading("24", MeasuredFile::Hang { nose_down_deg: 22.0, uncertainty_deg: 1.0 }),
    ];
    let yard = bench_yard::checked(file);
    let found = fit(&yard, &Choice::Automatic).unwrap();
    println!("{found:#?}");
    let after = applied(&yard, &found, "2026-11-25").unwrap();
    println!("{:#?}", after.file().weigh_ins);
    for next in next_readings(&after, "head", 3) {
        println!("{:?} -> {:?}", next.hang_now.as_deg(), next.hang_then.as_deg());
    }
}
