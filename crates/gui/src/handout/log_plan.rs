//! How the first setup of the sheet takes a log apart, and in how many settings the others do.

use super::page::Page;
use super::{Handout, HandoutError, Row};
use crate::cut_words::{heading, sentences, shortfall};
use crate::document::{Cut, LogFigures};
use crate::format::{self, Units};
use crate::picture::LogPicture;
use crate::theme::{Ink, size};
use barpoise_core::Setup;
use barpoise_core::units::Length;

/// The drawing takes this share of the width, and is this high, mm.
const DRAWING_SHARE: f64 = 0.5;
const DRAWING_MM: f64 = 66.0;
const GAP_MM: f64 = 4.0;

/// The plan, worked out.
pub(super) struct LogPlan {
    figures: LogFigures,
    setup: Setup,
    answers: Vec<String>,
}

impl LogPlan {
    /// The plan of a handout's log; `None` where it has none.
    pub(super) fn of(handout: &Handout<'_>, rows: &[Row<'_>]) -> Result<Option<Self>, HandoutError> {
        let (Some(log), Some(first)) = (handout.log, rows.first()) else { return Ok(None) };
        let figures =
            LogFigures::new(log, &first.figures).map_err(|fault| HandoutError::Log(fault.message))?;
        let answers = rows
            .iter()
            .map(|row| match Cut::new(figures.job(), None, row.setup, row.figures.solved()) {
                Ok(cut) if cut.cover.left.is_empty() => settings(cut.settings.len()),
                Ok(cut) => format!("{} only", format::share_of_section(cut.cover.covered_fraction)),
                Err(_) => "not at all".to_owned(),
            })
            .collect();
        Ok(Some(Self { figures, setup: first.setup.clone(), answers }))
    }

    /// Width of the log.
    pub(super) fn diameter(&self) -> Length {
        self.figures.job().section().width()
    }

    /// What each setup does with it, in the order of the rows.
    pub(super) fn answers(&self) -> &[String] {
        &self.answers
    }

    /// The drawing, and beside it the settings in words.
    pub(super) fn put(&self, page: &mut Page, units: Units) {
        let head = format!("A log of {} before {}", units.length(self.diameter()), self.setup.name());
        page.line(&head, Ink::Line, size::STRONG, true);
        let top = page.filled_mm();
        let width = page.width_mm() * DRAWING_SHARE;
        let (rect, enlarged) = page.room(page.left_mm(), width, DRAWING_MM);
        let picture = LogPicture::at_end(&self.figures, &self.setup, units);
        let canvas = picture.fit(rect, enlarged).within(rect);
        page.add(picture.scene(&canvas), &canvas, 0.0);
        let x = page.left_mm() + width + GAP_MM;
        let room = page.width_mm() - width - GAP_MM;
        self.words(page, units, x, room);
        let words_mm = page.filled_mm() - top;
        page.space((DRAWING_MM - words_mm).max(0.0));
    }

    fn words(&self, page: &mut Page, units: Units, x: f64, width: f64) {
        let mut say = |text: &str, ink, strong| page.paragraph_in(x, width, text, ink, size::BODY, strong);
        match self.figures.cut() {
            Ok(cut) => {
                for (index, (setting, step)) in cut.settings.iter().zip(&cut.steps).enumerate() {
                    say(&format!("{}. {}", index + 1, heading(setting)), Ink::Line, true);
                    for sentence in sentences(self.figures.job(), units, setting, step) {
                        let ink = if sentence.danger { Ink::Danger } else { Ink::Soft };
                        say(&sentence.text, ink, false);
                    }
                }
                if let Some(short) = &cut.shortfall {
                    say(&shortfall(short, units), Ink::Line, true);
                }
            }
            Err(reason) => say(reason, Ink::Danger, true),
        }
    }
}

fn settings(count: usize) -> String {
    if count == 1 { "1 setting".to_owned() } else { format!("{count} settings") }
}
