//! What must hold of a photograph in a yard before it is kept.

use crate::fault::Checker;
use crate::ranges;
use crate::record::{Landmark, PhotographFile, SquareUpFile};
use std::path::{Component, Path};

/// Most characters of a path.
const LONGEST_PATH: usize = 400;

/// Notes what is wrong with a photograph; the numbers may be out of reach still, and marks may be missing.
pub(crate) fn check(check: &mut Checker, file: &PhotographFile) {
    let mut number = |field: &str, range, value| check.number(&format!("photograph.{field}"), range, value);
    number("width_px", &ranges::PICTURE_SIDE, f64::from(file.width_px));
    number("height_px", &ranges::PICTURE_SIDE, f64::from(file.height_px));
    number("camera_distance_mm", &ranges::CAMERA_DISTANCE, file.camera_distance_mm);
    number(
        "camera_distance_uncertainty_mm",
        &ranges::CAMERA_UNCERTAINTY,
        file.camera_distance_uncertainty_mm,
    );
    number("grips_behind_mm", &ranges::GRIPS_BEHIND, file.grips_behind_mm);
    number("grips_behind_uncertainty_mm", &ranges::LENGTH_UNCERTAINTY, file.grips_behind_uncertainty_mm);
    number("marking_px", &ranges::MARKING, file.marking_px);
    match file.square_up {
        SquareUpFile::Distance { apart_mm, uncertainty_mm } => {
            number("square_up.apart_mm", &ranges::KNOWN_LENGTH, apart_mm);
            number("square_up.uncertainty_mm", &ranges::LENGTH_UNCERTAINTY, uncertainty_mm);
        }
        SquareUpFile::Sheet { long_mm, short_mm } => {
            number("square_up.long_mm", &ranges::KNOWN_LENGTH, long_mm);
            number("square_up.short_mm", &ranges::KNOWN_LENGTH, short_mm);
        }
    }
    check_path(check, &file.path);
    check_marks(check, file);
}

/// A picture lies beside the yard or below it, so that both can be carried elsewhere.
fn check_path(check: &mut Checker, path: &str) {
    let fault = if path.trim().is_empty() {
        Some("the photograph's path must not be empty")
    } else if path.chars().count() > LONGEST_PATH || path.chars().any(char::is_control) {
        Some("the photograph's path is too long, or holds line breaks")
    } else if Path::new(path)
        .components()
        .any(|part| matches!(part, Component::RootDir | Component::Prefix(_)))
    {
        Some("the photograph's path must be seen from the yard's folder")
    } else {
        None
    };
    if let Some(fault) = fault {
        check.fault("photograph.path", fault);
    }
}

fn check_marks(check: &mut Checker, file: &PhotographFile) {
    let mut before: Vec<Landmark> = Vec::new();
    for (place, marks) in file.marks.iter().enumerate() {
        let most = *marks.of.counts().end();
        if before.contains(&marks.of) {
            check.fault(
                &format!("photograph.marks[{place}].of"),
                format_args!("the {} is marked twice", marks.of.words()),
            );
        }
        before.push(marks.of);
        if marks.at.len() > most {
            check.fault(
                &format!("photograph.marks[{place}].at"),
                format_args!(
                    "the {} has at most {most} marks, here are {}",
                    marks.of.words(),
                    marks.at.len()
                ),
            );
        }
        for (row, at) in marks.at.iter().take(most).enumerate() {
            for (side, value) in [("x_px", at.x_px), ("y_px", at.y_px)] {
                check.number(&format!("photograph.marks[{place}].at[{row}].{side}"), &ranges::PIXEL, value);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::assumed::begun;
    use crate::file::{demo, parse_yard, to_ron};
    use crate::record::{Landmark, MarksFile, PhotographFile, PixelFile, SquareUpFile};

    fn photograph() -> PhotographFile {
        PhotographFile {
            marks: vec![MarksFile {
                of: Landmark::Sprocket,
                at: vec![PixelFile { x_px: 1900.0, y_px: 1500.0 }],
            }],
            ..begun("pictures/bittern.png".to_owned(), [4000, 3000])
        }
    }

    /// The faults of the demo with this photograph, and where in its text each is found.
    fn refused(photograph: PhotographFile) -> String {
        let mut file = demo().unwrap().file().clone();
        file.powerheads[0].photograph = Some(photograph);
        match parse_yard(&to_ron(&file).unwrap(), "a test") {
            Ok(yard) => {
                assert_eq!(*yard.file(), file, "what was written is what is read");
                String::new()
            }
            Err(error) => error.to_string(),
        }
    }

    #[test]
    fn a_photograph_is_kept_as_it_was_written() {
        assert_eq!(refused(photograph()), "");
    }

    #[test]
    fn each_fault_names_its_place() {
        let mark = |count: usize| MarksFile {
            of: Landmark::RearGrip,
            at: vec![PixelFile { x_px: 5.0, y_px: 6.0 }; count],
        };
        let pixel = MarksFile { of: Landmark::Outline, at: vec![PixelFile { x_px: 5.0, y_px: 90_000.0 }] };
        let outside = if cfg!(windows) { "C:/pictures/a.png" } else { "/pictures/a.png" };
        let cases: [(PhotographFile, &str); 8] = [
            (PhotographFile { path: " ".to_owned(), ..photograph() }, "must not be empty"),
            (PhotographFile { path: outside.to_owned(), ..photograph() }, "seen from the yard's folder"),
            (PhotographFile { width_px: 0, ..photograph() }, "side of the photograph 0 px is outside"),
            (PhotographFile { camera_distance_mm: 2.0, ..photograph() }, "camera distance 2 mm is outside"),
            (
                PhotographFile {
                    square_up: SquareUpFile::Sheet { long_mm: 297.0, short_mm: 0.0 },
                    ..photograph()
                },
                "known length 0 mm is outside",
            ),
            (PhotographFile { marks: vec![mark(2)], ..photograph() }, "at most 1 marks, here are 2"),
            (
                PhotographFile { marks: vec![mark(1), mark(1)], ..photograph() },
                "the rear grip is marked twice",
            ),
            (PhotographFile { marks: vec![pixel], ..photograph() }, "mark 90000 px is outside"),
        ];
        for (photograph, wanted) in cases {
            let said = refused(photograph);
            assert!(said.contains(wanted), "{wanted}: {said}");
            assert!(said.contains("powerhead Bittern"), "{said}");
        }
    }
}
