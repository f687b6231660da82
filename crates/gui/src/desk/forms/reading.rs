//! A reading while it is being typed: what was measured on what, the value as text, and what is wrong with it.

use crate::desk::document::Document;
use crate::desk::format::{self, Dimension, Units};
use crate::desk::words::weigh_in as words;
use barpoise_core::Setup;
use barpoise_core::measure_text::{MeasureError, read_angle, read_length, read_mass, read_time_s};
use barpoise_core::record::{MeasuredFile, ReadingFile};
use barpoise_core::units::Angle;
use barpoise_core::weigh_in::{Knowledge, Measured, Reading, SawMeasure, Slip};
use std::sync::Arc;

/// What can be measured.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum MeasureKind {
    /// The whole saw on a scale.
    Total,
    /// A scale lifts the front grip.
    FrontGrip,
    /// A scale lifts the rear grip.
    RearGrip,
    /// The angle at which it hangs.
    #[default]
    Hang,
    /// Where it balances on an edge.
    BalancePoint,
    /// The reach by a tape.
    Reach,
    /// The period of a swing.
    SwingPeriod,
    /// A bar by itself.
    Bar,
    /// A loop by itself.
    Loop,
}

impl MeasureKind {
    /// Every one, in the order in which they are offered.
    pub const ALL: [Self; 9] = [
        Self::Hang,
        Self::Total,
        Self::FrontGrip,
        Self::RearGrip,
        Self::BalancePoint,
        Self::Reach,
        Self::SwingPeriod,
        Self::Bar,
        Self::Loop,
    ];

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Total => "Total weight",
            Self::FrontGrip => "Front grip on the scale",
            Self::RearGrip => "Rear grip on the scale",
            Self::Hang => "Hang angle",
            Self::BalancePoint => "Balance point on an edge",
            Self::Reach => "Reach past the spikes",
            Self::SwingPeriod => "Swing period",
            Self::Bar => "A bar alone",
            Self::Loop => "A loop alone",
        }
    }

    /// How it is done. A saw that `tips` over its front grip pushes its rear grip up.
    pub const fn how(self, tips: bool) -> &'static str {
        match self {
            Self::FrontGrip if tips => {
                "This saw is nose-heavy: its rear grip pushes up. Hold that under a ledge, lift the front grip with \
                 the scale, saw level."
            }
            Self::RearGrip if tips => {
                "This saw is nose-heavy: its rear grip pushes up, and a scale there reads nothing. Weigh the front \
                 grip instead."
            }
            Self::Total => "Hang the whole saw from the scale, ready to work.",
            Self::FrontGrip => {
                "Rest the rear grip on a block, lift the front grip with the scale, saw level."
            }
            Self::RearGrip => {
                "Hang the front grip from a cord, lift the rear grip with the scale, saw level."
            }
            Self::Hang => {
                "Hang it by the front grip from a cord; a phone laid along the bar reads the angle."
            }
            Self::BalancePoint => {
                "Lay the saw level across an edge until it tips neither way; tape from the spikes, behind them negative."
            }
            Self::Reach => "Tape from the spikes to the cutters at the end of the nose.",
            Self::SwingPeriod => {
                "Hung by the front grip, let it swing a little; time ten swings there and back, and divide by ten."
            }
            Self::Bar => "The bar by itself on a kitchen scale, clean.",
            Self::Loop => "The loop by itself on a kitchen scale, clean.",
        }
    }

    const fn of(measured: &Measured) -> Self {
        match measured {
            Measured::Saw { measure, .. } => match measure {
                SawMeasure::Total => Self::Total,
                SawMeasure::FrontGrip { .. } => Self::FrontGrip,
                SawMeasure::RearGrip { .. } => Self::RearGrip,
                SawMeasure::Hang => Self::Hang,
                SawMeasure::BalancePoint => Self::BalancePoint,
                SawMeasure::Reach => Self::Reach,
                SawMeasure::SwingPeriod => Self::SwingPeriod,
            },
            Measured::Bar(_) => Self::Bar,
            Measured::Loop { .. } => Self::Loop,
        }
    }

    /// True where the pitch at which the saw is held counts.
    pub const fn is_at_grip(self) -> bool {
        matches!(self, Self::FrontGrip | Self::RearGrip)
    }
}

