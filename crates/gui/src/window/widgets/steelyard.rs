//! The tip-heaviness gauge: a steelyard beam that tilts with the hang angle before a banded scale.

use super::handle::{Handle, Moved, Steps};
use crate::desk::edit::Gesture;
use crate::desk::format;
use crate::draw::theme::{self, Ink, Paper};
use barpoise_core::units::Angle;
use barpoise_core::weigh_in::COVERAGE;
use barpoise_core::{Feel, HangError};
use egui::{Align2, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo};

/// The scale's ends in degrees of hang, nose down positive.
const SCALE_DEG: (f32, f32) = (-15.0, 60.0);
const TICK_EVERY_DEG: f32 = 15.0;
/// Height of the gauge in points.
const HEIGHT: f32 = 190.0;
/// The short arm, as a share of the long one.
const SHORT_ARM: f32 = 0.36;

/// The band is drawn this far outside the scale, in points.
const BAND_BEYOND: f32 = 16.0;

/// How the limit mark was moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteelyardMoved {
    /// The new limit.
    pub limit: Angle,
    /// The drag it belongs to.
    pub gesture: Gesture,
}

/// Where the beam's pivot and scale lie.
struct Scale {
    pivot: Pos2,
    radius: f32,
}

impl Scale {
    /// A point at an angle of hang and a distance from the pivot.
    fn at(&self, deg: f32, distance: f32) -> Pos2 {
        let (sin, cos) = deg.to_radians().sin_cos();
        self.pivot + distance * Vec2::new(cos, sin)
    }

    fn arc(&self, from: f32, to: f32, distance: f32) -> Vec<Pos2> {
        const STEPS: u8 = 16;
        (0..=STEPS).map(|i| self.at(from + (to - from) * f32::from(i) / f32::from(STEPS), distance)).collect()
    }

    fn deg_of(&self, point: Pos2) -> f32 {
        let from_pivot = point - self.pivot;
        from_pivot.y.atan2(from_pivot.x).to_degrees()
    }
}

/// Shows the gauge; `band` is the hang's standard uncertainty, where it is known. Without a hang it says the reason and shows no beam.
pub fn steelyard(
    ui: &mut Ui,
    paper: Paper,
    hang: Result<Angle, HangError>,
    band: Option<Angle>,
    limit: Angle,
) -> Option<SteelyardMoved> {
    let (rect, response) = ui.allocate_exact_size(egui::vec2(ui.available_width(), HEIGHT), Sense::hover());
    let radius = ((HEIGHT - 62.0) / (SCALE_DEG.1.to_radians().sin() - SCALE_DEG.0.to_radians().sin()))
        .min((rect.width() - 60.0) / (1.0 + SHORT_ARM));
    let spare = (rect.width() - radius * (1.0 + SHORT_ARM) - 60.0).max(0.0);
    let scale = Scale {
        pivot: Pos2::new(
            rect.left() + 0.5 * spare + radius * SHORT_ARM + 16.0,
            rect.top() + 18.0 - radius * SCALE_DEG.0.to_radians().sin(),
        ),
        radius,
    };
    response.widget_info(|| {
        let words = match hang {
            Ok(hang) => {
                let shown = band.map_or_else(|| format::hang(hang), |band| format::hang_with(hang, band));
                format!("{shown}, {}", Feel::of(hang).words())
            }
            Err(error) => error.to_string(),
        };
        WidgetInfo {
            value: hang.ok().map(Angle::as_deg),
            ..WidgetInfo::labeled(
                Role::Meter,
                true,
                format!("Tip-heaviness, hang in degrees nose down: {words}"),
            )
        }
    });
    paint_scale(ui, paper, &scale);
    match hang {
        Ok(hang) => {
            if let Some(band) = band {
                paint_band(ui, paper, &scale, hang, band);
            }
            paint_beam(ui, paper, &scale, hang);
        }
        Err(error) => {
            let middle = Rect::from_center_size(rect.center(), rect.size());
            let text = ui.painter().layout(
                error.to_string(),
                theme::body(),
                paper.color(Ink::Warn),
                0.6 * rect.width(),
            );
            ui.painter().galley(
                Align2::CENTER_CENTER.anchor_size(middle.center(), text.size()).min,
                text,
                paper.color(Ink::Warn),
            );
        }
    }
    limit_mark(ui, paper, &scale, limit)
}

