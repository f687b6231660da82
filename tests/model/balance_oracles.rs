//! Hang and hand loads against a minimised potential energy and against the full equilibrium, and their laws.
#![expect(clippy::indexing_slicing, reason = "a helper of a check may stop the check")]

use barpoise_checks::{Within, assert_close, bench_yard};
use barpoise_core::geometry::{Point, Vector};
use barpoise_core::record::{ExtraFile, YardFile};
use barpoise_core::units::{Angle, STANDARD_GRAVITY_M_S2};
use barpoise_core::{
    HangError, MassPart, Solved, hands, hang_angle, nose_moment, parts, solve, swing_inertia,
};
use nalgebra::{Matrix3, Rotation2, Vector3};
use proptest::prelude::*;
use std::f64::consts::FRAC_PI_2;

/// A minimum is flat: the place of one is known only to the square root of the rounding of its height, some 1e-8.
const AT_A_MINIMUM: Within = Within::Absolute(1e-6);
/// Loads of some hundred newtons by two short sums.
const LOAD_ROUNDING: Within = Within::Absolute(1e-9);
/// Angles, rad, by two short sums.
const ANGLE_ROUNDING: Within = Within::Absolute(1e-11);
/// Inertias by two sums whose terms are larger than the result, since a datum may lie metres away.
const INERTIA_ROUNDING: Within = Within::Relative(1e-10);

/// A saw in many parts, with its grips.
#[derive(Clone, Debug)]
struct Saw {
    parts: Vec<MassPart>,
    front: Point,
    rear: Point,
}

impl Saw {
    fn whole(&self) -> MassPart {
        MassPart::sum(self.parts.iter().copied())
    }

    fn hang(&self) -> f64 {
        match hang_angle(&self.whole(), self.front) {
            Ok(hang) => hang.as_rad(),
            Err(error) => unreachable!("{error} in {self:?}"),
        }
    }

    /// Height of the weight above the grip times its mass, the saw turned nose down about the grip: its potential
    /// energy over g, part by part.
    fn energy_over_g(&self, nose_down_rad: f64) -> f64 {
        let turn = Rotation2::new(-nose_down_rad);
        self.parts.iter().map(|part| part.mass_kg * (turn * (part.centroid - self.front)).y).sum()
    }
}

/// The angle of least energy between straight up and straight down, by golden section.
fn least_energy(saw: &Saw) -> f64 {
    const STEPS: u32 = 80;
    let ratio = 0.5 * (5.0_f64.sqrt() - 1.0);
    let (mut low, mut high) = (-FRAC_PI_2, FRAC_PI_2);
    for _ in 0..STEPS {
        let (a, b) = (high - ratio * (high - low), low + ratio * (high - low));
        if saw.energy_over_g(a) < saw.energy_over_g(b) {
            high = b;
        } else {
            low = a;
        }
    }
    0.5 * (low + high)
}

/// Front (along and up) and rear (up) that hold the saw still at a pitch: forces along, forces up, and moments
/// about the sprocket centre, wherever the grips are. Each part weighs for itself. A rear hand that pulls along as
/// well would be a fourth unknown to three equations.
fn full_equilibrium(saw: &Saw, nose_up_rad: f64) -> Vector3<f64> {
    let turn = Rotation2::new(nose_up_rad);
    let (front, rear) = (turn * saw.front, turn * saw.rear);
    #[rustfmt::skip]
    let matrix = Matrix3::new(
        1.0, 0.0, 0.0,
        0.0, 1.0, 1.0,
        -front.y, front.x, rear.x,
    );
    let (mut up, mut moment) = (0.0, 0.0);
    for part in &saw.parts {
        let weight = part.mass_kg * STANDARD_GRAVITY_M_S2;
        up += weight;
        moment += weight * (turn * part.centroid).x;
    }
    match matrix.lu().solve(&Vector3::new(0.0, up, moment)) {
        Some(forces) => forces,
        None => unreachable!("grips in one plumb line: {saw:?}"),
    }
}

fn part() -> impl Strategy<Value = MassPart> {
    (0.01..6.0_f64, -0.3..0.9_f64, -0.15..0.06_f64, 0.0..0.2_f64).prop_map(
        |(mass_kg, x, y, inertia_kg_m2)| MassPart { mass_kg, centroid: Point::new(x, y), inertia_kg_m2 },
    )
}

/// All parts lie below the front grip, so that there is a hang.
fn saw() -> impl Strategy<Value = Saw> {
    let front = (-0.1..0.2_f64, 0.08..0.25_f64);
    let behind = (0.15..0.5_f64, -0.25..0.05_f64);
    (prop::collection::vec(part(), 1..9), front, behind).prop_map(|(parts, front, behind)| {
        let front = Point::new(front.0, front.1);
        Saw { parts, front, rear: front + Vector::new(-behind.0, behind.1) }
    })
}

