//! The window for eyes that see less: contrast as painted, colours without a colour, every zoom, no needless motion.

use super::harness::{SIZE, window_of};
use super::seen::{Seen, contrast, light, texts};
use barpoise::desk::document::Document;
use barpoise::draw::theme::{Ink, Paper};
use barpoise::window::app::App;
use barpoise::window::view_state::{Room, ViewState};
use egui::accesskit::Role;
use egui::{Color32, Rect, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

const PAPERS: [Paper; 2] = [Paper::Light, Paper::Dark];
/// WCAG 2.2, 1.4.3: text on its ground.
const TEXT: f64 = 4.5;
/// WCAG 2.2, 1.4.11: what must be seen to find and to understand a control or a drawing.
const MARK: f64 = 3.0;

fn room(room: Room, paper: Paper, size: Vec2) -> Harness<'static, App> {
    let view = ViewState { room, paper, ..ViewState::default() };
    let mut harness = window_of(App::with_view(Document::demo().unwrap(), view), size);
    harness.state_mut().wait();
    harness.run();
    harness
}

/// Texts that must be readable: all but those of controls that are out of use, which WCAG leaves out.
fn readable(harness: &Harness<'_, App>) -> Vec<Seen> {
    let out_of_use: Vec<Rect> =
        harness.query_all_by(|node| node.is_disabled()).map(|node| node.rect().expand(1.0)).collect();
    let mut seen = texts(harness);
    seen.retain(|seen| !out_of_use.iter().any(|rect| rect.contains_rect(seen.rect)));
    seen
}

fn worst(seen: &[Seen]) -> (f64, String) {
    let told = seen.iter().map(|seen| {
        let ratio = contrast(seen.ground.blend(seen.ink), seen.ground);
        (ratio, format!("{:?}: {:?} on {:?}", seen.text, seen.ink, seen.ground))
    });
    told.min_by(|a, b| a.0.total_cmp(&b.0)).unwrap()
}

#[test]
fn every_text_in_every_room_reads_on_its_ground() {
    for paper in PAPERS {
        let mut lowest = (f64::INFINITY, String::new());
        for of in Room::ALL {
            let mut harness = room(of, paper, SIZE);
            let mut look = |harness: &Harness<'_, App>| {
                let found = worst(&readable(harness));
                assert!(found.0 >= TEXT, "{paper:?} {of:?}: {:.2} {}", found.0, found.1);
                if found.0 < lowest.0 {
                    lowest = found;
                }
            };
            assert!(readable(&harness).len() > 20, "{of:?} says next to nothing");
            look(&harness);
            let controls = harness.query_all_by(|node| {
                matches!(node.role(), Role::Button | Role::CheckBox | Role::ComboBox | Role::RadioButton)
            });
            let places: Vec<_> = controls.map(|node| node.rect().center()).collect();
            for at in places {
                harness.hover_at(at);
                harness.run_steps(2);
                look(&harness);
            }
        }
        eprintln!("{paper:?}: {:.2} {}", lowest.0, lowest.1);
    }
}

#[test]
fn what_marks_a_control_or_a_drawing_stands_off_its_ground() {
    for paper in PAPERS {
        let visuals = paper.visuals();
        let (page, sheet) = (paper.color(Ink::Paper), paper.color(Ink::Sheet));
        let marks = [
            ("the edge of a field, a tick box, a button", visuals.widgets.inactive.bg_stroke.color),
            ("its edge under the pointer", visuals.widgets.hovered.bg_stroke.color),
            ("the ring of what has the focus", visuals.selection.stroke.color),
            ("a tick", visuals.widgets.inactive.fg_stroke.color),
            ("a line", paper.color(Ink::Line)),
            ("a handle", paper.color(Ink::Ours)),
            ("danger", paper.color(Ink::Danger)),
            ("a warning", paper.color(Ink::Warn)),
            ("a hand", paper.color(Ink::Hand)),
            ("a proposed value", paper.color(Ink::Proposed)),
            ("the chain", paper.color(Ink::Steel)),
        ];
        for (what, color) in marks {
            for ground in [page, sheet] {
                let ratio = contrast(color, ground);
                assert!(ratio >= MARK, "{paper:?}: {what} {color:?} on {ground:?} is {ratio:.2}");
            }
        }
    }
}

/// Light as eyes without one kind of cone have it, linear RGB: Machado, Oliveira and Fernandes 2009, severity 1;
/// the matrices from memory. Each row sums to one, so white and grey stay as they are.
const BLIND: [(&str, [[f64; 3]; 3]); 3] = [
    (
        "protanopia",
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
    ),
    (
        "deuteranopia",
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]],
    ),
    (
        "tritanopia",
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]],
    ),
];

