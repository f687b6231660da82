//! What a step points at: a ring round each thing, and its letter beside the ring.
//!
//! Letters, because the settings on a log have numbers.

use super::look::Look;
use crate::draw::strokes::{Canvas, Item, Scene, text_width};
use crate::draw::theme::Ink;
use egui::{Align2, Pos2, Rect, Stroke, Ui, Vec2};

/// Radius of a ring and of a letter's disc, and how far apart their middles are at least, in points.
const RING: f32 = 17.0;
const DISC: f32 = 11.0;
const APART: f32 = 40.0;
/// A ring keeps so far off what it goes round, in points.
const OUTSIDE: f32 = 5.0;
/// A line of text is so many times as high as its letters.
const LEADING: f32 = 1.3;

/// A thing in the drawing, at every place where it is.
#[derive(Clone, Debug)]
pub(super) struct Pointed {
    /// Its place in the step's list, from 0.
    pub(super) index: usize,
    /// Where it is on the screen.
    pub(super) at: Vec<Pos2>,
    /// How far it reaches about that, in points: the ring goes round it.
    pub(super) reaches: f32,
}

/// `A` for the first.
pub(super) fn letter(index: usize) -> String {
    ('A'..='Z').nth(index).unwrap_or('Z').to_string()
}

/// Rings and letters over a drawing; the letters keep clear of its texts and of each other.
pub(super) fn pointing_ui(ui: &Ui, look: &Look, scene: &Scene, canvas: &Canvas, things: &[Pointed]) {
    let room = canvas.rect();
    let painter = ui.painter_at(room);
    // A ring grows less than its letter, or it would hide what it is about.
    let ring = |thing: &Pointed| (RING * look.enlarged.sqrt()).max(thing.reaches + look.pt(OUTSIDE));
    let mut taken = label_rects(scene, canvas);
    let rings = things.iter().flat_map(|thing| thing.at.iter().map(move |at| (*at, ring(thing))));
    taken.extend(rings.map(|(at, ring)| Rect::from_center_size(at, Vec2::splat(2.0 * ring))));
    let (ours, ground) = (look.color(Ink::Ours), look.color(Ink::Paper));
    for thing in things {
        let ring = ring(thing);
        for at in &thing.at {
            let disc = place(*at, ring, look, room, &taken);
            taken.push(Rect::from_center_size(disc, Vec2::splat(2.0 * look.pt(DISC))));
            let toward = (disc - *at).normalized();
            let leader = [*at + toward * ring, disc];
            for (width, color) in [(5.0, ground), (2.5, ours)] {
                let stroke = Stroke::new(look.pt(width), color);
                painter.circle_stroke(*at, ring, stroke);
                painter.line_segment(leader, stroke);
            }
            painter.circle(disc, look.pt(DISC), ours, Stroke::new(look.pt(1.5), ground));
            painter.text(
                disc,
                Align2::CENTER_CENTER,
                letter(thing.index),
                look.strong(),
                look.color(Ink::Sheet),
            );
        }
    }
}

/// Where a letter goes: about its ring where nothing else stands, farther out where it must.
fn place(at: Pos2, round: f32, look: &Look, room: Rect, taken: &[Rect]) -> Pos2 {
    const WAYS: u8 = 16;
    /// The first way is up and to the right, where the eye looks first.
    const FIRST: f32 = -0.9;
    let inside = room.shrink(look.pt(DISC));
    let spot = |ring: u8, way: u8| {
        let turned = FIRST + f32::from(way) * std::f32::consts::TAU / f32::from(WAYS);
        let apart = look.pt(APART).max(round + look.pt(2.0 * DISC));
        at + Vec2::angled(turned) * apart * (1.0 + 0.35 * f32::from(ring))
    };
    let free = |spot: &Pos2| {
        let disc = Rect::from_center_size(*spot, Vec2::splat(2.0 * look.pt(DISC)));
        inside.contains(*spot) && !taken.iter().any(|other| other.intersects(disc))
    };
    (0..4_u8)
        .flat_map(|ring| (0..WAYS).map(move |way| (ring, way)))
        .map(|(ring, way)| spot(ring, way))
        .find(free)
        .unwrap_or_else(|| spot(0, 0))
}

/// What the texts of a drawing take on the screen.
pub(super) fn label_rects(scene: &Scene, canvas: &Canvas) -> Vec<Rect> {
    let labels = scene.items().iter().filter_map(|item| match item {
        Item::Text(label) if !label.text.is_empty() => Some(label),
        _ => None,
    });
    labels
        .map(|label| {
            let high = label.size * canvas.enlargement();
            let size = Vec2::new(text_width(&label.text, high, label.strong), high * LEADING);
            canvas.place(label, size)
        })
        .collect()
}
