//! A step without a drawing: lines to tick off.

use super::look::Look;
use crate::draw::theme::Ink;
use crate::window::view_state::ViewState;
use egui::{Checkbox, ScrollArea, Ui};

/// Between two lines, and round all of them, in points.
const BETWEEN: f32 = 4.0;
const MARGIN: f32 = 8.0;

/// Shows the lines, each with a box to tick.
pub(super) fn words_ui(ui: &mut Ui, view: &mut ViewState, look: &Look, lines: &[String]) {
    let step = view.teach.step;
    let rect = ui.available_rect_before_wrap().shrink(look.pt(MARGIN));
    let mut inner = ui.new_child(egui::UiBuilder::new().max_rect(rect));
    ScrollArea::vertical().auto_shrink(false).show(&mut inner, |ui| {
        ui.spacing_mut().icon_width = look.pt(18.0);
        ui.spacing_mut().icon_width_inner = look.pt(11.0);
        ui.spacing_mut().icon_spacing = look.pt(10.0);
        for (index, line) in lines.iter().enumerate() {
            let mut ticked = view.teach.ticks.contains(&(step, index));
            let ink = if ticked { Ink::Soft } else { Ink::Line };
            let text = look.text(line.clone(), ink);
            if ui.add(Checkbox::new(&mut ticked, text)).changed() {
                if ticked {
                    view.teach.ticks.insert((step, index));
                } else {
                    view.teach.ticks.remove(&(step, index));
                }
            }
            ui.add_space(look.gap(BETWEEN));
        }
        let done = (0..lines.len()).filter(|line| view.teach.ticks.contains(&(step, *line))).count();
        let all = if done == lines.len() { ", all of them" } else { "" };
        ui.label(look.strong_text(format!("{done} of {} ticked off{all}", lines.len()), Ink::Ours));
    });
}
