//! Where a lying stem is pressed together, and closes on the bar.

use super::panel::Panel;
use crate::draw::pieces;
use crate::draw::strokes::{Label, Pen, Scene, Side};
use crate::draw::theme::Ink;
use kurbo::{Point, Rect, Shape, Vec2};

/// Length and thickness of the stem, and how far it is bent, mm: drawn to be seen.
const LONG: f64 = 1100.0;
const THICK: f64 = 300.0;
const BENT: f64 = 52.0;
/// The stem that is borne at one end is held so far along its length.
const HELD_TO: f64 = 0.36;
/// A support.
const SUPPORT: (f64, f64) = (120.0, 130.0);
/// The kerf's width on the open and on the closed side, its depth, and the bar's thickness, mm.
const OPEN: f64 = 46.0;
const CLOSED: f64 = 12.0;
const BAR: (f64, f64) = (16.0, 92.0);
/// Length of an arrow, and how far it lies inside the wood, mm.
const ARROW: f64 = 120.0;
const INSIDE: f64 = 44.0;

pub(super) fn panels() -> Vec<Panel<'static>> {
    let extent = Rect::new(-30.0, -SUPPORT.1 - BENT - 90.0, LONG + 30.0, THICK + 90.0);
    vec![
        Panel::new(
            "Borne at both ends, its top is pressed together: a cut from above closes on the bar, and one from below \
             pushes the saw back at you",
            extent,
            |scene| one(scene, true),
        ),
        Panel::new(
            "Borne at one end, its underside is pressed together: a cut from below closes on the bar",
            extent,
            |scene| one(scene, false),
        ),
    ]
}

fn one(scene: &mut Scene, top_pressed: bool) {
    let at = |share: f64| {
        // A beam on two supports sags most in its middle; one that is held at an end droops with the square beyond it.
        let droop = if top_pressed {
            1.0 - (2.0 * share - 1.0).powi(2)
        } else {
            ((share - HELD_TO) / (1.0 - HELD_TO)).max(0.0).powi(2)
        };
        Vec2::new(share * LONG, -BENT * droop)
    };
    let steps: Vec<f64> = (0..=40_u8).map(|i| f64::from(i) / 40.0).collect();
    let grain = |height: f64| steps.iter().map(move |share| (Vec2::new(0.0, height) + at(*share)).to_point());
    let mut stem = pieces::through(grain(THICK).chain(grain(0.0).rev()));
    stem.close_path();
    let supports: &[f64] = if top_pressed { &[0.06, 0.94] } else { &[0.06, HELD_TO - 0.06] };
    for share in supports {
        let top = at(*share).to_point();
        let block = Rect::new(top.x - 0.5 * SUPPORT.0, top.y - SUPPORT.1, top.x + 0.5 * SUPPORT.0, top.y);
        scene.fill(block.to_path(0.1), Ink::Branch);
    }
    let ground = -SUPPORT.1;
    scene.line(Point::new(0.0, ground), Point::new(LONG, ground), Pen::solid(Ink::Bark, 1.5));
    scene.fill(stem.clone(), Ink::Wood);
    for share in [0.25, 0.5, 0.75] {
        scene.stroke(pieces::through(grain(share * THICK)), Pen::solid(Ink::Ring, 1.0));
    }
    scene.stroke(stem, Pen::solid(Ink::Bark, 4.0));
    let cut = if top_pressed { 0.5 } else { 0.66 };
    let foot = at(cut).to_point();
    let (top, bottom) = (Point::new(foot.x, foot.y + THICK), foot);
    let (closed, open) = if top_pressed { (top, bottom) } else { (bottom, top) };
    let inward = (open - closed).normalize();
    // The kerf begun on the pressed side, with the bar end on in it, caught.
    let deep = closed + inward * BAR.1;
    let (narrow, wide) = (Vec2::new(0.5 * CLOSED, 0.0), Vec2::new(0.5 * BAR.0 + 3.0, 0.0));
    let mut kerf = pieces::through([closed - narrow, closed + narrow, deep + wide, deep - wide]);
    kerf.close_path();
    scene.fill(kerf, Ink::Paper);
    let bar = Rect::from_points(
        closed + inward * 6.0 - Vec2::new(0.5 * BAR.0, 0.0),
        deep + Vec2::new(0.5 * BAR.0, 0.0),
    );
    scene.fill(bar.to_rounded_rect(4.0).to_path(0.1), Ink::Steel);
    let level = |from: Point| from + inward * INSIDE;
    for side in [1.0, -1.0] {
        let near = level(closed) + Vec2::new(side * (0.5 * BAR.0 + 14.0), 0.0);
        pieces::arrow(scene, near + Vec2::new(side * ARROW, 0.0), near, Ink::Warn);
        let near = open - inward * INSIDE + Vec2::new(side * 0.5 * OPEN, 0.0);
        pieces::arrow(scene, near, near + Vec2::new(side * ARROW, 0.0), Ink::Ours);
    }
    let (over, under) = if top_pressed { (Side::Above, Side::Below) } else { (Side::Below, Side::Above) };
    scene.label(Label::new(closed, over, "pressed together", Ink::Warn).strong().on_patch());
    scene.label(Label::new(open, under, "stretched", Ink::Ours).strong().on_patch());
}
