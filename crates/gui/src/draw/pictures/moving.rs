//! Pictures that move: the bar growing in the same hand, the saw coming to rest, a cut until it is through. Each frame is the
//! scene that the window shows, with its heading and the cautions.

use super::Sketch;
use crate::desk::document::{Figures, Log};
use crate::desk::format::Units;
use crate::draw::strokes::{self, SheetError, Typeface};
use crate::draw::theme::Paper;
use barpoise_core::units::Angle;
use barpoise_core::{BarFamily, Fault, Setup, Yard};
use egui::Vec2;

/// A frame stays so long, hundredths of a second, and the first and the last so long.
const FRAME: u16 = 10;
const STILL: u16 = 120;
/// Frames in which a bar grows, in which a saw swings to rest, and for each setting of a cut.
const GROWING: u16 = 60;
const SWINGING: u16 = 44;
const CUTTING: u16 = 30;
/// A saw let go swings this many times, and each swing is so much less.
const SWINGS: f64 = 2.5;
const DAMPING: f64 = 4.0;

/// A picture that moves.
#[derive(Debug)]
pub struct Moving<'a> {
    frames: Vec<Sketch<'a>>,
    /// The frame that needs most room: its place and scale is that of all.
    widest: usize,
}

impl<'a> Moving<'a> {
    /// The bar of a setup grows from the shortest to the longest of its family on the rack; nothing where there is one only.
    pub fn grow(yard: &Yard, setup: &Setup, units: Units) -> Option<Self> {
        let family = BarFamily::new(setup, yard.bars());
        let figures = Figures::of_setup(yard, setup);
        let (first, last) = (figures.rack().first()?.overall, figures.rack().last()?.overall);
        if first == last {
            return None;
        }
        let lengths = (0..=GROWING).map(|frame| {
            let share = f64::from(frame) / f64::from(GROWING);
            first + (last - first) * (share * share * (3.0 - 2.0 * share))
        });
        let frames: Vec<_> =
            lengths.filter_map(|length| Some(Sketch::bench(yard, &family.at(length).ok()?, units))).collect();
        let widest = frames.len().checked_sub(1)?;
        Some(Self { frames, widest })
    }

    /// A saw held level is let go at the rear and swings to rest; nothing where it does not hang.
    pub fn hang(yard: &Yard, setup: &Setup, units: Units) -> Option<Self> {
        let hang = Figures::of_setup(yard, setup).solved().hang.ok()?;
        let turn = |share: f64| {
            let swing = (-DAMPING * share).exp() * (std::f64::consts::TAU * SWINGS * share).cos();
            Angle::from_rad(-hang.as_rad() * (1.0 - swing))
        };
        let shares = (1..=SWINGING).map(|frame| f64::from(frame) / f64::from(SWINGING));
        let level = Sketch::bench(yard, setup, units);
        let mut frames = vec![level.clone()];
        frames.extend(shares.map(|share| level.clone().held_at(turn(share))));
        Some(Self { frames, widest: 0 })
    }

    /// A cut, from the first laying on until it is through.
    ///
    /// # Errors
    /// Where a number of the log is out of its range.
    pub fn cut(yard: &Yard, setup: &'a Setup, log: &Log, units: Units) -> Result<Option<Self>, Fault> {
        let still = Sketch::log(yard, setup, log, units)?;
        let moments = (0..still.settings())
            .flat_map(|index| (0..=CUTTING).map(move |frame| (index, f64::from(frame) / f64::from(CUTTING))));
        let frames: Vec<_> = moments.map(|moment| still.clone().at_work(moment)).collect();
        let widest = frames.len() / 2;
        Ok((!frames.is_empty()).then_some(Self { frames, widest }))
    }

    /// What it shows, in one line.
    pub fn title(&self) -> &str {
        self.frames.last().map_or("", |frame| frame.title())
    }

    /// How long it runs, s.
    pub fn seconds(&self) -> f64 {
        (0..self.frames.len()).map(|index| f64::from(self.stays(index)) / 100.0).sum()
    }

    fn stays(&self, index: usize) -> u16 {
        if index == 0 || index + 1 == self.frames.len() { STILL } else { FRAME }
    }

    /// The bytes of its file, on a ground of this size, points, with so many pixels for each.
    ///
    /// # Errors
    /// Where the renderer or the encoder fails.
    pub fn gif(&self, size: Vec2, paper: Paper, pixels: f32) -> Result<Vec<u8>, SheetError> {
        let at = self.frames.get(self.widest).map(|widest| widest.canvas(size));
        let frames = self.frames.iter().enumerate().map(|(index, frame)| {
            let drawn = frame.drawn_at(size, paper, at);
            (drawn.svg(Typeface::Named), self.stays(index))
        });
        strokes::gif(frames, pixels)
    }
}
