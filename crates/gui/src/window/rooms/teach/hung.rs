//! Setups on one plumb line, each as it hangs; or the bar that grows from one to the next before their outlines.

use super::look::Look;
use super::pointing::{Pointed, pointing_ui};
use super::row_ui;
use crate::desk::document::Document;
use crate::desk::lesson::{Growth, Stage, hung_words};
use crate::draw::pictures::{Hung, HungPicture};
use crate::draw::pieces::mm;
use crate::draw::strokes;
use crate::window::view_state::ViewState;
use crate::window::widgets::with_rail;
use barpoise_core::lesson::{Step, Thing};
use barpoise_core::{Grown, Setup, Solved, grown, solve};
use egui::{Role, Slider, Ui, WidgetInfo};
use kurbo::{Affine, Point};

/// Room kept round the drawing, in points.
const MARGIN: f32 = 14.0;
/// The plumb line is pointed at so far over its end, in points.
const PLUMB_UP: f32 = 34.0;
/// A bar grows to the next setup's in so many seconds.
const SECONDS_TO_NEXT: f64 = 3.0;

/// Shows the drawing in what is left of the room.
pub(super) fn hung_ui(
    ui: &mut Ui,
    document: &Document,
    view: &ViewState,
    look: &Look,
    step: &Step,
    stage: &Stage,
) {
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), egui::Sense::hover());
    let spoken = format!("Setups on one plumb line, {}", stage.names().join(", "));
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
    let (shown, asks) = (!view.teach.hides_figures(), view.teach.waits_for_guess());
    let hung = |setup, solved, name: &str| {
        let words = hung_words(name, solved, look.units, shown);
        Hung { setup, solved, words, level: asks }
    };
    let row: Vec<Hung<'_>> = stage
        .setups()
        .map(|figures| hung(figures.setup(), figures.solved(), figures.setup().name()))
        .collect();
    let growth = view.teach.growth.filter(|_| !asks);
    let growing = growth.and_then(|growth| growing(document, stage, growth));
    let picture = match &growing {
        Some((setup, solved, made_up)) => {
            let bar = look.units.length(setup.bar().overall_length());
            let name = if *made_up { format!("trial bar, {bar}") } else { setup.name().to_owned() };
            HungPicture { saws: vec![hung(setup, solved, &name)], behind: row }
        }
        None => HungPicture { saws: row, behind: Vec::new() },
    };
    let canvas = picture.fit(rect.shrink(look.pt(MARGIN)), look.enlarged).within(rect);
    let drawn = picture.scene(&canvas);
    strokes::paint(&drawn, &canvas, &ui.painter_at(rect), look.paper);
    if asks {
        return;
    }
    let places = picture.places(drawn.pt(1.0));
    let things: Vec<Pointed> = step
        .point_at
        .iter()
        .enumerate()
        .map(|(index, thing)| {
            if *thing == Thing::PlumbLine {
                // Once for all of them, under the last.
                let at = canvas.to_screen(Point::new(0.0, picture.bottom_mm(drawn.pt(1.0))));
                return Pointed { index, at: vec![at - egui::vec2(0.0, look.pt(PLUMB_UP))], reaches: 0.0 };
            }
            let pairs = picture.saws.iter().zip(&places);
            let at = pairs.map(|(saw, place)| canvas.to_screen(place_of(*thing, saw, *place))).collect();
            let widest = picture.saws.iter().map(|saw| saw.solved.nose.radius.as_mm()).fold(0.0, f64::max);
            Pointed { index, at, reaches: if thing.is_round_nose() { canvas.points(widest) } else { 0.0 } }
        })
        .collect();
    pointing_ui(ui, look, &drawn, &canvas, &things);
}

/// The saw at a place of the growth, its figures, and whether its bar is made up.
fn growing(document: &Document, stage: &Stage, growth: Growth) -> Option<(Setup, Solved, bool)> {
    let row: Vec<&Setup> = stage.setups().map(|figures| figures.setup()).collect();
    Some(match grown(&row, document.yard().bars(), growth.at)? {
        Grown::Own { index, .. } => {
            let figures = stage.setups().nth(index)?;
            (figures.setup().clone(), figures.solved().clone(), false)
        }
        Grown::MadeUp(setup) => {
            let solved = solve(&setup);
            (*setup, solved, true)
        }
    })
}

