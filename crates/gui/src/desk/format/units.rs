//! The units a person chose, and measures in them.

use super::{decimals_or, number, signed, with_unit};
use barpoise_core::Hands;
use barpoise_core::units::{Angle, Force, Inertia, Length, Mass, Speed, Torque};

const INCHES_PER_FOOT: f64 = 12.0;

/// How lengths are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum LengthUnit {
    /// Millimetres.
    #[default]
    Mm,
    /// Inches.
    In,
}

/// How masses are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum MassUnit {
    /// Kilograms.
    #[default]
    Kg,
    /// Pounds.
    Lb,
}

/// How forces are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum ForceUnit {
    /// Newtons.
    N,
    /// Kilograms force: what a luggage scale shows, and what is said at the bench.
    #[default]
    Kgf,
    /// Pounds force.
    Lbf,
}

/// The person's choice of units.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct Units {
    /// Lengths.
    pub length: LengthUnit,
    /// Masses.
    pub mass: MassUnit,
    /// Forces.
    pub force: ForceUnit,
}

/// What kind of value a number is, for values that come with an uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dimension {
    /// In kilograms or pounds.
    Mass,
    /// In grams, whatever the units: the mass of one drive link.
    LinkMass,
    /// In millimetres or inches.
    Length,
    /// In litres, whatever the units: what a tank holds.
    Volume,
    /// In degrees.
    Angle,
    /// In seconds.
    Time,
    /// In newtons, kilograms force or pounds force.
    Force,
    /// In N·m or lbf·ft.
    Torque,
    /// In kg·m² or lb·ft².
    Inertia,
}

impl Units {
    /// The unit in which values of a kind are shown, its SI value, and the decimals where nothing is known of how
    /// sure a value is.
    fn shown(self, dimension: Dimension) -> (&'static str, f64, usize) {
        let pounds = self.mass == MassUnit::Lb;
        match dimension {
            Dimension::Mass if pounds => ("lb", Mass::from_lb(1.0).as_kg(), 1),
            Dimension::Mass => ("kg", 1.0, 2),
            Dimension::LinkMass => ("g", Mass::from_g(1.0).as_kg(), 2),
            Dimension::Length if self.length == LengthUnit::In => ("in", Length::from_in(1.0).as_m(), 1),
            Dimension::Length => ("mm", Length::from_mm(1.0).as_m(), 0),
            Dimension::Volume => ("L", 1e-3, 2),
            Dimension::Angle => ("°", Angle::from_deg(1.0).as_rad(), 1),
            Dimension::Time => ("s", 1.0, 2),
            Dimension::Force => {
                let newtons = match self.force {
                    ForceUnit::N => 1.0,
                    ForceUnit::Kgf => Force::from_kgf(1.0).as_n(),
                    ForceUnit::Lbf => Force::from_lbf(1.0).as_n(),
                };
                (self.force_unit(), newtons, self.force_decimals())
            }
            Dimension::Torque if self.force == ForceUnit::Lbf => {
                ("lbf·ft", Torque::from_lbf_ft(1.0).as_n_m(), 1)
            }
            Dimension::Torque => ("N·m", 1.0, 1),
            Dimension::Inertia if pounds => ("lb·ft²", Inertia::from_lb_ft2(1.0).as_kg_m2(), 1),
            Dimension::Inertia => ("kg·m²", 1.0, 2),
        }
    }

    /// `20.4 ± 0.7°`: an SI value and its standard uncertainty, in decimals that follow the uncertainty.
    pub fn known(self, dimension: Dimension, value: f64, uncertainty: f64) -> String {
        let (unit, si, fallback) = self.shown(dimension);
        let decimals = decimals_or(uncertainty / si, fallback);
        let text = format!("{} ± {}", number(value / si, decimals), number(uncertainty / si, decimals));
        with_unit(&text, unit)
    }

    /// `20.4°`: the value alone, in the decimals that go with its uncertainty.
    pub fn known_value(self, dimension: Dimension, value: f64, uncertainty: f64) -> String {
        let (unit, si, fallback) = self.shown(dimension);
        with_unit(&number(value / si, decimals_or(uncertainty / si, fallback)), unit)
    }

