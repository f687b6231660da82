//! The part beside its form: drawn to scale, with what follows from its numbers.

use crate::document::{Document, users_words};
use crate::drawing::{PartShown, part_scene};
use crate::format;
use crate::parts_form::Draft;
use crate::scene::{self, Canvas};
use crate::theme::Ink;
use crate::view_state::ViewState;
use crate::widgets::{Sense as Meaning, figure_row};
use barpoise_core::file::PartFile;
use barpoise_core::units::{Length, Mass};
use barpoise_core::{Bar, Chain, Fittings, Powerhead, Setup, loop_counts_that_close, solve};
use egui::{RichText, Role, Sense, Ui, WidgetInfo};
use std::sync::Arc;

/// Height of the drawing as a share of its width, and the most of it, in points.
const HEIGHT_SHARE: f32 = 0.72;
const MOST_HEIGHT: f32 = 420.0;
/// Two pitches or gauges closer than this are one: a tenth of the trade's smallest step.
const SAME: Length = Length::from_mm(0.01);

/// Shows it.
pub(super) fn shown_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let Some(draft) = view.parts.shown(document) else { return };
    let shown = built(document, &draft);
    let width = ui.available_width();
    let size = egui::vec2(width, (width * HEIGHT_SHARE).min(MOST_HEIGHT));
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let spoken = format!("Drawing of {} {}", draft.part.kind().word(), draft.part.name());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
    match &shown {
        Some(shown) => {
            paint(ui, view, rect, shown);
            figures_ui(ui, view, shown);
            if let PartShown::Bar(bar) = shown {
                heads_ui(ui, document, view, bar);
            }
        }
        None => {
            let words = "The drawing waits for the numbers that do not go together.";
            let text = egui::Label::new(RichText::new(words).color(view.paper.color(Ink::Warn))).wrap();
            ui.put(rect.shrink(12.0), text);
        }
    }
    if let Some(id) = &draft.id {
        let users = document.yard().file().users_of(id);
        let words = if users.is_empty() { "nothing".to_owned() } else { users_words(&users) };
        ui.add_space(6.0);
        let text = RichText::new(format!("Used by {words}.")).color(view.paper.color(Ink::Soft));
        ui.add(egui::Label::new(text).wrap());
    }
}

fn paint(ui: &Ui, view: &ViewState, rect: egui::Rect, shown: &PartShown) {
    // The scale is not known before the drawing is, and its texts keep their size: two rounds do.
    let mut points_per_mm = 0.5;
    let mut canvas = Canvas::fit(rect, kurbo::Rect::ZERO);
    for _ in 0..2 {
        let (_, extent) = part_scene(shown, view.units, points_per_mm);
        canvas = Canvas::fit(rect.shrink(6.0), extent).within(rect);
        points_per_mm = canvas.points_per_mm();
    }
    let (scene, _) = part_scene(shown, view.units, points_per_mm);
    scene::paint(&scene, &canvas, &ui.painter_at(rect), view.paper);
}

/// The part as its numbers make it; `None` where they make none.
fn built(document: &Document, draft: &Draft) -> Option<PartShown> {
    match &draft.part {
        PartFile::Powerhead(file) => Some(PartShown::Powerhead(Box::new(Powerhead::new(file, 0).ok()?))),
        PartFile::Bar(file) => Some(PartShown::Bar(Box::new(Bar::new(file, 0).ok()?))),
        PartFile::Chain(file) => Some(PartShown::Chain(Chain::new(file, 0).ok()?)),
        PartFile::Setup(file) => {
            let yard = document.yard();
            if let Some(own) =
                yard.setup(&file.name).filter(|_| draft.id.is_some() && draft.faults().is_empty())
            {
                return Some(PartShown::Setup(Box::new(own.clone())));
            }
            let head = yard.powerheads().iter().find(|item| item.name() == file.powerhead)?;
            let bar = yard.bars().iter().find(|item| item.name() == file.bar)?;
            let chain = yard.chains().iter().find(|item| item.name() == file.chain)?;
            let parts = (Arc::clone(head), Arc::clone(bar), Arc::clone(chain));
            let fittings =
                Fittings { fuel_fill: file.fuel_fill, oil_fill: file.oil_fill, extras: Vec::new() };
            let links = file.drive_links;
            let setup = Setup::new(file.name.clone(), parts.0, parts.1, parts.2, links, fittings).ok()?;
            Some(PartShown::Setup(Box::new(setup)))
        }
    }
}

fn figures_ui(ui: &mut Ui, view: &ViewState, shown: &PartShown) {
    let (paper, units) = (view.paper, view.units);
    let mut row = |name: &str, value: String| figure_row(ui, paper, name, &value, Meaning::Plain);
    match shown {
        PartShown::Powerhead(head) => {
            let dry = Mass::from_kg(head.dry().mass_kg);
            let fluid = head.fuel_tank().fluid(1.0).mass_kg + head.oil_tank().fluid(1.0).mass_kg;
            row("Dry mass", units.mass(dry));
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
            let solved = solve(setup);
            row("Weight ready to work", units.mass(solved.ready_mass()));
            let hang = solved.hang.map_or_else(|error| error.to_string(), format::hang);
            row("Hang", hang);
            row("Reach past the spikes", units.length(solved.reach));
            row("Tensioner out", units.length(setup.tensioner_out()));
        }
    }
}

/// With which loops the bar closes on the yard's heads.
fn heads_ui(ui: &mut Ui, document: &Document, view: &ViewState, bar: &Bar) {
    let yard = document.yard();
    for head in yard.powerheads().iter().filter(|head| head.mount() == bar.mount()) {
        let same = |a: Length, b: Length| (a - b).abs() < SAME;
        let chain = yard
            .chains()
            .iter()
            .find(|chain| same(chain.pitch(), head.sprocket().pitch) && same(chain.gauge(), bar.gauge()));
        let closing = chain.map(|chain| loop_counts_that_close(head, bar, chain));
        let (words, meaning) = match closing.as_deref() {
            None => ("no chain of its pitch and gauge".to_owned(), Meaning::Warn),
            Some([]) => ("no loop closes".to_owned(), Meaning::Warn),
            Some([one]) => (format!("{one} drive links"), Meaning::Plain),
            Some([first, .., last]) => (format!("{first} to {last} drive links"), Meaning::Plain),
        };
        figure_row(ui, view.paper, &format!("On {}", head.name()), &words, meaning);
    }
}
