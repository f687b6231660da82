//! Every drawing with every saw of the demo: words apart, bodies whole.

use super::body::posed;
use super::*;
use crate::desk::document::Document;
use crate::draw::strokes::{Item, text_width};
use barpoise_core::geometry::Point as Metres;
use barpoise_core::person::{Body, Survey};
use barpoise_core::units::Length;
use egui::{Pos2, vec2};

/// A line of text is so many times as high as its letters between baselines; letters alone take less.
const LETTERS: f32 = 1.0;

fn texts(scene: &Scene, canvas: &Canvas, enlarged: f32) -> Vec<(String, Rect)> {
    let labels = scene.items().iter().filter_map(|item| match item {
        Item::Text(label) if !label.text.is_empty() => Some(label),
        _ => None,
    });
    labels
        .map(|label| {
            let high = label.size * enlarged;
            let size = vec2(text_width(&label.text, high, label.strong), high * LETTERS);
            (label.text.clone(), canvas.place(label, size))
        })
        .collect()
}

#[test]
fn words_keep_apart_and_inside_whatever_the_saw_and_the_size() {
    let document = Document::demo().unwrap();
    for setup in document.yard().setups() {
        let figures = document.setup_figures(setup.name()).unwrap();
        for of in Subject::ALL {
            for (wide, high, enlarged) in
                [(860.0, 680.0, 1.0), (800.0, 520.0, 4.0 / 3.0), (1300.0, 700.0, 2.0)]
            {
                let person = document.yard().person();
                let units = Units::default();
                let picture =
                    ShownPicture { of, figures: &figures, person, units, measured: true, asks: false };
                let rect = Rect::from_min_size(Pos2::ZERO, vec2(wide, high));
                let (scene, canvas) = picture.scene(rect, enlarged);
                let texts = texts(&scene, &canvas, enlarged);
                assert!(!texts.is_empty());
                for (index, (text, place)) in texts.iter().enumerate() {
                    let whole = rect.expand(1.0).contains_rect(*place);
                    assert!(whole, "{of:?} of {} at {wide}: {text} at {place:?}", setup.name());
                    for (other, there) in &texts[index + 1..] {
                        assert!(
                            !place.shrink(0.5).intersects(*there),
                            "{of:?} of {} at {wide}: {text} meets {other}",
                            setup.name()
                        );
                    }
                }
            }
        }
    }
}

#[test]
fn an_arm_keeps_its_length_and_its_elbow_hangs_below() {
    for (stature, survey) in [(1.52, Survey::Women), (1.75, Survey::Men), (1.95, Survey::Men)] {
        let body = Body::of(&Person::new(Length::from_m(stature), survey).unwrap());
        let shoulder = Metres::new(0.0, body.shoulder_height_m);
        for (ahead, down) in [(0.85, 0.4), (0.35, 0.5), (0.75, 0.0)] {
            let arm_m = body.upper_arm_m + body.forearm_m;
            let grip = Metres::new(ahead * arm_m, shoulder.y - down * arm_m);
            let stance = posed(&body, shoulder, 0.0, grip, grip);
            let arm = stance.front_arm;
            assert!(((arm.elbow - shoulder).norm() - body.upper_arm_m).abs() < 1e-9);
            assert!(((arm.hand - arm.elbow).norm() - body.forearm_m).abs() < 1e-9);
            let along = (arm.elbow.x - shoulder.x) / (grip.x - shoulder.x);
            assert!(arm.elbow.y <= shoulder.y + along * (grip.y - shoulder.y) + 1e-9, "{arm:?}");
            assert!(arm.reaches && (arm.hand - grip).norm() < 1e-9);
        }
    }
}

#[test]
fn a_drawing_that_hides_figures_says_none() {
    let document = Document::demo().unwrap();
    let figures = document.setup_figures("Bittern B24").unwrap();
    for of in Subject::ALL {
        let units = Units::default();
        let picture = ShownPicture {
            of,
            figures: &figures,
            person: document.yard().person(),
            units,
            measured: false,
            asks: false,
        };
        assert!(!picture.spoken().chars().any(|c| c.is_ascii_digit()), "{}", picture.spoken());
    }
}
