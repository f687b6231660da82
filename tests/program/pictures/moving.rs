//! Pictures that move: what comes out is decoded again.

use barpoise::desk::document::Log;
use barpoise::desk::format::Units;
use barpoise::draw::pictures::Moving;
use barpoise::draw::theme::Paper;
use barpoise_core::file::demo;
use barpoise_core::log::Stand;
use barpoise_core::units::Length;
use gif::{ColorOutput, DecodeOptions};
use std::path::PathBuf;

/// As it is laid out, and as it goes into a message.
const SIZE: egui::Vec2 = egui::vec2(800.0, 500.0);
const PIXELS: f32 = 0.8;
const SIDES: (u16, u16) = (640, 400);
/// Ten seconds are no larger than this, bytes: what a phone sends without a thought.
const MOST_BYTES_FOR_10_S: f64 = 4e6;
/// Letters this small are blended with the paper, and colours are chosen from a palette of 256 for each frame: red is what
/// is so much redder than it is anything else.
const REDDER: u8 = 50;

/// A decoded GIF: every frame whole, and how long each stays, s.
struct Decoded {
    frames: Vec<Vec<u8>>,
    stays: Vec<f64>,
    sides: (u16, u16),
}

impl Decoded {
    fn of(bytes: &[u8]) -> Self {
        let mut options = DecodeOptions::new();
        options.set_color_output(ColorOutput::RGBA);
        let mut decoder = options.read_info(bytes).unwrap();
        let sides = (decoder.width(), decoder.height());
        let wide = usize::from(sides.0);
        let mut canvas = vec![0_u8; 4 * wide * usize::from(sides.1)];
        let (mut frames, mut stays) = (Vec::new(), Vec::new());
        while let Some(frame) = decoder.read_next_frame().unwrap() {
            let (left, top) = (usize::from(frame.left), usize::from(frame.top));
            for (y, row) in frame.buffer.chunks_exact(4 * usize::from(frame.width)).enumerate() {
                let start = 4 * ((top + y) * wide + left);
                canvas[start..start + row.len()].copy_from_slice(row);
            }
            frames.push(canvas.clone());
            stays.push(f64::from(frame.delay) / 100.0);
        }
        Self { frames, stays, sides }
    }

    fn seconds(&self) -> f64 {
        self.stays.iter().sum()
    }
}

fn is_red(pixel: &[u8]) -> bool {
    pixel[0] > pixel[1].saturating_add(REDDER) && pixel[0] > pixel[2].saturating_add(REDDER)
}

/// What must hold of every picture that moves.
fn check(name: &str, bytes: &[u8], moving: &Moving<'_>) -> Decoded {
    let decoded = Decoded::of(bytes);
    assert_eq!(decoded.sides, SIDES, "{name}");
    assert!((decoded.seconds() - moving.seconds()).abs() < 1e-6, "{name}: {} s", decoded.seconds());
    let for_10_s = f64::from(u32::try_from(bytes.len()).unwrap()) * 10.0 / decoded.seconds();
    assert!(for_10_s < MOST_BYTES_FOR_10_S, "{name}: {for_10_s:.0} bytes for ten seconds");
    let moves = decoded.frames.windows(2).filter(|pair| pair[0] != pair[1]).count();
    assert!(2 * moves > decoded.frames.len(), "{name}: {moves} of {} frames differ", decoded.frames.len());
    let (wide, high) = (usize::from(SIDES.0), usize::from(SIDES.1));
    for (index, frame) in decoded.frames.iter().enumerate() {
        let foot = &frame[4 * wide * (high * 2 / 3)..];
        let red = foot.chunks_exact(4).filter(|pixel| is_red(pixel)).count();
        assert!(red > 200, "{name}: frame {index} has no red caution at its foot: {red} pixels");
    }
    decoded
}

/// The README's shows the nose going out. `RENEW_PICTURES=1` writes it anew, to be looked at.
#[test]
fn the_bar_grows_in_one_hand_and_the_readme_shows_it() {
    let yard = demo().unwrap();
    let setup = yard.setup("Bittern B24").unwrap();
    let moving = Moving::grow(&yard, setup, Units::default()).unwrap();
    let bytes = moving.gif(SIZE, Paper::Light, PIXELS).unwrap();
    let decoded = check("grow", &bytes, &moving);
    let path: PathBuf = [env!("CARGO_MANIFEST_DIR"), "../../assets-demo/nose.gif"].iter().collect();
    if std::env::var_os("RENEW_PICTURES").is_some() {
        std::fs::write(&path, &bytes).unwrap();
    }
    let stored = Decoded::of(&std::fs::read(&path).unwrap());
    assert_eq!(stored.frames.len(), decoded.frames.len(), "RENEW_PICTURES=1 where it should change");
    for (old, new) in
        [(stored.frames.first(), decoded.frames.first()), (stored.frames.last(), decoded.frames.last())]
    {
        let apart: f64 =
            old.unwrap().iter().zip(new.unwrap()).map(|(a, b)| f64::from(a.abs_diff(*b))).sum::<f64>();
        let mean = apart / f64::from(u32::try_from(new.unwrap().len()).unwrap());
        assert!(mean < 0.5, "{mean} apart: RENEW_PICTURES=1 where it should change");
    }
}

#[test]
fn a_saw_let_go_comes_to_rest_as_it_hangs() {
    let yard = demo().unwrap();
    let setup = yard.setup("Bittern B30").unwrap();
    let moving = Moving::hang(&yard, setup, Units::default()).unwrap();
    let decoded = check("hang", &moving.gif(SIZE, Paper::Light, PIXELS).unwrap(), &moving);
    let apart = |a: &[u8], b: &[u8]| a.iter().zip(b).filter(|(a, b)| a != b).count();
    let count = decoded.frames.len();
    let (early, late) = (
        apart(&decoded.frames[4], &decoded.frames[5]),
        apart(&decoded.frames[count - 2], &decoded.frames[count - 1]),
    );
    assert!(late < early, "it comes to rest: {early} bytes change at first, {late} at last");
}

#[test]
fn a_cut_runs_until_it_is_through() {
    let yard = demo().unwrap();
    let setup = yard.setup("Bittern B18").unwrap();
    let log = Log::round(Length::from_mm(560.0), Stand::OneSide).unwrap();
    let moving = Moving::cut(&yard, setup, &log, Units::default()).unwrap().unwrap();
    check("cut", &moving.gif(SIZE, Paper::Light, PIXELS).unwrap(), &moving);
}
