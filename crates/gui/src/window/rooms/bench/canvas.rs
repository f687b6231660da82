//! The saw to scale, with everything on it that can be grabbed.

use super::hints::{Pointed, hints_ui};
use crate::desk::document::Document;
use crate::desk::edit::{Edit, Edits, Gesture};
use crate::desk::format::{self, Units};
use crate::draw::pictures::{BenchPicture, BenchShows, BenchStand};
use crate::draw::pieces::{self, mm};
use crate::draw::strokes::{self, Canvas};
use crate::draw::theme::Paper;
use crate::window::view_state::ViewState;
use crate::window::widgets::{Handle, Moved, Scale, Steps};
use barpoise_core::ranges::{HANG_LIMIT, MADE_UP_LENGTH};
use barpoise_core::units::{Angle, Length};
use barpoise_core::{BarFamily, Tank};
use egui::{Id, Pos2, Rect, Role, Ui, WidgetInfo};
use kurbo::Point;

/// The nose handle stands this far past the chain's tip, in points.
const NOSE_HANDLE_PT: f32 = 20.0;
/// The nose snaps to a rack bar within this distance, in points, unless Alt is held.
const SNAP_PT: f32 = 6.0;
/// Room kept round the drawing, in points: the nose handle stands past the tip.
const FIT_MARGIN_PT: f32 = NOSE_HANDLE_PT + 16.0;
const SMALL_STEP: Length = Length::from_mm(1.0);
const LARGE_STEP: Length = Length::from_mm(10.0);
const FILL_STEP: f64 = 0.05;
const FILL_LARGE_STEP: f64 = 0.25;

const NOSE_ID: &str = "bench nose";
const FUEL_ID: &str = "bench fuel";
const OIL_ID: &str = "bench oil";
const LIMIT_ID: &str = "bench limit";

/// Shows the drawing and its handles.
pub(super) fn canvas_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), egui::Sense::hover());
    let spoken = spoken_summary(document, view);
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
    let picture = BenchPicture {
        figures: document.figures(),
        units: view.units,
        held_pitch: view.held_pitch(),
        limit: Some(document.bench().hang_limit()),
        shows: BenchShows::ALL,
    };
    let stand = stand(ui, rect, &picture);
    strokes::paint(&picture.scene(&stand), &stand.canvas, &ui.painter_at(rect), view.paper);
    nose_handle(ui, document, view, edits, &stand);
    limit_handle(ui, document, view, edits, (&picture, &stand));
    let setup = document.figures().setup();
    let head = setup.powerhead();
    let fuel = (head.fuel_tank(), setup.fuel_fill());
    if let Some((fill, gesture)) =
        level_handle(ui, view.paper, &stand, FUEL_ID, "Fuel level in percent", fuel)
    {
        edits.ask_in(Edit::FuelFill(fill), gesture);
    }
    let oil = (head.oil_tank(), setup.oil_fill());
    if let Some((fill, gesture)) = level_handle(ui, view.paper, &stand, OIL_ID, "Oil level in percent", oil) {
        edits.ask_in(Edit::OilFill(fill), gesture);
    }
    let tip = Point::new(document.figures().solved().nose.tip_x().as_mm(), 0.0);
    let needle = stand.hanging.map_or(stand.held, |hanging| hanging) * tip;
    let at = Pointed { nose: stand.screen(tip), needle: stand.canvas.to_screen(needle) };
    hints_ui(ui, view, rect, at);
}

fn spoken_summary(document: &Document, view: &ViewState) -> String {
    let solved = document.figures().solved();
    let hang =
        solved.hang.map_or_else(|error| error.to_string(), |hang| format!("hangs {}", format::hang(hang)));
    let reach = view.units.length(solved.reach);
    let front = solved.hands_at(view.held_pitch()).map_or_else(
        |error| error.to_string(),
        |hands| format!("front hand {}", view.units.hand(hands.front)),
    );
    let name = document.figures().setup().name();
    format!("Saw to scale, {name}: {hang}, {front}, reach past spikes {reach}")
}

