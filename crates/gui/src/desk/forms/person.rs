//! The form of the person in the yard: its fields, and what goes together as they are filled in.

use super::parts::FieldUnit;
use crate::desk::format;
use barpoise_core::Range;
use barpoise_core::person::{People, Person, ranges};
use barpoise_core::record::{PeopleFile, PersonFile, SurveyFile};
use barpoise_core::units::Length;
use barpoise_core::{Fault, Yard};

/// A number of the person.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PersonField {
    /// Stature, barefoot.
    Stature,
    /// Own body mass.
    Mass,
    /// Own straight arm.
    Arm,
    /// Own leg.
    Leg,
    /// Share of people who are weaker.
    Strength,
    /// Slope of the ground across the log.
    Slope,
}

impl PersonField {
    /// Every one, from the top of the form.
    pub const ALL: [Self; 6] = [Self::Stature, Self::Mass, Self::Arm, Self::Leg, Self::Strength, Self::Slope];

    /// Its path in the file, as a fault has it.
    pub const fn path(self) -> &'static str {
        match self {
            Self::Stature => "stature_mm",
            Self::Mass => "survey.mass_kg",
            Self::Arm => "survey.arm_mm",
            Self::Leg => "survey.leg_mm",
            Self::Strength => "strength_percentile",
            Self::Slope => "slope_deg",
        }
    }

    /// Its name.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Stature => "Stature",
            Self::Mass => "Body mass",
            Self::Arm => "Straight arm",
            Self::Leg => "Leg",
            Self::Strength => "Strength percentile",
            Self::Slope => "Slope across the log",
        }
    }

    /// How it is measured.
    pub const fn hint(self) -> &'static str {
        match self {
            Self::Stature => "Barefoot, against a wall.",
            Self::Mass => "In working clothes, on a scale.",
            Self::Arm => "From the shoulder joint to the middle of a grip. Empty: the survey's.",
            Self::Leg => "From the floor to the hip joint, barefoot. Empty: the survey's.",
            Self::Strength => "How many of a hundred such people are weaker: 50 is the middle.",
            Self::Slope => {
                "Where the ground rises from you to the log and beyond it is positive: you stand below."
            }
        }
    }

    /// What the file writes it in.
    pub const fn unit(self) -> FieldUnit {
        match self {
            Self::Stature | Self::Arm | Self::Leg => FieldUnit::Mm,
            Self::Mass => FieldUnit::Kg,
            Self::Strength => FieldUnit::Percent,
            Self::Slope => FieldUnit::Degrees,
        }
    }

    /// What is allowed.
    pub const fn range(self) -> &'static Range {
        match self {
            Self::Stature => &ranges::STATURE,
            Self::Mass => &ranges::BODY_MASS,
            Self::Arm => &ranges::ARM,
            Self::Leg => &ranges::LEG,
            Self::Strength => &ranges::STRENGTH_PERCENTILE,
            Self::Slope => &ranges::SLOPE,
        }
    }

    /// True where it may be left empty.
    pub const fn is_optional(self) -> bool {
        matches!(self, Self::Arm | Self::Leg)
    }

    /// True where the person has this field: a mass and lengths are those of own measures.
    pub const fn applies(self, person: &PersonFile) -> bool {
        !matches!(self, Self::Mass | Self::Arm | Self::Leg) || has_own_measures(person)
    }

    /// Its value.
    pub const fn value(self, person: &PersonFile) -> Option<f64> {
        match (self, person.survey) {
            (Self::Stature, _) => Some(person.stature_mm),
            (Self::Strength, _) => Some(person.strength_percentile),
            (Self::Slope, _) => Some(person.slope_deg),
            (Self::Mass, SurveyFile::Own { mass_kg, .. }) => Some(mass_kg),
            (Self::Arm, SurveyFile::Own { arm_mm, .. }) => arm_mm,
            (Self::Leg, SurveyFile::Own { leg_mm, .. }) => leg_mm,
            (Self::Mass | Self::Arm | Self::Leg, SurveyFile::Men | SurveyFile::Women) => None,
        }
    }

    /// Puts a value; where none is given, an own length is the survey's again and all else stays.
    pub fn put(self, person: &mut PersonFile, value: Option<f64>) {
        let own = |own: &mut f64| *own = value.unwrap_or(*own);
        match (self, &mut person.survey) {
            (Self::Stature, _) => own(&mut person.stature_mm),
            (Self::Strength, _) => own(&mut person.strength_percentile),
            (Self::Slope, _) => own(&mut person.slope_deg),
            (Self::Mass, SurveyFile::Own { mass_kg, .. }) => own(mass_kg),
            (Self::Arm, SurveyFile::Own { arm_mm, .. }) => *arm_mm = value,
            (Self::Leg, SurveyFile::Own { leg_mm, .. }) => *leg_mm = value,
            (Self::Mass | Self::Arm | Self::Leg, SurveyFile::Men | SurveyFile::Women) => {}
        }
    }
}

/// The person of a yard as a form shows them: the yard's own, or the average that stands there without one.
pub fn person_of(yard: &Yard) -> PersonFile {
    yard.file().person.clone().unwrap_or_else(|| PersonFile::from(yard.person()))
}

