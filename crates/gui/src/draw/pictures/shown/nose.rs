//! The upper quadrant of the nose, how the chain runs there, and which way it throws.

use super::body::{nose_stub, saw_extent, whole_saw};
use super::panel::Panel;
use crate::draw::pieces::{self, mm};
use crate::draw::strokes::{Dash, Label, Pen, Scene, Side};
use crate::draw::theme::Ink;
use barpoise_core::Setup;
use kurbo::{Affine, Point, Rect, Vec2};
use std::f64::consts::FRAC_PI_4;

/// The bar thrown up is drawn turned by so much about the front hand, rad: to be seen, no figure.
const THROWN: f64 = 0.5;
const GHOST: f32 = 0.06;

pub(super) fn panels(setup: &Setup) -> Vec<Panel<'_>> {
    let r = setup.nose_zone().radius.as_mm();
    let close = Rect::new(-3.4 * r, -2.1 * r, 3.4 * r, 3.1 * r);
    let saw = saw_extent(setup);
    let grip = mm(setup.powerhead().front_grip());
    let tip = setup.nose_zone().tip_x().as_mm();
    let up = grip.y + (tip - grip.x) * THROWN.sin();
    let whole = Rect::new(saw.x0, saw.y0, saw.x1 + 1.5 * r, saw.y1.max(up + 60.0));
    vec![
        Panel::new(
            "The quarter from the tip to the top of the nose is the kickback zone",
            close,
            move |scene| {
                close_up(scene, setup, r);
            },
        ),
        Panel::new("What touches there throws the bar up and back at you", whole, move |scene| {
            thrown(scene, setup);
        }),
    ]
}

fn close_up(scene: &mut Scene, setup: &Setup, r: f64) {
    nose_stub(scene, &setup.nose_zone(), 3.2, Affine::IDENTITY);
    let over = Point::new(-2.9 * r, 1.45 * r);
    pieces::arrow(scene, over, over + Vec2::new(1.5 * r, 0.0), Ink::Ours);
    scene.label(Label::new(over + Vec2::new(0.75 * r, 0.0), Side::Above, "chain", Ink::Ours).strong());
    pieces::turn_arrow(scene, Point::ORIGIN, 1.4 * r, 0.1, -1.5, Ink::Ours);
    let back = Point::new(-1.2 * r, -1.45 * r);
    pieces::arrow(scene, back, back - Vec2::new(1.5 * r, 0.0), Ink::Ours);
    let touch = Point::ORIGIN + 1.25 * r * Vec2::from_angle(FRAC_PI_4);
    pieces::arrow(scene, touch, touch + Vec2::new(-1.1 * r, 1.5 * r), Ink::Danger);
    let at = Point::ORIGIN + 1.25 * r * Vec2::from_angle(0.5);
    scene.label(Label::new(at, Side::Right, "kickback zone", Ink::Danger).strong().on_patch());
}

fn thrown(scene: &mut Scene, setup: &Setup) {
    let grip = mm(setup.powerhead().front_grip());
    let turned = Affine::rotate_about(THROWN, grip);
    let mut ghost = Scene::new(1.0 / scene.pt(1.0));
    pieces::outlined_bar(&mut ghost, setup, Pen::solid(Ink::Danger, 1.6).with_dash(Dash::Dashed), GHOST);
    scene.add(ghost, turned);
    whole_saw(scene, setup, Affine::IDENTITY);
    let nose = setup.nose_zone().point_at(barpoise_core::units::Angle::from_deg(45.0));
    let from = mm(nose) - grip;
    pieces::turn_arrow(
        scene,
        grip,
        from.hypot() + scene.pt(16.0),
        from.atan2() + 0.04,
        THROWN - 0.04,
        Ink::Danger,
    );
    pieces::grip_mark(scene, grip);
}