/// The scale and place of the drawing. It holds still while something on it is dragged, so that what is
/// grabbed stays under the pointer, and fits itself again afterwards.
fn stand(ui: &Ui, rect: Rect, picture: &BenchPicture<'_>) -> BenchStand {
    let dragging =
        [NOSE_ID, FUEL_ID, OIL_ID, LIMIT_ID].iter().any(|id| ui.ctx().is_being_dragged(Id::unique(*id)));
    let fit = || picture.fit(rect.shrink(FIT_MARGIN_PT), 1.0);
    picture.stand(Canvas::held(ui, Id::unique("bench canvas"), rect, dragging, fit))
}

fn nose_handle(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits, stand: &BenchStand) {
    let figures = document.figures();
    let tip = Point::new(figures.solved().nose.tip_x().as_mm(), 0.0);
    let along = stand.screen(tip + kurbo::Vec2::new(1.0, 0.0)) - stand.screen(tip);
    let past = along.normalized() * NOSE_HANDLE_PT;
    let overall = figures.setup().bar().overall_length();
    let name = format!("Nose, bar length in {}", view.units.length_unit());
    let handle = Handle {
        id: Id::unique(NOSE_ID),
        at: stand.screen(tip) + past,
        name: &name,
        value: view.units.length_value(overall),
        scale: bar_scale(view.units),
        steps: Steps::Across,
    };
    let (response, moved) = handle.show(ui);
    Handle::paint_knob(ui, &response, view.paper, Steps::Across);
    let response = response.on_hover_cursor(egui::CursorIcon::ResizeHorizontal);
    response.on_hover_text("Drag the nose. Arrow keys: 1 mm, with Shift 10 mm. Page Up, Page Down: next bar on the rack. Alt: no snap.");
    match moved {
        Some(Moved::To(point, gesture)) => {
            let snap = ui.input(|input| !input.modifiers.alt);
            edits.ask_in(nose_to(document, stand, point - past, snap), gesture);
        }
        Some(moved) => {
            if let Some(edit) = length_edit(document, view, moved) {
                edits.ask(edit);
            }
        }
        None => {}
    }
}