/// CIE 1976 L*a*b* of linear sRGB under D65: IEC 61966-2-1 and CIE 15, the matrix from memory.
fn lab(rgb: [f64; 3]) -> [f64; 3] {
    const XYZ: [[f64; 3]; 3] = [
        [0.4124564, 0.3575761, 0.1804375],
        [0.2126729, 0.7151522, 0.0721750],
        [0.0193339, 0.1191920, 0.9503041],
    ];
    const WHITE: [f64; 3] = [0.95047, 1.0, 1.08883];
    let root = |t: f64| if t > 216.0 / 24389.0 { t.cbrt() } else { (24389.0 / 27.0 * t + 16.0) / 116.0 };
    let [x, y, z] = [0, 1, 2].map(|row| root(times(XYZ[row], rgb) / WHITE[row]));
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

fn times(row: [f64; 3], rgb: [f64; 3]) -> f64 {
    row.iter().zip(rgb).map(|(a, b)| a * b).sum::<f64>().clamp(0.0, 1.0)
}

/// How far apart two colours are to such eyes, CIE 1976.
fn apart(matrix: [[f64; 3]; 3], a: Color32, b: Color32) -> f64 {
    let seen = |c: Color32| {
        let rgb = [c.r(), c.g(), c.b()].map(light);
        lab([0, 1, 2].map(|row| times(matrix[row], rgb)))
    };
    let (a, b) = (seen(a), seen(b));
    a.iter().zip(b).map(|(a, b)| (a - b).powi(2)).sum::<f64>().sqrt()
}

#[test]
fn inks_that_mean_different_things_differ_to_every_eye() {
    /// A difference of some 2 is just seen side by side; this is seen across a drawing. From memory, unverified.
    const CLEAR: f64 = 10.0;
    let pairs = [
        (Ink::Danger, Ink::Warn),
        (Ink::Danger, Ink::Ours),
        (Ink::Danger, Ink::Line),
        (Ink::Danger, Ink::Hand),
        (Ink::Warn, Ink::Ours),
        (Ink::Warn, Ink::Line),
        (Ink::Warn, Ink::Hand),
        (Ink::Hand, Ink::Ours),
        (Ink::Hand, Ink::Line),
        (Ink::Proposed, Ink::Line),
        (Ink::Proposed, Ink::Ours),
        (Ink::Ours, Ink::Line),
        (Ink::OursMid, Ink::Warn),
        (Ink::Fuel, Ink::Oil),
        (Ink::Wood, Ink::Branch),
    ];
    for paper in PAPERS {
        for (eye, matrix) in BLIND {
            for (a, b) in pairs {
                let apart = apart(matrix, paper.color(a), paper.color(b));
                assert!(apart >= CLEAR, "{paper:?}, {eye}: {a:?} and {b:?} are {apart:.1} apart");
            }
        }
    }
}

#[test]
fn the_eyes_of_the_test_see_grey_as_it_is_and_red_like_green() {
    let grey = Color32::from_gray(120);
    for (eye, matrix) in BLIND {
        assert!(apart(matrix, grey, grey) < 1e-9);
        let rgb = [light(120); 3];
        for row in matrix {
            assert!((times(row, rgb) - light(120)).abs() < 1e-4, "{eye}");
        }
    }
    let (red, green) = (Color32::from_rgb(0xb9, 0x1f, 0x1a), Color32::from_rgb(0x8f, 0x56, 0x00));
    assert!(apart(BLIND[1].1, red, green) < 4.0, "one of the pairs that deuteranopia is known for");
}

/// Across the window nothing is cut off at any zoom: what does not fit below is scrolled to.
#[test]
fn at_every_zoom_and_pixel_scale_every_control_is_reached_across() {
    for of in Room::ALL {
        for (pixels, zooms) in [(1.0, &[0.8, 1.0, 1.25, 1.5, 2.0, 2.5][..]), (2.0, &[1.0][..])] {
            // A screen of a common size; the zoom leaves the window fewer points or more.
            let mut harness = room(of, Paper::Light, Vec2::new(1920.0, 1080.0) * pixels);
            for &zoom in zooms {
                harness.set_pixels_per_point(pixels * zoom);
                harness.run();
                let size = harness.ctx.content_rect().size();
                assert!((size.x - 1920.0 / zoom).abs() < 1.0, "{size:?}");
                let controls = [Role::Button, Role::TextInput, Role::ComboBox, Role::CheckBox, Role::Slider];
                let nodes: Vec<_> = harness.query_all_by(|node| controls.contains(&node.role())).collect();
                assert!(nodes.len() > 5, "{of:?} at {zoom} has next to nothing to press");
                let fits = size.x >= 1000.0;
                for node in nodes {
                    // The rack's table scrolls across by itself.
                    if node.accesskit_node().label().is_some_and(|label| label.starts_with("Sort by")) {
                        continue;
                    }
                    let (rect, label) = (node.rect(), node.accesskit_node().label());
                    let inside = rect.left() >= -0.5 && rect.right() <= size.x + 0.5;
                    assert!(
                        !fits || inside,
                        "{of:?} at {zoom} × {pixels}: {label:?} at {rect:?} of {size:?}"
                    );
                }
                for seen in texts(&harness) {
                    assert!(seen.rect.is_finite(), "{of:?} at {zoom}: {seen:?}");
                }
            }
        }
    }
}

#[test]
fn nothing_moves_by_itself() {
    for of in Room::ALL {
        let mut harness = room(of, Paper::Light, SIZE);
        for _ in 0..3 {
            harness.step();
        }
        let before = format!("{:?}", harness.output().shapes);
        for _ in 0..10 {
            harness.step();
        }
        assert_eq!(before, format!("{:?}", harness.output().shapes), "{of:?} moves");
    }
}
