//! The picture of a log: saw and person whole in it, at every moment, and what cannot be done said where it fails.

use super::*;
use crate::desk::document::{Figures, Log};
use crate::draw::strokes::Item;
use barpoise_core::file::demo;
use barpoise_core::log::{Setting, Stand};
use barpoise_core::person::Person;
use barpoise_core::{Yard, cutting_bar};

fn figures(yard: &Yard, setup: &Setup, diameter_mm: f64, stand: Stand) -> LogFigures {
    let log = Log::round(Length::from_mm(diameter_mm), stand).unwrap();
    LogFigures::new(&log, &Person::default(), &Figures::of_setup(yard, setup)).unwrap()
}

fn picture<'a>(
    figures: &'a LogFigures,
    setup: &'a Setup,
    work: (usize, f64),
    numbered: bool,
) -> LogPicture<'a> {
    LogPicture {
        work: Some(work),
        numbered,
        runs: !numbered,
        ..LogPicture::at_end(figures, setup, Units::default())
    }
}

#[test]
fn law_saw_and_person_are_whole_in_the_picture_at_every_moment() {
    const EVERY: u32 = 20;
    let yard = demo().unwrap();
    let rect = Rect::from_min_size(egui::pos2(10.0, 20.0), egui::vec2(880.0, 580.0));
    for (name, diameter_mm, stand) in [
        ("Bittern B14", 320.0, Stand::OneSide),
        ("Bittern B24", 740.0, Stand::BothSides),
        ("Wren B18", 200.0, Stand::OneSide),
    ] {
        let setup = yard.setup(name).unwrap();
        let figures = figures(&yard, setup, diameter_mm, stand);
        let cut = figures.cut().unwrap();
        for index in 0..cut.settings.len() {
            for share in (0..=EVERY).map(|step| f64::from(step) / f64::from(EVERY)) {
                for numbered in [true, false] {
                    let picture = picture(&figures, setup, (index, share), numbered);
                    let canvas = picture.fit(rect, 1.0);
                    let stood = picture.stood().unwrap();
                    let saw = log::saw_extent(setup, &picture.pose(cut, index, share).unwrap());
                    for part in [stood.extent(), saw] {
                        for corner in [(part.x0, part.y0), (part.x1, part.y1)] {
                            let at = canvas.to_screen(corner.into());
                            // Between two looks at the way a limb may be a little farther out than at either.
                            let room = if numbered { 0.5 } else { 12.0 };
                            assert!(
                                rect.expand(room).contains(at),
                                "{name} {index} {share} {numbered}: {at:?}"
                            );
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn the_scale_stays_while_the_cut_runs() {
    let yard = demo().unwrap();
    let setup = yard.setup("Bittern B18").unwrap();
    let figures = figures(&yard, setup, 740.0, Stand::BothSides);
    let rect = Rect::from_min_size(egui::Pos2::ZERO, egui::vec2(880.0, 580.0));
    let fit = |work| picture(&figures, setup, work, false).fit(rect, 1.0);
    assert_eq!(fit((0, 0.0)), fit((1, 0.7)));
    let [begun, later] =
        [0.0, 1.7].map(|run| LogPicture::at_run(&figures, setup, Units::default(), run).fit(rect, 1.0));
    assert_eq!(begun, later, "numbered too");
}

#[test]
fn a_plan_has_a_person_who_can_do_it_and_a_bad_setting_says_why_in_the_drawing() {
    let yard = demo().unwrap();
    let setup = yard.setup("Bittern B24").unwrap();
    let rect = Rect::from_min_size(egui::Pos2::ZERO, egui::vec2(880.0, 580.0));
    let danger_words = |figures: &LogFigures| -> Vec<String> {
        let picture = picture(figures, setup, (0, 1.0), true);
        let scene = picture.scene(&picture.fit(rect, 1.0));
        let texts = scene.items().iter().filter_map(|item| match item {
            Item::Text(label) if label.ink == Ink::Danger => Some(label.text.clone()),
            _ => None,
        });
        texts.collect()
    };
    let planned = figures(&yard, setup, 560.0, Stand::OneSide);
    assert!(danger_words(&planned).is_empty(), "{:?}", danger_words(&planned));
    let said = picture(&planned, setup, (0, 0.5), true).spoken().unwrap();
    assert!(said.starts_with("operator ") && !said.contains("cannot"), "{said}");
    // The whole swing from the top of the log: the front hand would be in the bark.
    let job = planned.job();
    let full = Setting::full(job, Angle::from_deg(90.0), barpoise_core::log::Side::Near).unwrap();
    let cut = Cut::new(job, Some(&[full]), setup, &barpoise_core::solve(setup)).unwrap();
    let trouble = cut.workplace.trouble(job, &cutting_bar(setup).unwrap(), &full).unwrap();
    let stood = Stood::at(job, &cut, 0, trouble.0).unwrap();
    assert!(
        stood.spoken(Units::default()).contains("; cannot be done: "),
        "{}",
        stood.spoken(Units::default())
    );
    let mut scene = Scene::new(1.0);
    stood.trouble(&mut scene, Units::default());
    let said = crate::desk::words::cut::trouble_said(Units::default(), &trouble.1);
    let drawn = scene.items().iter().any(|item| matches!(item, Item::Text(label) if label.text == said));
    assert!(drawn, "{said}");
}
