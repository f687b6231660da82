//! Readings: what was measured, on what, how surely.

use super::named::Named;
use crate::fault::{Checker, Fault, Range};
use crate::ranges;
use crate::record::{MeasuredFile, Part, Quantity, ReadingFile, Unknown};
use crate::saw::{Bar, Chain, Setup};
use crate::units::Angle;
use std::sync::Arc;

/// What common tools are good to, one standard deviation (common practice): scales, the angle a phone shows, a tape or an
/// edge, a swing timed over ten by a watch.
pub(super) const LUGGAGE_SCALE_KG: f64 = 0.05;
pub(super) const KITCHEN_SCALE_KG: f64 = 0.01;
pub(super) const PHONE_RAD: f64 = 1.0_f64.to_radians();
pub(super) const TAPE_M: f64 = 0.005;
pub(super) const TEN_SWINGS_S: f64 = 0.02;

/// What a scale, an angle, a tape or a watch reads off a saw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SawMeasure {
    /// Weight of the whole saw, kg.
    Total,
    /// Weight at the front grip with the rear grip on a support, kg, the saw held at this angle.
    FrontGrip {
        /// Nose up positive.
        nose_up: Angle,
    },
    /// Weight at the rear grip with the front grip on a support, kg, the saw held at this angle.
    RearGrip {
        /// Nose up positive.
        nose_up: Angle,
    },
    /// Hang angle from the front grip, rad, nose down positive.
    Hang,
    /// Where the level saw balances on an edge, m past the spike line.
    BalancePoint,
    /// Reach past the spike line, m.
    Reach,
    /// Period of a small swing from the front grip, s.
    SwingPeriod,
}

/// What was measured on what.
#[derive(Clone, Debug, PartialEq)]
pub enum Measured {
    /// A saw put together.
    Saw {
        /// The setup, at the fills of the reading.
        setup: Box<Setup>,
        /// What of it.
        measure: SawMeasure,
    },
    /// Weight of a bar alone, kg.
    Bar(Arc<Bar>),
    /// Weight of a loop alone, kg.
    Loop {
        /// Its chain.
        chain: Arc<Chain>,
        /// Its drive links.
        links: u32,
    },
}

impl Measured {
    /// The allowed range of a value, in the unit in which a yard file writes it.
    pub const fn range(&self) -> &'static Range {
        match self {
            Self::Saw { measure, .. } => measure.range(),
            Self::Bar(_) => &ranges::BAR_MASS,
            Self::Loop { .. } => &ranges::LOOP_MASS,
        }
    }

    /// The allowed range of its standard uncertainty, in the unit in which a yard file writes it.
    pub const fn uncertainty_range(&self) -> &'static Range {
        match self {
            Self::Saw { measure, .. } => measure.uncertainty_range(),
            Self::Bar(_) | Self::Loop { .. } => &ranges::WEIGHT_UNCERTAINTY,
        }
    }

    /// The SI value of one of the file's units.
    pub const fn si_per_file_unit(&self) -> f64 {
        match self {
            Self::Saw { measure, .. } => measure.si_per_file_unit(),
            Self::Bar(_) | Self::Loop { .. } => 1.0,
        }
    }

    /// The standard uncertainty that a common tool gives, SI: *common practice, no source*, as
    /// [`READING_ASSUMPTIONS`](super::READING_ASSUMPTIONS) has it.
    pub const fn common_uncertainty(&self) -> f64 {
        match self {
            Self::Saw { measure, .. } => measure.common_uncertainty(),
            Self::Bar(_) | Self::Loop { .. } => KITCHEN_SCALE_KG,
        }
    }

    /// The numbers that this is measured of, whether or not it moves with all of them.
    pub(crate) fn unknowns(&self) -> Vec<Unknown> {
        match self {
            Self::Saw { setup, .. } => unknowns_of(setup),
            Self::Bar(bar) => vec![Unknown::new(bar.name(), Quantity::BarMass)],
            Self::Loop { chain, .. } => vec![Unknown::new(chain.name(), Quantity::LinkMass)],
        }
    }
}

/// Every number of a setup that can be learnt, in the order of [`Quantity::ALL`].
pub(crate) fn unknowns_of(setup: &Setup) -> Vec<Unknown> {
    Quantity::ALL
        .into_iter()
        .map(|quantity| {
            let of = match quantity.part() {
                Part::Powerhead => setup.powerhead().name(),
                Part::Chain => setup.chain().name(),
                Part::Bar => setup.bar().name(),
            };
            Unknown::new(of, quantity)
        })
        .collect()
}