#[expect(clippy::cast_possible_truncation, reason = "the screen is f32 by egui's choice")]
fn shown_deg(angle: Angle) -> f32 {
    (angle.as_deg() as f32).clamp(SCALE_DEG.0, SCALE_DEG.1)
}

fn paint_scale(ui: &Ui, paper: Paper, scale: &Scale) {
    let painter = ui.painter();
    let mut from = SCALE_DEG.0;
    let edges = Feel::EDGES_DEG.into_iter().chain([(Feel::VeryNoseHeavy, f64::from(SCALE_DEG.1))]);
    for (feel, to) in edges {
        // Wider as it gets heavier, so that the bands read without their colour.
        let (ink, width) = match feel {
            Feel::TailHeavy => (Ink::Soft, 3.0),
            Feel::Level => (Ink::Ours, 4.0),
            Feel::SlightlyNoseHeavy => (Ink::OursMid, 6.0),
            Feel::NoseHeavy => (Ink::Warn, 8.0),
            Feel::VeryNoseHeavy => (Ink::Warn, 12.0),
        };
        #[expect(clippy::cast_possible_truncation, reason = "the screen is f32 by egui's choice")]
        let to = to as f32;
        painter.add(Shape::line(
            scale.arc(from, to, scale.radius + 0.5 * width),
            Stroke::new(width, paper.color(ink)),
        ));
        from = to;
    }
    let outline = Stroke::new(1.0, paper.color(Ink::Line));
    painter.add(Shape::line(scale.arc(SCALE_DEG.0, SCALE_DEG.1, scale.radius), outline));
    let mut deg = SCALE_DEG.0;
    while deg <= SCALE_DEG.1 + 0.5 {
        painter.line_segment([scale.at(deg, scale.radius), scale.at(deg, scale.radius + 14.0)], outline);
        let text = format::whole_angle(Angle::from_deg(f64::from(deg)));
        painter.text(
            scale.at(deg, scale.radius + 30.0),
            Align2::CENTER_CENTER,
            text,
            theme::body(),
            paper.color(Ink::Soft),
        );
        deg += TICK_EVERY_DEG;
    }
}

/// Where the beam may as well point: the 95 % band, as a wedge from half way out to the scale, its ends ruled.
fn paint_band(ui: &Ui, paper: Paper, scale: &Scale, hang: Angle, band: Angle) {
    let wide = band * COVERAGE;
    let (from, to) = (shown_deg(hang - wide), shown_deg(hang + wide));
    let (inner, outer) = (0.55 * scale.radius, scale.radius - 1.0);
    // Thin sectors are convex, the whole wedge may not be.
    const SECTORS: u8 = 8;
    let fill = paper.color(Ink::OursMid).gamma_multiply(0.45);
    let deg = |i: u8| from + (to - from) * f32::from(i) / f32::from(SECTORS);
    let mut mesh = egui::Mesh::default();
    for i in 0..=SECTORS {
        mesh.colored_vertex(scale.at(deg(i), inner), fill);
        mesh.colored_vertex(scale.at(deg(i), outer), fill);
    }
    for i in 0..u32::from(SECTORS) {
        mesh.add_triangle(2 * i, 2 * i + 1, 2 * i + 2);
        mesh.add_triangle(2 * i + 1, 2 * i + 3, 2 * i + 2);
    }
    ui.painter().add(Shape::mesh(mesh));
    // A narrow wedge hides behind the beam: on the scale's far side it always shows.
    let ours = paper.color(Ink::Ours);
    let beyond = scale.radius + BAND_BEYOND;
    ui.painter().add(Shape::line(scale.arc(from, to, beyond), Stroke::new(4.0, ours)));
    for end in [from, to] {
        let ends = [scale.at(end, inner), scale.at(end, beyond + 2.0)];
        ui.painter().line_segment(ends, Stroke::new(1.2, ours));
    }
}