/// The form.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Entry {
    /// What was measured.
    pub kind: MeasureKind,
    /// On which setup; `None` for the one on the bench, or the first.
    pub setup: Option<String>,
    /// Fuel, where it was not the setup's.
    pub fuel: Option<f64>,
    /// Oil, where it was not the setup's.
    pub oil: Option<f64>,
    /// How far the nose was up while a grip was weighed.
    pub nose_up: Angle,
    /// Which bar was weighed; `None` for that of the setup.
    pub bar: Option<String>,
    /// Of which chain a loop was weighed; `None` for that of the setup.
    pub chain: Option<String>,
    /// Its drive links; `None` for those of the setup.
    pub links: Option<u32>,
    /// The value as typed.
    pub value: String,
    /// Its give or take as typed; empty for the common one.
    pub uncertainty: String,
    /// The reading that is being changed, by its place in the list.
    pub editing: Option<usize>,
}

/// What is to be said of the form as it stands.
#[derive(Clone, Debug, PartialEq)]
pub enum Judgement {
    /// Nothing is typed yet.
    Empty,
    /// It cannot be a reading, for this reason.
    Refused(String),
    /// It is far off what is expected.
    FarOff {
        /// What is said beside the field.
        said: String,
        /// The value that was probably meant, as text for the field.
        mended: Option<String>,
        /// The reading as typed, where it is in range.
        reading: Option<ReadingFile>,
    },
    /// It can be added.
    Good(ReadingFile),
}

/// The setup to begin with: that of the bench, or where nothing was ever read of its head, that of the newest reading.
fn begun_with(document: &Document) -> &str {
    let of = |reading: &Reading| match reading.measured() {
        Measured::Saw { setup, .. } => Some((setup.powerhead().name().to_owned(), setup.name().to_owned())),
        Measured::Bar(_) | Measured::Loop { .. } => None,
    };
    let base = document.bench().base();
    let read: Vec<_> = document.yard().readings().iter().filter_map(of).collect();
    let newest = read.last().filter(|_| read.iter().all(|(head, _)| head != base.powerhead().name()));
    newest.and_then(|(_, setup)| document.yard().setup(setup)).unwrap_or(base).name()
}

impl Entry {
    /// The setup it is measured on, at the form's fills.
    pub fn setup(&self, document: &Document) -> Option<Setup> {
        let yard = document.yard();
        let wanted = self.setup.as_deref().unwrap_or_else(|| begun_with(document));
        let setup = yard.setup(wanted).or_else(|| yard.setups().first())?;
        let (fuel, oil) = (self.fuel.unwrap_or(setup.fuel_fill()), self.oil.unwrap_or(setup.oil_fill()));
        setup.with_fills(fuel, oil).ok()
    }