/// Whose means stand in for what is not the person's own.
pub const fn people_of(person: &PersonFile) -> PeopleFile {
    match person.survey {
        SurveyFile::Men => PeopleFile::Men,
        SurveyFile::Women => PeopleFile::Women,
        SurveyFile::Own { of, .. } => of,
    }
}

/// True where mass, and perhaps arm and leg, are the person's own.
pub const fn has_own_measures(person: &PersonFile) -> bool {
    matches!(person.survey, SurveyFile::Own { .. })
}

/// Takes the means of another survey. A stature that is the mean of the one is then the mean of the other.
pub fn take_people(person: &mut PersonFile, people: PeopleFile) {
    let was = average(people_of(person));
    if (person.stature_mm - was.stature_mm).abs() < SAME_MM {
        person.stature_mm = average(people).stature_mm;
    }
    match &mut person.survey {
        SurveyFile::Own { of, .. } => *of = people,
        survey => *survey = plain(people),
    }
}

/// Begins own measures with the mass that stood there, or gives them up.
pub fn take_own_measures(person: &mut PersonFile, own: bool) {
    let of = people_of(person);
    person.survey = match (own, person.survey) {
        (true, SurveyFile::Men | SurveyFile::Women) => {
            let mass = Person::try_from(&*person).map_or_else(|_| Person::default().mass(), |it| it.mass());
            SurveyFile::Own { of, mass_kg: whole_tenths(mass.as_kg()), arm_mm: None, leg_mm: None }
        }
        (true, own @ SurveyFile::Own { .. }) => own,
        (false, _) => plain(of),
    };
}

/// The person, or every reason against it.
///
/// # Errors
/// Each field that is out of its range.
pub fn checked(person: &PersonFile) -> Result<Person, Vec<Fault>> {
    Person::try_from(person)
}

/// Two statures closer than this are one, mm.
const SAME_MM: f64 = 0.5;

const fn plain(people: PeopleFile) -> SurveyFile {
    match people {
        PeopleFile::Men => SurveyFile::Men,
        PeopleFile::Women => SurveyFile::Women,
    }
}

fn whole_tenths(value: f64) -> f64 {
    format::tidy((value * 10.0).round() / 10.0)
}

/// The mean of a survey.
fn average(people: PeopleFile) -> PersonFile {
    let mean = People::from(people).measures();
    let stature_mm = format::tidy(Length::from_m(mean.stature_m).as_mm());
    PersonFile { stature_mm, survey: plain(people), ..PersonFile::from(&Person::default()) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use barpoise_core::file::demo;

    fn average_man() -> PersonFile {
        let yard = demo().unwrap();
        assert!(!yard.has_person());
        person_of(&yard)
    }

    #[test]
    fn an_average_stays_one_when_the_survey_changes_and_a_stature_of_ones_own_stays() {
        let mut person = average_man();
        take_people(&mut person, PeopleFile::Women);
        assert!(checked(&person).unwrap().is_average());
        assert_eq!(person.survey, SurveyFile::Women);
        take_people(&mut person, PeopleFile::Men);
        assert_eq!(person, average_man());
        PersonField::Stature.put(&mut person, Some(1700.0));
        take_people(&mut person, PeopleFile::Women);
        assert_eq!(PersonField::Stature.value(&person), Some(1700.0));
    }

    #[test]
    fn own_measures_begin_with_the_mass_that_stood_there() {
        let mut person = average_man();
        assert!(!PersonField::Mass.applies(&person));
        PersonField::Mass.put(&mut person, Some(70.0));
        assert_eq!(person, average_man(), "what does not apply is not put");
        take_own_measures(&mut person, true);
        assert_eq!(PersonField::Mass.value(&person), Some(85.5));
        take_people(&mut person, PeopleFile::Women);
        assert_eq!((people_of(&person), PersonField::Mass.value(&person)), (PeopleFile::Women, Some(85.5)));
        PersonField::Arm.put(&mut person, Some(610.0));
        take_own_measures(&mut person, true);
        assert_eq!(PersonField::Arm.value(&person), Some(610.0), "asked again it changes nothing");
        PersonField::Arm.put(&mut person, None);
        assert_eq!(PersonField::Arm.value(&person), None);
        take_own_measures(&mut person, false);
        assert_eq!(person.survey, SurveyFile::Women);
    }

    #[test]
    fn every_field_takes_the_ends_of_its_range_and_tells_what_is_beyond() {
        let mut own = average_man();
        take_own_measures(&mut own, true);
        for field in PersonField::ALL {
            assert!(field.applies(&own));
            let range = field.range();
            for end in [range.min, range.max] {
                let mut person = own.clone();
                field.put(&mut person, Some(end));
                assert_eq!(field.value(&person), Some(end));
                assert!(checked(&person).is_ok(), "{field:?} {end}");
            }
            let mut person = own.clone();
            field.put(&mut person, Some(range.max + 1.0));
            let faults = checked(&person).unwrap_err();
            let paths: Vec<&str> = faults.iter().map(|fault| fault.path.as_str()).collect();
            assert_eq!(paths, [format!("person.{}", field.path())]);
        }
    }
}
