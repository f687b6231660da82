//! The person in the yard, checked.

use crate::fault::{Checker, Fault};
use crate::person::{People, Person, Survey, ranges};
use crate::record::{PeopleFile, PersonFile, SurveyFile};
use crate::units::{Angle, Length, Mass};

impl TryFrom<&PersonFile> for Person {
    /// Each with its path from the top of the yard.
    type Error = Vec<Fault>;

    /// Every field out of its range is a fault.
    fn try_from(file: &PersonFile) -> Result<Self, Vec<Fault>> {
        let mut check = Checker::new("person", "person");
        let stature = check.number("stature_mm", &ranges::STATURE, file.stature_mm);
        let percentile =
            check.number("strength_percentile", &ranges::STRENGTH_PERCENTILE, file.strength_percentile);
        let slope = check.number("slope_deg", &ranges::SLOPE, file.slope_deg);
        let survey = checked_survey(&mut check, &file.survey);
        check.finish(())?;
        Self::new(Length::from_mm(stature), survey)
            .and_then(|person| person.with_strength_percentile(percentile))
            .and_then(|person| person.with_kneeling(file.can_kneel).with_slope(Angle::from_deg(slope)))
            .map_err(|fault| vec![Fault { path: format!("person.{}", fault.path), ..fault }])
    }
}

fn checked_survey(check: &mut Checker, file: &SurveyFile) -> Survey {
    match *file {
        SurveyFile::Men => Survey::Men,
        SurveyFile::Women => Survey::Women,
        SurveyFile::Own { of, mass_kg, arm_mm, leg_mm } => {
            let mut length = |field, range, value: Option<f64>| {
                value.map(|value| Length::from_mm(check.number(field, range, value)))
            };
            let arm = length("survey.arm_mm", &ranges::ARM, arm_mm);
            let leg = length("survey.leg_mm", &ranges::LEG, leg_mm);
            let mass = Mass::from_kg(check.number("survey.mass_kg", &ranges::BODY_MASS, mass_kg));
            Survey::Own { people: of.into(), mass, arm, leg }
        }
    }
}

impl From<PeopleFile> for People {
    fn from(file: PeopleFile) -> Self {
        match file {
            PeopleFile::Men => Self::Men,
            PeopleFile::Women => Self::Women,
        }
    }
}

impl From<People> for PeopleFile {
    fn from(people: People) -> Self {
        match people {
            People::Men => Self::Men,
            People::Women => Self::Women,
        }
    }
}

impl From<&Person> for PersonFile {
    /// As a file writes this person, without a note.
    fn from(person: &Person) -> Self {
        let mm = |length: Length| tidy(length.as_mm());
        Self {
            note: String::new(),
            stature_mm: mm(person.stature()),
            survey: match person.survey() {
                Survey::Men => SurveyFile::Men,
                Survey::Women => SurveyFile::Women,
                Survey::Own { people, mass, arm, leg } => SurveyFile::Own {
                    of: people.into(),
                    mass_kg: tidy(mass.as_kg()),
                    arm_mm: arm.map(mm),
                    leg_mm: leg.map(mm),
                },
            },
            strength_percentile: person.strength_percentile(),
            can_kneel: person.can_kneel(),
            slope_deg: tidy(person.slope().as_deg()),
        }
    }
}

