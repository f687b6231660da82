//! Hang, front-hand load, weight and reach against bar length, with the rack's bars as points.

use super::canvas::length_edit;
use crate::desk::document::{Document, Figures};
use crate::desk::edit::{Edit, Edits};
use crate::desk::format::{self, Units};
use crate::draw::theme::{self, Ink, size};
use crate::window::rooms::chart_marks::still_plot;
use crate::window::view_state::ViewState;
use crate::window::widgets::Moved;
use barpoise_core::Solved;
use barpoise_core::units::{Angle, Length};
use barpoise_core::weigh_in::{Bands, COVERAGE};
use egui::{
    Align, EventFilter, Id, Key, Layout, Modifiers, Rect, Response, RichText, Role, ScrollArea, Sense,
    Stroke, StrokeKind, Ui, WidgetInfo,
};
use egui_plot::{FilledArea, HLine, HoverPosition, Line, LineStyle, MarkerShape, PlotPoints, Points};

/// One plot: its name, unit and what it reads from the figures.
struct Curve {
    name: &'static str,
    text: fn(&Solved, Units) -> Option<String>,
    read: fn(&Solved, Units) -> Option<f64>,
    band: fn(&Bands, Units) -> Option<f64>,
    limit: Option<f64>,
}

/// Narrower than this, in points, a plot does not read; the strip then scrolls.
const LEAST_WIDTH: f32 = 190.0;
/// Height of one plot in the column, in points.
const STACKED_HEIGHT: f32 = 190.0;

/// The strip of plots under the drawing.
pub(super) fn plots_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    heading_ui(ui, view);
    let curves = curves(document);
    let gaps = ui.spacing().item_spacing.x * f32::from(COUNT - 1);
    let width = ((ui.available_width() - gaps) / f32::from(COUNT)).max(LEAST_WIDTH);
    ScrollArea::horizontal().auto_shrink(false).show(ui, |ui| {
        let size = egui::vec2(width, ui.available_height());
        ui.horizontal_top(|ui| {
            for curve in &curves {
                let layout = Layout::top_down(Align::Min);
                ui.allocate_ui_with_layout(size, layout, |ui| curve_ui(ui, document, view, edits, curve));
            }
        });
    });
}

/// The same plots one under the other.
pub(super) fn plots_below_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    heading_ui(ui, view);
    for curve in &curves(document) {
        let size = egui::vec2(ui.available_width(), STACKED_HEIGHT);
        let layout = Layout::top_down(Align::Min);
        ui.allocate_ui_with_layout(size, layout, |ui| curve_ui(ui, document, view, edits, curve));
    }
}

fn heading_ui(ui: &mut Ui, view: &ViewState) {
    let unit = view.units.length_unit();
    let text = format!("Against bar length overall, in {unit}   ● on the rack   ◆ on the bench   band 95 %");
    ui.label(RichText::new(text).color(view.paper.color(Ink::Soft)));
}

const COUNT: u8 = 4;

fn curves(document: &Document) -> [Curve; COUNT as usize] {
    [
        Curve {
            name: "Hang",
            text: |solved, _| solved.hang.ok().map(format::angle),
            read: |solved, _| solved.hang.ok().map(|hang| hang.as_deg()),
            band: |bands, _| bands.hang.map(Angle::as_deg),
            limit: Some(document.bench().hang_limit().as_deg()),
        },
        Curve {
            name: "Front hand, level",
            text: |solved, units| solved.hands.ok().map(|hands| units.force(hands.front)),
            read: |solved, units| solved.hands.ok().map(|hands| units.force_value(hands.front)),
            band: |bands, units| bands.front_hand.map(|band| units.force_value(band)),
            limit: None,
        },
        Curve {
            name: "Ready weight",
            text: |solved, units| Some(units.mass(solved.ready_mass())),
            read: |solved, units| Some(units.mass_value(solved.ready_mass())),
            band: |bands, units| bands.ready_mass.map(|band| units.mass_value(band)),
            limit: None,
        },
        Curve {
            name: "Reach",
            text: |solved, units| Some(units.length(solved.reach)),
            read: |solved, units| Some(units.length_value(solved.reach)),
            band: |bands, units| bands.reach.map(|band| units.length_value(band)),
            limit: None,
        },
    ]
}

