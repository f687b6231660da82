//! The first setup of a sheet once more: held level with its balance, hands, reach and fluids, and as it hangs.

use super::Row;
use super::page::Page;
use crate::desk::format::{self, Units};
use crate::draw::pictures::{BenchPicture, BenchShows};
use crate::draw::theme::{Ink, size};
use barpoise_core::units::Angle;

/// Height of the drawing, mm.
const HIGH_MM: f64 = 74.0;
/// Room at its sides for names that stand out over it, in points.
const OVERHANG: egui::Vec2 = egui::vec2(60.0, 6.0);

pub(super) fn hung(page: &mut Page, units: Units, row: &Row<'_>) {
    let setup = row.setup;
    let links = row.figures.solved().links.order();
    let links = links.map_or_else(String::new, |links| format!(", {links} links"));
    let words = format!(
        "{} held level and as it hangs: fuel {}, oil {}, chain {}{links}",
        format::short_name(setup.name()),
        format::percent(setup.fuel_fill()),
        format::percent(setup.oil_fill()),
        format::pitch(setup.chain().pitch()),
    );
    page.line(&words, Ink::Line, size::STRONG, true);
    let shows = BenchShows { rack: false, compared: false, ..BenchShows::ALL };
    let figures = &row.figures;
    let picture = BenchPicture { figures, units, held_pitch: Angle::ZERO, limit: None, shows };
    let (rect, enlarged) = page.room(page.left_mm(), page.width_mm(), HIGH_MM);
    let stand = picture.stand(picture.fit(rect.shrink2(OVERHANG * enlarged), enlarged).within(rect));
    page.add(picture.scene(&stand), &stand.canvas, HIGH_MM);
}