impl SawMeasure {
    /// As [`Measured::common_uncertainty`].
    pub const fn common_uncertainty(self) -> f64 {
        match self {
            Self::Total | Self::FrontGrip { .. } | Self::RearGrip { .. } => LUGGAGE_SCALE_KG,
            Self::Hang => PHONE_RAD,
            Self::BalancePoint | Self::Reach => TAPE_M,
            Self::SwingPeriod => TEN_SWINGS_S,
        }
    }

    const fn uncertainty_range(self) -> &'static Range {
        match self {
            Self::Total | Self::FrontGrip { .. } | Self::RearGrip { .. } => &ranges::WEIGHT_UNCERTAINTY,
            Self::Hang => &ranges::ANGLE_UNCERTAINTY,
            Self::BalancePoint | Self::Reach => &ranges::LENGTH_UNCERTAINTY,
            Self::SwingPeriod => &ranges::TIME_UNCERTAINTY,
        }
    }

    const fn range(self) -> &'static Range {
        match self {
            Self::Total => &ranges::TOTAL_READING,
            Self::FrontGrip { .. } | Self::RearGrip { .. } => &ranges::GRIP_READING,
            Self::Hang => &ranges::HANG_READING,
            Self::BalancePoint => &ranges::BALANCE_READING,
            Self::Reach => &ranges::REACH_READING,
            Self::SwingPeriod => &ranges::PERIOD_READING,
        }
    }

    const fn si_per_file_unit(self) -> f64 {
        match self {
            Self::Total | Self::FrontGrip { .. } | Self::RearGrip { .. } | Self::SwingPeriod => 1.0,
            Self::Hang => Angle::from_deg(1.0).as_rad(),
            Self::BalancePoint | Self::Reach => 1e-3,
        }
    }
}

/// One checked reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    measured: Measured,
    value: f64,
    uncertainty: f64,
    left_out: bool,
}

/// What a reading may refer to.
pub(crate) struct KnownParts<'a> {
    pub(crate) setups: Named<'a, Setup>,
    pub(crate) bars: Named<'a, Arc<Bar>>,
    pub(crate) chains: Named<'a, Arc<Chain>>,
}

impl Reading {
    /// Checks a mirror; `index` is its place in the yard's list. `Ok(None)` where a part it names stands in the file
    /// but was refused for itself.
    ///
    /// # Errors
    /// Every field out of its range, and every name that is not in the yard.
    pub(crate) fn new(
        file: &ReadingFile,
        index: usize,
        known: &KnownParts<'_>,
    ) -> Result<Option<Self>, Vec<Fault>> {
        let mut check = Checker::new(format!("readings[{index}]"), format!("reading {}", index + 1));
        let parts = split(&file.measured);
        let Some(measured) = measured(&mut check, file, &parts, known) else {
            return check.finish(None);
        };
        check.number(&format!("measured.{}", parts.value_field), measured.range(), parts.value);
        check.number(
            &format!("measured.{}", parts.uncertainty_field),
            measured.uncertainty_range(),
            parts.uncertainty,
        );
        let si = measured.si_per_file_unit();
        check.finish(Some(Self {
            value: parts.value * si,
            uncertainty: parts.uncertainty * si,
            left_out: file.left_out,
            measured,
        }))
    }

    /// What was measured on what.
    pub const fn measured(&self) -> &Measured {
        &self.measured
    }

    /// The value, SI; weights in kg.
    pub const fn value(&self) -> f64 {
        self.value
    }

    /// Its standard uncertainty, SI.
    pub const fn uncertainty(&self) -> f64 {
        self.uncertainty
    }

    /// True where it is kept but not used.
    pub const fn left_out(&self) -> bool {
        self.left_out
    }
}

/// A mirror's numbers and where they stand.
struct Split<'a> {
    of: Of<'a>,
    value: f64,
    value_field: &'static str,
    uncertainty: f64,
    uncertainty_field: &'static str,
}

