//! Every assumed number with its mark, wherever its effect is shown: the sheet of all, the rooms, the command line, paper.

use super::harness::{SIZE, demo, window_of};
use barpoise::desk::document::{Document, Log};
use barpoise::desk::format::Units;
use barpoise::desk::page_size::PageSize;
use barpoise::desk::sources::{HEADING, Topic, counted, line, named};
use barpoise::draw::sheet::Handout;
use barpoise::draw::strokes::Typeface;
use barpoise::window::app::App;
use barpoise::window::view_state::{Room, ViewState};
use barpoise_core::{Assumption, Mark};
use egui::accesskit::Role;
use egui::{Key, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

fn all_of(topics: &[Topic]) -> Vec<Assumption> {
    topics.iter().flat_map(|topic| topic.assumptions()).collect()
}

/// Every text in the window.
fn told(harness: &Harness<'_, App>) -> Vec<String> {
    let nodes = harness.query_all_by(|_| true);
    nodes.filter_map(|node| node.accesskit_node().label().or_else(|| node.accesskit_node().value())).collect()
}

fn assert_told(place: &str, harness: &Harness<'_, App>, topics: &[Topic]) {
    let told = told(harness);
    let has = |wanted: &str| told.iter().any(|text| text == wanted);
    assert!(has(Mark::LEGEND), "{place}: no legend");
    for of in all_of(topics) {
        assert!(has(&line(Units::default(), &of)), "{place}: {}", of.what);
    }
}

/// Letters alone: lines may break anywhere.
fn letters(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

#[test]
fn the_sheet_has_every_assumed_number_with_its_mark_and_what_the_marks_mean() {
    let mut harness = window_of(demo(), SIZE);
    harness.key_press(Key::F2);
    harness.run();
    assert_told("the sheet", &harness, &Topic::ALL);
    harness.key_press(Key::Escape);
    harness.run();
    assert!(!told(&harness).contains(&Mark::LEGEND.to_owned()), "Escape closes it");
}

#[test]
fn each_room_that_shows_the_effect_of_a_number_tells_it() {
    for (room, topics) in
        [(Room::Bench, &Topic::BENCH[..]), (Room::Log, &Topic::LOG[..]), (Room::Rack, &Topic::RACK[..])]
    {
        let view = ViewState { room, ..ViewState::default() };
        let mut harness =
            window_of(App::with_view(Document::demo().unwrap(), view), Vec2::new(1280.0, 1400.0));
        harness.state_mut().wait();
        harness.run();
        harness.get_by_role_and_label(Role::DisclosureTriangle, HEADING).focus();
        harness.run();
        harness.key_press(Key::Space);
        harness.run();
        assert_told(room.name(), &harness, topics);
    }
}

#[test]
fn each_report_of_the_command_line_tells_what_it_rests_on() {
    for (args, topics) in [
        (&["figures"][..], &[Topic::Saw, Topic::Hold][..]),
        (&["cut", "--setup", "Bittern B18", "--diameter", "300mm"], &[Topic::Cut, Topic::Pose, Topic::Hold]),
        (&["choose", "--wood", "Larch stems"], &Topic::RACK),
    ] {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let args = ["barpoise"].iter().chain(args).map(std::ffi::OsString::from);
        barpoise::cli::run(args, &mut out, &mut err);
        let (text, err) = (letters(&String::from_utf8(out).unwrap()), String::from_utf8(err).unwrap());
        assert!(err.is_empty(), "{err}");
        assert!(text.contains(&letters(Mark::LEGEND)), "{topics:?}");
        for of in all_of(topics) {
            assert!(text.contains(&letters(&named(Units::default(), &of))), "{}", of.what);
            assert!(text.contains(&letters(of.mark.words())), "{}", of.what);
        }
    }
}

#[test]
fn a_handout_tells_what_its_figures_and_its_cut_rest_on() {
    let yard = barpoise_core::file::demo().unwrap();
    let log = Log::default();
    for (log, setups, is_full) in [(None, 2, false), (Some(&log), 1, false), (Some(&log), 9, true)] {
        let setups = yard.setups().iter().take(setups).collect();
        let handout = Handout {
            yard: &yard,
            setups,
            log,
            size: PageSize::A4,
            units: Units::default(),
            date: "2026-11-25",
            author: "",
        };
        let svg = letters(&handout.sheet().unwrap().svg(Typeface::Named).replace("</text>", ""));
        let shown = {
            // The words alone, without what stands between < and >.
            let mut inside = false;
            let words = svg.chars().filter(|c| {
                inside = (inside || *c == '<') && *c != '>';
                !inside && *c != '>'
            });
            words.collect::<String>()
        };
        let whole: &[Topic] = if is_full { &[] } else { &[Topic::Saw] };
        for of in all_of(whole) {
            assert!(shown.contains(&letters(&named(Units::default(), &of))), "{} in {shown}", of.what);
        }
        let few = [Topic::Saw, Topic::Hold, Topic::Proposed, Topic::Cut, Topic::Pose];
        let cuts = log.map_or(2, |_| 0);
        let few = &few[whole.len()..few.len() - cuts];
        for topic in few {
            assert!(shown.contains(&letters(&counted(*topic))), "{topic:?}");
        }
        assert!(shown.contains(&letters(Mark::LEGEND)));
    }
}
