//! The part beside its form: drawn to scale, with what follows from its numbers.

use crate::desk::document::Document;
use crate::desk::format;
use crate::desk::forms::parts::PartShown;
use crate::draw::pieces::{lit, part_scene};
use crate::draw::strokes::{self, Canvas};
use crate::draw::theme::Ink;
use crate::window::view_state::ViewState;
use crate::window::widgets::{Sense as Meaning, figure_row};
use barpoise_core::Solved;
use barpoise_core::record::PartKind;
use barpoise_core::units::Mass;
use egui::{RichText, Role, Sense, Ui, WidgetInfo};

/// Height of the drawing as a share of its width, and the most of it, in points.
const HEIGHT_SHARE: f32 = 0.72;
const MOST_HEIGHT: f32 = 420.0;

/// Shows it.
pub(super) fn shown_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let Some((draft, built)) = view.parts.shown(document).zip(view.parts.built.as_deref()) else { return };
    let width = ui.available_width();
    let size = egui::vec2(width, (width * HEIGHT_SHARE).min(MOST_HEIGHT));
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let spoken = format!("Drawing of {} {}", draft.part.kind().word(), draft.part.name());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
    match &built.shown {
        Some(shown) => {
            paint(ui, view, rect, shown, view.parts.lit);
            figures_ui(ui, view, shown, built.solved.as_ref());
            heads_ui(ui, view, &built.heads);
        }
        None => {
            let words = "The drawing waits for the numbers that do not go together.";
            let text = egui::Label::new(RichText::new(words).color(view.paper.color(Ink::Warn))).wrap();
            ui.put(rect.shrink(12.0), text);
        }
    }
    let used = match built.users.as_str() {
        _ if draft.id.is_none() => return,
        "" if draft.part.kind() == PartKind::Setup => return,
        "" => "Nothing uses it.".to_owned(),
        users => format!("Used by {users}."),
    };
    ui.add_space(6.0);
    ui.add(egui::Label::new(RichText::new(used).color(view.paper.color(Ink::Soft))).wrap());
}

/// Paints a part into a place, as large as it goes, with the measure of a field lit up.
pub(super) fn paint(ui: &Ui, view: &ViewState, rect: egui::Rect, shown: &PartShown, of: Option<&str>) {
    // The scale is not known before the drawing is, and its texts keep their size: two rounds do.
    let mut points_per_mm = 0.5;
    let mut canvas = Canvas::fit(rect, kurbo::Rect::ZERO);
    for _ in 0..2 {
        let (_, extent) = part_scene(shown, view.units, points_per_mm);
        canvas = Canvas::fit(rect.shrink(6.0), extent).within(rect);
        points_per_mm = canvas.points_per_mm();
    }
    let (mut scene, _) = part_scene(shown, view.units, points_per_mm);
    if let Some(path) = of {
        lit(&mut scene, shown, path);
    }
    strokes::paint(&scene, &canvas, &ui.painter_at(rect), view.paper);
}

fn figures_ui(ui: &mut Ui, view: &ViewState, shown: &PartShown, solved: Option<&Solved>) {
    let (paper, units) = (view.paper, view.units);
    let mut row = |name: &str, value: String| figure_row(ui, paper, name, &value, Meaning::Plain);
    match shown {
        PartShown::Powerhead(head) => {
            let dry = Mass::from_kg(head.dry().mass_kg);
            let fluid = head.fuel_tank().fluid(1.0).mass_kg + head.oil_tank().fluid(1.0).mass_kg;
            row("Empty, no bar", units.mass(dry));
            row("Fuel and oil, full", units.mass(Mass::from_kg(fluid)));
        }
        PartShown::Bar(bar) => {
            row("Weight from its shape", units.mass(bar.geometric_mass()));
            if let Some(weighed) = bar.weighed_mass() {
                row("Weighed", units.mass(weighed));
            }
        }
        PartShown::Chain(chain) => {
            row("Cutter spacing", units.length(chain.cutter_spacing()));
            row("Loop of 60 drive links", units.mass(chain.link_mass() * 60.0));
        }
        PartShown::Setup(setup) => {
            let Some(solved) = solved else { return };
            row("Ready weight", units.mass(solved.ready_mass()));
            let hang = solved.hang.as_ref().map_or_else(ToString::to_string, |hang| format::hang(*hang));
            row("Hang", hang);
            row("Reach past spikes", units.length(solved.reach));
            row("Tensioner out", units.length(setup.tensioner_out()));
        }
    }
}

/// With which loops the bar closes on the yard's heads.
fn heads_ui(ui: &mut Ui, view: &ViewState, heads: &[(String, Option<Vec<u32>>)]) {
    for (name, closing) in heads {
        let (words, meaning) = match closing.as_deref() {
            None => ("no chain of its pitch and gauge".to_owned(), Meaning::Warn),
            Some([]) => ("no loop closes".to_owned(), Meaning::Warn),
            Some([one]) => (format!("{one} drive links"), Meaning::Plain),
            Some([first, .., last]) => (format!("{first} to {last} drive links"), Meaning::Plain),
        };
        figure_row(ui, view.paper, &format!("Closes on {name}"), &words, meaning);
    }
}
