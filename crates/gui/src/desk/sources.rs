//! Where the numbers come from that nobody measured: what each is, how large, and its mark, by what it is used for.

use crate::desk::document::{FIRST_LIMITS, HANG_LIMIT};
use crate::desk::format::{self, LengthUnit, MassUnit, Units};
use crate::desk::lesson::GUESS_ASSUMPTIONS;
use barpoise_core::lesson::CAST_ASSUMPTIONS;
use barpoise_core::log::{CUT_ASSUMPTIONS, SNAG_ASSUMPTIONS};
use barpoise_core::person::hold::HOLD_MARKS;
use barpoise_core::person::{LEVEL_ASSUMPTIONS, POSE_ASSUMPTIONS};
use barpoise_core::photograph::assumed::PHOTOGRAPH_ASSUMPTIONS;
use barpoise_core::propose::PROPOSED_ASSUMPTIONS;
use barpoise_core::rack::CHOICE_ASSUMPTIONS;
use barpoise_core::saw::SAW_ASSUMPTIONS;
use barpoise_core::units::{Length, Mass};
use barpoise_core::weigh_in::ASSUMED_MARK;
use barpoise_core::yard::READING_ASSUMPTIONS;
use barpoise_core::{Assumption, Mark, Size};

/// What it is called wherever it stands.
pub const HEADING: &str = "Where the numbers come from";

/// What assumed numbers are used for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Topic {
    /// The figures of a setup.
    Saw,
    /// What holding it takes of a person.
    Hold,
    /// How a person stands to a log.
    Pose,
    /// How a log is cut.
    Cut,
    /// Two setups compared by a snagged chain.
    Snag,
    /// Setups over a wood.
    Choice,
    /// Parts that nobody measured.
    Proposed,
    /// Readings, and what is known before them.
    Reading,
    /// A photograph.
    Photograph,
    /// What a guess is told.
    Guess,
}

impl Topic {
    /// Every one.
    pub const ALL: [Self; 10] = [
        Self::Saw,
        Self::Hold,
        Self::Pose,
        Self::Cut,
        Self::Snag,
        Self::Choice,
        Self::Proposed,
        Self::Reading,
        Self::Photograph,
        Self::Guess,
    ];
    /// What the figures of the bench rest on.
    pub const BENCH: [Self; 3] = [Self::Saw, Self::Hold, Self::Proposed];
    /// What a cut rests on.
    pub const LOG: [Self; 4] = [Self::Cut, Self::Pose, Self::Hold, Self::Snag];
    /// What a choice rests on.
    pub const RACK: [Self; 5] = [Self::Choice, Self::Cut, Self::Pose, Self::Hold, Self::Reading];

    /// What it is called.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Saw => "The figures of a setup",
            Self::Hold => "What holding takes",
            Self::Pose => "How a person stands to a log",
            Self::Cut => "How a log is cut",
            Self::Snag => "A snagged chain",
            Self::Choice => "Which setup goes on",
            Self::Proposed => "Parts that nobody measured",
            Self::Reading => "Readings",
            Self::Photograph => "A photograph",
            Self::Guess => "Guesses and players in a lesson",
        }
    }

    /// Every number that is assumed for it.
    pub fn assumptions(self) -> Vec<Assumption> {
        match self {
            Self::Saw => [&SAW_ASSUMPTIONS[..], &HANG_LIMIT].concat(),
            Self::Hold => [&LEVEL_ASSUMPTIONS[..], &HOLD_MARKS.list()].concat(),
            Self::Pose => POSE_ASSUMPTIONS.to_vec(),
            Self::Cut => CUT_ASSUMPTIONS.to_vec(),
            Self::Snag => SNAG_ASSUMPTIONS.to_vec(),
            Self::Choice => [&CHOICE_ASSUMPTIONS[..], &FIRST_LIMITS].concat(),
            Self::Proposed => PROPOSED_ASSUMPTIONS.to_vec(),
            Self::Reading => [&READING_ASSUMPTIONS[..], &KNOWN_BEFORE].concat(),
            Self::Photograph => PHOTOGRAPH_ASSUMPTIONS.to_vec(),
            Self::Guess => [&GUESS_ASSUMPTIONS[..], &CAST_ASSUMPTIONS].concat(),
        }
    }
}

/// What the weigh-in takes where neither file nor reading says it.
const KNOWN_BEFORE: [Assumption; 2] = [
    Assumption {
        what: "± of what was read off a part or typed, before any reading",
        size: Size::Many,
        mark: ASSUMED_MARK,
    },
    Assumption::guess("how far off a reading is questioned, and which slip would explain it", Size::Many),
];

/// A number with what it is: `kerf 7.5 mm`.
pub fn named(units: Units, of: &Assumption) -> String {
    size(units, of.size).map_or_else(|| of.what.to_owned(), |size| format!("{} {size}", of.what))
}

/// The same with its mark: `kerf 7.5 mm: our guess`.
pub fn line(units: Units, of: &Assumption) -> String {
    format!("{}: {}", named(units, of), brief(of.mark))
}

/// The word alone where there is no source, and the source where there is one.
fn brief(mark: Mark) -> String {
    if mark.source().is_some() { mark.to_string() } else { mark.words().to_owned() }
}

