//! The section with the saw before it, and everything on it that can be dragged.

use super::run::at_work;
use crate::desk::document::Document;
use crate::desk::edit::{Edit, Edits, Gesture, LogEdit};
use crate::draw::pictures::{LogPicture, NUMBER_OUT_PT, REACH_OUT_PT};
use crate::draw::pieces::log::{beside_bark, section_mm};
use crate::draw::strokes::{self, Canvas};
use crate::window::view_state::ViewState;
use crate::window::widgets::{Handle, Moved, Scale, Steps};
use barpoise_core::log::limits::LOG_DIAMETER;
use barpoise_core::log::{Cut, Kind, LogJob, Pose, pose};
use barpoise_core::units::{Angle, Length};
use egui::{Id, Pos2, Rect, Role, Ui, WidgetInfo};

/// The log's edge is dragged at this place on the bark.
const EDGE_AT: Angle = Angle::from_deg(-28.0);
/// Room kept at the canvas' edge, in points.
const MARGIN_PT: f32 = 12.0;
/// The nose handle stands this far past the tip, in points.
const NOSE_HANDLE_PT: f32 = 20.0;
const ANGLE_STEP: Angle = Angle::from_deg(1.0);
const ANGLE_LARGE_STEP: Angle = Angle::from_deg(10.0);
const DIAMETER_STEP: Length = Length::from_mm(10.0);
const DIAMETER_LARGE_STEP: Length = Length::from_mm(50.0);

/// Shows the drawing and its handles.
pub(super) fn canvas_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), egui::Sense::hover());
    let Some(figures) = document.log_figures() else { return };
    let picture = LogPicture {
        figures,
        setup: document.figures().setup(),
        units: view.units,
        work: at_work(document, view),
        numbered: false,
        runs: true,
        measured: true,
    };
    let across = view.units.length(document.log().width());
    let stood = picture.spoken().map_or_else(String::new, |spoken| format!("; {spoken}"));
    let spoken = format!("Log section, {across} across{stood}");
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
    let canvas = canvas(ui, rect, &picture);
    strokes::paint(&picture.scene(&canvas), &canvas, &ui.painter_at(rect), view.paper);
    bark_handles(ui, figures.job(), view, edits, &canvas);
    edge_handle(ui, document, figures.job(), view, edits, &canvas);
    if let Ok(cut) = figures.cut() {
        setting_handles(ui, document, figures.job(), cut, view, edits, &canvas);
        end_handles(ui, document, figures.job(), cut, view, edits, &canvas);
        nose_handle(ui, document, figures.job(), cut, view, edits, &canvas);
    }
}

/// The scale and place of the drawing, held still while something on it is dragged.
fn canvas(ui: &Ui, rect: Rect, picture: &LogPicture<'_>) -> Canvas {
    let dragging = ui.input(|input| input.pointer.any_down()) && ui.ctx().dragged_id().is_some();
    let fit = || picture.fit(rect.shrink(MARGIN_PT), 1.0);
    Canvas::held(ui, Id::unique("log canvas"), rect, dragging, fit)
}

/// The angle of a point of the screen about the middle of the log, counter-clockwise from the far side.
fn angle_at(canvas: &Canvas, point: Pos2) -> Angle {
    let at = canvas.to_world(point);
    Angle::from_rad(at.y.atan2(at.x))
}

fn bark_handles(ui: &mut Ui, job: &LogJob, view: &ViewState, edits: &mut Edits, canvas: &Canvas) {
    let outside = REACH_OUT_PT / canvas.points_per_mm();
    for (arc, piece) in job.bark().iter().enumerate() {
        for (far_end, rad, name) in [
            (false, piece.from_rad(), "Beginning of the bark within reach, in degrees"),
            (true, piece.to_rad(), "End of the bark within reach, in degrees"),
        ] {
            let now = Angle::from_rad(rad);
            let at = canvas.to_screen(beside_bark(job, now, outside));
            let name =
                if job.bark().len() > 1 { format!("{name}, piece {}", arc + 1) } else { name.to_owned() };
            let id = Id::unique(("log bark", arc, far_end));
            let handle = Handle {
                id,
                at,
                name: &name,
                value: now.as_deg(),
                scale: Scale::ROUND,
                steps: Steps::Across,
            };
            let (response, moved) = handle.show(ui);
            Handle::paint_knob(ui, &response, view.paper, Steps::Across);
            response
                .on_hover_text("Drag: how far along the bark you can set the spikes from where you stand");
            if let Some((angle, gesture)) = moved_angle(moved, canvas, now) {
                edits.ask_in(Edit::Log(LogEdit::BarkEnd { arc, far_end, angle }), gesture);
            }
        }
    }
}

