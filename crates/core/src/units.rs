//! Quantities: SI inside, other units only through named constructors and readers.
//!
//! A quantity never converts silently: there is no `Deref` and no `From<f64>`.

use std::fmt;
use std::ops::{Add, Div, Mul, Neg, Sub};

/// Standard gravity in m/s² (exact by definition, CGPM 1901).
pub const STANDARD_GRAVITY_M_S2: f64 = 9.806_65;

const M_PER_MM: f64 = 1e-3;
const M_PER_CM: f64 = 1e-2;
const M_PER_IN: f64 = 0.0254;
const KG_PER_G: f64 = 1e-3;
const KG_PER_LB: f64 = 0.453_592_37;
const M3_PER_L: f64 = 1e-3;
const M2_PER_CM2: f64 = 1e-4;
const W_PER_KW: f64 = 1e3;

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $si:literal, $from:ident, $read:ident
     $(, [$alt_from:ident, $alt_read:ident, $factor:expr, $alt_doc:literal])*) => {
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            #[doc = concat!("From a value in ", $si, ".")]
            pub const fn $from(value: f64) -> Self { Self(value) }

            #[doc = concat!("The value in ", $si, ".")]
            pub const fn $read(self) -> f64 { self.0 }

            $(
                #[doc = concat!("From a value in ", $alt_doc, ".")]
                pub const fn $alt_from(value: f64) -> Self { Self(value * $factor) }

                #[doc = concat!("The value in ", $alt_doc, ".")]
                pub const fn $alt_read(self) -> f64 { self.0 / $factor }
            )*

            /// The size without the sign.
            #[must_use]
            pub const fn abs(self) -> Self { Self(self.0.abs()) }

            /// The smaller of two.
            #[must_use]
            pub const fn min(self, other: Self) -> Self { Self(self.0.min(other.0)) }

            /// The larger of two.
            #[must_use]
            pub const fn max(self, other: Self) -> Self { Self(self.0.max(other.0)) }

            /// The nearest value within `low..=high`; `low` wins if the two are crossed, and NaN stays NaN.
            #[must_use]
            pub const fn clamp(self, low: Self, high: Self) -> Self {
                if self.0.is_nan() {
                    self
                } else {
                    Self(self.0.min(high.0).max(low.0))
                }
            }

            /// True where the value is neither infinite nor NaN.
            pub const fn is_finite(self) -> bool { self.0.is_finite() }
        }

        impl fmt::Debug for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "{} {}", self.0, $si)
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self { Self(self.0 + other.0) }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self { Self(self.0 - other.0) }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self { Self(-self.0) }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self { Self(self.0 * factor) }
        }

        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 { self.0 / other.0 }
        }
    };
}

quantity!(
    /// A length or a coordinate.
    Length, "m", from_m, as_m,
    [from_mm, as_mm, M_PER_MM, "mm"],
    [from_cm, as_cm, M_PER_CM, "cm"],
    [from_in, as_in, M_PER_IN, "in"]
);
quantity!(
    /// A mass.
    Mass, "kg", from_kg, as_kg,
    [from_g, as_g, KG_PER_G, "g"],
    [from_lb, as_lb, KG_PER_LB, "lb"]
);
quantity!(
    /// An angle; each use states its zero and its sense.
    Angle, "rad", from_rad, as_rad,
    [from_deg, as_deg, std::f64::consts::PI / 180.0, "degrees"]
);
quantity!(
    /// A force; positive senses are stated where one is returned.
    Force, "N", from_n, as_n,
    [from_kgf, as_kgf, STANDARD_GRAVITY_M_S2, "kgf"],
    [from_lbf, as_lbf, KG_PER_LB * STANDARD_GRAVITY_M_S2, "lbf"]
);
quantity!(
    /// A moment of force.
    Torque, "N·m", from_n_m, as_n_m,
    [from_lbf_ft, as_lbf_ft, KG_PER_LB * STANDARD_GRAVITY_M_S2 * 12.0 * M_PER_IN, "lbf·ft"]
);
quantity!(
    /// A moment of inertia about a stated axis.
    Inertia, "kg·m²", from_kg_m2, as_kg_m2,
    [from_lb_ft2, as_lb_ft2, KG_PER_LB * 144.0 * M_PER_IN * M_PER_IN, "lb·ft²"]
);
quantity!(
    /// A speed.
    Speed, "m/s", from_m_s, as_m_s
);
quantity!(
    /// A power.
    Power, "W", from_w, as_w,
    [from_kw, as_kw, W_PER_KW, "kW"]
);
quantity!(
    /// An area.
    Area, "m²", from_m2, as_m2,
    [from_cm2, as_cm2, M2_PER_CM2, "cm²"],
    [from_in2, as_in2, M_PER_IN * M_PER_IN, "in²"]
);
quantity!(
    /// A volume.
    Volume, "m³", from_m3, as_m3,
    [from_l, as_l, M3_PER_L, "L"]
);

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn inch_and_pound_are_the_international_ones() {
        // International yard and pound agreement, 1959: exact.
        assert_relative_eq!(Length::from_in(24.0).as_mm(), 609.6, max_relative = 1e-15);
        assert_relative_eq!(Mass::from_lb(1.0).as_kg(), 0.453_592_37, max_relative = 1e-15);
    }

    #[test]
    fn one_kilogram_force_is_standard_gravity() {
        assert_relative_eq!(Force::from_kgf(1.0).as_n(), 9.806_65, max_relative = 1e-15);
        assert_relative_eq!(Force::from_lbf(1.0).as_n(), 4.448_221_615_260_5, max_relative = 1e-14);
    }

    #[test]
    fn clamp_keeps_what_is_inside_and_stops_at_the_ends() {
        let (low, high) = (Length::from_mm(1.0), Length::from_mm(2.0));
        assert_eq!(Length::from_mm(0.0).clamp(low, high), low);
        assert_eq!(Length::from_mm(5.0).clamp(low, high), high);
        assert_eq!(Length::from_mm(1.5).clamp(low, high), Length::from_mm(1.5));
        assert!(Length::from_mm(f64::NAN).clamp(low, high).as_mm().is_nan());
    }
}
