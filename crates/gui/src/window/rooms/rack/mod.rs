//! The rack: which bar goes on for the wood ahead.

mod chart;
mod columns;
mod heads;
mod histogram;
mod laid;
mod paste;
mod reckoned;
mod row;
mod said;
mod silhouette;
mod table;
mod wanted;
mod wood;

use crate::desk::document::Document;
use crate::desk::edit::Edits;
use crate::draw::theme::{Ink, Paper};
use crate::window::view_state::{RackColumnShown, RackDrawing, ViewState};
use crate::window::widgets::{main_pane, pane, scrolled, with_rail};
use egui::{CentralPanel, Frame, Margin, Panel, ScrollArea, Stroke, Ui};

/// A window narrower than this, in points, has one column of two tabs beside the table.
const WIDE: f32 = 1200.0;
/// The columns take these shares of the width, within limits in points.
const WOOD_SHARE: f32 = 0.2;
const WOOD_WIDTH: (f32, f32) = (290.0, 340.0);
const WANTED_SHARE: f32 = 0.235;
const WANTED_WIDTH: (f32, f32) = (336.0, 410.0);
/// The drawings take what the table does not need, but at least this share of the height, within limits in points.
const DRAWINGS_SHARE: f32 = 0.34;
const DRAWINGS_HEIGHT: (f32, f32) = (150.0, 1100.0);
/// Under the table there is room for both drawings from this width on, in points.
const BOTH_DRAWINGS: f32 = 900.0;

/// Length of a slider in points.
const SLIDER: f32 = 80.0;

/// Shows the rack.
pub fn rack_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    let paper = view.paper;
    let wide = ui.available_width();
    let width = |share: f32, (least, most): (f32, f32)| (wide * share).clamp(least, most);
    if wide >= WIDE {
        let left = Panel::left("rack wood").exact_size(width(WOOD_SHARE, WOOD_WIDTH));
        left.resizable(false).frame(sheet(paper)).show(ui, |ui| {
            column_ui(ui, "rack wood", |ui| {
                wood::wood_ui(ui, document, view, edits);
            })
        });
        let right = Panel::right("rack wanted").exact_size(width(WANTED_SHARE, WANTED_WIDTH));
        right.resizable(false).frame(sheet(paper)).show(ui, |ui| {
            column_ui(ui, "rack wanted", |ui| {
                wanted_ui(ui, document, view, edits);
            })
        });
    } else {
        let side = Panel::right("rack side").exact_size(WANTED_WIDTH.0);
        side.resizable(false).frame(sheet(paper)).show(ui, |ui| {
            ui.horizontal(|ui| {
                ui.selectable_value(&mut view.rack.column, RackColumnShown::Wanted, "Choice");
                ui.selectable_value(&mut view.rack.column, RackColumnShown::Wood, "Wood");
            });
            column_ui(ui, "rack side", |ui| match view.rack.column {
                RackColumnShown::Wanted => wanted_ui(ui, document, view, edits),
                RackColumnShown::Wood => wood::wood_ui(ui, document, view, edits),
            });
        });
    }
    let strip = Frame::new().fill(paper.color(Ink::Paper)).inner_margin(Margin::symmetric(14, 8));
    Panel::top("rack winner")
        .resizable(false)
        .frame(strip)
        .show(ui, |ui| said::winner_ui(ui, document, view));
    let tall = ui.available_height();
    let left = tall - table::height(document, view);
    let height = left.max(tall * DRAWINGS_SHARE).clamp(DRAWINGS_HEIGHT.0, DRAWINGS_HEIGHT.1);
    let below = Panel::bottom("rack drawings").exact_size(height).resizable(false);
    below.frame(strip).show(ui, |ui| {
        pane(ui);
        drawings_ui(ui, document, view, edits);
    });
    CentralPanel::no_frame().frame(strip).show(ui, |ui| {
        main_pane(ui);
        table::table_ui(ui, document, view, edits);
    });
}

fn wanted_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    said::why_ui(ui, document, view);
    said::numbers_ui(ui, document, view);
    wanted::wanted_ui(ui, document, view, edits);
    said::turns_ui(ui, document, view);
    said::suits_ui(ui, document, view);
    said::shopping_ui(ui, document, view);
    reckoned::reckoned_ui(ui, document, view, edits);
}

fn drawings_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    if ui.available_width() >= BOTH_DRAWINGS {
        ui.columns_const(|[left, right]| {
            chart::chart_ui(left, document, view, edits);
            laid::laid_ui(right, document, view, edits);
        });
        return;
    }
    ui.horizontal(|ui| {
        ui.selectable_value(&mut view.rack.drawing, RackDrawing::Chart, "Chart");
        ui.selectable_value(&mut view.rack.drawing, RackDrawing::Laid, "Laid over");
        ui.add_space(8.0);
        match view.rack.drawing {
            RackDrawing::Chart => chart::heading_ui(ui, view),
            RackDrawing::Laid => laid::picks_ui(ui, document, edits),
        }
    });
    match view.rack.drawing {
        RackDrawing::Chart => chart::plot_ui(ui, document, view, edits),
        RackDrawing::Laid => laid::drawing_ui(ui, document, view),
    }
}

fn column_ui(ui: &mut Ui, name: &str, contents: impl FnOnce(&mut Ui)) {
    pane(ui);
    scrolled(ScrollArea::vertical().id_salt(name).auto_shrink(false), ui, contents);
}

fn sheet(paper: Paper) -> Frame {
    Frame::new().fill(paper.color(Ink::Sheet)).inner_margin(Margin::symmetric(14, 10))
}

/// A slider without its number.
fn slider_ui(
    ui: &mut Ui,
    view: &ViewState,
    name: &str,
    value: &mut f64,
    most: f64,
    step: f64,
) -> egui::Response {
    with_rail(ui, view.paper, |ui| {
        ui.spacing_mut().slider_width = SLIDER;
        // Only what is slid goes by steps: a value between them stays as it is until then.
        let slider = egui::Slider::new(value, 0.0..=most).show_value(false).step_by(step);
        let slider = slider.clamping(egui::SliderClamping::Edits);
        let response = ui.add(slider);
        response.widget_info(|| egui::WidgetInfo::slider(true, *value, name));
        response
    })
}

/// A heading inside a column, with a rule over it.
fn section_ui(ui: &mut Ui, paper: Paper, title: &str) -> egui::Response {
    ui.add_space(8.0);
    let (rect, _) = ui.allocate_exact_size(egui::vec2(ui.available_width(), 1.0), egui::Sense::hover());
    ui.painter().hline(rect.x_range(), rect.center().y, Stroke::new(1.0, paper.color(Ink::Rule)));
    let text = egui::RichText::new(title).font(crate::draw::theme::strong(crate::draw::theme::size::STRONG));
    let heading = ui.label(text);
    ui.ctx().accesskit_node_builder(heading.id, |node| {
        node.set_role(egui::Role::Heading);
        node.set_label(title);
    });
    heading
}
