//! One setup before a log.

use super::look::Look;
use super::motion::Mover;
use super::pointing::{Pointed, pointing_ui};
use crate::desk::document::{Figures, LogFigures};
use crate::desk::lesson::Motion;
use crate::draw::pictures::{LogPicture, NUMBER_OUT_PT, REACH_OUT_PT};
use crate::draw::pieces::{log, mm};
use crate::draw::strokes::{self, Scene};
use crate::window::rooms::SECONDS_PER_SETTING;
use crate::window::view_state::ViewState;
use barpoise_core::lesson::{Step, Thing};
use barpoise_core::log::{LogJob, pose};
use barpoise_core::units::Angle;
use egui::{Pos2, Role, Ui, WidgetInfo};
use kurbo::Point;

/// Room kept round the drawing, in points.
const MARGIN: f32 = 10.0;

/// From the first lay-on until the cut is through, as slowly as in the room *Log*.
const CUTTING: Mover = Mover {
    begins: "Run the cut",
    goes_on: "Next setting",
    hint: "From the first setting until it is through",
    rests: "Last setting",
    place: "Run of the cut",
    seconds: SECONDS_PER_SETTING,
};

/// Lets the cut run, holds it, or goes back to its last setting. A step may have it run by itself.
pub(super) fn run_ui(ui: &mut Ui, view: &mut ViewState, look: &Look, runs: bool, log: &LogFigures) {
    let settings = log.settings().len();
    if settings == 0 {
        return;
    }
    if runs && !view.teach.began {
        view.teach.began = true;
        view.teach.motion = Some(Motion { at: 0.0, runs: true });
    }
    CUTTING.show(ui, view, look, settings);
}

/// Shows the drawing in what is left of the room.
pub(super) fn log_ui(
    ui: &mut Ui,
    view: &ViewState,
    look: &Look,
    step: &Step,
    figures: &Figures,
    log: &LogFigures,
) {
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), egui::Sense::hover());
    let setup = figures.setup();
    let picture = LogPicture {
        measured: !view.teach.hides_figures(),
        ..match view.teach.motion {
            Some(motion) => LogPicture::at_run(log, setup, look.units, motion.at),
            None => LogPicture::at_end(log, setup, look.units),
        }
    };
    let stood = picture.spoken().map_or_else(String::new, |spoken| format!("; {spoken}"));
    let spoken = format!("{} before a log{stood}", figures.setup().name());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
    let canvas = picture.fit(rect.shrink(look.pt(MARGIN)), look.enlarged).within(rect);
    let drawn = picture.scene(&canvas);
    strokes::paint(&drawn, &canvas, &ui.painter_at(rect), look.paper);
    let things: Vec<Pointed> = step
        .point_at
        .iter()
        .enumerate()
        .map(|(index, thing)| {
            let places = places(*thing, &picture, &drawn);
            let at: Vec<Pos2> = places.into_iter().map(|place| canvas.to_screen(place)).collect();
            let nose = figures.solved().nose.radius.as_mm();
            Pointed { index, at, reaches: if thing.is_round_nose() { canvas.points(nose) } else { 0.0 } }
        })
        .collect();
    pointing_ui(ui, look, &drawn, &canvas, &things);
}

/// Where a thing is, mm of the section; nowhere where the log cannot be cut.
fn places(thing: Thing, picture: &LogPicture<'_>, drawn: &Scene) -> Vec<Point> {
    let job: &LogJob = picture.figures.job();
    let settings = picture.figures.settings();
    match thing {
        Thing::Settings => {
            let out = drawn.pt(NUMBER_OUT_PT);
            return settings.iter().map(|setting| log::beside_bark(job, setting.bark(), out)).collect();
        }
        Thing::BarkInReach => {
            let out = drawn.pt(REACH_OUT_PT);
            let middle = |from: f64, to: f64| Angle::from_rad(0.5 * (from + to));
            return job
                .bark()
                .iter()
                .map(|arc| log::beside_bark(job, middle(arc.from_rad(), arc.to_rad()), out))
                .collect();
        }
        _ => {}
    }
    let at_work = picture.work.and_then(|(index, share)| {
        let cut = picture.figures.cut().ok()?;
        pose(job, &cut.bar, cut.settings.get(index)?, share).ok()
    });
    let Some(pose) = at_work else { return Vec::new() };
    let (setup, nose) = (picture.setup, picture.setup.nose_zone());
    let in_saw = match thing {
        Thing::Spikes => Point::new(setup.powerhead().spike_line().as_mm(), 0.0),
        Thing::Tip => Point::new(nose.tip_x().as_mm(), 0.0),
        _ => mm(nose.centre),
    };
    vec![log::section_from_saw(setup, &pose) * in_saw]
}
