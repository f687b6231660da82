//! How the person stands to a cut at a moment of it, for the picture of a log.

use crate::desk::format::Units;
use crate::desk::words::cut::trouble_said;
use crate::draw::pieces::figure::{Figure, trouble_mark};
use crate::draw::pieces::log::section_mm;
use crate::draw::strokes::{Label, Scene, Side as Beside};
use crate::draw::theme::Ink;
use barpoise_core::log::{Cut, LogJob, Trouble, pose};
use barpoise_core::person::{Stance, Standing};
use kurbo::{Point, Rect};

/// The person at a moment of a cut: as they stand, or as they come nearest to standing, and what is wrong.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stood<'a> {
    standing: &'a Standing,
    stance: Stance,
    trouble: Option<Trouble>,
}

impl<'a> Stood<'a> {
    /// At a share of a setting's run; `None` where nobody in particular holds the saw.
    pub(super) fn at(job: &LogJob, cut: &'a Cut, index: usize, share: f64) -> Option<Self> {
        let setting = cut.settings.get(index)?;
        let standing = cut.workplace.standing(setting.side())?;
        let (stance, trouble) = match cut.workplace.hold_standing(job, &cut.bar, setting, share) {
            Ok(stance) => (stance?, None),
            Err(trouble) => {
                // Of a nose that is where it must not be, the hold itself may well be possible.
                let held = || {
                    let pose = pose(job, &cut.bar, setting, share).ok()?;
                    standing.look(pose.pivot, pose.direction_rad).ok()
                };
                (cut.workplace.nearest_hold(job, setting, share).or_else(held)?, Some(trouble))
            }
        };
        Some(Self { standing, stance, trouble })
    }

    pub(super) const fn figure(&self) -> Figure<'_> {
        Figure { stance: &self.stance, body: self.standing.body(), side: self.standing.side() }
    }

    pub(super) fn extent(&self) -> Rect {
        self.figure().extent()
    }

    /// The pose, and what is wrong with it, for a reader that does not see it.
    pub(super) fn spoken(&self, units: Units) -> String {
        let words = self.figure().words();
        match &self.trouble {
            Some(trouble) => format!("{words}; cannot be done: {}", trouble_said(units, trouble)),
            None => words,
        }
    }

    /// The pose in words over the head.
    pub(super) fn words(&self, scene: &mut Scene) {
        let extent = self.extent();
        let head = section_mm(self.stance.head);
        let label = Label::new(Point::new(head.x, extent.y1), Beside::Above, self.stance.words(), Ink::Hand);
        scene.label(label.strong().on_patch());
    }

    /// What is wrong, where it is wrong.
    pub(super) fn trouble(&self, scene: &mut Scene, units: Units) {
        let figure = self.figure();
        match &self.trouble {
            Some(trouble @ Trouble::Hold(why)) => figure.trouble(scene, why, &trouble_said(units, trouble)),
            Some(trouble @ (Trouble::NoseOnOwnSide { at } | Trouble::NoseInGround { at, .. })) => {
                trouble_mark(scene, section_mm(*at), &trouble_said(units, trouble), figure.side);
            }
            None => {}
        }
    }
}
