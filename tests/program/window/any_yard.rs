//! Yards drawn from all that is allowed, its very ends included: the ranges are those that the checks use.

use barpoise_core::log::limits::{CLEARANCE, LOG_DIAMETER, SPECIFIC_ENERGY};
use barpoise_core::person::ranges as person_ranges;
use barpoise_core::record::{
    BarFile, ChainFile, ConstructionFile, DiameterFile, ExtraFile, HardnessFile, HeadUncertaintyFile,
    InertiaFile, MeasuredFile, NoseFile, OutlineFile, PeopleFile, PersonFile, PointFile, PowerheadFile,
    ReadingFile, SequenceFile, SetupFile, SprocketFile, StandFile, SurveyFile, TankFile, WoodFile,
    YARD_VERSION, YardFile,
};
use barpoise_core::{Range, ranges};
use proptest::prelude::*;

/// A number of a range: within, or one of its ends.
fn number(range: &Range) -> impl Strategy<Value = f64> + use<> {
    let (min, max) = (range.min, range.max);
    prop_oneof![2 => min..=max, 1 => Just(min), 1 => Just(max)]
}

fn whole(range: &Range) -> impl Strategy<Value = u32> + use<> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "counts are small and positive"
    )]
    number(range).prop_map(|value| value as u32)
}

/// A share of the way from one value to another, its ends often.
fn share() -> impl Strategy<Value = f64> {
    number(&ranges::FILL)
}

fn between(low: f64, high: f64, share: f64) -> f64 {
    (low + (high - low) * share).clamp(low.min(high), high)
}

fn point() -> impl Strategy<Value = PointFile> {
    (number(&ranges::COORDINATE), number(&ranges::COORDINATE))
        .prop_map(|(x_mm, y_mm)| PointFile { x_mm, y_mm })
}

prop_compose! {
    fn tank()(
        corner in point(),
        width_mm in number(&ranges::TANK_SIDE),
        height_mm in number(&ranges::TANK_SIDE),
        capacity_l in number(&ranges::TANK_CAPACITY),
        density_kg_per_l in number(&ranges::FLUID_DENSITY),
    ) -> TankFile {
        // A tank holds no more than its box at a width that still goes between a person's hands.
        TankFile { corner, width_mm, height_mm, capacity_l, density_kg_per_l }
    }
}

fn outline() -> impl Strategy<Value = OutlineFile> {
    prop_oneof![
        3 => Just(OutlineFile::Generic),
        1 => prop::collection::vec(point(), 3..8).prop_map(OutlineFile::Corners),
    ]
}

fn inertia() -> impl Strategy<Value = InertiaFile> {
    prop_oneof![
        number(&ranges::RADIUS_OF_GYRATION).prop_map(|radius_mm| InertiaFile::RadiusOfGyration { radius_mm }),
        number(&ranges::HEAD_INERTIA).prop_map(|moment_kg_m2| InertiaFile::Moment { moment_kg_m2 }),
    ]
}

prop_compose! {
    fn unsure()(
        dry_mass_kg in prop::option::of(number(&ranges::WEIGHT_UNCERTAINTY)),
        centroid_mm in prop::option::of(number(&ranges::LENGTH_UNCERTAINTY)),
        radius_of_gyration_mm in prop::option::of(number(&ranges::LENGTH_UNCERTAINTY)),
        spike_line_mm in prop::option::of(number(&ranges::LENGTH_UNCERTAINTY)),
        tanks_mm in prop::option::of(number(&ranges::LENGTH_UNCERTAINTY)),
        grips_mm in prop::option::of(number(&ranges::LENGTH_UNCERTAINTY)),
    ) -> HeadUncertaintyFile {
        HeadUncertaintyFile { dry_mass_kg, centroid_mm, radius_of_gyration_mm, spike_line_mm, tanks_mm, grips_mm }
    }
}

prop_compose! {
    fn powerhead()(
        (dry_mass_kg, centroid, inertia) in (number(&ranges::DRY_MASS), point(), inertia()),
        (fuel_tank, oil_tank, front_grip, rear_grip) in (tank(), tank(), point(), point()),
        (stud_mm, spikes) in (number(&ranges::STUD), share()),
        tensioner_travel_mm in number(&ranges::TENSIONER_TRAVEL),
        (teeth, pitch_in, outline) in (whole(&ranges::TEETH), number(&ranges::PITCH), outline()),
        (power_kw, power_rpm) in (number(&ranges::POWER), number(&ranges::ENGINE_SPEED)),
            engine_size_cm3 in prop::option::of(number(&ranges::ENGINE_SIZE)),
        (pump_ml_per_min, pump_rpm) in (number(&ranges::PUMP_FLOW), number(&ranges::ENGINE_SPEED)),
        longest_bar_in in prop::option::of(number(&ranges::MARKED_LENGTH)),
        standard_uncertainty in unsure(),
    ) -> PowerheadFile {
        let least_spikes = ranges::SPIKE_LINE.min.max(stud_mm + 1.0);
        PowerheadFile {
            photograph: None,
            name: "Bittern".into(), note: String::new(), mount: "wide slot".into(), dry_mass_kg, centroid, inertia,
            fuel_tank, oil_tank, front_grip, rear_grip, spike_line_mm: between(least_spikes, ranges::SPIKE_LINE.max, spikes),
            stud_mm, tensioner_travel_mm, sprocket: SprocketFile { teeth, pitch_in }, outline, power_kw, power_rpm,
            pump_ml_per_min, pump_rpm, longest_bar_in, engine_size_cm3, standard_uncertainty,
        }
    }
}

