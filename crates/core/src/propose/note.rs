//! Which of a part's values are only proposed, kept as a sentence in its note.

use crate::record::{OutlineFile, PartFile, PartKind};

/// How the sentence begins; it ends at the next full stop.
const LEAD: &str = "Proposed, not measured: ";
const BETWEEN: &str = ", ";

/// A field that can be proposed: its path in the part, and its name in the note.
pub type Proposed = (&'static str, &'static str);

const POWERHEAD: &[Proposed] = &[
    ("sprocket.teeth", "sprocket teeth"),
    ("sprocket.pitch_in", "pitch"),
    ("dry_mass_kg", "dry mass"),
    ("power_kw", "power"),
    ("spike_line_mm", "spike line"),
    ("stud_mm", "rear stud"),
    ("tensioner_travel_mm", "tensioner travel"),
    ("front_grip.x_mm", "front grip along"),
    ("front_grip.y_mm", "front grip up"),
    ("rear_grip.x_mm", "rear grip along"),
    ("rear_grip.y_mm", "rear grip up"),
    ("centroid.x_mm", "centre of gravity along"),
    ("centroid.y_mm", "centre of gravity up"),
    ("fuel_tank.capacity_l", "fuel tank capacity"),
    ("fuel_tank.corner.x_mm", "fuel tank along"),
    ("fuel_tank.corner.y_mm", "fuel tank up"),
    ("fuel_tank.width_mm", "fuel tank length"),
    ("fuel_tank.height_mm", "fuel tank height"),
    ("oil_tank.capacity_l", "oil tank capacity"),
    ("oil_tank.corner.x_mm", "oil tank along"),
    ("oil_tank.corner.y_mm", "oil tank up"),
    ("oil_tank.width_mm", "oil tank length"),
    ("oil_tank.height_mm", "oil tank height"),
    ("inertia.radius_mm", "radius of gyration"),
    ("power_rpm", "speed of power"),
    ("pump_ml_per_min", "pump flow"),
    ("pump_rpm", "speed of pump flow"),
    ("fuel_tank.density_kg_per_l", "fuel density"),
    ("oil_tank.density_kg_per_l", "oil density"),
];

const BAR: &[Proposed] = &[
    ("marked_length_in", "marked length"),
    ("nose.pitch_in", "pitch"),
    ("gauge_mm", "gauge"),
    ("marked_drive_links", "drive links"),
    ("overall_length_mm", "overall length"),
    ("tail_behind_studs_mm", "tail behind stud"),
    ("tail_width_mm", "tail width"),
    ("body_width_mm", "body width"),
    ("nose_radius_mm", "nose radius"),
    ("thickness_mm", "thickness"),
    ("groove_depth_mm", "groove depth"),
    ("construction.share", "share of a solid plate"),
];

const CHAIN: &[Proposed] = &[
    ("pitch_in", "pitch"),
    ("gauge_mm", "gauge"),
    ("mass_per_drive_link_g", "mass per drive link"),
    ("cutter_height_mm", "cutter height"),
    ("rail_to_rivet_mm", "rail to rivets"),
];

/// The fields of a kind of part that can be proposed. A setup's are picked, never proposed.
pub const fn proposed_fields(kind: PartKind) -> &'static [Proposed] {
    match kind {
        PartKind::Powerhead => POWERHEAD,
        PartKind::Bar => BAR,
        PartKind::Chain => CHAIN,
        PartKind::Setup => &[],
    }
}

/// The names in the note's sentence, and what stands before and after it.
fn split(note: &str) -> (&str, Vec<&str>, &str) {
    let Some((before, rest)) = note.split_once(LEAD) else { return (note, Vec::new(), "") };
    let (list, after) = rest.split_once('.').unwrap_or((rest, ""));
    (before, list.split(BETWEEN).map(str::trim).filter(|word| !word.is_empty()).collect(), after)
}

fn put(before: &str, words: &[&str], after: &str) -> String {
    let sentence = if words.is_empty() { String::new() } else { format!("{LEAD}{}.", words.join(BETWEEN)) };
    let parts = [before.trim(), &sentence, after.trim()];
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
}

fn words_of(kind: PartKind, path: &str) -> Option<&'static str> {
    proposed_fields(kind).iter().find(|(field, _)| *field == path).map(|(_, words)| *words)
}

/// The names of what a note says is proposed.
pub fn proposed_words(note: &str) -> Vec<&str> {
    split(note).1
}

/// True where a part's note says that this field is only proposed, and for a head's outline where none is given: the
/// generic one then stands there.
pub fn is_proposed(part: &PartFile, path: &str) -> bool {
    if let (PartFile::Powerhead(head), "outline") = (part, path) {
        return head.outline == OutlineFile::Generic;
    }
    noted(part.kind(), part.note(), path)
}

pub(super) fn noted(kind: PartKind, note: &str, path: &str) -> bool {
    words_of(kind, path).is_some_and(|words| split(note).1.contains(&words))
}

/// Notes that a field is only proposed; without a path, every one that can be.
pub fn mark_proposed(part: &mut PartFile, path: Option<&str>) {
    let (kind, note) = (part.kind(), part.note().clone());
    let (before, words, after) = split(&note);
    let marked = |(field, name): &&Proposed| words.contains(name) || path.is_none_or(|path| path == *field);
    let words: Vec<&str> = proposed_fields(kind).iter().filter(marked).map(|(_, name)| *name).collect();
    *part.note_mut() = put(before, &words, after);
}

/// Notes that a field is a person's own from now on.
pub fn unmark_proposed(part: &mut PartFile, path: &str) {
    let Some(own) = words_of(part.kind(), path) else { return };
    let note = part.note().clone();
    let (before, mut words, after) = split(&note);
    words.retain(|word| *word != own);
    *part.note_mut() = put(before, &words, after);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;
    use crate::record::PartId;

    #[test]
    fn a_heads_outline_is_proposed_until_corners_are_given() {
        let file = demo().unwrap().file().clone();
        let mut part = file.part(&PartId::new(PartKind::Powerhead, "Wren")).unwrap();
        assert!(is_proposed(&part, "outline"));
        let PartFile::Powerhead(head) = &mut part else { panic!("Wren is a head") };
        let corner = |x_mm, y_mm| crate::record::PointFile { x_mm, y_mm };
        head.outline =
            OutlineFile::Corners(vec![corner(-200.0, -80.0), corner(120.0, -80.0), corner(0.0, 120.0)]);
        assert!(!is_proposed(&part, "outline"));
    }

    #[test]
    fn marks_come_and_go_and_leave_the_rest_of_the_note() {
        let file = demo().unwrap().file().clone();
        let mut bar = file.part(&PartId::new(PartKind::Bar, "B24")).unwrap();
        "From the back of the shed.".clone_into(bar.note_mut());
        mark_proposed(&mut bar, Some("thickness_mm"));
        mark_proposed(&mut bar, Some("nose_radius_mm"));
        assert_eq!(bar.note(), "From the back of the shed. Proposed, not measured: nose radius, thickness.");
        assert!(is_proposed(&bar, "nose_radius_mm") && !is_proposed(&bar, "gauge_mm"));
        unmark_proposed(&mut bar, "nose_radius_mm");
        assert!(!is_proposed(&bar, "nose_radius_mm") && is_proposed(&bar, "thickness_mm"));
        unmark_proposed(&mut bar, "thickness_mm");
        assert_eq!(bar.note(), "From the back of the shed.");
        mark_proposed(&mut bar, None);
        assert!(BAR.iter().all(|(path, _)| is_proposed(&bar, path)));
    }
}
