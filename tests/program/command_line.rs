//! The program on the command line, with no display: forms, exit codes, and what it says of a bad yard.

#![expect(clippy::unwrap_used, reason = "helpers of tests, outside a test function")]

use barpoise_core::file::{demo, demo_text};
use barpoise_core::lesson::built_in_text;
use barpoise_core::log::{LogJob, LogSection, Stand, Tangle};
use barpoise_core::person::{Person, held_level};
use barpoise_core::solve;
use barpoise_core::units::Length;
use std::ffi::OsStr;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// The keys of a setup's figures, in the order in which they are written.
const KEYS: [&str; 25] = [
    "setup",
    "ready_mass_kg",
    "centroid_x_m",
    "centroid_y_m",
    "inertia_kg_m2",
    "hang_rad",
    "front_hand_n",
    "rear_hand_n",
    "front_hand_ratio",
    "nose_moment_n_m",
    "swing_inertia_kg_m2",
    "reach_m",
    "nose_tip_x_m",
    "drive_links",
    "loop_length_m",
    "centre_distance_m",
    "bar_mass_kg",
    "chain_mass_kg",
    "fluids_mass_kg",
    "level_hold_ends",
    "level_hold_share",
    "level_hold_s",
    "level_hold_half_from_s",
    "level_hold_half_to_s",
    BEYOND,
];
/// True or false.
const BEYOND: &str = "beyond_longest_bar";
/// Those that are words.
const WORDS: [&str; 2] = ["setup", "level_hold_ends"];

/// The front grip of the demo's Bittern below everything: a saw with no stable hang.
const GRIP: &str = "front_grip: (x_mm: 2, y_mm: 166)";
const LOW_GRIP: &str = "front_grip: (x_mm: 2, y_mm: -166)";

fn program() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_barpoise"));
    command.env_remove("DISPLAY").env_remove("WAYLAND_DISPLAY");
    command
}

fn ran<S: AsRef<OsStr>>(args: &[S]) -> Output {
    program().args(args).output().unwrap()
}

/// What a command that must succeed prints.
fn printed<S: AsRef<OsStr>>(args: &[S]) -> String {
    let output = ran(args);
    let told = text(&output.stderr);
    assert_eq!(output.status.code(), Some(0), "{told}");
    assert!(told.is_empty(), "{told}");
    text(&output.stdout)
}

