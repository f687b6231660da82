//! The underside of the bar pulls the saw to the wood, its top pushes it back.

use super::body::{saw_extent, stem, whole_saw};
use super::panel::Panel;
use crate::draw::pieces::{self, mm};
use crate::draw::strokes::{Label, Scene, Side};
use crate::draw::theme::Ink;
use barpoise_core::Setup;
use kurbo::{Affine, Point, Rect};

/// The log's radius over the reach, and how far the bar lies off its middle over that radius.
const LOG: f64 = 0.36;
const OFF_MIDDLE: f64 = 0.4;
/// Length of an arrow, over the reach, and how far the one of the chain lies off the chain, mm.
const ARROW: f64 = 0.34;
const OFF_CHAIN_MM: f64 = 26.0;
/// Height of the saw's own arrow over the sprocket, mm.
const OVER_MM: f64 = 238.0;
/// Room for words over that arrow, mm.
const WORDS_MM: f64 = 50.0;

pub(super) fn panels(setup: &Setup) -> Vec<Panel<'_>> {
    let radius = LOG * setup.reach().as_mm();
    let extent = saw_extent(setup);
    let under = (1.0 + OFF_MIDDLE) * radius + 20.0;
    let extent = Rect::new(extent.x0, -under, extent.x1, under.max(OVER_MM + WORDS_MM));
    vec![
        Panel::new(
            "Cutting with the underside: the chain pulls the saw to the wood, onto its spikes",
            extent,
            move |scene| {
                one(scene, setup, radius, true);
            },
        ),
        Panel::new("Cutting with the top: the chain pushes the saw back at you", extent, move |scene| {
            one(scene, setup, radius, false);
        }),
    ]
}

fn one(scene: &mut Scene, setup: &Setup, radius: f64, from_above: bool) {
    let spikes = setup.powerhead().spike_line().as_mm();
    let (bar, chain) = (setup.bar(), setup.chain());
    let half = 0.5 * bar.body_width().as_mm() + chain.rail_to_rivet().as_mm() + chain.cutter_height().as_mm();
    let sign = if from_above { -1.0 } else { 1.0 };
    let off = sign * OFF_MIDDLE * radius;
    // At the height of the bar's edge, the bark stands at the spikes.
    let edge: f64 = sign * half;
    let ahead = (radius * radius - (edge - off) * (edge - off)).max(0.0).sqrt();
    let centre = Point::new(spikes + ahead.max(0.6 * radius), off);
    stem(scene, centre, radius, Some((-sign, sign * half)));
    whole_saw(scene, setup, Affine::IDENTITY);
    let long = ARROW * setup.reach().as_mm();
    let y = sign * (half + OFF_CHAIN_MM);
    let (back, out) = (Point::new(centre.x - 0.5 * long, y), Point::new(centre.x + 0.5 * long, y));
    let (tail, tip) = if from_above { (out, back) } else { (back, out) };
    pieces::arrow(scene, tail, tip, Ink::Ours);
    let beside = if from_above { Side::Below } else { Side::Above };
    scene.label(Label::new(tail.midpoint(tip), beside, "chain", Ink::Ours).strong().on_patch());
    let grip = mm(setup.powerhead().front_grip());
    let (near, far) = (Point::new(grip.x - 0.5 * long, OVER_MM), Point::new(grip.x + 0.5 * long, OVER_MM));
    let (tail, tip) = if from_above { (near, far) } else { (far, near) };
    pieces::arrow(scene, tail, tip, Ink::Warn);
    scene.label(Label::new(tail.midpoint(tip), Side::Above, "saw", Ink::Warn).strong().on_patch());
}
