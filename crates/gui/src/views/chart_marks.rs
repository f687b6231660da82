//! Marks of the axes of every chart over bar length.

use crate::format::{LengthUnit, Units};
use egui_plot::GridMark;

/// Three to six marks at a round step.
pub(crate) fn value_marks((low, high): (f64, f64)) -> Vec<GridMark> {
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
pub(crate) fn length_marks(units: Units) -> Vec<GridMark> {
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