/// What a command that must fail with this code says.
fn refused<S: AsRef<OsStr>>(args: &[S], code: i32) -> String {
    let output = ran(args);
    assert_eq!(output.status.code(), Some(code), "{}", text(&output.stderr));
    assert!(output.stdout.is_empty(), "{}", text(&output.stdout));
    text(&output.stderr)
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

fn yard_file(dir: &Path, name: &str, yard: &str) -> PathBuf {
    let path = dir.join(name);
    std::fs::write(&path, yard).unwrap();
    path
}

/// A reader of a table that ends in the cautions.
fn reader(table: &str) -> csv::Reader<&[u8]> {
    let last = table.lines().last().unwrap();
    assert!(last.starts_with("# ") && last.contains(barpoise_core::KICKBACK_CAUTION), "{table}");
    assert!(barpoise_core::CAUTIONS.iter().all(|caution| last.contains(caution)), "{last}");
    csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(table.as_bytes())
}

fn objects(json: &str) -> Vec<serde_json::Map<String, serde_json::Value>> {
    serde_json::from_str(json).unwrap()
}

#[test]
fn json_has_exactly_the_keys_and_the_solved_figures() {
    let setups = objects(&printed(&["figures", "--json"]));
    let demo = demo().unwrap();
    assert_eq!(setups.len(), demo.setups().len());
    let mut keys: Vec<&str> = KEYS.into_iter().chain(["cautions"]).collect();
    keys.sort_unstable();
    for (object, setup) in setups.iter().zip(demo.setups()) {
        let mut found: Vec<_> = object.keys().map(String::as_str).collect();
        found.sort_unstable();
        assert_eq!(found, keys);
        let solved = solve(setup);
        assert_eq!(object["setup"], solved.setup.as_str());
        let level = held_level(&Person::default(), &solved).unwrap();
        let (place, holding) = level.cost.ends_first().unwrap();
        assert_eq!(object["level_hold_ends"], place.words());
        let lasts = holding.time.lasts().unwrap();
        for (key, figure) in [
            ("ready_mass_kg", solved.ready_mass().as_kg()),
            ("hang_rad", solved.hang.unwrap().as_rad()),
            ("rear_hand_n", solved.hands.unwrap().rear.as_n()),
            ("reach_m", solved.reach.as_m()),
            ("inertia_kg_m2", solved.saw.inertia_kg_m2),
            ("drive_links", solved.links.exact()),
            ("level_hold_share", holding.share),
            ("level_hold_s", lasts.seconds),
            ("level_hold_half_to_s", lasts.half.unwrap().1),
        ] {
            let printed = object[key].as_f64().unwrap();
            assert!((printed - figure).abs() <= 1e-12 * figure.abs(), "{key}: {printed} is not {figure}");
        }
    }
}

#[test]
fn one_setup_is_an_array_of_one() {
    let setups = objects(&printed(&["figures", "--setup", "Bittern B24", "--json"]));
    assert_eq!(setups.len(), 1);
    assert_eq!(setups[0]["setup"], "Bittern B24");
    assert_eq!(setups[0]["drive_links"], 82);
}

#[test]
fn a_figure_that_does_not_exist_is_null_empty_or_a_reason_and_never_zero() {
    let dir = tempfile::tempdir().unwrap();
    let yard = yard_file(dir.path(), "low.yard.ron", &demo_text().replace(GRIP, LOW_GRIP));
    let yard = yard.to_str().unwrap();
    let one = ["figures", yard, "--setup", "Bittern B24"];
    let json = objects(&printed(&[&one[..], &["--json"]].concat()));
    assert!(json[0]["hang_rad"].is_null(), "{json:?}");
    assert!(json[0]["front_hand_n"].is_number(), "{json:?}");
    let csv = printed(&[&one[..], &["--csv"]].concat());
    let cells: Vec<&str> = csv.lines().nth(1).unwrap().split(',').collect();
    assert_eq!(cells[5], "", "{csv}");
    let table = printed(&one);
    let hang = table.lines().find(|line| line.starts_with("hang, °")).unwrap();
    assert!(hang.ends_with(" -"), "{table}");
    assert!(table.contains("Bittern B24: no stable hang: "), "{table}");
}

#[test]
fn csv_has_the_same_columns_and_a_line_for_each_setup() {
    let text = printed(&["figures", "--csv"]);
    let mut reader = reader(&text);
    assert_eq!(reader.headers().unwrap().iter().collect::<Vec<_>>(), KEYS);
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let json = objects(&printed(&["figures", "--json"]));
    assert_eq!(rows.len(), json.len());
    for (row, object) in rows.iter().zip(&json) {
        for (key, cell) in KEYS.iter().zip(row) {
            if WORDS.contains(key) {
                assert_eq!(object[*key], cell, "{key}");
                continue;
            }
            if *key == BEYOND {
                assert_eq!(object[*key].to_string(), cell, "{key}");
                continue;
            }
            let (csv, json) = (cell.parse::<f64>().unwrap(), object[*key].as_f64().unwrap());
            assert!((csv - json).abs() <= 1e-12 * json.abs(), "{key}: {csv} is not {json}");
        }
    }
}

#[test]
fn the_table_is_aligned_and_names_every_setup() {
    let table = printed(&["figures"]);
    for setup in demo().unwrap().setups() {
        assert!(table.contains(setup.name()), "{table}");
    }
    let blocks: Vec<Vec<&str>> = table
        .split("\n\n")
        .filter(|block| block.contains("ready weight"))
        .map(|block| block.lines().collect())
        .collect();
    assert!(blocks.len() > 1, "{table}");
    for block in blocks {
        // Cells stand flush right, so every line of a block ends in one column.
        let ends: Vec<usize> = block.iter().map(|line| line.chars().count()).collect();
        assert!(ends.iter().all(|end| *end == ends[0] && *end <= 96), "{ends:?}\n{table}");
        assert_eq!(
            block.len(),
            KEYS.len(),
            "a line of names, a line a figure but for the limit, and the feel: {table}"
        );
    }
}

#[test]
fn the_table_speaks_inches_and_pounds_where_asked() {
    let cell = |units: &str, label: &str| {
        let table = printed(&["figures", "--setup", "Bittern B24", "--units", units]);
        let line = table.lines().find(|line| line.starts_with(label)).unwrap();
        line.split_whitespace().last().unwrap().parse::<f64>().unwrap()
    };
    let (kg, lb) = (cell("mm-kg", "ready weight, kg"), cell("in-lb", "ready weight, lb"));
    assert!((lb * 0.453_592_37 - kg).abs() < 0.03, "{kg} kg, {lb} lb");
    let (mm, inches) = (cell("mm-kg", "reach, mm"), cell("in-lb", "reach, in"));
    assert!((inches * 25.4 - mm).abs() < 1.8, "{mm} mm, {inches} in");
}

#[test]
fn an_unknown_setup_is_refused_with_the_names_there_are() {
    let said = refused(&["figures", "--setup", "Bittern B99"], 1);
    assert_eq!(said.lines().count(), 1, "{said}");
    assert!(
        said.starts_with("there is no setup named `Bittern B99` in Alder Flat woodlot; there is "),
        "{said}"
    );
    for setup in demo().unwrap().setups() {
        assert!(said.contains(setup.name()), "{said}");
    }
}

#[test]
fn each_bad_yard_is_refused_by_every_command_with_a_located_line_a_fault() {
    let corpus = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/bad-yards");
    let mut count = 0;
    for entry in std::fs::read_dir(&corpus).unwrap() {
        let path = entry.unwrap().path();
        let path = path.to_str().unwrap();
        if !path.ends_with(".yard.ron") {
            continue;
        }
        count += 1;
        let said = refused(&["check", path], 1);
        let lines = match Path::new(path).file_name().and_then(|name| name.to_str()) {
            Some("three-faults.yard.ron") => 4,
            Some("person-of-impossible-measures.yard.ron") => 5,
            Some("several-of-structure.yard.ron") => 7,
            _ => 1,
        };
        assert_eq!(said.lines().count(), lines, "{said}");
        assert!(said.lines().all(|line| line.starts_with(path)), "{said}");
        assert_eq!(refused(&["figures", path, "--json"], 1), said);
    }
    assert!(count > 50, "only {count} bad yards were found");
}

#[test]
fn a_folder_and_a_missing_file_are_refused_in_one_line() {
    let dir = tempfile::tempdir().unwrap();
    let folder = dir.path().to_str().unwrap();
    assert_eq!(refused(&["check", folder], 1), format!("{folder}: this is a folder, not a yard file\n"));
    assert_eq!(
        refused(&["figures", &format!("{folder}/none.ron")], 1),
        format!("{folder}/none.ron: there is no such file\n")
    );
}

#[test]
fn check_says_what_a_yard_holds_and_what_goes_together() {
    let dir = tempfile::tempdir().unwrap();
    let yard = yard_file(dir.path(), "demo.yard.ron", demo_text());
    let report = printed(&["check", yard.to_str().unwrap()]);
    assert!(report.contains("2 powerheads, 9 bars, 3 chains, 8 setups"), "{report}");
    let mut paragraphs = report.split("\n\n");
    let bittern = paragraphs.find(|part| part.starts_with("Bittern takes")).unwrap();
    assert!(bittern.contains("B24 light"), "{report}");
    assert!(bittern.contains("3/8 full, 3/8 skip"), "{report}");
    assert!(!bittern.contains("narrow"), "{report}");
    let wren = paragraphs.find(|part| part.starts_with("Wren takes")).unwrap();
    assert_eq!(wren.lines().count(), 3, "{report}");
    let setups = paragraphs.find(|part| part.starts_with("setups")).unwrap();
    assert_eq!(setups.lines().count(), 9, "{report}");
    assert!(setups.contains("82 links, tensioner 12."), "{report}");
}

#[test]
fn check_knows_a_lesson_and_tells_its_faults_at_their_place() {
    let dir = tempfile::tempdir().unwrap();
    let good = dir.path().join("mine.lesson.ron");
    std::fs::write(&good, barpoise_core::lesson::built_in_text()).unwrap();
    let report = printed(&["check", good.to_str().unwrap()]);
    let steps = barpoise_core::lesson::built_in().unwrap().steps().len();
    assert!(report.contains(&format!("Bar and balance: {steps} steps")), "{report}");
    assert!(report.contains("The left thumb: left thumb on the front handle; saw on the bench"), "{report}");
    let bad = dir.path().join("bad.lesson.ron");
    let text = barpoise_core::lesson::built_in_text().replace("Drawing(of: Thumb)", "Drawing(of: Thum)");
    std::fs::write(&bad, text).unwrap();
    let err = refused(&["check", bad.to_str().unwrap()], 1);
    assert!(err.contains("bad.lesson.ron:") && err.contains("Thumb"), "{err}");
}

#[test]
fn check_points_out_a_bar_longer_than_meant_and_one_that_goes_nowhere() {
    let dir = tempfile::tempdir().unwrap();
    let yard = demo_text()
        .replace("longest_bar_in: 30,", "longest_bar_in: 24,")
        .replacen(
            "mount: \"wide slot\",\n            marked_length_in: 18",
            "mount: \"other\",\n            marked_length_in: 18",
            2,
        )
        .replace("bar: \"B18\"", "bar: \"B24\"");
    let yard = yard_file(dir.path(), "long.yard.ron", &yard);
    let report = printed(&["check", yard.to_str().unwrap()]);
    let pointed_out: Vec<_> = report.lines().filter(|line| line.contains("longer than the head")).collect();
    assert_eq!(pointed_out.len(), 4, "two bars and two setups: {report}");
    assert!(pointed_out.iter().all(|line| line.contains("B30")), "{report}");
    assert!(report.contains("no head and chain of this yard take B18, B18 light\n"), "{report}");
}

/// A limit of the head is one everywhere: told with the figures, in the cut, and out on the rack.
#[test]
fn a_bar_beyond_its_heads_longest_is_out_wherever_it_is_shown() {
    let dir = tempfile::tempdir().unwrap();
    let yard = demo_text().replace("longest_bar_in: 30,", "longest_bar_in: 29,");
    let yard = yard_file(dir.path(), "limit.yard.ron", &yard);
    let yard = yard.to_str().unwrap();
    let out = "bar longer than the head is meant for, at most 29 in: out";
    let table = printed(&["figures", yard]);
    let told: Vec<&str> = table.lines().filter(|line| line.ends_with(out)).collect();
    assert_eq!(told, [format!("Bittern B30: {out}"), format!("Bittern B30 light: {out}")], "{table}");
    for object in objects(&printed(&["figures", yard, "--json"])) {
        let long = object["setup"].as_str().unwrap().contains("B30");
        assert_eq!(object[BEYOND], long, "{object:?}");
    }
    let cut = printed(&["cut", yard, "--setup", "Bittern B30", "--diameter", "400"]);
    assert!(cut.contains(out), "{cut}");
    let within = printed(&["cut", yard, "--setup", "Bittern B24", "--diameter", "400"]);
    assert!(!within.contains(out), "{within}");
    for row in objects(&printed(&["choose", yard, "--wood", "Poplar butts", "--json"])) {
        let long = row["setup"].as_str().unwrap().contains("B30");
        let why = row["refused"].as_str().unwrap();
        assert_eq!(why.contains("longest bar of the head"), long, "{row:?}");
    }
    // Lifted knowingly, it goes on.
    let lifted = objects(&printed(&["choose", yard, "--wood", "Poplar butts", "--json", "--unsuited"]));
    assert!(lifted.iter().all(|row| !row["refused"].as_str().unwrap().contains("longest bar")));
}

#[test]
fn the_figures_end_with_the_cautions_in_full() {
    let table = printed(&["figures"]);
    let last: Vec<&str> = table.lines().rev().take(1 + barpoise_core::CAUTIONS.len()).collect();
    assert_eq!(last.last(), Some(&barpoise_core::KICKBACK_CAUTION));
    assert!(barpoise_core::CAUTIONS.iter().all(|caution| last.contains(caution)), "{table}");
}

#[test]
fn a_file_name_may_have_spaces_and_letters_of_any_script() {
    let dir = tempfile::tempdir().unwrap();
    for name in ["my yard.ron", "Łąka żółwia.yard.ron", "木の庭 — двор.ron", "figures.ron"] {
        let yard = yard_file(dir.path(), name, demo_text());
        let yard = yard.to_str().unwrap();
        assert_eq!(objects(&printed(&["figures", yard, "--json"])).len(), 8);
        assert!(printed(&["check", yard]).starts_with(&format!("{yard}: in order\n")));
        let bent = yard_file(dir.path(), name, "(");
        let said = refused(&["check", bent.to_str().unwrap()], 1);
        assert!(said.starts_with(&format!("{yard}:1:")), "{said}");
    }
}

#[cfg(unix)]
#[test]
fn a_file_name_that_is_no_text_is_read_all_the_same() {
    use std::os::unix::ffi::OsStrExt;
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join(OsStr::from_bytes(b"yard-\xff.ron"));
    std::fs::write(&path, demo_text()).unwrap();
    let args = [OsStr::new("figures"), path.as_os_str(), OsStr::new("--json")];
    assert_eq!(objects(&printed(&args)).len(), 8);
}

#[test]
fn help_tells_the_job_examples_signs_and_cautions() {
    let help = printed(&["--help"]);
    for words in [
        "guide bars on your own powerheads",
        "barpoise check my.yard.ron",
        "0 is level, nose down",
        "in-lb",
        "A longer bar does not reduce kickback",
        "Exit codes",
        "invented",
    ] {
        assert!(help.contains(words), "`{words}` is missing in\n{help}");
    }
    assert!(printed(&["-h"]).lines().count() < 25);
    assert!(printed(&["figures", "--help"]).contains("kg_m2"));
    assert!(printed(&["check", "--help"]).contains("one line for each fault"));
    assert_eq!(printed(&["--version"]), format!("barpoise {}\n", env!("CARGO_PKG_VERSION")));
}

#[test]
fn a_command_that_is_not_one_exits_with_two() {
    for args in [
        &["check"][..],
        &["figures", "--json", "--csv"],
        &["figures", "--json", "--units", "in-lb"],
        &["figures", "--units", "stone"],
        &["figures", "--setup"],
        &["--nose"],
        &["a.ron", "b.ron"],
    ] {
        let said = refused(args, 2);
        assert!(said.starts_with("error: "), "{args:?}: {said}");
    }
}

#[test]
fn a_reader_that_closes_the_pipe_makes_no_noise() {
    let mut child =
        program().args(["figures", "--json"]).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    drop(child.stdout.take());
    let mut said = String::new();
    child.stderr.take().unwrap().read_to_string(&mut said).unwrap();
    assert_eq!(child.wait().unwrap().code(), Some(0), "{said}");
    assert_eq!(said, "");
}

/// The keys of a cut, and of each of its settings.
const CUT_KEYS: [&str; 20] = [
    BEYOND,
    "setup",
    "person",
    "diameter_m",
    "reach_m",
    "whole",
    "doable",
    "covered_fraction",
    "left_area_m2",
    "proven_fewest",
    "relief_depth_m",
    "relief_settings",
    "settings",
    "help",
    "biggest_one_side_by_reach_m",
    "biggest_both_sides_by_reach_m",
    "biggest_one_side_m",
    "biggest_both_sides_m",
    "pull_in_force_n",
    "cautions",
];
const SETTING_KEYS: [&str; 23] = [
    "side",
    "kind",
    "rises",
    "bark_rad",
    "clock",
    "swing_from_rad",
    "swing_to_rad",
    "lay_on_m",
    "run_off_m",
    "doable",
    "why_not",
    "pose_at_start",
    "pose_at_end",
    "front_grip_x_m",
    "front_grip_y_m",
    "rear_grip_x_m",
    "rear_grip_y_m",
    "nose_out_max_m",
    "nose_buried_max_m",
    "nose_hidden_way_m",
    "hidden",
    "danger_touches_wood",
    "danger_touches_tangle",
];
/// Who carries the saw; it stands last.
const CARRIED: &str = "carried_by";

fn keys(value: &serde_json::Value) -> Vec<&str> {
    value.as_object().unwrap().keys().map(String::as_str).collect()
}

#[test]
fn a_cut_as_json_has_its_keys_and_agrees_with_the_model() {
    let text = printed(&["cut", "--setup", "Bittern B24", "--diameter", "74 cm", "--json"]);
    let cut: serde_json::Value = serde_json::from_str(&text).unwrap();
    let mut named: Vec<&str> = CUT_KEYS.to_vec();
    let mut found = keys(&cut);
    named.sort_unstable();
    found.sort_unstable();
    assert_eq!(found, named);
    let yard = demo().unwrap();
    let setup = yard.setup("Bittern B24").unwrap();
    let solved = solve(setup);
    let mm = Length::from_mm;
    let section = LogSection::round(mm(740.0), mm(150.0)).unwrap();
    let job = LogJob::new(section, Stand::OneSide).with_tangle(Tangle::Far);
    let model = barpoise_core::log::Cut::new(&job, None, setup, &solved).unwrap();
    let settings = cut["settings"].as_array().unwrap();
    assert!(settings.len() >= 2, "a log 1.3 times the reach: {text}");
    assert_eq!(settings.len(), model.settings.len());
    let near = |printed: &serde_json::Value, truth: f64| {
        assert!((printed.as_f64().unwrap() - truth).abs() < 1e-12, "{printed} is not {truth}");
    };
    for ((printed, setting), step) in settings.iter().zip(&model.settings).zip(&model.steps) {
        let mut found = keys(printed);
        let mut named: Vec<&str> = SETTING_KEYS.into_iter().chain([CARRIED]).collect();
        found.sort_unstable();
        named.sort_unstable();
        assert_eq!(found, named);
        assert_eq!((&printed["doable"], &printed["why_not"]), (&true.into(), &serde_json::Value::Null));
        near(&printed["bark_rad"], setting.bark().as_rad());
        near(&printed["swing_to_rad"], setting.to().as_rad());
        near(&printed["run_off_m"], setting.run_off().as_m());
        near(&printed["nose_out_max_m"], step.nose.out_max_m);
        let stance = step.stance_at_start.as_ref().unwrap();
        assert_eq!(printed["pose_at_start"], stance.words());
        near(&printed["front_grip_x_m"], stance.front_arm.hand.x);
    }
    near(&cut["reach_m"], solved.reach.as_m());
    near(&cut["diameter_m"], 0.74);
    near(&cut["covered_fraction"], model.cover.covered_fraction);
    assert_eq!(cut["whole"], model.is_whole());
    assert_eq!(cut["doable"], true, "what cannot be held is never offered");
    assert_eq!(cut["cautions"].as_array().unwrap().len(), 1 + barpoise_core::CAUTIONS.len());
}

#[test]
fn a_cut_as_csv_has_a_line_for_each_setting() {
    let asked = ["cut", "--setup", "Bittern B18", "--diameter", "20in", "--stand", "both-sides", "--csv"];
    let text = printed(&asked);
    let mut reader = reader(&text);
    let names = reader.headers().unwrap().clone();
    assert!(SETTING_KEYS.iter().all(|key| names.iter().any(|name| name == *key)), "{names:?}");
    let lines: Vec<_> = reader.records().map(Result::unwrap).collect();
    let column = names.iter().position(|name| name == "setting").unwrap();
    let numbers: Vec<&str> = lines.iter().map(|line| line.get(column).unwrap()).collect();
    let counted: Vec<String> = (1..=lines.len()).map(|number| number.to_string()).collect();
    assert!(!lines.is_empty());
    assert_eq!(numbers, counted);
}

#[test]
fn a_cut_in_words_names_the_settings_and_ends_with_the_cautions() {
    let text = printed(&["cut", "--setup", "Bittern B24", "--diameter", "400"]);
    assert!(text.contains("1 setting, 100 % of the section"), "{text}");
    assert!(text.contains(barpoise_core::KICKBACK_CAUTION));
    assert!(barpoise_core::CAUTIONS.iter().all(|caution| text.contains(caution)));
    let inches = printed(&["cut", "--setup", "Bittern B24", "--diameter", "400", "--units", "in-lb"]);
    assert!(inches.contains("log 15.7 in"), "{inches}");
}

#[test]
fn a_diameter_that_is_none_is_refused_with_the_range() {
    for bad in ["0", "-5", "abc", "40 m", "", "nan", "5 kg"] {
        let told = refused(&["cut", "--setup", "Bittern B24", "--diameter", bad], 2);
        assert!(told.contains("30…3000 mm"), "{bad}: {told}");
    }
    let told = refused(&["cut", "--setup", "Nobody", "--diameter", "400"], 1);
    assert!(told.contains("Bittern B24"), "{told}");
}

#[test]
fn the_window_without_a_display_is_refused_in_one_line() {
    let told = refused::<&str>(&[], 1);
    assert_eq!(told.lines().count(), 1, "{told}");
    assert!(told.contains("no display"), "{told}");
    let told = refused(&["/no/such/folder/my.yard.ron"], 1);
    assert_eq!(told.lines().count(), 1, "a yard that is not there is said first: {told}");
    assert!(told.contains("my.yard.ron"), "{told}");
}

/// Readings that go well with the invented demo, in the place of its own.
const READINGS: &str = "    readings: [
        (measured: Total(weight_kg: 9.3, uncertainty_kg: 0.05), setup: \"Bittern B24\"),
        (measured: Hang(nose_down_deg: 19.5, uncertainty_deg: 1), setup: \"Bittern B24\"),
        (measured: Hang(nose_down_deg: 32, uncertainty_deg: 1), setup: \"Bittern B30\"),
        (measured: Bar(bar: \"B24\", weight_kg: 1.5, uncertainty_kg: 0.01)),
    ],
)
";

fn with_readings(readings: &str) -> String {
    let (before, after) = demo_text().split_once("    readings: [\n").unwrap();
    let (_, after) = after.split_once("    ],\n").unwrap();
    format!("{before}{}{readings}", after.trim_end().strip_suffix(')').unwrap())
}

#[test]
fn a_weigh_in_says_what_it_learnt_and_writes_nothing_unasked() {
    let dir = tempfile::tempdir().unwrap();
    let yard = with_readings(READINGS);
    let path = yard_file(dir.path(), "my yard.ron", &yard);
    let told = printed(&["weigh-in".as_ref(), path.as_os_str()]);
    for part in [
        "4 readings taught",
        "hang angle of Bittern B30",
        "Dry mass of Bittern",
        "The readings go together",
        "What to measure next",
        "10\u{a0}000 draws agree with the bands",
        "A longer bar does not reduce kickback",
    ] {
        assert!(told.contains(part), "{part}: {told}");
    }
    assert_eq!(std::fs::read_to_string(&path).unwrap(), yard);
    assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 1);
}

#[test]
fn a_weigh_in_for_other_programs_is_complete_and_in_si() {
    let dir = tempfile::tempdir().unwrap();
    let path = yard_file(dir.path(), "a.ron", &with_readings(READINGS));
    let json = printed(&["weigh-in".as_ref(), path.as_os_str(), "--json".as_ref()]);
    let report: serde_json::Value = serde_json::from_str(&json).unwrap();
    let list = |key: &str| report[key].as_array().unwrap().len();
    assert_eq!((list("readings"), report["applied"].as_bool()), (4, Some(false)));
    assert_eq!(list("correlations"), list("learnt"));
    assert_eq!(report["freedom"], 4);
    let dry = report["learnt"].as_array().unwrap().iter().find(|row| row["number"] == "dry mass").unwrap();
    assert_eq!((dry["of"].as_str(), dry["unit"].as_str()), (Some("Bittern"), Some("kg")));
    assert!(dry["uncertainty"].as_f64().unwrap() < dry["prior_uncertainty"].as_f64().unwrap());
    let hang = &report["readings"][1];
    assert!((hang["value"].as_f64().unwrap() - 19.5_f64.to_radians()).abs() < 1e-12);
    let predictions = report["predictions"].as_array().unwrap();
    assert_eq!(
        predictions.len(),
        demo().unwrap().setups().iter().filter(|s| s.powerhead().name() == "Bittern").count()
    );
    for row in predictions {
        let (linear, drawn) = (
            row["hang_uncertainty_rad"].as_f64().unwrap(),
            row["hang_deviation_drawn_rad"].as_f64().unwrap(),
        );
        // 10 000 draws know a deviation to 0.7 %; five of those and a little bend.
        assert!((drawn / linear - 1.0).abs() < 0.05, "{row}");
    }
}

#[test]
fn what_was_learnt_is_written_back_where_it_stands_and_every_comment_stays() {
    let dir = tempfile::tempdir().unwrap();
    let yard = with_readings(READINGS);
    let path = yard_file(dir.path(), "a.ron", &yard);
    let told = printed(&["weigh-in".as_ref(), path.as_os_str(), "--apply".as_ref()]);
    assert!(told.contains(&format!("Applied and written to {}.", path.display())), "{told}");
    assert!(!dir.path().join("a.ron.old").exists(), "nothing was lost of which a copy would be kept");
    let text = std::fs::read_to_string(&path).unwrap();
    for comment in yard.lines().filter(|line| line.trim_start().starts_with("//")) {
        assert!(text.contains(comment), "{comment}");
    }
    let written = barpoise_core::file::read_yard(&path).unwrap();
    let weigh_in = &written.file().weigh_ins[0];
    assert!(!weigh_in.learnt.is_empty() && !weigh_in.put_back);
    assert_ne!(written.file().powerheads[0].dry_mass_kg.to_bits(), 6.3_f64.to_bits());
    assert_eq!(written.file().readings.len(), 4);
}

#[test]
fn a_weigh_in_that_fails_writes_nothing() {
    let dir = tempfile::tempdir().unwrap();
    let path = yard_file(dir.path(), "none.ron", &with_readings(")\n"));
    let said = refused(&["weigh-in".as_ref(), path.as_os_str(), "--apply".as_ref()], 1);
    assert_eq!(said, "nothing was learnt: there is no reading to learn from\n");
    // Readings that would push a number out of what is possible.
    let light =
        "    readings: [(measured: Total(weight_kg: 2, uncertainty_kg: 0.0005), setup: \"Wren B14\")],\n)\n";
    let sure =
        "tensioner_travel_mm: 20,\n            standard_uncertainty: (dry_mass_kg: 2, centroid_mm: 0.05),";
    let yard = with_readings(light).replace("tensioner_travel_mm: 20,", sure);
    let path = yard_file(dir.path(), "light.ron", &yard);
    let said = refused(&["weigh-in".as_ref(), path.as_os_str(), "--apply".as_ref()], 1);
    assert!(said.contains("the readings ask for a dry mass of"), "{said}");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), yard);
    assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 2, "nothing is left lying about");
    let said = refused(&["weigh-in"], 2);
    assert!(said.contains("<FILE>"), "{said}");
}