proptest! {
    #[test]
    fn the_saw_hangs_where_its_energy_is_least(saw in saw()) {
        assert_close("hang, rad", saw.hang(), least_energy(&saw), AT_A_MINIMUM);
    }

    #[test]
    fn the_hands_carry_what_equilibrium_asks(saw in saw(), pitch in -45.0..45.0_f64) {
        let pitch = Angle::from_deg(pitch);
        let forces = full_equilibrium(&saw, pitch.as_rad());
        // The span in plan may shrink at a pitch; near a plumb line the loads grow without bound.
        let span = (Rotation2::new(pitch.as_rad()) * (saw.rear - saw.front)).x;
        prop_assume!(span.abs() > 0.02);
        let held = hands(&saw.whole(), saw.front, saw.rear, pitch).unwrap();
        assert_close("front along, N", 0.0, forces.x, LOAD_ROUNDING);
        assert_close("front up, N", held.front.as_n(), forces.y, LOAD_ROUNDING);
        assert_close("rear up, N", held.rear.as_n(), forces.z, LOAD_ROUNDING);
    }

    #[test]
    fn law_held_as_it_hangs_the_front_hand_carries_the_saw(saw in saw()) {
        let hang = Angle::from_rad(saw.hang());
        let span = (Rotation2::new(-hang.as_rad()) * (saw.rear - saw.front)).x;
        prop_assume!(span.abs() > 0.02);
        let held = hands(&saw.whole(), saw.front, saw.rear, -hang).unwrap();
        let weight: f64 = saw.parts.iter().map(|part| part.mass_kg * STANDARD_GRAVITY_M_S2).sum();
        assert_close("front at the hang, N", held.front.as_n(), weight, LOAD_ROUNDING);
        assert_close("rear at the hang, N", held.rear.as_n(), 0.0, LOAD_ROUNDING);
    }

    #[test]
    fn law_moving_the_datum_changes_nothing(saw in saw(), x in -5.0..5.0_f64, y in -5.0..5.0_f64) {
        let by = Vector::new(x, y);
        let moved = Saw {
            parts: saw.parts.iter().map(|part| part.moved(by)).collect(),
            front: saw.front + by,
            rear: saw.rear + by,
        };
        assert_same_figures(&moved, &saw);
    }

    #[test]
    fn law_splitting_a_part_changes_nothing(
        saw in saw(),
        share in 0.05..0.95_f64,
        apart in (-1.0..1.0_f64, -1.0..1.0_f64),
    ) {
        // Two parts about the old centroid whose parallel-axis terms leave a little less inertia to each.
        let whole = saw.parts[0];
        let gyration_m = (whole.inertia_kg_m2 / whole.mass_kg).sqrt();
        let apart = gyration_m * Vector::new(apart.0, apart.1);
        let inertia_kg_m2 =
            0.5 * (whole.inertia_kg_m2 - share * (1.0 - share) * whole.mass_kg * apart.norm_squared());
        let piece = |share: f64, by: Vector| MassPart {
            mass_kg: share * whole.mass_kg,
            centroid: whole.centroid + by,
            inertia_kg_m2,
        };
        let mut split = saw.clone();
        split.parts[0] = piece(share, (1.0 - share) * apart);
        split.parts.push(piece(1.0 - share, -share * apart));
        assert_same_figures(&split, &saw);
    }

    #[test]
    fn law_a_heavier_nose_never_hangs_less(light_kg in 0.0..2.0_f64, more_kg in 1e-3..2.0_f64, links in 56_u32..=89) {
        let (light, heavy) = (with_mass_at_nose(links, light_kg), with_mass_at_nose(links, light_kg + more_kg));
        let (light_hang, heavy_hang) = (light.hang.unwrap(), heavy.hang.unwrap());
        prop_assert!(heavy_hang > light_hang, "{light_kg} kg {light_hang:?}, {more_kg} kg more {heavy_hang:?}");
        prop_assert!(heavy.hands.unwrap().front > light.hands.unwrap().front);
        prop_assert!(heavy.swing_inertia > light.swing_inertia);
    }
}

fn assert_same_figures(one: &Saw, other: &Saw) {
    let (a, b) = (one.whole(), other.whole());
    assert_close("mass, kg", a.mass_kg, b.mass_kg, Within::Relative(1e-13));
    assert_close("inertia, kg·m²", a.inertia_kg_m2, b.inertia_kg_m2, INERTIA_ROUNDING);
    assert_close("hang, rad", one.hang(), other.hang(), ANGLE_ROUNDING);
    assert_close(
        "swing inertia, kg·m²",
        swing_inertia(&a, one.front).as_kg_m2(),
        swing_inertia(&b, other.front).as_kg_m2(),
        INERTIA_ROUNDING,
    );
    assert_close(
        "nose moment, N·m",
        nose_moment(&a, one.front).as_n_m(),
        nose_moment(&b, other.front).as_n_m(),
        LOAD_ROUNDING,
    );
    let held = |saw: &Saw, whole| {
        let held = hands(whole, saw.front, saw.rear, Angle::from_deg(10.0));
        held.unwrap_or_else(|error| unreachable!("{error} in {saw:?}"))
    };
    let (a, b) = (held(one, &a), held(other, &b));
    assert_close("front, N", a.front.as_n(), b.front.as_n(), LOAD_ROUNDING);
    assert_close("rear, N", a.rear.as_n(), b.rear.as_n(), LOAD_ROUNDING);
}

