//! Diameters as people have them: typed, pasted, or in a table.

use crate::fault::clipped;
use crate::log::limits;
use crate::measure_text::read_length;
use crate::ranges;
use crate::units::Length;
use crate::yard::LogCount;
use std::fmt;

const LONGEST_SHOWN: usize = 40;
/// Names of columns are listed up to this many characters.
const LONGEST_NAMES: usize = 200;

/// Why a line of diameters was refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DiameterFault {
    /// The line, from 1.
    pub line: usize,
    /// What is wrong with it.
    pub message: String,
}

impl fmt::Display for DiameterFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}: {}", self.line, self.message)
    }
}

impl std::error::Error for DiameterFault {}

/// Reads diameters with their counts: entries on lines of their own or after `;`. An entry is a diameter, and after
/// `x`, `×`, `*` or a tab how many cuts there are (1 where that is left out): `300 mm x 4`, `12 in × 5`, `45 cm`. An
/// entry of several bare numbers is as many diameters: `300 320 450`. A number without a unit is taken in `plain`.
///
/// # Errors
/// Every entry that is not understood or out of its range; nothing is read halfway.
///
/// ```
/// use barpoise_core::{rack::read_diameters, units::Length};
/// let logs = read_diameters("300 mm x 4\n45 cm; 280 310", Length::from_mm).unwrap();
/// assert_eq!(logs.iter().map(|log| log.cuts).collect::<Vec<_>>(), [4, 1, 1, 1]);
/// assert_eq!(read_diameters("12 kg", Length::from_mm).unwrap_err()[0].line, 1);
/// ```
pub fn read_diameters(text: &str, plain: fn(f64) -> Length) -> Result<Vec<LogCount>, Vec<DiameterFault>> {
    let (mut logs, mut faults) = (Vec::new(), Vec::new());
    for (index, line) in text.lines().enumerate() {
        for entry in line.split(';').map(str::trim).filter(|entry| !entry.is_empty()) {
            match read_entry(entry, plain) {
                Ok(found) => logs.extend(found),
                Err(message) => faults.push(DiameterFault { line: index + 1, message }),
            }
        }
    }
    if faults.is_empty() { Ok(logs) } else { Err(faults) }
}

fn read_entry(entry: &str, plain: fn(f64) -> Length) -> Result<Vec<LogCount>, String> {
    if let Some((diameter, cuts)) = entry.split_once(['x', 'X', '×', '*', '\t']) {
        return Ok(vec![LogCount { diameter: diameter_of(diameter, plain)?, cuts: count_of(cuts)? }]);
    }
    let words: Vec<&str> = entry.split_whitespace().collect();
    let bare = |word: &&str| word.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ','));
    if words.len() > 1 && words.iter().all(bare) {
        return words.into_iter().map(|word| one(diameter_of(word, plain)?)).collect();
    }
    Ok(vec![one(diameter_of(entry, plain)?)?])
}

const fn one(diameter: Length) -> Result<LogCount, String> {
    Ok(LogCount { diameter, cuts: 1 })
}

fn diameter_of(text: &str, plain: fn(f64) -> Length) -> Result<Length, String> {
    let length = read_length(text, plain).map_err(|error| error.to_string())?;
    match limits::LOG_DIAMETER.refusal(length.as_mm()) {
        Some(refusal) => Err(refusal),
        None => Ok(length),
    }
}

fn count_of(text: &str) -> Result<u32, String> {
    let text = text.trim();
    let count: u32 = text
        .parse()
        .map_err(|_| format!("`{}` is not a whole number of cuts", clipped(text, LONGEST_SHOWN)))?;
    match ranges::CUTS.refusal(f64::from(count)) {
        Some(refusal) => Err(refusal),
        None => Ok(count),
    }
}

/// A column of a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Column {
    /// By the name in its first line, whatever the case.
    Named(String),
    /// By its place from 1, in a table without names.
    Place(usize),
}

/// Reads diameters from a table with fields apart by commas, semicolons or tabs, whichever its first line has most of.
/// Where either column is named, the first line holds the names. Without a column of counts each row is one cut.
///
/// # Errors
/// A column that is not there, and every row that is not understood; nothing is read halfway.
pub fn read_csv(
    text: &str,
    diameter: &Column,
    cuts: Option<&Column>,
    plain: fn(f64) -> Length,
) -> Result<Vec<LogCount>, Vec<DiameterFault>> {
    let named = matches!(diameter, Column::Named(_)) || matches!(cuts, Some(Column::Named(_)));
    let first = text.lines().next().unwrap_or_default();
    let most = [b',', b';', b'\t']
        .into_iter()
        .max_by_key(|mark| first.bytes().filter(|byte| byte == mark).count())
        .unwrap_or(b',');
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(named)
        .delimiter(most)
        .flexible(true)
        .from_reader(text.as_bytes());
    let refuse = |line, message: String| vec![DiameterFault { line, message }];
    let names = if named {
        reader.headers().map_err(|error| refuse(1, error.to_string()))?.clone()
    } else {
        csv::StringRecord::new()
    };
    let place = |column: &Column| column_place(column, &names).map_err(|message| refuse(1, message));
    let diameter_at = place(diameter)?;
    let cuts_at = cuts.map(place).transpose()?;
    let (mut logs, mut faults) = (Vec::new(), Vec::new());
    let mut lines = LineCount { text, counted_to: 0, line: 1 };
    for record in reader.records() {
        let line = lines.of(&record);
        let read = || -> Result<LogCount, String> {
            let record = record.map_err(|error| error.to_string())?;
            let field = |at: usize| record.get(at).ok_or_else(|| format!("there is no column {}", at + 1));
            let diameter = diameter_of(field(diameter_at)?, plain)?;
            let cuts = cuts_at.map(|at| count_of(field(at)?)).transpose()?.unwrap_or(1);
            Ok(LogCount { diameter, cuts })
        };
        match read() {
            Ok(log) => logs.push(log),
            Err(message) => faults.push(DiameterFault { line, message }),
        }
    }
    if faults.is_empty() { Ok(logs) } else { Err(faults) }
}

