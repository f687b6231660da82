//! Fields of the person in the yard, for the rooms in which they can be changed.

use crate::desk::forms::person::PersonField;
use crate::window::view_state::ViewState;
use crate::window::widgets::MeasureField;
use barpoise_core::record::{PeopleFile, PersonFile};
use egui::{Id, Role, Ui, WidgetInfo};

/// Men or women; gives the other one where it is picked.
pub(super) fn people_ui(ui: &mut Ui, current: PeopleFile) -> Option<PeopleFile> {
    let mut picked = None;
    for (words, people) in [("men", PeopleFile::Men), ("women", PeopleFile::Women)] {
        let chosen = people == current;
        let response = ui.selectable_label(chosen, words);
        let spoken = format!("Averages of {words}");
        response.widget_info(|| WidgetInfo::selected(Role::RadioButton, true, chosen, &spoken));
        if response.clicked() && !chosen {
            picked = Some(people);
        }
    }
    picked
}

/// The field of a number of the person; gives what was typed.
pub(super) fn number_ui(
    ui: &mut Ui,
    view: &ViewState,
    place: &str,
    field: PersonField,
    person: &PersonFile,
    width: f32,
) -> Option<Option<f64>> {
    let (unit, range) = (field.unit(), field.range());
    let name = format!("{} in {}", field.label(), unit.spoken(view.units));
    let shown = field.value(person).map_or_else(String::new, |value| unit.shown(view.units, value));
    let read = |text: &str| {
        if field.is_optional() && text.trim().is_empty() {
            return Ok(None);
        }
        let value = unit.read(view.units, text).map_err(|error| error.to_string())?;
        if range.holds(value) {
            return Ok(Some(value));
        }
        Err(format!("{} can be {}", field.label(), unit.range(view.units, range)))
    };
    let id = Id::unique((place, field));
    MeasureField { id, name: &name, shown, width }.show(ui, view.paper, read).1
}
