//! Every yard in `bad-yards/` is refused with exactly the lines of `bad-yards/expected.txt`.

use super::corpus::Corpus;
use barpoise_core::Yard;
use barpoise_core::file::{FileError, demo_text, parse_yard, read_yard};
use std::path::Path;
use std::time::Instant;

/// Characters of a file's own content that a line may show, several short pieces together.
const LONGEST_LINE: usize = 500;

const CORPUS: Corpus<Yard, FileError> = Corpus::new("bad-yards", ".yard.ron", read_yard);

#[test]
fn each_bad_yard_gets_exactly_its_lines() {
    CORPUS.holds(50);
}

#[test]
fn a_folder_a_missing_file_and_a_huge_file_are_refused_unread() {
    let dir = tempfile::tempdir().unwrap();
    let huge = dir.path().join("huge.yard.ron");
    std::fs::File::create(&huge).unwrap().set_len(100 << 20).unwrap();
    let refused = |path: &Path| {
        let error = read_yard(path).unwrap_err().to_string();
        error.replace(&dir.path().display().to_string(), "DIR")
    };
    assert_eq!(refused(dir.path()), "DIR: this is a folder, not a yard file");
    assert_eq!(refused(&dir.path().join("none.yard.ron")), "DIR/none.yard.ron: there is no such file");
    // Told by its whole size: it was not read up to the limit.
    assert_eq!(
        refused(&huge),
        "DIR/huge.yard.ron: the file has 102400 KiB, more than the 4096 KiB that a yard may have"
    );
}

#[test]
fn law_a_demo_cut_off_anywhere_is_refused_in_one_line_that_says_where() {
    let text = demo_text();
    let whole = text.trim_end().len();
    let starts_at = text.find('(').unwrap() + 1;
    // All cuts within a number or a text, and some of the others.
    let looked_at = |end: &usize| end.is_multiple_of(23) || text[..*end].ends_with(['-', '.', '"']);
    for end in (starts_at..whole).filter(|end| text.is_char_boundary(*end)).filter(looked_at) {
        let error = parse_yard(&text[..end], "cut.ron").expect_err("a yard cut off").to_string();
        assert_eq!(error.lines().count(), 1, "cut at {end}: {error}");
        assert!(error.contains("the file ends"), "cut at {end}: {error}");
        let line = 1 + text[..end].trim_end().matches('\n').count();
        let said: usize = error.split(':').nth(1).unwrap().parse().unwrap();
        assert!(line.abs_diff(said) <= 1, "cut at line {line}, told as {said}: {error}");
    }
}

#[test]
fn law_whatever_stands_in_a_yard_the_refusal_is_located_and_short() {
    let text = demo_text();
    let starts_at = text.find("version").unwrap();
    let strange = ["(", ")", "[", "]", ",", ":", "\"", "-", "9", "e", "\\", "\u{0}", "木", "/*", "\n", ",5"];
    let mut refused = 0;
    for (step, at) in (starts_at..text.len()).step_by(37).filter(|at| text.is_char_boundary(*at)).enumerate()
    {
        let put = strange[step % strange.len()];
        let bent = format!("{}{put}{}", &text[..at], &text[at..]);
        let Err(error) = parse_yard(&bent, "bent.ron") else {
            continue;
        };
        refused += 1;
        for line in error.to_string().lines() {
            assert!(line.chars().count() <= LONGEST_LINE, "{line}");
            let numbers: Vec<_> = line.split(':').skip(1).take(2).map(str::parse::<usize>).collect();
            assert!(numbers.iter().all(Result::is_ok), "{put:?} at {at}: {line}");
        }
    }
    assert!(refused > 100, "only {refused} of the bent yards were refused");
}

#[test]
fn a_yard_of_nothing_but_faults_is_refused_at_once() {
    let heads = "(name: \"\", mount: \"\"), ".repeat(40_000);
    let nested = format!("(version: 1, name: \"x\", powerheads: [{heads}");
    let extras = "(name: \"\", mass_kg: -1, at: (x_mm: NaN, y_mm: inf)),".repeat(60_000);
    let setup = format!(
        "(name: \"s\", powerhead: \"\", bar: \"\", chain: \"\", fuel_fill: 9, oil_fill: 9, extras: [{extras}])"
    );
    let many = format!("(version: 1, name: \"x\", powerheads: [], bars: [], chains: [], setups: [{setup}])");
    let before = Instant::now();
    let many_of_structure = parse_yard(&nested, "a").unwrap_err().to_string();
    assert!(many_of_structure.lines().count() <= 21, "{many_of_structure}");
    let error = parse_yard(&many, "b").unwrap_err();
    assert!(error.count() > 200_000);
    assert_eq!(error.to_string().lines().count(), 21);
    // A second for each would do; the margin is for slow machines and unoptimised builds.
    assert!(before.elapsed().as_secs() < 20, "{:?}", before.elapsed());
}
