//! A yard is read and written without loss and gives figures, or is refused in lines that say where.

use super::is_one_line;
use barpoise_core::file::{FileError, Position, parse_yard, to_ron};
use barpoise_core::person::{Body, Person};
use barpoise_core::{Solved, Yard, solve};

const NAME: &str = "any.yard.ron";
/// Most lines of an error: twenty faults and a count of the others.
const MOST_LINES: usize = 21;

/// Holds the law to a text.
pub fn holds(text: &str) {
    match parse_yard(text, NAME) {
        Ok(yard) => {
            reads_back(&yard);
            yard.setups().iter().for_each(|setup| has_figures(&solve(setup)));
            has_a_body(yard.person());
        }
        Err(error) => is_located(text, NAME, &error),
    }
}

fn reads_back(yard: &Yard) {
    let written = match to_ron(yard.file()) {
        Ok(written) => written,
        Err(error) => unreachable!("a yard that was read cannot be written: {error}"),
    };
    match parse_yard(&written, NAME) {
        Ok(back) => {
            assert_eq!(back.file(), yard.file(), "another yard came back from\n{written}");
            assert_eq!(to_ron(back.file()).ok().as_ref(), Some(&written), "it is not written the same twice");
        }
        Err(error) => unreachable!("{error}: refused as it was written\n{written}"),
    }
}

/// Whoever stands in a yard has arms that reach, a back that carries, and words that say who it is.
fn has_a_body(person: &Person) {
    let body = Body::of(person);
    let lengths = [body.upper_arm_m, body.forearm_m, body.trunk_m, body.thigh_m, body.shank_m];
    assert!(lengths.iter().all(|length| length.is_finite() && *length > 0.0), "no body: {body:?}");
    assert!(body.longest_arm_m() > body.shortest_arm_m(), "arms that reach nothing: {body:?}");
    assert!(person.holder().is_ok(), "{:?} of {person:?}", person.holder());
    is_one_line(&person.words());
}

fn has_figures(solved: &Solved) {
    let figures = [
        solved.saw.mass_kg,
        solved.saw.centroid.x,
        solved.saw.centroid.y,
        solved.saw.inertia_kg_m2,
        solved.nose_moment.as_n_m(),
        solved.swing_inertia.as_kg_m2(),
        solved.loop_length.as_m(),
        solved.reach.as_m(),
        solved.tensioner_out.as_m(),
        solved.chain_speed.as_m_s(),
        solved.chain_energy_j,
        solved.hang.map_or(0.0, |hang| hang.as_rad()),
        solved.hands.map_or(0.0, |hands| hands.front.as_n() + hands.rear.as_n()),
        solved.pull_in.map_or(0.0, |pull| pull.as_n()),
    ];
    assert!(figures.iter().all(|figure| figure.is_finite()), "a figure is not a number: {solved:?}");
}

/// Holds the law of located faults to a refusal of a text in a file of this name.
pub fn is_located(text: &str, name: &str, error: &FileError) {
    let said = error.to_string();
    assert!(said.split('\n').count() <= MOST_LINES, "too many lines: {said}");
    for line in said.split('\n') {
        is_one_line(line);
        assert!(line.starts_with(name), "the file is not named: {line}");
    }
    assert!(!error.faults().is_empty(), "refused without a fault");
    for Position { line, column } in error.faults().iter().filter_map(|fault| fault.position) {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let row = line.checked_sub(1).and_then(|row| text.split('\n').nth(row));
        let Some(row) = row else {
            unreachable!("line {line} is not in the file: {said}");
        };
        // The end of the line is a place too: there something is missing.
        assert!(
            (1..=row.chars().count() + 1).contains(&column),
            "column {column} is not in line {line}: {said}"
        );
    }
}
