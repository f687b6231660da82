//! Whatever is allowed, its ends included: every figure is a number, and every line of every room lies somewhere.

use crate::any_yard::any_yard;
use crate::harness::{SIZE, window_of};
use crate::shapes::every_point;
use barpoise::app::App;
use barpoise::document::Document;
use barpoise::view_state::{Room, ViewState};
use barpoise_core::Yard;
use barpoise_core::file::YardFile;
use proptest::prelude::*;
use proptest::test_runner::{Config, TestError, TestRunner};
use std::cell::RefCell;
use std::collections::BTreeMap;

/// Windows are looked at for so many yards; `PROPTEST_CASES` raises it in proportion.
const WINDOWS: u32 = 24;
/// Of so many yards the figures alone are looked at.
const FIGURES: u32 = 256;

/// Runs a check over yards that can be put together. Most cannot: loops that close on no head, grips the wrong way
/// round. Fails where too few could, for then nothing was looked at.
fn for_yards(cases: u32, check: impl Fn(Document) -> Result<(), TestCaseError>) {
    let config =
        Config { cases, max_global_rejects: 400 * cases, failure_persistence: None, ..Config::default() };
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
fn with_room(test: impl FnOnce() + Send + 'static) {
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

#[test]
fn law_every_line_of_every_room_lies_somewhere() {
    with_room(|| {
        for_yards(cases(WINDOWS), |document| {
            let yard = document.yard().clone();
            for room in Room::ALL {
                for held_pitch_deg in [-60.0, 0.0, 60.0] {
                    let document = Document::new_yard(yard.clone())
                        .map_err(|error| TestCaseError::fail(error.to_string()))?;
                    let view = ViewState { room, held_pitch_deg, ..ViewState::default() };
                    let mut window = window_of(App::with_view(document, view), SIZE);
                    window.state_mut().wait();
                    window.run();
                    let points = every_point(&window);
                    prop_assert!(points.len() > 100, "{room:?} draws nothing");
                    let lost = points.iter().find(|at| !(at.x.is_finite() && at.y.is_finite()));
                    prop_assert!(
                        lost.is_none(),
                        "{room:?} held at {held_pitch_deg}°: something lies at {lost:?}"
                    );
                    if room != Room::Bench {
                        break;
                    }
                }
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