/// The system refuses to write more than 4 KiB to any file, as it would on a disk that fills up on the way.
#[cfg(unix)]
#[test]
fn a_file_that_cannot_be_written_to_its_end_leaves_the_old_one_whole() {
    let dir = tempfile::tempdir().unwrap();
    let commented = with_readings(READINGS);
    let plain = barpoise_core::file::parse_yard(&commented, "a").unwrap();
    let plain = barpoise_core::file::to_ron(plain.file()).unwrap();
    for (name, yard, step) in [
        ("commented.ron", &commented, "the new file cannot be written"),
        ("plain.ron", &plain, "the new file cannot be written"),
    ] {
        let path = yard_file(dir.path(), name, yard);
        let output = Command::new("sh")
            .args(["-c", "trap '' XFSZ; ulimit -f 8; exec \"$0\" weigh-in \"$1\" --apply"])
            .args([OsStr::new(env!("CARGO_BIN_EXE_barpoise")), path.as_os_str()])
            .output()
            .unwrap();
        let said = text(&output.stderr);
        assert_eq!(output.status.code(), Some(1), "{said}");
        let reason =
            format!("{step}: the system allows no file of this size (the old file stands as it was)");
        assert!(said.contains(&reason), "{said}");
        assert_eq!(said.lines().count(), 1, "{said}");
        assert_eq!(std::fs::read_to_string(&path).unwrap(), *yard);
    }
    assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 2, "nothing is left lying about");
}