/// Where a handle on the bark was moved to. Forward is clockwise, as the eye follows the bark over the top.
fn moved_angle(moved: Option<Moved>, canvas: &Canvas, now: Angle) -> Option<(Angle, Gesture)> {
    Some(match moved? {
        Moved::To(point, gesture) => (angle_at(canvas, point), gesture),
        Moved::By { small, large } => {
            (now - ANGLE_STEP * f64::from(small) - ANGLE_LARGE_STEP * f64::from(large), Gesture::Single)
        }
        Moved::Mark(marks) => (now - ANGLE_LARGE_STEP * f64::from(marks), Gesture::Single),
        Moved::Set(deg) => (Angle::from_deg(deg), Gesture::Single),
    })
}

fn edge_handle(
    ui: &mut Ui,
    document: &Document,
    job: &LogJob,
    view: &ViewState,
    edits: &mut Edits,
    canvas: &Canvas,
) {
    let at = section_mm(job.section().bark_at(EDGE_AT.as_rad()));
    let width = document.log().width();
    let name = format!("Log diameter in {}", view.units.length_unit());
    let value = view.units.length_value(width);
    let handle = Handle {
        id: Id::unique("log edge"),
        at: canvas.to_screen(at),
        name: &name,
        value,
        scale: Scale::new(
            view.units.length_value(Length::from_mm(LOG_DIAMETER.min)),
            view.units.length_value(Length::from_mm(LOG_DIAMETER.max)),
            view.units.length_value(DIAMETER_STEP),
        ),
        steps: Steps::Across,
    };
    let (response, moved) = handle.show(ui);
    Handle::paint_knob(ui, &response, view.paper, Steps::Across);
    response.on_hover_text("Drag the edge: the log's diameter");
    let (diameter, gesture) = match moved {
        None => return,
        Some(Moved::To(point, gesture)) => {
            // The edge stays under the pointer: the log grows with the distance from its middle.
            let ratio = canvas.to_world(point).to_vec2().hypot() / at.to_vec2().hypot();
            (width * ratio, gesture)
        }
        Some(Moved::By { small, large }) => (
            width + DIAMETER_STEP * f64::from(small) + DIAMETER_LARGE_STEP * f64::from(large),
            Gesture::Single,
        ),
        Some(Moved::Mark(marks)) => (width + DIAMETER_LARGE_STEP * f64::from(marks), Gesture::Single),
        Some(Moved::Set(value)) => (view.units.length_from()(value), Gesture::Single),
    };
    edits.ask_in(Edit::Log(LogEdit::Diameter(diameter)), gesture);
}

fn setting_handles(
    ui: &mut Ui,
    document: &Document,
    job: &LogJob,
    cut: &Cut,
    view: &ViewState,
    edits: &mut Edits,
    canvas: &Canvas,
) {
    let outside = NUMBER_OUT_PT / canvas.points_per_mm();
    let now = at_work(document, view).map(|(index, _)| index);
    for (index, setting) in cut.settings.iter().enumerate() {
        let at = canvas.to_screen(beside_bark(job, setting.bark(), outside));
        let name = format!("Spikes of setting {}, in degrees round the bark", index + 1);
        let (id, value) = (Id::unique(("log setting", index)), setting.bark().as_deg());
        let handle = Handle { id, at, name: &name, value, scale: Scale::ROUND, steps: Steps::Across };
        let (response, moved) = handle.show(ui);
        Handle::paint_numbered(ui, &response, view.paper, index + 1, now == Some(index));
        response.on_hover_text(format!("Setting {}: drag it along the bark", index + 1));
        if let Some((bark, gesture)) = moved_angle(moved, canvas, setting.bark()) {
            edits.ask_in(Edit::Log(LogEdit::MoveSetting { index, bark }), gesture);
        }
    }
}

