//! A powerhead from its power and weight.

use super::note::noted;
use super::rounded;
use crate::ranges;
use crate::record::{InertiaFile, PartKind, PowerheadFile};

/// Power over what the engine displaces, kW/cm³: two-stroke saws of all sizes, to a tenth (common practice, no source).
pub(super) const POWER_KW_PER_CM3: f64 = 0.057;
/// Dry mass over power: so much to begin with, and so much for each kilowatt.
pub(super) const MASS_KG: (f64, f64) = (1.5, 1.1);
/// The head whose places are scaled, its lengths with the cube root of the mass.
pub(super) const MASS_OF_MODEL_KG: f64 = 6.3;
/// What goes with the mass itself: the fuel tank's capacity, L/kg (our guess).
pub(super) const FUEL_L_PER_KG: f64 = 0.12;
/// Oil for the fuel: a tank of oil lasts a tank of fuel. Sustainability 2023, 15(3):2795 has 81 mL of oil to 202 mL of fuel.
pub(super) const OIL_TO_FUEL: f64 = 0.40;
/// A tank of oil holds so much more than that, so that it is fuel that runs out first (our guess).
pub(super) const OIL_TO_SPARE: f64 = 1.05;
/// Fuel at full power, mL/min for each kilowatt: 450 g/kWh (our guess) at 0.74 kg/L.
pub(super) const FUEL_ML_PER_MIN_KW: f64 = 450.0 / 0.74 / 60.0;

type Place = fn(&mut PowerheadFile) -> &mut f64;

/// Lengths of the model head, mm, whole millimetres at any size.
const LENGTHS: &[(&str, Place, f64)] = &[
    ("spike_line_mm", |head| &mut head.spike_line_mm, 168.0),
    ("stud_mm", |head| &mut head.stud_mm, 68.0),
    ("tensioner_travel_mm", |head| &mut head.tensioner_travel_mm, 24.0),
    ("front_grip.x_mm", |head| &mut head.front_grip.x_mm, 2.0),
    ("front_grip.y_mm", |head| &mut head.front_grip.y_mm, 166.0),
    ("rear_grip.x_mm", |head| &mut head.rear_grip.x_mm, -312.0),
    ("rear_grip.y_mm", |head| &mut head.rear_grip.y_mm, 58.0),
    ("centroid.x_mm", |head| &mut head.centroid.x_mm, -16.0),
    ("centroid.y_mm", |head| &mut head.centroid.y_mm, 14.0),
    ("fuel_tank.corner.x_mm", |head| &mut head.fuel_tank.corner.x_mm, -200.0),
    ("fuel_tank.corner.y_mm", |head| &mut head.fuel_tank.corner.y_mm, -80.0),
    ("fuel_tank.width_mm", |head| &mut head.fuel_tank.width_mm, 130.0),
    ("fuel_tank.height_mm", |head| &mut head.fuel_tank.height_mm, 53.0),
    ("oil_tank.corner.x_mm", |head| &mut head.oil_tank.corner.x_mm, -46.0),
    ("oil_tank.corner.y_mm", |head| &mut head.oil_tank.corner.y_mm, -84.0),
    ("oil_tank.width_mm", |head| &mut head.oil_tank.width_mm, 112.0),
    ("oil_tank.height_mm", |head| &mut head.oil_tank.height_mm, 30.0),
];
pub(super) const GYRATION_OF_MODEL_MM: f64 = 130.0;

/// What no size changes: engine speeds, and the densities of petrol mix and bar oil (our guess).
pub(super) const POWER_RPM: f64 = 9500.0;
pub(super) const PUMP_RPM: f64 = 7000.0;
pub(super) const FUEL_KG_PER_L: f64 = 0.74;
pub(super) const OIL_KG_PER_L: f64 = 0.90;

const FIXED: &[(&str, Place, f64)] = &[
    ("power_rpm", |head| &mut head.power_rpm, POWER_RPM),
    ("pump_rpm", |head| &mut head.pump_rpm, PUMP_RPM),
    ("fuel_tank.density_kg_per_l", |head| &mut head.fuel_tank.density_kg_per_l, FUEL_KG_PER_L),
    ("oil_tank.density_kg_per_l", |head| &mut head.oil_tank.density_kg_per_l, OIL_KG_PER_L),
];

