//! The screen, the image and the stored picture of each drawing agree.

use super::image::Image;
use super::screen::painted;
use barpoise::desk::document::Log;
use barpoise::desk::format::Units;
use barpoise::draw::output::Form;
use barpoise::draw::pictures::{Drawn, Sketch};
use barpoise::draw::strokes::{Canvas, Extent, Item, Label, Scene, Typeface, png, svg};
use barpoise::draw::theme::Paper;
use barpoise_core::file::demo;
use barpoise_core::log::Stand;
use barpoise_core::units::Length;
use std::path::PathBuf;

const SIZE: egui::Vec2 = egui::vec2(800.0, 500.0);
/// Two renderers smooth edges differently: mean over the whole, and mean of the worst block. The window widens what is filled
/// by half a pixel, so a block of eight where two edges of ink on paper cross, as in the disc of the centre of gravity, may
/// differ by (8 + 8) · ½ · 217 / 64.
const LINES_APART: (f64, f64) = (1.0, 27.2);
/// The window draws letters heavier than the image does, by its own choice of contrast, which makes 32 of a block of the
/// heavy weight, and sets a text on a whole pixel: half a pixel of a stem is 16 of a block of eight.
const LETTERS_APART: (f64, f64) = (5.0, 32.0 + 16.0);
/// A text so far from its place is noticed, points.
const NOTICED: f64 = 2.0;
/// Blocks of a drawing's width.
const BLOCKS_ACROSS: usize = 100;
/// The same renderer draws the same picture; another version of it may round an edge differently.
const STORED_APART: (f64, f64) = (0.05, 6.0);

/// Every drawing of the window, on a ground of its own.
fn drawings() -> Vec<(&'static str, Paper, Drawn)> {
    let yard = demo().unwrap();
    let units = Units::default();
    let setup = yard.setup("Bittern B18").unwrap();
    let log = Log::round(Length::from_mm(560.0), Stand::OneSide).unwrap();
    let few: Vec<_> = yard.setups().iter().take(4).collect();
    let sketches = [
        ("bench", Paper::Light, Sketch::bench(&yard, setup, units)),
        ("log", Paper::Dark, Sketch::log(&yard, setup, &log, units).unwrap()),
        ("rack", Paper::Print, Sketch::rack(&few, units)),
    ];
    sketches.into_iter().map(|(name, paper, sketch)| (name, paper, sketch.drawn(SIZE, paper))).collect()
}

/// A drawing without its texts.
fn lines_of(scene: &Scene, canvas: &Canvas) -> Scene {
    let mut lines = canvas.scene();
    for item in scene.items() {
        match item {
            Item::Fill { path, ink, opacity } => lines.wash(path.clone(), *ink, *opacity),
            Item::Stroke { path, pen } => lines.stroke(path.clone(), *pen),
            Item::Dots { centres, radius, ink } => lines.dots(centres.clone(), *radius, *ink),
            Item::Text(_) => {}
        }
    }
    lines
}

/// A drawing with its texts off to the right.
fn texts_moved(scene: &Scene, canvas: &Canvas, points: f64) -> Scene {
    let mut moved = lines_of(scene, canvas);
    for item in scene.items() {
        if let Item::Text(label) = item {
            let at = label.at + (scene.pt(points), 0.0);
            moved.label(Label { at, ..label.clone() });
        }
    }
    moved
}

/// Two images are compared block by block, so many points a side: a line that is a pixel off still lies within.
fn agree(name: &str, image: &Image, other: &Image, (most_mean, most_worst): (f64, f64)) {
    let (mean, worst) = image.apart(other, image.width / BLOCKS_ACROSS);
    assert!(mean <= most_mean && worst <= most_worst, "{name}: {mean:.2} apart, worst {worst:.1}");
}

#[test]
fn the_screen_and_the_image_are_the_same_drawing() {
    for (name, paper, drawn) in drawings() {
        let (scene, canvas) = drawn.scene();
        let lines = lines_of(scene, canvas);
        for scale in [1.0, 2.0] {
            let image = |scene: &Scene| {
                let svg = svg(scene, canvas, paper, name, Extent::Pixels, Typeface::Named);
                Image::of_png(&png(&svg, scale).unwrap())
            };
            let which = format!("{name} × {scale}");
            agree(&which, &image(&lines), &painted(&lines, canvas, paper, scale), LINES_APART);
            agree(&which, &image(scene), &painted(scene, canvas, paper, scale), LETTERS_APART);
        }
    }
}

#[test]
fn a_text_off_its_place_is_noticed() {
    for (name, paper, drawn) in drawings() {
        let (scene, canvas) = drawn.scene();
        let svg = svg(scene, canvas, paper, name, Extent::Pixels, Typeface::Named);
        let image = Image::of_png(&png(&svg, 1.0).unwrap());
        let off = painted(&texts_moved(scene, canvas, NOTICED), canvas, paper, 1.0);
        let (mean, worst) = image.apart(&off, image.width / BLOCKS_ACROSS);
        assert!(
            mean > LETTERS_APART.0 || worst > LETTERS_APART.1,
            "{name}: {mean:.2} apart, worst {worst:.1}"
        );
    }
}

#[test]
fn twice_as_many_pixels_show_the_same() {
    for (name, _, drawn) in drawings() {
        let [one, two] = [1.0, 2.0].map(|scale| Image::of_png(&drawn.written(Form::Png, scale).unwrap()));
        agree(name, &two.halved(), &one, LINES_APART);
    }
}

/// The stored pictures were looked at. `RENEW_PICTURES=1` writes them anew, to be looked at again.
#[test]
fn drawings_are_as_they_were_when_last_looked_at() {
    for (name, _, drawn) in drawings() {
        let path: PathBuf =
            [env!("CARGO_MANIFEST_DIR"), "../../tests/program/pictures", name].iter().collect();
        let path = path.with_extension("png");
        let png = drawn.written(Form::Png, 1.0).unwrap();
        if std::env::var_os("RENEW_PICTURES").is_some() {
            std::fs::write(&path, &png).unwrap();
        }
        let stored = std::fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let which = format!("{name} and its stored picture (RENEW_PICTURES=1 where it should change)");
        agree(&which, &Image::of_png(&png), &Image::of_png(&stored), STORED_APART);
    }
}
