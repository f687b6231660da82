//! What is marked on a photograph: how many points of it, and in what words they are asked.

use crate::record::{Landmark, SquareUpFile};
use std::ops::RangeInclusive;

/// Most corners of an outline, here and in the yard.
const MOST_CORNERS: usize = 400;

impl Landmark {
    /// Every one, in the order in which they are asked.
    pub const ALL: [Self; 10] = [
        Self::KnownPoints,
        Self::SheetCorners,
        Self::Sprocket,
        Self::BarLine,
        Self::SpikeTips,
        Self::FrontGrip,
        Self::RearGrip,
        Self::FuelTank,
        Self::OilTank,
        Self::Outline,
    ];

    /// Its name.
    pub const fn words(self) -> &'static str {
        match self {
            Self::KnownPoints => "two points of known distance",
            Self::SheetCorners => "corners of the sheet",
            Self::Sprocket => "sprocket centre",
            Self::BarLine => "bar line",
            Self::SpikeTips => "spike tips",
            Self::FrontGrip => "front grip",
            Self::RearGrip => "rear grip",
            Self::FuelTank => "fuel tank",
            Self::OilTank => "oil tank",
            Self::Outline => "outline of the body",
        }
    }

    /// What is to be done.
    pub const fn asks(self) -> &'static str {
        match self {
            Self::KnownPoints => {
                "Two points in the bar's plane whose distance you taped, as far apart as you can."
            }
            Self::SheetCorners => "The four corners of the sheet, in turn round it.",
            Self::Sprocket => "The centre of the drive sprocket.",
            Self::BarLine => "Two points on the middle of the bar, far apart.",
            Self::SpikeTips => "The tips of the spikes that meet the wood: one or more.",
            Self::FrontGrip => "The middle of the front handle's tube where the hand lifts.",
            Self::RearGrip => "The middle of the rear handle where the hand holds.",
            Self::FuelTank => "Round the fuel tank, corner by corner.",
            Self::OilTank => "Round the oil tank, corner by corner.",
            Self::Outline => "Round the body without handles and spikes, corner by corner.",
        }
    }

    /// How many points it takes.
    pub const fn counts(self) -> RangeInclusive<usize> {
        match self {
            Self::KnownPoints | Self::BarLine => 2..=2,
            Self::SheetCorners => 4..=4,
            Self::Sprocket | Self::FrontGrip | Self::RearGrip => 1..=1,
            Self::SpikeTips => 1..=12,
            Self::FuelTank | Self::OilTank => 3..=40,
            Self::Outline => 3..=MOST_CORNERS,
        }
    }

    /// True where its points go round something.
    pub fn is_closed(self) -> bool {
        *self.counts().start() > 2
    }

    /// True where it is asked for a view that is squared up so.
    pub const fn is_asked(self, square_up: &SquareUpFile) -> bool {
        match self {
            Self::KnownPoints => matches!(square_up, SquareUpFile::Distance { .. }),
            Self::SheetCorners => matches!(square_up, SquareUpFile::Sheet { .. }),
            _ => true,
        }
    }
}

impl SquareUpFile {
    /// A sheet of A4. Source: ISO 216.
    pub const A4: Self = Self::Sheet { long_mm: 297.0, short_mm: 210.0 };
    /// A sheet of Letter, 11 by 8 1/2 in. Source: ANSI/ASME Y14.1, size A.
    pub const LETTER: Self = Self::Sheet { long_mm: 279.4, short_mm: 215.9 };
}
