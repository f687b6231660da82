//! Pasted diameters are all in range and read back as they are written, or each bad entry is named by its line.

use super::{is_one_line, same};
use barpoise_core::log::limits::LOG_DIAMETER;
use barpoise_core::rack::{Column, DiameterFault, LogCount, read_csv, read_diameters};
use barpoise_core::ranges;
use barpoise_core::units::Length;

/// Holds the law to a text, as a list and as a table.
pub fn holds(text: &str) {
    read(text, read_diameters(text, Length::from_mm));
    let (first, second) = (Column::Place(1), Column::Place(2));
    read(text, read_csv(text, &first, None, Length::from_in));
    read(text, read_csv(text, &second, Some(&first), Length::from_mm));
    let named = |name: &str| Column::Named(name.to_owned());
    read(text, read_csv(text, &named("diameter"), Some(&named("cuts")), Length::from_mm));
}

fn read(text: &str, read: Result<Vec<LogCount>, Vec<DiameterFault>>) {
    match read {
        Ok(logs) => reads_back(&logs),
        Err(faults) => {
            assert!(!faults.is_empty(), "refused without a reason: {text:?}");
            for fault in faults {
                is_one_line(&fault.to_string());
                let lines = text.split(['\n', '\r']).count();
                assert!((1..=lines).contains(&fault.line), "{fault}: there are {lines} lines in {text:?}");
            }
        }
    }
}

fn reads_back(logs: &[LogCount]) {
    for log in logs {
        assert!(LOG_DIAMETER.holds(log.diameter.as_mm()), "{log:?} is out of range");
        assert!(ranges::CUTS.holds(f64::from(log.cuts)), "{log:?} is out of range");
    }
    let written: Vec<String> =
        logs.iter().map(|log| format!("{} m × {}", log.diameter.as_m(), log.cuts)).collect();
    let back = match read_diameters(&written.join("\n"), Length::from_mm) {
        Ok(back) => back,
        Err(faults) => unreachable!("{faults:?}: refused as it was written, {written:?}"),
    };
    assert_eq!(back.len(), logs.len(), "{written:?}");
    for (back, log) in back.iter().zip(logs) {
        assert!(
            back.cuts == log.cuts && same(back.diameter.as_m(), log.diameter.as_m()),
            "{back:?} was {log:?}"
        );
    }
}