#[test]
fn a_choice_is_told_in_sentences_with_its_reasons() {
    let told = printed(&["choose", "--wood", "Poplar butts", "--limit", "hang=25deg"]);
    for part in [
        "goes on for Poplar butts",
        "Watch the nose, up to ",
        "of the cuts it does not do from where you may stand",
        "What is exchanged for what",
        "counts as much as",
        "Two saws",
        "Bittern B30: out, hang 31.0°, wanted at most 25.0°",
        "worth a look",
        "What would change it",
        "Bars to buy for this wood",
        "are our guess: yours to change",
        "A longer bar does not reduce kickback",
    ] {
        assert!(told.contains(part), "{part}: {told}");
    }
    assert!(!told.contains("a day of"), "numbers are given where they are asked for: {told}");
    let imperial = printed(&["choose", "--wood", "Poplar butts", "--units", "in-lb", "--numbers"]);
    assert!(imperial.contains("a day of"), "{imperial}");
    assert!(imperial.contains("16.5 in to 29.1 in") && imperial.contains(" lb"), "{imperial}");
}

#[test]
fn different_woods_get_different_bars() {
    let winner = |wood: &str| {
        let rows = objects(&printed(&["choose", "--wood", wood, "--json"]));
        rows.iter().find(|row| row["rank"] == 1).unwrap()["setup"].as_str().unwrap().to_owned()
    };
    assert!(winner("Poplar butts").starts_with("Bittern"));
    assert!(winner("Hedgerow poles").starts_with("Wren"));
}

