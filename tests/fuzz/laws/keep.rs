//! A save after one changed number leaves every other byte of the yard's text alone, however it is written.

use barpoise_core::Yard;
use barpoise_core::file::{parse_yard, text_with_changes};
use barpoise_core::record::{PartFile, PartId, PartKind, YardFile};

/// Numbers that every part of its kind has.
const NUMBERS: [(PartKind, &[&str]); 4] = [
    (PartKind::Powerhead, &["dry_mass_kg", "centroid.x_mm", "fuel_tank.corner.y_mm", "tensioner_travel_mm"]),
    (PartKind::Bar, &["thickness_mm", "groove_depth_mm", "tail_width_mm"]),
    (PartKind::Chain, &["mass_per_drive_link_g", "cutter_height_mm"]),
    (PartKind::Setup, &["fuel_fill", "oil_fill"]),
];
/// By so much a number is changed: it stays in most of the ranges, and needs other digits.
const FACTOR: f64 = 0.992;

/// Holds the law to a text.
pub fn holds(text: &str) {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let Ok(old) = parse_yard(text, "any.yard.ron") else { return };
    assert_eq!(
        text_with_changes(text, &old, &old).as_deref(),
        Some(text),
        "nothing changed, and the text did"
    );
    for (kind, paths) in NUMBERS {
        for name in old.file().part_names(kind) {
            for path in paths {
                if let Some(new) = changed(old.file(), &PartId::new(kind, name), path) {
                    one_number_alone(text, &old, &new, path);
                }
            }
        }
    }
}

/// The yard with one number of a part changed, where it still is a yard.
fn changed(file: &YardFile, id: &PartId, path: &str) -> Option<Yard> {
    let mut file = file.clone();
    let mut part: PartFile = file.part(id)?;
    let number = part.number(path).filter(|number| number.abs() > 0.0)?;
    part.set_number(path, Some(number * FACTOR));
    file.change_part(id, part);
    Yard::new(file).ok()
}

fn one_number_alone(text: &str, old: &Yard, new: &Yard, path: &str) {
    if old.file() == new.file() {
        return;
    }
    let Some(edited) = text_with_changes(text, old, new) else {
        unreachable!("the text is not kept with another {path}:\n{text}");
    };
    let (was, is) = (text.as_bytes(), edited.as_bytes());
    let before = was.iter().zip(is).take_while(|(was, is)| was == is).count();
    let most = was.len().min(is.len()) - before;
    let behind = was.iter().rev().zip(is.iter().rev()).take(most).take_while(|(was, is)| was == is).count();
    let middle =
        |bytes: &[u8]| bytes.get(before..bytes.len() - behind).map(<[u8]>::to_vec).unwrap_or_default();
    let of_a_number = |bytes: &[u8]| bytes.iter().all(|byte| b"0123456789+-.eE_".contains(byte));
    // A field that was left out comes in as a line of its own, beside which all else stands as it was.
    let (gone, come) = (middle(was), middle(is));
    let field = path.rsplit('.').next().unwrap_or(path).as_bytes();
    let is_new = gone.is_empty() && come.windows(field.len()).any(|window| window == field);
    assert!(
        is_new || (of_a_number(&gone) && of_a_number(&come)),
        "with another {path} {:?} became {:?}",
        String::from_utf8_lossy(&gone),
        String::from_utf8_lossy(&come)
    );
}
