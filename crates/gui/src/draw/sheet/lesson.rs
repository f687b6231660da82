//! A sheet of a lesson: what is asked with blanks for the answers, or with those that were kept, the lines to tick off, and
//! the cautions.

use super::page::Page;
use super::{BLOCK_MM, Sheet, TITLE, cautions};
use crate::desk::format::Units;
use crate::desk::lesson::{Asked, GuessRecord, Stage, answers, measure, said_words};
use crate::desk::page_size::PageSize;
use crate::desk::words::weigh_in::capitalised;
use crate::draw::theme::{Ink, size};
use barpoise_core::lesson::{Step, View};
use std::fmt;

/// Sizes of its words, the first at which the sheet holds everything.
const WORDS: [f32; 5] = [size::BODY, 14.0, 13.0, 12.0, 11.0];
/// Indent of what belongs to a step, mm.
const INDENT_MM: f64 = 5.0;

/// What a lesson's sheet is about.
#[derive(Clone, Copy, Debug)]
pub struct LessonSheet<'a> {
    /// The lesson's name.
    pub name: &'a str,
    /// Its steps, each with its number from 1 and what it shows.
    pub steps: &'a [(usize, &'a Step, Stage)],
    /// Guesses that were kept.
    pub record: &'a GuessRecord,
    /// The sheet.
    pub size: PageSize,
    /// Units.
    pub units: Units,
    /// The day.
    pub date: &'a str,
    /// Who made it; empty where nobody says so.
    pub author: &'a str,
}

/// The sheet does not hold all that the lesson asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooLong {
    /// Steps that ask or list something.
    pub steps: usize,
}

impl fmt::Display for TooLong {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} steps that ask something do not fit on one sheet", self.steps)
    }
}

impl std::error::Error for TooLong {}

impl LessonSheet<'_> {
    /// Lays the sheet out.
    ///
    /// # Errors
    /// [`TooLong`] where it holds less than the lesson asks.
    pub fn sheet(&self) -> Result<Sheet, TooLong> {
        let page = WORDS.into_iter().find_map(|words| self.page(words));
        let title = format!("{}, {}", self.name, self.date);
        let author = self.author.trim().to_owned();
        match page {
            Some(page) => Ok(Sheet { pages: vec![page], title, author, scale: 1 }),
            None => Err(TooLong { steps: self.steps.iter().filter(|(_, step, _)| says(step)).count() }),
        }
    }

    fn page(&self, words: f32) -> Option<Page> {
        let mut page = Page::new(self.size);
        page.paragraph(self.name, Ink::Line, TITLE, true);
        let author = self.author.trim();
        let by = if author.is_empty() { String::new() } else { format!(", {author}") };
        page.line(&format!("What the lesson asks. {}{by}", self.date), Ink::Soft, size::STRONG, false);
        page.space(BLOCK_MM);
        for (number, step, stage) in self.steps.iter().filter(|(_, step, _)| says(step)) {
            self.step(&mut page, words, *number, step, stage);
            if !page.holds_all() {
                return None;
            }
        }
        page.space(BLOCK_MM);
        cautions(&mut page);
        page.space(BLOCK_MM);
        page.blanks(&["Name", "Place and date", "Signed"], size::BODY);
        page.holds_all().then_some(page)
    }

    fn step(&self, page: &mut Page, words: f32, number: usize, step: &Step, stage: &Stage) {
        let (left, wide) = (page.left_mm(), page.width_mm());
        let setups = stage.names();
        let shown = if setups.is_empty() { String::new() } else { format!(" ({})", setups.join(", ")) };
        let heading = format!("{number}. {}", step.heading);
        let (indented, narrow) = (left + INDENT_MM, wide - INDENT_MM);
        if let View::Words { lines } = &step.view {
            page.paragraph_in(left, wide, &heading, Ink::Line, words, true);
            for line in lines {
                page.tick_box(indented);
                page.paragraph_in(indented + INDENT_MM, narrow - INDENT_MM, line, Ink::Line, words, false);
            }
            return;
        }
        let asked = match (step.guess, &step.choose) {
            (Some(guessed), _) => capitalised(measure(guessed)),
            (None, Some(choose)) => format!("{} {}", choose.question, answers(choose, &setups).join("  /  ")),
            (None, None) => return,
        };
        let asked = format!("{heading}{shown}: {asked}");
        match self.record.asked(number.saturating_sub(1)) {
            Some(kept) => {
                page.paragraph_in(left, wide, &said(&asked, kept, self.units), Ink::Line, words, false);
            }
            None => {
                page.paragraph_in(left, wide, &asked, Ink::Line, words, false);
                page.blanks(&["    My answer", "As it is"], words);
            }
        }
    }
}

/// True where a step asks or lists something.
fn says(step: &Step) -> bool {
    step.guess.is_some() || step.choose.is_some() || matches!(step.view, View::Words { .. })
}

fn said(asked: &str, kept: &Asked, units: Units) -> String {
    let said: Vec<String> =
        kept.said.iter().map(|(name, guess)| said_words(kept, name, guess, units)).collect();
    format!("{asked}: {}", said.join("; "))
}
