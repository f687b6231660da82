//! What is said of the person in the yard.

use crate::desk::format::Units;
use crate::desk::words::weigh_in::capitalised;
use barpoise_core::Yard;
use barpoise_core::person::{Person, Survey};

/// Where body measures come from.
pub const SOURCES: &str = "Statures, masses and body measures: ANSUR II, the 2012 survey of US Army personnel \
    (published). Arm links and how the mass divides: de Leva 1996 (published, read second-hand). Mass of another \
    stature: with its square (our guess).";

/// What a comparison of poses is, and what it is not.
pub const GEOMETRY: &str = "Poses and holds are geometry of such a body: they compare setups, and say nothing of what is safe for anybody.";

/// Who stands in a yard, and how much of an average they are.
pub fn who(yard: &Yard, units: Units) -> String {
    let person = yard.person();
    if yard.has_person() {
        return format!("{}.", capitalised(&of(person, units)));
    }
    format!("This yard has no person of its own. In their place stands {}.", of(person, units))
}

fn of(person: &Person, units: Units) -> String {
    let (length, mass) = (units.length(person.stature()), units.body_mass(person.mass()));
    let word = person.people().person();
    match person.survey() {
        Survey::Own { arm, leg, .. } => {
            let own = match (arm, leg) {
                (None, None) => "own stature and mass",
                (Some(_), None) => "own stature, mass and arm",
                (None, Some(_)) => "own stature, mass and leg",
                (Some(_), Some(_)) => "own stature, mass, arm and leg",
            };
            format!(
                "{own}, {length}, {mass}; the rest is that of an average {word}, which is an average and not you"
            )
        }
        _ if person.is_average() => {
            format!("an average {word}, {length}, {mass}: the mean of a survey, not you")
        }
        Survey::Men | Survey::Women => {
            format!("a {word} of average build, {length}, {mass}: an average of that stature, not you")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use barpoise_core::file::demo;
    use barpoise_core::record::{PeopleFile, PersonFile, SurveyFile, YardFile};

    fn said(person: Option<PersonFile>) -> String {
        let yard = Yard::new(YardFile { person, ..demo().unwrap().file().clone() }).unwrap();
        who(&yard, Units::default())
    }

    #[test]
    fn an_average_is_called_one() {
        let nobody = said(None);
        assert!(
            nobody.ends_with("stands an average man, 1756 mm, 85.5 kg: the mean of a survey, not you."),
            "{nobody}"
        );
        let average = PersonFile::from(&Person::default());
        assert_eq!(
            said(Some(average.clone())),
            "An average man, 1756 mm, 85.5 kg: the mean of a survey, not you."
        );
        let tall = PersonFile { stature_mm: 1900.0, ..average.clone() };
        assert!(said(Some(tall)).starts_with("A man of average build, 1900 mm, "));
        let survey =
            SurveyFile::Own { of: PeopleFile::Women, mass_kg: 71.0, arm_mm: Some(590.0), leg_mm: None };
        let own = said(Some(PersonFile { survey, ..average }));
        assert!(own.starts_with("Own stature, mass and arm, 1756 mm, 71.0 kg; the rest"), "{own}");
    }
}
