//! Renders the photograph of the demo's *Bittern*: invented as the head itself is, and it says so on the sheet in it.
//!
//! `cargo run --release -p barpoise --example demo_photograph -- assets-demo/bittern.jpg`

use barpoise::draw::theme::font;
use barpoise_core::file;
use barpoise_core::geometry::{Point, Polygon};
use barpoise_core::saw::HeadPart;
use image::codecs::jpeg::JpegEncoder;
use image::{ImageEncoder, Rgb, RgbImage};
use resvg::{tiny_skia, usvg};
use std::error::Error;
use std::sync::Arc;

/// Size, pixels.
const WIDTH: u32 = 2400;
const HEIGHT: u32 = 1600;
/// From the lens to the bar, where the middle of the picture is, mm; its focal length, pixels.
const DISTANCE_MM: f64 = 1800.0;
const FOCAL_PX: f64 = 3900.0;
/// Where the camera looks, mm, and how it is turned about the picture's right, its down and its own axis, rad.
const AIM_MM: (f64, f64) = (60.0, 10.0);
const TURNED: (f64, f64, f64) = (0.07, -0.09, 0.035);
/// The sheet of A4 under the bar, in its plane: its lower left corner, and pixels of its print for each millimetre.
const SHEET_MM: (f64, f64, f64, f64) = (190.0, -268.0, 297.0, 210.0);
const PRINT: f32 = 4.0;

/// A flat thing: its outline in the saw's frame, how far behind the bar's plane, its colour.
struct Flat {
    outline: Polygon,
    behind_mm: f64,
    colour: [f64; 3],
    /// Its least and largest coordinates.
    within: (Point, Point),
}

fn main() -> Result<(), Box<dyn Error>> {
    let to = std::env::args().nth(1).ok_or("where to?")?;
    let flats = flats()?;
    let print = print()?;
    let mut seed = 0x0bad_5eed_u64;
    let picture = RgbImage::from_fn(WIDTH, HEIGHT, |x, y| {
        let mut sum = [0.0; 3];
        for (dx, dy) in [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)] {
            let seen = colour(&flats, &print, f64::from(x) + dx, f64::from(y) + dy);
            for (sum, seen) in sum.iter_mut().zip(seen) {
                *sum += 0.25 * seen;
            }
        }
        Rgb(sum.map(|channel| byte(channel + 5.0 * (noise(&mut seed) - 0.5))))
    });
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 82).write_image(
        picture.as_raw(),
        WIDTH,
        HEIGHT,
        image::ExtendedColorType::Rgb8,
    )?;
    std::fs::write(to, bytes)?;
    Ok(())
}

fn byte(channel: f64) -> u8 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
    let byte = channel.round().clamp(0.0, 255.0) as u8;
    byte
}

/// Grain of the picture, between 0 and 1.
fn noise(seed: &mut u64) -> f64 {
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    f64::from(u16::try_from(*seed >> 48).unwrap_or_default()) / 65_535.0
}

/// The head and its bar, nearest first.
fn flats() -> Result<Vec<Flat>, Box<dyn Error>> {
    let yard = file::demo()?;
    let setup = yard.setup("Bittern B24").ok_or("the demo has this setup")?;
    let head = setup.powerhead();
    let flat = |outline: Polygon, behind_mm: f64, colour: [f64; 3]| {
        let corners = || outline.corners().iter();
        let low = corners().fold(Point::new(9.0, 9.0), |low, at| low.inf(at));
        let high = corners().fold(Point::new(-9.0, -9.0), |high, at| high.sup(at));
        Flat { behind_mm, colour, within: (low, high), outline }
    };
    let disc = |x: f64, y: f64, radius: f64| {
        let corner = |i: u32| {
            let turn = std::f64::consts::TAU * f64::from(i) / 48.0;
            Point::new(x + radius * turn.cos(), y + radius * turn.sin())
        };
        Polygon::new((0..48).map(corner).collect())
    };
    let stud = head.stud().as_m();
    let half = 0.0425;
    let bar = [
        (0.02, -half),
        (0.72, -half),
        (0.75, -0.6 * half),
        (0.76, 0.0),
        (0.75, 0.6 * half),
        (0.72, half),
        (0.02, half),
    ];
    let bar = Polygon::new(bar.map(|(x, y)| Point::new(x, y)).to_vec());
    let tank = |tank: &barpoise_core::Tank| {
        let (low, size) = (tank.corner(), tank.size());
        let corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        Polygon::new(corners.map(|(x, y)| Point::new(low.x + x * size.x, low.y + y * size.y)).to_vec())
    };
    let part = |part: HeadPart| part.polygon_on(head);
    Ok(vec![
        flat(disc(0.0, 0.0, 0.004), 0.0, [240.0, 240.0, 235.0]),
        flat(disc(0.0, 0.0, head.sprocket_radius().as_m()), 0.0, [86.0, 88.0, 92.0]),
        flat(disc(stud, 0.0, 0.006), 0.0, [60.0, 60.0, 62.0]),
        // Shown before the bar, so that their tips can be marked.
        flat(part(HeadPart::Spikes), 20.0, [58.0, 60.0, 64.0]),
        flat(bar, 0.0, [176.0, 180.0, 184.0]),
        flat(tank(head.fuel_tank()), 70.0, [202.0, 190.0, 150.0]),
        flat(tank(head.oil_tank()), 70.0, [160.0, 150.0, 120.0]),
        flat(disc(head.front_grip().x, head.front_grip().y, 0.013), 69.0, [52.0, 54.0, 58.0]),
        flat(disc(head.rear_grip().x, head.rear_grip().y, 0.013), 69.0, [52.0, 54.0, 58.0]),
        flat(part(HeadPart::Body), 71.0, [104.0, 128.0, 126.0]),
        flat(part(HeadPart::FrontHandle), 72.0, [80.0, 84.0, 88.0]),
        flat(part(HeadPart::Guard), 73.0, [74.0, 78.0, 82.0]),
        flat(part(HeadPart::RearHandle), 74.0, [88.0, 94.0, 98.0]),
    ])
}

