//! Worked cases from print, put through the core's own functions.

use barpoise_checks::bench_yard::{self, FUEL_KG_PER_L};
use barpoise_checks::{Within, assert_close};
use barpoise_core::geometry::{Point, Polygon, Vector, segment_line};
use barpoise_core::units::{Angle, Length, Mass, STANDARD_GRAVITY_M_S2};
use barpoise_core::{
    Bar, Chain, CutterSequence, MassPart, cutters_in_wood, hands, hang_angle, nose_moment, ranges,
};
use std::f64::consts::TAU;

/// For figures that print exactly: what double precision loses in a few sums.
const ROUNDING: Within = Within::Relative(1e-12);
/// Half of the last digit of a figure printed to 0.01.
const TO_HUNDREDTHS: Within = Within::Absolute(0.005);
/// Half of the last digit of a figure printed to 0.001.
const TO_THOUSANDTHS: Within = Within::Absolute(0.000_5);
/// Half of the last digit of a figure printed to whole units.
const TO_UNITS: Within = Within::Absolute(0.5);
/// Half of the last digit of a figure printed to 0.1.
const TO_TENTHS: Within = Within::Absolute(0.05);

fn weight(pounds: f64, inches: f64) -> MassPart {
    MassPart::point(Mass::from_lb(pounds), Point::new(Length::from_in(inches).as_m(), 0.0))
}

fn arm_in(part: &MassPart) -> f64 {
    Length::from_m(part.centroid.x).as_in()
}

#[test]
fn weighing_points_give_the_centre_of_gravity() {
    // FAA-H-8083-1, weighing example (figures as repeated by training sites): F 340 lb at L −78 in of W
    // 2006 lb, the rest on the datum, gives −13.22 in.
    let whole = MassPart::sum([weight(340.0, -78.0), weight(2006.0 - 340.0, 0.0)]);
    assert_close("weight, lb", whole.mass().as_lb(), 2006.0, ROUNDING);
    assert_close("centre of gravity, in", arm_in(&whole), -13.22, TO_HUNDREDTHS);
}

#[test]
fn three_weights_balance_at_the_same_place_from_any_datum() {
    // FAA-H-8083-1, lever example; the weights are from memory.
    let lever = [weight(100.0, 0.0), weight(200.0, 80.0), weight(200.0, 100.0)];
    for (datum_in, balance_in) in [(0.0, 72.0), (-50.0, 122.0), (100.0, -28.0)] {
        let by = Vector::new(Length::from_in(-datum_in).as_m(), 0.0);
        let moved = MassPart::sum(lever.map(|part| part.moved(by)));
        assert_close(
            format_args!("balance from a datum at {datum_in} in"),
            arm_in(&moved),
            balance_in,
            ROUNDING,
        );
    }
}

#[test]
fn two_equal_moments_hold_each_other() {
    // TM 55-1500-342-23 §2-7: 200 lb × 50 in = 100 lb × 100 in = 10 000 in·lb.
    const IN_LB: f64 = 10_000.0;
    let pivot = Point::new(0.0, 0.1);
    let (near, far) = (weight(200.0, 50.0), weight(100.0, -100.0));
    let in_lb = |part: &MassPart| nose_moment(part, pivot).as_lbf_ft() * 12.0;
    assert_close("near weight, in·lb", in_lb(&near), IN_LB, ROUNDING);
    assert_close("far weight, in·lb", in_lb(&far), -IN_LB, ROUNDING);
    let both = MassPart::sum([near, far]);
    // Nothing is left of two moments of 10 000 but their rounding.
    assert_close("both, in·lb", in_lb(&both), 0.0, Within::Absolute(1e-12 * IN_LB));
    let hang = hang_angle(&both, pivot).unwrap();
    assert_close("hang, rad", hang.as_rad(), 0.0, Within::Absolute(1e-12));
}

#[test]
fn a_loaded_machine_has_the_printed_centre_of_gravity() {
    // FAA test item, answer computed: 1495 lb @ 101.4, 380 @ 64, 180 @ 96 gives 94.01 in.
    let loaded = MassPart::sum([weight(1495.0, 101.4), weight(380.0, 64.0), weight(180.0, 96.0)]);
    assert_close("loaded centre of gravity, in", arm_in(&loaded), 94.01, TO_HUNDREDTHS);
}

#[test]
fn a_child_on_a_disc() {
    // OpenStax University Physics 1, Ex. 10.11: 25 kg at 1 m on a disc of 500 kg and 2 m gives 1025 kg·m².
    const CORNERS: u32 = 20_000;
    /// The polygon's inertia falls short of the disc's by the share (2π/n)²/6, 2e-8.
    const POLYGON_FOR_A_DISC: Within = Within::Relative(1e-7);
    let rim = (0..CORNERS)
        .map(|i| {
            let angle = TAU * f64::from(i) / f64::from(CORNERS);
            Point::new(2.0 * angle.cos(), 2.0 * angle.sin())
        })
        .collect();
    let disc = MassPart::plate(Mass::from_kg(500.0), &Polygon::new(rim).properties().unwrap());
    let child = MassPart::point(Mass::from_kg(25.0), Point::new(0.6, 0.8));
    let both = MassPart::sum([disc, child]);
    let inertia = both.inertia_about(Point::origin());
    assert_close("inertia, kg·m²", inertia.as_kg_m2(), 1025.0, POLYGON_FOR_A_DISC);
}

