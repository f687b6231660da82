//! A type of saw chain.

use crate::fault::{Checker, Fault};
use crate::ranges;
use crate::record::{ChainFile, SequenceFile};
use crate::units::{Length, Mass};

/// A type of saw chain, of which loops of any count are made.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    name: String,
    pitch: Length,
    gauge: Length,
    link_mass: Mass,
    sequence: CutterSequence,
    cutter_height: Length,
    rail_to_rivet: Length,
}

/// Which links carry cutters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutterSequence {
    /// Two cutters in eight pitches: one each four pitches per pair of sides.
    FullComplement,
    /// One and two ties between cutters in turn: two cutters in ten pitches.
    SemiSkip,
    /// Two ties between cutters: two cutters in twelve pitches.
    FullSkip,
}

impl CutterSequence {
    /// Mean pitches from one cutter to the next, either side counted.
    ///
    /// Full complement: two cutters in 8 pitches, which for 3/8 in is 76 mm (Forests 2020, 11(3):276). The
    /// skip sequences add one tie (two pitches) to every second or to every gap.
    pub const fn pitches_per_cutter(self) -> f64 {
        match self {
            Self::FullComplement => 4.0,
            Self::SemiSkip => 5.0,
            Self::FullSkip => 6.0,
        }
    }

    /// The same cut short.
    pub const fn short_words(self) -> &'static str {
        match self {
            Self::FullComplement => "full",
            Self::SemiSkip | Self::FullSkip => self.words(),
        }
    }

    /// The trade's name for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::FullComplement => "full",
            Self::SemiSkip => "semi-skip",
            Self::FullSkip => "skip",
        }
    }
}

impl Chain {
    /// Checks a mirror; `index` is its place in the yard's list.
    ///
    /// # Errors
    /// Every field out of its range.
    pub fn new(file: &ChainFile, index: usize) -> Result<Self, Vec<Fault>> {
        let mut check = Checker::new(format!("chains[{index}]"), format!("chain {}", file.name));
        check.name("name", &file.name);
        let chain = Self {
            name: file.name.clone(),
            pitch: Length::from_in(check.number("pitch_in", &ranges::PITCH, file.pitch_in)),
            gauge: Length::from_mm(check.number("gauge_mm", &ranges::GAUGE, file.gauge_mm)),
            link_mass: Mass::from_g(check.number(
                "mass_per_drive_link_g",
                &ranges::LINK_MASS,
                file.mass_per_drive_link_g,
            )),
            sequence: match file.sequence {
                SequenceFile::FullComplement => CutterSequence::FullComplement,
                SequenceFile::SemiSkip => CutterSequence::SemiSkip,
                SequenceFile::FullSkip => CutterSequence::FullSkip,
            },
            cutter_height: Length::from_mm(check.number(
                "cutter_height_mm",
                &ranges::CUTTER_HEIGHT,
                file.cutter_height_mm,
            )),
            rail_to_rivet: Length::from_mm(check.number(
                "rail_to_rivet_mm",
                &ranges::RAIL_TO_RIVET,
                file.rail_to_rivet_mm,
            )),
        };
        if let Some(stated) = file.mass_uncertainty_g {
            check.number("mass_uncertainty_g", &ranges::LINK_UNCERTAINTY, stated);
        }
        check.finish(chain)
    }

    /// Unique name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Half the span of three consecutive rivets.
    pub const fn pitch(&self) -> Length {
        self.pitch
    }

    /// Thickness of the drive links.
    pub const fn gauge(&self) -> Length {
        self.gauge
    }

    /// Mass of chain for each drive link.
    pub const fn link_mass(&self) -> Mass {
        self.link_mass
    }

    /// Which links carry cutters.
    pub const fn sequence(&self) -> CutterSequence {
        self.sequence
    }

    /// Top of the cutters above the rivet line.
    pub const fn cutter_height(&self) -> Length {
        self.cutter_height
    }

    /// Rivet line above the bar rail.
    pub const fn rail_to_rivet(&self) -> Length {
        self.rail_to_rivet
    }

    /// Mean spacing of cutters along the chain, either side counted.
    pub fn cutter_spacing(&self) -> Length {
        self.pitch * self.sequence.pitches_per_cutter()
    }
}
