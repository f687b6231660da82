//! What else is bolted on in a setup: each a mass and where it sits.

use crate::desk::forms::parts::FieldUnit;
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::MeasureField;
use barpoise_core::record::{ExtraFile, PointFile, SetupFile};
use barpoise_core::{Range, ranges};
use egui::{Id, RichText, Ui};

/// Widths of a name and of a number, in points.
const NAME: f32 = 150.0;
const NUMBER: f32 = 76.0;
/// Longest name of an extra, in characters.
const LONGEST_NAME: usize = 80;

type Place = fn(&mut ExtraFile) -> &mut f64;

const NUMBERS: [(&str, FieldUnit, &Range, Place); 3] = [
    ("mass", FieldUnit::Kg, &ranges::EXTRA_MASS, |extra| &mut extra.mass_kg),
    ("along", FieldUnit::Mm, &ranges::EXTRA_COORDINATE, |extra| &mut extra.at.x_mm),
    ("up", FieldUnit::Mm, &ranges::EXTRA_COORDINATE, |extra| &mut extra.at.y_mm),
];

/// Shows the extras; gives them all where one was changed.
pub(super) fn extras_ui(
    ui: &mut Ui,
    view: &ViewState,
    setup: &SetupFile,
    salt: &str,
) -> Option<Vec<ExtraFile>> {
    let soft = view.paper.color(Ink::Soft);
    let mut extras = setup.extras.clone();
    let (mut changed, mut removed) = (false, None);
    ui.add_space(6.0);
    ui.label(RichText::new("Bolted on").font(theme::strong(size::STRONG)));
    let hint = "Whatever else is on the saw: its mass, and where it sits from the sprocket's centre, along the bar and up.";
    ui.add(egui::Label::new(RichText::new(hint).color(soft)).wrap());
    for (index, extra) in extras.iter_mut().enumerate() {
        let number = index + 1;
        ui.horizontal_wrapped(|ui| {
            let id = |what: &str| Id::unique(("extra", salt, index, what));
            let name = format!("Name of extra {number}");
            let field = MeasureField { id: id("name"), name: &name, shown: extra.name.clone(), width: NAME };
            let read = |text: &str| match text.trim() {
                "" => Err("a name must not be empty".to_owned()),
                text => Ok(text.to_owned()),
            };
            if let Some(name) = field.show_up_to(LONGEST_NAME, ui, view.paper, read).1 {
                extra.name = name;
                changed = true;
            }
            for (what, unit, range, place) in NUMBERS {
                ui.label(RichText::new(what).color(soft));
                let name = format!("Extra {number}, {what} in {}", unit.name(view.units));
                let shown = unit.shown(view.units, *place(extra));
                let field = MeasureField { id: id(what), name: &name, shown, width: NUMBER };
                let read = |text: &str| {
                    let value = unit.read(view.units, text).map_err(|error| error.to_string())?;
                    if range.holds(value) { Ok(value) } else { Err(unit.range(view.units, range)) }
                };
                if let Some(value) = field.show(ui, view.paper, read).1 {
                    *place(extra) = value;
                    changed = true;
                }
            }
            let remove = ui.button("Remove");
            remove.widget_info(|| {
                egui::WidgetInfo::labeled(egui::Role::Button, true, format!("Remove extra {number}"))
            });
            if remove.clicked() {
                removed = Some(index);
            }
        });
    }
    if let Some(index) = removed.filter(|index| *index < extras.len()) {
        extras.remove(index);
        return Some(extras);
    }
    if ui.button("Add an extra").clicked() {
        let at = PointFile { x_mm: 0.0, y_mm: 0.0 };
        extras.push(ExtraFile { name: "extra".to_owned(), mass_kg: 0.0, at });
        changed = true;
    }
    changed.then_some(extras)
}