/// Without the last digits that a change of unit leaves behind.
fn tidy(value: f64) -> f64 {
    const STEPS: f64 = 1e6;
    (value * STEPS).round() / STEPS
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Yard;
    use crate::file::{demo, demo_text, parse_yard};
    use crate::record::YardFile;
    use proptest::prelude::*;

    fn with(person: PersonFile) -> YardFile {
        YardFile { person: Some(person), ..demo().unwrap().file().clone() }
    }

    #[test]
    fn a_yard_without_a_person_has_an_average_that_says_so() {
        let yard = demo().unwrap();
        assert!(!yard.has_person());
        assert_eq!(*yard.person(), Person::default());
        assert!(yard.person().words().contains("not you"), "{}", yard.person().words());
    }

    #[test]
    fn the_yards_person_cuts_its_woods() {
        let woman = Person::new(Length::from_mm(1640.0), Survey::Women).unwrap();
        let woman = woman.with_slope(Angle::from_deg(8.0)).unwrap();
        let written = Yard::new(with(PersonFile::from(&woman))).unwrap();
        let put = demo().unwrap().with_person(woman);
        assert_eq!(put.file().person, written.file().person);
        for yard in [put, written] {
            for wood in yard.woods() {
                let job = wood.job(Length::from_mm(300.0), crate::log::Stand::OneSide, true).unwrap();
                assert_eq!((job.person(), wood.person()), (yard.person(), yard.person()));
                assert!((job.person().slope().as_deg() - 8.0).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn what_is_left_out_is_middling_strength_a_knee_that_bends_and_level_ground() {
        let text = demo_text().replacen(
            "powerheads: [",
            "person: (stature_mm: 1640, survey: Women),\n powerheads: [",
            1,
        );
        let yard = parse_yard(&text, "woman.ron").unwrap();
        let woman = Person::new(Length::from_mm(1640.0), Survey::Women).unwrap();
        assert!(yard.has_person());
        assert_eq!(*yard.person(), woman);
        let own = "person: (stature_mm: 1640, survey: Own(of: Women, mass_kg: 71), strength_percentile: 40, \
                   can_kneel: false, slope_deg: -6),\n powerheads: [";
        let yard = parse_yard(&demo_text().replacen("powerheads: [", own, 1), "own.ron").unwrap();
        let person = yard.person();
        assert!((person.mass().as_kg() - 71.0).abs() < 1e-9 && person.people() == People::Women);
        assert!((person.slope().as_deg() + 6.0).abs() < 1e-9 && !person.can_kneel());
        assert!((person.strength_percentile() - 40.0).abs() < 1e-9);
    }

    #[test]
    fn the_demos_example_of_a_person_is_one_once_it_is_no_comment() {
        let lines: Vec<&str> = demo_text()
            .lines()
            .skip_while(|line| !line.contains("// person: ("))
            .take_while(|line| line.trim_start().starts_with("//"))
            .collect();
        assert!(!lines.is_empty(), "the demo shows how a person is written");
        let example = lines.join("\n");
        let plain: Vec<&str> = lines.iter().map(|line| line.trim_start().trim_start_matches("//")).collect();
        let text = demo_text().replacen(&example, &plain.join("\n"), 1);
        let yard = parse_yard(&text, "with a person.ron").unwrap();
        assert!(yard.has_person(), "{}", plain.join("\n"));
        let note = &yard.file().person.as_ref().unwrap().note;
        assert!(note.contains("invented"), "{note}");
    }

    #[test]
    fn each_number_out_of_its_range_is_told_at_its_field() {
        let own = |mass_kg, arm_mm, leg_mm| SurveyFile::Own { of: PeopleFile::Men, mass_kg, arm_mm, leg_mm };
        let person = PersonFile {
            stature_mm: 175.0,
            survey: own(8.5, Some(60.0), Some(f64::NAN)),
            strength_percentile: 0.5,
            slope_deg: 40.0,
            ..PersonFile::from(&Person::default())
        };
        let faults = Yard::new(with(person)).unwrap_err();
        let paths: Vec<&str> = faults.iter().map(|fault| fault.path.as_str()).collect();
        let wanted = [
            "person.stature_mm",
            "person.strength_percentile",
            "person.slope_deg",
            "person.survey.arm_mm",
            "person.survey.leg_mm",
            "person.survey.mass_kg",
        ];
        assert_eq!(paths, wanted);
        assert_eq!(faults[0].message, "person: stature 175 mm is outside 1300…2200 mm");
    }

    #[test]
    fn version_1_has_no_person() {
        let file = YardFile { version: 1, woods: Vec::new(), ..with(PersonFile::from(&Person::default())) };
        let faults = Yard::new(file).unwrap_err();
        assert!(faults.iter().any(|fault| fault.path == "person"), "{faults:?}");
    }

    fn within(range: &'static crate::Range) -> impl Strategy<Value = f64> {
        prop_oneof![4 => range.min..=range.max, 1 => Just(range.min), 1 => Just(range.max)]
    }

    fn own() -> impl Strategy<Value = Survey> {
        let length = |range| prop::option::of(within(range).prop_map(Length::from_mm));
        let people = prop_oneof![Just(People::Men), Just(People::Women)];
        (people, within(&ranges::BODY_MASS), length(&ranges::ARM), length(&ranges::LEG))
            .prop_map(|(people, kg, arm, leg)| Survey::Own { people, mass: Mass::from_kg(kg), arm, leg })
    }

    proptest! {
        #[test]
        fn law_a_person_comes_back_from_their_file(
            stature in within(&ranges::STATURE),
            survey in prop_oneof![Just(Survey::Men), Just(Survey::Women), own()],
            percentile in within(&ranges::STRENGTH_PERCENTILE),
            kneels: bool,
            slope in within(&ranges::SLOPE),
        ) {
            let person = Person::new(Length::from_mm(stature), survey).unwrap();
            let person = person.with_strength_percentile(percentile).unwrap().with_kneeling(kneels);
            let person = person.with_slope(Angle::from_deg(slope)).unwrap();
            let back = Person::try_from(&PersonFile::from(&person)).unwrap();
            prop_assert!((back.stature() - person.stature()).abs().as_mm() < 1e-5);
            prop_assert!((back.mass() - person.mass()).abs().as_kg() < 1e-5);
            prop_assert!((back.slope() - person.slope()).abs().as_deg() < 1e-5);
            prop_assert_eq!(back.people(), person.people());
            prop_assert_eq!(back.can_kneel(), person.can_kneel());
            prop_assert!((back.strength_percentile() - person.strength_percentile()).abs() < 1e-9);
            // Written once, it stays as it is.
            let file = PersonFile::from(&back);
            let again = PersonFile::from(&Person::try_from(&file).unwrap());
            prop_assert_eq!(again, file);
        }
    }
}
