//! What holding a saw costs a person, in words for window, command line and paper: shares and times compare saws for a body
//! of average build, and are no medical statement.

use crate::desk::format::{self, Units};
use crate::desk::words::weigh_in::capitalised;
use barpoise_core::person::hold::{HOLD_MARKS, HoldingTime, about};
use barpoise_core::person::{Bearing, BearingError, LEVEL_AHEAD_M, LEVEL_PLACE_MARK, UPRIGHT_FORCES_MARK};
use barpoise_core::units::Length;

/// What the figure is called.
pub const LEVEL: &str = "Holding it level";

/// What the figures are not.
const NO_ADVICE: &str = "It compares saws, by means of measured people; it says nothing of anybody's health.";

/// How long a saw is held level, in a word or two; or that nothing known ends it, or that it has no figure.
pub fn level_time(level: Result<&Bearing, &BearingError>) -> String {
    match level {
        Ok(bearing) => match bearing.cost.ends_first() {
            Some((_, holding)) => match holding.time {
                HoldingTime::Lasts(endures) => about(endures.seconds),
                other => other.words(),
            },
            None => "long".to_owned(),
        },
        Err(_) => "no figure".to_owned(),
    }
}

/// What ends it, for whom, after how long and between which times for half of people, without saying of what; or why there
/// is no figure.
pub fn level_said(level: Result<&Bearing, &BearingError>) -> String {
    level.map_or_else(ToString::to_string, Bearing::words)
}

/// What ends it, for whom, after how long and between which times for half of people; or why there is no figure.
pub fn level_line(level: Result<&Bearing, &BearingError>) -> String {
    format!("{LEVEL}: {}.", level_said(level))
}

/// How the saw is held for that, and where each number behind it comes from.
pub fn level_sources(units: Units) -> String {
    let marks = [
        ("lengths and weights of the arm", HOLD_MARKS.segments),
        ("strength of the shoulder", HOLD_MARKS.shoulder_strength),
        ("of an arm turned aside", HOLD_MARKS.turned_aside),
        ("of the elbow", HOLD_MARKS.elbow_strength),
        ("how strengths differ", HOLD_MARKS.spread),
        ("holding time", HOLD_MARKS.holding_time),
        ("forces straight up and down", UPRIGHT_FORCES_MARK),
    ];
    let marks = marks.map(|(what, mark)| format!("{what}: {mark}")).join("; ");
    format!("{}. {marks}. {NO_ADVICE}", capitalised(&level_how(units)))
}

/// The same in few words with the marks alone, for a sheet.
pub fn level_marks(units: Units, whose: &str) -> String {
    let quoted = HOLD_MARKS.holding_time.note().unwrap_or_default();
    format!(
        "Held level: {}; the share of {whose} that ends it first, and the times between which half of people let go; \
         strength and times {}, partly {quoted}. {NO_ADVICE}",
        level_how(units),
        HOLD_MARKS.holding_time.words(),
    )
}

/// Share of strength and the band of times, such as *49 %, 40…80 s*, for a table.
pub fn level_cell(level: Result<&Bearing, &BearingError>) -> String {
    let Ok(bearing) = level else { return "no figure".to_owned() };
    let Some((_, holding)) = bearing.cost.ends_first() else { return "long".to_owned() };
    let share = format::percent(holding.share);
    match holding.time.lasts().and_then(|lasts| lasts.half) {
        Some((from, to)) => format!("{share}, {}", between(from, to)),
        None => share,
    }
}

/// Two times in round numbers and one unit.
fn between(from_s: f64, to_s: f64) -> String {
    const MINUTES_FROM_S: f64 = 120.0;
    let (unit, step, name) = if to_s < MINUTES_FROM_S { (1.0, 5.0, "s") } else { (60.0, 0.5, "min") };
    let round = |seconds: f64| (seconds / unit / step).round() * step;
    format!("{}…{} {name}", round(from_s), round(to_s))
}

/// How it is held, in one line.
pub fn level_how(units: Units) -> String {
    format!(
        "standing upright, front hand {} ahead of the shoulder, as high as a hanging arm's elbow ({})",
        units.length(Length::from_m(LEVEL_AHEAD_M)),
        LEVEL_PLACE_MARK.words(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use barpoise_core::file::demo;
    use barpoise_core::person::{Person, held_level};
    use barpoise_core::{HandsError, solve};

    #[test]
    fn a_saw_held_level_is_said_with_share_time_and_band() {
        let level = held_level(&Person::default(), &solve(demo().unwrap().setup("Bittern B24").unwrap()));
        let line = level_line(level.as_ref());
        for part in
            ["Holding it level: shoulder ", " % of an average man's strength, about ", ", half of people "]
        {
            assert!(line.contains(part), "{line} lacks {part}");
        }
        assert!(line.contains(&level_time(level.as_ref())), "{line}");
    }

    #[test]
    fn why_there_is_no_figure_is_said() {
        let none: Result<Bearing, BearingError> = Err(BearingError::Hands(HandsError::GripsInOnePlumbLine));
        assert_eq!(level_time(none.as_ref()), "no figure");
        assert!(
            level_line(none.as_ref()).contains("one grip is straight above the other"),
            "{}",
            level_line(none.as_ref())
        );
    }

    #[test]
    fn a_sheet_says_the_marks() {
        let said = level_marks(Units::default(), "an average man's strength");
        for part in ["published", "as quoted by others", "our guess", NO_ADVICE] {
            assert!(said.contains(part), "{said} lacks {part}");
        }
    }

    #[test]
    fn a_band_is_said_in_round_numbers_of_one_unit() {
        assert_eq!(between(38.2, 81.9), "40…80 s");
        assert_eq!(between(62.0, 131.0), "1…2 min");
        assert_eq!(between(88.0, 185.0), "1.5…3 min");
    }

    #[test]
    fn every_source_has_its_mark_and_none_promises_health() {
        let said = level_sources(Units::default());
        assert!(said.matches("published").count() >= 4 && said.matches("our guess").count() >= 3, "{said}");
        assert!(said.contains("300 mm") && said.contains("nothing of anybody's health"), "{said}");
    }
}