    /// How the measure is done on this saw.
    pub fn how(&self, document: &Document) -> &'static str {
        let solved = self.setup(document).map(|setup| barpoise_core::solve(&setup));
        let hands = solved.and_then(|solved| solved.hands_at(self.nose_up).ok());
        self.kind.how(hands.is_some_and(|hands| hands.rear < barpoise_core::units::Force::ZERO))
    }

    /// What is measured on what.
    pub fn measured(&self, document: &Document) -> Option<Measured> {
        let setup = self.setup(document)?;
        let nose_up = self.nose_up;
        let measure = match self.kind {
            MeasureKind::Total => SawMeasure::Total,
            MeasureKind::FrontGrip => SawMeasure::FrontGrip { nose_up },
            MeasureKind::RearGrip => SawMeasure::RearGrip { nose_up },
            MeasureKind::Hang => SawMeasure::Hang,
            MeasureKind::BalancePoint => SawMeasure::BalancePoint,
            MeasureKind::Reach => SawMeasure::Reach,
            MeasureKind::SwingPeriod => SawMeasure::SwingPeriod,
            MeasureKind::Bar => {
                let name = self.bar.as_deref().unwrap_or_else(|| setup.bar().name());
                let bar = document.yard().bars().iter().find(|bar| bar.name() == name)?;
                return Some(Measured::Bar(Arc::clone(bar)));
            }
            MeasureKind::Loop => {
                let name = self.chain.as_deref().unwrap_or_else(|| setup.chain().name());
                let chain = document.yard().chains().iter().find(|chain| chain.name() == name)?;
                let links = self.links.or_else(|| setup.links().order())?;
                return Some(Measured::Loop { chain: Arc::clone(chain), links });
            }
        };
        Some(Measured::Saw { setup: Box::new(setup), measure })
    }

    /// The standard uncertainty in SI: as typed, or the common one.
    fn give_or_take(&self, measured: &Measured, units: Units) -> Result<f64, String> {
        if self.uncertainty.trim().is_empty() {
            return Ok(measured.common_uncertainty());
        }
        let value =
            read(&self.uncertainty, words::dimension(measured), units).map_err(|error| error.to_string())?;
        if measured.uncertainty_range().holds(in_file(measured, value)) {
            Ok(value)
        } else {
            Err(words::allowed_give_or_take(units, measured))
        }
    }

    /// Judges the form as it stands.
    pub fn judge(&self, document: &Document, units: Units) -> Judgement {
        if self.value.trim().is_empty() {
            return Judgement::Empty;
        }
        let Some(measured) = self.measured(document) else {
            return Judgement::Refused("the setup cannot be put together".to_owned());
        };
        let dimension = words::dimension(&measured);
        let value = match read(&self.value, dimension, units) {
            Ok(value) => value,
            Err(error) => return Judgement::Refused(error.to_string()),
        };
        let uncertainty = match self.give_or_take(&measured, units) {
            Ok(uncertainty) => uncertainty,
            Err(refusal) => return Judgement::Refused(refusal),
        };
        let in_range = measured.range().holds(in_file(&measured, value));
        let reading = in_range.then(|| self.reading(document, &measured, value, uncertainty));
        let wanted = Knowledge::expected(document.yard(), &measured);
        if let (Some(slip), Some(wanted)) = (Slip::of(document.yard(), &measured, value, uncertainty), wanted)
        {
            let mut said = words::slip(units, &measured, slip, wanted, uncertainty);
            if !in_range && slip.mended().is_none() {
                said = format!("{said} {}.", words::capitalised(&words::allowed(units, &measured)));
            }
            let mended =
                slip.mended().map(|mended| words::value_alone(units, &measured, mended, uncertainty));
            return Judgement::FarOff { said, mended, reading };
        }
        reading.map_or_else(|| Judgement::Refused(words::allowed(units, &measured)), Judgement::Good)
    }

    fn reading(&self, document: &Document, measured: &Measured, value: f64, uncertainty: f64) -> ReadingFile {
        let (value, uncertainty) = (in_file(measured, value), in_file(measured, uncertainty));
        let own = self.editing.and_then(|index| document.yard().file().readings.get(index));
        let mut file = ReadingFile {
            measured: mirror(measured, value, uncertainty),
            setup: None,
            fuel_fill: None,
            oil_fill: None,
            note: own.map(|reading| reading.note.clone()).unwrap_or_default(),
            left_out: own.is_some_and(|reading| reading.left_out),
        };
        if let Measured::Saw { setup, .. } = measured {
            file.setup = Some(setup.name().to_owned());
            // Written out even where they are the setup's: a reading must not move when the setup is changed.
            file.fuel_fill = Some(setup.fuel_fill());
            file.oil_fill = Some(setup.oil_fill());
        }
        file
    }

    /// The form filled with a reading of the yard, to be changed.
    pub fn of_reading(document: &Document, index: usize) -> Option<Self> {
        let reading = document.yard().readings().get(index)?;
        let measured = reading.measured();
        let (si, unit) = (measured.si_per_file_unit(), measured.range().unit);
        let text = |value: f64| format::as_typed(format::tidy(value / si), unit);
        let mut entry = Self {
            kind: MeasureKind::of(measured),
            value: text(reading.value()),
            uncertainty: text(reading.uncertainty()),
            editing: Some(index),
            ..Self::default()
        };
        match measured {
            Measured::Saw { setup, measure } => {
                entry.setup = Some(setup.name().to_owned());
                entry.fuel = Some(setup.fuel_fill());
                entry.oil = Some(setup.oil_fill());
                if let SawMeasure::FrontGrip { nose_up } | SawMeasure::RearGrip { nose_up } = measure {
                    entry.nose_up = *nose_up;
                }
            }
            Measured::Bar(bar) => entry.bar = Some(bar.name().to_owned()),
            Measured::Loop { chain, links } => {
                entry.chain = Some(chain.name().to_owned());
                entry.links = Some(*links);
            }
        }
        Some(entry)
    }

    /// The form set to a measure that was proposed.
    pub fn take_up(&mut self, measured: &Measured) {
        let kept = std::mem::take(self);
        self.kind = MeasureKind::of(measured);
        self.setup = kept.setup;
        match measured {
            Measured::Saw { setup, .. } => {
                self.setup = Some(setup.name().to_owned());
            }
            Measured::Bar(bar) => self.bar = Some(bar.name().to_owned()),
            Measured::Loop { chain, links } => {
                self.chain = Some(chain.name().to_owned());
                self.links = Some(*links);
            }
        }
    }

    /// The form for the next reading: the same measure on the same saw, without its value.
    pub fn cleared(&mut self) {
        self.value.clear();
        self.uncertainty.clear();
        self.editing = None;
    }
}

