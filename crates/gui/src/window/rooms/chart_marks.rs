//! The charts over bar length: a plot that only shows, and the marks of its axes.

use crate::desk::format::{self, LengthUnit, Units};
use crate::draw::theme::{self, Ink, Paper};
use egui::Ui;
use egui_plot::{AxisHints, GridMark, Plot};
use std::ops::RangeInclusive;

/// Room for the labels of an upright axis, in points: kept from the first pass on, for the plot would only learn from
/// one pass what the next one needs, and a window at rest has no next one.
const AXIS_WIDTH: f32 = 38.0;
/// What the labels of the length axis take under a chart, in points.
const AXIS_HEIGHT: f32 = 26.0;
/// From one label to the next one above it, at the least, in points.
const LABEL_HEIGHT: f64 = 24.0;

/// Every mark is labelled in full: the marks are chosen to leave room.
const LABEL_FADE: RangeInclusive<f32> = 0.5..=1.0;

/// A plot over bar length as tall as there is room: it shows, and nothing in it is dragged or zoomed.
pub(crate) fn still_plot<'a>(ui: &Ui, paper: Paper, id: impl egui::AsIdSalt, units: Units) -> Plot<'a> {
    let axis = |hints: AxisHints<'a>| {
        hints
            .tick_label_font(theme::body())
            .tick_label_color(paper.color(Ink::Soft))
            .formatter(|mark, _| format::axis(mark.value))
            .label_spacing(LABEL_FADE)
    };
    let height = ui.available_height() - AXIS_HEIGHT;
    Plot::new(id)
        .x_grid_spacer(move |_| length_marks(units))
        .y_grid_spacer(move |input| value_marks(input.bounds, height))
        .height(ui.available_height())
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_axis_zoom_drag(false)
        .allow_double_click_reset(false)
        .show_background(false)
        .sense(egui::Sense::hover())
        .custom_x_axes(vec![axis(AxisHints::new_x())])
        .custom_y_axes(vec![axis(AxisHints::new_y().min_thickness(AXIS_WIDTH))])
        .grid_color(paper.color(Ink::Rule))
}

/// Marks at a round step, as many as leave room for their labels on an axis of this height in points.
pub(crate) fn value_marks((low, high): (f64, f64), height_pt: f32) -> Vec<GridMark> {
    const MOST_STEPS: u32 = 40;
    let least = (high - low) * LABEL_HEIGHT / f64::from(height_pt.max(1.0));
    if !(least.is_finite() && least > 0.0) {
        return Vec::new();
    }
    let decade = 10_f64.powf(least.log10().floor());
    let step = [1.0, 2.0, 5.0].into_iter().map(|m| m * decade).find(|step| *step >= least);
    let step = step.unwrap_or(10.0 * decade);
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
