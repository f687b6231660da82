//! The yard with another person in it.

use barpoise_core::Yard;
use barpoise_core::record::{PersonFile, YardFile};

/// The yard with this person, or without one of its own; `None` where that is how it is.
///
/// # Errors
/// The first reason against the person.
pub(super) fn yard_with(yard: &Yard, person: Option<&PersonFile>) -> Result<Option<Yard>, String> {
    if person == yard.file().person.as_ref() {
        return Ok(None);
    }
    let file = YardFile { person: person.cloned(), ..yard.file().clone() };
    let refused = |faults: Vec<barpoise_core::Fault>| {
        faults.into_iter().next().map_or_else(String::new, |fault| fault.message)
    };
    Yard::new(file).map(Some).map_err(refused)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::desk::document::Document;
    use crate::desk::edit::{Edit, Gesture};
    use barpoise_core::file::Over;
    use barpoise_core::record::SurveyFile;

    fn woman(stature_mm: f64) -> PersonFile {
        PersonFile {
            note: "One of the three of Alder Flat, invented.".to_owned(),
            stature_mm,
            survey: SurveyFile::Women,
            strength_percentile: 60.0,
            can_kneel: false,
            slope_deg: 4.0,
        }
    }

    fn put(document: &mut Document, person: Option<PersonFile>) {
        document.apply(Edit::Person(person), Gesture::Single);
    }

    fn stature_mm(document: &Document) -> f64 {
        document.yard().person().stature().as_mm()
    }

    #[test]
    fn a_person_comes_goes_and_comes_again_by_steps() {
        let mut document = Document::demo().unwrap();
        let average = stature_mm(&document);
        put(&mut document, Some(woman(1690.0)));
        assert!(document.unsaved() && document.yard().has_person());
        assert_eq!(document.undo_step(), Some("change person"));
        let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} for {b}");
        near(stature_mm(&document), 1690.0);
        put(&mut document, Some(woman(1690.0)));
        document.apply(Edit::Undo, Gesture::Single);
        assert!(!document.unsaved() && !document.yard().has_person(), "the same twice is one step");
        near(stature_mm(&document), average);
        document.apply(Edit::Redo, Gesture::Single);
        near(stature_mm(&document), 1690.0);
        put(&mut document, None);
        assert_eq!(document.undo_step(), Some("average person"));
        assert!(!document.yard().has_person() && !document.unsaved());
    }

    #[test]
    fn a_person_beyond_the_ranges_is_refused_and_the_one_before_stays() {
        let mut document = Document::demo().unwrap();
        put(&mut document, Some(woman(1690.0)));
        put(&mut document, Some(woman(169.0)));
        let refusal = document.refusal().unwrap();
        assert_eq!(refusal.reason, "person: stature 169 mm is outside 1300…2200 mm");
        assert!((stature_mm(&document) - 1690.0).abs() < 1e-9);
        put(&mut document, Some(woman(1700.0)));
        assert!(document.refusal().is_none());
    }

    #[test]
    fn the_person_is_saved_read_again_and_kept_as_unsaved_work() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.yard.ron");
        let mut document = Document::demo().unwrap();
        put(&mut document, Some(woman(1690.0)));
        document.save(&path, Over::Nothing).unwrap();
        assert!(!document.unsaved());
        let opened = Document::open(&path).unwrap();
        assert_eq!(opened.yard().file().person, Some(woman(1690.0)));
        put(&mut document, Some(woman(1500.0)));
        let work = document.unsaved_work().unwrap();
        assert_eq!(Document::restored(work).unwrap().yard().file().person, Some(woman(1500.0)));
        document.revert().unwrap();
        assert_eq!(document.yard().file().person, Some(woman(1690.0)));
        document.apply(Edit::Undo, Gesture::Single);
        assert_eq!(document.yard().file().person, Some(woman(1500.0)));
    }

    #[test]
    fn the_person_stays_through_edits_of_other_things() {
        let mut document = Document::demo().unwrap();
        put(&mut document, Some(woman(1690.0)));
        document.apply(Edit::PickSetup("Wren B14".to_owned()), Gesture::Single);
        document.apply(Edit::FuelFill(0.3), Gesture::Single);
        assert_eq!(document.yard().file().person, Some(woman(1690.0)));
        let fill = document.bench().base().fuel_fill();
        put(&mut document, Some(woman(1700.0)));
        assert_eq!(document.bench().base().name(), "Wren B14", "what is on the bench stays too");
        assert!((document.bench().base().fuel_fill() - fill).abs() < 1e-12);
    }
}