#[test]
fn a_rod_with_a_sphere_on_its_end() {
    // OpenStax University Physics 1, Ex. 10.12: a rod of 2 kg and 0.5 m, a sphere of 1 kg and radius 0.2 m
    // (own inertia ⅖·m·R²): 0.673 kg·m² about the free end, 0.223 about the joint.
    let (free_end, joint) = (Point::origin(), Point::new(0.5, 0.0));
    let rod = MassPart::line(2.0 / 0.5, &segment_line(free_end, joint));
    let sphere = MassPart { mass_kg: 1.0, centroid: Point::new(0.7, 0.0), inertia_kg_m2: 0.4 * 0.2 * 0.2 };
    let club = MassPart::sum([rod, sphere]);
    let about = |point| club.inertia_about(point).as_kg_m2();
    assert_close("about the free end, kg·m²", about(free_end), 0.673, TO_THOUSANDTHS);
    assert_close("about the joint, kg·m²", about(joint), 0.223, TO_THOUSANDTHS);
}

#[test]
fn a_loaded_stick_on_a_support() {
    // OpenStax University Physics 1, Ex. 12.3: a 150 g stick (centre 20 cm from the support), 50 g (70 cm) and
    // 75 g (40 cm) on one side are balanced by 316.7 g at 30 cm on the other; the support carries 5.8 N.
    let gram = |g, cm| MassPart::point(Mass::from_g(g), Point::new(Length::from_cm(cm).as_m(), 0.0));
    let loads = [gram(150.0, -20.0), gram(50.0, -70.0), gram(75.0, -40.0)];
    let stick = MassPart::sum(loads);
    // The support is the front grip, the unknown weight a second hand that pushes down.
    let other = Point::new(0.3, 0.0);
    let held = hands(&stick, Point::origin(), other, Angle::ZERO).unwrap();
    let balancing = -held.rear.as_kgf() * 1e3;
    assert_close("balancing mass, g", balancing, 316.7, TO_TENTHS);
    assert_close("support, N", held.front.as_n(), 5.8, TO_TENTHS);
    let with_it = MassPart::sum(loads.into_iter().chain([gram(balancing, 30.0)]));
    assert_close("balanced at, m", with_it.centroid.x, 0.0, Within::Absolute(1e-12));
}

#[test]
fn full_complement_cutters_stand_as_published() {
    // Forests 2020, 11(3):276: full-complement 3/8 in, two-cutter section 76 mm, 26 cutters per metre.
    let chain = Chain::new(&bench_yard::chain(), 0).unwrap();
    assert_eq!(chain.sequence(), CutterSequence::FullComplement);
    let spacing = chain.cutter_spacing();
    assert_close("two-cutter section, mm", 2.0 * spacing.as_mm(), 76.0, TO_UNITS);
    let per_metre = cutters_in_wood(Length::from_m(1.0), spacing);
    assert_close("cutters per metre", per_metre, 26.0, TO_UNITS);
}

#[test]
fn fuel_weighs_what_petrol_weighs() {
    // EN 228: petrol 0.720–0.775 kg/L at 15 °C.
    const PETROL_KG_PER_L: std::ops::RangeInclusive<f64> = 0.720..=0.775;
    // Two parts of oil at up to 0.9 kg/L in a hundred raise a mix above its petrol by at most this.
    const OIL_IN_MIX_KG_PER_L: f64 = 0.02 * (0.9 - 0.72);
    for edge in [PETROL_KG_PER_L.start(), PETROL_KG_PER_L.end()] {
        assert!(ranges::FLUID_DENSITY.holds(*edge), "a yard must be able to hold petrol of {edge} kg/L");
    }
    let yard = bench_yard::checked(bench_yard::yard_file(
        bench_yard::head(190.0),
        vec![bench_yard::bar("20", 20.0, 72, 6.0)],
    ));
    let tank = yard.powerheads()[0].fuel_tank();
    let kg_per_l = tank.fluid(0.5).mass_kg / (0.5 * tank.capacity().as_l());
    assert_close("density in the tank, kg/L", kg_per_l, FUEL_KG_PER_L, ROUNDING);
    assert!(
        (*PETROL_KG_PER_L.start()..=PETROL_KG_PER_L.end() + OIL_IN_MIX_KG_PER_L).contains(&kg_per_l),
        "{kg_per_l} kg/L is no petrol mix"
    );
}

#[test]
fn a_bar_is_made_of_steel() {
    // EN 1991-1-1, table A.4: steel, 77.0–78.5 kN/m³, to a tenth. Of two bars that differ in thickness alone the groove falls out.
    let plate = |thickness_mm| {
        let file = barpoise_core::record::BarFile { thickness_mm, ..bench_yard::bar("20", 20.0, 72, 6.0) };
        Bar::new(&file, 0).unwrap()
    };
    let (thin, thick) = (plate(4.0), plate(5.0));
    let area_m2 = thin.outline().properties().unwrap().area_m2;
    let steel = (thick.mass() - thin.mass()).as_kg() / (area_m2 * 1e-3);
    let kn_m3 = steel * STANDARD_GRAVITY_M_S2 / 1e3;
    assert!((76.95..=78.55).contains(&kn_m3), "{kn_m3} kN/m³");
    assert_close("density, kg/m³", steel, 7850.0, Within::Relative(1e-11));
}
