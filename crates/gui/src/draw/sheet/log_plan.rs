//! How the first setup of the sheet takes a log apart, and in how many settings the others do.

use super::page::Page;
use super::{Handout, HandoutError, Row};
use crate::desk::document::LogFigures;
use crate::desk::format::{self, Units};
use crate::desk::words::cut::{POSE_IS_GEOMETRY, heading, help, left_words, sentences};
use crate::desk::words::weigh_in::counted;
use crate::draw::pictures::LogPicture;
use crate::draw::theme::{Ink, size};
use barpoise_core::Setup;
use barpoise_core::log::Cut;
use barpoise_core::units::Length;

/// The drawing is no higher than this, mm.
const MOST_MM: f64 = 90.0;
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
        let figures = LogFigures::new(log, handout.yard.person(), &first.figures)
            .map_err(|fault| HandoutError::Log(fault.message))?;
        let answers = rows
            .iter()
            .map(|row| match Cut::new(figures.job(), None, row.setup, row.figures.solved()) {
                Ok(cut) if cut.is_whole() => counted(cut.settings.len(), "setting"),
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

    /// The plan with its words of a size, in points before printing.
    pub(super) const fn laid(&self, words: f32) -> Laid<'_> {
        Laid { plan: self, words }
    }
}

/// A plan with the size of its words on the sheet.
pub(super) struct Laid<'a> {
    pub(super) plan: &'a LogPlan,
    words: f32,
}

impl Laid<'_> {
    /// The drawing on the left half, and beside it the settings in words.
    pub(super) fn put_across(&self, page: &mut Page, units: Units) {
        page.line(&self.head(units), Ink::Line, size::STRONG, true);
        let (top, left, half) = (page.filled_mm(), page.left_mm(), 0.5 * page.width_mm());
        self.drawing(page, units, left, half - GAP_MM);
        let under = page.filled_mm();
        page.back_to(top);
        self.words(page, units, left + half, half);
        page.space((under - page.filled_mm()).max(0.0));
    }

    /// The drawing in a column, and under it the settings in words.
    pub(super) fn put_in(&self, page: &mut Page, units: Units, x: f64, width: f64) {
        page.paragraph_in(x, width, &self.head(units), Ink::Line, size::STRONG, true);
        self.drawing(page, units, x, width);
        self.words(page, units, x, width);
    }

    fn head(&self, units: Units) -> String {
        format!("A log of {} before {}", units.length(self.plan.diameter()), self.plan.setup.name())
    }

    fn drawing(&self, page: &mut Page, units: Units, x: f64, width: f64) {
        let picture = LogPicture::at_end(&self.plan.figures, &self.plan.setup, units);
        let (across, enlarged) = page.room(x, width, MOST_MM);
        let height = page.points_mm(picture.height(across.width(), enlarged)).min(MOST_MM);
        let (rect, _) = page.room(x, width, height);
        let canvas = picture.fit(rect, enlarged).within(rect);
        page.add(picture.scene(&canvas), &canvas, height);
    }

    fn words(&self, page: &mut Page, units: Units, x: f64, width: f64) {
        let mut say = |text: &str, ink, strong| page.paragraph_in(x, width, text, ink, self.words, strong);
        match self.plan.figures.cut() {
            Ok(cut) => {
                let job = self.plan.figures.job();
                for (index, setting) in cut.settings.iter().enumerate() {
                    say(&format!("{}. {}", index + 1, heading(job, setting)), Ink::Line, true);
                    for sentence in sentences(job, units, cut, index).into_iter().filter(|said| !said.detail)
                    {
                        let ink = if sentence.danger { Ink::Danger } else { Ink::Soft };
                        // In grey the weight tells danger from the rest.
                        say(&sentence.text, ink, sentence.danger);
                    }
                }
                if let Some(left) = left_words(cut) {
                    say(&left, Ink::Line, true);
                }
                if let Some(found) = cut.help(job) {
                    say(&help(&found, units), Ink::Line, true);
                }
                say(POSE_IS_GEOMETRY, Ink::Soft, false);
            }
            Err(reason) => say(reason, Ink::Danger, true),
        }
    }
}