#[test]
fn a_choice_for_other_programs_has_a_row_for_every_setup() {
    let ask = |form: &str| printed(&["choose", "--wood", "Larch stems", "--limit", "weight=9 kg", form]);
    let rows = objects(&ask("--json"));
    assert_eq!(rows.len(), demo().unwrap().setups().len());
    for row in &rows {
        let shares =
            ["one_setting", "resetting", "both_sides", "cannot"].map(|key| row[key].as_f64().unwrap());
        assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-12, "{row:?}");
        let is_light = row["ready_mass_kg"].as_f64().unwrap() <= 9.0;
        assert_eq!(row["refused"].as_str().unwrap().is_empty(), is_light, "{row:?}");
        assert_eq!(row["rank"].is_null(), !is_light);
    }
    // No value is none, never 0: what is refused has no place, and a nose that is never out is out by nothing that is told.
    for row in &rows {
        let exposed = row["nose_in_branches_per_100_cuts_s"].as_f64().unwrap() > 0.0;
        assert_eq!(row["nose_out_mean_m"].is_null(), !exposed, "{row:?}");
        assert_eq!(row["score"].is_null(), row["rank"].is_null(), "{row:?}");
    }
    let csv = ask("--csv");
    let mut lines = csv.lines();
    let names: Vec<&str> = lines.next().unwrap().split(',').collect();
    assert_eq!(names.len() + 1, rows[0].len(), "and the cautions");
    let rank = names.iter().position(|name| *name == "rank").unwrap();
    let ranks: Vec<&str> =
        lines.filter(|line| !line.starts_with('#')).map(|line| line.split(',').nth(rank).unwrap()).collect();
    assert_eq!(ranks.len(), rows.len());
    for (rank, row) in ranks.iter().zip(&rows) {
        assert_eq!(rank.is_empty(), row["rank"].is_null(), "{row:?}");
    }
}

