//! Guesses that were kept, by whom and of what, until they are taken out as a table or on a sheet.

use super::{Guess, Stage};
use crate::desk::cautioned;
use crate::desk::format::Units;
use barpoise_core::lesson::{Among, Choice, Guessed, Step};
use barpoise_core::units::{Angle, Length};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A class that gives no names is asked by where it sits.
pub const ROWS: [&str; 3] = ["front", "middle", "back"];
/// More names than this cannot be told apart on a scale.
const MOST_NAMES: usize = 24;
const LONGEST_NAME: usize = 24;

/// A guess as it is kept.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum Kept {
    /// A value of what is guessed, SI.
    Value(f64),
    /// An answer, from 0.
    Answer(usize),
}

/// What was asked in one step, and what was said.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Asked {
    /// What the step is about.
    pub heading: String,
    /// The setups it shows.
    pub setups: Vec<String>,
    /// The measure that is guessed; none where answers are chosen from.
    pub of: Option<Guessed>,
    /// The answers that are chosen from.
    pub answers: Vec<String>,
    /// By whom, in the order in which they were kept, each once.
    pub said: Vec<(String, Kept)>,
    /// What is right; none until it is told.
    pub right: Option<Kept>,
}

/// Whose turn it is, and what was kept.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct GuessRecord {
    names: Vec<String>,
    turn: usize,
    asked: BTreeMap<usize, Asked>,
}

impl Asked {
    /// A step that has been asked of nobody yet.
    pub fn of_step(step: &Step, stage: &Stage) -> Self {
        let setups = stage.names();
        let answers = step.choose.as_ref().map_or_else(Vec::new, |choose| answers(choose, &setups));
        Self { heading: step.heading.clone(), setups, of: step.guess, answers, said: Vec::new(), right: None }
    }

    /// How many chose this answer.
    pub fn votes(&self, answer: usize) -> usize {
        self.said.iter().filter(|(_, kept)| *kept == Kept::Answer(answer)).count()
    }
}

/// What is chosen from, in words.
pub fn answers(choose: &Choice, setups: &[String]) -> Vec<String> {
    match &choose.among {
        Among::Answers { said, .. } => said.clone(),
        Among::Setups { .. } => setups.to_vec(),
    }
}

/// The right one of the answers; none where the yard has no such figure.
pub fn right_answer(choose: &Choice, stage: &Stage) -> Option<usize> {
    match choose.among {
        Among::Answers { right, .. } => Some(right),
        Among::Setups { most } => {
            let values: Option<Vec<f64>> =
                stage.setups().map(|figures| Guess::truth(most, figures.solved())).collect();
            let values = values?.into_iter().enumerate();
            values.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(index, _)| index)
        }
    }
}

impl GuessRecord {
    /// Who guesses; nobody by name where one person does.
    pub fn names(&self) -> &[String] {
        &self.names
    }

    /// Takes names from a text that parts them by commas; blank ones and those that stand there already are left out.
    pub fn name_them(&mut self, text: &str) {
        let mut names: Vec<String> = Vec::new();
        for name in text.split([',', ';', '\n']).map(str::trim) {
            let name: String =
                name.chars().filter(|letter| !letter.is_control()).take(LONGEST_NAME).collect();
            if !name.is_empty() && !names.contains(&name) && names.len() < MOST_NAMES {
                names.push(name);
            }
        }
        self.names = names;
        self.turn = 0;
    }

    /// Whose turn it is; empty where nobody has a name.
    pub fn whose_turn(&self) -> &str {
        self.names.get(self.turn).map_or("", String::as_str)
    }

    /// Gives the turn to one of the names.
    pub fn turn_to(&mut self, name: usize) {
        self.turn = name.min(self.names.len().saturating_sub(1));
    }

    /// What was kept of a step.
    pub fn asked(&self, step: usize) -> Option<&Asked> {
        self.asked.get(&step)
    }

    /// What was kept of all steps, in their order.
    pub fn all(&self) -> impl Iterator<Item = (usize, &Asked)> {
        self.asked.iter().map(|(step, asked)| (*step, asked))
    }

