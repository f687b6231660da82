//! The room Teach and its projector.

use super::harness::{SIZE, focus_slider, move_to, press, slider_at, window_of};
use barpoise::desk::document::Document;
use barpoise::desk::edit::{Edit, Gesture, LogEdit};
use barpoise::desk::lesson::{Motion, Stage};
use barpoise::window::app::App;
use barpoise::window::view_state::{Room, ViewState};
use barpoise_core::Yard;
use barpoise_core::lesson::{Guessed, Role as Part, View};
use barpoise_core::log::{Bind, Tangle};
use barpoise_core::units::Length;
use egui::accesskit::Role;
use egui::epaint::{ClippedShape, Shape};
use egui::{Key, Modifiers, Rect, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

const HANG: &str = "Your guess of the hang in degrees nose down";
const WEIGHT: &str = "Your guess of the weight in kg";
const REACH: &str = "Your guess of the reach in mm";
const FULL_HD: Vec2 = Vec2::new(1920.0, 1080.0);

fn room_of(size: Vec2, change: impl FnOnce(&mut ViewState)) -> Harness<'static, App> {
    let mut view = ViewState { room: Room::Teach, ..ViewState::default() };
    view.teach.prepare().unwrap();
    change(&mut view);
    window_of(App::with_view(Document::demo().unwrap(), view), size)
}

fn at_step(step: usize) -> Harness<'static, App> {
    room_of(SIZE, |view| view.teach.go(step))
}

fn step_with(harness: &Harness<'_, App>, wanted: impl Fn(&barpoise_core::lesson::Step) -> bool) -> usize {
    harness.state().view().teach.steps().iter().position(wanted).unwrap()
}

fn guess_step(guessed: Guessed) -> usize {
    step_with(&at_step(0), |step| step.guess == Some(guessed))
}

/// Every text that was laid out: what it says, its smallest letters in points, where it is, and what it is clipped to.
fn texts(harness: &Harness<'_, App>) -> Vec<(String, f32, Rect, Rect)> {
    fn walk(shape: &Shape, clip: Rect, found: &mut Vec<(String, f32, Rect, Rect)>) {
        match shape {
            Shape::Vec(shapes) => shapes.iter().for_each(|shape| walk(shape, clip, found)),
            Shape::Text(text) if !text.galley.job.text.trim().is_empty() => {
                let sizes = text.galley.job.sections.iter().map(|section| section.format.font_id.size);
                let smallest = sizes.fold(f32::MAX, f32::min);
                let rect = text.galley.rect.translate(text.pos.to_vec2());
                found.push((text.galley.job.text.clone(), smallest, rect, clip));
            }
            _ => {}
        }
    }
    let mut found = Vec::new();
    for ClippedShape { clip_rect, shape, .. } in &harness.output().shapes {
        walk(shape, *clip_rect, &mut found);
    }
    found
}

fn said(harness: &Harness<'_, App>) -> String {
    texts(harness).into_iter().map(|(text, ..)| text).collect::<Vec<_>>().join("\n")
}

#[test]
fn keys_lead_through_the_whole_lesson_and_back() {
    for projected in [false, true] {
        let mut harness = room_of(SIZE, |view| view.teach.projected = projected);
        let steps = harness.state().view().teach.steps().to_vec();
        assert!(steps.len() >= 10);
        let keys = [Key::ArrowRight, Key::PageDown, Key::Space];
        for (index, step) in steps.iter().enumerate() {
            assert_eq!(harness.state().view().teach.step, index);
            assert!(said(&harness).contains(&step.heading), "{}", step.heading);
            harness.key_press(keys[index % keys.len()]);
            harness.run();
        }
        assert_eq!(harness.state().view().teach.step, steps.len() - 1, "the last stays");
        for key in [Key::ArrowLeft, Key::PageUp] {
            harness.key_press(key);
            harness.run();
        }
        assert_eq!(harness.state().view().teach.step, steps.len() - 3);
        harness.key_press(Key::Home);
        harness.run();
        assert_eq!(harness.state().view().teach.step, 0);
    }
}

#[test]
fn no_figure_of_a_step_is_shown_before_its_guess() {
    for guessed in Guessed::ALL {
        for projected in [false, true] {
            let mut harness = room_of(SIZE, |view| view.teach.projected = projected);
            let step = guess_step(guessed);
            harness.state_mut().view_mut().teach.go(step);
            harness.run();
            let name = harness.state().view().teach.shown().unwrap().setups[0].clone();
            let figures = harness.state().document().setup_figures(&name).unwrap();
            let (solved, units) = (figures.solved(), harness.state().view().units);
            let hang = barpoise::desk::format::angle(solved.hang.unwrap());
            let hidden = [
                units.mass(solved.ready_mass()),
                hang,
                units.length(solved.reach),
                units.force(solved.hands.unwrap().front),
                units.force(solved.hands.unwrap().rear.abs()),
            ];
            let before = said(&harness);
            for figure in &hidden {
                assert!(!before.contains(figure.as_str()), "{guessed:?}: {figure} is given away in {before}");
            }
        }
    }
}

