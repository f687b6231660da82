//! What may be asked of the commands that draw.

use super::args::{Units, diameter};
use super::args_log::{LogArgs, Standing};
use super::args_person::PersonArgs;
use crate::desk::page_size::PageSize;
use barpoise_core::units::Length;
use clap::{Args as ClapArgs, ValueEnum};
use std::path::PathBuf;

/// No side of a picture has fewer or more pixels.
const SIDES: std::ops::RangeInclusive<u16> = 200..=8000;
/// Pixels for each pixel of the size.
const TIMES: std::ops::RangeInclusive<f32> = 0.25..=8.0;

pub(super) const HANDOUT: &str = "\
Lays a sheet of paper out, or as many pages as it takes: the setups of a page to one scale, a table of the
figures with their uncertainty where it is known, how the first setup takes a log apart if one is given,
the cautions, and where the numbers come from. The file's ending says in which form: .pdf (text can be
selected), .svg or .png (150 pixels an inch), which have their pages under each other.

Print it at full size (not fitted to the page): a line on the sheet shows whether that was so.

Example:
  barpoise handout my.yard.ron --setup \"Bittern B18\" --setup \"Bittern B24\" --log 560mm -o tailgate.pdf";

pub(super) const PICTURE: &str = "\
Draws what the window shows of the bench, the log or the rack, by the same scene, with the cautions below.
The file's ending says in which form: .svg, .png or .pdf.

Example:
  barpoise picture my.yard.ron --view log --setup \"Bittern B18\" --log 560mm -o log.svg
  barpoise picture --moving grow --size 800x500 --scale 0.8 -o grow.gif";

/// What goes onto the sheet, and where to.
#[derive(Debug, ClapArgs)]
pub(super) struct Handout {
    /// Yard file [default: the demo yard]
    #[arg(value_name = "FILE")]
    pub(super) file: Option<PathBuf>,
    /// A setup on the sheet, the first of them on top; may be given more than once [default: all]
    #[arg(long, value_name = "NAME")]
    pub(super) setup: Vec<String>,
    /// A log that the first setup takes apart, such as 560mm, 56 cm, 22 in
    #[arg(long, value_name = "LENGTH", value_parser = diameter, allow_hyphen_values = true)]
    pub(super) log: Option<Length>,
    /// Where the operator stands to it
    #[arg(long, value_enum, default_value_t = Standing::OneSide, requires = "log")]
    pub(super) stand: Standing,
    #[command(flatten)]
    pub(super) person: PersonArgs,
    /// Who made the sheet: printed on it, and said by a PDF of itself
    #[arg(long, value_name = "NAME")]
    pub(super) author: Option<String>,
    /// Size of the sheet
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    pub(super) paper: Paper,
    /// Units of the figures
    #[arg(long, value_enum, default_value_t = Units::MmKg)]
    pub(super) units: Units,
    /// File to write: .pdf, .svg or .png
    #[arg(short, long, value_name = "OUT")]
    pub(super) output: PathBuf,
    /// Write over a drawing of the same form that stands there; any other file is left as it is
    #[arg(long)]
    pub(super) force: bool,
}

/// What is drawn, and where to.
#[derive(Debug, ClapArgs)]
pub(super) struct Picture {
    /// Yard file [default: the demo yard]
    #[arg(value_name = "FILE")]
    pub(super) file: Option<PathBuf>,
    /// What is drawn
    #[arg(long, value_enum, required_unless_present = "moving", conflicts_with = "moving")]
    pub(super) view: Option<View>,
    /// The setup; the rack takes more than one [default: the yard's first; all of them for the rack]
    #[arg(long, value_name = "NAME")]
    pub(super) setup: Vec<String>,
    /// The log of the log's view
    #[arg(long, value_name = "LENGTH", value_parser = diameter, allow_hyphen_values = true, default_value = "560mm")]
    pub(super) log: Length,
    #[command(flatten)]
    pub(super) lying: LogArgs,
    #[command(flatten)]
    pub(super) person: PersonArgs,
    /// Ground of the drawing
    #[arg(long, value_enum, default_value_t = Ground::Light)]
    pub(super) ground: Ground,
    /// Width and height in pixels
    #[arg(long, value_name = "WxH", value_parser = size, default_value = "1280x800")]
    pub(super) size: (u16, u16),
    /// A picture that moves, as a .gif: of the bench the bar growing or the saw coming to rest, of the log the cut
    #[arg(long, value_enum)]
    pub(super) moving: Option<Moving>,
    /// So many pixels of a .png or a .gif for each of those
    #[arg(long, value_name = "TIMES", value_parser = times, default_value = "1")]
    pub(super) scale: f32,
    /// Units of the figures
    #[arg(long, value_enum, default_value_t = Units::MmKg)]
    pub(super) units: Units,
    /// File to write: .svg, .png or .pdf; .gif where it moves
    #[arg(short, long, value_name = "OUT")]
    pub(super) output: PathBuf,
    /// Write over a drawing of the same form that stands there; any other file is left as it is
    #[arg(long)]
    pub(super) force: bool,
}

/// A sheet's size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Paper {
    /// 210 mm by 297 mm
    A4,
    /// 8.5 in by 11 in
    Letter,
}

impl Paper {
    pub(super) const fn size(self) -> PageSize {
        match self {
            Self::A4 => PageSize::A4,
            Self::Letter => PageSize::Letter,
        }
    }
}

/// What moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Moving {
    /// The bar grows from the rack's shortest to its longest, in the same hand
    Grow,
    /// A cut, from the first laying on until it is through
    Cut,
    /// The saw is let go at the rear and comes to rest as it hangs
    Hang,
}

/// A drawing of the window.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum View {
    /// The saw to scale, with its balance and reach
    Bench,
    /// A log before the saw
    Log,
    /// Setups under each other to one scale
    Rack,
}

/// What a picture is drawn on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Ground {
    /// Drafting paper
    Light,
    /// Slate
    Dark,
    /// White
    Print,
}

fn size(text: &str) -> Result<(u16, u16), String> {
    let sides = || {
        let (width, height) = text.trim().split_once(['x', '×'])?;
        let side = |text: &str| text.trim().parse().ok().filter(|side| SIDES.contains(side));
        Some((side(width)?, side(height)?))
    };
    let (least, most) = (SIDES.start(), SIDES.end());
    sides().ok_or_else(|| format!("a size is written 1280x800, each side {least}…{most} pixels"))
}

fn times(text: &str) -> Result<f32, String> {
    let times = text.trim().parse().ok().filter(|times| TIMES.contains(times));
    times.ok_or_else(|| format!("a scale is {}…{}", TIMES.start(), TIMES.end()))
}
