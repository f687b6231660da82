//! A trainer's drawings: what no yard's number says, drawn with the yard's own saw. Each is a few panels, the words over
//! each, laid beside or under each other, whichever leaves them larger.
//!
//! Lengths of saw, nose and body are the model's. Hands, stumps and stems are drawn by guess, to be understood and not to
//! be measured.

mod body;
mod bound;
mod chain;
mod hands;
mod nose;
mod panel;
mod plunge;
mod work;

use crate::desk::document::Figures;
use crate::desk::format::Units;
use crate::draw::strokes::{Canvas, Scene};
use barpoise_core::lesson::Subject;
use barpoise_core::person::Person;
use egui::Rect;
use panel::Panel;

/// A trainer's drawing.
#[derive(Clone, Copy, Debug)]
pub struct ShownPicture<'a> {
    /// What it is about.
    pub of: Subject,
    /// The saw.
    pub figures: &'a Figures,
    /// The person whose hands hold it.
    pub person: &'a Person,
    /// Units of the numbers.
    pub units: Units,
    /// Numbers are shown.
    pub measured: bool,
    /// Something is still asked: the saw alone is shown.
    pub asks: bool,
}

impl ShownPicture<'_> {
    /// The drawing in a rectangle, with texts and lines so many times their size; a point of it is a millimetre.
    pub fn scene(&self, rect: Rect, enlarged: f32) -> (Scene, Canvas) {
        panel::laid_out(&self.panels(), rect, enlarged)
    }

    /// The words of all panels, for a reader that does not see them.
    pub fn spoken(&self) -> String {
        if self.asks {
            return format!("{} to scale", self.figures.setup().name());
        }
        let said: Vec<String> = self.panels().iter().map(Panel::spoken).collect();
        format!("{}. {}", self.of.words(), said.join(". "))
    }

    fn panels(&self) -> Vec<Panel<'_>> {
        let setup = self.figures.setup();
        if self.asks {
            return vec![work::saw_alone(setup)];
        }
        match self.of {
            Subject::PullAndPush => chain::panels(setup),
            Subject::KickbackQuadrant => nose::panels(setup),
            Subject::TopAndBottomBind => bound::panels(),
            Subject::Plunge => plunge::panels(setup),
            Subject::Thumb => hands::thumb(),
            Subject::LeftArm => hands::left_arm(setup, self.person),
            Subject::BrakeTests => work::brake_tests(setup),
            Subject::WhoCarries => work::who_carries(self),
            Subject::Controls => work::controls(setup),
        }
    }
}

#[cfg(test)]
mod tests;