#[test]
fn a_guess_is_made_by_keys_and_then_the_figure_stands_beside_it() {
    let mut harness = at_step(guess_step(Guessed::Weight));
    focus_slider(&mut harness, WEIGHT);
    for _ in 0..7 {
        harness.key_press_modifiers(Modifiers::SHIFT, Key::ArrowRight);
        harness.run();
    }
    harness.key_press(Key::ArrowRight);
    harness.run();
    let teach = &harness.state().view().teach;
    let guess = teach.guesses[&teach.step];
    assert!((guess.value - 7.1).abs() < 1e-9 && !guess.told, "{guess:?}");
    harness.key_press(Key::Enter);
    harness.run();
    let solved = harness.state().document().setup_figures("Bittern B24").unwrap();
    let truth = harness.state().view().units.mass(solved.solved().ready_mass());
    let words = said(&harness);
    assert!(words.contains(&format!("You said 7.10 kg. It is {truth}")), "{words}");
    harness.get_by_label("Guess again").click();
    harness.run();
    assert!(!said(&harness).contains(&truth), "hidden again");
}

#[test]
fn the_nose_is_turned_about_the_grip_and_the_yard_stays_as_it_was() {
    let mut harness = at_step(guess_step(Guessed::Hang));
    let grab = slider_at(&harness, HANG);
    move_to(&mut harness, grab);
    press(&mut harness, grab, true);
    let end = grab + Vec2::new(-40.0, 160.0);
    for share in [0.3, 0.7, 1.0] {
        move_to(&mut harness, grab + share * (end - grab));
    }
    press(&mut harness, end, false);
    harness.run();
    let teach = &harness.state().view().teach;
    let guess = teach.guesses[&teach.step];
    assert!((0.1..0.7).contains(&guess.value), "nose down, rad: {guess:?}");
    let knob = slider_at(&harness, HANG);
    // The knob turns about the grip: it stays in the direction of the pointer, at its own distance.
    assert!((knob - end).length() < 30.0, "{knob:?} for {end:?}");
    assert!(!harness.state().document().unsaved(), "a guess is no change of the yard");
    harness.get_by_label("Show the answer").click();
    harness.run();
    assert!(said(&harness).contains("nose down. It is 20.3° nose down: "));
}

#[test]
fn the_mark_of_the_reach_follows_the_pointer_along_the_bar() {
    let mut harness = at_step(guess_step(Guessed::Reach));
    let grab = slider_at(&harness, REACH);
    move_to(&mut harness, grab);
    press(&mut harness, grab, true);
    let end = grab + Vec2::new(90.0, 4.0);
    move_to(&mut harness, end);
    let knob = slider_at(&harness, REACH);
    assert!((knob.x - end.x).abs() < 1.0, "{knob:?} for {end:?}");
    press(&mut harness, end, false);
    let before = harness.state().view().teach.guesses[&harness.state().view().teach.step].value;
    focus_slider(&mut harness, REACH);
    harness.key_press(Key::ArrowRight);
    harness.run();
    let after = harness.state().view().teach.guesses[&harness.state().view().teach.step].value;
    assert!((before - after - 0.005).abs() < 1e-9, "5 mm less reach: {before} {after}");
}

#[test]
fn a_projector_has_no_text_smaller_than_28_points_whatever_the_zoom() {
    for (size, zoom) in [(SIZE, 1.0), (SIZE, 1.5), (FULL_HD, 1.0), (FULL_HD, 1.5)] {
        for step in 0..at_step(0).state().view().teach.steps().len() {
            let harness = projected(size, zoom, step, true);
            for (text, points, ..) in texts(&harness) {
                assert!(points * zoom >= 28.0 - 1e-3, "{size:?} × {zoom}, step {step}: {points} pt: {text}");
            }
        }
    }
}

/// A step on a projector, its guess made where it has one.
fn projected(size: Vec2, zoom: f32, step: usize, told: bool) -> Harness<'static, App> {
    let mut harness = room_of(size, |view| {
        view.teach.go(step);
        view.teach.projected = true;
    });
    if (zoom - 1.0).abs() > 0.01 {
        // As the window does it: the zoom takes points away.
        harness.ctx.set_zoom_factor(zoom);
        harness.run();
        harness.run();
    }
    if told && harness.state().view().teach.waits_for_guess() {
        tell_all(harness.state_mut().view_mut());
        harness.run();
    }
    harness
}

/// The guess is made, or the choice.
fn tell_all(view: &mut ViewState) {
    use barpoise::desk::lesson::Chosen;
    if view.teach.shown().unwrap().choose.is_some() {
        view.teach.chosen.insert(view.teach.step, Chosen { answer: Some(0), told: true });
    } else {
        tell(view);
    }
}

fn tell(view: &mut ViewState) {
    use barpoise::desk::lesson::Guess;
    let of = view.teach.shown().unwrap().guess.unwrap();
    let value = match of {
        Guessed::Hang => 0.2,
        Guessed::Reach => 0.35,
        Guessed::Weight => 7.0,
        Guessed::FrontHand => 80.0,
        Guessed::Tip => 0.5,
    };
    view.teach.guesses.insert(view.teach.step, Guess { of, value, moved: true, told: true });
}

