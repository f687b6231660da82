//! How far round wood lets the nose go down before the front hand meets it: a closed form to check intervals by.

use super::saw_body::SawBody;

/// Farthest that the nose swings down from straight in before the front grip comes within `room_m` of round wood of
/// radius `radius_m`, rad; `None` where it never does, or is too near from the start.
///
/// acos(((r + c)² − r² − ρ²) / (2 r ρ)) − β, with ρ the distance from the spikes to the grip and β its angle above the
/// bar's middle, looking back.
pub fn front_grip_swing_rad(saw: &SawBody, radius_m: f64, room_m: f64) -> Option<f64> {
    let grip = saw.front_grip();
    let (distance_m, above_rad) = (grip.coords.norm(), grip.y.atan2(-grip.x));
    let near_m = radius_m + room_m;
    let cos =
        (near_m * near_m - radius_m * radius_m - distance_m * distance_m) / (2.0 * radius_m * distance_m);
    (-1.0..=1.0).contains(&cos).then(|| cos.acos() - above_rad)
}