/// Counts lines up to where each record begins, going through the text once.
struct LineCount<'a> {
    text: &'a str,
    counted_to: usize,
    line: usize,
}

impl LineCount<'_> {
    /// The line of the next record. The reader counts from where it began to look, which is before any empty lines.
    fn of(&mut self, record: &Result<csv::StringRecord, csv::Error>) -> usize {
        let position = record.as_ref().map_or_else(csv::Error::position, csv::StringRecord::position);
        let looked_from =
            position.and_then(|position| usize::try_from(position.byte()).ok()).unwrap_or_default();
        let rest = self.text.get(looked_from..).unwrap_or_default();
        let began = looked_from + rest.find(|c| c != '\n' && c != '\r').unwrap_or_default();
        self.line += line_breaks(self.text.get(self.counted_to..began).unwrap_or_default());
        self.counted_to = began;
        self.line
    }
}

/// How many lines end within a text: at a line feed, a carriage return, or both together.
fn line_breaks(text: &str) -> usize {
    text.matches('\n').count() + text.matches('\r').count() - text.matches("\r\n").count()
}

fn column_place(column: &Column, names: &csv::StringRecord) -> Result<usize, String> {
    match column {
        Column::Place(place) => place.checked_sub(1).ok_or_else(|| "columns are counted from 1".to_owned()),
        Column::Named(name) => {
            names.iter().position(|other| other.trim().eq_ignore_ascii_case(name.trim())).ok_or_else(|| {
                let names: Vec<&str> = names.iter().collect();
                let (name, names) = (clipped(name, LONGEST_SHOWN), clipped(&names.join(", "), LONGEST_NAMES));
                format!("there is no column `{name}`; there is {names}")
            })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn mm(logs: &[LogCount]) -> Vec<(i64, u32)> {
        #[expect(clippy::cast_possible_truncation, reason = "whole millimetres of a test")]
        logs.iter().map(|log| (log.diameter.as_mm().round() as i64, log.cuts)).collect()
    }

    #[test]
    fn people_write_diameters_in_many_ways() {
        let logs =
            read_diameters("300 mm x 4\n12 in × 5\n45 cm\n\n280 310,5\n0.5 m*2; 200\t7", Length::from_mm);
        let expected = [(300, 4), (305, 5), (450, 1), (280, 1), (311, 1), (500, 2), (200, 7)];
        assert_eq!(mm(&logs.unwrap()), expected);
    }

    #[test]
    fn each_bad_entry_is_named_by_its_line() {
        let faults = read_diameters("300\n30 kg\n1 mm\n300 x 0\n300 x many", Length::from_mm).unwrap_err();
        let lines: Vec<usize> = faults.iter().map(|fault| fault.line).collect();
        assert_eq!(lines, [2, 3, 4, 5]);
        assert!(faults[0].to_string().starts_with("line 2: the unit `kg` is not one of mm"), "{}", faults[0]);
        assert!(faults[1].message.contains("outside 30…3000 mm"));
        assert!(faults[3].message.contains("`many` is not a whole number"));
    }

    #[test]
    fn tables_are_read_by_name_or_by_place() {
        let named = |name: &str| Column::Named(name.into());
        let table = "Stem,DBH,Count\na,300,2\nb,12.5 in,1\n";
        let logs = read_csv(table, &named("dbh"), Some(&named("count")), Length::from_mm).unwrap();
        assert_eq!(mm(&logs), [(300, 2), (318, 1)]);
        let logs = read_csv("300;4\n32,5 cm;1", &Column::Place(1), Some(&Column::Place(2)), Length::from_mm);
        assert_eq!(mm(&logs.unwrap()), [(300, 4), (325, 1)]);
        let faults = read_csv(table, &named("girth"), None, Length::from_mm).unwrap_err();
        assert!(faults[0].message.contains("there is Stem, DBH, Count"), "{}", faults[0]);
        let faults = read_csv("dbh\n300\nthick\n", &named("dbh"), None, Length::from_mm).unwrap_err();
        assert_eq!(faults[0].line, 3);
    }

    #[test]
    fn a_row_is_named_by_its_own_line_whatever_stands_above_it() {
        let line = |text: &str| {
            let faults = read_csv(text, &Column::Named("dbh".into()), None, Length::from_mm).unwrap_err();
            faults.iter().map(|fault| fault.line).collect::<Vec<_>>()
        };
        assert_eq!(line("dbh\n300\n\n\nthick\n310\nthin"), [5, 7]);
        assert_eq!(line("dbh\r\n300\r\n\r\nthick\r\n"), [4]);
        assert_eq!(line("dbh\r300\rthick\r"), [3]);
        assert_eq!(line("\n\ndbh\nthick"), [4]);
        assert_eq!(line("dbh,note\n300,\"two\nlines\"\nthick,"), [4]);
    }

    proptest! {
        #[test]
        fn law_any_text_gives_diameters_or_faults(text in ".{0,80}") {
            if let Ok(logs) = read_diameters(&text, Length::from_mm) {
                prop_assert!(logs.iter().all(|log| limits::LOG_DIAMETER.holds(log.diameter.as_mm())));
            }
            let _ = read_csv(&text, &Column::Place(1), Some(&Column::Place(2)), Length::from_mm);
        }
    }
}