#[test]
fn nothing_is_clipped_and_no_two_texts_collide_on_a_projector() {
    let mut wrong = Vec::new();
    for (size, zoom) in [(SIZE, 1.0), (SIZE, 1.5), (FULL_HD, 1.0)] {
        for step in 0..at_step(0).state().view().teach.steps().len() {
            for told in [false, true] {
                let harness = projected(size, zoom, step, told);
                let place = format!("{size:?} × {zoom}, step {step}, told {told}");
                let window = Rect::from_min_size(egui::Pos2::ZERO, size / zoom).expand(0.5);
                let texts = texts(&harness);
                for (text, _, rect, clip) in &texts {
                    if !(window.contains_rect(*rect) && clip.expand(2.0).contains_rect(*rect)) {
                        wrong.push(format!("{place}: {text} at {rect:?} in {clip:?}"));
                    }
                }
                for (index, (text, _, rect, _)) in texts.iter().enumerate() {
                    // A line's box is higher than its letters.
                    let letters = rect.shrink2(Vec2::new(1.0, 0.12 * rect.height().min(40.0)));
                    for (other, ..) in
                        texts[..index].iter().filter(|(_, _, at, _)| letters.intersects(at.shrink(2.0)))
                    {
                        wrong.push(format!("{place}: {text} meets {other}"));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_text_of_the_room_is_whole_at_100_and_150_percent() {
    for (size, zoom) in [(SIZE, 1.0), (FULL_HD, 1.0), (FULL_HD, 1.5)] {
        for step in 0..at_step(0).state().view().teach.steps().len() {
            let harness = room_of(size / zoom, |view| view.teach.go(step));
            let window = Rect::from_min_size(egui::Pos2::ZERO, size / zoom).expand(0.5);
            for (text, _, rect, clip) in texts(&harness) {
                let inside = window.contains_rect(rect) && clip.expand(2.0).contains_rect(rect);
                assert!(inside, "{size:?} × {zoom}, step {step}: {text} at {rect:?} in {clip:?}");
            }
        }
    }
}

#[test]
fn f_hides_and_shows_figures_p_projects_and_escape_leaves() {
    let step = step_with(&at_step(0), |step| step.view == View::SideBySide);
    let mut harness = projected(SIZE, 1.0, step, true);
    let solved = harness.state().document().setup_figures("Bittern B14").unwrap();
    let weight = harness.state().view().units.mass(solved.solved().ready_mass());
    assert!(said(&harness).contains(&weight));
    harness.key_press(Key::F);
    harness.run();
    let hidden = said(&harness);
    assert!(!hidden.contains(&weight) && hidden.contains("____"), "{hidden}");
    harness.key_press(Key::F);
    harness.run();
    assert!(said(&harness).contains(&weight));
    harness.key_press(Key::Escape);
    harness.run();
    assert!(!harness.state().view().teach.projected);
    harness.get_by_label("Project");
    harness.key_press(Key::P);
    harness.run();
    assert!(harness.state().view().teach.projected, "P projects the step");
}

#[test]
fn the_steps_of_a_lesson_show_every_caution_on_the_wall_and_each_step_one() {
    let mut left: Vec<&str> =
        [barpoise_core::KICKBACK_CAUTION].into_iter().chain(barpoise_core::CAUTIONS).collect();
    for step in 0..at_step(0).state().view().teach.steps().len() {
        let harness = projected(SIZE, 1.0, step, true);
        let strongest: Vec<String> = texts(&harness).into_iter().map(|(text, ..)| text).collect();
        let all = [barpoise_core::KICKBACK_CAUTION].into_iter().chain(barpoise_core::CAUTIONS);
        assert!(all.clone().any(|caution| strongest.iter().any(|text| text == caution)), "step {step}");
        left.retain(|caution| !strongest.iter().any(|text| text == caution));
    }
    assert!(left.is_empty(), "{left:?}");
}

#[test]
fn two_thirds_of_the_wall_are_the_drawing() {
    for (size, zoom) in [(SIZE, 1.0), (FULL_HD, 1.0), (SIZE, 1.5)] {
        for step in 0..at_step(0).state().view().teach.steps().len() {
            for told in [false, true] {
                let harness = projected(size, zoom, step, told);
                // The strip begins with the heading.
                let heading = harness.state().view().teach.shown().unwrap().heading.clone();
                let strip =
                    texts(&harness).into_iter().find(|(text, ..)| text.starts_with(&heading)).unwrap();
                let share = strip.2.top() / (size.y / zoom);
                assert!(share >= 0.65, "{size:?} × {zoom}, step {step}, told {told}: {share}");
            }
        }
    }
}

#[test]
fn four_saws_side_by_side_share_scale_and_plumb_line() {
    use barpoise::draw::pictures::{Hung, HungPicture};
    let yard = Document::demo().unwrap();
    let setups: Vec<_> = ["Bittern B14", "Bittern B18", "Bittern B24", "Bittern B30"]
        .iter()
        .map(|name| yard.setup_figures(name).unwrap())
        .collect();
    let saws = setups
        .iter()
        .map(|figures| Hung {
            level: false,
            setup: figures.setup(),
            solved: figures.solved(),
            words: vec![figures.setup().name().to_owned()],
        })
        .collect();
    let picture = HungPicture { saws, behind: Vec::new() };
    let rect = Rect::from_min_size(egui::Pos2::new(30.0, 20.0), Vec2::new(880.0, 600.0));
    let canvas = picture.fit(rect, 1.0);
    let places = picture.places(canvas.scene().pt(1.0));
    let hand = canvas.to_screen(kurbo_point(0.0));
    let mut last = (f32::MIN, f32::MIN);
    for (figures, place) in setups.iter().zip(&places) {
        let on_screen = |point| canvas.to_screen(*place * barpoise::draw::pieces::mm(point));
        let head = figures.setup().powerhead();
        let grip = on_screen(head.front_grip());
        let plumb = hand.x;
        assert!((grip - hand).length() < 0.01, "{}: all from one hand", figures.setup().name());
        let centre = on_screen(figures.solved().saw.centroid);
        assert!((centre.x - plumb).abs() < 0.05 && centre.y > grip.y, "it hangs: {centre:?} under {grip:?}");
        let nose = on_screen(figures.solved().nose.centre);
        let true_mm = (figures.solved().nose.centre - head.front_grip()).norm() * 1e3;
        let scale = f64::from((nose - grip).length()) / true_mm;
        assert!((scale / canvas.points_per_mm() - 1.0).abs() < 1e-4, "one scale: {scale}");
        assert!(
            nose.x > last.0 && nose.y > last.1 && rect.contains(nose),
            "a longer bar further out and lower"
        );
        last = (nose.x, nose.y);
    }
}

fn kurbo_point(x: f64) -> kurbo::Point {
    kurbo::Point::new(x, 0.0)
}

#[test]
fn the_bar_grows_until_it_is_told_to_stop_and_then_nothing_moves() {
    let step = step_with(&at_step(0), |step| step.view == View::SideBySide);
    let mut harness = at_step(step);
    tell_all(harness.state_mut().view_mut());
    harness.run();
    harness.get_by_label("Grow the bar").click();
    for _ in 0..12 {
        harness.step();
    }
    let growth = harness.state().view().teach.motion.unwrap();
    assert!(growth.runs && growth.at > 0.0, "{growth:?}");
    harness.key_press(Key::Space);
    harness.run();
    let held = harness.state().view().teach.motion.unwrap();
    assert!(!held.runs, "space holds it");
    assert_eq!(harness.state().view().teach.step, step, "and does not go on");
    for _ in 0..5 {
        harness.step();
    }
    assert_eq!(harness.state().view().teach.motion, Some(held));
    assert!(said(&harness).contains("trial bar, "), "a bar between two of the rack");
}

#[test]
fn with_less_motion_the_bar_goes_on_by_whole_bars() {
    let step = step_with(&at_step(0), |step| step.view == View::SideBySide);
    let mut harness = room_of(SIZE, |view| {
        view.teach.go(step);
        view.less_motion = true;
        tell_all(view);
    });
    for at in [0.0, 1.0, 2.0, 3.0, 0.0] {
        harness.get_by_label("Next bar").click();
        harness.run();
        assert_eq!(harness.state().view().teach.motion, Some(Motion { at, runs: false }));
    }
}

#[test]
fn nothing_is_drawn_again_while_nothing_moves() {
    for step in 0..at_step(0).state().view().teach.steps().len() {
        for projected in [false, true] {
            let mut harness = room_of(SIZE, |view| {
                view.teach.go(step);
                view.teach.projected = projected;
            });
            harness.step();
            let delay = harness.output().viewport_output.values().map(|output| output.repaint_delay).min();
            assert!(delay.unwrap() > std::time::Duration::from_secs(3600), "step {step}: {delay:?}");
        }
    }
}

#[test]
fn a_lesson_from_a_file_opens_and_one_with_a_fault_says_where() {
    let folder = tempfile::tempdir().unwrap();
    let (good, bad) = (folder.path().join("my.lesson.ron"), folder.path().join("bad.lesson.ron"));
    let text = barpoise_core::lesson::built_in_text();
    let named = text.replace("roles: [Longest]", "setups: [\"Bittern B99\"]");
    std::fs::write(&good, named.replace("Bar and balance", "Mine")).unwrap();
    std::fs::write(&bad, text.replace("view: SideBySide", "view: SideBySid")).unwrap();
    let mut harness = at_step(0);
    harness.state_mut().open_lesson(&good);
    harness.run();
    let words = said(&harness);
    assert!(
        words.contains("Mine") && words.contains("has no setup `Bittern B99`; did you mean `Bittern B"),
        "{words}"
    );
    harness.key_press(Key::End);
    harness.run();
    assert!(said(&harness).contains("Daily checks"), "the steps that stand are shown");
    harness.state_mut().open_lesson(&bad);
    harness.run();
    let notice = harness.state().notice().unwrap().to_owned();
    assert!(notice.contains("bad.lesson.ron:") && notice.contains("did you mean `SideBySide`?"), "{notice}");
    assert_eq!(
        harness.state().view().teach.lesson.as_ref().unwrap().name(),
        "Mine",
        "the last good one stays"
    );
}

#[test]
fn daily_checks_are_ticked_off() {
    let step = step_with(&at_step(0), |step| matches!(step.view, View::Words { .. }));
    let mut harness = at_step(step);
    let line = "Two hands, left thumb wrapped round the front handle.";
    harness.get_by_role_and_label(Role::CheckBox, line).click();
    harness.run();
    assert!(said(&harness).contains("1 of 7 ticked off"));
}

/// A clicker sends page keys, space and arrows, whatever a knob before it has the keyboard for.
#[test]
fn a_clicker_turns_the_steps_whatever_has_the_keyboard() {
    for projected in [true, false] {
        let mut harness = at_step(2);
        harness.state_mut().view_mut().teach.projected = projected;
        harness.run();
        let step = |harness: &Harness<'_, App>| harness.state().view().teach.step;
        let mut focused = 0;
        for _ in 0..12 {
            harness.key_press(Key::Tab);
            harness.run();
            focused += usize::from(harness.query_all_by(|node| node.is_focused()).next().is_some());
            let before = step(&harness);
            for (key, by) in [(Key::PageDown, 1), (Key::PageUp, -1)] {
                let from = step(&harness);
                harness.key_press(key);
                harness.run();
                let moved = i64::try_from(step(&harness)).unwrap() - i64::try_from(from).unwrap();
                assert_eq!(moved, by, "{key:?}, projected {projected}");
            }
            assert_eq!(step(&harness), before);
        }
        assert!(focused > 3, "nothing had the keyboard");
        if projected {
            for (key, by) in [(Key::ArrowRight, 1), (Key::ArrowLeft, -1), (Key::Space, 1)] {
                harness.key_press(Key::Tab);
                harness.run();
                let from = step(&harness);
                harness.key_press(key);
                harness.run();
                let moved = i64::try_from(step(&harness)).unwrap() - i64::try_from(from).unwrap();
                assert_eq!(moved, by, "{key:?} on a projector");
            }
        }
    }
}

/// Yards drawn from all that is allowed; every other one has a light bar of the same length beside its own.
fn random_yards(count: usize) -> Vec<Yard> {
    use barpoise_core::record::ConstructionFile;
    use proptest::strategy::{Strategy, ValueTree};
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let strategy = super::any_yard::any_yard();
    let mut found = Vec::new();
    while found.len() < count {
        let mut file = strategy.new_tree(&mut runner).unwrap().current();
        if Yard::new(file.clone()).is_err() {
            continue;
        }
        if found.len() % 2 == 0 {
            let (mut light, mut setup) = (file.bars[0].clone(), file.setups[0].clone());
            file.bars[0].construction = ConstructionFile::Solid;
            light.name = "light".into();
            light.construction = ConstructionFile::Lightened { share: 0.7 };
            (setup.name, setup.bar) = ("light".into(), "light".into());
            file.bars.push(light);
            file.setups.push(setup);
        }
        found.push(Yard::new(file).unwrap());
    }
    found
}

/// The built-in lesson on any yard: a step is shown, or says why not.
#[test]
fn every_step_is_shown_on_any_yard_or_says_why_not() {
    super::extremes::with_room(every_step_on_random_yards);
}

fn every_step_on_random_yards() {
    let (mut shown, mut left_out) = (0, 0);
    for yard in random_yards(5) {
        let mut view = ViewState { room: Room::Teach, ..ViewState::default() };
        view.teach.prepare().unwrap();
        let mut harness = window_of(App::with_view(Document::new_yard(yard).unwrap(), view), SIZE);
        let steps = harness.state().view().teach.steps().to_vec();
        for (index, step) in steps.iter().enumerate() {
            harness.state_mut().view_mut().teach.go(index);
            harness.run();
            let teach = &harness.state().view().teach;
            if let Some(reason) = teach.played.left_out(index) {
                assert_ne!(teach.step, index, "{}: skipped", step.heading);
                assert!(reason.contains("yard"), "{reason}");
                assert!(teach.left_out().any(|(one, why)| one.heading == step.heading && why == reason));
                left_out += 1;
                continue;
            }
            assert_eq!(teach.step, index);
            let (words, played) = (said(&harness), teach.shown().unwrap().clone());
            assert!(words.contains(&step.heading), "{words}");
            let stage = barpoise::desk::lesson::Stage::of(&played, harness.state().document());
            let why_not = stage.log().and_then(Result::err).map(str::to_owned);
            let drawn = harness.query_all_by_role(Role::Image).next().is_some();
            let ticked = matches!(step.view, View::Words { .. });
            assert!(
                drawn || ticked || why_not.is_some_and(|why| words.contains(&why)),
                "{}: {words}",
                step.heading
            );
            shown += 1;
        }
        // Home, and through all of it by the keys, leads past what is left out.
        harness.key_press(Key::Home);
        harness.run();
        for _ in 0..steps.len() {
            let teach = &harness.state().view().teach;
            assert!(teach.played.left_out(teach.step).is_none());
            harness.key_press(Key::PageDown);
            harness.run();
        }
        assert!(!harness.state().view().teach.has_next());
    }
    assert!(shown > 20 && left_out > 4, "{shown} shown, {left_out} left out");
}

#[test]
fn a_part_is_played_by_whom_the_trainer_picks() {
    let step = step_with(&at_step(0), |step| step.roles == [Part::Solid, Part::Light]);
    let mut harness = at_step(step);
    assert!(said(&harness).contains("Bittern B24 light"));
    harness.get_by_label("Play it with…").click();
    harness.run();
    harness.get_by_role_and_label(Role::ComboBox, "Solid bar").focus();
    harness.run();
    harness.key_press(Key::ArrowDown);
    harness.run();
    let teach = &harness.state().view().teach;
    assert_eq!(
        teach.shown().unwrap().setups,
        ["Bittern B30", "Bittern B30 light"],
        "the light one goes with it"
    );
    assert_eq!(teach.picked.get(&Part::Solid).map(String::as_str), Some("Bittern B30"));
    assert!(!harness.state().document().unsaved(), "a pick is no change of the yard");
}

#[test]
fn a_class_guesses_by_turns_its_spread_shows_and_the_record_holds_it() {
    use barpoise::desk::lesson::Kept;
    let mut harness = at_step(guess_step(Guessed::Weight));
    harness.state_mut().view_mut().teach.record.name_them("front, middle, back");
    harness.run();
    for presses in [6, 7, 11] {
        focus_slider(&mut harness, WEIGHT);
        for _ in 0..presses {
            harness.key_press_modifiers(Modifiers::SHIFT, Key::ArrowRight);
            harness.run();
        }
        let name = harness.state().view().teach.record.whose_turn().to_owned();
        assert!(said(&harness).contains(&format!("Guess of {name}")), "whose guess it is stands there");
        harness.get_by_label(&format!("Keep for {name}")).click();
        harness.run();
    }
    let spread = said(&harness);
    assert!(
        ["front: said", "middle: said", "back: said"].iter().all(|name| spread.contains(name)),
        "{spread}"
    );
    assert!(harness.state().view().teach.waits_for_guess(), "the spread stands before the answer");
    assert!(!spread.contains("too much"));
    harness.get_by_label("Show the answer").click();
    harness.run();
    let words = said(&harness);
    let teach = &harness.state().view().teach;
    let asked = teach.record.asked(teach.step).unwrap();
    let truth = harness.state().document().setup_figures("Bittern B24").unwrap().solved().ready_mass();
    assert_eq!(asked.right, Some(Kept::Value(truth.as_kg())));
    let values: Vec<f64> = asked
        .said
        .iter()
        .map(|(_, kept)| match kept {
            Kept::Value(value) => *value,
            Kept::Answer(_) => f64::NAN,
        })
        .collect();
    for (value, presses) in values.iter().zip([6.0, 7.0, 11.0]) {
        assert!((value - presses).abs() < 1e-9, "{values:?}");
    }
    assert!(
        words.contains("front 6.00 kg") && words.contains("too little") && words.contains("too much"),
        "{words}"
    );
    let table = teach.record.csv().unwrap();
    assert_eq!(table.lines().filter(|line| line.contains("What ready to work weighs")).count(), 3, "{table}");
}

#[test]
fn a_choice_among_setups_is_answered_by_the_model_and_given_away_by_nothing() {
    let step = step_with(&at_step(0), |step| {
        step.choose.as_ref().is_some_and(|choose| choose.question.contains("hangs lowest"))
    });
    let mut harness = at_step(step);
    let before = said(&harness);
    assert!(before.contains("which of them hangs lowest?") && !before.contains("nose down"), "{before}");
    let lowest = {
        let document = harness.state().document();
        let setups = harness.state().view().teach.shown().unwrap().setups.clone();
        let hang = |name: &String| document.setup_figures(name).unwrap().solved().hang.unwrap().as_rad();
        setups.into_iter().max_by(|a, b| hang(a).total_cmp(&hang(b))).unwrap()
    };
    harness.get_all_by_label(&lowest).last().unwrap().click();
    harness.run();
    harness.get_by_label("Show the answer").click();
    harness.run();
    let after = said(&harness);
    assert!(after.contains(&format!("{lowest}: right")) && after.contains("nose down"), "{after}");
    assert!(!after.contains("(1)"), "one person's answer is no count: {after}");
}

#[test]
fn a_step_is_written_beside_itself_and_saved_with_its_comments() {
    let folder = tempfile::tempdir().unwrap();
    let (path, mut harness) = own_lesson(&folder);
    let text = barpoise_core::lesson::built_in_text();
    harness.state_mut().view_mut().teach.write(true);
    harness.run();
    assert!(said(&harness).contains("Heading") && harness.query_by_label("Save lesson").is_some());
    let change = |harness: &mut Harness<'static, App>, heading: &str| {
        let field = harness.get_all_by_role(Role::TextInput).nth(1).unwrap();
        field.focus();
        harness.run();
        harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
        harness.run();
        harness.get_all_by_role(Role::TextInput).nth(1).unwrap().type_text(heading);
        harness.run();
        harness.run();
    };
    change(&mut harness, "What it weighs here");
    assert_eq!(
        harness.state().view().teach.shown().unwrap().heading,
        "What it weighs here",
        "it runs at once"
    );
    let too_long = "x".repeat(60);
    change(&mut harness, &too_long);
    assert!(said(&harness).contains("a heading may have at most 48 characters"), "{}", said(&harness));
    assert_eq!(
        harness.state().view().teach.shown().unwrap().heading,
        "What it weighs here",
        "the last sound one"
    );
    change(&mut harness, "What it weighs here");
    harness.get_by_label("Save lesson").click();
    harness.run();
    let saved = std::fs::read_to_string(&path).unwrap();
    assert_eq!(saved, text.replacen("What ready to work weighs", "What it weighs here", 1));
    harness.get_by_label("New step").click();
    harness.run();
    assert_eq!(harness.state().view().teach.step, 1);
    assert!(said(&harness).contains("New step"));
    // Another program's words are not written over.
    std::fs::write(&path, "something else").unwrap();
    harness.get_by_label("Save lesson").click();
    harness.run();
    assert!(harness.state().notice().unwrap().contains("changed by another program"));
    assert_eq!(std::fs::read_to_string(&path).unwrap(), "something else");
}

#[test]
fn a_sheet_of_the_lesson_has_what_was_guessed_and_blanks_for_the_rest() {
    use barpoise::desk::lesson::{Asked, Kept, Stage};
    use barpoise::desk::page_size::PageSize;
    use barpoise::draw::output::Form;
    use barpoise::draw::sheet::LessonSheet;
    let mut harness = at_step(0);
    harness.state_mut().view_mut().teach.record.name_them("front, back");
    let units = harness.state().view().units;
    let document = Document::demo().unwrap();
    let mut teach = harness.state().view().teach.clone();
    let step = teach.shown().unwrap().clone();
    let stage = Stage::of(&step, &document);
    teach.record.keep(0, || Asked::of_step(&step, &stage), Kept::Value(7.0));
    let steps = teach.staged(&document);
    for size in [PageSize::A4, PageSize::Letter] {
        let (record, author, date) = (&teach.record, "Alder Flat woodlot", "2026-11-27");
        let sheet = LessonSheet { name: "Bar and balance", steps: &steps, record, size, units, date, author };
        let pdf = sheet.sheet().unwrap().written(Form::Pdf).unwrap();
        let text = pdf_extract::extract_text_from_mem(&pdf).unwrap();
        let letters: String = text.chars().filter(|c| !c.is_whitespace()).collect();
        for said in ["front7.00kg", "Myanswer", "AlderFlatwoodlot", "Signed", "Chainbraketestedbeforework"] {
            assert!(letters.contains(said), "{said} in {text}");
        }
        assert!(barpoise_core::CAUTIONS.iter().all(|caution| letters.contains(&caution.replace(' ', ""))));
    }
}

/// Asks for the drawing to be saved at a path that is typed.
fn save_as(harness: &mut Harness<'static, App>, path: &std::path::Path) {
    const FIELD: &str = "Save the drawing as, .pdf, .svg or .png";
    harness.get_by_label("Save drawing…").click();
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, FIELD).focus();
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, FIELD).type_text(path.to_str().unwrap());
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
}

/// The built-in lesson in a file of one's own, opened.
fn own_lesson(folder: &tempfile::TempDir) -> (std::path::PathBuf, Harness<'static, App>) {
    let path = folder.path().join("mine.lesson.ron");
    std::fs::write(&path, barpoise_core::lesson::built_in_text()).unwrap();
    let mut harness = at_step(0);
    harness.state_mut().open_lesson(&path);
    (path, harness)
}

#[test]
fn a_drawing_is_not_written_over_a_file_before_it_was_asked() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("drawing.svg");
    std::fs::write(&path, "theirs").unwrap();
    let mut harness = room_of(FULL_HD, |view| view.teach.go(0));
    harness.get_by_label("Handout, drawing, table").click();
    harness.run();
    save_as(&mut harness, &path);
    assert!(said(&harness).contains("There is a file of this name already"), "{}", said(&harness));
    assert_eq!(std::fs::read_to_string(&path).unwrap(), "theirs");
    harness.get_by_label("Write over it").click();
    harness.run();
    assert!(std::fs::read_to_string(&path).unwrap().contains("<svg"));
    // A link to a yard is no drawing, whatever it is called.
    let (yard, link) = (folder.path().join("my.yard.ron"), folder.path().join("link.svg"));
    std::fs::write(&yard, barpoise_core::file::demo_text()).unwrap();
    std::os::unix::fs::symlink(&yard, &link).unwrap();
    save_as(&mut harness, &link);
    assert!(harness.state().notice().unwrap().contains("holds a yard"), "{:?}", harness.state().notice());
    assert_eq!(std::fs::read_to_string(&yard).unwrap(), barpoise_core::file::demo_text());
}

#[test]
fn a_lesson_that_another_editor_saves_is_read_again_at_its_step() {
    let folder = tempfile::tempdir().unwrap();
    let (path, mut harness) = own_lesson(&folder);
    let text = barpoise_core::lesson::built_in_text();
    harness.state_mut().view_mut().teach.go(2);
    harness.step();
    let later = std::time::SystemTime::now() + std::time::Duration::from_secs(5);
    std::fs::write(&path, text.replace("What each hand carries", "Hand by hand")).unwrap();
    std::fs::File::options().append(true).open(&path).unwrap().set_modified(later).unwrap();
    harness.step();
    harness.step();
    assert!(said(&harness).contains("Hand by hand"), "{}", said(&harness));
    assert_eq!(harness.state().view().teach.step, 2);
    std::fs::write(&path, "half a file").unwrap();
    let latest = later + std::time::Duration::from_secs(5);
    std::fs::File::options().append(true).open(&path).unwrap().set_modified(latest).unwrap();
    harness.step();
    harness.step();
    assert!(said(&harness).contains("Hand by hand"), "the last good one runs on");
    assert!(
        harness.state().notice().unwrap().contains("mine.lesson.ron:1:"),
        "{:?}",
        harness.state().notice()
    );
}

/// A lesson of one step with this log before the saw on the bench, opened.
fn log_lesson(folder: &tempfile::TempDir, log: &str, less_motion: bool) -> Harness<'static, App> {
    let path = folder.path().join("log.lesson.ron");
    let text = format!(
        "(version: 4, name: \"Logs\", steps: [(heading: \"A log\", caption: \"It takes {{settings}}.\", \
         roles: [OnBench], view: Log({log}))])"
    );
    std::fs::write(&path, text).unwrap();
    let mut harness = room_of(SIZE, |view| view.less_motion = less_motion);
    harness.state_mut().open_lesson(&path);
    harness.step();
    harness
}

#[test]
fn a_step_runs_a_cut_with_its_own_log_person_and_settings() {
    let folder = tempfile::tempdir().unwrap();
    let log = "diameter_mm: 400, lies: (above_ground_mm: 600, tangle: None, bind: Top), person: (stature_mm: 1640, \
               survey: Women), settings: [(bark_deg: 170, from_deg: 40, to_deg: -30, lay_on: Wood), \
               (bark_deg: 120, from_deg: 0, to_deg: 0, lay_on: Wood, run_off: Wood)], runs: true";
    let mut harness = log_lesson(&folder, log, false);
    assert!(said(&harness).contains("It takes 2 settings"), "{}", said(&harness));
    for _ in 0..10 {
        harness.step();
    }
    let motion = harness.state().view().teach.motion.unwrap();
    assert!(motion.runs && motion.at > 0.0, "it runs by itself: {motion:?}");
    harness.key_press(Key::R);
    harness.run();
    let held = harness.state().view().teach.motion.unwrap();
    assert!(!held.runs, "and is held: {held:?}");
    harness.get_by_role_and_label(Role::Slider, "Run of the cut").focus();
    harness.key_press(Key::ArrowRight);
    harness.run();
    assert!(harness.state().view().teach.motion.unwrap().at > held.at);
    harness.get_by_label("Last setting").click();
    harness.run();
    assert_eq!(harness.state().view().teach.motion, None, "and does not begin again by itself");
}

#[test]
fn where_nothing_is_to_move_a_cut_goes_on_by_settings() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = log_lesson(&folder, "diameter_mm: 560", true);
    harness.run();
    assert_eq!(harness.state().view().teach.motion, None, "nothing was asked to run");
    for at in [0.0, 1.0] {
        harness.get_by_label("Next setting").click();
        harness.run();
        assert_eq!(harness.state().view().teach.motion, Some(Motion { at, runs: false }));
    }
}