fn construction() -> impl Strategy<Value = ConstructionFile> {
    let share = || number(&ranges::CONSTRUCTION_SHARE);
    prop_oneof![
        Just(ConstructionFile::Solid),
        share().prop_map(|share| ConstructionFile::Laminated { share }),
        share().prop_map(|share| ConstructionFile::Lightened { share }),
    ]
}

prop_compose! {
    /// A bar whose dimensions go together, on a chain of this pitch and gauge.
    fn bar(name: &'static str, pitch_in: f64, gauge_mm: f64)(
        marked_length_in in number(&ranges::MARKED_LENGTH),
        (overall, tail, nose, groove) in (share(), share(), share(), share()),
        tail_behind_studs_mm in number(&ranges::TAIL_BEHIND_STUDS),
        body_width_mm in number(&ranges::BAR_WIDTH),
        thickness in share(),
        construction in construction(),
        nose_sprocket in any::<bool>(),
        marked_drive_links in whole(&ranges::DRIVE_LINKS),
        weighed_mass_kg in prop::option::of(number(&ranges::BAR_MASS)),
        mass_uncertainty_kg in prop::option::of(number(&ranges::WEIGHT_UNCERTAINTY)),
        nose_place_mm in prop::option::of(number(&ranges::NOSE_PLACE)),
    ) -> BarFile {
        let nose_radius_mm = between(ranges::NOSE_RADIUS.min, ranges::NOSE_RADIUS.max.min(body_width_mm / 2.0), nose);
        let deepest = ranges::GROOVE_DEPTH.max.min(nose_radius_mm - 0.1);
        let shortest = ranges::OVERALL_LENGTH.min.max(3.0 * body_width_mm);
        BarFile {
            name: name.into(), note: String::new(), mount: "wide slot".into(), marked_length_in,
            overall_length_mm: between(shortest, ranges::OVERALL_LENGTH.max, overall), tail_behind_studs_mm,
            tail_width_mm: between(ranges::BAR_WIDTH.min, body_width_mm, tail), body_width_mm, nose_radius_mm,
            thickness_mm: between(ranges::BAR_THICKNESS.min.max(gauge_mm + 0.1), ranges::BAR_THICKNESS.max, thickness),
            gauge_mm, groove_depth_mm: between(ranges::GROOVE_DEPTH.min, deepest, groove), construction,
            nose: if nose_sprocket { NoseFile::Sprocket { pitch_in } } else { NoseFile::Solid },
            marked_drive_links, weighed_mass_kg, mass_uncertainty_kg, nose_place_mm,
        }
    }
}

prop_compose! {
    fn chain(pitch_in: f64)(
        gauge_mm in number(&ranges::GAUGE),
        mass_per_drive_link_g in number(&ranges::LINK_MASS),
        sequence in prop::sample::select(vec![
            SequenceFile::FullComplement, SequenceFile::SemiSkip, SequenceFile::FullSkip,
        ]),
        cutter_height_mm in number(&ranges::CUTTER_HEIGHT),
        rail_to_rivet_mm in number(&ranges::RAIL_TO_RIVET),
        mass_uncertainty_g in prop::option::of(number(&ranges::LINK_UNCERTAINTY)),
    ) -> ChainFile {
        ChainFile {
            name: "full".into(), note: String::new(), pitch_in, gauge_mm, mass_per_drive_link_g, sequence,
            cutter_height_mm, rail_to_rivet_mm, mass_uncertainty_g,
        }
    }
}

prop_compose! {
    fn setup(bar: &'static str)(
        (fuel_fill, oil_fill) in (number(&ranges::FILL), number(&ranges::FILL)),
        extras in prop::collection::vec(
            (number(&ranges::EXTRA_MASS), number(&ranges::EXTRA_COORDINATE), number(&ranges::EXTRA_COORDINATE)), 0..3),
    ) -> SetupFile {
        let extras = extras.into_iter().enumerate().map(|(index, (mass_kg, x_mm, y_mm))| {
            ExtraFile { name: format!("extra {index}"), mass_kg, at: PointFile { x_mm, y_mm } }
        });
        SetupFile {
            name: bar.into(), note: String::new(), powerhead: "Bittern".into(), bar: bar.into(), chain: "full".into(),
            drive_links: None, fuel_fill, oil_fill, extras: extras.collect(),
        }
    }
}

