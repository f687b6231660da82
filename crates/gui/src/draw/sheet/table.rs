//! The figures of all setups of the sheet, a line for each.

use super::Row;
use super::log_plan::LogPlan;
use super::page::Page;
use crate::desk::format::{self, Dimension, Units};
use crate::desk::words::hold;
use crate::draw::theme::{Ink, size};
use barpoise_core::units::Force;

/// Between two columns, mm.
const GAP_MM: f64 = 2.2;
/// Where the table is wider than the sheet its texts are smaller, but no smaller than this share of their size.
const LEAST: f32 = 0.7;

/// A column: its head, and its cell for each setup.
type Column = (String, Vec<String>);

pub(super) fn table(page: &mut Page, units: Units, rows: &[Row<'_>], plan: Option<&LogPlan>) {
    let columns = columns(units, rows, plan);
    let (size, widths) = fitted(page, &columns);
    let mut x = page.left_mm();
    for ((head, _), width) in columns.iter().zip(&widths) {
        page.text(x, head, Ink::Soft, size, false);
        x += width + GAP_MM;
    }
    page.space(page.line_mm(size));
    page.hairline(Ink::Line);
    for row in 0..rows.len() {
        let mut x = page.left_mm();
        for (place, ((_, cells), width)) in columns.iter().zip(&widths).enumerate() {
            if let Some(cell) = cells.get(row) {
                page.text(x, cell, Ink::Line, size, place == 0);
            }
            x += width + GAP_MM;
        }
        page.space(page.line_mm(size) * 1.1);
        page.hairline(Ink::Rule);
    }
}

/// The size at which all columns fit beside each other, and their widths, mm.
fn fitted(page: &Page, columns: &[Column]) -> (f32, Vec<f64>) {
    let widths = |size: f32| -> Vec<f64> {
        let widest = |(head, cells): &Column| {
            let texts = cells.iter().map(|cell| page.text_mm(cell, size, true));
            texts.fold(page.text_mm(head, size, false), f64::max)
        };
        columns.iter().map(widest).collect()
    };
    let mut size = size::BODY;
    loop {
        let now = widths(size);
        let gaps = GAP_MM * f64::from(u32::try_from(columns.len()).unwrap_or(u32::MAX).saturating_sub(1));
        if now.iter().sum::<f64>() + gaps <= page.width_mm() || size <= size::BODY * LEAST {
            return (size, now);
        }
        size -= 0.25;
    }
}

fn columns(units: Units, rows: &[Row<'_>], plan: Option<&LogPlan>) -> Vec<Column> {
    let column =
        |head: &str, cell: &dyn Fn(&Row<'_>) -> String| (head.to_owned(), rows.iter().map(cell).collect());
    let mut columns = vec![
        column("Setup", &|row| format::short_name(row.setup.name())),
        column("Ready weight", &|row| weight(units, row)),
        column("Hangs, nose down", &|row| hang(units, row)),
        column("Front hand", &|row| hand(units, row, true)),
        column("Rear hand", &|row| hand(units, row, false)),
        column("Held level", &|row| hold::level_cell(row.figures.level())),
        column("Reach past spikes", &|row| reach(units, row)),
        column("Loop to order", &|row| loop_words(row, units)),
    ];
    if let Some(plan) = plan {
        let head = format!("Log {}", units.length(plan.diameter()));
        columns.push((head, plan.answers().to_vec()));
    }
    columns
}

fn weight(units: Units, row: &Row<'_>) -> String {
    let mass = row.figures.solved().ready_mass();
    match row.figures.bands().ready_mass {
        Some(band) => units.mass_with(mass, band),
        None => units.mass(mass),
    }
}

fn hang(units: Units, row: &Row<'_>) -> String {
    match row.figures.solved().hang {
        Ok(hang) => match row.figures.bands().hang {
            Some(band) => units.known(Dimension::Angle, hang.as_rad(), band.as_rad()),
            None => format::angle(hang),
        },
        Err(_) => "no hang".to_owned(),
    }
}

fn hand(units: Units, row: &Row<'_>, front: bool) -> String {
    let solved = row.figures.solved();
    let Ok(hands) = solved.hands else { return "none".to_owned() };
    let bands = row.figures.bands();
    let (load, band): (Force, Option<Force>) =
        if front { (hands.front, bands.front_hand) } else { (hands.rear, bands.rear_hand) };
    let words = band.map_or_else(|| units.hand(load), |band| units.known_hand(load, band));
    // That the front hand lifts needs no word; that it does not, does.
    words.strip_suffix(" up").filter(|_| front).map_or_else(|| words.clone(), str::to_owned)
}

fn reach(units: Units, row: &Row<'_>) -> String {
    let reach = row.figures.solved().reach;
    match row.figures.bands().reach {
        Some(band) => units.length_with(reach, band),
        None => units.length(reach),
    }
}

/// `84, 3/8 in, 1.5 mm`.
fn loop_words(row: &Row<'_>, units: Units) -> String {
    let chain = row.setup.chain();
    let links = row.figures.solved().links.order();
    let links = links.map_or_else(|| "no whole count".to_owned(), |count| count.to_string());
    format!("{links} × {}, {}", format::pitch(chain.pitch()), format::gauge(units, chain.gauge()))
}