/// Puts a proposed value in every field that the head's note names as proposed: the power from the
/// engine's size where that is known, the mass from the power, and the
/// rest from the mass.
pub fn propose_powerhead(head: &mut PowerheadFile) {
    let note = head.note.clone();
    let proposed = |path: &str| noted(PartKind::Powerhead, &note, path);
    if let Some(size_cm3) = head.engine_size_cm3.filter(|_| proposed("power_kw")) {
        head.power_kw = rounded(POWER_KW_PER_CM3 * size_cm3, 0.1, &ranges::POWER);
    }
    if proposed("dry_mass_kg") {
        head.dry_mass_kg = rounded(MASS_KG.0 + MASS_KG.1 * head.power_kw, 0.1, &ranges::DRY_MASS);
    }
    let scale = (head.dry_mass_kg / MASS_OF_MODEL_KG).cbrt();
    for (path, place, model) in LENGTHS {
        if proposed(path) {
            *place(head) = (model * scale).round();
        }
    }
    for (path, place, value) in FIXED {
        if proposed(path) {
            *place(head) = *value;
        }
    }
    if proposed("inertia.radius_mm")
        && let InertiaFile::RadiusOfGyration { radius_mm } = &mut head.inertia
    {
        *radius_mm = (GYRATION_OF_MODEL_MM * scale).round();
    }
    let mass = head.dry_mass_kg;
    if proposed("fuel_tank.capacity_l") {
        head.fuel_tank.capacity_l = rounded(FUEL_L_PER_KG * mass, 0.01, &ranges::TANK_CAPACITY);
    }
    if proposed("oil_tank.capacity_l") {
        head.oil_tank.capacity_l =
            rounded(OIL_TO_FUEL * OIL_TO_SPARE * head.fuel_tank.capacity_l, 0.01, &ranges::TANK_CAPACITY);
    }
    if proposed("pump_ml_per_min") {
        // The pump turns with the engine, and is stated at a speed of its own.
        let at_power = OIL_TO_FUEL * FUEL_ML_PER_MIN_KW * head.power_kw;
        let turns = if head.power_rpm > 0.0 { head.pump_rpm / head.power_rpm } else { 1.0 };
        head.pump_ml_per_min = rounded(at_power * turns, 0.5, &ranges::PUMP_FLOW);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;
    use crate::propose::{mark_proposed, unmark_proposed};
    use crate::record::PartFile;
    use crate::saw::Powerhead;
    use proptest::prelude::*;

    fn proposed(like: &PowerheadFile, own: &[&str]) -> PowerheadFile {
        let mut part = PartFile::Powerhead(Box::new(PowerheadFile { note: String::new(), ..like.clone() }));
        mark_proposed(&mut part, None);
        own.iter().for_each(|path| unmark_proposed(&mut part, path));
        let PartFile::Powerhead(mut head) = part else { unreachable!() };
        propose_powerhead(&mut head);
        *head
    }

    #[test]
    fn the_demos_heads_come_near_to_themselves() {
        for head in &demo().unwrap().file().powerheads {
            let guess = proposed(head, &["dry_mass_kg"]);
            let near = |a: f64, b: f64, within: f64| {
                assert!((a - b).abs() <= within, "{}: {a} for {b}", head.name);
            };
            near(guess.front_grip.y_mm, head.front_grip.y_mm, 6.0);
            near(guess.rear_grip.x_mm, head.rear_grip.x_mm, 6.0);
            near(guess.spike_line_mm, head.spike_line_mm, 12.0);
            near(guess.fuel_tank.capacity_l, head.fuel_tank.capacity_l, 0.07);
            near(proposed(head, &[]).dry_mass_kg, head.dry_mass_kg, 0.15);
        }
    }

    proptest! {
        #[test]
        fn law_a_proposed_head_passes_its_checks(
            power in 0.2..12.0_f64, mass in 1.0..15.0_f64, own: bool, teeth in 5_u32..14, pitch in 0.2..0.8_f64,
        ) {
            let mut like = demo().unwrap().file().powerheads[0].clone();
            like.power_kw = power;
            like.dry_mass_kg = mass;
            like.sprocket.teeth = teeth;
            like.sprocket.pitch_in = pitch;
            let own = if own { &["dry_mass_kg"][..] } else { &[] };
            let head = proposed(&like, own);
            prop_assert!(Powerhead::new(&head, 0).is_ok(), "{:?}", Powerhead::new(&head, 0));
        }
    }
}
