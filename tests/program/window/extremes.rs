//! Whatever is allowed, its ends included: every figure is a number, and every line of every room lies somewhere.

use super::any_yard::any_yard;
use super::harness::{SIZE, window_of};
use super::shapes::every_point;
use barpoise::desk::document::{Document, Log};
use barpoise::desk::format::Units;
use barpoise::desk::page_size::PageSize;
use barpoise::draw::pictures::Sketch;
use barpoise::draw::sheet::{Handout, HandoutError};
use barpoise::draw::strokes::Typeface;
use barpoise::draw::theme::Paper;
use barpoise::window::app::App;
use barpoise::window::view_state::{Room, ViewState};
use barpoise_core::Yard;
use barpoise_core::lesson::parse_lesson;
use barpoise_core::log::Stand;
use barpoise_core::record::YardFile;
use barpoise_core::units::Length;
use proptest::prelude::*;
use proptest::test_runner::{Config, TestError, TestRunner};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Windows are looked at for so many yards; `PROPTEST_CASES` raises it in proportion.
const WINDOWS: u32 = 24;
/// Of so many yards the figures alone are looked at.
const FIGURES: u32 = 256;

/// Runs a check over yards that can be put together. Most cannot: loops that close on no head, grips the wrong way
/// round. Fails where too few could, for then nothing was looked at.
fn for_yards(cases: u32, check: impl Fn(Document) -> Result<(), TestCaseError>) {
    let config =
        Config { cases, max_global_rejects: 4000 * cases, failure_persistence: None, ..Config::default() };
    let refused = RefCell::new(BTreeMap::<String, u32>::new());
    let result = TestRunner::new(config).run(&any_yard(), |file: YardFile| {
        let yard = match Yard::new(file) {
            Ok(yard) => yard,
            Err(faults) => {
                for fault in faults {
                    *refused.borrow_mut().entry(fault.path).or_default() += 1;
                }
                return Err(TestCaseError::reject("no saw can be put together"));
            }
        };
        check(Document::new_yard(yard).map_err(|error| TestCaseError::fail(error.to_string()))?)
    });
    match result {
        Ok(()) => {}
        Err(TestError::Abort(reason)) => unreachable!("{reason}: {:?}", refused.borrow()),
        Err(error) => unreachable!("{error}"),
    }
}

/// Runs a test with room on the stack: an unoptimised strategy of so many parts takes more than a test's thread has.
pub fn with_room(test: impl FnOnce() + Send + 'static) {
    const STACK: usize = 32 << 20;
    if let Err(panic) = std::thread::Builder::new().stack_size(STACK).spawn(test).unwrap().join() {
        std::panic::resume_unwind(panic);
    }
}

/// The share of `PROPTEST_CASES` over its default that a test of so many cases gets.
fn cases(of: u32) -> u32 {
    (of * Config::default().cases).div_ceil(256)
}

/// No number of a debug print is infinite or none; names of these yards hold no such word.
fn all_numbers(what: &str, printed: &str) -> Result<(), TestCaseError> {
    let bad = |word: &str| matches!(word, "NaN" | "inf");
    match printed.split(|c: char| !c.is_alphanumeric()).position(bad) {
        None => Ok(()),
        Some(_) => {
            let at = printed.find("NaN").or_else(|| printed.find("inf")).unwrap_or_default();
            let from = printed.floor_char_boundary(at.saturating_sub(300));
            let to = printed.floor_char_boundary(at + 60);
            Err(TestCaseError::fail(format!("{what}: …{}…", &printed[from..to])))
        }
    }
}

#[test]
fn law_every_figure_of_any_yard_is_a_number() {
    with_room(|| {
        for_yards(cases(FIGURES), |mut document| {
            all_numbers("bench", &format!("{:?}", document.figures()))?;
            all_numbers("log", &format!("{:?}", document.log_figures()))?;
            all_numbers("weigh-in", &format!("{:?}", document.weigh_in()))?;
            document.tend_rack(|| ());
            document.wait_for_rack();
            all_numbers("rack", &format!("{:?}", document.rack_figures()))?;
            all_numbers("choice", &format!("{:?}", document.chosen()))
        })
    });
}