/// Both ends of the swing at work, where the nose begins and ends it.
fn end_handles(
    ui: &mut Ui,
    document: &Document,
    job: &LogJob,
    cut: &Cut,
    view: &ViewState,
    edits: &mut Edits,
    canvas: &Canvas,
) {
    let Some((index, _)) = at_work(document, view) else { return };
    let Some(setting) = cut.settings.get(index).filter(|setting| setting.kind() == Kind::Pivot) else {
        return;
    };
    let straight_in = job.section().straight_in_rad(setting.bark().as_rad());
    let spikes = section_mm(job.section().bark_at(setting.bark().as_rad()));
    let out_mm = cut.bar.reach().as_mm() + f64::from(NOSE_HANDLE_PT) / canvas.points_per_mm();
    for (start, angle, end) in [(true, setting.from(), "Beginning"), (false, setting.to(), "End")] {
        let direction = kurbo::Vec2::from_angle(straight_in + angle.as_rad());
        let at = canvas.to_screen(spikes + out_mm * direction);
        let name = format!("{end} of the swing of setting {}, in degrees from straight in", index + 1);
        let id = Id::unique(("log swing end", index, start));
        let handle =
            Handle { id, at, name: &name, value: angle.as_deg(), scale: Scale::ROUND, steps: Steps::Across };
        let (response, moved) = handle.show(ui);
        Handle::paint_knob(ui, &response, view.paper, Steps::Across);
        response.on_hover_text(format!("{end} of the swing: drag it"));
        let (angle, gesture) = match moved {
            None => continue,
            Some(Moved::To(point, gesture)) => {
                let to = canvas.to_world(point) - spikes;
                let turn = (to.atan2() - straight_in + std::f64::consts::PI)
                    .rem_euclid(2.0 * std::f64::consts::PI)
                    - std::f64::consts::PI;
                (Angle::from_rad(turn), gesture)
            }
            Some(Moved::By { small, large }) => {
                let by = ANGLE_STEP * f64::from(small) + ANGLE_LARGE_STEP * f64::from(large);
                (angle + by, Gesture::Single)
            }
            Some(Moved::Mark(marks)) => (angle + ANGLE_LARGE_STEP * f64::from(marks), Gesture::Single),
            Some(Moved::Set(deg)) => (Angle::from_deg(deg), Gesture::Single),
        };
        edits.ask_in(Edit::Log(LogEdit::SwingEnd { index, start, angle }), gesture);
    }
}

fn nose_handle(
    ui: &mut Ui,
    document: &Document,
    job: &LogJob,
    cut: &Cut,
    view: &ViewState,
    edits: &mut Edits,
    canvas: &Canvas,
) {
    let Some((index, share)) = at_work(document, view) else { return };
    let Some(setting) = cut.settings.get(index) else { return };
    let Ok(pose) = pose(job, &cut.bar, setting, share) else { return };
    let (pivot, tip) = (canvas.to_screen(section_mm(pose.pivot)), canvas.to_screen(section_mm(pose.tip)));
    let along = (tip - pivot).normalized();
    let name = format!("Nose, bar length in {}", view.units.length_unit());
    let value = view.units.length_value(document.figures().setup().bar().overall_length());
    let at = tip + along * NOSE_HANDLE_PT;
    let handle = Handle {
        id: Id::unique("log nose"),
        at,
        name: &name,
        value,
        scale: crate::window::rooms::bench::bar_scale(view.units),
        steps: Steps::Across,
    };
    let (response, moved) = handle.show(ui);
    Handle::paint_knob(ui, &response, view.paper, Steps::Across);
    response.on_hover_text(format!(
        "Drag the nose: {} reach past the spikes",
        view.units.length(document.figures().solved().reach)
    ));
    match moved {
        Some(Moved::To(point, gesture)) => {
            edits.ask_in(nose_edit(document, &pose, canvas, point - along * NOSE_HANDLE_PT), gesture);
        }
        Some(moved) => {
            if let Some(edit) = crate::window::rooms::bench::length_edit(document, view, moved) {
                edits.ask(edit);
            }
        }
        None => {}
    }
}

/// The edit that brings the nose as far along the bar's direction as a point of the screen.
fn nose_edit(document: &Document, pose: &Pose, canvas: &Canvas, point: Pos2) -> Edit {
    let from_pivot = canvas.to_world(point) - section_mm(pose.pivot);
    let along = from_pivot.dot(kurbo::Vec2::from_angle(pose.direction_rad));
    let spikes = document.figures().setup().powerhead().spike_line();
    Edit::BarLength(document.figures().family().overall_with_tip_at(spikes + Length::from_mm(along)))
}