#[test]
fn scales_and_other_means_are_asked_for() {
    let ask = |more: &[&str]| {
        let all: Vec<&str> =
            ["choose", "--wood", "Poplar butts", "--json"].iter().chain(more).copied().collect();
        objects(&printed(&all))
    };
    let of = |rows: &[serde_json::Map<String, serde_json::Value>], key: &str| {
        rows.iter().map(|row| row[key].clone()).collect::<Vec<_>>()
    };
    let plain = ask(&[]);
    let narrow = ask(&["--scale", "weight=8kg..9kg", "--weigh", "weight=10"]);
    assert_ne!(of(&plain, "score"), of(&narrow, "score"));
    assert_eq!(of(&plain, "done"), of(&narrow, "done"));
    let lying = ask(&["--undone", "left"]);
    let left = |rows: &[_]| of(rows, "left_lying").iter().filter(|left| left.as_f64().unwrap() > 0.0).count();
    assert!(left(&lying) > left(&plain));
    let fetched = ask(&["--undone", "Bittern B30"]);
    assert_eq!(left(&fetched), 0, "the big one does it all");
    let said = refused(&["choose", "--wood", "Poplar butts", "--undone", "Heron"], 1);
    assert!(said.contains("no setup named `Heron`"), "{said}");
    let said = refused(&["choose", "--wood", "Poplar butts", "--scale", "weight=9kg..8kg"], 2);
    assert!(said.contains("lies below"), "{said}");
}

#[test]
fn a_choice_that_cannot_be_made_says_why() {
    let said = refused(&["choose", "--wood", "Oaks"], 1);
    assert!(
        said.starts_with("there is no wood named `Oaks` in Alder Flat woodlot; there is Poplar butts, "),
        "{said}"
    );
    for (option, value, part) in [
        ("--limit", "hang", "it is written MEASURE=VALUE"),
        ("--limit", "colour=3", "there is no measure `colour`; there is done, tangle-time"),
        ("--limit", "weight=9 mm", "the unit `mm` is not one of kg, g, lb"),
        ("--limit", "done=90", "a share is 0 to 1 or 0 % to 100 %: write 90% or 0.9"),
        ("--limit", "done=101%", "a share is 0 to 1 or 0 % to 100 %, not `101%`"),
        ("--limit", "done=101", "a share is 0 to 1 or 0 % to 100 %, not `101`"),
        ("--limit", "hang=-3", "a bound is 0 or more, not `-3`"),
        ("--weigh", "fuel=lots", "`lots` is not a number"),
        ("--weigh", "fuel=-1", "is outside 0…10"),
    ] {
        let said = refused(&["choose", "--wood", "Larch stems", option, value], 2);
        assert!(said.contains(part), "{part}: {said}");
    }
}

#[test]
fn readings_that_contradict_each_other_are_not_applied_unasked() {
    let dir = tempfile::tempdir().unwrap();
    let two = "    readings: [
        (measured: Total(weight_kg: 9.3, uncertainty_kg: 0.05), setup: \"Bittern B24\"),
        (measured: Total(weight_kg: 18, uncertainty_kg: 0.05), setup: \"Bittern B24\"),
    ],
)
";
    let yard = with_readings(two);
    let path = yard_file(dir.path(), "two.ron", &yard);
    let ask = |more: &[&str]| {
        let mut args = vec!["weigh-in", path.to_str().unwrap(), "--apply"];
        args.extend(more);
        args.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>()
    };
    let said = refused(&ask(&[]), 1);
    assert!(said.contains("contradict each other") && said.contains("Reading 2, the total weight"), "{said}");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), yard);
    assert!(printed(&ask(&["--even-so"])).contains("Applied and written"));
}

#[test]
fn the_same_readings_are_applied_once() {
    let dir = tempfile::tempdir().unwrap();
    let path = yard_file(dir.path(), "a.ron", &with_readings(READINGS));
    let apply = || printed(&["weigh-in".as_ref(), path.as_os_str(), "--apply".as_ref()]);
    assert!(apply().contains("Applied and written"));
    let once = std::fs::read_to_string(&path).unwrap();
    assert!(apply().contains("stands in the yard already; nothing was written"));
    assert_eq!(std::fs::read_to_string(&path).unwrap(), once);
}

#[test]
fn a_saw_that_leaves_all_of_a_wood_has_no_figures_of_a_cut() {
    let dir = tempfile::tempdir().unwrap();
    let giants = "woods: [\n        (name: \"Giants\", diameters: [(diameter_mm: 2900, cuts: 4)], above_ground_mm: 250, \
                  hardness: (name: \"poplar\", cutting_energy_j_per_cm3: 45, source: \"common practice\")),";
    let yard = yard_file(dir.path(), "giants.yard.ron", &demo_text().replacen("woods: [", giants, 1));
    let asked = ["choose", yard.to_str().unwrap(), "--wood", "Giants"];
    let of_a_cut = [
        "nose_in_branches_per_100_cuts_s",
        "nose_out_mean_m",
        "nose_out_farthest_mean_m",
        "nose_out_worst_m",
        "lifts_per_100_cuts",
        "hands_per_100_cuts_n_s",
        "holding_used_per_cut",
        "worst_arm_share",
        "worst_back_share",
        "rest_per_100_cuts_s",
        "cuts_in_a_day",
        "cutting_s",
        "resetting_s",
        "fuel_m3",
        "oil_m3",
    ];
    let json: serde_json::Value =
        serde_json::from_str(&printed(&[&asked[..], &["--json"]].concat())).unwrap();
    for row in json.as_array().unwrap() {
        assert_eq!((&row["done"], &row["left_lying"]), (&0.0.into(), &1.0.into()), "{row}");
        for key in of_a_cut {
            assert!(row[key].is_null(), "{key}: {row}");
        }
    }
    let csv = printed(&[&asked[..], &["--csv"]].concat());
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(csv.as_bytes());
    let names = reader.headers().unwrap().clone();
    for row in reader.records().map(Result::unwrap) {
        for (name, cell) in names.iter().zip(&row).filter(|(name, _)| of_a_cut.contains(name)) {
            assert_eq!(cell, "", "{name}");
        }
    }
    let said = printed(&[&asked[..], &["--numbers"]].concat());
    assert!(said.contains("lifts no value, holding no value"), "{said}");
}

#[test]
fn where_nothing_counts_no_setup_goes_before_another() {
    let mut asked = vec!["choose", "--wood", "Larch stems"];
    for measure in
        ["done=0", "nose-out=0", "front-hand=0", "effort=0", "tangle-time=0", "lifts=0", "time=0", "weight=0"]
    {
        asked.extend(["--weigh", measure]);
    }
    let said = printed(&asked);
    assert!(
        said.contains("Every weight is 0: nothing puts one setup before another for Larch stems.")
            && !said.contains(", worth 0")
            && !said.contains("1. "),
        "{said}"
    );
    assert!(!said.contains("goes on for"), "{said}");
    asked.push("--json");
    let json: serde_json::Value = serde_json::from_str(&printed(&asked)).unwrap();
    let rows = json.as_array().unwrap();
    assert!(!rows.is_empty() && rows.iter().all(|row| row["rank"].is_null() && row["score"].is_null()));
}

