//! Setups on one plumb line, each as it hangs; or the bar that grows from one to the next before their outlines.

use super::look::Look;
use super::motion::Mover;
use super::pointing::{Pointed, pointing_ui};
use crate::desk::document::Document;
use crate::desk::lesson::{Motion, Stage, hung_words};
use crate::draw::pictures::{Hung, HungPicture};
use crate::draw::pieces::mm;
use crate::draw::strokes;
use crate::draw::theme::Ink;
use crate::window::view_state::ViewState;
use barpoise_core::lesson::{Step, Thing};
use barpoise_core::{Grown, Setup, Solved, grown, solve};
use egui::{Role, Ui, WidgetInfo};
use kurbo::{Affine, Point};

/// Room kept round the drawing, in points.
const MARGIN: f32 = 14.0;
/// The plumb line is pointed at so far over its end, in points.
const PLUMB_UP: f32 = 34.0;
/// From one bar to the next.
const GROWING: Mover = Mover {
    begins: "Grow the bar",
    goes_on: "Next bar",
    hint: "From one bar to the next",
    rests: "All of them",
    place: "Bar between the setups",
    seconds: 3.0,
};

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
    let growth = view.teach.motion.filter(|_| !asks);
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
fn growing(document: &Document, stage: &Stage, growth: Motion) -> Option<(Setup, Solved, bool)> {
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
    GROWING.show(ui, view, look, gaps);
    let Some(growth) = view.teach.motion else { return };
    let row: Vec<&Setup> = stage.setups().map(|figures| figures.setup()).collect();
    if let Some(Grown::Own { swapped: true, .. }) = grown(&row, document.yard().bars(), growth.at) {
        let words =
            "Here more than the bar changes: the next setup is put on, nothing in between is made up.";
        ui.add(egui::Label::new(look.text(words, Ink::Soft)).wrap());
    }
}