prop_compose! {
    fn wood()(
        diameters in prop::collection::vec((number(&LOG_DIAMETER), whole(&ranges::CUTS)), 1..4),
        (tangled_share, lifted_share) in (number(&ranges::SHARE_OF_CUTS), number(&ranges::SHARE_OF_CUTS)),
        stand in prop::sample::select(vec![StandFile::OneSide, StandFile::BothSides, StandFile::WalkRound]),
        above_ground_mm in number(&CLEARANCE),
        cutting_energy_j_per_cm3 in number(&SPECIFIC_ENERGY),
    ) -> WoodFile {
        let diameters = diameters.into_iter().map(|(diameter_mm, cuts)| DiameterFile { diameter_mm, cuts }).collect();
        let hardness = HardnessFile { name: "poplar".into(), cutting_energy_j_per_cm3, source: "none".into() };
        WoodFile {
            name: "butts".into(), note: String::new(), diameters, tangled_share, lifted_share, stand, above_ground_mm,
            hardness,
        }
    }
}

fn measured() -> impl Strategy<Value = MeasuredFile> {
    let weight = |range| (number(range), number(&ranges::WEIGHT_UNCERTAINTY));
    let length = |range| (number(range), number(&ranges::LENGTH_UNCERTAINTY));
    let held = number(&ranges::HELD_PITCH);
    prop_oneof![
        weight(&ranges::TOTAL_READING)
            .prop_map(|(weight_kg, uncertainty_kg)| MeasuredFile::Total { weight_kg, uncertainty_kg }),
        (weight(&ranges::GRIP_READING), held).prop_map(|((weight_kg, uncertainty_kg), nose_up_deg)| {
            MeasuredFile::FrontGrip { weight_kg, uncertainty_kg, nose_up_deg }
        }),
        (number(&ranges::HANG_READING), number(&ranges::ANGLE_UNCERTAINTY)).prop_map(
            |(nose_down_deg, uncertainty_deg)| MeasuredFile::Hang { nose_down_deg, uncertainty_deg }
        ),
        length(&ranges::BALANCE_READING).prop_map(|(past_spikes_mm, uncertainty_mm)| {
            MeasuredFile::BalancePoint { past_spikes_mm, uncertainty_mm }
        }),
        length(&ranges::REACH_READING).prop_map(|(past_spikes_mm, uncertainty_mm)| MeasuredFile::Reach {
            past_spikes_mm,
            uncertainty_mm
        }),
        (number(&ranges::PERIOD_READING), number(&ranges::TIME_UNCERTAINTY))
            .prop_map(|(period_s, uncertainty_s)| MeasuredFile::SwingPeriod { period_s, uncertainty_s }),
    ]
}

prop_compose! {
    fn reading()(measured in measured()) -> ReadingFile {
        ReadingFile::new(measured, Some("long".into()))
    }
}

prop_compose! {
    fn person()(
        stature_mm in number(&person_ranges::STATURE),
        survey in survey(),
        strength_percentile in number(&person_ranges::STRENGTH_PERCENTILE),
        can_kneel in any::<bool>(),
        slope_deg in number(&person_ranges::SLOPE),
    ) -> PersonFile {
        PersonFile { note: String::new(), stature_mm, survey, strength_percentile, can_kneel, slope_deg }
    }
}

fn survey() -> impl Strategy<Value = SurveyFile> {
    let of = prop::sample::select(vec![PeopleFile::Men, PeopleFile::Women]);
    let length = |range| prop::option::of(number(range));
    let own =
        (of, number(&person_ranges::BODY_MASS), length(&person_ranges::ARM), length(&person_ranges::LEG));
    prop_oneof![
        Just(SurveyFile::Men),
        Just(SurveyFile::Women),
        own.prop_map(|(of, mass_kg, arm_mm, leg_mm)| SurveyFile::Own { of, mass_kg, arm_mm, leg_mm })
    ]
}

prop_compose! {
    /// A yard whose parts are in range. Whether they can be put together is for the yard to say.
    pub fn any_yard()(
        (chain, pitch_in) in number(&ranges::PITCH).prop_flat_map(|pitch_in| (chain(pitch_in), Just(pitch_in)))
    )(
        (long, short) in (bar("long", pitch_in, chain.gauge_mm), bar("short", pitch_in, chain.gauge_mm)),
        mut head in powerhead(),
        setup in setup("long"),
        wood in wood(),
        readings in prop::collection::vec(reading(), 0..4),
        (chain, pitch_in) in (Just(chain), Just(pitch_in)),
        person in prop::option::of(person()),
    ) -> YardFile {
        head.sprocket.pitch_in = pitch_in;
        YardFile {
            version: YARD_VERSION, name: "Alder Flat".into(), note: String::new(), person, powerheads: vec![head],
            bars: vec![long, short], chains: vec![chain], setups: vec![setup], readings, weigh_ins: Vec::new(),
            woods: vec![wood],
        }
    }
}
