//! Hang, front-hand load, weight and reach against bar length, with the rack's bars as points.

use crate::document::{Document, Figures};
use crate::format::{self, LengthUnit, Units};
use crate::theme::{self, Ink, Paper, size};
use crate::view_state::ViewState;
use barpoise_core::Solved;
use barpoise_core::units::Length;
use egui::{Align, Layout, RichText, ScrollArea, Stroke, Ui};
use egui_plot::{
    AxisHints, GridMark, HLine, HoverPosition, Line, LineStyle, MarkerShape, Plot, PlotPoints, Points,
};
use std::ops::RangeInclusive;

/// Every mark is labelled in full: the marks are chosen to leave room.
const LABEL_FADE: RangeInclusive<f32> = 0.5..=1.0;

/// One plot: its name, unit and what it reads from the figures.
struct Curve {
    name: &'static str,
    text: fn(&Solved, Units) -> Option<String>,
    read: fn(&Solved, Units) -> Option<f64>,
    limit: Option<f64>,
}

/// Narrower than this, in points, a plot does not read; the strip then scrolls.
const LEAST_WIDTH: f32 = 190.0;
/// Height of one plot in the column, in points.
const STACKED_HEIGHT: f32 = 190.0;

/// The strip of plots under the drawing.
pub(super) fn plots_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    heading_ui(ui, view);
    let curves = curves(document);
    let gaps = ui.spacing().item_spacing.x * f32::from(COUNT - 1);
    let width = ((ui.available_width() - gaps) / f32::from(COUNT)).max(LEAST_WIDTH);
    ScrollArea::horizontal().auto_shrink(false).show(ui, |ui| {
        let size = egui::vec2(width, ui.available_height());
        ui.horizontal_top(|ui| {
            for curve in &curves {
                let layout = Layout::top_down(Align::Min);
                ui.allocate_ui_with_layout(size, layout, |ui| curve_ui(ui, document, view, curve));
            }
        });
    });
}

/// The same plots one under the other.
pub(super) fn plots_below_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    heading_ui(ui, view);
    for curve in &curves(document) {
        let size = egui::vec2(ui.available_width(), STACKED_HEIGHT);
        let layout = Layout::top_down(Align::Min);
        ui.allocate_ui_with_layout(size, layout, |ui| curve_ui(ui, document, view, curve));
    }
}

fn heading_ui(ui: &mut Ui, view: &ViewState) {
    let unit = view.units.length_unit();
    let text = format!("Against bar length in {unit}, tail to nose   ● on the rack   ◆ on the bench");
    ui.label(RichText::new(text).color(view.paper.color(Ink::Soft)));
}

const COUNT: u8 = 4;

fn curves(document: &Document) -> [Curve; COUNT as usize] {
    [
        Curve {
            name: "Hang",
            text: |solved, _| solved.hang.ok().map(format::angle),
            read: |solved, _| solved.hang.ok().map(|hang| hang.as_deg()),
            limit: Some(document.bench().hang_limit().as_deg()),
        },
        Curve {
            name: "Front hand, level",
            text: |solved, units| solved.hands.ok().map(|hands| units.force(hands.front)),
            read: |solved, units| solved.hands.ok().map(|hands| units.force_value(hands.front)),
            limit: None,
        },
        Curve {
            name: "Ready weight",
            text: |solved, units| Some(units.mass(solved.ready_mass())),
            read: |solved, units| Some(units.mass_value(solved.ready_mass())),
            limit: None,
        },
        Curve {
            name: "Reach",
            text: |solved, units| Some(units.length(solved.reach)),
            read: |solved, units| Some(units.length_value(solved.reach)),
            limit: None,
        },
    ]
}