fn place_of(thing: Thing, saw: &Hung<'_>, place: Affine) -> Point {
    let (head, nose) = (saw.setup.powerhead(), &saw.solved.nose);
    let in_saw = match thing {
        Thing::Weight | Thing::CentreOfGravity => mm(saw.solved.saw.centroid),
        Thing::PlumbLine | Thing::FrontHand => mm(head.front_grip()),
        Thing::RearHand => mm(head.rear_grip()),
        Thing::Spikes | Thing::Reach => Point::new(head.spike_line().as_mm(), 0.0),
        Thing::Tip => Point::new(nose.tip_x().as_mm(), 0.0),
        Thing::DangerArc | Thing::Hang | Thing::Nose | Thing::Settings | Thing::BarkInReach => {
            mm(nose.centre)
        }
    };
    place * in_saw
}

/// Lets the bar grow, holds it, or goes back to the saws under each other.
pub(super) fn growth_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, look: &Look, stage: &Stage) {
    let gaps = stage.setups().count().saturating_sub(1);
    if gaps == 0 {
        return;
    }
    let end = u32::try_from(gaps).map_or(0.0, f64::from);
    grow_on(ui, view, end);
    let growth = view.teach.growth;
    let runs = growth.is_some_and(|growth| growth.runs);
    let name = match (runs, view.less_motion) {
        (true, _) => "Pause",
        (false, true) => "Next bar",
        (false, false) => "Grow the bar",
    };
    let buttons = |ui: &mut Ui| {
        let text = look.text(name, crate::draw::theme::Ink::Line);
        let hint = if runs { "Space holds it" } else { "From one bar to the next" };
        if ui.button(text).on_hover_text(hint).clicked() {
            press(view, end);
        }
        if growth.is_some() && ui.button(look.text("All of them", crate::draw::theme::Ink::Line)).clicked() {
            view.teach.growth = None;
        }
    };
    row_ui(ui, buttons);
    let Some(mut growth) = view.teach.growth else { return };
    let label = ui.label(look.text("Bar between the setups", crate::draw::theme::Ink::Soft));
    ui.spacing_mut().slider_width = (ui.available_width() - 12.0).min(look.pt(260.0));
    let slider = Slider::new(&mut growth.at, 0.0..=end).show_value(false);
    let slider = with_rail(ui, view.paper, |ui| ui.add(slider)).labelled_by(label.id);
    if slider.changed() {
        view.teach.growth = Some(Growth { runs: false, ..growth });
    }
    let row: Vec<&Setup> = stage.setups().map(|figures| figures.setup()).collect();
    if let Some(Grown::Own { swapped: true, .. }) = grown(&row, document.yard().bars(), growth.at) {
        let words =
            "Here more than the bar changes: the next setup is put on, nothing in between is made up.";
        ui.add(egui::Label::new(look.text(words, crate::draw::theme::Ink::Soft)).wrap());
    }
}

/// The button and the space bar: hold what grows, else let it grow; by whole bars where nothing is to move.
pub(super) fn press(view: &mut ViewState, end: f64) {
    let Growth { at, runs } = view.teach.growth.unwrap_or_default();
    let from = if at >= end { 0.0 } else { at };
    let next = if view.less_motion && !runs {
        let begun = view.teach.growth.is_some();
        let at = if !begun || at >= end { 0.0 } else { at.floor() + 1.0 };
        Growth { at, runs: false }
    } else {
        Growth { at: if runs { at } else { from }, runs: !runs }
    };
    view.teach.growth = Some(next);
}

fn grow_on(ui: &Ui, view: &mut ViewState, end: f64) {
    let Some(growth) = view.teach.growth.filter(|growth| growth.runs) else { return };
    if view.less_motion {
        view.teach.growth = Some(Growth { runs: false, ..growth });
        return;
    }
    let dt = f64::from(ui.input(|input| input.stable_dt)).min(0.1);
    let at = (growth.at + dt / SECONDS_TO_NEXT).min(end);
    view.teach.growth = Some(Growth { at, runs: at < end });
    ui.ctx().request_repaint();
}