#[test]
fn a_handout_and_a_picture_are_written_in_the_form_of_their_ending() {
    let folder = tempfile::tempdir().unwrap();
    for (name, begins) in [("a.pdf", &b"%PDF-"[..]), ("b.svg", b"<?xml"), ("c.png", b"\x89PNG")] {
        let path = folder.path().join(name);
        let out = path.to_str().unwrap();
        for words in [
            &["handout", "--setup", "Bittern B24", "--log", "560mm", "--paper", "letter", "-o", out][..],
            &["picture", "--view", "bench", "--setup", "Wren B14", "--force", "-o", out],
            &["picture", "--view", "log", "--log", "22in", "--units", "in-lb", "--force", "-o", out],
            &["picture", "--view", "rack", "--ground", "dark", "--size", "900x600", "--force", "-o", out],
        ] {
            let output = ran(words);
            assert!(output.status.success(), "{words:?}: {}", String::from_utf8_lossy(&output.stderr));
            assert!(std::fs::read(&path).unwrap().starts_with(begins), "{words:?}");
            assert!(String::from_utf8_lossy(&output.stdout).starts_with(out), "it says what it wrote");
        }
    }
}

#[test]
fn a_drawing_replaces_nothing_that_is_not_one_and_one_of_its_form_when_told_to() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let draw = |out: &Path, more: &[&str]| {
        let words = ["picture", "--view", "bench", "--size", "400x300", "-o", out.to_str().unwrap()];
        ran(&[&words[..], more].concat())
    };
    for (name, contents, said) in [
        ("yard.svg", demo_text().to_owned(), "a yard"),
        ("broken.svg", demo_text().replace("dry_mass_kg: ", "dry_mass_kg: ?"), "a yard"),
        ("lesson.svg", built_in_text().to_owned(), "a lesson"),
        ("list.svg", "felling list\n".to_owned(), "a file of another sort"),
        ("sheet.svg", "%PDF-1.7\n".to_owned(), "a sheet (PDF)"),
    ] {
        std::fs::write(at(name), &contents).unwrap();
        for more in [&[][..], &["--force"]] {
            let output = draw(&at(name), more);
            let told = text(&output.stderr);
            assert_eq!(output.status.code(), Some(1), "{name}: {told}");
            assert!(told.contains(said) && told.contains("name another file"), "{name}: {told}");
            assert_eq!(std::fs::read_to_string(at(name)).unwrap(), contents, "{name}");
        }
    }
    assert!(draw(&at("a.svg"), &[]).status.success());
    let first = std::fs::read(at("a.svg")).unwrap();
    let output = draw(&at("a.svg"), &["--setup", "Wren B14"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(text(&output.stderr).contains("--force writes over it"), "{}", text(&output.stderr));
    assert_eq!(std::fs::read(at("a.svg")).unwrap(), first);
    assert!(draw(&at("a.svg"), &["--setup", "Wren B14", "--force"]).status.success());
    assert_ne!(std::fs::read(at("a.svg")).unwrap(), first);
}

#[cfg(unix)]
#[test]
fn a_link_is_followed_and_that_is_said_and_a_yard_behind_it_stays() {
    use std::os::unix::fs::symlink;
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path().canonicalize().unwrap();
    let yard = yard_file(&folder, "mine.yard.ron", demo_text());
    let (to_yard, to_drawing) = (folder.join("one.svg"), folder.join("two.svg"));
    symlink(&yard, &to_yard).unwrap();
    std::fs::write(folder.join("real.svg"), "").unwrap();
    symlink(folder.join("real.svg"), &to_drawing).unwrap();
    let draw = |out: &Path| ran(&["picture", "--view", "bench", "-o", out.to_str().unwrap(), "--force"]);
    let told = text(&draw(&to_yard).stderr);
    assert!(told.contains("a yard stands there, where the link leads"), "{told}");
    assert_eq!(std::fs::read_to_string(&yard).unwrap(), demo_text());
    assert!(std::fs::symlink_metadata(&to_yard).unwrap().is_symlink());
    let output = draw(&to_drawing);
    assert!(output.status.success());
    let said = format!("two.svg is a link; {} was written", folder.join("real.svg").display());
    assert!(text(&output.stderr).contains(&said), "{}", text(&output.stderr));
    assert!(std::fs::symlink_metadata(&to_drawing).unwrap().is_symlink());
    assert!(std::fs::read_to_string(folder.join("real.svg")).unwrap().contains("<svg"));
    // The same of a yard that is written back.
    let read = yard_file(&folder, "read.yard.ron", &with_readings(READINGS));
    symlink(&read, folder.join("link.ron")).unwrap();
    let output = ran(&["weigh-in".as_ref(), folder.join("link.ron").as_os_str(), "--apply".as_ref()]);
    assert!(output.status.success(), "{}", text(&output.stderr));
    let said = format!("link.ron is a link; {} was written", read.display());
    assert!(text(&output.stderr).contains(&said), "{}", text(&output.stderr));
}

#[test]
fn what_cannot_be_drawn_is_refused_in_one_line_and_writes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    for (words, code, said) in [
        (vec!["handout", "-o", &at("a.jpg")], 1, "no form goes by .jpg"),
        (vec!["handout", "--setup", "Hron B24", "-o", &at("a.pdf")], 1, "no setup named `Hron B24`"),
        (vec!["handout", "--log", "9m", "-o", &at("a.pdf")], 2, "log diameter 9000 mm is outside"),
        (vec!["picture", "--view", "bench", "-o", &at("gone/a.svg")], 1, "not saved"),
        (vec!["picture", "--view", "bench", "--size", "10x10", "-o", &at("a.svg")], 2, "each side 200…8000"),
        (
            vec![
                "picture",
                "--view",
                "log",
                "--setup",
                "Wren B14",
                "--setup",
                "Wren B18",
                "-o",
                &at("a.svg"),
            ],
            1,
            "take one setup",
        ),
    ] {
        let output = ran(&words);
        let error = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(code), "{words:?}: {error}");
        assert!(error.contains(said), "{words:?}: {error}");
    }
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn the_person_asked_for_is_the_one_who_cuts() {
    let cut = |more: &[&str]| {
        let asked = ["cut", "--setup", "Bittern B18", "--diameter", "560mm", "--json"];
        let text = printed(&[&asked[..], more].concat());
        serde_json::from_str::<serde_json::Value>(&text).unwrap()
    };
    let said = |more: &[&str]| cut(more)["person"].as_str().unwrap().to_owned();
    assert!(said(&[]).starts_with("an average man, 1756 mm, 85.5 kg"), "{}", said(&[]));
    assert!(said(&["--survey", "women"]).starts_with("an average woman, 1628 mm, 67.8 kg"));
    assert!(
        said(&["--stature", "182cm", "--survey", "women"]).starts_with("a woman of average build, 1820 mm")
    );
    assert!(said(&["--body-mass", "156 lb"]).starts_with("own measures, 1756 mm, 70.8 kg"));
    // Who does not kneel is never said to.
    let poses = cut(&["--kneel", "no"]).to_string();
    assert!(!poses.contains("kneeling"), "{poses}");
    let slopes: Vec<String> =
        ["-12", "0", "12deg"].map(|slope| cut(&["--slope", slope]).to_string()).to_vec();
    assert!(slopes[0] != slopes[1] && slopes[1] != slopes[2], "the ground slopes");
}

