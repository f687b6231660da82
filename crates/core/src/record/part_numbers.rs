//! A part's numbers by the path that a fault has: read and put in the unit in which the file writes them.

use super::{
    BarFile, ChainFile, ConstructionFile, InertiaFile, NoseFile, PartFile, PowerheadFile, SetupFile,
};

/// Two functions that find a plain number of a mirror by its path.
macro_rules! places {
    ($file:ty, $read:ident, $write:ident, $($path:literal => $($field:ident).+),+ $(,)?) => {
        fn $read(file: &$file, path: &str) -> Option<f64> {
            match path {
                $($path => Some(file.$($field).+),)+
                _ => None,
            }
        }

        fn $write<'a>(file: &'a mut $file, path: &str) -> Option<&'a mut f64> {
            match path {
                $($path => Some(&mut file.$($field).+),)+
                _ => None,
            }
        }
    };
}

/// The same for numbers that may be left out.
macro_rules! may_be_left_out {
    ($file:ty, $read:ident, $write:ident, $($path:literal => $($field:ident).+),+ $(,)?) => {
        fn $read(file: &$file, path: &str) -> Option<f64> {
            match path {
                $($path => file.$($field).+,)+
                _ => None,
            }
        }

        fn $write<'a>(file: &'a mut $file, path: &str) -> Option<&'a mut Option<f64>> {
            match path {
                $($path => Some(&mut file.$($field).+),)+
                _ => None,
            }
        }
    };
}

places!(PowerheadFile, head_number, head_place,
    "dry_mass_kg" => dry_mass_kg,
    "centroid.x_mm" => centroid.x_mm,
    "centroid.y_mm" => centroid.y_mm,
    "fuel_tank.corner.x_mm" => fuel_tank.corner.x_mm,
    "fuel_tank.corner.y_mm" => fuel_tank.corner.y_mm,
    "fuel_tank.width_mm" => fuel_tank.width_mm,
    "fuel_tank.height_mm" => fuel_tank.height_mm,
    "fuel_tank.capacity_l" => fuel_tank.capacity_l,
    "fuel_tank.density_kg_per_l" => fuel_tank.density_kg_per_l,
    "oil_tank.corner.x_mm" => oil_tank.corner.x_mm,
    "oil_tank.corner.y_mm" => oil_tank.corner.y_mm,
    "oil_tank.width_mm" => oil_tank.width_mm,
    "oil_tank.height_mm" => oil_tank.height_mm,
    "oil_tank.capacity_l" => oil_tank.capacity_l,
    "oil_tank.density_kg_per_l" => oil_tank.density_kg_per_l,
    "front_grip.x_mm" => front_grip.x_mm,
    "front_grip.y_mm" => front_grip.y_mm,
    "rear_grip.x_mm" => rear_grip.x_mm,
    "rear_grip.y_mm" => rear_grip.y_mm,
    "spike_line_mm" => spike_line_mm,
    "stud_mm" => stud_mm,
    "tensioner_travel_mm" => tensioner_travel_mm,
    "sprocket.pitch_in" => sprocket.pitch_in,
    "power_kw" => power_kw,
    "power_rpm" => power_rpm,
    "pump_ml_per_min" => pump_ml_per_min,
    "pump_rpm" => pump_rpm,
);

may_be_left_out!(PowerheadFile, head_option, head_option_place,
    "longest_bar_in" => longest_bar_in,
    "engine_size_cm3" => engine_size_cm3,
    "standard_uncertainty.dry_mass_kg" => standard_uncertainty.dry_mass_kg,
    "standard_uncertainty.centroid_mm" => standard_uncertainty.centroid_mm,
    "standard_uncertainty.radius_of_gyration_mm" => standard_uncertainty.radius_of_gyration_mm,
    "standard_uncertainty.spike_line_mm" => standard_uncertainty.spike_line_mm,
    "standard_uncertainty.tanks_mm" => standard_uncertainty.tanks_mm,
    "standard_uncertainty.grips_mm" => standard_uncertainty.grips_mm,
);

places!(BarFile, bar_number, bar_place,
    "marked_length_in" => marked_length_in,
    "overall_length_mm" => overall_length_mm,
    "tail_behind_studs_mm" => tail_behind_studs_mm,
    "tail_width_mm" => tail_width_mm,
    "body_width_mm" => body_width_mm,
    "nose_radius_mm" => nose_radius_mm,
    "thickness_mm" => thickness_mm,
    "gauge_mm" => gauge_mm,
    "groove_depth_mm" => groove_depth_mm,
);

may_be_left_out!(BarFile, bar_option, bar_option_place,
    "weighed_mass_kg" => weighed_mass_kg,
    "mass_uncertainty_kg" => mass_uncertainty_kg,
    "nose_place_mm" => nose_place_mm,
);

places!(ChainFile, chain_number, chain_place,
    "pitch_in" => pitch_in,
    "gauge_mm" => gauge_mm,
    "mass_per_drive_link_g" => mass_per_drive_link_g,
    "cutter_height_mm" => cutter_height_mm,
    "rail_to_rivet_mm" => rail_to_rivet_mm,
);

may_be_left_out!(ChainFile, chain_option, chain_option_place,
    "mass_uncertainty_g" => mass_uncertainty_g,
);

places!(SetupFile, setup_number, setup_place,
    "fuel_fill" => fuel_fill,
    "oil_fill" => oil_fill,
);