/// What is written on the sheet.
fn print() -> Result<tiny_skia::Pixmap, Box<dyn Error>> {
    let (_, _, width, height) = SHEET_MM;
    let text = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='{width}' height='{height}' font-family='{family}' text-anchor='middle'>\
         <rect width='{width}' height='{height}' fill='#f3f2ec'/>\
         <text x='148' y='150' font-size='25'>Bittern, invented</text>\
         <text x='148' y='176' font-size='14'>rendered, not photographed: no real saw</text>\
         <text x='148' y='194' font-size='11'>a sheet of A4, lens 1.8 m from the bar</text></svg>",
        family = font::FAMILY,
    );
    let mut options = usvg::Options::default();
    Arc::make_mut(&mut options.fontdb).load_font_data(font::REGULAR.to_vec());
    let tree = usvg::Tree::from_str(&text, &options)?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a sheet's side")]
    let side = |mm: f64| (mm * f64::from(PRINT)) as u32;
    let mut pixels = tiny_skia::Pixmap::new(side(width), side(height)).ok_or("no room for the sheet")?;
    resvg::render(&tree, tiny_skia::Transform::from_scale(PRINT, PRINT), &mut pixels.as_mut());
    Ok(pixels)
}

/// A direction of the camera in the saw's frame.
fn turned([x, y, z]: [f64; 3], (right, down, own): (f64, f64, f64)) -> [f64; 3] {
    let (x, y) = (x * own.cos() - y * own.sin(), x * own.sin() + y * own.cos());
    let (y, z) = (y * right.cos() - z * right.sin(), y * right.sin() + z * right.cos());
    [x * down.cos() + z * down.sin(), y, z * down.cos() - x * down.sin()]
}

/// The ray of a pixel, mm in the saw's frame.
struct Ray {
    lens: [f64; 3],
    along: [f64; 3],
}

impl Ray {
    fn of(x_px: f64, y_px: f64) -> Self {
        let right = (x_px - 0.5 * f64::from(WIDTH)) / FOCAL_PX;
        let up = (0.5 * f64::from(HEIGHT) - y_px) / FOCAL_PX;
        let [x, y, z] = turned([0.0, 0.0, -DISTANCE_MM], TURNED);
        Self { lens: [AIM_MM.0 - x, AIM_MM.1 - y, -z], along: turned([right, up, -1.0], TURNED) }
    }

    /// Where it meets a plane so far behind the bar's, m.
    fn at(&self, behind_mm: f64) -> Point {
        let ([x, y, z], [dx, dy, dz]) = (self.lens, self.along);
        let far = (-behind_mm - z) / dz;
        Point::new(1e-3 * (x + far * dx), 1e-3 * (y + far * dy))
    }
}

fn colour(flats: &[Flat], print: &tiny_skia::Pixmap, x: f64, y: f64) -> [f64; 3] {
    let light = 1.06 - 0.16 * (y / f64::from(HEIGHT)) - 0.05 * (x / f64::from(WIDTH));
    let ray = Ray::of(x, y);
    let hit = flats.iter().find(|flat| holds(flat, ray.at(flat.behind_mm)));
    let colour = hit.map(|flat| flat.colour).or_else(|| on_sheet(print, ray.at(0.0)));
    colour.unwrap_or_else(|| bench(ray.at(150.0))).map(|channel| channel * light)
}

/// Boards of the bench under it all.
fn bench(at: Point) -> [f64; 3] {
    let board = (at.y * 9.0).floor();
    let grain = (at.x * 38.0 + 5.0 * (at.y * 60.0).sin() + board * 2.3).sin();
    let tone = 12.0 * (board * 12.99).sin() + 6.0 * grain;
    [196.0 + tone, 172.0 + tone, 138.0 + tone]
}

fn on_sheet(print: &tiny_skia::Pixmap, at: Point) -> Option<[f64; 3]> {
    let (left, low, width, height) = SHEET_MM;
    let (x, y) = (1e3 * at.x - left, low + height - 1e3 * at.y);
    if !(0.0..width).contains(&x) || !(0.0..height).contains(&y) {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "inside the sheet")]
    let pixel = print.pixel((x * f64::from(PRINT)) as u32, (y * f64::from(PRINT)) as u32)?;
    Some([pixel.red(), pixel.green(), pixel.blue()].map(f64::from))
}

/// Whether a point lies inside: a ray to the right crosses an odd number of edges.
fn holds(flat: &Flat, at: Point) -> bool {
    let (low, high) = flat.within;
    if at.x < low.x || at.y < low.y || at.x > high.x || at.y > high.y {
        return false;
    }
    let outline = &flat.outline;
    let crossed = outline.edges().filter(|(a, b)| {
        (a.y > at.y) != (b.y > at.y) && at.x < a.x + (at.y - a.y) / (b.y - a.y) * (b.x - a.x)
    });
    crossed.count() % 2 == 1
}
