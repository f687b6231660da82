//! The handout: a sheet of paper, or as many as it takes, that says what a yard's setups weigh, how they hang, how far they reach, and how
//! a log comes apart, with the cautions and with where the numbers come from.

mod hung;
mod lesson;
mod log_plan;
mod page;
mod sources;
mod table;

use crate::desk::document::{Figures, Log};
use crate::desk::format::{LengthUnit, Units};
use crate::desk::page_size::PageSize;
use crate::draw::output::Form;
use crate::draw::pictures::{StackPicture, Stacked};
use crate::draw::strokes::{self, About, Canvas, Extent, Scene, SheetError, Typeface};
use crate::draw::theme::{Ink, Paper, size};
use barpoise_core::{CAUTIONS, KICKBACK_CAUTION, Setup, Yard};
pub use lesson::{LessonSheet, TooLong};
use log_plan::{Laid, LogPlan};
use page::Page;
use sources::Assumed;
use std::fmt;

/// Saws are drawn to the first of these scales, 1 to so much, at which the sheet holds everything.
const SCALES: [u32; 9] = [4, 5, 6, 8, 10, 12, 15, 20, 25];
/// The first so many of them are large enough to be seen across a bench.
const LARGE_SCALES: usize = 6;
/// Sizes of the words of a log that takes many, the first at which the sheet holds everything.
const WORDS: [f32; 3] = [size::BODY, 13.0, 11.5];
/// A page with more setups than this is not tried: nobody looks through more at once.
const MOST_ON_PAGE: usize = 12;
/// Between two blocks of the sheet, mm.
const BLOCK_MM: f64 = 3.5;
/// The printed line by which to check the printer, mm.
const CHECK_MM: f64 = 100.0;
/// The same where lengths are in inches: four of them.
const CHECK_IN_MM: f64 = 4.0 * 25.4;
const TITLE: f32 = 28.0;
/// Pixels of an image for each of SVG's, of which an inch has 96: 150 to the inch.
const IMAGE_SCALE: f32 = 150.0 / 96.0;

/// What the colours of the drawings mean.
const COLOURS: &str = "Red at the nose: the nose danger arc. Hatched green: wood that is cut.";

/// What a handout is about.
#[derive(Clone, Debug)]
pub struct Handout<'a> {
    /// The yard.
    pub yard: &'a Yard,
    /// Its setups on the sheet, from the top.
    pub setups: Vec<&'a Setup>,
    /// The log that the first setup takes apart, where there is one.
    pub log: Option<&'a Log>,
    /// The sheet.
    pub size: PageSize,
    /// Units.
    pub units: Units,
    /// The day, such as 2026-11-25.
    pub date: &'a str,
    /// Who made it; empty where nobody says so.
    pub author: &'a str,
}

/// Why there is no sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum HandoutError {
    /// No setup was asked for.
    Empty,
    /// A setup, or the log, does not fit on a page, even at the smallest scale.
    Full {
        /// How many were asked for.
        setups: usize,
    },
    /// The log cannot be cut as asked.
    Log(String),
}

impl fmt::Display for HandoutError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "the yard has no setup to put on the sheet"),
            Self::Full { setups } => {
                write!(
                    f,
                    "{setups} setups do not fit on pages of this size; leave the log out, or shorten names and notes"
                )
            }
            Self::Log(reason) => write!(f, "the log cannot be put on the sheet: {reason}"),
        }
    }
}

impl std::error::Error for HandoutError {}

/// A finished sheet.
#[derive(Debug)]
pub struct Sheet {
    /// At least one.
    pages: Vec<Page>,
    title: String,
    author: String,
    /// Saws of the first page are drawn 1 to so much.
    scale: u32,
}

impl Sheet {
    /// Saws of the first page are drawn 1 to so much.
    pub const fn scale(&self) -> u32 {
        self.scale
    }

    /// The drawing of each page and where it lies.
    pub fn drawings(&self) -> impl Iterator<Item = (&Scene, &Canvas)> {
        self.pages.iter().map(Page::drawing)
    }

    /// As an SVG document, its pages under each other.
    pub fn svg(&self, typeface: Typeface) -> String {
        let (drawing, canvas) = page::under_each_other(&self.pages);
        strokes::svg(&drawing, &canvas, Paper::Print, &self.title, Extent::Paper, typeface)
    }