fn paint_beam(ui: &Ui, paper: Paper, scale: &Scale, hang: Angle) {
    let painter = ui.painter();
    let ink = paper.color(Ink::Line);
    let deg = shown_deg(hang);
    let (tip, tail) = (scale.at(deg, scale.radius - 4.0), scale.at(deg, -SHORT_ARM * scale.radius));
    painter.line_segment([tail, tip], Stroke::new(5.0, ink));
    // Notches of the long arm.
    for notch in 1..=7_u8 {
        let along = scale.radius * (0.2 + 0.09 * f32::from(notch));
        let across = Vec2::angled(deg.to_radians() + std::f32::consts::FRAC_PI_2) * 5.0;
        let at = scale.at(deg, along);
        painter.line_segment([at, at - across], Stroke::new(1.2, ink));
    }
    let thread = Stroke::new(1.5, ink);
    let pan = tail + Vec2::new(0.0, 22.0);
    painter.line_segment([tail, pan], thread);
    painter.rect(
        Rect::from_center_size(pan + Vec2::new(0.0, 8.0), Vec2::new(26.0, 16.0)),
        1.0,
        paper.color(Ink::Sheet),
        Stroke::new(2.0, ink),
        egui::StrokeKind::Middle,
    );
    let poise = scale.at(deg, 0.42 * scale.radius);
    let bob = poise + Vec2::new(0.0, 18.0);
    painter.line_segment([poise, bob], thread);
    let bell = [(-8.0, 0.0), (8.0, 0.0), (13.0, 22.0), (-13.0, 22.0)];
    let points = bell.iter().map(|(x, y)| bob + Vec2::new(*x, *y)).collect();
    painter.add(Shape::convex_polygon(points, ink, Stroke::NONE));
    painter.circle(scale.pivot, 7.0, paper.color(Ink::Sheet), Stroke::new(2.5, ink));
}

/// The person's limit: a flag on the scale that can be dragged and stepped.
fn limit_mark(ui: &mut Ui, paper: Paper, scale: &Scale, limit: Angle) -> Option<SteelyardMoved> {
    let deg = shown_deg(limit);
    let handle = Handle {
        id: ui.scope_id().with("hang limit"),
        at: scale.at(deg, scale.radius - 12.0),
        name: "Hang limit in degrees nose down",
        value: limit.as_deg(),
        steps: Steps::UpDown,
    };
    let (response, moved) = handle.show(ui);
    let response = response
        .on_hover_text("Your own limit. The 30° of a lift-by-handle test is from memory, unverified.");
    let colour = paper.color(Ink::Ours);
    let flag = [
        scale.at(deg, scale.radius - 2.0),
        scale.at(deg - 4.5, scale.radius - 18.0),
        scale.at(deg + 4.5, scale.radius - 18.0),
    ];
    ui.painter().add(Shape::convex_polygon(flag.to_vec(), colour, Stroke::new(1.0, paper.color(Ink::Line))));
    ui.painter().line_segment(
        [scale.at(deg, scale.radius), scale.at(deg, scale.radius + 18.0)],
        Stroke::new(2.5, colour),
    );
    if response.has_focus() || response.hovered() {
        ui.painter().circle_stroke(response.rect.center(), 15.0, Stroke::new(2.0, paper.color(Ink::Line)));
    }
    let (deg, gesture) = match moved? {
        Moved::To(point, gesture) => (f64::from(scale.deg_of(point)).round(), gesture),
        // Down the scale is more hang, so the down arrow raises the limit.
        Moved::By { small, large } => {
            (limit.as_deg() - f64::from(small) - 5.0 * f64::from(large), Gesture::Single)
        }
        Moved::Mark(marks) => (limit.as_deg() - 15.0 * f64::from(marks), Gesture::Single),
        Moved::Set(value) => (value, Gesture::Single),
    };
    Some(SteelyardMoved { limit: Angle::from_deg(deg), gesture })
}