    /// The unit's name.
    pub fn unit_name(self, dimension: Dimension) -> &'static str {
        self.shown(dimension).0
    }

    /// An SI value in the shown unit, for an axis.
    pub fn axis_value(self, dimension: Dimension, value: f64) -> f64 {
        value / self.shown(dimension).1
    }

    /// `109 ± 2 N up`.
    pub fn known_hand(self, load: Force, uncertainty: Force) -> String {
        let way = if load < Force::ZERO { "down" } else { "up" };
        format!("{} {way}", self.known(Dimension::Force, load.abs().as_n(), uncertainty.as_n()))
    }

    /// `566 mm` or `22.3 in`.
    pub fn length(self, length: Length) -> String {
        format!("{} {}", self.length_number(length), self.length_unit())
    }

    /// The same with its sign.
    pub fn length_change(self, length: Length) -> String {
        match self.length {
            LengthUnit::Mm => format!("{} mm", signed(length.as_mm(), 0)),
            LengthUnit::In => format!("{} in", signed(length.as_in(), 1)),
        }
    }

    /// `12.4 m` or `40.7 ft`: a way of many cuts.
    pub fn way(self, length: Length) -> String {
        format!("{} {}", number(self.way_value(length), 1), self.way_unit())
    }

    /// `m` or `ft`.
    pub const fn way_unit(self) -> &'static str {
        match self.length {
            LengthUnit::Mm => "m",
            LengthUnit::In => "ft",
        }
    }

    /// The way in the shown unit, for an axis.
    pub const fn way_value(self, length: Length) -> f64 {
        match self.length {
            LengthUnit::Mm => length.as_m(),
            LengthUnit::In => length.as_in() / INCHES_PER_FOOT,
        }
    }

    /// A way from a value in the shown unit.
    pub fn way_from(self) -> fn(f64) -> Length {
        match self.length {
            LengthUnit::Mm => Length::from_m,
            LengthUnit::In => |feet| Length::from_in(feet * INCHES_PER_FOOT),
        }
    }

    /// The number alone, for a field that names its unit elsewhere.
    pub fn length_number(self, length: Length) -> String {
        match self.length {
            LengthUnit::Mm => number(length.as_mm(), 0),
            LengthUnit::In => number(length.as_in(), 1),
        }
    }

    /// The value in the shown unit, for an axis.
    pub const fn length_value(self, length: Length) -> f64 {
        match self.length {
            LengthUnit::Mm => length.as_mm(),
            LengthUnit::In => length.as_in(),
        }
    }

    /// A length from a value in the shown unit.
    pub const fn length_from(self) -> fn(f64) -> Length {
        match self.length {
            LengthUnit::Mm => Length::from_mm,
            LengthUnit::In => Length::from_in,
        }
    }

    /// `millimetres` or `inches`.
    pub const fn length_unit_in_full(self) -> &'static str {
        match self.length {
            LengthUnit::Mm => "millimetres",
            LengthUnit::In => "inches",
        }
    }

    /// `mm` or `in`.
    pub const fn length_unit(self) -> &'static str {
        match self.length {
            LengthUnit::Mm => "mm",
            LengthUnit::In => "in",
        }
    }

    /// `8.62 kg` or `19.00 lb`.
    pub fn mass(self, mass: Mass) -> String {
        match self.mass {
            MassUnit::Kg => format!("{} kg", number(mass.as_kg(), 2)),
            MassUnit::Lb => format!("{} lb", number(mass.as_lb(), 1)),
        }
    }

    /// A body's mass: nobody weighs the same to ten grams twice.
    pub fn body_mass(self, mass: Mass) -> String {
        match self.mass {
            MassUnit::Kg => format!("{} kg", number(mass.as_kg(), 1)),
            MassUnit::Lb => format!("{} lb", number(mass.as_lb(), 0)),
        }
    }

    /// The same with its sign.
    pub fn mass_change(self, mass: Mass) -> String {
        match self.mass {
            MassUnit::Kg => format!("{} kg", signed(mass.as_kg(), 2)),
            MassUnit::Lb => format!("{} lb", signed(mass.as_lb(), 1)),
        }
    }

    /// The value in the shown unit, for an axis.
    pub const fn mass_value(self, mass: Mass) -> f64 {
        match self.mass {
            MassUnit::Kg => mass.as_kg(),
            MassUnit::Lb => mass.as_lb(),
        }
    }

    /// A mass from a value in the shown unit.
    pub const fn mass_from(self) -> fn(f64) -> Mass {
        match self.mass {
            MassUnit::Kg => Mass::from_kg,
            MassUnit::Lb => Mass::from_lb,
        }
    }

    /// `kg` or `lb`.
    pub const fn mass_unit(self) -> &'static str {
        match self.mass {
            MassUnit::Kg => "kg",
            MassUnit::Lb => "lb",
        }
    }

    /// The value in the shown unit, for an axis.
    pub const fn force_value(self, force: Force) -> f64 {
        match self.force {
            ForceUnit::N => force.as_n(),
            ForceUnit::Kgf => force.as_kgf(),
            ForceUnit::Lbf => force.as_lbf(),
        }
    }

    /// A force from a value in the shown unit.
    pub const fn force_from(self) -> fn(f64) -> Force {
        match self.force {
            ForceUnit::N => Force::from_n,
            ForceUnit::Kgf => Force::from_kgf,
            ForceUnit::Lbf => Force::from_lbf,
        }
    }

    /// `640 N·s`, `65 kg·s` or `144 lb·s`: a load through a time.
    pub fn load_time(self, newton_seconds: f64) -> String {
        let shown = self.force_value(Force::from_n(newton_seconds));
        format!("{} {}·s", number(shown, 0), self.force_unit())
    }

    /// `N`, `kg` or `lb`.
    pub const fn force_unit(self) -> &'static str {
        match self.force {
            ForceUnit::N => "N",
            ForceUnit::Kgf => "kg",
            ForceUnit::Lbf => "lb",
        }
    }

    const fn force_decimals(self) -> usize {
        match self.force {
            ForceUnit::N => 0,
            ForceUnit::Kgf | ForceUnit::Lbf => 1,
        }
    }

    /// `109 N`, `11.1 kgf` or `24.5 lbf`, without a sense.
    pub fn force(self, force: Force) -> String {
        format!("{} {}", number(self.force_value(force), self.force_decimals()), self.force_unit())
    }

    /// The same with its sign.
    pub fn force_change(self, force: Force) -> String {
        format!("{} {}", signed(self.force_value(force), self.force_decimals()), self.force_unit())
    }

    /// `109 N up`, `17 N down`.
    pub fn hand(self, load: Force) -> String {
        let shown = self.force(load.abs());
        if number(self.force_value(load), self.force_decimals()).trim_matches(['0', '.']).is_empty() {
            return format!("{shown}, rests");
        }
        format!("{shown} {}", if load < Force::ZERO { "down" } else { "up" })
    }

    /// Both hands in one phrase for a screen reader.
    pub fn hands(self, hands: Hands) -> String {
        format!("front hand {}, rear hand {}", self.hand(hands.front), self.hand(hands.rear))
    }

    /// `22.2 m/s`; in ft/s where lengths are inches.
    pub fn speed(self, speed: Speed) -> String {
        match self.length {
            LengthUnit::Mm => format!("{} m/s", number(speed.as_m_s(), 1)),
            LengthUnit::In => {
                let feet = Length::from_m(speed.as_m_s()).as_in() / INCHES_PER_FOOT;
                format!("{} ft/s", number(feet, 0))
            }
        }
    }

    /// `12.3 N·m`; in lbf·ft where forces are pounds.
    pub fn torque(self, torque: Torque) -> String {
        match self.force {
            ForceUnit::N | ForceUnit::Kgf => format!("{} N·m", number(torque.as_n_m(), 1)),
            ForceUnit::Lbf => format!("{} lbf·ft", number(torque.as_lbf_ft(), 1)),
        }
    }

    /// `0.81 kg·m²`; in lb·ft² where masses are pounds.
    pub fn inertia(self, inertia: Inertia) -> String {
        match self.mass {
            MassUnit::Kg => format!("{} kg·m²", number(inertia.as_kg_m2(), 2)),
            MassUnit::Lb => format!("{} lb·ft²", number(inertia.as_lb_ft2(), 1)),
        }
    }
}