fn curve_ui(ui: &mut Ui, document: &Document, view: &ViewState, curve: &Curve) {
    let (units, paper) = (view.units, view.paper);
    let figures = document.figures();
    let value = (curve.text)(figures.solved(), units).unwrap_or_else(|| "no value".to_owned());
    ui.horizontal(|ui| {
        ui.label(RichText::new(curve.name).color(paper.color(Ink::Soft)));
        ui.label(RichText::new(value).font(theme::strong(size::BODY)));
    });
    let point = |overall: Length, solved: &Solved| {
        (curve.read)(solved, units).map(|y| [units.length_value(overall), y])
    };
    let line: Vec<[f64; 2]> = figures.curve().iter().filter_map(|p| point(p.overall, &p.solved)).collect();
    let rack: Vec<[f64; 2]> =
        figures.rack().iter().filter_map(|bar| point(bar.overall, &bar.solved)).collect();
    let current = point(figures.setup().bar().overall_length(), figures.solved());
    let text = curve.text;
    let plot = plot(ui, paper, curve.name, units).label_formatter(move |position| {
        let (HoverPosition::NearDataPoint { position, .. } | HoverPosition::Elsewhere { position }) =
            position;
        read_off(figures, units, position.x, text)
    });
    plot.show(ui, |plot| {
        plot.line(
            Line::new(curve.name, PlotPoints::from(line)).stroke(Stroke::new(2.0, paper.color(Ink::Ours))),
        );
        if let Some(limit) = curve.limit {
            let style = LineStyle::dashed_dense();
            plot.hline(
                HLine::new("limit", limit).stroke(Stroke::new(1.5, paper.color(Ink::Warn))).style(style),
            );
        }
        plot.points(Points::new("rack", PlotPoints::from(rack)).radius(4.0).color(paper.color(Ink::Ours)));
        if let Some(current) = current {
            let marker = Points::new("on the bench", PlotPoints::from(vec![current]));
            plot.points(marker.shape(MarkerShape::Diamond).radius(7.0).color(paper.color(Ink::Warn)));
        }
    });
}

/// What a curve reads at a length: the rack's bar there, or the nearest point of the curve.
fn read_off(
    figures: &Figures,
    units: Units,
    x: f64,
    text: fn(&Solved, Units) -> Option<String>,
) -> Option<String> {
    let away = |overall: Length| (units.length_value(overall) - x).abs();
    if let Some(bar) = figures.rack().iter().find(|bar| away(bar.overall) < 1e-6) {
        return Some(format!("{}\n{}\n{}", bar.name, units.length(bar.overall), text(&bar.solved, units)?));
    }
    let near = figures.curve().iter().min_by(|a, b| away(a.overall).total_cmp(&away(b.overall)))?;
    Some(format!("{}\n{}", units.length(near.overall), text(&near.solved, units)?))
}

fn plot<'a>(ui: &Ui, paper: Paper, name: &str, units: Units) -> Plot<'a> {
    let axis =
        |hints: AxisHints<'a>| hints.tick_label_font(theme::body()).tick_label_color(paper.color(Ink::Soft));
    let x = axis(AxisHints::new_x()).formatter(|mark, _| format::axis(mark.value)).label_spacing(LABEL_FADE);
    let y = axis(AxisHints::new_y()).formatter(|mark, _| format::axis(mark.value)).label_spacing(LABEL_FADE);
    Plot::new(("bench plot", name))
        .x_grid_spacer(move |_| length_marks(units))
        .y_grid_spacer(|input| value_marks(input.bounds))
        .height(ui.available_height())
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_axis_zoom_drag(false)
        .allow_double_click_reset(false)
        .show_background(false)
        .set_margin_fraction(egui::vec2(0.05, 0.1))
        .sense(egui::Sense::hover())
        .custom_x_axes(vec![x])
        .custom_y_axes(vec![y])
        .grid_color(paper.color(Ink::Rule))
}

/// Three to six marks at a round step.
fn value_marks((low, high): (f64, f64)) -> Vec<GridMark> {
    const FEWEST: f64 = 3.0;
    const MOST_STEPS: u32 = 16;
    let wanted = (high - low) / FEWEST;
    if !(wanted.is_finite() && wanted > 0.0) {
        return Vec::new();
    }
    let decade = 10_f64.powf(wanted.log10().floor());
    let step = [5.0, 2.0].into_iter().map(|m| m * decade).find(|step| *step <= wanted).unwrap_or(decade);
    let first = (low / step).ceil();
    let marks = (0..MOST_STEPS).map(|i| (first + f64::from(i)) * step);
    marks.take_while(|value| *value <= high).map(|value| GridMark { value, step_size: step }).collect()
}

/// Marks of the length axis that leave room for their labels: every 250 mm, or every 10 in.
fn length_marks(units: Units) -> Vec<GridMark> {
    let (step, count) = length_step(units);
    (1..=count).map(|i| GridMark { value: f64::from(i) * step, step_size: step }).collect()
}

/// The step and the number of marks of the length axis.
const fn length_step(units: Units) -> (f64, u32) {
    match units.length {
        LengthUnit::Mm => (250.0, 3),
        LengthUnit::In => (10.0, 3),
    }
}