fn one_bar(links: u32) -> YardFile {
    bench_yard::yard_file(bench_yard::head(190.0), vec![bench_yard::bar("bar", 20.0, links, 6.0)])
}

/// The bench saw with an extra mass on the tip of its nose.
fn with_mass_at_nose(links: u32, mass_kg: f64) -> Solved {
    let mut file = one_bar(links);
    let tip_mm =
        bench_yard::tight_distance_mm(bench_yard::NOSE_RADIUS_MM, links) + bench_yard::NOSE_RADIUS_MM;
    file.setups[0].extras =
        vec![ExtraFile { name: "nose guard".into(), mass_kg, at: bench_yard::at(tip_mm, 0.0) }];
    solve(&bench_yard::checked(file).setups()[0])
}

#[test]
fn a_whole_saw_hangs_and_is_held_as_its_parts_say() {
    for links in [60, 72, 89] {
        let yard = bench_yard::checked(one_bar(links));
        let setup = &yard.setups()[0];
        let solved = solve(setup);
        let saw = Saw {
            parts: parts(setup),
            front: setup.powerhead().front_grip(),
            rear: setup.powerhead().rear_grip(),
        };
        let hang = solved.hang.unwrap();
        assert_close("hang, rad", hang.as_rad(), least_energy(&saw), AT_A_MINIMUM);
        for pitch_deg in [-60.0, -hang.as_deg(), 0.0, 25.0, 60.0] {
            let pitch = Angle::from_deg(pitch_deg);
            let (held, forces) = (solved.hands_at(pitch).unwrap(), full_equilibrium(&saw, pitch.as_rad()));
            assert_close("front, N", held.front.as_n(), forces.y, LOAD_ROUNDING);
            assert_close("rear, N", held.rear.as_n(), forces.z, LOAD_ROUNDING);
        }
        let level = solved.hands.unwrap();
        let ratio = solved.front_hand_ratio().unwrap();
        assert_close(
            "ratio",
            ratio,
            level.front.as_n() / (level.front + level.rear).as_n(),
            Within::Relative(1e-13),
        );
        // The rear hand holds the nose down or up by the same moment that the nose has about the front grip.
        let span_m = saw.front.x - saw.rear.x;
        assert_close(
            "nose moment, N·m",
            solved.nose_moment.as_n_m(),
            -level.rear.as_n() * span_m,
            LOAD_ROUNDING,
        );
    }
}

#[test]
fn fluid_in_a_tank_weighs_like_a_grid_of_drops() {
    const ALONG: u32 = 200;
    /// Drops in the middle of the cells of an n × n grid lack each cell's own inertia, the share 1/n².
    const CELLS: Within = Within::Relative(1.01 / (ALONG * ALONG) as f64);
    let file = bench_yard::head(190.0).fuel_tank;
    let yard = bench_yard::checked(one_bar(72));
    let tank = yard.powerheads()[0].fuel_tank();
    for fill in [1.0, 0.6, 0.05] {
        let kg = fill * file.capacity_l * file.density_kg_per_l;
        let depth_mm = fill * file.height_mm;
        let cell = |i: u32, side_mm: f64| (f64::from(i) + 0.5) / f64::from(ALONG) * side_mm;
        let drops = (0..ALONG * ALONG).map(|i| {
            let (x_mm, y_mm) = (cell(i % ALONG, file.width_mm), cell(i / ALONG, depth_mm));
            MassPart {
                mass_kg: kg / f64::from(ALONG * ALONG),
                centroid: Point::new(1e-3 * (file.corner.x_mm + x_mm), 1e-3 * (file.corner.y_mm + y_mm)),
                inertia_kg_m2: 0.0,
            }
        });
        let (fluid, drops) = (tank.fluid(fill), MassPart::sum(drops));
        assert_close("fluid, kg", fluid.mass_kg, drops.mass_kg, Within::Relative(1e-10));
        assert_close("fluid x, m", fluid.centroid.x, drops.centroid.x, Within::Absolute(1e-11));
        assert_close("fluid y, m", fluid.centroid.y, drops.centroid.y, Within::Absolute(1e-11));
        assert_close("fluid, kg·m²", fluid.inertia_kg_m2, drops.inertia_kg_m2, CELLS);
    }
    assert!(tank.fluid(0.0).mass_kg.abs() < f64::MIN_POSITIVE);
}

#[test]
fn a_weight_level_with_the_grip_has_no_hang() {
    let beside = MassPart { mass_kg: 9.0, centroid: Point::new(0.1, 0.15), inertia_kg_m2: 0.1 };
    let grip = Point::new(0.0, 0.15);
    assert_eq!(hang_angle(&beside, grip), Err(HangError::CentroidNotBelowGrip));
    let nowhere = MassPart { centroid: Point::new(f64::NAN, f64::NAN), ..beside };
    assert!(hang_angle(&nowhere, grip).is_err());
}