/// Reads a value with its unit, SI; a number without one is in the shown unit.
fn read(text: &str, dimension: Dimension, units: Units) -> Result<f64, MeasureError> {
    match dimension {
        Dimension::Angle => read_angle(text).map(Angle::as_rad),
        Dimension::Length => read_length(text, units.length_from()).map(barpoise_core::units::Length::as_m),
        Dimension::Time => read_time_s(text),
        _ => read_mass(text, units.mass_from()).map(barpoise_core::units::Mass::as_kg),
    }
}

/// An SI value in the file's unit, where a value typed in that very unit comes back without a last digit of rounding.
fn in_file(measured: &Measured, value: f64) -> f64 {
    format::tidy(value / measured.si_per_file_unit())
}

fn mirror(measured: &Measured, value: f64, uncertainty: f64) -> MeasuredFile {
    let deg = |angle: Angle| format::tidy(angle.as_deg());
    match measured {
        Measured::Saw { measure, .. } => match *measure {
            SawMeasure::Total => MeasuredFile::Total { weight_kg: value, uncertainty_kg: uncertainty },
            SawMeasure::FrontGrip { nose_up } => MeasuredFile::FrontGrip {
                weight_kg: value,
                uncertainty_kg: uncertainty,
                nose_up_deg: deg(nose_up),
            },
            SawMeasure::RearGrip { nose_up } => MeasuredFile::RearGrip {
                weight_kg: value,
                uncertainty_kg: uncertainty,
                nose_up_deg: deg(nose_up),
            },
            SawMeasure::Hang => MeasuredFile::Hang { nose_down_deg: value, uncertainty_deg: uncertainty },
            SawMeasure::BalancePoint => {
                MeasuredFile::BalancePoint { past_spikes_mm: value, uncertainty_mm: uncertainty }
            }
            SawMeasure::Reach => MeasuredFile::Reach { past_spikes_mm: value, uncertainty_mm: uncertainty },
            SawMeasure::SwingPeriod => {
                MeasuredFile::SwingPeriod { period_s: value, uncertainty_s: uncertainty }
            }
        },
        Measured::Bar(bar) => {
            MeasuredFile::Bar { bar: bar.name().to_owned(), weight_kg: value, uncertainty_kg: uncertainty }
        }
        Measured::Loop { chain, links } => MeasuredFile::Loop {
            chain: chain.name().to_owned(),
            drive_links: *links,
            weight_kg: value,
            uncertainty_kg: uncertainty,
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::desk::edit::{Edit, Gesture, WeighInEdit};

    fn entry(kind: MeasureKind, value: &str) -> Entry {
        Entry { kind, value: value.to_owned(), ..Entry::default() }
    }

    #[test]
    fn what_is_typed_comes_back_to_be_changed() {
        let mut document = Document::demo().unwrap();
        for (kind, typed) in [
            (MeasureKind::Hang, "19.9°"),
            (MeasureKind::Total, "9.2 kg"),
            (MeasureKind::FrontGrip, "9.3 kg"),
            (MeasureKind::BalancePoint, "-149.3 mm"),
            (MeasureKind::Reach, "553.7 mm"),
            (MeasureKind::SwingPeriod, "1.43 s"),
            (MeasureKind::Bar, "1.333 kg"),
            (MeasureKind::Loop, "0.421 kg"),
        ] {
            let form = entry(kind, typed);
            let reading = match form.judge(&document, Units::default()) {
                Judgement::Good(reading) | Judgement::FarOff { reading: Some(reading), .. } => reading,
                other => panic!("{kind:?}: {other:?}"),
            };
            document.apply(Edit::WeighIn(WeighInEdit::AddReading(reading.clone())), Gesture::Single);
            assert_eq!(document.refusal(), None);
            let index = document.yard().readings().len() - 1;
            let back = Entry::of_reading(&document, index).unwrap();
            assert_eq!((back.kind, back.value.replace('−', "-")), (kind, typed.to_owned()));
            match back.judge(&document, Units::default()) {
                Judgement::Good(again) | Judgement::FarOff { reading: Some(again), .. } => {
                    assert_eq!(again, reading, "{kind:?}");
                }
                other => panic!("{kind:?}: {other:?}"),
            }
        }
    }

    #[test]
    fn a_nose_heavy_saw_is_held_down_at_its_rear() {
        let document = Document::demo().unwrap();
        let how = |setup: &str| {
            let entry = Entry { setup: Some(setup.to_owned()), ..entry(MeasureKind::FrontGrip, "") };
            entry.how(&document)
        };
        assert!(how("Bittern B30").contains("ledge"));
        let tail_heavy = document
            .yard()
            .setups()
            .iter()
            .find(|setup| barpoise_core::solve(setup).hands.unwrap().rear.as_n() > 0.0);
        if let Some(setup) = tail_heavy {
            assert!(how(setup.name()).contains("block"));
        }
    }

    #[test]
    fn slips_are_answered_before_anything_is_added() {
        let document = Document::demo().unwrap();
        let judged = |kind, text: &str| {
            let entry = Entry { setup: Some("Bittern B24".to_owned()), ..entry(kind, text) };
            entry.judge(&document, Units::default())
        };
        let Judgement::FarOff { said, mended, reading } = judged(MeasureKind::Total, "89 kg") else {
            panic!("89 kg is far off");
        };
        assert!(said.contains("Did the decimal point slip?"), "{said}");
        assert_eq!((mended.as_deref(), reading), (Some("8.90 kg"), None));
        assert!(matches!(
            judged(MeasureKind::Total, "19.7"),
            Judgement::FarOff { mended: Some(_), reading: Some(_), .. }
        ));
        assert!(matches!(judged(MeasureKind::Hang, "-19"), Judgement::FarOff { mended: Some(_), .. }));
        assert_eq!(judged(MeasureKind::Total, " "), Judgement::Empty);
        let Judgement::Refused(why) = judged(MeasureKind::Total, "8.9 mm") else { panic!("not a mass") };
        assert!(why.contains("kg, g, lb"), "{why}");
        let Judgement::FarOff { said, mended: None, reading: None } = judged(MeasureKind::Total, "500")
        else {
            panic!("out of range");
        };
        assert!(said.contains("Weight must be 2.00 kg to 25.00 kg"), "{said}");
    }

    #[test]
    fn a_give_or_take_out_of_range_is_refused_before_anything_is_added() {
        let document = Document::demo().unwrap();
        for refused in ["0", "-1", "0.0001 kg", "3"] {
            let entry = Entry { uncertainty: refused.to_owned(), ..entry(MeasureKind::Total, "8.9 kg") };
            let said = "give or take must be 0.0005 kg to 2.0 kg".to_owned();
            assert_eq!(entry.judge(&document, Units::default()), Judgement::Refused(said));
        }
    }
}
