//! A setup as a small silhouette: all of a table at one scale, their spike lines under each other.

use crate::drawing::{self, mm};
use crate::scene::{self, Canvas, Scene};
use crate::theme::Paper;
use barpoise_core::Setup;
use egui::{Painter, Rect};
use kurbo::Affine;

/// What the head takes behind its rear grip, and over and under the bar, mm.
const BEHIND_GRIP_MM: f64 = 100.0;
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
            let head = setup.powerhead();
            let spikes = head.spike_line().as_mm();
            room.behind = room.behind.max(spikes - mm(head.rear_grip()).x + BEHIND_GRIP_MM);
            let tip = setup.path().centre_distance() + setup.path().nose_radius();
            room.ahead = room.ahead.max(tip.as_mm() - spikes + 10.0);
        }
        room
    }

    /// Paints a setup into a rectangle of the screen.
    pub(super) fn paint(&self, setup: &Setup, painter: &Painter, rect: Rect, paper: Paper) {
        let world = kurbo::Rect::new(-self.behind, TALL_MM.0, self.ahead, TALL_MM.1);
        let canvas = Canvas::fit(rect, world);
        let mut saw = Scene::new(canvas.points_per_mm());
        drawing::silhouette(&mut saw, setup);
        let mut drawing = Scene::new(canvas.points_per_mm());
        drawing.add(saw, Affine::translate((-setup.powerhead().spike_line().as_mm(), 0.0)));
        scene::paint(&drawing, &canvas, painter, paper);
    }
}