/// All of some topics in few paragraphs, one for each mark, the guesses first: `Our guess: kerf 7.5 mm; …`.
pub fn by_mark(units: Units, topics: &[Topic]) -> Vec<String> {
    let mut said: Vec<(Mark, Vec<String>)> = Vec::new();
    let mut all: Vec<Assumption> = Vec::new();
    for of in topics.iter().flat_map(|topic| topic.assumptions()) {
        if !all.contains(&of) {
            all.push(of);
        }
    }
    all.sort_by_key(|of| (of.mark.source().is_some(), of.mark.words() != Mark::OurGuess.words()));
    for of in &all {
        match said.iter_mut().find(|(mark, _)| *mark == of.mark) {
            Some((_, named_so)) => named_so.push(named(units, of)),
            None => said.push((of.mark, vec![named(units, of)])),
        }
    }
    let paragraph = |(mark, named): (Mark, Vec<String>)| format!("{}: {}.", brief(mark), named.join("; "));
    said.into_iter().map(paragraph).collect()
}

/// A topic in a line, where there is no room for its numbers: `How a person stands to a log: 5 published, 22 our guess`.
pub fn counted(topic: Topic) -> String {
    let all = topic.assumptions();
    let of = |word: &str| all.iter().filter(|of| of.mark.words() == word).count();
    let words = [Mark::Published(""), Mark::CommonPractice, Mark::OurGuess].map(Mark::words);
    let counts: Vec<String> = words
        .into_iter()
        .map(|word| (of(word), word))
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| format!("{count} {word}"))
        .collect();
    format!("{}: {}", topic.words(), counts.join(", "))
}

/// How large it is, in the units that were chosen.
fn size(units: Units, size: Size) -> Option<String> {
    let digits = |value: f64| if value.abs() < 1.0 { 3 } else { 1 };
    let shown = |value: f64, unit: &str| format::trimmed(value, digits(value), unit);
    Some(match size {
        Size::Length(m) => {
            let length = Length::from_m(m);
            match units.length {
                LengthUnit::Mm => shown(length.as_mm(), "mm"),
                LengthUnit::In => format::trimmed(length.as_in(), 2, "in"),
            }
        }
        Size::Angle(rad) => format::trimmed(rad.to_degrees(), 1, "°"),
        Size::Mass(kg) => {
            let mass = Mass::from_kg(kg);
            match units.mass {
                MassUnit::Kg => shown(mass.as_kg(), "kg"),
                MassUnit::Lb => format::trimmed(mass.as_lb(), 2, "lb"),
            }
        }
        Size::Time(s) if s < 1.0 => shown(s, "s"),
        Size::Time(s) => format::work_time(s),
        Size::Share(share) => format::trimmed(100.0 * share, 1, "%"),
        Size::Count(count) => count.to_string(),
        Size::In(value, unit) if value.abs() < 10.0 => format::trimmed(value, 4, unit),
        Size::In(value, unit) => format::trimmed(value, 1, unit),
        Size::Many => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_assumption_is_said_once_in_its_topic_and_none_rounds_to_nothing() {
        for topic in Topic::ALL {
            let lines: Vec<String> =
                topic.assumptions().iter().map(|of| line(Units::default(), of)).collect();
            assert!(lines.len() > 2, "{topic:?}");
            for (at, line) in lines.iter().enumerate() {
                assert!(!lines[at + 1..].contains(line), "{topic:?}: {line} twice");
                let mark = line.rsplit(": ").find(|part| {
                    ["published", "common practice", "our guess"].iter().any(|word| part.ends_with(word))
                });
                assert!(mark.is_some(), "{line}");
                assert!(!line.contains(" 0 ") && !line.contains(" 0:"), "{line}");
            }
        }
    }

    #[test]
    fn sizes_are_said_in_the_units_that_were_chosen() {
        let inches = Units { length: LengthUnit::In, mass: MassUnit::Lb, ..Units::default() };
        let said = |units, of: Size| size(units, of).unwrap();
        assert_eq!(said(Units::default(), Size::Length(0.0075)), "7.5 mm");
        assert_eq!(said(inches, Size::Length(0.0254)), "1 in");
        assert_eq!(said(inches, Size::Mass(0.453_592_37)), "1 lb");
        assert_eq!(said(Units::default(), Size::Share(0.9)), "90 %");
        assert_eq!(said(Units::default(), Size::Angle(75.0_f64.to_radians())), "75°");
        assert_eq!(said(Units::default(), Size::Time(0.02)), "0.02 s");
        assert_eq!(said(Units::default(), Size::In(0.0385, "g/mm³")), "0.0385 g/mm³");
        assert_eq!(size(Units::default(), Size::Many), None);
    }

    #[test]
    fn a_topic_in_a_line_counts_all_of_its_numbers() {
        for topic in Topic::ALL {
            let said = counted(topic);
            let counts =
                said.split(|c: char| !c.is_ascii_digit()).filter_map(|count| count.parse::<usize>().ok());
            assert_eq!(counts.sum::<usize>(), topic.assumptions().len(), "{said}");
        }
    }

    #[test]
    fn one_paragraph_for_each_mark_holds_all_of_its_numbers() {
        let said = by_mark(Units::default(), &Topic::LOG);
        for of in Topic::LOG.iter().flat_map(|topic| topic.assumptions()) {
            let here: Vec<&String> =
                said.iter().filter(|said| said.contains(&named(Units::default(), &of))).collect();
            assert!(here.iter().any(|said| said.starts_with(&brief(of.mark))), "{}", of.what);
        }
        assert!(said.first().unwrap().starts_with("our guess: "), "{said:?}");
    }
}