    /// True where nothing was kept.
    pub fn is_empty(&self) -> bool {
        self.asked.is_empty()
    }

    /// Keeps what the one says whose turn it is, in the place of what they said before, and gives the turn on to the next
    /// who has said nothing here.
    pub fn keep(&mut self, step: usize, begun: impl FnOnce() -> Asked, said: Kept) {
        let who = self.whose_turn().to_owned();
        let asked = self.asked.entry(step).or_insert_with(begun);
        match asked.said.iter_mut().find(|(name, _)| *name == who) {
            Some((_, kept)) => *kept = said,
            None => asked.said.push((who, said)),
        }
        let silent = |name: &String| !asked.said.iter().any(|(who, _)| who == name);
        let after = (1..self.names.len()).map(|step| (self.turn + step) % self.names.len());
        let mut after = after.filter(|index| self.names.get(*index).is_some_and(silent));
        if let Some(next) = after.next() {
            self.turn = next;
        }
    }

    /// Notes what is right in a step, now that it is told, and begins with the first name again.
    pub fn tell(&mut self, step: usize, right: Option<Kept>) {
        if let Some(asked) = self.asked.get_mut(&step) {
            asked.right = right;
        }
        self.turn = 0;
    }

    /// Forgets a step, to ask it again.
    pub fn forget(&mut self, step: usize) {
        self.asked.remove(&step);
        self.turn = 0;
    }

    /// Leaves what was kept of steps that still are what they were.
    pub fn only(&mut self, is: impl Fn(usize, &Asked) -> bool) {
        self.asked.retain(|step, asked| is(*step, asked));
    }

    /// Forgets all that was said; names stay.
    pub fn clear(&mut self) {
        self.asked.clear();
        self.turn = 0;
    }

    /// As CSV, numbers in SI with their unit beside them; the cautions are its last line.
    ///
    /// # Errors
    /// Where the writer fails.
    pub fn csv(&self) -> Result<String, String> {
        cautioned::csv(self.all().flat_map(|(step, asked)| rows(step, asked)))
    }
}

#[derive(Debug, Serialize)]
struct Row<'a> {
    step: usize,
    heading: &'a str,
    setups: String,
    guessed: &'static str,
    name: &'a str,
    guess: String,
    answer: Option<String>,
    off: Option<f64>,
    unit: &'static str,
}

fn rows(step: usize, asked: &Asked) -> impl Iterator<Item = Row<'_>> {
    asked.said.iter().map(move |(name, kept)| {
        let said = |kept: &Kept| match kept {
            Kept::Value(value) => value.to_string(),
            Kept::Answer(answer) => asked.answers.get(*answer).cloned().unwrap_or_default(),
        };
        let off = match (kept, asked.right) {
            (Kept::Value(guess), Some(Kept::Value(right))) => Some(guess - right),
            _ => None,
        };
        Row {
            step: step + 1,
            heading: &asked.heading,
            setups: asked.setups.join(", "),
            guessed: asked.of.map_or("choice", measure),
            name,
            guess: said(kept),
            answer: asked.right.as_ref().map(said),
            off,
            unit: asked.of.map_or("", unit),
        }
    })
}

/// What is guessed, in the trade's words.
pub const fn measure(of: Guessed) -> &'static str {
    match of {
        Guessed::Hang => "hang, nose down",
        Guessed::Reach => "reach past the spikes",
        Guessed::Weight => "weight ready to work",
        Guessed::FrontHand => "load in the front hand",
        Guessed::Tip => "tip ahead of the front hand",
    }
}

const fn unit(of: Guessed) -> &'static str {
    match of {
        Guessed::Hang => "rad",
        Guessed::Reach | Guessed::Tip => "m",
        Guessed::Weight => "kg",
        Guessed::FrontHand => "N",
    }
}