#[test]
fn the_person_of_a_yard_is_overridden_piece_by_piece() {
    let dir = tempfile::tempdir().unwrap();
    let own = "person: (stature_mm: 1690, survey: Own(of: Women, mass_kg: 71), can_kneel: false),\n    powerheads: [";
    let yard = yard_file(dir.path(), "own.yard.ron", &demo_text().replacen("powerheads: [", own, 1));
    let yard = yard.to_str().unwrap();
    let said = |more: &[&str]| {
        let asked = ["cut", yard, "--setup", "Bittern B18", "--diameter", "400", "--json"];
        let text = printed(&[&asked[..], more].concat());
        let json: serde_json::Value = serde_json::from_str(&text).unwrap();
        json["person"].as_str().unwrap().to_owned()
    };
    assert!(said(&[]).starts_with("own measures, 1690 mm, 71.0 kg"), "{}", said(&[]));
    assert!(said(&["--stature", "1.7 m"]).starts_with("own measures, 1700 mm, 71.0 kg"));
    assert!(said(&["--body-mass", "80"]).starts_with("own measures, 1690 mm, 80.0 kg"));
}

#[test]
fn a_person_who_cannot_be_is_refused_with_the_range() {
    for (option, value, allowed) in [
        ("--stature", "175", "stature 175 mm is outside 1300…2200 mm"),
        ("--stature", "tall", "stature is 1300…2200 mm"),
        ("--body-mass", "8.5", "body mass 8.5 kg is outside 35…200 kg"),
        ("--strength", "100", "strength percentile 100 % is outside 1…99 %"),
        ("--slope", "60", "slope across the log 60 ° is outside -25…25 °"),
        ("--kneel", "perhaps", "[possible values: yes, no]"),
    ] {
        for command in [
            &["cut", "--setup", "Bittern B18", "--diameter", "400"][..],
            &["choose", "--wood", "Larch stems"],
            &["picture", "--view", "log", "-o", "no.svg"],
            &["handout", "-o", "no.pdf"],
        ] {
            let told = refused(&[command, &[option, value]].concat(), 2);
            assert!(told.contains(allowed), "{command:?} {option} {value}: {told}");
        }
    }
}

#[test]
fn an_oval_swing_limits_and_bark_shape_the_cut() {
    let cut = |more: &[&str]| {
        let asked = ["cut", "--setup", "Bittern B18", "--diameter", "400", "--json"];
        let text = printed(&[&asked[..], more].concat());
        serde_json::from_str::<serde_json::Value>(&text).unwrap()
    };
    // All of the section is cut or left: an ellipse has π a b of area.
    let oval = cut(&["--oval", "600"]);
    let (covered, left) =
        (oval["covered_fraction"].as_f64().unwrap(), oval["left_area_m2"].as_f64().unwrap());
    let whole = std::f64::consts::PI * 0.2 * 0.3;
    assert!((left - (1.0 - covered) * whole).abs() < 1e-6, "{oval}");
    for setting in cut(&["--bark", "150,200"])["settings"].as_array().unwrap() {
        let bark = setting["bark_rad"].as_f64().unwrap().to_degrees().rem_euclid(360.0);
        assert!((149.99..=200.01).contains(&bark), "{bark}");
    }
    for setting in cut(&["--swing", "45,50"])["settings"].as_array().unwrap() {
        for end in ["swing_from_rad", "swing_to_rad"] {
            let swing = setting[end].as_f64().unwrap().to_degrees();
            assert!((-50.01..=45.01).contains(&swing), "{swing}");
        }
    }
    let refusal = |more: &[&str], code| {
        refused(&[&["cut", "--setup", "Bittern B18", "--diameter", "400"][..], more].concat(), code)
    };
    assert!(refusal(&["--oval", "900"], 1).contains("oval's longer over shorter diameter"));
    assert!(refusal(&["--swing", "20,50"], 2).contains("45…90"));
    assert!(refusal(&["--swing", "60"], 2).contains("two angles with a comma between them"));
    assert!(refusal(&["--bark", "200,150"], 2).contains("must run counter-clockwise"));
    assert!(refusal(&["--bark", "-30,30"], 1).contains("far side"));
    let both = cut(&["--bark", "-30,30", "--stand", "both-sides"]);
    for setting in both["settings"].as_array().unwrap() {
        assert_eq!(setting["side"], "far");
    }
}

#[test]
fn a_stronger_person_holds_the_saw_level_with_less_of_their_strength() {
    let share = |percentile: &str| {
        let asked = ["figures", "--setup", "Bittern B24", "--strength", percentile, "--json"];
        objects(&printed(&asked))[0]["level_hold_share"].as_f64().unwrap()
    };
    let (weak, middling, strong) = (share("5%"), share("50"), share("95 %"));
    assert!(weak > middling && middling > strong, "{weak} {middling} {strong}");
    let women = ["figures", "--setup", "Bittern B24", "--survey", "women", "--json"];
    assert!(objects(&printed(&women))[0]["level_hold_share"].as_f64().unwrap() > middling);
}

/// Words of a command as a shell splits them, quotes taken off.
fn words_of(line: &str) -> Vec<String> {
    let quoted = line.split('"').enumerate();
    let words = quoted.flat_map(|(place, part)| match place % 2 {
        0 => part.split_whitespace().map(str::to_owned).collect(),
        _ => vec![part.to_owned()],
    });
    words.collect()
}

#[test]
fn every_command_of_the_readme_does_as_it_says() {
    let readme = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../README.md")).unwrap();
    let (_, rest) = readme.split_once("## The command line").unwrap();
    let (_, rest) = rest.split_once("```sh\n").unwrap();
    let (block, _) = rest.split_once("```").unwrap();
    let dir = tempfile::tempdir().unwrap();
    yard_file(dir.path(), "my.yard.ron", demo_text());
    let mut run = 0;
    for line in block.lines() {
        let words = words_of(line.split('#').next().unwrap());
        let args = &words[1..];
        assert_eq!(words[0], "barpoise", "{line}");
        // A window needs a display.
        if args.first().is_none_or(|first| first.ends_with(".ron")) {
            continue;
        }
        let output = program().args(args).current_dir(dir.path()).output().unwrap();
        let told = text(&output.stderr);
        assert_eq!(output.status.code(), Some(0), "{line}: {told}");
        if let Some(place) = args.iter().position(|word| word == "-o") {
            assert!(dir.path().join(&args[place + 1]).metadata().unwrap().len() > 1000, "{line}");
        }
        run += 1;
    }
    assert!(run >= 9, "{run}");
}

#[test]
fn a_sheet_bears_the_date_of_where_the_person_is() {
    let folder = tempfile::tempdir().unwrap();
    // A day begins 26 hours earlier in the east of the east than in the west of the west.
    let dates = ["EAST-14", "WEST+12"].map(|zone| {
        let path = folder.path().join(format!("{zone}.svg"));
        let output = program().env("TZ", zone).args(["handout", "-o"]).arg(&path).output().unwrap();
        assert!(output.status.success(), "{output:?}");
        let text = std::fs::read_to_string(path).unwrap();
        let found = text.match_indices("20").find_map(|(at, _)| {
            let date = text.get(at..at + 10)?;
            let looks = |(place, c): (usize, char)| {
                if matches!(place, 4 | 7) { c == '-' } else { c.is_ascii_digit() }
            };
            date.chars().enumerate().all(looks).then(|| date.to_owned())
        });
        found.unwrap()
    });
    assert!(dates[0] > dates[1], "{dates:?}");
}