    /// Each page as an SVG document.
    fn pages_svg(&self) -> Vec<String> {
        let page = |(drawing, canvas)| {
            strokes::svg(drawing, canvas, Paper::Print, &self.title, Extent::Paper, Typeface::Named)
        };
        self.drawings().map(page).collect()
    }

    /// The bytes of its file: a PDF has pages, drawing and image have them under each other; an image has 150 pixels to the
    /// inch.
    ///
    /// # Errors
    /// Where the renderer fails.
    pub fn written(&self, form: Form) -> Result<Vec<u8>, SheetError> {
        match form {
            Form::Svg => Ok(self.svg(Typeface::Inside).into_bytes()),
            Form::Png => strokes::png(&self.svg(Typeface::Named), IMAGE_SCALE),
            Form::Pdf => {
                let about = About { title: &self.title, author: &self.author };
                strokes::pdf(&self.pages_svg(), &about)
            }
        }
    }
}

/// One way to lay the sheet out.
struct Trial {
    assumed: Assumed,
    words: f32,
    scale: u32,
    layout: Layout,
    /// The first setup is drawn once more, as it hangs and with what the hands carry.
    hung: bool,
}

/// All ways, the best first: saws that can be seen across a bench before all else, then how the first hangs, then every assumed
/// number, then large words.
fn trials() -> impl Iterator<Item = Trial> {
    let (large, small) = SCALES.split_at(LARGE_SCALES);
    let all = [
        (large, Assumed::Whole, true),
        (large, Assumed::Whole, false),
        (large, Assumed::InFew, true),
        (large, Assumed::InFew, false),
        (small, Assumed::InFew, false),
    ];
    all.into_iter().flat_map(|(scales, assumed, hung)| {
        WORDS.into_iter().flat_map(move |words| {
            scales.iter().flat_map(move |scale| {
                [Layout::Under, Layout::Beside].map(|layout| Trial {
                    assumed,
                    words,
                    scale: *scale,
                    layout,
                    hung,
                })
            })
        })
    })
}

/// Where the log stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Layout {
    /// Under the table.
    Under,
    /// Beside the silhouettes, which then only have their names.
    Beside,
}

/// A setup with what is known of it.
struct Row<'a> {
    setup: &'a Setup,
    figures: Figures,
}