/// A lesson over the one setup of any yard.
const LESSON: &str = r#"(version: 1, name: "Any saw", steps: [
    (heading: "Weight", caption: "{weight}, {hang}, {reach}, {ahead}, {front_hand_share}", setups: ["long"],
        view: Bench, point_at: [CentreOfGravity, Weight, FrontHand, RearHand, Spikes, DangerArc, Tip]),
    (heading: "Hang", caption: "{hang}", setups: ["long"], view: Bench, guess: Hang),
    (heading: "Log", caption: "{settings}, {hands_work}, {off_spikes}", setups: ["long"],
        view: Log(diameter_mm: 560), point_at: [Settings, Nose]),
])"#;

/// Every room as it opens, the bench also held up and down, and a lesson's steps, the first also for a projector.
fn views() -> Vec<ViewState> {
    let mut views: Vec<ViewState> = Room::ALL
        .into_iter()
        .filter(|room| *room != Room::Teach)
        .map(|room| ViewState { room, ..ViewState::default() })
        .collect();
    views.extend([-60.0, 60.0].map(|held_pitch_deg| ViewState { held_pitch_deg, ..ViewState::default() }));
    let lesson = Arc::new(parse_lesson(LESSON, "any.lesson.ron").unwrap());
    for (step, projected) in [(0, false), (0, true), (1, false), (2, false)] {
        let mut view = ViewState { room: Room::Teach, ..ViewState::default() };
        view.teach.lesson = Some(Arc::clone(&lesson));
        view.teach.step = step;
        view.teach.projected = projected;
        views.push(view);
    }
    views
}

#[test]
fn law_every_drawing_for_a_file_lies_somewhere() {
    with_room(|| {
        for_yards(cases(WINDOWS), |document| {
            let yard = document.yard();
            let setups: Vec<_> = yard.setups().iter().collect();
            let units = Units::default();
            let log = Log::round(Length::from_mm(560.0), Stand::OneSide).unwrap();
            let sketches = [
                Sketch::bench(yard, setups[0], units),
                Sketch::log(yard, setups[0], &log, units)
                    .map_err(|fault| TestCaseError::fail(fault.message))?,
                Sketch::rack(&setups, units),
            ];
            for sketch in sketches {
                let svg = sketch.drawn(SIZE, Paper::Print).svg(Typeface::Named);
                prop_assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
            }
            let handout = Handout {
                yard,
                setups,
                log: Some(&log),
                size: PageSize::A4,
                units,
                date: "2026-11-25",
                author: "",
            };
            match handout.sheet() {
                Ok(sheet) => {
                    let svg = sheet.svg(Typeface::Named);
                    prop_assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
                }
                // A saw of the widest numbers takes more words than a sheet holds; that is said.
                Err(error) => prop_assert!(matches!(error, HandoutError::Full { .. }), "{error}"),
            }
            Ok(())
        })
    });
}

#[test]
fn law_every_line_of_every_room_lies_somewhere() {
    with_room(|| {
        for_yards(cases(WINDOWS), |document| {
            let yard = document.yard().clone();
            for view in views() {
                let document = Document::new_yard(yard.clone())
                    .map_err(|error| TestCaseError::fail(error.to_string()))?;
                let seen =
                    format!("{:?}, held {}°, step {}", view.room, view.held_pitch_deg, view.teach.step);
                let mut window = window_of(App::with_view(document, view), SIZE);
                window.state_mut().wait();
                window.run();
                let points = every_point(&window);
                prop_assert!(points.len() > 100, "{seen}: nothing is drawn");
                let lost = points.iter().find(|at| !(at.x.is_finite() && at.y.is_finite()));
                prop_assert!(lost.is_none(), "{seen}: something lies at {lost:?}");
            }
            Ok(())
        })
    });
}

#[test]
fn a_share_between_the_steps_of_its_slider_stays_as_it_is() {
    let mut file = Document::demo().unwrap().yard().file().clone();
    file.woods[0].tangled_share = 0.123_456;
    file.woods[0].lifted_share = 0.076_543;
    let document = Document::new_yard(Yard::new(file.clone()).unwrap()).unwrap();
    let view = ViewState { room: Room::Rack, ..ViewState::default() };
    let mut window = window_of(App::with_view(document, view), SIZE);
    window.state_mut().wait();
    window.run();
    assert_eq!(window.state().document().yard().file(), &file, "looking at a wood changes nothing");
}
