//! A setup as a small silhouette: all of a table at one scale, their spike lines under each other.

use crate::draw::pieces;
use crate::draw::strokes::{self, Canvas, Scene};
use crate::draw::theme::Paper;
use barpoise_core::Setup;
use egui::{Painter, Rect};
use kurbo::Affine;

/// What a saw takes over and under its bar, mm.
const TALL_MM: (f64, f64) = (-100.0, 175.0);

/// The room that all silhouettes of a table need about their spike lines, mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Room {
    behind: f64,
    ahead: f64,
}

impl Room {
    /// The room for these setups.
    pub(super) fn of<'a>(setups: impl Iterator<Item = &'a Setup>) -> Self {
        let mut room = Self { behind: 1.0, ahead: 1.0 };
        for setup in setups {
            let (behind, ahead) = pieces::about_spikes(setup);
            room.behind = room.behind.max(behind);
            room.ahead = room.ahead.max(ahead);
        }
        room
    }

    /// Paints a setup into a rectangle of the screen.
    pub(super) fn paint(&self, setup: &Setup, painter: &Painter, rect: Rect, paper: Paper) {
        let world = kurbo::Rect::new(-self.behind, TALL_MM.0, self.ahead, TALL_MM.1);
        let canvas = Canvas::fit(rect, world);
        let mut saw = Scene::new(canvas.points_per_mm());
        pieces::silhouette(&mut saw, setup);
        let mut drawing = Scene::new(canvas.points_per_mm());
        drawing.add(saw, Affine::translate((-setup.powerhead().spike_line().as_mm(), 0.0)));
        strokes::paint(&drawing, &canvas, painter, paper);
    }
}