impl Handout<'_> {
    /// Lays the sheet out, the saws as large as it holds.
    ///
    /// # Errors
    /// [`HandoutError`] where there is nothing to show or it does not fit.
    pub fn sheet(&self) -> Result<Sheet, HandoutError> {
        if self.setups.is_empty() {
            return Err(HandoutError::Empty);
        }
        let rows: Vec<Row<'_>> = self
            .setups
            .iter()
            .map(|setup| Row { setup, figures: Figures::of_setup(self.yard, setup) })
            .collect();
        let plan = LogPlan::of(self, &rows)?;
        // Where the first does not even fit by itself, no number of pages helps.
        let fits = rows.get(..1).and_then(|first| self.pages(first, plan.as_ref(), 1)).is_some();
        // On as few pages as hold them, evenly.
        let most = if fits { rows.len() } else { 0 };
        for count in rows.len().div_ceil(MOST_ON_PAGE)..=most {
            if let Some(laid) = self.pages(&rows, plan.as_ref(), rows.len().div_ceil(count)) {
                let (pages, scales): (Vec<Page>, Vec<u32>) = laid.into_iter().unzip();
                let title = format!("{}, {}", self.yard.name(), self.date);
                let author = self.author.trim().to_owned();
                return Ok(Sheet { pages, title, author, scale: scales.first().copied().unwrap_or(1) });
            }
        }
        Err(HandoutError::Full { setups: rows.len() })
    }

    /// Pages of so many setups, the log on the first of them, each with its scale; `None` where one holds less.
    fn pages(&self, rows: &[Row<'_>], plan: Option<&LogPlan>, each: usize) -> Option<Vec<(Page, u32)>> {
        let count = rows.len().div_ceil(each);
        let page = |(place, rows): (usize, &[Row<'_>])| {
            trials().find_map(|trial| {
                let plan = plan.filter(|_| place == 0).map(|plan| plan.laid(trial.words));
                let page = self.page(rows, plan.as_ref(), &trial, (place + 1, count))?;
                Some((page, trial.scale))
            })
        };
        rows.chunks(each).enumerate().map(page).collect()
    }

    /// A page at a scale; `None` where it holds less.
    fn page(
        &self,
        rows: &[Row<'_>],
        plan: Option<&Laid<'_>>,
        trial: &Trial,
        number: (usize, usize),
    ) -> Option<Page> {
        let Trial { scale, layout, .. } = *trial;
        let mut page = Page::new(self.size);
        self.head(&mut page, number);
        page.space(BLOCK_MM);
        match (plan, layout) {
            (None, Layout::Beside) => return None,
            (Some(plan), Layout::Beside) => beside(&mut page, self.units, rows, plan, scale)?,
            (_, Layout::Under) => {
                let width = page.width_mm();
                stack(&mut page, self.units, true, rows, scale, width)?;
            }
        }
        page.space(BLOCK_MM);
        table::table(&mut page, self.units, rows, plan.map(|plan| plan.plan));
        if let (Some(plan), Layout::Under) = (plan, layout) {
            page.space(BLOCK_MM);
            plan.put_across(&mut page, self.units);
        }
        if trial.hung {
            page.space(BLOCK_MM);
            hung::hung(&mut page, self.units, rows.first()?);
        }
        page.space(BLOCK_MM);
        sources::sources(&mut page, self.yard, self.units, rows, plan.is_some(), trial.assumed);
        page.space(BLOCK_MM);
        cautions(&mut page);
        page.space(BLOCK_MM);
        foot(&mut page, scale, self.units);
        page.holds_all().then_some(page)
    }

    fn head(&self, page: &mut Page, (number, of): (usize, usize)) {
        page.paragraph(self.yard.name(), Ink::Line, TITLE, true);
        let author = self.author.trim();
        let by = if author.is_empty() { String::new() } else { format!(", {author}") };
        let page_of = if of > 1 { format!(". Page {number} of {of}") } else { String::new() };
        let words =
            format!("What the saws weigh, how they hang and how far they reach. {}{by}{page_of}", self.date);
        page.line(&words, Ink::Soft, size::STRONG, false);
        page.paragraph(self.yard.note(), Ink::Soft, size::BODY, false);
    }
}

/// The silhouettes within a width, with what is said of them where units are given; `None` where they are wider.
fn stack(page: &mut Page, units: Units, words: bool, rows: &[Row<'_>], scale: u32, width: f64) -> Option<()> {
    let setups = rows.iter().map(|row| match words {
        true => Stacked::of(row.setup, units),
        false => Stacked { setup: row.setup, words: String::new() },
    });
    let picture = StackPicture { setups: setups.collect(), units };
    let times = f64::from(scale);
    let (rear, nose) = picture.width_mm(page.canvas_at(0.0, times).scene().pt(1.0));
    if (nose - rear) / times > width {
        return None;
    }
    let canvas = page.canvas_at(-rear / times, times);
    page.add(picture.scene(&canvas), &canvas, picture.height_mm(canvas.scene().pt(1.0)) / times);
    Some(())
}

/// The silhouettes on the left, the log on the right.
fn beside(page: &mut Page, units: Units, rows: &[Row<'_>], plan: &Laid<'_>, scale: u32) -> Option<()> {
    let (top, width) = (page.filled_mm(), 0.5 * page.width_mm());
    stack(page, units, false, rows, scale, width)?;
    let under_stack = page.filled_mm();
    page.back_to(top);
    plan.put_in(page, units, page.left_mm() + width, width);
    page.space((under_stack - page.filled_mm()).max(0.0));
    Some(())
}

fn cautions(page: &mut Page) {
    page.framed(Ink::Danger, |page| {
        page.paragraph(KICKBACK_CAUTION, Ink::Danger, size::STRONG, true);
        page.paragraph(&CAUTIONS.join(" "), Ink::Line, size::BODY, false);
    });
}

/// The scale, and a line by which to check the printer.
fn foot(page: &mut Page, scale: u32, units: Units) {
    let (long, said) = match units.length {
        LengthUnit::Mm => (CHECK_MM, "100 mm"),
        LengthUnit::In => (CHECK_IN_MM, "4 in"),
    };
    page.blank_beside(long, "Place, date, signed");
    page.rule(long);
    let words = format!(
        "This line is {said} long if the sheet is printed at full size; the saws in the column are then drawn \
         1 : {scale}. {COLOURS} Barpoise {}.",
        env!("CARGO_PKG_VERSION")
    );
    page.paragraph(&words, Ink::Soft, size::BODY, false);
}