enum Of<'a> {
    Saw(SawMeasure),
    Bar(&'a str),
    Loop(&'a str, u32),
}

fn split(file: &MeasuredFile) -> Split<'_> {
    let weight = |of, value, uncertainty| Split {
        of,
        value,
        value_field: "weight_kg",
        uncertainty,
        uncertainty_field: "uncertainty_kg",
    };
    let length = |measure, value, uncertainty| Split {
        of: Of::Saw(measure),
        value,
        value_field: "past_spikes_mm",
        uncertainty,
        uncertainty_field: "uncertainty_mm",
    };
    let nose_up = Angle::from_deg;
    match *file {
        MeasuredFile::Total { weight_kg, uncertainty_kg } => {
            weight(Of::Saw(SawMeasure::Total), weight_kg, uncertainty_kg)
        }
        MeasuredFile::FrontGrip { weight_kg, uncertainty_kg, nose_up_deg } => weight(
            Of::Saw(SawMeasure::FrontGrip { nose_up: nose_up(nose_up_deg) }),
            weight_kg,
            uncertainty_kg,
        ),
        MeasuredFile::RearGrip { weight_kg, uncertainty_kg, nose_up_deg } => {
            weight(Of::Saw(SawMeasure::RearGrip { nose_up: nose_up(nose_up_deg) }), weight_kg, uncertainty_kg)
        }
        MeasuredFile::Hang { nose_down_deg, uncertainty_deg } => Split {
            of: Of::Saw(SawMeasure::Hang),
            value: nose_down_deg,
            value_field: "nose_down_deg",
            uncertainty: uncertainty_deg,
            uncertainty_field: "uncertainty_deg",
        },
        MeasuredFile::BalancePoint { past_spikes_mm, uncertainty_mm } => {
            length(SawMeasure::BalancePoint, past_spikes_mm, uncertainty_mm)
        }
        MeasuredFile::Reach { past_spikes_mm, uncertainty_mm } => {
            length(SawMeasure::Reach, past_spikes_mm, uncertainty_mm)
        }
        MeasuredFile::SwingPeriod { period_s, uncertainty_s } => Split {
            of: Of::Saw(SawMeasure::SwingPeriod),
            value: period_s,
            value_field: "period_s",
            uncertainty: uncertainty_s,
            uncertainty_field: "uncertainty_s",
        },
        MeasuredFile::Bar { ref bar, weight_kg, uncertainty_kg } => {
            weight(Of::Bar(bar), weight_kg, uncertainty_kg)
        }
        MeasuredFile::Loop { ref chain, drive_links, weight_kg, uncertainty_kg } => {
            weight(Of::Loop(chain, drive_links), weight_kg, uncertainty_kg)
        }
    }
}

/// What the reading is of; `None` with or without a fault where that is not to be had.
fn measured(
    check: &mut Checker,
    file: &ReadingFile,
    parts: &Split<'_>,
    known: &KnownParts<'_>,
) -> Option<Measured> {
    if !matches!(parts.of, Of::Saw(_)) {
        for (field, given) in [
            ("setup", file.setup.is_some()),
            ("fuel_fill", file.fuel_fill.is_some()),
            ("oil_fill", file.oil_fill.is_some()),
        ] {
            if given {
                check.fault(field, format_args!("a part weighed alone has no {field} (leave it out)"));
            }
        }
    }
    match parts.of {
        Of::Bar(name) => {
            let bar = known.bars.find(check, "measured.bar", name)?;
            Some(Measured::Bar(Arc::clone(bar)))
        }
        Of::Loop(name, links) => {
            check.number("measured.drive_links", &ranges::DRIVE_LINKS, f64::from(links));
            let chain = known.chains.find(check, "measured.chain", name)?;
            Some(Measured::Loop { chain: Arc::clone(chain), links })
        }
        Of::Saw(measure) => {
            if let SawMeasure::FrontGrip { nose_up } | SawMeasure::RearGrip { nose_up } = measure {
                check.number("measured.nose_up_deg", &ranges::HELD_PITCH, nose_up.as_deg());
            }
            let Some(name) = &file.setup else {
                check.fault("setup", "a reading of a saw needs the name of its setup");
                return None;
            };
            let setup = known.setups.find(check, "setup", name)?;
            let mut fill = |field, given: Option<f64>, own| {
                given.map_or(own, |fill| check.number(field, &ranges::FILL, fill))
            };
            let fuel = fill("fuel_fill", file.fuel_fill, setup.fuel_fill());
            let oil = fill("oil_fill", file.oil_fill, setup.oil_fill());
            // A fill that is refused is noted already.
            let setup = setup.with_fills(fuel, oil).ok()?;
            Some(Measured::Saw { setup: Box::new(setup), measure })
        }
    }
}