/// What one said, and how far off that was once it is told: `front 7.0 kg`, `back 7.5 kg, 1.1 kg too little`.
pub fn said_words(asked: &Asked, name: &str, kept: &Kept, units: Units) -> String {
    let lead = if name.is_empty() { String::new() } else { format!("{name} ") };
    match (kept, asked.of) {
        (Kept::Value(value), Some(of)) => {
            let shown = Guess::shown(of, *value, units);
            let off = match asked.right {
                Some(Kept::Value(right)) => format!(", {}", off_words(of, value - right, units)),
                _ => String::new(),
            };
            format!("{lead}{shown}{off}")
        }
        (Kept::Answer(answer), _) => {
            let said = asked.answers.get(*answer).map_or("", String::as_str);
            let right = match asked.right {
                Some(right) if right == *kept => ", right",
                Some(_) => ", not so",
                None => "",
            };
            format!("{lead}{said}{right}")
        }
        (Kept::Value(_), None) => String::new(),
    }
}

fn off_words(of: Guessed, off: f64, units: Units) -> String {
    let size = off.abs();
    let apart = match of {
        Guessed::Hang => crate::desk::format::angle(Angle::from_rad(size)),
        Guessed::Reach | Guessed::Tip => units.length(Length::from_m(size)),
        Guessed::Weight | Guessed::FrontHand => Guess::shown(of, size, units),
    };
    format!("{apart} too {}", if off < 0.0 { "little" } else { "much" })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(of: Option<Guessed>, answers: &[&str]) -> Asked {
        Asked {
            heading: "What it weighs".to_owned(),
            setups: vec!["Bittern B24".to_owned()],
            of,
            answers: answers.iter().map(|answer| (*answer).to_owned()).collect(),
            said: Vec::new(),
            right: None,
        }
    }

    #[test]
    fn the_turn_goes_round_those_who_have_said_nothing() {
        let mut record = GuessRecord::default();
        record.name_them(" front, middle ,, back, front");
        assert_eq!(record.names(), ROWS);
        record.turn_to(1);
        for (who, next) in [("middle", "back"), ("back", "front"), ("front", "front")] {
            assert_eq!(record.whose_turn(), who);
            record.keep(0, || asked(Some(Guessed::Weight), &[]), Kept::Value(7.0));
            assert_eq!(record.whose_turn(), next);
        }
        record.keep(0, || unreachable!("it was asked"), Kept::Value(8.0));
        assert_eq!(record.asked(0).unwrap().said.len(), 3, "each says one thing");
        assert!(record.asked(0).unwrap().said.contains(&("front".to_owned(), Kept::Value(8.0))));
    }

    #[test]
    fn the_table_has_a_row_for_each_guess_and_reads_back() {
        let mut record = GuessRecord::default();
        record.name_them("=front, back");
        record.keep(2, || asked(Some(Guessed::Weight), &[]), Kept::Value(7.0));
        record.keep(2, || unreachable!("it was asked"), Kept::Value(9.0));
        record.tell(2, Some(Kept::Value(8.5)));
        record.keep(4, || asked(None, &["to the wood", "back at you"]), Kept::Answer(1));
        let text = record.csv().unwrap();
        let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
        let rows: Vec<Vec<String>> =
            reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect();
        assert_eq!(rows.len(), 3);
        assert_eq!(rows[0][4], "'=front", "no name is a formula");
        assert_eq!(rows[0][5..], ["7", "8.5", "-1.5", "kg"]);
        assert_eq!(rows[2][3..], ["choice", "'=front", "back at you", "", "", ""], "nothing is told yet");
        assert!(text.lines().last().unwrap().starts_with("# "), "{text}");
    }

    #[test]
    fn names_are_few_short_and_without_control_letters() {
        let mut record = GuessRecord::default();
        record.name_them(&"x\u{7}y".repeat(40));
        assert_eq!(record.names()[0].chars().count(), LONGEST_NAME);
        let many: Vec<String> = (0..100).map(|n| n.to_string()).collect();
        record.name_them(&many.join(","));
        assert_eq!(record.names().len(), MOST_NAMES);
    }
}