/// The knob of the limit's flag, on the gauge.
fn limit_handle(
    ui: &mut Ui,
    document: &Document,
    view: &ViewState,
    edits: &mut Edits,
    (picture, stand): (&BenchPicture<'_>, &BenchStand),
) {
    if stand.hanging.is_none() {
        return;
    }
    let (gauge, limit) = (picture.gauge(), document.bench().hang_limit());
    let handle = Handle {
        id: Id::unique(LIMIT_ID),
        at: stand.canvas.to_screen(gauge.flag(limit, 1.0 / stand.canvas.points_per_mm())),
        name: "Hang limit in degrees nose down",
        value: limit.as_deg(),
        scale: Scale::new(HANG_LIMIT.min, HANG_LIMIT.max, 1.0),
        steps: Steps::UpDown,
    };
    let (response, moved) = handle.show(ui);
    Handle::paint_knob(ui, &response, view.paper, Steps::UpDown);
    response
        .on_hover_cursor(egui::CursorIcon::ResizeVertical)
        .on_hover_text("My own limit of the hang: drag it along the scale. Arrow keys: 1°, with Shift 5°.");
    let (deg, gesture) = match moved {
        Some(Moved::To(point, gesture)) => {
            (gauge.hang_at(stand.canvas.to_world(point)).as_deg().round(), gesture)
        }
        // Down the scale is more hang, so the down arrow raises the limit.
        Some(Moved::By { small, large }) => {
            (limit.as_deg() - f64::from(small) - 5.0 * f64::from(large), Gesture::Single)
        }
        Some(Moved::Mark(marks)) => (limit.as_deg() - 15.0 * f64::from(marks), Gesture::Single),
        Some(Moved::Set(value)) => (value, Gesture::Single),
        None => return,
    };
    edits.ask_in(Edit::HangLimit(Angle::from_deg(deg)), gesture);
}

/// The edit that brings the chain's tip to a point of the screen, or to a rack bar's tip close by.
fn nose_to(document: &Document, stand: &BenchStand, tip: Pos2, snap: bool) -> Edit {
    let figures = document.figures();
    let wanted = Length::from_mm(stand.saw(tip).x);
    let reach = Length::from_mm(f64::from(SNAP_PT) / stand.canvas.points_per_mm());
    let near = figures
        .rack()
        .iter()
        .map(|bar| (bar, (bar.solved.nose.tip_x() - wanted).abs()))
        .filter(|(_, distance)| snap && *distance <= reach)
        .min_by(|a, b| a.1.as_m().total_cmp(&b.1.as_m()));
    match near {
        Some((bar, _)) => Edit::SnapToBar(bar.name.clone()),
        None => Edit::BarLength(figures.family().overall_with_tip_at(wanted)),
    }
}

/// The lengths that a bar can be dragged to.
pub(crate) fn bar_scale(units: Units) -> Scale {
    let length = |mm| units.length_value(Length::from_mm(mm));
    Scale::new(length(MADE_UP_LENGTH.min), length(MADE_UP_LENGTH.max), units.length_value(SMALL_STEP))
}

/// The edit that a key or a screen reader means on the bar length, shared with the slider beneath.
pub(crate) fn length_edit(document: &Document, view: &ViewState, moved: Moved) -> Option<Edit> {
    let figures = document.figures();
    let now = figures.setup().bar().overall_length();
    match moved {
        Moved::To(..) => None,
        Moved::By { small, large } => {
            Some(Edit::BarLength(now + SMALL_STEP * f64::from(small) + LARGE_STEP * f64::from(large)))
        }
        Moved::Set(value) => {
            let length: fn(f64) -> Length = view.units.length_from();
            Some(Edit::BarLength(length(value)))
        }
        Moved::Mark(marks) => {
            let longer = |bar: &&crate::desk::document::RackBar| bar.overall.as_m() > now.as_m() + 1e-6;
            let shorter = |bar: &&crate::desk::document::RackBar| bar.overall.as_m() < now.as_m() - 1e-6;
            let rack = figures.rack();
            let next = if marks > 0 { rack.iter().find(longer) } else { rack.iter().rev().find(shorter) };
            let (shortest, longest) = BarFamily::span();
            Some(match next {
                Some(bar) => Edit::SnapToBar(bar.name.clone()),
                None => Edit::BarLength(if marks > 0 { longest } else { shortest }),
            })
        }
    }
}

/// A tank's level: a knob on the fluid's surface.
fn level_handle(
    ui: &mut Ui,
    paper: Paper,
    stand: &BenchStand,
    id: &str,
    name: &str,
    (tank, fill): (&Tank, f64),
) -> Option<(f64, Gesture)> {
    let corner = mm(tank.corner());
    let at = Point::new(corner.x + tank.size().x * 1e3, pieces::tank_level_mm(tank, fill));
    let handle = Handle {
        id: Id::unique(id),
        at: stand.screen(at),
        name,
        value: fill * 100.0,
        scale: Scale::new(0.0, 100.0, FILL_STEP * 100.0),
        steps: Steps::UpDown,
    };
    let (response, moved) = handle.show(ui);
    Handle::paint_knob(ui, &response, paper, Steps::UpDown);
    let what = name.split(" in ").next().unwrap_or(name);
    response
        .on_hover_cursor(egui::CursorIcon::ResizeVertical)
        .on_hover_text(format!("{what} {}", format::percent(fill)));
    let height = tank.size().y * 1e3;
    Some(match moved? {
        Moved::To(point, gesture) => ((stand.saw(point).y - corner.y) / height, gesture),
        Moved::By { small, large } => {
            (fill + FILL_STEP * f64::from(small) + FILL_LARGE_STEP * f64::from(large), Gesture::Single)
        }
        Moved::Mark(marks) => (if marks > 0 { 1.0 } else { 0.0 }, Gesture::Single),
        Moved::Set(percent) => (percent / 100.0, Gesture::Single),
    })
}