impl PartFile {
    /// A number of this part; `None` where it is left out or the part has none of this path.
    pub fn number(&self, path: &str) -> Option<f64> {
        match self {
            Self::Powerhead(head) => match (path, head.inertia) {
                ("sprocket.teeth", _) => Some(f64::from(head.sprocket.teeth)),
                ("inertia.radius_mm", InertiaFile::RadiusOfGyration { radius_mm }) => Some(radius_mm),
                ("inertia.moment_kg_m2", InertiaFile::Moment { moment_kg_m2 }) => Some(moment_kg_m2),
                _ => head_number(head, path).or_else(|| head_option(head, path)),
            },
            Self::Bar(bar) => match (path, bar.nose) {
                ("marked_drive_links", _) => Some(f64::from(bar.marked_drive_links)),
                ("nose.pitch_in", NoseFile::Sprocket { pitch_in }) => Some(pitch_in),
                ("construction.share", _) => match bar.construction {
                    ConstructionFile::Solid => None,
                    ConstructionFile::Laminated { share } | ConstructionFile::Lightened { share } => {
                        Some(share)
                    }
                },
                _ => bar_number(bar, path).or_else(|| bar_option(bar, path)),
            },
            Self::Chain(chain) => chain_number(chain, path).or_else(|| chain_option(chain, path)),
            Self::Setup(setup) => match path {
                "drive_links" => setup.drive_links.map(f64::from),
                _ => setup_number(setup, path),
            },
        }
    }

    /// Puts a number, or leaves it out where it may be. False where the part has none of this path.
    pub fn set_number(&mut self, path: &str, value: Option<f64>) -> bool {
        match (self, path, value) {
            (Self::Powerhead(head), "sprocket.teeth", Some(value)) => {
                put_count(&mut head.sprocket.teeth, value)
            }
            (Self::Powerhead(head), "inertia.radius_mm", Some(radius_mm)) => {
                head.inertia = InertiaFile::RadiusOfGyration { radius_mm };
                true
            }
            (Self::Powerhead(head), "inertia.moment_kg_m2", Some(moment_kg_m2)) => {
                head.inertia = InertiaFile::Moment { moment_kg_m2 };
                true
            }
            (Self::Powerhead(head), _, value) => {
                put(head_place(head, path), value) || put_option(head_option_place(head, path), value)
            }
            (Self::Bar(bar), "marked_drive_links", Some(value)) => {
                put_count(&mut bar.marked_drive_links, value)
            }
            (Self::Bar(bar), "nose.pitch_in", Some(pitch_in)) => {
                bar.nose = NoseFile::Sprocket { pitch_in };
                true
            }
            (Self::Bar(bar), "construction.share", Some(value)) => match &mut bar.construction {
                ConstructionFile::Solid => false,
                ConstructionFile::Laminated { share } | ConstructionFile::Lightened { share } => {
                    *share = value;
                    true
                }
            },
            (Self::Bar(bar), _, value) => {
                put(bar_place(bar, path), value) || put_option(bar_option_place(bar, path), value)
            }
            (Self::Chain(chain), _, value) => {
                put(chain_place(chain, path), value) || put_option(chain_option_place(chain, path), value)
            }
            (Self::Setup(setup), "drive_links", None) => {
                setup.drive_links = None;
                true
            }
            (Self::Setup(setup), "drive_links", Some(value)) => {
                put_count(setup.drive_links.get_or_insert_default(), value)
            }
            (Self::Setup(setup), _, value) => put(setup_place(setup, path), value),
        }
    }
}

fn put(place: Option<&mut f64>, value: Option<f64>) -> bool {
    match (place, value) {
        (Some(place), Some(value)) => {
            *place = value;
            true
        }
        _ => false,
    }
}

fn put_option(place: Option<&mut Option<f64>>, value: Option<f64>) -> bool {
    place.is_some_and(|place| {
        *place = value;
        true
    })
}

/// A whole number; false for any other, which leaves the old one.
fn put_count(place: &mut u32, value: f64) -> bool {
    let whole = value.fract() == 0.0 && (0.0..=f64::from(u32::MAX)).contains(&value);
    if whole {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "checked the line above")]
        {
            *place = value as u32;
        }
    }
    whole
}

#[cfg(test)]
mod tests {
    use crate::file::demo;
    use crate::propose::proposed_fields;
    use crate::record::{PartId, PartKind};

    #[test]
    fn every_field_that_can_be_proposed_is_read_and_put_by_its_path() {
        let file = demo().unwrap().file().clone();
        for (kind, name) in
            [(PartKind::Powerhead, "Bittern"), (PartKind::Bar, "B24 light"), (PartKind::Chain, "3/8 full")]
        {
            let mut part = file.part(&PartId::new(kind, name)).unwrap();
            for (path, _) in proposed_fields(kind) {
                let value = part.number(path).unwrap();
                assert!(part.set_number(path, Some(value + 1.0)), "{path}");
                assert!((part.number(path).unwrap() - value - 1.0).abs() < 1e-12, "{path}");
                assert!(!part.set_number(path, None), "{path} must not be left out");
            }
            assert!(!part.set_number("no_such_field", Some(1.0)));
        }
    }

    #[test]
    fn what_may_be_left_out_can_be() {
        let file = demo().unwrap().file().clone();
        let mut bar = file.part(&PartId::new(PartKind::Bar, "B24")).unwrap();
        assert!(bar.set_number("weighed_mass_kg", Some(1.2)));
        assert_eq!(bar.number("weighed_mass_kg"), Some(1.2));
        assert!(bar.set_number("weighed_mass_kg", None));
        assert_eq!(bar, file.part(&PartId::new(PartKind::Bar, "B24")).unwrap());
        assert!(!bar.set_number("marked_drive_links", Some(70.5)), "no half links");
    }
}
