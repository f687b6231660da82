//! The person that a plan is made for: options of every command that plans.

use super::CliError;
use crate::desk::format::tidy;
use crate::desk::forms::person::{PersonField, checked, person_of, take_own_measures, take_people};
use barpoise_core::measure_text::{read_angle, read_in, read_length, read_mass};
use barpoise_core::person::ranges;
use barpoise_core::record::PeopleFile;
use barpoise_core::units::{Length, Mass};
use barpoise_core::{Range, Yard};
use clap::{Args as ClapArgs, ValueEnum};

const HEADING: &str =
    "Person, in the place of the yard's [default: the yard's; an average man where it has none]";

/// What is said of the person; what is not said is the yard's.
#[derive(Clone, Debug, Default, PartialEq, ClapArgs)]
pub(super) struct PersonArgs {
    /// Stature, barefoot, such as 1690mm, 169 cm, 66.5 in
    #[arg(long, value_name = "LENGTH", value_parser = stature, allow_hyphen_values = true, help_heading = HEADING)]
    stature: Option<f64>,
    /// Whose means stand in for what is not the person's own
    #[arg(long, value_enum, help_heading = HEADING)]
    survey: Option<People>,
    /// Body mass, such as 71kg or 156lb
    #[arg(long, value_name = "MASS", value_parser = mass, allow_hyphen_values = true, help_heading = HEADING)]
    body_mass: Option<f64>,
    /// Whether they kneel on one knee
    #[arg(long, value_enum, help_heading = HEADING)]
    kneel: Option<YesNo>,
    /// Strength: how many of a hundred such people are weaker, 1 to 99
    #[arg(long, value_name = "PERCENT", value_parser = strength, allow_hyphen_values = true, help_heading = HEADING)]
    strength: Option<f64>,
    /// Slope of the ground across the log; positive where it rises from the near to the far side
    #[arg(long, value_name = "ANGLE", value_parser = slope, allow_hyphen_values = true, help_heading = HEADING)]
    slope: Option<f64>,
}

impl PersonArgs {
    /// The yard with its person as asked.
    ///
    /// # Errors
    /// Where what is asked does not go with what the yard says of its person.
    pub(super) fn put_into(&self, yard: Yard) -> Result<Yard, CliError> {
        if *self == Self::default() {
            return Ok(yard);
        }
        let mut person = person_of(&yard);
        if let Some(survey) = self.survey {
            take_people(&mut person, survey.people());
        }
        if self.body_mass.is_some() {
            take_own_measures(&mut person, true);
        }
        let numbers = [
            (PersonField::Stature, self.stature),
            (PersonField::Mass, self.body_mass),
            (PersonField::Strength, self.strength),
            (PersonField::Slope, self.slope),
        ];
        for (field, value) in numbers.into_iter().filter(|(_, value)| value.is_some()) {
            field.put(&mut person, value);
        }
        person.can_kneel = self.kneel.map_or(person.can_kneel, |kneel| kneel == YesNo::Yes);
        let first = |faults: Vec<barpoise_core::Fault>| {
            CliError::Cut(faults.into_iter().next().map_or_else(String::new, |fault| fault.message))
        };
        Ok(yard.with_person(checked(&person).map_err(first)?))
    }
}

/// A survey of body measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum People {
    /// Men
    Men,
    /// Women
    Women,
}

impl People {
    const fn people(self) -> PeopleFile {
        match self {
            Self::Men => PeopleFile::Men,
            Self::Women => PeopleFile::Women,
        }
    }
}

/// Yes or no.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum YesNo {
    /// They do
    Yes,
    /// They do not
    No,
}

fn stature(text: &str) -> Result<f64, String> {
    let length = read_length(text, Length::from_mm).map_err(|error| error.to_string());
    within(length.map(Length::as_mm), &ranges::STATURE)
}

fn mass(text: &str) -> Result<f64, String> {
    let mass = read_mass(text, Mass::from_kg).map_err(|error| error.to_string());
    within(mass.map(Mass::as_kg), &ranges::BODY_MASS)
}

fn strength(text: &str) -> Result<f64, String> {
    within(read_in(text, "%").map_err(|error| error.to_string()), &ranges::STRENGTH_PERCENTILE)
}

fn slope(text: &str) -> Result<f64, String> {
    let angle = read_angle(text).map_err(|error| error.to_string());
    within(angle.map(|angle| angle.as_deg()), &ranges::SLOPE)
}

fn within(value: Result<f64, String>, range: &Range) -> Result<f64, String> {
    let allowed = format!("{} is {}…{} {}", range.what, range.min, range.max, range.unit);
    let value = tidy(value.map_err(|error| format!("{error}; {allowed}"))?);
    range.refusal(value).map_or(Ok(value), Err)
}
