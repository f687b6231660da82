//! A field that takes a measure as a person types it and commits on Enter or when it is left.

use crate::draw::theme::{Ink, Paper};
use egui::text::{CCursor, CCursorRange};
use egui::text_edit::TextEditState;
use egui::{Area, Frame, Id, Key, Order, Response, RichText, TextEdit, Ui, WidgetInfo};

/// No measure is longer than this, in characters.
const MEASURE_LENGTH: usize = 40;

/// A text field for a measure.
#[derive(Debug)]
pub struct MeasureField<'a> {
    /// Stable id.
    pub id: Id,
    /// What it holds, for a screen reader.
    pub name: &'a str,
    /// The value as text while it is not being edited.
    pub shown: String,
    /// Width in points.
    pub width: f32,
}

/// What is being typed, and why the last attempt was refused.
#[derive(Clone, Default)]
struct Draft {
    text: Option<String>,
    refusal: Option<String>,
}

impl MeasureField<'_> {
    /// Shows the field for a measure; see [`Self::show_up_to`].
    pub fn show<T>(
        self,
        ui: &mut Ui,
        paper: Paper,
        read: impl FnOnce(&str) -> Result<T, String>,
    ) -> (Response, Option<T>) {
        self.show_up_to(MEASURE_LENGTH, ui, paper, read)
    }

    /// Shows the field for a text of at most so many characters; gives the value that was committed, read by `read`. A refusal stays beside the field,
    /// with the text as typed, until it is mended or Escape gives it up.
    pub fn show_up_to<T>(
        self,
        longest: usize,
        ui: &mut Ui,
        paper: Paper,
        read: impl FnOnce(&str) -> Result<T, String>,
    ) -> (Response, Option<T>) {
        let mut draft = ui.data(|data| data.get_temp::<Draft>(self.id)).unwrap_or_default();
        let mut text = draft.text.clone().unwrap_or_else(|| self.shown.clone());
        let response =
            ui.add(TextEdit::singleline(&mut text).id(self.id).desired_width(self.width).char_limit(longest));
        let name = self.name;
        response.widget_info(|| WidgetInfo {
            label: Some(name.to_owned()),
            ..WidgetInfo::text_edit(true, "", &text, "")
        });
        // Come to by Tab or by name, what stands there is typed over; a click puts the mark where it is.
        if response.gained_focus() && !ui.input(|input| input.pointer.any_click()) {
            select_all(ui, self.id, &text);
        }
        let mut committed = None;
        if ui.input(|input| input.key_pressed(Key::Escape)) && (response.has_focus() || response.lost_focus())
        {
            draft = Draft::default();
        } else if response.lost_focus() {
            if draft.text.is_some() || response.changed() {
                match read(&text) {
                    Ok(value) => {
                        committed = Some(value);
                        draft = Draft::default();
                    }
                    Err(refusal) => {
                        draft = Draft { text: Some(text), refusal: Some(refusal) };
                        // Enter leaves the field to be mended; a click elsewhere goes elsewhere.
                        if ui.input(|input| input.key_pressed(Key::Enter)) {
                            response.request_focus();
                        }
                    }
                }
            }
        } else if response.changed() {
            draft = Draft { text: Some(text), refusal: None };
        }
        if let Some(refusal) = &draft.refusal {
            refusal_ui(ui, paper, &response, refusal);
        }
        ui.data_mut(|data| data.insert_temp(self.id, draft));
        (response, committed)
    }
}

/// Comes to a field with all that stands in it selected.
pub fn focus_to_type_over(ui: &Ui, id: Id, text: &str) {
    ui.memory_mut(|memory| memory.request_focus(id));
    select_all(ui, id, text);
}

fn select_all(ui: &Ui, id: Id, text: &str) {
    let mut state = TextEditState::load(ui.ctx(), id).unwrap_or_default();
    let end = CCursor::new(text.chars().count());
    state.cursor.set_char_range(Some(CCursorRange::two(CCursor::default(), end)));
    state.store(ui.ctx(), id);
}

/// True while what was typed in a field stands there refused.
pub fn is_refused(ui: &Ui, id: Id) -> bool {
    ui.data(|data| data.get_temp::<Draft>(id)).is_some_and(|draft| draft.refusal.is_some())
}

/// The reason, on a slip under the field: it moves nothing and covers no label beside it.
fn refusal_ui(ui: &Ui, paper: Paper, field: &Response, refusal: &str) {
    let slip = Area::new(field.id.with("refusal")).order(Order::Foreground).constrain(true);
    slip.fixed_pos(field.rect.left_bottom() + egui::vec2(0.0, 4.0)).show(ui.ctx(), |ui| {
        Frame::popup(ui.style()).show(ui, |ui| {
            ui.set_max_width(280.0);
            ui.label(RichText::new(refusal).color(paper.color(Ink::Warn)));
        });
    });
}