#[test]
fn a_step_takes_the_log_of_the_room_log_as_it_lies_there() {
    let mut document = Document::demo().unwrap();
    for change in [
        LogEdit::Diameter(Length::from_mm(430.0)),
        LogEdit::Clearance(Length::from_mm(320.0)),
        LogEdit::Tangle(Tangle::Near),
        LogEdit::Bind(Bind::Top),
        LogEdit::AddSetting,
    ] {
        document.apply(Edit::Log(change), Gesture::Single);
    }
    let cut = document.log_figures().unwrap().settings().to_vec();
    let mut view = ViewState { room: Room::Teach, ..ViewState::default() };
    view.teach.prepare().unwrap();
    let at = view.teach.steps().iter().position(|step| matches!(step.view, View::Log(_))).unwrap();
    view.teach.go(at);
    view.teach.write(true);
    let mut harness = window_of(App::with_view(document, view), FULL_HD);
    harness.get_by_label("Take it from the room Log").click();
    harness.run();
    let draft = harness.state().view().teach.draft.clone().unwrap();
    assert_eq!(draft.fault_count(), 0, "{:?}", draft.faults_at("steps").collect::<Vec<_>>());
    let stage = Stage::of(harness.state().view().teach.shown().unwrap(), harness.state().document());
    let shown = stage.log().unwrap().unwrap();
    assert_eq!(shown.job().section().width(), Length::from_mm(430.0));
    assert_eq!((shown.job().tangle(), shown.job().bind()), (Tangle::Near, Bind::Top));
    assert_eq!(shown.settings().len(), cut.len());
    for (shown, own) in shown.settings().iter().zip(&cut) {
        // Written to a tenth of a degree.
        assert!((shown.bark() - own.bark()).abs().as_deg() < 0.06, "{shown:?} {own:?}");
        assert!((shown.from() - own.from()).abs().as_deg() < 0.06, "{shown:?} {own:?}");
        assert!((shown.lay_on() - own.lay_on()).abs().as_mm() < 2.0, "{shown:?} {own:?}");
    }
}
