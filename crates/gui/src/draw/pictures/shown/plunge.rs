//! With which part of the nose a plunge is begun.

use super::body::{nose_outline, nose_stub};
use super::panel::Panel;
use crate::draw::pieces;
use crate::draw::strokes::{Pen, Scene};
use crate::draw::theme::Ink;
use barpoise_core::{NoseZone, Setup};
use kurbo::{Affine, Circle, Point, Rect, Shape, Vec2};

/// How far the bar is turned where it touches first, rad, nose up, and how far the nose has gone in at last, in radii.
const TURNED: f64 = 0.6;
const DEPTH: f64 = 1.3;
/// The bar is drawn so many radii long.
const STUB: f64 = 4.2;

pub(super) fn panels(setup: &Setup) -> Vec<Panel<'_>> {
    let zone = setup.nose_zone();
    let r = zone.radius.as_mm();
    let extent = Rect::new(-6.0 * r, -4.4 * r, 3.2 * r, 4.4 * r);
    let panel = |words: &str, pitch: f64, centre: f64, marked: Option<Ink>| {
        Panel::new(words, extent, move |scene| touching(scene, &zone, pitch, centre, marked))
    };
    vec![
        panel("Begin with the underside of the nose", TURNED, -r, Some(Ink::Ours)).right(),
        panel("Once it is in, turn the bar straight and go on", 0.0, DEPTH * r, None).right(),
        panel("Never with its upper quarter: that is the kickback zone", -TURNED, -r, Some(Ink::Danger))
            .wrong(),
    ]
}

/// Where on the nose a bar turned up by an angle touches upright wood, from its tip up, rad.
const fn touches_at(pitch: f64) -> f64 {
    -pitch
}

fn touching(scene: &mut Scene, zone: &NoseZone, pitch: f64, centre: f64, marked: Option<Ink>) {
    let r = zone.radius.as_mm();
    let wood = Rect::new(0.0, -4.2 * r, 3.0 * r, 4.2 * r);
    scene.fill(wood.to_path(0.1), Ink::Wood);
    for share in [0.3, 0.55, 0.8] {
        let x = share * wood.x1;
        scene.line(Point::new(x, wood.y0), Point::new(x, wood.y1), Pen::solid(Ink::Ring, 1.0));
    }
    if centre > 0.0 {
        let mut gone = nose_outline(Point::new(centre, 0.0), r, centre);
        gone.close_path();
        scene.fill(gone, Ink::OursPale);
    }
    scene.line(Point::new(0.0, wood.y0), Point::new(0.0, wood.y1), Pen::solid(Ink::Bark, 5.0));
    let place = Affine::translate((centre, 0.0)) * Affine::rotate(pitch);
    nose_stub(scene, zone, STUB, place);
    let Some(ink) = marked else {
        let from = Point::new(centre + 1.25 * r, 0.0);
        pieces::arrow(scene, from, from + Vec2::new(1.1 * r, 0.0), Ink::Ours);
        return;
    };
    let on_nose = Vec2::from_angle(touches_at(pitch)) * r;
    let touch = Circle::new(place * on_nose.to_point(), scene.pt(10.0));
    scene.stroke(touch.to_path(0.05), Pen::solid(ink, 2.6));
    if ink == Ink::Danger {
        let from = Point::new(-0.6 * r, 1.4 * r);
        pieces::arrow(scene, from, from + Vec2::new(-1.2 * r, 1.7 * r), ink);
    } else {
        pieces::turn_arrow(
            scene,
            Point::ORIGIN,
            4.6 * r,
            std::f64::consts::PI + pitch + 0.12,
            -0.75 * pitch,
            ink,
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The three panels by themselves: the bar begins below the zone, and what must not be lies in it.
    #[test]
    fn a_plunge_begins_outside_the_kickback_zone_and_what_is_wrong_lies_within() {
        let zone = |rad: f64| (NoseZone::FROM.as_rad()..=NoseZone::TO.as_rad()).contains(&rad);
        assert!(!zone(touches_at(TURNED)) && zone(touches_at(-TURNED)));
        // The point named is the foremost of the turned nose: the one that meets upright wood.
        for pitch in [TURNED, -TURNED] {
            let turned = |rad: f64| Vec2::from_angle(rad + pitch).x;
            let named = turned(touches_at(pitch));
            assert!((-60..=60).all(|deg| turned(f64::from(deg).to_radians()) <= named + 1e-12));
        }
    }
}