/// What a plot says to who cannot see it: the reading now, and from where to where the curve goes.
fn spoken(figures: &Figures, units: Units, curve: &Curve) -> String {
    let read = |overall: Length, solved: &Solved| {
        let value = (curve.text)(solved, units).unwrap_or_else(|| "no value".to_owned());
        format!("{value} at {}", units.length(overall))
    };
    let now = read(figures.setup().bar().overall_length(), figures.solved());
    let ends = [figures.curve().first(), figures.curve().last()];
    let ends = ends.map(|end| end.map_or_else(String::new, |end| read(end.overall, &end.solved)));
    format!("{} against bar length: {now}; from {} to {}", curve.name, ends[0], ends[1])
}

/// The plot as one thing that takes the keyboard: its arrows move the bar's length.
fn moved(ui: &Ui, response: &Response, document: &Document, view: &ViewState, said: &str) -> Option<Edit> {
    response.widget_info(|| WidgetInfo::labeled(Role::Figure, true, said));
    if !response.has_focus() {
        return None;
    }
    let ring = Stroke::new(2.0, view.paper.color(Ink::Line));
    ui.painter().rect_stroke(response.rect, 3.0, ring, StrokeKind::Inside);
    let filter = EventFilter { horizontal_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    let steps = |modifiers| {
        ui.input_mut(|input| {
            let right = input.count_and_consume_key(modifiers, Key::ArrowRight);
            let left = input.count_and_consume_key(modifiers, Key::ArrowLeft);
            i32::try_from(right).unwrap_or(0) - i32::try_from(left).unwrap_or(0)
        })
    };
    let (large, small) = (steps(Modifiers::SHIFT), steps(Modifiers::NONE));
    if (small, large) == (0, 0) { None } else { length_edit(document, view, Moved::By { small, large }) }
}

fn curve_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits, curve: &Curve) {
    let top = ui.cursor().min;
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
    let plot = still_plot(ui, paper, ("bench plot", curve.name), units)
        .set_margin_fraction(egui::vec2(0.05, 0.1))
        .label_formatter(move |position| {
            let (HoverPosition::NearDataPoint { position, .. } | HoverPosition::Elsewhere { position }) =
                position;
            read_off(figures, units, position.x, text)
        });
    let (lengths, low, high) = band(figures, units, curve);
    plot.show(ui, |plot| {
        if !lengths.is_empty() {
            let fill = paper.color(Ink::OursMid).gamma_multiply(0.35);
            plot.add(FilledArea::new("band", &lengths, &low, &high).fill_color(fill).allow_hover(false));
        }
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
    let all = Rect::from_min_max(top, ui.min_rect().max);
    let response =
        ui.interact(all, Id::unique(("bench plot keys", curve.name)), Sense::focusable_noninteractive());
    if let Some(edit) = moved(ui, &response, document, view, &spoken(figures, units, curve)) {
        edits.ask(edit);
    }
}

/// Lengths, lower ends and upper ends of the 95 % band; nothing where nothing is known of it.
fn band(figures: &Figures, units: Units, curve: &Curve) -> (Vec<f64>, Vec<f64>, Vec<f64>) {
    let mut band = (Vec::new(), Vec::new(), Vec::new());
    for point in figures.curve() {
        let wide = point.bands.as_ref().and_then(|bands| (curve.band)(bands, units));
        if let Some((value, wide)) = (curve.read)(&point.solved, units).zip(wide) {
            band.0.push(units.length_value(point.overall));
            band.1.push(value - COVERAGE * wide);
            band.2.push(value + COVERAGE * wide);
        }
    }
    band
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
