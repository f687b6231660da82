//! Writing a yard as text.

use super::parse::ron_options;
use crate::record::YardFile;
use ron::ser::PrettyConfig;

/// Lists and parts go on lines of their own; what lies deeper, points and tanks, stays on one.
const LINES_TO_DEPTH: usize = 3;

pub(super) const HEADING: &str =
    "// A Barpoise yard. A field's name ends in its unit; a decimal sign is a point.\n";

/// A yard as text that [`super::parse_yard`] reads back exactly; the same yard always gives the same text.
///
/// # Errors
/// None for any yard of today's layout; the serializer's own, should a field ever not be writable.
pub fn to_ron(yard: &YardFile) -> Result<String, ron::Error> {
    let layout =
        PrettyConfig::new().new_line("\n").indentor("    ").struct_names(false).depth_limit(LINES_TO_DEPTH);
    let body = ron_options().to_string_pretty(yard, layout)?;
    Ok(format!("{HEADING}{body}\n"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fault::Range;
    use crate::file::{demo, parse_yard};
    use crate::log::limits::{CLEARANCE, LOG_DIAMETER, SPECIFIC_ENERGY};
    use crate::person::ranges as person_ranges;
    use crate::ranges;
    use crate::record::*;
    use crate::weigh_in::Quantity;
    use proptest::prelude::*;

    fn number(range: &Range) -> impl Strategy<Value = f64> + use<> {
        let (min, max) = (range.min, range.max);
        prop_oneof![8 => min..=max, 1 => Just(min), 1 => Just(max)]
    }

    fn whole(range: &Range) -> impl Strategy<Value = u32> + use<> {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "the ranges of counts are small and positive"
        )]
        number(range).prop_map(|value| value as u32)
    }

    fn text() -> impl Strategy<Value = String> {
        prop_oneof![any::<String>(), "[A-Z][0-9]{2}( light)?", Just("\"# \\ \n\r\t//木\u{feff}".to_owned())]
    }

    fn point() -> impl Strategy<Value = PointFile> {
        (number(&ranges::COORDINATE), number(&ranges::COORDINATE))
            .prop_map(|(x_mm, y_mm)| PointFile { x_mm, y_mm })
    }

    fn tank() -> impl Strategy<Value = TankFile> {
        (
            point(),
            number(&ranges::TANK_SIDE),
            number(&ranges::TANK_SIDE),
            number(&ranges::TANK_CAPACITY),
            number(&ranges::FLUID_DENSITY),
        )
            .prop_map(|(corner, width_mm, height_mm, capacity_l, density_kg_per_l)| TankFile {
                corner,
                width_mm,
                height_mm,
                capacity_l,
                density_kg_per_l,
            })
    }

    fn inertia() -> impl Strategy<Value = InertiaFile> {
        prop_oneof![
            number(&ranges::RADIUS_OF_GYRATION)
                .prop_map(|radius_mm| InertiaFile::RadiusOfGyration { radius_mm }),
            number(&ranges::HEAD_INERTIA).prop_map(|moment_kg_m2| InertiaFile::Moment { moment_kg_m2 }),
        ]
    }

    fn outline() -> impl Strategy<Value = OutlineFile> {
        prop_oneof![
            Just(OutlineFile::Generic),
            prop::collection::vec(point(), 0..5).prop_map(OutlineFile::Corners)
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
            HeadUncertaintyFile {
                dry_mass_kg, centroid_mm, radius_of_gyration_mm, spike_line_mm, tanks_mm, grips_mm,
            }
        }
    }

    fn square_up() -> impl Strategy<Value = SquareUpFile> {
        let known = || number(&ranges::KNOWN_LENGTH);
        prop_oneof![
            (known(), number(&ranges::LENGTH_UNCERTAINTY))
                .prop_map(|(apart_mm, uncertainty_mm)| SquareUpFile::Distance { apart_mm, uncertainty_mm }),
            (known(), known()).prop_map(|(long_mm, short_mm)| SquareUpFile::Sheet { long_mm, short_mm }),
        ]
    }

    fn marks() -> impl Strategy<Value = Vec<MarksFile>> {
        let pixel = || number(&ranges::PIXEL);
        let at = pixel().prop_flat_map(move |x_px| pixel().prop_map(move |y_px| PixelFile { x_px, y_px }));
        let of = prop::sample::subsequence(Landmark::ALL.to_vec(), 0..=Landmark::ALL.len());
        (of, at).prop_map(|(of, at)| of.into_iter().map(|of| MarksFile { of, at: vec![at] }).collect())
    }

    prop_compose! {
        fn photograph()(
            path in "[a-z é]{0,8}[a-z]\\.(jpg|png|webp)",
            (width_px, height_px) in (whole(&ranges::PICTURE_SIDE), whole(&ranges::PICTURE_SIDE)),
            (square_up, marks) in (square_up(), marks()),
            camera_distance_mm in number(&ranges::CAMERA_DISTANCE),
            camera_distance_uncertainty_mm in number(&ranges::CAMERA_UNCERTAINTY),
            grips_behind_mm in number(&ranges::GRIPS_BEHIND),
            grips_behind_uncertainty_mm in number(&ranges::LENGTH_UNCERTAINTY),
            marking_px in number(&ranges::MARKING),
        ) -> PhotographFile {
            PhotographFile {
                path, width_px, height_px, square_up, camera_distance_mm, camera_distance_uncertainty_mm,
                grips_behind_mm, grips_behind_uncertainty_mm, marking_px, marks,
            }
        }
    }

    prop_compose! {
        fn powerhead()(
            (name, note, mount) in (text(), text(), text()),
            (dry_mass_kg, centroid, inertia) in (number(&ranges::DRY_MASS), point(), inertia()),
            (fuel_tank, oil_tank, front_grip, rear_grip) in (tank(), tank(), point(), point()),
            spike_line_mm in number(&ranges::SPIKE_LINE),
            stud_mm in number(&ranges::STUD),
            tensioner_travel_mm in number(&ranges::TENSIONER_TRAVEL),
            (teeth, pitch_in, outline) in (whole(&ranges::TEETH), number(&ranges::PITCH), outline()),
            (power_kw, power_rpm) in (number(&ranges::POWER), number(&ranges::ENGINE_SPEED)),
            engine_size_cm3 in prop::option::of(number(&ranges::ENGINE_SIZE)),
            (pump_ml_per_min, pump_rpm) in (number(&ranges::PUMP_FLOW), number(&ranges::ENGINE_SPEED)),
            longest_bar_in in prop::option::of(number(&ranges::MARKED_LENGTH)),
            standard_uncertainty in unsure(),
            photograph in prop::option::of(photograph()),
        ) -> PowerheadFile {
            PowerheadFile {
                name, note, mount, dry_mass_kg, centroid, inertia, fuel_tank, oil_tank, front_grip, rear_grip,
                spike_line_mm, stud_mm, tensioner_travel_mm, sprocket: SprocketFile { teeth, pitch_in }, outline,
                power_kw, power_rpm, pump_ml_per_min, pump_rpm, longest_bar_in, engine_size_cm3, standard_uncertainty, photograph,
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

    fn nose() -> impl Strategy<Value = NoseFile> {
        prop_oneof![
            Just(NoseFile::Solid),
            number(&ranges::PITCH).prop_map(|pitch_in| NoseFile::Sprocket { pitch_in })
        ]
    }

    prop_compose! {
        fn bar()(
            (name, note, mount) in (text(), text(), text()),
            marked_length_in in number(&ranges::MARKED_LENGTH),
            overall_length_mm in number(&ranges::OVERALL_LENGTH),
            tail_behind_studs_mm in number(&ranges::TAIL_BEHIND_STUDS),
            (tail_width_mm, body_width_mm) in (number(&ranges::BAR_WIDTH), number(&ranges::BAR_WIDTH)),
            nose_radius_mm in number(&ranges::NOSE_RADIUS),
            thickness_mm in number(&ranges::BAR_THICKNESS),
            (gauge_mm, groove_depth_mm) in (number(&ranges::GAUGE), number(&ranges::GROOVE_DEPTH)),
            (construction, nose) in (construction(), nose()),
            marked_drive_links in whole(&ranges::DRIVE_LINKS),
            weighed_mass_kg in prop::option::of(number(&ranges::BAR_MASS)),
            mass_uncertainty_kg in prop::option::of(number(&ranges::WEIGHT_UNCERTAINTY)),
            nose_place_mm in prop::option::of(number(&ranges::NOSE_PLACE)),
        ) -> BarFile {
            BarFile {
                name, note, mount, marked_length_in, overall_length_mm, tail_behind_studs_mm, tail_width_mm,
                body_width_mm, nose_radius_mm, thickness_mm, gauge_mm, groove_depth_mm, construction, nose,
                marked_drive_links, weighed_mass_kg, mass_uncertainty_kg, nose_place_mm,
            }
        }
    }

    prop_compose! {
        fn chain()(
            (name, note) in (text(), text()),
            (pitch_in, gauge_mm) in (number(&ranges::PITCH), number(&ranges::GAUGE)),
            mass_per_drive_link_g in number(&ranges::LINK_MASS),
            sequence in prop::sample::select(vec![
                SequenceFile::FullComplement,
                SequenceFile::SemiSkip,
                SequenceFile::FullSkip,
            ]),
            cutter_height_mm in number(&ranges::CUTTER_HEIGHT),
            rail_to_rivet_mm in number(&ranges::RAIL_TO_RIVET),
            mass_uncertainty_g in prop::option::of(number(&ranges::LINK_UNCERTAINTY)),
        ) -> ChainFile {
            ChainFile {
                name, note, pitch_in, gauge_mm, mass_per_drive_link_g, sequence, cutter_height_mm,
                rail_to_rivet_mm, mass_uncertainty_g,
            }
        }
    }

    prop_compose! {
        fn extra()(name in text(), mass_kg in number(&ranges::EXTRA_MASS), at in point()) -> ExtraFile {
            ExtraFile { name, mass_kg, at }
        }
    }

    prop_compose! {
        fn setup()(
            (name, note, powerhead, bar, chain) in (text(), text(), text(), text(), text()),
            drive_links in prop::option::of(whole(&ranges::DRIVE_LINKS)),
            (fuel_fill, oil_fill) in (number(&ranges::FILL), number(&ranges::FILL)),
            extras in prop::collection::vec(extra(), 0..3),
        ) -> SetupFile {
            SetupFile { name, note, powerhead, bar, chain, drive_links, fuel_fill, oil_fill, extras }
        }
    }

    fn measured() -> impl Strategy<Value = MeasuredFile> {
        let weight = || (number(&ranges::TOTAL_READING), number(&ranges::WEIGHT_UNCERTAINTY));
        let length = || (number(&ranges::REACH_READING), number(&ranges::LENGTH_UNCERTAINTY));
        let pitch = || prop_oneof![Just(0.0), number(&ranges::HELD_PITCH)];
        prop_oneof![
            weight()
                .prop_map(|(weight_kg, uncertainty_kg)| MeasuredFile::Total { weight_kg, uncertainty_kg }),
            (weight(), pitch()).prop_map(|((weight_kg, uncertainty_kg), nose_up_deg)| {
                MeasuredFile::FrontGrip { weight_kg, uncertainty_kg, nose_up_deg }
            }),
            (weight(), pitch()).prop_map(|((weight_kg, uncertainty_kg), nose_up_deg)| {
                MeasuredFile::RearGrip { weight_kg, uncertainty_kg, nose_up_deg }
            }),
            (number(&ranges::HANG_READING), number(&ranges::ANGLE_UNCERTAINTY)).prop_map(
                |(nose_down_deg, uncertainty_deg)| MeasuredFile::Hang { nose_down_deg, uncertainty_deg }
            ),
            length().prop_map(|(past_spikes_mm, uncertainty_mm)| MeasuredFile::BalancePoint {
                past_spikes_mm,
                uncertainty_mm
            }),
            length().prop_map(|(past_spikes_mm, uncertainty_mm)| MeasuredFile::Reach {
                past_spikes_mm,
                uncertainty_mm
            }),
            (number(&ranges::PERIOD_READING), number(&ranges::TIME_UNCERTAINTY))
                .prop_map(|(period_s, uncertainty_s)| MeasuredFile::SwingPeriod { period_s, uncertainty_s }),
            (text(), weight()).prop_map(|(bar, (weight_kg, uncertainty_kg))| MeasuredFile::Bar {
                bar,
                weight_kg,
                uncertainty_kg
            }),
            (text(), whole(&ranges::DRIVE_LINKS), weight()).prop_map(
                |(chain, drive_links, (weight_kg, uncertainty_kg))| MeasuredFile::Loop {
                    chain,
                    drive_links,
                    weight_kg,
                    uncertainty_kg
                }
            ),
        ]
    }

    prop_compose! {
        fn reading()(
            measured in measured(),
            setup in prop::option::of(text()),
            fuel_fill in prop::option::of(number(&ranges::FILL)),
            oil_fill in prop::option::of(number(&ranges::FILL)),
            note in text(),
            left_out in any::<bool>(),
        ) -> ReadingFile {
            ReadingFile { measured, setup, fuel_fill, oil_fill, note, left_out }
        }
    }

    prop_compose! {
        fn learnt()(
            what in prop::sample::select(Quantity::ALL.to_vec()),
            of in text(),
            before in prop::option::of(number(&ranges::COORDINATE)),
            (prior, value) in (number(&ranges::COORDINATE), number(&ranges::COORDINATE)),
            prior_uncertainty in number(&ranges::LENGTH_UNCERTAINTY),
            uncertainty in number(&ranges::LENGTH_UNCERTAINTY),
        ) -> LearntFile {
            LearntFile { what, of, before, prior, prior_uncertainty, value, uncertainty }
        }
    }

    prop_compose! {
        fn weigh_in()(
            date in text(),
            put_back in any::<bool>(),
            learnt in prop::collection::vec(learnt(), 0..4),
            correlations in prop::collection::vec(number(&ranges::CORRELATION), 0..4),
        ) -> WeighInFile {
            WeighInFile { date, put_back, learnt, correlations }
        }
    }

    prop_compose! {
        fn wood()(
            (name, note) in (text(), text()),
            diameters in prop::collection::vec((number(&LOG_DIAMETER), whole(&ranges::CUTS)), 0..4),
            tangled_share in number(&ranges::SHARE_OF_CUTS),
            lifted_share in number(&ranges::SHARE_OF_CUTS),
            stand in prop::sample::select(vec![StandFile::OneSide, StandFile::BothSides, StandFile::WalkRound]),
            above_ground_mm in number(&CLEARANCE),
            (hard, source, cutting_energy_j_per_cm3) in (text(), text(), number(&SPECIFIC_ENERGY)),
        ) -> WoodFile {
            let diameters =
                diameters.into_iter().map(|(diameter_mm, cuts)| DiameterFile { diameter_mm, cuts }).collect();
            let hardness = HardnessFile { name: hard, cutting_energy_j_per_cm3, source };
            WoodFile { name, note, diameters, tangled_share, lifted_share, stand, above_ground_mm, hardness }
        }
    }

    prop_compose! {
        fn person()(
            note in text(),
            stature_mm in number(&person_ranges::STATURE),
            survey in survey(),
            strength_percentile in prop_oneof![Just(50.0), number(&person_ranges::STRENGTH_PERCENTILE)],
            can_kneel in any::<bool>(),
            slope_deg in prop_oneof![Just(0.0), number(&person_ranges::SLOPE)],
        ) -> PersonFile {
            PersonFile { note, stature_mm, survey, strength_percentile, can_kneel, slope_deg }
        }
    }

    fn survey() -> impl Strategy<Value = SurveyFile> {
        let of = prop::sample::select(vec![PeopleFile::Men, PeopleFile::Women]);
        let (arm, leg) = (&person_ranges::ARM, &person_ranges::LEG);
        let own = (
            of,
            number(&person_ranges::BODY_MASS),
            prop::option::of(number(arm)),
            prop::option::of(number(leg)),
        );
        prop_oneof![
            Just(SurveyFile::Men),
            Just(SurveyFile::Women),
            own.prop_map(|(of, mass_kg, arm_mm, leg_mm)| SurveyFile::Own { of, mass_kg, arm_mm, leg_mm })
        ]
    }

    prop_compose! {
        fn yard()(
            (name, note, person) in (text(), text(), prop::option::of(person())),
            powerheads in prop::collection::vec(powerhead(), 0..3),
            bars in prop::collection::vec(bar(), 0..4),
            chains in prop::collection::vec(chain(), 0..3),
            setups in prop::collection::vec(setup(), 0..4),
            readings in prop::collection::vec(reading(), 0..4),
            weigh_ins in prop::collection::vec(weigh_in(), 0..3),
            woods in prop::collection::vec(wood(), 0..3),
        ) -> YardFile {
            YardFile { version: YARD_VERSION, name, note, person, powerheads, bars, chains, setups, readings, weigh_ins, woods }
        }
    }

    proptest! {
        #[test]
        fn law_what_is_written_reads_back_exactly(yard in yard()) {
            let text = to_ron(&yard).unwrap();
            let back: YardFile = ron_options().from_str(&text).map_err(|error| {
                TestCaseError::fail(format!("{error}\n{text}"))
            })?;
            prop_assert_eq!(&back, &yard, "{}", text);
            prop_assert_eq!(to_ron(&back).unwrap(), text);
        }
    }

    #[test]
    fn the_demo_survives_being_written() {
        let demo = demo().unwrap();
        let text = to_ron(demo.file()).unwrap();
        let back = parse_yard(&text, "written.ron").unwrap();
        assert_eq!(back.file(), demo.file());
        assert!(text.contains("centroid: (x_mm: -14.0, y_mm: 14.0),"), "{text}");
        assert!(text.contains("longest_bar_in: 30.0,"), "{text}");
    }
}
